//! Bundles whose strips lie in one block and are cut by the same programs.

use crate::lattice::{Bundle, Clamping, Turn};

/// A bundle that shares its programs with others.
#[derive(Debug, Clone)]
pub(super) struct Sharer<'a> {
    pub(super) bundle: &'a Bundle,
    /// Its number, from 1.
    pub(super) number: usize,
    /// How its strips lie beside those of the first one.
    pub(super) turn: Turn,
}

/// Bundles that are the same part.
#[derive(Debug)]
pub(super) struct SharedPart<'a> {
    /// The first of them, by whose notches the programs go.
    pub(super) bundle: &'a Bundle,
    /// All of them, that one the first.
    pub(super) sharers: Vec<Sharer<'a>>,
    /// In working order.
    pub(super) clampings: Vec<Clamping>,
}

/// How many strips there are of all that share.
pub(super) fn strips_of(sharers: &[Sharer<'_>]) -> usize {
    sharers.iter().map(|one| one.bundle.strips.len()).sum()
}

/// Bundles that are the same part, together: their strips lie in one block, each turned so that the
/// same cuts are right for all. In the order of the first of each.
pub(super) fn sharing(bundles: &[Bundle]) -> Vec<SharedPart<'_>> {
    let mut parts: Vec<SharedPart<'_>> = Vec::new();
    for (number, bundle) in (1..).zip(bundles) {
        let found = parts.iter_mut().find_map(|part| {
            let turn = bundle.same_part(part.bundle)?;
            Some((part, turn))
        });
        match found {
            Some((part, turn)) => part.sharers.push(Sharer {
                bundle,
                number,
                turn,
            }),
            None => parts.push(SharedPart {
                bundle,
                sharers: vec![Sharer {
                    bundle,
                    number,
                    turn: Turn::AsIs,
                }],
                clampings: bundle.clampings(),
            }),
        }
    }
    parts
}

//! What the bench must be told about a panel: what stays at the nodes, in which order it is put
//! together, which strips are turned, trimmed or alike. Millimetres.

use crate::geometry::tolerance::POSITION;
use crate::instructions::label_runs;
use crate::instructions::panel::{
    AlikeBundles, AssemblyStep, FamilyDatum, LeastSection, PanelFacts, PanelSide, RidingFacts,
    TrimmedStrips, TurnedStrips,
};
use crate::lattice::{Bundle, Bundling, Face, Lattice, Notch, PanelEnd, StripId};
use float_cmp::ApproxEq;
use std::f64::consts::PI;

/// Gathers the facts from a lattice.
pub(crate) fn panel_facts(lattice: &Lattice) -> PanelFacts {
    PanelFacts {
        datums: datums(lattice),
        least_sections: least_sections(lattice),
        assembly: assembly(lattice),
        turned: turned(lattice),
        trims: trims(lattice),
        riding: riding(lattice),
        alike: alike(&lattice.bundles),
    }
}

/// Steep strips are numbered from the left, flat ones from the bottom.
fn datums(lattice: &Lattice) -> Vec<FamilyDatum> {
    let mut datums = Vec::new();
    for (index, family) in lattice.families.iter().enumerate() {
        let mut strips = lattice.strips.iter();
        let Some(strip) = strips.find(|strip| strip.id.family == index) else {
            continue;
        };
        let datum = strip.datum_end();
        datums.push(FamilyDatum {
            family: family.name,
            letter: family.letter,
            datum,
            // Those that are measured from below stand side by side.
            first: match datum {
                PanelEnd::Lower | PanelEnd::Upper => PanelSide::Left,
                PanelEnd::Left | PanelEnd::Right => PanelSide::Bottom,
            },
        });
    }
    datums
}

/// The order of assembly.
pub(crate) fn assembly(lattice: &Lattice) -> Vec<AssemblyStep> {
    let steps = lattice.assembly.iter().enumerate();
    steps
        .map(|(at, strips)| AssemblyStep {
            step: at + 1,
            strips: labels(lattice, strips),
        })
        .collect()
}

fn labels(lattice: &Lattice, strips: &[StripId]) -> String {
    let mut strips = strips.to_vec();
    strips.sort_unstable();
    let labels: Vec<_> = strips.iter().map(|id| lattice.label(*id)).collect();
    label_runs(&labels)
}

/// Where a strip keeps least at a node, family by family.
fn least_sections(lattice: &Lattice) -> Vec<LeastSection> {
    let mut found = Vec::new();
    for family in 0..lattice.families.len() {
        let bundles = lattice.bundles.iter();
        let own = bundles.filter(|bundle| bundle.family == family);
        let kept = own.map(|bundle| least_kept(bundle, lattice.section.depth));
        found.extend(kept.min_by(f64::total_cmp).map(|least| LeastSection {
            family: lattice.family_name(family),
            depth_kept_mm: least,
            thickness_mm: lattice.section.thickness,
        }));
    }
    found
}

/// What a bundle's strips, `depth` deep, keep at a node: their depth less the deepest slot of either
/// face, which overlap in the middle of the node.
fn least_kept(bundle: &Bundle, depth: f64) -> f64 {
    let together = |a: &Notch, b: &Notch| b.centre.approx_eq(a.centre, POSITION);
    let mut least = depth;
    for node in bundle.notches.chunk_by(together) {
        let kept = depth - deepest(node, Face::Front) - deepest(node, Face::Back);
        least = least.min(kept);
    }
    least
}

fn deepest(node: &[Notch], face: Face) -> f64 {
    let depths = node.iter().filter(|notch| notch.face == face);
    depths.map(|notch| notch.depth).fold(0.0, f64::max)
}

fn turned(lattice: &Lattice) -> Vec<TurnedStrips> {
    let bundles = lattice.bundles.iter().enumerate();
    let turned = bundles.filter(|(_, bundle)| !bundle.turned.is_empty());
    turned
        .map(|(at, bundle)| TurnedStrips {
            bundle: at + 1,
            strips: labels(lattice, &bundle.turned),
        })
        .collect()
}

/// Strips of a bundle that are cut at the same places stand together.
fn trims(lattice: &Lattice) -> Vec<TrimmedStrips> {
    let mut found = Vec::new();
    for (at, bundle) in lattice.bundles.iter().enumerate() {
        let mut groups: Vec<([f64; 2], Vec<StripId>)> = Vec::new();
        for trim in &bundle.trims {
            let same = |(kept, _): &&mut ([f64; 2], Vec<StripId>)| {
                kept[0].approx_eq(trim.kept[0], POSITION)
                    && kept[1].approx_eq(trim.kept[1], POSITION)
            };
            match groups.iter_mut().find(same) {
                Some((_, strips)) => strips.push(trim.strip),
                None => groups.push((trim.kept, vec![trim.strip])),
            }
        }
        found.extend(groups.into_iter().map(|(kept, strips)| TrimmedStrips {
            bundle: at + 1,
            strips: labels(lattice, &strips),
            kept_from_mm: kept[0],
            kept_to_mm: kept[1],
        }));
    }
    found
}

/// Nothing where no strip could ride along.
fn riding(lattice: &Lattice) -> Option<RidingFacts> {
    let riding = lattice.riding();
    (riding.together < riding.apart).then_some(RidingFacts {
        done: lattice.section.joinery.bundling == Bundling::Runs,
        bundles_apart: riding.apart,
        bundles_together: riding.together,
        wood_mm: riding.wood,
    })
}

/// Each bundle that is the same part as an earlier one, or, if it is none, its mirror image.
fn alike(bundles: &[Bundle]) -> Vec<AlikeBundles> {
    let mut found = Vec::new();
    for (at, bundle) in bundles.iter().enumerate() {
        let earlier = || bundles.iter().take(at).enumerate();
        let same = earlier().find_map(|(like, other)| Some((like, bundle.same_part(other)?)));
        if let Some((like, turn)) = same {
            found.push(AlikeBundles {
                bundle: at + 1,
                like_bundle: like + 1,
                turn: Some(turn),
                ends_change: turn.swaps_ends(),
            });
            continue;
        }
        let mirrored = mirrored(bundle);
        let like = earlier().find(|(_, other)| mirrored.same_part(other).is_some());
        found.extend(like.map(|(like, _)| AlikeBundles {
            bundle: at + 1,
            like_bundle: like + 1,
            turn: None,
            ends_change: false,
        }));
    }
    found
}

/// A bundle of the other hand: the slots slant the other way.
fn mirrored(bundle: &Bundle) -> Bundle {
    let mut other = bundle.clone();
    for notch in &mut other.notches {
        notch.angle = PI - notch.angle;
    }
    other
}

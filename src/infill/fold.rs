//! Which pieces of a cell are one strip, folded where they meet, and whether they can be.

use super::bar::{Bar, Joint, Skeleton, same};
use super::stock::PieceStock;
use crate::finding::Finding;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// A bend of less than this is none: the pieces go on in line, rad (1 degree).
const LEAST_BEND: f64 = 0.01745;

/// A part of a folded strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FoldedArm {
    /// Which strip of its cell, from 0.
    pub strip: usize,
    /// Its place along the strip, from 0.
    pub nth: usize,
    /// Whether it is the part that bears the strip's number and is counted.
    pub first: bool,
}

/// Pieces that are one strip, in the order along it.
#[derive(Debug, Clone)]
pub(super) struct Chain {
    field: String,
    pub(super) arms: Vec<Arm>,
}

/// A piece of a folded strip.
#[derive(Debug, Clone, Copy)]
pub(super) struct Arm {
    pub(super) bar: usize,
    /// Whether the strip goes from its `to` to its `from`.
    pub(super) reversed: bool,
}

impl Chain {
    /// Indices of its pieces.
    pub(super) fn bars(&self) -> Vec<usize> {
        self.arms.iter().map(|arm| arm.bar).collect()
    }

    pub(super) fn error(&self, code: &'static str, text: impl Into<Phrase>) -> Finding {
        Finding::error(code, self.field.as_str(), text)
    }
}

/// Lets the pieces of every fold meet in a mitre.
pub(super) fn add_joints(skeleton: &mut Skeleton) {
    let mut joints = Vec::new();
    for fold in &skeleton.folds {
        let bars = fold.pieces.iter();
        let bars = bars.filter_map(|name| skeleton.bars.iter().find(|bar| bar.name == *name));
        let bars: Vec<&Bar> = bars.collect();
        for pair in bars.windows(2) {
            let [one, other] = pair else { continue };
            let met = one
                .ends()
                .into_iter()
                .find(|p| other.ends().iter().any(|q| same(*p, *q)));
            let Some(at) = met else { continue };
            let known = skeleton.joints.iter().chain(&joints);
            if !known.clone().any(|joint: &Joint| same(joint.at, at)) {
                joints.push(Joint {
                    field: fold.field.clone(),
                    at,
                    jig: Vec::new(),
                });
            }
        }
    }
    skeleton.joints.extend(joints);
}

/// The folded strips of a cell.
///
/// # Errors
/// Pieces that cannot be one strip.
pub(super) fn chains(skeleton: &Skeleton) -> Result<Vec<Chain>, Vec<Finding>> {
    let mut chains = Vec::new();
    let mut found = Vec::new();
    for fold in &skeleton.folds {
        let index = |name: &String| skeleton.bars.iter().position(|bar| bar.name == *name);
        let bars: Vec<usize> = fold.pieces.iter().filter_map(index).collect();
        let chain = Chain {
            field: fold.field.clone(),
            arms: Vec::new(),
        };
        match chain.through(&bars, &skeleton.bars) {
            Ok(chain) => {
                found.extend(chain.faults(skeleton));
                chains.push(chain);
            }
            Err(fault) => found.push(fault),
        }
    }
    found.dedup();
    if found.is_empty() {
        Ok(chains)
    } else {
        Err(found)
    }
}

impl Chain {
    /// The same with these pieces, each turned so that it begins where the one before it ends.
    fn through(mut self, indices: &[usize], bars: &[Bar]) -> Result<Chain, Finding> {
        let get = |at: Option<&usize>| at.and_then(|at| bars.get(*at));
        let mut end: Option<Point> = None;
        for (nth, index) in indices.iter().enumerate() {
            let Some(bar) = bars.get(*index) else {
                continue;
            };
            let next = get(indices.get(nth + 1));
            let reversed = match (end, next) {
                (Some(end), _) if same(bar.from, end) => false,
                (Some(end), _) if same(bar.to, end) => true,
                (Some(_), _) => {
                    let before = get(nth.checked_sub(1).and_then(|at| indices.get(at)));
                    return Err(self.apart(before, bar));
                }
                (None, Some(next)) => !next.ends().iter().any(|p| same(*p, bar.to)),
                (None, None) => false,
            };
            end = Some(if reversed { bar.from } else { bar.to });
            self.arms.push(Arm {
                bar: *index,
                reversed,
            });
        }
        Ok(self)
    }

    fn apart(&self, before: Option<&Bar>, bar: &Bar) -> Finding {
        let before = before.map_or("", |bar| bar.name.as_str());
        let text = format!(
            "`{before}` does not end where `{}` begins: they are no one strip",
            bar.name
        );
        self.error("fold-apart", text)
            .hint("name the pieces in the order along the strip, the end of each at the next one's")
    }

    /// Where a piece of it begins and ends, along the strip.
    pub(super) fn axis(&self, arm: Arm, bars: &[Bar]) -> Option<[Point; 2]> {
        let [from, to] = bars.get(arm.bar)?.ends();
        Some(if arm.reversed { [to, from] } else { [from, to] })
    }

    /// What keeps it from being a strip, before anything is cut.
    fn faults(&self, skeleton: &Skeleton) -> Vec<Finding> {
        let bars = &skeleton.bars;
        let mut found: Vec<Finding> = self
            .arms
            .iter()
            .filter_map(|arm| self.cannot_fold(bars.get(arm.bar)?, bars))
            .collect();
        for pair in self.arms.windows(2) {
            let &[one, other] = pair else { continue };
            let both = bars.get(one.bar).zip(bars.get(other.bar));
            if let Some((one_bar, other_bar)) = both {
                found.extend(self.cannot_bend((one_bar, other_bar), [one, other], skeleton));
            }
        }
        found
    }

    /// A piece that cannot be a part of a folded strip.
    fn cannot_fold(&self, bar: &Bar, bars: &[Bar]) -> Option<Finding> {
        let name = &bar.name;
        if bar.over.contains(&true) {
            let text =
                format!("`{name}` runs on over a strip: it is one straight piece with its like");
            let hint = "leave out `over`, or this fold";
            return Some(self.error("over-and-fold", text).hint(hint));
        }
        let mut others = bars.iter();
        let above = others.find(|other| other.laps.contains(name));
        let mate = bar.laps.first().or(above.map(|other| &other.name))?;
        let text = format!("`{name}` and `{mate}` lap: a folded strip takes no half laps");
        let hint = format!(
            "let `{mate}` stand `against` `{name}`; or leave `{name}` out of the fold and join it in a [[junction]]"
        );
        Some(self.error("fold-and-lap", text).hint(hint))
    }

    /// Two pieces that follow each other and cannot be bent into each other.
    fn cannot_bend(
        &self,
        (one, other): (&Bar, &Bar),
        arms: [Arm; 2],
        skeleton: &Skeleton,
    ) -> Option<Finding> {
        let names = format!("`{}` and `{}`", one.name, other.name);
        if !one.stock.is_like(&other.stock) {
            let text = format!("{names} are one strip and have not one thickness and depth");
            let hint = "give both the same `thickness` and `depth`";
            return Some(self.error("fold-of-two-woods", text).hint(hint));
        }
        let PieceStock {
            thickness, skin, ..
        } = one.stock;
        if skin > thickness - SAME_POSITION_MM {
            let text = phrase!(
                "a skin of {} is as thick as {}, {}: no V is cut",
                Mm(skin),
                names,
                Mm(thickness)
            );
            return Some(
                self.error("fold-skin-too-thick", text).hint(
                    "some tenths of a millimetre are left: `fold_skin` in the job's [infill]",
                ),
            );
        }
        let [first, second] = [
            self.axis(arms[0], &skeleton.bars)?,
            self.axis(arms[1], &skeleton.bars)?,
        ];
        let at = first[1];
        let bend = turn(first, second);
        if bend.abs() < LEAST_BEND {
            let text = format!("{names} go on in line: there is nothing to fold");
            let hint = "make them one piece, or move the point where they meet";
            return Some(self.error("fold-straight", text).hint(hint));
        }
        if std::f64::consts::PI - bend.abs() < LEAST_BEND {
            let text = format!("{names} lie on each other: a strip is not folded flat");
            let hint = "let them run to different sides of the point where they meet";
            return Some(self.error("fold-flat", text).hint(hint));
        }
        let free = [(one, at), (other, at)].into_iter().find(|(bar, at)| {
            let end = usize::from(same(bar.to, *at));
            !bar.joins(end)
        });
        if let Some((bar, _)) = free {
            let text = format!(
                "the end of `{}` at the bend is a horn or a bird's mouth",
                bar.name
            );
            let hint = "leave it out there: the strip goes on round the bend";
            return Some(self.error("fold-and-end", text).hint(hint));
        }
        self.shared(&names, at, [one, other], skeleton)
    }

    /// A bend at which another piece ends too, or jig angles are given.
    fn shared(
        &self,
        names: &str,
        at: Point,
        own: [&Bar; 2],
        skeleton: &Skeleton,
    ) -> Option<Finding> {
        let ends_here = |bar: &&Bar| {
            let [from, to] = [0, 1].map(|end| bar.joins(end));
            let is_own = own.iter().any(|own| own.name == bar.name);
            !is_own && (from && same(bar.from, at) || to && same(bar.to, at))
        };
        if let Some(third) = skeleton.bars.iter().find(ends_here) {
            let text = format!(
                "`{}` ends in the bend of {names}: its mitre would cut their skin",
                third.name
            );
            let hint = format!(
                "on the outer side of the bend let it take the corner: mouth = {{ to = [\"{}\", \"{}\"] }}, or `from`; on the inner side let it stand `against` both, its end at a point of its own",
                own[0].name, own[1].name
            );
            return Some(self.error("fold-shared", text).hint(hint));
        }
        let joint = skeleton.joints.iter().find(|joint| same(joint.at, at))?;
        (!joint.jig.is_empty()).then(|| {
            let text = format!("{names} are folded here: a V closes on the plane between them");
            let hint = "leave out `jig`, or this fold";
            Finding::error("fold-with-jig", format!("{}.jig", joint.field), text).hint(hint)
        })
    }
}

/// From one axis to the next, to the left positive, rad.
pub(super) fn turn(one: [Point; 2], other: [Point; 2]) -> f64 {
    let (u, v) = (one[0].to(one[1]), other[0].to(other[1]));
    u.cross(v).atan2(u.dot(v))
}

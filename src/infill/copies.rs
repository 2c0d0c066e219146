//! Mirrored and turned copies of pieces.

use super::bar::{Bar, Skeleton, same};
use super::pattern::{MirrorRule, TurnRule};
use crate::geometry::{Point, Vector};
use std::f64::consts::TAU;

/// A rigid motion of the cell's plane that may mirror it.
#[derive(Clone, Copy)]
pub(super) struct Motion {
    /// Stays where it is.
    about: Point,
    /// Where unit vectors along x and y go.
    axes: [Vector; 2],
    mirrors: bool,
}

impl Motion {
    /// In a line through a point, along a unit vector: a vector's part along the line stays, the part
    /// square to it turns round.
    pub(super) fn mirror(on: Point, along: Vector) -> Motion {
        let reflected = |v: Vector| along * (2.0 * v.dot(along)) - v;
        Motion {
            about: on,
            axes: [Vector::new(1.0, 0.0), Vector::new(0.0, 1.0)].map(reflected),
            mirrors: true,
        }
    }

    /// Counter-clockwise about a point, rad.
    pub(super) fn turn(about: Point, by: f64) -> Motion {
        let (sine, cosine) = by.sin_cos();
        Motion {
            about,
            axes: [Vector::new(cosine, sine), Vector::new(-sine, cosine)],
            mirrors: false,
        }
    }

    pub(super) fn vector(&self, v: Vector) -> Vector {
        let [x, y] = self.axes;
        x * v.x + y * v.y
    }

    fn point(&self, p: Point) -> Point {
        self.about + self.vector(self.about.to(p))
    }
}

/// Adds the copies of one mirror.
pub(super) fn mirror(skeleton: &mut Skeleton, table: &str, rule: &MirrorRule, motion: Motion) {
    let copied = rule.copies.iter().map(|(original, name)| Copied {
        original: original.clone(),
        name: name.clone(),
        field: format!("{table}.copies.{original}"),
    });
    let there = rule.copies.iter().map(|(original, copy)| (original, copy));
    let back = rule.copies.iter().map(|(original, copy)| (copy, original));
    let images: Vec<_> = there.chain(back).collect();
    copy(skeleton, &copied.collect::<Vec<_>>(), &images, motion);
}

/// Adds the copies of one turn, step by step.
pub(super) fn turn(skeleton: &mut Skeleton, table: &str, rule: &TurnRule, about: Point) {
    for step in 1..rule.steps {
        let on = step as usize;
        let copied = rule.copies.iter().filter_map(|(original, names)| {
            Some(Copied {
                original: original.clone(),
                name: names.get(on - 1)?.clone(),
                field: format!("{table}.copies.{original}"),
            })
        });
        let copied: Vec<_> = copied.collect();
        let images = rule.copies.iter().flat_map(|(original, names)| {
            let all: Vec<&String> = [original].into_iter().chain(names).collect();
            let moved = all.clone().into_iter().cycle().skip(on);
            all.into_iter().zip(moved).collect::<Vec<_>>()
        });
        let by = TAU * f64::from(step) / f64::from(rule.steps);
        copy(
            skeleton,
            &copied,
            &images.collect::<Vec<_>>(),
            Motion::turn(about, by),
        );
    }
}

/// A piece to copy: its name, the copy's name, and the field that says so.
struct Copied {
    original: String,
    name: String,
    field: String,
}

/// Adds copies: pieces with their ends, what they stand against and lap, and the junctions at which the
/// copies end, with jig angles whose sides are swapped by a mirror.
///
/// `images` says which piece each of the pieces comes to lie on, copies included: what ends against a
/// copy has a copy that ends against that copy's image.
fn copy(skeleton: &mut Skeleton, copied: &[Copied], images: &[(&String, &String)], motion: Motion) {
    let renamed = |name: &String| {
        let image = images.iter().find(|(piece, _)| *piece == name);
        image.map_or(name, |(_, image)| *image).clone()
    };
    let mut copies = Vec::new();
    for copy in copied {
        let Some(bar) = skeleton.bars.iter().find(|bar| bar.name == copy.original) else {
            continue;
        };
        copies.push(Bar {
            name: copy.name.clone(),
            field: copy.field.clone(),
            from: motion.point(bar.from),
            to: motion.point(bar.to),
            along: motion.vector(bar.along),
            against: bar.against.iter().map(renamed).collect(),
            laps: bar.laps.iter().map(renamed).collect(),
            mouths: (bar.mouths.each_ref())
                .map(|mates| mates.as_ref().map(|mates| mates.each_ref().map(renamed))),
            ..bar.clone()
        });
    }
    for mut joint in skeleton.joints.clone() {
        let is_copied = |(name, _): &(String, _)| images.iter().any(|(piece, _)| *piece == name);
        joint.jig.retain(is_copied);
        for (name, angles) in &mut joint.jig {
            *name = renamed(name);
            if motion.mirrors {
                angles.reverse();
            }
        }
        joint.at = motion.point(joint.at);
        let ends_here = |bar: &Bar| {
            let at_from = bar.joins(0) && same(bar.from, joint.at);
            at_from || bar.joins(1) && same(bar.to, joint.at)
        };
        if !copies.iter().any(ends_here) {
            continue;
        }
        match skeleton
            .joints
            .iter_mut()
            .find(|known| same(known.at, joint.at))
        {
            Some(known) => known.jig.extend(joint.jig),
            None => skeleton.joints.push(joint),
        }
    }
    skeleton.bars.extend(copies);
}

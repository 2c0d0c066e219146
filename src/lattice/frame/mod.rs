//! The frame around a panel: rails whose mortises take the strips' trimmed ends.

#[cfg(test)]
mod tests;

use super::direction::{PanelEnd, datum_end, is_backward};
use super::frame_joint::{CornerJoint, Recess};
use super::frame_mitres::{Member, MemberWidths};
use super::layout::Lattice;
use super::margins::Margins;
use super::strip::{Strip, StripId};
use crate::finding::Finding;
use crate::geometry::convex::edges;
use crate::geometry::{Point, SAME_POSITION_MM, Vector, crossing_fractions};
use crate::phrase;
use crate::units::{AtLeast, Mm};
use std::f64::consts::FRAC_PI_2;
use std::iter::repeat;

/// Rails round the panel. Millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct Frame {
    /// From the region's edge (the centre line of the outermost strips of an upright grid) out to
    /// the rails' inner faces.
    pub margins: Margins,
    /// Front to back of a rail.
    pub thickness: f64,
    /// From the rails' front face back to the strips' front face.
    pub setback: f64,
    /// Which of them the job leaves to the strips.
    pub by_strips: ByStrips,
    /// From a rail's inner face to a mortise's floor.
    pub mortise_depth: f64,
    /// What a mortise is wider and higher than the strip in it.
    pub clearance: f64,
    /// From a trimmed end to its mortise's floor, square to the rail.
    pub end_gap: f64,
    /// Of its members, where the job gives them.
    pub widths: Option<MemberWidths>,
    /// How its members meet.
    pub joint: CornerJoint,
    /// What is cut along their inner edges.
    pub recess: Option<Recess>,
    /// Species, where it is not the strips'.
    pub wood: Option<String>,
    /// Its mass by volume, kg/m3, where the job says so; only for telling.
    pub density: Option<f64>,
}

/// What a job does not give, so that a frame's place follows from the strips, as measured where they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ByStrips {
    /// Its inner faces lie against the outermost ones.
    pub margins: bool,
    /// They lie in the middle of its rails, front to back.
    pub setback: bool,
}

/// One side of the frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Rail {
    /// Left or lower end of its inner edge, panel frame; positions are measured from here.
    pub start: Point,
    /// Other end of its inner edge, panel frame.
    pub end: Point,
    /// In order from its start.
    pub mortises: Vec<Mortise>,
    /// Strips that meet it too near its ends to be let in.
    pub flush: Vec<StripId>,
    /// From the panel's inside to the rail, a unit vector.
    pub outward: Vector,
    /// The rail as a mitred piece of wood, where the job says how wide it is.
    pub member: Option<Member>,
}

/// A hole for the ends of one strip, or of strips that meet the rail side by side.
#[derive(Debug, Clone, PartialEq)]
pub struct Mortise {
    /// Whose ends it takes.
    pub strips: Vec<StripId>,
    /// Its two edges, from the rail's start, mm.
    pub edges: [f64; 2],
    /// Between the rail and the strip, radians in (0, pi/2]; the least where there are several.
    pub angle: f64,
}

impl Rail {
    /// The end that positions are measured from.
    pub fn datum_end(&self) -> PanelEnd {
        datum_end(self.start.to(self.end))
    }

    /// The end at which one arrives who goes round the panel counter-clockwise, seen from the
    /// front.
    pub fn round_end(&self) -> PanelEnd {
        let datum = self.datum_end();
        if self.start.to(self.end).cross(self.outward) < 0.0 {
            datum.opposite()
        } else {
            datum
        }
    }

    /// Length of the inner edge, mm.
    pub fn length(&self) -> f64 {
        self.start.to(self.end).length()
    }
}

/// Where a strip is trimmed, and how. "From" is the strip's datum end as it lies in the panel,
/// which is not the marked one of a strip that was turned end for end.
#[derive(Debug, Clone, PartialEq)]
pub struct TrimmedEnds {
    /// Which strip.
    pub strip: StripId,
    /// The end that the cuts are measured from, as it lies in the panel.
    pub datum_end: PanelEnd,
    /// To the middle of each cut, mm.
    pub at: [f64; 2],
    /// Between strip and cut, radians in (0, pi/2].
    pub angles: [f64; 2],
    /// Indices of the rails that a corner of a trimmed end still reaches into: it is cut along
    /// their faces too.
    pub corners: [Vec<usize>; 2],
}

/// The rails of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Rails {
    /// Round the panel counter-clockwise, from the edge at the region's first corner.
    pub rails: Vec<Rail>,
    /// Every strip's trimmed ends, in the lattice's order.
    pub trimmed: Vec<TrimmedEnds>,
}

/// Where an end of a strip passes a rail's inner face.
struct StripEntry {
    strip: StripId,
    /// 0 for the datum end.
    end: usize,
    /// Along the rail from its start.
    at: f64,
    /// Of the angle from the rail to the strip, outward: cosine signed, along the rail.
    cosine: f64,
    sine: f64,
    /// Length of strip beyond the inner face, along its middle.
    beyond: f64,
}

impl StripEntry {
    /// Between rail and strip, in (0, pi/2].
    fn angle(&self) -> f64 {
        self.sine.atan2(self.cosine.abs())
    }
}

impl Frame {
    /// The rails for a lattice's strips.
    ///
    /// A mortise is cut square to the rail, so for a strip that enters at an angle A it is as wide
    /// as the strip is seen along the rail, (t + c) / sin A, and longer by what the strip moves
    /// along the rail on its way to the floor, m / tan A. Mortises with less than the least web
    /// between them are one.
    ///
    /// # Errors
    /// What cannot be made, at the job's fields.
    pub fn rails(&self, lattice: &Lattice) -> Result<Rails, Vec<Finding>> {
        let mut faults = self.faults(lattice);
        let Some(inner) = self.margins.around(&lattice.region) else {
            return Err(faults);
        };
        let entries: Vec<Vec<StripEntry>> = edges(&inner)
            .map(|edge| entries(&lattice.strips, edge))
            .collect();
        faults.extend(self.too_short(lattice.overhang, &entries));
        let members = self.members(&inner, lattice.section.least_web);
        let members = members.unwrap_or_else(|found| {
            faults.extend(found);
            Vec::new()
        });
        if !faults.is_empty() {
            return Err(faults);
        }
        let members = members.into_iter().map(Some).chain(repeat(None));
        let made = edges(&inner).zip(&entries).zip(members);
        let rails: Vec<Rail> = made
            .map(|((side, found), member)| self.rail(lattice, side, found, member))
            .collect();
        let trimmed = lattice.strips.iter();
        let trimmed = trimmed
            .map(|strip| self.trimmed(strip, lattice.section.thickness, &entries, &rails))
            .collect();
        Ok(Rails { rails, trimmed })
    }

    /// Let in by a mortise's depth, square to the rail, or cut flush with it.
    fn trimmed(
        &self,
        strip: &Strip,
        thickness: f64,
        entries: &[Vec<StripEntry>],
        rails: &[Rail],
    ) -> TrimmedEnds {
        let along = strip.start.to(strip.end).unit().unwrap_or_default();
        let mut cuts: [Option<(f64, f64, Vec<usize>)>; 2] = [None, None];
        for (own, (found, rail)) in entries.iter().zip(rails).enumerate() {
            for entry in found.iter().filter(|entry| entry.strip == strip.id) {
                let flush = rail.flush.contains(&strip.id);
                let let_in = if flush {
                    0.0
                } else {
                    self.let_in() / entry.sine
                };
                let off = entry.beyond - let_in;
                let at = if entry.end == 0 {
                    off
                } else {
                    strip.length - off
                };
                let middle = strip.start + along * at;
                let aside = rail.start.to(rail.end).unit().unwrap_or_default();
                let aside = aside * (thickness / 2.0 / entry.sine);
                let tips = [middle + aside, middle - aside];
                let reached = |(at, other): &(usize, &Rail)| {
                    let over = |tip: &Point| other.start.to(*tip).dot(other.outward);
                    *at != own && tips.iter().map(over).fold(0.0, f64::max) > SAME_POSITION_MM
                };
                let corners = rails.iter().enumerate().filter(reached).map(|(at, _)| at);
                // An end that meets two rails at their corner is cut along the first of them.
                if let Some(cut) = cuts.get_mut(entry.end).filter(|cut| cut.is_none()) {
                    *cut = Some((at, entry.angle(), corners.collect()));
                }
            }
        }
        let [near, far] = cuts;
        let near = near.unwrap_or((0.0, FRAC_PI_2, Vec::new()));
        let far = far.unwrap_or((strip.length, FRAC_PI_2, Vec::new()));
        TrimmedEnds {
            strip: strip.id,
            datum_end: strip.datum_end(),
            at: [near.0, far.0],
            angles: [near.1, far.1],
            corners: [near.2, far.2],
        }
    }

    /// The mitred members round the inner outline, as they run there; none where no width is given.
    fn members(&self, inner: &[Point], least_web: f64) -> Result<Vec<Member>, Vec<Finding>> {
        let Some(widths) = &self.widths else {
            return Ok(Vec::new());
        };
        let members = widths.members(inner)?;
        let thin = |(at, member): (usize, &Member)| {
            let behind = member.width - self.mortise_depth;
            (behind < least_web - SAME_POSITION_MM)
                .then(|| self.too_narrow(widths.field(at), behind, least_web))
        };
        let mut faults: Vec<Finding> = members.iter().enumerate().filter_map(thin).collect();
        if let MemberWidths::Same(_) = widths {
            faults.truncate(1);
        }
        match (faults.is_empty(), self.joint) {
            (true, CornerJoint::Mitre) => Ok(members),
            // They end square.
            (true, CornerJoint::Tenon(_)) => Ok(Vec::new()),
            (false, _) => Err(faults),
        }
    }

    fn too_narrow(&self, field: String, behind: f64, least_web: f64) -> Finding {
        let text = phrase!(
            "a member this narrow keeps {} behind mortises {} deep",
            Mm(behind.max(0.0)),
            Mm(self.mortise_depth)
        );
        let hint = phrase!(
            "make it {} or more: at least {} must stay behind them",
            AtLeast(self.mortise_depth + least_web),
            Mm(least_web)
        );
        Finding::error("rail-too-narrow", field, text).hint(hint)
    }

    /// What a mortise keeps clear of a rail's inner corners: the least web, and where the mitre runs
    /// in under the inner edge, what it takes there as deep as the mortise is.
    fn clear_of_corners(&self, least_web: f64, member: Option<&Member>) -> [f64; 2] {
        let Some(member) = member else {
            return [least_web; 2];
        };
        member
            .reaches()
            .map(|reach| least_web + (-reach).max(0.0) * self.mortise_depth / member.width)
    }

    /// The rail at an edge of the counter-clockwise inner outline; `member` as it runs there.
    fn rail(
        &self,
        lattice: &Lattice,
        edge: (Point, Point),
        entries: &[StripEntry],
        member: Option<Member>,
    ) -> Rail {
        let section = &lattice.section;
        let (start, end) = from_datum(edge.0, edge.1);
        let member = member.map(|member| {
            if is_backward(edge.0.to(edge.1)) {
                member.turned()
            } else {
                member
            }
        });
        let clear = self.clear_of_corners(section.least_web, member.as_ref());
        let round = edge.0.to(edge.1).unit().unwrap_or_default();
        let outward = Vector::new(round.y, -round.x);
        let length = start.to(end).length();
        let mut mortises: Vec<Mortise> = Vec::new();
        let mut flush: Vec<StripId> = Vec::new();
        for entry in entries {
            let half = (section.thickness + self.clearance) / 2.0 / entry.sine;
            let drift = self.mortise_depth * entry.cosine / entry.sine;
            let edges = [
                entry.at - half + drift.min(0.0),
                entry.at + half + drift.max(0.0),
            ];
            if edges[0] < clear[0] || edges[1] > length - clear[1] {
                flush.push(entry.strip);
                continue;
            }
            mortises.push(Mortise {
                strips: vec![entry.strip],
                edges,
                angle: entry.angle(),
            });
        }
        mortises.sort_by(|a, b| a.edges[0].total_cmp(&b.edges[0]));
        let mut apart: Vec<Mortise> = Vec::with_capacity(mortises.len());
        for mortise in mortises {
            match apart.last_mut() {
                Some(last) if mortise.edges[0] - last.edges[1] < section.least_web => {
                    last.edges[1] = last.edges[1].max(mortise.edges[1]);
                    last.angle = last.angle.min(mortise.angle);
                    last.strips.extend(mortise.strips);
                }
                _ => apart.push(mortise),
            }
        }
        Rail {
            start,
            end,
            mortises: apart,
            flush,
            outward,
            member,
        }
    }

    fn faults(&self, lattice: &Lattice) -> Vec<Finding> {
        let mut found = Vec::new();
        let section = &lattice.section;
        if self.mortise_depth <= 0.0 {
            let text = phrase!("mortises {} deep hold nothing", Mm(self.mortise_depth));
            found.push(Finding::error("not-positive", "frame.mortise_depth", text));
        }
        let least = section.thickness / 2.0;
        // Beside edges that strips lie along.
        let beside = edges(&lattice.region).filter_map(|(from, to)| {
            let mut strips = lattice.strips.iter();
            let has_strip = strips.any(|strip| strip.lies_along(from, to));
            has_strip.then(|| self.margins.beside(from, to))
        });
        let margin = beside.fold(f64::INFINITY, f64::min);
        if margin < least - SAME_POSITION_MM {
            let text = phrase!(
                "rails {} from the region's edge run into the strips that lie on it",
                Mm(margin)
            );
            let hint = phrase!(
                "make it {} or more, half a strip's thickness",
                AtLeast(least)
            );
            found.push(Finding::error("rail-in-strip", "frame.margin", text).hint(hint));
        }
        if self.end_gap >= self.mortise_depth && self.mortise_depth > 0.0 {
            let text = phrase!(
                "ends that stop {} before the floors of mortises {} deep are not in them",
                Mm(self.end_gap),
                Mm(self.mortise_depth)
            );
            found.push(Finding::error("out-of-range", "frame.end_gap", text));
        }
        let behind = self.thickness - self.setback - section.depth;
        let thinnest = self.setback.min(behind) - self.clearance / 2.0;
        if thinnest < section.least_web - SAME_POSITION_MM {
            let text = phrase!(
                "a rail {} thick keeps {} beside a mortise for strips {} deep, {} behind its front face",
                Mm(self.thickness),
                Mm(thinnest.max(0.0)),
                Mm(section.depth),
                Mm(self.setback)
            );
            let hint = phrase!(
                "at least {} must stay before and behind it",
                Mm(section.least_web)
            );
            found.push(Finding::error("rail-too-thin", "frame.thickness", text).hint(hint));
        }
        found
    }

    /// How far strips come into their mortises.
    fn let_in(&self) -> f64 {
        self.mortise_depth - self.end_gap
    }

    /// Strips that do not come so far into the mortises.
    fn too_short(&self, overhang: f64, entries: &[Vec<StripEntry>]) -> Option<Finding> {
        let lacking = |entry: &StripEntry| self.let_in() / entry.sine - entry.beyond;
        let worst = entries.iter().flatten().map(lacking).fold(0.0, f64::max);
        (worst > SAME_POSITION_MM).then(|| {
            let text = phrase!(
                "with an overhang of {} strips do not come {} into the mortises",
                Mm(overhang),
                Mm(self.let_in())
            );
            let hint = phrase!("make the overhang {} or more", AtLeast(overhang + worst));
            Finding::error("overhang-too-short", "grid.overhang", text).hint(hint)
        })
    }
}

/// Where strips pass one rail's inner face, an edge of the counter-clockwise inner outline.
fn entries(strips: &[Strip], edge: (Point, Point)) -> Vec<StripEntry> {
    let (rail_start, rail_end) = from_datum(edge.0, edge.1);
    let round = edge.0.to(edge.1);
    let rail = rail_start.to(rail_end);
    let length = rail.length();
    let along = rail.unit().unwrap_or_default();
    let slack = SAME_POSITION_MM / length;
    let mut found = Vec::new();
    for strip in strips {
        let Some((on_strip, on_rail)) =
            crossing_fractions(strip.start, strip.end, rail_start, rail_end)
        else {
            continue;
        };
        if on_rail < -slack || on_rail > 1.0 + slack {
            continue;
        }
        let from_datum = strip.start.to(strip.end).unit().unwrap_or_default();
        // The panel lies to the left of its outline.
        let end = usize::from(round.cross(from_datum) < 0.0);
        let outward = if end == 0 { -from_datum } else { from_datum };
        let beyond = if end == 0 { on_strip } else { 1.0 - on_strip } * strip.length;
        found.push(StripEntry {
            strip: strip.id,
            end,
            at: on_rail * length,
            cosine: along.dot(outward),
            sine: along.cross(outward).abs(),
            beyond,
        });
    }
    found
}

/// An edge from its datum end.
fn from_datum(from: Point, to: Point) -> (Point, Point) {
    if is_backward(from.to(to)) {
        (to, from)
    } else {
        (from, to)
    }
}

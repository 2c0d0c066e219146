//! How large a panel comes out.

use crate::geometry::convex::{chord, edges};
use crate::geometry::{Point, SAME_POSITION_MM, bounds};
use crate::instructions::panel_size::{
    EndTrim, MeasuredPlace, OpeningFigures, PanelSize, ScribeFigures, TrimmedEnd,
};
use crate::lattice::{Family, Frame, Lattice, Margins, MemberWidths, Panel, Strip};
use crate::opening::{Fitted, MeasuredAt, Scribe};

/// A panel with what goes round it.
#[derive(Debug, Clone, Copy)]
pub struct SizedPanel<'a> {
    /// The panel.
    pub panel: &'a Panel,
    /// Its frame, if it has one.
    pub frame: Option<&'a Frame>,
    /// How it goes into an opening, if the job starts from one.
    pub fitted: Option<&'a Fitted>,
}

/// The panel's sizes. Without frame or opening the ends are cut flush: with the outer faces of strips that
/// lie along the region's edge, half a strip beyond their centre lines; else with the edge.
pub fn panel_size(sized: SizedPanel<'_>) -> PanelSize {
    let grid = &sized.panel.design().grid;
    let lattice = sized.panel.lattice();
    let margins = sized.margins();
    let inside = upright(&lattice.region, margins);
    let cells = grid.cells();
    let whole = cells.iter().filter(|cell| cell.whole).count();
    let within = lattice
        .strips
        .iter()
        .filter_map(|strip| within(strip, &lattice.region))
        .map(|[from, to]| to - from);
    let half = lattice.section.thickness / 2.0;
    PanelSize {
        opening: sized.fitted.map(opening),
        finished_mm: sized.finished(inside),
        inside_mm: inside,
        margin_mm: [margins.x, margins.y],
        reveal_mm: grid
            .with_uneven_pitches()
            .filter(|_| sized.frame.is_some() || sized.fitted.is_some())
            .map(|_| [margins.x - half, margins.y - half]),
        trims: sized.trims(margins),
        whole_cells: whole,
        cut_cells: cells.len() - whole,
        shortest_strip_mm: within.fold(f64::INFINITY, f64::min),
    }
}

/// What of a strip lies in a region: from and to, from its datum end.
fn within(strip: &Strip, region: &[Point]) -> Option<[f64; 2]> {
    let along = strip.start.to(strip.end).unit()?;
    chord(region, strip.start, along, SAME_POSITION_MM)
}

/// Width and height of a region's outline with its margins; nothing where that is no upright rectangle.
fn upright(region: &[Point], margins: Margins) -> Option<[f64; 2]> {
    let ring = margins.around(region)?;
    let (low, high) = bounds(ring.iter().copied())?;
    let at = |value: f64, ends: [f64; 2]| {
        let near = |end: &f64| (value - end).abs() < SAME_POSITION_MM;
        ends.iter().any(near)
    };
    let is_corner = |p: &Point| at(p.x, [low.x, high.x]) && at(p.y, [low.y, high.y]);
    let is_upright = ring.len() == 4 && ring.iter().all(is_corner);
    is_upright.then_some([high.x - low.x, high.y - low.y])
}

/// What a panel without a frame keeps beyond its region: half a strip where strips lie along the edge,
/// nothing where they only end there. A region whose edges do not lie level or upright keeps half a
/// strip where every edge has one along it.
fn flush_margins(lattice: &Lattice) -> Margins {
    let half = lattice.section.thickness / 2.0;
    let mut all = true;
    let mut level = false;
    let mut upright = false;
    let mut other = false;
    for (from, to) in edges(&lattice.region) {
        let way = from.to(to);
        let has_strip = lattice
            .strips
            .iter()
            .any(|strip| strip.lies_along(from, to));
        all &= has_strip;
        if way.y.abs() < SAME_POSITION_MM {
            level |= has_strip;
        } else if way.x.abs() < SAME_POSITION_MM {
            upright |= has_strip;
        } else {
            other = true;
        }
    }
    let kept = |has_strips: bool| if has_strips { half } else { 0.0 };
    if other {
        Margins::even(kept(all))
    } else {
        Margins {
            x: kept(upright),
            y: kept(level),
        }
    }
}

impl SizedPanel<'_> {
    fn margins(&self) -> Margins {
        match (self.fitted, self.frame) {
            (Some(fitted), _) => fitted.margins,
            (None, Some(frame)) => frame.margins,
            (None, None) => flush_margins(self.panel.lattice()),
        }
    }

    fn finished(&self, inside: Option<[f64; 2]>) -> Option<[f64; 2]> {
        let [width, height] = inside?;
        let Some(frame) = self.frame else {
            return Some([width, height]);
        };
        match frame.widths.as_ref()? {
            MemberWidths::Same(member) => Some([width + 2.0 * member, height + 2.0 * member]),
            MemberWidths::Each(widths) => match widths.as_slice() {
                [bottom, right, top, left] => Some([width + left + right, height + bottom + top]),
                _ => None,
            },
        }
    }

    fn trims(&self, margins: Margins) -> Vec<EndTrim> {
        let lattice = self.panel.lattice();
        let kept = match self.frame {
            Some(frame) => frame.rails(lattice).map_or_else(
                |_| Vec::new(),
                |rails| {
                    rails
                        .trimmed
                        .into_iter()
                        .map(|trimmed| trimmed.at)
                        .collect()
                },
            ),
            None => self.flush(margins),
        };
        let ends = match self.frame {
            Some(_) => TrimmedEnd::LetIn,
            None => TrimmedEnd::Flush,
        };
        let families = lattice.families.iter().enumerate();
        let of = |(at, family): (usize, &Family)| {
            let own = lattice.strips.iter().zip(&kept);
            let own: Vec<(&Strip, [f64; 2])> = own
                .filter(|(strip, _)| strip.id.family == at)
                .map(|(strip, kept)| (strip, *kept))
                .collect();
            let off = own
                .iter()
                .flat_map(|(strip, [from, to])| [*from, strip.length - to]);
            let beyond = own.iter().flat_map(|(strip, [from, to])| {
                let first = strip.notches.first().map(|notch| notch.centre - from);
                let last = strip.notches.last().map(|notch| to - notch.centre);
                [first, last].into_iter().flatten()
            });
            EndTrim {
                family: format!("{}s", family.name),
                ends,
                from_end_mm: all_alike(off),
                from_last_notch_mm: all_alike(beyond),
            }
        };
        families.map(of).collect()
    }

    /// What is kept of every strip that is cut off flush, from its datum end.
    fn flush(&self, margins: Margins) -> Vec<[f64; 2]> {
        let lattice = self.panel.lattice();
        let ring = margins.around(&lattice.region).unwrap_or_default();
        let kept = lattice.strips.iter();
        kept.map(|strip| within(strip, &ring).unwrap_or([0.0, strip.length]))
            .collect()
    }
}

/// The figure that all of them are; nothing where they differ.
fn all_alike(mut figures: impl Iterator<Item = f64>) -> Option<f64> {
    let first = figures.next()?;
    let same = |figure: f64| (figure - first).abs() < SAME_POSITION_MM;
    figures.all(same).then_some(first)
}

fn opening(fitted: &Fitted) -> OpeningFigures {
    let rectangle = &fitted.sizes.rectangle;
    OpeningFigures {
        measured: match fitted.opening.at {
            MeasuredAt::Hole => MeasuredPlace::Hole,
            MeasuredAt::Inside => MeasuredPlace::Inside,
            MeasuredAt::Panel => MeasuredPlace::Panel,
        },
        opening_mm: [rectangle.size.width, rectangle.size.height],
        play_mm: fitted.opening.play,
        scribe: scribe(&rectangle.scribe),
    }
}

/// Nothing where there is nothing to scribe.
fn scribe(scribe: &Scribe) -> Option<ScribeFigures> {
    (scribe.most() > SAME_POSITION_MM).then_some(ScribeFigures {
        left_mm: scribe.left,
        right_mm: scribe.right,
        bottom_mm: scribe.bottom,
        top_mm: scribe.top,
        sides_bow_in_mm: scribe.walls_bow_in,
        sill_and_head_bow_in_mm: scribe.sill_and_head_bow_in,
    })
}

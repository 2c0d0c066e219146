//! How large a panel comes out.

use crate::geometry::convex::chord;
use crate::geometry::{Point, SAME_POSITION_MM, bounds};
use crate::instructions::panel_size::{
    EndTrim, MeasuredPlace, OpeningFigures, PanelSize, ScribeFigures, TrimmedEnd,
};
use crate::lattice::{Frame, Grid, Margins, MemberWidths, Panel, Strip};
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

/// The panel's sizes. Without frame or opening the ends are cut flush with the region; on upright grids
/// with the outer faces of the outermost strips, half a strip beyond their centre lines.
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
    (ring.len() == 4 && ring.iter().all(is_corner)).then(|| [high.x - low.x, high.y - low.y])
}

impl SizedPanel<'_> {
    fn margins(&self) -> Margins {
        let half = self.panel.lattice().section.thickness / 2.0;
        let flush = match &self.panel.design().grid {
            Grid::Square(_) => half,
            Grid::Diamond(_) | Grid::Triangular(_) => 0.0,
        };
        match (self.fitted, self.frame) {
            (Some(fitted), _) => fitted.margins,
            (None, Some(frame)) => frame.margins,
            (None, None) => Margins::even(flush),
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
        let let_in = self
            .frame
            .map_or(0.0, |frame| frame.mortise_depth - frame.end_gap);
        let ends = match self.frame {
            Some(_) => TrimmedEnd::LetIn,
            None => TrimmedEnd::Flush,
        };
        let is_upright = matches!(self.panel.design().grid, Grid::Square(_));
        let families = lattice.families.iter().enumerate();
        families
            .map(|(at, family)| {
                // Uprights end above and below, cross strips at the left and right.
                let margin = if at == 0 { margins.y } else { margins.x };
                let beyond = is_upright.then_some(margin + let_in);
                EndTrim {
                    family: format!("{}s", family.name),
                    ends,
                    from_end_mm: match beyond {
                        Some(beyond) => Some(lattice.overhang - beyond),
                        None => self.off_each_end(at),
                    },
                    from_last_notch_mm: beyond,
                }
            })
            .collect()
    }
}

impl SizedPanel<'_> {
    /// What lies beyond the region at every end of a family's strips; nothing where it differs, since
    /// strips that lap beyond the edge are longer, or where a frame takes more of them.
    fn off_each_end(&self, family: usize) -> Option<f64> {
        let lattice = self.panel.lattice();
        let own = lattice.strips.iter();
        let own = own.filter(|strip| strip.id.family == family);
        let ends: Option<Vec<[f64; 2]>> = own
            .map(|strip| {
                let [from, to] = within(strip, &lattice.region)?;
                Some([from, strip.length - to])
            })
            .collect();
        let ends = ends.filter(|_| self.frame.is_none())?;
        let first = ends.first().map(|[near, _]| *near)?;
        let same = |end: &f64| (end - first).abs() < SAME_POSITION_MM;
        ends.iter().flatten().all(same).then_some(first)
    }
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

//! A candidate of rhombs or triangles as the `[grid]` of a job.

use super::draft::{Draft, DraftFigures, nearest_slot, wrapped};
use super::slanted_reason::slanted_reason;
use crate::geometry::SAME_POSITION_MM;
use crate::geometry::convex::chord;
use crate::instructions::choice::{RackChoice, SlantedFigures};
use crate::lattice::{DiamondStance, Grid, Region, TriangularStance};
use crate::machines::Rack;
use crate::making::size_of;
use crate::opening::{
    Filled, NodePlace, Slanted, SlantedBayWish, SlantedCandidate, SlantedRest, SlantedRuling,
};
use crate::phrase::Phrase;
use crate::reading::Job;
use crate::units::exact_mm;
use std::fmt::Write;

impl Draft for SlantedCandidate {
    type Wish = SlantedBayWish;

    fn grid_table(&self, wish: &SlantedBayWish, why: &str) -> String {
        let mut text = format!("# {}\n[grid]\n", wrapped(why).join("\n# "));
        let kind = kind_of(self.grid);
        let _ = writeln!(
            text,
            "kind = \"{kind}\"\nstance = \"{}\"",
            stance(self.grid)
        );
        self.write_size(&mut text);
        let _ = match self.node {
            NodePlace::Middle => {
                writeln!(text, "centre = \"node\"     # in the middle lies a node")
            }
            NodePlace::Corner => writeln!(
                text,
                "centre = \"corner\"   # a node lies at the lower left corner, less the margins"
            ),
        };
        let _ = match self.rest {
            SlantedRest::CutCells => {
                writeln!(
                    text,
                    "rest = \"cut-cells\"  # strips run on to the edge, which cuts the cells there"
                )
            }
            SlantedRest::Margins => writeln!(
                text,
                "rest = \"margins\"    # left and right alike, below and above alike; only strips' ends lie there"
            ),
        };
        if let Some(least) = wish.least_margin {
            let _ = writeln!(
                text,
                "least_margin = \"{}\"   # frame's inner face, or flush end, to the edge of what the cells fill",
                exact_mm(least)
            );
        }
        text
    }

    fn reason(&self, wish: &SlantedBayWish, rack: Option<&Rack>) -> Phrase {
        slanted_reason(self, wish, rack)
    }

    fn is_drawn(&self, job: &Job) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() < 2.0 * SAME_POSITION_MM;
        let (pitch, angle, region) = match &job.panel.design().grid {
            Grid::Diamond(grid) => (grid.pitch, grid.angle, &grid.region),
            Grid::Triangular(grid) => (grid.pitch(), self.angle, &grid.region),
            Grid::Square(_) => return false,
        };
        let (Region::Polygon { corners, node }, Some(fitted)) = (region, &job.fitted) else {
            return false;
        };
        let [_, _, far, _] = corners.as_slice() else {
            return false;
        };
        let at = match self.node {
            NodePlace::Middle => 0.5,
            NodePlace::Corner => 0.0,
        };
        let [beside, above] = self.margin;
        near(pitch, self.pitch)
            && (angle - self.angle).abs() < 1e-9
            && near(node.x, at * far.x)
            && near(node.y, at * far.y)
            && near(fitted.margins.x, beside)
            && near(fitted.margins.y, above)
    }

    fn figures(&self, job: &Job, rack: Option<&Rack>) -> DraftFigures {
        let size = size_of(job);
        DraftFigures {
            pitch: [self.pitch; 2],
            border: None,
            columns: self.columns,
            rows: self.rows,
            margin: self.margin,
            square: false,
            frame_closes: false,
            rack: rack.and_then(|rack| self.rack_choice(rack)),
            slanted: Some(SlantedFigures {
                stance: stance(self.grid),
                angle: self.angle,
                side_mm: matches!(self.grid, Slanted::Triangular { .. }).then(|| self.side()),
                cell_mm: self.cell,
                centre: match self.node {
                    NodePlace::Middle => "node",
                    NodePlace::Corner => "corner",
                },
                rest: match self.rest {
                    SlantedRest::CutCells => "cut-cells",
                    SlantedRest::Margins => "margins",
                },
                left_over_mm: self.left_over,
                whole_cells: size.whole_cells,
                cut_cells: size.cut_cells,
                shortest_strip_mm: shortest(job),
            }),
        }
    }

    fn falls_with(&self, failed: &SlantedCandidate) -> bool {
        self == failed
    }
}

trait Written {
    fn write_size(&self, text: &mut String);
    fn rack_choice(&self, rack: &Rack) -> Option<RackChoice>;
}

impl Written for SlantedCandidate {
    /// What the cells' size follows from, in the fewest keys that leave nothing to choose.
    fn write_size(&self, text: &mut String) {
        let is_diamond = matches!(self.grid, Slanted::Diamond { .. });
        if is_diamond && self.ruling != SlantedRuling::FillsBoth {
            let degrees = self.angle.to_degrees();
            let _ = writeln!(
                text,
                "angle = \"{degrees} deg\"      # between the families"
            );
        }
        let (key, length) = match is_diamond {
            true => ("pitch", self.pitch),
            false => ("side", self.side()),
        };
        let (columns, rows) = (self.columns, self.rows);
        let _ = match self.ruling {
            SlantedRuling::Slot { .. } => writeln!(
                text,
                "{key} = \"{}\"      # so that centre lines lie as far apart as the rack's slot gives, as measured",
                exact_mm(length)
            ),
            SlantedRuling::Pitch => writeln!(text, "{key} = \"{}\"", exact_mm(length)),
            SlantedRuling::Fills(Filled::Width) => writeln!(
                text,
                "columns = {columns}      # they fill the width: the {key}, {length:.4} mm, follows"
            ),
            SlantedRuling::Fills(Filled::Height) => writeln!(
                text,
                "rows = {rows}      # they fill the height: the {key}, {length:.4} mm, follows"
            ),
            SlantedRuling::FillsBoth => writeln!(
                text,
                "columns = {columns}      # with the rows they fill the inside: the pitch, {length:.4} mm, and\nrows = {rows}         # the angle, {:.4} deg, follow",
                self.angle.to_degrees()
            ),
        };
    }

    fn rack_choice(&self, rack: &Rack) -> Option<RackChoice> {
        let SlantedRuling::Slot { slot, .. } = self.ruling else {
            return nearest_slot(rack, self.pitch);
        };
        let slot = rack.slots.get(slot)?;
        Some(RackChoice {
            slot_mm: slot.nominal,
            bay_mm: slot.measured,
            reached: true,
            border_slot_mm: None,
        })
    }
}

/// Of the strips of a job, between the frame's inner faces or the flush ends, the shortest, mm.
fn shortest(job: &Job) -> f64 {
    let lattice = job.panel.lattice();
    let fitted = job.fitted.as_ref();
    let ring = fitted.and_then(|fitted| fitted.margins.around(&lattice.region));
    let ring = ring.unwrap_or_else(|| lattice.region.clone());
    let lengths = lattice.strips.iter().filter_map(|strip| {
        let along = strip.start.to(strip.end).unit()?;
        let [from, to] = chord(&ring, strip.start, along, SAME_POSITION_MM)?;
        Some(to - from)
    });
    lengths.fold(f64::INFINITY, f64::min)
}

/// As jobs call it.
pub(super) fn kind_of(grid: Slanted) -> &'static str {
    match grid {
        Slanted::Diamond { .. } => "diamond",
        Slanted::Triangular { .. } => "triangular",
    }
}

fn stance(grid: Slanted) -> &'static str {
    match grid {
        Slanted::Diamond { stance, .. } => match stance {
            DiamondStance::OnPoint => "on-point",
            DiamondStance::Upright => "upright",
        },
        Slanted::Triangular { stance } => match stance {
            TriangularStance::Lying => "lying",
            TriangularStance::Upright => "upright",
        },
    }
}

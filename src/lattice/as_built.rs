//! A square panel whose strips are cut: its lines lie where the bays that were measured put them.

use super::bays::{AsBuilt, BuiltBay, MeasuredBays};
use super::design::Design;
use super::grid_types::{Grid, SquareGrid};
use super::layout::Lattice;
use super::panel::Panel;
use crate::finding::Finding;
use crate::phrase;
use crate::phrase::counted;
use crate::units::Mm;

/// The openings of one direction.
struct Direction<'a> {
    field: &'static str,
    /// One of its bays.
    bay: &'static str,
    pitches: &'a [f64],
    openings: Option<&'a [f64]>,
    /// Of the strips that these bays follow each other on.
    overhang: f64,
}

impl Direction<'_> {
    /// Pitches as built: an opening and half a strip at either side of it, so opening and thickness.
    fn pitches(&self, thickness: f64) -> Vec<f64> {
        match self.openings {
            Some(openings) => openings.iter().map(|open| open + thickness).collect(),
            None => self.pitches.to_vec(),
        }
    }

    fn faults(&self, thickness: f64) -> Vec<Finding> {
        let Some(openings) = self.openings else {
            return Vec::new();
        };
        if openings.len() != self.pitches.len() {
            let text = phrase!(
                "{} here; the panel has {}",
                counted(openings.len(), "opening"),
                counted(self.pitches.len(), self.bay)
            );
            let hint = "one opening for each, from strip to strip: columns from the left, rows from the bottom";
            return vec![Finding::error("lists-differ", self.field, text).hint(hint)];
        }
        let bays = self.pitches.iter().zip(openings).enumerate();
        let fault = |(at, (pitch, open)): (usize, (&f64, &f64))| {
            let drawn = pitch - thickness;
            let plausible = *open > 0.0 && (open - drawn).abs() < thickness;
            (!plausible).then(|| self.implausible(at, drawn, *open))
        };
        let faults: Vec<Finding> = bays.filter_map(fault).collect();
        match faults.is_empty() {
            true => self.beyond_the_ends(thickness).into_iter().collect(),
            false => faults,
        }
    }

    /// Strips are as long as they were cut: their last notch must lie in them.
    fn beyond_the_ends(&self, thickness: f64) -> Option<Finding> {
        let built: f64 = self.pitches(thickness).iter().sum();
        let over = built - self.pitches.iter().sum::<f64>();
        let text = phrase!(
            "together these are {} more than drawn: the strips, with an overhang of {}, are not so long",
            Mm(over),
            Mm(self.overhang)
        );
        let hint = "measure again, or draw the panel as it was cut";
        (over > self.overhang - thickness)
            .then(|| Finding::error("opening-not-plausible", self.field, text).hint(hint))
    }

    fn implausible(&self, at: usize, drawn: f64, open: f64) -> Finding {
        let text = phrase!(
            "{} {} is drawn {} clear and written as {}: a strip's thickness off or more",
            self.bay,
            at + 1,
            Mm(drawn),
            Mm(open)
        );
        let hint = "measure the clear opening from strip to strip, not from centre to centre; a bay that is off by so much is another panel: draw it so";
        let field = format!("{}[{at}]", self.field);
        Finding::error("opening-not-plausible", field, text).hint(hint)
    }
}

impl Panel {
    /// The same with its strips cut, its lines where the measured bays put them.
    ///
    /// The strips are as long as they were cut, and their datum ends are as far from the first notch
    /// as drawn: what all bays together are off is found at the other ends.
    ///
    /// # Errors
    /// A grid without columns and rows, lists that do not match it, and openings that are none of its own
    /// (fields of `as_built`).
    pub fn as_built(&self, bays: &MeasuredBays) -> Result<Panel, Vec<Finding>> {
        let Grid::Square(drawn) = &self.design().grid else {
            return Err(vec![slanted()]);
        };
        if bays.openings_x.is_none() && bays.openings_y.is_none() {
            let text = "no opening is given";
            let hint = "add `openings_x`, the clear openings of the columns from the left, or `openings_y`, of the rows from the bottom; or leave [as_built] out";
            return Err(vec![
                Finding::error("missing", "as_built.openings_x", text).hint(hint),
            ]);
        }
        let directions = [
            Direction {
                field: "as_built.openings_x",
                bay: "column",
                pitches: &drawn.pitches_x,
                openings: bays.openings_x.as_deref(),
                overhang: drawn.overhang,
            },
            Direction {
                field: "as_built.openings_y",
                bay: "row",
                pitches: &drawn.pitches_y,
                openings: bays.openings_y.as_deref(),
                overhang: drawn.overhang,
            },
        ];
        let thickness = self.design().strip.thickness;
        let faults = directions.iter().flat_map(|way| way.faults(thickness));
        let faults: Vec<Finding> = faults.collect();
        if !faults.is_empty() {
            return Err(faults);
        }
        let [pitches_x, pitches_y] = directions.map(|way| way.pitches(thickness));
        let design = Design {
            grid: Grid::Square(SquareGrid {
                pitches_x,
                pitches_y,
                overhang: drawn.overhang,
            }),
            ..self.design().clone()
        };
        let as_built = AsBuilt {
            drawn: drawn.clone(),
            measured: [bays.openings_x.is_some(), bays.openings_y.is_some()],
            same_within: bays.same_within,
        };
        let lattice = Lattice::of(&design).with_strips_cut([drawn.height(), drawn.width()]);
        let panel = self.built(design, lattice, as_built);
        let told = told(&panel);
        Ok(panel.warned(told))
    }
}

fn slanted() -> Finding {
    let text = "bays as built are known by columns and rows, and slanted grids have none";
    let hint = "leave [as_built] out and measure cell by cell: `lapwright pare JOB --cell-opening LENGTHS` has the pieces of one";
    Finding::error("as-built-not-square", "as_built", text).hint(hint)
}

impl Panel {
    /// Clear openings of the columns and of the rows, as drawn and as built; none of a direction that was
    /// not measured.
    pub fn built_bays(&self) -> [Vec<BuiltBay>; 2] {
        let (Some(as_built), Grid::Square(grid)) = (self.known_as_built(), &self.design().grid)
        else {
            return [Vec::new(), Vec::new()];
        };
        let thickness = self.design().strip.thickness;
        let bays = |drawn: &[f64], built: &[f64], measured: bool| {
            let pairs = drawn.iter().zip(built).enumerate();
            let bays = pairs
                .filter(|_| measured)
                .map(|(at, (drawn, built))| BuiltBay {
                    number: at + 1,
                    drawn: drawn - thickness,
                    built: built - thickness,
                });
            bays.collect()
        };
        let AsBuilt {
            drawn, measured, ..
        } = as_built;
        [
            bays(&drawn.pitches_x, &grid.pitches_x, measured[0]),
            bays(&drawn.pitches_y, &grid.pitches_y, measured[1]),
        ]
    }
}

/// That all figures are those of the panel as built, and what is not made any more.
fn told(panel: &Panel) -> Option<Finding> {
    let [columns, rows] = panel.built_bays();
    let which = match (columns.is_empty(), rows.is_empty()) {
        (false, true) => "columns as measured, rows as drawn",
        (true, false) => "rows as measured, columns as drawn",
        _ => "columns and rows as measured",
    };
    let columns = columns.into_iter().map(|bay| ("column", bay));
    let all = columns.chain(rows.into_iter().map(|bay| ("row", bay)));
    let off = |bay: &BuiltBay| (bay.built - bay.drawn).abs();
    let (name, worst) = all.max_by(|(_, a), (_, b)| off(a).total_cmp(&off(b)))?;
    let text = phrase!(
        "the strips are cut, so all figures are of the panel as built, {}; farthest from the drawing is {} {}, drawn {} clear and measured {}",
        which,
        name,
        worst.number,
        Mm(worst.drawn),
        Mm(worst.built)
    );
    let hint =
        "no settings, programs or outlines are made for the strips; leave [as_built] out for these";
    Some(Finding::warning("as-built", "as_built", text).hint(hint))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::{Joinery, StripSection};

    fn drawn() -> Panel {
        let strip = StripSection {
            thickness: 3.0,
            depth: 12.0,
            clearance: 0.05,
            drawn: None,
            least_web: 2.0,
            wood: None,
            density: None,
            joinery: Joinery::default(),
        };
        let grid = SquareGrid {
            pitches_x: vec![40.0, 40.0],
            pitches_y: vec![50.0],
            overhang: 20.0,
        };
        let design = Design {
            title: String::new(),
            grid: Grid::Square(grid),
            strip,
            infill: None,
        };
        Panel::new(design).unwrap()
    }

    fn bays(x: &[f64]) -> MeasuredBays {
        MeasuredBays {
            openings_x: Some(x.to_vec()),
            openings_y: None,
            same_within: 0.1,
        }
    }

    #[test]
    fn lines_lie_by_the_openings_and_strips_stay_as_long() {
        // By hand: first notch at the overhang, then 37.2 + 3 and 36.9 + 3 farther.
        let panel = drawn().as_built(&bays(&[37.2, 36.9])).unwrap();
        let cross = |panel: &Panel| {
            let strips = panel.lattice().strips.iter();
            let mut strips = strips.filter(|strip| strip.id.family == 1);
            strips.next().unwrap().clone()
        };
        let strip = cross(&panel);
        for (notch, wanted) in strip.notches.iter().zip([20.0, 60.2, 100.1]) {
            assert!((notch.centre - wanted).abs() < 1e-9, "{}", notch.centre);
        }
        assert!((strip.length - cross(&drawn()).length).abs() < 1e-9);
        assert!((strip.start.to(strip.end).length() - 120.0).abs() < 1e-9);
        let [columns, rows] = panel.built_bays();
        assert!(rows.is_empty());
        assert!((columns[1].built - 36.9).abs() < 1e-9 && (columns[1].drawn - 37.0).abs() < 1e-9);
        assert_eq!(panel.warnings().last().unwrap().code, "as-built");
    }

    #[test]
    fn openings_of_another_panel_are_refused() {
        let codes = |x: &[f64]| -> Vec<&str> {
            let refused = drawn().as_built(&bays(x)).unwrap_err();
            refused.iter().map(|fault| fault.code).collect()
        };
        assert_eq!(codes(&[37.0]), ["lists-differ"]);
        // From centre to centre.
        assert_eq!(codes(&[40.0, 40.0]), ["opening-not-plausible"; 2]);
    }
}

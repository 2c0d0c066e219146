//! Drawings of horns and of pieces that run over strips: the proof finds a horn that is too long or too short,
//! and a lap over a strip that is missing, in the piece, in the strip and in the panel's drawing.

use super::{machines, proves};
use lapwright::geometry::{Point, Vector};
use lapwright::infill::{Contact, Infilling, Pattern, PieceKind, PieceLap};
use lapwright::instructions::laser::LaserPlan;
use lapwright::lattice::{Lattice, NotchMate, Strip};
use lapwright::making::{filled, with_crossing_pieces};
use lapwright::planning::{WareBatch, plan_pieces, plan_sheets};
use lapwright::reading::{Job, read_job, read_pattern, shipped_pattern};
use lapwright::verification::outline::{
    Labels, LappedOrder, check_panel, pieces_wanted, strips_wanted,
};
use lapwright::writing::dxf::{DxfVersion, dxf};

fn panel(name: &str) -> (Job, Infilling) {
    let text = shipped_pattern(name).unwrap().text;
    let pattern: Pattern = read_pattern(name, text).unwrap().pattern;
    let text = format!(
        "title = \"Made up\"\n[grid]\nkind = \"square\"\npitch = \"50 mm\"\ncolumns = 3\nrows = 2\n\
         overhang = \"20 mm\"\n[strip]\nthickness = \"2.8 mm\"\ndepth = \"9 mm\"\nleast_web = \"0.5 mm\"\n\
         [infill]\npattern = \"{name}\"\n"
    );
    let patterns = [pattern];
    let job = with_crossing_pieces(read_job("job.toml", &text).unwrap(), &patterns).unwrap();
    let filled = filled(&job, &patterns).unwrap();
    (job, filled)
}

fn sheets(batch: WareBatch) -> LaserPlan {
    let (laser, _) = machines();
    let name = |at: usize, _| format!("{at}.dxf");
    let planned = plan_sheets("", "laser", vec![batch], &laser, &name);
    planned.unwrap().0
}

/// Codes of what is wrong with a panel's drawing.
fn faults(lattice: &Lattice, drawn: &Infilling, meant: &Infilling) -> Vec<&'static str> {
    let (laser, _) = machines();
    let drawing = lapwright::sheets::panel_outlines(lattice, Some(drawn), None);
    let bytes = dxf(&drawing, DxfVersion::R2000, laser.colours).unwrap();
    let found = check_panel(&bytes, lattice, Some(meant), None);
    found.iter().map(|fault| fault.code).collect()
}

#[test]
fn another_horn_is_found() {
    let (laser, _) = machines();
    for name in ["horned-well-curb", "horned-crossings"] {
        let (job, filled) = panel(name);
        let horned = |kind: &PieceKind| kind.figures.to.facets[0].touches == Contact::Free;
        let horned = filled.kinds.iter().position(horned).unwrap();
        let wanted = pieces_wanted(&filled, false);
        for (by, right) in [(0.0, true), (0.01, false), (-0.01, false), (2.8, false)] {
            let mut other = filled.clone();
            let kind = &mut other.kinds[horned];
            let end = kind.figures.length;
            for p in kind.outline.iter_mut().filter(|p| (p.x - end).abs() < 1e-9) {
                p.x += by;
            }
            let plan = sheets(WareBatch::pieces(&job.panel, &other, &laser));
            let proved = proves(&plan, &wanted, &laser, DxfVersion::R2000);
            assert_eq!(proved, right, "{name} {by}");
        }
        // The same in the panel's drawing, of one post.
        let lattice = job.panel.lattice();
        assert!(faults(lattice, &filled, &filled).is_empty(), "{name}");
        for by in [0.05, 2.0] {
            let mut other = filled.clone();
            let pieces = &mut other.cells[0].pieces;
            let piece = pieces
                .iter_mut()
                .find(|piece| piece.name == "post")
                .unwrap();
            lengthen(&mut piece.outline, piece.axis, by);
            let found = faults(lattice, &other, &filled);
            assert!(found.contains(&"surplus"), "{name} {by}: {found:?}");
        }
    }
}

/// A piece's end moved out along its axis.
fn lengthen(outline: &mut [Point], (from, to): (Point, Point), by: f64) {
    let along: Vector = from.to(to).unit().unwrap();
    let place = |p: &Point| from.to(*p).dot(along);
    let farthest = outline.iter().map(place).fold(f64::NEG_INFINITY, f64::max);
    for p in outline.iter_mut().filter(|p| place(p) > farthest - 1e-9) {
        *p = *p + along * by;
    }
}

#[test]
fn a_missing_lap_over_a_strip_is_found() {
    let (laser, _) = machines();
    let (job, filled) = panel("horned-crossings");
    let lattice = job.panel.lattice();
    // In the strips.
    let wanted = strips_wanted(lattice, None);
    let drawn = |lattice: &Lattice| {
        let plan = sheets(WareBatch::strips(lattice, &laser).unwrap());
        proves(&plan, &wanted, &laser, DxfVersion::R2000)
    };
    assert!(drawn(lattice));
    let mut other = lattice.clone();
    let crossed = |strip: &&mut Strip| {
        let mut mates = strip.notches.iter().map(|notch| notch.mate);
        mates.any(|mate| mate == NotchMate::Piece)
    };
    let strip = other.strips.iter_mut().find(crossed).unwrap();
    let at = strip
        .notches
        .iter()
        .position(|notch| notch.mate == NotchMate::Piece);
    strip.notches.remove(at.unwrap());
    assert!(!drawn(&other));
    // In the pieces' blanks.
    let order = LappedOrder {
        filled: &filled,
        allowance: 4.0,
        fit: None,
    };
    let wanted = order.blanks(Labels::of(&laser));
    let drawn = |filled: &Infilling| {
        let (pare, _) = plan_pieces(&job.panel, filled, 4.0, None);
        let batch = WareBatch::lapped(&job.panel, filled, &pare, &laser);
        proves(&sheets(batch.unwrap()), &wanted, &laser, DxfVersion::R2000)
    };
    assert!(drawn(&filled));
    let over = |lap: &PieceLap| lap.mate == "strip below";
    let mut other = filled.clone();
    let kinds = other.kinds.iter_mut();
    let laps = kinds.map(|kind| &mut kind.figures.laps);
    let laps = laps.into_iter().find(|laps| laps.iter().any(over)).unwrap();
    laps.retain(|lap| !over(lap));
    assert!(!drawn(&other));
    // In the panel's drawing: the strip drawn over the piece.
    let mut other = filled.clone();
    for piece in other.cells.iter_mut().flat_map(|cell| &mut cell.pieces) {
        piece.run = None;
    }
    assert!(faults(lattice, &filled, &filled).is_empty());
    let found = faults(lattice, &other, &filled);
    assert!(!found.is_empty(), "{found:?}");
}

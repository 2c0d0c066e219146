//! Drawings of birds' mouths and of their blocks: the proof finds another angle and an apex that is off.

use super::{machines, proves};
use lapwright::geometry::{Point, convex};
use lapwright::infill::{EdgeCells, Infilling, fill};
use lapwright::instructions::laser::LaserPlan;
use lapwright::instructions::pare::ParePlan;
use lapwright::lattice::Panel;
use lapwright::planning::{WareBatch, plan_pieces, plan_sheets};
use lapwright::reading::{read_job, read_pattern, shipped_pattern};
use lapwright::verification::outline::{GuideOrder, Labels, check_panel, pieces_wanted};
use lapwright::writing::dxf::{DxfVersion, dxf};

fn held(grid: &str) -> (Panel, Infilling) {
    let text = format!(
        "title = \"Made up\"\n[grid]\nkind = \"square\"\n{grid}\noverhang = \"20 mm\"\n[strip]\n\
         thickness = \"2.8 mm\"\ndepth = \"8 mm\"\n[infill]\npattern = \"held-square\"\n"
    );
    let panel = read_job("job.toml", &text).unwrap().panel;
    let text = shipped_pattern("held-square").unwrap().text;
    let pattern = read_pattern("held-square", text).unwrap().pattern;
    let filled = fill(&panel, &pattern, EdgeCells::Leave).unwrap();
    (panel, filled)
}

const OBLONG: &str = "pitches_x = [\"60 mm\", \"60 mm\"]\npitches_y = [\"45 mm\", \"45 mm\"]";
const SQUARE: &str = "pitch = \"50 mm\"\ncolumns = 2\nrows = 2";

fn sheets(batch: WareBatch) -> LaserPlan {
    let (laser, _) = machines();
    let name = |at: usize, _| format!("{at}.dxf");
    plan_sheets("", "laser", vec![batch], &laser, &name)
        .unwrap()
        .0
}

/// Where a lock's outline is hollow.
fn apex(outline: &[Point]) -> usize {
    let count = outline.len();
    let hollow = |at: &usize| {
        let before = outline[(at + count - 1) % count].to(outline[*at]);
        before.cross(outline[*at].to(outline[(at + 1) % count])) < 0.0
    };
    (0..count).find(hollow).unwrap()
}

#[test]
fn another_angle_and_a_shifted_apex_are_found() {
    let (laser, _) = machines();
    for grid in [SQUARE, OBLONG] {
        let (panel, filled) = held(grid);
        let wanted = pieces_wanted(&filled, false);
        let lock = filled
            .kinds
            .iter()
            .position(|kind| convex::parts(&kind.outline).len() > 1);
        let lock = lock.unwrap();
        let drawn = |change: &dyn Fn(&mut Vec<Point>, usize)| {
            let mut other = filled.clone();
            let outline = &mut other.kinds[lock].outline;
            let at = apex(outline);
            change(outline, at);
            let plan = sheets(WareBatch::pieces(&panel, &other, &laser));
            proves(&plan, &wanted, &laser, DxfVersion::R2000)
        };
        assert!(drawn(&|_, _| ()));
        // A hundredth deeper, and a hundredth aside.
        assert!(!drawn(&|outline, at| outline[at].x -= 0.01));
        assert!(!drawn(&|outline, at| outline[at].y += 0.01));
        // Half a degree more open: the points stand back.
        assert!(!drawn(&|outline, at| {
            for side in [at + outline.len() - 1, at + 1] {
                let side = side % outline.len();
                let half = outline[side].y.abs();
                let open =
                    (half.atan2(outline[side].x - outline[at].x) + 0.5_f64.to_radians()).tan();
                outline[side].x = outline[at].x + half / open;
            }
        }));
        // An ordinary end in its place.
        assert!(!drawn(&|outline, at| {
            outline.remove(at);
        }));
    }
}

fn blocks(pare: &ParePlan) -> LaserPlan {
    let (laser, _) = machines();
    sheets(WareBatch::blocks(pare, &laser, 3.0))
}

#[test]
fn a_block_for_mouths_has_a_blunt_corner() {
    let (laser, guides) = machines();
    let (panel, filled) = held(OBLONG);
    let (mut pare, _) = plan_pieces(&panel, &filled, 4.0, None);
    let order = GuideOrder {
        filled: &filled,
        allowance: 4.0,
        depth: 8.0,
        sheet: 3.0,
        guides: &guides,
    };
    let wanted = order.blocks(Labels::of(&laser));
    assert!(proves(&blocks(&pare), &wanted, &laser, DxfVersion::R2000));
    let blunt = pare.blocks.iter_mut().rev();
    let blunt: Vec<_> = blunt.filter(|block| block.jig_angle > 1.6).collect();
    // 180 deg less the angles of both facets to the axis, which add up to a right one.
    assert_eq!(blunt.len(), 2);
    let sum: f64 = blunt.iter().map(|block| block.jig_angle.to_degrees()).sum();
    assert!((sum - 270.0).abs() < 1e-9, "{sum}");
    if let Some(block) = blunt.into_iter().next() {
        block.jig_angle -= 0.5_f64.to_radians();
    }
    assert!(!proves(&blocks(&pare), &wanted, &laser, DxfVersion::R2000));
}

#[test]
fn a_panel_drawn_with_another_mouth_is_found() {
    let (laser, _) = machines();
    let (panel, filled) = held(SQUARE);
    let drawing = |filled: &Infilling| {
        let drawing = lapwright::sheets::panel_outlines(panel.lattice(), Some(filled), None);
        dxf(&drawing, DxfVersion::R2000, laser.colours).unwrap()
    };
    let lattice = panel.lattice();
    let faults = |bytes: &[u8]| check_panel(bytes, lattice, Some(&filled), None);
    let found = faults(&drawing(&filled));
    assert!(found.is_empty(), "{found:?}");
    let mut other = filled.clone();
    let lock = other.cells[0]
        .pieces
        .iter_mut()
        .find(|piece| piece.name == "lock")
        .unwrap();
    let at = apex(&lock.outline);
    lock.outline[at].x += 0.05;
    let found = faults(&drawing(&other));
    let codes: Vec<&str> = found.iter().map(|fault| fault.code).collect();
    // What lacks lies along the bars, whose lines are there.
    assert_eq!(codes, ["surplus"]);
}

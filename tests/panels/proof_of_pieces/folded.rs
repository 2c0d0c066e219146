//! Drawings of folded pieces as they are laid straight: the proof lays them straight by itself, and finds a V
//! of another angle, at another place, a skin that is too thin or cut through, and a V that is missing.

use super::{machines, proves};
use lapwright::geometry::{Point, Vector};
use lapwright::infill::{EdgeCells, Infilling, fill};
use lapwright::instructions::laser::LaserPlan;
use lapwright::instructions::pare::ParePlan;
use lapwright::lattice::Panel;
use lapwright::planning::{WareBatch, plan_pieces, plan_sheets};
use lapwright::reading::{read_job, read_pattern, shipped_pattern};
use lapwright::verification::outline::{GuideOrder, Labels, pieces_wanted};
use lapwright::writing::dxf::DxfVersion;

/// Strips that are bent three times, to both sides, ends against walls.
const ZIGZAG: &str = "about = \"x\"\ncell = \"square\"\nneighbours = \"mirror\"\n[points]\na = [0, 0.2]\nb = [0.3, 0.7]\n\
    c = [0.6, 0.25]\nd = [0.8, 0.8]\ne = [1, 0.6]\n\
    [[piece]]\nname = \"one\"\nfrom = \"a\"\nto = \"b\"\n[[piece]]\nname = \"two\"\nfrom = \"c\"\nto = \"b\"\n\
    [[piece]]\nname = \"three\"\nfrom = \"c\"\nto = \"d\"\n[[piece]]\nname = \"four\"\nfrom = \"e\"\nto = \"d\"\n\
    [[fold]]\npieces = [\"one\", \"two\", \"three\", \"four\"]\n";

fn folded(name: &str, text: &str) -> (Panel, Infilling) {
    let job = "title = \"Made up\"\n[grid]\nkind = \"square\"\npitch = \"50 mm\"\ncolumns = 3\nrows = 2\n\
               overhang = \"20 mm\"\n[strip]\nthickness = \"2.8 mm\"\ndepth = \"8 mm\"\n[infill]\n\
               pattern = \"folded-hemp-leaf\"\nfold_skin = \"0.6 mm\"\n";
    let panel = read_job("job.toml", job).unwrap().panel;
    let pattern = read_pattern(name, text).unwrap().pattern;
    let filled = fill(&panel, &pattern, EdgeCells::Leave).unwrap();
    (panel, filled)
}

fn both() -> [(Panel, Infilling); 2] {
    let shipped = shipped_pattern("folded-hemp-leaf").unwrap().text;
    [
        folded("folded-hemp-leaf", shipped),
        folded("zigzag", ZIGZAG),
    ]
}

fn sheets(batch: WareBatch) -> LaserPlan {
    let (laser, _) = machines();
    let name = |at: usize, _| format!("{at}.dxf");
    let planned = plan_sheets("", "laser", vec![batch], &laser, &name);
    planned.unwrap().0
}

/// The first V's point, between its two corners.
fn point(outline: &[Point]) -> usize {
    let off_sides = |p: &Point| (p.y.abs() - 1.4).abs() > 1e-6;
    let count = outline.len();
    let hollow = |at: &usize| {
        let before = outline[(at + count - 1) % count].to(outline[*at]);
        before.cross(outline[*at].to(outline[(at + 1) % count])) < 0.0
    };
    let mut points = (0..count).filter(|at| off_sides(&outline[*at]));
    points.find(hollow).unwrap()
}

#[test]
fn another_v_is_found() {
    let (laser, _) = machines();
    for (panel, filled) in both() {
        let wanted = pieces_wanted(&filled, false);
        let strip = filled
            .kinds
            .iter()
            .position(|kind| !kind.figures.folds.is_empty());
        let strip = strip.unwrap();
        let proved = |other: &Infilling| {
            let plan = sheets(WareBatch::pieces(&panel, other, &laser));
            proves(&plan, &wanted, &laser, DxfVersion::R2000)
        };
        let drawn = |change: &dyn Fn(&mut Vec<Point>, usize)| {
            let mut other = filled.clone();
            let outline = &mut other.kinds[strip].outline;
            let at = point(outline);
            change(outline, at);
            proved(&other)
        };
        assert!(drawn(&|_, _| ()));
        // All of it a hundredth along.
        assert!(!drawn(&|outline, at| {
            for corner in &mut outline[at - 1..=at + 1] {
                corner.x += 0.01;
            }
        }));
        // Half a degree more open, then more closed.
        for open in [0.5_f64, -0.5] {
            assert!(!drawn(&|outline, at| {
                for side in [at - 1, at + 1] {
                    let way = outline[at].to(outline[side]);
                    let half = way.x.abs().atan2(way.y.abs()) + open.to_radians() / 2.0;
                    let wide = way.y.abs() * half.tan();
                    outline[side] = outline[at] + Vector::new(way.x.signum() * wide, way.y);
                }
            }));
        }
        // Skin a hundredth thinner, and nearly none; a hundredth thicker.
        for deeper in [0.01, 0.59, -0.01] {
            assert!(!drawn(
                &|outline, at| outline[at].y += deeper * outline[at].y.signum()
            ));
        }
        // No V at all.
        assert!(!drawn(&|outline, at| drop(outline.drain(at - 1..=at + 1))));
        // Cut through: two pieces for one.
        let mut other = filled.clone();
        let kind = &other.kinds[strip];
        let fold = kind.figures.folds[0];
        let half = |keep: &dyn Fn(&Point) -> bool| {
            let mut kind = kind.clone();
            kind.figures.folds.clear();
            let mut ring: Vec<Point> = kind.outline.iter().filter(|p| keep(p)).copied().collect();
            let at = ring
                .iter()
                .position(|p| (p.x - fold.at).abs() < 1e-9)
                .unwrap();
            let through = Point::new(fold.at, 1.4 * ring[at].y.signum());
            ring[at] = through;
            kind.outline = ring;
            kind
        };
        let second = half(&|p| p.x > fold.at - 1e-9);
        other.kinds[strip] = half(&|p| p.x < fold.at + 1e-9);
        other.kinds.push(second);
        assert!(!proved(&other));
        // Another skin than the one that is meant.
        let mut other = filled.clone();
        other.kinds[strip].stock.skin = 0.5;
        let otherwise = pieces_wanted(&other, false);
        let plan = sheets(WareBatch::pieces(&panel, &filled, &laser));
        assert!(!proves(&plan, &otherwise, &laser, DxfVersion::R2000));
    }
}

/// The block along which a V's walls are pared is half the angle between the legs.
#[test]
fn a_block_for_the_walls_is_wanted() {
    let (laser, guides) = machines();
    let (panel, filled) = folded("zigzag", ZIGZAG);
    let (mut pare, _) = plan_pieces(&panel, &filled, 4.0, None);
    let order = GuideOrder {
        filled: &filled,
        allowance: 4.0,
        depth: 8.0,
        sheet: 3.0,
        guides: &guides,
    };
    let wanted = order.blocks(Labels::of(&laser));
    let drawn = |pare: &ParePlan| sheets(WareBatch::blocks(pare, &laser, 3.0));
    assert!(proves(&drawn(&pare), &wanted, &laser, DxfVersion::R2000));
    let wall = pare.pieces[0].folds[1].block_angle;
    // The axes by hand: from (0.3, 0.7) down to (0.6, 0.25), from there up to (0.8, 0.8).
    let legs = std::f64::consts::PI - 0.45_f64.atan2(0.3) - 0.55_f64.atan2(0.2);
    assert!((2.0 * wall - legs).abs() < 1e-9, "{wall} {legs}");
    pare.blocks
        .retain(|block| (block.jig_angle - wall).abs() > 1e-6);
    assert!(!proves(&drawn(&pare), &wanted, &laser, DxfVersion::R2000));
}

/// A cutter is round: no folded piece is looked for in what it cuts.
#[test]
fn cutters_get_no_folded_piece() {
    let [(_, filled), (_, zigzag)] = both();
    assert!(pieces_wanted(&zigzag, true).is_empty());
    let routed = pieces_wanted(&filled, true);
    // A diagonal and two locks in each of six cells.
    assert_eq!(routed.iter().map(|part| part.count).sum::<usize>(), 18);
}

//! Folded pieces: strips as they are laid straight are bent by shapely (`tests/reference/check_folds.py`) and
//! become the mitred legs of their cell.

use super::*;
use crate::support::check_folds;
use lapwright::geometry::Vector;
use lapwright::infill::{PieceSide, SolvedPiece};

const HEAD: &str = "about = \"x\"\ncell = \"square\"\nneighbours = \"same\"\n";

fn cell(text: &str, (side, thickness, skin): (f64, f64, f64)) -> Option<SolvedCell> {
    let pattern = read_pattern("trial", text).unwrap().pattern;
    let stock = PieceStock {
        depth: 9.0,
        thickness,
        clearance: 0.0,
        skin,
    };
    solve(&pattern, &Cell::rectangle(side, side).unwrap(), stock).ok()
}

/// The legs of a strip, each with its axis in the strip's direction.
fn legs<'c>(cell: &'c SolvedCell, arms: &[usize]) -> Vec<(&'c SolvedPiece, [Point; 2])> {
    let pieces: Vec<&SolvedPiece> = arms.iter().map(|arm| &cell.pieces[*arm]).collect();
    let near = |p: Point, q: Point| p.to(q).length() < 1e-9;
    let ends = |piece: &SolvedPiece| [piece.axis.0, piece.axis.1];
    let leg = |at: usize| {
        let [from, to] = ends(pieces[at]);
        let forward = match pieces.get(at + 1) {
            Some(next) => ends(next).iter().any(|p| near(*p, to)),
            None => ends(pieces[at - 1]).iter().any(|p| near(*p, from)),
        };
        (pieces[at], if forward { [from, to] } else { [to, from] })
    };
    (0..pieces.len()).map(leg).collect()
}

fn described(name: &str, cell: &SolvedCell) -> Vec<Value> {
    let strips = cell.folded.iter();
    let strip = |strip: &lapwright::infill::FoldedPiece| {
        let folds = strip.whole.figures.folds.iter().map(|fold| {
            let inner = match fold.inner {
                PieceSide::Left => "left",
                PieceSide::Right => "right",
            };
            json!({ "at": fold.at, "inner": inner, "outer": fold.outer })
        });
        let legs = legs(cell, &strip.arms);
        let leg = |(piece, axis): &(&SolvedPiece, [Point; 2])| json!({ "outline": ring(&piece.polygon()), "axis": ring(axis) });
        json!({
            "name": format!("{name}, {}", strip.whole.name),
            "thickness": strip.whole.stock.thickness,
            "skin": strip.whole.stock.skin,
            "outline": ring(&strip.whole.outline),
            "folds": folds.collect::<Value>(),
            "legs": legs.iter().map(leg).collect::<Value>(),
        })
    };
    strips.map(strip).collect()
}

/// Strips from wall to wall through points, each a bend.
fn through(points: &[(f64, f64)]) -> String {
    let mut text = format!("{HEAD}[points]\n");
    for (at, (x, y)) in points.iter().enumerate() {
        text += &format!("p{at} = [{x}, {y}]\n");
    }
    let legs = points.len() - 1;
    for at in 0..legs {
        // Every other one is described against the strip's direction.
        let (from, to) = if at % 2 == 0 {
            (at, at + 1)
        } else {
            (at + 1, at)
        };
        text += &format!("[[piece]]\nname = \"l{at}\"\nfrom = \"p{from}\"\nto = \"p{to}\"\n");
    }
    let names: Vec<String> = (0..legs).map(|at| format!("\"l{at}\"")).collect();
    text + &format!("[[fold]]\npieces = [{}]\n", names.join(", "))
}

fn checked(strips: &[Value]) -> (u64, u64) {
    let found = check_folds(&json!({ "strips": strips }));
    let found = found.unwrap_or_else(|reason| panic!("{reason}"));
    (
        found["strips"].as_u64().unwrap(),
        found["bends"].as_u64().unwrap(),
    )
}

#[test]
fn strips_bend_into_their_legs() {
    let mut strips = Vec::new();
    for thickness in [1.0, 2.6, 4.0] {
        for skin in [0.2, 0.5, 0.9] {
            let sizes = (80.0, thickness, skin);
            // To the left and to the right, from hardly bent to sharply bent; ends on walls at every slant.
            for high in [0.05, 0.2, 0.48, 0.52, 0.8, 0.95] {
                for beside in [0.3, 0.5, 0.62] {
                    let text = through(&[(0.0, 0.5), (beside, high), (1.0, 0.5)]);
                    let solved = cell(&text, sizes);
                    strips.extend(solved.iter().flat_map(|cell| described("one bend", cell)));
                }
            }
            // Both ways in turn; one way only, as a spiral.
            for text in [
                through(&[(0.0, 0.2), (0.3, 0.7), (0.6, 0.25), (0.8, 0.8), (1.0, 0.6)]),
                through(&[
                    (0.1, 0.0),
                    (0.12, 0.85),
                    (0.83, 0.9),
                    (0.85, 0.2),
                    (0.4, 0.0),
                ]),
            ] {
                let solved = cell(&text, sizes).unwrap();
                strips.extend(described("several bends", &solved));
            }
        }
    }
    let shipped = SHIPPED_PATTERNS.iter();
    let folded = shipped.filter(|shipped| shipped.text.contains("[[fold]]"));
    let mut figures = 0;
    for shipped in folded {
        figures += 1;
        for thickness in [1.0, 2.6, 4.0] {
            let solved = cell(shipped.text, (60.0, thickness, 0.4)).unwrap();
            strips.extend(described(shipped.name, &solved));
        }
    }
    assert!(figures > 0);
    let (checked, bends) = checked(&strips);
    assert!(checked > 150 && bends > 190, "{checked} {bends}");
}

/// The check itself: a V that is off, too wide, too deep or on the other side must be refused.
#[test]
fn changed_strips_are_refused() {
    let text = through(&[(0.0, 0.5), (0.5, 0.8), (1.0, 0.5)]);
    let cell = cell(&text, (80.0, 2.6, 0.5)).unwrap();
    let strip = described("trial", &cell).remove(0);
    checked(std::slice::from_ref(&strip));
    let outline = strip["outline"].as_array().unwrap();
    let corner = |at: usize| {
        let p = &outline[at];
        Point::new(p[0].as_f64().unwrap(), p[1].as_f64().unwrap())
    };
    let point = (0..outline.len())
        .find(|at| corner(*at).y.abs() < 1.29)
        .unwrap();
    let moved = |change: &[(usize, Vector)]| {
        let mut strip = strip.clone();
        for (at, by) in change {
            let p = corner(*at) + *by;
            strip["outline"][*at] = json!([p.x, p.y]);
        }
        check_folds(&json!({ "strips": [strip] })).unwrap_err()
    };
    let across = |x: f64| Vector::new(x, 0.0);
    let aside = [
        (point - 1, across(0.01)),
        (point, across(0.01)),
        (point + 1, across(0.01)),
    ];
    assert!(moved(&aside).contains("no point of a V"));
    let wide = [(point - 1, across(0.01)), (point + 1, across(-0.01))];
    let refusal = moved(&wide);
    assert!(
        refusal.contains("lack") || refusal.contains("stand out"),
        "{refusal}"
    );
    let deeper = Vector::new(0.0, 0.01 * corner(point).y.signum());
    assert!(moved(&[(point, deeper)]).contains("a skin of"));
}

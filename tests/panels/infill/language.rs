//! What the language of patterns says in short, against the same written out.

use super::*;
use lapwright::geometry::Point;

const SQUARE: &str = "about = \"x\"\ncell = \"square\"\nneighbours = \"same\"\n";
const TRIANGLE: &str = "about = \"x\"\ncell = \"triangle\"\nneighbours = \"same\"\n";

fn solved_text(text: &str, t: f64) -> SolvedCell {
    let pattern = read("trial", text);
    let cell = cell(pattern.cell, 46.0, t);
    match solve(&pattern, &cell, stock(t)) {
        Ok(cell) => cell,
        Err(found) => panic!("{text}: {found:#?}"),
    }
}

/// The same polygons under the same names.
fn same_pieces(one: &SolvedCell, other: &SolvedCell) {
    assert_eq!(one.pieces.len(), other.pieces.len());
    for piece in &one.pieces {
        let polygon = piece.polygon();
        let named = other.pieces.iter().find(|other| other.name == piece.name);
        let mate = named.unwrap().polygon();
        assert_eq!(polygon.len(), mate.len(), "{}", piece.name);
        for p in &polygon {
            let near = mate.iter().any(|q| p.to(*q).length() < 1e-9);
            assert!(near, "{}: {polygon:?} {mate:?}", piece.name);
        }
    }
}

const MIDDLES: &str = "[points]\nsouth = [0.5, 0]\neast = [1, 0.5]\ncentre = [0.5, 0.5]\nthird = [\"1/3\", 0]\n\
     inner = [\"1/3\", \"2/3\"]\n";

#[test]
fn a_ring_turned_is_the_ring_written_out() {
    let turned = format!(
        "{SQUARE}{MIDDLES}[[piece]]\nname = \"bar\"\nfrom = \"south\"\nto = \"east\"\n\
         [[junction]]\nat = \"south\"\n\
         [[turn]]\nround = \"centre\"\nsteps = 4\ncopies = {{ bar = [\"bar-2\", \"bar-3\", \"bar-4\"] }}\n"
    );
    for t in [0.5, 2.7, 8.0] {
        let written = pattern("nested-square");
        let written = solve(&written, &cell(CellShape::Square, 46.0, t), stock(t)).unwrap();
        same_pieces(&solved_text(&turned, t), &written);
    }
}

/// A copy ends against the copy that lies where the original's mate lay, all the way round.
#[test]
fn what_ends_against_the_last_copy_turns_with_it() {
    let whirl = format!(
        "{SQUARE}{MIDDLES}[[piece]]\nname = \"bar\"\nfrom = \"third\"\nto = \"inner\"\n\
         against = \"bar-4\"\n\
         [[turn]]\nround = \"centre\"\nsteps = 4\ncopies = {{ bar = [\"bar-2\", \"bar-3\", \"bar-4\"] }}\n"
    );
    let cell = solved_text(&whirl, 2.6);
    // From the south wall up to the next bar's near side, a third of the opening from the north one.
    let side = 43.4;
    for piece in &cell.pieces {
        near(piece.figures.length, side * 2.0 / 3.0 - 1.3);
    }
}

#[test]
fn a_mirror_swaps_a_piece_and_its_copy_also_as_mates() {
    let text = format!(
        "{SQUARE}[points]\nlow = [0.3, 0]\nmeet = [0.5, 0.5]\nup = [0.5, 0]\nhigh = [0.5, 1]\n\
         [[piece]]\nname = \"long\"\nfrom = \"south-west\"\nto = \"north-east\"\nagainst = []\n\
         [[piece]]\nname = \"short\"\nfrom = \"low\"\nto = \"meet\"\nagainst = \"long\"\n\
         [[mirror]]\nacross = [\"south-west\", \"north-east\"]\ncopies = {{ short = \"short-2\" }}\n"
    );
    let cell = solved_text(&text, 2.6);
    near(
        piece(&cell, "short").figures.length,
        piece(&cell, "short-2").figures.length,
    );
}

/// Turned by half a turn, a junction's jig angles stay on their sides.
#[test]
fn a_turned_junction_keeps_its_jig_angles() {
    let text = format!(
        "{SQUARE}[points]\nleft = [0, 0.25]\nright = [1, 0.25]\nmiddle = [0.5, 0.25]\n\
         centre = [0.5, 0.5]\n\
         [[piece]]\nname = \"a\"\nfrom = \"left\"\nto = \"middle\"\n\
         [[piece]]\nname = \"b\"\nfrom = \"middle\"\nto = \"right\"\n\
         [[junction]]\nat = \"middle\"\njig = {{ a = [\"30 deg\", \"150 deg\"] }}\n\
         [[turn]]\nround = \"centre\"\nsteps = 2\ncopies = {{ a = \"c\", b = \"d\" }}\n"
    );
    let cell = solved_text(&text, 2.7);
    for name in ["a", "c"] {
        let facet = &piece(&cell, name).figures.to.facets[0];
        assert_eq!(facet.side, FacetSide::Left);
        near(facet.jig_angle.to_degrees(), 30.0);
    }
    let (one, other) = (piece(&cell, "b").polygon(), piece(&cell, "d").polygon());
    let half_turn = |p: &Point| Point::new(43.3 - p.x, 43.3 - p.y);
    assert!(one.iter().all(|p| {
        let image = half_turn(p);
        other.iter().any(|q| image.to(*q).length() < 1e-9)
    }));
}

#[test]
fn a_point_reached_at_an_angle() {
    let text = format!(
        "{SQUARE}[lines]\nrise = {{ from = \"south-west\", angle = \"22.5 deg\" }}\n\
         steep = {{ from = \"south-east\", angle = \"67.5 deg\", off = \"east\" }}\n\
         [points]\nhit = {{ meet = [\"rise\", \"east\"] }}\ntip = {{ meet = [\"rise\", \"steep\"] }}\n\
         up = [0.5, 1]\n\
         [[piece]]\nname = \"bar\"\nfrom = \"south-west\"\nto = \"hit\"\n\
         [[piece]]\nname = \"post\"\nfrom = \"tip\"\nto = \"up\"\nagainst = \"bar\"\n"
    );
    let cell = solved_text(&text, 2.0);
    let (side, tan) = (44.0, 22.5_f64.to_radians().tan());
    near(piece(&cell, "bar").axis.1.y, side * tan);
    // From the other corner as steep, 67.5 from the wall that rises there: they meet in the middle.
    let tip = piece(&cell, "post").axis.0;
    near(tip.x, side / 2.0);
    near(tip.y, side / 2.0 * tan);
}

#[test]
fn lines_through_points_and_axes_of_pieces() {
    let text = format!(
        "{TRIANGLE}[lines]\nupright = {{ through = [\"top\", \"foot\"] }}\n\
         [points]\nfoot = [0.5, 0]\nwall = [0.25, 0.5]\nfar = [0.75, 0.5]\n\
         cross = {{ meet = [\"upright\", \"level.axis\"] }}\n\
         [[piece]]\nname = \"level\"\nfrom = \"wall\"\nto = \"far\"\n\
         [[piece]]\nname = \"post\"\nfrom = \"foot\"\nto = \"cross\"\nagainst = \"level\"\n"
    );
    let cell = solved_text(&text, 2.0);
    let (side, height) = cell.cell.size();
    let cross = piece(&cell, "post").axis.1;
    near(cross.x, side / 2.0);
    near(cross.y, height / 2.0);
    near(piece(&cell, "post").figures.length, height / 2.0 - 1.0);
}

/// What lies below goes in first, what locks last; else as written.
#[test]
fn the_order_of_making() {
    let cross = |more: &str| {
        format!(
            "{SQUARE}{more}[points]\nsouth = [0.5, 0]\nnorth = [0.5, 1]\neast = [1, 0.5]\nwest = [0, 0.5]\n\
             quarter = [0.25, 0]\nhigh = [0.25, 0.5]\n\
             [[piece]]\nname = \"post\"\nfrom = \"south\"\nto = \"north\"\n\
             [[piece]]\nname = \"rail\"\nfrom = \"west\"\nto = \"east\"\nlap = \"post\"\n\
             [[piece]]\nname = \"stub\"\nfrom = \"quarter\"\nto = \"high\"\nagainst = \"rail\"\n"
        )
    };
    let names = |text: &str| -> Vec<String> {
        let pieces = solved_text(text, 2.0).pieces;
        pieces.into_iter().map(|piece| piece.name).collect()
    };
    // The rail is notched from the front: the post goes over it.
    assert_eq!(names(&cross("")), ["rail", "post", "stub"]);
    // The post waits for the rail, whatever locks.
    assert_eq!(
        names(&cross("locks = [\"rail\"]\n")),
        ["stub", "rail", "post"]
    );
    assert_eq!(
        names(&cross("locks = \"post\"\n")),
        ["rail", "stub", "post"]
    );
    let pattern = read("trial", &cross("locks = \"stub\"\n"));
    assert!(pattern.locks("stub") && !pattern.locks("post"));
}

#[test]
fn thickness_is_held_against_the_pitch() {
    let text = |greatest: &str| {
        format!(
            "{SQUARE}greatest = {greatest}\n[[piece]]\nname = \"bar\"\nfrom = \"south-west\"\nto = \"north-east\"\n"
        )
    };
    let code = |greatest: &str, shape_cell: Cell, t: f64| {
        let pattern = read("trial", &text(greatest));
        solve(&pattern, &shape_cell, stock(t)).map_err(|found| found[0].code)
    };
    // A tenth of 46 mm, and an opening that strips of 2 mm leave.
    let (just, above) = (4.6, 4.6 + 1e-4);
    assert!(code("0.1", cell(CellShape::Square, 46.0, just), just).is_ok());
    assert_eq!(
        code("0.1", cell(CellShape::Square, 46.0, above), above),
        Err("too-thick")
    );
    // Thinner than the strips: as thick strips would leave this opening at a pitch of 45 mm.
    let opening = Cell::rectangle(40.5, 50.0).unwrap();
    assert!(code("\"1/10\"", opening.clone(), 4.5).is_ok());
    assert_eq!(code("\"1/10\"", opening, 4.51), Err("too-thick"));
    for (shape, pitch) in [
        (CellShape::Triangle, 46.0 * 0.75_f64.sqrt()),
        (CellShape::Rhomb, 46.0),
    ] {
        let t = 0.13 * pitch;
        near(Pattern::thickness_at(&cell(shape, 46.0, t), 0.13), t);
    }
}

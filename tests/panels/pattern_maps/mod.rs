//! Panels whose cells take different patterns: what lies where, against a map and geometry of the test's
//! own.

mod made_up;
mod turned;

use lapwright::geometry::Point;
use lapwright::infill::{FilledCell, Infilling, Pattern};
use lapwright::lattice::GridCell;
use lapwright::making::filled;
use lapwright::reading::{Job, read_job, read_pattern, shipped_pattern};
use lapwright::sheets::pattern_map;
use lapwright::units::UnitSystem;
use made_up::{MadeUp, panels};

fn read(text: &str) -> Job {
    read_job("job.toml", text).unwrap_or_else(|bad| {
        let report = bad.source.report(&bad.findings, UnitSystem::Millimetres);
        panic!("{report}\n{text}")
    })
}

fn patterns(job: &Job) -> Vec<Pattern> {
    job.pattern_names()
        .map(|name| {
            let text = match name.strip_suffix("-bar.toml") {
                Some(cell) => bar(cell),
                None => shipped_pattern(name).unwrap().text.to_owned(),
            };
            read_pattern(name, &text).unwrap().pattern
        })
        .collect()
}

/// A pattern that no turn and no mirror brings onto itself: one bar across a cell, out of its middle.
fn bar(cell: &str) -> String {
    // A bar that neighbours mirror, or one that lies alike in all cells.
    let (cell, rule) = match cell.strip_prefix("mirrored-") {
        Some(cell) => (cell, "mirror"),
        None => (cell, "same"),
    };
    let to = if cell == "triangle" {
        "[0.75, 0.5]"
    } else {
        "[0.4, 1]"
    };
    format!(
        "about = \"a bar\"\ncell = \"{cell}\"\nneighbours = \"{rule}\"\n[points]\nlow = [0.3, 0]\nhigh = {to}\n[[piece]]\nname = \"bar\"\nfrom = \"low\"\nto = \"high\"\n"
    )
}

fn filling(job: &Job, text: &str) -> Infilling {
    filled(job, &patterns(job)).unwrap_or_else(|bad| panic!("{bad:?}\n{text}"))
}

/// Twice the area of a convex ring, counter-clockwise above zero.
fn doubled(ring: &[(f64, f64)]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    let pairs = ring.iter().zip(next);
    pairs.map(|(p, q)| p.0 * q.1 - q.0 * p.1).sum()
}

/// What two convex rings have in common: one cut by the lines through the sides of the other.
fn common(one: &[(f64, f64)], other: &[(f64, f64)]) -> f64 {
    let mut left = one.to_vec();
    for at in 0..other.len() {
        let (p, q) = (other[at], other[(at + 1) % other.len()]);
        let side = |r: (f64, f64)| (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0);
        let mut kept = Vec::new();
        for at in 0..left.len() {
            let (a, b) = (left[at], left[(at + 1) % left.len()]);
            let (da, db) = (side(a), side(b));
            if da >= 0.0 {
                kept.push(a);
            }
            if da * db < 0.0 {
                let share = da / (da - db);
                kept.push((a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1)));
            }
        }
        left = kept;
    }
    doubled(&left) / 2.0
}

fn ring(points: &[Point]) -> Vec<(f64, f64)> {
    points.iter().map(|p| (p.x, p.y)).collect()
}

/// Greatest distance of a ring's points beyond the walls of a cell, whose strips are so thick, mm.
fn beyond_walls(piece: &[(f64, f64)], cell: &GridCell, thickness: f64) -> f64 {
    let walls = ring(&cell.corners);
    let mut worst = f64::NEG_INFINITY;
    for at in 0..walls.len() {
        let (p, q) = (walls[at], walls[(at + 1) % walls.len()]);
        let length = (q.0 - p.0).hypot(q.1 - p.1);
        for r in piece {
            let inside = ((q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0)) / length;
            worst = worst.max(thickness / 2.0 - inside);
        }
    }
    worst
}

fn apart(a: &FilledCell, b: &FilledCell) -> bool {
    let middle = |cell: &FilledCell| {
        let count = cell.outline.len() as f64;
        let x = cell.outline.iter().map(|p| p.x).sum::<f64>() / count;
        let y = cell.outline.iter().map(|p| p.y).sum::<f64>() / count;
        (x, y)
    };
    let ((x, y), (u, v)) = (middle(a), middle(b));
    (x - u).hypot(y - v) > 150.0
}

/// Pieces lie in their cells and in no other piece's place; each cell took what its letter says; every
/// piece is counted once.
fn check_panel(made: &MadeUp, job: &Job, filled: &Infilling) -> usize {
    let text = &made.toml;
    let grid = job.panel.design().grid.cells();
    let strip = job.panel.design().strip.thickness;
    let mut placed = vec![0; filled.kinds.len()];
    for (at, cell) in filled.cells.iter().enumerate() {
        let letter = cell
            .entry
            .map_or('.', |entry| filled.map.entries[entry].letter);
        let row = &made.rows[made.rows.len() - cell.row];
        assert_eq!(row.chars().nth(cell.column - 1), Some(letter), "{text}");
        if letter == '.' {
            assert!(cell.pieces.is_empty(), "{text}");
        }
        for piece in &cell.pieces {
            placed[piece.kind] += 1;
            let outline = ring(&piece.outline);
            assert!(doubled(&outline) > 0.0, "{text}");
            let out = beyond_walls(&outline, &grid[at], strip);
            assert!(out < 1e-6, "{out} mm beyond a wall: {text}");
        }
    }
    let counts: Vec<usize> = filled.kinds.iter().map(|kind| kind.count).collect();
    assert_eq!(placed, counts, "{text}");
    for (at, one) in filled.cells.iter().enumerate() {
        for other in filled.cells[at + 1..]
            .iter()
            .filter(|other| !apart(one, other))
        {
            for (a, b) in one
                .pieces
                .iter()
                .flat_map(|a| other.pieces.iter().map(move |b| (a, b)))
            {
                let shared = common(&ring(&a.outline), &ring(&b.outline));
                assert!(
                    shared < 1e-6,
                    "{shared}: {} over {}\n{text}",
                    a.name,
                    b.name
                );
            }
        }
    }
    placed.iter().sum()
}

#[test]
fn what_lies_in_the_cells_of_50_panels_is_what_the_map_says() {
    let mut pieces = 0;
    let mut several = 0;
    for made in panels(50) {
        let job = read(&made.toml);
        let filled = filling(&job, &made.toml);
        pieces += check_panel(&made, &job, &filled);
        several += usize::from(filled.patterns.len() > 1);
    }
    assert!(pieces > 1_500 && several > 25, "{pieces} {several}");
}

#[test]
fn the_map_that_is_printed_is_the_map_that_was_read() {
    for made in panels(50) {
        let job = read(&made.toml);
        let map = job.map.clone().unwrap();
        let printed = pattern_map(&map, &job.panel.design().grid.cells());
        let again = made.with_map(&printed);
        let read = read(&again).map.unwrap();
        assert_eq!(read.cells, map.cells, "{printed}");
        assert_eq!(read.patterns.len(), map.patterns.len(), "{printed}");
        for (one, other) in read.entries.iter().zip(&map.entries) {
            assert_eq!((one.letter, one.pattern), (other.letter, other.pattern));
            assert_eq!(one.pose, other.pose, "{printed}");
        }
        // And the rows stand there from the top as they were written.
        let rows: Vec<&str> = printed
            .lines()
            .filter_map(|line| line.trim().strip_prefix('"')?.split('"').next())
            .map(str::trim)
            .collect();
        assert_eq!(rows, made.rows, "{printed}");
    }
}

#[test]
fn a_rule_says_what_a_map_would() {
    let job = |choice: &str| {
        let text = format!(
            "title = \"rules\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 5\nrows = 5\noverhang = \"12 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n[infill]\n{choice}\n"
        );
        let read = read(&text);
        let filled = filling(&read, &text);
        pattern_map(&filled.map, &read.panel.design().grid.cells())
    };
    let rows = |printed: &str| -> Vec<String> {
        let lines = printed.lines();
        lines
            .filter_map(|line| line.trim().strip_prefix('"')?.split('"').next())
            .map(str::to_owned)
            .collect()
    };
    let patterns = "patterns = [\"nested-square\", \"corner-brace\"]";
    let of = |rule: &str, patterns: &str| rows(&job(&format!("rule = \"{rule}\"\n{patterns}")));
    assert_eq!(
        of("border", patterns),
        ["AAAAA", "ABBBA", "ABBBA", "ABBBA", "AAAAA"]
    );
    // The lower left one takes the first.
    assert_eq!(
        of("checker", patterns),
        ["ABABA", "BABAB", "ABABA", "BABAB", "ABABA"]
    );
    assert_eq!(
        of("rings", patterns),
        ["AAAAA", "ABBBA", "ABABA", "ABBBA", "AAAAA"]
    );
    let open = "patterns = [\".\", { pattern = \"corner-brace\", turn = \"90 deg\" }]";
    assert_eq!(
        of("border", open),
        [".....", ".BBB.", ".BBB.", ".BBB.", "....."]
    );
    assert!(job(&format!("rule = \"border\"\n{open}")).contains("turn = \"90 deg\""));
}

#[test]
fn equal_pieces_of_two_patterns_are_one_kind_and_names_that_clash_are_told_apart() {
    let text = "title = \"x\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 2\nrows = 1\noverhang = \"12 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n[infill]\nmap = [\"AB\"]\nlegend.A = \"square-hemp-leaf\"\nlegend.B = \"single-diagonal\"\n";
    let job = read(text);
    let filled = filling(&job, text);
    let names = |filled: &Infilling| -> Vec<(String, usize)> {
        let kinds = filled.kinds.iter();
        kinds.map(|kind| (kind.name.clone(), kind.count)).collect()
    };
    let told = [("diagonal", 2), ("hinge", 4), ("lock", 2)];
    assert_eq!(
        names(&filled),
        told.map(|(name, count)| (name.to_owned(), count))
    );
    assert_eq!(filled.kinds[0].patterns, [0, 1]);
    // A bar of another figure, shorter than those of the nested square.
    let bar = "about = \"a bar\"\ncell = \"square\"\nneighbours = \"same\"\n[points]\nlow = [0.5, 0]\nhigh = [0.5, 1]\n[[piece]]\nname = \"bar\"\nfrom = \"low\"\nto = \"high\"\n";
    let text = text
        .replace("square-hemp-leaf", "bar.toml")
        .replace("single-diagonal", "nested-square");
    let job = read(&text);
    let own = read_pattern("bar.toml", bar).unwrap().pattern;
    let nested = shipped_pattern("nested-square").unwrap().text;
    let nested = read_pattern("nested-square", nested).unwrap().pattern;
    let filled = lapwright::making::filled(&job, &[own, nested]).unwrap();
    let told = [("bar (bar.toml)", 1), ("bar (nested-square)", 4)];
    assert_eq!(
        names(&filled),
        told.map(|(name, count)| (name.to_owned(), count))
    );
}

#[test]
fn a_mirrored_figure_without_its_like_is_told_once_and_counted() {
    let text = |rows: &str| {
        format!(
            "title = \"x\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 3\nrows = 2\noverhang = \"12 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n[infill]\nmap = [{rows}]\nlegend.A = \"square-hemp-leaf\"\nlegend.B = \"nested-square\"\n"
        )
    };
    let told = |rows: &str| -> Vec<String> {
        let text = text(rows);
        let filled = filling(&read(&text), &text);
        let warnings = filled.warnings.iter();
        let likes = warnings.filter(|finding| finding.code == "figure-without-its-like");
        likes
            .map(|finding| finding.message.text(UnitSystem::Millimetres))
            .collect()
    };
    // By hand: the A at the upper right has B below and B to the left; of the lower left pair one has
    // the open cell above it, the other has B above and B beside.
    let found = told("\".BA\", \"AAB\"");
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(
        found[0].contains("3 cells of A have another beyond 4 walls and none beyond 1 wall"),
        "{found:?}"
    );
    assert_eq!(told("\"AAA\", \"AAA\""), Vec::<String>::new());
    assert_eq!(told("\"BBB\", \"BBB\""), Vec::<String>::new());
}

#[test]
fn pieces_with_a_fit_reach_half_of_it_into_every_wall() {
    for (fit, grid, pattern) in [
        (
            "0.1 mm",
            "kind = \"square\"\npitches_x = [\"40 mm\", \"50 mm\"]\npitches_y = [\"40 mm\"]\n",
            "crossed-diagonals",
        ),
        (
            "-0.1 mm",
            "kind = \"square\"\npitches_x = [\"40 mm\", \"40 mm\"]\npitches_y = [\"40 mm\"]\n",
            "square-hemp-leaf",
        ),
        (
            "0.1 mm",
            "kind = \"triangular\"\nside = \"60 mm\"\nregion = \"hexagon\"\nrings = 1\n",
            "triangular-hemp-leaf",
        ),
        (
            "0.1 mm",
            "kind = \"diamond\"\npitch = \"40 mm\"\nangle = \"66 deg\"\nregion = \"rectangle\"\nwidth = \"220 mm\"\nheight = \"200 mm\"\n",
            "diamond-hemp-leaf",
        ),
    ] {
        let text = format!(
            "title = \"x\"\n[grid]\n{grid}overhang = \"14 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n[infill]\npattern = \"{pattern}\"\nfit = \"{fit}\"\n"
        );
        let job = read(&text);
        let filled = filling(&job, &text);
        let grid = job.panel.design().grid.cells();
        let half = if fit.starts_with('-') { -0.05 } else { 0.05 };
        let mut walls = 0;
        for (cell, place) in filled.cells.iter().zip(&grid) {
            let outlines = cell.pieces.iter().flat_map(|piece| ring(&piece.outline));
            let outlines: Vec<(f64, f64)> = outlines.collect();
            if outlines.is_empty() {
                continue;
            }
            // Each wall by itself: a cell of which the others are far away.
            let corners = ring(&place.corners);
            for at in 0..corners.len() {
                let (p, q) = (corners[at], corners[(at + 1) % corners.len()]);
                let length = (q.0 - p.0).hypot(q.1 - p.1);
                let inside = |r: &(f64, f64)| {
                    ((q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0)) / length
                };
                let nearest = outlines.iter().map(inside).fold(f64::INFINITY, f64::min);
                let beyond = 1.5 - nearest;
                assert!((beyond - half).abs() < 1e-9, "{beyond} {text}");
                walls += 1;
            }
        }
        assert!(walls >= 8, "{text}");
    }
}

/// The corner that a pattern names lies at the middle of hexagons of any number of rings; a turn in the job
/// moves it away.
#[test]
fn flowers_lie_in_the_middle_of_hexagons() {
    for stance in ["lying", "upright"] {
        for rings in 1..=6 {
            let turned = |degrees: u32| {
                let entry = format!("{{ pattern = \"double-petals\", turn = \"{degrees} deg\" }}");
                let text = format!(
                    "title = \"x\"\n[grid]\nkind = \"triangular\"\nside = \"60 mm\"\nstance = \"{stance}\"\nregion = \"hexagon\"\nrings = {rings}\noverhang = \"12 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n[infill]\nrule = \"checker\"\npatterns = [{entry}, {entry}]\n"
                );
                let job = read(&text);
                let region = job.panel.design().grid.region();
                let (low, high) = lapwright::geometry::bounds(region.iter().copied()).unwrap();
                let middle = low + low.to(high) * 0.5;
                let filled = filling(&job, &text);
                let pieces = filled.cells.iter().flat_map(|cell| &cell.pieces);
                // Their tops lie a thickness from the node.
                let tops = pieces.filter(|piece| middle.to(piece.axis.1).length() < 3.5);
                tops.count()
            };
            let right = 0;
            for degrees in [0, 120, 240] {
                let wanted = if degrees == right { 12 } else { 0 };
                assert_eq!(turned(degrees), wanted, "{stance} {rings} {degrees}");
            }
        }
    }
}

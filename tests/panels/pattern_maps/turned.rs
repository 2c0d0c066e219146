//! Entries that turn or mirror their pattern, against polygons that the test turns by itself.

use super::{filling, read};
use lapwright::infill::FilledCell;

/// A grid whose first cell takes patterns as they are drawn.
struct Turned {
    grid: &'static str,
    patterns: &'static [&'static str],
    /// Degrees that bring the cell onto itself.
    turns: &'static [f64],
    /// Degrees that do not.
    not: &'static [f64],
    /// Whether a mirror lies across the middle of the cell's first wall, not in the diagonal through its
    /// first corner.
    upright: bool,
}

const CASES: &[Turned] = &[
    Turned {
        grid: "kind = \"square\"\npitch = \"44 mm\"\ncolumns = 2\nrows = 2\n",
        patterns: &[
            "square-hemp-leaf",
            "nested-square",
            "single-diagonal",
            "square-bar.toml",
        ],
        turns: &[0.0, 90.0, 180.0, 270.0],
        not: &[45.0, 120.0, 1.0],
        upright: true,
    },
    Turned {
        grid: "kind = \"square\"\npitches_x = [\"44 mm\", \"44 mm\"]\npitches_y = [\"60 mm\", \"60 mm\"]\n",
        patterns: &["single-diagonal", "crossed-diagonals"],
        turns: &[0.0, 180.0],
        not: &[90.0, 270.0],
        upright: true,
    },
    Turned {
        grid: "kind = \"diamond\"\npitch = \"40 mm\"\nangle = \"64 deg\"\nregion = \"rectangle\"\nwidth = \"240 mm\"\nheight = \"200 mm\"\n",
        patterns: &["diamond-hemp-leaf", "single-diagonal", "rhomb-bar.toml"],
        turns: &[0.0, 180.0],
        not: &[64.0, 90.0],
        upright: false,
    },
    Turned {
        grid: "kind = \"triangular\"\nside = \"60 mm\"\nstance = \"lying\"\nregion = \"hexagon\"\nrings = 1\n",
        patterns: &[
            "triangular-hemp-leaf",
            "central-triangle",
            "triangle-bar.toml",
        ],
        turns: &[0.0, 120.0, 240.0],
        not: &[60.0, 90.0, 180.0],
        upright: true,
    },
];

/// A panel whose cells all take the same.
fn panel(case: &Turned, entry: &str) -> String {
    let head = format!(
        "title = \"turned\"\n[grid]\n{}overhang = \"14 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n",
        case.grid
    );
    let plain = read(&head);
    let mut rows: Vec<String> = Vec::new();
    for cell in plain.panel.design().grid.cells() {
        if cell.column == 1 {
            rows.insert(0, String::new());
        }
        rows[0].push('A');
    }
    let rows: Vec<String> = rows.iter().map(|row| format!("\"{row}\"")).collect();
    format!(
        "{head}[infill]\nedge = \"fill\"\nmap = [{}]\nlegend.A = {entry}\n",
        rows.join(", ")
    )
}

/// The first cell that takes the pattern as it is drawn: its first corner at the cell's.
fn first(filled: &[FilledCell]) -> usize {
    let drawn = |cell: &FilledCell| cell.whole && cell.lie.first == 0 && !cell.lie.mirrored;
    filled.iter().position(drawn).unwrap()
}

/// Corners of all pieces, sorted, to a thousandth of a millimetre.
#[allow(clippy::cast_possible_truncation)] // a panel is small
fn corners(pieces: impl Iterator<Item = (f64, f64)>) -> Vec<(i64, i64)> {
    let mut all: Vec<(i64, i64)> = pieces
        .map(|(x, y)| ((x * 1e3).round() as i64, (y * 1e3).round() as i64))
        .collect();
    all.sort_unstable();
    all
}

/// Equal up to one step of rounding.
fn same(one: &[(i64, i64)], other: &[(i64, i64)]) -> bool {
    let has = |p: &(i64, i64)| {
        let near = |q: &(i64, i64)| (p.0 - q.0).abs() <= 1 && (p.1 - q.1).abs() <= 1;
        other.iter().any(near)
    };
    one.len() == other.len() && one.iter().all(has)
}

#[test]
fn turned_and_mirrored_entries_are_the_turned_and_mirrored_figure() {
    let mut changed = 0;
    for case in CASES {
        for pattern in case.patterns {
            let text = panel(case, &format!("\"{pattern}\""));
            let plain = filling(&read(&text), &text);
            let at = first(&plain.cells);
            for mirror in [false, true] {
                for turn in case.turns {
                    let entry = format!(
                        "{{ pattern = \"{pattern}\", mirror = {mirror}, turn = \"{turn} deg\" }}"
                    );
                    let text = panel(case, &entry);
                    let filled = filling(&read(&text), &text);
                    let found = points(&filled.cells[at]);
                    let wanted = moved(&plain.cells[at], mirror, *turn, case.upright);
                    assert!(same(&found, &wanted), "{text}\n{found:?}\n{wanted:?}");
                    changed += usize::from(!same(&found, &points(&plain.cells[at])));
                }
            }
        }
    }
    // Most figures are not alike when turned or mirrored.
    assert!(changed >= 10 + 7 + 3 + 5, "{changed}");
}

fn points(cell: &FilledCell) -> Vec<(i64, i64)> {
    let outlines = cell.pieces.iter().flat_map(|piece| &piece.outline);
    corners(outlines.map(|p| (p.x, p.y)))
}

/// A cell's pieces mirrored, then turned counter-clockwise, about the middle of its opening.
fn moved(cell: &FilledCell, mirror: bool, turn: f64, upright: bool) -> Vec<(i64, i64)> {
    let count = cell.outline.len() as f64;
    let middle_x = cell.outline.iter().map(|p| p.x).sum::<f64>() / count;
    let middle_y = cell.outline.iter().map(|p| p.y).sum::<f64>() / count;
    // Direction of the line that mirrors, through the middle.
    let (a, b) = (cell.outline[0], cell.outline[1]);
    let axis = if upright {
        (b.y - a.y).atan2(b.x - a.x) + std::f64::consts::FRAC_PI_2
    } else {
        (middle_y - a.y).atan2(middle_x - a.x)
    };
    let outlines = cell.pieces.iter().flat_map(|piece| &piece.outline);
    corners(outlines.map(|p| {
        let (mut x, mut y) = (p.x - middle_x, p.y - middle_y);
        if mirror {
            let (sine, cosine) = (2.0 * axis).sin_cos();
            (x, y) = (cosine * x + sine * y, sine * x - cosine * y);
        }
        let (sine, cosine) = turn.to_radians().sin_cos();
        (
            middle_x + cosine * x - sine * y,
            middle_y + sine * x + cosine * y,
        )
    }))
}

#[test]
fn turns_that_a_cell_does_not_allow_are_refused() {
    for case in CASES {
        for turn in case.not {
            let entry = format!(
                "{{ pattern = \"{}\", turn = \"{turn} deg\" }}",
                case.patterns[0]
            );
            let text = panel(case, &entry);
            let refused = lapwright::reading::read_job("job.toml", &text).unwrap_err();
            let codes: Vec<&str> = refused.findings.iter().map(|found| found.code).collect();
            assert_eq!(codes, ["turn-not-possible"], "{text}");
            assert_eq!(refused.findings[0].field, "infill.legend.A.turn");
        }
    }
}

#[test]
fn turned_figures_of_neighbours_that_mirror_are_still_mirrored_in_their_wall() {
    let case = &CASES[0];
    for turn in ["0 deg", "90 deg", "180 deg", "270 deg"] {
        for mirror in [false, true] {
            let entry = format!(
                "{{ pattern = \"mirrored-square-bar.toml\", mirror = {mirror}, turn = \"{turn}\" }}"
            );
            let text = panel(case, &entry);
            let filled = filling(&read(&text), &text);
            // Uprights stand 14, 58 and 102 mm from the ends of cross strips: the wall is at 58.
            let [left, right] = [0, 1].map(|at| &filled.cells[at]);
            let reflected = left.pieces.iter().flat_map(|piece| &piece.outline);
            let reflected = corners(reflected.map(|p| (2.0 * 58.0 - p.x, p.y)));
            assert!(same(&points(right), &reflected), "{text}");
        }
    }
}

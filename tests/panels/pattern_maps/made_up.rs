//! Made-up panels with maps.

use lapwright::reading::read_job;
use proptest::prelude::Rng;
use proptest::test_runner::{RngAlgorithm, TestRng};

/// A job with a map, and the map as the test drew it.
pub(super) struct MadeUp {
    pub(super) toml: String,
    /// From the top, one letter for each cell from the left.
    pub(super) rows: Vec<String>,
    /// The job as far as its table of pieces.
    head: String,
    /// What follows the map there.
    tail: String,
}

impl MadeUp {
    /// The same job with other lines for its map.
    pub(super) fn with_map(&self, lines: &str) -> String {
        format!("{}[infill]\n{lines}{}", self.head, self.tail)
    }
}

struct Dice(TestRng);

impl Dice {
    fn below(&mut self, sides: u32) -> usize {
        (self.0.next_u32() % sides) as usize
    }

    fn of<'a, T>(&mut self, choices: &'a [T]) -> &'a T {
        &choices[self.0.next_u32() as usize % choices.len()]
    }
}

/// A grid, the patterns that hold in some of its cells, and the turns that all of them allow.
struct MadeUpGrid {
    toml: String,
    patterns: &'static [&'static str],
    turns: &'static [&'static str],
}

const SQUARES: &[&str] = &[
    "square-hemp-leaf",
    "nested-square",
    "corner-brace",
    "single-diagonal",
    "crossed-diagonals",
];
const RHOMBS: &[&str] = &[
    "diamond-hemp-leaf",
    "single-diagonal",
    "crossed-diagonals",
    "nested-square",
];
const TRIANGLES: &[&str] = &["triangular-hemp-leaf", "wall-spokes", "central-triangle"];

fn grid(dice: &mut Dice) -> MadeUpGrid {
    let (columns, rows) = (2 + dice.below(5), 2 + dice.below(4));
    match dice.below(4) {
        0 => MadeUpGrid {
            toml: format!(
                "kind = \"square\"\npitch = \"{} mm\"\ncolumns = {columns}\nrows = {rows}\noverhang = \"12 mm\"\n",
                36 + dice.below(10)
            ),
            patterns: SQUARES,
            turns: &["0 deg", "90 deg", "180 deg", "270 deg"],
        },
        1 => {
            let bay = |dice: &mut Dice| format!("\"{} mm\"", dice.of(&[38, 44, 52]));
            let mut bays = |count| (0..count).map(|_| bay(dice)).collect::<Vec<_>>().join(", ");
            MadeUpGrid {
                toml: format!(
                    "kind = \"square\"\npitches_x = [{}]\npitches_y = [{}]\noverhang = \"12 mm\"\n",
                    bays(columns),
                    bays(rows)
                ),
                patterns: &["single-diagonal", "crossed-diagonals", "corner-brace"],
                turns: &["0 deg", "180 deg"],
            }
        }
        2 => MadeUpGrid {
            toml: format!(
                "kind = \"diamond\"\npitch = \"{} mm\"\nangle = \"{} deg\"\nstance = \"{}\"\nregion = \"rectangle\"\nwidth = \"{} mm\"\nheight = \"{} mm\"\noverhang = \"14 mm\"\n",
                36 + dice.below(8),
                dice.of(&[60, 66, 75]),
                dice.of(&["upright", "on-point"]),
                150 + dice.below(100),
                140 + dice.below(100)
            ),
            patterns: RHOMBS,
            turns: &["0 deg", "180 deg"],
        },
        _ => {
            let stance = dice.of(&["lying", "upright"]).to_owned();
            let region = if dice.below(2) == 0 {
                format!("region = \"hexagon\"\nrings = {}", 1 + dice.below(2))
            } else {
                format!(
                    "region = \"rectangle\"\nwidth = \"{} mm\"\nheight = \"{} mm\"",
                    180 + dice.below(60),
                    170 + dice.below(60)
                )
            };
            MadeUpGrid {
                toml: format!(
                    "kind = \"triangular\"\nside = \"{} mm\"\nstance = \"{stance}\"\n{region}\noverhang = \"14 mm\"\n",
                    52 + dice.below(12)
                ),
                patterns: TRIANGLES,
                turns: &["0 deg", "120 deg", "240 deg"],
            }
        }
    }
}

/// So many panels, always the same ones.
pub(super) fn panels(count: usize) -> Vec<MadeUp> {
    let mut dice = Dice(TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    (0..count).map(|_| panel(&mut dice)).collect()
}

fn panel(dice: &mut Dice) -> MadeUp {
    let grid = grid(dice);
    let head = format!(
        "title = \"made up\"\n[grid]\n{}[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\nclearance = \"0.05 mm\"\n",
        grid.toml
    );
    // The grid's rows, from the bottom, as a job without pieces has them.
    let plain = read_job("plain.toml", &head).unwrap();
    let cells = plain.panel.design().grid.cells();
    let mut rows: Vec<String> = Vec::new();
    let letters = ['A', 'B', 'C', 'D', '.'];
    for cell in &cells {
        if cell.column == 1 {
            rows.insert(0, String::new());
        }
        // The first cell takes something, so that no panel is empty.
        let letter = if cell.row == 1 {
            &'A'
        } else {
            dice.of(&letters)
        };
        rows[0].push(*letter);
    }
    let mut map = String::from("map = [\n");
    for row in &rows {
        map.push_str(&format!("  \"{row}\",\n"));
    }
    map.push_str("]\n");
    for letter in &letters[..4] {
        let pattern = dice.of(grid.patterns);
        let mirror = dice.below(2) == 0;
        let turn = dice.of(grid.turns);
        map.push_str(&format!(
            "legend.{letter} = {{ pattern = \"{pattern}\", mirror = {mirror}, turn = \"{turn}\" }}\n"
        ));
    }
    let edge = dice.of(&["leave", "fill"]);
    let thickness = dice.of(&["3 mm", "2.4 mm", "2 mm"]);
    let tail = format!("edge = \"{edge}\"\nthickness = \"{thickness}\"\n");
    MadeUp {
        toml: format!("{head}[infill]\n{map}{tail}"),
        rows,
        head,
        tail,
    }
}

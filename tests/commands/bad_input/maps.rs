//! Maps, legends and rules that say nothing, or what a cell cannot take; wood of pieces that cannot be.

use super::{Case, check};
use crate::support::cli::{Bench, JOB};

/// The good job, 4 columns and 5 rows, with a table of pieces.
fn job(infill: &str) -> String {
    JOB.replace("[machines]", &format!("[infill]\n{infill}\n\n[machines]"))
}

fn map(rows: &str, legend: &str) -> String {
    job(&format!("map = [{rows}]\n{legend}"))
}

const ROWS: &str = "\"AAAA\", \"A..A\", \"AAAA\", \"A..A\", \"AAAA\"";
const LEAF: &str = "legend.A = \"square-hemp-leaf\"";

fn case(text: String, says: &[&str]) -> Case {
    Case::args(&["pare", "job.toml"], says).file("job.toml", text)
}

#[test]
fn maps_and_legends() {
    let short = ROWS.replacen("A..A", "A..", 1);
    let unknown = ROWS.replacen("A..A", "A.xA", 1);
    let two = "\"ABAB\", \"ABAB\", \"ABAB\", \"ABAB\", \"ABAB\"";
    check(&[
        case(
            map("\"AAAA\"", LEAF),
            &["infill.map: the map has 1 row; the cells of this panel lie in 5"],
        ),
        case(
            map(&short, LEAF),
            &[
                "infill.map[1]",
                "row 4, line 2 of the map, has 3 letters; here are 4 cells",
            ],
        ),
        case(
            map(&ROWS.replacen("AAAA", "AAAAA", 1), LEAF),
            &["infill.map[0]", "row 5, line 1", "5 letters"],
        ),
        case(
            map(&unknown, LEAF),
            &[
                "infill.map[1]",
                "`x` in column 3 of row 4 is not in the legend",
                "use one of: A",
            ],
        ),
        case(
            map(ROWS, ""),
            &["infill.map", "have no meaning yet", "[infill.legend]"],
        ),
        case(
            map(ROWS, "legend.AB = \"nested-square\""),
            &["infill.legend.AB", "cannot stand for a cell"],
        ),
        case(
            map(ROWS, "legend.\".\" = \"nested-square\""),
            &["a dot stands for cells that stay open"],
        ),
        case(
            map(ROWS, "legend.A = 3"),
            &["infill.legend.A", "no entry of a legend"],
        ),
        case(
            map(ROWS, "legend.A = { turn = \"90 deg\" }"),
            &["infill.legend.A", "pattern"],
        ),
        case(
            map(
                ROWS,
                "legend.A = { pattern = \"nested-square\", turned = \"90 deg\" }",
            ),
            &["did you mean `turn`?"],
        ),
        case(
            map(
                ROWS,
                "legend.A = { pattern = \"nested-square\", turn = 90 }",
            ),
            &["infill.legend.A.turn", "no unit"],
        ),
        case(
            map(
                ROWS,
                "legend.A = { pattern = \"nested-square\", turn = \"45 deg\" }",
            ),
            &[
                "infill.legend.A.turn",
                "turned by 45 deg",
                "90, 180 or 270 deg",
            ],
        ),
        case(
            map(
                ROWS,
                "legend.A = { pattern = \"nested-square\", mirror = 1 }",
            ),
            &["infill.legend.A.mirror"],
        ),
        case(
            map(ROWS, "legend.A = \"no-such\""),
            &["infill.legend.A", "no pattern is called `no-such`"],
        ),
        case(
            map(two, "legend.A = \"no-such\"\nlegend.B = \"nor-this\""),
            &["`no-such`", "`nor-this`"],
        ),
        case(
            map(ROWS, "legend.A = \"gone.toml\""),
            &["infill.legend.A", "gone.toml"],
        ),
        case(
            map(ROWS, "legend.A = \"triangular-hemp-leaf\""),
            &[
                "infill.legend.A",
                "drawn for cells with 3 walls",
                "shipped patterns that fill",
            ],
        ),
        case(
            map("\"....\", \"....\", \"....\", \"....\", \"....\"", LEAF),
            &["every cell is to stay open"],
        ),
        case(
            map(ROWS, &format!("{LEAF}\npattern = \"nested-square\"")),
            &["infill.map", "`pattern` is given as well"],
        ),
        case(
            job(&format!("pattern = \"nested-square\"\n{LEAF}")),
            &["infill.legend", "belongs to `map`"],
        ),
        case(
            job("pattern = \"nested-square\"\npatterns = [\"corner-brace\"]"),
            &["infill.patterns", "belongs to `rule`"],
        ),
        case(
            job("map = \"AAAA\"\nlegend.A = \"nested-square\""),
            &["infill.map", "write it as in `map = ["],
        ),
        case(
            job("map = [1, 2]\nlegend.A = \"nested-square\""),
            &["infill.map[0]", "infill.map[1]"],
        ),
        case(job("allowance = \"5 mm\""), &["infill.pattern"]),
    ]);
}

#[test]
fn own_patterns_are_named_by_their_files() {
    let bad = "about = \"bad\"\ncell = \"square\"\nneighbours = \"same\"\n[[piece]]\nname = \"bar\"\nfrom = \"nowhere\"\nto = \"north-east\"\n";
    let rows = "\"ABAB\", \"ABAB\", \"ABAB\", \"ABAB\", \"ABAB\"";
    let text = map(
        rows,
        "legend.A = \"nested-square\"\nlegend.B = \"patterns/mine.toml\"",
    );
    // What is wrong only where it is worked out: a bar off the cell.
    let off = "about = \"off\"\ncell = \"square\"\nneighbours = \"same\"\n[points]\na = [0.4, 0.5]\nb = [0.6, 0.5]\n[[piece]]\nname = \"bar\"\nfrom = \"a\"\nto = \"b\"\n";
    let deep =
        Case::args(&["pare", "job.toml"], &["patterns/mine.toml:"]).file("job.toml", text.clone());
    check(&[
        case(text, &["patterns/mine.toml:6:", "nowhere"]).file("patterns/mine.toml", bad),
        deep.file("patterns/mine.toml", off),
    ]);
}

#[test]
fn maps_of_slanted_grids() {
    let head = |grid: &str| {
        format!(
            "title = \"x\"\n[grid]\n{grid}overhang = \"14 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n[infill]\n"
        )
    };
    let hexagon =
        head("kind = \"triangular\"\nside = \"60 mm\"\nregion = \"hexagon\"\nrings = 1\n");
    let legend = "legend.A = \"triangular-hemp-leaf\"\n";
    check(&[
        case(
            format!("{hexagon}map = [\"AAAA\", \"AAA\"]\n{legend}"),
            &[
                "infill.map[0]",
                "row 2, line 1 of the map, has 4 letters; here are 3 cells",
            ],
        ),
        case(
            format!(
                "{hexagon}map = [\"AAA\", \"AAA\"]\nlegend.A = {{ pattern = \"wall-spokes\", turn = \"90 deg\" }}\n"
            ),
            &["infill.legend.A.turn", "120 or 240 deg"],
        ),
        case(
            format!("{hexagon}map = [\"AAA\", \"AAA\"]\nlegend.A = \"nested-square\"\n"),
            &["drawn for cells with 4 walls", "central-triangle"],
        ),
    ]);
    let oblong =
        head("kind = \"square\"\npitches_x = [\"40 mm\", \"50 mm\"]\npitches_y = [\"40 mm\"]\n");
    check(&[case(
        format!(
            "{oblong}map = [\"AA\"]\nlegend.A = {{ pattern = \"single-diagonal\", turn = \"90 deg\" }}\n"
        ),
        &["column 2, row 1", "longer than wide", "180 deg only"],
    )]);
}

#[test]
fn rules() {
    let two = "patterns = [\"nested-square\", \"corner-brace\"]";
    check(&[
        case(
            job(&format!("rule = \"chess\"\n{two}")),
            &["infill.rule", "border, checker, rings, by-size"],
        ),
        case(
            job("rule = \"checker\""),
            &["infill.rule", "no patterns to choose from"],
        ),
        case(
            job("rule = \"checker\"\npatterns = [\"nested-square\"]"),
            &["infill.patterns", "two are wanted"],
        ),
        case(
            job(&format!("rule = \"by-size\"\n{two}")),
            &["2 patterns for cells of 1 size"],
        ),
        case(
            job(
                "rule = \"rings\"\npatterns = [\"nested-square\", \"corner-brace\", \".\", \"nested-square\"]",
            ),
            &["4 patterns for 2 rings"],
        ),
        case(
            job(
                "rule = \"checker\"\npatterns = [\"nested-square\", { pattern = \"corner-brace\", turn = \"30 deg\" }]",
            ),
            &["infill.patterns[1].turn"],
        ),
        case(
            job("rule = \"border\"\npatterns = [\"nested-square\", 7]"),
            &["infill.patterns[1]", "no entry of a legend"],
        ),
    ]);
}

#[test]
fn wood_of_pieces() {
    let with = |more: &str| job(&format!("pattern = \"nested-square\"\n{more}"));
    check(&[
        case(
            with("depth = \"13 mm\""),
            &[
                "infill.depth",
                "pieces 13.00 mm deep stand out of strips 12.00 mm deep",
            ],
        ),
        case(
            with("depth = \"9 mm\"\nsetback = \"4 mm\""),
            &[
                "infill.setback",
                "1.00 mm out of the back",
                "by 3.00 mm at most",
            ],
        ),
        case(
            with("setback = \"1 mm\""),
            &[
                "infill.setback",
                "1.00 mm out of the back",
                "or make them 11.00 mm deep at most",
            ],
        ),
        case(
            with("thickness = \"0 mm\""),
            &["infill.thickness", "leaves no wood"],
        ),
        case(
            with("depth = \"0 mm\""),
            &["infill.depth", "leaves no wood"],
        ),
        case(
            with("setback = \"-1 mm\""),
            &["infill.setback", "cannot be negative"],
        ),
        case(
            with("fit = \"1.5 mm\""),
            &["infill.fit", "half the strips' thickness"],
        ),
        case(with("fit = 0.05"), &["infill.fit", "no unit"]),
        case(with("thicknes = \"2 mm\""), &["did you mean `thickness`?"]),
    ]);
}

#[test]
fn a_letter_that_no_cell_takes_is_a_warning() {
    let bench = Bench::new();
    bench.write(
        "job.toml",
        map(ROWS, &format!("{LEAF}\nlegend.B = \"nested-square\"")),
    );
    let ran = bench.ok(&["pattern", "map", "job.toml"]);
    assert!(
        ran.err.contains("legend-unused") && ran.err.contains("no cell takes `B`"),
        "{}",
        ran.err
    );
    assert!(ran.out.contains("legend.B"), "{}", ran.out);
}

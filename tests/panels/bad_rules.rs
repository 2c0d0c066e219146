//! Patterns whose rules for horns, ends over strips, birds' mouths, turns, lines, locks, middle, wood and folds
//! cannot be: each is refused with its code at its field, and is told what to do.

use lapwright::finding::Finding;
use lapwright::infill::{Cell, PieceStock, solve};
use lapwright::reading::read_pattern;
use lapwright::units::UnitSystem;

/// What is wrong with a pattern in a square cell of 47.2 mm, strips 2.8 mm thick.
fn refused(text: &str) -> Vec<Finding> {
    let pattern = match read_pattern("trial", text) {
        Ok(file) => file.pattern,
        Err(bad) => return bad.findings,
    };
    let stock = PieceStock {
        depth: 12.0,
        thickness: 2.8,
        clearance: 0.0,
        skin: 0.5,
    };
    solve(&pattern, &Cell::rectangle(47.2, 47.2).unwrap(), stock)
        .err()
        .unwrap_or_default()
}

/// Code, field, and words of what would be right; what is wrong stands in the pattern's text.
type Case = (&'static str, &'static str, &'static str, String);

/// All of them, told at once where some are not refused so.
fn check(cases: &[Case]) {
    let mut wrong = Vec::new();
    for (code, field, remedy, body) in cases {
        let text = if body.contains("neighbours") {
            body.clone()
        } else {
            format!("about = \"x\"\ncell = \"square\"\nneighbours = \"same\"\n{body}")
        };
        let found = refused(&text);
        // What would be right stands in the remedy, of a number's range beside what is wrong with it.
        let hint = |finding: &Finding| {
            let hint = finding.hint.as_ref();
            let hint = hint.map(|hint| hint.text(UnitSystem::Millimetres));
            let message = finding.message.text(UnitSystem::Millimetres);
            format!("{}; {message}", hint.unwrap_or_default())
        };
        let is_it = |finding: &&Finding| {
            finding.code == *code && finding.field == *field && hint(finding).contains(remedy)
        };
        if found.iter().find(is_it).is_none() {
            let told = found.iter();
            let told =
                told.map(|found| format!("{} at {}: {}", found.code, found.field, hint(found)));
            wrong.push(format!(
                "{code} at {field}: {remedy}\n  {}",
                told.collect::<Vec<_>>().join("\n  ")
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

fn piece(name: &str, from: &str, to: &str, more: &str) -> String {
    format!("[[piece]]\nname = \"{name}\"\nfrom = \"{from}\"\nto = \"{to}\"\n{more}")
}

/// Two legs from wall to wall through a bend in the middle, folded; more about either, and after both.
fn roof(one: &str, two: &str, more: &str) -> String {
    let points = "[points]\na = [0, 0.3]\nb = [0.5, 0.6]\nc = [1, 0.3]\nd = [0.5, 1]\nlow = [0.3, 0]\nhigh = [0.3, 1]\n";
    [
        points,
        &piece("one", "a", "b", one),
        &piece("two", "b", "c", two),
        more,
    ]
    .concat()
}

const FOLD: &str = "[[fold]]\npieces = [\"one\", \"two\"]\n";

fn fold(pieces: &str) -> String {
    roof("", "", &format!("[[fold]]\npieces = {pieces}\n"))
}

#[test]
fn folds() {
    let at = |points: &str, more: &str| {
        format!("[points]\n{points}\n")
            + &piece("one", "a", "b", "")
            + &piece("two", "b", "c", "")
            + more
    };
    let pieces = "fold[0].pieces";
    check(&[
        ("wrong-count", pieces, "two names or more", fold("\"one\"")),
        (
            "missing",
            pieces,
            "in the order along the strip",
            roof("", "", "[[fold]]\n"),
        ),
        (
            "unknown-piece",
            "fold[0].pieces[1]",
            "known here: one, two",
            fold("[\"one\", \"tow\"]"),
        ),
        (
            "said-twice",
            "fold[0].pieces[1]",
            "name each piece once",
            fold("[\"one\", \"one\"]"),
        ),
        (
            "said-twice",
            "fold[1].pieces[0]",
            "three in one list",
            roof("", "", &FOLD.repeat(2)),
        ),
        (
            "fold-apart",
            pieces,
            "in the order along the strip",
            roof(
                "",
                "",
                &format!(
                    "{}{}",
                    piece("three", "low", "high", ""),
                    "[[fold]]\npieces = [\"one\", \"three\"]\n"
                ),
            ),
        ),
        (
            "fold-straight",
            pieces,
            "make them one piece",
            at("a = [0, 0.5]\nb = [0.5, 0.5]\nc = [1, 0.5]", FOLD),
        ),
        (
            "fold-flat",
            pieces,
            "different sides",
            at("a = [0, 0.5]\nb = [0.8, 0.5]\nc = [0.2, 0.5]", FOLD),
        ),
        (
            "fold-shared",
            pieces,
            "mouth = { to = [\"one\", \"two\"] }",
            roof("", "", &(piece("three", "d", "b", "") + FOLD)),
        ),
        (
            "fold-with-jig",
            "junction[0].jig",
            "leave out `jig`",
            roof(
                "",
                "",
                &("[[junction]]\nat = \"b\"\njig = { one = \"60 deg\" }\n".to_owned() + FOLD),
            ),
        ),
        (
            "fold-and-lap",
            pieces,
            "let `three` stand `against` `one`",
            roof(
                "",
                "",
                &(piece("three", "low", "high", "lap = \"one\"\n") + FOLD),
            ),
        ),
        (
            "over-and-fold",
            pieces,
            "leave out `over`",
            roof("over = \"from\"\n", "", FOLD),
        ),
        (
            "fold-of-two-woods",
            pieces,
            "the same `thickness` and `depth`",
            roof("", "thickness = 0.8\n", FOLD),
        ),
        (
            "fold-of-two-woods",
            pieces,
            "the same `thickness` and `depth`",
            roof("depth = 0.5\n", "", FOLD),
        ),
        (
            "fold-locks-in-part",
            pieces,
            "name `two` in `locks` too",
            "locks = \"one\"\n".to_owned() + &roof("", "", FOLD),
        ),
        (
            "fold-copied-in-part",
            "mirror[0].copies.one",
            "name a copy of `two`",
            roof(
                "",
                "",
                &(FOLD.to_owned()
                    + "[[mirror]]\nacross = [\"south-west\", \"north-east\"]\ncopies = { one = \"three\" }\n"),
            ),
        ),
        (
            "fold-and-end",
            pieces,
            "leave it out there",
            roof("horn = { to = 0 }\n", "", FOLD),
        ),
        (
            "fold-leg-short",
            pieces,
            "at least 2.80 mm of whole wood stay",
            at("a = [0, 0.5]\nb = [0.04, 0.53]\nc = [1, 0.5]", FOLD),
        ),
        (
            "fold-cut-off",
            pieces,
            "move the bend away from walls",
            at("a = [0.2, 0]\nb = [0.5, 1]\nc = [0.8, 0]", FOLD),
        ),
    ]);
}

/// A mitred square in the middle and a key to its lower left corner.
fn keyed(key: &str) -> String {
    let mut text =
        "[points]\na = [0.35, 0.35]\nb = [0.65, 0.35]\nc = [0.65, 0.65]\nd = [0.35, 0.65]\n"
            .to_owned();
    for (name, from, to) in [
        ("bar", "a", "b"),
        ("bar-2", "b", "c"),
        ("bar-3", "c", "d"),
        ("bar-4", "d", "a"),
    ] {
        text += &piece(name, from, to, "");
        text += &format!("[[junction]]\nat = \"{from}\"\n");
    }
    text + &piece("key", "south-west", "a", key)
}

#[test]
fn horns_and_ends_over_strips() {
    let bar = |more: &str| {
        "[points]\nwest-end = [0.2, 0.5]\neast-end = [0.8, 0.5]\n".to_owned()
            + &piece("bar", "west-end", "east-end", more)
    };
    let held = "mouth = { to = [\"bar\", \"bar-4\"] }\n";
    check(&[
        (
            "out-of-range",
            "piece[0].horn.to",
            "0 to 20",
            bar("horn = { to = 25 }\n"),
        ),
        (
            "unknown-key",
            "piece[0].horn.too",
            "did you mean `to`?",
            bar("horn = { too = 1 }\n"),
        ),
        (
            "wrong-type",
            "piece[0].horn",
            "write a table",
            bar("horn = 1.5\n"),
        ),
        (
            "end-not-held",
            "piece[0].from",
            "let a piece that crosses there `lap` it",
            bar("horn = { from = 1, to = 1 }\n"),
        ),
        (
            "leaves-cell",
            "piece[0].to",
            "lie in the cell or on its walls",
            bar("horn = { from = 1, to = 8 }\n"),
        ),
        (
            "no-such-end",
            "piece[0].over",
            "write \"from\", \"to\" or a list of both",
            bar("over = \"east\"\n"),
        ),
        (
            "over-and-horn",
            "piece[0].horn.to",
            "leave one of them out",
            bar("horn = { to = 1 }\nover = \"to\"\n"),
        ),
        (
            "horn-and-mouth",
            "piece[4].mouth.to",
            "leave one of them out",
            keyed(&format!("{held}horn = {{ to = 1 }}\n")),
        ),
        (
            "over-and-mouth",
            "piece[4].mouth.to",
            "leave one of them out",
            keyed(&format!("{held}over = \"to\"\n")),
        ),
    ]);
}

#[test]
fn mouths() {
    let to = |corner: &str| keyed(&format!("mouth = {{ to = {corner} }}\n"));
    check(&[
        (
            "wrong-count",
            "piece[4].mouth.to",
            "a list of two names",
            to("\"bar\""),
        ),
        (
            "unknown-piece",
            "piece[4].mouth.to[1]",
            "known here: bar, bar-2",
            to("[\"bar\", \"bar-5\"]"),
        ),
        (
            "own-name",
            "piece[4].mouth.to[0]",
            "name another piece",
            to("[\"key\", \"bar\"]"),
        ),
        (
            "said-twice",
            "piece[4].mouth.to[0]",
            "the mouth touches it already",
            keyed("against = \"bar\"\nmouth = { to = [\"bar\", \"bar-4\"] }\n"),
        ),
        (
            "no-corner",
            "piece[4].mouth.to",
            "name the two pieces whose corner the end takes",
            to("[\"bar\", \"bar-3\"]"),
        ),
        (
            "corner-aside",
            "piece[4].mouth.from",
            "aim the piece's axis into the corner",
            keyed("mouth = { from = [\"bar\", \"bar-4\"] }\n"),
        ),
        (
            "corner-hollow",
            "piece[4].mouth.from",
            "let `key` end there too",
            keyed("").replace(
                "from = \"south-west\"\nto = \"a\"",
                "from = \"a\"\nto = \"c\"\nmouth = { from = [\"bar\", \"bar-4\"] }",
            ),
        ),
    ]);
}

#[test]
fn turns_lines_and_locks() {
    let turn = |text: &str| {
        "[points]\nmiddle = [0.5, 0.5]\n".to_owned()
            + &piece("a", "south-west", "middle", "")
            + "[[junction]]\nat = \"middle\"\n[[turn]]\n"
            + text
    };
    let line = |text: &str| {
        format!("[lines]\nslope = {text}\n[points]\nend = {{ meet = [\"slope\", \"east\"] }}\n")
            + &piece("a", "south-west", "end", "")
    };
    let bar = piece("a", "south-west", "north-east", "");
    check(&[
        (
            "count-out-of-range",
            "turn[0].steps",
            "2 to 12",
            turn("round = \"middle\"\nsteps = 13\ncopies = { a = [\"b\"] }\n"),
        ),
        (
            "unknown-point",
            "turn[0].round",
            "known here: south-west",
            turn("round = \"midle\"\nsteps = 2\ncopies = { a = [\"b\"] }\n"),
        ),
        (
            "wrong-count",
            "turn[0].copies.a",
            "one step on, two steps on",
            turn("round = \"middle\"\nsteps = 4\ncopies = { a = [\"b\"] }\n"),
        ),
        (
            "no-pieces",
            "turn[0].copies",
            "write copies = ",
            turn("round = \"middle\"\nsteps = 2\ncopies = {}\n"),
        ),
        (
            "unknown-piece",
            "turn[0].copies.c",
            "known here: a",
            turn("round = \"middle\"\nsteps = 2\ncopies = { c = [\"b\"] }\n"),
        ),
        (
            "angle-out-of-range",
            "lines.slope.angle",
            "less than 180 deg",
            line("{ from = \"south-west\", angle = \"200 deg\" }"),
        ),
        (
            "unknown-wall",
            "lines.slope.off",
            "known here: south, east",
            line("{ from = \"south-west\", angle = \"20 deg\", off = \"base\" }"),
        ),
        (
            "said-twice",
            "lines.slope.through",
            "two points that lie apart",
            line("{ through = [\"south-west\", \"south-west\"] }"),
        ),
        (
            "unknown-piece",
            "locks[0]",
            "copies lock as well",
            format!("locks = \"b\"\n{bar}"),
        ),
        (
            "said-twice",
            "locks[1]",
            "leave one out",
            format!("locks = [\"a\", \"a\"]\n{bar}"),
        ),
        (
            "unknown-corner",
            "middle",
            "known here: south-west",
            format!("middle = \"top\"\n{bar}"),
        ),
        (
            "not-mirrored",
            "middle",
            "write neighbours = \"mirror\"",
            format!("middle = \"north-east\"\n{bar}"),
        ),
    ]);
}

#[test]
fn wood_of_pieces() {
    let bar = |more: &str| piece("a", "south-west", "north-east", more);
    let joined = "[points]\nmiddle = [0.5, 0.5]\n".to_owned()
        + &piece("a", "south-west", "middle", "thickness = 0.5\n")
        + &piece("b", "south-east", "middle", "")
        + "[[junction]]\nat = \"middle\"\n";
    check(&[
        (
            "out-of-range",
            "piece[0].thickness",
            "0.1 to 1",
            bar("thickness = 1.5\n"),
        ),
        (
            "out-of-range",
            "piece[0].depth",
            "0.1 to 1",
            bar("depth = 0.05\n"),
        ),
        (
            "out-of-range",
            "thickness",
            "0.1 to 1",
            format!("thickness = \"9/8\"\n{}", bar("")),
        ),
        (
            "wrong-type",
            "depth",
            "a plain number such as 0.8",
            format!("depth = [1, 2]\n{}", bar("")),
        ),
        (
            "out-of-range",
            "greatest",
            "below 0.5",
            format!("greatest = 0.6\n{}", bar("")),
        ),
        (
            "too-thick",
            "greatest",
            "take thinner pieces",
            format!("greatest = 0.04\n{}", bar("")),
        ),
        (
            "not-equally-thick",
            "junction[0].at",
            "give jig angles here",
            joined,
        ),
    ]);
}

//! Patterns that cannot be: each is refused with its code at the line at fault, which is marked.

use lapwright::infill::{Cell, CellShape, PieceStock, solve};
use lapwright::reading::{SHIPPED_PATTERNS, read_pattern};
use lapwright::units::UnitSystem;

const HEAD: &str = "about = \"trial\"\ncell = \"square\"\nneighbours = \"same\"\n";

/// Codes of all findings in a cell with a clear opening of 47.2 mm, strips 2.8 mm thick, and the
/// report.
fn refusal(text: &str) -> (Vec<&'static str>, String) {
    let bad = match read_pattern("trial", text) {
        Err(bad) => bad,
        Ok(file) => {
            let cell = match file.pattern.cell {
                CellShape::Square => Cell::rectangle(47.2, 47.2),
                CellShape::Triangle => Cell::triangle(50.0),
                CellShape::Rhomb => Cell::rhomb(50.0, 1.0),
            };
            let stock = PieceStock {
                depth: 12.0,
                thickness: 2.8,
                clearance: 0.0,
                skin: 0.5,
            };
            let solved = solve(&file.pattern, &cell.unwrap(), stock);
            let Err(findings) = solved else {
                panic!("not refused:\n{text}")
            };
            lapwright::reading::Unreadable {
                source: file.source,
                findings,
            }
        }
    };
    let codes = bad.findings.iter().map(|finding| finding.code).collect();
    let report = bad.source.report(&bad.findings, UnitSystem::Millimetres);
    (codes, anstream::adapter::strip_str(&report).to_string())
}

/// `body` behind a head that is right must be refused with `code` at the line that holds `##`.
fn check(code: &str, body: &str) {
    check_all(code, &format!("{HEAD}{body}"));
}

fn check_all(code: &str, text: &str) {
    let line = 1 + text.lines().position(|line| line.contains("##")).unwrap();
    let (codes, report) = refusal(text);
    assert!(codes.contains(&code), "{code}: {codes:?}\n{report}");
    let place = format!("trial:{line}:");
    assert!(report.contains(&place), "{code}: not at {place}\n{report}");
    assert!(report.contains(code) && report.contains("help"), "{report}");
}

fn piece(name: &str, from: &str, to: &str, more: &str) -> String {
    format!("[[piece]]\nname = \"{name}\"\nfrom = \"{from}\"\nto = \"{to}\"\n{more}")
}

/// A diagonal, a hinge on its right and a lock, their junction's angles as given.
fn leaf(jig: &str) -> String {
    let points = "[points]\nlow = { meet = [\"south\", \"diagonal.right\"] }\n\
                  high = { meet = [\"east\", \"diagonal.right\"] }\n\
                  centre = { incentre = [\"south\", \"east\", \"diagonal.right\"] }\n";
    [
        points,
        &piece("diagonal", "south-west", "north-east", ""),
        &piece("hinge", "low", "centre", "against = \"diagonal\"\n"),
        &piece("hinge-2", "high", "centre", "against = \"diagonal\"\n"),
        &piece("lock", "south-east", "centre", ""),
        "[[junction]]\nat = \"centre\"\n",
        jig,
    ]
    .concat()
}

#[test]
fn keys_and_words() {
    check("unknown-key", "abuot = \"x\" ##\n");
    check(
        "unknown-key",
        "[[piece]]\nname = \"a\"\nform = \"south-west\" ##\nto = \"north-east\"\n",
    );
    check_all(
        "unknown-word",
        "about = \"x\"\ncell = \"sqare\" ##\nneighbours = \"same\"\n",
    );
    check_all("wrong-type", &format!("{HEAD}rectangles = \"yes\" ##\n"));
    check_all("wrong-type", &format!("{HEAD}rhombs = 1 ##\n"));
    let bar = piece("bar", "south-west", "north-east", "");
    let rhomb = "about = \"x\"\ncell = \"rhomb\"\n";
    let mirrored = format!("{rhomb}neighbours = \"mirror\" ##\n{bar}");
    check_all("cannot-mirror", &mirrored);
    let both = format!("{rhomb}neighbours = \"turn\"\nrhombs = true ##\n{bar}");
    check_all("not-for-squares", &both);
    check(
        "missing",
        "[[piece]] ##\nname = \"a\"\nfrom = \"south-west\"\n",
    );
    check("wrong-type", "[piece] ##\nname = \"a\"\n");
    check("syntax", "[[piece]]\nname = ##\n");
    let hint = refusal(&format!("{HEAD}[[junktion]]\nat = \"x\"\n")).1;
    assert!(hint.contains("did you mean `junction`?"), "{hint}");
}

#[test]
fn points() {
    let bar = piece("a", "low", "north-east", "");
    check("wrong-count", &format!("[points]\nlow = [0.5] ##\n{bar}"));
    check(
        "wrong-type",
        &format!("[points]\nlow = [\"0.5 mm\", 0] ##\n{bar}"),
    );
    check(
        "wrong-type",
        &format!("[points]\nlow = [0.5, nan] ##\n{bar}"),
    );
    check(
        "wrong-count",
        &format!("[points]\nlow = {{ meet = [\"south\"] }} ##\n{bar}"),
    );
    check(
        "unknown-key",
        &format!("[points]\nlow = {{ mete = [\"south\", \"west\"] }} ##\n{bar}"),
    );
    check(
        "unknown-wall",
        &format!("[points]\nlow = {{ meet = [\"south\", \"base\"] }} ##\n{bar}"),
    );
    check(
        "said-twice",
        &format!("[points]\nlow = {{ meet = [\"south\", \"south\"] }} ##\n{bar}"),
    );
    check(
        "unknown-piece",
        &format!("[points]\nlow = {{ meet = [\"south\", \"b.left\"] }} ##\n{bar}"),
    );
    check(
        "lines-do-not-meet",
        &format!("[points]\nlow = {{ meet = [\"south\", \"north\"] }} ##\n{bar}"),
    );
    check(
        "name-taken",
        &format!(
            "[points]\nnorth-east = [0, 0] ##\n{}",
            piece("a", "south-west", "north-east", "")
        ),
    );
    check(
        "leaves-cell",
        &format!(
            "[points]\nlow = [-0.2, 0.5]\n{}",
            bar.replace("\"low\"", "\"low\" ##")
        ),
    );
}

#[test]
fn names_and_order() {
    check("no-pieces", "piece = [] ##\n");
    check(
        "unknown-point",
        &piece("a", "south-west", "nrth-east\" ##\n#", ""),
    );
    check(
        "bad-name",
        &piece("a b\" ##\n#", "south-west", "north-east", ""),
    );
    let two = |more: &str| {
        piece("a", "south-west", "north-east", "")
            + &piece("a\" ##\n#", "south-east", "north-west", more)
    };
    check("name-taken", &two("lap = \"a\"\n"));
    check(
        "unknown-piece",
        &piece("a", "south-west", "north-east", "against = \"b\" ##\n"),
    );
    check(
        "own-name",
        &piece("a", "south-west", "north-east", "lap = \"a\" ##\n"),
    );
    // The side of a piece that comes later.
    let early = "[points]\nlow = { meet = [\"south\", \"b.right\"] }\n".to_owned()
        + &piece("a", "low\" ##\n#", "south-east", "")
        + &piece("b", "south-west", "north-east", "");
    check("order", &early);
}

#[test]
fn ends() {
    check(
        "no-length",
        "[points]\nlow = [0, 0]\n[[piece]] ##\nname = \"a\"\nfrom = \"south-west\"\nto = \"low\"\n",
    );
    // Ends in the middle of nowhere.
    check(
        "end-not-held",
        &("[points]\nmiddle = [0.5, 0.4]\n".to_owned()
            + &piece("a", "south-west", "middle\" ##\n#", "")),
    );
    // Against a piece that it does not reach.
    let far = "[points]\nlow = [0.2, 0]\nup = [0.2, 0.5]\na = [0.5, 0]\nb = [0.5, 1]\n".to_owned()
        + &piece("bar", "a", "b", "")
        + &piece("stub", "low", "up", "against = \"bar\" ##\n");
    check("does-not-touch", &far);
    // Beyond the end of the other's side.
    let over = "[points]\na = [0.5, 0]\nb = [0.5, 0.5]\nc = [0, 0.5]\nd = [1, 0.5]\ne = [0, 0.53]\n"
        .to_owned()
        + &piece("post", "a", "b", "against = \"rail\"\n")
        + &piece("rail", "c", "d", "")
        + &piece("stub", "e", "b", "against = [\"post\"] ##\n");
    check("facet-hangs-over", &over);
    // The middle of the one lies on the other.
    let across = piece("a", "south-west", "north-east", "")
        + &piece("b", "south-east", "north-west", "against = \"a\"\n")
            .replace("[[piece]]", "[[piece]] ##");
    check("no-near-side", &across);
}

#[test]
fn too_many_facets() {
    // A fan of three near a wall: plane, plane of the bend around the outside, wall.
    let fan = "[points]\nleft = [0, 0.5]\nright = [1, 0.5]\ntop = [0.5, 1]\nmiddle = [0.5, 0.02]\n"
        .to_owned()
        + &piece("a", "left", "middle\" ##\n#", "")
        + &piece("b", "middle", "right", "")
        + &piece("c", "middle", "top", "")
        + "[[junction]]\nat = \"middle\"\n";
    check("too-many-facets", &fan);
}

#[test]
fn overlaps_and_laps() {
    let cross = |more: &str| {
        piece("a", "south-west", "north-east", "")
            + &piece("b", "south-east", "north-west", more).replace("[[piece]]", "[[piece]] ##")
    };
    check("pieces-overlap", &cross(""));
    let beside = "[points]\nlow = [0.5, 0]\nhigh = [0.5, 1]\nnext = [0.55, 0]\nup = [0.55, 1]\n";
    let beside = beside.to_owned()
        + &piece("a", "low", "high", "")
        + &piece("b", "next", "up", "lap = \"a\"\n").replace("[[piece]]", "[[piece]] ##");
    check("lap-does-not-cross", &beside);
    let near_end = "[points]\nlow = [0, 0.066]\nhigh = [0.066, 0]\n".to_owned()
        + &piece("a", "south-west", "north-east", "")
        + &piece("b", "low", "high", "lap = \"a\"\n").replace("[[piece]]", "[[piece]] ##");
    check("lap-at-end", &near_end);
    let star = "[points]\nlow = [0.5, 0]\nhigh = [0.5, 1]\n".to_owned()
        + &piece("a", "south-west", "north-east", "")
        + &piece("b", "south-east", "north-west", "lap = \"a\"\n")
        + &piece("c", "low", "high", "lap = \"a\"\n").replace("[[piece]]", "[[piece]] ##");
    check("laps-overlap", &star);
    let both = piece("a", "south-west", "north-east", "lap = \"b\"\n")
        + &piece("b", "south-east", "north-west", "lap = \"a\" ##\n");
    check("said-twice", &both);
}

#[test]
fn junctions() {
    let jig = |text: &str| leaf(&format!("{text}\n"));
    assert!(
        read_pattern(
            "trial",
            &format!(
                "{HEAD}{}",
                jig("jig = { hinge = \"67.5 deg\", hinge-2 = \"67.5 deg\" }")
            )
        )
        .is_ok()
    );
    // Blocks of 70 where 67.5 belongs: two fix the plane between the hinges.
    check(
        "angles-do-not-close",
        &jig("jig = { hinge = \"70 deg\", hinge-2 = \"70 deg\" } ##"),
    );
    let (_, report) = refusal(&format!(
        "{HEAD}{}",
        jig("jig = { hinge = \"70 deg\", hinge-2 = \"70 deg\" }")
    ));
    assert!(
        report.contains("enclose 135 deg, the facets overlap by 5 deg"),
        "{report}"
    );
    check("plane-not-fixed", &jig("jig = { lock = \"45 deg\" } ##"));
    check(
        "corners-not-flush",
        &jig(
            "jig = { lock = [\"40 deg\", \"50 deg\"], hinge = [\"67.5 deg\", \"72.5 deg\"], hinge-2 = [\"62.5 deg\", \"67.5 deg\"] } ##",
        ),
    );
    check(
        "turns-inward",
        &jig("jig = { lock = \"95 deg\", hinge = [\"67.5 deg\", \"17.5 deg\"] } ##"),
    );
    check("unknown-piece", &jig("jig = { hing = \"67.5 deg\" } ##"));
    check(
        "not-at-junction",
        &jig("jig = { diagonal = \"67.5 deg\" } ##"),
    );
    check(
        "angle-out-of-range",
        &jig("jig = { lock = \"180 deg\" } ##"),
    );
    check("bare-number", &jig("jig = { lock = 45 } ##"));
    check(
        "wrong-count",
        &jig("jig = { lock = [\"45 deg\", \"45 deg\", \"45 deg\"] } ##"),
    );
    check("unknown-point", &leaf("[[junction]]\nat = \"center\" ##\n"));
    check("said-twice", &leaf("[[junction]]\nat = \"centre\" ##\n"));
    let alone =
        piece("a", "south-west", "north-east", "") + "[[junction]]\nat = \"north-east\" ##\n";
    check("too-few-pieces", &alone);
    let twice =
        piece("a", "south-west", "north-east", "") + &piece("b", "south-west", "north-east", "");
    check(
        "same-direction",
        &(twice + "[[junction]] ##\nat = \"north-east\"\n"),
    );
    // Without the junction the three run on until they meet a wall.
    let open = leaf("").replace("[[junction]]\nat = \"centre\"\n", "");
    let end = "from = \"south-east\"\nto = \"centre\"";
    check("end-not-held", &open.replace(end, &format!("{end} ##")));
}

#[test]
fn mirrors() {
    let diagonal = piece("a", "south-west", "north-east", "");
    let mirror = |text: &str| format!("{diagonal}[[mirror]]\n{text}");
    check(
        "wrong-count",
        &mirror("across = [\"south-west\"] ##\ncopies = { a = \"b\" }\n"),
    );
    check(
        "said-twice",
        &mirror("across = [\"south-west\", \"south-west\"] ##\ncopies = { a = \"b\" }\n"),
    );
    check(
        "unknown-piece",
        &mirror("across = [\"south-west\", \"south-east\"]\ncopies = { c = \"b\" } ##\n"),
    );
    check(
        "name-taken",
        &mirror("across = [\"south-west\", \"south-east\"]\ncopies = { a = \"a\" } ##\n"),
    );
    check(
        "no-pieces",
        &mirror("across = [\"south-west\", \"south-east\"]\ncopies = {} ##\n"),
    );
    // The copy lies below the cell, or on the original.
    check(
        "leaves-cell",
        &mirror("across = [\"south-west\", \"south-east\"]\ncopies = { a = \"b\" } ##\n"),
    );
    check(
        "pieces-overlap",
        &mirror("across = [\"south-east\", \"north-west\"]\ncopies = { a = \"b\" } ##\n"),
    );
}

/// A mitred square in the middle and a key from a corner, its last lines as given.
fn keyed(key: &str) -> String {
    let points = "[points]\na = [0.35, 0.35]\nb = [0.65, 0.35]\nc = [0.65, 0.65]\nd = [0.35, 0.65]\n\
                  west-middle = [0, 0.5]\nlow-west = [0, 0.1]\nunder = [0.5, 0.1]\n";
    let bars = [("bar", "a", "b"), ("bar-2", "b", "c"), ("bar-3", "c", "d")];
    let bars = bars
        .map(|(name, from, to)| piece(name, from, to, ""))
        .concat();
    let joints = ["a", "b", "c", "d"].map(|at| format!("[[junction]]\nat = \"{at}\"\n"));
    let last = piece("bar-4", "d", "a", "");
    [points, &bars, &last, key, &joints.concat()].concat()
}

#[test]
fn birds_mouths() {
    let key = |to: &str, mouth: &str| piece("key", "south-west", to, &format!("{mouth} ##\n"));
    let over = |mouth: &str| keyed(&key("a", mouth));
    assert!(
        read_pattern(
            "trial",
            &format!("{HEAD}{}", over("mouth = { to = [\"bar\", \"bar-4\"] }"))
        )
        .is_ok()
    );
    check("wrong-count", &over("mouth = { to = [\"bar\"] }"));
    check(
        "wrong-count",
        &over("mouth = { to = [\"bar\", \"bar-4\", \"bar-2\"] }"),
    );
    check(
        "unknown-key",
        &over("mouth = { too = [\"bar\", \"bar-4\"] }"),
    );
    check(
        "unknown-piece",
        &over("mouth = { to = [\"bar\", \"bar-5\"] }"),
    );
    check("own-name", &over("mouth = { to = [\"bar\", \"key\"] }"));
    check("said-twice", &over("mouth = { to = [\"bar\", \"bar\"] }"));
    let also = "mouth = { to = [\"bar\", \"bar-4\"] } ##\nagainst = \"bar\"";
    check("said-twice", &over(also));
    let horn = "mouth = { to = [\"bar\", \"bar-4\"] } ##\nhorn = { to = 1 }";
    check("horn-and-mouth", &over(horn));
    // Bars that run alongside each other; bars that do not meet.
    check("no-corner", &over("mouth = { to = [\"bar\", \"bar-3\"] }"));
    // The side of one runs on before that of the other.
    let onto = piece(
        "key",
        "west-middle",
        "d",
        "mouth = { to = [\"bar-4\", \"bar\"] } ##\n",
    );
    check("no-corner", &keyed(&onto));
    // The axis passes by below the corner.
    let beside = piece(
        "key",
        "low-west",
        "under",
        "mouth = { to = [\"bar-4\", \"bar\"] } ##\n",
    );
    check("corner-beside", &keyed(&beside));
    let (_, report) = refusal(&format!("{HEAD}{}", keyed(&beside)));
    assert!(
        report.contains("an ordinary facet on one of them does"),
        "{report}"
    );
    // The corner is at the key's other end.
    check(
        "corner-aside",
        &over("mouth = { from = [\"bar\", \"bar-4\"] }"),
    );
    // From inside the square its corner is hollow.
    let inside = "[[piece]]\nname = \"key\"\nfrom = \"a\"\nto = \"c\"\nmouth = { from = [\"bar\", \"bar-4\"] } ##\n";
    check("corner-hollow", &keyed(inside));
    // Another piece cuts the key's end off before the corner.
    let before = "[points]\nlow = [0.5, 0]\nleft = [0, 0.5]\n";
    let cut = keyed(
        &(piece("brace", "left", "low", "")
            + &key(
                "a",
                "against = \"brace\"\nmouth = { to = [\"bar\", \"bar-4\"] }",
            )),
    );
    let cut = cut.replace("[points]\n", before);
    check("cut-before-corner", &cut);
}

/// Two bars whose sides meet beyond their ends, and one that runs on beyond the place where they meet.
#[test]
fn corners_that_are_none() {
    let points = "[points]\na = [0.4, 0.35]\nb = [1, 0.35]\nc = [0.35, 0.4]\nd = [0.35, 1]\no = [0.35, 0.35]\n\
                  e = [0, 0.35]\nf = [0.4, 0]\ng = [0, 0.4]\nh = [0.35, 0]\n";
    let key = piece(
        "key",
        "south-west",
        "o",
        "mouth = { to = [\"rail\", \"post\"] } ##\n",
    );
    let apart = [
        points,
        &piece("stop", "f", "a", ""),
        &piece("stop-2", "g", "c", ""),
        &piece("rail", "a", "b", "against = \"stop\"\n"),
        &piece("post", "c", "d", "against = \"stop-2\"\n"),
        &key,
    ];
    check("no-corner", &apart.concat());
    let across = [
        points,
        &piece("rail", "e", "b", ""),
        &piece("post", "h", "d", "lap = \"rail\"\n"),
        &key,
    ];
    check("no-corner", &across.concat());
}

#[test]
fn turns() {
    let bar = piece("a", "south-west", "middle", "") + "[[junction]]\nat = \"middle\"\n";
    let turn = |text: &str| {
        format!("[points]\nmiddle = [0.5, 0.5]\nlow = [0.5, 0]\n{bar}[[turn]]\n{text}")
    };
    let four = "copies = { a = [\"b\", \"c\", \"d\"] }";
    check(
        "unknown-point",
        &turn(&format!("round = \"midle\" ##\nsteps = 4\n{four}\n")),
    );
    let (codes, report) = refusal(&format!(
        "{HEAD}{}",
        turn(&format!("round = \"middle\"\nsteps = 1\n{four}\n"))
    ));
    assert_eq!(codes, ["count-out-of-range"]);
    assert!(report.contains("this must be 2 to 12"), "{report}");
    check(
        "missing",
        &turn(&format!("round = \"middle\"\n{four}\n")).replace("[[turn]]", "[[turn]] ##"),
    );
    check(
        "wrong-count",
        &turn(&format!("round = \"middle\"\nsteps = 3\n{four} ##\n")),
    );
    check(
        "no-pieces",
        &turn("round = \"middle\"\nsteps = 4\ncopies = {} ##\n"),
    );
    check(
        "unknown-piece",
        &turn("round = \"middle\"\nsteps = 2\ncopies = { b = \"c\" } ##\n"),
    );
    check(
        "name-taken",
        &turn("round = \"middle\"\nsteps = 3\ncopies = { a = [\"b\", \"a\"] } ##\n"),
    );
    // About the middle of the south wall half of it comes to lie below the cell.
    check(
        "leaves-cell",
        &turn("round = \"low\"\nsteps = 2\ncopies = { a = \"b\" } ##\n"),
    );
    // Each of three lies over the next: no order in which they can be laid.
    let ring = "about = \"x\"\ncell = \"triangle\"\nneighbours = \"same\"\n\
                [points]\nlow = [0.8, 0]\nhigh = [0.4, 0.8]\ncentre = [0.5, \"1/3\"]\n"
        .to_owned()
        + &piece("a", "low", "high", "lap = \"c\"\n").replace("[[piece]]", "[[piece]] ##")
        + "[[turn]]\nround = \"centre\"\nsteps = 3\ncopies = { a = [\"b\", \"c\"] }\n";
    check_all("laps-in-a-ring", &ring);
}

#[test]
fn named_lines() {
    let bar = piece("a", "low", "north-east", "");
    let line = |text: &str| {
        format!(
            "[lines]\nslope = {text}\n[points]\nlow = {{ meet = [\"slope\", \"east\"] }}\n{bar}"
        )
    };
    check("wrong-count", &line("{ from = \"south-west\" } ##"));
    check("wrong-count", &line("{ through = [\"south-west\"] } ##"));
    check(
        "wrong-count",
        &line("{ through = [\"south-west\", \"north-east\"], angle = \"10 deg\" } ##"),
    );
    check("wrong-type", &line("[0, 1] ##"));
    check(
        "unknown-key",
        &line("{ form = \"south-west\", angle = \"10 deg\" } ##"),
    );
    check(
        "unknown-point",
        &line("{ from = \"west\", angle = \"10 deg\" } ##"),
    );
    check(
        "unknown-wall",
        &line("{ from = \"south-west\", angle = \"10 deg\", off = \"base\" } ##"),
    );
    check(
        "angle-out-of-range",
        &line("{ from = \"south-west\", angle = \"180 deg\" } ##"),
    );
    check(
        "bare-number",
        &line("{ from = \"south-west\", angle = 10 } ##"),
    );
    check(
        "said-twice",
        &line("{ through = [\"south-west\", \"south-west\"] } ##"),
    );
    check(
        "lines-do-not-meet",
        &line("{ from = \"south-west\", angle = \"90 deg\" }")
            .replace("\"east\"] }", "\"east\"] } ##"),
    );
    // Behind the corner from which it runs.
    check(
        "leaves-cell",
        &line("{ from = \"south-west\", angle = \"157.5 deg\" }")
            .replace("from = \"low\"", "from = \"low\" ##"),
    );
    let taken = line("{ from = \"south-west\", angle = \"10 deg\" } ##");
    check("name-taken", &taken.replace("slope", "north"));
    let ring = "[lines]\none = { through = [\"south-west\", \"b\"] }\ntwo = { through = [\"south-east\", \"a\"] }\n\
                [points]\na = { meet = [\"one\", \"east\"] } ##\nb = { meet = [\"two\", \"west\"] }\n";
    check(
        "leads-back",
        &format!("{ring}{}", piece("p", "a", "south-west", "")),
    );
    // The axis of a piece that comes later, by way of a line.
    let early = "[lines]\nslope = { through = [\"south-west\", \"on\"] }\n\
                 [points]\non = { meet = [\"b.axis\", \"east\"] }\nlow = { meet = [\"slope\", \"north\"] }\n"
        .to_owned()
        + &piece("a", "low\" ##\n#", "south-east", "")
        + &piece("b", "north-west", "south-east", "");
    check("order", &early);
    check(
        "unknown-piece",
        &format!("[points]\nlow = {{ meet = [\"b.axis\", \"east\"] }} ##\n{bar}"),
    );
    check(
        "unknown-wall",
        &format!("[points]\nlow = {{ meet = [\"a.middle\", \"east\"] }} ##\n{bar}"),
    );
}

#[test]
fn heads() {
    let bar = piece("a", "south-west", "north-east", "");
    check("too-thick", &format!("greatest = 0.05 ##\n{bar}"));
    check("out-of-range", &format!("greatest = 0.5 ##\n{bar}"));
    check("wrong-type", &format!("greatest = \"15 %\" ##\n{bar}"));
    check("unknown-piece", &format!("locks = \"b\" ##\n{bar}"));
    check("said-twice", &format!("locks = [\"a\", \"a\"] ##\n{bar}"));
}

#[test]
fn pieces_that_vanish() {
    // Too near the corner: the side toward it is gone.
    let text = "[points]\nlow = [0.02, 0]\nleft = [0, 0.02]\n".to_owned()
        + &piece("a", "left", "low", "").replace("[[piece]]", "[[piece]] ##");
    check("piece-vanishes", &text);
    // Along a wall and outside: nothing.
    let wall = piece("a", "south-west", "south-east", "").replace("[[piece]]", "[[piece]] ##");
    check("piece-vanishes", &wall);
}

#[test]
fn all_problems_are_shown_at_once() {
    let text = format!(
        "{HEAD}{}{}",
        piece("a", "south-wets", "north-east", "against = \"c\"\n"),
        piece("a", "south-east", "nowhere", "")
    );
    let (codes, _) = refusal(&text);
    for code in ["unknown-point", "unknown-piece", "name-taken"] {
        assert!(codes.contains(&code), "{codes:?}");
    }
    assert_eq!(
        codes
            .iter()
            .filter(|code| **code == "unknown-point")
            .count(),
        2
    );
}

#[test]
fn shipped_patterns_are_read_and_explained() {
    for shipped in SHIPPED_PATTERNS {
        assert!(shipped.text.starts_with('#'), "{}", shipped.name);
        let file = read_pattern(shipped.name, shipped.text).unwrap();
        assert_eq!(file.pattern.name, shipped.name);
    }
}

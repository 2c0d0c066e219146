//! Remedies for authors of patterns, each tried by doing what it says.

use crate::support::cli::Bench;

const HEAD: &str = "about = \"to be put right\"\ncell = \"square\"\nneighbours = \"same\"\n\n";

/// Checks a pattern that is wrong with this code; gives its first remedy with these words in it.
fn remedy(bench: &Bench, pattern: &str, code: &str, words: &str) -> String {
    bench.write("p.toml", pattern);
    let ran = bench.run(&["pattern", "check", "p.toml"]);
    assert_eq!(ran.code, 2, "{}", ran.out);
    assert!(ran.err.contains(&format!("error[{code}]")), "{}", ran.err);
    let help = ran
        .err
        .lines()
        .filter_map(|line| line.split_once("= help: "));
    let mut help = help.map(|(_, help)| help.to_owned());
    help.find(|help| help.contains(words))
        .unwrap_or_else(|| panic!("no `{words}` in\n{}", ran.err))
}

fn is_sound(bench: &Bench, pattern: &str) {
    bench.write("p.toml", pattern);
    bench.ok(&["pattern", "check", "p.toml"]);
}

/// What stands in a text between two others.
fn between<'a>(text: &'a str, before: &str, after: &str) -> &'a str {
    let (_, rest) = text
        .split_once(before)
        .unwrap_or_else(|| panic!("no `{before}` in {text}"));
    rest.split_once(after)
        .unwrap_or_else(|| panic!("no `{after}` in {rest}"))
        .0
}

/// Adds to the `copies` of the last table what a remedy says.
fn with_copies(pattern: &str, remedy: &str) -> String {
    let added = between(remedy, "add ", " to these `copies`");
    let (before, after) = pattern.rsplit_once("copies = { ").unwrap();
    format!("{before}copies = {{ {added}, {after}")
}

/// A slat on the left, and a brace from the wall to it.
const SLAT_AND_BRACE: &str = "[points]\nlow = [0.3, 0]\nhigh = [0.3, 1]\nwest = [0, 0.5]\non-slat = [0.3, 0.5]\nmid-low = [0.5, 0]\nmid-high = [0.5, 1]\n\n[[piece]]\nname = \"slat\"\nfrom = \"low\"\nto = \"high\"\n\n[[piece]]\nname = \"brace\"\nfrom = \"west\"\nto = \"on-slat\"\nagainst = \"slat\"\n\n";

const TO_THE_RIGHT: &str =
    "[[mirror]]\nacross = [\"mid-low\", \"mid-high\"]\ncopies = { brace = \"brace-2\" }\n";

#[test]
fn what_a_mirrored_copy_stands_against_is_named_for_its_copies() {
    let bench = Bench::new();
    let pattern = format!("{HEAD}{SLAT_AND_BRACE}{TO_THE_RIGHT}");
    let remedy = remedy(&bench, &pattern, "end-not-held", "copied without `slat`");
    assert_eq!(
        remedy,
        "`brace` is copied without `slat`, so its copy is cut by `slat` itself: add slat = \"slat-2\" to these `copies`"
    );
    is_sound(&bench, &with_copies(&pattern, &remedy));
}

#[test]
fn what_a_mirrored_copy_laps_is_named_for_its_copies() {
    let bench = Bench::new();
    let rail = "[[piece]]\nname = \"brace\"\nfrom = \"west\"\nto = \"on-slat\"\nhorn = { to = 1.5 }\nlap = \"slat\"\n\n";
    let (slat, _) = SLAT_AND_BRACE
        .split_once("[[piece]]\nname = \"brace\"")
        .unwrap();
    let pattern = format!("{HEAD}{slat}{rail}{TO_THE_RIGHT}");
    let remedy = remedy(
        &bench,
        &pattern,
        "lap-does-not-cross",
        "copied without `slat`",
    );
    is_sound(&bench, &with_copies(&pattern, &remedy));
}

/// A bar across a corner, and a key from the corner to it.
const BAR_AND_KEY: &str = "[points]\ncentre = [0.5, 0.5]\nmid-low = [0.5, 0]\nmid-high = [0.5, 1]\nlow = [0.4, 0]\nleft = [0, 0.4]\non-bar = [0.2, 0.2]\nlow-2 = [0.6, 0]\nright = [1, 0.4]\n\n[[piece]]\nname = \"bar\"\nfrom = \"low\"\nto = \"left\"\n\n[[piece]]\nname = \"key\"\nfrom = \"south-west\"\nto = \"on-bar\"\nagainst = \"bar\"\n\n";

#[test]
fn what_a_turned_copy_stands_against_is_named_for_all_steps() {
    let bench = Bench::new();
    let turn = "[[turn]]\nround = \"centre\"\nsteps = 4\ncopies = { key = [\"key-2\", \"key-3\", \"key-4\"] }\n";
    let pattern = format!("{HEAD}{BAR_AND_KEY}{turn}");
    let remedy = remedy(&bench, &pattern, "does-not-touch", "copied without `bar`");
    assert!(
        remedy.ends_with("add bar = [\"bar-2\", \"bar-3\", \"bar-4\"] to these `copies`"),
        "{remedy}"
    );
    is_sound(&bench, &with_copies(&pattern, &remedy));
}

#[test]
fn a_piece_that_lies_where_the_copy_would_becomes_the_copy() {
    let bench = Bench::new();
    let other = "[[piece]]\nname = \"other\"\nfrom = \"low-2\"\nto = \"right\"\n\n";
    let mirror = "[[mirror]]\nacross = [\"mid-low\", \"mid-high\"]\ncopies = { key = \"key-2\" }\n";
    let pattern = format!("{HEAD}{BAR_AND_KEY}{other}{mirror}");
    let remedy = remedy(&bench, &pattern, "does-not-touch", "copied without `bar`");
    assert!(
        remedy.contains("take `other` out where it is described"),
        "{remedy}"
    );
    let put_right = remedy.replace("and add", "add");
    is_sound(
        &bench,
        &with_copies(&pattern.replace(other, ""), &put_right),
    );
}

#[test]
fn what_lies_on_the_mirrors_line_needs_no_copy() {
    let bench = Bench::new();
    // The middle slat is its own image: only the wall is missed.
    let pattern = format!("{HEAD}{SLAT_AND_BRACE}{TO_THE_RIGHT}")
        .replace(
            "low = [0.3, 0]\nhigh = [0.3, 1]",
            "low = [0.5, 0]\nhigh = [0.5, 1]",
        )
        .replace("on-slat = [0.3, 0.5]", "on-slat = [0.5, 0.5]");
    is_sound(&bench, &pattern);
    let pattern = pattern.replace("west = [0, 0.5]", "west = [0.1, 0.5]");
    bench.write("p.toml", &pattern);
    let ran = bench.run(&["pattern", "check", "p.toml"]);
    assert!(
        ran.err
            .contains("error[end-not-held]: mirror[0].copies.brace"),
        "{}",
        ran.err
    );
    assert!(!ran.err.contains("copied without"), "{}", ran.err);
}

#[test]
fn a_copy_that_is_not_lapped_is_named() {
    let bench = Bench::new();
    let pattern = format!(
        "{HEAD}[points]\nlow = [0.3, 0]\nhigh = [0.3, 1]\nleft = [0, 0.3]\nright = [1, 0.3]\nmid-low = [0.5, 0]\nmid-high = [0.5, 1]\n\n[[piece]]\nname = \"post\"\nfrom = \"low\"\nto = \"high\"\n\n[[piece]]\nname = \"rail\"\nfrom = \"left\"\nto = \"right\"\nlap = [\"post\"]\n\n[[mirror]]\nacross = [\"mid-low\", \"mid-high\"]\ncopies = {{ post = \"post-2\" }}\n"
    );
    let remedy = remedy(&bench, &pattern, "pieces-overlap", "not its copy");
    let added = between(&remedy, "add ", " there");
    let key = between(&remedy, "` in `", "`");
    let list = format!("{key} = [\"post\"");
    is_sound(&bench, &pattern.replace(&list, &format!("{list}, {added}")));
}

#[test]
fn a_piece_that_meets_a_junction_by_chance_gets_a_point_of_its_own() {
    let bench = Bench::new();
    // Two braces meet on the rail's axis; the spoke comes to the same place from the other side.
    let pattern = format!(
        "{HEAD}[points]\nleft = [0, 0.5]\nright = [1, 0.5]\ncentre = [0.5, 0.5]\ntop = [0.5, 1]\n\n[[piece]]\nname = \"rail\"\nfrom = \"left\"\nto = \"right\"\n\n[[piece]]\nname = \"brace\"\nfrom = \"south-west\"\nto = \"centre\"\nagainst = \"rail\"\n\n[[piece]]\nname = \"brace-2\"\nfrom = \"south-east\"\nto = \"centre\"\nagainst = \"rail\"\n\n[[piece]]\nname = \"spoke\"\nfrom = \"top\"\nto = \"centre\"\nagainst = \"rail\"\n\n[[junction]]\nat = \"centre\"\n"
    );
    let remedy = remedy(&bench, &pattern, "facet-does-not-fit", "is a part of it");
    assert!(
        remedy.starts_with("`spoke` ends at the junction's point"),
        "{remedy}"
    );
    let line = between(&remedy, "under [lines] ", ", under");
    let point = between(&remedy, "under [points] ", ", and ");
    let end = remedy.rsplit_once(", and ").unwrap().1;
    let key = end.split(' ').next().unwrap();
    let (before, spoke) = pattern.split_once("name = \"spoke\"").unwrap();
    let spoke = spoke.replacen(&format!("{key} = \"centre\""), end, 1);
    let before = before.replace(
        "[points]\n",
        &format!("[lines]\n{line}\n\n[points]\n{point}\n"),
    );
    is_sound(&bench, &format!("{before}name = \"spoke\"{spoke}"));
}

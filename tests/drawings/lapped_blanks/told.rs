//! What is told of lapped blanks, and what is refused.

use super::{Case, shipped_pattern};
use crate::support::cli::{Bench, shipped};

const STRIP: &str = "thickness = \"2.2 mm\"\ndepth = \"9 mm\"\nclearance = \"0.05 mm\"";
const DRAW: [&str; 6] = [
    "outline",
    "job.toml",
    "--what",
    "lapped",
    "-o",
    "lapped.dxf",
];

/// Words without the breaks of lines.
fn flowing(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn drawn(folder: &Bench, args: &[&str]) -> (String, String) {
    let ran = folder.ok(args);
    (flowing(&ran.out), flowing(&ran.err))
}

#[test]
fn the_sheet_says_which_end_which_face_and_which_are_turned_over() {
    let folder = Case::at_angle(73.3, 2.2, STRIP).folder();
    let (sheet, warnings) = drawn(&folder, &DRAW);
    for words in [
        "From sheet: lapped blanks",
        "2.20 mm thick",
        "strip.measured_thickness",
        "with end A at the left, its front face toward the sheet's far edge",
        "each 1.50 mm longer than the piece's point there",
        "4 of them (falling) lie in the panel with their front faces in front; 4 (rising) are the same part turned over",
        "73.3 deg 2.35 3.01 0.66",
        "cut them from one of the two drawings only",
    ] {
        assert!(
            sheet.to_lowercase().contains(&words.to_lowercase()),
            "{words}: {sheet}"
        );
    }
    assert!(
        warnings.contains("slant-cut-square") && warnings.contains("3.01 mm wide along the piece")
    );
    let (pared, _) = drawn(&folder, &["pare", "job.toml"]);
    for words in [
        "or take the blanks that were cut from sheet as long, with their half laps in them",
        "a blank that was cut from sheet for it has that already",
        "one from the back lies underneath",
    ] {
        assert!(pared.contains(words), "{words}: {pared}");
    }
    // For an opening as measured no blank is as long.
    let opening = ["pare", "job.toml", "--cell-opening", "33mm,44.1mm"];
    let (measured, _) = drawn(&folder, &opening);
    assert!(
        measured.contains("Cut its half lap, as it is said above.") && !measured.contains("blank"),
        "{measured}"
    );
}

#[test]
fn mirrored_cells_take_mirror_images() {
    let (sheet, _) = drawn(&Case::posts("mirror").folder(), &DRAW);
    for words in [
        "1 left 2 60.40 rail 18.72 3.93 4.50 front",
        "4 left mirrored 2 60.40 rail 18.72 3.93 4.50 front",
        "All lie in the panel with their front faces in front.",
    ] {
        assert!(sheet.contains(words), "{words}: {sheet}");
    }
    let (sheet, _) = drawn(&Case::posts("same").folder(), &DRAW);
    assert!(
        sheet.contains("All lie in the panel with their front faces in front.")
            && !sheet.contains("turned over"),
        "{sheet}"
    );
}

#[test]
fn plan_outlines_point_to_the_blanks() {
    let folder = Case::crossed([45.0, 45.0], STRIP).folder();
    let ran = folder.ok(&[
        "outline",
        "job.toml",
        "--what",
        "pieces",
        "-o",
        "pieces.dxf",
    ]);
    assert!(
        ran.err.contains("lap-not-drawn") && ran.err.contains("--what lapped"),
        "{}",
        ran.err
    );
}

#[test]
fn they_prove_without_being_named_and_share_a_sheet_with_strips() {
    let folder = Case::at_angle(60.0, 2.2, STRIP).folder();
    for (what, against) in [
        ("lapped", "ALL 8 LAPPED BLANKS OF THE JOB"),
        (
            "strips,lapped",
            "ALL 6 STRIPS AND 8 LAPPED BLANKS OF THE JOB",
        ),
        (
            "lapped,blocks,comb",
            "8 LAPPED BLANKS AND 10 GUIDE BLOCKS AND 1 COMB OF SLOTS",
        ),
    ] {
        for version in ["r2000", "r12"] {
            folder.ok(&[
                "outline", "job.toml", "--what", what, "--dxf", version, "-o", "a.dxf",
            ]);
            for more in [&[][..], &["--what", what]] {
                let ran = folder.ok(&[&["prove", "a.dxf", "job.toml"], more].concat());
                assert!(ran.out.contains(against), "{what}: {}", ran.out);
            }
        }
    }
    let strips = [
        "outline",
        "job.toml",
        "--what",
        "lapped,pieces",
        "-o",
        "b.dxf",
    ];
    let ran = folder.run(&strips);
    assert!(
        ran.code == 2 && ran.err.contains("they cannot share one"),
        "{}",
        ran.err
    );
    let other = Case::at_angle(60.5, 2.2, STRIP).folder();
    other.ok(&["outline", "job.toml", "--what", "lapped", "-o", "a.dxf"]);
    folder.write("other.dxf", other.read("a.dxf"));
    let ran = folder.run(&["prove", "other.dxf", "job.toml", "--what", "lapped"]);
    assert_eq!(ran.code, 1, "{}", ran.out);
}

/// An SVG alone is compared with its drawing before it is written; its polygons are the blanks.
#[test]
fn a_picture_holds_the_same_blanks() {
    let folder = Case::crossed([45.0, 45.0], STRIP).folder();
    folder.ok(&["outline", "job.toml", "--what", "lapped", "-o", "a.svg"]);
    let svg = folder.read("a.svg");
    let (_, outlines) = svg.split_once("id=\"OUTLINES\"").unwrap();
    let corners: Vec<usize> = (outlines.split("points=\"").skip(1))
        .map(|rest| rest.split('"').next().unwrap().split(' ').count())
        .collect();
    // Four corners of the blank, four of its slot.
    assert_eq!(corners, [8; 8]);
}

#[test]
fn a_router_gets_reliefs_and_bridges() {
    let folder = Case::at_angle(60.0, 2.2, STRIP).folder();
    folder.write("laser.toml", shipped("sheet-router"));
    folder.ok(&DRAW);
    let ran = folder.ok(&["prove", "lapped.dxf", "job.toml"]);
    assert!(ran.out.contains("ALL 8 LAPPED BLANKS"), "{}", ran.out);
    let text = folder.read("lapped.dxf");
    assert!(text.contains("BRIDGES"), "no bridges");
}

#[test]
fn a_build_makes_them_where_pieces_lap() {
    let folder = Case::crossed([45.0, 45.0], STRIP).folder();
    folder.ok(&["build", "job.toml", "-o", "out"]);
    let names = |folder: &Bench| {
        let all = folder.contents().into_keys();
        all.map(|path| path.display().to_string())
            .collect::<Vec<_>>()
    };
    let has = |folder: &Bench, name: &str| names(folder).iter().any(|path| path.ends_with(name));
    assert!(
        has(&folder, "lapped.dxf") && has(&folder, "lapped.svg"),
        "{:?}",
        names(&folder)
    );
    let page = folder.read("out/set-up.html");
    assert!(page.contains("Lapped blanks") && page.contains("lapped.dxf"));
    let ran = folder.ok(&["prove", "out/lapped.dxf", "job.toml"]);
    assert!(ran.out.contains("ALL 8 LAPPED BLANKS"));
    let folder = Case {
        pattern: shipped_pattern("single-diagonal"),
        ..Case::crossed([45.0, 45.0], STRIP)
    }
    .folder();
    folder.ok(&["build", "job.toml", "-o", "out"]);
    assert!(!has(&folder, "lapped.dxf"));
}

#[test]
fn nothing_is_drawn_where_nothing_laps() {
    let case = Case {
        pattern: shipped_pattern("single-diagonal"),
        ..Case::crossed([45.0, 45.0], STRIP)
    };
    let folder = case.folder();
    let ran = folder.run(&DRAW);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("nothing-to-cut") && ran.err.contains("infill.pattern"),
        "{}",
        ran.err
    );
    assert!(!folder.path("lapped.dxf").exists());
}

/// A rail that crosses a post at a sharp angle near its end: cut square, the slot would reach the
/// facets there. And two posts so near that the rail's two slots, cut square, meet.
#[test]
fn laps_that_would_leave_too_little_wood_are_refused() {
    let with = |a: f64, c: f64, high: f64| Case {
        pattern: format!(
            "about = \"x\"\ncell = \"square\"\nneighbours = \"same\"\n[points]\n\
             a = [{a}, 0]\nb = [{a}, 1]\nc = [{c}, 0]\nd = [{c}, 1]\n\
             west = [0, 0.1]\nhigh = [1, {high}]\n\
             [[piece]]\nname = \"left\"\nfrom = \"a\"\nto = \"b\"\n\
             [[piece]]\nname = \"right\"\nfrom = \"c\"\nto = \"d\"\n\
             [[piece]]\nname = \"rail\"\nfrom = \"west\"\nto = \"high\"\nlap = [\"left\", \"right\"]\n"
        ),
        ..Case::crossed([60.0, 60.0], STRIP)
    };
    with(0.3, 0.7, 0.8).folder().ok(&DRAW);
    for (a, c, words) in [
        (0.05, 0.7, "the facets of end A"),
        (0.45, 0.53, "between two half laps"),
    ] {
        let folder = with(a, c, 0.8).folder();
        let ran = folder.run(&DRAW);
        let told = flowing(&ran.err);
        assert_eq!(ran.code, 2, "{a} {told}");
        assert!(
            told.contains("square-cut-web-too-thin") && told.contains(words),
            "{a}: {told}"
        );
        assert!(!folder.path("lapped.dxf").exists());
    }
}

//! Pictures beside the demo jobs are those that the program makes: byte for byte.

use super::demo;
use crate::support::cli::Bench;
use crate::support::{picture_differs, poppler};
use std::fs;
use std::path::{Path, PathBuf};

fn kept_at(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/pictures");
    folder.join(name)
}

fn kept(name: &str) -> String {
    fs::read_to_string(kept_at(name)).unwrap()
}

/// `pdftoppm -r 80 -png -singlefile` of `sheet demo/tea-cabinet.toml --part sled`. Edges of letters may look
/// otherwise by another poppler; a figure that is another one differs by more.
#[test]
fn the_saw_card_beside_the_demo_jobs_is_that_of_the_program() {
    let bench = Bench::new();
    bench.write("job.toml", demo("tea-cabinet"));
    bench.ok(&["sheet", "job.toml", "--part", "sled", "-o", "sled.pdf"]);
    let [page, made] = ["sled.pdf", "made"].map(|name| bench.path(name).display().to_string());
    poppler(
        "pdftoppm",
        &["-r", "80", "-png", "-singlefile", &page, &made],
    );
    let kept = kept_at("tea-cabinet-sled.png");
    let differs = picture_differs(&bench.path("made.png"), &kept);
    assert!(differs < 1e-4, "make {} anew: {differs}", kept.display());
}

#[test]
fn pictures_beside_the_demo_jobs_are_those_of_the_program() {
    let bench = Bench::new();
    for job in ["tea-cabinet", "stair-window"] {
        bench.write(&format!("{job}.toml"), demo(job));
        let (text, picture) = (format!("{job}.toml"), format!("{job}.svg"));
        bench.ok(&["outline", &text, "--what", "panel", "-o", &picture]);
        assert!(
            bench.read(&picture) == kept(&picture),
            "make demo/pictures/{picture} anew"
        );
    }
    for figure in ["square-hemp-leaf", "hexagon-star", "well-curb"] {
        let picture = format!("{figure}.svg");
        bench.ok(&["pattern", "show", figure, "--picture", &picture]);
        assert!(
            bench.read(&picture) == kept(&picture),
            "make demo/pictures/{picture} anew"
        );
    }
}

/// Breadths over the picture's of the polygons in each picture whose title begins so.
fn shares<'a>(page: &'a str, class: &str, title: &str) -> Vec<(&'a str, f64)> {
    let begin = format!("<svg class=\"{class}\" viewBox=\"0 0 ");
    let pictures = page.split(&begin).skip(1);
    let shown = pictures.filter_map(|rest| rest.split("</svg>").next());
    let named = shown.filter(|picture| picture.contains(&format!("aria-label=\"{title}")));
    let share = |picture: &'a str| {
        let breadth: f64 = picture.split(' ').next().unwrap().parse().unwrap();
        let rings = picture.split("points=\"").skip(1);
        let rings = rings.filter_map(|rest| rest.split('"').next());
        let wide = rings.map(|ring| {
            let x = ring
                .split(' ')
                .map(|point| point.split(',').next().unwrap());
            let x: Vec<f64> = x.map(|x| x.parse().unwrap()).collect();
            x.iter().copied().fold(f64::MIN, f64::max) - x.iter().copied().fold(f64::MAX, f64::min)
        });
        (picture, wide.fold(0.0, f64::max) / breadth)
    };
    named.map(share).collect()
}

/// Writing takes room of its own: where it asked for more than the whole breadth, cells were dots among it.
#[test]
fn cells_of_each_kind_are_seen_beside_what_is_written_of_them() {
    for job in ["attic-window", "bookcase-back"] {
        let bench = Bench::new();
        bench.write("job.toml", demo(job));
        bench.run(&["sheet", "job.toml", "-o", "sheet.html"]);
        let page = bench.read("sheet.html");
        for (class, least) in [("broad", 0.2), ("narrow", 0.25)] {
            let shares = shares(&page, class, "Cells of kinds ");
            assert!(!shares.is_empty(), "{job}");
            for (picture, share) in shares {
                assert!(share > least, "{job}: {class} {share} in {picture}");
            }
        }
    }
}

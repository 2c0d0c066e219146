//! One figure of one file is changed by a hundredth: each reader must find it.

use super::made_up::cases;
use super::readers::{dxf, number, printed};
use super::{Built, Compared, machines, panel};
use serde_json::Value;

/// A check of the figures that two kinds of files share.
type Check = fn(&Built<'_>, &mut Compared);

/// `text` with a figure, as it stands there, so much greater wherever it stands.
fn off(text: &str, figure: &str, by: f64) -> String {
    assert!(text.contains(figure), "{figure}");
    let places = figure
        .split_once('.')
        .map_or(0, |(_, decimals)| decimals.len());
    let greater = figure.parse::<f64>().unwrap() + by;
    text.replace(figure, &format!("{greater:.places$}"))
}

/// The greatest figure after these letters in a file.
fn greatest(text: &str, before: &str) -> String {
    let figures = text.split(before).skip(1).filter_map(|rest| {
        let end = rest.find(|letter: char| !letter.is_ascii_digit() && letter != '.')?;
        Some(rest[..end].to_owned())
    });
    let value = |figure: &String| figure.parse::<f64>().unwrap_or(f64::MIN);
    figures
        .max_by(|a, b| value(a).total_cmp(&value(b)))
        .unwrap()
}

/// The first figure after these letters in a file.
fn first(text: &str, before: &str) -> String {
    let rest = text.split(before).nth(1).unwrap();
    rest.split(',').next().unwrap().to_owned()
}

/// The greatest x of a drawing's outlines.
fn rightmost(drawing: &str) -> String {
    let outlines = dxf(drawing)
        .into_iter()
        .filter(|(layer, _)| layer == "OUTLINES");
    let places = outlines
        .flat_map(|(_, contour)| contour)
        .map(|point| point[0]);
    places.fold(f64::MIN, f64::max).to_string()
}

#[test]
fn a_hundredth_in_one_file_is_found() {
    let cases = cases(2);
    let built = Built::of(&cases[0]);
    let sled = built.json("sled").unwrap();
    let pieces = built.json("pieces").unwrap();
    let told = |mm: &Value| printed(number(mm), "mm");
    let centre = told(&sled["bundles"][0]["notches"][1]["centre_mm"]);
    let length = format!(
        "{:.3}",
        number(&pieces["pieces"][0]["length_over_points_mm"])
    );
    let read = |name: &str| built.bench.read(&format!("out/{name}"));
    // The file, what is changed in it, who must see it, and what is then said.
    let damage: [(&str, String, Check, &str); 8] = [
        (
            "sled.txt",
            centre.clone(),
            machines::sled,
            "the text has no row",
        ),
        ("set-up.html", centre, machines::sled, "the page has no row"),
        (
            "router.json",
            sled["bundles"][0]["notches"][0]["centre_mm"].to_string(),
            machines::router,
            "[\"notch\"",
        ),
        (
            "notches-1.nc",
            greatest(&read("notches-1.nc"), "X"),
            machines::router,
            "Slot",
        ),
        ("pieces.csv", length, panel::pieces, "length_over_points_mm"),
        (
            "strips.dxf",
            rightmost(&read("strips.dxf")),
            panel::outlines,
            "only the DXF has",
        ),
        (
            "panel.svg",
            first(&read("panel.svg"), "class=\"piece face\" points=\""),
            panel::pieces,
            "the picture lacks",
        ),
        (
            "stock.csv",
            greatest(&read("stock.csv"), "upright,"),
            panel::sticks,
            "length_mm",
        ),
    ];
    for (name, figure, check, says) in damage {
        // The picture is drawn to three decimals, and its shapes are compared by their sizes.
        let by = if name == "panel.svg" { 0.1 } else { 0.01 };
        let whole = read(name);
        built
            .bench
            .write(&format!("out/{name}"), off(&whole, &figure, by));
        let again = built.read_again();
        check(&again, &mut Compared::default());
        built.bench.write(&format!("out/{name}"), whole);
        let differs = again.differs.into_inner();
        assert!(
            differs.iter().any(|told| told.contains(says)),
            "{name} {figure}: {differs:#?}"
        );
    }
}

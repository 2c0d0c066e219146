//! Slanted jobs and sleds made up from numbers, as texts.

use proptest::prelude::*;

/// A job's text and the sled's.
#[derive(Debug, Clone)]
pub struct Texts {
    pub job: String,
    pub sled: String,
}

/// The numbers that a sled is made from, mm and degrees.
#[derive(Debug, Clone, Copy)]
pub struct SledNumbers {
    pub powered: bool,
    pub kerf: f64,
    pub overlap: f64,
    pub base: f64,
    pub swing: f64,
    /// Slots of the rack; none where it is 0.
    pub slot: f64,
}

impl SledNumbers {
    pub fn toml(&self) -> String {
        let SledNumbers {
            powered,
            kerf,
            overlap,
            base,
            swing,
            slot,
        } = self;
        let motor = if *powered {
            format!(
                "diameter = \"300 mm\"\nhighest = \"90 mm\"\ntravel = \"900 mm\"\noverlap = \"{overlap} mm\"\n"
            )
        } else {
            String::new()
        };
        let rack = if *slot > 0.0 {
            format!(
                "[rack]\nslots = [\"{slot} mm\", \"{} mm\"]\nrepeatability = \"0.03 mm\"\ngreatest_misfit = \"0.2 mm\"\n",
                2.0 * slot
            )
        } else {
            String::new()
        };
        format!(
            "kind = \"sled\"\nabout = \"made up\"\n\
             [blade]\npowered = {powered}\nkerf = \"{kerf} mm\"\ntooth = \"flat-top\"\n{motor}\
             [sled]\nbase_thickness = \"{base} mm\"\nwidest_block = \"70 mm\"\n\
             shortest_strip = \"1 mm\"\nlongest_strip = \"20000 mm\"\n\
             [fence]\nswing = \"{swing} deg\"\n\
             [stop]\nnearest = \"0 mm\"\nfarthest = \"20000 mm\"\nrepeatability = \"0.1 mm\"\n\
             [spacers]\ntolerance = \"0.03 mm\"\n{rack}"
        )
    }
}

fn hundredths(least: u32, most: u32) -> impl Strategy<Value = f64> {
    (least..=most).prop_map(|count| f64::from(count) / 100.0)
}

/// Sleds with and without a motor; some kerfs are wider than the notch, some need many passes.
pub fn sleds() -> impl Strategy<Value = SledNumbers> {
    (
        any::<bool>(),
        hundredths(80, 420),
        hundredths(10, 60),
        hundredths(600, 2000),
        prop::sample::select(&[0.0, 25.0, 45.0][..]),
        0.0..1.0_f64,
    )
        .prop_map(|(powered, kerf, overlap, base, swing, keyed)| SledNumbers {
            powered,
            kerf,
            overlap: overlap.min(kerf / 2.0),
            base,
            swing,
            slot: if keyed < 0.5 { 0.0 } else { 40.0 },
        })
}

/// Keys of `[strip]` that change how strips lap and are bundled.
fn joinery(three: bool) -> impl Strategy<Value = String> {
    let laps: &[&str] = if three {
        &[
            "",
            "lap = \"same-depth\"\n",
            "keeps = [\"3 mm\", \"5 mm\", \"4 mm\"]\n",
        ]
    } else {
        &[
            "",
            "weave = \"alternate\"\n",
            "keeps = [\"5 mm\", \"7 mm\"]\n",
        ]
    };
    let bundlings: &[&str] = &["", "bundling = \"runs\"\n"];
    (prop::sample::select(laps), prop::sample::select(bundlings))
        .prop_map(|(lap, bundling)| format!("{lap}{bundling}"))
}

fn strip(thickness: f64, clearance: f64, joinery: &str) -> String {
    format!(
        "[strip]\nthickness = \"{thickness} mm\"\ndepth = \"12 mm\"\nclearance = \"{clearance} mm\"\n\
         least_web = \"1 mm\"\n{joinery}"
    )
}

fn sections() -> impl Strategy<Value = (f64, f64)> {
    (hundredths(200, 400), hundredths(0, 30))
}

fn diamonds() -> impl Strategy<Value = String> {
    let grid = (
        25..=155_u32,
        prop::sample::select(&["upright", "on-point"][..]),
        1..=4_u32,
        1..=4_u32,
    );
    (grid, sections(), joinery(false)).prop_map(
        |((angle, stance, columns, rows), (thickness, clearance), joinery)| {
            format!(
                "title = \"Made up\"\n[grid]\nkind = \"diamond\"\npitch = \"40 mm\"\nangle = \"{angle} deg\"\n\
                 stance = \"{stance}\"\nregion = \"rectangle\"\ncolumns = {columns}\nrows = {rows}\n\
                 overhang = \"25 mm\"\n{}",
                strip(thickness, clearance, &joinery)
            )
        },
    )
}

fn triangles() -> impl Strategy<Value = String> {
    let regions: &[&str] = &[
        "region = \"hexagon\"\nrings = 1\n",
        "region = \"hexagon\"\nrings = 2\n",
        "region = \"rectangle\"\ncolumns = 3\nrows = 3\n",
        "region = \"polygon\"\ncorners = [[\"0 mm\", \"0 mm\"], [\"300 mm\", \"20 mm\"], [\"320 mm\", \"200 mm\"], [\"100 mm\", \"280 mm\"]]\n",
    ];
    let grid = (
        // Steps of 40 mm square to the kerf, and others.
        prop::sample::select(&[46.188_021_5, 50.0][..]),
        prop::sample::select(&["lying", "upright"][..]),
        prop::sample::select(regions),
    );
    (grid, sections(), joinery(true)).prop_map(
        |((side, stance, region), (thickness, clearance), joinery)| {
            format!(
                "title = \"Made up\"\n[grid]\nkind = \"triangular\"\nside = \"{side} mm\"\n\
                 stance = \"{stance}\"\n{region}overhang = \"25 mm\"\n{}",
                strip(thickness, clearance, &joinery)
            )
        },
    )
}

/// Jobs with sleds.
pub fn texts() -> impl Strategy<Value = Texts> {
    let jobs = prop_oneof![diamonds(), triangles()];
    (jobs, sleds()).prop_map(|(job, sled)| Texts {
        job,
        sled: sled.toml(),
    })
}

//! Jobs and sleds made up from numbers, as texts.

use crate::made_up::texts;
use proptest::prelude::*;
use proptest::sample::select;

/// The numbers that a sled is made from, mm and degrees.
#[derive(Debug, Clone)]
pub struct Sled {
    pub powered: bool,
    pub kerf: f64,
    pub bevel: f64,
    pub widest_block: f64,
    pub correction: f64,
    pub swing: f64,
    pub stop: [f64; 2],
    pub spacers: bool,
    /// Names and what they measure.
    pub rack: Vec<(f64, f64)>,
    pub repeatability: f64,
}

/// How closely the stop of every made-up sled can be set.
pub const STOP_REPEATS: f64 = 0.1;

impl Sled {
    pub fn toml(&self) -> String {
        let motor = if self.powered {
            "diameter = \"254 mm\"\nhighest = \"75 mm\"\ntravel = \"900 mm\"\noverlap = \"0.3 mm\"\n"
        } else {
            ""
        };
        let tooth = if self.bevel > 0.0 {
            format!(
                "tooth = \"alternate-bevel\"\nbevel = \"{} deg\"\n",
                self.bevel
            )
        } else {
            "tooth = \"flat-top\"\n".to_owned()
        };
        let list = |of: fn(&(f64, f64)) -> f64| {
            let lengths: Vec<String> = (self.rack.iter())
                .map(|slot| format!("\"{} mm\"", of(slot)))
                .collect();
            lengths.join(", ")
        };
        let rack = if self.rack.is_empty() {
            String::new()
        } else {
            format!(
                "[rack]\nslots = [{}]\nmeasured = [{}]\nrepeatability = \"{} mm\"\n\
                 greatest_misfit = \"0.15 mm\"\n",
                list(|slot| slot.0),
                list(|slot| slot.1),
                self.repeatability
            )
        };
        let spacers = if self.spacers {
            "[spacers]\ntolerance = \"0.03 mm\"\n"
        } else {
            ""
        };
        let [nearest, farthest] = self.stop;
        format!(
            "kind = \"sled\"\nabout = \"made up\"\n[blade]\npowered = {}\nkerf = \"{} mm\"\n{tooth}\
             {motor}[sled]\nbase_thickness = \"12 mm\"\nwidest_block = \"{} mm\"\n\
             shortest_strip = \"1 mm\"\nlongest_strip = \"20000 mm\"\nheight_correction = \"{} mm\"\n\
             [fence]\nswing = \"{} deg\"\n[stop]\nnearest = \"{nearest} mm\"\nfarthest = \"{farthest} mm\"\n\
             repeatability = \"{STOP_REPEATS} mm\"\n{spacers}{rack}",
            self.powered, self.kerf, self.widest_block, self.correction, self.swing
        )
    }
}

fn racks() -> impl Strategy<Value = Vec<(f64, f64)>> {
    let slot = (
        any::<bool>(),
        select(&[0.0, 0.0, 0.02, -0.03, 0.08, -0.12][..]),
    );
    prop::collection::vec(slot, 10).prop_map(|slots| {
        let named = [20.0, 30.0, 40.0, 42.0, 46.99, 47.0, 50.0, 60.0, 80.0, 100.0];
        let slots = named.iter().zip(slots);
        slots
            .filter(|(_, (there, _))| *there)
            .map(|(name, (_, off))| (*name, name + off))
            .collect()
    })
}

/// Key sleds, sleds with a stop, most with spacers, bench hooks.
pub fn sleds() -> impl Strategy<Value = Sled> {
    let saw = prop_oneof![
        3 => (Just(true), select(&[2.4, 2.8, 3.2][..])),
        1 => (Just(false), select(&[0.6, 1.0][..])),
    ];
    let body = (
        select(&[0.0, 15.0][..]),
        select(&[13.0, 24.0, 70.0][..]),
        select(&[0.0, 0.15][..]),
        select(&[0.0, 45.0][..]),
    );
    let stop = (
        select(&[5.0, 5.0, 30.0][..]),
        select(&[60.0, 100.0, 850.0, 850.0][..]),
    );
    let key = prop_oneof![1 => Just(Vec::new()), 3 => racks()];
    (
        saw,
        body,
        stop,
        any::<bool>(),
        key,
        select(&[0.001, 0.03][..]),
    )
        .prop_map(
            |(
                (powered, kerf),
                (bevel, widest_block, correction, swing),
                stop,
                spacers,
                rack,
                repeatability,
            )| {
                Sled {
                    powered,
                    kerf,
                    bevel,
                    widest_block,
                    correction,
                    swing,
                    stop: [stop.0, stop.1],
                    spacers,
                    rack,
                    repeatability,
                }
            },
        )
}

fn squares() -> impl Strategy<Value = String> {
    let pitch = select(&[20.0, 20.0, 30.0, 40.0, 40.0, 42.0, 47.0, 50.0][..]);
    let pitches = || prop::collection::vec(pitch.clone(), 1..6);
    let section = (
        select(&[2.4, 2.78, 2.8, 3.0, 3.2, 5.4, 7.6, 11.0][..]),
        select(&[0.0, 0.05, 0.1, -0.05][..]),
        select(&[12.0, 15.0, 20.0, 60.0][..]),
    );
    let joinery: &[&str] = &[
        "",
        "",
        "weave = \"alternate\"\n",
        "keeps = [\"5 mm\", \"7 mm\"]\n",
        "bundling = \"runs\"\n",
    ];
    let work = select(
        &[
            "",
            "",
            "[sled]\naim = \"bays\"\n",
            "[sled]\norder = \"bundles\"\n",
            "[sled]\naim = \"bays\"\norder = \"bundles\"\n",
        ][..],
    );
    (pitches(), pitches(), section, select(joinery), work).prop_map(
        |(xs, ys, (thickness, clearance, overhang), joinery, work)| {
            let list = |pitches: &[f64]| {
                let texts: Vec<_> = pitches.iter().map(|pitch| format!("\"{pitch} mm\"")).collect();
                texts.join(", ")
            };
            format!(
                "title = \"Made up\"\n[grid]\nkind = \"square\"\npitches_x = [{}]\npitches_y = [{}]\n\
                 overhang = \"{overhang} mm\"\n[strip]\nthickness = \"{thickness} mm\"\n\
                 depth = \"12 mm\"\nclearance = \"{clearance} mm\"\nleast_web = \"1 mm\"\n{joinery}{work}",
                list(&xs),
                list(&ys)
            )
        },
    )
}

/// A job's text and its sled: square and slanted.
pub fn jobs() -> impl Strategy<Value = (String, Sled)> {
    let order = select(&["", "[sled]\norder = \"bundles\"\n"][..]);
    let slanted = (texts(), order).prop_map(|(texts, order)| texts.job + order);
    (prop_oneof![squares(), slanted], sleds())
}

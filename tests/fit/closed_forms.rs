//! Spreads by formula beside what follows for one notch by hand, and draws beside formulas.

use crate::made_up::{BY_KEY, BY_STOP, SledText, job, on, order};
use lapwright::predicting::{Form, predict_way};

/// Deviation of a figure plus or minus, limits of a uniform spread.
fn of_limits(half: f64) -> f64 {
    half / 3.0_f64.sqrt()
}

/// Two passes by the stop: each edge scatters by stop, seat and half of the kerf; the width by the root of
/// two of the first two, and both halves of two kerfs.
#[test]
fn by_the_stop_two_settings_make_a_width() {
    let job = job(4, 3, "0.05 mm", "");
    let sled = BY_STOP.sled();
    let predicted = on(&sled).predicted(job.panel.lattice()).unwrap();
    let (stop, seat, kerf) = (of_limits(0.03), of_limits(0.01), of_limits(0.01));
    let edge = (stop * stop + seat * seat + kerf * kerf / 4.0).sqrt();
    for cut in &predicted.cuts {
        assert!((cut.near.deviation(&predicted.sources) - edge).abs() < 1e-12);
        assert!((cut.wider().deviation(&predicted.sources) - 2.0_f64.sqrt() * edge).abs() < 1e-12);
        assert!((cut.centre().deviation(&predicted.sources) - edge / 2.0_f64.sqrt()).abs() < 1e-12);
        assert!(cut.near.known.abs() < 1e-9 && cut.far.known.abs() < 1e-9);
        assert!((cut.near.worst(&predicted.sources) - (0.03 + 0.01 + 0.005)).abs() < 1e-12);
    }
    // Each clearance has the mate's thickness on top.
    for joint in &predicted.joints {
        let wanted = (2.0 * edge * edge + of_limits(0.02).powi(2)).sqrt();
        assert!((joint.clearance.deviation(&predicted.sources) - wanted).abs() < 1e-12);
        assert!((joint.clearance.known - 0.05).abs() < 1e-9);
    }
}

/// Blocks of one bundle share the stop's setting, and strips of one block share all.
#[test]
fn what_is_cut_together_is_shared() {
    let job = job(10, 3, "0.05 mm", "");
    let sled = BY_STOP.sled();
    let predicted = on(&sled).predicted(job.panel.lattice()).unwrap();
    let cut = |strip: usize| {
        let joint = predicted
            .joints
            .iter()
            .find(|joint| joint.holder == strip && joint.notch == 1);
        joint.unwrap().cut
    };
    // A block of 30 mm holds ten strips of 3 mm: 11 uprights are two blocks.
    assert_eq!(cut(0), cut(1));
    assert_ne!(cut(0), cut(10));
    let apart = predicted.cuts[cut(0)]
        .centre()
        .plus_for_tests(-1.0, &predicted.cuts[cut(10)].centre());
    let (seat, kerf) = (of_limits(0.01), of_limits(0.01));
    // Per edge a seat and half a kerf, two edges' mean, two blocks.
    let wanted = (seat * seat + kerf * kerf / 4.0).sqrt();
    assert!((apart.deviation(&predicted.sources) - wanted).abs() < 1e-12);
}

/// Over the key n hops come to n times what the slot is long and to the root of n of the landings; by two
/// passes a notch takes over the width that it hangs on, and each hop adds two kerfs' halves, two landings
/// and the key.
#[test]
fn over_the_key_errors_add_up() {
    let job = job(6, 3, "0.05 mm", "");
    let sled = BY_KEY.sled();
    let predicted = on(&sled).predicted(job.panel.lattice()).unwrap();
    let strip = 7;
    assert_eq!(job.panel.lattice().strips[strip].id.family, 1);
    let cuts: Vec<_> = (predicted.joints.iter())
        .filter(|joint| joint.holder == strip)
        .map(|joint| &predicted.cuts[joint.cut])
        .collect();
    assert_eq!(cuts.len(), 7);
    let (land, kerf, key) = (of_limits(0.01), of_limits(0.01), of_limits(0.005));
    let first = cuts[0];
    for (hops, cut) in cuts.iter().enumerate() {
        let n = hops as f64;
        let centre = cut.centre().plus_for_tests(-1.0, &first.centre());
        assert!((centre.known - 0.01 * n).abs() < 1e-9, "{hops}");
        // The mean of both edges: two landings and two halves of a kerf for each hop, each halved.
        let wanted = (n * (land * land / 2.0 + kerf * kerf / 8.0)).sqrt();
        assert!(
            (centre.deviation(&predicted.sources) - wanted).abs() < 1e-12,
            "{hops}"
        );
        let wider = cut.wider().plus_for_tests(-1.0, &first.wider());
        let wanted = (n * (2.0 * land * land + kerf * kerf / 2.0) + (n * key).powi(2)).sqrt();
        assert!(
            (wider.deviation(&predicted.sources) - wanted).abs() < 1e-12,
            "{hops}"
        );
    }
}

trait PlusForTests {
    fn plus_for_tests(&self, share: f64, other: &Form) -> Form;
}

impl PlusForTests for Form {
    fn plus_for_tests(&self, share: f64, other: &Form) -> Form {
        let mut parts = std::collections::BTreeMap::new();
        for (at, part) in &self.parts {
            *parts.entry(*at).or_insert(0.0) += part;
        }
        for (at, part) in &other.parts {
            *parts.entry(*at).or_insert(0.0) += share * part;
        }
        Form {
            known: self.known + share * other.known,
            parts: parts.into_iter().collect(),
        }
    }
}

/// Draws and formulas agree where they should: the span that holds 95 % of a sum of many parts is close to
/// twice its deviation, and the chance to bind close to a normal tail.
#[test]
fn draws_agree_with_formulas() {
    let job = job(4, 3, "0.02 mm", "[fit]\ncrush = \"0.01 mm\"\n");
    let normal = SledText {
        spread: "plus_minus = \"twice\"\nkerf = \"0.01 mm\"\nstrip_thickness = \"0.02 mm\"\nseat = \"0.01 mm\"\n",
        ..BY_STOP
    };
    let sled = normal.sled();
    let way = predict_way(&order(&job, 20_000), on(&sled)).unwrap();
    assert_eq!(way.draws, 20_000);
    for joint in &way.joints {
        // 20,000 draws: four deviations of a share of a half are 0.014.
        assert!(
            (joint.bind_chance - joint.bind_chance_by_formula).abs() < 0.015,
            "{joint:?}"
        );
        assert!(joint.bind_chance > 0.02);
    }
    for figure in way
        .compared
        .iter()
        .filter(|figure| !["opening", "width", "height"].contains(&figure.kind))
    {
        // 1.96 deviations hold 95 % of a normal spread; the shortest span of samples is a little less.
        // Play of strips in their notches is uniform, and goes into bays and sizes.
        let ratio = figure.drawn_mm / figure.expanded_mm;
        assert!((0.9..1.02).contains(&ratio), "{figure:?}");
        assert!(figure.expanded_mm < figure.worst_mm);
    }
}

//! Sleds and jobs by hand: what the sheet says at the bench.

use super::jobs::Sled;
use super::saw::{Order, Thing};
use super::{Planned, planned};
use float_cmp::approx_eq;
use lapwright::instructions::saw::Obstacle;
use lapwright::instructions::sled::Register;
use lapwright::machines::SledWork;
use lapwright::planning::plan_sled;
use lapwright::reading::read_machine;
use lapwright::sheets::sled_sheet;
use lapwright::units::UnitSystem;
use lapwright::writing::text;

/// A key sled with slots that measure what they are called.
pub(super) fn key_sled(slots: &[f64]) -> Sled {
    Sled {
        powered: true,
        kerf: 2.8,
        bevel: 0.0,
        widest_block: 60.0,
        correction: 0.0,
        swing: 0.0,
        stop: [5.0, 850.0],
        spacers: true,
        rack: slots.iter().map(|slot| (*slot, *slot)).collect(),
        repeatability: 0.03,
    }
}

/// One row of cross strips, three uprights.
pub(super) fn square(pitches: &str, overhang: f64, thickness: f64, more: &str) -> String {
    format!(
        "title = \"By hand\"\n[grid]\nkind = \"square\"\npitches_x = [{pitches}]\n\
         pitches_y = [\"40 mm\"]\noverhang = \"{overhang} mm\"\n[strip]\n\
         thickness = \"{thickness} mm\"\ndepth = \"12 mm\"\nclearance = \"0 mm\"\n{more}"
    )
}

/// Bundle by bundle.
pub(super) const BY_BUNDLE: &str = "[sled]\norder = \"bundles\"\n";

pub(super) const UNEVEN: &str = "\"20 mm\", \"47 mm\", \"20 mm\", \"47 mm\"";

pub(super) fn words(found: &Planned) -> String {
    let page = text::sheet(
        &sled_sheet(&found.plan, found.powered()),
        UnitSystem::Millimetres,
    );
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[track_caller]
pub(super) fn says(found: &Planned, sentences: &[&str]) {
    let said = words(found);
    for sentence in sentences {
        assert!(said.contains(sentence), "{sentence}\n{said}");
    }
}

#[test]
fn the_key_comes_out_before_a_strip_is_pushed_to_the_stop() {
    // A stop that does not reach notch 4: that one goes over the key again.
    let short = Sled {
        stop: [5.0, 130.0],
        ..key_sled(&[20.0, 40.0])
    };
    let job = square("\"20 mm\", \"47 mm\", \"20 mm\"", 60.0, 2.8, BY_BUNDLE);
    let found = planned(&job, &short.toml()).unwrap();
    found.play_all().unwrap();
    says(
        &found,
        &[
            "Take the stop away or slide it clear. Notch 2: key in the 20.00 mm slot; drop notch 1",
            "Take the key out. Notch 3: set the stop's face 125.60 mm",
            "Take the stop away or slide it clear. Notch 4: key in the 20.00 mm slot; drop notch 3",
            // The cross strips follow on the uprights, whose last notch was cut over the key.
            "Take the key out. Notch 1: set the stop's face 58.60 mm",
        ],
    );
    let away = |bundle: usize, step: usize| &found.plan.bundles[bundle].steps[step].take_away[..];
    assert_eq!(away(0, 0), []);
    assert_eq!(away(1, 0), [Obstacle::Key]);
    assert_eq!(away(1, 1), [Obstacle::Stop]);
    // The same, where the stop does better than a hop from notch 3 and goes on.
    let found = planned(
        &square(UNEVEN, 60.0, 2.8, BY_BUNDLE),
        &key_sled(&[20.0, 40.0]).toml(),
    )
    .unwrap();
    found.play_all().unwrap();
    says(
        &found,
        &[
            "Take the key out. Notch 3: set the stop's face 125.60 mm",
            "Notch 4: the same with the stop's face at 145.60 mm.",
        ],
    );
}

/// The saw itself: without these words it refuses.
#[test]
fn the_saw_refuses_a_key_that_is_left_standing() {
    let found = planned(
        &square(UNEVEN, 60.0, 2.8, BY_BUNDLE),
        &key_sled(&[20.0, 40.0]).toml(),
    )
    .unwrap();
    let orders = found.printed_orders().unwrap();
    let without = |gone: &dyn Fn(&Order) -> bool| {
        let left: Vec<Order> = orders
            .iter()
            .filter(|order| !gone(order))
            .cloned()
            .collect();
        found.play(&left, 0.0051, true).unwrap_err()
    };
    let taken = |thing| move |order: &Order| *order == Order::Take(thing);
    assert!(without(&taken(Thing::Key)).contains("the key stands under solid wood"));
    assert!(without(&taken(Thing::Stop)).contains("hold the strip off the key"));
    assert!(without(&|order| matches!(order, Order::Key(_))).contains("there is no key"));
    assert!(without(&|order| *order == Order::CutAtEnd).contains("not cut yet"));
    assert!(without(&|order| matches!(order, Order::KeyHeight(_))).contains("how high"));
    let high = |order: &Order| match order {
        Order::KeyHeight(height) => Order::KeyHeight(height + 0.1),
        other => other.clone(),
    };
    let high: Vec<Order> = orders.iter().map(high).collect();
    assert!(
        found
            .play(&high, 0.0051, true)
            .unwrap_err()
            .contains("6.1 high in a notch 6")
    );
}

#[test]
fn blocks_are_cut_in_turn_before_anything_moves() {
    // Two strips of 2.8 in 6: five uprights are three blocks.
    let narrow = Sled {
        widest_block: 6.0,
        ..key_sled(&[20.0, 40.0])
    };
    let found = planned(&square(UNEVEN, 60.0, 2.8, BY_BUNDLE), &narrow.toml()).unwrap();
    found.play_all().unwrap();
    let said = words(&found);
    assert!(
        said.contains("mark the datum end. 3 blocks: cut all of them before you move stop or key.")
    );
    assert!(!said.contains("Do the same"));
    // A square panel's strips are one part: those of the second bundle go with the first's.
    let job = square("\"40 mm\"", 60.0, 2.8, BY_BUNDLE);
    let twins = planned(&job, &key_sled(&[40.0]).toml()).unwrap();
    twins.play_all().unwrap();
    says(
        &twins,
        &["1 block, and those of bundle 2: cut all of them before you move stop or key."],
    );
}

#[test]
fn the_key_comes_out_before_the_fence_swings() {
    let job = "title = \"By hand\"\n[grid]\nkind = \"triangular\"\nside = \"46.1880215 mm\"\n\
               region = \"hexagon\"\nrings = 2\noverhang = \"25 mm\"\n\
               [strip]\nthickness = \"2.8 mm\"\ndepth = \"12 mm\"\n";
    let found = planned(job, &key_sled(&[40.0, 80.0]).toml()).unwrap();
    found.play_all().unwrap();
    says(&found, &["Before you set the fence, take the key out."]);
    let cleared = found
        .plan
        .settings
        .iter()
        .filter(|setting| !setting.take_away.is_empty());
    assert_eq!(cleared.count(), 1);
}

#[test]
fn a_second_pass_for_less_than_can_be_set_is_not_taken() {
    // 2.78 + 0.05 in a kerf of 2.8: 0.03 is left, the stop repeats to 0.1.
    let job = square("\"40 mm\"", 60.0, 2.78, "")
        .replace("clearance = \"0 mm\"", "clearance = \"0.05 mm\"");
    let found = planned(&job, &key_sled(&[40.0]).toml()).unwrap();
    found.play_all().unwrap();
    let blade = &found.plan.blade;
    assert_eq!((blade.passes_per_notch, blade.pass_shift_mm), (1, 0.0));
    assert!(approx_eq!(
        f64,
        blade.one_pass_short_mm.unwrap(),
        0.03,
        epsilon = 1e-9
    ));
    assert!(approx_eq!(
        f64,
        found.plan.fit.clearance_mm,
        0.02,
        epsilon = 1e-9
    ));
    let warning = found
        .warnings
        .iter()
        .find(|warning| warning.code == "one-pass-narrower")
        .unwrap();
    let said = warning.message.text(UnitSystem::Millimetres);
    assert!(
        said.contains(
            "0.03 mm narrower than drawn, and laps 0.02 mm loose instead of 0.05 mm loose"
        ),
        "{said}"
    );
    says(
        &found,
        &["passes for each notch 1 the kerf makes the notch, 0.03 mm narrower than drawn"],
    );
    // What is hinted makes it go away.
    let hint = warning.hint.clone().unwrap().text(UnitSystem::Millimetres);
    assert_eq!(hint, "to have them as drawn: strips 2.75 mm thick");
    let wide = Sled {
        kerf: 2.83,
        ..key_sled(&[40.0])
    };
    for (job, sled) in [
        (job.clone(), wide),
        (job.replace("2.78 mm", "2.75 mm"), key_sled(&[40.0])),
    ] {
        let found = planned(&job, &sled.toml()).unwrap();
        assert!(
            found
                .warnings
                .iter()
                .all(|warning| warning.code != "one-pass-narrower")
        );
    }
    // Too thick a strip is held tight, and a rest that can be set is cut.
    let tight = planned(
        &square("\"40 mm\"", 60.0, 2.88, ""),
        &key_sled(&[40.0]).toml(),
    )
    .unwrap();
    let said = tight.warnings[0].message.text(UnitSystem::Millimetres);
    assert!(
        said.contains("laps 0.08 mm tight instead of 0.00 mm loose"),
        "{said}"
    );
    let two = planned(
        &square("\"40 mm\"", 60.0, 2.92, ""),
        &key_sled(&[40.0]).toml(),
    )
    .unwrap();
    assert_eq!(two.plan.blade.passes_per_notch, 2);
}

#[test]
fn three_passes_go_over_a_key_and_four_do_not() {
    // Kerf 2.8, overlap 0.3: three passes make up to 7.8. At 6.6 the outer two leave 1.0 in the
    // middle, which the kerf covers within 0.9.
    let job = square("\"40 mm\", \"40 mm\"", 60.0, 6.6, "");
    let found = planned(&job, &key_sled(&[40.0]).toml()).unwrap();
    found.play_all().unwrap();
    says(
        &found,
        &[
            "pushed to each side of the key, then midway between, by eye, within 0.90 mm: only waste is left there.",
        ],
    );
    let four = planned(
        &square("\"40 mm\", \"40 mm\"", 60.0, 9.0, ""),
        &key_sled(&[40.0]).toml(),
    )
    .unwrap();
    four.play_all().unwrap();
    let steps = || four.plan.bundles.iter().flat_map(|bundle| &bundle.steps);
    assert!(steps().all(|step| matches!(step.register, Register::Stop { .. })));
    assert!(four.plan.key.is_none());
    let unused = &four.warnings[0];
    assert_eq!(unused.code, "key-not-used");
    // (9 + 2 x 0.3) / 3.
    let hint = unused.hint.clone().unwrap().text(UnitSystem::Millimetres);
    assert_eq!(hint, "a kerf of at least 3.20 mm takes fewer");
    let wide = Sled {
        kerf: 3.2,
        ..key_sled(&[40.0])
    };
    assert!(
        planned(&square("\"40 mm\", \"40 mm\"", 60.0, 9.0, ""), &wide.toml())
            .unwrap()
            .plan
            .key
            .is_some()
    );
}

#[test]
fn a_hand_saw_has_no_use_for_a_key() {
    let hook = Sled {
        powered: false,
        kerf: 0.6,
        ..key_sled(&[40.0])
    };
    let found = planned(&square("\"40 mm\"", 60.0, 2.8, ""), &hook.toml()).unwrap();
    found.play_all().unwrap();
    assert!(found.plan.key.is_none());
    assert_eq!(found.warnings[0].code, "key-not-used");
}

#[test]
fn spacers_reach_what_the_stop_alone_comes_too_far_for() {
    // The first notch is 13.6 from the end, the stop comes no nearer than 30: it stands for the
    // second, at 63.6, and a spacer of one pitch lies before it. The rest goes over the key.
    let short = Sled {
        stop: [30.0, 100.0],
        ..key_sled(&[50.0])
    };
    let fifty = "\"50 mm\", \"50 mm\", \"50 mm\", \"50 mm\"";
    let job = square(fifty, 15.0, 2.8, BY_BUNDLE)
        .replace("pitches_y = [\"40 mm\"]", "pitches_y = [\"50 mm\"]");
    let found = planned(&job, &short.toml()).unwrap();
    found.play_all().unwrap();
    says(
        &found,
        &[
            "Notch 1: set the stop's face 63.60 mm from the near side of the kerf, spacers of 50.00 mm between it and the datum end; push home and cut.",
            "Take the spacers out. Take the stop away or slide it clear. Notch 2: key in the 50.00 mm slot",
        ],
    );
    let alone = Sled {
        spacers: false,
        ..short
    };
    let (lattice, _) = super::lattice(&job).unwrap();
    let faults = plan_sled(
        &lattice,
        "made up",
        &super::profile(&alone.toml()),
        SledWork::default(),
    )
    .unwrap_err();
    assert_eq!(faults[0].code, "stop-out-of-reach");
    assert!(
        faults[0]
            .hint
            .clone()
            .unwrap()
            .text(UnitSystem::Millimetres)
            .contains("spacers")
    );
}

#[test]
fn spacers_with_several_passes_tell_the_first_and_last_place_of_the_stop() {
    // 3.2 wide with a kerf of 2.8: 0.2 to either side of 138.6.
    let found = planned(
        &square("\"40 mm\", \"40 mm\"", 60.0, 3.2, ""),
        &key_sled(&[]).toml(),
    )
    .unwrap();
    says(
        &found,
        &[
            "With spacers the stop stays at 138.40 mm for the first pass and 138.80 mm for the last.",
        ],
    );
    let passes = &found.plan.bundles[1].by_spacers.as_ref().unwrap().passes_mm;
    assert!(
        approx_eq!(f64, passes[0], 138.4, epsilon = 1e-9)
            && approx_eq!(f64, passes[1], 138.8, epsilon = 1e-9)
    );
}

#[test]
fn slots_that_print_alike_are_refused() {
    let codes = |slots: &[f64]| -> Vec<(String, String)> {
        match read_machine("sled.toml", &key_sled(slots).toml()) {
            Ok(_) => Vec::new(),
            Err(bad) => (bad.findings.iter())
                .map(|found| {
                    (
                        found.code.to_owned(),
                        found.message.text(UnitSystem::Millimetres),
                    )
                })
                .collect(),
        }
    };
    for slots in [[50.0, 50.0], [34.641, 34.638]] {
        let found = codes(&slots);
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!(found[0].0, "slots-alike");
        assert!(found[0].1.starts_with("slots 1 and 2 are both called"));
    }
    // Hundredths of a millimetre apart, and the same to a ten-thousandth of an inch.
    assert_eq!(codes(&[50.004, 50.006]).len(), 1);
    assert!(codes(&[50.0, 50.1]).is_empty());
}

#[test]
fn the_key_table_has_every_slot_that_is_used() {
    // No slot at 47 and none at 87: notch 3 goes over the 67 slot from notch 1.
    let found = planned(
        &square(UNEVEN, 60.0, 2.8, ""),
        &key_sled(&[20.0, 40.0, 67.0]).toml(),
    )
    .unwrap();
    found.play_all().unwrap();
    let key = found.plan.key.as_ref().unwrap();
    let hops = found.plan.bundles.iter().flat_map(|bundle| &bundle.steps);
    for step in hops {
        let Register::Key {
            key_mm, slot_mm, ..
        } = step.register
        else {
            continue;
        };
        let row = key.positions.iter().find(|position| {
            position.slot_mm == Some(slot_mm)
                && approx_eq!(f64, position.centre_to_centre_mm, key_mm, epsilon = 1e-9)
        });
        // As wide as the kerf: from face to face a kerf less than from centre to centre.
        assert!(approx_eq!(
            f64,
            row.unwrap().face_to_kerf_mm,
            key_mm - 2.8,
            epsilon = 1e-9
        ));
    }
    says(&found, &["67.00 64.20 67.00"]);
}

#[test]
fn a_key_is_lower_than_the_notch_is_deep_on_square_grids_too() {
    let found = planned(
        &square("\"40 mm\"", 60.0, 2.8, ""),
        &key_sled(&[40.0]).toml(),
    )
    .unwrap();
    says(
        &found,
        &["height of the key 6.00 mm less than this over the base: the notch drops over it"],
    );
    // Bevelled teeth leave 1.4 tan 15 = 0.375 in the middle of the floor.
    let bevelled = Sled {
        bevel: 15.0,
        ..key_sled(&[40.0])
    };
    let found = planned(&square("\"40 mm\"", 60.0, 2.8, ""), &bevelled.toml()).unwrap();
    assert!(approx_eq!(
        f64,
        found.plan.key.as_ref().unwrap().below_mm,
        5.624_871,
        epsilon = 1e-6
    ));
}

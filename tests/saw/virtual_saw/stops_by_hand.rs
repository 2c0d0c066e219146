//! Sheets by stops, by hand: what the table says, and what the saw makes of it when a row is lost.

use super::by_hand::{UNEVEN, key_sled, says, square, words};
use super::jobs::Sled;
use super::planned;
use super::saw::{Order, Thing};
use lapwright::instructions::rounds::CutOrder;
use lapwright::instructions::saw::Obstacle;

#[test]
fn a_uniform_grid_takes_one_stop_and_one_slot() {
    let job = square("\"40 mm\", \"40 mm\"", 60.0, 2.8, "");
    let found = planned(&job, &key_sled(&[40.0]).toml()).unwrap();
    found.play_all().unwrap();
    assert_eq!(found.plan.order, CutOrder::Stops);
    let [setting] = found.plan.settings.as_slice() else {
        panic!("{:?}", found.plan.settings)
    };
    let [round] = setting.rounds.as_slice() else {
        panic!("{:?}", setting.rounds)
    };
    assert_eq!(round.places.len(), 2);
    says(
        &found,
        &[
            "stop 1 58.60 1 U1-U3 1 of 3 1 back",
            "2 C1-C2 1 of 2 1 front",
            "stop away key 40.00 1 U1-U3 1 of 3 2 over 1 back",
            "2 C1-C2 1 of 2 2 over 1, 3 over 2 front",
        ],
    );
}

#[test]
fn stops_come_before_the_key_and_the_key_goes_through_its_slots_once() {
    // A stop that does not reach the last notch: that one hangs on the third.
    let short = Sled {
        stop: [5.0, 130.0],
        ..key_sled(&[20.0, 40.0])
    };
    let job = square("\"20 mm\", \"47 mm\", \"20 mm\"", 60.0, 2.8, "");
    let found = planned(&job, &short.toml()).unwrap();
    found.play_all().unwrap();
    let bundles = &found.plan.bundles;
    // One stop serves both, and stands while they are cut.
    assert_eq!(bundles[0].steps[0].stop_setting, Some(1));
    assert_eq!(bundles[1].steps[0].stop_setting, Some(1));
    let steps = bundles.iter().flat_map(|bundle| &bundle.steps);
    let away: Vec<Obstacle> = steps.flat_map(|step| step.take_away.clone()).collect();
    assert_eq!(away, [Obstacle::Stop]);
}

/// The saw itself: without these rows it refuses.
#[test]
fn the_saw_refuses_a_row_that_is_lost() {
    let job = square(UNEVEN, 60.0, 2.8, "");
    let found = planned(&job, &key_sled(&[20.0, 40.0]).toml()).unwrap();
    let orders = found.printed_orders().unwrap();
    found.play(&orders, 0.0051, true).unwrap();
    let without = |gone: &dyn Fn(&Order) -> bool| {
        let left: Vec<Order> = orders
            .iter()
            .filter(|order| !gone(order))
            .cloned()
            .collect();
        found.play(&left, 0.0051, true).unwrap_err()
    };
    let no_take = without(&|order| *order == Order::Take(Thing::Stop));
    assert!(no_take.contains("hold the strip off the key"), "{no_take}");
    assert!(without(&|order| matches!(order, Order::Key(_))).contains("there is no key"));
    assert!(without(&|order| matches!(order, Order::CutAtEnd)).contains("not cut yet"));
    let far = |order: &Order| matches!(order, Order::SetStop(at) if *at > 100.0);
    let wrong = without(&far);
    assert!(
        wrong.contains("no notch") || wrong.contains("cut and not drawn"),
        "{wrong}"
    );
}

/// Two depths at one fence: the key of the first setting comes out before stops of the second are set.
#[test]
fn the_key_comes_out_between_settings() {
    let mut there = 0;
    for keeps in ["keeps = [\"5 mm\", \"7 mm\"]\n", "weave = \"alternate\"\n"] {
        let job = square("\"40 mm\", \"40 mm\", \"40 mm\"", 60.0, 2.8, keeps);
        let found = planned(&job, &key_sled(&[40.0, 80.0]).toml()).unwrap();
        found.play_all().unwrap();
        let orders = found.printed_orders().unwrap();
        let key = |order: &Order| *order == Order::Take(Thing::Key);
        if !orders.iter().any(key) {
            continue;
        }
        there += 1;
        let left: Vec<Order> = orders.iter().filter(|order| !key(order)).cloned().collect();
        let refused = found.play(&left, 0.0051, true).unwrap_err();
        assert!(
            refused.contains("the key stands under solid wood"),
            "{refused}"
        );
    }
    assert!(there > 0);
}

/// A block stepped for one face is not rolled over within a round.
#[test]
fn two_rounds_where_stepped_strips_are_notched_in_both_faces() {
    let job = "title = \"By hand\"\n[grid]\nkind = \"triangular\"\nside = \"46.1880215 mm\"\n\
               region = \"hexagon\"\nrings = 2\noverhang = \"25 mm\"\n\
               [strip]\nthickness = \"2.8 mm\"\ndepth = \"12 mm\"\n";
    let found = planned(job, &key_sled(&[]).toml()).unwrap();
    found.play_all().unwrap();
    let rounds: Vec<usize> = found
        .plan
        .settings
        .iter()
        .map(|setting| setting.rounds.len())
        .collect();
    assert_eq!(rounds, [1, 2, 1]);
    says(
        &found,
        &[
            "Two rounds, since a block that is stepped for one face is stepped the wrong way when it is rolled over: \
             first all back faces, then the blocks are clamped anew for the front faces; 4 stops are set a second time.",
            "as it stands",
        ],
    );
    let orders = found.printed_orders().unwrap();
    let left: Vec<Order> = orders
        .iter()
        .filter(|order| **order != Order::ClampAnew)
        .cloned()
        .collect();
    let refused = found.play(&left, 0.0051, true).unwrap_err();
    assert!(
        refused.contains("a stepped block is rolled over"),
        "{refused}"
    );
}

/// 58.6 and 58.604: the same in print, two settings on the saw.
#[test]
fn stops_that_print_alike_are_two() {
    let job = square("\"40 mm\"", 60.0, 2.8, "")
        .replace("pitches_y = [\"40 mm\"]", "pitches_y = [\"40.004 mm\"]");
    let found = planned(&job, &key_sled(&[]).toml()).unwrap();
    found.play_all().unwrap();
    says(
        &found,
        &[
            "stop 2 98.60",
            "stop 3 98.60",
            "Stops 2 and 3 differ by less than is printed: each is a setting of its own.",
        ],
    );
    // What a person cannot set apart by a thousandth of a thousandth is one.
    let same = square("\"40 mm\"", 60.0, 2.8, "")
        .replace("pitches_y = [\"40 mm\"]", "pitches_y = [\"40.0000001 mm\"]");
    let found = planned(&same, &key_sled(&[]).toml()).unwrap();
    found.play_all().unwrap();
    assert!(!words(&found).contains("stop 3"));
}

//! Bundles whose slots run at an angle, are cut from both faces, or are longer than the machine's
//! travel: every program proves clean, and a bundle that is clamped wrongly does not.

use crate::support::routers;
use crate::support::routers::{ROOM, held, plan, prove, roomy, router, task};
use crate::support::slanted::{NotchSpec, Strips, lattice};
use float_cmp::approx_eq;
use lapwright::instructions::router::Registered;
use lapwright::lattice::Face;
use lapwright::machines::Router;
use lapwright::planning::plan_router;
use lapwright::verification::NotchingTask;

const STRIPS: Strips = Strips {
    count: 5,
    thickness: 3.0,
    depth: 12.0,
    length: 240.0,
};

fn all_prove(
    notches: &[NotchSpec],
    router: &Router,
) -> lapwright::instructions::router::RouterPlan {
    routers::all_prove(&lattice(STRIPS, notches), router)
}

#[test]
fn every_angle_from_both_faces_proves_clean() {
    let router = roomy("", "");
    for degrees in [35.0, 45.0, 60.0, 72.5, 90.0, 107.5, 120.0, 135.0, 145.0] {
        for face in [Face::Front, Face::Back] {
            let plan = all_prove(&[(60.0, degrees, face), (130.0, degrees, face)], &router);
            assert_eq!(plan.setups.len(), 1);
            let setup = &plan.setups[0];
            // Seen from the back, what leans to the right leans to the left.
            let seen = if face == Face::Front {
                degrees
            } else {
                180.0 - degrees
            };
            assert!(approx_eq!(
                f64,
                setup.angle.to_degrees(),
                seen,
                epsilon = 1e-9
            ));
            let step = 3.0 / seen.to_radians().tan();
            assert!(approx_eq!(f64, setup.step_back_mm, step, epsilon = 1e-9));
        }
    }
}

#[test]
fn a_bundle_stepped_the_wrong_way_is_found() {
    let router = roomy("", "");
    for degrees in [45.0, 60.0, 120.0] {
        let lattice = lattice(STRIPS, &[(90.0, degrees, Face::Front)]);
        let plan = plan(&lattice, &router);
        let setup = &plan.setups[0];
        for step in [0.0, -1.0, 1.02] {
            let mut task = task(&lattice, &router, setup);
            task.workpiece.step_back_mm *= step;
            assert!(!prove(&task, setup, &router).ok(), "{degrees} {step}");
        }
        // The other face up.
        let mut other = held(setup);
        other.face = Face::Back;
        let task = NotchingTask::of(&lattice, &lattice.bundles[0], &router, &other);
        assert!(!prove(&task, setup, &router).ok());
    }
}

/// A triangular node: two slots through one place, and the same from the other face.
#[test]
fn a_clamping_for_every_face_and_angle_in_working_order() {
    let router = roomy("", "");
    let notches = [
        (60.0, 60.0, Face::Back),
        (60.0, 120.0, Face::Back),
        (120.0, 60.0, Face::Front),
        (120.0, 120.0, Face::Front),
        (180.0, 60.0, Face::Back),
    ];
    let plan = all_prove(&notches, &router);
    let order: Vec<_> = plan
        .setups
        .iter()
        .map(|setup| {
            let notches: Vec<usize> = setup.notches.iter().map(|notch| notch.index).collect();
            (
                setup.lying[0].face_up,
                setup.angle.to_degrees().round(),
                notches,
            )
        })
        .collect();
    assert_eq!(
        order,
        [
            (Face::Back, 120.0, vec![1, 5]),
            (Face::Back, 60.0, vec![2]),
            (Face::Front, 60.0, vec![3]),
            (Face::Front, 120.0, vec![4]),
        ]
    );
    let before: Vec<_> = plan.setups.iter().map(|setup| &setup.cut_before).collect();
    assert_eq!(before, [&vec![], &vec![1, 5], &vec![], &vec![3]]);
    // Rolled over, the back's slot that ran at 60 degrees as seen from above runs at 120.
    let below: Vec<usize> = plan.setups[2]
        .notches_below
        .iter()
        .map(|notch| notch.index)
        .collect();
    assert_eq!(below, [1, 5]);
    let below = plan.setups[3].notches_below[0];
    assert_eq!(below.index, 2);
    assert!(approx_eq!(f64, below.x_mm, 60.0, epsilon = 1e-9));
    assert!(approx_eq!(f64, below.machine_x_mm, 150.0, epsilon = 1e-9));
}

#[test]
fn strips_one_by_one_are_not_stepped() {
    let router = router(&[ROOM[0], ("[fixture]", "[fixture]\nsingle = true")]);
    let plan = all_prove(&[(60.0, 60.0, Face::Front)], &router);
    assert_eq!((plan.setups[0].strips_per_run, plan.setups[0].runs), (1, 5));
    let [low, high] = plan.setups[0].stock.x_mm;
    assert!(low.abs() < 1e-9 && approx_eq!(f64, high, 240.0, epsilon = 1e-9));
}

#[test]
fn a_slot_that_leaves_the_bundle_at_its_end_takes_room_there() {
    let notches = [(6.0, 30.0, Face::Front)];
    let mut router = roomy("", "");
    all_prove(&notches, &router);
    router.fixture.clear_ends = 2.0;
    let lattice = lattice(STRIPS, &notches);
    let refused = plan_router(&lattice, "router", &router, &|at, _| format!("{at}")).unwrap_err();
    assert!(
        refused.iter().any(|fault| fault.code == "no-room-at-end"),
        "{refused:?}"
    );
}

/// Long strips are moved along, each time onto a notch that is there already.
#[test]
fn strips_longer_than_the_travel_register_on_their_own_notches() {
    let router = router(&[(
        "clear_beside = \"8 mm\"",
        "clear_beside = \"20 mm\"\nkey_x = \"40 mm\"\nkey_error = \"0.03 mm\"",
    )]);
    for degrees in [90.0, 60.0, 120.0] {
        for face in [Face::Front, Face::Back] {
            let notches: Vec<NotchSpec> = (0..18)
                .map(|at| (40.0 + 50.0 * f64::from(at), degrees, face))
                .collect();
            let strips = Strips {
                length: 930.0,
                ..STRIPS
            };
            let lattice = lattice(strips, &notches);
            let plan = plan(&lattice, &router);
            assert!(plan.setups.len() >= 4);
            let mut cut = 0;
            for setup in &plan.setups {
                let task = task(&lattice, &router, setup);
                let report = prove(&task, setup, &router);
                assert!(report.ok(), "{degrees} {face:?} {:?}", report.faults);
                cut += setup.notches.len();
                if let Registered::Key { on_notch, x_mm, .. } = setup.registered {
                    assert!(setup.cut_before.contains(&on_notch));
                    assert!(approx_eq!(f64, x_mm, 25.0, epsilon = 1e-9));
                    // With another notch on the key everything is in the wrong place.
                    let mut other = held(setup);
                    other.on_key = Some(on_notch - 1);
                    let task = NotchingTask::of(&lattice, &lattice.bundles[0], &router, &other);
                    assert!(!prove(&task, setup, &router).ok());
                }
            }
            assert_eq!(cut, 18);
        }
    }
}

//! The small router's shipped profile with some of it changed, and proofs of what is planned for it.

use lapwright::instructions::router::{LyingBundle, Registered, RouterPlan, RouterSetup};
use lapwright::lattice::{Lattice, PanelEnd};
use lapwright::machines::{Machine, Router};
use lapwright::planning::plan_router;
use lapwright::reading::read_machine;
use lapwright::verification::{HeldBundle, NotchingTask, ProgramReport, Tolerances, prove_program};
use lapwright::writing::gcode;

/// The shipped profile of a small router with texts replaced by others.
pub fn router(changes: &[(&str, &str)]) -> Router {
    let path = format!("{}/profiles/small-router.toml", env!("CARGO_MANIFEST_DIR"));
    let mut text = std::fs::read_to_string(path).unwrap();
    for (old, new) in changes {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    match read_machine("router.toml", &text).unwrap().machine {
        Machine::Router(router) => router,
        _ => panic!(),
    }
}

/// Changes that give a small router much room, beside the bundle and before it.
pub const ROOM: [(&str, &str); 3] = [
    ("clear_beside = \"8 mm\"", "clear_beside = \"20 mm\""),
    ("x = \"280 mm\"", "x = \"400 mm\""),
    ("zero_x = \"15 mm\"", "zero_x = \"90 mm\""),
];

/// The same with more lines in `[cutting]` and `[fixture]`.
pub fn roomy(cutting: &str, fixture: &str) -> Router {
    let with = |line: &str, more: &str| format!("{line}\n{more}");
    let cutting = with("[cutting]", cutting);
    let fixture = with("[fixture]", fixture);
    let mut changes = ROOM.to_vec();
    changes.push(("[cutting]", &cutting));
    changes.push(("[fixture]", &fixture));
    router(&changes)
}

pub fn plan(lattice: &Lattice, router: &Router) -> RouterPlan {
    plan_router(lattice, "router", router, &|at, _| format!("{at}.nc"))
        .unwrap()
        .0
}

/// A set-up for one of the bundles that share it, as its sheet says that its strips lie.
fn lying(setup: &RouterSetup, one: &LyingBundle) -> HeldBundle {
    let own = |notch: usize| one.own_number(notch);
    HeldBundle {
        strips: setup.count,
        face: one.face_up,
        far_end: matches!(one.end_at_stop, PanelEnd::Right | PanelEnd::Upper),
        notches: (setup.notches.iter())
            .map(|notch| own(notch.index))
            .collect(),
        before: setup.cut_before.iter().map(|notch| own(*notch)).collect(),
        on_key: match setup.registered {
            Registered::EndStop => None,
            Registered::Key { on_notch, .. } => Some(own(on_notch)),
        },
    }
}

/// A set-up for the first of its bundles.
pub fn held(setup: &RouterSetup) -> HeldBundle {
    lying(setup, &setup.lying[0])
}

/// What the proof is told of a set-up, for every bundle that shares it.
pub fn tasks(lattice: &Lattice, router: &Router, setup: &RouterSetup) -> Vec<NotchingTask> {
    let task = |one: &LyingBundle| {
        let bundle = &lattice.bundles[one.bundle - 1];
        NotchingTask::of(lattice, bundle, router, &lying(setup, one))
    };
    setup.lying.iter().map(task).collect()
}

/// The same for the first of them.
pub fn task(lattice: &Lattice, router: &Router, setup: &RouterSetup) -> NotchingTask {
    tasks(lattice, router, setup).remove(0)
}

pub fn prove(task: &NotchingTask, setup: &RouterSetup, router: &Router) -> ProgramReport {
    let text = gcode::program(&setup.path, &router.controller).unwrap();
    prove_program(
        text.as_bytes(),
        &task.workpiece,
        Some(&task.expected),
        &task.limits,
        &Tolerances::default(),
    )
}

/// Every set-up planned; panics where one does not prove clean.
pub fn all_prove(lattice: &Lattice, router: &Router) -> RouterPlan {
    let plan = plan(lattice, router);
    for setup in &plan.setups {
        for task in tasks(lattice, router, setup) {
            let report = prove(&task, setup, router);
            assert!(report.ok(), "{:?}", report.faults);
            assert_eq!(report.notches.len(), setup.notches.len());
        }
    }
    plan
}

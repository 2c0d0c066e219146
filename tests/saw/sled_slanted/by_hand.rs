//! Figures by hand, and what the trade knows.

use super::sled;
use float_cmp::approx_eq;
use lapwright::instructions::saw::Hand;
use lapwright::instructions::sled::{NotchedFaces, Register, SledPlan};
use lapwright::lattice::{Face, Lattice, Turn};
use lapwright::machines::SledWork;
use lapwright::planning::plan_sled;
use lapwright::reading::read_job;
use lapwright::sheets::sled_sheet;
use lapwright::units::UnitSystem;
use lapwright::writing::text;

use crate::support::slanted::{Strips, lattice as one_bundle};

const GRID: &str = "title = \"By hand\"\n[grid]\nkind = \"triangular\"\nside = \"60 mm\"\n\
                    region = \"hexagon\"\nrings = 2\noverhang = \"15 mm\"\n";
const STRIP: &str = "[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n";

/// A shipped sled's text with some of it changed.
pub(super) fn shipped(name: &str, changes: &[(&str, &str)]) -> String {
    let path = format!("{}/profiles/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let mut text = std::fs::read_to_string(path).unwrap();
    for (old, new) in changes {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    text
}

fn lattice(job: &str) -> Lattice {
    read_job("job.toml", job).unwrap().panel.lattice().clone()
}

pub(super) fn planned(job: &str, sled_text: &str) -> SledPlan {
    plan_sled(
        &lattice(job),
        "made up",
        &sled(sled_text),
        SledWork::default(),
    )
    .unwrap()
    .0
}

/// The sheet's words, its line ends taken out.
pub(super) fn words(plan: &SledPlan, powered: bool) -> String {
    let page = text::sheet(&sled_sheet(plan, powered), UnitSystem::Millimetres);
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn hexagon(more: &str) -> String {
    format!("{GRID}{STRIP}{more}")
}

#[track_caller]
fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 2e-6, "{found}, not {wanted}");
}

#[test]
fn a_hexagon_on_a_sled_whose_fence_turns() {
    // t = 3, kerf 3.2, base 15, R = 127: half chords as in the tables of blade.rs, computed apart.
    let plan = planned(&hexagon(""), &shipped("stop-sled", &[]));
    let found: Vec<_> = (plan.settings.iter())
        .map(|setting| {
            let fence = setting.fence.slanted.as_ref().unwrap();
            assert!(fence.wedge.is_none());
            near(setting.fence.from_square.to_degrees(), 30.0);
            near(setting.fence.to_blade.to_degrees(), 60.0);
            near(fence.step_mm, 1.732_051); // 3 / tan 60
            near(fence.kerf_along_fence_mm, 3.695_042); // 3.2 / sin 60
            assert_eq!(fence.step_toward, fence.end_away);
            (
                fence.end_away,
                setting.height_above_base_mm,
                setting.height_above_table_mm,
            )
        })
        .collect();
    let wanted = [
        (Hand::Right, 8.0, 23.0),
        (Hand::Right, 4.0, 19.0),
        (Hand::Left, 6.0, 21.0),
    ];
    assert_eq!(found.len(), wanted.len());
    for (found, wanted) in found.iter().zip(wanted) {
        assert_eq!(found.0, wanted.0);
        near(found.1, wanted.1);
        near(found.2, wanted.2);
    }
    for (setting, chord) in plan
        .settings
        .iter()
        .zip([44.362_146, 31.622_777, 38.574_603])
    {
        near(setting.half_chord_mm.unwrap(), chord);
    }
    near(plan.blade.height_above_base_mm, 8.0);
    // Two strips: 6 / sin 60 + 3.2 / tan 60 + 2 x 44.362146.
    near(plan.blade.travel_mm.unwrap(), 97.500_016);
    // Level strip, node at 75: 75 - 1.5 / tan 60 - 1.6 / sin 60, and with 120 degrees.
    let level = &plan.bundles[0];
    near(level.by_stop[2].stop_to_kerf_mm, 72.286_454);
    near(level.by_stop[3].stop_to_kerf_mm, 74.018_504);
    // The middle strips are notched from both faces without touching the fence.
    let rising = &plan.bundles[3];
    assert_eq!(rising.face, NotchedFaces::Both);
    assert!(rising.steps.iter().all(|step| step.setting == 2));
}

#[test]
fn what_the_trade_knows_of_three_ways() {
    // Upper and lower strip are the same, turned over; lower, middle, upper is the order; each
    // keeps a third. Common practice, no source.
    let plan = planned(
        &hexagon("lap = \"same-depth\"\n"),
        &shipped("stop-sled", &[]),
    );
    let panel = &plan.panel;
    let order: Vec<_> = panel
        .assembly
        .iter()
        .map(|step| step.strips.as_str())
        .collect();
    assert_eq!(order, ["F1-F5", "R1-R5", "L1-L5"]);
    for least in &panel.least_sections {
        near(least.depth_kept_mm, 4.0);
        near(least.thickness_mm, 3.0);
    }
    let alike: Vec<_> = (panel.alike.iter())
        .map(|alike| (alike.bundle, alike.like_bundle, alike.turn))
        .collect();
    let over = Some(Turn::Over);
    assert_eq!(alike, [(7, 1, over), (8, 2, over), (9, 3, over)]);
    let riding = panel.riding.as_ref().unwrap();
    // Of each family two strips of 150 and two of 210 in place of 270: 3 x (240 + 120).
    assert!(!riding.done && riding.bundles_apart == 9 && riding.bundles_together == 3);
    near(riding.wood_mm, 1080.0);
    let said = words(&plan, true);
    for sentence in [
        "stop 1 12.29 1, 7 L1, L5, F1, F5",
        "Bundle 7 is the same part as bundle 1: turn a strip over along its length.",
        "3 bundles to set up for instead of 9, for 1080.00 mm of wood more.",
        "1. Assembly: lay F1-F5, the back face down.",
        "the triangles hold the grid's angles",
    ] {
        assert!(
            said.to_lowercase().contains(&sentence.to_lowercase()),
            "{sentence}\n{said}"
        );
    }
}

#[test]
fn given_shares_and_riding_strips() {
    let keeps = "keeps = [\"3 mm\", \"5 mm\", \"4 mm\"]\nbundling = \"runs\"\n";
    let plan = planned(&hexagon(keeps), &shipped("stop-sled", &[]));
    let kept: Vec<_> = (plan.panel.least_sections.iter())
        .map(|least| (least.family, least.depth_kept_mm))
        .collect();
    assert_eq!(
        kept,
        [
            ("level strip", 3.0),
            ("rising strip", 5.0),
            ("falling strip", 4.0)
        ]
    );
    let trims = &plan.panel.trims;
    assert_eq!(trims.len(), 6);
    assert_eq!((trims[0].bundle, trims[0].strips.as_str()), (1, "L2, L4"));
    near(trims[0].kept_to_mm - trims[0].kept_from_mm, 210.0);
    assert!(plan.panel.riding.as_ref().unwrap().done);
}

#[test]
fn a_fixed_fence_needs_one_wedge_for_both_hands() {
    let fixed = shipped(
        "stop-sled",
        &[("swing = \"45 deg\"", "swing = \"29.9 deg\"")],
    );
    let plan = planned(&hexagon(""), &fixed);
    for setting in &plan.settings {
        let fence = setting.fence.slanted.as_ref().unwrap();
        let wedge = fence.wedge.as_ref().unwrap();
        near(wedge.angle.to_degrees(), 30.0);
        near(wedge.along_mm, 200.0);
        near(wedge.rise_mm, 115.470_054); // 200 tan 30
        assert_eq!(wedge.thick_end, fence.end_away);
    }
    let said = words(&plan, true);
    let wedge = "put a wedge of 30 deg between it and the strips, thick end to the right";
    assert_eq!(said.matches(wedge).count(), 1);
    assert!(
        said.contains("The wedge of setting 1, turned over end for end: thick end to the left.")
    );
    // A sled that says nothing of its fence has a fixed one.
    let silent = shipped("stop-sled", &[("[fence]", ""), ("swing = \"45 deg\"", "")]);
    let i = silent.find("# how far it turns").unwrap();
    let silent = silent.replace(silent[i..].lines().next().unwrap(), "");
    assert_eq!(planned(&hexagon(""), &silent).settings, plan.settings);
}

#[test]
fn a_hook_has_the_other_end_away() {
    // A hand saw cuts from above and its hook's fence stands beyond the strips: the same stops.
    let hook = planned(&hexagon(""), &shipped("bench-hook", &[]));
    let ends: Vec<_> = (hook.settings.iter())
        .map(|setting| setting.fence.slanted.as_ref().unwrap())
        .map(|fence| (fence.end_away, fence.step_toward))
        .collect();
    let (left, right) = (Hand::Left, Hand::Right);
    assert_eq!(ends, [(left, right), (left, right), (right, left)]);
    // 75 - 1.5 / tan 60 - 0.3 / sin 60.
    near(hook.bundles[0].by_stop[2].stop_to_kerf_mm, 73.787_565);
    let said = words(&hook, false);
    assert!(
        said.contains("the face that it names up, each strip 1.73 mm to the right"),
        "{said}"
    );
}

#[test]
fn keys_in_a_hexagon() {
    // 60 mm along the strips is 51.961524 square to the kerf; a key of 2.6 fills 3.002221 of the
    // fence. The slots of the second hand have lost half of their walls to the first.
    let rack = racked("\"51.96 mm\", \"103.92 mm\"]\nmeasured = [\"51.98 mm\", \"103.92 mm\"");
    let plan = planned(&hexagon(""), &rack);
    let key = plan.key.as_ref().unwrap();
    let [position, double] = key.positions.as_slice() else {
        panic!("{:?}", key.positions)
    };
    near(key.width_mm, 2.6);
    near(position.centre_to_centre_mm, 51.961_524);
    near(position.face_to_kerf_mm, 49.361_524);
    near(position.along_fence_mm.unwrap(), 60.0);
    near(position.key_along_fence_mm.unwrap(), 3.002_221);
    // Some notches go over the slot of two steps.
    assert_eq!(
        (position.slot_mm, double.slot_mm),
        (Some(51.96), Some(103.92))
    );
    near(double.centre_to_centre_mm, 103.923_048);
    near(double.face_to_kerf_mm, 101.323_048);
    let longest = &plan.bundles[2];
    let mut shares = Vec::new();
    for step in &longest.steps {
        if let Register::Key {
            key_mm,
            key_along_fence_mm,
            bearing_share,
            ..
        } = step.register
        {
            let along = key_along_fence_mm.unwrap();
            near(key_mm, along * 0.75_f64.sqrt());
            shares.push((step.setting, bearing_share));
        }
    }
    assert_eq!(shares.len(), 8);
    for (setting, share) in shares {
        match setting {
            1 => assert_eq!(share, None),
            _ => near(share.unwrap(), 0.5),
        }
    }
    // Along the strip a misfit square to the kerf counts 1 / sin 60: slot 51.98 for 51.961524,
    // one hop: (0.018476 + 0.03) / sin 60.
    let hop = longest
        .steps
        .iter()
        .find(|step| matches!(step.register, Register::Key { slot_mm, .. } if slot_mm < 60.0));
    near(hop.unwrap().uncertainty_mm, 0.055_975);
    let said = words(&plan, true);
    assert!(said.contains("no more than 50 % of its walls bear on the key"));
    assert!(said.contains("height of the key 4.00 mm less than this over the base"));
}

/// A key sled with the rack of these slots, all true.
fn racked(slots: &str) -> String {
    let rack = shipped("key-sled", &[]);
    let given = |line: &str| line.starts_with("slots") || line.starts_with("measured");
    let kept: Vec<_> = rack.lines().filter(|line| !given(line)).collect();
    let table = format!("[rack]\nslots = [{slots}]\n#");
    kept.join("\n").replace("[rack]", &table)
}

#[test]
fn a_hop_from_a_notch_placed_by_the_stop() {
    // Notches 60 apart at 60 deg and a slot for two steps: the second notch is placed by the stop,
    // the fourth, which it does not reach, hops from it. From the first notch, along the strip: two settings
    // 1.959964 x 0.1 sqrt(2 / 3); one hop no more than its limit, 0.03 / sin 60; all three
    // 1.959964 sqrt((2 x 0.1 x 0.1 + (0.03 / sin 60)^2) / 3). No slot is off.
    let strips = Strips {
        count: 1,
        thickness: 3.0,
        depth: 12.0,
        length: 300.0,
    };
    let notches = [50.0, 110.0, 170.0, 230.0].map(|at| (at, 60.0, Face::Back));
    let lattice = one_bundle(strips, &notches);
    let two = format!("\"{} mm\"", 120.0 * 0.75_f64.sqrt());
    let short = racked(&two).replace("farthest = \"850 mm\"", "farthest = \"150 mm\"");
    let (plan, _) = plan_sled(&lattice, "made up", &sled(&short), SledWork::default()).unwrap();
    let errors: Vec<f64> = (plan.bundles[0].steps.iter())
        .map(|step| step.uncertainty_mm)
        .collect();
    for (found, wanted) in errors.iter().zip([0.0, 0.160_030, 0.034_641, 0.164_761]) {
        near(*found, wanted);
    }
}

#[test]
fn slots_of_the_other_face_take_nothing_from_a_wall() {
    let strips = Strips {
        count: 1,
        thickness: 3.0,
        depth: 12.0,
        length: 300.0,
    };
    let crossed = |other: Face| {
        let node = |at: f64| [(at, 60.0, Face::Back), (at, 100.0, other)];
        let notches: Vec<_> = [50.0, 110.0].into_iter().flat_map(node).collect();
        let lattice = one_bundle(strips, &notches);
        let both = "\"51.96 mm\", \"59.09 mm\"";
        let (plan, _) = plan_sled(
            &lattice,
            "made up",
            &sled(&racked(both)),
            SledWork::default(),
        )
        .unwrap();
        let share = |step: &lapwright::instructions::sled::Step| match step.register {
            Register::Key { bearing_share, .. } => bearing_share,
            _ => None,
        };
        plan.bundles[0].steps.iter().filter_map(share).count()
    };
    assert_eq!((crossed(Face::Back), crossed(Face::Front)), (1, 0));
}

#[test]
fn a_slanted_block_is_wider_along_the_cut() {
    // 3 / sin 30 = 6 along the cut: 13 in 80 mm, so 30 strips make three blocks of 10, 60 wide;
    // travel 60 + 3.2 / tan 30 + 2 x 38.574603.
    let strips = Strips {
        count: 30,
        thickness: 3.0,
        depth: 12.0,
        length: 300.0,
    };
    let lattice = one_bundle(strips, &[(150.0, 30.0, Face::Back)]);
    let (plan, _) = plan_sled(
        &lattice,
        "made up",
        &sled(&shipped("stop-sled", &[])),
        SledWork::default(),
    )
    .unwrap();
    let loads = &plan.bundles[0].loads;
    assert_eq!((loads.blocks, loads.strips_per_block), (3, 10));
    near(loads.block_width_mm, 60.0);
    near(loads.block_travel_mm.unwrap(), 142.691_768);
    let narrow = shipped(
        "stop-sled",
        &[("widest_block = \"80 mm\"", "widest_block = \"5 mm\"")],
    );
    let faults = plan_sled(&lattice, "made up", &sled(&narrow), SledWork::default()).unwrap_err();
    let said = faults[0].message.text(UnitSystem::Millimetres);
    assert!(
        said.contains("6.00 mm wide along a cut at 30 deg"),
        "{said}"
    );
}

#[test]
fn a_loose_diamond_racks_more_than_a_loose_square() {
    // w = 3.3, t = 3: L = (3 - 3.3 cos 60) / sin 60 = 1.5588, and acos(3 / hypot(3.3, L)) less
    // atan(L / 3.3) is 9.4300 deg; a square lap of these racks by 5.4526 deg.
    let job = "title = \"\"\n[grid]\nkind = \"diamond\"\npitch = \"40 mm\"\nangle = \"60 deg\"\n\
               region = \"rectangle\"\ncolumns = 4\nrows = 4\noverhang = \"15 mm\"\n";
    let job = format!("{job}{STRIP}clearance = \"0.3 mm\"\n")
        .replace("title = \"\"", "title = \"Loose\"");
    let thin = shipped("bench-hook", &[]);
    let plan = planned(&job, &thin);
    near(plan.fit.clearance_mm, 0.3);
    assert!(approx_eq!(
        f64,
        plan.fit.racking.to_degrees(),
        9.4300,
        epsilon = 5e-5
    ));
    let hexagon = planned(&hexagon("clearance = \"0.3 mm\"\n"), &thin);
    near(hexagon.fit.racking, 0.0);
}

#[test]
fn two_slots_of_a_node_clear_root_three_thicknesses_at_the_long_sides() {
    // Upper and lower strip of a three-way lap: t / sin 60 wide in the middle of the face, and
    // 1.7321 t at its sides, where the two slots lie farthest apart.
    let plan = planned(&hexagon(""), &shipped("stop-sled", &[]));
    let level = &plan.bundles[0];
    // As drawn: the kerf of 3.2 cuts them wider.
    let width = level.notches[0].drawn_width_mm.unwrap();
    near(width, 3.0 * 1.154_700_5);
    let shift = plan.settings[0]
        .fence
        .slanted
        .as_ref()
        .unwrap()
        .slot_at_fence_mm;
    near(width + 2.0 * shift.abs(), 3.0 * 3_f64.sqrt());
}

#[test]
fn a_woven_square_grid_is_turned_over_once() {
    let job = "title = \"Woven\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 3\nrows = 4\n\
               overhang = \"15 mm\"\n";
    let job = format!("{job}{STRIP}weave = \"alternate\"\n");
    let plan = planned(&job, &shipped("key-sled", &[]));
    assert_eq!(plan.settings.len(), 1);
    let work: Vec<_> = (plan.settings[0].work.iter())
        .map(|work| (work.bundle, work.face, work.notches.clone()))
        .collect();
    assert_eq!(
        work,
        [
            (1, Face::Front, vec![1, 3, 5]),
            (1, Face::Back, vec![2, 4]),
            (2, Face::Back, vec![1, 2, 3, 4]),
        ]
    );
    let order: Vec<_> = plan
        .panel
        .assembly
        .iter()
        .map(|step| step.strips.as_str())
        .collect();
    assert_eq!(order, ["C2, C4", "U1-U4", "C1, C3, C5"]);
}

#[test]
fn left_and_right_handed_bundles_are_told_apart() {
    let strips = Strips {
        count: 2,
        thickness: 3.0,
        depth: 12.0,
        length: 200.0,
    };
    let mut both = one_bundle(
        strips,
        &[(50.0, 60.0, Face::Back), (120.0, 60.0, Face::Back)],
    );
    let mirrored = one_bundle(
        strips,
        &[(50.0, 120.0, Face::Back), (120.0, 120.0, Face::Back)],
    );
    both.bundles.extend(mirrored.bundles);
    let (plan, _) = plan_sled(
        &both,
        "made up",
        &sled(&shipped("stop-sled", &[])),
        SledWork::default(),
    )
    .unwrap();
    let alike = &plan.panel.alike;
    assert_eq!((alike.len(), alike[0].bundle, alike[0].turn), (1, 2, None));
    assert!(words(&plan, true).contains("no turning makes one the other"));
    assert_eq!(plan.bundles[1].same_as_bundle, None);
}

#[test]
fn parts_that_are_turned_end_for_end_change_their_datum_ends() {
    // Front face at 60 deg, 50 and 80 from the one end; back face at 120 deg, as far from the
    // other: over and end for end one is the other, and the saw's settings are the same.
    let strips = Strips {
        count: 2,
        thickness: 3.0,
        depth: 12.0,
        length: 200.0,
    };
    let mut both = one_bundle(
        strips,
        &[(50.0, 60.0, Face::Front), (80.0, 60.0, Face::Front)],
    );
    let turned = one_bundle(
        strips,
        &[(120.0, 120.0, Face::Back), (150.0, 120.0, Face::Back)],
    );
    both.bundles.extend(turned.bundles);
    let (plan, _) = plan_sled(
        &both,
        "made up",
        &sled(&shipped("stop-sled", &[])),
        SledWork::default(),
    )
    .unwrap();
    let alike = &plan.panel.alike[0];
    assert_eq!(
        (alike.turn, alike.ends_change),
        (Some(Turn::OverEndForEnd), true)
    );
    assert_eq!(plan.settings.len(), 1);
    let said = words(&plan, true);
    assert!(
        said.contains(
            "each is the same part as the other. Its datum end lies at the other's far end."
        ),
        "{said}"
    );
}

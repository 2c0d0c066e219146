//! What holds for any job that can be built, through the library.

use crate::support::jobs::{Job, Length, jobs, length};
use crate::support::profiles::{laser_jobs, router_jobs};
use lapwright::lattice::{Face, Lattice, Notch, Strip};
use lapwright::machines::Machine;
use lapwright::planning::{WareBatch, plan_router, plan_sheets};
use lapwright::reading::{Job as ReadJob, read_job, read_machine};
use lapwright::units::{Kind, exact_mm, parse};
use lapwright::writing::dxf::{DxfVersion, dxf};
use lapwright::writing::gcode;
use proptest::prelude::*;
use proptest::test_runner::Config;

fn read(job: &Job) -> ReadJob {
    let text = job.toml();
    read_job("job.toml", &text).unwrap_or_else(|bad| panic!("{:?}\n{text}", bad.findings))
}

fn lattice(job: &Job) -> Lattice {
    read(job).panel.lattice().clone()
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0)
}

/// Strips of one family.
fn family(lattice: &Lattice, family: usize) -> Vec<&Strip> {
    let strips = lattice.strips.iter();
    strips.filter(|strip| strip.id.family == family).collect()
}

/// Whether two notches are the same slot, seen apart from the face and the mate.
fn same_slot(a: &Notch, b: &Notch) -> bool {
    close(a.centre, b.centre) && close(a.width, b.width) && close(a.depth, b.depth)
}

/// A job with every length changed, each spelled exactly in millimetres.
fn changed(job: &Job, change: impl Fn(f64) -> f64) -> Job {
    let length = |length: &Length| {
        let mm = change(length.mm);
        let text = exact_mm(mm);
        Length { text, mm }
    };
    let list = |lengths: &[Length]| lengths.iter().map(length).collect();
    Job {
        title: job.title.clone(),
        pitches_x: list(&job.pitches_x),
        pitches_y: list(&job.pitches_y),
        overhang: length(&job.overhang),
        thickness: length(&job.thickness),
        depth: length(&job.depth),
        clearance: job.clearance.as_ref().map(length),
        // What a job does not say is 2 mm.
        least_web: Some(
            job.least_web
                .as_ref()
                .map_or_else(|| length(&Length::of(2.0)), length),
        ),
    }
}

/// Texts that mostly are quantities.
fn quantities() -> impl Strategy<Value = String> {
    let number = prop_oneof![
        "[0-9]{1,6}",
        "[0-9]{0,4}\\.[0-9]{1,13}",
        "[0-9]{1,2}[ -][0-9]{1,3}/[0-9]{1,3}",
        "[0-9]{1,3}/[0-9]{1,4}",
    ];
    let unit = prop::sample::select(&["mm", "cm", "m", "in", "\"", "inches", "'", "ft"][..]);
    let one = (number, "[ ]?", unit).prop_map(|(number, space, unit)| number + &space + unit);
    let sign = prop::sample::select(&["", "-", "+", "\u{2212}", " "][..]);
    prop_oneof![
        8 => (sign, one.clone()).prop_map(|(sign, one)| sign.to_owned() + &one),
        2 => ("[0-9]{1,2}", one).prop_map(|(feet, inches)| format!("{feet}' {inches}")),
        1 => "[-+0-9./ minct'\"]{1,12}",
    ]
}

fn cases(cases: u32) -> Config {
    Config {
        cases,
        failure_persistence: None,
        ..Config::default()
    }
}

proptest! {
    #![proptest_config(cases(200))]

    #[test]
    fn notches_lie_inside_their_strips_in_order_with_webs_between(job in jobs()) {
        let lattice = lattice(&job);
        let least_web = lattice.section.least_web;
        for strip in &lattice.strips {
            let mut free_from = 0.0;
            for notch in &strip.notches {
                prop_assert!(notch.near_edge() - free_from >= least_web - 1e-9);
                prop_assert!(notch.centre < notch.far_edge());
                prop_assert!(notch.depth > 0.0 && notch.depth < lattice.section.depth);
                free_from = notch.far_edge();
            }
            prop_assert!(strip.length - free_from >= least_web - 1e-9);
        }
    }

    #[test]
    fn counts_are_right_and_bundles_add_up(job in jobs()) {
        let lattice = lattice(&job);
        let (uprights, rows) = (job.pitches_x.len() + 1, job.pitches_y.len() + 1);
        prop_assert_eq!(family(&lattice, 0).len(), uprights);
        prop_assert_eq!(family(&lattice, 1).len(), rows);
        prop_assert_eq!(lattice.crossings.len(), uprights * rows);
        for strip in &lattice.strips {
            let mates = [rows, uprights][strip.id.family];
            prop_assert_eq!(strip.notches.len(), mates);
        }
        let mut bundled: Vec<_> = lattice.bundles.iter().flat_map(|bundle| &bundle.strips).collect();
        bundled.sort();
        let all: Vec<_> = lattice.strips.iter().map(|strip| &strip.id).collect();
        prop_assert_eq!(bundled, all);
        for bundle in &lattice.bundles {
            for id in &bundle.strips {
                let strip = lattice.strips.iter().find(|strip| strip.id == *id).unwrap();
                prop_assert!(close(strip.length, bundle.length));
                for (own, other) in strip.notches.iter().zip(&bundle.notches) {
                    prop_assert!(same_slot(own, other) && own.face == other.face);
                }
            }
        }
    }

    /// At a crossing both mates give way just as much as the other keeps.
    #[test]
    fn mates_fill_each_other(job in jobs()) {
        let lattice = lattice(&job);
        let strip = |id| lattice.strips.iter().find(|strip| strip.id == id).unwrap();
        for crossing in &lattice.crossings {
            let (front, back) = (strip(crossing.front), strip(crossing.back));
            let in_front = front.notches.iter().find(|notch| notch.mate.strip() == Some(back.id)).unwrap();
            let in_back = back.notches.iter().find(|notch| notch.mate.strip() == Some(front.id)).unwrap();
            prop_assert!(close(in_front.depth + in_back.depth, job.depth.mm));
            prop_assert_eq!((in_front.face, in_back.face), (Face::Back, Face::Front));
            // Uprights stand at their x, cross strips at their y.
            prop_assert!(close(in_front.centre, crossing.at.y));
            prop_assert!(close(in_back.centre, crossing.at.x));
        }
    }

    #[test]
    fn the_lattice_has_the_strips_of_the_numbers(job in jobs()) {
        let lattice = lattice(&job);
        for (at, kind) in job.kinds().iter().enumerate() {
            for strip in family(&lattice, at) {
                prop_assert!(close(strip.length, kind.length));
                prop_assert_eq!(strip.notches.len(), kind.centres.len());
                for (notch, centre) in strip.notches.iter().zip(&kind.centres) {
                    prop_assert!(close(notch.centre, *centre));
                    prop_assert!(close(notch.width, kind.notch_width));
                    prop_assert!(close(notch.depth, kind.notch_depth));
                    prop_assert_eq!(notch.face.name(), kind.face);
                }
            }
        }
    }

    #[test]
    fn a_mirrored_job_has_mirrored_notches(job in jobs()) {
        let mut mirrored = job.clone();
        mirrored.pitches_x.reverse();
        mirrored.pitches_y.reverse();
        for (strip, other) in lattice(&job).strips.iter().zip(&lattice(&mirrored).strips) {
            prop_assert!(close(strip.length, other.length));
            for (notch, from_end) in strip.notches.iter().zip(other.notches.iter().rev()) {
                prop_assert!(close(notch.centre, other.length - from_end.centre));
                prop_assert!(close(notch.width, from_end.width) && close(notch.depth, from_end.depth));
            }
        }
    }

    #[test]
    fn swapping_the_directions_swaps_the_families(job in jobs()) {
        let mut swapped = job.clone();
        std::mem::swap(&mut swapped.pitches_x, &mut swapped.pitches_y);
        let (lattice, swapped) = (lattice(&job), lattice(&swapped));
        for own in 0..2 {
            let (strips, others) = (family(&lattice, own), family(&swapped, 1 - own));
            prop_assert_eq!(strips.len(), others.len());
            for (strip, other) in strips.iter().zip(&others) {
                prop_assert!(close(strip.length, other.length));
                prop_assert_eq!(strip.notches.len(), other.notches.len());
                let pairs = strip.notches.iter().zip(&other.notches);
                for (notch, other) in pairs {
                    prop_assert!(same_slot(notch, other) && notch.face != other.face);
                }
            }
        }
    }

    #[test]
    fn scaling_a_job_scales_its_lengths(job in jobs(), factor in 0.6_f64..3.0) {
        let (lattice, scaled) = (lattice(&job), lattice(&changed(&job, |mm| mm * factor)));
        for (strip, other) in lattice.strips.iter().zip(&scaled.strips) {
            prop_assert!(close(strip.length * factor, other.length));
            for (notch, other) in strip.notches.iter().zip(&other.notches) {
                prop_assert!(close(notch.centre * factor, other.centre));
                prop_assert!(close(notch.width * factor, other.width));
                prop_assert!(close(notch.depth * factor, other.depth));
                prop_assert!(close(notch.angle, other.angle));
            }
        }
    }

    /// Whatever the spelling, a length is one float, and its printed form is that float: the panel
    /// that is read back is the same bit for bit.
    #[test]
    fn a_job_printed_in_millimetres_reads_back_the_same(job in jobs()) {
        let printed = changed(&job, |mm| mm);
        let (panel, again) = (read(&job).panel, read(&printed).panel);
        prop_assert_eq!(panel.design(), again.design());
        prop_assert_eq!(panel.lattice().clone(), again.lattice().clone());
    }

    #[test]
    fn any_spelling_of_a_length_is_the_same_length(wanted in length(0.01, 3000.0)) {
        let read = parse(&wanted.text, Kind::Length).unwrap();
        prop_assert_eq!(read.value.to_bits(), wanted.mm.to_bits(), "{}", wanted.text);
        prop_assert_eq!(read.imperial, wanted.text.ends_with("in") || wanted.text.ends_with('"'));
    }
}

proptest! {
    #![proptest_config(cases(4000))]

    #[test]
    fn every_quantity_that_is_read_prints_and_reads_back(text in quantities()) {
        if let Ok(quantity) = parse(&text, Kind::SignedLength) {
            let printed = exact_mm(quantity.value);
            let again = parse(&printed, Kind::SignedLength);
            prop_assert_eq!(again.map(|q| q.value), Ok(quantity.value), "{} {}", text, printed);
        }
    }

    #[test]
    fn any_length_in_reach_prints_and_reads_back(mm in 1e-6_f64..1e7) {
        let again = parse(&exact_mm(mm), Kind::Length).map(|q| q.value.to_bits());
        prop_assert_eq!(again, Ok(mm.to_bits()), "{}", exact_mm(mm));
    }
}

/// All drawings of a job on a laser, as a new run would write them.
fn drawings(job: &str, laser: &str) -> Vec<Vec<u8>> {
    let lattice = read_job("job.toml", job).unwrap().panel.lattice().clone();
    let Machine::Laser(laser) = read_machine("laser.toml", laser).unwrap().machine else {
        panic!("no laser");
    };
    let name = |at, _| format!("{at}.dxf");
    let strips = vec![WareBatch::strips(&lattice, &laser).unwrap()];
    let (plan, _) = plan_sheets("", "laser", strips, &laser, &name).unwrap();
    let both = [DxfVersion::R2000, DxfVersion::R12];
    let drawing = |version| {
        let files = plan.files.iter();
        files.map(move |file| dxf(&file.drawing, version, laser.colours).unwrap())
    };
    both.into_iter().flat_map(drawing).collect()
}

/// All programs of a job on a router.
fn programs(job: &str, router: &str) -> Vec<String> {
    let lattice = read_job("job.toml", job).unwrap().panel.lattice().clone();
    let Machine::Router(router) = read_machine("router.toml", router).unwrap().machine else {
        panic!("no router");
    };
    let name = |at, _| format!("{at}.nc");
    let (plan, _) = plan_router(&lattice, "router", &router, &name).unwrap();
    let program = |setup: &lapwright::instructions::router::RouterSetup| {
        gcode::program(&setup.path, &router.controller).unwrap()
    };
    plan.setups.iter().map(program).collect()
}

proptest! {
    #![proptest_config(cases(50))]

    #[test]
    fn the_same_job_gives_the_same_drawings((job, laser) in laser_jobs(jobs())) {
        let (job, laser) = (job.toml(), laser.toml());
        let first = drawings(&job, &laser);
        prop_assert!(!first.is_empty());
        prop_assert!(first == drawings(&job, &laser));
    }

    #[test]
    fn the_same_job_gives_the_same_programs((job, router) in router_jobs(jobs())) {
        let (job, router) = (job.toml(), router.toml());
        let first = programs(&job, &router);
        prop_assert!(!first.is_empty());
        prop_assert_eq!(first, programs(&job, &router));
    }
}

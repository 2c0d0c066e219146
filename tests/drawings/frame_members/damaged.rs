//! Damage to drawings of members, and to the frame in a panel's: the proof names it.

use lapwright::geometry::{Point, Vector};
use lapwright::instructions::outline::{CutPath, CutWork, FrameLine, SheetDrawing};
use lapwright::machines::Colours;
use lapwright::making::{DrawingFiles, FrameDrawing, member_names, panel_dxf};
use lapwright::reading::{Job, read_job};
use lapwright::verification::outline::{FrameOrder, check_frame, check_panel};
use lapwright::writing::dxf::{DxfVersion, dxf};
use std::path::Path;

use super::Case;

fn job(case: &Case) -> Job {
    read_job("job.toml", &case.job()).unwrap()
}

fn drawing(job: &Job) -> SheetDrawing {
    let frame = job.frame.as_ref().unwrap();
    let drawing = FrameDrawing {
        lattice: job.panel.lattice(),
        frame,
    };
    let (plan, _) = drawing
        .drawn(Path::new("a.dxf"), DrawingFiles::Dxf(DxfVersion::R2000))
        .unwrap();
    plan.drawing
}

/// What the proof finds in a drawing after a change to it.
fn codes(job: &Job, change: impl FnOnce(&mut Vec<CutPath>)) -> Vec<&'static str> {
    let mut damaged = drawing(job);
    change(&mut damaged.paths);
    let bytes = dxf(&damaged, DxfVersion::R2000, Colours::default()).unwrap();
    let lattice = job.panel.lattice();
    let frame = job.frame.as_ref().unwrap();
    let names = member_names(lattice, frame);
    let order = FrameOrder {
        lattice,
        frame,
        names: &names,
    };
    let mut codes: Vec<&'static str> = Vec::new();
    for fault in check_frame(&bytes, &order).faults {
        if !codes.contains(&fault.code) {
            codes.push(fault.code);
        }
    }
    codes
}

fn of(paths: &mut [CutPath], work: CutWork) -> Vec<&mut CutPath> {
    let of = paths.iter_mut().filter(|path| path.work == work);
    of.collect()
}

const MORTISES: CutWork = CutWork::Frame(FrameLine::Mortises);

/// Moves all points at the greatest x of an outline.
fn longer(path: &mut CutPath, by: f64) {
    let right = path
        .points
        .iter()
        .map(|p| p.x)
        .fold(f64::NEG_INFINITY, f64::max);
    for point in &mut path.points {
        if right - point.x < 1e-6 {
            point.x += by;
        }
    }
}

#[test]
fn damage_to_mitred_members_is_found() {
    let job = job(&Case::mitred([32.0, 21.0, 40.0, 25.5], ""));
    assert!(codes(&job, |_| {}).is_empty());
    // The long point of the bottom rail.
    let bent = codes(&job, |paths| longer(of(paths, CutWork::Outlines)[0], 0.3));
    for code in ["vertex-off", "joint-open", "mitres", "members-overlap"] {
        assert!(bent.contains(&code), "{code}: {bent:?}");
    }
    let hair = codes(&job, |paths| longer(of(paths, CutWork::Outlines)[0], 3e-4));
    assert!(
        hair.contains(&"vertex-off") && !hair.contains(&"members-overlap"),
        "{hair:?}"
    );
    let short = codes(&job, |paths| longer(of(paths, CutWork::Outlines)[0], -0.3));
    assert!(
        short.contains(&"joint-open") && !short.contains(&"members-overlap"),
        "{short:?}"
    );
    let gone = codes(&job, |paths| paths.retain(|path| path.points[0].y > 30.0));
    assert!(gone.contains(&"count"), "{gone:?}");
    let twice = codes(&job, |paths| {
        let copy = of(paths, CutWork::Outlines)[1].clone();
        paths.push(copy);
    });
    assert!(
        twice.contains(&"surplus") && twice.contains(&"overlap"),
        "{twice:?}"
    );
    // Anywhere in the drawing is as good, turned over is not.
    let moved = codes(&job, |paths| {
        for path in paths {
            for point in &mut path.points {
                *point = *point + Vector::new(12.5, -400.0);
            }
        }
    });
    assert!(moved.is_empty(), "{moved:?}");
    let mirrored = codes(&job, |paths| {
        for path in paths {
            for point in &mut path.points {
                *point = Point::new(500.0 - point.x, point.y);
            }
        }
    });
    assert!(!mirrored.is_empty());
}

#[test]
fn lines_on_members_are_compared() {
    let job = job(&Case::mitred([32.0, 21.0, 40.0, 25.5], ""));
    let shifted = codes(&job, |paths| {
        for point in &mut of(paths, MORTISES)[2].points {
            point.x += 0.01;
        }
    });
    assert_eq!(shifted, ["missing", "surplus"]);
    let other = codes(&job, |paths| {
        of(paths, MORTISES)[2].work = CutWork::Frame(FrameLine::Rebates);
    });
    assert_eq!(other, ["missing", "surplus"]);
    let fewer = codes(&job, |paths| {
        let at = paths.iter().position(|path| path.work == MORTISES).unwrap();
        paths.remove(at);
    });
    assert_eq!(fewer, ["missing"]);
    let doubled = codes(&job, |paths| {
        let copy = of(paths, MORTISES)[0].clone();
        paths.push(copy);
    });
    assert_eq!(doubled, ["surplus"]);
    let letter = codes(&job, |paths| {
        let at = paths
            .iter()
            .position(|path| path.work == CutWork::Letters)
            .unwrap();
        paths.remove(at);
    });
    assert!(letter.contains(&"words"), "{letter:?}");
    let stray = codes(&job, |paths| {
        let mut copy = of(paths, CutWork::Letters)[0].clone();
        copy.points.iter_mut().for_each(|point| point.y -= 300.0);
        paths.push(copy);
    });
    assert_eq!(stray, ["surplus"]);
    // No name at all is a member without room for one.
    let bare = codes(&job, |paths| {
        paths.retain(|path| path.work != CutWork::Letters);
    });
    assert!(bare.is_empty(), "{bare:?}");
}

#[test]
fn tenons_that_do_not_go_in_are_found() {
    let case = Case::tenoned([40.0, 33.0, 32.0, 30.0], "", [20.0, 0.5, 8.0]);
    let job = job(&case);
    assert!(codes(&job, |_| {}).is_empty());
    // Half a millimetre of play before the mortise's floor.
    let long = codes(&job, |paths| longer(of(paths, CutWork::Outlines)[0], 0.6));
    assert_eq!(long, ["vertex-off", "tenon-too-long"]);
    let within = codes(&job, |paths| longer(of(paths, CutWork::Outlines)[0], 0.4));
    assert_eq!(within, ["vertex-off"]);
    // The right stile's lower mortise is the first that is not for a strip.
    let deep = |path: &CutPath| {
        let ys = path.points.iter().map(|point| point.y);
        ys.clone().fold(f64::NEG_INFINITY, f64::max) - ys.fold(f64::INFINITY, f64::min)
    };
    let aside = codes(&job, |paths| {
        let tenon = of(paths, MORTISES)
            .into_iter()
            .find(|path| (deep(path) - 20.5).abs() < 1e-6);
        for point in &mut tenon.unwrap().points {
            point.x += 0.4;
        }
    });
    assert_eq!(aside, ["missing", "surplus", "tenon-off-mortise"]);
    let shallow = codes(&job, |paths| {
        let tenon = of(paths, MORTISES)
            .into_iter()
            .find(|path| (deep(path) - 20.5).abs() < 1e-6);
        let tenon = tenon.unwrap();
        let low = tenon
            .points
            .iter()
            .map(|p| p.y)
            .fold(f64::INFINITY, f64::min);
        for point in &mut tenon.points {
            if point.y - low < 1e-6 {
                point.y += 0.6;
            }
        }
    });
    assert_eq!(shallow, ["missing", "surplus", "tenon-too-long"]);
}

#[test]
fn a_panels_frame_has_a_layer_of_its_own() {
    for case in [
        Case::mitred([32.0, 21.0, 40.0, 25.5], ""),
        Case::tenoned([40.0, 33.0, 32.0, 30.0], "", [20.0, 0.5, 8.0]),
    ] {
        let job = job(&case);
        let lattice = job.panel.lattice();
        let frame = job.frame.as_ref();
        let bytes = panel_dxf(lattice, None, frame, DxfVersion::R2000).unwrap();
        let text = String::from_utf8(bytes).unwrap();
        // Frame and inside, four lines where members meet: no line twice.
        assert!(text.contains("\nFRAME\n"));
        let check = |text: &str, frame| {
            let faults = check_panel(text.as_bytes(), lattice, None, frame);
            faults.iter().map(|fault| fault.code).collect::<Vec<_>>()
        };
        assert!(check(&text, frame).is_empty());
        assert_eq!(check(&text, None), ["surplus"]);
        let moved = text.replace("\nFRAME\n", "\nLETTERS\n");
        assert!(check(&moved, frame).contains(&"missing"));
        let without = panel_dxf(lattice, None, None, DxfVersion::R2000).unwrap();
        let without = String::from_utf8(without).unwrap();
        assert!(!without.contains("FRAME") && check(&without, None).is_empty());
        assert_eq!(check(&without, frame), ["missing"]);
    }
}

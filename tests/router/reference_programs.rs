//! Notching programs against the outside: the reference RS274/NGC interpreter runs them, and what
//! a cylindrical cutter takes away on the way that it prints must be the notches that follow from
//! the job's numbers.

use float_cmp::approx_eq;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use crate::support::cutting::{Bench, Checked, Slot, TOLERANCE, ensure, slots_of_program};
use crate::support::jobs::{Job, Length, StripKind, answer, demo_jobs, jobs, number, samples};
use crate::support::profiles::{ControllerText, RouterProfile, router_jobs};
use crate::support::rs274;
use serde_json::Value;
use tempfile::TempDir;

const GENERATED: usize = 100;

/// A job's file, its numbers, and the router it goes to.
struct Case {
    path: PathBuf,
    job: Job,
    machine: String,
    router: RouterProfile,
}

fn generated_cases(folder: &Path) -> Vec<Case> {
    let made = samples(&router_jobs(jobs()), GENERATED)
        .into_iter()
        .enumerate();
    let case = |(at, (job, router)): (usize, (Job, RouterProfile))| {
        let path = folder.join(format!("job{at}.toml"));
        let profile = folder.join(format!("router{at}.toml"));
        fs::write(&path, job.toml()).unwrap();
        fs::write(&profile, router.toml()).unwrap();
        Case {
            path,
            job,
            machine: profile.to_str().unwrap().to_owned(),
            router,
        }
    };
    made.map(case).collect()
}

/// The demo jobs and the shipped routers that they name, figures copied by hand.
fn demo_cases() -> Vec<Case> {
    let mm = Length::of;
    let controller = ControllerText {
        decimals: 3,
        milliseconds: false,
        end: "M30",
        path_mode: None,
        line_numbers: false,
        percent_signs: false,
        longest_line: 72,
    };
    let small = RouterProfile {
        travel: [280.0, 195.0, 50.0].map(mm),
        fastest_feed: 2500,
        acceleration: 200,
        diameter: mm(2.0),
        flutes: 2,
        flute_length: mm(10.0),
        speeds: [8000, 24000, 16000],
        spin_up: 400,
        chip_load: mm(0.025),
        plunge_feed: 300,
        depth_per_pass: mm(1.5),
        run_out: mm(1.5),
        wall_allowance: mm(0.2),
        safe_height: mm(8.0),
        zero: [15.0, 30.0].map(mm),
        widest_bundle: mm(60.0),
        clear_beside: mm(8.0),
        clamp_height: mm(4.0),
        controller: controller.clone(),
    };
    let mid = RouterProfile {
        travel: [800.0, 600.0, 100.0].map(mm),
        fastest_feed: 5000,
        acceleration: 400,
        diameter: mm(2.5),
        flutes: 2,
        flute_length: mm(16.0),
        speeds: [6000, 24000, 18000],
        spin_up: 600,
        chip_load: mm(0.04),
        plunge_feed: 600,
        depth_per_pass: mm(2.5),
        run_out: mm(2.0),
        wall_allowance: mm(0.2),
        safe_height: mm(12.0),
        zero: [40.0, 60.0].map(mm),
        widest_bundle: mm(150.0),
        clear_beside: mm(12.0),
        clamp_height: mm(6.0),
        controller: ControllerText {
            end: "M2",
            path_mode: Some("exact-path"),
            line_numbers: true,
            ..controller
        },
    };
    let routers = [("small-router", small), ("mid-router", mid)];
    let case = |((path, job), (machine, router)): ((PathBuf, Job), (&str, RouterProfile))| Case {
        path,
        job,
        machine: machine.to_owned(),
        router,
    };
    demo_jobs().into_iter().zip(routers).map(case).collect()
}

#[test]
fn programs_cut_the_notches_that_are_meant() {
    let folder = TempDir::new().unwrap();
    let mut cases = demo_cases();
    cases.extend(generated_cases(folder.path()));
    let next = Mutex::new(cases.iter().enumerate());
    let programs = Mutex::new((0, 0));
    std::thread::scope(|scope| {
        for _ in 0..2 {
            scope.spawn(|| {
                loop {
                    let taken = next.lock().unwrap().next();
                    let Some((at, case)) = taken else { break };
                    let output = folder.path().join(format!("out{at}.nc"));
                    let found = check_case(case, &output);
                    let mut all = programs.lock().unwrap();
                    *all = (all.0 + found.0, all.1 + found.1);
                }
            });
        }
    });
    // Where both kinds are the same part they share a program.
    let (programs, kinds) = programs.into_inner().unwrap();
    assert_eq!(kinds, 2 * cases.len());
    assert!(programs > cases.len());
}

/// Writes and checks the programs of a case; how many there are, and for how many kinds of strip.
fn check_case(case: &Case, output: &Path) -> (usize, usize) {
    let arguments = [
        "notch",
        case.path.to_str().unwrap(),
        "--machine",
        &case.machine,
        "-o",
        output.to_str().unwrap(),
    ];
    let told = answer(output.parent().unwrap(), &arguments);
    let setups = told["setups"].as_array().unwrap();
    let kinds = case.job.kinds();
    let rows = setups.iter().flat_map(|setup| {
        let rows = setup["lying"].as_array().unwrap();
        rows.iter().map(move |row| (setup, row))
    });
    let mut checked = 0;
    for ((setup, row), kind) in rows.zip(&kinds) {
        assert_eq!(row["family"], kind.name);
        checked += 1;
        let kind = &as_it_lies(kind, row);
        let file = Path::new(setup["file"].as_str().unwrap());
        let checked = check_setup((setup, row), kind, case).and_then(|bench| {
            let text = fs::read_to_string(file).unwrap();
            check_text(&text, &case.router.controller)?;
            let meant = meant(kind);
            let cut = slots_of_program(&rs274(file), &bench, &meant)?;
            compare(&cut, &meant)
        });
        if let Err(reason) = checked {
            let (job, profile) = (case.job.toml(), case.router.toml());
            panic!("{}: {reason}\n{job}\n{profile}", file.display());
        }
    }
    (setups.len(), checked)
}

/// A strip's notches from the end toward the stop.
fn as_it_lies(kind: &StripKind, row: &Value) -> StripKind {
    let mut kind = kind.clone();
    if ["right end", "upper end"].contains(&row["end_at_stop"].as_str().unwrap()) {
        kind.centres = (kind.centres.iter().rev())
            .map(|centre| kind.length - centre)
            .collect();
    }
    kind
}

fn meant(kind: &StripKind) -> Vec<Slot> {
    let half = kind.notch_width / 2.0;
    let slot = |centre: &f64| Slot {
        low: centre - half,
        high: centre + half,
        depth: kind.notch_depth,
    };
    kind.centres.iter().map(slot).collect()
}

fn compare(cut: &[Slot], meant: &[Slot]) -> Checked<()> {
    ensure!(cut.len() == meant.len(), "cut {cut:?}, meant {meant:?}");
    // Half a unit of the last place at either wall.
    let close = |a: f64, b: f64| (a - b).abs() <= TOLERANCE + 1e-6;
    for (cut, meant) in cut.iter().zip(meant) {
        let same = close(cut.centre(), meant.centre())
            && close(cut.width(), meant.width())
            && close(cut.depth, meant.depth);
        ensure!(same, "cut {cut:?}, meant {meant:?}");
    }
    Ok(())
}

/// What the answer says of a set-up against the job's numbers; what its program has to keep to.
fn check_setup((setup, row): (&Value, &Value), kind: &StripKind, case: &Case) -> Checked<Bench> {
    let (job, router) = (&case.job, &case.router);
    let close = |key: &str, value: &Value, wanted: f64| {
        let told = number(value);
        ensure!(
            approx_eq!(f64, told, wanted, epsilon = 1e-6),
            "{key}: {told}, not {wanted}"
        );
        Ok(())
    };
    let count = |key: &str| usize::try_from(setup[key].as_u64().unwrap()).unwrap();
    ensure!(row["face_up"] == kind.face, "face {}", row["face_up"]);
    ensure!(row["count"] == kind.count, "{} strips", row["count"]);
    let rows = setup["lying"].as_array().unwrap().iter();
    let all = rows.map(|row| row["count"].as_u64().unwrap()).sum::<u64>();
    ensure!(setup["count"] == all, "{} strips", setup["count"]);
    let (strips, runs) = (count("strips_per_run"), count("runs"));
    ensure!(
        strips * runs == count("count") + count("fill_with_scrap"),
        "{strips} x {runs}"
    );
    ensure!(count("fill_with_scrap") < strips, "a run of scrap");
    let width = strips as f64 * job.thickness.mm;
    ensure!(width <= router.widest_bundle.mm + 1e-6, "{width} wide");
    let stock = [kind.length, width, kind.depth];
    close("x", &setup["stock"]["x_mm"][1], kind.length)?;
    close("y", &setup["stock"]["y_mm"][1], width)?;
    close("z", &setup["stock"]["z_mm"][0], -kind.depth)?;
    close("tool", &setup["tool_diameter_mm"], router.diameter.mm)?;
    close("safe", &setup["safe_height_mm"], router.safe_height.mm)?;
    let [speed, feed, plunge] = router.speed_and_feeds();
    close("speed", &setup["spindle_rpm"], speed)?;
    close("feed", &setup["feed_mm_per_min"], feed)?;
    close("plunge", &setup["plunge_feed_mm_per_min"], plunge)?;
    let notches = setup["notches"].as_array().unwrap();
    ensure!(
        notches.len() == kind.centres.len(),
        "{} notches",
        notches.len()
    );
    for (notch, centre) in notches.iter().zip(&kind.centres) {
        close("centre", &notch["centre_mm"], *centre)?;
        close(
            "near",
            &notch["near_edge_mm"],
            centre - kind.notch_width / 2.0,
        )?;
        close(
            "far",
            &notch["far_edge_mm"],
            centre + kind.notch_width / 2.0,
        )?;
        close("width", &notch["width_mm"], kind.notch_width)?;
        close("depth", &notch["depth_mm"], kind.notch_depth)?;
        close("angle", &notch["angle_deg"], 90.0)?;
    }
    let unit = if router.controller.milliseconds {
        1000.0
    } else {
        1.0
    };
    Ok(Bench {
        stock,
        diameter: router.diameter.mm,
        flute_length: router.flute_length.mm,
        safe_height: router.safe_height.mm,
        depth_per_pass: router.depth_per_pass.mm,
        wall_allowance: router.wall_allowance.mm,
        run_out: router.least_run_out(),
        clear_beside: router.clear_beside.mm,
        zero: [router.zero[0].mm, router.zero[1].mm],
        travel: [0, 1, 2].map(|axis: usize| router.travel[axis].mm),
        speed_and_feeds: [speed, feed, plunge],
        dwell: f64::from(router.spin_up) / 100.0 * unit,
    })
}

/// What can be seen in the text: rules of NISTIR 6556, and habits that keep a program portable.
fn check_text(text: &str, controller: &ControllerText) -> Checked<()> {
    ensure!(text.ends_with('\n') && !text.contains('\r'), "line ends");
    let mut lines: Vec<&str> = text.lines().collect();
    if controller.percent_signs {
        // NISTIR 6556, 3.1: alone on the first line and on the last.
        ensure!(
            lines.first() == Some(&"%") && lines.last() == Some(&"%"),
            "percent signs"
        );
        lines = lines[1..lines.len() - 1].to_vec();
    }
    let mut blocks = Vec::new();
    for line in lines {
        ensure!(
            line.len() <= controller.longest_line.min(72),
            "long: {line}"
        );
        match line.strip_prefix('(') {
            Some(rest) => check_comment(rest)?,
            None => blocks.push(check_block(line, blocks.len(), controller)?),
        }
        // So that a program started again in the middle runs as written.
        let notch = line.starts_with("(Notch ");
        ensure!(!notch || !blocks.is_empty(), "a notch before the head");
    }
    check_order(&blocks, controller)?;
    check_restarts(text)
}

/// A comment cannot be taken for anything else, nor act (NISTIR 6556, 3.3.4: MSG).
fn check_comment(rest: &str) -> Checked<()> {
    let inside = rest
        .strip_suffix(')')
        .ok_or_else(|| format!("open: {rest}"))?;
    let plain = |c: char| c.is_ascii_alphanumeric() || " .,-+=/".contains(c);
    ensure!(inside.chars().all(plain), "({rest}");
    let first = inside.split([',', ' ']).next().unwrap_or_default();
    let acting = ["MSG", "DEBUG", "PRINT", "LOG", "LOGOPEN", "LOGCLOSE"];
    ensure!(
        !acting.contains(&first.to_ascii_uppercase().as_str()),
        "({rest}"
    );
    Ok(())
}

/// One block without its number: words of a letter and a plain decimal, one space between.
fn check_block<'a>(line: &'a str, at: usize, controller: &ControllerText) -> Checked<&'a str> {
    let block = if controller.line_numbers {
        let number = format!("N{} ", at + 1);
        line.strip_prefix(&number)
            .ok_or_else(|| format!("no {number}: {line}"))?
    } else {
        line
    };
    for word in block.split(' ') {
        let (letter, number) = word.split_at_checked(1).unwrap_or_default();
        ensure!(
            "FGMPSXYZ".contains(letter) && !letter.is_empty(),
            "{line}: {word}"
        );
        let digits = number.strip_prefix('-').unwrap_or(number);
        let digit = |c: char| c.is_ascii_digit() || c == '.';
        ensure!(
            !digits.is_empty() && digits.chars().all(digit),
            "{line}: {word}"
        );
        let negative_nought =
            number.starts_with('-') && !digits.contains(|c| ('1'..='9').contains(&c));
        ensure!(!negative_nought, "{line}: {word}");
        let places = digits.split_once('.').map(|(_, places)| places.len());
        if "XYZ".contains(letter) {
            ensure!(places == Some(controller.decimals), "{line}: {word}");
        }
    }
    let letters: String = block
        .split(' ')
        .filter_map(|word| word.chars().next())
        .collect();
    let doubled = letters
        .chars()
        .any(|c| c != 'G' && letters.matches(c).count() > 1);
    ensure!(!doubled, "twice the same letter: {line}");
    Ok(block)
}

/// Units first and alone, modes before any move, nothing taken for granted; the end.
fn check_order(blocks: &[&str], controller: &ControllerText) -> Checked<()> {
    let mut head = vec!["G21", "G17 G90 G94", "G54"];
    head.extend(controller.path_mode.map(|mode| match mode {
        "exact-path" => "G61",
        _ => "G64",
    }));
    ensure!(blocks.starts_with(&head), "head: {blocks:?}");
    let body = &blocks[head.len()..];
    ensure!(
        body.len() > 5 && body[0].starts_with("G0 Z"),
        "first move: {}",
        body[0]
    );
    ensure!(
        body[1].starts_with('S') && body[1].ends_with(" M3"),
        "{}",
        body[1]
    );
    ensure!(body[2].starts_with("G4 P"), "{}", body[2]);
    let (cuts, end) = body[3..].split_at(body.len() - 6);
    ensure!(end[0].starts_with("G0 Z"), "last move: {}", end[0]);
    ensure!(end[1..] == ["M5", controller.end], "end: {end:?}");
    for block in cuts {
        // No arcs, no incremental moves, no stored zeros, no tool changes: straight moves only.
        let straight = block.starts_with("G0 ") || block.starts_with("G1 ");
        ensure!(
            straight && !block[1..].contains(['G', 'M', 'S', 'P']),
            "{block}"
        );
        ensure!(block.starts_with("G1 ") || !block.contains('F'), "{block}");
        ensure!(block.contains(['X', 'Y', 'Z']), "{block}");
    }
    Ok(())
}

/// After the remark that starts a notch: X and Y in the air, then a feed stated anew.
fn check_restarts(text: &str) -> Checked<()> {
    for notch in text.split("(Notch ").skip(1) {
        let words = |line: &str| line.rsplit_once("G0 ").map(|(_, rest)| rest.to_owned());
        let mut lines = notch.lines().skip(1);
        let start = lines.next().and_then(words).unwrap_or_default();
        ensure!(
            start.starts_with('X') && start.contains(" Y"),
            "start: {start}"
        );
        let first_feed = lines.find(|line| line.contains("G1 ")).unwrap_or_default();
        ensure!(first_feed.contains(" F"), "no feed: {first_feed}");
    }
    Ok(())
}

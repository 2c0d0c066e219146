//! What somebody who stands at the saw is told, and what comes of it when it is done.

use super::{DIAMONDS, TRIANGLES};
use crate::support::cli::{Bench, FLAGS, JOB, Ran, shipped, with_line};
use float_cmp::approx_eq;
use lapwright::instructions::safety::SafetyNotes;
use lapwright::machines::{Machine, SledWork};
use lapwright::planning::plan_sled;
use lapwright::reading::{read_job, read_machine};
use lapwright::sheets::{BookletWork, booklet, sled_answer, sled_sheet};
use lapwright::units::UnitSystem;
use lapwright::writing::text;

fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The text between two others.
fn between<'a>(text: &'a str, before: &str, after: &str) -> &'a str {
    let from = text
        .find(before)
        .unwrap_or_else(|| panic!("`{before}` is not in {text}"));
    let rest = &text[from + before.len()..];
    &rest[..rest.find(after).unwrap()]
}

fn mm(text: &str) -> f64 {
    let figure = text.strip_suffix(" mm");
    figure.unwrap_or_else(|| panic!("{text}")).parse().unwrap()
}

/// A bench with a sled of one's own whose profile has this correction.
fn sled_with(machine: &str, correction: &str, job: &str) -> Bench {
    let bench = Bench::new();
    let line = format!("height_correction = \"{correction}\"");
    let profile = with_line(&shipped(machine), "height_correction", &line);
    bench.write("mine.toml", profile);
    bench.write("job.toml", job);
    bench
}

fn sled(bench: &Bench, more: &[&str]) -> Ran {
    bench.ok(&[&["sled", "job.toml", "--machine", "mine.toml"], more].concat())
}

/// Height of the blade over the base (or depth of the saw cut) at each setting.
fn heights(bench: &Bench) -> Vec<f64> {
    let plan = sled(bench, &["--format", "json"]).json();
    let settings = plan["settings"].as_array().unwrap();
    let height = |setting: &serde_json::Value| setting["height_above_base_mm"].as_f64().unwrap();
    settings.iter().map(height).collect()
}

/// A blade that stands too low cuts the scraps of the worked line. Who does what the line says has
/// a lap that closes: the same blade, set as the next sheet asks, cuts to half the strip's depth.
#[test]
fn the_correction_of_the_height_closes_the_lap() {
    for machine in ["key-sled", "stop-sled", "bench-hook"] {
        let bench = sled_with(machine, "-0.05 mm", JOB);
        let sheet = words(&sled(&bench, &[]).out);
        let line = between(&sheet, "Say, notches of ", " After the first");
        let (first, rest) = line.split_once(" and ").unwrap();
        let second = &rest[..rest.find(" in strips ").unwrap()];
        let depth = mm(between(line, "in strips ", " deep"));
        let together = mm(between(line, "deep: ", " together"));
        let (a, b) = (mm(first), mm(second));
        assert!(approx_eq!(f64, a + b, together, epsilon = 1e-9) && together < depth);
        let way = if machine == "bench-hook" {
            "so set the saw's depth stop for a deeper cut by "
        } else {
            "so raise the blade by "
        };
        let up = mm(between(line, way, " and write"));
        assert!(approx_eq!(
            f64,
            up,
            (depth - together) / 2.0,
            epsilon = 1e-9
        ));
        let written = between(line, "height_correction = \"", "\"");
        assert!(
            approx_eq!(f64, mm(written), -0.05 + up, epsilon = 1e-9),
            "{written}"
        );

        // What this saw's scale is off by: it was set to the sheet's height and cut a.
        let off = f64::midpoint(a, b) - heights(&bench)[0];
        let bench = sled_with(machine, written, JOB);
        let cut = heights(&bench)[0] + off;
        assert!(
            approx_eq!(f64, 2.0 * cut, depth, epsilon = 1e-9),
            "{machine}: {cut}"
        );
        // And the sheet goes on from there.
        let next = words(&sled(&bench, &[]).out);
        assert!(next.contains("to height_correction, 0.05 mm on this sheet, add what the cut has to go deeper, or take off what it has to go less deep."));
    }
}

#[test]
fn at_several_heights_the_correction_is_what_each_notch_lacks() {
    let bench = sled_with("stop-sled", "0.2 mm", TRIANGLES);
    let sheet = words(&sled(&bench, &[]).out);
    assert!(sheet.contains("Where it is less, raise the blade by what is missing; where it is more, lower it by what is too much; at every height alike."));
    let line = between(&sheet, "Say, a notch of ", " After the first");
    let (found, rest) = line.split_once(" that should be ").unwrap();
    let wanted = mm(&rest[..rest.find(" deep").unwrap()]);
    let off = mm(found) - heights(&bench)[0];
    let written = between(line, "height_correction = \"", "\"");
    let after = heights(&sled_with("stop-sled", written, TRIANGLES));
    assert!(
        approx_eq!(f64, after[0] + off, wanted, epsilon = 1e-9),
        "{written}"
    );
}

/// The comments that everyone begins a profile from say the same formula.
#[test]
fn profiles_say_which_way_the_correction_goes() {
    let list = Bench::new().ok(&["machine", "list"]).out;
    let names = ["key-sled", "stop-sled", "bench-hook"];
    for name in names {
        assert!(list.contains(name));
        let comment = words(&shipped(name).replace('#', " "));
        let said = "from a test lap, to what stands here add (strip's depth less the sum of both \
                    notches' depths) / 2";
        assert!(comment.contains(said), "{name}");
    }
}

/// On the page: which way, the worked line, the width as cut and what it means, each where it
/// stands; and nothing of it where one pass makes what is drawn.
#[test]
fn the_page_tells_cut_from_drawn() {
    let page = |thickness: &str| {
        let line = format!("thickness = \"{thickness}\"");
        let job = with_line(JOB, "thickness", &line);
        let job = with_line(&job, "clearance", "");
        let bench = Bench::new();
        let profile = shipped("key-sled").replace("kerf = \"2.6 mm\"", "kerf = \"2.83 mm\"");
        bench.write("mine.toml", profile);
        let job = with_line(&job, "sled", "sled = \"mine.toml\"");
        let lines = job.lines();
        let lines: Vec<_> = lines
            .filter(|line| !line.starts_with("laser") && !line.starts_with("router"))
            .collect();
        bench.write("job.toml", lines.join("\n"));
        bench.ok(&["sheet", "job.toml", "-o", "x.html"]);
        plain(&bench.read("x.html"))
    };
    let thin = page("2.3 mm");
    for said in [
        "First notch in scrap: its width along the strip as cut, since the kerf is wider than the \
         notch (drawn 2.30 mm); loose by 0.53 mm on its mate",
        "datum end to the near edge of notch 1 as cut",
        "notch as cut 2.83 mm, drawn 2.30 mm",
        "Notches are as wide as the kerf cuts them.",
        "raise the blade by half of what is missing",
        "Say, notches of 5.90 mm and 5.90 mm in strips 12.00 mm deep: 11.80 mm together, so raise \
         the blade by 0.10 mm and write height_correction = \"0.10 mm\".",
    ] {
        assert!(thin.contains(said), "`{said}` is not on the page");
    }
    for thick in ["3 mm", "2.83 mm"] {
        let page = page(thick);
        for said in ["as cut", "(drawn", "as wide as the kerf cuts"] {
            assert!(!page.contains(said), "{thick}: `{said}`");
        }
    }
}

/// A template is laid on strips from any machine: it is as drawn, and says so where the saw's are not.
#[test]
fn a_template_says_where_the_saw_cuts_wider() {
    for (kerf, told) in [("2.6 mm", 0), ("3.2 mm", 2)] {
        let lattice = read_job("job.toml", JOB).unwrap().panel.lattice().clone();
        let profile = shipped("key-sled").replace("2.6 mm", kerf);
        let profile = read_machine("sled.toml", &profile).unwrap();
        let Machine::Sled(sled) = profile.machine else {
            panic!("no sled")
        };
        let (plan, _) = plan_sled(&lattice, "mine", &sled, SledWork::default()).unwrap();
        let work = BookletWork {
            lattice: &lattice,
            sled: Some((&plan, &sled)),
            router: None,
            laser: &[],
            pare: None,
            size: None,
            frame: None,
            rails: None,
            advice: None,
            wood: &[],
            filled: None,
        };
        let booklet = booklet(&work, None);
        let titles = booklet.templates.iter().map(|drawing| &drawing.title);
        let saying = titles.filter(|title| title.starts_with("Drawn notches of bundle"));
        assert_eq!(saying.count(), told, "{kerf}");
    }
}

/// A page's words in millimetres, marks taken out.
fn plain(page: &str) -> String {
    let mut text = String::new();
    for part in page.split('<').skip(1) {
        let Some((mark, rest)) = part.split_once('>') else {
            continue;
        };
        let inches = mark.contains("\"in\"") || mark.contains(" in\"") || mark == "small";
        if inches || mark.starts_with("script") || mark.starts_with("style") {
            continue;
        }
        text.push_str(rest);
    }
    let text = text.replace("&#34;", "\"").replace("&#39;", "'");
    words(&text.replace("&quot;", "\""))
}

/// Where in a text a line with these words stands, from 0.
fn line_with(text: &str, part: &str) -> usize {
    let at = text.lines().position(|line| line.contains(part));
    at.unwrap_or_else(|| panic!("`{part}` is not in {text}"))
}

/// Title, danger in three lines, settings, table, steps, cautions; in inches two lines more that
/// tell how they are read.
#[test]
fn the_answer_begins_with_settings_and_ends_with_all_cautions() {
    let bench = Bench::new();
    let hook = ["--machine", "bench-hook"];
    for (more, powered, saw) in [
        (&[][..], true, "blade over the base"),
        (&["--units", "in"], true, "blade over the base"),
        (&["--machine", "stop-sled"], true, "blade over the base"),
        (&hook, false, "depth of the saw cut"),
    ] {
        let text = bench.ok(&[&FLAGS[..], more].concat()).out;
        let first = line_with(&text, saw);
        let inches = if more.contains(&"in") { 3 } else { 0 };
        assert_eq!(first, 8 + inches, "{text}");
        let dangers = text.lines().take(first);
        assert_eq!(dangers.filter(|line| line.contains("  ! ")).count(), 3);
        assert_eq!(line_with(&text, "All cautions stand at the end"), 5);
        for (at, danger) in SafetyNotes::worst_at_sled(powered).iter().enumerate() {
            assert_eq!(line_with(&text, danger), 3 + at);
        }
        let order = [
            saw,
            "[ ]  1.",
            "near edge",
            "Before the first bundle",
            "ALL CAUTIONS",
        ];
        let order = order.map(|part| line_with(&text, part));
        assert!(order.is_sorted(), "{order:?} {text}");
        let json = [&FLAGS[..], more, &["--format", "json"]].concat();
        let mut cautions = text.split("ALL CAUTIONS").nth(1).unwrap().to_owned();
        cautions = words(&cautions);
        for note in bench.ok(&json).json()["safety"].as_array().unwrap() {
            let note = note.as_str().unwrap();
            let at = cautions.find(note).unwrap_or_else(|| panic!("{note}"));
            cautions = cautions[at + note.len()..].to_owned();
        }
        assert_eq!(cautions, "");
    }
    // Saw and bench have dangers of their own.
    let [saw, hand] = [true, false].map(SafetyNotes::worst_at_sled);
    assert!(saw.iter().all(|danger| !hand.contains(danger)));
    assert!(hand.iter().all(|danger| !danger.contains("blade")));
}

/// Line by line the answer says what the file says, in another order; the file has all cautions
/// before the first step.
#[test]
fn nothing_is_lost_in_the_answer() {
    let plain = ("plain", JOB, "key-sled");
    for (name, job, machine) in [
        plain,
        ("hook", JOB, "bench-hook"),
        ("triangles", TRIANGLES, "stop-sled"),
        ("diamonds", DIAMONDS, "stop-sled"),
    ] {
        let lattice = read_job("job.toml", job).unwrap().panel.lattice().clone();
        let profile = read_machine("sled.toml", &shipped(machine)).unwrap();
        let Machine::Sled(sled) = profile.machine else {
            panic!("no sled")
        };
        let (plan, _) = plan_sled(&lattice, machine, &sled, SledWork::default()).unwrap();
        let powered = sled.blade.powered.is_some();
        let worst = SafetyNotes::worst_at_sled(powered);
        for units in [UnitSystem::Millimetres, UnitSystem::Inches] {
            let file = text::sheet(&sled_sheet(&plan, powered), units);
            let answer = text::answer(&sled_answer(&plan, powered), worst, units);
            let sorted = |text: &str, left_out: &dyn Fn(&str) -> bool| {
                let lines = text.lines().filter(|line| !left_out(line));
                let mut lines: Vec<String> = lines.map(str::to_owned).collect();
                lines.sort();
                lines
            };
            let first = |line: &str| line == "SAFETY FIRST" || line.is_empty();
            let added = |line: &str| {
                line.is_empty()
                    || line == "ALL CAUTIONS"
                    || line.contains("All cautions stand at the end")
                    || worst.iter().any(|danger| line.contains(danger))
            };
            assert_eq!(sorted(&file, &first), sorted(&answer, &added), "{name}");
            let last = SafetyNotes::for_sled(powered);
            let last = *last.notes().last().unwrap();
            let file = words(&file);
            assert!(file.find(last) < file.find("[ ]") && file.contains("[ ]"));
            for line in answer.lines().take(6) {
                assert!(line.chars().count() <= text::WIDTH, "{line}");
            }
        }
    }
}

/// Warnings, which go to the standard error, would stand before the first figure.
#[test]
fn warnings_come_after_the_answer() {
    use std::io::Read;
    use std::process::Stdio;
    let (mut reader, writer) = std::io::pipe().unwrap();
    let bench = Bench::new();
    let mut command = bench.command(&FLAGS);
    command.stdout(Stdio::from(writer.try_clone().unwrap()));
    command.stderr(Stdio::from(writer));
    let mut child = command.spawn().unwrap();
    drop(command);
    let mut both = String::new();
    reader.read_to_string(&mut both).unwrap();
    assert!(child.wait().unwrap().success());
    assert!(line_with(&both, "warning[key-out-of-reach]") > line_with(&both, "ALL CAUTIONS"));
}

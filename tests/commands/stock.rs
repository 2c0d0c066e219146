//! `stock`: parts counted apart from the program, sticks cut as the list says, boards milled as the steps say.

use crate::support::cli::{Bench, JOB, line_of};
use crate::support::cores::on_all_cores;
use crate::support::jobs::{jobs, number, samples};
use serde_json::Value;

const NEAR: f64 = 1e-6;

fn job(columns: usize, rows: usize, more: &str) -> String {
    format!(
        "title = \"Larder door\"\n[grid]\nkind = \"square\"\npitch = \"41 mm\"\ncolumns = {columns}\nrows = {rows}\n\
         overhang = \"16 mm\"\n[strip]\nthickness = \"2.8 mm\"\ndepth = \"11 mm\"\nwood = \"basswood\"\n{more}"
    )
}

const SLED: &str = "[machines]\nsled = \"key-sled\"\n";

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

fn stock(text: &str) -> Value {
    let bench = Bench::new();
    bench.write("job.toml", text);
    bench.ok(&["stock", "job.toml", "--format", "json"]).json()
}

fn mm(value: &Value) -> f64 {
    number(value)
}

fn count(value: &Value) -> usize {
    usize::try_from(value.as_u64().unwrap()).unwrap()
}

/// Every part that the list wants comes off some stick; sticks are as long as they are; of the two that a cut
/// parts, the longer can be held.
fn sticks_are_cut(plan: &Value) {
    let needs = list(plan, "needs");
    let mut made = vec![0; needs.len()];
    let (kerf, trim, held) = (
        mm(&plan["cutting"]["kerf_mm"]),
        mm(&plan["cutting"]["trim_mm"]),
        mm(&plan["cutting"]["least_held_mm"]),
    );
    for stick in list(plan, "sticks") {
        let mut rest = mm(&stick["stock_mm"]) - trim;
        for cut in list(stick, "cuts") {
            let need = count(&cut["need"]) - 1;
            made[need] += count(&stick["count"]);
            assert_eq!(cut["length_mm"], needs[need]["length_mm"]);
            assert_eq!(cut["what"], needs[need]["what"]);
            let length = mm(&cut["length_mm"]);
            rest -= length + kerf;
            assert!(length.max(rest) >= held - 0.011, "{stick}");
        }
        assert!(rest >= trim - kerf - NEAR, "{stick}: nothing left to trim");
        assert!(
            (mm(&stick["left_mm"]) - rest.max(0.0)).abs() < NEAR,
            "{stick}"
        );
    }
    for (need, made) in needs.iter().zip(made) {
        let wanted = if need["from"] == "stick" {
            count(&need["count"]) + count(&need["spare"])
        } else {
            0
        };
        assert_eq!(made, wanted, "{need}");
    }
    for section in list(plan, "sections") {
        let own = list(plan, "sticks").iter();
        let own = own.filter(|stick| stick["section"] == section["number"]);
        let sticks: usize = own.map(|stick| count(&stick["count"])).sum();
        assert_eq!(sticks, count(&section["sticks"]));
        assert!(mm(&section["bound"]) <= sticks as f64 + NEAR || section["bound_in"] == "cost");
    }
}

/// What a shop's machines take.
struct Shop {
    planer_length: f64,
    planer_thickness: f64,
    rip_length: f64,
}

/// The examples as `help job` tells them.
const EXAMPLES: Shop = Shop {
    planer_length: 305.0,
    planer_thickness: 6.35,
    rip_length: 305.0,
};

/// Milling played step by step: what one step leaves is what the next takes, no machine is given what is too short
/// or too thin for it, no wood comes from nowhere, and what comes out is the section that the sticks have to have.
fn boards_are_milled(plan: &Value, shop: &Shop) {
    for section in list(plan, "sections") {
        let supply = &section["supply"];
        if supply["supply"] != "boards" {
            continue;
        }
        let size =
            |step: &Value, key: &str| -> Vec<f64> { list(step, key).iter().map(mm).collect() };
        let board = &supply["board"];
        let mut now = ["length_mm", "width_mm", "thickness_mm"]
            .map(|key| mm(&board[key]))
            .to_vec();
        let mut pieces = 1;
        let all = list(plan, "milling").iter();
        let own =
            all.filter(|step| step["section"] == section["number"] && step["step"] != "flush");
        for step in own {
            let (before, after) = (size(step, "before_mm"), size(step, "after_mm"));
            let name = step["step"].as_str().unwrap();
            assert!(
                before.iter().zip(&now).all(|(a, b)| (a - b).abs() < NEAR),
                "{step}: {now:?}"
            );
            let made = count(&step["count"]);
            let volume = |size: &[f64], pieces: usize| size.iter().product::<f64>() * pieces as f64;
            assert!(
                volume(&after, made) <= volume(&before, pieces) + NEAR,
                "{step}"
            );
            match name {
                "surface" | "plane" => {
                    assert!(before[0] >= shop.planer_length, "{step}");
                    assert!(after[2] >= shop.planer_thickness - NEAR, "{step}");
                }
                "thin-in-planer" => assert!(after[2] >= shop.planer_thickness - NEAR, "{step}"),
                "plane-on-carrier" | "thin-on-carrier" => {
                    assert!(before[0] >= shop.planer_length, "{step}");
                    assert!(after[2] < shop.planer_thickness, "bare it would do: {step}");
                }
                "rip-blanks" | "rip-sticks" => {
                    assert!(before[0] >= shop.rip_length, "{step}");
                    // Side by side in the width with a kerf between each two; each stands as high as it was thick.
                    let each = (made / pieces) as f64;
                    let kerf = 2.4;
                    assert!(
                        each * after[2] + (each - 1.0) * kerf <= before[1] + NEAR,
                        "{step}"
                    );
                    assert!(
                        (each + 1.0) * after[2] + each * kerf > before[1] + NEAR,
                        "one more would do: {step}"
                    );
                    assert!((after[1] - before[2]).abs() < NEAR, "{step}");
                }
                "rest" | "thin-in-drum-sander" | "thin-by-hand" | "plane-edges" | "cut-ends" => {}
                other => panic!("{other}"),
            }
            if name != "rest" {
                assert!(
                    after.iter().zip(&before).all(|(a, b)| *a <= b + NEAR)
                        || name.starts_with("rip"),
                    "{step}"
                );
            }
            (now, pieces) = (after, made);
        }
        let [across, deep] = [0, 1].map(|at| mm(&section["section_mm"][at]));
        assert!(
            (now[2] - across).abs() < NEAR && (now[1] - deep).abs() < NEAR,
            "{now:?}: {section}"
        );
        assert!((now[0] - mm(&supply["stick_mm"])).abs() < NEAR);
        assert!(count(&supply["boards"]) * pieces >= count(&section["sticks"]));
        assert!((count(&supply["boards"]) - 1) * pieces < count(&section["sticks"]));
    }
}

/// Strips of a hundred panels, counted from pitches by the test's own arithmetic.
#[test]
fn strips_are_those_of_the_grid() {
    let jobs = samples(&jobs(), 100);
    on_all_cores(&jobs, |job| {
        let plan = stock(&job.toml());
        let needs = list(&plan, "needs");
        for kind in job.kinds() {
            let own = needs.iter().filter(|need| need["what"] == kind.name);
            let found: Vec<(usize, f64)> = own
                .map(|need| (count(&need["count"]), mm(&need["length_mm"])))
                .collect();
            assert_eq!(found.len(), 1, "{found:?}");
            assert_eq!(found[0].0, kind.count);
            assert!(
                (found[0].1 - kind.length).abs() < NEAR,
                "{found:?}: {}",
                kind.length
            );
        }
        for need in needs {
            let share = (count(&need["count"]) as f64 * 0.1 - NEAR).ceil().max(1.0);
            assert!(
                (count(&need["spare"]) as f64 - share).abs() < NEAR,
                "{need}"
            );
        }
        sticks_are_cut(&plan);
        boards_are_milled(&plan, &EXAMPLES);
    });
}

/// Leaves of the square hemp leaf, cell by cell: one diagonal, four hinges, two locks; members as `rails` has them.
#[test]
fn leaves_and_members_are_those_of_the_panel() {
    let panels: Vec<(usize, usize)> = (1..=5)
        .flat_map(|columns| (1..=4).map(move |rows| (columns, rows)))
        .collect();
    on_all_cores(&panels, |(columns, rows)| {
        let more = "[infill]\npattern = \"square-hemp-leaf\"\n[frame]\nthickness = \"24 mm\"\nmortise_depth = \"6 mm\"\n\
                    margin = \"4 mm\"\nsetback = \"4 mm\"\nwidth = \"36 mm\"\n";
        let text = job(*columns, *rows, more);
        let bench = Bench::new();
        bench.write("job.toml", &text);
        let plan = bench.ok(&["stock", "job.toml", "--format", "json"]).json();
        let counts = |what: &str| -> usize {
            let own = list(&plan, "needs")
                .iter()
                .filter(|need| need["what"].as_str().unwrap().starts_with(what));
            own.map(|need| count(&need["count"])).sum()
        };
        let cells = columns * rows;
        assert_eq!(counts("upright"), columns + 1);
        assert_eq!(counts("cross strip"), rows + 1);
        assert_eq!(
            [counts("diagonal"), counts("hinge"), counts("lock")],
            [cells, 4 * cells, 2 * cells]
        );
        let rails = bench.ok(&["rails", "job.toml", "--format", "json"]).json();
        let mut blanks: Vec<f64> = list(&rails["mitres"], "members")
            .iter()
            .map(|member| mm(&member["blank_mm"]))
            .collect();
        let members = list(&plan, "needs")
            .iter()
            .filter(|need| need["kind"] == "member");
        let mut found: Vec<f64> = members
            .flat_map(|need| vec![mm(&need["length_mm"]); count(&need["count"])])
            .collect();
        blanks.sort_by(f64::total_cmp);
        found.sort_by(f64::total_cmp);
        assert_eq!(blanks, found);
        sticks_are_cut(&plan);
        boards_are_milled(&plan, &EXAMPLES);
    });
}

/// Pieces as the way takes them: sticks with grips, or rough lengths, and never both.
#[test]
fn every_way_has_its_own_parts() {
    let bench = Bench::new();
    let pieces = |way: &str| {
        let infill = format!(
            "{SLED}router = \"mid-router\"\n[infill]\npattern = \"square-hemp-leaf\"\nway = \"{way}\"\n"
        );
        bench.write("job.toml", job(3, 3, &infill));
        let plan = bench.ok(&["stock", "job.toml", "--format", "json"]).json();
        sticks_are_cut(&plan);
        boards_are_milled(&plan, &EXAMPLES);
        let pare = bench
            .ok(&["pare", "job.toml", "--way", way, "--format", "json"])
            .json();
        (plan, pare)
    };
    let kinds = |plan: &Value, kind: &str| -> Vec<(f64, usize)> {
        let own = list(plan, "needs")
            .iter()
            .filter(|need| need["kind"] == kind);
        own.map(|need| (mm(&need["length_mm"]), count(&need["count"])))
            .collect()
    };
    let (pared, list_of) = pieces("guides");
    let rough: Vec<(f64, usize)> = (list(&list_of, "pieces").iter())
        .map(|piece| (mm(&piece["rough_length_mm"]), count(&piece["made"])))
        .collect();
    assert_eq!(kinds(&pared, "piece"), rough);
    assert!(kinds(&pared, "piece-stick").is_empty());
    let (rows, list_of) = pieces("rows");
    let sticks: Vec<(f64, usize)> = (list(&list_of["mitres"], "sticks").iter())
        .map(|sticks| (mm(&sticks["length_mm"]), count(&sticks["count"])))
        .collect();
    assert!(!sticks.is_empty());
    assert_eq!(kinds(&rows, "piece-stick"), sticks);
    assert_eq!(kinds(&rows, "batten").len(), sticks.len());
    let (routed, list_of) = pieces("routed-rows");
    let sticks: Vec<(f64, usize)> = (list(&list_of["routed"], "rows").iter())
        .map(|row| {
            let sticks = count(&row["sticks_a_run"]) * count(&row["runs"]);
            (mm(&row["stick_mm"]), sticks)
        })
        .collect();
    assert_eq!(kinds(&routed, "piece-stick"), sticks);
    // A laser alone cuts both from sheet: no stick is bought.
    let infill = "[machines]\nlaser = \"tube-laser\"\n[infill]\npattern = \"square-hemp-leaf\"\nthickness = \"2.8 mm\"\ndepth = \"5 mm\"\n";
    let sheet = stock(&job(3, 3, infill));
    assert!(list(&sheet, "sticks").is_empty() && list(&sheet, "sections").is_empty());
    assert!(
        list(&sheet, "needs")
            .iter()
            .all(|need| need["from"] == "sheet")
    );
}

/// Sticks of one's own and packs: counts, prices, what is in the shop first.
#[test]
fn sticks_at_hand_go_first_and_packs_are_whole() {
    // 4 uprights and 4 cross strips of 155, one spare of each: 10 parts; of 500, less both ends, three come off,
    // held or not: 3 x 155 + 3 x 2 + 2 x 3 = 477.
    let text = job(
        3,
        3,
        "[stock]\nkerf = \"2 mm\"\ntrim = \"3 mm\"\nleast_held = \"20 mm\"\ncurrency = \"EUR\"\n\
         [[stock.sticks]]\nlength = \"500 mm\"\ncount = 1\n\
         [[stock.sticks]]\nlength = \"500 mm\"\npack = 2\nprice = 5\n",
    );
    let plan = stock(&text);
    sticks_are_cut(&plan);
    let bought = list(&plan["sections"][0]["supply"], "bought");
    assert_eq!(
        (count(&bought[0]["count"]), count(&bought[1]["count"])),
        (1, 3)
    );
    assert_eq!(bought[1]["packs"], 2);
    assert!((mm(&plan["price"]) - 10.0).abs() < NEAR);
    assert_eq!(
        (
            plan["proved"].as_bool(),
            plan["sections"][0]["bound_of"].as_str()
        ),
        (Some(true), Some("bought"))
    );
    let bench = Bench::new();
    bench.write("job.toml", &text);
    let told = bench.ok(&["stock", "job.toml"]).out;
    for said in [
        "1 stick of 500.00 mm of basswood for the strips 2.80 mm x 11.00 mm, from your shop",
        "2 packs of 2 sticks of 500.00 mm of basswood",
        "no plan buys fewer",
        "Price by your own figures: 10.00 EUR.",
    ] {
        assert!(told.contains(said), "{said}:\n{told}");
    }
}

/// All of it by hand. 2 x 2 bays of 41, overhang 16: 3 uprights and 3 cross strips of 114, a spare of each: 8 of 114 mm.
#[test]
fn figures_by_hand() {
    let plan = stock(&job(
        2,
        2,
        "[stock.board]\nthickness = \"20 mm\"\nwidth = \"103 mm\"\nlength = \"900 mm\"\nprice = 12\n\
         [stock.milling]\nkerf = \"2.4 mm\"\nplaning = \"0.8 mm\"\n",
    ));
    assert!((mm(&plan["metres"]) - 8.0 * 0.114).abs() < NEAR);
    let volume = 8.0 * 114.0 * 2.8 * 11.0 / 1e9;
    assert!(
        (mm(&plan["volume_m3"]) - volume).abs() < 1e-8,
        "{} {volume}",
        plan["volume_m3"]
    );
    // 1 board foot = 144 cubic inches = 0.002359737 m3 (NIST Voluntary Product Standard PS 20, 2.2).
    assert!((mm(&plan["board_feet"]) - volume / 0.002_359_737_216).abs() < 1e-6);
    // 414 kg/m3.
    assert!(
        (mm(&plan["kg"]) - volume * 414.4).abs() < 1e-6,
        "{}",
        plan["kg"]
    );
    // The board by surface measure: 4.055 in by 2 whole feet by 1/12 are 0.68, so 1, and stock under an inch counts as an inch
    // (export council of American hardwoods; a dealer's glossary).
    let supply = &plan["sections"][0]["supply"];
    assert!((mm(&supply["board_feet_hardwood"]) - 1.0).abs() < NEAR);
    let board = 20.0 * 103.0 * 900.0 / 1e9;
    assert!((mm(&supply["volume_m3"]) - board).abs() < 1e-8);
    assert!((mm(&supply["board_feet"]) - board / 0.002_359_737_216).abs() < 1e-6);
    // (103 - 3 + 2.4) / (2.8 + 0.8 + 2.4) = 17.07: 17 strips; they keep 47.6 of 100.
    let ripped = &plan["sections"][0]["supply"]["ripped"];
    assert_eq!(ripped["sticks_per_blank"], 17);
    assert!((mm(&ripped["shares"]["kept"]) - 0.476).abs() < NEAR);
    assert!((mm(&plan["price"]) - 12.0).abs() < NEAR);
    // 900 less 75 at both ends; 750 less 3 at both: 6 of 114 and 6 kerfs of 2 are 696, so 2 sticks.
    assert_eq!(plan["sections"][0]["sticks"], 2);
    // Bays of 41: fibres run out one in 41 / 2.8 at the most.
    assert!((mm(&plan["run_out_one_in"]) - 41.0 / 2.8).abs() < NEAR);
}

/// Each at its line, with a remedy; nothing is printed.
#[test]
fn what_cannot_be_is_told_at_its_place() {
    for (more, key, code, says) in [
        (
            "[stock]\nkerf = \"0 mm\"\n",
            "kerf",
            "not-positive",
            "above zero",
        ),
        (
            "[stock]\n[[stock.sticks]]\nlength = \"150 mm\"\n",
            "length",
            "stock-too-short",
            "it takes sticks of",
        ),
        (
            "[stock]\nleast_held = \"300 mm\"\n[[stock.sticks]]\nlength = \"400 mm\"\n",
            "length",
            "not-held",
            "or more",
        ),
        (
            "[stock]\n[[stock.sticks]]\nlength = \"900 mm\"\ncount = 1\n",
            "count",
            "too-few-sticks",
            "raise the count",
        ),
        (
            "[stock]\naim = \"cost\"\n[[stock.sticks]]\nlength = \"900 mm\"\n",
            "[[stock.sticks]]",
            "no-price",
            "price = 2.5",
        ),
        (
            "[stock.board]\nthickness = \"12 mm\"\n",
            "thickness = \"12",
            "board-too-thin",
            "16.00 mm or more",
        ),
        (
            "[stock.board]\nlength = \"300 mm\"\n",
            "length",
            "board-too-short",
            "or more",
        ),
        (
            "[stock.board]\nwidth = \"5 mm\"\n",
            "width",
            "board-too-narrow",
            "or more",
        ),
        (
            "[stock.board]\nwidth = \"24 mm\"\nlength = \"400 mm\"\ncount = 1\n",
            "count",
            "too-few-boards",
            "boards",
        ),
    ] {
        let bench = Bench::new();
        let text = job(3, 3, more);
        bench.write("job.toml", &text);
        let ran = bench.run(&["stock", "job.toml"]);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{more}\n{}", ran.err);
        assert!(
            ran.err.contains(code) && ran.err.contains(says),
            "{more}\n{}",
            ran.err
        );
        let from = line_of(&text, more.lines().next().unwrap());
        let behind = text
            .lines()
            .skip(from - 1)
            .position(|line| line.starts_with(key));
        let line = from + behind.unwrap_or(0);
        assert!(
            ran.err.contains(&format!("job.toml:{line}")),
            "line {line}: {more}\n{}",
            ran.err
        );
    }
    // Sticks that nothing is cut from are told, and the rest is done.
    let bench = Bench::new();
    bench.write(
        "job.toml",
        job(
            3,
            3,
            "[stock]\n[[stock.sticks]]\nfor = \"frame\"\nlength = \"900 mm\"\n",
        ),
    );
    let ran = bench.ok(&["stock", "job.toml"]);
    assert!(ran.err.contains("not-used"), "{}", ran.err);
}

/// The rings that the milling gives against those that `movement` reckons with.
#[test]
fn rings_that_contradict_each_other_are_told() {
    let bench = Bench::new();
    for (sawn, from, rings, is_told) in [
        ("flat", "edge", "across-thickness", true),
        ("flat", "edge", "along-thickness", false),
        ("quarter", "edge", "across-thickness", false),
        ("quarter", "blanks", "across-thickness", true),
        ("flat", "blanks", "across-thickness", false),
    ] {
        let more = format!(
            "[climate]\nrings = \"{rings}\"\n[stock.board]\nsawn = \"{sawn}\"\n[stock.milling]\nfrom = \"{from}\"\n"
        );
        bench.write("job.toml", job(3, 3, &more));
        let ran = bench.ok(&["stock", "job.toml"]);
        assert_eq!(
            ran.err.contains("rings-otherwise"),
            is_told,
            "{more}\n{}",
            ran.err
        );
    }
}

/// A planer that takes no less than 400 mm and 12 mm: boards are long enough, and what is thinner goes on a carrier.
#[test]
fn ones_own_planer_is_minded() {
    let more = "[stock.planer]\nleast_length = \"400 mm\"\nleast_thickness = \"12 mm\"\nroller_spacing = \"420 mm\"\n";
    let plan = stock(&job(3, 3, more));
    let shop = Shop {
        planer_length: 420.0 + 50.8,
        planer_thickness: 12.0,
        rip_length: 305.0,
    };
    boards_are_milled(&plan, &shop);
    let steps: Vec<&str> = list(&plan, "milling")
        .iter()
        .map(|step| step["step"].as_str().unwrap())
        .collect();
    assert!(steps.contains(&"plane-on-carrier"), "{steps:?}");
    let bench = Bench::new();
    let short = format!("{more}[stock.board]\nlength = \"460 mm\"\n");
    bench.write("job.toml", job(3, 3, &short));
    let ran = bench.run(&["stock", "job.toml"]);
    assert!(
        ran.code == 2 && ran.err.contains("470.80 mm or more"),
        "{}",
        ran.err
    );
}

/// The list as a spreadsheet has it says what the answer says.
#[test]
fn the_list_for_spreadsheets_is_the_plan() {
    let bench = Bench::new();
    bench.write(
        "job.toml",
        job(3, 4, "[infill]\npattern = \"square-hemp-leaf\"\n"),
    );
    let plan = bench
        .ok(&["stock", "job.toml", "--format", "json", "--csv", "cuts.csv"])
        .json();
    let text = bench.read("cuts.csv");
    let rows: Vec<Vec<&str>> = text.lines().map(|line| line.split(',').collect()).collect();
    let cuts: usize = list(&plan, "sticks")
        .iter()
        .map(|stick| list(stick, "cuts").len())
        .sum();
    assert_eq!(rows.len(), cuts + 1);
    assert_eq!(rows[0][7..], ["part", "length_mm", "left_mm"]);
    let mut at = 1;
    for stick in list(&plan, "sticks") {
        for cut in list(stick, "cuts") {
            let length: f64 = rows[at][8].parse().unwrap();
            assert_eq!(rows[at][7], cut["what"].as_str().unwrap());
            assert!((length - mm(&cut["length_mm"])).abs() < 6e-4);
            at += 1;
        }
    }
}

/// Own figures come before the tables'; what nobody knows is said to be unknown.
#[test]
fn woods_stand_side_by_side_with_figures_of_ones_own() {
    let bench = Bench::with_job();
    let own = "[stock]\n[[stock.woods]]\nname = \"walnut\"\nhardness = 4321\nprice = 2900\n";
    bench.write("own.toml", format!("{JOB}\n{own}"));
    let table = bench
        .ok(&["stock", "own.toml", "--woods", "sugi", "--format", "json"])
        .json();
    let woods = table["woods"].as_array().unwrap();
    let names: Vec<&str> = woods
        .iter()
        .map(|wood| wood["wood"].as_str().unwrap())
        .collect();
    // The job's own first, as the table calls it.
    assert_eq!(names.len(), 3, "{names:?}");
    assert_eq!(names[2], "sugi");
    let walnut = &woods[1];
    assert_eq!(walnut["hardness_n"]["value"], 4321.0);
    assert_eq!(walnut["price"]["amount"], 2900.0);
    assert!(woods[2]["density_kg_m3"].is_null(), "{}", woods[2]);
    let text = bench.ok(&["stock", "own.toml", "--woods", "sugi"]).out;
    assert!(text.contains("unknown") && text.contains("2900"), "{text}");
    let all = bench
        .ok(&["stock", "job.toml", "--woods", "--format", "json"])
        .json();
    assert!(all["woods"].as_array().unwrap().len() > 15);
    let wrong = bench.run(&["stock", "own.toml", "--woods", "--csv", "a.csv"]);
    assert_eq!(wrong.code, 2);
}

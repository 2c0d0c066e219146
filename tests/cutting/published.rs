//! Published instances of bin packing and cutting stock whose fewest sticks are known.

use crate::shop::{checked, first_fit};
use lapwright::stick_cutting::{Aim, CutTask, Part, Saw, Stock, Supply, cut_plan};
use std::fs;

/// Wood without kerf: the least kerf is taken off every length and off the stick.
const KERF: f64 = 0.01;

struct Instance {
    name: String,
    known: f64,
    task: CutTask,
}

fn instances(file: &str) -> Vec<Instance> {
    let path = format!("{}/tests/data/{file}", env!("CARGO_MANIFEST_DIR"));
    let text = fs::read_to_string(path).unwrap();
    let lines = text.lines().filter(|line| !line.starts_with('#'));
    lines.map(instance).collect()
}

fn instance(line: &str) -> Instance {
    let mut words = line.split(' ');
    let name = words.next().unwrap().to_owned();
    let mut number = || words.next().unwrap().parse::<f64>().unwrap();
    let (stick, known) = (number(), number());
    let part = |word: &str| {
        let (length, count) = word.split_once('x').unwrap_or((word, "1"));
        Part {
            length: length.parse::<f64>().unwrap() - KERF,
            count: count.parse().unwrap(),
        }
    };
    let stock = Stock {
        length: stick - KERF,
        count: None,
        supply: Supply::Shop { price: None },
    };
    let saw = Saw {
        kerf: KERF,
        trim: 0.0,
        hold: 0.0,
    };
    Instance {
        name,
        known,
        task: CutTask {
            parts: words.map(part).collect(),
            stocks: vec![stock],
            saw,
            aim: Aim::FewestSticks,
        },
    }
}

/// Each in the fewest sticks, and proved; longest first alone does not do it.
fn all_are_solved(instances: &[Instance]) -> Vec<&str> {
    let mut worse = Vec::new();
    for Instance { name, known, task } in instances {
        let plan = cut_plan(task).unwrap();
        checked(task, &plan);
        assert_eq!((plan.amount, plan.bound), (*known, *known), "{name}");
        assert!(plan.proved, "{name}");
        let first_fit = first_fit(task) as f64;
        assert!(first_fit >= *known, "{name}");
        if first_fit > *known {
            worse.push(name.as_str());
        }
    }
    worse
}

/// E. Falkenauer's uniform instances: each is proved for the number of bins in the file.
#[test]
fn falkenauers_uniform_instances() {
    let mut all = instances("rows.txt");
    all.retain(|instance| instance.name.starts_with('u'));
    assert_eq!(all.len(), 10);
    let worse = all_are_solved(&all);
    assert!(worse.len() > 3, "{worse:?}");
}

/// One of his triplets, where no stick may have anything left over.
#[test]
fn a_triplet() {
    let mut all = instances("rows.txt");
    all.retain(|instance| instance.name == "t120_00");
    let triplet = &all[0];
    assert_eq!(triplet.known, 40.0);
    let plan = cut_plan(&triplet.task).unwrap();
    checked(&triplet.task, &plan);
    assert_eq!(plan.bound, 40.0);
    assert!(plan.amount <= 41.0);
}

/// Also csp132, where rounding the linear bound up gives 2 and the fewest are 3.
#[test]
fn examples_of_textbooks() {
    let all = instances("sticks.txt");
    assert_eq!(all.len(), 7);
    let worse = all_are_solved(&all);
    let wanted = ["roll100", "roll5600", "graham524_less", "longer61"];
    assert_eq!(worse, wanted);
}

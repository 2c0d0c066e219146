//! Against every way of cutting few parts: any sticks, any order, each cut played.

use crate::shop::{Numbers, checked, held_in_some_order};
use lapwright::stick_cutting::{
    Aim, Counted, CutFault, CutTask, Part, Saw, Stock, Supply, cut_plan,
};
use std::collections::HashMap;

/// All ways of cutting a task's parts, tried out.
struct Everything<'a> {
    task: &'a CutTask,
    /// What one stick of each stock counts for.
    weights: Vec<f64>,
    /// Subsets of the parts that one stick of each stock can give, as counts.
    ways: Vec<Vec<Vec<usize>>>,
    known: HashMap<(Vec<usize>, Vec<usize>), Option<f64>>,
}

impl<'a> Everything<'a> {
    fn of(task: &'a CutTask, weights: Vec<f64>) -> Self {
        let ways = (0..task.stocks.len())
            .map(|stock| ways(task, stock))
            .collect();
        Everything {
            task,
            weights,
            ways,
            known: HashMap::new(),
        }
    }

    fn least(&mut self) -> Option<f64> {
        let parts: Vec<usize> = self.task.parts.iter().map(|part| part.count).collect();
        let all = parts.iter().sum();
        let sticks = self
            .task
            .stocks
            .iter()
            .map(|stock| stock.count.unwrap_or(all))
            .collect();
        self.least_for(parts, sticks)
    }

    fn least_for(&mut self, parts: Vec<usize>, sticks: Vec<usize>) -> Option<f64> {
        let Some(first) = parts.iter().position(|count| *count > 0) else {
            return Some(0.0);
        };
        let key = (parts, sticks);
        if let Some(known) = self.known.get(&key) {
            return *known;
        }
        let mut best: Option<f64> = None;
        for stock in 0..self.weights.len() {
            if key.1[stock] == 0 {
                continue;
            }
            for way in self.ways[stock].clone() {
                if way[first] == 0 || way.iter().zip(&key.0).any(|(cut, left)| cut > left) {
                    continue;
                }
                let left = key
                    .0
                    .iter()
                    .zip(&way)
                    .map(|(left, cut)| left - cut)
                    .collect();
                let mut sticks = key.1.clone();
                sticks[stock] -= 1;
                if let Some(rest) = self.least_for(left, sticks) {
                    let all = rest + self.weights[stock];
                    best = Some(best.map_or(all, |best| best.min(all)));
                }
            }
        }
        self.known.insert(key, best);
        best
    }
}

/// Every choice of parts that some order of cutting gives.
fn ways(task: &CutTask, stock: usize) -> Vec<Vec<usize>> {
    let mut ways = vec![Vec::new()];
    for part in &task.parts {
        let more = ways.iter().flat_map(|way| {
            (0..=part.count).map(|count| {
                let mut way = way.clone();
                way.push(count);
                way
            })
        });
        ways = more.collect();
    }
    ways.retain(|way| way.iter().any(|count| *count > 0) && held_in_some_order(task, stock, way));
    ways
}

fn made_up(numbers: &mut Numbers) -> CutTask {
    let mut parts = Vec::new();
    let mut left = numbers.from(2, 8);
    while left > 0 {
        let count = numbers.from(1, left.min(4));
        left -= count;
        let length = numbers.from(3, 60) as f64 * 10.0;
        parts.push(Part { length, count });
    }
    let stock = |numbers: &mut Numbers| Stock {
        length: numbers.from(40, 120) as f64 * 10.0,
        count: (numbers.from(0, 2) > 0).then(|| numbers.from(1, 3)),
        supply: match numbers.from(0, 3) {
            0 => Supply::Hand,
            _ => Supply::Shop {
                price: Some(numbers.from(1, 40) as f64 / 4.0),
            },
        },
    };
    let stocks = (0..numbers.from(1, 3)).map(|_| stock(numbers)).collect();
    CutTask {
        parts,
        stocks,
        saw: Saw {
            kerf: numbers.from(1, 8) as f64 / 2.0,
            trim: numbers.from(0, 2) as f64 * 5.0,
            hold: [0.0, 0.0, 80.0, 150.0][numbers.from(0, 3)],
        },
        aim: [Aim::FewestSticks, Aim::LeastCost, Aim::LeastWood][numbers.from(0, 2)],
    }
}

fn weights(task: &CutTask, counted: Counted) -> Vec<f64> {
    let weight = |stock: &Stock| match (task.aim, stock.supply, counted) {
        (_, Supply::Hand, Counted::Bought) => 0.0,
        (Aim::LeastWood, _, _) => stock.length,
        (Aim::LeastCost, Supply::Shop { price }, _) => price.unwrap(),
        _ => 1.0,
    };
    task.stocks.iter().map(weight).collect()
}

fn in_hand(task: &CutTask) -> Option<CutTask> {
    let is_own = |stock: &Stock| stock.supply == Supply::Hand;
    let mut task = task.clone();
    for stock in task.stocks.iter_mut().filter(|stock| !is_own(stock)) {
        stock.count = Some(0);
    }
    task.stocks.iter().any(is_own).then_some(task)
}

#[test]
fn no_way_of_cutting_does_better() {
    let mut numbers = Numbers(19);
    let (mut plans, mut none, mut used, mut short_parts) = (0, 0, 0, 0);
    while plans < 300 {
        let task = made_up(&mut numbers);
        let own = in_hand(&task)
            .and_then(|own| Everything::of(&own, weights(&own, Counted::Used)).least());
        let bought = || Everything::of(&task, weights(&task, Counted::Bought)).least();
        let (wanted, counted) = match own {
            Some(own) => (Some(own), Counted::Used),
            None => (bought(), Counted::Bought),
        };
        match (cut_plan(&task), wanted) {
            (Ok(plan), Some(wanted)) => {
                checked(&task, &plan);
                assert_eq!(plan.counted, counted, "{task:?}");
                assert!(
                    (plan.amount - wanted).abs() < 1e-9,
                    "{plan:?}, {wanted}, {task:?}"
                );
                assert!(plan.proved && plan.bound == plan.amount, "{plan:?}");
                plans += 1;
                used += usize::from(counted == Counted::Used);
                let held = |part: &Part| part.length >= task.saw.hold;
                short_parts += usize::from(!task.parts.iter().all(held));
            }
            (Err(faults), None) => {
                none += 1;
                for fault in faults {
                    match fault {
                        CutFault::TooFewSticks { proved, .. } => assert!(proved, "{task:?}"),
                        CutFault::PartTooLong { .. } | CutFault::PartNotHeld { .. } => {}
                        other => panic!("{other:?}: {task:?}"),
                    }
                }
            }
            (plan, wanted) => panic!("{plan:?}, {wanted:?}, {task:?}"),
        }
    }
    // Of every sort there are some.
    assert!(
        none > 50 && used > 20 && short_parts > 40,
        "{none} {used} {short_parts}"
    );
}

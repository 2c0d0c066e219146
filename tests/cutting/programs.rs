//! Against a mixed-integer program of another make: flows through the lengths of a stick, solved by scipy.

use crate::shop::{Numbers, checked};
use crate::support::cut_sticks;
use lapwright::stick_cutting::{Aim, CutTask, Part, Saw, Stock, Supply, cut_plan};
use serde_json::{Value, json};

/// Whole millimetres; several stocks, some of them limited.
fn made_up(numbers: &mut Numbers) -> CutTask {
    let kinds = numbers.from(3, 7);
    let part = |numbers: &mut Numbers| Part {
        length: numbers.from(8, 45) as f64,
        count: numbers.from(1, 6),
    };
    let parts = (0..kinds).map(|_| part(numbers)).collect();
    let stock = |numbers: &mut Numbers, count| Stock {
        length: numbers.from(50, 95) as f64,
        count,
        supply: Supply::Shop {
            price: Some(numbers.from(4, 30) as f64),
        },
    };
    let mut stocks = vec![stock(numbers, None)];
    for _ in 0..numbers.from(0, 2) {
        let count = Some(numbers.from(1, 4));
        stocks.push(stock(numbers, count));
    }
    CutTask {
        parts,
        stocks,
        saw: Saw {
            kerf: numbers.from(1, 4) as f64,
            trim: numbers.from(0, 2) as f64,
            hold: 0.0,
        },
        aim: [Aim::FewestSticks, Aim::LeastCost, Aim::LeastWood][numbers.from(0, 2)],
    }
}

fn asked(task: &CutTask) -> Value {
    let cost = |stock: &Stock| match (task.aim, stock.supply) {
        (Aim::LeastCost, Supply::Shop { price }) => price.unwrap(),
        (Aim::LeastWood, _) => stock.length,
        _ => 1.0,
    };
    let parts: Vec<Value> = task
        .parts
        .iter()
        .map(|part| json!([part.length, part.count]))
        .collect();
    let stocks: Vec<Value> = task
        .stocks
        .iter()
        .map(|stock| json!([stock.length, stock.count, cost(stock)]))
        .collect();
    json!({ "parts": parts, "stocks": stocks, "kerf": task.saw.kerf, "trim": task.saw.trim })
}

#[test]
fn a_program_of_another_make_finds_the_same() {
    let mut numbers = Numbers(3);
    let tasks: Vec<CutTask> = (0..30).map(|_| made_up(&mut numbers)).collect();
    let asked: Vec<Value> = tasks.iter().map(asked).collect();
    let answers = cut_sticks(&json!(asked));
    let (mut proved, mut several) = (0, 0);
    for (task, answer) in tasks.iter().zip(answers.as_array().unwrap()) {
        let plan = cut_plan(task).unwrap();
        checked(task, &plan);
        let least = answer.as_f64().unwrap();
        assert!(plan.bound <= least + 1e-6, "{plan:?}, {least}: {task:?}");
        assert!(plan.amount >= least - 1e-6, "{plan:?}, {least}: {task:?}");
        proved += usize::from(plan.proved);
        several += usize::from(task.stocks.len() > 1);
    }
    assert!(proved >= 29 && several > 10, "{proved} {several}");
}

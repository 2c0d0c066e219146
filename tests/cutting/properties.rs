//! What holds for every plan.

use crate::shop::{checked, first_fit};
use lapwright::stick_cutting::{Aim, CutTask, Part, Saw, Stock, Supply, cut_plan};
use proptest::prelude::*;

fn stocks(most: usize) -> impl Strategy<Value = Vec<Stock>> {
    let stock = (
        700.0..3000.0_f64,
        proptest::option::of(1..12_usize),
        0..4_u8,
        0.5..9.0_f64,
    );
    let stock = stock.prop_map(|(length, count, from, price)| Stock {
        length,
        count,
        supply: match from {
            0 => Supply::Hand,
            _ => Supply::Shop { price: Some(price) },
        },
    });
    prop::collection::vec(stock, 1..=most)
}

fn task(parts: usize, stocks: impl Strategy<Value = Vec<Stock>>) -> impl Strategy<Value = CutTask> {
    let part = (15.0..690.0_f64, 1..8_usize).prop_map(|(length, count)| Part { length, count });
    let saw = (0.5..4.0_f64, 0.0..20.0_f64, 0.0..200.0_f64);
    let saw = saw.prop_map(|(kerf, trim, hold)| Saw { kerf, trim, hold });
    let aim = prop::sample::select(vec![Aim::FewestSticks, Aim::LeastCost, Aim::LeastWood]);
    let parts = prop::collection::vec(part, 1..parts);
    (parts, stocks, saw, aim).prop_map(|(parts, stocks, saw, aim)| CutTask {
        parts,
        stocks,
        saw,
        aim,
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, ..ProptestConfig::default() })]

    /// Every stick can be cut as it is told, every part comes out, no stick is used that is not there; and the
    /// same task gives the same plan.
    #[test]
    fn plans_can_be_cut(task in task(4, stocks(2))) {
        if let Ok(plan) = cut_plan(&task) {
            checked(&task, &plan);
            prop_assert_eq!(cut_plan(&task).unwrap(), plan);
        }
    }

    /// With one stock and nothing to hold: no more sticks than the longest first takes, no fewer than the wood
    /// asks for; and a bound that stays below.
    #[test]
    fn between_the_wood_and_the_longest_first(mut task in task(9, stocks(1))) {
        task.saw.hold = 0.0;
        task.aim = Aim::FewestSticks;
        task.stocks[0].count = None;
        let plan = cut_plan(&task).unwrap();
        checked(&task, &plan);
        prop_assert!(plan.amount <= first_fit(&task) as f64);
        let wood: f64 = task.parts.iter().map(|part| part.length * part.count as f64).sum();
        prop_assert!(plan.bound >= (wood / task.stocks[0].length).floor());
    }
}

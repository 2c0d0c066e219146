//! Tasks that cannot be cut, and the words for them.

use crate::shop::checked;
use lapwright::UnitSystem;
use lapwright::stick_cutting::{
    Aim, Counted, CutFault, CutTask, Part, Saw, Stock, Supply, cut_plan,
};

fn task(parts: &[(f64, usize)], sticks: &[(f64, Option<usize>)]) -> CutTask {
    CutTask {
        parts: parts
            .iter()
            .map(|(length, count)| Part {
                length: *length,
                count: *count,
            })
            .collect(),
        stocks: sticks
            .iter()
            .map(|(length, count)| Stock {
                length: *length,
                count: *count,
                supply: Supply::Shop { price: None },
            })
            .collect(),
        saw: Saw {
            kerf: 3.0,
            trim: 10.0,
            hold: 150.0,
        },
        aim: Aim::FewestSticks,
    }
}

fn faults(task: &CutTask) -> Vec<CutFault> {
    cut_plan(task).unwrap_err()
}

/// All at once, each by its place.
#[test]
fn figures_that_cannot_be() {
    let good = task(&[(300.0, 2)], &[(2000.0, None)]);
    assert!(cut_plan(&good).is_ok());
    for kerf in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let mut bad = good.clone();
        bad.saw = Saw {
            kerf,
            trim: -1.0,
            hold: f64::NAN,
        };
        bad.parts.push(Part {
            length: 0.0,
            count: 1,
        });
        bad.stocks.push(Stock {
            length: 1e7,
            count: Some(1),
            supply: Supply::Shop { price: Some(-1.0) },
        });
        let wanted = [
            CutFault::Kerf,
            CutFault::Trim,
            CutFault::Hold,
            CutFault::PartLength { part: 1 },
            CutFault::StockLength { stock: 1 },
            CutFault::Price { stock: 1 },
        ];
        assert_eq!(faults(&bad), wanted);
    }
    let mut many = good.clone();
    many.parts[0].count = usize::MAX;
    assert_eq!(faults(&many), [CutFault::TooManyParts]);
}

#[test]
fn no_stick_and_no_price() {
    assert_eq!(faults(&task(&[(300.0, 2)], &[])), [CutFault::NoStock]);
    assert_eq!(
        faults(&task(&[(300.0, 2)], &[(900.0, Some(0))])),
        [CutFault::NoStock]
    );
    let mut dear = task(&[(300.0, 2)], &[(900.0, None), (2000.0, None)]);
    dear.aim = Aim::LeastCost;
    dear.stocks[0].supply = Supply::Shop { price: Some(3.0) };
    assert_eq!(faults(&dear), [CutFault::PriceMissing { stock: 1 }]);
    // What lies in the shop needs no price.
    dear.stocks[1].supply = Supply::Hand;
    let plan = cut_plan(&dear).unwrap();
    assert_eq!((plan.counted, plan.amount), (Counted::Used, 1.0));
}

#[test]
fn too_long_and_too_short() {
    // A stick of 900 gives 880; 881 is told with what would come out.
    let long = task(&[(880.0, 1), (881.0, 1)], &[(900.0, None), (600.0, None)]);
    assert_eq!(
        faults(&long),
        [CutFault::PartTooLong {
            part: 1,
            longest: 880.0
        }]
    );
    let words = faults(&long)[0].words().text(UnitSystem::Millimetres);
    assert_eq!(
        words,
        "no stick is long enough: the longest part that comes out of one is 880.00 mm"
    );
    // 40 out of a stick of 202 leaves 202 - 10 - 43 = 149 in the hand; out of 203 it leaves 150.
    let short = |stick| task(&[(40.0, 1)], &[(stick, None)]);
    assert_eq!(
        faults(&short(202.0)),
        [CutFault::PartNotHeld {
            part: 0,
            needed: 203.0
        }]
    );
    assert!(cut_plan(&short(203.0)).is_ok());
    // Beside a part of 150 it can be cut, first: 150 is held while the rest comes off.
    let beside = task(&[(40.0, 1), (150.0, 1)], &[(214.0, None)]);
    let plan = cut_plan(&beside).unwrap();
    checked(&beside, &plan);
    assert_eq!(plan.sticks[0].cuts, [0, 1]);
    // Where enough is left the longer one comes first.
    let beside = task(&[(40.0, 1), (150.0, 1)], &[(400.0, None)]);
    assert_eq!(cut_plan(&beside).unwrap().sticks[0].cuts, [1, 0]);
}

/// Ten parts of 500 out of sticks of 1100, two to each (20 + 1003): four sticks lack two, and by lengths alone
/// they would do.
#[test]
fn too_few_sticks() {
    let few = task(&[(500.0, 10)], &[(1100.0, Some(4))]);
    let wanted = CutFault::TooFewSticks {
        lacking: vec![(0, 2)],
        length: 1000.0,
        proved: true,
    };
    assert_eq!(faults(&few), [wanted]);
    let words = faults(&few)[0].words().text(UnitSystem::Millimetres);
    assert_eq!(words, "2 parts, 1000.00 mm together, find no stick");
    let mut more = few;
    more.stocks[0].count = Some(5);
    assert_eq!(cut_plan(&more).unwrap().amount, 5.0);
}

/// What lies in the shop goes first, whatever the aim; what is bought is counted.
#[test]
fn sticks_in_hand_go_first() {
    let mut task = task(&[(500.0, 6)], &[(2400.0, None), (1100.0, Some(1))]);
    task.stocks[1].supply = Supply::Hand;
    for aim in [Aim::FewestSticks, Aim::LeastWood] {
        task.aim = aim;
        let plan = cut_plan(&task).unwrap();
        checked(&task, &plan);
        assert_eq!((plan.sticks_of(0), plan.sticks_of(1)), (1, 1), "{plan:?}");
        assert_eq!(plan.counted, Counted::Bought);
    }
}

#[test]
fn nothing_to_cut() {
    let plan = cut_plan(&task(&[(500.0, 0)], &[(2400.0, None)])).unwrap();
    assert!(plan.sticks.is_empty() && plan.proved && plan.amount == 0.0);
    let plan = cut_plan(&task(&[], &[(2400.0, None)])).unwrap();
    assert_eq!(plan.sticks_used(), 0);
}

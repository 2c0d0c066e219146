//! The closing program beside scipy's `linprog` (HiGHS), and the bounds beside the program.

use crate::made_up::Numbers;
use crate::support::assembled_margins;
use lapwright::predicting::closing::{Joints, Verdict, margin, quick_verdict};
use serde_json::json;

fn panels(count: u64) -> Vec<Joints> {
    (1..=count)
        .map(|seed| {
            let mut numbers = Numbers(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
            let holders = 2 + (numbers.next() * 9.0) as usize;
            let mates = 2 + (numbers.next() * 9.0) as usize;
            let joints = holders * mates;
            let mut at = 0.0;
            let along = (0..holders).map(|_| {
                at += 20.0 + 40.0 * numbers.next();
                at
            });
            let along = along.collect();
            let off = (0..joints).map(|_| numbers.about(0.1)).collect();
            let room = 0.02 + 0.1 * numbers.next();
            let half_room = (0..joints).map(|_| room + numbers.about(0.01)).collect();
            Joints {
                along,
                mates,
                off,
                half_room,
            }
        })
        .collect()
}

#[test]
fn margins_are_those_of_scipy() {
    let panels = panels(200);
    let asked: Vec<_> = (panels.iter())
        .map(|one| json!({"along": one.along, "mates": one.mates, "off": one.off, "half_room": one.half_room}))
        .collect();
    let wanted: Vec<f64> = serde_json::from_value(assembled_margins(&json!(asked))).unwrap();
    let worst = (panels.iter().zip(&wanted))
        .map(|(panel, wanted)| (margin(panel) - wanted).abs())
        .fold(0.0, f64::max);
    println!("greatest difference over 200 panels: {worst:.1e} mm");
    assert!(worst < 1e-9, "{worst}");
    let mut decided = 0;
    for (panel, wanted) in panels.iter().zip(&wanted) {
        match quick_verdict(panel) {
            Verdict::Closes => assert!(*wanted > -1e-9),
            Verdict::DoesNot => assert!(*wanted < 1e-9),
            Verdict::Open => continue,
        }
        decided += 1;
    }
    println!("bounds decided {decided} of 200");
    assert!(decided > 100);
}

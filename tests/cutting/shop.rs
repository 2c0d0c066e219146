//! A shop that cuts a plan stick by stick, with arithmetic of its own.

use lapwright::stick_cutting::{CutPlan, CutTask};

/// A generator of its own, the same everywhere.
pub struct Numbers(pub u64);

impl Numbers {
    /// From the one to the other, both among them.
    pub fn from(&mut self, least: usize, most: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        least + (self.0 >> 33) as usize % (most + 1 - least)
    }
}

/// What is left of a stick when these lengths are cut off one after the other; nothing where one does not come
/// out, or where neither the part nor the rest can be held.
pub fn sawn(task: &CutTask, stock: usize, lengths: &[f64]) -> Option<f64> {
    let (saw, stick) = (&task.saw, task.stocks[stock].length);
    let end = stick - saw.trim;
    let mut at = saw.trim;
    for (place, length) in lengths.iter().enumerate() {
        at += length;
        if at > end + 1e-6 {
            return None;
        }
        let is_the_stick = lengths.len() == 1 && saw.trim == 0.0 && (stick - length).abs() < 1e-6;
        let goes_on = place + 1 < lengths.len();
        let rest = stick - at - saw.kerf;
        if goes_on && rest < 0.0 {
            return None;
        }
        if !is_the_stick && length.max(rest) < saw.hold - 1e-6 {
            return None;
        }
        at += saw.kerf;
    }
    Some((stick - at).max(0.0))
}

/// Whether some order of so many of each part can be sawn.
pub fn held_in_some_order(task: &CutTask, stock: usize, counts: &[usize]) -> bool {
    let each = counts.iter().enumerate();
    let lengths: Vec<f64> = each
        .flat_map(|(part, count)| std::iter::repeat_n(task.parts[part].length, *count))
        .collect();
    let saw = &task.saw;
    let whole = lengths.iter().sum::<f64>() + saw.kerf * (lengths.len().max(1) - 1) as f64;
    if whole > task.stocks[stock].length - 2.0 * saw.trim + 1e-6 {
        return false;
    }
    some_order(&mut lengths.clone(), 0, &|order| {
        sawn(task, stock, order).is_some()
    })
}

fn some_order(lengths: &mut [f64], from: usize, fits: &dyn Fn(&[f64]) -> bool) -> bool {
    if from == lengths.len() {
        return fits(lengths);
    }
    for at in from..lengths.len() {
        if lengths[from..at].contains(&lengths[at]) {
            continue;
        }
        lengths.swap(from, at);
        let found = some_order(lengths, from + 1, fits);
        lengths.swap(from, at);
        if found {
            return true;
        }
    }
    false
}

/// Every stick is cut as the plan says, every part comes out, and no stick is used that is not there.
pub fn checked(task: &CutTask, plan: &CutPlan) {
    let mut made = vec![0; task.parts.len()];
    for alike in &plan.sticks {
        assert!(alike.count > 0 && !alike.cuts.is_empty(), "{plan:?}");
        let lengths: Vec<f64> = alike
            .cuts
            .iter()
            .map(|part| task.parts[*part].length)
            .collect();
        let left = sawn(task, alike.stock, &lengths);
        let Some(left) = left else {
            panic!("{alike:?} cannot be cut: {task:?}");
        };
        assert!((left - alike.left).abs() < 1e-6, "{left}, {alike:?}");
        alike
            .cuts
            .iter()
            .for_each(|part| made[*part] += alike.count);
    }
    let wanted: Vec<usize> = task.parts.iter().map(|part| part.count).collect();
    assert_eq!(made, wanted, "{plan:?}");
    for (at, stock) in task.stocks.iter().enumerate() {
        assert!(
            stock.count.is_none_or(|count| plan.sticks_of(at) <= count),
            "{plan:?}"
        );
    }
    assert!(plan.bound <= plan.amount, "{plan:?}");
    assert_eq!(plan.proved, plan.bound == plan.amount, "{plan:?}");
}

/// Sticks of the first stock that the longest part first, into the first stick with room, takes.
pub fn first_fit(task: &CutTask) -> usize {
    let (stock, saw) = (&task.stocks[0], &task.saw);
    let parts = task.parts.iter();
    let mut lengths: Vec<f64> = parts
        .flat_map(|part| std::iter::repeat_n(part.length, part.count))
        .collect();
    lengths.sort_by(|one, other| other.total_cmp(one));
    let mut free: Vec<f64> = Vec::new();
    for length in lengths {
        let taken = length + saw.kerf;
        match free.iter_mut().find(|free| **free >= taken - 1e-6) {
            Some(free) => *free -= taken,
            None => free.push(stock.length - 2.0 * saw.trim + saw.kerf - taken),
        }
    }
    free.len()
}

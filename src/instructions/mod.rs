//! The vocabulary of all outputs: what planning says and writing spells out.
//!
//! The plans serialise as they stand: field names carry their units (`_mm`, `_deg`), lists are
//! in working order.

pub mod advice;
pub mod as_built;
pub mod booklet;
pub mod choice;
pub mod drawing;
pub mod end_letter;
pub mod fit;
pub mod folds;
pub mod frame_joint;
pub mod frame_mitres;
pub mod frame_parts;
pub mod laser;
pub mod legible;
pub mod lettering;
pub mod measured;
pub mod milling;
pub mod missing;
pub mod mitres;
pub mod movement;
pub mod outline;
pub mod overview;
pub mod panel;
pub mod panel_size;
pub mod pare;
pub mod patterns;
pub mod proof;
pub mod rails;
pub mod rounds;
pub mod routed_rows;
pub mod router;
pub mod safety;
pub mod saw;
pub mod sheet;
pub mod sled;
pub mod stock;
pub mod stock_plan;
pub mod thickness;
pub mod tool_path;
pub mod wood_table;
pub mod work_time;

use serde::Serializer;

/// Serialises an angle in radians as degrees.
#[allow(clippy::trivially_copy_pass_by_ref)] // serde hands out references
pub(crate) fn degrees<S: Serializer>(angle: &f64, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_f64(angle.to_degrees())
}

/// Labels of a bundle's strips, runs shortened: `U1-U4, U6`.
pub fn label_runs(labels: &[String]) -> String {
    let split = |label: &str| {
        let at = label
            .find(|c: char| c.is_ascii_digit())
            .unwrap_or(label.len());
        (label[..at].to_owned(), label[at..].parse::<u64>().ok())
    };
    let mut runs: Vec<(String, String, Option<u64>)> = Vec::new();
    for label in labels {
        let (letters, number) = split(label);
        match runs.last_mut() {
            Some((first, last, at))
                if split(first).0 == letters && at.is_some() && number == at.map(|at| at + 1) =>
            {
                last.clone_from(label);
                *at = number;
            }
            _ => runs.push((label.clone(), label.clone(), number)),
        }
    }
    let text = |(first, last, _): &(String, String, Option<u64>)| {
        if first == last {
            first.clone()
        } else {
            format!("{first}-{last}")
        }
    };
    runs.iter().map(text).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runs_of_labels_are_shortened() {
        let labels = ["U1", "U2", "U3", "U5", "C1"].map(String::from);
        assert_eq!(label_runs(&labels), "U1-U3, U5, C1");
    }
}

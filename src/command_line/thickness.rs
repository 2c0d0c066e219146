//! `lapwright machine thickness`

use super::answers::{Failure, Outcome, Shown, print};
use super::arguments::Format;
use super::inputs::{self, FoundMachine, MachineFlags};
use super::lengths;
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::machines::Sled;
use crate::phrase::Phrase;
use crate::planning::ThicknessOrder;
use crate::sheets::thickness_lines;
use crate::writing::{json, text};

/// What is asked for.
pub(super) struct Asked<'a> {
    pub(super) profile: &'a str,
    pub(super) clearance: &'a str,
    pub(super) have: Option<&'a str>,
}

pub(super) fn run(asked: &Asked<'_>, inputs: &Inputs, shown: Shown) -> Outcome {
    let clearance = lengths::signed("--clearance", asked.clearance)?;
    let have = |text| lengths::above_zero("--have", text, text);
    let in_hand = asked.have.map(have).transpose()?;
    let flags = MachineFlags::machine(Some(asked.profile));
    let sled: FoundMachine<Sled> = inputs::machine_for(inputs, &flags, None, shown)?;
    let order = ThicknessOrder {
        sled: sled.chosen(),
        clearance,
        in_hand,
    };
    let refused = |faults: Vec<crate::finding::Finding>| {
        let told = faults.iter().map(|fault| {
            let hint = fault.hint.as_ref().map(|hint| hint.text(shown.units));
            format!(
                "{} `{}`: {}; {}",
                fault.field,
                asked.clearance,
                fault.message.text(shown.units),
                hint.unwrap_or_default()
            )
        });
        Failure::input(told.collect::<Vec<_>>().join("\n"))
    };
    let plan = order.plan().map_err(refused)?;
    let safety = SafetyNotes::for_sled(sled.machine.blade.powered.is_some());
    match shown.format {
        Format::Text => {
            let lines = thickness_lines(&plan);
            let lines: Vec<(&str, &Phrase)> = (lines.iter())
                .map(|line| (line.label.as_str(), &line.words))
                .collect();
            let mut answer = text::wrapped(&format!("{}: strips for its blade", plan.machine));
            answer.push_str(&text::fractions(shown.units));
            answer.push('\n');
            answer.push_str(&text::labelled(lines, shown.units));
            answer.push_str(&text::safety_in_short(&safety.short()));
            print(&answer)
        }
        Format::Json => print(&json::answer(
            "lapwright/machine-thickness/1",
            &plan,
            &[],
            safety.notes(),
        )?),
    }
}

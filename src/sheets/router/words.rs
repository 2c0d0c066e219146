//! Words for a set-up: what the sheets of strips and of rails say alike, and what a page and a row do.

use crate::instructions::router::{Registered, RouterSetup, ToolFigures};
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::router::remarks::zero;
use crate::units::Mm;

/// Where a set-up's runs are in a program that has all set-ups.
pub(in crate::sheets) fn program_words(after_stop: Option<usize>, runs: usize) -> Option<String> {
    const ALL: &str = "load this file; it has all set-ups and stops between them";
    Some(match (after_stop?, runs) {
        (0, 1) => ALL.into(),
        (0, runs) => format!(
            "{ALL}: these runs before and after the first {}",
            stops(runs - 1)
        ),
        (stop, 1) => format!("goes on after stop {stop}, and can be started there"),
        (stop, runs) => format!(
            "goes on after stops {stop} to {}, and can be started there",
            stop + runs - 1
        ),
    })
}

fn stops(count: usize) -> String {
    if count == 1 {
        "stop".into()
    } else {
        format!("{count} stops")
    }
}

/// What a cutter's diameter is measured over, and what it cuts where that is something else.
pub(in crate::sheets) fn tool_words(tool: &ToolFigures) -> Phrase {
    let mut words = phrase!("diameter over the edges, measured");
    if tool.over_edges_mm.is_some() {
        words.append(phrase!(
            "; it cuts {} wide, by the test notch",
            Mm(tool.cuts_mm)
        ));
    }
    words
}

pub(in crate::sheets) fn fit_tool(tool: &ToolFigures) -> Phrase {
    let mut words = phrase!("Fit the tool of {}", Mm(tool.measured_mm()));
    if let Some(out) = tool.stick_out_mm {
        words.append(phrase!(", {} from the holder to its end", Mm(out)));
    }
    words.append(phrase!(
        "; check its diameter and that its edges are clean."
    ));
    words
}

/// Where the strips' ends or notches lie.
pub(super) fn against(setup: &RouterSetup) -> &'static str {
    match setup.registered {
        Registered::Key { .. } => "the key in a notch as said above",
        Registered::EndStop if setup.step_back_mm.abs() > 0.0 && setup.strips_per_run > 1 => {
            "stepped as said above, the front strip's datum end against the end stop"
        }
        Registered::EndStop => "datum ends against the end stop",
    }
}

/// What notches are measured from while the bundle is still clamped.
pub(super) fn measured_from(setup: &RouterSetup) -> String {
    match setup.registered {
        Registered::EndStop => "the datum end".into(),
        Registered::Key { on_notch, .. } => {
            format!("the near edge of notch {on_notch}, which lay on the key")
        }
    }
}

/// What is clamped with the block, to the end of the sentence.
pub(super) fn rest_of_clamping(setup: &RouterSetup) -> Phrase {
    let mut words = Phrase::default();
    let [front, back] = setup.backers_mm;
    for (width, place) in [(front, "before"), (back, "behind")] {
        if width > 0.0 {
            words.append(phrase!(
                ", with a strip of scrap {} wide, as long and as deep as the bundle, {} it",
                Mm(width),
                place
            ));
        }
    }
    words.append(phrase!("."));
    words
}

/// From a stop of the program to the next chip.
pub(super) fn go_on(setup: &RouterSetup) -> Vec<Phrase> {
    vec![
        phrase!(
            "Zero stays as it was set: {}. See that the top of the stock is where it was.",
            zero(setup)
        ),
        phrase!(
            "Take tools and hands away, close the enclosure, let the program go on: the spindle starts again by itself. See it up to speed."
        ),
    ]
}

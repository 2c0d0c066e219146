//! What the sheets of strips and of rails say alike.

use crate::instructions::router::ToolFigures;
use crate::phrase;
use crate::phrase::Phrase;
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

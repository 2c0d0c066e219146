//! `lapwright show`

use super::answers::{Outcome, Shown, print};
use super::arguments::{Format, ShowArguments};
use super::glance::Glance;
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::sheets::{LetterPicture, Room, letter_picture, overview_lines};
use crate::writing::{json, text};
use std::io::{IsTerminal, stdout};

/// Clears a terminal and goes to its upper left corner (ECMA-48, ED and CUP).
const EMPTY_SCREEN: &str = "\x1b[2J\x1b[H";

/// Lines of a screen that a panel is shown on, as long as its words leave room for the picture.
const SCREEN_LINES: usize = 40;

/// Beside the picture's own lines: a legend, and an empty line below.
const ROUND_PICTURE: usize = 2;

/// A picture of fewer lines shows nothing.
const LEAST_LINES: usize = 5;

pub(super) fn run(asked: &ShowArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let glance = Glance::read(inputs, &asked.job, shown)?;
    let safety = SafetyNotes::for_assembly();
    let answer = match shown.format {
        Format::Text if asked.watch && stdout().is_terminal() => {
            format!("{EMPTY_SCREEN}{}", with_picture(asked, &glance, shown))
        }
        Format::Text => with_picture(asked, &glance, shown),
        Format::Json => json::answer(
            "lapwright/show/1",
            &glance.overview,
            glance.warnings.all(),
            safety.notes(),
        )?,
    };
    let printed = print(&answer);
    glance.warn(shown);
    glance.whole.advise(shown);
    printed
}

/// Title, picture, figures, safety notes in short.
fn with_picture(asked: &ShowArguments, glance: &Glance, shown: Shown) -> String {
    let lines = overview_lines(&glance.overview, shown.units);
    let lines = lines.iter().map(|line| (line.label.as_str(), &line.words));
    let mut title = text::wrapped(&glance.overview.title);
    title.push_str(&text::fractions(shown.units));
    let figures = text::labelled(lines, shown.units);
    let safety = text::safety_in_short(&SafetyNotes::for_assembly().short());
    let taken = [&title, &figures, &safety].map(|part| part.lines().count());
    let room = Room {
        columns: text::WIDTH,
        lines: SCREEN_LINES.saturating_sub(taken.iter().sum::<usize>() + ROUND_PICTURE),
    };
    let is_wanted = asked.picture || stdout().is_terminal();
    let picture = if is_wanted && !asked.no_picture {
        picture(glance, room)
    } else {
        String::new()
    };
    format!("{title}{picture}\n{figures}{safety}")
}

fn picture(glance: &Glance, room: Room) -> String {
    let too_fine = "(no picture: more strips than a screen has letters for; `lapwright outline JOB --what panel -o panel.svg` draws it)";
    let too_fine = format!("\n{}", text::wrapped(too_fine));
    if room.lines < LEAST_LINES {
        return "\n(no picture: no lines are left for it on this screen)\n".to_owned();
    }
    let lattice = glance.whole.job.panel.lattice();
    let drawn = |lines| {
        let room = Room { lines, ..room };
        match letter_picture(lattice, &glance.overview, room) {
            LetterPicture::Drawn { lines, legend } => {
                let legend = text::wrapped(&legend);
                let more = legend.lines().count().saturating_sub(1);
                Some((format!("{}\n{legend}", lines.join("\n")), more))
            }
            LetterPicture::TooFine => None,
        }
    };
    // A long legend takes its lines from the picture's.
    let picture = match drawn(room.lines) {
        Some((_, more)) if more > 0 => drawn(room.lines.saturating_sub(more)),
        picture => picture,
    };
    picture.map_or(too_fine, |(picture, _)| picture)
}

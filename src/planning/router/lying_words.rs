//! How the strips lie when a program starts, in words, where it is not just square and against the
//! end stop.

use crate::instructions::label_runs;
use crate::instructions::router::{LyingBundle, NotchBelow, Registered, RouterPlan, RouterSetup};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};
use std::f64::consts::FRAC_PI_2;

/// Sentences for the sheet and the program's head; none for strips that all lie the same way, square
/// against the end stop, and have not been cut yet.
pub(crate) fn lying(setup: &RouterSetup) -> Vec<Phrase> {
    lying_stepped(setup, stepped(setup, Said::Here))
}

/// The same for a set-up that stands in a row of a table, which says the step.
pub(crate) fn lying_in_row(setup: &RouterSetup) -> Vec<Phrase> {
    lying_stepped(setup, stepped(setup, Said::InRow))
}

/// Where the step from strip to strip is said.
#[derive(Clone, Copy, PartialEq)]
enum Said {
    Here,
    InRow,
}

fn lying_stepped(setup: &RouterSetup, stepped: Option<Phrase>) -> Vec<Phrase> {
    let mut said = Vec::new();
    // Later the marks tell the ends, and the heading the face.
    let is_first = setup.part == 1 && !setup.rolled_over && setup.cut_before.is_empty();
    if setup.lies_mixed() && is_first {
        said.extend(setup.lying.iter().map(lies));
    }
    if setup.rolled_over {
        said.push(phrase!(
            "The strips have been rolled over along their length: the datum ends are where they were, the other face is up."
        ));
    }
    said.extend(turned(setup));
    said.extend(stepped);
    if setup.stop_back {
        said.push(phrase!(
            "The end stop stands again where it stood when zero was set, its face at X zero; where that is not sure, set X again."
        ));
    }
    if let Registered::Key {
        on_notch,
        x_mm,
        machine_x_mm,
        worst_error_mm,
        ..
    } = setup.registered
    {
        said.push(phrase!(
            "Program zero stays as it was set against the end stop; the stop itself is taken away. The key, a bar as wide as the notch, lies across the bed from above, held on both sides of the bundle: it drops into notch {} of every strip. Its middle at the bundle's front edge is {} from zero along X, {} from the low end of the X axis. Clamp, then take the key out. The notches may be {} off by the keys so far.",
            on_notch,
            Mm(x_mm),
            Mm(machine_x_mm),
            Mm(worst_error_mm)
        ));
    }
    if !setup.cut_before.is_empty() {
        said.push(phrase!(
            "Cut already from the face that lies up: notch{} {}.",
            if setup.cut_before.len() == 1 {
                ""
            } else {
                "es"
            },
            numbers(setup.cut_before.iter())
        ));
    }
    if let [first, .., last] | [first @ last] = setup.notches_below.as_slice() {
        said.push(below(&setup.notches_below, first, last));
    }
    said
}

/// Which face of a bundle's strips is up and which end is toward the stop, as they will lie in the
/// panel: all are the same part only if each lies so.
fn lies(one: &LyingBundle) -> Phrase {
    let mut said = phrase!(
        "Lay {} with the {} face up and the {} toward the stop",
        &one.strips,
        one.face_up.name(),
        one.end_at_stop.name()
    );
    if !one.turned.is_empty() {
        said.append(phrase!(
            ", but of {} the {}",
            &one.turned,
            one.end_at_stop.opposite().name()
        ));
    }
    said.append(phrase!("."));
    said
}

/// A slot that is not square to the strips.
fn turned(setup: &RouterSetup) -> Option<Phrase> {
    (setup.from_square > 0.0 && setup.strips_per_run > 0).then(|| {
        phrase!(
            "The tool's way makes {} with the strips and their fence, counter-clockwise seen from above; that is {} from square.",
            Rad(setup.angle),
            Rad(setup.from_square)
        )
    })
}

/// Strips that lie farther along one after the other; a key steps them by itself.
fn stepped(setup: &RouterSetup, said: Said) -> Option<Phrase> {
    let by_stop = matches!(setup.registered, Registered::EndStop);
    if !by_stop || setup.step_back_mm.abs() <= 0.0 || setup.strips_per_run <= 1 {
        return None;
    }
    let (way, stop) = if setup.step_back_mm > 0.0 {
        ("farther from the end stop", phrase!(""))
    } else {
        let [low, high] = setup.stock.y_mm;
        let stop = phrase!(
            ", which must be no wider than that strip, {}",
            Mm((high - low) / setup.strips_per_run as f64)
        );
        ("farther back, past the end stop,", stop)
    };
    let each = match said {
        Said::Here => phrase!("{}", Mm(setup.step_back_mm.abs())),
        Said::InRow => phrase!("by the row's step"),
    };
    let mut text = phrase!("Step the strips: each lies ");
    text.append(each);
    text.append(phrase!(
        " {} than the one before it, counted from the front edge; only the front strip touches the stop",
        way
    ));
    text.append(stop);
    text.append(phrase!(
        ". A board cut to {} with its slanting edge on the datum ends steps them all at once.",
        Rad(FRAC_PI_2 - setup.from_square)
    ));
    Some(text)
}

/// What tells a strip's ends and faces apart from its first clamping on, where later that matters:
/// it is stepped, clamped again, or lies unlike others of its block.
pub(crate) fn marking(setup: &RouterSetup, plan: &RouterPlan) -> Option<Phrase> {
    let mut own = (plan.setups.iter()).filter(|other| other.bundle == setup.bundle);
    let first = own.next()?;
    let matters = own.next().is_some() || setup.from_square > 0.0 || setup.lies_mixed();
    (std::ptr::eq(first, setup) && matters).then(|| {
        if setup.lies_mixed() {
            marked_ends(setup)
        } else {
            phrase!("Mark the datum end and the front face of every strip.")
        }
    })
}

/// The end toward the stop is marked. Where that is not the end that the panel's sheet calls the datum
/// end, it is said which one it is there.
fn marked_ends(setup: &RouterSetup) -> Phrase {
    let mut words = phrase!(
        "Mark every strip's label, its front face and the end toward the stop: here that is its datum end"
    );
    let mut first = true;
    for one in &setup.lying {
        let end = one.end_at_stop;
        let all_but = if one.turned.is_empty() {
            one.strips.clone()
        } else {
            format!("{} but for {}", one.strips, one.turned)
        };
        for (strips, end) in [(&all_but, end), (&one.turned, end.opposite())] {
            if end.is_datum() || strips.is_empty() {
                continue;
            }
            words.append(if first {
                phrase!(
                    "; in the panel the marked end of {} is the {}",
                    strips,
                    end.name()
                )
            } else {
                phrase!(", of {} the {}", strips, end.name())
            });
            first = false;
        }
    }
    words.append(phrase!("."));
    words
}

fn below(all: &[NotchBelow], first: &NotchBelow, last: &NotchBelow) -> Phrase {
    let mut text = phrase!(
        "{}notch {} at {} from zero along X, {} from the low end of the X axis",
        match all {
            [_] => "Looking down is ".to_owned(),
            _ => format!(
                "Looking down are notches {}: ",
                numbers(all.iter().map(|notch| &notch.index))
            ),
        },
        first.index,
        Mm(first.x_mm),
        Mm(first.machine_x_mm)
    );
    if all.len() > 1 {
        text.append(phrase!(
            ", notch {} at {} and {}",
            last.index,
            Mm(last.x_mm),
            Mm(last.machine_x_mm)
        ));
    }
    text.append(phrase!(
        ", on the front strip's centre line. A key bar there under the bundle registers it too."
    ));
    text
}

fn numbers<'a>(indices: impl Iterator<Item = &'a usize>) -> String {
    let labels: Vec<String> = indices.map(ToString::to_string).collect();
    label_runs(&labels)
}

//! The steps from a board to sticks as sentences.

use crate::instructions::milling::{Mill, MillingStep};
use crate::machines::Planer;
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::units::{AtLeast, Brief, Mm};

/// What the steps are told with.
pub(super) struct Told<'a> {
    /// What is ripped: `strip`, `member`.
    pub(super) what: &'static str,
    pub(super) planer: &'a PlanerWords,
    /// Of what is ripped, those that come off while the rest is narrow, of each blank.
    pub(super) from_narrow: usize,
    pub(super) blanks: usize,
    pub(super) least_rip_width: f64,
    pub(super) kerf: f64,
}

/// What a planer takes, and whether somebody said so.
pub(super) struct PlanerWords {
    pub(super) least_thickness: f64,
    pub(super) shortest: f64,
    pub(super) is_own: bool,
}

impl PlanerWords {
    pub(super) fn of(planer: &Planer) -> PlanerWords {
        let all = [
            planer.least_length,
            planer.least_thickness,
            planer.roller_spacing,
        ];
        PlanerWords {
            least_thickness: planer.least_thickness.value,
            shortest: planer.shortest(),
            is_own: all.iter().all(|figure| figure.is_own),
        }
    }

    fn example(&self) -> &'static str {
        if self.is_own {
            ""
        } else {
            " (example: your planer's manual says)"
        }
    }
}

pub(super) fn step_words(step: &MillingStep, at: usize, told: &Told<'_>) -> Phrase {
    match step.step {
        Mill::Rest if at == 0 => "Let the board lie indoors on stickers until a moisture meter, or its weight, stays the same: two to three weeks are usual. Choose straight grain and even colour; mark the face that is to show.".into(),
        Mill::Rest => phrase!(
            "Let {} lie on stickers for a day: wood moves once it is sawn. Put aside what bows or twists.",
            all_of(step.count, told)
        ),
        Mill::Surface => surface(step, told),
        Mill::Plane => plane(step, told),
        Mill::PlaneOnCarrier => on_carrier(step, told),
        Mill::RipBlanks => rip_blanks(step, told),
        Mill::RipSticks => rip_sticks(step, told),
        Mill::ThinInPlaner
        | Mill::ThinOnCarrier
        | Mill::ThinInDrumSander
        | Mill::ThinByHand => thin(step, told),
        Mill::PlaneEdges => phrase!(
            "Joint one edge of each member and plane the other, on edge and one at a time, to {} wide.",
            Mm(step.figure_mm)
        ),
        Mill::CutEnds => ends(step),
        Mill::Flush => flush(step),
    }
}

fn all_of(count: usize, told: &Told<'_>) -> String {
    match count {
        1 => "it".into(),
        count => format!("all {}", counted(count, told.what)),
    }
}

fn surface(step: &MillingStep, told: &Told<'_>) -> Phrase {
    let [length, width, thickness] = step.before_mm;
    let [_, straight, flat] = step.after_mm;
    phrase!(
        "Joint one face flat and one edge straight and square to it; plane the other face parallel, to {}; make the other edge parallel. The board, {} by {}, is then {} wide, {} thick. It is {} long; the planer takes nothing under {}{}.",
        Mm(step.figure_mm),
        Brief(width),
        Brief(thickness),
        Brief(straight),
        Brief(flat),
        Brief(length),
        AtLeast(told.planer.shortest),
        told.planer.example()
    )
}

fn plane(step: &MillingStep, told: &Told<'_>) -> Phrase {
    let [.., thickness] = step.before_mm;
    phrase!(
        "Plane on from {} to {}, {}, from both faces in turn, one piece at a time, with the grain.",
        Brief(thickness),
        Mm(step.figure_mm),
        if told.what == "member" {
            "the members' thickness"
        } else {
            "the strips' depth"
        }
    )
}

fn on_carrier(step: &MillingStep, told: &Told<'_>) -> Phrase {
    let [length, _, thickness] = step.before_mm;
    phrase!(
        "Plane on from {} to {} on a carrier board: the planer takes nothing thinner than {}{}. The carrier is flat, {} long or longer and {} thick or thicker, with a cleat behind the work; one piece at a time.",
        Brief(thickness),
        Mm(step.figure_mm),
        Brief(told.planer.least_thickness),
        told.planer.example(),
        AtLeast(length),
        AtLeast(told.planer.least_thickness)
    )
}

fn rip_blanks(step: &MillingStep, told: &Told<'_>) -> Phrase {
    phrase!(
        "Rip {} {} wide off the board's edge, kerf {}. Number them as they come.",
        counted(step.count, "blank"),
        Mm(step.figure_mm),
        Brief(told.kerf)
    )
}

fn rip_sticks(step: &MillingStep, told: &Told<'_>) -> Phrase {
    let [_, width, high] = step.before_mm;
    let mut words = phrase!(
        "Rip {} of {} as sawn, kerf {}: wood {} high goes through, {} wide at first. ",
        counted(step.count, told.what),
        Mm(step.figure_mm),
        Brief(told.kerf),
        Brief(high),
        Brief(width)
    );
    if told.what == "strip" {
        words.append(phrase!(
            "Each comes off on the side away from the fence: a guide beside the wood, before the blade's teeth, stands {} from the kerf, on the strip's side; move the fence up to the board for every cut. If the first strip bows at once, the board has stresses in it: take another. Joint its edge anew whenever that is no longer straight. Number strips as they come, so that grain and colour stay together.",
            Brief(step.figure_mm)
        ));
    }
    if told.from_narrow > 0 {
        words.append(phrase!(
            " The last {}{} come off what is narrower than {}: not on the table saw, but by band saw or hand saw, or with the rest taped to a wider board.",
            told.from_narrow,
            if told.blanks > 1 { " of each blank" } else { "" },
            Brief(told.least_rip_width)
        ));
    }
    words
}

fn thin(step: &MillingStep, told: &Told<'_>) -> Phrase {
    let [.., thickness] = step.before_mm;
    let from_to = phrase!("from {} to {}", Brief(thickness), Mm(step.figure_mm));
    let mut words = phrase!("Bring strips ");
    words.append(from_to);
    words.append(match step.step {
        Mill::ThinInDrumSander => phrase!(
            " in a drum sander, as short and as thin as its manual allows, half from each side."
        ),
        Mill::ThinInPlaner => phrase!(" in the planer, one strip at a time, half from each side."),
        Mill::ThinByHand => phrase!(
            " with a hand plane between two rails as high as the strip is thick, a stop before its end, half from each side."
        ),
        _ => phrase!(
            " on a carrier board in the planer, one strip at a time, half from each side: bare they are thinner than the {} that it takes{}. The carrier is as long as the strip, {} thick or thicker, with a cleat behind the strip.",
            Brief(told.planer.least_thickness),
            told.planer.example(),
            AtLeast(told.planer.least_thickness)
        ),
    });
    words.append(" Never strips side by side: the thinner one is thrown.".into());
    words
}

fn ends(step: &MillingStep) -> Phrase {
    let [before, ..] = step.before_mm;
    let off = (before - step.figure_mm) / 2.0;
    if off <= 0.0 {
        return phrase!("The sticks are {} long.", Mm(step.figure_mm));
    }
    phrase!(
        "Cut {} off both ends, where a planer leaves its snipe and boards check: sticks are {} long.",
        Brief(off),
        Mm(step.figure_mm)
    )
}

fn flush(step: &MillingStep) -> Phrase {
    let [.., before] = step.before_mm;
    let off = before - step.figure_mm;
    phrase!(
        "After glue-up planing both faces flush takes about {} in all: the panel ends {} deep. Where it has to be {}, write depth = {} in [strip], and notches follow it.",
        Brief(off),
        Brief(step.figure_mm),
        Brief(before),
        Mm(before + off)
    )
}

//! What would change the work most, in a sentence.

use crate::instructions::advice::Advice;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// The same for a line of a short answer.
pub(super) fn advice_in_short(advice: &Advice) -> Phrase {
    let [apart, together] = advice.bundles;
    let mut words = phrase!(
        "bundling = \"runs\" makes {} bundles of {}",
        together,
        apart
    );
    if let Some([apart, together]) = advice.setups {
        words.append(phrase!(", {} router set-ups of {}", together, apart));
    }
    words
}

/// `bundling = "runs" ...`, without the words before it.
pub fn advice_words(advice: &Advice) -> Phrase {
    let [apart, together] = advice.bundles;
    let mut words = phrase!(
        "bundling = \"runs\" in the job's [strip] makes {} bundles of {}",
        together,
        apart
    );
    if let Some([apart, together]) = advice.setups {
        words.append(phrase!(
            ", and {} set-ups of the router of {}",
            together,
            apart
        ));
    }
    words.append(phrase!(
        ": shorter strips are notched with longer ones and trimmed, for {} of wood more",
        Mm(advice.wood_mm)
    ));
    words
}

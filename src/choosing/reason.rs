//! Why a candidate stands where it stands, in words.

use crate::machines::Rack;
use crate::opening::{BayWish, Candidate, Ruling};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// Margins that differ by less are the same to the eye, mm.
const SEEN_MM: f64 = 0.005;

/// The reason of a candidate.
pub(super) fn reason(candidate: &Candidate, wish: &BayWish, rack: Option<&Rack>) -> Phrase {
    let mut text = by_what(candidate, rack);
    if let Some(wanted) = wish.pitch {
        let off = candidate.off_pitch(Some(wanted));
        text.append(match off > SEEN_MM {
            true => phrase!("; {} off the {} that is wanted", Mm(off), Mm(wanted)),
            false => phrase!("; the pitch that is wanted"),
        });
    }
    let [beside, above] = candidate.margin;
    let [outer_x, outer_y] = candidate.border;
    let uneven = (beside - above).abs();
    if let Ruling::FrameCloses { .. } = candidate.ruling {
        return text;
    }
    text.append(match uneven > SEEN_MM {
        true => phrase!("; margins differ by {}", Mm(uneven)),
        false => phrase!("; the same margin all round"),
    });
    if let Ruling::TwoSlots { .. } = candidate.ruling {
        let apart = (outer_x - outer_y).abs();
        if apart > SEEN_MM {
            text.append(phrase!(
                "; outermost bays at the sides and those below and above differ by {}",
                Mm(apart)
            ));
        }
    }
    text
}

fn by_what(candidate: &Candidate, rack: Option<&Rack>) -> Phrase {
    let slot = |at: usize| rack.and_then(|rack| rack.slots.get(at)).copied();
    let [across, up] = candidate.pitch;
    match candidate.ruling {
        Ruling::OneSlot { slot: at } => {
            let Some(slot) = slot(at) else {
                return phrase!("equal bays");
            };
            phrase!(
                "drawn to the rack's slot {}, which measures {}: one slot for every step, equal bays",
                Mm(slot.nominal),
                Mm(slot.measured)
            )
        }
        Ruling::TwoSlots { inner, border } => {
            let Some(inner) = slot(inner) else {
                return phrase!("two slots");
            };
            let mut text = phrase!(
                "drawn to two of the rack's slots: inner bays in {}, which measures {}",
                Mm(inner.nominal),
                Mm(inner.measured)
            );
            let places = ["left and right", "lowest and highest"];
            for (axis, (at, place)) in border.into_iter().zip(places).enumerate() {
                let Some(outer) = slot(at).filter(|_| candidate.has_border(axis)) else {
                    continue;
                };
                text.append(phrase!(
                    ", the {} bays in {}, which measures {}",
                    place,
                    Mm(outer.nominal),
                    Mm(outer.measured)
                ));
            }
            text
        }
        Ruling::Pitch if rack.is_some() => {
            phrase!("square cells of a pitch that no slot gives: by the stop")
        }
        Ruling::Pitch => phrase!("square cells, equal bays"),
        Ruling::LastAllowed => {
            phrase!(
                "square cells of the last pitch that the margins allow{}",
                stop(rack)
            )
        }
        Ruling::EvenMargins => {
            phrase!(
                "square cells of the pitch that leaves even margins{}",
                stop(rack)
            )
        }
        Ruling::LeastMargins => {
            phrase!(
                "the largest square cells that leave the least margin{}",
                stop(rack)
            )
        }
        Ruling::Fill => phrase!(
            "cells {} by {} that fill the inside, not square{}",
            Mm(across),
            Mm(up),
            stop(rack)
        ),
        Ruling::FrameCloses { square } => phrase!(
            "no strip at the frame: its inner faces close the outermost of cells {} by {}{}{}",
            Mm(across),
            Mm(up),
            if square { "" } else { ", not square" },
            stop(rack)
        ),
    }
}

fn stop(rack: Option<&Rack>) -> &'static str {
    rack.map_or("", |_| ": by the stop")
}

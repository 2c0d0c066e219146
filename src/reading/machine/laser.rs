//! Profiles of lasers, and of routers that cut sheet.

use super::{part, size};
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::machines::{Bridges, Colours, Cutter, Fit, Laser, Relief, Sheet};
use crate::phrase;
use crate::reading::fields::Fields;
use crate::reading::job::optional;
use crate::units::{AtLeast, Kind, Mm};
use std::num::NonZeroU8;

pub(super) fn read_laser(top: &Fields<'_>) -> Option<Laser> {
    let beam = top.required_table("laser").and_then(|fields| {
        let kerf = fields.required_quantity("kerf", Kind::Length);
        let thickest = size(&fields, "thickest");
        let label_height = optional(&fields, "label_height", Kind::Length, 0.0);
        let letter_line = letter_line(&fields, 0.0);
        fields.finish();
        Some((kerf?, thickest?, label_height?, letter_line?))
    });
    let groove = beam.map(|(kerf, ..)| kerf);
    let (sheet, colours, fit) = read_bed(top, groove);
    let (kerf, thickest, label_height, letter_line) = beam?;
    Some(Laser {
        kerf,
        thickest,
        sheet: sheet?,
        colours: colours?,
        label_height,
        letter_line,
        fit: fit?,
        cutter: None,
    })
}

/// A router that cuts sheet.
pub(super) fn read_sheet_router(top: &Fields<'_>) -> Option<Laser> {
    let cutter = top.required_table("cutter").and_then(|fields| {
        let diameter = size(&fields, "diameter");
        let forms = [("bone", Relief::Bone), ("tee", Relief::Tee)];
        let relief = fields.required_choice("relief", &forms);
        let thickest = size(&fields, "thickest");
        let label_height = optional(&fields, "label_height", Kind::Length, 0.0);
        // Without a tool for the labels the cutter follows them too.
        let letter_line = letter_line(&fields, diameter.unwrap_or_default());
        fields.finish();
        Some((diameter?, relief?, thickest?, label_height?, letter_line?))
    });
    let bridges = part(top, "bridges", |fields| {
        let count = fields.required_count("count", 1..=MOST_BRIDGES);
        let width = size(&fields, "width");
        fields.finish();
        Some(Bridges {
            count: count? as usize,
            width: width?,
        })
    });
    let groove = cutter.map(|(diameter, ..)| diameter);
    let (sheet, colours, fit) = read_bed(top, groove);
    let (diameter, relief, thickest, label_height, letter_line) = cutter?;
    Some(Laser {
        kerf: 0.0,
        thickest,
        sheet: sheet?,
        colours: colours?,
        label_height,
        letter_line,
        fit: fit?,
        cutter: Some(Cutter {
            diameter,
            relief,
            bridges: bridges?,
        }),
    })
}

/// Width of the line that labels are drawn with.
fn letter_line(fields: &Fields<'_>, otherwise: f64) -> Option<f64> {
    if fields.has("letter_line") {
        size(fields, "letter_line")
    } else {
        Some(otherwise)
    }
}

/// More bridges than this no part has.
const MOST_BRIDGES: u32 = 20;

/// What lies on the bed, the drawing's colours, and the slot that fitted; each `None` where it is
/// wrong.
fn read_bed(
    top: &Fields<'_>,
    groove: Option<f64>,
) -> (Option<Sheet>, Option<Colours>, Option<Option<Fit>>) {
    let sheet = top.required_table("sheet").and_then(|fields| {
        let length = size(&fields, "length");
        let width = size(&fields, "width");
        let margin = fields.required_quantity("margin", Kind::Length);
        let gap = fields.required_quantity("gap", Kind::Length);
        fields.finish();
        Some(Sheet {
            length: length?,
            width: width?,
            margin: margin?,
            gap: gap?,
        })
    });
    let colours = top.required_table("colours").and_then(|fields| {
        let colour = |key| {
            let number = fields.required_count(key, 1..=255)?;
            u8::try_from(number).ok().and_then(NonZeroU8::new)
        };
        let (letters, openings, outlines) =
            (colour("letters"), colour("openings"), colour("outlines"));
        fields.finish();
        Some(Colours {
            letters: letters?,
            openings: openings?,
            outlines: outlines?,
        })
    });
    let fit = part(top, "fit", read_fit);
    if let (Some(groove), Some(sheet)) = (groove, sheet)
        && sheet.gap < 2.0 * groove + LEAST_BRIDGE_MM - SAME_POSITION_MM
    {
        // Both parts' grooves lie in the gap.
        let least = 2.0 * groove + LEAST_BRIDGE_MM;
        let text = phrase!(
            "a gap of {} leaves less than {} between two grooves of {}",
            Mm(sheet.gap),
            Mm(LEAST_BRIDGE_MM),
            Mm(groove)
        );
        top.report(
            Finding::error("gap-too-small", "sheet.gap", text)
                .hint(phrase!("make it {} or more", AtLeast(least))),
        );
    }
    (sheet, colours, fit)
}

fn read_fit(fields: Fields<'_>) -> Option<Fit> {
    let (slot, strip) = (size(&fields, "slot"), size(&fields, "strip"));
    if let (Some(slot), Some(strip)) = (slot, strip)
        && (slot - strip).abs() > GREATEST_MISFIT_MM
    {
        let text = phrase!(
            "a strip {} thick does not fit a slot of {}",
            Mm(strip),
            Mm(slot)
        );
        let hint = "the label of the slot that fitted, and the caliper's reading of that strip";
        fields.report(Finding::error("no-fit", fields.path("slot"), text).hint(hint));
    }
    fields.finish();
    Some(Fit {
        slot: slot?,
        strip: strip?,
    })
}

/// No fit of wood in wood differs more than this from its strip. From memory, mm.
const GREATEST_MISFIT_MM: f64 = 0.5;

/// Least wood between two cuts that neither burns through nor breaks away. Common practice, no source, mm.
const LEAST_BRIDGE_MM: f64 = 0.5;

#[cfg(test)]
mod tests {
    use crate::reading::{read_machine, shipped_machine};

    #[test]
    fn a_gap_holds_two_grooves_and_a_bridge() {
        let text = shipped_machine("tube-laser").unwrap().text;
        assert!(text.contains("kerf = \"0.16 mm\"") && text.contains("gap = \"2 mm\""));
        let read = |gap: &str| {
            let text = text.replace("gap = \"2 mm\"", &format!("gap = \"{gap}\""));
            read_machine("laser.toml", &text)
        };
        // 2 x 0.16 + 0.5 mm.
        assert!(read("0.82 mm").is_ok());
        let refused = read("0.81 mm").unwrap_err();
        assert_eq!(refused.findings[0].field, "sheet.gap");
        assert_eq!(refused.findings[0].code, "gap-too-small");
    }

    #[test]
    fn a_fit_is_a_slot_and_the_strip_that_fits_it() {
        let text = shipped_machine("tube-laser").unwrap().text;
        let read = |fit: &str| read_machine("laser.toml", &format!("{text}\n[fit]\n{fit}\n"));
        assert!(read("slot = \"2.85 mm\"\nstrip = \"2.8 mm\"").is_ok());
        for (fit, code) in [
            ("slot = \"2.85 mm\"", "missing"),
            ("slot = \"0 mm\"\nstrip = \"2.8 mm\"", "not-positive"),
            ("slot = \"28.5 mm\"\nstrip = \"2.8 mm\"", "no-fit"),
            ("slot = 2.85\nstrip = \"2.8 mm\"", "bare-number"),
            (
                "slot = \"2.85 mm\"\nstrip = \"2.8 mm\"\ntried = 3",
                "unknown-key",
            ),
        ] {
            let codes: Vec<_> = read(fit)
                .unwrap_err()
                .findings
                .iter()
                .map(|f| f.code)
                .collect();
            assert!(codes.contains(&code), "{fit}: {codes:?}");
        }
    }
}

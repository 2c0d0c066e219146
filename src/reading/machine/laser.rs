//! Profiles of lasers, and of routers that cut sheet.

use super::spread::{Scatters, read_spread};
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::machines::{Bridges, Colours, Cutter, Fit, Laser, Relief, Sheet, Spread};
use crate::phrase;
use crate::reading::fields::Fields;
use crate::units::{AtLeast, Kind, Mm};
use std::num::NonZeroU8;

pub(super) fn read_laser(top: &Fields<'_>) -> Option<Laser> {
    let beam = top.required_table("laser").and_then(read_beam);
    let bed = read_bed(top, beam.as_ref().map(|beam| beam.kerf));
    let beam = beam?;
    Some(Laser {
        kerf: beam.kerf,
        thickest: beam.thickest,
        sheet: bed.sheet?,
        colours: bed.colours?,
        label_height: beam.label_height,
        letter_line: beam.letter_line,
        fit: bed.fit?,
        cutter: None,
        spread: bed.spread?,
    })
}

/// The table `[laser]`.
struct Beam {
    kerf: f64,
    thickest: f64,
    label_height: f64,
    letter_line: f64,
}

fn read_beam(fields: Fields<'_>) -> Option<Beam> {
    let kerf = fields.required_quantity("kerf", Kind::Length);
    let thickest = fields.positive_length("thickest");
    let label_height = fields.quantity_or("label_height", Kind::Length, 0.0);
    let letter_line = fields.positive_length_or("letter_line", 0.0);
    fields.finish();
    Some(Beam {
        kerf: kerf?,
        thickest: thickest?,
        label_height: label_height?,
        letter_line: letter_line?,
    })
}

/// A router that cuts sheet.
pub(super) fn read_sheet_router(top: &Fields<'_>) -> Option<Laser> {
    let cutter = top.required_table("cutter").and_then(read_sheet_cutter);
    let bridges = top.optional_table("bridges", read_bridges);
    let bed = read_bed(top, cutter.as_ref().map(|cutter| cutter.diameter));
    let cutter = cutter?;
    Some(Laser {
        kerf: 0.0,
        thickest: cutter.thickest,
        sheet: bed.sheet?,
        colours: bed.colours?,
        label_height: cutter.label_height,
        letter_line: cutter.letter_line,
        fit: bed.fit?,
        cutter: Some(Cutter {
            diameter: cutter.diameter,
            relief: cutter.relief,
            bridges: bridges?,
        }),
        spread: bed.spread?,
    })
}

/// The table `[cutter]`.
struct SheetCutter {
    diameter: f64,
    relief: Relief,
    thickest: f64,
    label_height: f64,
    letter_line: f64,
}

fn read_sheet_cutter(fields: Fields<'_>) -> Option<SheetCutter> {
    let diameter = fields.positive_length("diameter");
    let forms = [("bone", Relief::Bone), ("tee", Relief::Tee)];
    let relief = fields.required_choice("relief", &forms);
    let thickest = fields.positive_length("thickest");
    let label_height = fields.quantity_or("label_height", Kind::Length, 0.0);
    // Without a tool for the labels the cutter follows them too.
    let letter_line = fields.positive_length_or("letter_line", diameter.unwrap_or_default());
    fields.finish();
    Some(SheetCutter {
        diameter: diameter?,
        relief: relief?,
        thickest: thickest?,
        label_height: label_height?,
        letter_line: letter_line?,
    })
}

fn read_bridges(fields: Fields<'_>) -> Option<Bridges> {
    let count = fields.required_count("count", 1..=MOST_BRIDGES);
    let width = fields.positive_length("width");
    fields.finish();
    Some(Bridges {
        count: count? as usize,
        width: width?,
    })
}

/// More bridges than this no part has.
const MOST_BRIDGES: u32 = 20;

/// What lasers and routers that cut sheet have in common; each `None` where it is wrong.
struct Bed {
    sheet: Option<Sheet>,
    colours: Option<Colours>,
    /// The slot that fitted, where one was tried.
    fit: Option<Option<Fit>>,
    spread: Option<Spread>,
}

/// `groove`: width of what is cut away beside a part, mm.
fn read_bed(top: &Fields<'_>, groove: Option<f64>) -> Bed {
    let sheet = top.required_table("sheet").and_then(read_sheet);
    let colours = top.required_table("colours").and_then(read_colours);
    let fit = top.optional_table("fit", read_fit);
    let spread = read_spread(top, Scatters::FromSheet);
    if let (Some(groove), Some(sheet)) = (groove, &sheet) {
        check_gap(top, groove, sheet);
    }
    Bed {
        sheet,
        colours,
        fit,
        spread,
    }
}

fn read_sheet(fields: Fields<'_>) -> Option<Sheet> {
    let length = fields.positive_length("length");
    let width = fields.positive_length("width");
    let margin = fields.required_quantity("margin", Kind::Length);
    let gap = fields.required_quantity("gap", Kind::Length);
    fields.finish();
    Some(Sheet {
        length: length?,
        width: width?,
        margin: margin?,
        gap: gap?,
    })
}

fn read_colours(fields: Fields<'_>) -> Option<Colours> {
    let letters = read_colour(&fields, "letters");
    let openings = read_colour(&fields, "openings");
    let outlines = read_colour(&fields, "outlines");
    fields.finish();
    Some(Colours {
        letters: letters?,
        openings: openings?,
        outlines: outlines?,
    })
}

/// A number of the DXF colour index.
fn read_colour(fields: &Fields<'_>, key: &'static str) -> Option<NonZeroU8> {
    let number = fields.required_count(key, 1..=255)?;
    u8::try_from(number).ok().and_then(NonZeroU8::new)
}

/// Both parts' grooves lie in the gap between them, and wood has to stay between the grooves.
fn check_gap(top: &Fields<'_>, groove: f64, sheet: &Sheet) {
    let least = 2.0 * groove + LEAST_BRIDGE_MM;
    if sheet.gap >= least - SAME_POSITION_MM {
        return;
    }
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

fn read_fit(fields: Fields<'_>) -> Option<Fit> {
    let slot = fields.positive_length("slot");
    let strip = fields.positive_length("strip");
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

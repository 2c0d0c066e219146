//! Parts to draw, and the proof of a file of them.

use lapwright::geometry::Point;
use lapwright::instructions::lettering;
use lapwright::instructions::outline::CutPart;
use lapwright::instructions::safety::SafetyNotes;
use lapwright::machines::{Colours, Sheet};
use lapwright::planning::sheet_cutting::nesting::nest_parts;
use lapwright::planning::sheet_cutting::outlines::{outline_boxes, sheet_drawing};
use lapwright::verification::outline::{MeantSheet, OutlineReport, check_sheet};
use lapwright::writing::dxf::{DxfVersion, dxf};
use std::num::NonZeroU8;

pub(super) const KERF: f64 = 0.15;
pub(super) const SHEET: Sheet = Sheet {
    length: 900.0,
    width: 300.0,
    margin: 5.0,
    gap: 1.0,
};
pub(super) const BOTH: [DxfVersion; 2] = [DxfVersion::R2000, DxfVersion::R12];

pub(super) fn colours() -> Colours {
    let of = |aci| NonZeroU8::new(aci).unwrap();
    Colours {
        letters: of(5),
        openings: of(3),
        outlines: of(1),
    }
}

/// A notch by its centre, width and whether it is cut from above.
pub(super) type Notch = (f64, f64, bool);

/// A strip's side: notches to half its depth, from below or from above.
pub(super) fn strip(
    name: &str,
    copy: usize,
    length: f64,
    depth: f64,
    notches: &[Notch],
) -> CutPart {
    let p = Point::new;
    let side = |from_above: bool, face: f64| {
        let of_side = notches.iter().filter(move |notch| notch.2 == from_above);
        of_side.flat_map(move |&(centre, width, _)| {
            let (left, right, floor) = (centre - width / 2.0, centre + width / 2.0, depth / 2.0);
            [
                p(left, face),
                p(left, floor),
                p(right, floor),
                p(right, face),
            ]
        })
    };
    let mut outer = vec![p(0.0, 0.0)];
    outer.extend(side(false, 0.0));
    outer.extend([p(length, 0.0), p(length, depth)]);
    let mut above: Vec<Point> = side(true, depth).collect();
    above.reverse();
    outer.extend(above);
    outer.push(p(0.0, depth));
    CutPart {
        name: name.to_owned(),
        copy,
        outer,
        holes: Vec::new(),
        strokes: lettering::strokes(&format!("{name} {copy}"), p(2.0, 1.0), depth / 6.0),
        laid_edge: false,
    }
}

/// An insert with two slots and a mitred piece with a 15 degree tip, which no mitre reaches.
pub(super) fn odd_parts() -> [CutPart; 2] {
    let p = Point::new;
    let slot = |x: f64| vec![p(x, 10.0), p(x + 3.0, 10.0), p(x + 3.0, 30.0), p(x, 30.0)];
    let (sine, cosine) = 7.5_f64.to_radians().sin_cos();
    [
        CutPart {
            name: "insert".into(),
            copy: 1,
            outer: vec![p(0.0, 0.0), p(80.0, 0.0), p(80.0, 40.0), p(0.0, 40.0)],
            holes: vec![slot(10.0), slot(33.3)],
            strokes: lettering::strokes("X/8", p(50.0, 10.0), 5.0),
            laid_edge: false,
        },
        CutPart {
            name: "point".into(),
            copy: 1,
            outer: vec![
                p(-20.0 * cosine, -20.0 * sine),
                p(0.0, 0.0),
                p(-20.0 * cosine, 20.0 * sine),
            ],
            holes: Vec::new(),
            strokes: Vec::new(),
            laid_edge: false,
        },
    ]
}

/// The parts sheet by sheet, their paths a gap apart and out of the margin.
pub(super) fn laid_out(parts: &[CutPart]) -> Vec<Vec<CutPart>> {
    let for_paths = Sheet {
        margin: SHEET.margin + KERF / 2.0,
        gap: SHEET.gap - KERF,
        ..SHEET
    };
    let boxes = outline_boxes(parts, KERF).unwrap();
    nest_parts(parts, &boxes, &for_paths).unwrap().0
}

pub(super) fn report(bytes: &[u8], parts: &[CutPart]) -> OutlineReport {
    let meant = MeantSheet {
        parts,
        kerf_mm: KERF,
        cutter_mm: None,
        sheet: SHEET,
    };
    check_sheet(bytes, &meant)
}

/// One sheet of parts at their places, and its file.
pub(super) fn sample(version: DxfVersion) -> (Vec<CutPart>, String) {
    let mut parts = vec![
        strip(
            "upright",
            1,
            98.0,
            12.0,
            &[(15.0, 3.05, false), (57.123_456_7, 3.05, true)],
        ),
        strip(
            "upright",
            2,
            98.0,
            12.0,
            &[(15.0, 3.05, false), (57.123_456_7, 3.05, true)],
        ),
    ];
    parts.extend(odd_parts());
    let placed = laid_out(&parts).remove(0);
    let drawing = sheet_drawing(&placed, KERF, SafetyNotes::for_laser()).unwrap();
    let bytes = dxf(&drawing, version, colours()).unwrap();
    (placed, String::from_utf8(bytes).unwrap())
}

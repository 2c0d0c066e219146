//! From finished parts to a file and back: what is written proves clean, what is damaged does not.

mod damage;
mod samples;

use lapwright::instructions::outline::CutPart;
use lapwright::instructions::safety::SafetyNotes;
use lapwright::planning::sheet_cutting::outlines::sheet_drawing;
use lapwright::writing::dxf::dxf;
use proptest::prelude::*;
use samples::{BOTH, KERF, Notch, colours, laid_out, report, sample, strip};

fn strips() -> impl Strategy<Value = Vec<CutPart>> {
    let notch = (5.0..20.0_f64, 0.4..4.0_f64, any::<bool>());
    let one = (6.0..30.0_f64, prop::collection::vec(notch, 0..12));
    prop::collection::vec(one, 1..30).prop_map(|strips| {
        let build = |(copy, (depth, steps)): (usize, (f64, Vec<Notch>))| {
            let mut centre = 0.0;
            let mut notches = Vec::new();
            for (step, width, above) in steps {
                centre += step;
                notches.push((centre, width, above));
            }
            strip("bar", copy + 1, centre + 20.0, depth, &notches)
        };
        strips.into_iter().enumerate().map(build).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn what_is_written_proves_clean(parts in strips()) {
        for placed in laid_out(&parts) {
            let drawing = sheet_drawing(&placed, KERF, SafetyNotes::for_laser()).unwrap();
            for version in BOTH {
                let bytes = dxf(&drawing, version, colours()).unwrap();
                prop_assert_eq!(&bytes, &dxf(&drawing, version, colours()).unwrap());
                let report = report(&bytes, &placed);
                prop_assert_eq!(&report.faults, &[]);
                prop_assert_eq!(report.contours, drawing.paths.len());
                prop_assert!(report.worst_error_mm < 1e-6, "{}", report.worst_error_mm);
            }
        }
    }

    /// Any digit of any coordinate, down to the fourth decimal.
    #[test]
    fn a_changed_digit_is_found(pick in any::<prop::sample::Index>(), by in 1..10_u8, old in any::<bool>()) {
        let (parts, text) = sample(BOTH[usize::from(old)]);
        let entities = text.find("ENTITIES").unwrap();
        let mut digits = Vec::new();
        let mut at = entities + "ENTITIES\n".len();
        let lines: Vec<&str> = text[at..].lines().collect();
        for (index, line) in lines.iter().enumerate() {
            // The point that every POLYLINE carries is not a vertex.
            let dummy = lines[index.saturating_sub(8)..index].contains(&"66");
            if index % 2 == 1 && ["10", "20"].contains(&lines[index - 1]) && !dummy {
                let significant = line.find('.').unwrap() + 5;
                let places = line.char_indices().take(significant);
                digits.extend(places.filter(|(_, c)| c.is_ascii_digit()).map(|(i, _)| at + i));
            }
            at += line.len() + 1;
        }
        let mut bytes = text.into_bytes();
        let digit = &mut bytes[digits[pick.index(digits.len())]];
        *digit = b'0' + (*digit - b'0' + by) % 10;
        prop_assert!(!report(&bytes, &parts).faults.is_empty());
    }
}

proptest! {
    /// Whatever happens to a file, the proof ends with a report.
    #[test]
    fn no_damage_stops_the_proof(
        picks in prop::collection::vec((any::<prop::sample::Index>(), 0..128_u8), 1..6),
        lines in prop::collection::vec((any::<prop::sample::Index>(), any::<prop::sample::Index>()), 0..3),
        old in any::<bool>(),
    ) {
        let (parts, text) = sample(BOTH[usize::from(old)]);
        let mut all: Vec<&str> = text.lines().collect();
        for (from, to) in lines {
            let moved = all.remove(from.index(all.len()));
            all.insert(to.index(all.len()), moved);
        }
        let mut bytes = (all.join("\n") + "\n").into_bytes();
        for (at, byte) in picks {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        let _ = report(&bytes, &parts);
    }
}

#[test]
fn the_sample_is_clean_in_both_forms() {
    for version in BOTH {
        let (parts, text) = sample(version);
        let report = report(text.as_bytes(), &parts);
        assert_eq!(report.faults, []);
        // The sixth decimal's rounding moves the tip of 15 degrees by up to 1 / sin 7.5 of it.
        assert!(report.worst_error_mm < 6e-6);
        assert_eq!(report.contours, text.matches("POLYLINE\n").count());
    }
}

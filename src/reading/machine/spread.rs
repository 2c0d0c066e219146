//! The table `[spread]` of a profile: how far a machine's work scatters.

use crate::machines::{PlusMinus, Spread, SpreadFigure};
use crate::reading::fields::Fields;
use crate::units::Kind;

/// What a kind of machine may say of its spread beside how figures are read.
#[derive(Clone, Copy)]
pub(super) enum Scatters {
    /// Groove, strips, height, seat and key.
    Sawn,
    /// Groove, strips, height, seat and the places that its axes go to.
    Routed,
    /// Groove, sheet and places: nothing is set by height, and no strip is seated.
    FromSheet,
}

/// What is not given stays as it is assumed.
pub(super) fn read_spread(top: &Fields<'_>, scatters: Scatters) -> Option<Spread> {
    let assumed = match scatters {
        Scatters::Sawn => Spread::SAWN,
        Scatters::Routed => Spread::ROUTED,
        Scatters::FromSheet => Spread::FROM_SHEET,
    };
    let read = top.optional_table("spread", |fields| {
        let words = PlusMinus::ALL.map(|reading| (reading.name(), reading));
        let plus_minus = fields.choice("plus_minus", &words);
        let figure = |key: &'static str, assumed: SpreadFigure| {
            if !fields.has(key) {
                return Some(assumed);
            }
            (fields.quantity_within(key, Kind::Length, "0 mm", "2 mm")).map(SpreadFigure::given)
        };
        let kerf = figure("kerf", assumed.kerf);
        let strip_thickness = figure("strip_thickness", assumed.strip_thickness);
        let (mut height, mut seat) = (Some(assumed.height), Some(assumed.seat));
        if !matches!(scatters, Scatters::FromSheet) {
            height = figure("height", assumed.height);
            seat = figure("seat", assumed.seat);
        }
        let (mut key, mut place) = (Some(assumed.key), Some(assumed.place));
        if matches!(scatters, Scatters::Sawn) {
            key = figure("key", assumed.key);
        } else {
            place = figure("place", assumed.place);
        }
        fields.finish();
        Some(Spread {
            plus_minus: plus_minus.unwrap_or_default(),
            kerf: kerf?,
            strip_thickness: strip_thickness?,
            height: height?,
            seat: seat?,
            key: key?,
            place: place?,
        })
    });
    read.map(|spread| spread.unwrap_or(assumed))
}

#[cfg(test)]
mod tests {
    use crate::machines::{Machine, PlusMinus, Spread};
    use crate::reading::{Unreadable, read_machine, shipped_machine};

    fn with(name: &str, table: &str) -> Result<Spread, Unreadable> {
        let text = shipped_machine(name).unwrap().text;
        let profile = read_machine(name, &format!("{text}\n[spread]\n{table}\n"))?;
        Ok(match profile.machine {
            Machine::Sled(sled) => sled.spread,
            Machine::Router(router) => router.spread,
            Machine::Laser(laser) | Machine::SheetRouter(laser) => laser.spread,
            Machine::Guides(_) => panic!("guides have none"),
        })
    }

    #[test]
    fn what_is_given_is_ones_own_and_the_rest_is_assumed() {
        let spread = with("key-sled", "plus_minus = \"twice\"\nkerf = \"0.04 mm\"").unwrap();
        assert_eq!(spread.plus_minus, PlusMinus::Twice);
        assert!(!spread.kerf.is_assumed && (spread.kerf.half - 0.04).abs() < 1e-12);
        assert_eq!(spread.seat, Spread::SAWN.seat);
        assert!(spread.seat.is_assumed && spread.height.is_assumed);
        assert_eq!(with("small-router", "").unwrap(), Spread::ROUTED);
        assert_eq!(with("tube-laser", "").unwrap(), Spread::FROM_SHEET);
        assert_eq!(with("sheet-router", "").unwrap(), Spread::FROM_SHEET);
    }

    #[test]
    fn what_a_machine_does_not_have_is_not_known() {
        for (name, table, field, code) in [
            (
                "key-sled",
                "place = \"0.02 mm\"",
                "spread.place",
                "unknown-key",
            ),
            (
                "tube-laser",
                "seat = \"0.02 mm\"",
                "spread.seat",
                "unknown-key",
            ),
            (
                "tube-laser",
                "height = \"0.02 mm\"",
                "spread.height",
                "unknown-key",
            ),
            (
                "key-sled",
                "plus_minus = \"thrice\"",
                "spread.plus_minus",
                "unknown-word",
            ),
            ("key-sled", "kerf = \"3 mm\"", "spread.kerf", "out-of-range"),
            ("key-sled", "kerf = 0.03", "spread.kerf", "bare-number"),
            (
                "paring-guides",
                "kerf = \"0.03 mm\"",
                "spread",
                "unknown-key",
            ),
        ] {
            let bad = with(name, table).unwrap_err();
            let found = bad.findings.iter().find(|one| one.field == field).unwrap();
            assert_eq!(found.code, code, "{name}: {table}");
        }
    }

    /// What is told of a key that is left out is what holds then.
    #[test]
    fn assumed_figures_are_told_as_they_are() {
        use crate::machines::MachineKind::{Laser, Router, Sled};
        use crate::reading::Reference;
        for (name, kind, assumed) in [
            ("key-sled", Sled, Spread::SAWN),
            ("small-router", Router, Spread::ROUTED),
            ("tube-laser", Laser, Spread::FROM_SHEET),
        ] {
            let tables = Reference::of_machine(kind).tables;
            let table = tables.iter().find(|table| table.path == "spread").unwrap();
            let lines: Vec<String> = (table.fields.iter())
                .filter(|row| row.key != "plus_minus")
                .map(|row| {
                    let (figure, marked) = row.usual.split_once(", ").unwrap();
                    assert_eq!(marked, "assumed", "{name}: {}", row.key);
                    format!("{} = \"{figure}\"", row.key)
                })
                .collect();
            let told = with(name, &lines.join("\n")).unwrap();
            let halves = |spread: Spread| {
                [
                    spread.kerf,
                    spread.strip_thickness,
                    spread.height,
                    spread.seat,
                    spread.key,
                    spread.place,
                ]
                .map(|figure| figure.half)
            };
            assert_eq!(halves(told), halves(assumed), "{name}");
        }
    }
}

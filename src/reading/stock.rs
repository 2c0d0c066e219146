//! The table `[stock]` of a job: sticks and boards, and how they are milled.

use super::fields::{Fields, every};
use crate::finding::Finding;
use crate::machines::{
    Board, Milling, OwnWoodFigures, Planer, RipFrom, Sawn, ShopFigure, SoldSticks, SpareShares,
    StickUse, StockAim, StockWishes, ThinBy,
};
use crate::units::Kind;

/// What is not given stays an example.
pub(super) fn read_stock(fields: Fields<'_>) -> Option<StockWishes> {
    let examples = StockWishes::default();
    let aims = [StockAim::Sticks, StockAim::Cost].map(|aim| (aim.name(), aim));
    let aim = fields.choice_or_usual("aim", &aims);
    let currency = fields.text("currency");
    let kerf = if fields.has("kerf") {
        fields.positive_length("kerf").map(Some)
    } else {
        Some(None)
    };
    let trim = length_or(&fields, "trim", examples.trim);
    let least_held = positive_or(&fields, "least_held", examples.least_held);
    let strips = share_or(&fields, "spare_strips", examples.spares.strips);
    let pieces = share_or(&fields, "spare_pieces", examples.spares.pieces);
    let members = share_or(&fields, "spare_members", examples.spares.members);
    let sticks = fields.tables("sticks").and_then(|tables| {
        let all = tables.into_iter();
        every(all.map(|sticks| read_sticks(sticks, aim == Some(StockAim::Cost))))
    });
    let board = fields.optional_table("board", read_board);
    let frame_board = fields.optional_table("frame_board", read_board);
    let milling = fields.optional_table("milling", |fields| read_milling(fields, examples.milling));
    let planer = fields.optional_table("planer", |fields| read_planer(fields, examples.planer));
    let woods = fields
        .tables("woods")
        .and_then(|tables| every(tables.into_iter().map(read_wood)));
    fields.finish();
    Some(StockWishes {
        is_given: true,
        woods: woods?,
        sticks: sticks?,
        aim: aim?,
        currency,
        kerf: kerf?,
        trim: trim?,
        least_held: least_held?,
        spares: SpareShares {
            strips: strips?,
            pieces: pieces?,
            members: members?,
        },
        board: board?.unwrap_or_default(),
        frame_board: frame_board?.unwrap_or_default(),
        milling: milling?.unwrap_or(examples.milling),
        planer: planer?.unwrap_or(examples.planer),
    })
}

fn length_or(fields: &Fields<'_>, key: &'static str, example: ShopFigure) -> Option<ShopFigure> {
    if !fields.has(key) {
        return Some(example);
    }
    fields.quantity(key, Kind::Length).map(ShopFigure::own)
}

fn positive_or(fields: &Fields<'_>, key: &'static str, example: ShopFigure) -> Option<ShopFigure> {
    if !fields.has(key) {
        return Some(example);
    }
    fields.positive_length(key).map(ShopFigure::own)
}

fn share_or(fields: &Fields<'_>, key: &'static str, example: ShopFigure) -> Option<ShopFigure> {
    if !fields.has(key) {
        return Some(example);
    }
    let share = fields.quantity_within(key, Kind::Share, "0 %", "200 %");
    share.map(ShopFigure::own)
}

/// Where the cheapest plan is asked for, every stick has its price.
fn read_sticks(fields: Fields<'_>, by_cost: bool) -> Option<SoldSticks> {
    let uses = StickUse::ALL.map(|used_for| (used_for.name(), used_for));
    let used_for = if fields.has("for") {
        fields.choice("for", &uses)
    } else {
        Some(StickUse::Strips)
    };
    let length = fields.positive_length("length");
    let count = optional_count(&fields, "count");
    let pack = optional_count(&fields, "pack");
    let price = fields.part_within("price", "0", "1000000");
    // What is counted and has no price lies in the shop.
    if by_cost && !fields.has("price") && !fields.has("count") {
        let text = "the plan that costs least is asked for, and these sticks have no price";
        let hint = "add it: price = 2.5; or, where they lie in your shop, count = 12; or leave `aim = \"cost\"` out for the fewest sticks";
        fields.report(Finding::error("no-price", fields.path("price"), text).hint(hint));
    }
    fields.finish();
    Some(SoldSticks {
        used_for: used_for?,
        length: length?,
        count: count?,
        pack: pack?.unwrap_or(1),
        price: price?,
    })
}

fn read_wood(fields: Fields<'_>) -> Option<OwnWoodFigures> {
    let name = fields.required_text("name");
    let density = fields.density();
    let hardness = fields.part_within("hardness", "0", "100000");
    let price = fields.part_within("price", "0", "1000000");
    fields.finish();
    Some(OwnWoodFigures {
        name: name?,
        density: density?,
        hardness: hardness?,
        price: price?,
    })
}

fn optional_count(fields: &Fields<'_>, key: &'static str) -> Option<Option<usize>> {
    if !fields.has(key) {
        return Some(None);
    }
    let count = fields.count(key, 1..=10_000);
    count.map(|count| usize::try_from(count).ok())
}

fn read_board(fields: Fields<'_>) -> Option<Board> {
    let length = |key| {
        if fields.has(key) {
            fields.positive_length(key).map(Some)
        } else {
            Some(None)
        }
    };
    let thickness = length("thickness");
    let width = length("width");
    let long = length("length");
    let ways = [Sawn::Flat, Sawn::Quarter].map(|sawn| (sawn.name(), sawn));
    let sawn = if fields.has("sawn") {
        fields.choice("sawn", &ways).map(Some)
    } else {
        Some(None)
    };
    let price = fields.part_within("price", "0", "1000000");
    let count = optional_count(&fields, "count");
    fields.finish();
    Some(Board {
        thickness: thickness?,
        width: width?,
        length: long?,
        sawn: sawn?,
        price: price?,
        count: count?,
    })
}

fn read_milling(fields: Fields<'_>, examples: Milling) -> Option<Milling> {
    let kerf = positive_or(&fields, "kerf", examples.kerf);
    let planing = length_or(&fields, "planing", examples.planing);
    let surfacing = length_or(&fields, "surfacing", examples.surfacing);
    let straightening = length_or(&fields, "straightening", examples.straightening);
    let flushing = length_or(&fields, "flushing", examples.flushing);
    let ends = length_or(&fields, "ends", examples.ends);
    let least_rip_width = positive_or(&fields, "least_rip_width", examples.least_rip_width);
    let least_rip_length = positive_or(&fields, "least_rip_length", examples.least_rip_length);
    let from = [RipFrom::Edge, RipFrom::Blanks].map(|from| (from.name(), from));
    let from = fields.choice_or_usual("from", &from);
    let ways = [ThinBy::CarrierBoard, ThinBy::DrumSander, ThinBy::HandPlane];
    let thin_by = fields.choice_or_usual("thin_by", &ways.map(|way| (way.name(), way)));
    fields.finish();
    Some(Milling {
        kerf: kerf?,
        planing: planing?,
        surfacing: surfacing?,
        straightening: straightening?,
        flushing: flushing?,
        ends: ends?,
        least_rip_width: least_rip_width?,
        least_rip_length: least_rip_length?,
        from: from?,
        thin_by: thin_by?,
    })
}

fn read_planer(fields: Fields<'_>, examples: Planer) -> Option<Planer> {
    let least_length = positive_or(&fields, "least_length", examples.least_length);
    let least_thickness = positive_or(&fields, "least_thickness", examples.least_thickness);
    let roller_spacing = positive_or(&fields, "roller_spacing", examples.roller_spacing);
    fields.finish();
    Some(Planer {
        least_length: least_length?,
        least_thickness: least_thickness?,
        roller_spacing: roller_spacing?,
    })
}

#[cfg(test)]
mod tests {
    use crate::machines::{RipFrom, Sawn, StickUse, StockWishes, ThinBy};
    use crate::reading::{JOB as JOB_KEYS, read_job};

    const JOB: &str = "title = \"x\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 3\nrows = 2\n\
                       overhang = \"15 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n";

    fn stock(text: &str) -> StockWishes {
        read_job("job.toml", &format!("{JOB}{text}"))
            .map_err(|bad| bad.findings)
            .unwrap()
            .stock
    }

    fn codes(text: &str) -> Vec<(String, &'static str)> {
        let bad = read_job("job.toml", &format!("{JOB}{text}")).unwrap_err();
        let found = bad.findings.into_iter();
        found.map(|finding| (finding.field, finding.code)).collect()
    }

    #[test]
    fn what_is_given_is_ones_own() {
        let all = stock(
            "[stock]\naim = \"cost\"\nspare_strips = \"25 %\"\nkerf = \"1.1 mm\"\n\
             [[stock.sticks]]\nlength = \"900 mm\"\ncount = 12\nprice = 2.4\n\
             [[stock.sticks]]\nfor = \"frame\"\nlength = \"2 ft\"\npack = 4\nprice = 11\n\
             [stock.board]\nwidth = \"140 mm\"\nsawn = \"quarter\"\n\
             [stock.milling]\nfrom = \"blanks\"\nthin_by = \"drum-sander\"\nkerf = \"3.2 mm\"\n\
             [stock.planer]\nleast_thickness = \"5 mm\"\n",
        );
        assert!(all.is_given && all.spares.strips.is_own && !all.spares.pieces.is_own);
        assert!((all.spares.strips.value - 0.25).abs() < 1e-12);
        let sticks: Vec<_> = (all.sticks.iter())
            .map(|one| (one.used_for, one.length, one.count, one.pack, one.price))
            .collect();
        assert_eq!(
            sticks,
            [
                (StickUse::Strips, 900.0, Some(12), 1, Some(2.4)),
                (StickUse::Frame, 609.6, None, 4, Some(11.0))
            ]
        );
        assert_eq!(
            (all.board.width, all.board.sawn),
            (Some(140.0), Some(Sawn::Quarter))
        );
        assert_eq!(
            (all.milling.from, all.milling.thin_by),
            (RipFrom::Blanks, ThinBy::DrumSander)
        );
        assert!(all.milling.kerf.is_own && !all.milling.planing.is_own);
        assert!(all.planer.least_thickness.is_own && !all.planer.least_length.is_own);
        assert_eq!(stock(""), StockWishes::default());
    }

    #[test]
    fn all_that_is_wrong_is_told_at_its_field() {
        let found = codes(
            "[stock]\naim = \"cost\"\nkerf = \"0 mm\"\n[[stock.sticks]]\nlength = \"900 mm\"\n\
             [[stock.sticks]]\ncount = 0\nprice = -1\n[stock.board]\nsawn = \"rift\"\n",
        );
        for wrong in [
            ("stock.kerf", "not-positive"),
            ("stock.sticks[0].price", "no-price"),
            ("stock.sticks[1].length", "missing"),
            ("stock.sticks[1].count", "count-out-of-range"),
            ("stock.sticks[1].price", "out-of-range"),
            ("stock.board.sawn", "unknown-word"),
        ] {
            let is_told = |(field, code): &(String, &str)| (field.as_str(), *code) == wrong;
            assert!(found.iter().any(is_told), "{wrong:?} in {found:?}");
        }
    }

    /// What is told of a key that is left out is what holds then.
    #[test]
    fn examples_are_told_as_they_are() {
        let mut text = String::new();
        for table in JOB_KEYS.tables {
            if !["stock", "stock.milling", "stock.planer"].contains(&table.path) {
                continue;
            }
            text.push_str(&format!("[{}]\n", table.path));
            for row in table
                .fields
                .iter()
                .filter(|row| row.usual.ends_with([' ', 'm', '%']))
            {
                if row.usual.starts_with(|c: char| c.is_ascii_digit()) {
                    text.push_str(&format!("{} = \"{}\"\n", row.key, row.usual));
                }
            }
        }
        let (told, examples) = (stock(&text), StockWishes::default());
        let figures = |all: &StockWishes| {
            let (spares, milling, planer) = (all.spares, all.milling, all.planer);
            [
                all.trim,
                all.least_held,
                spares.strips,
                spares.pieces,
                spares.members,
                milling.kerf,
                milling.planing,
                milling.surfacing,
                milling.straightening,
                milling.flushing,
                milling.ends,
                milling.least_rip_width,
                milling.least_rip_length,
                planer.least_length,
                planer.least_thickness,
                planer.roller_spacing,
            ]
        };
        for (at, (told, example)) in figures(&told).iter().zip(figures(&examples)).enumerate() {
            assert!(told.is_own, "{at}: {text}");
            assert!((told.value - example.value).abs() < 1e-9, "{at}");
        }
    }
}

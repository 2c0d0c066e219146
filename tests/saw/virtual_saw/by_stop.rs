//! The printed tables of a sheet by stops as orders: row by row, as a person goes down them. A sentence or a
//! column that is not known ends the reading.

use super::saw::{Lay, Order, Side, Thing};
use super::words::{Read, Sentence, text};
use lapwright::instructions::sheet::{Table, TableCell};
use lapwright::units::{Mm, UnitSystem};

/// How the notches of a setting are cut, as its remarks say.
#[derive(Debug, Clone, Default)]
pub struct Ways {
    /// By stop and spacers: how far the stop moves for each further pass, and whether waste is pared out after.
    passes: Option<(Vec<f64>, bool)>,
    /// Over the key.
    sides: Vec<KeySide>,
}

#[derive(Debug, Clone, Copy)]
enum KeySide {
    Fits,
    Right,
    Left,
    Midway(f64),
}

/// A row as it is printed.
#[derive(Debug, Default, Clone)]
struct Row {
    away: String,
    set: String,
    at: Option<f64>,
    spacer: Option<f64>,
    bundles: Vec<usize>,
    blocks: Vec<String>,
    notches: String,
    face: String,
}

impl Ways {
    /// One remark; false where it only explains.
    pub fn hear(&mut self, words: &str) -> Read<bool> {
        let sentence = &mut Sentence::new(words);
        if sentence.takes("Stop: its face from the near side of the kerf") {
            sentence.takes(", along the fence");
            let several = sentence.takes(", at the first pass");
            sentence.wants("; push the datum end against it")?;
            sentence.takes(", or against the row's spacers before it,");
            sentence.wants(" and cut")?;
            self.passes = Some(passes(sentence)?);
            if several
                != self
                    .passes
                    .as_ref()
                    .is_some_and(|(more, _)| !more.is_empty())
            {
                return Err(format!("passes? `{words}`"));
            }
        } else if sentence
            .takes("Key: in the slot that is called so; drop the notch named last over it and cut")
        {
            self.sides = if sentence.takes(", once with the notch pushed to each side of the key") {
                vec![KeySide::Right, KeySide::Left]
            } else {
                vec![KeySide::Fits]
            };
            if sentence.takes(", then midway between, by eye, within ") {
                self.sides.push(KeySide::Midway(sentence.mm()?));
                sentence.wants(": only waste is left there")?;
            }
            sentence.wants(".")?;
            if sentence.takes(" Where another slot crosses that notch, no more than ") {
                sentence.count()?;
                sentence.wants(
                    " % of its walls bear on the key: press it home gently, or use the stop.",
                )?;
            }
        } else {
            return Ok(false);
        }
        sentence.end()?;
        Ok(true)
    }
}

fn passes(sentence: &mut Sentence<'_>) -> Read<(Vec<f64>, bool)> {
    if sentence.takes(" one wall of all blocks; move the stop ") {
        let by = sentence.mm()?;
        sentence.wants(" farther and saw the other; pare out the waste.")?;
        return Ok((vec![by], true));
    }
    if sentence.takes(" all blocks; then move the stop ") {
        let by = sentence.mm()?;
        sentence.wants(" farther and cut all again.")?;
        return Ok((vec![by], false));
    }
    if sentence.takes(" all blocks; then ") {
        let more = sentence.count()?;
        sentence.wants(" times more, the stop moved ")?;
        let by = sentence.mm()?;
        sentence.wants(" farther each time.")?;
        return Ok((vec![by; more], false));
    }
    sentence.wants(".")?;
    Ok((Vec::new(), false))
}

/// The orders of a table; blocks are stepped by `step`.
pub fn orders(table: &Table, ways: &Ways, step: f64) -> Read<Vec<Order>> {
    Sentence::new(&text(&table.caption)).wants("Blocks: how many, of up to how many strips.")?;
    let rows: Read<Vec<Row>> = table.rows.iter().map(|cells| row(table, cells)).collect();
    let rows = rows?;
    let mut orders = Vec::new();
    let starts = |_: &Row, next: &Row| next.set.is_empty();
    for place in rows.chunk_by(starts) {
        at_place(place, ways, step, &mut orders)?;
    }
    Ok(orders)
}

fn row(table: &Table, cells: &[TableCell]) -> Read<Row> {
    let mut row = Row::default();
    for (column, cell) in table.columns.iter().zip(cells) {
        let words = match cell {
            TableCell::Text(words) => words.clone(),
            TableCell::Count(count) => count.to_string(),
            TableCell::Length(mm) => Mm(*mm).figure(UnitSystem::Millimetres),
            TableCell::AtLeast(_) => return Err(format!("{cell:?}")),
            TableCell::Empty => String::new(),
        };
        let figure = || words.parse::<f64>().ok();
        let list = || words.split(", ").map(str::to_owned).collect::<Vec<_>>();
        match *column {
            "first take" => row.away.clone_from(&words),
            "set" => row.set.clone_from(&words),
            "at" => row.at = figure(),
            "spacer" => row.spacer = figure(),
            "bundle" => {
                let numbers = list()
                    .iter()
                    .map(|number| number.parse())
                    .collect::<Result<_, _>>();
                row.bundles = numbers.map_err(|_| format!("bundles `{words}`"))?;
            }
            "strips" => {}
            "blocks" => row.blocks = list(),
            "notch" => row.notches.clone_from(&words),
            "face" => row.face.clone_from(&words),
            other => return Err(format!("a column `{other}`")),
        }
    }
    Ok(row)
}

/// What is set once, and all rows under it, pass by pass.
fn at_place(rows: &[Row], ways: &Ways, step: f64, orders: &mut Vec<Order>) -> Read<()> {
    let first = &rows[0];
    for thing in first.away.split(", ").filter(|thing| !thing.is_empty()) {
        orders.push(Order::Take(match thing {
            "key out" => Thing::Key,
            "spacers out" => Thing::Spacers,
            "stop away" => Thing::Stop,
            other => return Err(format!("take `{other}`")),
        }));
    }
    let under = |row: &Row| row.away.is_empty() && row.at.is_none() && row.spacer.is_none();
    if !rows[1..].iter().all(under) {
        return Err(format!("{rows:?}"));
    }
    let at = first.at.ok_or("set to what?")?;
    if first.set == "key" {
        orders.push(Order::Key(at));
        for row in rows {
            for lay in lays(row, step)? {
                orders.push(lay);
                over_key(&row.notches, ways, orders)?;
            }
        }
        return Ok(());
    }
    let number = first
        .set
        .strip_prefix("stop ")
        .ok_or(format!("set `{}`", first.set))?;
    let stands = number.ends_with(", as it stands");
    orders.push(if stands {
        Order::StopStays
    } else {
        Order::SetStop(at)
    });
    orders.extend(first.spacer.map(Order::Spacers));
    let (more, pared) = ways.passes.as_ref().ok_or("cut how?")?;
    for pass in 0..=more.len() {
        orders.extend((pass > 0).then(|| Order::MoveStop(more[pass - 1])));
        for row in rows {
            row.notches
                .parse::<usize>()
                .map_err(|_| format!("notch `{}`", row.notches))?;
            for lay in lays(row, step)? {
                orders.extend([lay, Order::CutAtEnd]);
                orders.extend((pass > 0 && *pared).then_some(Order::Pare));
            }
        }
    }
    Ok(())
}

/// The bundles of a row, block by block.
fn lays(row: &Row, step: f64) -> Read<Vec<Order>> {
    if row.bundles.len() != row.blocks.len() {
        return Err(format!("blocks of {:?}: {:?}", row.bundles, row.blocks));
    }
    let each = row.bundles.iter().zip(&row.blocks).map(|(bundle, words)| {
        let sentence = &mut Sentence::new(words);
        let blocks = sentence.count()?;
        let per_block = if sentence.takes(" single") {
            1
        } else {
            sentence.wants(" of ")?;
            sentence.count()?
        };
        sentence.end()?;
        Ok(Order::Lay(Lay {
            bundle: *bundle,
            with: Vec::new(),
            per_block,
            blocks,
            face: row.face.clone(),
            step,
        }))
    });
    each.collect()
}

/// `2 to 8, each over the one before`, `4 over 2`, and lists of these.
fn over_key(notches: &str, ways: &Ways, orders: &mut Vec<Order>) -> Read<()> {
    let sentence = &mut Sentence::new(notches);
    loop {
        let first = sentence.count()?;
        let on = if sentence.takes(" to ") {
            let last = sentence.count()?;
            sentence.wants(", each over the one before")?;
            (first - 1..last).collect()
        } else {
            sentence.wants(" over ")?;
            vec![sentence.count()?]
        };
        for on in on {
            let cuts = ways.sides.iter().map(|side| Order::CutOnKey {
                on,
                side: match side {
                    KeySide::Fits => Side::Fits,
                    KeySide::Right => Side::Right,
                    KeySide::Left => Side::Left,
                    KeySide::Midway(within) => Side::Midway(*within),
                },
            });
            orders.extend(cuts);
        }
        if !sentence.takes(", ") {
            return sentence.end();
        }
    }
}

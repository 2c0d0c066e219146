//! What repeats in a large picture, written once: a row of equal shapes, and where it stands again.
//!
//! Places are whole thousandths of a millimetre, as they are printed: a shape that is written as a
//! repetition has the corners, to the last digit, that it would have if it were written out.

use std::collections::{BTreeMap, HashMap};
use std::fmt::Write;

/// A place, thousandths of a millimetre.
pub(super) type Place = [i64; 2];

/// What a shape is, wherever it stands.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) enum Look {
    /// A path with an edge: one may lie over another, so their order stays.
    Area(Outline),
    /// A path without an edge, or without an inside: of one class, in any order.
    Flat(Outline),
    /// A line of text: what stands in its tag beside the place, and what it says, escaped.
    Text(String, String),
}

/// A path from its first corner on.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) struct Outline {
    /// What the style sheet knows it by.
    pub(super) class: &'static str,
    /// What is added to that.
    pub(super) form: &'static str,
    /// From corner to corner.
    pub(super) steps: Vec<Place>,
    /// Whether it goes back to its first corner.
    pub(super) closed: bool,
}

/// A shape at its place.
pub(super) struct Placed {
    pub(super) look: Look,
    /// Its first corner, or where a text stands.
    pub(super) at: Place,
}

/// Bytes that it takes, about, to say that something stands again.
const AGAIN_BYTES: usize = 48;

/// Bytes of a place, about.
const PLACE_BYTES: usize = 12;

/// Writes shapes, in their order as far as it can be seen. `link` is the attribute by which one element names
/// another.
pub(super) fn write(out: &mut String, shapes: &[Placed], link: &str) {
    let mut page = Repeats {
        out,
        link,
        picture: fingerprint(shapes),
        named: 0,
    };
    for run in shapes.chunk_by(|a, b| a.look.goes_with(&b.look)) {
        match run.first().map(|first| &first.look) {
            Some(Look::Area(_)) => page.in_order(run),
            _ => page.in_rows(run),
        }
    }
}

impl Look {
    /// Whether shapes of both may be written together.
    fn goes_with(&self, other: &Look) -> bool {
        match (self, other) {
            (Look::Area(_), Look::Area(_)) | (Look::Text(..), Look::Text(..)) => true,
            (Look::Flat(one), Look::Flat(other)) => {
                (one.class, one.form) == (other.class, other.form)
            }
            _ => false,
        }
    }

    /// Bytes that it takes beside its place, about.
    fn bytes(&self) -> usize {
        match self {
            Look::Area(outline) | Look::Flat(outline) => 7 * outline.steps.len(),
            Look::Text(attributes, words) => attributes.len() + words.len() + 20,
        }
    }
}

/// By which the names of one picture differ from another's on the same page: FNV-1a of all of it.
fn fingerprint(shapes: &[Placed]) -> u64 {
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    let mut add = |bytes: &[u8]| {
        for byte in bytes {
            hash = (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
        }
    };
    for shape in shapes {
        shape.at.iter().for_each(|part| add(&part.to_le_bytes()));
        match &shape.look {
            Look::Area(outline) | Look::Flat(outline) => {
                add(outline.class.as_bytes());
                add(outline.form.as_bytes());
                let steps = outline.steps.iter().flatten();
                steps.for_each(|part| add(&part.to_le_bytes()));
            }
            Look::Text(attributes, words) => {
                add(attributes.as_bytes());
                add(words.as_bytes());
            }
        }
    }
    hash
}

/// Shapes of one look: where they stand, in the order in which they came.
struct Alike<'a> {
    look: &'a Look,
    places: Vec<Place>,
}

/// The shapes of a run, those of one look together, in the order of the first of each.
fn alike(run: &[Placed]) -> Vec<Alike<'_>> {
    let mut known: HashMap<&Look, usize> = HashMap::new();
    let mut all: Vec<Alike<'_>> = Vec::new();
    for shape in run {
        let at = *known.entry(&shape.look).or_insert(all.len());
        match all.get_mut(at) {
            Some(alike) => alike.places.push(shape.at),
            None => all.push(Alike {
                look: &shape.look,
                places: vec![shape.at],
            }),
        }
    }
    all
}

/// A row, and everywhere that it stands: the place of its first shape.
struct Row {
    /// From its first shape to each.
    along: Vec<Place>,
    places: Vec<Place>,
}

/// Places as rows along x (0) or y (1): those that are alike once.
fn rows(places: &[Place], axis: usize) -> Vec<Row> {
    let part = |place: &Place, axis: usize| place.get(axis).copied().unwrap_or_default();
    let mut lines: BTreeMap<i64, Vec<Place>> = BTreeMap::new();
    for place in places {
        let line = lines.entry(part(place, 1 - axis)).or_default();
        line.push(*place);
    }
    let mut known: HashMap<Vec<i64>, usize> = HashMap::new();
    let mut rows: Vec<Row> = Vec::new();
    for mut line in lines.into_values() {
        line.sort_unstable();
        let Some(first) = line.first().copied() else {
            continue;
        };
        let along: Vec<Place> = line.iter().map(|place| way(first, *place)).collect();
        let key = along.iter().map(|step| part(step, axis)).collect();
        let at = *known.entry(key).or_insert(rows.len());
        match rows.get_mut(at) {
            Some(row) => row.places.push(first),
            None => rows.push(Row {
                along,
                places: vec![first],
            }),
        }
    }
    rows
}

fn way([x, y]: Place, [to_x, to_y]: Place) -> Place {
    [to_x - x, to_y - y]
}

/// Bytes that rows take, about, if a shape takes so many.
fn cost(rows: &[Row], shape: usize) -> usize {
    let one = |row: &Row| row.along.len() * shape + row.places.len() * AGAIN_BYTES;
    rows.iter().map(one).sum()
}

/// What is written, and what has a name already.
struct Repeats<'a> {
    out: &'a mut String,
    link: &'a str,
    picture: u64,
    named: usize,
}

impl Repeats<'_> {
    /// One after the other; what was there before is named.
    fn in_order(&mut self, run: &[Placed]) {
        let mut count: HashMap<&Look, usize> = HashMap::new();
        for shape in run {
            *count.entry(&shape.look).or_default() += 1;
        }
        let mut named: HashMap<&Look, (String, Place)> = HashMap::new();
        for shape in run {
            if let Some((name, first)) = named.get(&shape.look) {
                let by = way(*first, shape.at);
                self.again(&name.clone(), by);
            } else if count.get(&shape.look).is_some_and(|count| *count > 1) {
                let name = self.name();
                self.shapes(&shape.look, &[shape.at], Some(&name));
                named.insert(&shape.look, (name, shape.at));
            } else {
                self.shapes(&shape.look, &[shape.at], None);
            }
        }
    }

    /// In rows, whichever way takes least.
    fn in_rows(&mut self, run: &[Placed]) {
        for Alike { look, places } in alike(run) {
            let shape = look.bytes() + PLACE_BYTES;
            let ways = [0, 1].map(|axis| rows(&places, axis));
            let best = ways.into_iter().min_by_key(|rows| cost(rows, shape));
            let best = best.filter(|rows| cost(rows, shape) < places.len() * shape);
            let Some(best) = best else {
                self.shapes(look, &places, None);
                continue;
            };
            for row in &best {
                let Some((first, others)) = row.places.split_first() else {
                    continue;
                };
                let [x, y] = *first;
                let all: Vec<Place> = row.along.iter().map(|by| [x + by[0], y + by[1]]).collect();
                let name = (!others.is_empty()).then(|| self.name());
                self.shapes(look, &all, name.as_deref());
                for other in others {
                    self.again(name.as_deref().unwrap_or_default(), way(*first, *other));
                }
            }
        }
    }

    fn name(&mut self) -> String {
        self.named += 1;
        // Twelve digits: no two of a page's pictures have the same by chance.
        format!("r{:012x}-{}", self.picture >> 16, self.named)
    }

    /// What has a name, at another place.
    fn again(&mut self, name: &str, by: Place) {
        let link = self.link;
        let _ = write!(self.out, "<use {link}=\"#{name}\"");
        for (axis, part) in ["x", "y"].into_iter().zip(by) {
            if part != 0 {
                let _ = write!(self.out, " {axis}=\"{}\"", Thousandths(part));
            }
        }
        self.out.push_str("/>\n");
    }

    /// Shapes of one look at their places, as one element.
    fn shapes(&mut self, look: &Look, places: &[Place], name: Option<&str>) {
        let id = name.map_or_else(String::new, |name| format!(" id=\"{name}\""));
        match look {
            Look::Area(outline) | Look::Flat(outline) => {
                let Outline { class, form, .. } = outline;
                let _ = write!(self.out, "<path{id} class=\"{class}{form}\" d=\"");
                places.iter().for_each(|at| self.subpath(outline, *at));
                self.out.push_str("\"/>\n");
            }
            Look::Text(attributes, words) => {
                if name.is_some() {
                    let _ = writeln!(self.out, "<g{id}>");
                }
                for [x, y] in places {
                    let [x, y] = [Thousandths(*x), Thousandths(*y)];
                    let _ = writeln!(
                        self.out,
                        "<text {attributes} x=\"{x}\" y=\"{y}\">{words}</text>"
                    );
                }
                if name.is_some() {
                    self.out.push_str("</g>\n");
                }
            }
        }
    }

    fn subpath(&mut self, outline: &Outline, [x, y]: Place) {
        let _ = write!(self.out, "M{},{}", Thousandths(x), Thousandths(y));
        for [x, y] in &outline.steps {
            let [x, y] = [Thousandths(*x), Thousandths(*y)];
            let _ = match (x.0, y.0) {
                (_, 0) => write!(self.out, "h{x}"),
                (0, _) => write!(self.out, "v{y}"),
                _ => write!(self.out, "l{x},{y}"),
            };
        }
        if outline.closed {
            self.out.push('z');
        }
    }
}

/// Thousandths of a millimetre as millimetres, no longer than they need be.
struct Thousandths(i64);

impl std::fmt::Display for Thousandths {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.0 < 0 {
            f.write_char('-')?;
        }
        let size = self.0.unsigned_abs();
        write!(f, "{}", size / 1000)?;
        match size % 1000 {
            0 => Ok(()),
            rest => {
                let digits = format!("{rest:03}");
                write!(f, ".{}", digits.trim_end_matches('0'))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bar(x: i64, y: i64, long: i64) -> Placed {
        let outline = Outline {
            class: "wood",
            form: " line",
            steps: vec![[long, 0]],
            closed: false,
        };
        Placed {
            look: Look::Flat(outline),
            at: [x, y],
        }
    }

    fn written(shapes: &[Placed]) -> String {
        let mut out = String::new();
        write(&mut out, shapes, "href");
        out
    }

    #[test]
    fn thousandths_are_printed_as_short_as_they_are() {
        let text = |value: i64| Thousandths(value).to_string();
        assert_eq!(
            [0, 5, -1500, 24_050, 12_000].map(text),
            ["0", "0.005", "-1.5", "24.05", "12"]
        );
    }

    #[test]
    fn a_grid_is_one_row_and_where_it_stands_again() {
        let grid = (0..20).flat_map(|y| (0..30).map(move |x| bar(10_000 * x, 12_500 * y, 7000)));
        let out = written(&grid.collect::<Vec<_>>());
        assert_eq!(out.matches("<path").count(), 1, "{out}");
        assert_eq!(out.matches('M').count(), 30, "{out}");
        assert_eq!(out.matches("<use").count(), 19, "{out}");
        assert!(out.contains("h7M"), "{out}");
    }

    #[test]
    fn what_does_not_repeat_is_written_out() {
        let bars: Vec<Placed> = (0..9)
            .map(|at| bar(1000 * at * at, 777 * at, 500))
            .collect();
        let out = written(&bars);
        assert_eq!(out.matches('M').count(), 9);
        assert!(!out.contains("<use"), "{out}");
    }

    /// Areas have edges, and where two of them meet the later one lies over the other.
    #[test]
    fn areas_keep_their_order() {
        let area = |x: i64, long: i64| {
            let outline = Outline {
                class: "wood",
                form: "",
                steps: vec![[long, 0], [0, 900]],
                closed: true,
            };
            Placed {
                look: Look::Area(outline),
                at: [x, 0],
            }
        };
        let out = written(&[area(0, 500), area(10, 600), area(20, 500)]);
        let kinds: Vec<&str> = out.lines().map(|line| &line[..5]).collect();
        assert_eq!(kinds, ["<path", "<path", "<use "]);
        assert!(out.contains("x=\"0.02\""), "{out}");
    }

    #[test]
    fn other_pictures_have_other_names() {
        let name = |long: i64| {
            let grid = (0..30).flat_map(|y| (0..30).map(move |x| bar(9000 * x, 9000 * y, long)));
            let out = written(&grid.collect::<Vec<_>>());
            out.split("id=\"").nth(1).unwrap()[..13].to_owned()
        };
        assert_eq!(name(800), name(800));
        assert_ne!(name(800), name(801));
    }
}

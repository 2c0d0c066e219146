//! Small readers of all that is written, each on its own: none knows what another one found, and none is the
//! program's.

use serde_json::Value;
use std::collections::BTreeMap;
use std::fmt::Write;

/// A text as rows of words, as a person reads along a line.
pub(super) type Rows = Vec<Vec<String>>;

/// Lines of a text, or of a page as poppler lays it out.
pub(super) fn lines(text: &str) -> Rows {
    text.lines().map(words).collect()
}

/// Words of a line, without what an inch is to the nearest 1/64, which stands in brackets after a figure.
fn words(line: &str) -> Vec<String> {
    let mut within = false;
    let mut kept = Vec::new();
    for word in line.split_whitespace() {
        within |= word.starts_with('[');
        if !within {
            kept.push(word.to_owned());
        }
        within &= !word.contains(']');
    }
    kept
}

/// Rows of a page's tables, in one system of units.
pub(super) fn table_rows(html: &str, unit: &str) -> Rows {
    let other = if unit == "mm" { "in" } else { "mm" };
    let rows = html.split("<tr").skip(1);
    rows.map(|row| {
        let row = row.split("</tr>").next().unwrap();
        let cells = row.split("<td").skip(1);
        let shown = cells.filter(|cell| !opens(cell, other));
        let text = shown.map(|cell| plain(&format!("<td{cell}"), other));
        words(&text.collect::<Vec<_>>().join(" "))
    })
    .collect()
}

/// All writing of a page in one system of units as one row, tags as spaces.
pub(super) fn page_words(html: &str, unit: &str) -> Vec<String> {
    let body = html.split("<main").nth(1).unwrap();
    let body = body.split("<script>").next().unwrap();
    words(&plain(body, if unit == "mm" { "in" } else { "mm" }))
}

/// Whether the tag that a text begins with is for the other system only.
fn opens(cell: &str, other: &str) -> bool {
    let tag = cell.split('>').next().unwrap();
    let class = tag.split("class=\"").nth(1).unwrap_or_default();
    let class = class.split('"').next().unwrap();
    class.split(' ').any(|word| word == other)
}

fn plain(html: &str, other: &str) -> String {
    let mut text = String::new();
    let mut rest = html;
    while let Some(at) = rest.find('<') {
        text.push_str(&rest[..at]);
        let tag_end = at + rest[at..].find('>').map_or(rest.len() - at, |end| end + 1);
        let tag = &rest[at..tag_end];
        rest = &rest[tag_end..];
        if opens(tag, other) {
            let name = tag[1..].split([' ', '>']).next().unwrap();
            rest = &rest[rest.find(&format!("</{name}>")).unwrap_or(0)..];
        } else if !tag.contains("span") {
            text.push(' ');
        }
    }
    text + rest
}

/// Rows of a table of data, by the names of its columns.
pub(super) fn csv(text: &str) -> Vec<BTreeMap<String, String>> {
    let mut lines = text.lines();
    let heads: Vec<&str> = lines.next().unwrap().split(',').collect();
    lines
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            assert_eq!(cells.len(), heads.len(), "{line}");
            let pairs = heads.iter().zip(cells);
            pairs
                .map(|(head, cell)| ((*head).to_owned(), cell.to_owned()))
                .collect()
        })
        .collect()
}

/// A contour of a drawing, mm.
pub(super) type Contour = Vec<[f64; 2]>;

/// The contours of a DXF by their layers.
pub(super) fn dxf(text: &str) -> Vec<(String, Contour)> {
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    let mut found: Vec<(String, Contour)> = Vec::new();
    let mut inside = false;
    for pair in lines.chunks(2) {
        match pair {
            ["0", "LWPOLYLINE"] => {
                inside = true;
                found.push((String::new(), Vec::new()));
            }
            ["0", _] => inside = false,
            ["8", layer] if inside => found.last_mut().unwrap().0 = (*layer).to_owned(),
            ["10", x] if inside => found
                .last_mut()
                .unwrap()
                .1
                .push([x.parse().unwrap(), f64::NAN]),
            ["20", y] if inside => {
                found.last_mut().unwrap().1.last_mut().unwrap()[1] = y.parse().unwrap();
            }
            _ => {}
        }
    }
    found
}

/// The contours of an SVG by the ids of their groups or their own classes, y downward as there.
pub(super) fn svg(text: &str) -> Vec<(String, Contour)> {
    let mut found = Vec::new();
    let mut group = String::new();
    for tag in text.split('<').skip(1) {
        let value = |key: &str| {
            let rest = tag.split(&format!("{key}=\"")).nth(1)?;
            rest.split('"').next().map(str::to_owned)
        };
        if tag.starts_with("g ") {
            group = value(" id").unwrap_or_default();
        } else if tag.starts_with("poly") {
            let points = value(" points").unwrap();
            let point = |pair: &str| {
                let (x, y) = pair.split_once(',').unwrap();
                [x.parse().unwrap(), y.parse().unwrap()]
            };
            let name = value(" class").unwrap_or_else(|| group.clone());
            found.push((name, points.split(' ').map(point).collect()));
        }
    }
    found
}

/// A notch as a program cuts it, mm; centre on the middle line of the strip in front.
#[derive(Debug, Clone, Copy)]
pub(super) struct Slot {
    pub(super) centre: f64,
    pub(super) width: f64,
    pub(super) depth: f64,
}

/// A program as it moves.
#[derive(Debug, Default)]
pub(super) struct Program {
    /// Places where it cuts below the top of the stock.
    cuts: Vec<[f64; 3]>,
    pub(super) speeds: Vec<f64>,
    pub(super) feeds: Vec<f64>,
    /// What it says at its head, in one line.
    pub(super) remarks: String,
}

impl Program {
    pub(super) fn read(text: &str) -> Program {
        let mut program = Program::default();
        let mut at = [0.0; 3];
        let mut cutting = false;
        for line in text.lines() {
            if let Some(remark) = line.strip_prefix('(') {
                let remark = remark.trim_end_matches(')').trim_start_matches("- ");
                write!(program.remarks, " {remark}").unwrap();
                continue;
            }
            let mut moved = false;
            for word in line.split_whitespace() {
                let (letter, number) = word.split_at(1);
                match word {
                    "G0" => cutting = false,
                    "G1" => cutting = true,
                    _ => {}
                }
                let Ok(number) = number.parse::<f64>() else {
                    continue;
                };
                match letter {
                    "S" => program.speeds.push(number),
                    "F" => program.feeds.push(number),
                    "X" | "Y" | "Z" => {
                        at[usize::from(letter.as_bytes()[0] - b'X')] = number;
                        moved = true;
                    }
                    _ => {}
                }
            }
            if moved && cutting && at[2] < 0.0 {
                program.cuts.push(at);
            }
        }
        program
    }

    /// The notches that it cuts at this angle, radians, in strips of this thickness with a cutter of this
    /// diameter: where the cutter's middle goes, slid along the cut to the first strip's middle line, in heaps
    /// that are apart by more than the cutter is wide.
    pub(super) fn slots(&self, angle: f64, thickness: f64, tool: f64) -> Vec<Slot> {
        let slide = |[x, y, z]: [f64; 3]| (x - (y - thickness / 2.0) / angle.tan(), z);
        let mut places: Vec<(f64, f64)> = self.cuts.iter().copied().map(slide).collect();
        places.sort_by(|a, b| a.0.total_cmp(&b.0));
        let wide = tool / angle.sin();
        let heaps = places.chunk_by(|a, b| b.0 - a.0 < wide + 0.3);
        heaps
            .map(|heap| {
                let (first, last) = (heap[0].0, heap[heap.len() - 1].0);
                Slot {
                    centre: f64::midpoint(first, last),
                    width: last - first + wide,
                    depth: -heap.iter().map(|place| place.1).fold(0.0, f64::min),
                }
            })
            .collect()
    }
}

/// A figure as it is printed: two decimals of a millimetre or four of an inch, ties away from zero.
pub(super) fn printed(mm: f64, unit: &str) -> String {
    let (value, places) = if unit == "mm" {
        (mm, 2)
    } else {
        (mm / 25.4, 4)
    };
    let scale = 10_f64.powi(places);
    let rounded = (value.abs() * scale + 1e-6).floor();
    // Half a last digit away from zero, and what float arithmetic leaves of one.
    let rounded = if value.abs() * scale - rounded >= 0.5 - 1e-6 {
        rounded + 1.0
    } else {
        rounded
    };
    let text = format!("{:.*}", usize::try_from(places).unwrap(), rounded / scale);
    if value < 0.0 && rounded > 0.0 {
        format!("-{text}")
    } else {
        text
    }
}

pub(super) fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

pub(super) fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("{value} is no number"))
}

/// Whether some row has these words beside each other.
pub(super) fn says(rows: &Rows, words: &[String]) -> bool {
    rows.iter()
        .any(|row| row.windows(words.len()).any(|some| are(some, words)))
}

/// The same with a first word that stands somewhere before them.
pub(super) fn says_after(rows: &Rows, first: &str, words: &[String]) -> bool {
    rows.iter().any(|row| {
        let firsts = row.iter().enumerate().filter(|(_, word)| is(word, first));
        let mut rests = firsts.map(|(at, _)| &row[at + 1..]);
        rests.any(|rest| rest.windows(words.len()).any(|some| are(some, words)))
    })
}

fn are(words: &[String], wanted: &[String]) -> bool {
    words
        .iter()
        .zip(wanted)
        .all(|(word, wanted)| is(word, wanted))
}

/// A word, or a fraction of an inch that is just this figure.
pub(super) fn is(word: &str, wanted: &str) -> bool {
    let may_be = word.contains('/') || word.len() < 3;
    word == wanted || may_be && in_decimals(word).is_some_and(|decimals| decimals == wanted)
}

/// A fraction of an inch, such as `1-3/8`, in four decimals.
fn in_decimals(fraction: &str) -> Option<String> {
    let parts: Option<Vec<f64>> = fraction
        .split(['-', '/'])
        .map(|part| part.parse().ok())
        .collect();
    let value = match parts?[..] {
        [whole] => whole,
        [top, bottom] => top / bottom,
        [whole, top, bottom] => whole + top / bottom,
        _ => return None,
    };
    Some(printed(value * 25.4, "in"))
}

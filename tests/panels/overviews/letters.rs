//! The picture of a panel in letters, read back.

use super::Told;
use crate::support::jobs::{jobs, samples};
use lapwright::geometry::convex::depth;
use lapwright::geometry::{Point, bounds};
use lapwright::instructions::overview::GridFigures;
use lapwright::sheets::{LetterPicture, Room, letter_picture};

const ROOM: Room = Room {
    columns: 100,
    lines: 24,
};

/// Letters in which strips cross, meet at the edge, or run on.
const NODES: &str = "┼├┤┬┴┌┐└┘";

fn drawn(told: &Told, room: Room) -> Option<Vec<Vec<char>>> {
    match letter_picture(told.job.panel.lattice(), &told.overview, room) {
        LetterPicture::Drawn { lines, .. } => {
            assert!(lines.len() <= room.lines, "{lines:#?}");
            let lines: Vec<Vec<char>> = lines.iter().map(|line| line.chars().collect()).collect();
            assert!(lines.iter().all(|line| line.len() <= room.columns));
            Some(lines)
        }
        LetterPicture::TooFine => None,
    }
}

fn letter(lines: &[Vec<char>], x: usize, y: usize) -> char {
    lines[y].get(x).copied().unwrap_or(' ')
}

/// Where nodes stand: columns from the left, lines from the bottom.
fn nodes(lines: &[Vec<char>]) -> [Vec<usize>; 2] {
    let (mut xs, mut ys) = (Vec::new(), Vec::new());
    for (y, line) in lines.iter().enumerate() {
        for (x, letter) in line.iter().enumerate() {
            if NODES.contains(*letter) {
                xs.push(x);
                ys.push(y);
            }
        }
    }
    for places in [&mut xs, &mut ys] {
        places.sort_unstable();
        places.dedup();
    }
    [xs, ys]
}

/// Distances are as the pitches, but for half a letter at either end.
fn assert_to_scale(places: &[usize], pitches: &[f64], name: &str) {
    let total: f64 = pitches.iter().sum();
    let length = (places[places.len() - 1] - places[0]) as f64;
    let mut at = 0.0;
    for (place, pitch) in places[1..].iter().zip(pitches) {
        at += pitch;
        let wanted = places[0] as f64 + at / total * length;
        assert!(
            (*place as f64 - wanted).abs() <= 1.0,
            "{name}: {places:?} {pitches:?}"
        );
    }
}

fn assert_read_back(told: &Told, lines: &[Vec<char>]) {
    let GridFigures::Square {
        pitches_x_mm,
        pitches_y_mm,
    } = &told.overview.grid
    else {
        panic!("{} is not upright", told.name)
    };
    let [xs, ys] = nodes(lines);
    let lattice = told.job.panel.lattice();
    let inside = lattice.crossings.iter().filter(|crossing| crossing.inside);
    assert_eq!(xs.len() * ys.len(), inside.count(), "{}", told.name);
    assert_eq!(xs.len(), pitches_x_mm.len() + 1, "{}", told.name);
    for y in &ys {
        for x in xs.windows(2) {
            assert!(NODES.contains(letter(lines, x[0], *y)), "{}", told.name);
            for between in x[0] + 1..x[1] {
                assert_eq!(letter(lines, between, *y), '─', "{}", told.name);
            }
        }
    }
    for x in &xs {
        for y in ys.windows(2) {
            for between in y[0] + 1..y[1] {
                assert_eq!(letter(lines, *x, between), '│', "{}", told.name);
            }
        }
    }
    // Strips that end at the outermost ones leave these no way beyond them.
    let ends = told.overview.frame.is_none() && told.overview.size.reveal_mm.is_none();
    for (row, y) in ys.iter().enumerate() {
        for (column, x) in xs.iter().enumerate() {
            let at = |place: usize, all: &[usize]| match place {
                _ if !ends => 1,
                0 => 0,
                place if place + 1 == all.len() => 2,
                _ => 1,
            };
            let wanted = ["┌┬┐", "├┼┤", "└┴┘"][at(row, &ys)];
            let wanted = wanted.chars().nth(at(column, &xs)).unwrap();
            assert_eq!(letter(lines, *x, *y), wanted, "{} {lines:?}", told.name);
        }
    }
    let mut up = pitches_y_mm.clone();
    up.reverse();
    let legend = match letter_picture(lattice, &told.overview, ROOM) {
        LetterPicture::Drawn { legend, .. } => legend,
        LetterPicture::TooFine => String::new(),
    };
    if legend.contains("to scale") && !legend.contains("not to scale") {
        assert_to_scale(&xs, pitches_x_mm, &told.name);
        assert_to_scale(&ys, &up, &told.name);
    }
    let double = lines
        .iter()
        .flatten()
        .filter(|letter| "╔╗╚╝".contains(**letter));
    let corners = if told.overview.frame.is_some() { 4 } else { 0 };
    assert_eq!(double.count(), corners, "{}", told.name);
    if corners > 0 {
        let count = |wanted: char| {
            lines
                .iter()
                .flatten()
                .filter(|found| **found == wanted)
                .count()
        };
        assert_eq!([count('╤'), count('╧')], [xs.len(); 2], "{}", told.name);
        assert_eq!([count('╟'), count('╢')], [ys.len(); 2], "{}", told.name);
    }
}

#[test]
fn upright_grids_are_drawn_node_by_node() {
    let mut letters = 0;
    for (number, job) in samples(&jobs(), 60).iter().enumerate() {
        let frame = if number % 2 == 0 { "" } else { super::FRAME };
        let told = Told::of(
            &format!("upright {number}"),
            &format!("{}{frame}", job.toml()),
        );
        let lines = drawn(&told, ROOM).unwrap();
        let is_dots = lines.iter().flatten().any(|letter| *letter >= '\u{2800}');
        if !is_dots {
            letters += 1;
            assert_read_back(&told, &lines);
        }
    }
    assert!(letters > 40, "{letters}");
}

#[test]
fn cells_have_their_patterns_letter() {
    let text = |pitches: &str| {
        format!(
            "title = \"x\"\n[grid]\nkind = \"square\"\npitches_x = {pitches}\npitches_y = [\"40 mm\", \"40 mm\"]\noverhang = \"14 mm\"\n{}[infill]\npattern = \"square-hemp-leaf\"\n",
            super::STRIP
        )
    };
    // A pattern drawn for squares leaves longer cells open.
    let told = Told::of("x", &text("[\"40 mm\", \"60 mm\", \"40 mm\"]"));
    let lines = drawn(&told, ROOM).unwrap();
    let rows: Vec<String> = lines
        .iter()
        .map(|line| {
            line.iter()
                .filter(|letter| "AB·".contains(**letter))
                .collect()
        })
        .collect();
    let rows: Vec<&str> = rows
        .iter()
        .map(String::as_str)
        .filter(|row| !row.is_empty())
        .collect();
    assert_eq!(rows, ["A·A", "A·A"]);
}

/// As the person who drew the map knows them, turned patterns too.
#[test]
fn cells_have_the_letters_of_the_jobs_map() {
    let text = format!(
        "title = \"x\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 3\nrows = 2\n\
         overhang = \"14 mm\"\n{}[infill]\nmap = [\"T.K\", \"KTT\"]\nlegend.T = {{ pattern = \
         \"single-diagonal\", turn = \"90 deg\" }}\nlegend.K = \"single-diagonal\"\n",
        super::STRIP
    );
    let told = Told::of("map", &text);
    let LetterPicture::Drawn { lines, legend } =
        letter_picture(told.job.panel.lattice(), &told.overview, ROOM)
    else {
        panic!("no picture")
    };
    let letters = lines
        .iter()
        .map(|line| line.chars().filter(|c| "TK·".contains(*c)).collect());
    let rows: Vec<String> = letters.filter(|row: &String| !row.is_empty()).collect();
    assert_eq!(rows, ["T·K", "KTT"]);
    let wanted = "K T single-diagonal, · open; about to scale";
    assert_eq!(legend, wanted);
}

/// Dots of a picture, x to the right and y down.
fn dots(lines: &[Vec<char>]) -> Vec<(f64, f64)> {
    let bits = [
        (0, 0),
        (0, 1),
        (0, 2),
        (1, 0),
        (1, 1),
        (1, 2),
        (0, 3),
        (1, 3),
    ];
    let mut found = Vec::new();
    for (line, letters) in lines.iter().enumerate() {
        for (column, letter) in letters.iter().enumerate() {
            let Some(set) = u32::from(*letter).checked_sub(0x2800) else {
                continue;
            };
            assert!(set < 256);
            for (bit, (x, y)) in bits.iter().enumerate() {
                if set & (1 << bit) != 0 {
                    found.push(((column * 2 + x) as f64, (line * 4 + y) as f64));
                }
            }
        }
    }
    found
}

#[test]
fn slanted_grids_are_drawn_line_by_line() {
    let slanted = super::others();
    let slanted = slanted
        .iter()
        .filter(|told| !matches!(told.overview.grid, GridFigures::Square { .. }));
    let mut count = 0;
    for told in slanted {
        count += 1;
        let lattice = told.job.panel.lattice();
        let dots = dots(&drawn(told, ROOM).unwrap());
        let (low, high) = bounds(lattice.region.iter().copied()).unwrap();
        let widest = dots.iter().map(|dot| dot.0).fold(0.0, f64::max);
        let scale = widest / (high.x - low.x);
        let near = |p: Point| {
            let (x, y) = ((p.x - low.x) * scale, (high.y - p.y) * scale);
            dots.iter()
                .any(|dot| (dot.0 - x).abs() <= 1.5 && (dot.1 - y).abs() <= 1.5)
        };
        for crossing in lattice.crossings.iter().filter(|crossing| crossing.inside) {
            assert!(near(crossing.at), "{}: {:?}", told.name, crossing.at);
        }
        // No dot lies where no line is.
        for (x, y) in &dots {
            let p = Point::new(low.x + x / scale, high.y - y / scale);
            let from_line = lattice.strips.iter().map(|strip| {
                let along = strip.start.to(strip.end).unit().unwrap();
                along.cross(strip.start.to(p)).abs()
            });
            let from_edge = depth(&lattice.region, p).abs();
            let least = from_line.fold(from_edge, f64::min);
            assert!(least * scale <= 1.5, "{}: {x} {y}", told.name);
        }
    }
    assert!(count > 12, "{count}");
}

#[test]
fn where_there_is_no_room_there_is_no_picture() {
    let text = |columns: usize| {
        format!(
            "title = \"x\"\n[grid]\nkind = \"square\"\npitch = \"12 mm\"\ncolumns = {columns}\nrows = 60\noverhang = \"14 mm\"\n{}",
            super::STRIP
        )
    };
    let told = Told::of("fine", &text(70));
    assert_eq!(drawn(&told, ROOM), None);
}

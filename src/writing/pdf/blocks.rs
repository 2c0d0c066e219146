//! What stands on a sheet, as boxes of marks.

use super::flow::Box;
use super::letters::{Letters, Weight};
use super::lists::AFTER_TICK;
use super::mark::{MM_PER_POINT, Mark, drawn};
use super::table::table;
use crate::geometry::Point;
use crate::instructions::drawing::Drawing;
use crate::instructions::page::{Item, Leaf, Part, Picture, Piece};
use crate::instructions::sheet::{Block, Figure};
use crate::phrase::{Phrase, Word};
use crate::units::{Brief, UnitSystem};
use crate::writing::look::{self, Colour, size};

/// What boxes are set with.
#[derive(Clone, Copy)]
pub(super) struct Setter<'a> {
    pub(super) letters: &'a Letters,
    pub(super) units: UnitSystem,
    /// Width of the column, mm.
    pub(super) width: f64,
    /// Greatest height of a picture, mm.
    pub(super) tallest: f64,
}

/// From line to line, over the size of type.
pub(super) const LEADING: f64 = 1.35;

impl Setter<'_> {
    /// The title, once, above the first part.
    pub(super) fn title(&self, title: &str) -> Vec<Box> {
        let mut boxes = self.text(title, size::TITLE, Weight::Bold, look::INK.light, 0.0, 1.5);
        let about = "Set-up sheet. Every setting says what it is measured from. In inches, brackets hold the nearest 1/64 and what must be added to it to come out true: 0.0361 in [1/32 +0.0048].";
        boxes.extend(self.text(
            about,
            size::SMALL,
            Weight::Plain,
            look::QUIET.light,
            0.0,
            4.0,
        ));
        boxes.iter_mut().for_each(|part| part.with_next = true);
        boxes
    }

    /// A part's name and its safety notes.
    pub(super) fn opening(&self, part: &Part) -> Vec<Box> {
        let mut boxes = self.heading(&part.heading, size::PART, look::ACCENT.light);
        if let Some(last) = boxes.last_mut() {
            let rule = Mark::filled(
                Point::new(0.0, last.height - 0.5),
                Point::new(self.width, last.height + 0.2),
                look::ACCENT.light,
            );
            last.marks.push(rule);
            last.height += 3.0;
        }
        boxes.push(self.caution(part));
        boxes
    }

    fn caution(&self, part: &Part) -> Box {
        let ink = look::CAUTION_INK.light;
        let mut inner =
            self.inset(10.0)
                .text("Safety first", size::SECTION, Weight::Bold, ink, 0.0, 1.0);
        for note in part.safety.notes() {
            let mut lines =
                self.inset(13.0)
                    .text(note, size::TEXT - 0.5, Weight::Plain, ink, 0.0, 0.8);
            for line in &mut lines {
                line.marks
                    .iter_mut()
                    .for_each(|mark| *mark = mark.moved(3.0, 0.0));
            }
            if let Some(first) = lines.first_mut() {
                let dot = Point::new(0.4, 1.9);
                first
                    .marks
                    .push(Mark::filled(dot, Point::new(dot.x + 1.2, dot.y + 1.2), ink));
            }
            inner.extend(lines);
        }
        let height: f64 = inner.iter().map(|part| part.height).sum::<f64>() + 5.0;
        let mut marks = vec![
            Mark::filled(
                Point::new(0.0, 0.0),
                Point::new(self.width, height),
                look::CAUTION.light,
            ),
            Mark::filled(Point::new(0.0, 0.0), Point::new(1.6, height), ink),
        ];
        let mut y = 3.0;
        for part in inner {
            marks.extend(part.marks.iter().map(|mark| mark.moved(5.0, y)));
            y += part.height;
        }
        Box {
            marks,
            height: height + 4.0,
            ..Box::default()
        }
    }

    /// A section.
    pub(super) fn leaf(&self, leaf: &Leaf) -> Vec<Box> {
        let mut boxes = self.heading(&leaf.heading, size::SECTION, look::INK.light);
        let nexts = leaf.items.iter().skip(1).map(Some).chain([None]);
        for (item, next) in leaf.items.iter().zip(nexts) {
            boxes.extend(self.item(item));
            let leads = matches!(
                (item, next),
                (
                    Item::Block(Block::Remarks(_)),
                    Some(Item::Block(Block::Steps(_)))
                )
            );
            if let Some(last) = boxes.last_mut() {
                last.with_next |= leads;
            }
        }
        boxes
    }

    fn item(&self, item: &Item) -> Vec<Box> {
        match item {
            Item::Block(Block::Figures(figures)) => self.figures(figures),
            Item::Block(Block::Table(rows)) => table(self, rows),
            Item::Block(Block::Steps(steps)) => self.ticked(steps, true),
            Item::Block(Block::Remarks(remarks)) => remarks
                .iter()
                .flat_map(|remark| self.paragraph(remark))
                .collect(),
            Item::Ready(things) => self.ticked(things, false),
            Item::Picture(picture) => self.picture(picture),
            // It moves on a screen; still, it shows what the bundle's picture shows.
            Item::Play(_) => Vec::new(),
            Item::Tally(tally) => vec![self.tally(tally)],
            Item::Checks(checks) => self.checks(checks),
            Item::Pieces(pieces) => pieces.iter().map(|piece| self.piece(piece)).collect(),
        }
    }

    /// The same with less room on the right.
    fn inset(&self, by: f64) -> Self {
        Setter {
            width: self.width - by,
            ..*self
        }
    }

    /// Lines of text, one box each, `left` mm from the column's edge, with room below the last.
    pub(super) fn text(
        &self,
        text: &str,
        size: f64,
        weight: Weight,
        colour: Colour,
        left: f64,
        below: f64,
    ) -> Vec<Box> {
        let step = size * LEADING * MM_PER_POINT;
        let lines = self.letters.lines(text, self.width - left, size, weight);
        let count = lines.len();
        let line = |(at, text): (usize, String)| Box {
            marks: vec![Mark::Text {
                at: Point::new(left, 0.78 * step),
                size,
                weight,
                colour,
                text,
            }],
            height: if at + 1 == count { step + below } else { step },
            with_next: at + 1 < count,
            head: None,
        };
        lines.into_iter().enumerate().map(line).collect()
    }

    fn heading(&self, text: &str, size: f64, colour: Colour) -> Vec<Box> {
        let mut boxes = self.text(text, size, Weight::Bold, colour, 0.0, 1.5);
        if let Some(first) = boxes.first_mut() {
            first
                .marks
                .iter_mut()
                .for_each(|mark| *mark = mark.moved(0.0, 2.0));
            first.height += 2.0;
        }
        boxes.iter_mut().for_each(|part| part.with_next = true);
        boxes
    }

    pub(super) fn caption(&self, phrase: &Phrase) -> Vec<Box> {
        let text = phrase.text(self.units);
        self.text(
            &text,
            size::SMALL,
            Weight::Plain,
            look::QUIET.light,
            0.0,
            3.5,
        )
    }

    fn paragraph(&self, phrase: &Phrase) -> Vec<Box> {
        let text = phrase.text(self.units);
        self.text(&text, size::TEXT, Weight::Plain, look::INK.light, 0.0, 2.0)
    }

    /// Several lines as one box.
    pub(super) fn joined(&self, boxes: Vec<Box>) -> Box {
        let mut whole = Box::default();
        for part in boxes {
            let y = whole.height;
            whole
                .marks
                .extend(part.marks.iter().map(|mark| mark.moved(0.0, y)));
            whole.height += part.height;
        }
        whole
    }

    /// Settings as cards, three in a row.
    fn figures(&self, figures: &[Figure]) -> Vec<Box> {
        const COLUMNS: usize = 3;
        const GAP: f64 = 3.0;
        let width = (self.width - GAP * (COLUMNS - 1) as f64) / COLUMNS as f64;
        let setter = Setter {
            width: width - 6.0,
            ..*self
        };
        let mut rows = Vec::new();
        for row in figures.chunks(COLUMNS) {
            let cards: Vec<Box> = row.iter().map(|figure| setter.card(figure)).collect();
            let height = cards.iter().map(|card| card.height).fold(0.0, f64::max) + 3.5;
            let mut marks = Vec::new();
            for (at, card) in cards.iter().enumerate() {
                let x = at as f64 * (width + GAP);
                let (low, high) = (Point::new(x, 0.0), Point::new(x + width, height));
                marks.push(Mark::filled(low, high, look::CARD.light));
                marks.push(Mark::framed(low, high, look::RULE.light, 0.2));
                marks.extend(card.marks.iter().map(|mark| mark.moved(x + 3.0, 2.0)));
            }
            rows.push(Box {
                marks,
                height: height + GAP,
                ..Box::default()
            });
        }
        rows
    }

    fn card(&self, figure: &Figure) -> Box {
        let mut boxes = self.text(
            &figure.name,
            size::SMALL,
            Weight::Plain,
            look::INK.light,
            0.0,
            0.0,
        );
        let (value, note) = self.value(&figure.value);
        let wide = self.letters.width(&value, size::SETTING, Weight::Bold);
        let fitting = size::SETTING * (0.995 * self.width / wide).min(1.0);
        // A name too long for large letters is set smaller and over more lines.
        let fitting = fitting.max(size::TEXT);
        boxes.extend(self.text(&value, fitting, Weight::Bold, look::ACCENT.light, 0.0, 0.0));
        if let Some(note) = note {
            boxes.extend(self.text(
                &note,
                size::SMALL,
                Weight::Plain,
                look::QUIET.light,
                0.0,
                0.0,
            ));
        }
        let from = figure.measured.text(self.units);
        boxes.extend(self.text(
            &from,
            size::SMALL,
            Weight::Plain,
            look::QUIET.light,
            0.0,
            0.0,
        ));
        self.joined(boxes)
    }

    /// A setting, and the nearest 1/64 inch apart from it where inches are read.
    pub(super) fn value(&self, word: &Word) -> (String, Option<String>) {
        match word {
            Word::Length(length) if self.units == UnitSystem::Inches => (
                Brief(length.0).text(self.units),
                Some(length.fraction_note().trim().to_owned()),
            ),
            other => (other.text(self.units), None),
        }
    }

    /// A picture as large as the column lets it be.
    fn picture(&self, picture: &Picture) -> Vec<Box> {
        let mut boxes =
            vec![self.scaled(&picture.drawing, self.width, self.tallest, f64::INFINITY)];
        boxes.iter_mut().for_each(|part| part.with_next = true);
        boxes.extend(self.caption(&picture.caption));
        boxes
    }

    /// A drawing as large as it may be, at most at a scale of `most`.
    fn scaled(&self, drawing: &Drawing, width: f64, height: f64, most: f64) -> Box {
        let size = drawing.low.to(drawing.high);
        let scale = (width / size.x).min(height / size.y).min(most);
        let corner = Point::new(0.0, 1.0);
        Box {
            marks: drawn(drawing, scale, corner, self.letters, self.units),
            height: size.y * scale + 2.5,
            ..Box::default()
        }
    }

    /// A piece: its figures, and its outline at true size where it fits.
    fn piece(&self, piece: &Piece) -> Box {
        let words = format!(
            "{}  {}, {} of {} over points",
            piece.number,
            piece.name,
            piece.count,
            Brief(piece.length).text(self.units)
        );
        let mut boxes = self.text(&words, size::TEXT, Weight::Bold, look::INK.light, 0.0, 0.5);
        let mut outline = self.scaled(&piece.outline, self.width - AFTER_TICK, 40.0, 1.0);
        outline
            .marks
            .iter_mut()
            .for_each(|mark| *mark = mark.moved(AFTER_TICK, 0.0));
        boxes.push(outline);
        let mut whole = self.joined(boxes);
        whole.height += 3.0;
        whole
    }
}

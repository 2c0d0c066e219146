//! What stands on a sheet, as boxes: parts with their safety notes, and their sections.

use super::drawing::elements_of;
use super::layout_box::LayoutBox;
use super::page_element::{PageElement, TextStyle};
use super::table::table;
use super::tags::TagRole;
use super::tick_lists::AFTER_TICK;
use super::typesetter::{Typesetter, keep_with_next};
use crate::geometry::Point;
use crate::instructions::drawing::Drawing;
use crate::instructions::sheet::{Block, DrawnPiece, Picture, Section, SetupSheet};
use crate::units::Brief;
use crate::writing::theme::{self, size};

/// Columns below this have pictures for narrow pages, mm.
const NARROW: f64 = 140.0;

impl Typesetter<'_> {
    /// A sheet's name and its safety notes.
    pub(super) fn opening(&self, sheet: &SetupSheet) -> Vec<LayoutBox> {
        let mut boxes = self.heading(2, &sheet.heading, size::PART, theme::ACCENT.light);
        if let Some(last) = boxes.last_mut() {
            let rule = PageElement::filled(
                Point::new(0.0, last.height - 0.5),
                Point::new(self.width, last.height + 0.2),
                theme::ACCENT.light,
            );
            last.elements.push(rule);
            last.height += 3.0;
        }
        boxes.push(self.caution(sheet));
        boxes
    }

    /// The safety notes of a sheet, on a ground of their own.
    fn caution(&self, sheet: &SetupSheet) -> LayoutBox {
        let ink = theme::CAUTION_INK.light;
        let heading = self.tags.open(TagRole::Heading(3), self.under);
        let mut inner = self.inset(10.0).text_of(
            heading,
            "Safety first",
            TextStyle::bold(size::SECTION, ink),
            0.0,
            1.0,
        );
        let list = self.inset(13.0).within(TagRole::List);
        for note in sheet.safety.notes() {
            let item = list.within(TagRole::Item).within(TagRole::Body);
            let mut lines = item.text(note, TextStyle::plain(size::TEXT - 0.5, ink), 0.0, 0.8);
            for line in &mut lines {
                line.shift(3.0, 0.0);
            }
            if let Some(first) = lines.first_mut() {
                let dot = Point::new(0.4, 1.9);
                first.elements.push(PageElement::filled(
                    dot,
                    Point::new(dot.x + 1.2, dot.y + 1.2),
                    ink,
                ));
            }
            inner.extend(lines);
        }
        let height = inner.iter().map(|part| part.height).sum::<f64>() + 5.0;
        let mut whole = LayoutBox {
            elements: vec![
                PageElement::filled(
                    Point::new(0.0, 0.0),
                    Point::new(self.width, height),
                    theme::CAUTION.light,
                ),
                PageElement::filled(Point::new(0.0, 0.0), Point::new(1.6, height), ink),
            ],
            height: height + 4.0,
            ..LayoutBox::default()
        };
        let mut y = 3.0;
        for part in &inner {
            whole.put(part, 5.0, y);
            y += part.height;
        }
        whole
    }

    /// A section.
    pub(super) fn blocks_of(&self, section: &Section) -> Vec<LayoutBox> {
        let mut boxes = self.heading(3, &section.heading, size::SECTION, theme::INK.light);
        let nexts = section.blocks.iter().skip(1).map(Some).chain([None]);
        for (block, next) in section.blocks.iter().zip(nexts) {
            boxes.extend(self.block(block));
            let leads = matches!((block, next), (Block::Remarks(_), Some(Block::Steps(_))));
            if let Some(last) = boxes.last_mut() {
                last.with_next |= leads;
            }
        }
        boxes
    }

    fn block(&self, block: &Block) -> Vec<LayoutBox> {
        match block {
            Block::Figures(figures) => self.figures(figures),
            Block::Table(rows) => table(self, rows),
            Block::Steps(steps) => self.numbered_steps(steps),
            Block::Remarks(remarks) => remarks
                .iter()
                .flat_map(|remark| self.paragraph(remark))
                .collect(),
            Block::Ready(things) => self.ticked_things(things),
            Block::Picture(picture) => self.picture(picture),
            // It moves on a screen; still, it shows what the bundle's picture shows.
            Block::Play(_) => Vec::new(),
            Block::Tally(tally) => vec![self.tally(tally)],
            Block::Checks(checks) => self.checks(checks),
            Block::Pieces(pieces) => pieces.iter().map(|piece| self.piece(piece)).collect(),
        }
    }

    /// A picture as large as the column lets it be.
    fn picture(&self, picture: &Picture) -> Vec<LayoutBox> {
        let mut boxes =
            vec![self.scaled(&picture.drawing, self.width, self.tallest, f64::INFINITY)];
        keep_with_next(&mut boxes);
        boxes.extend(self.caption(&picture.caption));
        boxes
    }

    /// A drawing as large as it may be, at most at a scale of `most`.
    fn scaled(&self, drawing: &Drawing, width: f64, height: f64, most: f64) -> LayoutBox {
        let narrow = drawing.narrow.as_deref().filter(|_| width < NARROW);
        let drawing = narrow.unwrap_or(drawing);
        let size = drawing.low.to(drawing.high);
        let scale = (width / size.x).min(height / size.y).min(most);
        let corner = Point::new(0.0, 1.0);
        let tag = self.tags.picture(drawing.told(self.units), self.under);
        let elements = elements_of(drawing, scale, corner, self.fonts, self.units);
        LayoutBox {
            elements: vec![PageElement::marked(tag, elements)],
            height: size.y * scale + 2.5,
            ..LayoutBox::default()
        }
    }

    /// A piece: its figures, and its outline at true size where it fits.
    fn piece(&self, piece: &DrawnPiece) -> LayoutBox {
        let words = format!(
            "{}  {}, {} of {} over points",
            piece.number,
            piece.name,
            piece.count,
            Brief(piece.length).text(self.units)
        );
        let mut boxes = self.text(
            &words,
            TextStyle::bold(size::TEXT, theme::INK.light),
            0.0,
            0.5,
        );
        let mut outline = self.scaled(&piece.outline, self.width - AFTER_TICK, 40.0, 1.0);
        outline.shift(AFTER_TICK, 0.0);
        boxes.push(outline);
        let mut whole = LayoutBox::stacked(&boxes);
        whole.height += 3.0;
        whole
    }
}

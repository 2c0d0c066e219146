//! What stands on a sheet, as boxes: parts with their safety notes, and their sections.

use super::columns;
use super::drawing::elements_of;
use super::fitted::LEAST_SCALE;
use super::layout_box::LayoutBox;
use super::page_element::{PageElement, TextStyle};
use super::table::{has_room, table};
use super::tags::{TagRole, Tags};
use super::tick_lists::AFTER_TICK;
use super::typesetter::{TWO_COLUMNS, Typesetter, keep_with_next};
use crate::geometry::Point;
use crate::instructions::drawing::Drawing;
use crate::instructions::sheet::{Block, DrawnPiece, Gallery, Picture, Section, SetupSheet};
use crate::units::Brief;
use crate::writing::theme::{self, size};

/// Columns below this have pictures for narrow pages, mm.
const NARROW: f64 = 140.0;

/// How much smaller than their column pictures for narrow pages may be, and of which height they count as
/// broader: writing of 8.8 points ([`Share::SET_UP`]) keeps 7.6.
///
/// [`Share::SET_UP`]: crate::instructions::legible::Share::SET_UP
const LEGIBLE: f64 = 0.87;
const TALL: f64 = 0.6;

/// The panel's picture stands beside figures where it need not be lower than so much of what it may be.
const SLIM: f64 = 0.8;

/// Two columns are used from so much less height on: what is read across is found sooner.
const SHORTER: f64 = 0.95;

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

    /// The safety notes of a sheet, on a ground of their own, in two columns where there is room.
    fn caution(&self, sheet: &SetupSheet) -> LayoutBox {
        let ink = theme::CAUTION_INK.light;
        let columns = if self.width > TWO_COLUMNS { 2 } else { 1 };
        let heading = self.tags.open(TagRole::Heading(3), self.under);
        let title = TextStyle::bold(size::SECTION, ink);
        let title = self
            .inset(10.0)
            .text_of(heading, "Safety first", title, 0.0, 1.0);
        let title = LayoutBox::stacked(title);
        let list = self.within(TagRole::List);
        let room = self.width - 8.0;
        let wide = room / columns as f64;
        let notes: Vec<LayoutBox> = sheet
            .safety
            .notes()
            .iter()
            .map(|note| list.note(note, wide - 4.0))
            .collect();
        let whole: f64 = notes.iter().map(|note| note.height).sum();
        let top = 3.0 + title.height;
        let mut placed = LayoutBox::default();
        let (mut column, mut y, mut lowest) = (0, top, top);
        for note in notes {
            let share = whole / columns as f64;
            if y - top + note.height / 2.0 > share && column + 1 < columns {
                column += 1;
                y = top;
            }
            let below = y + note.height;
            placed.put(note, 5.0 + column as f64 * wide, y);
            y = below;
            lowest = f64::max(lowest, y);
        }
        let height = lowest + 2.0;
        let low = Point::new(0.0, 0.0);
        let mut all = LayoutBox {
            elements: vec![
                PageElement::filled(low, Point::new(self.width, height), theme::CAUTION.light),
                PageElement::filled(low, Point::new(1.6, height), ink),
            ],
            height: height + 4.0,
            ..LayoutBox::default()
        };
        all.put(title, 5.0, 3.0);
        all.put(placed, 0.0, 0.0);
        all
    }

    /// One of them, so wide, with a square before it.
    fn note(&self, note: &str, width: f64) -> LayoutBox {
        let ink = theme::CAUTION_INK.light;
        let style = TextStyle::plain(size::TEXT - 0.5, ink);
        let narrow = Typesetter { width, ..*self };
        let item = narrow.within(TagRole::Item).within(TagRole::Body);
        let mut whole = LayoutBox::stacked(item.text(note, style, 3.0, 0.8));
        let dot = Point::new(0.4, 1.7);
        whole.elements.push(PageElement::filled(
            dot,
            Point::new(dot.x + 1.2, dot.y + 1.2),
            ink,
        ));
        whole
    }

    /// Sections of a card, those together that run down two columns one after the other: where half of the page
    /// is enough for all that stands in them, and it takes less room so.
    pub(super) fn flow(&self, sections: &[Section]) -> Vec<Vec<LayoutBox>> {
        let is_narrow = |section: &Section| section.blocks.iter().all(|block| self.has_half(block));
        let runs = sections.chunk_by(|a, b| is_narrow(a) && is_narrow(b));
        runs.flat_map(|run| self.run_of(run)).collect()
    }

    fn run_of(&self, sections: &[Section]) -> Vec<Vec<LayoutBox>> {
        let one_by_one = |typesetter: &Typesetter<'_>| -> Vec<Vec<LayoutBox>> {
            let each = sections.iter();
            each.map(|section| typesetter.blocks_of(section)).collect()
        };
        if sections.len() > 1 {
            let tags = Tags::new();
            let tried = self.tried(&tags);
            let apart = one_by_one(&tried);
            let down = tried.down_columns(sections);
            let height: f64 = apart.iter().map(|boxes| columns::height(boxes)).sum();
            let shorter = columns::height(&down) < height;
            return match (shorter, self.draws) {
                (true, true) => vec![self.down_columns(sections)],
                (false, true) => one_by_one(self),
                // Only the room that they take is asked for.
                (true, false) => vec![down],
                (false, false) => apart,
            };
        }
        one_by_one(self)
    }

    /// Sections half as wide as the page, their headings too.
    fn down_columns(&self, sections: &[Section]) -> Vec<LayoutBox> {
        let narrow = self.column(2);
        let each = sections.iter().flat_map(|section| {
            let own = narrow.within(TagRole::Section);
            let mut boxes = own.section_heading(section);
            boxes.extend(own.blocks(&section.blocks));
            boxes
        });
        let half = |part| LayoutBox { half: true, ..part };
        each.map(half).collect()
    }

    /// For what is only tried: it leaves nothing in the document's tree.
    fn tried<'a>(&'a self, tags: &'a Tags) -> Typesetter<'a> {
        Typesetter {
            tags,
            under: Tags::ROOT,
            draws: false,
            ..*self
        }
    }

    fn section_heading(&self, section: &Section) -> Vec<LayoutBox> {
        let mut boxes = self.heading(3, &section.heading, size::SECTION, theme::INK.light);
        if let Some(first) = boxes.first_mut() {
            first.begins = true;
        }
        boxes
    }

    /// A section of a card: in two columns where it is shorter then, but for what takes the whole breadth.
    fn blocks_of(&self, section: &Section) -> Vec<LayoutBox> {
        let typesetter = self.within(TagRole::Section);
        let mut boxes = typesetter.section_heading(section);
        let half = |block: &Block| typesetter.has_half(block);
        let runs = (section.blocks).chunk_by(|a, b| half(a) == half(b));
        for run in runs {
            boxes.extend(typesetter.in_columns(run));
        }
        boxes
    }

    /// A section of the first page.
    pub(super) fn blocks_of_front(&self, section: &Section) -> Vec<LayoutBox> {
        let mut boxes = self.heading(2, &section.heading, size::SECTION, theme::INK.light);
        let mut blocks = section.blocks.as_slice();
        if let [Block::Picture(picture), Block::Figures(figures), rest @ ..] = blocks
            && let Some(height) = self.height_on_half(&picture.drawing)
        {
            let half = self.column(2);
            let mut left = vec![self.as_high(&picture.drawing, height)];
            left.extend(half.caption(&picture.caption));
            let right = half.figures(figures);
            boxes.push(half.beside([left, right].map(LayoutBox::stacked)));
            blocks = rest;
        }
        boxes.extend(self.blocks(blocks));
        boxes
    }

    /// How high a picture is that leaves half of the page free beside it, where that is about as high as may be.
    fn height_on_half(&self, drawing: &Drawing) -> Option<f64> {
        let size = drawing.low.to(drawing.high);
        let height = self.tallest.min(self.column(2).width * size.y / size.x);
        (self.width >= TWO_COLUMNS && height >= SLIM * self.tallest).then_some(height)
    }

    /// Blocks over the whole breadth, or all in two columns where they are shorter then.
    fn in_columns(&self, blocks: &[Block]) -> Vec<LayoutBox> {
        if !blocks.first().is_some_and(|block| self.has_half(block)) {
            return self.blocks(blocks);
        }
        let tags = Tags::new();
        let tried = self.tried(&tags);
        let half = tried.column(2).halves(blocks);
        let whole = tried.blocks(blocks);
        let halves = columns::height(&half) < SHORTER * columns::height(&whole);
        match (halves, self.draws) {
            (true, true) => self.column(2).halves(blocks),
            (false, true) => self.blocks(blocks),
            // Only the room that they take is asked for.
            (true, false) => half,
            (false, false) => whole,
        }
    }

    /// Blocks as wide as this typesetter's column, which is half of the page's.
    fn halves(&self, blocks: &[Block]) -> Vec<LayoutBox> {
        let half = |part| LayoutBox { half: true, ..part };
        self.blocks(blocks).into_iter().map(half).collect()
    }

    /// Whether half of the column is enough for a block.
    fn has_half(&self, block: &Block) -> bool {
        if self.width < TWO_COLUMNS {
            return false;
        }
        match block {
            Block::Figures(_)
            | Block::Steps(_)
            | Block::Remarks(_)
            | Block::Ready(_)
            | Block::Tally(_)
            | Block::Checks(_) => true,
            Block::Table(rows) => has_room(&self.column(2), rows),
            Block::Gallery(gallery) => gallery.columns == 2,
            Block::Picture(_) | Block::Play(_) | Block::Pieces(_) => false,
        }
    }

    fn blocks(&self, blocks: &[Block]) -> Vec<LayoutBox> {
        let mut boxes = Vec::new();
        let nexts = blocks.iter().skip(1).map(Some).chain([None]);
        for (block, next) in blocks.iter().zip(nexts) {
            boxes.extend(self.block(block));
            let leads = match (block, next) {
                (
                    Block::Remarks(_),
                    Some(Block::Steps(_) | Block::Gallery(_) | Block::Picture(_) | Block::Table(_)),
                ) => true,
                // What is said of figures stands under them.
                (Block::Figures(_), Some(Block::Remarks(_))) => true,
                _ => false,
            };
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
            Block::Gallery(gallery) => self.gallery(gallery),
            // It moves on a screen; still, it shows what the bundle's picture shows.
            Block::Play(_) => Vec::new(),
            Block::Tally(tally) => vec![self.tally(tally)],
            Block::Checks(checks) => self.checks(checks),
            Block::Pieces(pieces) => self.pieces(pieces),
        }
    }

    /// A picture as large as the column lets it be.
    fn picture(&self, picture: &Picture) -> Vec<LayoutBox> {
        let mut boxes = vec![self.as_high(&picture.drawing, self.tallest)];
        keep_with_next(&mut boxes);
        boxes.extend(self.caption(&picture.caption));
        boxes
    }

    fn as_high(&self, drawing: &Drawing, height: f64) -> LayoutBox {
        self.scaled(drawing, self.width, height, f64::INFINITY)
    }

    /// Pictures beside each other, row by row; a row is not broken.
    fn gallery(&self, gallery: &Gallery) -> Vec<LayoutBox> {
        // Writing in pictures keeps its size only where these have their breadth.
        let columns = match gallery.columns {
            several if self.width < TWO_COLUMNS => several.saturating_sub(1),
            several => several,
        };
        let columns = columns.max(1);
        let narrow = self.column(columns);
        let rows = gallery.pictures.chunks(columns);
        let rows = rows.map(|row| {
            let stacked = row
                .iter()
                .map(|picture| LayoutBox::stacked(narrow.picture(picture)));
            narrow.beside(stacked)
        });
        rows.collect()
    }

    /// Pieces in two columns.
    fn pieces(&self, pieces: &[DrawnPiece]) -> Vec<LayoutBox> {
        let narrow = self.column(2);
        let rows = pieces.chunks(2);
        let rows = rows.map(|row| narrow.beside(row.iter().map(|piece| narrow.piece(piece))));
        rows.collect()
    }

    /// A drawing as large as it may be, at most at a scale of `most`.
    fn scaled(&self, drawing: &Drawing, width: f64, height: f64, most: f64) -> LayoutBox {
        let narrow = drawing.narrow.as_deref().filter(|_| width < NARROW);
        let drawing = narrow.unwrap_or(drawing);
        let size = drawing.low.to(drawing.high);
        // Their writing is small already: they are made smaller to fit only as far as it can be read.
        let least = match narrow {
            Some(_) => LEGIBLE * width / f64::max(size.x, TALL * size.y),
            None => 0.0,
        };
        let scale = (height / size.y).max(least);
        let width = match narrow {
            Some(_) if self.scale <= LEAST_SCALE => LEGIBLE * width,
            Some(_) | None => width,
        };
        let scale = scale.min(width / size.x).min(most);
        let mut elements = Vec::new();
        if self.draws {
            let corner = Point::new(0.0, 1.0);
            let tag = self.tags.picture(drawing.told(self.units), self.under);
            let drawn = elements_of(drawing, scale, corner, self.fonts, self.units);
            elements.push(PageElement::marked(tag, drawn));
        }
        LayoutBox {
            elements,
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
        let mut whole = LayoutBox::stacked(boxes);
        whole.height += 3.0;
        whole
    }
}

//! Templates at true size, tiled over pages where they are larger than one. Every page has two bars
//! to be measured after printing, and the short safety notes of the bench.

use super::chapters::ContentsEntry;
use super::drawing::elements_of;
use super::fonts::{FontWeight, Fonts};
use super::page_element::{PageElement, TextStyle};
use super::page_place::PagePlace;
use super::paper::{PageSize, Paper};
use super::tags::TagRole;
use super::typesetter::Typesetter;
use crate::geometry::Point;
use crate::instructions::booklet::Booklet;
use crate::instructions::drawing::{Drawing, text_box};
use crate::units::{MM_PER_INCH, UnitSystem};
use crate::writing::theme::{self, size};

/// Free edge of the paper: half an inch, which every printer leaves.
const EDGE: f64 = 12.7;

/// Where notes begin below the bars, from line to line of them, and how much drawings end above the paper's
/// edge.
const NOTES: f64 = 35.0;
const LINE: f64 = 3.6;
const FOOT: f64 = 18.0;

/// What neighbouring pages have in common: more than a short text is wide, so that each stands whole
/// on one of them.
const OVERLAP: f64 = 30.0;

/// Room for a template's title.
const TITLE: f64 = 7.0;

/// Pages of templates, and where each of these begins.
pub(super) struct Templates {
    pub(super) pages: Vec<Vec<PageElement>>,
    pub(super) entries: Vec<ContentsEntry>,
}

pub(super) fn pages(paper: Paper, booklet: &Booklet, typesetter: &Typesetter<'_>) -> Templates {
    let mut pages = TemplatePages {
        paper,
        fonts: typesetter.fonts,
        typesetter: *typesetter,
        safety: booklet.templates_safety.short(),
        units: typesetter.units,
        pages: Vec::new(),
        y: f64::INFINITY,
    };
    let mut entries = Vec::new();
    for template in &booklet.templates {
        entries.push(ContentsEntry {
            heading: template.title.clone(),
            place: pages.add(template),
        });
    }
    Templates {
        pages: pages.pages,
        entries,
    }
}

struct TemplatePages<'a> {
    paper: Paper,
    fonts: &'a Fonts,
    typesetter: Typesetter<'a>,
    safety: [&'static str; 2],
    units: UnitSystem,
    pages: Vec<Vec<PageElement>>,
    /// How far the last page is filled.
    y: f64,
}

/// The shares into which a template is divided, each of a page's room at the most.
#[derive(Clone, Copy)]
struct Tiling {
    /// What a share may measure, mm.
    room: PageSize,
    across: usize,
    down: usize,
}

/// One of them, counted from the upper left.
#[derive(Clone, Copy)]
struct Tile {
    row: usize,
    column: usize,
}

impl Tiling {
    fn of(template: &Drawing, room: PageSize) -> Tiling {
        let size = template.low.to(template.high);
        Tiling {
            room,
            across: tiles(size.x, room.width),
            down: tiles(size.y, room.height),
        }
    }

    /// The title of a share: which one it is, where there are several.
    fn title(&self, template: &Drawing, tile: Tile) -> String {
        let Tiling { across, down, .. } = self;
        let mut title = template.title.clone();
        if *across > 1 {
            title.push_str(&format!(", part {} of {across} across", tile.column + 1));
        }
        if *down > 1 {
            title.push_str(&format!(", part {} of {down} down", tile.row + 1));
        }
        title
    }
}

impl TemplatePages<'_> {
    /// The safety notes, as many lines as the paper's width asks for.
    fn notes(&self) -> Vec<String> {
        let room = self.paper.size().width - 2.0 * EDGE;
        let lines = self.safety.into_iter();
        let lines =
            lines.flat_map(|line| self.fonts.lines(line, room, size::SMALL, FontWeight::Plain));
        lines.collect()
    }

    /// Where drawings begin.
    fn head(&self) -> f64 {
        NOTES + LINE * (self.notes().len() as f64 - 1.0) + 3.4
    }

    /// What a template may measure on one page.
    fn room(&self) -> PageSize {
        let PageSize { width, height } = self.paper.size();
        PageSize {
            width: width - 2.0 * EDGE,
            height: height - self.head() - FOOT - TITLE,
        }
    }

    /// Below the last one where there is room, else on pages of its own. Tells where it begins:
    /// the first on a page with the bars above it.
    fn add(&mut self, template: &Drawing) -> PagePlace {
        let tiling = Tiling::of(template, self.room());
        let mut begin = None;
        for row in 0..tiling.down {
            for column in 0..tiling.across {
                let place = self.add_tile(template, tiling, Tile { row, column });
                begin.get_or_insert(place);
            }
        }
        begin.unwrap_or(PagePlace {
            page: 0,
            x: 0.0,
            y: 0.0,
        })
    }

    /// One page's share of a template. Shares that are low stand below each other.
    fn add_tile(&mut self, template: &Drawing, tiling: Tiling, tile: Tile) -> PagePlace {
        let PageSize { width, height } = tiling.room;
        let x = tile.column as f64 * (width - OVERLAP);
        let y = tile.row as f64 * (height - OVERLAP);
        let tall = (template.high.y - template.low.y - y).min(height);
        if self.y + TITLE + tall > self.paper.size().height - FOOT + 1e-6 {
            self.page();
        }
        let begin = PagePlace {
            page: self.pages.len().saturating_sub(1),
            x: 0.0,
            y: if self.y > self.head() { self.y } else { 0.0 },
        };
        let title = tiling.title(template, tile);
        self.say(&title, Point::new(EDGE, self.y + 4.0));
        let top = self.y + TITLE;
        let corner = Point::new(EDGE - x, top - y);
        let mut elements = elements_of(template, 1.0, corner, self.fonts, self.units);
        elements.extend(register(template, corner, tiling));
        // Lines on the edge of a drawing are seen in their whole width.
        let spare = 0.5;
        let low = Point::new(EDGE - spare, top - spare);
        let high = Point::new(EDGE + width + spare, top + tall + spare);
        if tiling.across > 1 {
            elements.retain(|element| self.is_whole(element, low.x, high.x));
        }
        let tags = self.typesetter.tags;
        let texts = elements.iter().flat_map(PageElement::texts);
        let texts: Vec<&str> = texts.map(|(_, text)| text).collect();
        let told = match texts.is_empty() {
            true => title,
            false => format!("{title}: {}", texts.join("; ")),
        };
        let tag = tags.picture(told, self.typesetter.under);
        let window = PageElement::Window {
            low,
            high,
            elements,
        };
        self.put(vec![PageElement::marked(tag, vec![window])]);
        self.y = top + tall + 6.0;
        begin
    }

    /// Whether an element is no text that would be cut here and stands whole on the next page.
    fn is_whole(&self, element: &PageElement, left: f64, right: f64) -> bool {
        match element {
            PageElement::Text { at, style, text } => {
                let width = self.fonts.width(text, style.size, style.weight);
                width > OVERLAP || (at.x >= left && at.x + width <= right)
            }
            PageElement::Fill { .. }
            | PageElement::Line { .. }
            | PageElement::Window { .. }
            | PageElement::Marked { .. }
            | PageElement::Link { .. } => true,
        }
    }

    /// Begins a page: how it is to be printed, the bars that tell whether it was, and the notes.
    fn page(&mut self) {
        let print = PageElement::Text {
            at: Point::new(EDGE, 16.0),
            style: TextStyle::bold(size::SECTION, theme::INK.light),
            text: if self.paper.is_small() {
                "Print at 100 %; measure both bars first".into()
            } else {
                "Print at 100 %, no fitting to the page".into()
            },
        };
        let mut elements = vec![self.said(print)];
        let bars = [(100.0, "100 mm", 20.0), (4.0 * MM_PER_INCH, "4 in", 27.0)];
        for (length, name, y) in bars {
            let low = Point::new(EDGE, y);
            let high = Point::new(EDGE + length, y + 3.0);
            elements.push(PageElement::filled(low, high, theme::INK.light));
            let words = if self.paper.is_small() {
                name.to_owned()
            } else {
                format!("{name}, end to end: measure it before you use this page")
            };
            elements.push(self.said(small(&words, Point::new(high.x + 2.0, y + 2.6))));
        }
        for (at, line) in self.notes().iter().enumerate() {
            let at = Point::new(EDGE, NOTES + LINE * at as f64);
            elements.push(self.said(small(line, at)));
        }
        self.pages.push(elements);
        self.y = self.head();
    }

    fn say(&mut self, text: &str, at: Point) {
        let width = self.paper.size().width;
        let lines = self
            .fonts
            .lines(text, width - 2.0 * EDGE, size::TEXT, FontWeight::Bold);
        let text = lines.into_iter().next().unwrap_or_default();
        let typesetter = self.typesetter;
        let tag = typesetter.tags.open(TagRole::Heading(3), typesetter.under);
        let text = PageElement::Text {
            at,
            style: TextStyle::bold(size::TEXT, theme::INK.light),
            text,
        };
        self.put(vec![PageElement::marked(tag, vec![text])]);
    }

    /// A line as a paragraph of its own.
    fn said(&self, line: PageElement) -> PageElement {
        let typesetter = self.typesetter;
        let tag = typesetter.tags.open(TagRole::Paragraph, typesetter.under);
        PageElement::marked(tag, vec![line])
    }

    fn put(&mut self, elements: Vec<PageElement>) {
        if let Some(page) = self.pages.last_mut() {
            page.extend(elements);
        }
    }
}

fn small(text: &str, at: Point) -> PageElement {
    PageElement::Text {
        at,
        style: TextStyle::plain(size::SMALL, theme::QUIET.light),
        text: text.into(),
    }
}

/// How many pages a length takes.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a panel takes few pages
fn tiles(length: f64, room: f64) -> usize {
    if length <= room {
        return 1;
    }
    ((length - OVERLAP) / (room - OVERLAP) - 1e-9)
        .ceil()
        .max(1.0) as usize
}

/// Crosses in the middle of what neighbouring pages have in common, at the same places of the
/// drawing on both. `corner`: where the drawing's upper left corner comes to lie on this page.
fn register(template: &Drawing, corner: Point, tiling: Tiling) -> Vec<PageElement> {
    let size = template.low.to(template.high);
    let Tiling { room, across, down } = tiling;
    let mut middles = Vec::new();
    for x in joins(across, room.width) {
        for (shares, aside) in along(size.y, room.height).zip(sides(size.y)) {
            let place = |by: f64, y: f64| Point::new(x + aside + by, y);
            middles.extend(clear_place(template, shares, place));
        }
    }
    for y in joins(down, room.height) {
        for (shares, aside) in along(size.x, room.width).zip(sides(size.x)) {
            let place = |by: f64, x: f64| Point::new(x, y + aside + by);
            middles.extend(clear_place(template, shares, place));
        }
    }
    let placed = middles
        .into_iter()
        .map(|at| Point::new(corner.x + at.x, corner.y + at.y));
    placed.flat_map(cross).collect()
}

/// Where a cross stands along a join: at the first of some places that is clear of writing, or a little aside,
/// where both pages show the same; nowhere where none is.
fn clear_place(
    template: &Drawing,
    places: [f64; STEPS],
    place: impl Fn(f64, f64) -> Point,
) -> Option<Point> {
    const ASIDE: [f64; 3] = [0.0, 2.5, -2.5];
    let mut aside = ASIDE.iter().flat_map(|by| places.map(|at| place(*by, at)));
    aside.find(|at| is_clear(template, *at))
}

/// Drawings lower than this have no room for two crosses above each other, mm: they stand beside each other.
const LOW: f64 = 40.0;

/// How far from the join's middle crosses stand, one after the other, along a join of a length.
fn sides(length: f64) -> impl Iterator<Item = f64> {
    let by = if length < LOW { 9.0 } else { 0.0 };
    [-by, by].into_iter().cycle()
}

/// Whether a cross there, counted from the drawing's upper left corner, stands over no writing.
fn is_clear(template: &Drawing, at: Point) -> bool {
    const FREE: f64 = ARM + 0.5;
    let at = Point::new(template.low.x + at.x, template.high.y - at.y);
    let mut rooms = template.shapes.iter().filter_map(text_box);
    rooms.all(|[low, high]| {
        at.x + FREE < low.x || at.x - FREE > high.x || at.y + FREE < low.y || at.y - FREE > high.y
    })
}

/// Middles of what neighbours have in common, from the drawing's edge.
fn joins(count: usize, room: f64) -> impl Iterator<Item = f64> {
    (1..count).map(move |at| at as f64 * (room - OVERLAP) + OVERLAP / 2.0)
}

/// Places that are tried for a cross along a join.
const STEPS: usize = 20;

/// Where crosses may stand along a join, from the drawing's upper or left edge: two on every page, for each
/// the place where it should stand and others from there on.
fn along(length: f64, room: f64) -> impl Iterator<Item = [f64; STEPS]> {
    // Shares of what a page holds.
    let shares = if length < LOW {
        [0.15, 0.15]
    } else {
        [0.15, 0.6]
    };
    (0..tiles(length, room)).flat_map(move |at| {
        let from = at as f64 * (room - OVERLAP);
        let to = (from + room).min(length);
        shares.map(|share| {
            std::array::from_fn(|step| from + (share + 0.015 * step as f64) * (to - from))
        })
    })
}

/// Half the length of a cross's lines, mm.
const ARM: f64 = 3.0;

fn cross(at: Point) -> [PageElement; 2] {
    let line = |from, to| PageElement::line(from, to, theme::ACCENT.light, 0.2);
    [
        line(Point::new(at.x - ARM, at.y), Point::new(at.x + ARM, at.y)),
        line(Point::new(at.x, at.y - ARM), Point::new(at.x, at.y + ARM)),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_cover_the_whole_length() {
        for length in [10.0, 184.6, 184.7, 339.2, 339.3, 1200.0] {
            let count = tiles(length, 184.6);
            let covered = 184.6 + (count - 1) as f64 * (184.6 - OVERLAP);
            assert!(
                covered >= length - 1e-9 && (count == 1 || covered - length < 184.6 - OVERLAP),
                "{length}"
            );
        }
    }
}

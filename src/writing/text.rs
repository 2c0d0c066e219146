//! Sheets as plain text, no wider than 100 columns.

use super::columns::{self, pieces};
use super::told_table::told;
use crate::instructions::sheet::{Block, Check, DrawnPiece, Figure, Section, SetupSheet, Table};
use crate::phrase::KEPT_SPACE;
use crate::phrase::Phrase;
use crate::units::{Mm, UnitSystem};

/// Columns that a line may take.
pub const WIDTH: usize = 100;

/// How inches are to be read.
pub const FRACTIONS: &str = "In inches, a fraction alone is true to the fourth decimal. Else brackets hold the nearest 1/64 and what must be added to it to come out true: 0.0361 in [1/32 +0.0048].";

/// Where an answer has its safety notes.
const ALL_CAUTIONS: &str = "All cautions stand at the end: read them before the first cut.";

/// A sheet as text.
pub fn sheet(sheet: &SetupSheet, units: UnitSystem) -> String {
    let mut out = TextPage::headed(sheet, units);
    out.line("SAFETY FIRST");
    out.dangers(sheet.safety.notes());
    out.fractions();
    for section in &sheet.sections {
        out.section(section);
    }
    out.text
}

/// A sheet for somebody who stands at the machine and wants a figure: the worst dangers in a line
/// each and where the rest stands, then the sections, then all safety notes.
pub fn answer(sheet: &SetupSheet, worst: &[&str], units: UnitSystem) -> String {
    let mut out = TextPage::headed(sheet, units);
    out.dangers(worst);
    out.dangers(&[ALL_CAUTIONS]);
    out.fractions();
    for section in &sheet.sections {
        out.section(section);
    }
    out.line("");
    out.line("ALL CAUTIONS");
    out.dangers(sheet.safety.notes());
    out.text
}

/// Sections alone, without title and safety notes.
pub fn sections(sections: &[Section], units: UnitSystem) -> String {
    let mut out = TextPage {
        text: String::new(),
        units,
    };
    for section in sections {
        out.section(section);
    }
    out.text
}

/// A sentence on as many lines as it takes.
pub fn wrapped(sentence: &str) -> String {
    let mut out = TextPage {
        text: String::new(),
        units: UnitSystem::Millimetres,
    };
    out.wrapped("", sentence);
    out.text
}

/// A title, underlined, no wider than a line.
pub fn title(title: &str) -> String {
    let mut text = wrapped(title);
    let longest = widest(text.lines());
    text.push_str(&"=".repeat(longest));
    text.push('\n');
    text
}

/// How inches are to be read, where lengths are told in them.
pub fn fractions(units: UnitSystem) -> String {
    let mut out = TextPage {
        text: String::new(),
        units,
    };
    out.fractions();
    out.text
}

/// Sentences behind their labels, which stand flush left in a column of their own.
pub fn labelled<'a>(
    lines: impl IntoIterator<Item = (&'a str, &'a Phrase)>,
    units: UnitSystem,
) -> String {
    let lines: Vec<(&str, &Phrase)> = lines.into_iter().collect();
    let labels_width = widest(lines.iter().map(|(label, _)| *label));
    let mut out = TextPage {
        text: String::new(),
        units,
    };
    for (label, words) in lines {
        out.phrase(&format!("{label:<labels_width$}  "), words);
    }
    out.text
}

/// The short safety notes under an answer that is no sheet.
pub fn safety_in_short(lines: &[&str]) -> String {
    let mut out = TextPage {
        text: String::new(),
        units: UnitSystem::Millimetres,
    };
    for line in lines {
        out.wrapped("Safety: ", line);
    }
    out.text
}

/// Characters of the longest of some texts.
fn widest<'a>(texts: impl Iterator<Item = &'a str>) -> usize {
    texts.map(|text| text.chars().count()).max().unwrap_or(0)
}

struct TextPage {
    text: String,
    units: UnitSystem,
}

impl TextPage {
    /// A page with the sheet's title.
    fn headed(sheet: &SetupSheet, units: UnitSystem) -> TextPage {
        let mut out = TextPage {
            text: String::new(),
            units,
        };
        out.wrapped("", &sheet.title);
        out.line(&"=".repeat(sheet.title.chars().count().min(WIDTH)));
        out.line("");
        out
    }

    fn dangers(&mut self, notes: &[&str]) {
        for note in notes {
            self.wrapped("  ! ", note);
        }
    }

    /// How inches are to be read, where there are any.
    fn fractions(&mut self) {
        if self.units == UnitSystem::Inches {
            self.line("");
            self.wrapped("", FRACTIONS);
        }
    }

    fn line(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    /// Ends the line that began at a place of the text.
    fn end_line(&mut self, from: usize) {
        let line = self.text.get(from..).unwrap_or_default();
        self.text.truncate(from + line.trim_end().len());
        self.text.push('\n');
    }

    /// Text behind a lead, broken at spaces, continued under its first word.
    fn wrapped(&mut self, lead: &str, text: &str) {
        let indent = lead.chars().count();
        let room = WIDTH.saturating_sub(indent);
        let mut from = self.text.len();
        self.text.push_str(lead);
        let mut filled = indent;
        let mut empty = true;
        let words = text
            .split([' ', '\n', '\t'])
            .filter(|word| !word.is_empty());
        for word in words.flat_map(|word| pieces(word, room)) {
            let letters = word.chars().count();
            if !empty && filled + 1 + letters > WIDTH {
                self.end_line(from);
                from = self.text.len();
                self.text.extend(std::iter::repeat_n(' ', indent));
                filled = indent;
                empty = true;
            }
            if !empty {
                self.text.push(' ');
                filled += 1;
            }
            // What is kept together is told with plain spaces all the same.
            if word.is_ascii() {
                self.text.push_str(word);
            } else {
                self.text.push_str(&word.replace(KEPT_SPACE, " "));
            }
            filled += letters;
            empty = false;
        }
        self.end_line(from);
    }

    fn phrase(&mut self, lead: &str, phrase: &Phrase) {
        let text = phrase.to_be_broken(self.units);
        self.wrapped(lead, &text);
    }

    fn section(&mut self, section: &Section) {
        self.line("");
        self.wrapped("", &section.heading.to_uppercase());
        for block in &section.blocks {
            match block {
                Block::Figures(figures) => self.figures(figures),
                Block::Table(table) => self.table(table),
                Block::Steps(steps) => {
                    for (at, step) in steps.iter().enumerate() {
                        self.phrase(&format!("  [ ] {:>2}. ", at + 1), step);
                    }
                }
                Block::Remarks(remarks) => {
                    for remark in remarks {
                        self.phrase("  ", remark);
                    }
                }
                Block::Ready(things) => {
                    for thing in things {
                        self.phrase("  [ ] ", thing);
                    }
                }
                // What is drawn cannot be shown; what is said of it can.
                Block::Picture(picture) => self.phrase("  ", &picture.caption),
                Block::Gallery(gallery) => {
                    for picture in &gallery.pictures {
                        self.phrase("  ", &picture.caption);
                    }
                }
                Block::Play(play) => self.phrase("  ", &play.picture.caption),
                Block::Tally(tally) => {
                    self.wrapped("  ", &format!("Count: {}, of {}", tally.what, tally.count));
                }
                Block::Checks(checks) => checks.iter().for_each(|check| self.check(check)),
                Block::Pieces(pieces) => pieces.iter().for_each(|piece| self.piece(piece)),
            }
        }
    }

    fn check(&mut self, check: &Check) {
        let mut words = check.what.clone();
        words.append(Phrase(vec![" ".into(), check.should.clone()]));
        self.phrase("  [ ] ", &words);
        let mut otherwise = Phrase::from("If it is not: ");
        otherwise.append(check.otherwise.clone());
        otherwise.append(".".into());
        self.phrase("      ", &otherwise);
    }

    fn piece(&mut self, piece: &DrawnPiece) {
        let DrawnPiece {
            number,
            name,
            count,
            ..
        } = piece;
        let length = Mm(piece.length).text(self.units);
        let words = format!("{number} {name}, {count} of {length} over points");
        self.wrapped("  ", &words);
    }

    /// Settings in three columns: name, value, what it is measured from.
    fn figures(&mut self, figures: &[Figure]) {
        let values: Vec<String> = figures
            .iter()
            .map(|figure| figure.value.text(self.units))
            .collect();
        let names_width = widest(figures.iter().map(|figure| figure.name.as_str()));
        let values_width = widest(values.iter().map(String::as_str));
        for (figure, value) in figures.iter().zip(&values) {
            let name = &figure.name;
            let lead = format!("  {name:<names_width$}  {value:>values_width$}  ");
            self.phrase(&lead, &figure.measured);
        }
    }

    fn table(&mut self, table: &Table) {
        let told = told(table, self.units);
        let figures: Vec<bool> = told.iter().map(|column| column.figures).collect();
        let mut lines = vec![told.iter().map(|column| column.heading.clone()).collect()];
        lines.extend((0..table.rows.len()).map(|row| {
            let cells = told.iter().filter_map(|column| column.cells.get(row));
            cells.cloned().collect::<Vec<String>>()
        }));
        self.line("");
        for line in columns::aligned(&lines, &figures, WIDTH - 2) {
            self.line(&format!("  {line}"));
        }
        self.phrase("  ", &table.caption);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Point;
    use crate::instructions::drawing::Drawing;
    use crate::instructions::sheet::{Picture, Tally};

    /// What stands on a sheet with pictures is told as far as words can.
    #[test]
    fn what_is_ticked_counted_checked_and_drawn_is_told() {
        let drawing = Drawing::new("x", Point::default(), Point::new(1.0, 1.0));
        let section = Section {
            heading: "All of it".into(),
            blocks: vec![
                Block::Ready(vec!["A caliper.".into()]),
                Block::Picture(Picture {
                    drawing: drawing.clone(),
                    caption: "From above.".into(),
                }),
                Block::Tally(Tally {
                    what: "blocks cut".into(),
                    count: 4,
                }),
                Block::Checks(vec![Check {
                    what: "First notch:".into(),
                    should: Mm(2.5).into(),
                    otherwise: "move the stop".into(),
                }]),
                Block::Pieces(vec![DrawnPiece {
                    number: 1,
                    name: "leaf".into(),
                    count: 8,
                    length: 30.0,
                    outline: drawing,
                }]),
            ],
        };
        let told = sections(&[section], UnitSystem::Millimetres);
        let wanted = "
ALL OF IT
  [ ] A caliper.
  From above.
  Count: blocks cut, of 4
  [ ] First notch: 2.50 mm
      If it is not: move the stop.
  1 leaf, 8 of 30.00 mm over points
";
        assert_eq!(told, wanted);
    }
}

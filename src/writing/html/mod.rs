//! The set-up sheet as one page that needs nothing else: no network, and no script to read it.
//!
//! Every text goes through the template, which escapes it; what is put in as it stands is the
//! style sheet, the script and pictures from [`super::svg`].

mod patterns;
mod player;
mod tables;

pub use patterns::patterns;

use super::svg;
use super::theme::{self, Colour, ROLES, TYPE_FAMILY, Tone, size, style_of};
use crate::instructions::booklet::Booklet;
use crate::instructions::drawing::Drawing;
use crate::instructions::sheet::{Block, Check, Tally};
use crate::phrase::{Phrase, Word};
use crate::units::{Brief, NotPrintable, UnitSystem, decimal};
use askama::Template;
use std::fmt::Write;
use tables::both;

#[derive(Template)]
#[template(path = "page.html", config = "src/writing/html/askama.toml")]
struct HtmlPage<'a> {
    booklet: &'a Booklet,
    units: &'static str,
    /// What reloads it, if anything does.
    live: Option<&'static str>,
    style: String,
    script: &'static str,
}

/// Whether a page loads itself again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Renewal {
    /// It stays as it was opened.
    #[default]
    Never,
    /// Whenever its file is written anew with something else in it.
    WhenRewritten,
}

/// The sheet as an HTML file; lengths are in it in both systems of units, `units` are shown first.
///
/// # Errors
/// [`NotPrintable`] where a figure is not finite.
pub fn html(
    booklet: &Booklet,
    units: UnitSystem,
    renewal: Renewal,
) -> Result<String, NotPrintable> {
    let page = HtmlPage {
        booklet,
        units: match units {
            UnitSystem::Millimetres => "mm",
            UnitSystem::Inches => "in",
        },
        live: match renewal {
            Renewal::Never => None,
            Renewal::WhenRewritten => Some(include_str!("live.js").trim_end()),
        },
        style: style(),
        script: concat!(include_str!("script.js"), include_str!("player.js")),
    };
    let page = page.render().map_err(|_| NotPrintable)?;
    with_fingerprints(&page, &booklet.title).ok_or(NotPrintable)
}

/// Where the page has its fingerprints.
const NO_FINGERPRINTS: &str = "data-job=\"\" data-page=\"\"";

/// Puts two fingerprints in. The job's, by which ticks are kept, is its title's, so that they are found again
/// when the sheet is made anew; each tick is kept for its own words ([`mark`]), so that it is not shown on a
/// changed step. The page's own is that of all of it: by it a page that renews itself sees that it was written
/// anew.
fn with_fingerprints(page: &str, title: &str) -> Option<String> {
    let (before, after) = page.split_once(NO_FINGERPRINTS)?;
    let [job, whole] = [title, page].map(|text| hash(text.as_bytes()));
    Some(format!(
        "{before}data-job=\"{job}\" data-page=\"{whole}\"{after}"
    ))
}

/// FNV-1a.
fn hash(bytes: &[u8]) -> String {
    let hash = bytes.iter().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
    });
    format!("{hash:016x}")
}

/// What a tick is kept for: a card's name and the words, figures included, in either system of units.
fn mark(part: impl std::fmt::Display, phrase: &Phrase) -> String {
    let [mm, inch] = [UnitSystem::Millimetres, UnitSystem::Inches].map(|units| phrase.text(units));
    hash(format!("{part}: {mm} {inch}").as_bytes())
}

/// The same of a check: with what it should come to.
fn check_mark(part: impl std::fmt::Display, check: &Check) -> String {
    let mut words = check.what.clone();
    words.0.push(check.should.clone());
    mark(part, &words)
}

/// The same of a count.
fn tally_mark(part: impl std::fmt::Display, tally: &Tally) -> String {
    mark(
        part,
        &Phrase::from(format!("{} {}", tally.what, tally.count)),
    )
}

/// The theme as a style sheet, and how the page is laid out.
fn style() -> String {
    let mut out = String::new();
    let light = variables(|tone| tone.light);
    let dark = variables(|tone| tone.dark);
    let _ = writeln!(out, ":root{{color-scheme:light dark;{light}}}");
    let _ = writeln!(
        out,
        "@media screen and (prefers-color-scheme:dark){{:root{{{dark}}}}}"
    );
    let _ = writeln!(out, "body{{font-family:{TYPE_FAMILY}}}");
    let _ = writeln!(out, "svg text{{font-family:{TYPE_FAMILY}}}");
    let sizes = [
        ("h1", size::TITLE),
        ("h2", size::PART),
        ("h3", size::SECTION),
        ("h4", size::TEXT),
        (".settings .value", size::SETTING),
    ];
    for (what, points) in sizes {
        let _ = writeln!(out, "{what}{{font-size:{:.3}rem}}", points / size::TEXT);
    }
    for style in ROLES.map(style_of) {
        let _ = writeln!(
            out,
            "svg .{0}{{fill:var(--{0});stroke:var(--{0}-edge);stroke-width:{1}mm}}",
            style.class,
            // Thin lines of paper are too thin for a screen.
            style.width * 1.8
        );
    }
    out.push_str(include_str!("style.css"));
    out.push_str(tables::rules().trim_end());
    out
}

/// The theme's colours on one of the two grounds, as variables of a style sheet.
fn variables(ground: fn(Tone) -> Colour) -> String {
    let named = [
        ("paper", theme::PAPER),
        ("ink", theme::INK),
        ("quiet", theme::QUIET),
        ("rule", theme::RULE),
        ("card", theme::CARD),
        ("accent", theme::ACCENT),
        ("caution", theme::CAUTION),
        ("caution-ink", theme::CAUTION_INK),
    ];
    let mut out = String::new();
    for (name, tone) in named {
        let _ = write!(out, "--{name}:{};", ground(tone).hex());
    }
    for style in ROLES.map(style_of) {
        let fill = ground(style.fill).hex();
        let edge = ground(style.edge).hex();
        let _ = write!(out, "--{0}:{fill};--{0}-edge:{edge};", style.class);
    }
    out
}

/// A text in both systems of units; one form where they do not differ.
pub(super) struct UnitText {
    pub(super) mm: String,
    pub(super) inch: Option<String>,
    pub(super) note: String,
}

impl UnitText {
    fn of(word: &Word) -> UnitText {
        let [mm, inch] =
            [UnitSystem::Millimetres, UnitSystem::Inches].map(|units| word.text(units));
        UnitText {
            inch: (inch != mm).then_some(inch),
            mm,
            note: String::new(),
        }
    }
}

fn bits(phrase: &Phrase) -> Vec<UnitText> {
    phrase.0.iter().map(UnitText::of).collect()
}

/// A setting: the nearest 1/64 inch stands apart from the figure, small.
fn setting(word: &Word) -> UnitText {
    match word {
        Word::Length(length) => UnitText {
            note: length.fraction_note().unwrap_or_default(),
            ..UnitText::of(&Word::Brief(Brief(length.0)))
        },
        Word::Text(_)
        | Word::Brief(_)
        | Word::Fine(_)
        | Word::AtLeast(_)
        | Word::AtMost(_)
        | Word::Feed(_)
        | Word::Angle(_) => UnitText::of(word),
    }
}

fn brief(mm: &f64) -> Word {
    Word::Brief(Brief(*mm))
}

fn id(part: impl std::fmt::Display, index: &usize) -> String {
    format!("{part}-{index}")
}

fn failed(error: NotPrintable) -> askama::Error {
    askama::Error::custom(error)
}

/// The picture; beside it the one for narrow screens, of which the style sheet shows either.
fn drawn(drawing: &Drawing) -> Result<String, askama::Error> {
    let broad = svg::inline(drawing, "", "broad");
    let narrow = match &drawing.narrow {
        Some(narrow) => svg::inline(narrow, "", "narrow"),
        None => return svg::inline(drawing, "", "only").map_err(failed),
    };
    let both = broad.and_then(|broad| Ok(broad + &narrow?));
    both.map_err(failed)
}

fn true_width(drawing: &Drawing) -> Result<String, askama::Error> {
    decimal(drawing.high.x - drawing.low.x, 2).map_err(failed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::instructions::safety::SafetyNotes;

    fn job_of(title: &str, units: UnitSystem) -> String {
        let booklet = Booklet {
            front: Vec::new(),
            title: title.into(),
            sheets: Vec::new(),
            templates: Vec::new(),
            templates_safety: SafetyNotes::for_assembly(),
        };
        let page = html(&booklet, units, Renewal::Never).unwrap();
        let (_, after) = page.split_once("data-job=\"").unwrap();
        after.split('"').next().unwrap().to_owned()
    }

    #[test]
    fn a_job_is_known_by_its_title_and_a_step_by_its_words() {
        let own = job_of("a lamp", UnitSystem::Millimetres);
        assert_eq!(own.len(), 16);
        assert_eq!(job_of("a lamp", UnitSystem::Inches), own);
        assert_ne!(job_of("a door", UnitSystem::Millimetres), own);
        let step = |mm: f64| crate::phrase!("set {}", crate::units::Mm(mm));
        assert_eq!(mark("sled", &step(3.0)), mark("sled", &step(3.0 + 1e-9)));
        assert_ne!(mark("sled", &step(3.0)), mark("sled", &step(3.01)));
        assert_ne!(mark("sled", &step(3.0)), mark("router", &step(3.0)));
    }
}

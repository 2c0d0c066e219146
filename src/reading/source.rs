//! A text that was read, and where in it each field stands, so that a finding about
//! `grid.pitches_x[2]` can be shown with its line.

use crate::finding::{Finding, Severity};
use crate::units::UnitSystem;
use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use std::collections::BTreeMap;
use std::ops::Range;

/// Code of the finding about a file that somebody named by mistake.
pub(in crate::reading) const NOT_OURS: &str = "not-ours";

/// Problems of one code in one file that are told at once.
const MOST_REPORTS: usize = 50;

/// A text with the places of its fields.
#[derive(Debug, Clone, Default)]
pub struct Source {
    /// File name, or `command line`.
    pub name: String,
    /// All of it.
    pub text: String,
    /// Field -> bytes of its value.
    spans: BTreeMap<String, Range<usize>>,
    /// Field that findings are about -> field that stands for it in the text.
    aliases: BTreeMap<String, String>,
}

/// Where a finding about a field is shown.
struct ShownAt {
    /// The field's own name in this source.
    field: String,
    /// Nothing where neither it nor a table around it was written.
    span: Option<Range<usize>>,
}

impl Source {
    /// A text that nothing is known of yet.
    pub(super) fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        Source {
            name: name.into(),
            text: text.into(),
            ..Source::default()
        }
    }

    /// Notes where a field's value stands.
    pub(super) fn note(&mut self, field: impl Into<String>, span: Range<usize>) {
        self.spans.insert(field.into(), span);
    }

    /// Lets findings about `field` point at what stands for it in the file.
    pub(super) fn alias(&mut self, field: impl Into<String>, stands_at: impl Into<String>) {
        self.aliases.insert(field.into(), stands_at.into());
    }

    /// The nearest enclosing table where the field itself was not written.
    fn locate(&self, field: &str) -> ShownAt {
        // An entry of a list stands for itself, for its list, for what its list lies in.
        let whole = match field.rsplit_once('[') {
            Some((list, index)) if index.ends_with(']') => list,
            _ => field,
        };
        let candidates = [
            Some(field),
            self.alias_of(field),
            self.alias_of(whole),
            Some(whole),
        ];
        for name in candidates.into_iter().flatten() {
            if let Some(span) = self.spans.get(name) {
                return ShownAt {
                    field: name.to_owned(),
                    span: Some(span.clone()),
                };
            }
        }
        let mut outer = whole;
        while let Some((table, _)) = outer.rsplit_once(['.', '[']) {
            if let Some(span) = self.spans.get(table) {
                return ShownAt {
                    field: whole.to_owned(),
                    span: Some(span.clone()),
                };
            }
            outer = table;
        }
        ShownAt {
            field: whole.to_owned(),
            span: None,
        }
    }

    fn alias_of(&self, field: &str) -> Option<&str> {
        self.aliases.get(field).map(String::as_str)
    }

    /// The findings as text for a terminal (styled; strip the styles for a file), in the order of
    /// their places, each once, and of each code no more than anybody reads.
    pub fn report(&self, findings: &[Finding], units: UnitSystem) -> String {
        let mut placed: Vec<_> = findings
            .iter()
            .map(|finding| (finding, self.locate(&finding.field)))
            .collect();
        placed.sort_by_key(|(_, place)| place.span.as_ref().map_or(usize::MAX, |at| at.start));
        let mut reports: Vec<String> = Vec::new();
        // Of each code how many are told and how many are left: a rare one is not buried.
        let mut counts: BTreeMap<&str, [usize; 2]> = BTreeMap::new();
        for (finding, place) in placed {
            let [told, left] = counts.entry(finding.code).or_default();
            if *told == MOST_REPORTS {
                *left += 1;
                continue;
            }
            let text = self.render(finding, place, units);
            if !reports.contains(&text) {
                *told += 1;
                reports.push(text);
            }
        }
        for (code, [_, left]) in counts {
            if left > 0 {
                reports.push(format!(
                    "and {left} more like these in {}: {code}",
                    self.name
                ));
            }
        }
        reports.into_iter().map(|text| text + "\n").collect()
    }

    fn render(&self, finding: &Finding, place: ShownAt, units: UnitSystem) -> String {
        let ShownAt { field, span } = place;
        let message = finding.message.text(units);
        let unnamed = field.is_empty() || field.starts_with('#');
        let title = if unnamed {
            message
        } else {
            format!("{}: {message}", shortened(&field))
        };
        let level = match finding.severity {
            Severity::Error => Level::ERROR,
            Severity::Warning => Level::WARNING,
        };
        let title = level.primary_title(title).id(finding.code);
        let mut group = match span {
            Some(span) => {
                let span = self.part_of(span, finding.part.as_deref());
                title.element(
                    Snippet::source(&self.text)
                        .path(&self.name)
                        .annotation(AnnotationKind::Primary.span(span)),
                )
            }
            None if self.name.is_empty() => annotate_snippets::Group::with_title(title),
            None => title.element(annotate_snippets::Origin::path(self.name.as_str())),
        };
        if let Some(hint) = &finding.hint {
            group = group.element(Level::HELP.message(hint.text(units)));
        }
        Renderer::styled().render(&[group])
    }

    /// The part of a string value that a finding points at. Where the value as written differs
    /// from the value as read (escapes), the whole of it.
    fn part_of(&self, value: Range<usize>, part: Option<&Range<usize>>) -> Range<usize> {
        let Some(part) = part else { return value };
        let Some(written) = self.text.get(value.clone()) else {
            return value;
        };
        let quote = usize::from(written.starts_with(['"', '\'']));
        if written.contains('\\') || written.starts_with("\"\"\"") || written.starts_with("'''") {
            return value;
        }
        let start = value.start + quote + part.start;
        let end = (value.start + quote + part.end).min(value.end);
        // Where something is missing, point at the place after what is there.
        let end = end.max(start + 1).min(self.text.len());
        if self.text.is_char_boundary(start) && self.text.is_char_boundary(end) && start < end {
            start..end
        } else {
            value
        }
    }
}

/// A field's name as a person can read it: the beginning of one that goes on for ever.
fn shortened(field: &str) -> String {
    const MOST: usize = 120;
    match field.char_indices().nth(MOST) {
        Some((at, _)) => format!("{}...", field.get(..at).unwrap_or_default()),
        None => field.to_owned(),
    }
}

/// An input that cannot be used: the text and all that is wrong with it.
#[derive(Debug, Clone)]
pub struct Unreadable {
    /// Where the findings point.
    pub source: Source,
    /// At least one error.
    pub findings: Vec<Finding>,
}

impl Unreadable {
    /// Whether the file is none of this program's, named by mistake.
    pub fn is_not_ours(&self) -> bool {
        self.findings.iter().any(|finding| finding.code == NOT_OURS)
    }

    /// A file that could not be opened, or a name that names nothing.
    pub(crate) fn without_text(
        name: &str,
        code: &'static str,
        message: String,
        hint: &str,
    ) -> Self {
        let finding = Finding::error(code, "", message).hint(hint);
        Unreadable {
            source: Source::new(name, ""),
            findings: vec![finding],
        }
    }
}

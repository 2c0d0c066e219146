//! What a program that was written here says of itself, beside what it does. Remarks cut nothing, but
//! a person reads them: where they disagree with the verdict they are told by name.

use crate::dialects::Controller;
use crate::instructions::proof::FaultFound;
use crate::instructions::tool_path::{NotchPath, ProgramPart, ToolPath};
use crate::verification::ProgramReport;
use crate::writing::gcode;
use std::collections::BTreeSet;
use std::io;
use std::sync::Arc;

/// A comment of a program, continued lines joined.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Remark {
    line: usize,
    text: String,
}

impl Remark {
    /// What tells kinds of remarks apart.
    fn kind(&self) -> &str {
        self.text.split([' ', ',']).next().unwrap_or_default()
    }

    /// The number of a notch or mortise whose moves follow.
    fn label(&self) -> Option<usize> {
        let number = self.text.strip_prefix("Notch ");
        let number = number.or_else(|| self.text.strip_prefix("Mortise "));
        number?.trim().parse().ok()
    }
}

/// The remarks before the first part of a program, before its second and so on, as far as they are of
/// a kind that `known` lets through; and the labels of notches or mortises.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Remarks {
    heads: Vec<Vec<Remark>>,
    labels: Vec<Remark>,
}

impl Remarks {
    fn read(text: &[u8], known: impl Fn(&Remark) -> bool) -> Remarks {
        let mut found = Remarks::default();
        // Code has come since the last head, so that a remark begins the next one.
        let mut code = true;
        let mut put = |remark: Remark, code: &mut bool| {
            if remark.label().is_some() {
                found.labels.push(remark);
            } else if known(&remark) {
                if std::mem::take(code) {
                    found.heads.push(Vec::new());
                }
                if let Some(head) = found.heads.last_mut() {
                    head.push(remark);
                }
            }
        };
        let mut open: Option<Remark> = None;
        for (line, bytes) in (1..).zip(text.split(|byte| *byte == b'\n')) {
            let Some(comment) = comment(bytes) else {
                if let Some(remark) = open.take() {
                    put(remark, &mut code);
                }
                code |= !bytes.trim_ascii().is_empty();
                continue;
            };
            match (comment.strip_prefix("- "), &mut open) {
                (Some(more), Some(remark)) => {
                    remark.text.push(' ');
                    remark.text.push_str(more);
                }
                _ => {
                    let text = comment.to_owned();
                    if let Some(remark) = open.replace(Remark { line, text }) {
                        put(remark, &mut code);
                    }
                }
            }
        }
        if let Some(remark) = open {
            put(remark, &mut code);
        }
        found
    }

    /// What would be written for these parts.
    ///
    /// # Errors
    /// A figure that cannot be printed.
    pub(super) fn of<'a>(
        parts: impl IntoIterator<Item = ProgramPart<'a>>,
        controller: &Controller,
    ) -> io::Result<Remarks> {
        let without_moves = |part: ProgramPart<'a>| {
            let cuts = Arc::new(Vec::<NotchPath>::new());
            let path = part.path.clone();
            (ToolPath { cuts, ..path }, part.message)
        };
        let bare: Vec<(ToolPath, String)> = parts.into_iter().map(without_moves).collect();
        let parts = bare.iter().map(|(path, message)| ProgramPart {
            path,
            message: message.clone(),
        });
        let mut text = Vec::new();
        gcode::write_program(parts, controller, &mut text)?;
        Ok(Remarks::read(&text, |_| true))
    }

    fn all(&self) -> impl Iterator<Item = &Remark> {
        self.heads.iter().flatten()
    }
}

/// What stands in a line that is a comment and nothing else.
fn comment(line: &[u8]) -> Option<&str> {
    let inside = line.trim_ascii().strip_prefix(b"(")?.strip_suffix(b")")?;
    std::str::from_utf8(inside).ok()
}

/// Whether a program's first comment says that it was written here.
fn is_own(text: &[u8]) -> bool {
    let mut lines = text.split(|byte| *byte == b'\n').filter_map(comment);
    lines
        .next()
        .is_some_and(|first| first.starts_with("Lapwright "))
}

/// The remarks that are not those of what the program does: `verdict` is what would be written for it,
/// `others` for all else that it might have been.
pub(super) fn disagreeing<'a>(
    text: &[u8],
    verdict: &'a Remarks,
    others: impl IntoIterator<Item = &'a Remarks>,
    reports: &[&ProgramReport],
) -> Vec<FaultFound> {
    if !is_own(text) {
        return Vec::new();
    }
    let all = others.into_iter().chain([verdict]);
    let kinds: BTreeSet<&str> = all.flat_map(Remarks::all).map(Remark::kind).collect();
    let found = Remarks::read(text, |remark| kinds.contains(remark.kind()));
    let heads = found.heads.iter().zip(&verdict.heads);
    let mut told: Vec<FaultFound> = heads
        .flat_map(|(said, wanted)| said.iter().filter_map(|remark| differing(remark, wanted)))
        .collect();
    told.extend(
        reports
            .iter()
            .flat_map(|report| misnumbered(&found.labels, report)),
    );
    told.sort_by_key(|remark| remark.line);
    told
}

fn told(code: &str, line: usize, text: String) -> FaultFound {
    FaultFound {
        code: code.to_owned(),
        file: None,
        line,
        text,
        more: None,
    }
}

fn differing(remark: &Remark, wanted: &[Remark]) -> Option<FaultFound> {
    if wanted.iter().any(|other| other.text == remark.text) {
        return None;
    }
    let alike = wanted.iter().find(|other| other.kind() == remark.kind());
    let text = match alike {
        Some(other) => format!(
            "the remark says \"{}\"; for what the program does it would be \"{}\"",
            remark.text, other.text
        ),
        None => format!(
            "the remark says \"{}\", which does not belong to what the program does",
            remark.text
        ),
    };
    Some(told("remark-differs", remark.line, text))
}

/// Labels with another number than that of the notch whose first cut follows them.
fn misnumbered(labels: &[Remark], report: &ProgramReport) -> Vec<FaultFound> {
    let mut found = Vec::new();
    for notch in report.notches.iter().filter(|notch| notch.line > 0) {
        let before = labels.partition_point(|label| label.line < notch.line);
        let Some(label) = before.checked_sub(1).and_then(|at| labels.get(at)) else {
            continue;
        };
        if label.line >= report.lines[0] && label.label() != Some(notch.index) {
            let text = format!(
                "the remark says \"{}\"; number {} is cut there",
                label.text, notch.index
            );
            found.push(told("remark-number", label.line, text));
        }
    }
    found
}

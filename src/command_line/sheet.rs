//! `lapwright sheet`

use super::answers::{Failure, Outcome, Shown, print, tell, warn};
use super::arguments::{Format, Part, SheetArguments, renewal};
use super::files::{spare, write};
use super::under_way;
use super::whole_job::WholeJob;
use crate::inputs::Inputs;
use crate::instructions::booklet::{Booklet, BookletPart};
use crate::making::{SheetFormat, set_up_file};
use crate::writing::dxf::DxfVersion;
use crate::writing::json;
use clap::ValueEnum;
use serde_json::json;

pub(super) fn run(asked: &SheetArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let format = format_of(asked)?;
    let whole = WholeJob::read(inputs, &asked.job, shown)?;
    spare(inputs, &asked.output)?;
    let order = whole.order(DxfVersion::R2000, shown.units, renewal(asked.watch));
    under_way::at("planning and proving");
    let mut made = whole.made(&order, shown)?;
    let mut booklet = made.booklet(&whole.job, &whole.workshop);
    keep_parts(&mut booklet, asked)?;
    under_way::at("setting the sheet");
    let file = set_up_file(&booklet, format, shown.units)?;
    let name = asked.output.display().to_string();
    tell_lacking(&name, &file.lacking);
    write(inputs, [(name.clone(), file.bytes)])?;
    warn(&made.warnings, &whole.documents(), shown);
    whole.advise(shown);
    match shown.format {
        Format::Text => print(&format!(
            "{name}: set-up sheet for {}\n{}",
            names(&whole),
            whole.short_safety()
        ))?,
        Format::Json => {
            let answer = json!({
                "title": whole.job.panel.design().title.clone(),
                "files": [{ "path": name }],
                "missing": json::missing(&made.missing()),
            });
            print(&json::answer(
                "lapwright/sheet/1",
                &answer,
                made.warnings.all(),
                &whole.all_safety(),
            )?)?;
        }
    }
    whole.outcome(&made, shown)
}

/// Leaves out what was not asked for.
fn keep_parts(booklet: &mut Booklet, asked: &SheetArguments) -> Result<(), Failure> {
    if asked.parts.is_empty() {
        return Ok(());
    }
    let has = |part: Part| booklet.has(part.into());
    let lacking: Vec<String> = asked
        .parts
        .iter()
        .filter(|part| !has(**part))
        .map(|part| part.name())
        .collect();
    if !lacking.is_empty() {
        let there = Part::value_variants().iter().filter(|part| has(**part));
        let there: Vec<String> = there.map(|part| part.name()).collect();
        return Err(Failure::input(format!(
            "{}: its sheet has no part {}; it has: {}",
            asked.job.display(),
            lacking.join(", "),
            there.join(", ")
        )));
    }
    let parts: Vec<BookletPart> = asked.parts.iter().map(|part| (*part).into()).collect();
    booklet.keep(&parts);
    Ok(())
}

/// What the file's name asks for.
fn format_of(asked: &SheetArguments) -> Result<SheetFormat, Failure> {
    let output = &asked.output;
    let ending = output.extension().unwrap_or_default().to_ascii_lowercase();
    match ending.to_str() {
        Some("html") if asked.parts == [Part::Templates] => Err(Failure::input(format!(
            "{}: templates are printed at true size: give a file that ends in .pdf",
            output.display()
        ))),
        Some("html") => Ok(SheetFormat::Page(renewal(asked.watch))),
        Some("pdf") => Ok(SheetFormat::Document(asked.paper.into())),
        _ => Err(Failure::input(format!(
            "{}: a sheet is a page or a document: give a file that ends in .html or .pdf",
            output.display()
        ))),
    }
}

/// Tells of letters that a document's type lacks.
pub(super) fn tell_lacking(name: &str, letters: &[char]) {
    if letters.is_empty() {
        return;
    }
    let letters: Vec<String> = letters.iter().map(char::to_string).collect();
    tell(&format!(
        "warning: {name}: the document's type lacks {}; a sign stands in their place. The page (.html) has them.\n",
        letters.join(" ")
    ));
}

fn names(whole: &WholeJob) -> String {
    let names = whole.workshop.profiles();
    let names = names.map(|profile| profile.name.as_str());
    names.collect::<Vec<_>>().join(", ")
}

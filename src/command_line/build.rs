//! `lapwright build`

use super::answers::{Outcome, Shown, print, tell, warn};
use super::arguments::{BuildArguments, Format, renewal};
use super::files::{spare_folder, write_into};
use super::sheet::tell_lacking;
use super::under_way;
use super::whole_job::WholeJob;
use crate::inputs::Inputs;
use crate::making::{Made, MadeFile};
use crate::writing::files::written_before;
use crate::writing::json;
use serde_json::{Value, json};
use std::path::Path;

/// Name of the file that lists all others.
const MANIFEST: &str = "manifest.json";

pub(super) fn run(asked: &BuildArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let whole = WholeJob::read(inputs, &asked.job, shown)?;
    spare_folder(inputs, &asked.output)?;
    let order = whole.order(asked.dxf.into(), shown.units, renewal(asked.watch));
    under_way::at("planning and proving");
    let mut made = whole.made(&order, shown)?;
    under_way::at("setting the sheets");
    for (name, letters) in made.add_sheets(&order, asked.paper.into())? {
        tell_lacking(&name, &letters);
    }
    let old = leftovers(&asked.output, &made.files);
    let mut manifest = json!({
        "title": whole.job.panel.design().title.clone(),
        "files": made.files.iter().map(listed).collect::<Vec<_>>(),
        "missing": json::missing(&made.missing()),
    });
    if !old.is_empty() {
        manifest["left_over"] = json!(old);
    }
    let warnings = made.warnings.all();
    let safety = whole.all_safety();
    let manifest = json::answer("lapwright/build/1", &manifest, warnings, &safety)?;
    let summary = summary(&made, &asked.output);
    let files = std::mem::take(&mut made.files);
    let files = files.into_iter().map(|file| (file.name, file.content));
    let list = (MANIFEST.to_owned(), manifest.clone().into_bytes().into());
    under_way::at("writing files");
    write_into(inputs, &asked.output, files.chain([list]))?;
    warn(&made.warnings, &whole.documents(), shown);
    whole.advise(shown);
    match shown.format {
        Format::Json => print(&manifest)?,
        Format::Text => print(&format!("{summary}{}", whole.short_safety()))?,
    }
    // Last, so that it is seen: under the names of this job lie another one's programs.
    for name in old {
        tell(&format!(
            "warning: {}: left over from an earlier build, not part of this job any more: delete it\n",
            asked.output.join(name).display()
        ));
    }
    whole.outcome(&made, shown)
}

/// A file as the manifest has it.
fn listed(file: &MadeFile) -> Value {
    json!({
        "path": file.name,
        "what": file.kind.name(),
        "machine": file.machine,
        "bytes": file.content.length(),
    })
}

/// What an earlier build left in the folder and this one does not make, by the manifest that is there:
/// its files, and what it already told to be left over. It is told, not touched, at every build until it
/// is gone.
fn leftovers(folder: &Path, files: &[MadeFile]) -> Vec<String> {
    let old = written_before(&folder.join(MANIFEST)).unwrap_or_default();
    let old: Value = serde_json::from_str(&old).unwrap_or_default();
    let list = |key: &str| old[key].as_array().cloned().unwrap_or_default();
    let made = list("files").into_iter().map(|file| file["path"].clone());
    let names = made.chain(list("left_over"));
    names
        .filter_map(|name| name.as_str().map(str::to_owned))
        .filter(|name| !files.iter().any(|new| new.name == *name) && folder.join(name).is_file())
        .collect()
}

fn summary(made: &Made, folder: &Path) -> String {
    let rows = made.files.iter().map(|file| {
        let MadeFile { name, machine, .. } = file;
        format!("  {name:<20}{:<14}{machine}\n", file.kind.name())
    });
    let rows: String = rows.collect();
    format!(
        "{}:\n{rows}  {MANIFEST:<20}list of all of them\nEvery drawing and program was read back and found right before it got its name.\n",
        folder.display()
    )
}

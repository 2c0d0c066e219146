//! `lapwright outline`

use super::answers::{Failure, Outcome, Shown, Warnings, print};
use super::arguments::{Format, OutlineArguments, What};
use super::cutting::Cutting;
use super::drawings::{Bench, Files, has_ending, laser_of, panel_dxf};
use super::files::{numbered, write};
use super::inputs::{self, Chosen};
use super::products;
use crate::inputs::Inputs;
use crate::instructions::laser::Ware;
use crate::instructions::safety::SafetyNotes;
use crate::machines::{Guides, Machine, MachineKind, Sled};
use crate::planning::{laser_sheet, safety_of};
use crate::reading::Job;
use crate::units::{Kind, parse};
use crate::writing::{json, text};
use serde_json::json;

pub(super) fn run(asked: &OutlineArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let sought = Sought::of(&asked.what, asked.sled.as_deref(), asked.slots.as_deref())?;
    let job = inputs::job(inputs, &asked.job, shown)?;
    let Sought::Wares { wares, slots } = sought else {
        return panel(asked, inputs, &job, shown);
    };
    let with_path = Some((&job, asked.job.as_path()));
    let flag = asked.machine.as_deref();
    let chosen = inputs::machine_of(inputs, MachineKind::Laser, flag, with_path, None, shown)?;
    let mut told = Warnings::default();
    told.add(&job.source, job.warnings.clone());
    let sled = wares
        .contains(&Ware::Inserts)
        .then(|| {
            let flag = ("--sled", asked.sled.as_deref());
            inputs::machine_by(inputs, MachineKind::Sled, flag, with_path, None, shown)
        })
        .transpose()?;
    let filled = wares
        .iter()
        .any(|ware| matches!(ware, Ware::Pieces | Ware::Blocks | Ware::Guide))
        .then(|| {
            let pattern = inputs::pattern_of(inputs, &job, &asked.job, shown)?;
            products::filled(&job, &pattern, shown)
        })
        .transpose()?;
    let with_guides = job.machines.guides.is_some()
        && wares
            .iter()
            .any(|ware| matches!(ware, Ware::Blocks | Ware::Guide));
    let guides = with_guides
        .then(|| inputs::machine_of(inputs, MachineKind::Guides, None, with_path, None, shown))
        .transpose()?;
    let name = |at, count| numbered(&asked.output, at, count);
    let files = Files::of(&asked.output, asked.dxf.into());
    let bench = Bench::new(&chosen, files, &name, shown)?;
    let cutting = Cutting {
        panel: &job.panel,
        lattice: job.panel.lattice(),
        filled: filled.as_ref(),
        laser: laser_of(&chosen)?,
        guides: guides.as_ref().map(guides_of).transpose()?,
        sled: sled.as_ref().map(sled_of).transpose()?,
        slots: slots.as_deref(),
    };
    let (plan, drawings) = bench.told(&cutting, &wares, sled.as_ref(), &mut told)?;
    let answer = match shown.format {
        Format::Text => text::sheet(&laser_sheet(&plan), shown.units),
        Format::Json => {
            let safety = safety_of(&plan);
            json::answer("lapwright/outline/1", &plan, &told.all(), safety.notes())?
        }
    };
    write(inputs, drawings)?;
    told.show(shown);
    print(&answer)
}

/// The sled's figures.
///
/// # Errors
/// Where the machine is none.
pub(super) fn sled_of(chosen: &Chosen) -> Result<&Sled, Failure> {
    match &chosen.profile.machine {
        Machine::Sled(sled) => Ok(sled),
        other => Err(inputs::wrong_kind(other)),
    }
}

/// The guides' figures.
///
/// # Errors
/// Where the machine is none.
pub(super) fn guides_of(chosen: &Chosen) -> Result<&Guides, Failure> {
    super::pare::guides(chosen).map(|(_, guides)| guides)
}

/// What `--what` and the flags that go with it ask for.
pub(super) enum Sought {
    /// The assembled panel.
    Panel,
    /// Kinds of parts, each once, and the lengths of `--slots`.
    Wares {
        wares: Vec<Ware>,
        slots: Option<Vec<f64>>,
    },
}

impl Sought {
    /// # Errors
    /// Kinds that do not go together, and flags that would do nothing.
    pub(super) fn of(
        what: &[What],
        sled: Option<&str>,
        slots: Option<&str>,
    ) -> Result<Self, Failure> {
        let refuse = |text| Err(Failure::input(text));
        let mut wares = Vec::new();
        for ware in what.iter().filter_map(|what| what.ware()) {
            if wares.contains(&ware) {
                return refuse("--what: the same is there twice");
            }
            wares.push(ware);
        }
        let [rack, comb] = [Ware::Inserts, Ware::Comb].map(|ware| wares.contains(&ware));
        if sled.is_some() && !rack {
            return refuse("--sled: only a rack is made for a sled");
        }
        if slots.is_some() && rack == comb {
            return refuse(if rack {
                "--slots: of a rack or of a comb? Draw them one after the other"
            } else {
                "--slots: only a rack and a comb have slots of their own"
            });
        }
        match (what.contains(&What::Panel), wares.is_empty()) {
            (true, true) => Ok(Sought::Panel),
            (true, false) => refuse("--what: the assembled panel is a drawing of its own"),
            (false, _) => Ok(Sought::Wares {
                wares,
                slots: slots.map(lengths).transpose()?,
            }),
        }
    }
}

/// More slots than this are no comb and no rack.
const MOST_SLOTS: usize = 60;

/// A list of lengths above zero, all different, sorted.
fn lengths(text: &str) -> Result<Vec<f64>, Failure> {
    let refuse = |why: &str| Failure::input(format!("--slots `{text}`: {why}"));
    let mut lengths = Vec::new();
    for item in text.split(',') {
        let length = parse(item.trim(), Kind::Length)
            .map_err(|error| refuse(&format!("`{}`: {error}; {}", item.trim(), error.hint())))?
            .value;
        if length <= 0.0 {
            return Err(refuse("every length must be above zero"));
        }
        lengths.push(length);
    }
    lengths.sort_by(f64::total_cmp);
    if lengths.len() > MOST_SLOTS {
        return Err(refuse(&format!("at most {MOST_SLOTS} slots are drawn")));
    }
    // Closer than labels with three decimals can tell.
    if lengths
        .windows(2)
        .any(|pair| matches!(pair, [a, b] if b - a < 1e-3))
    {
        return Err(refuse("the same length is there twice"));
    }
    Ok(lengths)
}

/// The assembled panel: a picture, or its outlines as DXF.
fn panel(asked: &OutlineArguments, inputs: &Inputs, job: &Job, shown: Shown) -> Outcome {
    let mut told = Warnings::default();
    told.add(&job.source, job.warnings.clone());
    let filled = products::filled_of(inputs, job, &asked.job, shown, &mut told)?;
    let content = if has_ending(&asked.output, "svg") {
        products::picture(job, filled.as_ref(), shown)?.into_bytes()
    } else if has_ending(&asked.output, "dxf") {
        panel_dxf(job.panel.lattice(), filled.as_ref(), asked.dxf.into())?
    } else {
        return Err(Failure::input(
            "the assembled panel is a picture or a drawing: give a file that ends in .svg or .dxf",
        ));
    };
    let path = asked.output.display().to_string();
    write(inputs, [(path.clone(), content)])?;
    told.show(shown);
    let safety = SafetyNotes::for_assembly();
    match shown.format {
        Format::Text => print(&format!(
            "{path}: the assembled panel from the front\n{}",
            text::safety_in_short(&safety.short())
        )),
        Format::Json => {
            let answer = json!({ "files": [{ "path": path }] });
            print(&json::answer(
                "lapwright/outline/1",
                &answer,
                &told.all(),
                safety.notes(),
            )?)
        }
    }
}

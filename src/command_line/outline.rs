//! `lapwright outline`

use super::answers::{Failure, Outcome, Shown, print, warn};
use super::arguments::{Format, OutlineArguments, What};
use super::files::write;
use super::inputs::{self, FoundMachine, MachineFlags};
use crate::finding::Document;
use crate::inputs::Inputs;
use crate::instructions::laser::Ware;
use crate::instructions::safety::SafetyNotes;
use crate::lattice::Frame;
use crate::machines::{Guides, Laser, Sled, Station};
use crate::making::{
    DrawingFiles, FrameDrawing, SheetOrder, SheetParts, Warnings, filled, numbered, panel_dxf,
    panel_picture,
};
use crate::reading::{Documents, Job};
use crate::sheets::{frame_parts_sheet, laser_sheet};
use crate::units::{Kind, parse};
use crate::writing::dxf::DxfVersion;
use crate::writing::{json, text};
use serde_json::json;
use std::path::Path;

pub(super) fn run(asked: &OutlineArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let sought = SoughtDrawing::of(&asked.what, asked.sled.as_deref(), asked.slots.as_deref())?;
    let job = inputs::job(inputs, &asked.job, shown)?;
    let (wares, slots) = match sought {
        SoughtDrawing::Panel => return panel(asked, inputs, &job, shown),
        SoughtDrawing::Frame => return members(asked, inputs, &job, shown),
        SoughtDrawing::Wares { wares, slots } => (wares, slots),
    };
    let with_path = Some((&job, asked.job.as_path()));
    let flags = MachineFlags::machine(asked.machine.as_deref());
    let laser: FoundMachine<Laser> = inputs::machine_for(inputs, &flags, with_path, shown)?;
    let sled: Option<FoundMachine<Sled>> = wares
        .contains(&Ware::Inserts)
        .then(|| inputs::machine_for(inputs, &sled_flags(asked.sled.as_deref()), with_path, shown))
        .transpose()?;
    let with_pieces = wares.iter().any(|ware| {
        matches!(
            ware,
            Ware::Pieces | Ware::Lapped | Ware::Blocks | Ware::Guide
        )
    });
    let patterns = with_pieces
        .then(|| inputs::patterns_of(inputs, &job, &asked.job, shown))
        .transpose()?
        .unwrap_or_default();
    let documents = Documents::of_job(&job.source).with_patterns(patterns.sources());
    let documents = FoundMachine::among_if(sled.as_ref(), laser.among(documents));
    let refused = |error| Failure::not_made(error, &documents, shown);
    let filled = with_pieces.then(|| filled(&job, &patterns.patterns));
    let filled = filled.transpose().map_err(refused)?;
    let with_guides = job.machines.at(Station::Guides).is_some()
        && wares
            .iter()
            .any(|ware| matches!(ware, Ware::Blocks | Ware::Guide));
    let guides: Option<FoundMachine<Guides>> = with_guides
        .then(|| inputs::machine_for(inputs, &MachineFlags::default(), with_path, shown))
        .transpose()?;
    let lattice = job.panel.lattice();
    let order = SheetOrder {
        machine: &laser.profile.name,
        parts: SheetParts {
            filled: filled.as_ref(),
            guides: guides.as_ref().map(|guides| &guides.machine),
            sled: sled.as_ref().map(|sled| &sled.machine),
            sled_work: job.sled,
            slots: slots.as_deref(),
            marked_in: shown.units,
            ..SheetParts::of_strips(&job.panel, lattice, &laser.machine)
        },
        files: drawing_files(&asked.output, asked.dxf.into()),
        file_name: &|at, count| numbered(&asked.output, at, count),
    };
    let (drawings, warnings) = order.drawn(&wares).map_err(refused)?;
    let mut told = Warnings::default();
    told.add(Document::Job, job.warnings.clone());
    told.add(Document::Profile(Station::Laser), warnings);
    let plan = &drawings.plan;
    let answer = match shown.format {
        Format::Text => text::sheet(&laser_sheet(plan), shown.units),
        Format::Json => {
            let safety = plan.safety();
            json::answer("lapwright/outline/1", plan, told.all(), safety.notes())?
        }
    };
    write(inputs, drawings.files)?;
    warn(&told, &documents, shown);
    print(&answer)
}

/// What names the sled that base inserts are for.
pub(super) fn sled_flags(given: Option<&str>) -> MachineFlags<'_> {
    MachineFlags {
        flag: Some("--sled"),
        ..MachineFlags::machine(given)
    }
}

/// What a file's name asks for.
fn drawing_files(output: &Path, version: DxfVersion) -> DrawingFiles {
    if has_ending(output, "svg") {
        DrawingFiles::Svg
    } else {
        DrawingFiles::Dxf(version)
    }
}

/// Whether a file's name ends so, in capitals or not.
fn has_ending(path: &Path, wanted: &str) -> bool {
    let ending = path.extension();
    ending.is_some_and(|ending| ending.eq_ignore_ascii_case(wanted))
}

/// What `--what` and the flags that go with it ask for.
pub(super) enum SoughtDrawing {
    /// The assembled panel.
    Panel,
    /// The frame's members.
    Frame,
    /// Kinds of parts, each once, and the lengths of `--slots`.
    Wares {
        wares: Vec<Ware>,
        slots: Option<Vec<f64>>,
    },
}

impl SoughtDrawing {
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
        let wares_alone = || {
            let slots = slots.map(lengths).transpose()?;
            Ok(SoughtDrawing::Wares { wares, slots })
        };
        match what {
            [What::Panel] => Ok(SoughtDrawing::Panel),
            [What::Frame] => Ok(SoughtDrawing::Frame),
            _ if what.contains(&What::Panel) => {
                refuse("--what: the assembled panel is a drawing of its own")
            }
            _ if what.contains(&What::Frame) => {
                refuse("--what: the frame's members are a drawing of their own")
            }
            _ => wares_alone(),
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
    let patterns = inputs::patterns_if_any(inputs, job, &asked.job, shown)?;
    let documents = Documents::of_job(&job.source).with_patterns(patterns.sources());
    let refused = |error| Failure::not_made(error, &documents, shown);
    let filled = (job.map.as_ref()).map(|_| filled(job, &patterns.patterns));
    let filled = filled.transpose().map_err(refused)?;
    let mut told = Warnings::default();
    told.add(Document::Job, job.warnings.clone());
    let of_pieces = filled.iter().flat_map(|filled| filled.warnings.clone());
    told.add(Document::Job, of_pieces);
    let content = if has_ending(&asked.output, "svg") {
        panel_picture(job, filled.as_ref(), shown.units)?.into_bytes()
    } else if has_ending(&asked.output, "dxf") {
        let lattice = job.panel.lattice();
        let frame = job.frame.as_ref();
        panel_dxf(lattice, filled.as_ref(), frame, asked.dxf.into()).map_err(refused)?
    } else {
        return Err(Failure::input(
            "the assembled panel is a picture or a drawing: give a file that ends in .svg or .dxf",
        ));
    };
    let path = asked.output.display().to_string();
    write(inputs, [(path.clone(), content)])?;
    warn(&told, &documents, shown);
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
                told.all(),
                safety.notes(),
            )?)
        }
    }
}

/// The frame's members, for no machine of its own.
fn members(asked: &OutlineArguments, inputs: &Inputs, job: &Job, shown: Shown) -> Outcome {
    let documents = Documents::of_job(&job.source);
    if asked.machine.is_some() {
        return Err(Failure::input(
            "--machine: a frame's members are drawn as finished parts, for no machine of its own",
        ));
    }
    let drawing = FrameDrawing {
        lattice: job.panel.lattice(),
        frame: frame_of(job, &asked.job)?,
    };
    let drawn = drawing.drawn(
        &asked.output,
        drawing_files(&asked.output, asked.dxf.into()),
    );
    let (plan, files) = drawn.map_err(|error| Failure::not_made(error, &documents, shown))?;
    let mut told = Warnings::default();
    told.add(Document::Job, job.warnings.clone());
    let answer = match shown.format {
        Format::Text => text::sheet(&frame_parts_sheet(&plan), shown.units),
        Format::Json => {
            let safety = plan.safety.notes();
            json::answer("lapwright/outline/1", &plan, told.all(), safety)?
        }
    };
    write(inputs, files)?;
    warn(&told, &documents, shown);
    print(&answer)
}

/// The job's frame.
pub(super) fn frame_of<'a>(job: &'a Job, path: &Path) -> Result<&'a Frame, Failure> {
    job.frame.as_ref().ok_or_else(|| {
        Failure::input(format!(
            "{}: there is no [frame] in this job: it has no members to draw",
            path.display()
        ))
    })
}

impl What {
    /// The parts that it is; none for what is a drawing of its own.
    fn ware(self) -> Option<Ware> {
        match self {
            What::Strips => Some(Ware::Strips),
            What::Pieces => Some(Ware::Pieces),
            What::Lapped => Some(Ware::Lapped),
            What::Panel | What::Frame => None,
            What::Blocks => Some(Ware::Blocks),
            What::Guide => Some(Ware::Guide),
            What::Gauge => Some(Ware::Sticks),
            What::Rack => Some(Ware::Inserts),
            What::Comb => Some(Ware::Comb),
        }
    }
}

//! The job file: a panel's design and the machines that make it.

use super::fields::{Fields, with_document};
use super::grid::read_grid;
use super::infill::{InfillTable, read_infill};
use super::infill_map::unused;
use super::mixed_units::mixed_units;
use super::source::{Source, Unreadable};
use crate::finding::{Document, Finding, all_in_document};
use crate::infill::{EdgeCells, PatternMap};
use crate::lattice::{
    Bundling, Design, Frame, Grid, Joinery, LapRule, MemberWidths, Panel, StripSection,
    USUAL_LEAST_FLOOR_MM, Weave,
};
use crate::machines::Station;
use crate::units::Kind;
use std::collections::BTreeMap;

/// Least wood between notches where a job does not say. Common practice, no source, mm.
pub(super) const USUAL_LEAST_WEB_MM: f64 = 2.0;

/// A job that can be built.
#[derive(Debug, Clone)]
pub struct Job {
    /// The panel.
    pub panel: Panel,
    /// The frame that takes the strips' ends, if there is one.
    pub frame: Option<Frame>,
    /// Which cell takes which pattern, if there are pieces.
    pub map: Option<PatternMap>,
    /// What becomes of cells that the panel's edge cuts.
    pub edge: EdgeCells,
    /// Names or paths of profiles, as written.
    pub machines: MachineNames,
    /// Where warnings about it point.
    pub source: Source,
    /// What is unusual.
    pub warnings: Vec<Finding>,
}

impl Job {
    /// Names or paths of the patterns of its pieces, as written, each once.
    pub fn pattern_names(&self) -> impl Iterator<Item = &str> {
        let named = self.map.iter().flat_map(|map| &map.patterns);
        named.map(|named| named.name.as_str())
    }
}

/// The profiles that a job names, by where the machines stand.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct MachineNames(BTreeMap<Station, String>);

impl MachineNames {
    /// The name or path of the profile of the machine that stands there.
    pub fn at(&self, station: Station) -> Option<&str> {
        self.0.get(&station).map(String::as_str)
    }

    /// Every station that has a machine.
    pub fn stations(&self) -> impl Iterator<Item = Station> {
        self.0.keys().copied()
    }
}

/// Reads the text of a job file and checks the panel that it describes; `name` is what messages
/// call it. Machines and the pattern are names still: whoever asks for them reads their texts, with
/// [`read_machine`](super::read_machine) and [`read_pattern`](super::read_pattern).
///
/// # Errors
/// All that is wrong with it: with the text, or, where that is sound, with the panel.
pub fn read_job(name: &str, text: &str) -> Result<Job, Unreadable> {
    let (mut log, read) = with_document(name, text, read_tables);
    let lengths = std::mem::take(&mut log.lengths);
    let (tables, source) = log.outcome(read)?;
    let (infill, edge, choice) = match tables.infill {
        Some(read) => (Some(read.infill), read.edge, Some(read.choice)),
        None => (None, EdgeCells::default(), None),
    };
    let panel = match Panel::new(Design {
        title: tables.title,
        grid: tables.grid,
        strip: tables.strip,
        infill,
    }) {
        Ok(panel) => panel,
        Err(findings) => return Err(Unreadable { source, findings }),
    };
    let map = match choice.map(|choice| choice.map(&panel, edge)).transpose() {
        Ok(map) => map,
        Err(findings) => return Err(Unreadable { source, findings }),
    };
    let mut warnings = panel.warnings().to_vec();
    warnings.extend(map.iter().flat_map(unused));
    warnings.extend(mixed_units(&lengths, &panel));
    Ok(Job {
        panel,
        frame: tables.frame,
        map,
        edge,
        machines: tables.machines,
        source,
        warnings: all_in_document(warnings, Document::Job),
    })
}

/// What a job's tables say, before it is known whether they go together.
struct JobTables {
    title: String,
    grid: Grid,
    strip: StripSection,
    infill: Option<InfillTable>,
    frame: Option<Frame>,
    machines: MachineNames,
}

fn read_tables(top: Fields<'_>) -> Option<JobTables> {
    let title = top.required_text("title");
    let grid = top.required_table("grid").and_then(read_grid);
    let strip = top.required_table("strip").and_then(read_strip);
    let infill = top.optional_table("infill", |fields| read_infill(fields, strip.as_ref()));
    let frame = top.optional_table("frame", |fields| read_frame(fields, strip.as_ref()));
    let machines = match top.table("machines") {
        Some(fields) => read_machines(fields),
        None => MachineNames::default(),
    };
    top.finish();
    Some(JobTables {
        title: title?,
        grid: grid?,
        strip: strip?,
        infill: infill?,
        frame: frame?,
        machines,
    })
}

/// The section of the stock at hand: what is measured of it goes before what is drawn.
fn read_strip(fields: Fields<'_>) -> Option<StripSection> {
    let thickness = fields.required_quantity("thickness", Kind::Length);
    let depth = fields.required_quantity("depth", Kind::Length);
    let measured =
        |key, drawn: Option<f64>| fields.quantity_or(key, Kind::Length, drawn.unwrap_or_default());
    let stock_thickness = measured("measured_thickness", thickness);
    let stock_depth = measured("measured_depth", depth);
    let clearance = fields.quantity_or("clearance", Kind::SignedLength, 0.0);
    let least_web = fields.quantity_or("least_web", Kind::Length, USUAL_LEAST_WEB_MM);
    let wood = fields.text("wood");
    let joinery = read_joinery(&fields);
    fields.finish();
    let drawn = StripSection {
        thickness: thickness?,
        depth: depth?,
        clearance: clearance?,
        drawn: None,
        least_web: least_web?,
        wood,
        joinery: joinery?,
    };
    Some(drawn.in_stock(stock_thickness?, stock_depth?))
}

fn read_joinery(fields: &Fields<'_>) -> Option<Joinery> {
    let kept = if fields.has("keeps") {
        fields.quantities("keeps", Kind::Length).map(Some)
    } else {
        Some(None)
    };
    let least_floor = fields.quantity_or("least_floor", Kind::Length, USUAL_LEAST_FLOOR_MM);
    let rules = [
        ("least-cut", LapRule::LeastCut),
        ("same-depth", LapRule::SameDepth),
    ];
    let weaves = [
        ("one-face", Weave::OneFace),
        ("alternate", Weave::Alternate),
    ];
    let bundlings = [("equal", Bundling::Equal), ("runs", Bundling::Runs)];
    let rule = fields.choice_or_usual("lap", &rules);
    let weave = fields.choice_or_usual("weave", &weaves);
    let bundling = fields.choice_or_usual("bundling", &bundlings);
    Some(Joinery {
        kept: kept?,
        least_floor: least_floor?,
        rule: rule?,
        weave: weave?,
        bundling: bundling?,
    })
}

/// Trimmed ends stop so far before their mortises' floors where a job does not say: room for glue and
/// dust, so that the rails come home. Common practice, no source, mm.
const USUAL_END_GAP_MM: f64 = 0.5;

/// A frame; its rails start at the outermost strips and hold the panel in their middle where the
/// job does not say. `strip`: nothing where it is wrong, which is told already; what follows from it
/// is then wrong as well, and goes nowhere.
fn read_frame(fields: Fields<'_>, strip: Option<&StripSection>) -> Option<Frame> {
    let strip_thickness = strip.map_or(0.0, |strip| strip.thickness);
    let strip_depth = strip.map_or(0.0, |strip| strip.depth);
    let thickness = fields.required_quantity("thickness", Kind::Length);
    let mortise_depth = fields.required_quantity("mortise_depth", Kind::Length);
    let margin = fields.quantity_or("margin", Kind::Length, strip_thickness / 2.0);
    let middle = (thickness.unwrap_or_default() - strip_depth) / 2.0;
    let setback = fields.quantity_or("setback", Kind::Length, middle);
    let clearance = fields.quantity_or("clearance", Kind::Length, 0.0);
    fields.alias(fields.path("end_gap"), fields.path("mortise_depth"));
    let end_gap = fields.quantity_or("end_gap", Kind::Length, USUAL_END_GAP_MM);
    let widths = read_widths(&fields);
    fields.finish();
    Some(Frame {
        margin: margin?,
        thickness: thickness?,
        setback: setback?,
        mortise_depth: mortise_depth?,
        clearance: clearance?,
        end_gap: end_gap?,
        widths: widths?,
    })
}

/// `width` for all members, or `widths`, one for each; a frame without is told without its mitres.
fn read_widths(fields: &Fields<'_>) -> Option<Option<MemberWidths>> {
    let each = fields.has("widths");
    if fields.has("width") && each {
        fields.report(
            Finding::error(
                "both-given",
                fields.path("widths"),
                "`width` is given as well",
            )
            .hint("leave one out: `width` is that of all members, `widths` has one for each"),
        );
        return None;
    }
    if fields.has("width") {
        let width = fields.positive_length("width")?;
        return Some(Some(MemberWidths::Same(width)));
    }
    if !each {
        return Some(None);
    }
    let widths = fields.quantities("widths", Kind::Length)?;
    let path = fields.path("widths");
    let none = (0..).zip(&widths).filter(|(_, width)| **width <= 0.0);
    let none: Vec<usize> = none.map(|(at, _)| at).collect();
    for at in &none {
        let text = "this must be above zero";
        fields.report(Finding::error(
            "not-positive",
            format!("{path}[{at}]"),
            text,
        ));
    }
    none.is_empty().then_some(Some(MemberWidths::Each(widths)))
}

fn read_machines(fields: Fields<'_>) -> MachineNames {
    let named = |station: Station| Some((station, fields.text(station.name())?));
    let names = Station::ALL.into_iter().filter_map(named).collect();
    fields.finish();
    MachineNames(names)
}

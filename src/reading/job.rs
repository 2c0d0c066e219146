//! The job file: a panel's design and the machines that make it.

use super::as_built::{Built, read_as_built};
use super::climate::read_climate;
use super::fields::{Fields, with_document};
use super::fit::read_fit_wishes;
use super::frame::{FrameTable, read_frame};
use super::grid::read_grid;
use super::infill::{InfillTable, read_infill};
use super::infill_map::unused;
use super::mixed_units::mixed_units;
use super::opening::{read_opening, read_wish};
use super::rates::read_rates;
use super::reference::JOB;
use super::sled_work::{read_sled_work, usual_sled_work};
use super::source::{Source, Unreadable};
use super::stock::read_stock;
use crate::finding::{Document, Finding, all_in_document};
use crate::infill::{EdgeCells, PatternMap};
use crate::lattice::{
    Bundling, ByStrips, Design, FitWishes, Frame, Grid, Joinery, LapRule, MeasuredBays, Panel,
    StripSection, USUAL_LEAST_FLOOR_MM, Weave,
};
use crate::machines::{Rates, SledWork, Station, StockWishes};
use crate::opening::{Fitted, Framing, GridWish, MeasuredAt, Opening, Surroundings, fit};
use crate::units::Kind;
use crate::woods::Climate;
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
    /// How it goes into the opening that the job starts from, if it does.
    pub fitted: Option<Fitted>,
    /// Which cell takes which pattern, if there are pieces.
    pub map: Option<PatternMap>,
    /// What becomes of cells that the panel's edge cuts.
    pub edge: EdgeCells,
    /// Names or paths of profiles, as written.
    pub machines: MachineNames,
    /// How strips are notched on a sled.
    pub sled: SledWork,
    /// How long work by hand takes.
    pub rates: Rates,
    /// What a prediction of its fit is held against.
    pub fit: FitWishes,
    /// The air that its wood goes through.
    pub climate: Climate,
    /// The wood that it is made of, and how that is milled.
    pub stock: StockWishes,
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
    let (mut log, read) = with_document(name, text, |_| Some(&JOB), read_tables);
    let lengths = std::mem::take(&mut log.lengths);
    let (tables, source) = log.outcome(read)?;
    let (infill, edge, choice) = match tables.infill {
        Some(read) => (Some(read.infill), read.edge, Some(read.choice)),
        None => (None, EdgeCells::default(), None),
    };
    let panel = Panel::new(Design {
        title: tables.title,
        grid: tables.grid,
        strip: tables.strip,
        infill,
    });
    let drawn = panel.map(|panel| Built {
        panel,
        frame: tables.frame,
        fitted: tables.fitted,
    });
    let built = match &tables.as_built {
        Some(bays) => drawn.and_then(|drawn| drawn.with_bays(bays)),
        None => drawn,
    };
    let Built {
        panel,
        frame,
        fitted,
    } = match built {
        Ok(built) => built,
        Err(findings) => return Err(Unreadable { source, findings }),
    };
    let map = match choice.map(|choice| choice.map(&panel, edge)).transpose() {
        Ok(map) => map,
        Err(findings) => return Err(Unreadable { source, findings }),
    };
    let mut warnings = panel.warnings().to_vec();
    warnings.extend(map.iter().flat_map(unused));
    warnings.extend(mixed_units(&lengths, &panel));
    warnings.extend(fitted.iter().flat_map(Fitted::warnings));
    Ok(Job {
        panel,
        frame,
        fitted,
        map,
        edge,
        machines: tables.machines,
        sled: tables.sled,
        rates: tables.rates,
        fit: tables.fit,
        climate: tables.climate,
        stock: tables.stock,
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
    fitted: Option<Fitted>,
    as_built: Option<MeasuredBays>,
    machines: MachineNames,
    sled: SledWork,
    rates: Rates,
    fit: FitWishes,
    climate: Climate,
    stock: StockWishes,
}

/// The grid as drawn, or as wished for in an opening.
enum GridTable {
    Drawn(Grid),
    Wished(GridWish),
}

fn read_tables(top: Fields<'_>) -> Option<JobTables> {
    let title = top.required_text("title");
    let opening = top.optional_table("opening", read_opening);
    let grid = top.required_table("grid").and_then(|fields| {
        if top.has("opening") {
            read_wish(fields).map(GridTable::Wished)
        } else {
            read_grid(fields).map(GridTable::Drawn)
        }
    });
    let strip = top.required_table("strip").and_then(read_strip);
    let infill = top.optional_table("infill", |fields| read_infill(fields, strip.as_ref()));
    let frame = top.optional_table("frame", |fields| read_frame(fields, strip.as_ref()));
    let as_built = top.optional_table("as_built", read_as_built);
    let machines = match top.table("machines") {
        Some(fields) => read_machines(fields),
        None => MachineNames::default(),
    };
    let rates = top.optional_table("rates", read_rates);
    let sled = top.optional_table("sled", |fields| read_sled_work(fields, top.has("infill")));
    let fit = top.optional_table("fit", read_fit_wishes);
    let climate = top.optional_table("climate", read_climate);
    let stock = top.optional_table("stock", read_stock);
    let laid = match (grid, opening, strip.as_ref(), frame) {
        (Some(GridTable::Drawn(grid)), _, _, Some(frame)) => Some(LaidGrid {
            grid,
            frame: frame.map(|table| table.frame),
            fitted: None,
        }),
        (Some(GridTable::Wished(wish)), Some(Some(opening)), Some(strip), Some(frame)) => {
            in_opening(&top, &opening, &wish, strip, frame)
        }
        _ => None,
    };
    let has_infill = top.has("infill");
    top.finish();
    let LaidGrid {
        grid,
        frame,
        fitted,
    } = laid?;
    Some(JobTables {
        title: title?,
        grid,
        strip: strip?,
        infill: infill?,
        frame,
        fitted,
        as_built: as_built?,
        machines,
        sled: sled?.unwrap_or_else(|| usual_sled_work(has_infill)),
        rates: rates?.unwrap_or_default(),
        fit: fit?.unwrap_or_default(),
        climate: climate?.unwrap_or_default(),
        stock: stock?.unwrap_or_default(),
    })
}

/// A grid with the frame round it.
struct LaidGrid {
    grid: Grid,
    frame: Option<Frame>,
    fitted: Option<Fitted>,
}

/// The grid that is wished for in the opening; the frame's margins follow.
fn in_opening(
    top: &Fields<'_>,
    opening: &Opening,
    wish: &GridWish,
    strip: &StripSection,
    frame: Option<FrameTable>,
) -> Option<LaidGrid> {
    if frame.as_ref().is_some_and(|frame| frame.margin_is_given) {
        let text = "the margin follows from the opening";
        let hint = "leave it out; the least that it may be is `least_margin` in [grid]";
        top.report(Finding::error("said-twice", "frame.margin", text).hint(hint));
        return None;
    }
    let framing = match &frame {
        None => Framing::Flush,
        Some(frame) => frame.framing(top)?,
    };
    if opening.play > 0.0 && opening.at == MeasuredAt::Inside && frame.is_some() {
        let text = "play inside a frame that holds the strips in mortises is none";
        let hint = "leave it out; between a frame and the hole it is measured = \"hole\"";
        top.report(Finding::error("said-twice", "opening.play", text).hint(hint));
        return None;
    }
    if opening.at == MeasuredAt::Inside && frame.is_some() && !opening.measures.is_plain() {
        let text = "a frame that is made for this panel is made square";
        let hint = "give `width` and `height` alone; for a frame that is there and out of square leave [frame] out: the panel is cut off flush to go into it";
        top.report(Finding::error("frame-is-square", "opening", text).hint(hint));
        return None;
    }
    let frame = frame.map(|table| table.frame);
    let around = Surroundings {
        thickness: strip.thickness,
        framing,
        let_in: frame
            .as_ref()
            .map_or(0.0, |frame| frame.mortise_depth - frame.end_gap),
    };
    match fit(opening, wish, around) {
        Ok(fitted) => Some(LaidGrid {
            grid: fitted.grid.clone(),
            frame: frame.map(|frame| Frame {
                margins: fitted.margins,
                by_strips: ByStrips {
                    margins: false,
                    ..frame.by_strips
                },
                ..frame
            }),
            fitted: Some(fitted),
        }),
        Err(faults) => {
            faults.into_iter().for_each(|fault| top.report(fault));
            None
        }
    }
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
    let density = fields.density();
    let joinery = read_joinery(&fields);
    fields.finish();
    let drawn = StripSection {
        thickness: thickness?,
        depth: depth?,
        clearance: clearance?,
        drawn: None,
        least_web: least_web?,
        wood,
        density: density?,
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

fn read_machines(fields: Fields<'_>) -> MachineNames {
    let named = |station: Station| Some((station, fields.text(station.name())?));
    let names = Station::ALL.into_iter().filter_map(named).collect();
    fields.finish();
    MachineNames(names)
}

//! What the seasons do to a panel's wood, in words.

use super::overview::{OverviewLine, figure};
use crate::instructions::movement::{
    AirFigures, CutToday, FrameSeason, MovementPlan, Range, Season, WoodMovement,
};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{AtLeast, AtMost, Brief};

/// Lengths are printed with two decimals: whether two of them look alike.
fn look_alike([least, most]: Range) -> bool {
    let [least, most] = [least, most].map(|mm| (mm * 100.0).round());
    (most - least).abs() < 0.5
}

/// All that is told, in the order in which it is asked for.
pub fn movement_lines(plan: &MovementPlan) -> Vec<OverviewLine> {
    let [driest, dampest] = &plan.seasons;
    let mut lines = vec![
        OverviewLine::new("wood", wood_words(&plan.strips)),
        OverviewLine::new("bench", air_words(&plan.bench)),
        OverviewLine::new("driest", air_words(&driest.air)),
        OverviewLine::new("dampest", air_words(&dampest.air)),
        OverviewLine::new("strips", thickness_words(plan)),
        OverviewLine::new("laps", lap_words(plan)),
        OverviewLine::new("cells", cell_words(plan)),
    ];
    if let Some(frames) = driest.frame.as_ref().zip(dampest.frame.as_ref()) {
        lines.push(OverviewLine::new("frame", frame_words(frames.0, frames.1)));
    }
    lines.push(OverviewLine::new(
        "never forced",
        free_words(plan.free_all_year),
    ));
    lines.push(OverviewLine::new(
        "never loose",
        tight_words(plan.tight_all_year),
    ));
    let airs = [&plan.bench, &driest.air, &dampest.air];
    if airs.iter().any(|air| !air.is_own) {
        let words = "your own humidities go into the job: [climate], `lapwright help job`";
        lines.push(OverviewLine::new("examples", words.into()));
    }
    lines.push(OverviewLine::new(
        "mind",
        "single boards scatter widely about such figures; wood follows the air in days to weeks, and glued laps \
         cannot slide"
            .into(),
    ));
    lines
}

fn wood_words(wood: &WoodMovement) -> Phrase {
    let name = wood.wood.as_deref().unwrap_or("wood");
    format!(
        "{name}; for each percent of moisture {} % across the growth rings, {} % along them ({}: {})",
        figure(wood.radial_percent, 3),
        figure(wood.tangential_percent, 3),
        wood.basis.words(),
        wood.source
    )
    .into()
}

fn air_words(air: &AirFigures) -> Phrase {
    let moisture = figure(air.moisture_percent, 1);
    let example = if air.is_own { "" } else { " (an example)" };
    match air.humidity_percent {
        Some(humidity) => format!(
            "{} % relative humidity{example}: at 20 \u{b0}C wood comes to {moisture} % of moisture",
            figure(humidity, 0)
        ),
        None => format!("{moisture} % of moisture in the wood"),
    }
    .into()
}

/// One after the other.
fn sentence<const N: usize>(parts: [Phrase; N]) -> Phrase {
    let mut words = Phrase::default();
    parts.into_iter().for_each(|part| words.append(part));
    words
}

/// Both figures where the rings decide between them.
fn changed(range: Range) -> Phrase {
    let [least, most] = range;
    if look_alike(range) {
        return change(most);
    }
    sentence([change(least), " to ".into(), change(most)])
}

/// With its sign, so that nobody has to guess which way.
fn change(mm: f64) -> Phrase {
    if mm < 0.0 {
        phrase!("{}", Brief(mm))
    } else {
        phrase!("+{}", Brief(mm))
    }
}

fn spanned(range: Range) -> Phrase {
    let [least, most] = range;
    if look_alike(range) {
        return phrase!("{}", Brief(most));
    }
    phrase!("{} to {}", Brief(least), Brief(most))
}

/// The same of both seasons.
fn both(plan: &MovementPlan, of: impl Fn(&Season) -> Phrase) -> Phrase {
    let [driest, dampest] = &plan.seasons;
    sentence([
        of(driest),
        " at the driest, ".into(),
        of(dampest),
        " at the dampest".into(),
    ])
}

fn thickness_words(plan: &MovementPlan) -> Phrase {
    sentence([
        phrase!(
            "{} thick at the bench, as they are cut; ",
            Brief(plan.thickness_mm)
        ),
        both(plan, |season| changed(season.thickness_change_mm)),
        ". Depth: ".into(),
        both(plan, |season| changed(season.depth_change_mm)),
        ". Lengths hardly change".into(),
    ])
}

fn lap_words(plan: &MovementPlan) -> Phrase {
    sentence([
        phrase!(
            "notch less strip {} as cut (`strip.clearance`); ",
            Brief(plan.clearance_mm)
        ),
        both(plan, |season| spanned(season.clearance_mm)),
        ". Below zero the notch squeezes its strip".into(),
    ])
}

fn cell_words(plan: &MovementPlan) -> Phrase {
    sentence([
        "between strips' faces, square to them: ".into(),
        both(plan, |season| changed(season.opening_change_mm)),
        "; pieces keep their lengths".into(),
    ])
}

fn frame_words(driest: &FrameSeason, dampest: &FrameSeason) -> Phrase {
    let mut words = sentence([
        phrase!("a member {} wide: ", Brief(driest.width_mm)),
        changed(driest.width_change_mm),
        " at the driest, ".into(),
        changed(dampest.width_change_mm),
        " at the dampest".into(),
    ]);
    if let Some((dry, damp)) = driest.mitre_gap_mm.zip(dampest.mitre_gap_mm) {
        words.append(sentence([
            ". Mitres want to open by ".into(),
            spanned(dry),
            " at their inner ends when it is driest, by ".into(),
            spanned(damp),
            " at their outer ends when it is dampest".into(),
        ]));
    }
    words
}

fn free_words(cut: CutToday) -> Phrase {
    sentence([
        phrase!(
            "with `strip.clearance` at {} no lap is squeezed all year; it is then ",
            AtLeast(cut.clearance_mm)
        ),
        spanned(cut.over_the_year_mm),
        " in the room".into(),
    ])
}

fn tight_words(cut: CutToday) -> Phrase {
    sentence([
        phrase!(
            "with it at {} no lap is loose all year; it is then ",
            AtMost(cut.clearance_mm)
        ),
        spanned(cut.over_the_year_mm),
        " in the room, and what is below zero has to be crushed".into(),
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_printed_alike_looks_alike() {
        assert!(look_alike([2.996, 3.004]) && look_alike([0.0, 0.004]));
        assert!(!look_alike([3.004, 3.006]) && !look_alike([2.9, 3.1]));
    }
}

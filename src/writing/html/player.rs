//! A program that is played over the picture of its bundle: what the script is told of it.

use super::{failed, svg};
use crate::geometry::Point;
use crate::instructions::drawing::Drawing;
use crate::instructions::sheet::{Play, PlayStop};
use crate::instructions::tool_path::Position;
use crate::units::{Feed, MM_PER_INCH, UnitSystem, decimal};

/// The picture with the tool at the first move's end, for the script to move.
pub(super) fn drawn_with_tool(play: &Play) -> Result<String, askama::Error> {
    let Drawing { low, high, .. } = play.picture.drawing;
    let number = |value: f64| decimal(value, 3).map_err(failed);
    let at = match play.stops.first() {
        Some(stop) => Point::new(stop.at.x, stop.at.y),
        None => Point::new(low.x, high.y),
    };
    let tool = format!(
        "<circle class=\"tool\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
        number(at.x - low.x)?,
        number(high.y - at.y)?,
        number(play.diameter / 2.0)?
    );
    svg::inline(&play.picture.drawing, &tool, "only").map_err(failed)
}

fn place(at: Position, scale: f64, places: u32) -> Result<String, askama::Error> {
    let number = |value: f64| decimal(value / scale, places).map_err(failed);
    Ok(format!(
        "{},{},{}",
        number(at.x)?,
        number(at.y)?,
        number(at.z)?
    ))
}

/// Where every move ends, in mm, with its notch, `c` where it cuts, and its line in the program.
pub(super) fn way(play: &Play) -> Result<String, askama::Error> {
    let stops = play.stops.iter().map(|stop| {
        let cuts = if stop.cuts { "c" } else { "" };
        let line = stop.line.map_or(String::new(), |line| line.to_string());
        let at = place(stop.at, 1.0, 3)?;
        Ok(format!("{at},{},{cuts},{line}", stop.notch))
    });
    Ok(stops.collect::<Result<Vec<_>, askama::Error>>()?.join(";"))
}

/// The same in inches, places alone.
pub(super) fn way_inches(play: &Play) -> Result<String, askama::Error> {
    let stops = play.stops.iter().map(|stop| place(stop.at, MM_PER_INCH, 4));
    Ok(stops.collect::<Result<Vec<_>, _>>()?.join(";"))
}

/// How fast every move is, as it is read; `rapid` where it is as fast as the machine can.
pub(super) fn feeds(play: &Play) -> String {
    feeds_in(play, UnitSystem::Millimetres)
}

/// The same in inches.
pub(super) fn feeds_inches(play: &Play) -> String {
    feeds_in(play, UnitSystem::Inches)
}

fn feeds_in(play: &Play, units: UnitSystem) -> String {
    let one = |stop: &PlayStop| match stop.feed {
        Some(feed) => Feed(feed).text(units),
        None => "rapid".to_owned(),
    };
    play.stops.iter().map(one).collect::<Vec<_>>().join(";")
}

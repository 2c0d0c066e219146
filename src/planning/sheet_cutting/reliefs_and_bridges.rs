//! What a cutter needs besides the finished outlines: reliefs in corners, bridges.

use super::bridges::bridges;
use super::relief::{ReliefError, relieved};
use crate::finding::Finding;
use crate::instructions::outline::{CutPart, CutPath, CutWork};
use crate::machines::Cutter;
use crate::phrase;
use crate::units::Mm;

/// The parts with a relief in every concave corner.
pub(super) fn with_relief(
    parts: &[CutPart],
    cutter: &Cutter,
) -> Result<Vec<CutPart>, Vec<Finding>> {
    let mut all = Vec::with_capacity(parts.len());
    for part in parts {
        let ring = |ring, inside| {
            relieved(ring, inside, cutter).map_err(|error| vec![fault(part, error, cutter)])
        };
        let holes: Result<Vec<_>, _> = part.holes.iter().map(|hole| ring(hole, false)).collect();
        all.push(CutPart {
            outer: ring(&part.outer, true)?,
            holes: holes?,
            ..part.clone()
        });
    }
    Ok(all)
}

fn fault(part: &CutPart, error: ReliefError, cutter: &Cutter) -> Finding {
    let name = part.name.as_str();
    let (code, text, hint) = match error {
        ReliefError::TooNarrow(side) => (
            "cutter-too-wide",
            phrase!(
                "{}: a cutter of {} does not go between corners {} apart",
                name,
                Mm(cutter.diameter),
                Mm(side)
            ),
            "a thinner cutter",
        ),
        ReliefError::Merge(side, taken) => (
            "reliefs-merge",
            phrase!(
                "{}: the reliefs of its corners take {} of a side of {}: nothing of it would be left for the mate to sit on",
                name,
                Mm(taken),
                Mm(side)
            ),
            "a thinner cutter, or relief = \"tee\" where the floor of a notch is short, \"bone\" where its walls are",
        ),
        ReliefError::BreaksThrough => (
            "relief-breaks-through",
            phrase!(
                "{}: a relief for a cutter of {} leaves less than a millimetre of wood beside it",
                name,
                Mm(cutter.diameter)
            ),
            "a thinner cutter",
        ),
    };
    Finding::error(code, "cutter.diameter", text).hint(hint)
}

/// The strokes of the bridges.
pub(super) fn bridge_paths(
    parts: &[CutPart],
    cutter: &Cutter,
) -> Result<Vec<CutPath>, Vec<Finding>> {
    let mut paths = Vec::new();
    for part in parts {
        let Some(strokes) = bridges(part, cutter) else {
            let count = cutter.bridges.map_or(0, |bridges| bridges.count);
            let width = cutter.bridges.map_or(0.0, |bridges| bridges.width);
            let text = phrase!(
                "{}: its sides along the grain have no room for {} bridges of {} clear of its corners",
                part.name.as_str(),
                count,
                Mm(width)
            );
            let fault = Finding::error("no-room-for-bridges", "bridges.width", text);
            return Err(vec![fault.hint(
                "fewer or narrower bridges; or hold the sheet down by tape and leave [bridges] out",
            )]);
        };
        paths.extend(strokes.into_iter().map(|points| CutPath {
            work: CutWork::Bridges,
            closed: false,
            points: points.to_vec(),
        }));
    }
    Ok(paths)
}

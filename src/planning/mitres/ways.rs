//! The ways to make a piece's mitres, side by side.

use crate::instructions::end_letter::EndLetter;
use crate::instructions::mitres::{MitrePlan, MitreSetting, StickFigures};
use crate::instructions::pare::{ParePlan, PieceFigures, WayFigures};
use crate::lattice::PieceWay;
use crate::planning::paring::MachinedEnds;

/// All pared: `plan` is that of guides alone.
pub fn pared_ways(plan: &ParePlan) -> Vec<WayFigures> {
    let made = plan.pieces.iter().filter(|piece| piece.made > 0);
    let way = |piece: &PieceFigures| {
        let facets = facets(piece, &EndLetter::BOTH);
        WayFigures {
            piece: piece.number,
            name: piece.name.clone(),
            way: PieceWay::Guides,
            machine: plan.machine.clone(),
            settings: facets,
            cuts: 0,
            sticks: 0,
            facets_cut: 0,
            facets_pared: facets * piece.made,
        }
    };
    made.map(way).collect()
}

/// What a sled makes of each kind of piece; kinds that it makes nothing of are left out. `pieces` are
/// those of the list, by their numbers.
pub fn sawn_ways(plan: &MitrePlan, pieces: &[PieceFigures]) -> Vec<WayFigures> {
    let way = |sticks: &StickFigures| {
        let piece = pieces.iter().find(|piece| piece.number == sticks.piece)?;
        let of_it = |setting: &&MitreSetting| setting.cuts_of(sticks) > 0;
        let cut = facets(piece, &sticks.cut_ends);
        let all = facets(piece, &EndLetter::BOTH);
        Some(WayFigures {
            piece: sticks.piece,
            name: sticks.name.clone(),
            way: plan.way,
            machine: Some(plan.machine.clone()),
            settings: plan.settings.iter().filter(of_it).count(),
            cuts: plan.settings.iter().map(|one| one.cuts_of(sticks)).sum(),
            sticks: sticks.count,
            facets_cut: cut * sticks.needed,
            facets_pared: (all - cut) * sticks.needed,
        })
    };
    plan.sticks.iter().filter_map(way).collect()
}

fn facets(piece: &PieceFigures, ends: &[EndLetter]) -> usize {
    let both = EndLetter::BOTH.into_iter().zip(&piece.ends);
    let counted = both.filter(|(letter, _)| ends.contains(letter));
    counted.map(|(_, end)| end.facets.len()).sum()
}

/// The ends that a sled cuts, for what stays for the guides.
pub fn machined_ends(plan: &MitrePlan) -> Vec<MachinedEnds> {
    let ends = |sticks: &StickFigures| MachinedEnds {
        piece: sticks.piece,
        ends: sticks.cut_ends.clone(),
        laps: plan.way == PieceWay::Rows,
    };
    plan.sticks.iter().map(ends).collect()
}

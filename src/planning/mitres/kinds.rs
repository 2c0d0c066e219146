//! Which pieces a sled is asked for, and which of their ends it reaches.

use super::reach::reach;
use crate::infill::{End, Infilling, PieceKind};
use crate::instructions::end_letter::EndLetter;
use crate::instructions::mitres::{LeftBecause, LeftForGuides};
use crate::machines::{Sled, SledMitres};
use crate::planning::paring::pieces_made;
use crate::planning::sled::slant::Slant;

/// A kind of piece that is made whole.
#[derive(Clone, Copy)]
pub(super) struct MadeKind<'a> {
    /// From 1, as in pictures.
    pub(super) number: usize,
    pub(super) kind: &'a PieceKind,
    pub(super) made: usize,
}

/// Kinds of pieces that are made whole; those that are trimmed later are among them.
pub(super) fn made_kinds(filled: &Infilling) -> Vec<MadeKind<'_>> {
    let kinds = filled.kinds.iter().enumerate();
    let made = kinds.map(|(at, kind)| MadeKind {
        number: at + 1,
        kind,
        made: pieces_made(filled, at, kind),
    });
    made.filter(|kind| kind.made > 0).collect()
}

impl MadeKind<'_> {
    /// Which of its ends the sled reaches with all their facets, the first end first: of a mouth none, since
    /// a blade goes on beyond its apex.
    pub(super) fn reached(&self, sled: &Sled, mitres: &SledMitres) -> [bool; 2] {
        let ends = self.kind.figures.ends();
        ends.map(|end| end.mouth().is_none() && not_reached(end, sled, mitres).is_none())
    }

    /// Why all of it stays for the guides, where it does: sticks of one section are sawn, and a V that ends
    /// before the far side of a stick is no cut for a sled.
    pub(super) fn all_left(&self, filled: &Infilling) -> Option<LeftForGuides> {
        let why = if !self.kind.stock.is_like(&filled.most_stock) {
            LeftBecause::OtherWood
        } else if !self.kind.figures.folds.is_empty() {
            LeftBecause::Folded
        } else {
            return None;
        };
        Some(self.left([true, true], why))
    }

    /// How many facets some of its ends have.
    pub(super) fn facets_of(&self, ends: [bool; 2]) -> usize {
        let both = self.kind.figures.ends().into_iter().zip(ends);
        let counted = both.filter(|(_, counted)| *counted);
        counted.map(|(end, _)| end.facets.len()).sum()
    }

    /// Some of its ends, which stay for guides.
    pub(super) fn left(&self, ends: [bool; 2], why: LeftBecause) -> LeftForGuides {
        let both = EndLetter::BOTH.into_iter().zip(self.kind.figures.ends());
        let left = both.zip(ends).filter(|(_, left)| *left);
        let left: Vec<(EndLetter, &End)> = left.map(|(end, _)| end).collect();
        let facets: usize = left.iter().map(|(_, end)| end.facets.len()).sum();
        LeftForGuides {
            piece: self.number,
            name: self.kind.name.clone(),
            ends: left.into_iter().map(|(letter, _)| letter).collect(),
            facets: facets * self.made,
            why,
        }
    }

    /// What of its ends stays for guides whatever the row, and why.
    pub(super) fn out_of_reach(&self, sled: &Sled, mitres: &SledMitres) -> Vec<LeftForGuides> {
        let ends = self.kind.figures.ends();
        let mouths = ends.map(|end| end.mouth().is_some());
        let out = ends.map(|end| match end.mouth() {
            Some(_) => None,
            None => not_reached(end, sled, mitres),
        });
        let mouth = mouths
            .contains(&true)
            .then_some((mouths, LeftBecause::Mouth));
        let steepest = out.into_iter().flatten().reduce(f64::min);
        let angle = steepest.map(|jig_angle| {
            let ends = out.map(|angle| angle.is_some());
            (ends, LeftBecause::NotReached { jig_angle })
        });
        let left = mouth.into_iter().chain(angle);
        left.map(|(ends, why)| self.left(ends, why)).collect()
    }

    /// Why none of its ends is cut in a row, where one of its half laps is out of reach: laps are cut on
    /// the long stick, before the mitres.
    pub(super) fn lap_out_of_reach(&self, sled: &Sled, mitres: &SledMitres) -> Option<LeftBecause> {
        let laps = self.kind.figures.laps.iter();
        let slants = laps.map(|lap| Slant::new(lap.face, lap.angle));
        let out = slants.filter(|slant| reach(*slant, sled, mitres).is_none());
        let jig_angle = out.map(Slant::to_blade).reduce(f64::min)?;
        Some(LeftBecause::LapNotReached { jig_angle })
    }
}

/// The sharpest angle of an end that is out of reach, radians in (0, pi/2].
fn not_reached(end: &End, sled: &Sled, mitres: &SledMitres) -> Option<f64> {
    let slants = end.facets.iter().map(|facet| Slant(facet.jig_angle));
    let out = slants.filter(|slant| reach(*slant, sled, mitres).is_none());
    out.map(Slant::to_blade).reduce(f64::min)
}

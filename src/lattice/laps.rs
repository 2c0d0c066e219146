//! How much of its depth each strip gives up where strips cross.

use super::design::{LapRule, StripSection};
use serde::Serialize;

/// The side of the panel that a notch enters from. Serialises as its [name](Face::name).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Face {
    /// The side seen.
    Front,
    /// The side to the wall.
    Back,
}

impl Face {
    /// `front` or `back`.
    pub fn name(self) -> &'static str {
        match self {
            Face::Front => "front",
            Face::Back => "back",
        }
    }

    /// The other side.
    pub fn opposite(self) -> Face {
        match self {
            Face::Front => Face::Back,
            Face::Back => Face::Front,
        }
    }
}

/// One strip's share of a crossing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lap {
    /// Where the notch enters.
    pub face: Face,
    /// Its depth from there, mm.
    pub depth: f64,
}

/// Where the layers part, measured from the front face, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Parting {
    /// Of two strips.
    two: f64,
    /// Of three: between front and middle, between middle and back.
    three: [f64; 2],
    /// For the first and last of three.
    rule: LapRule,
    /// Depth of the strips.
    depth: f64,
}

impl Parting {
    /// As the section says: even shares where it says nothing. What is kept is given from front
    /// to back; of three layers the middle one's middle also parts the nodes of two strips.
    pub fn of(section: &StripSection) -> Parting {
        let depth = section.depth;
        let (two, three) = match section.joinery.kept.as_deref() {
            Some(&[front, _]) => (front, [depth / 3.0, 2.0 * depth / 3.0]),
            Some(&[front, middle, _]) => (front + middle / 2.0, [front, front + middle]),
            _ => (depth / 2.0, [depth / 3.0, depth - depth / 3.0]),
        };
        Parting {
            two,
            three,
            rule: section.joinery.rule,
            depth,
        }
    }

    /// The notch that the strip in place `own` needs for the one in place `mate`, of `layers`
    /// strips (2 or 3) through one node counted from the front; `None` for places that do not
    /// exist or do not differ.
    ///
    /// The two notches of a pair add up to the whole depth: less would not close, more would
    /// leave a gap. Two strips part at half the depth, the front one keeps its front half. Three:
    /// the middle strip keeps its share, so its mates give all but theirs to it and it gives their
    /// shares to them; front and back strip, which also touch beside the middle one, part halfway
    /// through the middle strip's share, or are cut to it as well ([`LapRule::SameDepth`]).
    pub fn lap(&self, own: usize, mate: usize, layers: usize) -> Option<Lap> {
        if own >= layers || mate >= layers || own == mate {
            return None;
        }
        let [front, back] = self.three;
        // From the front face to where the pair parts, for the one in front and the one behind.
        let (keeps, gives) = match (layers, own.min(mate), own.max(mate)) {
            (2, ..) => (self.two, self.two),
            (3, 0, 1) => (front, front),
            (3, 1, 2) => (back, back),
            (3, 0, 2) if self.rule == LapRule::SameDepth => (front, back),
            (3, 0, 2) => (f64::midpoint(front, back), f64::midpoint(front, back)),
            _ => return None,
        };
        Some(if own < mate {
            Lap {
                face: Face::Back,
                depth: self.depth - keeps,
            }
        } else {
            Lap {
                face: Face::Front,
                depth: gives,
            }
        })
    }

    /// What each of `layers` strips keeps at a node, front to back, mm.
    pub fn kept(&self, layers: usize) -> Vec<f64> {
        let [front, back] = self.three;
        match layers {
            2 => vec![self.two, self.depth - self.two],
            3 => vec![front, back - front, self.depth - back],
            _ => vec![self.depth],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::Joinery;
    use float_cmp::approx_eq;

    fn parting(kept: Option<Vec<f64>>, rule: LapRule) -> Parting {
        Parting::of(&StripSection {
            joinery: Joinery {
                kept,
                rule,
                ..Joinery::default()
            },
            ..StripSection::sample(3.0)
        })
    }

    /// Depths that a strip keeps at a mate, front to back.
    fn kept(parting: &Parting, own: usize, mate: usize, layers: usize) -> (f64, f64) {
        let lap = parting.lap(own, mate, layers).unwrap();
        match lap.face {
            Face::Front => (lap.depth, 12.0),
            Face::Back => (0.0, 12.0 - lap.depth),
        }
    }

    #[test]
    fn a_face_is_serialised_as_its_name() {
        for face in [Face::Front, Face::Back] {
            let text = serde_json::to_string(&face).unwrap();
            assert_eq!(text, format!("\"{}\"", face.name()));
        }
    }

    #[test]
    fn half_lap_keeps_the_front_half_in_front() {
        // Half lap of a square grid: half the depth each. Common practice, no source.
        let even = parting(None, LapRule::LeastCut);
        assert_eq!(kept(&even, 0, 1, 2), (0.0, 6.0));
        assert_eq!(kept(&even, 1, 0, 2), (6.0, 12.0));
    }

    #[test]
    fn what_is_kept_of_one_kind_of_node_parts_the_other_too() {
        // Two strips where three are given: at the middle of the middle one's share, 3 + 5 / 2.
        let of_three = parting(Some(vec![3.0, 5.0, 4.0]), LapRule::LeastCut);
        assert_eq!(kept(&of_three, 0, 1, 2), (0.0, 5.5));
        assert_eq!(kept(&of_three, 1, 0, 2), (5.5, 12.0));
        // Three where two are given: even thirds.
        let of_two = parting(Some(vec![5.0, 7.0]), LapRule::LeastCut);
        assert_eq!(kept(&of_two, 0, 1, 2), (0.0, 5.0));
        assert_eq!(kept(&of_two, 0, 1, 3).1, 4.0);
        assert_eq!(kept(&of_two, 2, 1, 3).0, 8.0);
    }

    #[test]
    fn three_layers_fill_the_depth_at_every_crossing() {
        for given in [None, Some(vec![3.0, 5.0, 4.0])] {
            let parting = parting(given, LapRule::LeastCut);
            for own in 0..3 {
                for mate in own + 1..3 {
                    let (front, back) =
                        (kept(&parting, own, mate, 3), kept(&parting, mate, own, 3));
                    assert!(
                        approx_eq!(f64, front.1, back.0, epsilon = 1e-12),
                        "{own} before {mate}"
                    );
                }
            }
            assert!(parting.lap(1, 1, 3).is_none() && parting.lap(0, 3, 3).is_none());
            assert!(parting.lap(0, 1, 4).is_none());
            for (own, mate) in [(0, 2), (2, 0), (1, 1)] {
                assert!(parting.lap(own, mate, 2).is_none());
            }
        }
    }

    #[test]
    fn depths_of_the_trade_for_three_ways() {
        // Upper and lower strip two thirds at both mates, the middle one a third from each face:
        // common practice, no source.
        let trade = parting(None, LapRule::SameDepth);
        let depth = |own, mate| trade.lap(own, mate, 3).unwrap().depth;
        for (own, mate, wanted) in [
            (0, 1, 8.0),
            (0, 2, 8.0),
            (2, 1, 8.0),
            (2, 0, 8.0),
            (1, 0, 4.0),
            (1, 2, 4.0),
        ] {
            assert!(
                approx_eq!(f64, depth(own, mate), wanted, epsilon = 1e-12),
                "{own} at {mate}"
            );
        }
    }

    #[test]
    fn given_shares_are_kept() {
        let given = parting(Some(vec![3.0, 5.0, 4.0]), LapRule::LeastCut);
        assert_eq!(given.kept(3), [3.0, 5.0, 4.0]);
        assert_eq!(given.kept(2), [5.5, 6.5]);
        assert_eq!(given.lap(0, 1, 3).unwrap().depth, 9.0);
        assert_eq!(given.lap(1, 0, 3).unwrap().depth, 3.0);
        assert_eq!(given.lap(1, 2, 3).unwrap().depth, 4.0);
        assert_eq!(given.lap(0, 2, 3).unwrap().depth, 6.5);
        let two = parting(Some(vec![5.0, 7.0]), LapRule::LeastCut);
        assert_eq!(two.lap(0, 1, 2).unwrap().depth, 7.0);
        assert_eq!(two.lap(1, 0, 2).unwrap().depth, 5.0);
    }
}

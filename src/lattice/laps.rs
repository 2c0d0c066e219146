//! How much of its depth each strip gives up where strips cross.

/// The side of the panel that a notch enters from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
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
}

/// One strip's share of a crossing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lap {
    /// Where the notch enters.
    pub face: Face,
    /// Its depth as a fraction of the strip's depth.
    pub fraction: f64,
}

/// The notch that a strip in layer `own` needs for a mate in layer `mate`, of `layers` layers
/// (2 or 3) counted from the front; `None` for layers that do not exist or do not differ.
///
/// The two notches of a pair always add up to the whole depth: less would not close, more would
/// leave a gap. Two layers: each gives half, the front one keeps its front half. Three layers
/// through one node: the middle strip keeps the middle third, so its mates give two thirds to it
/// and it gives one third to each; front and back strip, which also touch beside the middle one,
/// give half to each other, the smallest equal cuts that close there.
pub fn lap(own: usize, mate: usize, layers: usize) -> Option<Lap> {
    let in_range = own < layers && mate < layers && own != mate;
    let fraction = match (layers, own, mate) {
        _ if !in_range => return None,
        (2, ..) => 1.0 / 2.0,
        (3, _, 1) => 2.0 / 3.0,
        (3, 1, _) => 1.0 / 3.0,
        (3, ..) => 1.0 / 2.0,
        _ => return None,
    };
    let face = if own < mate { Face::Back } else { Face::Front };
    Some(Lap { face, fraction })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Depths that a strip keeps at a mate, front to back, as an interval of the whole depth.
    fn kept(own: usize, mate: usize, layers: usize) -> (f64, f64) {
        let lap = lap(own, mate, layers).unwrap();
        match lap.face {
            Face::Front => (lap.fraction, 1.0),
            Face::Back => (0.0, 1.0 - lap.fraction),
        }
    }

    #[test]
    fn half_lap_keeps_the_front_half_in_front() {
        // Half lap of a square grid: half the depth each. Common practice, no source.
        assert_eq!(kept(0, 1, 2), (0.0, 0.5));
        assert_eq!(kept(1, 0, 2), (0.5, 1.0));
    }

    #[test]
    fn three_layers_fill_the_depth_at_every_crossing() {
        for own in 0..3 {
            for mate in own + 1..3 {
                let (front, back) = (kept(own, mate, 3), kept(mate, own, 3));
                assert!((front.1 - back.0).abs() < 1e-12, "{own} before {mate}");
            }
        }
        assert!(lap(1, 1, 3).is_none() && lap(0, 3, 3).is_none() && lap(0, 1, 4).is_none());
    }
}

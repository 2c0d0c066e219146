//! Bundles made by hand whose notches enter at any angle and from both faces.

use lapwright::lattice::{
    Bundle, Design, Face, Grid, Joinery, Lattice, Notch, Panel, SquareGrid, StripId, StripSection,
};

/// One notch: centre, angle in degrees as seen from the front, face.
pub type NotchSpec = (f64, f64, Face);

/// What the strips of a made-up bundle are like, mm.
#[derive(Debug, Clone, Copy)]
pub struct Strips {
    pub count: usize,
    pub thickness: f64,
    pub depth: f64,
    pub length: f64,
}

/// A lattice with one bundle of strips, whose notches are half their depth deep and as wide as a
/// mate of equal thickness needs with 0.05 mm clearance.
pub fn lattice(strips: Strips, notches: &[NotchSpec]) -> Lattice {
    let grid = SquareGrid {
        pitches_x: vec![50.0; 2],
        pitches_y: vec![50.0; 2],
        overhang: 20.0,
    };
    let section = StripSection {
        thickness: strips.thickness,
        depth: strips.depth,
        clearance: 0.05,
        drawn: None,
        least_web: 1.0,
        wood: None,
        density: None,
        joinery: Joinery::default(),
    };
    let design = Design {
        title: "Made up".into(),
        grid: Grid::Square(grid),
        strip: section,
        infill: None,
    };
    let mut lattice = Panel::new(design).unwrap().lattice().clone();
    let id = |number| StripId { family: 0, number };
    let notch = |(centre, degrees, face): &NotchSpec| {
        let angle = degrees.to_radians();
        Notch {
            mate: lapwright::lattice::NotchMate::Strip(id(1)),
            centre: *centre,
            width: (strips.thickness + 0.05) / angle.sin(),
            depth: strips.depth / 2.0,
            face: *face,
            angle,
        }
    };
    lattice.bundles = vec![Bundle {
        family: 0,
        strips: (1..=strips.count).map(id).collect(),
        turned: Vec::new(),
        trims: Vec::new(),
        length: strips.length,
        notches: notches.iter().map(notch).collect(),
    }];
    lattice
}

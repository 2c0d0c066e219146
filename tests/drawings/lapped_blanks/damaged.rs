//! Drawings that are not the blanks that a job needs are found out.

use super::Case;
use lapwright::geometry::Point;
use lapwright::instructions::laser::Ware;
use lapwright::instructions::outline::{CutPath, CutWork, SheetDrawing};
use lapwright::machines::{Laser, Machine};
use lapwright::making::{DrawingFiles, SheetOrder, SheetParts};
use lapwright::reading::read_machine;
use lapwright::verification::outline::{WantedPart, prove_drawings};
use lapwright::writing::dxf::{DxfVersion, dxf};

struct Bench {
    laser: Laser,
    wanted: Vec<WantedPart>,
    drawing: SheetDrawing,
    /// Depth of the strips, and kerf.
    depth: f64,
}

impl Bench {
    fn new() -> Self {
        let case = Case::posts("same");
        let job = case.job();
        let filled = case.filled();
        let machine = read_machine("laser.toml", &case.laser_text())
            .unwrap()
            .machine;
        let Machine::Laser(laser) = machine else {
            panic!("no laser")
        };
        let parts = SheetParts {
            filled: Some(&filled),
            ..SheetParts::of_strips(&job.panel, job.panel.lattice(), &laser)
        };
        let order = SheetOrder {
            machine: "laser",
            parts,
            files: DrawingFiles::Dxf(DxfVersion::R2000),
            file_name: &|at, _| format!("{at}.dxf"),
        };
        let (drawings, _) = order.drawn(&[Ware::Lapped]).unwrap();
        let mut files = drawings.plan.files;
        assert_eq!(files.len(), 1);
        Bench {
            wanted: parts.wanted(Ware::Lapped, &[]),
            depth: job.panel.design().strip.depth,
            drawing: files.remove(0).drawing,
            laser,
        }
    }

    fn codes(&self, drawing: &SheetDrawing) -> Vec<&'static str> {
        let bytes = dxf(drawing, DxfVersion::R2000, self.laser.colours).unwrap();
        let report = prove_drawings(&[&bytes], &self.wanted, self.laser.kerf, self.laser.sheet);
        let of_files = report.files.iter().flat_map(|file| &file.faults);
        of_files
            .chain(&report.faults)
            .map(|fault| fault.code)
            .collect()
    }

    /// The drawing with one outline's points put elsewhere: each as seen from the lower left corner
    /// of its box, whose size is told.
    fn changed(&self, at: usize, to: impl Fn(Point, Point) -> Point) -> SheetDrawing {
        let mut drawing = self.drawing.clone();
        let is_outline = |path: &&mut CutPath| path.work == CutWork::Outlines;
        let path = drawing.paths.iter_mut().filter(is_outline).nth(at).unwrap();
        let axis = |of: fn(&Point) -> f64| {
            let all = path.points.iter().map(of);
            all.fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], x| {
                [a.min(x), b.max(x)]
            })
        };
        let ([left, right], [low, high]) = (axis(|p| p.x), axis(|p| p.y));
        let size = Point::new(right - left, high - low);
        for point in &mut path.points {
            let moved = to(Point::new(point.x - left, point.y - low), size);
            *point = Point::new(left + moved.x, low + moved.y);
        }
        drawing
    }
}

/// A path of the beam runs half a kerf outside the blank.
fn is_slot(p: Point, size: Point) -> bool {
    p.x > 1.0 && p.x < size.x - 1.0
}

#[test]
fn moved_turned_and_resized_slots_are_found() {
    let bench = Bench::new();
    assert_eq!(bench.codes(&bench.drawing), [""; 0]);
    let outlines = bench.drawing.paths.iter();
    let outlines = outlines
        .filter(|path| path.work == CutWork::Outlines)
        .count();
    assert_eq!(outlines, 12, "two posts and a rail in each of four cells");
    type Change = fn(Point, Point) -> Point;
    let changes: [(&str, Change); 9] = [
        ("slots 0.1 toward end B", |p, size| {
            Point::new(if is_slot(p, size) { p.x + 0.1 } else { p.x }, p.y)
        }),
        ("slots 0.01 toward end A", |p, size| {
            Point::new(if is_slot(p, size) { p.x - 0.01 } else { p.x }, p.y)
        }),
        ("slots from the other face", |p, size| {
            Point::new(p.x, size.y - p.y)
        }),
        ("end for end", |p, size| Point::new(size.x - p.x, p.y)),
        ("turned round", |p, size| {
            Point::new(size.x - p.x, size.y - p.y)
        }),
        ("floors 0.1 higher", |p, size| {
            let floor = p.y > 1.0 && p.y < size.y - 1.0;
            Point::new(p.x, if floor { p.y + 0.1 } else { p.y })
        }),
        ("slots 0.1 wider", |p, size| {
            // Corners of a slot come in pairs: its right wall is moved.
            let right = is_slot(p, size) && (p.x * 7.0).sin() > 0.0;
            Point::new(if right { p.x + 0.1 } else { p.x }, p.y)
        }),
        ("blank too short at end B", |p, size| {
            Point::new(if p.x > size.x - 1e-6 { p.x - 0.1 } else { p.x }, p.y)
        }),
        ("blank too short at end A", |p, _| {
            Point::new(if p.x < 1e-6 { p.x + 0.1 } else { p.x }, p.y)
        }),
    ];
    for (what, change) in changes {
        for at in 0..outlines {
            let codes = bench.codes(&bench.changed(at, change));
            assert!(!codes.is_empty(), "{what}, outline {at}");
        }
    }
}

/// The ring goes counter-clockwise: after the two corners of a slot's floor comes its other wall.
#[test]
fn a_wall_of_a_slot_that_is_off_is_found() {
    let bench = Bench::new();
    let is_outline = |path: &&CutPath| path.work == CutWork::Outlines;
    for (at, path) in bench
        .drawing
        .paths
        .iter()
        .enumerate()
        .filter(|(_, path)| is_outline(path))
    {
        for (one, next) in (0..path.points.len()).zip(1..path.points.len()) {
            let upright = (path.points[one].x - path.points[next].x).abs() < 1e-9;
            for by in [-0.1, 0.1] {
                let mut drawing = bench.drawing.clone();
                for corner in [one, next] {
                    let point = &mut drawing.paths[at].points[corner];
                    *point = match upright {
                        true => Point::new(point.x + by, point.y),
                        false => Point::new(point.x, point.y + by),
                    };
                }
                let codes = bench.codes(&drawing);
                assert!(!codes.is_empty(), "path {at}, edge {one}, {by}");
            }
        }
    }
}

/// Labels say which end is A and which face is the front.
#[test]
fn labels_at_the_other_end_or_on_their_heads_are_found() {
    let bench = Bench::new();
    let letters = |change: &dyn Fn(Point) -> Point| {
        let mut drawing = bench.drawing.clone();
        let is_letter = |path: &&mut CutPath| path.work == CutWork::Letters;
        for path in drawing.paths.iter_mut().filter(is_letter) {
            for point in &mut path.points {
                *point = change(*point);
            }
        }
        drawing
    };
    assert!(bench.codes(&letters(&|p| p)).is_empty());
    let far = letters(&|p| Point::new(p.x + 20.0, p.y));
    assert!(
        bench.codes(&far).contains(&"words"),
        "{:?}",
        bench.codes(&far)
    );
    // Every row of blanks lies a blank's depth and a gap above the other; each is turned in itself.
    let low = 6.0;
    let row = bench.depth + bench.laser.sheet.gap;
    let on_its_head = letters(&|p| {
        let middle = low + ((p.y - low) / row).floor() * row + bench.depth / 2.0;
        Point::new(p.x, 2.0 * middle - p.y)
    });
    assert!(bench.codes(&on_its_head).contains(&"words"));
    let none = SheetDrawing {
        paths: (bench.drawing.paths.iter())
            .filter(|path| path.work != CutWork::Letters)
            .cloned()
            .collect(),
        ..bench.drawing.clone()
    };
    // A blank without a label is told by the sheet where there is no room: no fault of the drawing.
    assert!(bench.codes(&none).is_empty());
}

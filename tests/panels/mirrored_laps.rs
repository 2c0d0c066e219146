//! Pieces that lap in cells where their pattern lies mirrored: what is made can be laid there.

use crate::support::cores::on_all_cores;
use lapwright::geometry::{Point, Vector};
use lapwright::infill::{EdgeCells, Infilling, PieceKind, PlacedPiece, fill, lies_turned_over};
use lapwright::lattice::Face;
use lapwright::reading::{SHIPPED_PATTERNS, read_job, read_pattern};

/// A leaning picket that a rail laps: its mirror image is another part.
const LEANING: &str = "about = \"x\"\ncell = \"square\"\nneighbours = \"mirror\"\n\
    points = { foot = [0.3, 0], cross = [0.4, 0.4], left = [0, 0.4], right = [1, 0.4] }\n\
    piece = [ { name = \"picket\", from = \"foot\", to = \"cross\", horn = { to = 3 } }, \
    { name = \"rail\", from = \"left\", to = \"right\", lap = \"picket\" OVER } ]\n";

const GRIDS: [&str; 3] = [
    "kind = \"square\"\npitch = \"58 mm\"\ncolumns = 3\nrows = 2\n",
    "kind = \"triangular\"\nside = \"70 mm\"\nregion = \"hexagon\"\nrings = 2\n",
    "kind = \"diamond\"\npitch = \"52 mm\"\nangle = \"60 deg\"\nregion = \"rectangle\"\nwidth = \"240 mm\"\nheight = \"200 mm\"\n",
];

fn filled(grid: &str, pattern: &str) -> Option<Infilling> {
    let job = format!(
        "title = \"x\"\n[grid]\n{grid}overhang = \"15 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n"
    );
    let job = read_job("job.toml", &job).unwrap_or_else(|wrong| panic!("{wrong:?}\n{job}"));
    let pattern = read_pattern("pattern.toml", pattern).unwrap();
    fill(&job.panel, &pattern.pattern, EdgeCells::Leave).ok()
}

/// A part as a stranger would describe it: corners, and each lap by its middle, a point on its line beside
/// that, and its face.
#[derive(Debug)]
struct Solid {
    corners: Vec<Point>,
    laps: Vec<([Point; 2], Face)>,
}

impl Solid {
    fn is(&self, other: &Solid) -> bool {
        let near = |p: &Point, q: &Point| p.to(*q).length() < 1e-6;
        let corner = |p: &Point| other.corners.iter().any(|q| near(p, q));
        let lap = |(line, face): &([Point; 2], Face)| {
            let mut others = other.laps.iter();
            others.any(|(mate, of)| {
                let along = mate[0].to(mate[1]);
                of == face
                    && near(&line[0], &mate[0])
                    && along.cross(line[0].to(line[1])).abs() < 1e-6
            })
        };
        self.corners.iter().all(corner) && self.laps.iter().all(lap)
    }

    /// Turned over about the x axis.
    fn over(&self) -> Solid {
        let turned = |p: &Point| Point::new(p.x, -p.y);
        let other = |face: &Face| match face {
            Face::Front => Face::Back,
            Face::Back => Face::Front,
        };
        let lap = |(line, face): &([Point; 2], Face)| (line.map(|p| turned(&p)), other(face));
        Solid {
            corners: self.corners.iter().map(turned).collect(),
            laps: self.laps.iter().map(lap).collect(),
        }
    }

    fn moved(&self, to: impl Fn(Point) -> Point) -> Solid {
        Solid {
            corners: self.corners.iter().map(|p| to(*p)).collect(),
            laps: (self.laps.iter())
                .map(|(line, face)| (line.map(&to), *face))
                .collect(),
        }
    }
}

fn lap_line(at: Point, along: Vector, angle: f64) -> [Point; 2] {
    let way = Vector::new(
        along.x * angle.cos() - along.y * angle.sin(),
        along.x * angle.sin() + along.y * angle.cos(),
    );
    [at, at + way]
}

fn made(kind: &PieceKind) -> Solid {
    let laps = kind.figures.laps.iter();
    let x = Vector::new(1.0, 0.0);
    Solid {
        corners: kind.outline.clone(),
        laps: laps
            .map(|lap| {
                (
                    lap_line(Point::new(lap.centre, 0.0), x, lap.angle),
                    lap.face,
                )
            })
            .collect(),
    }
}

struct Laid {
    solid: Solid,
    /// Where its own frame begins, and its direction.
    origin: Point,
    along: Vector,
}

fn laid(piece: &PlacedPiece) -> Laid {
    let (from, to) = piece.axis;
    let along = from.to(to).unit().unwrap();
    let start = piece.outline.iter().map(|p| from.to(*p).dot(along));
    let origin = from + along * start.fold(f64::INFINITY, f64::min);
    let laps = piece.laps.iter();
    let solid = Solid {
        corners: piece.outline.clone(),
        laps: laps
            .map(|lap| {
                (
                    lap_line(origin + along * lap.centre, along, lap.angle),
                    lap.face,
                )
            })
            .collect(),
    };
    Laid {
        solid,
        origin,
        along,
    }
}

/// How many pieces with laps lie in mirrored cells.
fn check(filled: &Infilling, name: &str) -> usize {
    let mut mirrored = 0;
    for cell in &filled.cells {
        for piece in cell.pieces.iter().filter(|piece| !piece.laps.is_empty()) {
            let kind = &filled.kinds[piece.kind];
            let Laid {
                solid,
                origin,
                along,
            } = laid(piece);
            // Both pieces of a lap have it in faces that look at each other.
            for lap in &piece.laps {
                let mate = cell.pieces.iter().find(|other| other.name == lap.mate);
                let Some(mate) = mate else { continue };
                let own = origin + along * lap.centre;
                let there = laid(mate);
                let of_it = mate.laps.iter().filter(|other| other.mate == piece.name);
                let faces: Vec<Face> = of_it
                    .filter(|other| {
                        (there.origin + there.along * other.centre).to(own).length() < 1e-6
                    })
                    .map(|other| other.face)
                    .collect();
                let runs = piece.run.is_some() || mate.run.is_some();
                assert!(runs || !faces.is_empty(), "{name}: {piece:?}");
                assert!(
                    faces.iter().all(|face| *face != lap.face),
                    "{name}: {piece:?}"
                );
            }
            if piece.run.is_some() || piece.arm.is_some() {
                continue;
            }
            mirrored += usize::from(cell.lie.mirrored);
            let length = kind.figures.length;
            let placed = |end_for_end: bool| {
                move |p: Point| {
                    let (x, y) = if end_for_end {
                        (length - p.x, -p.y)
                    } else {
                        (p.x, p.y)
                    };
                    origin + along * x + Vector::new(-along.y, along.x) * y
                }
            };
            let part = made(kind);
            let fits = |part: &Solid| {
                [false, true]
                    .map(|turn| part.moved(placed(turn)).is(&solid))
                    .contains(&true)
            };
            let over = lies_turned_over(kind, piece, false);
            assert!(
                fits(&if over { part.over() } else { part }),
                "{name}: {} in {:?}",
                piece.name,
                cell.lie
            );
        }
    }
    mirrored
}

#[test]
fn what_is_made_can_be_laid_where_a_pattern_lies_mirrored() {
    let alone = filled(GRIDS[0], &LEANING.replace("OVER", "")).unwrap();
    assert!(check(&alone, "leaning") > 2);
    let names: Vec<&str> = alone.kinds.iter().map(|kind| kind.name.as_str()).collect();
    assert_eq!(
        names,
        ["rail", "picket", "rail mirrored", "picket mirrored"]
    );
    let counts: Vec<usize> = alone.kinds.iter().map(|kind| kind.count).collect();
    assert_eq!(counts, [3, 3, 3, 3]);
    // The rail that runs through takes a picket and its mirror image in turn, all in one face.
    let through = filled(
        GRIDS[0],
        &LEANING.replace("OVER", ", over = [\"from\", \"to\"]"),
    )
    .unwrap();
    check(&through, "leaning, through");
    let rail = through
        .kinds
        .iter()
        .find(|kind| kind.name == "rail")
        .unwrap();
    let front = rail
        .figures
        .laps
        .iter()
        .filter(|lap| lap.face == Face::Front);
    assert_eq!(front.count(), 3);
}

#[test]
fn shipped_patterns_can_be_laid() {
    let cases: Vec<_> = SHIPPED_PATTERNS
        .iter()
        .flat_map(|p| GRIDS.map(|grid| (p, grid)))
        .collect();
    let mirrored = on_all_cores(&cases, |(pattern, grid)| {
        filled(grid, pattern.text).map_or(0, |filled| check(&filled, pattern.name))
    });
    assert!(mirrored.into_iter().sum::<usize>() > 50);
}

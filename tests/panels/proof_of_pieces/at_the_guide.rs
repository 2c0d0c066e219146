//! Rough pieces laid at the guide as settings and pictures say, in every pattern: what is left when all
//! that stands out past the block's face is gone is the pattern's piece.

use lapwright::geometry::convex::{common, is_convex, parts};
use lapwright::geometry::{Point, signed_area};
use lapwright::infill::{EdgeCells, FacetSide, Infilling, PieceKind, fill};
use lapwright::instructions::drawing::{Drawing, Role, Shape};
use lapwright::instructions::end_letter::EndLetter;
use lapwright::instructions::pare::{
    EndFigures, FacetFigures, OnFence, OnStop, ParePlan, PieceFigures,
};
use lapwright::instructions::sheet::Picture;
use lapwright::planning::plan_pieces;
use lapwright::reading::{SHIPPED_PATTERNS, read_job, read_pattern};
use lapwright::sheets::guide_pictures;

const ALLOWANCE: f64 = 4.0;
const NEAR: f64 = 1e-6;

struct Made {
    name: String,
    filled: Infilling,
    pare: ParePlan,
}

/// Every shipped pattern in every grid that takes it, in strips of two thicknesses.
fn all() -> Vec<Made> {
    let grids = [
        "kind = \"square\"\npitch = \"50 mm\"\ncolumns = 2\nrows = 2",
        "kind = \"square\"\npitches_x = [\"40 mm\", \"52 mm\"]\npitches_y = [\"40 mm\", \"61 mm\"]",
        "kind = \"triangular\"\nside = \"60 mm\"\nregion = \"hexagon\"\nrings = 1",
        "kind = \"diamond\"\npitch = \"45 mm\"\nangle = \"60 deg\"\nregion = \"rectangle\"\n\
         columns = 3\nrows = 3",
        "kind = \"diamond\"\npitch = \"45 mm\"\nangle = \"38 deg\"\nregion = \"rectangle\"\n\
         columns = 3\nrows = 3",
    ];
    let mut all = Vec::new();
    for shipped in SHIPPED_PATTERNS {
        let pattern = read_pattern(shipped.name, shipped.text).unwrap().pattern;
        let before = all.len();
        for grid in grids {
            for thickness in ["2.8 mm", "3.5 mm"] {
                let text = format!(
                    "title = \"Made up\"\n[grid]\n{grid}\noverhang = \"20 mm\"\n[strip]\n\
                     thickness = \"{thickness}\"\ndepth = \"8 mm\"\n[infill]\n\
                     pattern = \"{}\"\nallowance = \"4 mm\"\n",
                    shipped.name
                );
                let Ok(job) = read_job("job.toml", &text) else {
                    continue;
                };
                let Ok(filled) = fill(&job.panel, &pattern, EdgeCells::Leave) else {
                    continue;
                };
                if filled.kinds.is_empty() {
                    continue;
                }
                let (pare, _) = plan_pieces(&job.panel, &filled, ALLOWANCE, None);
                all.push(Made {
                    name: format!("{} in {grid}, {thickness}", shipped.name),
                    filled,
                    pare,
                });
            }
        }
        assert!(all.len() > before, "{} was never laid", shipped.name);
    }
    all
}

/// What lies on the block's side of a line through `foot`; `over` runs from the line's foot over the
/// piece, so that what goes lies to its left.
fn kept(ring: &[Point], foot: Point, over: (f64, f64)) -> Vec<Point> {
    let out = |p: &Point| over.0 * (p.y - foot.y) - over.1 * (p.x - foot.x);
    let mut left = Vec::new();
    for (p, q) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        let (here, there) = (out(p), out(q));
        if here <= 0.0 {
            left.push(*p);
        }
        if here * there < 0.0 {
            left.push(*p + p.to(*q) * (here / (here - there)));
        }
    }
    left
}

/// How far from the fence, square to it, the apex of a mouth lies: there the chisel stops.
fn deep(end: &EndFigures, facet: &FacetFigures, thickness: f64) -> Option<f64> {
    end.mouth.as_ref()?;
    let offset = end.ridge_offset_mm.unwrap();
    Some(match facet.on_fence {
        OnFence::Left => thickness / 2.0 - offset,
        _ => thickness / 2.0 + offset,
    })
}

/// What one facet of a mouth leaves on its side of a line so far below the fence, at which the chisel stops,
/// without the corners on that line, and the apex, where the facet comes to it.
fn side_of_mouth(ring: &[Point], foot: Point, over: (f64, f64), deep: f64) -> (Vec<Point>, Point) {
    let on_line = |p: &Point| (p.y + deep).abs() < NEAR;
    let cut = kept(ring, foot, over);
    let mut above = kept(&cut, Point::new(0.0, -deep), (-1.0, 0.0));
    above.retain(|p| !on_line(p));
    let apex = Point::new(foot.x + over.0 * deep / -over.1, -deep);
    // Corners that were on the line before.
    above.extend(ring.iter().filter(|p| on_line(p)));
    (above, apex)
}

/// A piece of which both sides of a mouth are pared: seen from a place before the apex its corners follow
/// each other.
fn round(corners: Vec<Point>, apex: Point, other_end: f64) -> Vec<Point> {
    let before = Point::new(apex.x + 0.1 * (other_end - apex.x).signum(), apex.y);
    let mut ring: Vec<Point> = vec![apex];
    for p in corners {
        if ring.iter().all(|known| known.to(p).length() > NEAR) {
            ring.push(p);
        }
    }
    let turn = |p: &Point| (p.y - before.y).atan2(p.x - before.x);
    ring.sort_by(|p, q| turn(p).total_cmp(&turn(q)));
    ring
}

/// The piece as a person lays it: the end that is pared to the right, the side that is named against
/// the front edges (y = 0, the piece below), the other end against the stop (x = 0).
struct Lay {
    turned: bool,
    left_up: bool,
    right: f64,
    up: f64,
}

impl Lay {
    fn of(ring: &[Point], end: usize, on_fence: OnFence) -> Lay {
        let (turned, left_up) = (end == 0, on_fence == OnFence::Left);
        let flat = Lay {
            turned,
            left_up,
            right: 0.0,
            up: 0.0,
        };
        let there: Vec<Point> = ring.iter().map(|p| flat.to(*p)).collect();
        Lay {
            right: -there.iter().map(|p| p.x).fold(f64::INFINITY, f64::min),
            up: -there.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max),
            ..flat
        }
    }

    fn to(&self, p: Point) -> Point {
        let x = if self.turned { -p.x } else { p.x };
        let y = if self.left_up { p.y } else { -p.y };
        Point::new(x + self.right, y + self.up)
    }

    fn back(&self, p: Point) -> Point {
        let (x, y) = (p.x - self.right, p.y - self.up);
        Point::new(
            if self.turned { -x } else { x },
            if self.left_up { y } else { -y },
        )
    }
}

fn ccw(mut ring: Vec<Point>) -> Vec<Point> {
    if signed_area(&ring) < 0.0 {
        ring.reverse();
    }
    ring
}

/// Ends in working order, each with its facets in theirs.
fn in_order(piece: &PieceFigures) -> Vec<(usize, &FacetFigures)> {
    let first = usize::from(piece.first_end == EndLetter::B);
    let mut order = Vec::new();
    for end in [first, 1 - first] {
        let mut facets: Vec<&FacetFigures> = piece.ends[end].facets.iter().collect();
        facets.sort_by_key(|facet| facet.cut.name() != "heavy");
        order.extend(facets.into_iter().map(|facet| (end, facet)));
    }
    order
}

fn rough(kind: &PieceKind, thickness: f64) -> Vec<Point> {
    let (from, to) = (-ALLOWANCE / 2.0, kind.figures.length + ALLOWANCE / 2.0);
    let half = thickness / 2.0;
    [(from, -half), (to, -half), (to, half), (from, half)]
        .map(|(x, y)| Point::new(x, y))
        .to_vec()
}

/// Greatest distance of a corner of either ring from the other's corners.
fn apart(one: &[Point], other: &[Point]) -> f64 {
    let far = |from: &[Point], to: &[Point]| {
        let nearest = |p: &Point| {
            to.iter()
                .map(|q| p.to(*q).length())
                .fold(f64::INFINITY, f64::min)
        };
        from.iter().map(nearest).fold(0.0, f64::max)
    };
    far(one, other).max(far(other, one))
}

/// A piece with both ends finished, its V's pared: each wall from the side that is named on the fence, along the
/// block, down to where the skin begins. Both walls come to one point.
fn with_vs(mut ring: Vec<Point>, kind: &PieceKind, piece: &PieceFigures) -> Vec<Point> {
    for fold in &piece.folds {
        let deep = kind.stock.thickness - fold.skin_mm;
        let on_fence = match fold.inner {
            FacetSide::Left => OnFence::Left,
            _ => OnFence::Right,
        };
        let wall = |end: usize| {
            let wall = &fold.walls[end];
            // The end on the stop is the other one than that to the right.
            assert_eq!(wall.on_stop == EndLetter::A, end == 0);
            let lay = Lay::of(&ring, 1 - end, on_fence);
            let foot = Point::new(wall.stop_mm, 0.0);
            let point = Point::new(foot.x + deep / fold.block_angle.tan(), -deep);
            [lay.back(foot), lay.back(point)]
        };
        let [[first, point], [second, same]] = [wall(0), wall(1)];
        assert!(point.to(same).length() < NEAR, "{}", kind.name);
        ring.extend([first, point, second]);
    }
    ring
}

#[test]
fn pared_at_the_settings_a_rough_piece_becomes_the_patterns() {
    let mut settings = 0;
    let (mut mouths, mut folds) = (0, 0);
    for made in all() {
        for (kind, piece) in made.filled.kinds.iter().zip(&made.pare.pieces) {
            let mut ring = rough(kind, kind.stock.thickness);
            let (mut sides, mut apexes) = (Vec::new(), Vec::new());
            for (end, facet) in in_order(piece) {
                let lay = Lay::of(&ring, end, facet.on_fence);
                let laid: Vec<Point> = ring.iter().map(|p| lay.to(*p)).collect();
                let over = (facet.block_angle.cos(), -facet.block_angle.sin());
                let foot = Point::new(facet.stop_mm, 0.0);
                settings += 1;
                let thickness = kind.stock.thickness;
                if let Some(deep) = deep(&piece.ends[end], facet, thickness) {
                    let (side, apex) = side_of_mouth(&ccw(laid), foot, over, deep);
                    sides.extend(side.iter().map(|p| lay.back(*p)));
                    apexes.push(lay.back(apex));
                    if let [first, second] = apexes[..] {
                        assert!(first.to(second).length() < NEAR, "{}", made.name);
                        let other_end = if end == 0 { kind.figures.length } else { 0.0 };
                        ring = round(std::mem::take(&mut sides), first, other_end);
                        apexes.clear();
                        mouths += 1;
                    }
                    continue;
                }
                let left = kept(&ccw(laid), foot, over);
                ring = left.iter().map(|p| lay.back(*p)).collect();
            }
            let ring = with_vs(ring, kind, piece);
            folds += piece.folds.len();
            let off = apart(&ring, &kind.outline);
            assert!(off < NEAR, "{}: {} is {off} off", made.name, kind.name);
        }
    }
    assert!(
        settings > 150 && mouths > 10 && folds > 1,
        "{settings} {mouths} {folds}"
    );
}

#[test]
fn the_sharper_end_is_made_last() {
    let mut sharp = 0;
    for made in all() {
        for piece in &made.pare.pieces {
            let first = usize::from(piece.first_end == EndLetter::B);
            let (first, last) = (&piece.ends[first], &piece.ends[1 - first]);
            assert!(first.tip_angle >= last.tip_angle - 1e-3, "{}", made.name);
            assert_eq!(
                (first.on_stop, last.on_stop),
                (OnStop::SquareEnd, OnStop::Point)
            );
            sharp += usize::from(last.tip_angle < 1.06 && first.tip_angle > 1.06);
        }
    }
    assert!(sharp > 2, "{sharp}");
}

fn areas(drawing: &Drawing, wanted: Role) -> Vec<Vec<Point>> {
    let area = |shape: &Shape| match shape {
        Shape::Area { role, ring } if *role == wanted => Some(ccw(ring.clone())),
        _ => None,
    };
    drawing.shapes.iter().filter_map(area).collect()
}

fn pictures(made: &Made) -> Vec<Picture> {
    guide_pictures(&made.pare)
}

/// The same of rings that need not be convex.
fn shared(one: &[Point], other: &[Point]) -> f64 {
    let others = parts(other);
    let pairs = parts(one).into_iter();
    let areas = pairs.flat_map(|part| others.iter().map(move |other| overlap(&part, other)));
    areas.sum()
}

fn overlap(one: &[Point], other: &[Point]) -> f64 {
    let both = common(one, other);
    if both.len() < 3 {
        0.0
    } else {
        signed_area(&both).abs()
    }
}

/// Built from the picture alone: its own polygons, and the facet that they give.
#[test]
fn every_picture_can_be_built() {
    let mut seen = 0;
    let mut blunt = 0;
    for made in all() {
        for picture in pictures(&made) {
            let drawing = &picture.drawing;
            let name = format!("{}: {}", made.name, drawing.title);
            let jigs = areas(drawing, Role::Jig);
            let (stop, block) = (&jigs[jigs.len() - 1], &jigs[jigs.len() - 2]);
            let [lying] = &areas(drawing, Role::Cut)[..] else {
                panic!("{name}")
            };
            let [finished] = &areas(drawing, Role::Piece)[..] else {
                panic!("{name}")
            };
            let [chisel] = &areas(drawing, Role::Tool)[..] else {
                panic!("{name}")
            };
            let most = |ring: &[Point], of: fn(&Point) -> f64| {
                ring.iter().map(of).fold(f64::NEG_INFINITY, f64::max)
            };
            // On the front edges, on the stop, beside everything that holds.
            assert!(most(lying, |p| p.y).abs() < NEAR, "{name}");
            assert!(most(lying, |p| -p.x).abs() < NEAR, "{name}");
            assert!(most(stop, |p| p.x).abs() < NEAR, "{name}");
            for jig in &jigs {
                assert!(is_convex(jig), "{name}");
                assert!(shared(jig, lying) < NEAR, "{name}: a jig lies in the wood");
                assert!(
                    overlap(jig, chisel) < NEAR,
                    "{name}: the chisel meets a jig"
                );
            }
            // The corner of the block, and its face carried on over the piece.
            let corner = *block
                .iter()
                .filter(|p| p.y.abs() < NEAR)
                .max_by(|p, q| p.x.total_cmp(&q.x))
                .unwrap();
            let at = block.iter().position(|p| *p == corner).unwrap();
            let back = block[(at + 1) % block.len()];
            let length = corner.to(back).length();
            let over = ((corner.x - back.x) / length, (corner.y - back.y) / length);
            assert!(over.1 < 0.0, "{name}: the face does not run over the piece");
            // A blunt corner is for a mouth: the chisel ends at its apex.
            let hollow = parts(finished).len() > 1 && over.0 < 0.0;
            assert!(hollow || over.0 > 0.0, "{name}: the corner is not sharp");
            blunt += usize::from(hollow);
            // What stands out is gone, no wood of the piece is.
            let off = |p: &Point| over.0 * (p.y - corner.y) - over.1 * (p.x - corner.x);
            let back = chisel.iter().filter(|p| off(p).abs() < NEAR);
            let reach = back.map(|p| -p.y).fold(f64::NEG_INFINITY, f64::max);
            let left = match hollow {
                false => kept(lying, corner, over),
                true => kept(
                    &kept(lying, Point::new(0.0, -reach), (-1.0, 0.0)),
                    corner,
                    over,
                ),
            };
            if hollow {
                let apexes = finished.iter().filter(|p| (p.y + reach).abs() < NEAR);
                assert!(
                    apexes.count() > 0,
                    "{name}: the chisel does not end at the apex"
                );
                let side = kept(finished, Point::new(0.0, -reach), (-1.0, 0.0));
                assert!(
                    (shared(&ccw(left.clone()), &side) - signed_area(&side)).abs() < NEAR,
                    "{name}"
                );
            } else {
                assert!(shared(&ccw(left.clone()), finished) > signed_area(finished) - NEAR);
            }
            assert!(
                signed_area(lying) - signed_area(&ccw(left)) > 0.01,
                "{name}: nothing is pared"
            );
            // One of the piece's facets lies in the face's plane.
            let on_plane: Vec<&Point> = finished.iter().filter(|p| off(p).abs() < NEAR).collect();
            assert_eq!(on_plane.len(), 2, "{name}");
            let facet = on_plane[0].to(*on_plane[1]).length();
            let lengths = made.filled.kinds.iter().flat_map(|kind| {
                let ends = kind.figures.ends();
                ends.map(|end| end.facets.clone()).concat()
            });
            assert!(
                lengths
                    .map(|known| known.length)
                    .any(|known| (known - facet).abs() < NEAR),
                "{name}: {facet}"
            );
            // The chisel's back lies on the block's face and reaches over the facet.
            assert!(chisel.iter().all(|p| off(p) > -NEAR), "{name}");
            let back: Vec<&Point> = chisel.iter().filter(|p| off(p).abs() < NEAR).collect();
            assert_eq!(back.len(), 2, "{name}");
            let along = |p: &Point| over.0 * (p.x - corner.x) + over.1 * (p.y - corner.y);
            let (from, to) = (
                along(back[0]).min(along(back[1])),
                along(back[0]).max(along(back[1])),
            );
            assert!(
                from < -5.0 && on_plane.iter().all(|p| along(p) < to + NEAR),
                "{name}"
            );
            seen += 1;
        }
    }
    assert!(seen > 100 && blunt > 5, "{seen} {blunt}");
}

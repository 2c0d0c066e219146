//! The shortest strip of a slanted grid.

use crate::geometry::SAME_POSITION_MM;
use crate::opening::size::Size;

/// Lines of families in a rectangle within a larger one about the same middle. Millimetres, radians.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lines<'a> {
    /// What the strips are trimmed to.
    pub(super) inside: Size,
    /// What lines have to meet to be made.
    pub(super) filled: Size,
    /// Angles to the level.
    pub(super) inclinations: &'a [f64],
    /// Between neighbouring ones, square to them.
    pub(super) pitch: f64,
    /// Where a node lies, from the middle.
    pub(super) node: [f64; 2],
}

impl Lines<'_> {
    /// What the inside leaves of the shortest line.
    ///
    /// A line of inclination th at the distance q from the middle is made where it passes less than
    /// `E = (w |sin th| + h |cos th|) / 2` from the middle of the filled w by h: those with `q = q0 + k p`, q0
    /// the node's own distance. Of the inside W by H it leaves what [`chord`] says; it falls off with |q|, so
    /// that the shortest line of a family is one of its two outermost.
    pub(super) fn shortest(&self) -> f64 {
        let lengths = self.inclinations.iter().flat_map(|inclination| {
            let (sine, cosine) = inclination.sin_cos();
            let [x, y] = self.node;
            let own = y * cosine - x * sine;
            let reach = (self.filled.width * sine.abs() + self.filled.height * cosine.abs()) / 2.0
                - SAME_POSITION_MM;
            let outermost = |reach: f64| own + ((reach - own) / self.pitch).floor() * self.pitch;
            // The lowest is the highest of the mirrored ones.
            let low = own - ((reach + own) / self.pitch).floor() * self.pitch;
            [outermost(reach), low].map(|at| chord(self.inside, [sine, cosine], at))
        });
        lengths.fold(f64::INFINITY, f64::min)
    }
}

/// What a rectangle leaves of a line that passes its middle at a distance. Near a corner the line cuts off a
/// right triangle as high as `E - |q|` over it, whose long side is `(E - |q|) (tan th + 1 / tan th)`; farther
/// in it runs from side to side, `W / |cos th|`, or from bottom to top, `H / |sin th|`.
fn chord(inside: Size, [sine, cosine]: [f64; 2], distance: f64) -> f64 {
    let (sine, cosine) = (sine.abs(), cosine.abs());
    let reach = (inside.width * sine + inside.height * cosine) / 2.0;
    let across = if cosine > 1e-9 {
        inside.width / cosine
    } else {
        f64::INFINITY
    };
    let up = if sine > 1e-9 {
        inside.height / sine
    } else {
        f64::INFINITY
    };
    let corner = if sine > 1e-9 && cosine > 1e-9 {
        (reach - distance.abs()) * (sine / cosine + cosine / sine)
    } else {
        f64::INFINITY
    };
    across.min(up).min(corner).max(0.0)
}

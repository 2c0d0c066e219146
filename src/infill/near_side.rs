//! Which side of another piece a piece sees.

use super::clipping::HalfPlane;
use super::pattern::PieceSide;
use super::skeleton::Bar;
use crate::finding::Finding;

/// What lies before that side of another piece on which the middle of a piece is.
///
/// # Errors
/// Where the middle lies on the other piece.
pub(super) fn before(bar: &Bar, mate: &Bar) -> Result<HalfPlane, Finding> {
    let offset = mate.offset(bar.middle());
    if offset.abs() <= mate.half() {
        let name = &mate.name;
        let text = format!(
            "the middle of `{}` lies on `{name}`, so it has no near side to stand against",
            bar.name
        );
        return Err(Finding::error("no-near-side", &bar.field, text)
            .hint(format!("choose ends on one side of `{name}`, or a lap")));
    }
    let near = if offset > 0.0 {
        PieceSide::Left
    } else {
        PieceSide::Right
    };
    Ok(mate.side(near).flipped())
}

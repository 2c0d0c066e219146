//! What was measured, and the sizes that follow from it.

use super::hole::{HoleMeasures, UprightRectangle};
use super::size::Size;
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::phrase;
use crate::units::Mm;

/// Where a person held the tape.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeasuredAt {
    /// In the hole that the panel goes into, with its frame where it has one.
    Hole,
    /// Between the inner faces of the frame.
    Inside,
    /// Over the finished panel, with its frame where it has one.
    Panel,
}

/// An opening as a job gives it.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// What was read off the tape, mm.
    pub measures: HoleMeasures,
    /// Where.
    pub at: MeasuredAt,
    /// Air between what is finished and what it goes into, at every side, mm.
    pub play: f64,
}

/// Widths of a frame's members, inner edge to outer edge, seen from the front, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MemberFaces {
    /// Of the lower rail.
    pub bottom: f64,
    /// Of the right stile.
    pub right: f64,
    /// Of the upper rail.
    pub top: f64,
    /// Of the left stile.
    pub left: f64,
}

/// What goes round the strips.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Framing {
    /// Nothing: the strips' ends are cut off flush.
    Flush,
    /// A frame whose members' widths nobody gave.
    Unmeasured,
    /// A frame.
    Members(MemberFaces),
}

/// Every size of a panel for an opening, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Sizes {
    /// The largest upright rectangle that goes into what was measured.
    pub rectangle: UprightRectangle,
    /// Over all, frame included; nothing where its members' widths are not known.
    pub finished: Option<Size>,
    /// Between the frame's inner faces; without a frame the finished panel.
    pub inside: Size,
}

impl Opening {
    /// The sizes that follow: from the hole inward (less play, less the members), or from the inside
    /// outward.
    ///
    /// # Errors
    /// What cannot be measured so, and what leaves nothing.
    pub fn sizes(&self, framing: Framing) -> Result<Sizes, Vec<Finding>> {
        let rectangle = self.measures.largest().map_err(|fault| vec![*fault])?;
        let taken = rectangle.size.less(self.play);
        let faces = match framing {
            Framing::Members(faces) => Some(faces),
            Framing::Flush => Some(MemberFaces {
                bottom: 0.0,
                right: 0.0,
                top: 0.0,
                left: 0.0,
            }),
            Framing::Unmeasured => None,
        };
        let (finished, inside) = match (self.at, faces) {
            (MeasuredAt::Inside, faces) => {
                let outer = faces.map(|faces| Size {
                    width: taken.width + faces.left + faces.right,
                    height: taken.height + faces.bottom + faces.top,
                });
                (outer, taken)
            }
            (MeasuredAt::Hole | MeasuredAt::Panel, Some(faces)) => {
                let inner = Size {
                    width: taken.width - faces.left - faces.right,
                    height: taken.height - faces.bottom - faces.top,
                };
                (Some(taken), inner)
            }
            (MeasuredAt::Hole | MeasuredAt::Panel, None) => {
                let text = "how wide the frame's members are is not said, so what is left between them is not known";
                let hint = "add `width` (or `widths`) to [frame], or measure between its inner faces: measured = \"inside\"";
                return Err(vec![
                    Finding::error("missing", "frame.width", text).hint(hint),
                ]);
            }
        };
        if inside.width.min(inside.height) <= SAME_POSITION_MM {
            let text = phrase!(
                "{} by {}, less play and frame, leaves nothing inside",
                Mm(rectangle.size.width),
                Mm(rectangle.size.height)
            );
            let hint = "check the opening's figures, the play and the members' widths";
            return Err(vec![
                Finding::error("opening-too-small", "opening", text).hint(hint),
            ]);
        }
        Ok(Sizes {
            rectangle,
            finished,
            inside,
        })
    }
}

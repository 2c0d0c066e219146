//! How a frame's members meet, and what is cut along their inner edges. Millimetres.

/// How a frame's members meet at its corners.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum CornerJoint {
    /// Mitred.
    #[default]
    Mitre,
    /// Rails tenoned into stiles.
    Tenon(TenonWish),
}

/// What a job says of tenons, mm; the rest follows.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct TenonWish {
    /// Front to back; a third of the frame's, or a groove's width.
    pub thickness: Option<f64>,
    /// From the shoulder; two thirds of the stile's width.
    pub length: Option<f64>,
    /// Of the haunch, from the shoulder; a groove's depth, else the tenon's thickness. Zero: none.
    pub haunch: Option<f64>,
}

/// What is cut along the members' inner edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Recess {
    /// Which of both.
    pub kind: RecessKind,
    /// Of a rebate, from the inner face into the member, as seen from the back; of a groove, front to
    /// back.
    pub width: f64,
    /// Of a rebate, from the back face forward; of a groove, from the inner face into the member.
    pub depth: f64,
    /// Members' front face to its nearer wall.
    pub from_front: f64,
}

/// Which recess.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RecessKind {
    /// A corner taken out at the back: paper or glass lies in it.
    Rebate,
    /// A slot: a panel is let in before the frame is closed.
    Groove,
}

impl Recess {
    /// What it takes of the members' inner face, from the front face: near wall, far wall.
    pub fn across(&self) -> [f64; 2] {
        let far = match self.kind {
            RecessKind::Rebate => self.from_front + self.depth,
            RecessKind::Groove => self.from_front + self.width,
        };
        [self.from_front, far]
    }

    /// How far it goes into the members from their inner faces.
    pub fn into_member(&self) -> f64 {
        match self.kind {
            RecessKind::Rebate => self.width,
            RecessKind::Groove => self.depth,
        }
    }

    /// `rebate`, `groove`.
    pub fn name(&self) -> &'static str {
        match self.kind {
            RecessKind::Rebate => "rebate",
            RecessKind::Groove => "groove",
        }
    }

    pub(super) fn field(&self) -> &'static str {
        match self.kind {
            RecessKind::Rebate => "frame.rebate",
            RecessKind::Groove => "frame.groove",
        }
    }
}

//! What is put together.

/// One direction of a panel. Millimetres.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Joints {
    /// Of the holders, along the mates.
    pub along: Vec<f64>,
    /// How many mates.
    pub mates: usize,
    /// How far each notch is off its drawn place, holder by holder.
    pub off: Vec<f64>,
    /// Half the room of each joint, below zero where the mate is thicker than its notch can be squeezed to.
    pub half_room: Vec<f64>,
}

impl Joints {
    /// Holder, mate, offset and half the room of every joint.
    pub(super) fn each(&self) -> impl Iterator<Item = (usize, usize, f64, f64)> {
        let mates = self.mates.max(1);
        let joints = self.off.iter().zip(&self.half_room).enumerate();
        joints.map(move |(at, (off, half))| (at / mates, at % mates, *off, *half))
    }

    pub(super) fn off(&self, holder: usize, mate: usize) -> f64 {
        self.off
            .get(holder * self.mates + mate)
            .copied()
            .unwrap_or(0.0)
    }

    pub(super) fn half_room(&self, holder: usize, mate: usize) -> f64 {
        self.half_room
            .get(holder * self.mates + mate)
            .copied()
            .unwrap_or(0.0)
    }
}

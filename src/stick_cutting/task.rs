//! What is to be cut, out of what, and how.

/// Parts of one length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    /// As it comes off the saw, mm.
    pub length: f64,
    /// How many are wanted.
    pub count: usize,
}

/// Sticks of one length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stock {
    /// From end to end, mm.
    pub length: f64,
    /// How many there are; as many as are asked for where nothing is said.
    pub count: Option<usize>,
    /// Where they come from.
    pub supply: Supply,
}

/// Where sticks come from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Supply {
    /// They lie in the shop and cost nothing any more.
    Hand,
    /// They are for sale.
    Shop {
        /// What one costs, in any money.
        price: Option<f64>,
    },
}

/// What the saw takes, and what can be held at it. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Saw {
    /// Width of the groove that the blade leaves; above zero.
    pub kerf: f64,
    /// What is lost at either end of a stick, with the kerf that takes it off.
    pub trim: f64,
    /// The least length that may be held: of the two that a cut parts, the longer has to be as long.
    pub hold: f64,
}

/// What there shall be least of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Aim {
    /// Sticks.
    FewestSticks,
    /// Money.
    LeastCost,
    /// Wood, by the sticks' whole lengths.
    LeastWood,
}

/// Parts to be cut out of sticks.
#[derive(Debug, Clone, PartialEq)]
pub struct CutTask {
    /// What is wanted. Parts are known by their places here.
    pub parts: Vec<Part>,
    /// What there is. Stocks are known by their places here.
    pub stocks: Vec<Stock>,
    /// What they are cut with.
    pub saw: Saw,
    /// Of what is bought; of what is used where nothing has to be bought.
    pub aim: Aim,
}

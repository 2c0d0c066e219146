//! How long a person takes for what machines' plans only count.

/// Seconds for one of a kind of work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate {
    /// For each.
    pub seconds: f64,
    /// Whether somebody gave it; else it is an example.
    pub is_own: bool,
}

impl Rate {
    /// An example, until somebody gives their own.
    const fn example(seconds: f64) -> Rate {
        Rate {
            seconds,
            is_own: false,
        }
    }

    /// One that somebody gave, s.
    pub fn own(seconds: f64) -> Rate {
        Rate {
            seconds,
            is_own: true,
        }
    }

    /// For so many.
    pub fn of(self, count: usize) -> f64 {
        self.seconds * count as f64
    }
}

/// Rates of work by hand. What is shipped are examples (common practice, no source): every shop has its own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rates {
    /// Setting fence and blade of a sled once, with its test cut.
    pub setting: Rate,
    /// One pass of the sled through a block of strips or sticks, with moving it to the next place.
    pub cut: Rate,
    /// Fitting one block and its stop to a paring guide.
    pub block: Rate,
    /// Paring one facet.
    pub facet: Rate,
    /// Cutting one piece to its rough length, or parting it from its stick, and fitting it.
    pub piece: Rate,
    /// Laying one strip into the lattice, gluing it and trimming its ends.
    pub strip: Rate,
    /// Loading and clamping for one run of a router's program, or one sheet for a laser.
    pub load: Rate,
}

impl Default for Rates {
    fn default() -> Self {
        Rates {
            setting: Rate::example(900.0),
            cut: Rate::example(40.0),
            block: Rate::example(300.0),
            facet: Rate::example(30.0),
            piece: Rate::example(60.0),
            strip: Rate::example(120.0),
            load: Rate::example(300.0),
        }
    }
}

impl Rates {
    /// All of them, by the names that jobs call them.
    pub fn named(&self) -> [(&'static str, Rate); 7] {
        [
            ("setting", self.setting),
            ("cut", self.cut),
            ("block", self.block),
            ("facet", self.facet),
            ("piece", self.piece),
            ("strip", self.strip),
            ("load", self.load),
        ]
    }
}

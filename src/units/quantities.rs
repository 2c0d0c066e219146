//! Lengths and angles that know how they are to be printed.

/// Millimetres in an inch: exact since 1 July 1959 (NBS Circular 572, addendum; NIST SP 811,
/// appendix B).
pub const MM_PER_INCH: f64 = 25.4;

/// A length in millimetres, tagged so that a [`crate::phrase::Phrase`] can print it in the
/// reader's units.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Mm(pub f64);

/// A length in millimetres that is printed without the nearest 1/64 inch, for drawings and for
/// figures that are set large.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Brief(pub f64);

/// A length in millimetres that was measured: printed to the micrometre, or to a hundred-thousandth of an
/// inch, without the nearest 1/64.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Fine(pub f64);

/// The least length that will do, in millimetres: printed rounded up, so that whoever takes the
/// printed figure has enough.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct AtLeast(pub f64);

/// A speed in millimetres a minute: printed whole, or to a tenth of an inch a minute.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Feed(pub f64);

/// An angle in radians, tagged for printing in degrees.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Rad(pub f64);

/// The units in which a person wants to read lengths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum UnitSystem {
    /// Millimetres, two decimals.
    #[default]
    Millimetres,
    /// Inches: a fraction where it is true, else four decimals, with the nearest 1/64 and what taking it
    /// would cost.
    Inches,
}

impl UnitSystem {
    /// As a sentence has them.
    pub fn name(self) -> &'static str {
        match self {
            UnitSystem::Millimetres => "millimetres",
            UnitSystem::Inches => "inches",
        }
    }
}

/// The most length that will do, in mm; printed rounded down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtMost(pub f64);

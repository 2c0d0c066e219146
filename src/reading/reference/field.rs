//! What is told of a field: the rows of the tables.

use crate::units::Kind;

/// A kind of file and all that may stand in it.
#[derive(Debug, Clone, Copy)]
pub struct Reference {
    /// What it is called: `job`, `sled`, `pattern`.
    pub name: &'static str,
    /// A few lines for a person who has never seen one.
    pub about: &'static str,
    /// Its tables, the top of the file first.
    pub tables: &'static [Table],
}

/// A table of a file.
#[derive(Debug, Clone, Copy)]
pub struct Table {
    /// From the top of the file, which has an empty one: `grid`; `fixture.clamps[]` for each table of a
    /// list; `infill.legend.*` for each table under a name that the writer gives.
    pub path: &'static str,
    /// Whether it has to be there.
    pub needed: Needed,
    /// What it is for: sentences.
    pub about: &'static str,
    /// What may stand there instead of a table.
    pub or: Option<Holds>,
    /// Its keys, in the order in which a person would write them.
    pub fields: &'static [Field],
    /// How its keys go together.
    pub rules: &'static [Rule],
}

/// A key of a table. A key that means something else in another kind of grid has a row for each.
#[derive(Debug, Clone, Copy)]
pub struct Field {
    /// The key, or `*` for names that the writer gives.
    pub key: &'static str,
    /// What stands behind it.
    pub holds: Holds,
    /// Whether it has to be there.
    pub needed: Needed,
    /// When it may be there; all of these hold.
    pub only: &'static [When],
    /// What holds where it is left out, in words; empty where nothing does.
    pub usual: &'static str,
    /// What it means: a sentence without its full stop.
    pub means: &'static str,
    /// A value as it is written.
    pub example: &'static str,
}

/// What stands behind a key.
#[derive(Debug, Clone, Copy)]
pub enum Holds {
    /// A number with its unit.
    Quantity(Kind),
    /// A length above zero.
    AboveZero,
    /// A quantity between two others.
    Within(Kind, &'static str, &'static str),
    /// A list of quantities.
    Quantities(Kind),
    /// One quantity, or a list of two.
    OneOrTwo(Kind),
    /// Text for people.
    Text,
    /// A name that comes with the program, or a file's path.
    Named(Shipped),
    /// `true` or `false`.
    Flag,
    /// A day, without quotes.
    Date,
    /// A whole number, the least and the greatest.
    Count(u32, u32),
    /// One of a few words.
    Word(&'static [&'static str]),
    /// A name, or a list of names, so many at least and at most.
    Names(usize, usize),
    /// A list of texts.
    Texts,
    /// A pair of lengths.
    Point,
    /// A list of pairs of lengths.
    Points,
    /// A pair of plain numbers or of fractions in quotes.
    Fractions,
    /// A plain number or a fraction in quotes, between two others.
    Part(&'static str, &'static str),
}

/// What a name that comes with the program stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shipped {
    /// A machine's profile.
    Machine,
    /// A pattern of pieces.
    Pattern,
}

/// Whether something has to be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Needed {
    /// It has, wherever it may stand.
    Yes,
    /// It may be left out.
    No,
}

/// What another key has to say for a key to have a meaning. Paths go from the top of the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// It is one of these words.
    Is(&'static str, &'static [&'static str]),
    /// It is `true`.
    True(&'static str),
    /// It is written.
    Has(&'static str),
    /// It is not written.
    Lacks(&'static str),
}

/// How keys of a table go together.
#[derive(Debug, Clone, Copy)]
pub enum Rule {
    /// Exactly one of them.
    OneOf(&'static [&'static str]),
    /// One of them or none.
    AtMostOne(&'static [&'static str]),
    /// At least one of them, while all of these hold.
    AnyOf(&'static [When], &'static [&'static str]),
    /// All of them or none.
    Together(&'static [&'static str]),
    /// The first takes the second.
    Takes(&'static str, &'static str),
    /// While all of these hold, none of them.
    Not(&'static [When], &'static [&'static str]),
}

/// A key that may be left out; the rest is said by what is chained to it.
pub(super) const fn field(
    key: &'static str,
    holds: Holds,
    example: &'static str,
    means: &'static str,
) -> Field {
    Field {
        key,
        holds,
        needed: Needed::No,
        only: &[],
        usual: "",
        means,
        example,
    }
}

impl Field {
    /// It has to be there.
    pub(super) const fn needed(self) -> Field {
        Field {
            needed: Needed::Yes,
            ..self
        }
    }

    /// What holds where it is left out.
    pub(super) const fn usual(self, usual: &'static str) -> Field {
        Field { usual, ..self }
    }

    /// When it may be there.
    pub(super) const fn only(self, only: &'static [When]) -> Field {
        Field { only, ..self }
    }
}

/// A table that may be left out.
pub(super) const fn table(
    path: &'static str,
    about: &'static str,
    fields: &'static [Field],
) -> Table {
    Table {
        path,
        needed: Needed::No,
        about,
        or: None,
        fields,
        rules: &[],
    }
}

impl Table {
    /// It has to be there.
    pub(super) const fn needed(self) -> Table {
        Table {
            needed: Needed::Yes,
            ..self
        }
    }

    /// What may stand there instead of a table.
    pub(super) const fn or(self, holds: Holds) -> Table {
        Table {
            or: Some(holds),
            ..self
        }
    }

    /// How its keys go together.
    pub(super) const fn rules(self, rules: &'static [Rule]) -> Table {
        Table { rules, ..self }
    }

    /// A key's path from the top of the file.
    pub fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.path)
        }
    }
}

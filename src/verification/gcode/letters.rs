//! Sets of letters: which words a line has, and which ones are taken.

/// Some of the letters A to Z.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Letters(u32);

impl Letters {
    /// Those of a text.
    pub(super) const fn of(text: &str) -> Letters {
        let bytes = text.as_bytes();
        let mut all = Letters(0);
        let mut at = 0;
        while at < bytes.len() {
            all = all.with(bytes[at] as char);
            at += 1;
        }
        all
    }

    const fn bit(letter: char) -> u32 {
        if letter.is_ascii_uppercase() {
            1 << (letter as u32 - 'A' as u32)
        } else {
            0
        }
    }

    /// And one more.
    pub(super) const fn with(self, letter: char) -> Letters {
        Letters(self.0 | Letters::bit(letter))
    }

    /// Whether a letter is among them.
    pub(super) const fn has(self, letter: char) -> bool {
        self.0 & Letters::bit(letter) != 0
    }

    /// Whether all of the others are among them.
    pub(super) const fn hold(self, others: Letters) -> bool {
        others.0 & !self.0 == 0
    }

    /// Whether any of the others is among them.
    pub(super) const fn meet(self, others: Letters) -> bool {
        self.0 & others.0 != 0
    }

    /// Those that are in either.
    pub(super) const fn or(self, others: Letters) -> Letters {
        Letters(self.0 | others.0)
    }

    /// Those that are in both.
    pub(super) const fn and(self, others: Letters) -> Letters {
        Letters(self.0 & others.0)
    }

    /// Those that are not among the others.
    pub(super) const fn without(self, others: Letters) -> Letters {
        Letters(self.0 & !others.0)
    }
}

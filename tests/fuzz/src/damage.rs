//! Damage to files: bytes and lines changed, cut out, said twice, put in from another file; numbers replaced by
//! what nobody expects.

use fastrand::Rng;

/// Figures at the ends of what a number can be, and what only looks like one.
const EXTREMES: &[&str] = &[
    "0",
    "-0",
    "-1",
    "1",
    "0.0000001",
    "1e-300",
    "1e300",
    "-1e300",
    "1e999",
    "nan",
    "inf",
    "-inf",
    "9007199254740993",
    "18446744073709551616",
    "2147483648",
    "4294967295",
    "1000000",
    "100000",
    "99999.9999",
    "1/0",
    "0/0",
    "1-1/2",
    "1/3",
    ".",
    "-",
    "--1",
    "1.2.3",
    "0x10",
    "1_000",
    "+5",
    "90",
    "180",
    "360",
    "179.999999",
    "0.00049",
];

/// What a word of a file may be replaced by.
const WORDS: &[&str] = &[
    "\"\"",
    "\"mm\"",
    "\"40 mm\"",
    "\"-3 mm\"",
    "\"1e9 mm\"",
    "\"1/64 in\"",
    "\"90 deg\"",
    "[]",
    "{}",
    "true",
    "[[]]",
    "square",
    "diamond",
    "triangular",
    "hexagon",
    "polygon",
    "\u{0}",
    "\u{feff}",
    "\u{202e}",
    "\r",
    "\t",
    "\"",
    "'''",
    "\"\"\"",
    "#",
    "=",
    ".",
    ",",
    "[",
    "]",
    "%",
    "(",
    ")",
    "G2",
    "G3",
    "G18",
    "G81",
    "M30",
    "X",
    "I0",
    "R0",
];

pub struct Damage {
    corpus: Vec<Vec<u8>>,
    rng: Rng,
}

impl Damage {
    pub fn new(corpus: Vec<Vec<u8>>, seed: u64) -> Self {
        assert!(!corpus.is_empty());
        Damage {
            corpus,
            rng: Rng::with_seed(seed),
        }
    }

    /// A file with one to four kinds of damage.
    pub fn file(&mut self) -> Vec<u8> {
        let mut bytes = self.any().clone();
        for _ in 0..=self.rng.usize(..4) {
            self.once(&mut bytes);
        }
        bytes.truncate(1 << 17);
        bytes
    }

    fn any(&mut self) -> &Vec<u8> {
        let at = self.rng.usize(..self.corpus.len());
        &self.corpus[at]
    }

    fn once(&mut self, bytes: &mut Vec<u8>) {
        match self.rng.u8(..10) {
            0 => self.flips(bytes),
            1 => drop(bytes.drain(self.part(bytes.len()))),
            2 => bytes.truncate(self.rng.usize(..=bytes.len())),
            3 => self.splice(bytes),
            4 => self.line(bytes),
            5 => {
                let words = self.words(bytes, |byte| byte.is_ascii_alphanumeric());
                self.put(bytes, &words, WORDS);
            }
            _ => {
                let numbers = self.words(bytes, |byte| {
                    byte.is_ascii_digit() || byte == b'.' || byte == b'-'
                });
                self.put(bytes, &numbers, EXTREMES);
            }
        }
    }

    /// From somewhere to not far from there.
    fn part(&mut self, length: usize) -> std::ops::Range<usize> {
        let from = self.rng.usize(..=length);
        from..(from + self.rng.usize(..60)).min(length)
    }

    fn flips(&mut self, bytes: &mut [u8]) {
        for _ in 0..=self.rng.usize(..4) {
            let at = self.rng.usize(..bytes.len().max(1));
            if let Some(byte) = bytes.get_mut(at) {
                *byte = if self.rng.bool() {
                    *byte ^ (1 << self.rng.u8(..8))
                } else {
                    self.rng.u8(..)
                };
            }
        }
    }

    /// A part of this file or of another one, put in.
    fn splice(&mut self, bytes: &mut Vec<u8>) {
        let other = self.any().clone();
        let from = self.rng.usize(..=other.len());
        let to = (from + self.rng.usize(..400)).min(other.len());
        let at = self.rng.usize(..=bytes.len());
        bytes.splice(at..at, other[from..to].iter().copied());
    }

    /// A line left out, said twice, or put elsewhere.
    fn line(&mut self, bytes: &mut Vec<u8>) {
        let mut lines: Vec<&[u8]> = bytes.split_inclusive(|byte| *byte == b'\n').collect();
        if lines.is_empty() {
            return;
        }
        let line = lines[self.rng.usize(..lines.len())];
        let at = self.rng.usize(..lines.len());
        match self.rng.u8(..3) {
            0 => drop(lines.remove(at)),
            1 => lines.insert(at, line),
            _ => lines[at] = line,
        }
        *bytes = lines.concat();
    }

    /// Where runs of such bytes stand.
    fn words(&self, bytes: &[u8], is: impl Fn(u8) -> bool) -> Vec<std::ops::Range<usize>> {
        let mut words = Vec::new();
        let mut from = None;
        for (at, byte) in bytes.iter().chain([&b'\n']).enumerate() {
            match (is(*byte), from) {
                (true, None) => from = Some(at),
                (false, Some(start)) => {
                    words.push(start..at);
                    from = None;
                }
                _ => {}
            }
        }
        words
    }

    fn put(&mut self, bytes: &mut Vec<u8>, words: &[std::ops::Range<usize>], instead: &[&str]) {
        if words.is_empty() {
            return;
        }
        let word = words[self.rng.usize(..words.len())].clone();
        let text = instead[self.rng.usize(..instead.len())];
        bytes.splice(word, text.bytes());
    }

    /// A line of a program: words at random.
    pub fn block(&mut self) -> Vec<u8> {
        let mut line = Vec::new();
        for _ in 0..self.rng.usize(1..6) {
            let letter = if self.rng.u8(..8) == 0 {
                self.rng.u8(..)
            } else {
                b"GMXYZIJKRFSPTNDHLQABC()%;/*#="[self.rng.usize(..29)]
            };
            line.push(letter);
            match self.rng.u8(..4) {
                0 => line.extend(EXTREMES[self.rng.usize(..EXTREMES.len())].bytes()),
                1 => line.extend(self.rng.u8(..100).to_string().bytes()),
                2 => line.extend(format!("{:.3}", self.rng.f64() * 2000.0 - 1000.0).bytes()),
                _ => {}
            }
            if self.rng.bool() {
                line.push(b' ');
            }
        }
        line
    }
}

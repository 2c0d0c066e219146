//! Figures that are off by a known part and by independent random parts. Millimetres.

use crate::machines::PlusMinus;

/// What scatters by itself, apart from all else.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Source {
    /// Plus or minus.
    pub half: f64,
    /// How that is read.
    pub reading: PlusMinus,
}

impl Source {
    /// Its standard deviation.
    pub fn deviation(&self) -> f64 {
        self.reading.deviation(self.half)
    }
}

/// All that scatters, each by its index.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sources(pub Vec<Source>);

impl Sources {
    /// One more, and its index.
    pub(super) fn add(&mut self, half: f64, reading: PlusMinus) -> usize {
        self.0.push(Source { half, reading });
        self.0.len() - 1
    }

    /// One more, as a figure that is off by it.
    pub(super) fn form(&mut self, half: f64, reading: PlusMinus) -> Form {
        if half <= 0.0 {
            return Form::default();
        }
        Form {
            known: 0.0,
            parts: vec![(self.add(half, reading), 1.0)],
        }
    }
}

/// A known part, and shares of sources, each source once, in the order of their indices.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Form {
    /// What is known of it.
    pub known: f64,
    /// Indices of sources and how much of each goes in.
    pub parts: Vec<(usize, f64)>,
}

impl Form {
    /// Known alone.
    pub(super) fn of_known(known: f64) -> Form {
        Form {
            known,
            parts: Vec::new(),
        }
    }

    /// `self + share * other`.
    #[must_use]
    pub(super) fn plus(&self, share: f64, other: &Form) -> Form {
        let mut parts = Vec::with_capacity(self.parts.len() + other.parts.len());
        let (mut own, mut more) = (self.parts.iter().peekable(), other.parts.iter().peekable());
        loop {
            let next = match (own.peek(), more.peek()) {
                (Some((a, _)), Some((b, _))) if a == b => {
                    let (Some((at, one)), Some((_, two))) = (own.next(), more.next()) else {
                        break;
                    };
                    (*at, one + share * two)
                }
                (Some((a, _)), Some((b, _))) if a > b => match more.next() {
                    Some((at, two)) => (*at, share * two),
                    None => break,
                },
                (Some(_), _) => match own.next() {
                    Some(part) => *part,
                    None => break,
                },
                (None, Some(_)) => match more.next() {
                    Some((at, two)) => (*at, share * two),
                    None => break,
                },
                (None, None) => break,
            };
            parts.push(next);
        }
        Form {
            known: self.known + share * other.known,
            parts,
        }
    }

    /// The mean of several.
    pub(super) fn mean<'a>(forms: impl ExactSizeIterator<Item = &'a Form>) -> Form {
        let share = 1.0 / forms.len().max(1) as f64;
        let mut known = 0.0;
        let mut all: Vec<(usize, f64)> = Vec::new();
        for form in forms {
            known += share * form.known;
            all.extend(form.parts.iter().map(|(at, part)| (*at, share * part)));
        }
        all.sort_by_key(|(at, _)| *at);
        let mut parts: Vec<(usize, f64)> = Vec::new();
        for (at, part) in all {
            match parts.last_mut() {
                Some((last, sum)) if *last == at => *sum += part,
                _ => parts.push((at, part)),
            }
        }
        Form { known, parts }
    }

    /// The random part where all sources are at their worst: the sum of |share| times plus or minus.
    pub fn worst(&self, sources: &Sources) -> f64 {
        let each = self.parts.iter().filter_map(|(at, share)| {
            let source = sources.0.get(*at)?;
            Some(share.abs() * source.half)
        });
        each.sum()
    }

    /// Standard deviation of the random part, the root of the sum of (share times deviation) squared
    /// (JCGM 100:2008, 5.1.2).
    pub fn deviation(&self, sources: &Sources) -> f64 {
        let each = self.parts.iter().filter_map(|(at, share)| {
            let source = sources.0.get(*at)?;
            Some((share * source.deviation()).powi(2))
        });
        each.sum::<f64>().sqrt()
    }

    /// Twice its standard deviation, about 95 % (JCGM 100:2008, 6.3); no more than the worst case where
    /// all of its sources have limits, which nothing passes.
    pub fn expanded(&self, sources: &Sources) -> f64 {
        let expanded = 2.0 * self.deviation(sources);
        let mut own = self.parts.iter().filter_map(|(at, _)| sources.0.get(*at));
        if own.all(|source| source.reading == PlusMinus::Limits) {
            expanded.min(self.worst(sources))
        } else {
            expanded
        }
    }

    /// The figure where the sources have these values.
    pub(super) fn at(&self, values: &[f64]) -> f64 {
        let each = (self.parts.iter()).map(|(at, share)| share * values.get(*at).unwrap_or(&0.0));
        self.known + each.sum::<f64>()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sources(halves: &[f64], reading: PlusMinus) -> Sources {
        Sources(
            halves
                .iter()
                .map(|&half| Source { half, reading })
                .collect(),
        )
    }

    /// A chain of seven links in inches, from a published chapter on tolerance stacks (Chase, "Basic Tools
    /// for Tolerance Analysis of Mechanical Assemblies"; its numbers are from memory): gap .0199, worst
    /// case .0245, root sum square .01108.
    #[test]
    fn a_published_stack_of_tolerances() {
        let links = [
            (-0.0505, 0.0015),
            (8.000, 0.008),
            (-0.5093, 0.0025),
            (0.400, 0.002),
            (-7.711, 0.006),
            (0.400, 0.002),
            (-0.5093, 0.0025),
        ];
        let halves: Vec<f64> = links.iter().map(|(_, half)| *half).collect();
        let sources = sources(&halves, PlusMinus::Once);
        let gap = links
            .iter()
            .enumerate()
            .fold(Form::default(), |sum, (at, (size, _))| {
                let link = Form {
                    known: *size,
                    parts: vec![(at, 1.0)],
                };
                sum.plus(1.0, &link)
            });
        assert!((gap.known - 0.0199).abs() < 1e-12);
        assert!((gap.worst(&sources) - 0.0245).abs() < 1e-12);
        assert!((gap.deviation(&sources) - 0.011_079_3).abs() < 5e-7);
    }

    /// Ten parts of 0.1: 1.0 and 0.316; one that is in both ends falls out.
    #[test]
    fn what_is_shared_adds_up_or_falls_out() {
        let ten = sources(&[0.1; 10], PlusMinus::Once);
        let parts = (0..10).map(|at| (at, 1.0)).collect();
        let sum = Form { known: 0.0, parts };
        assert!((sum.worst(&ten) - 1.0).abs() < 1e-12);
        assert!((sum.deviation(&ten) - 0.1_f64.sqrt()).abs() < 1e-12);
        let twice = sum.plus(1.0, &sum);
        assert!((twice.deviation(&ten) - 2.0 * 0.1_f64.sqrt()).abs() < 1e-12);
        let none = sum.plus(-1.0, &sum);
        assert!(none.deviation(&ten) < 1e-15 && none.worst(&ten) < 1e-15);
        let mean = Form::mean([&sum, &none].into_iter());
        assert!((mean.deviation(&ten) - 0.1_f64.sqrt() / 2.0).abs() < 1e-12);
        assert!((sum.at(&[0.5; 10]) - 5.0).abs() < 1e-12);
    }
}

//! Strips longer than the travel: which notches are cut in which set-up, and which notch that is
//! already there lies on the key in each later one.

/// Notches that one program cuts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Part {
    /// The first, and the one after the last.
    pub(super) notches: (usize, usize),
    /// The notch on the key; none where the strips' ends lie against the end stop.
    pub(super) on_key: Option<usize>,
    /// How many keys lie between the end stop and these notches: the errors add up.
    pub(super) hops: usize,
}

/// What the machine reaches. Millimetres along X.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Reach<'a> {
    /// Least and greatest X of the tool's centre for every notch, from the front strip's datum end.
    pub(super) spans: &'a [[f64; 2]],
    /// Where every notch lies over the key, from the front strip's datum end.
    pub(super) at_key: &'a [f64],
    /// Least and greatest X that the tool's centre reaches, from the end stop.
    pub(super) room: [f64; 2],
    /// The key's place from the end stop, if there is one.
    pub(super) key: Option<f64>,
}

impl Reach<'_> {
    /// X of the datum end when a notch lies on the key.
    fn datum(&self, notch: usize) -> Option<f64> {
        Some(self.key? - self.at_key.get(notch)?)
    }

    /// The notch after the last that can be reached, from the notch `from` on.
    fn end(&self, from: usize, datum: f64) -> usize {
        let [low, high] = self.room;
        let fits = |span: &&[f64; 2]| {
            span[0] + datum >= low - SLACK_MM && span[1] + datum <= high + SLACK_MM
        };
        from + self.spans.iter().skip(from).take_while(fits).count()
    }

    /// Fewest set-ups for the notches from `from` on: the last notch that is there takes the strips
    /// farthest along. `None` where they cannot be made.
    fn fewest(&self, mut from: usize) -> Option<usize> {
        let mut count = 0;
        while from < self.spans.len() {
            let end = self.end(from, self.datum(from.checked_sub(1)?)?);
            if end == from {
                return None;
            }
            from = end;
            count += 1;
        }
        Some(count)
    }

    /// The set-ups: as few as can be, and among these, one by one, over the fewest keys.
    pub(super) fn parts(&self) -> Option<Vec<Part>> {
        let first = Part {
            notches: (0, self.end(0, 0.0)),
            on_key: None,
            hops: 0,
        };
        let mut parts = vec![first];
        let mut done = first.notches.1;
        while done < self.spans.len() {
            let most = self.fewest(done)?;
            let hops = |notch: usize| {
                let cut = parts.iter().find(|part: &&Part| notch < part.notches.1);
                cut.map_or(0, |part| part.hops + 1)
            };
            let next = (0..done)
                .filter_map(|notch| {
                    let end = self.end(done, self.datum(notch)?);
                    let enough = end > done && self.fewest(end)? < most;
                    enough.then(|| Part {
                        notches: (done, end),
                        on_key: Some(notch),
                        hops: hops(notch),
                    })
                })
                .min_by_key(|part| (part.hops, usize::MAX - part.notches.1, part.on_key))?;
            done = next.notches.1;
            parts.push(next);
        }
        (done > 0 && first.notches.1 > 0).then_some(parts)
    }
}

/// Reaching this much farther than the travel is reaching it.
const SLACK_MM: f64 = crate::geometry::SAME_POSITION_MM;

#[cfg(test)]
mod tests {
    use super::*;

    /// `count` notches 50 mm apart, the first at 20.
    fn reach(count: usize, travel: f64, key: Option<f64>) -> Option<Vec<Part>> {
        let centres: Vec<f64> = (0..count).map(|at| 20.0 + 50.0 * at as f64).collect();
        let spans: Vec<[f64; 2]> = centres.iter().map(|x| [x - 0.5, x + 0.5]).collect();
        Reach {
            spans: &spans,
            at_key: &centres,
            room: [-15.0, travel - 15.0],
            key,
        }
        .parts()
    }

    #[test]
    fn short_strips_need_one_set_up_and_long_ones_a_key() {
        assert_eq!(reach(5, 300.0, None).unwrap().len(), 1);
        assert_eq!(reach(8, 300.0, None), None);
        let parts = reach(8, 300.0, Some(20.0)).unwrap();
        // 285 from the end stop reach notches at 20 to 270. With notch 6 on the key, at 20, the
        // other two lie at 70 and 120; notch 4 on the key, at 20, has notch 8 at 220.
        assert_eq!(parts[0].notches, (0, 6));
        assert_eq!(parts[1].notches, (6, 8));
        assert_eq!(parts[1].hops, 1);
        assert_eq!(parts.len(), 2);
    }

    #[test]
    fn the_fewest_set_ups_with_the_fewest_keys_between() {
        // 20 notches: 6 in the first set-up, then 5 more each with the last notch on the key.
        let parts = reach(20, 300.0, Some(20.0)).unwrap();
        assert_eq!(parts.len(), 4);
        let ends: Vec<usize> = parts.iter().map(|part| part.notches.1).collect();
        assert_eq!(ends.last(), Some(&20));
        for pair in parts.windows(2) {
            assert_eq!(pair[0].notches.1, pair[1].notches.0);
        }
        for part in &parts[1..] {
            assert!(part.on_key.unwrap() < part.notches.0);
        }
    }

    #[test]
    fn without_a_notch_that_registers_there_is_no_way() {
        // The key lies at the far end: a notch on it leaves no room for the next.
        assert_eq!(reach(8, 300.0, Some(280.0)), None);
        // A travel that does not reach the first notch.
        assert_eq!(reach(8, 30.0, Some(20.0)), None);
    }
}

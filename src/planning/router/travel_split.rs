//! Strips longer than the travel: which notches are cut in which set-up, and which notch that is
//! already there lies on the key in each later one.

/// Notches that one program cuts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct SetUpPart {
    /// The first, and the one after the last.
    pub(super) notches: (usize, usize),
    /// The notch on the key; none where the strips' ends lie against the end stop.
    pub(super) on_key: Option<usize>,
    /// How many keys lie between the end stop and these notches: the errors add up.
    pub(super) hops: usize,
}

/// What the machine reaches. Millimetres along X.
#[derive(Clone, Copy)]
pub(super) struct Reach<'a> {
    /// Least and greatest X of the tool's centre for every notch, from the front strip's datum end.
    pub(super) spans: &'a [[f64; 2]],
    /// Where every notch lies over the key, from the front strip's datum end.
    pub(super) at_key: &'a [f64],
    /// Least and greatest X that the tool's centre reaches, from the end stop.
    pub(super) room: [f64; 2],
    /// Whether no clamp stands in the way of a notch while the front strip's datum end is there.
    pub(super) is_clear: &'a dyn Fn(usize, f64) -> bool,
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
        let fits = |(at, span): &(usize, &[f64; 2])| {
            span[0] + datum >= low - SLACK_MM
                && span[1] + datum <= high + SLACK_MM
                && (self.is_clear)(*at, datum)
        };
        let spans = self.spans.iter().enumerate();
        from + spans.skip(from).take_while(fits).count()
    }

    /// Fewest set-ups for the notches from `from` on, each with the notch on the key that lets it
    /// get farthest. `None` where they cannot be made.
    ///
    /// Going as far as can be is never worse: a set-up that ends later leaves fewer notches to cut,
    /// and every notch that one that ends sooner could lay on the key is there for the next one too.
    /// So whatever set-ups would follow the nearer end reach at least as far from the farther one.
    fn fewest(&self, mut from: usize) -> Option<usize> {
        let mut count = 0;
        while from < self.spans.len() {
            let ends = (0..from).filter_map(|notch| Some(self.end(from, self.datum(notch)?)));
            let end = ends.max().filter(|end| *end > from)?;
            from = end;
            count += 1;
        }
        Some(count)
    }

    /// The set-ups: as few as can be, and among these, one by one, over the fewest keys. A set-up need
    /// not get as far as any notch on the key would let it: one that hangs on fewer keys is taken where
    /// no more set-ups have to follow, as errors add up from key to key.
    pub(super) fn parts(&self) -> Option<Vec<SetUpPart>> {
        let first = SetUpPart {
            notches: (0, self.end(0, 0.0)),
            on_key: None,
            hops: 0,
        };
        let mut parts = vec![first];
        let mut done = first.notches.1;
        while done < self.spans.len() {
            let most = self.fewest(done)?;
            let next = (0..done)
                .filter_map(|notch| {
                    let end = self.end(done, self.datum(notch)?);
                    let enough = end > done && self.fewest(end)? < most;
                    enough.then(|| SetUpPart {
                        notches: (done, end),
                        on_key: Some(notch),
                        hops: hops_to(&parts, notch),
                    })
                })
                .min_by_key(|part| (part.hops, usize::MAX - part.notches.1, part.on_key))?;
            done = next.notches.1;
            parts.push(next);
        }
        (done > 0 && first.notches.1 > 0).then_some(parts)
    }
}

/// Keys between the end stop and what a notch on the key brings within reach: one more than lie
/// before the set-up that cut it.
fn hops_to(parts: &[SetUpPart], notch: usize) -> usize {
    let cut = parts.iter().find(|part| notch < part.notches.1);
    cut.map_or(0, |part| part.hops + 1)
}

/// Reaching this much farther than the travel is reaching it.
const SLACK_MM: f64 = crate::geometry::SAME_POSITION_MM;

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// `count` notches 50 mm apart, the first at 20.
    fn reach(count: usize, travel: f64, key: Option<f64>) -> Option<Vec<SetUpPart>> {
        let centres: Vec<f64> = (0..count).map(|at| 20.0 + 50.0 * at as f64).collect();
        let spans: Vec<[f64; 2]> = centres.iter().map(|x| [x - 0.5, x + 0.5]).collect();
        Reach {
            spans: &spans,
            at_key: &centres,
            room: [-15.0, travel - 15.0],
            is_clear: &|_, _| true,
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

    /// Fewest set-ups by trying every notch on the key and every number of notches behind it.
    fn by_force(reach: &Reach<'_>, from: usize) -> Option<usize> {
        if from == reach.spans.len() {
            return Some(0);
        }
        let datums: Vec<f64> = match from {
            0 => vec![0.0],
            _ => (0..from).filter_map(|notch| reach.datum(notch)).collect(),
        };
        let rest = |datum: f64| {
            let ends = from + 1..=reach.end(from, datum);
            ends.filter_map(|end| by_force(reach, end)).min()
        };
        Some(1 + datums.into_iter().filter_map(rest).min()?)
    }

    proptest! {
        #[test]
        fn no_way_of_sharing_them_out_takes_fewer(
            steps in prop::collection::vec(5.0..60.0_f64, 1..9),
            travel in 60.0..250.0_f64,
            key in -10.0..60.0_f64,
            hidden in prop::collection::vec((-20.0..230.0_f64, 1.0..25.0_f64), 0..4),
        ) {
            let place = |at: &mut f64, step: &f64| { *at += step; Some(*at) };
            let centres: Vec<f64> = steps.iter().scan(0.0, place).collect();
            let spans: Vec<[f64; 2]> = centres.iter().map(|x| [x - 0.5, x + 0.5]).collect();
            let is_clear = |at: usize, datum: f64| {
                let x = centres[at] + datum;
                hidden.iter().all(|(from, width)| !(*from..from + width).contains(&x))
            };
            let reach = Reach {
                spans: &spans,
                at_key: &centres,
                room: [-15.0, travel - 15.0],
                is_clear: &is_clear,
                key: Some(key),
            };
            let parts = reach.parts();
            let found = parts.as_ref().map(Vec::len);
            prop_assert_eq!(found, by_force(&reach, 0));
            let mut done = 0;
            for part in parts.iter().flatten() {
                prop_assert_eq!(part.notches.0, done);
                done = part.notches.1;
                let datum = part.on_key.map_or(0.0, |notch| key - centres[notch]);
                prop_assert!(part.on_key.is_none_or(|notch| notch < part.notches.0));
                for at in part.notches.0..done {
                    prop_assert!(is_clear(at, datum));
                }
            }
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

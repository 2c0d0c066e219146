//! How long machines and bench take, from rates and from what plans count.

use crate::geometry::tolerance::DIRECTION;
use crate::instructions::pare::{ParePlan, PieceFigures, WayFigures};
use crate::instructions::sled::{SledBundle, SledPlan};
use crate::instructions::work_time::{RateUsed, WayTime, WorkCount, WorkTime};
use crate::lattice::PieceWay;
use crate::machines::{Rate, Rates};
use float_cmp::ApproxEq;

/// What machines do of the strips, as far as they can.
#[derive(Debug, Clone, PartialEq)]
pub struct StripWork {
    /// `sled`, `router`, `laser`.
    pub way: &'static str,
    /// Which one.
    pub machine: String,
    /// Settings of fence and blade; runs of programs; sheets.
    pub set_ups: usize,
    /// Passes of a sled.
    pub cuts: usize,
    /// As programs take, s; nothing for a sled, or where a machine's profile does not say how fast it is.
    pub machine_s: Option<f64>,
    /// Whether the machine cannot do it as it is.
    pub cannot: bool,
}

/// The pieces, and how they get their mitres.
#[derive(Debug, Clone, Copy)]
pub struct PieceWork<'a> {
    /// With what every way would make.
    pub pare: &'a ParePlan,
    /// What a router's rows take, where they are planned, s.
    pub routed_s: Option<f64>,
}

/// A job's work.
#[derive(Debug, Clone, Copy)]
pub struct TimeOrder<'a> {
    /// One for each machine that the job names.
    pub strips: &'a [StripWork],
    /// How many strips the panel has.
    pub strip_count: usize,
    /// Its pieces.
    pub pieces: Option<PieceWork<'a>>,
    /// The job's rates.
    pub rates: &'a Rates,
}

/// Passes of the sled: each notch of each block of strips, in so many passes as its setting takes. Bundles
/// that are the same part as an earlier one have blocks of their own.
pub fn sled_passes(plan: &SledPlan) -> usize {
    let blocks = |number: usize| {
        let own = (1..).zip(&plan.bundles);
        let same = own.filter(|(at, bundle): &(usize, &SledBundle)| {
            *at == number || bundle.same_as_bundle == Some(number)
        });
        same.map(|(_, bundle)| bundle.loads.blocks).sum::<usize>()
    };
    let settings = plan.settings.iter().map(|setting| {
        let works = setting.work.iter();
        let places = works.map(|work| work.notches.len() * blocks(work.bundle));
        places.sum::<usize>() * setting.passes_per_notch
    });
    settings.sum()
}

impl TimeOrder<'_> {
    /// All of it, way by way.
    pub fn plan(&self) -> WorkTime {
        let pieces = self
            .pieces
            .map_or(Vec::new(), |pieces| self.piece_ways(pieces));
        WorkTime {
            strips: self
                .strips
                .iter()
                .map(|work| self.strip_way(work))
                .collect(),
            pieces,
            assembly: self.assembly(),
            rates: (self.rates.named().into_iter())
                .map(|(rate, Rate { seconds, is_own })| RateUsed {
                    rate,
                    seconds,
                    is_own,
                })
                .collect(),
        }
    }

    fn work(&self, name: &'static str, count: usize) -> WorkCount {
        let named = self.rates.named();
        let rate = named.iter().find(|(known, _)| *known == name);
        WorkCount {
            rate: name,
            count,
            time_s: rate.map_or(0.0, |(_, rate)| rate.of(count)),
        }
    }

    fn strip_way(&self, work: &StripWork) -> WayTime {
        let (counts, machine_s, not_told) = match (work.way, work.machine_s) {
            _ if work.cannot => (
                Vec::new(),
                None,
                Some("it cannot: `lapwright show` says why"),
            ),
            ("sled", _) => {
                let counts = vec![
                    self.work("setting", work.set_ups),
                    self.work("cut", work.cuts),
                ];
                (counts, None, None)
            }
            (_, Some(machine_s)) => {
                let counts = vec![self.work("load", work.set_ups)];
                (counts, Some(machine_s), None)
            }
            _ => {
                let counts = vec![self.work("load", work.set_ups)];
                (
                    counts,
                    None,
                    Some("its profile does not say how fast it cuts"),
                )
            }
        };
        WayTime {
            way: work.way,
            machine: Some(work.machine.clone()),
            is_taken: true,
            machine_s,
            time_s: not_told
                .is_none()
                .then(|| all(&counts) + machine_s.unwrap_or(0.0)),
            work: counts,
            not_told,
        }
    }

    fn piece_ways(&self, pieces: PieceWork<'_>) -> Vec<WayTime> {
        let pare = pieces.pare;
        let known: Vec<PieceWay> = if pare.ways.is_empty() {
            vec![PieceWay::Guides]
        } else {
            let has = |way: &PieceWay| pare.ways.iter().any(|one| one.way == *way);
            PieceWay::ALL.into_iter().filter(has).collect()
        };
        known
            .into_iter()
            .map(|way| self.piece_way(way, pieces))
            .collect()
    }

    fn piece_way(&self, way: PieceWay, pieces: PieceWork<'_>) -> WayTime {
        let pare = pieces.pare;
        let own = pare.ways.iter().filter(|one| one.way == way);
        let own: Vec<&WayFigures> = own.collect();
        let pared = if own.is_empty() {
            all_facets(pare)
        } else {
            // What a way does not know at all is pared.
            let told: Vec<usize> = own.iter().map(|one| one.piece).collect();
            let rest = pare
                .pieces
                .iter()
                .filter(|piece| !told.contains(&piece.number));
            let rest: usize = rest.map(|piece| piece.made * facets_of(piece)).sum();
            own.iter().map(|one| one.facets_pared).sum::<usize>() + rest
        };
        let cuts: usize = own.iter().map(|one| one.cuts).sum();
        let sawn = matches!(way, PieceWay::Rows | PieceWay::StickEnds);
        let is_taken = pare.way == way;
        // Of the way that is taken the settings are known; of another one each piece's are counted, though some
        // may be the same.
        let settings = own.iter().map(|one| one.settings).sum();
        let settings = match &pare.mitres {
            Some(plan) if is_taken => plan.settings.len(),
            _ => settings,
        };
        let blocks = match (pared, is_taken) {
            (0, _) => 0,
            (_, true) => pare.blocks.len(),
            (_, false) => block_angles(pare),
        };
        let mut work = Vec::new();
        if sawn {
            work.extend([self.work("setting", settings), self.work("cut", cuts)]);
        }
        work.extend([self.work("block", blocks), self.work("facet", pared)]);
        let routed = way == PieceWay::RoutedRows;
        let machine_s = pieces.routed_s.filter(|_| routed);
        let not_told =
            (routed && machine_s.is_none()).then_some("no program is planned for it here");
        work.retain(|one| one.count > 0);
        WayTime {
            way: way.name(),
            machine: own.first().and_then(|one| one.machine.clone()),
            is_taken,
            machine_s,
            time_s: not_told
                .is_none()
                .then(|| all(&work) + machine_s.unwrap_or(0.0)),
            work,
            not_told,
        }
    }

    fn assembly(&self) -> WayTime {
        let pieces = self.pieces.iter().flat_map(|pieces| &pieces.pare.pieces);
        let pieces = pieces.map(|piece| piece.made).sum();
        let mut work = vec![
            self.work("strip", self.strip_count),
            self.work("piece", pieces),
        ];
        work.retain(|one| one.count > 0);
        WayTime {
            way: "bench",
            machine: None,
            is_taken: true,
            machine_s: None,
            time_s: Some(all(&work)),
            work,
            not_told: None,
        }
    }
}

fn all(work: &[WorkCount]) -> f64 {
    work.iter().map(|one| one.time_s).sum()
}

/// Blocks for all facets of all pieces: angles of the guide blocks, each once.
fn block_angles(pare: &ParePlan) -> usize {
    let ends = pare.pieces.iter().flat_map(|piece| &piece.ends);
    let facets = ends.flat_map(|end| &end.facets);
    let mut angles: Vec<f64> = facets.map(|facet| facet.block_angle).collect();
    angles.sort_by(f64::total_cmp);
    angles.dedup_by(|a, b| a.approx_eq(*b, DIRECTION));
    angles.len()
}

/// Facets of one piece, the walls of a V like two.
fn facets_of(piece: &PieceFigures) -> usize {
    let ends: usize = piece.ends.iter().map(|end| end.facets.len()).sum();
    ends + 2 * piece.folds.len()
}

fn all_facets(pare: &ParePlan) -> usize {
    pare.pieces
        .iter()
        .map(|piece| piece.made * facets_of(piece))
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 2 settings of 900 s and 30 cuts of 40 s; 3 loads of 300 s beside 600 s of programs; 9 strips of 120 s.
    #[test]
    fn counts_times_rates() {
        let work = |way, set_ups, cuts, machine_s| StripWork {
            way,
            machine: way.to_owned(),
            set_ups,
            cuts,
            machine_s,
            cannot: false,
        };
        let strips = [
            work("sled", 2, 30, None),
            work("router", 3, 0, Some(600.0)),
            work("laser", 1, 0, None),
        ];
        let mut rates = Rates::default();
        let order = |rates: &Rates| {
            let order = TimeOrder {
                strips: &strips,
                strip_count: 9,
                pieces: None,
                rates,
            };
            order.plan()
        };
        let time = order(&rates);
        let told: Vec<Option<f64>> = time.strips.iter().map(|way| way.time_s).collect();
        assert_eq!(told, [Some(3000.0), Some(1500.0), None]);
        assert_eq!(time.assembly.time_s, Some(1080.0));
        assert!(time.strips[2].not_told.is_some() && time.rates.iter().all(|rate| !rate.is_own));
        rates.cut = Rate::own(10.0);
        assert_eq!(order(&rates).strips[0].time_s, Some(2100.0));
    }
}

//! A small saw: it knows key, stop, spacers, fence and blade, keeps them from order to order, and
//! refuses what cannot be done. Apart from the planner: it lays strips out in a plane of its own.
//!
//! As seen from above: u along the strips from their datum end at the left, v across them away
//! from the operator, 0 on the centre line of the strip at the fence. A cut runs at an angle A from
//! u, so it crosses the strip's line at v at `u + v cot A`.

use std::f64::consts::{FRAC_PI_2, PI};

/// How far a notch may lie beside its mark and still be the one of that number: less than half of the
/// least distance between two, mm.
const MOST_OFF: f64 = 8.0;

/// What the bench has, mm.
#[derive(Debug, Clone)]
pub struct Bench {
    pub powered: bool,
    pub kerf: f64,
    pub thickness: f64,
    /// What the blade cuts less deep than it stands over the base.
    pub correction: f64,
    /// What bevelled teeth leave in the middle of a floor.
    pub ridge: f64,
    /// Nearest and farthest place of the stop's face from the kerf.
    pub stop: [f64; 2],
    pub spacers: bool,
    /// Names of the slots and where they are, square to the kerf.
    pub rack: Vec<(f64, f64)>,
    /// How closely figures are told.
    pub told_to: f64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hand {
    Left,
    Right,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Thing {
    Key,
    Stop,
    Spacers,
}

/// Where a notch with play on the key is pushed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Side {
    /// It has none.
    Fits,
    /// Toward the datum end: the strip moves left, the kerf lands farther along it.
    Left,
    Right,
    /// By eye, as closely as this.
    Midway(f64),
}

#[derive(Debug, Clone, PartialEq)]
pub enum Order {
    /// Square, or turned by radians so that an end of the strips goes away from the operator.
    Fence(Option<(f64, Hand)>),
    /// Over the base, or depth of a hand saw's cut.
    Blade(f64),
    /// How high the key stands at most.
    KeyHeight(f64),
    Take(Thing),
    /// Blocks are taken apart and made anew for the work to come.
    ClampAnew,
    Lay(Lay),
    SetStop(f64),
    /// Farther from the kerf.
    MoveStop(f64),
    StopStays,
    Spacers(f64),
    /// Into the slot of this name.
    Key(f64),
    /// The strip's end against what stands there.
    CutAtEnd,
    /// The notch of this number over the key.
    CutOnKey {
        on: usize,
        side: Side,
    },
    /// What stands between the two walls of the last cut.
    Pare,
}

/// Strips laid for work: those of a bundle and of others that are the same part.
#[derive(Debug, Clone, PartialEq)]
pub struct Lay {
    pub bundle: usize,
    pub with: Vec<usize>,
    pub per_block: usize,
    /// Blocks of the bundle itself.
    pub blocks: usize,
    pub face: String,
    /// How far to the right each strip lies of its neighbour nearer the fence.
    pub step: f64,
}

/// What one pass took.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// On the strip's centre line, from the datum end.
    pub near: f64,
    pub far: f64,
    pub depth: f64,
    pub face: String,
    /// From the strip's direction, counter-clockwise seen from the panel's front.
    pub angle: f64,
}

/// A strip as it is so far.
#[derive(Debug, Clone, Default)]
pub struct Strip {
    pub length: f64,
    /// Middles of the notches as they are drawn, by number: what a mark on the strip says.
    pub marks: Vec<f64>,
    pub cuts: Vec<Cut>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum StopState {
    Away,
    /// On the fence since before it was turned.
    Anywhere,
    At(f64),
}

/// The saw and the strips of all bundles.
pub struct Saw {
    bench: Bench,
    fence: Option<(f64, Hand)>,
    blade: Option<f64>,
    key_height: Option<f64>,
    key: Option<f64>,
    stop: StopState,
    spacers: Option<f64>,
    laid: Option<Lay>,
    /// Bundles in stepped blocks, and the faces that these are stepped for.
    stepped: Vec<(usize, String)>,
    pub bundles: Vec<Vec<Strip>>,
}

type Done = Result<(), String>;

impl Saw {
    pub fn new(bench: Bench, bundles: Vec<Vec<Strip>>) -> Saw {
        Saw {
            bench,
            fence: None,
            blade: None,
            key_height: None,
            key: None,
            stop: StopState::Away,
            spacers: None,
            laid: None,
            stepped: Vec::new(),
            bundles,
        }
    }

    /// Carries orders out. What moves on the machine is moved once for all blocks; between two
    /// such moves either each block goes through all its cuts (`block_by_block`), or all blocks
    /// through each cut.
    pub fn carry_out(&mut self, orders: &[Order], block_by_block: bool) -> Done {
        let is_cut = |order: &Order| {
            matches!(
                order,
                Order::CutAtEnd | Order::CutOnKey { .. } | Order::Pare
            )
        };
        // A key named again where it stands is not moved.
        let mut slot = None;
        let moves = |order: &&Order| match order {
            Order::Key(name) => slot.replace(*name) != Some(*name) || !block_by_block,
            Order::Take(Thing::Key) => {
                slot = None;
                true
            }
            _ => true,
        };
        let orders: Vec<Order> = orders.iter().filter(moves).cloned().collect();
        for run in orders.chunk_by(|a, b| is_cut(a) && is_cut(b)) {
            if !run.iter().all(is_cut) {
                for order in run {
                    self.set(order)
                        .map_err(|refused| format!("{order:?}: {refused}"))?;
                }
            } else if block_by_block {
                self.cuts(run)?;
            } else {
                for order in run {
                    self.cuts(std::slice::from_ref(order))?;
                }
            }
        }
        Ok(())
    }

    fn set(&mut self, order: &Order) -> Done {
        match order {
            Order::Fence(fence) => {
                if self.fence != *fence {
                    if self.key.is_some() {
                        return Err("the key stands where the fence swings".into());
                    }
                    if self.stop != StopState::Away {
                        self.stop = StopState::Anywhere;
                    }
                }
                self.fence = *fence;
            }
            Order::Blade(height) => self.blade = Some(*height),
            Order::KeyHeight(height) => self.key_height = Some(*height),
            Order::Take(thing) => return self.take(*thing),
            Order::ClampAnew => self.stepped.clear(),
            Order::Lay(lay) => return self.lay(lay),
            Order::SetStop(at) => return self.set_stop(*at),
            Order::MoveStop(by) => match self.stop {
                StopState::At(at) => return self.set_stop(at + by),
                _ => return Err("the stop is not set".into()),
            },
            Order::StopStays => {
                if !matches!(self.stop, StopState::At(_)) {
                    return Err("the stop is not set".into());
                }
            }
            Order::Spacers(length) => {
                if !self.bench.spacers || *length <= 0.0 {
                    return Err("there are no such spacers".into());
                }
                if !matches!(self.stop, StopState::At(_)) {
                    return Err("spacers, and no stop to lay them against".into());
                }
                self.spacers = Some(*length);
            }
            Order::Key(name) => return self.put_key(*name),
            Order::CutAtEnd | Order::CutOnKey { .. } | Order::Pare => {}
        }
        Ok(())
    }

    /// A square block may be rolled over; one that is stepped is stepped the other way then.
    fn lay(&mut self, lay: &Lay) -> Done {
        if lay.step != 0.0 {
            let known = self
                .stepped
                .iter()
                .find(|(bundle, _)| *bundle == lay.bundle);
            if known.is_some_and(|(_, face)| *face != lay.face) {
                return Err("a stepped block is rolled over".into());
            }
            self.stepped.push((lay.bundle, lay.face.clone()));
        }
        self.laid = Some(lay.clone());
        Ok(())
    }

    fn take(&mut self, thing: Thing) -> Done {
        let there = match thing {
            Thing::Key => self.key.take().is_some(),
            Thing::Spacers => self.spacers.take().is_some(),
            Thing::Stop => std::mem::replace(&mut self.stop, StopState::Away) != StopState::Away,
        };
        if there {
            Ok(())
        } else {
            Err("it is not there".into())
        }
    }

    fn set_stop(&mut self, at: f64) -> Done {
        let [nearest, farthest] = self.bench.stop;
        let slack = 2.0 * self.bench.told_to;
        if at < nearest - slack || at > farthest + slack {
            return Err(format!(
                "the stop reaches {nearest} to {farthest}, not {at}"
            ));
        }
        self.stop = StopState::At(at);
        Ok(())
    }

    fn put_key(&mut self, name: f64) -> Done {
        let called = |slot: &&(f64, f64)| (slot.0 - name).abs() <= self.bench.told_to;
        let slots: Vec<_> = self.bench.rack.iter().filter(called).collect();
        let [slot] = slots.as_slice() else {
            return Err(format!("{} slots are called {name}", slots.len()));
        };
        if slot.1 <= self.bench.kerf {
            return Err("the key would stand in the kerf".into());
        }
        self.key = Some(slot.1);
        Ok(())
    }

    /// The angle from the strips to the cut as seen from above.
    fn seen_angle(&self) -> f64 {
        match self.fence {
            None => FRAC_PI_2,
            Some((turn, Hand::Right)) => FRAC_PI_2 - turn,
            Some((turn, Hand::Left)) => FRAC_PI_2 + turn,
        }
    }

    /// The same as seen from the panel's front: a sled has the notched face down, a hand saw up.
    fn strip_angle(&self, face: &str) -> f64 {
        let front_is_seen = (face == "front") != self.bench.powered;
        if front_is_seen {
            self.seen_angle()
        } else {
            PI - self.seen_angle()
        }
    }

    /// All blocks of what is laid, one after the other, through some cuts.
    fn cuts(&mut self, orders: &[Order]) -> Done {
        let lay = self.laid.clone().ok_or("nothing is laid")?;
        for bundle in std::iter::once(&lay.bundle).chain(&lay.with) {
            let mut strips = std::mem::take(&mut self.bundles[bundle - 1]);
            let blocks = strips.len().div_ceil(lay.per_block);
            if *bundle == lay.bundle && blocks != lay.blocks {
                return Err(format!("{} blocks, not {blocks}", lay.blocks));
            }
            for block in strips.chunks_mut(lay.per_block) {
                for order in orders {
                    self.cut(block, &lay, order)
                        .map_err(|refused| format!("bundle {bundle}, {order:?}: {refused}"))?;
                }
            }
            self.bundles[bundle - 1] = strips;
        }
        Ok(())
    }

    fn cut(&self, block: &mut [Strip], lay: &Lay, order: &Order) -> Done {
        let middle = match order {
            Order::CutAtEnd => self.at_end()?,
            Order::CutOnKey { on, side } => self.on_key(block, lay, *on, *side)?,
            Order::Pare => {
                for strip in block {
                    pare(strip)?;
                }
                return Ok(());
            }
            _ => return Ok(()),
        };
        let angle = self.seen_angle();
        let half = self.bench.kerf / angle.sin() / 2.0;
        let depth = self.blade.ok_or("the blade is not set")? - self.bench.correction;
        // Strips farther from a sled's fence lie farther from the operator, a hook's nearer.
        let away = if self.bench.powered { 1.0 } else { -1.0 };
        for (at, strip) in block.iter_mut().enumerate() {
            let v = away * at as f64 * self.bench.thickness;
            let u = middle + v / angle.tan() - at as f64 * lay.step;
            if u - half <= 0.0 || u + half >= strip.length {
                return Err(format!("no wood under the blade at {u}"));
            }
            strip.cuts.push(Cut {
                near: u - half,
                far: u + half,
                depth,
                face: lay.face.clone(),
                angle: self.strip_angle(&lay.face),
            });
        }
        Ok(())
    }

    /// Where the kerf's middle crosses the centre line of the strip at the fence.
    fn at_end(&self) -> Result<f64, String> {
        if self.key.is_some() {
            return Err("the key stands under solid wood".into());
        }
        let StopState::At(at) = self.stop else {
            return Err("the strip's end finds no stop".into());
        };
        let angle = self.seen_angle();
        // Measured at the fence, which touches the strip on the operator's side, a hook's beyond.
        let fence = if self.bench.powered { -0.5 } else { 0.5 } * self.bench.thickness;
        let near_side = at - self.spacers.unwrap_or(0.0) - fence / angle.tan();
        Ok(near_side + self.bench.kerf / angle.sin() / 2.0)
    }

    fn on_key(&self, block: &[Strip], lay: &Lay, on: usize, side: Side) -> Result<f64, String> {
        let slot = self.key.ok_or("there is no key")?;
        if self.stop != StopState::Away || self.spacers.is_some() {
            return Err("stop or spacers hold the strip off the key".into());
        }
        if !self.bench.powered {
            return Err("the notches lie up, the key stands in the base".into());
        }
        let height = self.key_height.ok_or("how high may the key stand?")?;
        let angle = self.seen_angle();
        let mut found = None;
        for strip in block {
            let slots = strip.slots(0.0)?;
            // The notch of that number: errors add up from hop to hop, so it may lie well beside
            // its mark, but never half way to the next one.
            let off =
                |slot: &&Cut| (f64::midpoint(slot.near, slot.far) - strip.marks[on - 1]).abs();
            let alike = slots.iter().filter(|slot| {
                slot.face == lay.face && same(slot.angle, self.strip_angle(&lay.face), 1e-4)
            });
            let slot = alike
                .filter(|slot| off(slot) < MOST_OFF)
                .min_by(|a, b| off(a).total_cmp(&off(b)));
            let slot = slot.ok_or(format!(
                "notch {on} is not cut yet in this face at this slant"
            ))?;
            if height > slot.depth - self.bench.ridge + 2.0 * self.bench.told_to + 1e-9 {
                return Err(format!(
                    "a key {height} high in a notch {} deep",
                    slot.depth
                ));
            }
            found = found.or(Some(slot.clone()));
        }
        let slot_in_strip = found.ok_or("no strip")?;
        let play = (slot_in_strip.far - slot_in_strip.near) * angle.sin() - self.bench.kerf;
        let slack = 4.0 * self.bench.told_to + 1e-9;
        let push = match side {
            Side::Fits if play.abs() > slack => return Err(format!("{play} of play on the key")),
            Side::Fits => 0.0,
            Side::Left | Side::Right if play < -slack => return Err("too narrow".into()),
            Side::Left => play / 2.0,
            Side::Right => -play / 2.0,
            // As badly as is allowed.
            Side::Midway(within) => (within * angle.sin() - slack).min(play / 2.0),
        };
        let middle = f64::midpoint(slot_in_strip.near, slot_in_strip.far);
        Ok(middle + (slot + push) / angle.sin())
    }
}

fn pare(strip: &mut Strip) -> Done {
    let [.., a, b] = strip.cuts.as_mut_slice() else {
        return Err("no two walls".into());
    };
    if a.face != b.face || !same(a.angle, b.angle, 1e-9) || b.near < a.near {
        return Err("the last two cuts are not two walls of a notch".into());
    }
    a.far = b.far;
    strip.cuts.pop();
    Ok(())
}

impl Strip {
    /// Passes that overlap, as the notches that they make.
    pub fn slots(&self, gap: f64) -> Result<Vec<Cut>, String> {
        let mut cuts = self.cuts.clone();
        cuts.sort_by(|a, b| {
            (a.face.cmp(&b.face))
                .then(((a.angle * 1e5).round()).total_cmp(&(b.angle * 1e5).round()))
                .then(a.near.total_cmp(&b.near))
        });
        let mut slots: Vec<Cut> = Vec::new();
        for cut in cuts {
            match slots.last_mut() {
                Some(slot)
                    if slot.face == cut.face
                        && same(slot.angle, cut.angle, 1e-4)
                        && cut.near <= slot.far + gap =>
                {
                    if !same(slot.depth, cut.depth, 1e-6) {
                        return Err(format!("two depths in one notch: {slot:?} {cut:?}"));
                    }
                    slot.far = slot.far.max(cut.far);
                }
                _ => slots.push(cut),
            }
        }
        Ok(slots)
    }
}

pub fn same(a: f64, b: f64, within: f64) -> bool {
    (a - b).abs() <= within
}

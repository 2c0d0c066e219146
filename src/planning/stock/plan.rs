//! The whole plan of a job's wood.

use super::boards::BoardOrder;
use super::cutting::{self, Cut, Offered, cut};
use super::needs::needs;
use super::order::StockOrder;
use super::sections::{Section, sections};
use super::spread::thickness;
use super::steps::{flush, steps};
use crate::finding::Finding;
use crate::instructions::milling::{MilledBoard, MillingStep};
use crate::instructions::overview::Density;
use crate::instructions::stock_plan::{
    BoughtSticks, BoundIn, BoundOf, CutStick, CuttingFigures, Need, NeedFrom, NeedKind, OffCuts,
    SectionStock, StockPlan, Supply,
};
use crate::lattice::{Frame, Lattice};
use crate::machines::{SoldSticks, StickUse, StockAim};
use crate::phrase;
use crate::planning::measured_stock::measured_stock;
use crate::planning::overview::weighed::weighed;
use crate::stick_cutting::{Stock, Supply as StickSupply};
use crate::units::MM_PER_INCH;
use crate::woods::{BOARD_FOOT_M3, GrowthRings, hardwood_board_feet};

impl StockOrder<'_> {
    /// All parts, the sticks that they come off, and how these are milled; with what is unusual.
    ///
    /// # Errors
    /// Sticks or boards that the parts do not come off, at the job's fields.
    pub fn plan(&self) -> Result<(StockPlan, Vec<Finding>), Vec<Finding>> {
        let mut needs = needs(self);
        let found = sections(self, &mut needs);
        let cutting = cutting::figures(self);
        let mut faults = Vec::new();
        let mut made: Vec<Made> = Vec::new();
        for section in &found {
            match self.section(section, &needs, &cutting) {
                Ok(one) => made.push(one),
                Err(found) => faults.extend(found),
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let warnings = self.warnings(&made);
        Ok((self.whole(needs, cutting, made), warnings))
    }

    /// What the needs and metres are where no cut plan is asked for.
    pub fn needs(&self) -> Vec<Need> {
        needs(self)
    }

    fn whole(&self, needs: Vec<Need>, cutting: CuttingFigures, made: Vec<Made>) -> StockPlan {
        let off_cuts = off_cuts(&needs, &made);
        let sections: Vec<&SectionStock> = made.iter().map(|made| &made.stock).collect();
        let kg = sections.iter().map(|section| {
            let density = section.density.as_ref()?;
            Some(section.volume_m3 * density.kg_per_m3)
        });
        let volume_m3 = sections.iter().map(|section| section.volume_m3).sum();
        let price = prices(&sections).into_iter().sum::<Option<f64>>();
        StockPlan {
            title: self.lattice.title.clone(),
            measured_stock: measured_stock(self.lattice),
            stock_is_given: self.wishes.is_given,
            bound: self.bound(&sections),
            proved: sections.iter().all(|section| section.proved),
            aim: self.wishes.aim.name(),
            cutting,
            off_cuts,
            milling: made.iter().flat_map(|made| made.steps.clone()).collect(),
            thickness: thickness(&self.lattice.section, self.crush, self.sled),
            run_out_one_in: run_out(self.lattice),
            volume_m3,
            board_feet: volume_m3 / BOARD_FOOT_M3,
            metres: sections.iter().map(|section| section.metres).sum(),
            kg: kg.sum(),
            price: price.filter(|_| !sections.is_empty()),
            currency: self.wishes.currency.clone(),
            without_price: self.without_price(&sections),
            time: self.time.clone(),
            needs,
            sticks: made.iter().flat_map(|made| made.sticks.clone()).collect(),
            sections: made.into_iter().map(|made| made.stock).collect(),
        }
    }

    /// Of all sections together: boards that come off the fewest sticks are the fewest.
    fn bound(&self, sections: &[&SectionStock]) -> Option<f64> {
        let each = sections
            .iter()
            .map(|section| match (self.wishes.aim, &section.supply) {
                (StockAim::Cost, Supply::Boards(milled)) => milled.price.filter(|_| section.proved),
                _ => Some(section.bound),
            });
        each.sum()
    }

    /// Fields that lack a price, where any is told.
    fn without_price(&self, sections: &[&SectionStock]) -> Vec<String> {
        let mut fields = Vec::new();
        for section in sections {
            match &section.supply {
                Supply::Sticks { bought } => {
                    let lacking = bought.iter().filter(|sticks| sticks.price.is_none());
                    fields.extend(lacking.map(|sticks| sticks.field.clone()));
                }
                Supply::Boards(board) if board.price_each.is_none() => {
                    let table = match section.used_for {
                        "frame" => "frame_board",
                        _ => "board",
                    };
                    fields.push(format!("stock.{table}.price"));
                }
                Supply::Boards(_) => {}
            }
        }
        fields.sort();
        fields.dedup();
        fields
    }

    fn section(
        &self,
        section: &Section,
        needs: &[Need],
        cutting: &CuttingFigures,
    ) -> Result<Made, Vec<Finding>> {
        let parts = needs
            .iter()
            .filter(|need| need.section == Some(section.number) && need.from == NeedFrom::Stick);
        let parts: Vec<&Need> = parts.collect();
        let longest = parts.iter().map(|need| need.length_mm).fold(0.0, f64::max);
        let mm: f64 = parts
            .iter()
            .map(|need| need.length_mm * (need.count + need.spare) as f64)
            .sum();
        let sold = self.sold(section);
        let (cut, supply, milled) = if sold.is_empty() {
            let order = BoardOrder {
                wishes: self.wishes,
                section,
                longest,
            };
            let mut milled = order.milled()?;
            let offered = Offered {
                stock: Stock {
                    length: milled.stick_mm,
                    count: None,
                    supply: StickSupply::Shop { price: None },
                },
                field: order.field("length"),
                sold: None,
            };
            // One length alone: the fewest sticks cost least.
            let cut = cut(section, needs, &[offered], (cutting, StockAim::Sticks))?;
            count_boards(&mut milled, sticks_of(&cut), &order)?;
            (cut, Supply::Boards(Box::new(milled.clone())), Some(milled))
        } else {
            let offered: Vec<Offered> = sold.iter().map(|(at, sold)| offered(*at, sold)).collect();
            let mut cut = cut(section, needs, &offered, (cutting, self.wishes.aim))?;
            // Whole packs may cost more than the sticks that are reckoned with.
            let whole_packs = sold.iter().any(|(_, sold)| sold.pack > 1);
            cut.proved &= self.wishes.aim == StockAim::Sticks || !whole_packs;
            let bought = bought(&sold, &cut);
            (cut, Supply::Sticks { bought }, None)
        };
        let mut milling = milled.map_or(Vec::new(), |milled| steps(section, &milled, self.wishes));
        milling.extend(flush(section, self.wishes));
        let (wood, density) = self.wood(section.used_for);
        let bound_in = match (&supply, cut.in_cost) {
            (Supply::Sticks { .. }, true) => BoundIn::Cost,
            _ => BoundIn::Sticks,
        };
        Ok(Made {
            stock: SectionStock {
                number: section.number,
                used_for: section.used_for.name(),
                section_mm: section.size,
                wood,
                density,
                metres: mm / 1e3,
                volume_m3: mm * section.area() / 1e9,
                supply,
                sticks: sticks_of(&cut),
                bound: cut.bound,
                bound_in,
                bound_of: if cut.of_bought {
                    BoundOf::Bought
                } else {
                    BoundOf::Used
                },
                proved: cut.proved,
                left_m: cut
                    .sticks
                    .iter()
                    .map(|stick| stick.left_mm * stick.count as f64)
                    .sum::<f64>()
                    / 1e3,
            },
            steps: milling,
            offered: sold.iter().map(|(at, _)| *at).collect(),
            sticks: cut.sticks,
        })
    }

    /// Sticks that the job names for a section. Those for pieces do for the strips' section where pieces have it too.
    fn sold(&self, section: &Section) -> Vec<(usize, &SoldSticks)> {
        let strips = &self.lattice.section;
        let [across, deep] = self.piece_section;
        let alike = (across - strips.thickness).abs() < 1e-9 && (deep - strips.depth).abs() < 1e-9;
        let is_for = |(_, sold): &(usize, &SoldSticks)| {
            let own = sold.used_for == section.used_for;
            let shared =
                alike && sold.used_for == StickUse::Pieces && section.used_for == StickUse::Strips;
            section.has_named_sticks && (own || shared)
        };
        self.wishes
            .sticks
            .iter()
            .enumerate()
            .filter(is_for)
            .collect()
    }

    /// What a section's wood is called, and how heavy it is.
    fn wood(&self, used_for: StickUse) -> (Option<String>, Option<Density>) {
        let strips = &self.lattice.section;
        let own = |frame: &&Frame| frame.wood.is_some() || frame.density.is_some();
        let (wood, given) = match (used_for, self.frame.filter(own)) {
            (StickUse::Frame, Some(frame)) => (frame.wood.clone(), frame.density),
            _ => (strips.wood.clone(), strips.density),
        };
        let (density, _) = weighed(wood.as_deref(), given);
        (wood, density)
    }

    /// Strips whose rings would lie another way than the job says.
    fn warnings(&self, made: &[Made]) -> Vec<Finding> {
        let mut found = Vec::new();
        let strips = made
            .iter()
            .find(|made| made.stock.used_for == StickUse::Strips.name());
        let milled = strips.and_then(|made| match &made.stock.supply {
            Supply::Boards(milled) => Some(milled),
            Supply::Sticks { .. } => None,
        });
        if let Some((milled, wanted)) = milled.zip(self.rings)
            && let Some(sawn) = milled.board.sawn
        {
            let [flat, quarter] = milled.ripped.rings;
            let lie = if sawn == "flat" { flat } else { quarter };
            let wanted = match wanted {
                GrowthRings::AcrossThickness => "across-thickness",
                GrowthRings::AlongThickness => "along-thickness",
            };
            if lie.name() != wanted {
                let text = format!(
                    "growth rings of strips come to lie {}, and [climate] reckons with {wanted}",
                    lie.name()
                );
                let hint = "take the other kind of board, rip strips the other way (`from` in [stock.milling]), or \
                            put right `rings` in [climate]";
                found
                    .push(Finding::warning("rings-otherwise", "stock.board.sawn", text).hint(hint));
            }
        }
        let used = |at: &usize| {
            made.iter()
                .flat_map(|made| &made.offered)
                .any(|other| other == at)
        };
        for (at, sold) in self
            .wishes
            .sticks
            .iter()
            .enumerate()
            .filter(|(at, _)| !used(at))
        {
            let text = format!(
                "nothing of this job is cut from sticks for the {}",
                sold.used_for.name()
            );
            let hint = "leave them out, or put right what they are for";
            let field = format!("stock.sticks[{at}]");
            found.push(Finding::warning("not-used", field, text).hint(hint));
        }
        found
    }
}

/// One in how many fibres may run out: a fibre leaves a strip of thickness t after s t, which is no less than the widest
/// step from notch to notch. Common practice, no source. Nothing where strips are cut, or have no two notches.
fn run_out(lattice: &Lattice) -> Option<f64> {
    let steps = lattice.strips.iter().flat_map(|strip| {
        let pairs = strip.notches.iter().zip(strip.notches.iter().skip(1));
        pairs.map(|(a, b)| b.centre - a.centre)
    });
    let widest = steps.fold(0.0, f64::max);
    (widest > 0.0 && !lattice.strips_are_cut).then_some(widest / lattice.section.thickness)
}

/// A section with its sticks and steps.
struct Made {
    stock: SectionStock,
    sticks: Vec<CutStick>,
    steps: Vec<MillingStep>,
    /// Places of the job's sticks that could be taken for it.
    offered: Vec<usize>,
}

fn sticks_of(cut: &Cut) -> usize {
    cut.sticks.iter().map(|stick| stick.count).sum()
}

/// Of a pack each stick has its part of the price. What is counted and has no price lies in the shop.
fn offered(at: usize, sold: &SoldSticks) -> Offered {
    let price = sold.price.map(|price| price / sold.pack as f64);
    Offered {
        stock: Stock {
            length: sold.length,
            count: sold.count,
            supply: if sold.is_in_hand() {
                StickSupply::Hand
            } else {
                StickSupply::Shop { price }
            },
        },
        field: format!("stock.sticks[{at}].length"),
        sold: Some(at),
    }
}

/// Says how many boards so many sticks come off, and what these are.
///
/// # Errors
/// More boards than there are.
fn count_boards(
    milled: &mut MilledBoard,
    sticks: usize,
    order: &BoardOrder<'_>,
) -> Result<(), Vec<Finding>> {
    let each = milled.ripped.blanks * milled.ripped.sticks_per_blank;
    let boards = sticks.div_ceil(each.max(1));
    if let Some(there) = milled.at_hand.filter(|there| *there < boards) {
        let text = phrase!(
            "{} sticks are needed, {} come off a board: {} boards, and there are {}",
            sticks,
            each,
            boards,
            there
        );
        let hint = phrase!(
            "put right the count, or leave it out for boards that are bought; {} are needed",
            boards
        );
        let finding = Finding::error("too-few-boards", order.field("count"), text);
        return Err(vec![finding.hint(hint)]);
    }
    let board = &milled.board;
    let all = board.length_mm * board.width_mm * board.thickness_mm * boards as f64;
    milled.boards = boards;
    milled.price = milled.price_each.map(|price| price * boards as f64);
    milled.volume_m3 = all / 1e9;
    milled.board_feet = all / 1e9 / BOARD_FOOT_M3;
    milled.board_feet_hardwood = boards as f64
        * hardwood_board_feet(
            board.thickness_mm / MM_PER_INCH,
            board.width_mm / MM_PER_INCH,
            // A foot has 12 inches.
            board.length_mm / MM_PER_INCH / 12.0,
        );
    Ok(())
}

/// Sticks by length, in the order in which the job has them.
fn bought(sold: &[(usize, &SoldSticks)], cut: &Cut) -> Vec<BoughtSticks> {
    let each = sold.iter().map(|(at, sold)| {
        let same = cut.sticks.iter().filter(|stick| stick.sold == Some(*at));
        let count: usize = same.map(|stick| stick.count).sum();
        let packs = count.div_ceil(sold.pack);
        BoughtSticks {
            length_mm: sold.length,
            count,
            packs: (sold.pack > 1).then_some(packs),
            pack: sold.pack,
            at_hand: sold.count,
            in_hand: sold.is_in_hand(),
            field: format!("stock.sticks[{at}].price"),
            price_each: sold.price,
            price: match sold.price {
                Some(price) => Some(price * packs as f64),
                None => sold.is_in_hand().then_some(0.0),
            },
        }
    });
    each.filter(|sticks| sticks.count > 0).collect()
}

fn prices(sections: &[&SectionStock]) -> Vec<Option<f64>> {
    let mut all = Vec::new();
    for section in sections {
        match &section.supply {
            Supply::Sticks { bought } => all.extend(bought.iter().map(|sticks| sticks.price)),
            Supply::Boards(milled) => all.push(milled.price),
        }
    }
    all
}

/// Whether what strips' sticks leave does for the test pieces.
fn off_cuts(needs: &[Need], made: &[Made]) -> OffCuts {
    let tests = needs.iter().filter(|need| need.kind == NeedKind::TestPiece);
    let tests: Vec<&Need> = tests.collect();
    let length_mm = tests.iter().map(|need| need.length_mm).fold(0.0, f64::max);
    let number = tests.first().and_then(|need| need.section);
    let sticks = made.iter().flat_map(|made| &made.sticks);
    let strips = sticks.filter(|stick| Some(stick.section) == number);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // few, none below zero
    let there = strips.map(|stick| {
        if length_mm > 0.0 {
            (stick.left_mm / (length_mm + stick.kerf_mm)) as usize * stick.count
        } else {
            0
        }
    });
    OffCuts {
        wanted: tests.iter().map(|need| need.count).sum(),
        length_mm,
        there: there.sum(),
    }
}

//! The set-up sheet that hangs beside the machines, from the plans and the machines' plain sheets.
//!
//! No figure is worked out here: tables, settings and steps are those of the plain sheets, and what
//! pictures and checks say besides is taken from the plans.

mod assembly;
mod blade_view;
mod front;
mod guide_view;
mod laser;
mod machines;
mod pencil;
mod router;
mod router_view;
mod rows;
mod sled;
mod sled_view;
mod templates;
mod work;

use crate::instructions::booklet::Booklet;
use crate::instructions::drawing::Drawing;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{SetupSheet, SheetPart};
use crate::machines::Station;
use crate::sheets::{mitre_sheet, rail_sheet};

pub use guide_view::guide_pictures;
pub use work::BookletWork;

/// The sheet for a job; `panel` is what [`panel_drawing`](crate::sheets::panel_drawing) made of it, where that is
/// there already.
pub fn booklet(work: &BookletWork<'_>, panel: Option<Drawing>) -> Booklet {
    let mut sheets = work.wood.to_vec();
    for station in Station::ALL {
        match station {
            Station::Sled => {
                let sled = work.sled.map(|(plan, sled)| sled::sheet(work, plan, sled));
                sheets.extend(sled);
            }
            Station::Laser => {
                let is_bought = |sheet: &&mut SetupSheet| sheet.part == SheetPart::Stock;
                let bought = sheets.iter_mut().find(is_bought);
                let laser = laser::sheet(work.laser, bought, work.pare.is_some());
                sheets.extend(laser);
            }
            Station::Router => {
                let router = work.router;
                let router = router.map(|(plan, router)| router::sheet(work, plan, router));
                sheets.extend(router);
            }
            Station::Guides => {
                let sawn = work.pare.and_then(|pare| pare.mitres.as_ref());
                sheets.extend(sawn.map(mitre_sheet));
                let routed = work.pare.and_then(|pare| pare.routed.as_ref());
                sheets.extend(routed.map(rows::sheet));
                sheets.extend(work.pare.map(|pare| machines::guides(pare, work.laser)));
            }
        }
    }
    sheets.extend(work.rails.map(rail_sheet));
    sheets.push(assembly::sheet(work));
    Booklet {
        front: front::front(work, &sheets, panel),
        title: work.lattice.title.clone(),
        sheets,
        templates: templates::templates(work),
        templates_safety: SafetyNotes::for_assembly(),
    }
}

//! All that a job's machines can make of it, machine by machine.

use super::drawings::{DrawingFiles, Drawings, SheetOrder};
use super::file_names::numbered;
use super::infill::{self, filled};
use super::made::{FileKind, JobOrder, Made, PlainSheet};
use super::mitres::PieceOrder;
use super::not_made::NotMade;
use super::program_lines::add_lines;
use super::programs::{RouterPrograms, planned_programs};
use super::rails::{RailWork, planned_rails, proven_rail_programs, saw_mitres};
use super::set_up_sheets::{SheetFormat, set_up_file};
use super::sheet_parts::SheetParts;
use super::size::size_of;
use super::sled::planned_sled;
use super::warnings::Warnings;
use super::workshop::Workshop;
use crate::finding::{Document, Finding};
use crate::infill::Infilling;
use crate::instructions::booklet::Booklet;
use crate::instructions::laser::Ware;
use crate::instructions::rails::RailPlan;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::SheetPart;
use crate::lattice::{Frame, PieceWay};
use crate::machines::{Chosen, Laser, Router, Sled, Station};
use crate::reading::Job;
use crate::sheets::{
    laser_sheet, missing_first, mitre_sheet, pare_sheet, piece_list, rail_sheet, routed_rows_sheet,
    router_sheet, sled_sheet,
};
use crate::threads;
use crate::units::NotPrintable;
use crate::writing::pdf::Paper;
use crate::writing::{csv, json};
use std::path::Path;

/// What was made, with warnings, or why it was not.
type Found<T> = Result<(T, Vec<Finding>), NotMade>;

/// The strips as a laser or a sheet router cuts them; nothing where the job has none.
fn drawn_strips(order: &JobOrder<'_>) -> Option<Found<Drawings>> {
    let Chosen { name, machine } = order.workshop.machine::<Laser>()?;
    let sheets = SheetOrder {
        machine: name,
        parts: SheetParts::of_strips(&order.job.panel, order.job.panel.lattice(), machine),
        files: DrawingFiles::Both(order.dxf),
        file_name: &|at, count| numbered(Path::new("strips.dxf"), at, count),
    };
    Some(sheets.drawn(&[Ware::Strips]))
}

/// The router's programs; nothing where the job has none.
fn programs_of(order: &JobOrder<'_>) -> Option<Result<RouterPrograms, NotMade>> {
    let router = order.workshop.machine::<Router>()?;
    let file_name = |at, count| numbered(Path::new("notches.nc"), at, count);
    let lattice = order.job.panel.lattice();
    Some(planned_programs(lattice, router, &file_name))
}

impl Made {
    /// All that the machines can make, read back and proven, and what they cannot.
    ///
    /// # Errors
    /// What is wrong with the design, before anything is made of it; and where no machine can make
    /// anything.
    pub fn of(order: &JobOrder<'_>) -> Result<Made, NotMade> {
        let JobOrder { job, workshop, .. } = *order;
        let mut made = Made::default();
        made.warnings.add(Document::Job, job.warnings.clone());
        if job.map.is_some() {
            let filled = filled(job, order.patterns)?;
            made.warnings.add(Document::Job, filled.warnings.clone());
            made.plans.filled = Some(filled);
        }
        let by_hand = match &job.frame {
            Some(frame) => Some(planned_rails(job.panel.lattice(), frame, None)?),
            None => None,
        };
        // What takes long is made side by side.
        let are_cut = job.panel.lattice().strips_are_cut;
        let picture = || {
            let panel = infill::drawn(job, made.plans.filled.as_ref());
            infill::written(&panel, order.units).map(|written| (panel, written))
        };
        let (mut strips, (mut programs, picture)) = threads::both(
            || (!are_cut).then(|| drawn_strips(order)).flatten(),
            || {
                let programs = (!are_cut).then(|| programs_of(order)).flatten();
                (programs, picture())
            },
        );
        let (panel, picture) = picture?;
        made.plans.panel = Some(panel);
        for station in Station::ALL {
            match station {
                // The job's warnings say so.
                _ if job.panel.lattice().strips_are_cut => {}
                Station::Sled => made.add_sled(order)?,
                Station::Laser => made.add_strips(order, strips.take())?,
                Station::Router => made.add_router(order, programs.take())?,
                // What guides pare stands in the pieces' own files.
                Station::Guides => {}
            }
        }
        let picture = [("panel.svg".to_owned(), picture.into_bytes())];
        made.keep_files(picture, FileKind::Picture, "");
        if let (Some(frame), Some(by_hand)) = (&job.frame, by_hand) {
            made.add_rails(order, frame, by_hand)?;
            made.add_members(order, frame)?;
        }
        made.add_jigs(order);
        if let Some(filled) = made.plans.filled.take() {
            made.add_pared(order, &filled)?;
            made.add_pieces(order, &filled);
            made.plans.filled = Some(filled);
        }
        made.add_stock(order)?;
        made.withdraw(workshop);
        if !made.lacking.is_empty() && !made.by_machines() {
            return Err(NotMade::Nothing(made.lacking));
        }
        Ok(made)
    }

    /// The sheet that hangs beside the machines; it begins with what is missing.
    pub fn booklet(&mut self, job: &Job, workshop: &Workshop) -> Booklet {
        let panel = self.plans.panel.take();
        let mut booklet = self.plans.booklet(job, workshop, panel);
        add_lines(&mut booklet, &mut self.files);
        missing_first(&mut booklet, &self.missing());
        booklet
    }

    /// Adds the machines' plain sheets, and the sheet for all of them, for a screen and for paper.
    /// Gives the letters that the paper's type lacks, with the name of the file.
    ///
    /// # Errors
    /// Where a figure is not finite.
    pub fn add_sheets(
        &mut self,
        order: &JobOrder<'_>,
        paper: Paper,
    ) -> Result<Vec<(String, Vec<char>)>, NotPrintable> {
        self.write_plain_sheets(order.job, order.workshop, order.units);
        let booklet = self.booklet(order.job, order.workshop);
        let formats = [
            ("set-up.html", SheetFormat::Page(order.renewal)),
            ("set-up.pdf", SheetFormat::Document(paper)),
        ];
        let mut lacking = Vec::new();
        let files = threads::each(&formats, |(name, format)| {
            (*name, set_up_file(&booklet, *format, order.units))
        });
        for (name, file) in files {
            let file = file?;
            if !file.lacking.is_empty() {
                lacking.push((name.to_owned(), file.lacking));
            }
            self.keep_files([(name.to_owned(), file.bytes)], FileKind::SetUpSheet, "");
        }
        Ok(lacking)
    }

    /// Every machine has its sheet as text, and its figures as JSON where there are any.
    fn add_sled(&mut self, order: &JobOrder<'_>) -> Result<(), NotPrintable> {
        let Some(sled) = order.workshop.machine::<Sled>() else {
            return Ok(());
        };
        let Chosen { name, machine } = sled;
        match planned_sled(order.job.panel.lattice(), sled, order.job.sled) {
            Ok((mut plan, own)) => {
                plan.size = Some(size_of(order.job));
                let powered = machine.blade.powered.is_some();
                let safety = SafetyNotes::for_sled(powered);
                let answer = json::answer("lapwright/sled/1", &plan, &own, safety.notes())?;
                let plain = PlainSheet {
                    machine: name.to_owned(),
                    sheet: sled_sheet(&plan, powered),
                    answer: Some(answer),
                };
                self.keep_sheet(order.job, &own, plain);
                self.tell(own);
                self.plans.sled = Some(plan);
            }
            Err(cause) => self.lacks(SheetPart::Sled, "sled settings", name, cause),
        }
        Ok(())
    }

    fn add_strips(
        &mut self,
        order: &JobOrder<'_>,
        drawn: Option<Found<Drawings>>,
    ) -> Result<(), NotPrintable> {
        let laser = order.workshop.machine::<Laser>();
        let (Some(Chosen { name, .. }), Some(drawn)) = (laser, drawn) else {
            return Ok(());
        };
        match drawn {
            Ok((drawings, own)) => {
                let safety = drawings.plan.safety();
                let answer =
                    json::answer("lapwright/outline/1", &drawings.plan, &own, safety.notes())?;
                let plain = PlainSheet {
                    machine: name.to_owned(),
                    sheet: laser_sheet(&drawings.plan),
                    answer: Some(answer),
                };
                self.keep_sheet(order.job, &own, plain);
                self.tell(own);
                self.keep_files(drawings.files, FileKind::Outline, name);
                self.plans.laser.push(drawings.plan);
            }
            Err(cause) => self.lacks(SheetPart::Laser, "outlines of strips", name, cause),
        }
        Ok(())
    }

    fn add_router(
        &mut self,
        order: &JobOrder<'_>,
        planned: Option<Result<RouterPrograms, NotMade>>,
    ) -> Result<(), NotPrintable> {
        let router = order.workshop.machine::<Router>();
        let (Some(Chosen { name, .. }), Some(planned)) = (router, planned) else {
            return Ok(());
        };
        match planned {
            Ok(RouterPrograms {
                plan,
                files,
                warnings: own,
            }) => {
                let safety = SafetyNotes::for_router();
                let answer = json::answer("lapwright/notch/1", &plan, &own, safety.notes())?;
                let plain = PlainSheet {
                    machine: name.to_owned(),
                    sheet: router_sheet(&plan),
                    answer: Some(answer),
                };
                self.keep_sheet(order.job, &own, plain);
                self.tell(own);
                self.keep_files(files, FileKind::Program, name);
                self.plans.router = Some(plan);
            }
            Err(cause) => self.lacks(SheetPart::Router, "notching programs", name, cause),
        }
        Ok(())
    }

    /// The pieces, their mitres made as the job asks; where its machines cannot, pared.
    fn add_pared(&mut self, order: &JobOrder<'_>, filled: &Infilling) -> Result<(), NotMade> {
        let job = order.job;
        let infill = job.panel.design().infill.as_ref();
        let asked = infill.map_or(PieceWay::Guides, |infill| infill.way);
        let router: Option<Chosen<'_, Router>> = order.workshop.machine();
        // What is lacking of a machine whose work was found wrong is told of all of it.
        let distrusted = router.is_some_and(|router| self.distrusts(router.name));
        let mut pieces = PieceOrder {
            panel: &job.panel,
            filled,
            way: match asked {
                PieceWay::RoutedRows if distrusted => PieceWay::Guides,
                asked => asked,
            },
            sled: order.workshop.machine(),
            router: router.filter(|_| !distrusted),
            programs: Path::new("pieces.nc"),
            guides: order.workshop.machine(),
        };
        let plans = match pieces.planned() {
            Ok(plans) => plans,
            Err(cause) => {
                let machine = match pieces.way {
                    PieceWay::RoutedRows => pieces.router.map(|router| router.name),
                    _ => pieces.sled.map(|sled| sled.name),
                };
                let machine = machine.unwrap_or_default();
                self.lacks(SheetPart::Mitres, "mitres of the pieces", machine, cause);
                pieces.way = PieceWay::Guides;
                pieces.planned()?
            }
        };
        let guides = pieces.guides;
        let plan = plans.pare;
        let warnings = plans.at_guides;
        let answer = json::answer("lapwright/pare/1", &plan, &warnings, &plan.safety())?;
        let machine = plan.machine.clone().unwrap_or_default();
        let list = csv::csv(&piece_list(&plan)?).into_bytes();
        self.keep_files([("pieces.csv".to_owned(), list)], FileKind::List, &machine);
        if let Some(mitres) = &plan.mitres {
            let plain = PlainSheet {
                machine: mitres.machine.clone(),
                sheet: mitre_sheet(mitres),
                answer: None,
            };
            self.keep_sheet(job, &plans.at_saw, plain);
            self.tell(plans.at_saw);
        }
        if let Some(routed) = &plan.routed {
            let name = routed.machine.as_str();
            let safety = SafetyNotes::for_routed_rows();
            let answer = json::answer(
                "lapwright/routed-rows/1",
                routed,
                &plans.at_router,
                safety.notes(),
            )?;
            let plain = PlainSheet {
                machine: name.to_owned(),
                sheet: routed_rows_sheet(routed),
                answer: Some(answer),
            };
            self.keep_sheet(job, &plans.at_router, plain);
            self.tell(plans.at_router);
            self.keep_files(plans.programs, FileKind::Program, name);
            if !plans.unrouted.is_empty() {
                let left = routed.left_out.iter();
                let left: Vec<&str> = left.map(|piece| piece.name.as_str()).collect();
                let what = format!("programs for the pieces {}", left.join(" and "));
                let cause = NotMade::Cannot(plans.unrouted);
                self.lacks(SheetPart::Mitres, &what, name, cause);
            }
        }
        self.plain.push(PlainSheet {
            machine,
            sheet: pare_sheet(&plan),
            answer: Some(answer),
        });
        if guides.is_some() {
            let document = Document::Profile(Station::Guides);
            self.warnings.add(document, warnings);
        }
        self.plans.pare = Some(plan);
        Ok(())
    }

    /// The frame's rails, with programs as far as a router can cut them; else as they are made by hand.
    fn add_rails(
        &mut self,
        order: &JobOrder<'_>,
        frame: &Frame,
        by_hand: (RailPlan, Vec<Finding>),
    ) -> Result<(), NotMade> {
        let router = order.workshop.machine::<Router>();
        let router = router.filter(|router| !self.distrusts(router.name));
        let by_router = match router {
            Some(router) => self.add_rail_programs(&RailWork {
                lattice: order.job.panel.lattice(),
                frame,
                router,
            })?,
            None => None,
        };
        let (mut plan, warnings) = by_router.unwrap_or(by_hand);
        plan.size = Some(size_of(order.job));
        let mut own = Warnings::default();
        own.add(Document::Job, warnings);
        if let Some(sled) = order.workshop.machine::<Sled>() {
            let mitres = saw_mitres(&mut plan, sled);
            own.add(Document::Profile(Station::Sled), mitres.warnings);
            if !mitres.unsawn.is_empty() {
                let cause = NotMade::Cannot(mitres.unsawn);
                self.lacks(SheetPart::Rails, &unsawn(&plan), sled.name, cause);
            }
        }
        let safety = plan.safety();
        let answer = json::answer("lapwright/rails/1", &plan, own.all(), safety.notes())?;
        let plain = PlainSheet {
            machine: String::new(),
            sheet: rail_sheet(&plan),
            answer: Some(answer),
        };
        self.keep_sheet(order.job, own.all(), plain);
        self.warnings.append(own);
        self.plans.rails = Some(plan);
        Ok(())
    }

    /// The plan of the rails with their programs; nothing where the router makes none.
    fn add_rail_programs(
        &mut self,
        work: &RailWork<'_>,
    ) -> Result<Option<(RailPlan, Vec<Finding>)>, NotMade> {
        let Chosen { name, machine } = work.router;
        let (mut plan, mut own) = planned_rails(work.lattice, work.frame, Some(machine))?;
        let file_name = |at, count| numbered(Path::new("rails.nc"), at, count);
        match proven_rail_programs(work, &mut plan, &file_name) {
            Ok(programs) => {
                own.extend(programs.warnings);
                self.keep_files(programs.files, FileKind::Program, name);
                if !programs.unreached.is_empty() {
                    let what =
                        format!("program for the {}", plan.without_program.join(" and the "));
                    let cause = NotMade::Cannot(programs.unreached);
                    self.lacks(SheetPart::Rails, &what, name, cause);
                }
                Ok(Some((plan, own)))
            }
            Err(cause) => {
                self.lacks(SheetPart::Rails, "programs for the rails", name, cause);
                Ok(None)
            }
        }
    }

    /// Warnings of a machine, those left out that are told already.
    fn tell(&mut self, findings: Vec<Finding>) {
        let mut own = Warnings::default();
        own.add(Document::Job, findings);
        self.warnings.append(own);
    }
}

/// Settings that a sled does not have.
fn unsawn(plan: &RailPlan) -> String {
    let members = plan.mitres.iter().flat_map(|plan| &plan.without_settings);
    let members: Vec<&str> = members.map(String::as_str).collect();
    format!(
        "settings for the mitres of the {}",
        members.join(" and the ")
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::{read_job, read_machine, shipped_machine};

    #[test]
    fn a_job_with_pieces_is_not_made_without_its_pattern() {
        let text = include_str!("../../demo/tea-cabinet.toml");
        let job = read_job("tea-cabinet.toml", text).unwrap();
        let sled = shipped_machine("key-sled").unwrap();
        let workshop = Workshop::new([read_machine(sled.name, sled.text).unwrap()]);
        match Made::of(&JobOrder::new(&job, &workshop)) {
            Err(NotMade::Cannot(faults)) => assert_eq!(faults[0].code, "no-pattern"),
            other => panic!("{other:?}"),
        }
    }
}

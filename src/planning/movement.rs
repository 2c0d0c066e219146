//! What the seasons do to a panel's wood.

use crate::finding::Finding;
use crate::instructions::movement::{
    AirFigures, CutToday, FrameSeason, MovementPlan, Range, Season, WoodMovement,
};
use crate::lattice::{CornerJoint, Frame, Lattice, Member, Panel, Rails};
use crate::woods::{Air, Basis, Climate, GrowthRings, KnownWood, Movement, WOODS, known_wood};

/// A job's wood, and the air that it goes through.
#[derive(Debug, Clone, Copy)]
pub struct MovementOrder<'a> {
    /// The panel.
    pub panel: &'a Panel,
    /// Its frame, if it has one.
    pub frame: Option<&'a Frame>,
    /// Bench and room.
    pub climate: Climate,
}

/// Figures between which the way of the growth rings decides.
#[derive(Debug, Clone, Copy)]
struct Moves {
    radial: f64,
    tangential: f64,
}

impl MovementOrder<'_> {
    /// What the seasons do.
    ///
    /// # Errors
    /// A wood that is not named, or of which nothing is known here; what is wrong with the frame.
    pub fn plan(&self) -> Result<MovementPlan, Vec<Finding>> {
        let lattice = self.panel.lattice();
        let section = &lattice.section;
        let strips = self.known(section.wood.as_deref(), "strip");
        let members = self.members(lattice)?;
        let of_frame = self.frame.filter(|_| !members.is_empty());
        let frame_wood = of_frame.map(|frame| match frame.wood.as_deref() {
            None => strips.clone(),
            wood => self.known(wood, "frame"),
        });
        let (strips, frame_wood) = match (strips, frame_wood.transpose()) {
            (Ok(strips), Ok(frame_wood)) => (strips, frame_wood),
            (strips, frame_wood) => {
                let mut faults: Vec<Finding> = strips.err().into_iter().collect();
                faults.extend(frame_wood.err());
                faults.dedup();
                return Err(faults);
            }
        };
        let seasons = [self.climate.driest, self.climate.dampest].map(|air| {
            let thickness = self.changes(&strips, air, Across::Thickness);
            let frame = of_frame.zip(frame_wood.as_ref());
            Season {
                air: figures(air),
                thickness_change_mm: scaled(thickness, section.thickness),
                depth_change_mm: scaled(self.changes(&strips, air, Across::Depth), section.depth),
                clearance_mm: less(section.clearance, scaled(thickness, section.thickness)),
                opening_change_mm: less(0.0, scaled(thickness, section.thickness)),
                frame: frame.map(|(frame, wood)| {
                    frame_season(frame, &members, self.changes(wood, air, Across::Member))
                }),
            }
        });
        // Whatever is cut, the room takes these changes off: the most of them all leaves nothing.
        let changes = seasons.iter().flat_map(|season| season.thickness_change_mm);
        let [least, most] = range(changes.chain([0.0]));
        let cut = |clearance_mm: f64| CutToday {
            clearance_mm,
            over_the_year_mm: [clearance_mm - most, clearance_mm - least],
        };
        Ok(MovementPlan {
            title: self.panel.design().title.clone(),
            strips,
            thickness_mm: section.thickness,
            depth_mm: section.depth,
            clearance_mm: section.clearance,
            bench: figures(self.climate.bench),
            seasons,
            free_all_year: cut(most),
            tight_all_year: cut(least),
        })
    }

    /// The job's own coefficients go before the table's.
    fn known(&self, wood: Option<&str>, table: &str) -> Result<WoodMovement, Finding> {
        if let Some(own) = self.climate.movement.filter(|_| table == "strip") {
            return Ok(movement(
                wood.map(str::to_owned),
                own,
                Basis::Job,
                "the job",
            ));
        }
        let field = format!("{table}.wood");
        let own = "or say `radial` and `tangential` in [climate]: how much it moves for each percent of moisture";
        let Some(wood) = wood else {
            let text = "how the wood moves depends on which it is";
            let hint = format!("name it, such as wood = \"basswood\"; {own}");
            return Err(Finding::error("movement-unknown", field, text).hint(hint));
        };
        let (found, like) = match known_wood(wood) {
            KnownWood::Known(found) => (Some(found), Vec::new()),
            KnownWood::Unknown(like) => (None, like),
        };
        if let Some((found, moves)) = found.and_then(|found| Some((found, found.movement?))) {
            let name = found.names.first().map(|name| (*name).to_owned());
            return Ok(movement(name, moves.value, moves.basis, moves.source));
        }
        let text = format!("nothing is known here of how `{wood}` moves");
        let known = with_movement();
        let like: Vec<&str> = (known.iter().copied())
            .filter(|name| like.contains(name))
            .collect();
        let named = if like.is_empty() { known } else { like };
        let hint = format!("known here: {}; {own}", named.join(", "));
        Err(Finding::error("movement-unknown", field, text).hint(hint))
    }

    fn members(&self, lattice: &Lattice) -> Result<Vec<Member>, Vec<Finding>> {
        let Some(frame) = self.frame else {
            return Ok(Vec::new());
        };
        let Rails { rails, .. } = frame.rails(lattice)?;
        Ok(rails.into_iter().filter_map(|rail| rail.member).collect())
    }

    /// Of a width, least and greatest as the growth rings may lie.
    fn changes(&self, wood: &WoodMovement, air: Air, across: Across) -> Range {
        let moves = Moves {
            radial: self.climate.strain(air, wood.radial_percent / 100.0),
            tangential: self.climate.strain(air, wood.tangential_percent / 100.0),
        };
        match (across, self.climate.rings) {
            (Across::Thickness, Some(GrowthRings::AcrossThickness))
            | (Across::Depth, Some(GrowthRings::AlongThickness)) => [moves.radial; 2],
            (Across::Thickness, Some(GrowthRings::AlongThickness))
            | (Across::Depth, Some(GrowthRings::AcrossThickness)) => [moves.tangential; 2],
            (_, None) | (Across::Member, _) => range([moves.radial, moves.tangential]),
        }
    }
}

/// What is measured.
#[derive(Debug, Clone, Copy)]
enum Across {
    Thickness,
    Depth,
    /// A frame's member: how its rings lie is not asked.
    Member,
}

fn with_movement() -> Vec<&'static str> {
    let known = WOODS.iter().filter(|wood| wood.movement.is_some());
    known
        .filter_map(|wood| wood.names.first().copied())
        .collect()
}

fn movement(
    wood: Option<String>,
    of: Movement,
    basis: Basis,
    source: &'static str,
) -> WoodMovement {
    WoodMovement {
        wood,
        radial_percent: of.radial * 100.0,
        tangential_percent: of.tangential * 100.0,
        basis,
        source,
    }
}

fn figures(air: Air) -> AirFigures {
    let (humidity, is_own) = match air {
        Air::Humidity { humidity, is_own } => (Some(humidity), is_own),
        Air::Moisture(_) => (None, true),
    };
    AirFigures {
        humidity_percent: humidity.map(|humidity| humidity * 100.0),
        moisture_percent: air.moisture_percent(),
        is_own,
    }
}

/// A member's inner corner and outer corner are as far apart along the grain as ever, but the width
/// between them is strained by e. With tan J = w / x, x kept, the angle of the mitre's face changes by
/// e sin J cos J; the two of a corner add up, and faces m = w / sin J long stand so many times m apart at
/// one end: the inner one where the wood has shrunk, the outer one where it has swollen.
fn frame_season(frame: &Frame, members: &[Member], strains: Range) -> FrameSeason {
    let width_mm = members
        .iter()
        .map(|member| member.width)
        .fold(0.0, f64::max);
    let next = members.iter().cycle().skip(1);
    let corners = members.iter().zip(next).map(|(member, next)| {
        let [_, mitre] = member.mitres;
        let [other, _] = next.mitres;
        let turns: f64 = [mitre, other]
            .map(|mitre| mitre.sin() * mitre.cos())
            .iter()
            .sum();
        (member.width / mitre.sin() * turns).abs()
    });
    let widest = corners.fold(0.0, f64::max);
    FrameSeason {
        width_mm,
        width_change_mm: scaled(strains, width_mm),
        mitre_gap_mm: (frame.joint == CornerJoint::Mitre)
            .then(|| range(strains.map(|strain| (strain * widest).abs()))),
    }
}

fn scaled(strains: Range, width: f64) -> Range {
    strains.map(|strain| strain * width)
}

fn less(whole: f64, taken: Range) -> Range {
    range(taken.map(|taken| whole - taken))
}

fn range(values: impl IntoIterator<Item = f64>) -> Range {
    let none = [f64::INFINITY, f64::NEG_INFINITY];
    let grown = |[least, most]: Range, value: f64| [least.min(value), most.max(value)];
    values.into_iter().fold(none, grown)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::{Job, read_job};
    use float_cmp::approx_eq;

    fn job(more: &str) -> Job {
        let text = format!(
            "title = \"x\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 3\nrows = 2\n\
             overhang = \"15 mm\"\n[strip]\nthickness = \"6 mm\"\ndepth = \"12 mm\"\n\
             clearance = \"0.05 mm\"\n{more}"
        );
        read_job("job.toml", &text).unwrap()
    }

    fn plan(job: &Job) -> MovementPlan {
        let order = MovementOrder {
            panel: &job.panel,
            frame: job.frame.as_ref(),
            climate: job.climate,
        };
        order.plan().unwrap()
    }

    const FROM_30_TO_60: &str =
        "[climate]\nbench = \"30 %\"\ndriest = \"30 %\"\ndampest = \"60 %\"\n";

    /// By hand: at 20 degrees 30 and 60 % of humidity are 6.188 and 11.000 % of moisture (Wood Handbook,
    /// equation 4-5); 6 x 0.0033 x 4.812 = 0.0953, with 0.0023 0.0664.
    #[test]
    fn a_strip_of_basswood_by_hand() {
        let plan = plan(&job(&format!("wood = \"basswood\"\n{FROM_30_TO_60}")));
        let [driest, dampest] = &plan.seasons;
        assert_eq!(driest.thickness_change_mm, [0.0, 0.0]);
        let [least, most] = dampest.thickness_change_mm;
        assert!(approx_eq!(f64, least, 0.0664, epsilon = 5e-5), "{least}");
        assert!(approx_eq!(f64, most, 0.0953, epsilon = 5e-5), "{most}");
        assert_eq!(dampest.clearance_mm, [0.05 - most, 0.05 - least]);
        assert_eq!(plan.free_all_year.clearance_mm, most);
        assert_eq!(plan.free_all_year.over_the_year_mm, [0.0, most]);
        assert_eq!(plan.tight_all_year.clearance_mm, 0.0);
    }

    /// What is advised keeps its word: a job with that clearance is just free, and just tight.
    #[test]
    fn advice_followed() {
        let climate = "[climate]\nbench = \"45 %\"\ndriest = \"30 %\"\ndampest = \"65 %\"\n";
        let of = |clearance: f64| {
            let text = format!("wood = \"walnut\"\n{climate}");
            let mut job = job(&text.replace("walnut", "black walnut"));
            let mut design = job.panel.design().clone();
            design.strip.clearance = clearance;
            job.panel = Panel::new(design).unwrap();
            plan(&job)
        };
        let first = of(0.05);
        let all =
            |plan: &MovementPlan| range(plan.seasons.iter().flat_map(|season| season.clearance_mm));
        let [least, most] = all(&of(first.free_all_year.clearance_mm));
        assert!(
            approx_eq!(f64, least, 0.0, epsilon = 1e-12) && most > 0.0,
            "{least}"
        );
        assert_eq!([least, most], first.free_all_year.over_the_year_mm);
        let [least, most] = all(&of(first.tight_all_year.clearance_mm));
        assert!(
            approx_eq!(f64, most, 0.0, epsilon = 1e-12) && least < 0.0,
            "{most}"
        );
    }

    /// Four members of equal width w with square corners: by turning a mitre's face about its long point the
    /// faces stand w sqrt 2 e apart at the other end.
    #[test]
    fn mitres_of_a_frame() {
        let frame = "[frame]\nthickness = \"20 mm\"\nmortise_depth = \"6 mm\"\nwidth = \"40 mm\"\n";
        let plan = plan(&job(&format!(
            "wood = \"basswood\"\n{frame}{FROM_30_TO_60}"
        )));
        let season = plan.seasons[1].frame.as_ref().unwrap();
        let [least, most] = season.width_change_mm;
        let gap = season.mitre_gap_mm.unwrap();
        let root = std::f64::consts::SQRT_2;
        assert!(
            approx_eq!(f64, gap[0], least * root, epsilon = 1e-9),
            "{gap:?}"
        );
        assert!(
            approx_eq!(f64, gap[1], most * root, epsilon = 1e-9),
            "{gap:?}"
        );
        // To first order; the true angle of the face: atan (1 + e) against 45 degrees, twice.
        let turn = 2.0 * ((1.0 + most / 40.0).atan() - std::f64::consts::FRAC_PI_4);
        assert!((gap[1] - 40.0 * root * turn).abs() < 0.01 * gap[1]);
    }

    #[test]
    fn rings_decide_which_coefficient_counts() {
        let across = |rings: &str| {
            let text = format!("wood = \"basswood\"\n{FROM_30_TO_60}rings = \"{rings}\"\n");
            let plan = plan(&job(&text));
            (
                plan.seasons[1].thickness_change_mm,
                plan.seasons[1].depth_change_mm,
            )
        };
        let (thickness, depth) = across("across-thickness");
        assert!(
            approx_eq!(f64, thickness[1], 0.0664, epsilon = 5e-5) && thickness[0] == thickness[1]
        );
        assert!(approx_eq!(f64, depth[0], 2.0 * 0.0953, epsilon = 1e-4));
        let (thickness, depth) = across("along-thickness");
        assert!(approx_eq!(f64, thickness[1], 0.0953, epsilon = 5e-5));
        assert!(approx_eq!(f64, depth[1], 2.0 * 0.0664, epsilon = 1e-4));
    }

    #[test]
    fn a_wood_that_is_not_known() {
        for (wood, hint) in [
            ("", "basswood"),
            ("wood = \"sugi\"", "hinoki"),
            (
                "wood = \"oak\"",
                "known here: northern red oak, white oak; or",
            ),
            ("wood = \"ash\"", "known here: western redcedar"),
        ] {
            let job = job(wood);
            let order = MovementOrder {
                panel: &job.panel,
                frame: None,
                climate: job.climate,
            };
            let faults = order.plan().unwrap_err();
            assert_eq!(
                (faults.len(), faults[0].code, faults[0].field.as_str()),
                (1, "movement-unknown", "strip.wood")
            );
            assert!(
                faults[0]
                    .hint
                    .as_ref()
                    .unwrap()
                    .text(Default::default())
                    .contains(hint),
                "{wood}"
            );
        }
        let own = job(&format!(
            "wood = \"sugi\"\n{FROM_30_TO_60}radial = \"0.1 %\"\ntangential = \"0.26 %\"\n"
        ));
        assert_eq!(plan(&own).strips.basis, Basis::Job);
    }
}

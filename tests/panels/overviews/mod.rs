//! What is told of a panel at a glance, against the panel put together by shapely, and the picture's
//! letters against the lattice.

mod letters;

use crate::support::check_overviews;
use crate::support::jobs::{jobs, samples};
use lapwright::geometry::Point;
use lapwright::infill::Infilling;
use lapwright::instructions::overview::Overview;
use lapwright::lattice::Grid;
use lapwright::making::{GlanceOrder, Workshop, filled};
use lapwright::reading::{Job, read_job, read_pattern, shipped_pattern};
use serde_json::{Value, json};

/// A job with all that is told of it.
pub(crate) struct Told {
    pub name: String,
    pub job: Job,
    pub filled: Option<Infilling>,
    pub overview: Overview,
}

impl Told {
    /// Of a job without machines.
    pub(crate) fn of(name: &str, text: &str) -> Told {
        let job = read_job(name, text).unwrap_or_else(|bad| {
            panic!("{name}: {:?}\n{text}", bad.findings);
        });
        let filled = job.map.as_ref().map(|map| {
            let patterns = map.patterns.iter().map(|named| {
                let shipped = shipped_pattern(&named.name).unwrap();
                read_pattern(shipped.name, shipped.text).unwrap().pattern
            });
            filled(&job, &patterns.collect::<Vec<_>>()).unwrap()
        });
        let workshop = Workshop::default();
        let order = GlanceOrder {
            job: &job,
            filled: filled.as_ref(),
            workshop: &workshop,
        };
        let overview = order.overview().unwrap();
        Told {
            name: name.to_owned(),
            job,
            filled,
            overview,
        }
    }

    /// As the script wants it.
    fn description(&self) -> Value {
        let lattice = self.job.panel.lattice();
        let section = &lattice.section;
        let frame = self.job.frame.as_ref();
        let inner = frame.map(|frame| frame.margins.around(&lattice.region).unwrap());
        let is_square = matches!(self.job.panel.design().grid, Grid::Square(_));
        let fitted = self.job.fitted.as_ref();
        let flush = fitted.map(|fitted| [fitted.margins.x, fitted.margins.y]);
        let index = |id| {
            lattice
                .strips
                .iter()
                .position(|strip| strip.id == id)
                .unwrap()
        };
        let rails = frame.map(|frame| frame.rails(lattice).unwrap());
        let strips = lattice.strips.iter().map(|strip| {
            let rails = rails.iter().flat_map(|rails| &rails.rails);
            let flush = rails.filter(|rail| rail.flush.contains(&strip.id));
            let flush: Vec<_> = flush.map(|rail| [at(rail.start), at(rail.end)]).collect();
            json!({
                "start": at(strip.start),
                "end": at(strip.end),
                "keeps": strip.place,
                "flush": flush,
            })
        });
        let laps = lattice.crossings.iter();
        let laps = laps.map(|lap| [index(lap.front), index(lap.back)]);
        let pieces = self.filled.iter().flat_map(|filled| &filled.cells);
        let pieces = pieces.flat_map(|cell| &cell.pieces);
        json!({
            "name": self.name,
            "thickness": section.thickness,
            "depth": section.depth,
            "piece_depth": self.job.panel.piece_section().depth,
            "clearance": section.clearance,
            "overhang": lattice.overhang,
            "region": ring(&lattice.region),
            "inner": inner.as_deref().map(ring),
            "solid": frame.map(|frame| json!({
                "thickness": frame.thickness,
                "mortise": [frame.mortise_depth, section.depth + frame.clearance],
                "mortises": rails
                    .iter()
                    .flat_map(|rails| &rails.rails)
                    .flat_map(|rail| rail.mortises.iter().map(|mortise| mortise.edges))
                    .collect::<Vec<_>>(),
            })),
            "let_in": frame.map_or(0.0, |frame| frame.mortise_depth - frame.end_gap),
            "members": frame.and(self.members()),
            "flush": flush,
            "finished": is_square && (frame.is_none() || self.members().is_some()),
            "strips": strips.collect::<Vec<_>>(),
            "laps": laps.collect::<Vec<_>>(),
            "pieces": pieces.map(|piece| ring(&piece.outline)).collect::<Vec<_>>(),
            "told": serde_json::to_value(&self.overview).unwrap(),
        })
    }

    /// Widths of the members of an upright frame, where its text gives them one by one.
    fn members(&self) -> Option<[f64; 4]> {
        self.name.contains("members").then_some(MEMBERS)
    }
}

const MEMBERS: [f64; 4] = [40.0, 32.0, 28.0, 30.0];

const FRAME: &str =
    "[frame]\nthickness = \"40 mm\"\nmortise_depth = \"2 mm\"\nend_gap = \"0.5 mm\"\n";
const WIDTHS: &str = "widths = [\"40 mm\", \"32 mm\", \"28 mm\", \"30 mm\"]\n";

fn at(point: Point) -> [f64; 2] {
    [point.x, point.y]
}

fn ring(points: &[Point]) -> Value {
    points.iter().map(|p| json!(at(*p))).collect()
}

/// Twelve upright panels, every third in a frame with members, every third in one without.
fn upright() -> Vec<Told> {
    let jobs = samples(&jobs(), 12);
    let text = |(number, job): (usize, &crate::support::jobs::Job)| {
        let (name, frame) = match number % 3 {
            0 => ("plain", String::new()),
            1 => ("frame", FRAME.to_owned()),
            _ => ("members", format!("{FRAME}{WIDTHS}")),
        };
        let wood = "wood = \"western redcedar\"\n";
        let name = format!("{name} {number}");
        Told::of(&name, &format!("{}{wood}{frame}", job.toml()))
    };
    jobs.iter().enumerate().map(text).collect()
}

const STRIP: &str = "[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\nclearance = \"0.06 mm\"\nwood = \"basswood\"\n";

/// Openings, slanted grids in every region, and pieces: 18 more.
fn others() -> Vec<Told> {
    let mut told = Vec::new();
    let mut add = |name: &str, grid: &str, more: &str| {
        let text = format!("title = \"x\"\n{grid}{STRIP}{more}");
        told.push(Told::of(name, &text));
    };
    let opening = "[opening]\nmeasured = \"panel\"\nwidth = \"400 mm\"\nheight = \"300 mm\"\n";
    add(
        "opening",
        &format!(
            "{opening}[grid]\nkind = \"square\"\npitch_about = \"41 mm\"\nrest = \"even-margins\"\n"
        ),
        "",
    );
    let square = "[grid]\nkind = \"square\"\npitch = \"42 mm\"\ncolumns = 3\nrows = 2\noverhang = \"14 mm\"\n";
    add(
        "square hemp leaf",
        square,
        "[infill]\npattern = \"square-hemp-leaf\"\n",
    );
    add(
        "pieces of their own",
        square,
        "[infill]\nthickness = \"2 mm\"\ndepth = \"8 mm\"\npattern = \"square-hemp-leaf\"\n",
    );
    let frame = format!("{FRAME}{WIDTHS}[infill]\npattern = \"corner-brace\"\n");
    add("members and pieces", square, &frame);
    for (side, rings) in [(40, 1), (45, 2), (38, 3)] {
        let grid = format!(
            "[grid]\nkind = \"triangular\"\nside = \"{side} mm\"\nregion = \"hexagon\"\nrings = {rings}\noverhang = \"15 mm\"\n"
        );
        add(&format!("hexagon {rings}"), &grid, "");
        let pieces = "[infill]\npattern = \"triangular-hemp-leaf\"\n";
        add(&format!("hexagon {rings} pieces"), &grid, pieces);
    }
    for stance in ["lying", "upright"] {
        let grid = format!(
            "[grid]\nkind = \"triangular\"\nstance = \"{stance}\"\nside = \"44 mm\"\nregion = \"rectangle\"\nwidth = \"210 mm\"\nheight = \"190 mm\"\noverhang = \"16 mm\"\n"
        );
        add(&format!("triangles {stance}"), &grid, "");
    }
    for (stance, angle) in [
        ("upright", 60),
        ("upright", 75),
        ("on-point", 50),
        ("on-point", 90),
    ] {
        let grid = format!(
            "[grid]\nkind = \"diamond\"\nstance = \"{stance}\"\npitch = \"34 mm\"\nangle = \"{angle} deg\"\nregion = \"rectangle\"\ncolumns = 3\nrows = 3\noverhang = \"15 mm\"\n"
        );
        add(&format!("diamond {stance} {angle}"), &grid, "");
    }
    let polygon = "[grid]\nkind = \"diamond\"\nstance = \"on-point\"\npitch = \"30 mm\"\nangle = \"64 deg\"\nregion = \"polygon\"\ncorners = [[\"0 mm\", \"0 mm\"], [\"200 mm\", \"10 mm\"], [\"180 mm\", \"150 mm\"], [\"20 mm\", \"160 mm\"]]\noverhang = \"18 mm\"\n";
    add("polygon", polygon, "");
    let grid = "[grid]\nkind = \"diamond\"\npitch = \"40 mm\"\nangle = \"70 deg\"\nstance = \"on-point\"\nregion = \"rectangle\"\ncolumns = 3\nrows = 3\noverhang = \"18 mm\"\n";
    add("framed diamond", grid, &FRAME.replace("2 mm", "6 mm"));
    add(
        "diamond hemp leaf",
        grid,
        "[infill]\npattern = \"diamond-hemp-leaf\"\nedge = \"fill\"\n",
    );
    told
}

#[test]
fn panels_put_together_are_what_is_told() {
    let mut told = upright();
    told.extend(others());
    assert!(told.len() >= 30, "{}", told.len());
    let panels: Vec<Value> = told.iter().map(Told::description).collect();
    check_overviews(&json!({ "panels": panels })).unwrap();
}

#[test]
fn a_false_figure_is_found() {
    let of = |name: &str, frame: &str| {
        let text = format!(
            "title = \"x\"\n[grid]\nkind = \"square\"\npitch = \"42 mm\"\ncolumns = 3\nrows = 2\noverhang = \"14 mm\"\n{STRIP}{frame}"
        );
        Told::of(name, &text).description()
    };
    let good = of("plain", "");
    let framed = of("members", &format!("{FRAME}{WIDTHS}"));
    check_overviews(&json!({ "panels": [good, framed] })).unwrap();
    for (place, more) in [
        ("/told/finished_mm/0", 0.01),
        ("/told/over_all_mm/1", 0.01),
        ("/told/trim/from_end_mm", 0.01),
        ("/told/trim/from_last_notch_mm", 0.01),
        ("/told/trims/0/places/1/from_end_mm", 0.01),
        ("/told/joints", 1.0),
        ("/told/weight/volume_cm3", 0.01),
        ("/told/weight/kg", 0.001),
        ("/told/weight/frame/volume_cm3", 0.01),
        ("/told/weight/frame/kg", 0.001),
        ("/told/strips/0/trimmed_mm", 0.01),
        ("/told/metres/strips", 0.001),
    ] {
        let of_frame = place.contains("frame");
        let mut bad = if of_frame { &framed } else { &good }.clone();
        let figure = bad.pointer_mut(place).unwrap();
        *figure = json!(figure.as_f64().unwrap() + more);
        assert!(
            check_overviews(&json!({ "panels": [bad] })).is_err(),
            "{place}"
        );
    }
}

/// By hand: 3 by 2 bays of 40 mm, strips 3 by 12 mm with no clearance, cut flush: 4 uprights of 83 mm
/// and 3 cross strips of 123 mm, 12 laps that each hold 3 x 3 x 12 mm once:
/// (4 x 83 + 3 x 123) x 3 x 12 - 12 x 108 = 23940 mm3 = 23.94 cm3. Basswood: 414.4 kg/m3, 9.920736 g.
#[test]
fn a_weight_by_hand() {
    let text = "title = \"x\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 3\nrows = 2\noverhang = \"15 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\nwood = \"Basswood\"\n";
    let told = Told::of("by hand", text).overview;
    assert!((told.weight.volume_cm3 - 23.94).abs() < 1e-9);
    assert!((told.weight.kg.unwrap() * 1e3 - 9.920_736).abs() < 1e-9);
    assert_eq!(told.finished_mm, Some([123.0, 83.0]));
    assert_eq!(
        (told.joints, told.nodes, told.joints_trimmed_off),
        (12, 12, 0)
    );
    assert!((told.metres.strips - (4.0 * 110.0 + 3.0 * 150.0) / 1e3).abs() < 1e-12);
}

/// A frame put together, mm3: what lies between inside and outside, less the ring that a rebate or groove
/// takes along the inside, the strips' mortises, and what stays open before and beside tenons.
///
/// Inside 123 by 83 mm: 3 by 2 bays of 40 mm and margins of 1.5 mm. Members 40, 33, 32 and 30 mm wide, 24 mm
/// thick: outside 186 by 155 mm. 14 mortises of 3 x 6 x 12 mm.
#[test]
fn a_frames_wood_by_hand() {
    let volume = |more: &str| {
        let text = format!(
            "title = \"x\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 3\nrows = 2\n\
             overhang = \"15 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\nleast_web = \"1 mm\"\n\
             [frame]\nmargin = \"1.5 mm\"\nthickness = \"24 mm\"\nsetback = \"2 mm\"\nmortise_depth = \"6 mm\"\n\
             widths = [\"40 mm\", \"33 mm\", \"32 mm\", \"30 mm\"]\ndensity = \"500 kg/m3\"\n{more}"
        );
        let weight = Told::of("by hand", &text).overview.weight.frame.unwrap();
        let kg = weight.kg.unwrap();
        assert!((kg - weight.volume_cm3 * 5e-4).abs() < 1e-12);
        weight.volume_cm3 * 1e3
    };
    let ring = |deep: f64| (123.0 + 2.0 * deep) * (83.0 + 2.0 * deep) - 123.0 * 83.0;
    let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1e-6, "{found} {wanted}");
    // Strips at the corners meet a member too near its end: their mortises are left out.
    let mortises = |count: f64| count * 3.0 * 6.0 * 12.0;
    let whole = (186.0 * 155.0 - 123.0 * 83.0) * 24.0;
    let plain = volume("");
    let count = ((whole - plain) / mortises(1.0)).round();
    assert!(count >= 6.0, "{count}");
    near(plain, whole - mortises(count));
    let rebate = "rebate = { width = \"8 mm\", depth = \"6 mm\" }\n";
    // Each member is rebated to its mitre, which halves no corner of unequal members.
    let corners = [(40.0, 33.0), (33.0, 32.0), (32.0, 30.0), (30.0, 40.0)];
    let corners = corners.map(|(a, b): (f64, f64)| (a / b + b / a) / 2.0 - 1.0);
    let more = |deep: f64| corners.iter().sum::<f64>() * deep * deep;
    near(volume(rebate), plain - (ring(8.0) + more(8.0)) * 6.0);
    let groove = "groove = { width = \"5 mm\", depth = \"4 mm\", from_front = \"16 mm\" }\n";
    near(volume(groove), plain - (ring(4.0) + more(4.0)) * 5.0);
    // Half a millimetre of play before each tenon and haunch, 4 of each, as thick as the tenon.
    let tenons = |groove: f64, thick: f64| 2.0 * 0.5 * thick * (40.0 - groove + 32.0 - groove);
    let joint = "joint = \"mortise-and-tenon\"\n";
    near(volume(joint), plain - tenons(0.0, 8.0));
    let rebated = volume(&format!("{joint}{rebate}"));
    near(rebated, volume(joint) - ring(8.0) * 6.0);
    let grooved = volume(&format!("{joint}{groove}"));
    let without_play = volume(joint) + tenons(0.0, 8.0);
    near(grooved, without_play - ring(4.0) * 5.0 - tenons(4.0, 5.0));
}

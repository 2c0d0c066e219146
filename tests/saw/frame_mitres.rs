//! Mitred frames: shapely builds the members as polygons and saws blanks by the JSON answer and by the
//! sentences of the sheet.

use crate::support::check_mitred_frames;
use lapwright::geometry::convex::{edges, is_convex};
use lapwright::geometry::{Point, SAME_POSITION_MM};
use lapwright::instructions::rails::RailPlan;
use lapwright::instructions::sheet::{Block, SetupSheet};
use lapwright::lattice::{Rail, Rails};
use lapwright::machines::{Chosen, Machine, Sled};
use lapwright::making::{planned_rails, saw_mitres};
use lapwright::reading::{read_job, read_machine};
use lapwright::sheets::rail_sheet;
use lapwright::units::UnitSystem;
use lapwright::writing::json;
use serde_json::{Value, json};

/// As many frames are sawn at least.
const FRAMES: usize = 100;

/// Numbers that look random and are the same every time (Knuth's MMIX multiplier).
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(self.0 >> 33).unwrap()) / f64::from(1_u32 << 31)
    }

    fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.next()
    }

    fn count(&mut self, least: u32, most: u32) -> u32 {
        let among = f64::from(most - least + 1);
        let steps = (least..=most).zip(1..);
        let share = self.next() * among;
        let found = steps.into_iter().find(|(_, step)| share < f64::from(*step));
        found.map_or(most, |(count, _)| count)
    }
}

/// Corners of a convex region, counter-clockwise: on an ellipse, or a rectangle.
fn corners(numbers: &mut Numbers) -> Vec<Point> {
    let (a, b) = (numbers.between(220.0, 420.0), numbers.between(220.0, 420.0));
    let count = numbers.count(3, 8);
    if count == 8 {
        let corners = [(0.0, 0.0), (a, 0.0), (a, b), (0.0, b)];
        return corners.map(|(x, y)| Point::new(x, y)).to_vec();
    }
    let turn = numbers.between(0.0, 6.0);
    let each = std::f64::consts::TAU / f64::from(count);
    (0..count)
        .map(|at| {
            let angle = turn + each * (f64::from(at) + numbers.between(-0.3, 0.3));
            Point::new(a * angle.cos(), b * angle.sin())
        })
        .collect()
}

fn job(corners: &[Point], widths: &[f64]) -> String {
    let corner = |p: &Point| format!("[\"{} mm\", \"{} mm\"]", p.x, p.y);
    let corners: Vec<String> = corners.iter().map(corner).collect();
    let widths: Vec<String> = widths.iter().map(|w| format!("\"{w} mm\"")).collect();
    format!(
        "title = \"Made up\"\n[grid]\nkind = \"diamond\"\npitch = \"70 mm\"\nangle = \"70 deg\"\n\
         stance = \"upright\"\nregion = \"polygon\"\ncorners = [{}]\noverhang = \"60 mm\"\n\
         [strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n\
         [frame]\nthickness = \"20 mm\"\nmortise_depth = \"4 mm\"\nwidths = [{}]\n",
        corners.join(", "),
        widths.join(", ")
    )
}

fn sled(powered: bool, swing: f64) -> Sled {
    let motor = if powered {
        "diameter = \"300 mm\"\nhighest = \"90 mm\"\ntravel = \"900 mm\"\noverlap = \"0.2 mm\"\n"
    } else {
        ""
    };
    let text = format!(
        "kind = \"sled\"\nabout = \"made up\"\n\
         [blade]\npowered = {powered}\nkerf = \"2.9 mm\"\ntooth = \"flat-top\"\n{motor}\
         [sled]\nbase_thickness = \"12 mm\"\nwidest_block = \"200 mm\"\n\
         shortest_strip = \"1 mm\"\nlongest_strip = \"5000 mm\"\n\
         [fence]\nswing = \"{swing} deg\"\n\
         [stop]\nnearest = \"0 mm\"\nfarthest = \"5000 mm\"\nrepeatability = \"0.1 mm\"\n"
    );
    match read_machine("sled.toml", &text).unwrap().machine {
        Machine::Sled(sled) => sled,
        other => panic!("{other:?}"),
    }
}

/// A frame, planned and told.
struct Frame {
    rails: Rails,
    plan: RailPlan,
}

/// Nothing where the job cannot be built.
fn framed(job: &str, sled: &Sled) -> Option<Frame> {
    let job = read_job("job.toml", job).ok()?;
    let frame = job.frame.as_ref()?;
    let lattice = job.panel.lattice();
    let rails = frame.rails(lattice).ok()?;
    let (mut plan, _) = planned_rails(lattice, frame, None).ok()?;
    let name = "made up";
    saw_mitres(
        &mut plan,
        Chosen {
            name,
            machine: sled,
        },
    );
    let mitres = plan.mitres.as_ref()?;
    mitres
        .without_settings
        .is_empty()
        .then_some(Frame { rails, plan })
}

fn steps(sheet: &SetupSheet) -> Vec<String> {
    let at_the_saw = sheet.sections.iter();
    let at_the_saw = at_the_saw.filter(|section| section.heading.starts_with("Mitres at"));
    let blocks = at_the_saw.flat_map(|section| &section.blocks);
    let steps = blocks.filter_map(|block| match block {
        Block::Steps(steps) => Some(steps),
        _ => None,
    });
    let steps = steps.flatten();
    steps
        .map(|step| step.text(UnitSystem::Millimetres))
        .collect()
}

/// A member as its edge runs round the panel, and where it begins.
fn round(rail: &Rail) -> Value {
    let member = rail.member.as_ref().unwrap();
    let backward = rail.round_end() == rail.datum_end();
    let mut mitres = member.mitres;
    let mut start = rail.start;
    if backward {
        mitres.reverse();
        start = rail.end;
    }
    let turned = |edges: &[f64; 2]| {
        if backward {
            [edges[1], edges[0]].map(|edge| rail.length() - edge)
        } else {
            *edges
        }
    };
    let mortises = rail.mortises.iter();
    json!({
        "start": [start.x, start.y],
        "mortises": mortises.map(|mortise| turned(&mortise.edges)).collect::<Vec<_>>(),
        "width": member.width,
        "inner_length": member.inner_length,
        "outer_length": member.outer_length(),
        "mitres": mitres,
    })
}

fn described(name: &str, frame: &Frame, sled: &Sled, rough: f64) -> Value {
    let answer = json::answer("x", &frame.plan, &[], &[]).unwrap();
    let answer: Value = serde_json::from_str(&answer).unwrap();
    let members: Vec<Value> = frame.rails.rails.iter().map(round).collect();
    let of = |key: &str| -> Value { members.iter().map(|member| member[key].clone()).collect() };
    let names = frame.plan.rails.iter();
    json!({
        "name": name,
        "inner": of("start"),
        "widths": of("width"),
        "names": names.map(|rail| rail.name.clone()).collect::<Value>(),
        "kerf": sled.blade.kerf,
        "powered": sled.blade.powered.is_some(),
        "rough": rough,
        "depth": frame.plan.mortise_depth_mm,
        "web": 2.0,
        "members": members,
        "plan": answer["mitres"],
        "steps": steps(&rail_sheet(&frame.plan)),
    })
}

fn frames(count: usize) -> Vec<Value> {
    let mut numbers = Numbers(15);
    let sleds = [sled(true, 75.0), sled(true, 30.0), sled(false, 0.0)];
    let mut all = Vec::new();
    let mut tried = 0;
    while all.len() < count {
        tried += 1;
        assert!(tried < 20 * count, "{} of {tried}", all.len());
        let corners = corners(&mut numbers);
        if !is_convex(&corners) {
            continue;
        }
        let even = numbers.next() < 0.3;
        let first = numbers.between(14.0, 45.0);
        let widths: Vec<f64> = (corners.iter())
            .map(|_| {
                if even {
                    first
                } else {
                    numbers.between(14.0, 45.0)
                }
            })
            .collect();
        let sled = &sleds[tried % sleds.len()];
        let rough = numbers.between(-2.0, 2.0);
        if let Some(frame) = framed(&job(&corners, &widths), sled) {
            let name = format!("frame {tried}: {corners:?} {widths:?}");
            all.push(described(&name, &frame, sled, rough));
        }
    }
    all
}

#[test]
fn members_meet_and_come_off_the_saw_as_drawn() {
    let frames = frames(FRAMES);
    // All that can differ is there.
    let text = |frame: &Value| frame["plan"].to_string();
    for has in [
        "\"end_away\":\"right\"",
        "\"edge_on_fence\":\"inner\"",
        "\"wedge\"",
        "\"mark_from\":\"upper end\"",
    ] {
        assert!(
            frames.iter().any(|frame| text(frame).contains(has)),
            "{has}"
        );
    }
    check_mitred_frames(&json!({ "frames": frames })).unwrap();
}

/// Corners of a hexagon that lies on an edge, its sides 200 long.
fn hexagon() -> [Point; 6] {
    let across = 200.0;
    let high = across * 3_f64.sqrt() / 2.0;
    let hexagon = [
        (across, 0.0),
        (across / 2.0, high),
        (-across / 2.0, high),
        (-across, 0.0),
        (-across / 2.0, -high),
        (across / 2.0, -high),
    ];
    hexagon.map(|(x, y)| Point::new(x, y))
}

/// A wide member between narrow ones: its mitres run in under the inner edge, 12 deep by 2.08,
/// and a web of 2 stays. A strip whose mortise would begin 3.12 from the corner has none there, one
/// whose begins 5.12 from it has.
#[test]
fn mortises_keep_clear_of_mitres_that_run_in_under_them() {
    let sled = sled(true, 75.0);
    let job = job(&hexagon(), &[14.7, 42.0, 14.7, 42.0, 14.7, 42.0]);
    let deep = job.replace("mortise_depth = \"4 mm\"", "mortise_depth = \"12 mm\"");
    let mut all = Vec::new();
    for (x, first) in [(-96.25, 70.0), (-94.25, 0.0)] {
        let node = format!("node = [\"{x} mm\", \"0 mm\"]\noverhang");
        let frame = framed(&deep.replace("overhang", &node), &sled).unwrap();
        let top = &frame.rails.rails[1];
        // The inner corner lies half a strip's thickness beyond the region, 1.5 tan 30 of it along.
        let near = x + 100.0 + 1.5 * (1.0_f64 / 3.0).sqrt() - 1.5 + first;
        let found = top.mortises[0].edges[0];
        assert!((found - near).abs() < 1e-6, "{found} {near}");
        all.push(described("deep mortises", &frame, &sled, 0.0));
    }
    check_mitred_frames(&json!({ "frames": all })).unwrap();
}

/// A square end, and members whose inner corner is the long point at one end or both.
#[test]
fn blunt_corners_come_off_the_saw_as_drawn() {
    let hexagon = hexagon();
    let mut all = Vec::new();
    for (at, widths) in [
        [30.0, 15.0, 30.0, 15.0, 30.0, 15.0],
        [44.0, 20.0, 44.0, 20.0, 44.0, 20.0],
        [40.0, 18.0, 20.0, 20.0, 20.0, 20.0],
        [30.0; 6],
    ]
    .iter()
    .enumerate()
    {
        for sled in [sled(true, 75.0), sled(false, 0.0)] {
            let frame = framed(&job(&hexagon, widths), &sled).unwrap();
            all.push(described(&format!("hexagon {at}"), &frame, &sled, 1.0));
        }
    }
    let text = Value::from(all.clone()).to_string();
    assert!(text.contains("finished end") && text.contains("fence square to the blade"));
    check_mitred_frames(&json!({ "frames": all })).unwrap();
}

type Change = fn(&mut Value);

/// What goes wrong with a setting.
const WRONG: [(&str, Change); 6] = [
    ("stop", |setting| {
        let stop = &mut setting["cuts"][0]["stop_to_kerf_mm"];
        *stop = (stop.as_f64().unwrap() + 0.05).into();
    }),
    ("J for its complement", |setting| {
        let [from, to] = ["from_square_deg", "to_blade_deg"].map(|key| setting[key].clone());
        setting["from_square_deg"] = to;
        setting["to_blade_deg"] = from;
    }),
    ("hand", |setting| {
        swap(&mut setting["end_away"], ["left", "right"]);
    }),
    ("edge", |setting| {
        swap(&mut setting["cuts"][0]["edge_on_fence"], ["outer", "inner"]);
    }),
    ("edge and face", |setting| {
        let cut = &mut setting["cuts"][0];
        swap(&mut cut["edge_on_fence"], ["outer", "inner"]);
        for lie in cut["members"].as_array_mut().unwrap() {
            swap(&mut lie["face_down"], ["back", "front"]);
        }
    }),
    ("face", |setting| {
        let lie = &mut setting["cuts"][0]["members"][0];
        swap(&mut lie["face_down"], ["back", "front"]);
    }),
];

/// One of two words for the other.
fn swap(word: &mut Value, [one, other]: [&str; 2]) {
    *word = if *word == one { other } else { one }.into();
}

#[test]
fn wrong_settings_are_found() {
    let corners = [(0.0, 0.0), (300.0, 0.0), (340.0, 260.0), (-20.0, 240.0)];
    let corners = corners.map(|(x, y)| Point::new(x, y));
    let sled = sled(true, 75.0);
    let frame = framed(&job(&corners, &[32.0, 21.0, 27.0, 24.0]), &sled).unwrap();
    let good = described("frame", &frame, &sled, 0.0);
    let refused = |change: &dyn Fn(&mut Value)| {
        let mut frame = good.clone();
        change(&mut frame);
        check_mitred_frames(&json!({ "frames": [frame] })).err()
    };
    assert_eq!(refused(&|_| {}), None);
    let settings = good["plan"]["sled"]["settings"].as_array().unwrap().len();
    for at in 0..settings {
        for (what, change) in WRONG {
            let found = refused(&|frame| change(&mut frame["plan"]["sled"]["settings"][at]));
            assert!(found.is_some(), "setting {at}: {what} slips");
        }
    }
    // The sentences are played as well.
    let sentence = |from: &'static str, to: &'static str| {
        move |frame: &mut Value| {
            let steps = frame["steps"].as_array_mut().unwrap();
            let found = steps
                .iter_mut()
                .find(|step| step.as_str().unwrap().contains(from));
            let step = found.unwrap();
            *step = step.as_str().unwrap().replace(from, to).into();
        }
    };
    assert!(refused(&sentence("left end away", "right end away")).is_some());
    assert!(refused(&sentence("Back face down", "Front face down")).is_some());
    assert!(refused(&sentence("Outer edge", "Inner edge")).is_some());
    for key in [
        "closes_off_deg",
        "each_corner_open_mm",
        "last_corner_miss_mm",
    ] {
        let more = |frame: &mut Value| {
            let figure = &mut frame["plan"]["closing"][key];
            *figure = (figure.as_f64().unwrap() * 1.001).into();
        };
        assert!(refused(&more).is_some(), "{key} slips");
    }
    let mitre = |frame: &mut Value| {
        let mitre = &mut frame["members"][0]["mitres"][0];
        *mitre = (mitre.as_f64().unwrap() + 1e-8).into();
    };
    assert!(refused(&mitre).is_some());
}

#[test]
fn edges_of_the_frame_run_round_the_panel() {
    let sled = sled(true, 75.0);
    let corners = [(0.0, 0.0), (300.0, 0.0), (340.0, 260.0), (-20.0, 240.0)];
    let corners = corners.map(|(x, y)| Point::new(x, y));
    let frame = framed(&job(&corners, &[32.0, 21.0, 27.0, 24.0]), &sled).unwrap();
    let starts: Vec<Point> = (frame.rails.rails.iter())
        .map(|rail| {
            if rail.round_end() == rail.datum_end() {
                rail.end
            } else {
                rail.start
            }
        })
        .collect();
    assert!(is_convex(&starts));
    for ((from, to), rail) in edges(&starts).zip(&frame.rails.rails) {
        assert!((from.to(to).length() - rail.length()).abs() < SAME_POSITION_MM);
    }
    let widths: Vec<f64> = (frame.plan.mitres.iter())
        .flat_map(|plan| &plan.members)
        .map(|member| member.width_mm)
        .collect();
    assert_eq!(widths, [32.0, 21.0, 27.0, 24.0]);
}

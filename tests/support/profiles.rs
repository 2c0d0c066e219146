//! Machine profiles made up for tests, such that the machine can make a given job.

use proptest::prelude::*;

use super::jobs::{Job, Length, length, quoted};

/// Sections of a TOML file, `key = value` line by line.
fn table(name: &str, rows: &[(&str, String)]) -> String {
    let rows: String = rows
        .iter()
        .map(|(key, value)| format!("{key} = {value}\n"))
        .collect();
    format!("[{name}]\n{rows}")
}

fn quote(length: &Length) -> String {
    quoted(&length.text)
}

/// A laser with its sheets.
#[derive(Debug, Clone)]
pub struct LaserProfile {
    pub kerf: Length,
    pub label_height: Length,
    pub sheet_length: Length,
    pub sheet_width: Length,
    pub margin: Length,
    pub gap: Length,
}

impl LaserProfile {
    pub fn toml(&self) -> String {
        let beam = [
            ("kerf", quote(&self.kerf)),
            ("thickest", quoted("10 mm")),
            ("label_height", quote(&self.label_height)),
        ];
        let sheet = [
            ("length", quote(&self.sheet_length)),
            ("width", quote(&self.sheet_width)),
            ("margin", quote(&self.margin)),
            ("gap", quote(&self.gap)),
        ];
        let colours = ["letters", "openings", "outlines"].map(|layer| (layer, "3".to_owned()));
        format!(
            "kind = \"laser\"\nabout = \"made up\"\n{}{}{}",
            table("laser", &beam),
            table("sheet", &sheet),
            table("colours", &colours)
        )
    }
}

/// Jobs, each with a laser that can cut it, on one sheet or several.
pub fn laser_jobs(jobs: impl Strategy<Value = Job>) -> impl Strategy<Value = (Job, LaserProfile)> {
    let kerf = prop_oneof![Just(Length::of(0.0)), length(0.05, 0.4)];
    (jobs, kerf, length(0.0, 12.0)).prop_flat_map(|(job, kerf, margin)| {
        let longest = job.kinds().map(|kind| kind.length);
        let edges = 2.0 * (margin.mm + kerf.mm);
        let room = longest[0].max(longest[1]) + edges;
        let least = job.depth.mm + edges;
        let label = prop_oneof![Just(Length::of(0.0)), length(1.0, 5.0)];
        (
            Just(job),
            label,
            length(room + 0.1, 2.0 * room),
            length(least + 0.1, 7.0 * least),
            length(2.0 * kerf.mm + 0.5001, 5.0),
        )
            .prop_map(move |(job, label_height, sheet_length, sheet_width, gap)| {
                let profile = LaserProfile {
                    kerf: kerf.clone(),
                    label_height,
                    sheet_length,
                    sheet_width,
                    margin: margin.clone(),
                    gap,
                };
                (job, profile)
            })
    })
}

/// A router.
#[derive(Debug, Clone)]
pub struct RouterProfile {
    pub travel: [Length; 3],
    /// mm/min.
    pub fastest_feed: u32,
    /// mm/s^2.
    pub acceleration: u32,
    pub diameter: Length,
    pub flutes: u32,
    pub flute_length: Length,
    /// Slowest, fastest and wanted speed, 1/min.
    pub speeds: [u32; 3],
    /// Hundredths of a second.
    pub spin_up: u32,
    pub chip_load: Length,
    /// mm/min.
    pub plunge_feed: u32,
    pub depth_per_pass: Length,
    pub run_out: Length,
    pub wall_allowance: Length,
    pub safe_height: Length,
    pub zero: [Length; 2],
    pub widest_bundle: Length,
    pub clear_beside: Length,
    pub clamp_height: Length,
    pub controller: ControllerText,
}

/// How a router's programs are spelt.
#[derive(Debug, Clone)]
pub struct ControllerText {
    pub decimals: usize,
    pub milliseconds: bool,
    pub end: &'static str,
    pub path_mode: Option<&'static str>,
    pub line_numbers: bool,
    pub percent_signs: bool,
    pub longest_line: usize,
}

impl RouterProfile {
    /// Speed, feed while cutting and feed on the way down, held to the machine's limits. Feed is
    /// speed x cutting edges x feed per edge.
    pub fn speed_and_feeds(&self) -> [f64; 3] {
        let [slowest, fastest, wanted] = self.speeds;
        let speed = f64::from(wanted.clamp(slowest, fastest));
        let fastest_feed = f64::from(self.fastest_feed);
        let feed = speed * f64::from(self.flutes) * self.chip_load.mm;
        [
            speed,
            feed.min(fastest_feed),
            f64::from(self.plunge_feed).min(fastest_feed),
        ]
    }

    /// How far the tool's edge leaves the bundle before it turns. A control that is not in exact
    /// path mode may keep its feed v through a corner, which takes it e = v^2 / 2a off the corner;
    /// the circle that does so leaves the straight way e / (sqrt 2 - 1) before it.
    pub fn least_run_out(&self) -> f64 {
        let [_, feed, _] = self.speed_and_feeds();
        let off_corner = (feed / 60.0).powi(2) / (2.0 * f64::from(self.acceleration));
        match self.controller.path_mode {
            Some("exact-path") => self.run_out.mm,
            _ => self.run_out.mm.max(off_corner / (2.0_f64.sqrt() - 1.0)),
        }
    }

    pub fn toml(&self) -> String {
        let feed = |feed: u32| quoted(&format!("{feed} mm/min"));
        let rpm = |speed: u32| quoted(&format!("{speed} rpm"));
        let [slowest, fastest, speed] = self.speeds.map(rpm);
        let travel = [
            ("x", quote(&self.travel[0])),
            ("y", quote(&self.travel[1])),
            ("z", quote(&self.travel[2])),
            ("fastest_feed", feed(self.fastest_feed)),
            ("rapid", feed(self.fastest_feed)),
            (
                "acceleration",
                quoted(&format!("{} mm/s2", self.acceleration)),
            ),
        ];
        let tool = [
            ("diameter", quote(&self.diameter)),
            ("flutes", self.flutes.to_string()),
            ("flute_length", quote(&self.flute_length)),
        ];
        let spin_up = format!("{}.{:02} s", self.spin_up / 100, self.spin_up % 100);
        let spindle = [
            ("slowest", slowest),
            ("fastest", fastest),
            ("speed", speed),
            ("spin_up", quoted(&spin_up)),
        ];
        let cutting = [
            ("chip_load", quote(&self.chip_load)),
            ("plunge_feed", feed(self.plunge_feed)),
            ("depth_per_pass", quote(&self.depth_per_pass)),
            ("run_out", quote(&self.run_out)),
            ("wall_allowance", quote(&self.wall_allowance)),
            ("safe_height", quote(&self.safe_height)),
        ];
        let fixture = [
            ("zero_x", quote(&self.zero[0])),
            ("zero_y", quote(&self.zero[1])),
            ("widest_bundle", quote(&self.widest_bundle)),
            ("clear_beside", quote(&self.clear_beside)),
            ("clamp_height", quote(&self.clamp_height)),
        ];
        let mut text = String::from("kind = \"router\"\nabout = \"made up\"\n");
        text += &table("travel", &travel);
        text += &table("tool", &tool);
        text += &table("spindle", &spindle);
        text += &table("cutting", &cutting);
        text += &table("fixture", &fixture);
        text + &self.controller.toml()
    }
}

impl ControllerText {
    fn toml(&self) -> String {
        let dwell = if self.milliseconds {
            "milliseconds"
        } else {
            "seconds"
        };
        let mut rows = vec![
            ("decimals", self.decimals.to_string()),
            ("dwell", quoted(dwell)),
            ("program_end", quoted(self.end)),
            ("line_numbers", self.line_numbers.to_string()),
            ("percent_signs", self.percent_signs.to_string()),
            ("longest_line", self.longest_line.to_string()),
        ];
        rows.extend(self.path_mode.map(|mode| ("path_mode", quoted(mode))));
        table("controller", &rows)
    }
}

fn controllers() -> impl Strategy<Value = ControllerText> {
    (
        3..=4_usize,
        any::<[bool; 3]>(),
        prop::sample::select(&["M2", "M30"][..]),
        prop::sample::select(&[None, Some("exact-path"), Some("continuous")][..]),
        40..=72_usize,
    )
        .prop_map(|(decimals, flags, end, path_mode, longest_line)| {
            let [milliseconds, line_numbers, percent_signs] = flags;
            ControllerText {
                decimals,
                milliseconds,
                end,
                path_mode,
                line_numbers,
                percent_signs,
                longest_line,
            }
        })
}

/// Speeds and feeds; some are beyond what the machine can do.
fn speeds() -> impl Strategy<Value = ([u32; 3], u32, u32, u32, Length)> {
    let speed = (5000..9000_u32, 15000..30000_u32, 4000..32000_u32);
    let feeds = (800..6000_u32, 100..1200_u32);
    (speed, feeds, 1..=4_u32, length(0.01, 0.1)).prop_map(
        |((slowest, fastest, wanted), (fastest_feed, plunge), flutes, chip_load)| {
            (
                [slowest, fastest, wanted],
                fastest_feed,
                plunge,
                flutes,
                chip_load,
            )
        },
    )
}

/// Jobs, each with a router that can notch it, in one run of a bundle or several.
pub fn router_jobs(
    jobs: impl Strategy<Value = Job>,
) -> impl Strategy<Value = (Job, RouterProfile)> {
    let run_out = length(0.5, 4.0);
    (jobs, run_out, any::<prop::sample::Index>()).prop_flat_map(|(job, run_out, pick)| {
        let width = job.notch_width();
        // From a thin tool to one as wide as the notch, which is one case of five.
        let diameter = if pick.index(5) == 0 {
            Just(Length::of(width)).boxed()
        } else {
            length(0.25 * width, width).boxed()
        };
        let tool = diameter.prop_flat_map(|diameter| {
            let most = 0.5 * diameter.mm;
            (Just(diameter), length(0.02, most))
        });
        let most_strips = job.pitches_x.len().max(job.pitches_y.len()) as f64 + 1.5;
        let fixture = (
            length(job.thickness.mm, most_strips * job.thickness.mm),
            length(0.0, 10.0),
            length(1.0, 10.0),
        );
        let depth = job.depth.mm / 2.0;
        let cutting = (length(depth / 8.0, 1.5 * depth), 10..800_u32, 300..4000_u32);
        (
            Just((job, run_out)),
            tool,
            fixture,
            cutting,
            speeds(),
            controllers(),
        )
            .prop_map(router_job)
    })
}

type RouterParts = (
    (Job, Length),
    (Length, Length),
    (Length, Length, Length),
    (Length, u32, u32),
    ([u32; 3], u32, u32, u32, Length),
    ControllerText,
);

/// A machine with just the room that its job needs.
fn router_job(parts: RouterParts) -> (Job, RouterProfile) {
    let ((job, run_out), (diameter, wall_allowance), fixture, cutting, speeds, controller) = parts;
    let (widest_bundle, clamp_height, over_clamps) = fixture;
    let (depth_per_pass, spin_up, acceleration) = cutting;
    let (speeds, fastest_feed, plunge_feed, flutes, chip_load) = speeds;
    let longest = job.kinds().map(|kind| kind.length);
    let depth = job.depth.mm / 2.0;
    let safe_height = Length::of(clamp_height.mm + over_clamps.mm);
    let mut profile = RouterProfile {
        travel: [0.0; 3].map(Length::of),
        fastest_feed,
        acceleration,
        flutes,
        flute_length: Length::of(depth + 0.5),
        speeds,
        spin_up,
        chip_load,
        plunge_feed,
        depth_per_pass,
        clear_beside: Length::of(0.0),
        diameter,
        run_out,
        wall_allowance,
        safe_height,
        zero: [0.0; 2].map(Length::of),
        widest_bundle,
        clamp_height,
        controller,
    };
    let beside = profile.least_run_out() + profile.diameter.mm + 0.02;
    let room = [
        longest[0].max(longest[1]) + 7.25,
        2.0 * beside + profile.widest_bundle.mm,
        depth + profile.safe_height.mm + 0.001,
    ];
    profile.clear_beside = Length::of(beside);
    profile.zero = [7.25, beside].map(Length::of);
    profile.travel = room.map(Length::of);
    (job, profile)
}

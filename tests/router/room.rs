//! What stands in the room of a router's tool: clamps, the key, the holder; and what sheets say of
//! the tool.

use crate::support::cli::{Bench, JOB, shipped};
use crate::support::routers::{all_prove, plan, prove, router, task};
use crate::support::slanted;
use crate::support::slanted::Strips;
use float_cmp::approx_eq;
use lapwright::instructions::router::Registered;
use lapwright::lattice::{Face, Lattice};
use lapwright::machines::Router;
use lapwright::planning::plan_router;

/// Eight notches 40 mm apart, the first at 20.
fn lattice() -> Lattice {
    let strips = Strips {
        count: 5,
        thickness: 3.0,
        depth: 12.0,
        length: 320.0,
    };
    let notches: Vec<_> = (0..8)
        .map(|at| (20.0 + 40.0 * f64::from(at), 90.0, Face::Front))
        .collect();
    slanted::lattice(strips, &notches)
}

fn clamp(x: [f64; 2], y: [f64; 2], top: f64) -> String {
    format!(
        "[[fixture.clamps]]\nname = \"the post\"\nx_from = \"{} mm\"\nx_to = \"{} mm\"\ny_from = \"{} mm\"\ny_to = \"{} mm\"\ntop = \"{top} mm\"\n",
        x[0], x[1], y[0], y[1]
    )
}

/// A long router with a key at 20 mm from program zero, and a clamp.
fn with(clamp: &str, tool: &str) -> Router {
    let controller = format!("{clamp}[controller]");
    let tool = format!("holder_diameter = {tool}");
    router(&[
        ("x = \"280 mm\"", "x = \"420 mm\""),
        ("z = \"50 mm\"", "z = \"90 mm\""),
        (
            "[fixture]",
            "[fixture]\nkey_x = \"35 mm\"\nkey_error = \"0.01 mm\"",
        ),
        ("[controller]", &controller),
        ("holder_diameter = \"16 mm\"", &tool),
    ])
}

const NUT: &str = "\"16 mm\"";

fn refused(router: &Router) -> Vec<&'static str> {
    let faults = plan_router(&lattice(), "router", router, &|at, _| format!("{at}")).unwrap_err();
    faults.iter().map(|fault| fault.code).collect()
}

#[test]
fn a_notch_that_a_clamp_hides_is_cut_in_another_set_up() {
    let free = all_prove(&lattice(), &with("", NUT));
    assert_eq!(free.setups.len(), 1);
    // Over notch 5, at 180, and beside it.
    let post = clamp([175.0, 188.0], [-30.0, 40.0], 2.0);
    let plan = all_prove(&lattice(), &with(&post, NUT));
    let cut: Vec<Vec<usize>> = plan
        .setups
        .iter()
        .map(|setup| setup.notches.iter().map(|notch| notch.index).collect())
        .collect();
    // Four in front of it. With notch 4 on the key, at 20, notches 5 to 7 lie at 60 to 140 and
    // notch 8 under the clamp; with notch 2 on the key notch 5 lies at 140 and 6 under it. So once
    // more.
    assert_eq!(cut, [vec![1, 2, 3, 4], vec![5, 6, 7], vec![8]]);
    // What a caliper finds from the notch that lay on the key, whatever lies where on the machine.
    let notches = &lattice().bundles[0].notches;
    for setup in &plan.setups[1..] {
        let Registered::Key {
            on_notch,
            near_edge_mm,
            ..
        } = setup.registered
        else {
            panic!()
        };
        let key = &notches[on_notch - 1];
        for figures in &setup.notches {
            let notch = &notches[figures.index - 1];
            let wanted = notch.centre - notch.width / 2.0 - (key.centre - key.width / 2.0);
            assert!(approx_eq!(
                f64,
                figures.near_edge_mm - near_edge_mm,
                wanted,
                epsilon = 1e-9
            ));
        }
    }
    // Without a key there is no other place for it.
    let mut fixed = with(&post, NUT);
    fixed.fixture.key = None;
    assert_eq!(refused(&fixed), ["clamp-in-the-way"]);
    // A way for the tool of its width and half a millimetre: 180 less 1.5 less 0.5.
    let near = |end: f64| with(&clamp([165.0, end], [-30.0, 40.0], 2.0), NUT);
    assert_eq!(all_prove(&lattice(), &near(177.9)).setups.len(), 1);
    assert!(all_prove(&lattice(), &near(178.1)).setups.len() > 1);
}

#[test]
fn a_clamp_where_the_key_lies_is_refused() {
    let hides = clamp([175.0, 188.0], [-30.0, 40.0], 2.0);
    let far_back = |x: [f64; 2]| hides.clone() + &clamp(x, [60.0, 90.0], 2.0);
    assert_eq!(
        refused(&with(&far_back([10.0, 18.6]), NUT)),
        ["clamp-on-key"]
    );
    assert_eq!(
        refused(&with(&far_back([21.4, 30.0]), NUT)),
        ["clamp-on-key"]
    );
    for beside in [[10.0, 18.4], [21.6, 30.0]] {
        assert_eq!(
            all_prove(&lattice(), &with(&far_back(beside), NUT))
                .setups
                .len(),
            3
        );
    }
    // With all notches in one set-up no key is used.
    let only = clamp([10.0, 30.0], [60.0, 90.0], 2.0);
    assert_eq!(all_prove(&lattice(), &with(&only, NUT)).setups.len(), 1);
}

#[test]
fn the_holder_keeps_clear_of_clamps_and_the_proof_knows_it() {
    // 18 out, 6 deep: the nut comes down to 12. A post 14 high between two notches.
    let post = |y: f64| clamp([198.0, 202.0], [y, y + 10.0], 14.0);
    let between = post(20.0);
    // The tool alone passes, 20 from both notches; the nut of 8 too.
    assert_eq!(all_prove(&lattice(), &with(&between, NUT)).setups.len(), 1);
    let wide = with(&between, "\"40 mm\"");
    // Nothing of it is said where the holder is not known.
    let mut unknown = wide.clone();
    unknown.tool.holder_diameter = None;
    let (careless, warnings) =
        plan_router(&lattice(), "router", &unknown, &|at, _| format!("{at}")).unwrap();
    assert!(
        warnings
            .iter()
            .any(|warning| warning.code == "holder-unknown")
    );
    // Nor where it is not known how far the tool stands out: its edges alone do.
    let mut nothing = unknown.clone();
    nothing.tool.stick_out = None;
    let (_, warnings) =
        plan_router(&lattice(), "router", &nothing, &|at, _| format!("{at}")).unwrap();
    assert!(
        warnings
            .iter()
            .any(|warning| warning.code == "holder-unknown")
    );
    let setup = &careless.setups[0];
    let blamed = prove(&task(&lattice(), &wide, setup), setup, &wide);
    assert!(blamed.faults.iter().all(|fault| fault.code == "keep-out"));
    assert!(!blamed.ok());
    // 3 mm lower the same post is under the nut.
    let low = with(&clamp([198.0, 202.0], [20.0, 30.0], 11.0), "\"40 mm\"");
    let plan = plan(&lattice(), &low);
    let setup = &plan.setups[0];
    assert!(prove(&task(&lattice(), &low, setup), setup, &low).ok());
    // Known, it makes the planner go round.
    assert!(all_prove(&lattice(), &wide).setups.len() > 1);
}

#[test]
fn keys_that_add_up_to_more_than_the_clearance_are_warned_of() {
    let hides = clamp([175.0, 188.0], [-30.0, 40.0], 2.0);
    for (error, warned) in [(0.05, false), (0.06, true)] {
        let mut router = with(&hides, NUT);
        router.fixture.key.as_mut().unwrap().error = error;
        let (plan, warnings) =
            plan_router(&lattice(), "router", &router, &|at, _| format!("{at}")).unwrap();
        assert_eq!(plan.setups.len(), 3);
        let found = warnings
            .iter()
            .any(|warning| warning.code == "key-error-adds-up");
        // One key between; the laps have 0.05 of clearance.
        assert_eq!(found, warned, "{error}");
    }
}

#[test]
fn sheets_name_the_tool_that_a_caliper_finds() {
    let bench = Bench::new();
    bench.write("job.toml", JOB);
    let measured =
        "[measured]\nnotch_programmed = \"3.00 mm\"\nnotch_measured = \"3.06 mm\"\n[controller]";
    let text = shipped("small-router").replace("[controller]", measured);
    bench.write("own.toml", text);
    let told = bench
        .ok(&["notch", "job.toml", "--machine", "own.toml", "-o", "a.nc"])
        .out;
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains(
        "tool 2.00 mm diameter over the edges, measured; it cuts 2.06 mm wide, by the test notch"
    ));
    assert!(
        told.contains("Fit the tool of 2.00 mm, 18.00 mm from the holder to its end;"),
        "{told}"
    );
    let program = bench.read("a-1.nc");
    assert!(
        program.contains("diameter 2.00 mm that cuts 2.06 mm wide"),
        "{program}"
    );
    // A controller without work zeros is not told of one.
    let bare = shipped("small-router").replace("[controller]", "[controller]\ndialect = \"bare\"");
    bench.write("bare.toml", bare);
    let told = bench
        .ok(&["notch", "job.toml", "--machine", "bare.toml", "-o", "b.nc"])
        .out;
    assert!(
        !told.contains("G54") && told.contains("Set zero: X"),
        "{told}"
    );
}

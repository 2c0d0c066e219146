//! How wide notches come out and how far a lap turns, by turning it: plane polygons that must not
//! overlap, apart from the program's own arithmetic.

use super::by_hand::{planned, shipped};
use float_cmp::approx_eq;
use lapwright::instructions::sled::SledPlan;

type Ring = [[f64; 2]; 4];

/// Whether two convex rings have no inner point in common: some edge's normal parts them.
fn apart(a: &Ring, b: &Ring) -> bool {
    let edges = |ring: &Ring| {
        let ring = *ring;
        (0..4).map(move |at| {
            let ([x0, y0], [x1, y1]) = (ring[at], ring[(at + 1) % 4]);
            [y1 - y0, x0 - x1]
        })
    };
    edges(a).chain(edges(b)).any(|[nx, ny]| {
        let reach = |ring: &Ring| {
            let at = ring.map(|[x, y]| (nx * x + ny * y) / nx.hypot(ny));
            let low = at.iter().copied().fold(f64::INFINITY, f64::min);
            (low, at.iter().copied().fold(f64::NEG_INFINITY, f64::max))
        };
        let ((a_low, a_high), (b_low, b_high)) = (reach(a), reach(b));
        a_high <= b_low + 1e-10 || b_high <= a_low + 1e-10
    })
}

/// A strip along x, `t` thick, with a slot `w` wide square to its walls through it at `angle`: what
/// stays of it on both sides.
fn slotted(t: f64, w: f64, angle: f64) -> [Ring; 2] {
    let wall = |y: f64, side: f64| y / angle.tan() + side * w / 2.0 / angle.sin();
    [-1.0, 1.0].map(|side| {
        let far = side * 60.0;
        let (low, high) = (-t / 2.0, t / 2.0);
        [
            [far, low],
            [wall(low, side), low],
            [wall(high, side), high],
            [far, high],
        ]
    })
}

/// A strip that lies at an angle, moved square to itself.
fn mate(t: f64, angle: f64, aside: f64) -> Ring {
    let (sin, cos) = angle.sin_cos();
    [(-60.0, -1.0), (60.0, -1.0), (60.0, 1.0), (-60.0, 1.0)].map(|(along, side)| {
        let across = side * t / 2.0 + aside;
        [along * cos - across * sin, along * sin + across * cos]
    })
}

/// How far the mate can be turned in the slot, one way (1) or the other (-1), wherever it is moved.
fn turned(t: f64, w: f64, angle: f64, way: f64) -> f64 {
    let slotted = slotted(t, w, angle);
    let free = |turn: f64| {
        (-50..=50).any(|step| {
            let aside = f64::from(step) / 50.0 * (w - t);
            let mate = mate(t, angle + way * turn, aside);
            slotted.iter().all(|side| apart(side, &mate))
        })
    };
    let (mut low, mut high) = (0.0, 1.0);
    assert!(free(low) && !free(high), "{t} {w} {angle}");
    while high - low > 1e-10 {
        let middle = f64::midpoint(low, high);
        if free(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

fn diamond(angle: f64, thickness: f64) -> String {
    format!(
        "title = \"Loose\"\n[grid]\nkind = \"diamond\"\npitch = \"40 mm\"\nangle = \"{angle} deg\"\n\
         region = \"rectangle\"\ncolumns = 4\nrows = 4\noverhang = \"15 mm\"\n[strip]\n\
         thickness = \"{thickness} mm\"\ndepth = \"12 mm\"\n"
    )
}

fn square(thickness: f64) -> String {
    format!(
        "title = \"Loose\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\ncolumns = 4\nrows = 4\n\
         overhang = \"15 mm\"\n[strip]\nthickness = \"{thickness} mm\"\ndepth = \"12 mm\"\n"
    )
}

/// On the stop sled with another kerf.
fn with_kerf(job: &str, kerf: f64) -> SledPlan {
    let kerf = format!("\"{kerf} mm\" ");
    planned(job, &shipped("stop-sled", &[("\"3.2 mm\"", &kerf)]))
}

#[test]
fn a_lap_racks_as_far_as_it_can_be_turned() {
    for (t, w) in [(2.3, 2.83), (2.8, 3.2), (3.0, 3.05), (3.0, 4.0)] {
        let plan = with_kerf(&square(t), w);
        for way in [1.0, -1.0] {
            let turned = turned(t, w, std::f64::consts::FRAC_PI_2, way);
            assert!(
                approx_eq!(f64, plan.fit.racking, turned, epsilon = 1e-8),
                "{t} {w}: {turned}"
            );
        }
    }
    for (t, w, degrees) in [
        (3.0, 3.3, 60.0),
        (2.3, 2.83, 60.0),
        (3.0, 3.05, 75.0),
        (3.0, 3.4, 35.0),
    ] {
        let plan = with_kerf(&diamond(degrees, t), w);
        let angle = f64::to_radians(degrees);
        let (opened, closed) = (turned(t, w, angle, 1.0), turned(t, w, angle, -1.0));
        assert!(
            approx_eq!(f64, plan.fit.racking, opened, epsilon = 1e-8),
            "{degrees}: {opened}"
        );
        assert!(closed < opened);
        // The mate's slot, in which the slotted strip turns the other way.
        let other = turned(t, w, std::f64::consts::PI - angle, -1.0);
        assert!(approx_eq!(f64, other, opened, epsilon = 1e-8));
    }
}

/// `w / t = (1 + sin a) / cos a` by hand: 2 atan(2.83 / 2.3) - 90 = 11.79704 degrees; 0.01 mm more
/// of a slot changes that by 0.2, so the hundredth would be a false digit.
#[test]
fn racking_is_told_with_the_digits_that_the_figures_bear() {
    let plan = with_kerf(&square(2.3), 2.83);
    assert!(approx_eq!(
        f64,
        plan.fit.racking.to_degrees(),
        11.797_04,
        epsilon = 5e-6
    ));
    assert!(approx_eq!(
        f64,
        plan.fit.racking_within.to_degrees(),
        0.198,
        epsilon = 1e-3
    ));
    let words = super::by_hand::words(&plan, true);
    assert!(
        words.contains("0.53 mm wider than the strips: the bare grid can rack by 11.8 deg."),
        "{words}"
    );
    let words = super::by_hand::words(&with_kerf(&diamond(60.0, 3.0), 3.3), true);
    assert!(
        words.contains("the bare grid's acute angles can open by 9.4 deg and close by less"),
        "{words}"
    );
}

#[test]
fn notches_are_as_wide_as_the_blade_makes_them() {
    // One pass of 2.83 in 2.3 mm strips; at 60 degrees it opens 2.83 / sin 60 = 3.267802 along them.
    let near = |found: f64, wanted: f64| {
        assert!(approx_eq!(f64, found, wanted, epsilon = 1e-6), "{found}");
    };
    let plan = with_kerf(&square(2.3), 2.83);
    for notch in plan.bundles.iter().flat_map(|bundle| &bundle.notches) {
        near(notch.width_mm, 2.83);
        near(notch.near_edge_mm, notch.centre_mm - 1.415);
        near(notch.far_edge_mm, notch.centre_mm + 1.415);
        near(notch.drawn_width_mm.unwrap(), 2.3);
    }
    let words = super::by_hand::words(&plan, true);
    for said in [
        "each 2.83 mm wide along the strip as cut (drawn 2.30 mm), 6.00 mm deep",
        "1 15.00 13.59 16.42", // 15 - 1.415 and 15 + 1.415
        "Edges as cut: each lies 0.27 mm farther from the centre than drawn",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
    let slanted = with_kerf(&diamond(60.0, 2.3), 2.83);
    let notch = &slanted.bundles[0].notches[0];
    near(notch.width_mm, 3.267_802);
    near(notch.drawn_width_mm.unwrap(), 2.655_811); // 2.3 / sin 60
    near(notch.near_edge_mm, notch.centre_mm - 3.267_802_524 / 2.0);
    // Two passes of a narrower kerf, or one that is just as wide, make what is drawn.
    for kerf in [2.2, 3.0] {
        let plan = with_kerf(&square(3.0), kerf);
        let notch = &plan.bundles[0].notches[0];
        near(notch.width_mm, 3.0);
        assert_eq!(notch.drawn_width_mm, None);
        assert!(!super::by_hand::words(&plan, true).contains("as cut"));
    }
}

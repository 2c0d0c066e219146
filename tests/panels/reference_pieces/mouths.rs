//! Birds' mouths in cells of every shape, and trimmed at a panel's edge.

use super::slanted::{REGIONS, slanted_job, slanted_panel, slanted_panels};
use super::*;

fn held() -> Pattern {
    let all = patterns(CellShape::Square).into_iter();
    let mut held = all.filter(|pattern| pattern.name == "held-square");
    held.next().unwrap()
}

#[test]
fn mouths_fit_their_corners_in_squares_and_rectangles() {
    let pattern = held();
    let mut panels = Vec::new();
    for percent in 1..=25 {
        let t = SIDE * f64::from(percent) / 100.0;
        for high in [SIDE, 0.8 * SIDE] {
            // The lower cell's square has no inside left where its bars are as thick as that.
            let cell = Cell::rectangle(SIDE - t, high - t).unwrap();
            let solved = solved(&pattern, &cell, t);
            assert!(
                solved.is_some() || (high < SIDE && percent > 22),
                "{t} {high}"
            );
            panels.extend(solved.map(|solved| single_cell(&pattern, &solved, t)));
        }
    }
    for t in [0.5, 2.8, 6.0] {
        panels.push(square_panel(&pattern, &[SIDE; 2], &[SIDE; 2], t));
    }
    assert!(panels.len() > 45, "{}", panels.len());
    check(&panels);
}

#[test]
fn mouths_in_rhombs_are_trimmed_at_the_edge() {
    let pattern = held();
    let mut panels = Vec::new();
    let mut cut = 0;
    // In corners this sharp a mouth is deeper than two thicknesses: an edge may leave both its points, which
    // nothing joins.
    let sharp = REGIONS.iter().flat_map(|region| {
        [20.0, 25.0].map(|angle| {
            let grid =
                format!("kind = \"diamond\"\npitch = \"18 mm\"\nangle = \"{angle} deg\"\n{region}");
            ("sharp rhombs", slanted_job(&grid, 1.0))
        })
    });
    for (name, panel) in slanted_panels().into_iter().chain(sharp) {
        if matches!(panel.design().grid, Grid::Triangular(_)) {
            continue;
        }
        let Some(described) = slanted_panel(&pattern, &panel, name) else {
            continue;
        };
        cut += described["cut_cells"].as_array().unwrap().len();
        panels.push(described);
    }
    assert!(panels.len() > 20 && cut > 200, "{} {cut}", panels.len());
    check(&panels);
}

/// The check itself: an apex that is off and a mouth of another angle must be refused.
#[test]
fn changed_mouths_are_refused() {
    let pattern = held();
    let panel = square_panel(&pattern, &[SIDE], &[SIDE], 2.8);
    check(std::slice::from_ref(&panel));
    let pieces = panel["cells"][0]["pieces"].as_array().unwrap();
    let lock = pieces
        .iter()
        .position(|piece| piece["name"] == "lock")
        .unwrap();
    let outline = pieces[lock]["outline"].as_array().unwrap().clone();
    let at = |i: usize| {
        let p = &outline[i % outline.len()];
        Point::new(p[0].as_f64().unwrap(), p[1].as_f64().unwrap())
    };
    let turns_right = |i: &usize| {
        let before = at(i + outline.len() - 1).to(at(*i));
        before.cross(at(*i).to(at(i + 1))) < 0.0
    };
    let apex = (0..outline.len()).find(turns_right).unwrap();
    // The lock runs up to the right: an apex short of the corner leaves a gap, one beyond it overlaps.
    for (change, reason) in [(-0.01, "touches nothing"), (0.01, "overlaps")] {
        let mut changed = panel.clone();
        let p = &mut changed["cells"][0]["pieces"][lock]["outline"][apex];
        *p = json!([at(apex).x + change, at(apex).y + change]);
        let refusal = check_pieces(&json!({ "panels": [changed] })).expect_err(reason);
        assert!(refusal.contains(reason), "{reason}: {refusal}");
    }
    // One point longer: that facet leaves the bar's side.
    let mut changed = panel.clone();
    let tip = (apex + 1) % outline.len();
    let p = &mut changed["cells"][0]["pieces"][lock]["outline"][tip];
    *p = json!([at(tip).x - 0.01, at(tip).y - 0.01]);
    let refusal = check_pieces(&json!({ "panels": [changed] })).expect_err("another angle");
    assert!(refusal.contains("touches nothing"), "{refusal}");
}

use super::*;
use crate::lattice::{StripSection, TenonWish};
use crate::units::UnitSystem;
use std::f64::consts::{FRAC_PI_4, PI};

/// The angles of a right triangle with sides 3, 4 and 5.
const SMALLER: f64 = 0.643_501_108_793_284_4;
const LARGER: f64 = FRAC_PI_2 - SMALLER;

/// Inner faces 6 outside the region; mortises 8 deep, into which strips come 7.5.
fn frame() -> Frame {
    Frame {
        margins: Margins::even(6.0),
        thickness: 24.0,
        setback: 6.0,
        by_strips: ByStrips {
            margins: false,
            setback: false,
        },
        mortise_depth: 8.0,
        clearance: 0.4,
        end_gap: 0.5,
        widths: Some(MemberWidths::Same(30.0)),
        joint: CornerJoint::Mitre,
        recess: None,
        wood: None,
        density: None,
    }
}

fn id(number: usize) -> StripId {
    StripId { family: 0, number }
}

/// From a point at `from` along a direction to `to` along it, mm from that point.
fn strip(number: usize, through: (f64, f64), along: (f64, f64), [from, to]: [f64; 2]) -> Strip {
    let through = Point::new(through.0, through.1);
    let along = Vector::new(along.0, along.1);
    Strip {
        id: id(number),
        start: through + along * from,
        end: through + along * to,
        length: to - from,
        place: 0,
        notches: Vec::new(),
    }
}

/// Strips 3 thick and 12 deep over a region 100 wide and 60 high: inner faces at x = -6 and 106,
/// y = -6 and 66.
fn lattice(strips: Vec<Strip>) -> Lattice {
    let region = [(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)];
    Lattice {
        title: String::new(),
        families: &[],
        section: StripSection::sample(3.0),
        region: region.map(|(x, y)| Point::new(x, y)).to_vec(),
        overhang: 18.0,
        crossings: Vec::new(),
        left_out: 0,
        tangled: false,
        centres_as_drawn: true,
        strips_are_cut: false,
        bundles: Vec::new(),
        assembly: Vec::new(),
        strips,
    }
}

fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
}

fn all_near<const N: usize>(found: [f64; N], wanted: [f64; N]) {
    for (found, wanted) in found.into_iter().zip(wanted) {
        near(found, wanted);
    }
}

/// Rises 3 on 4, through the left inner face at y = 9 and the upper one at x = 70.
fn rising() -> Strip {
    strip(1, (-6.0, 9.0), (0.8, 0.6), [-15.0, 115.0])
}

/// Falls 3 on 4 from the upper inner face at `x` to the right one.
fn falling(x: f64) -> Strip {
    strip(
        2,
        (x, 66.0),
        (0.8, -0.6),
        [-20.0, 1.25 * (106.0 - x) + 20.0],
    )
}

#[test]
fn slanted_strips_are_let_in_square_to_the_rail() {
    let made = frame().rails(&lattice(vec![rising()])).unwrap();
    let [below, right, above, left] = &made.rails[..] else {
        panic!("four rails");
    };
    assert!(below.mortises.is_empty() && right.mortises.is_empty());
    for rail in [below, above] {
        near(rail.length(), 112.0);
    }
    near(left.length(), 72.0);
    // As seen along the left rail the strip in its mortise is 3.4 / 0.8 wide, half of that 2.125;
    // on its 8 into the rail it goes 8 * 3 / 4 down. It enters 15 from the rail's lower end.
    let [mortise] = &left.mortises[..] else {
        panic!("one mortise");
    };
    all_near(mortise.edges, [15.0 - 2.125 - 6.0, 15.0 + 2.125]);
    near(mortise.angle, LARGER);
    // Along the upper one 3.4 / 0.6 wide; on its way in it goes 8 * 4 / 3 to the right.
    let [mortise] = &above.mortises[..] else {
        panic!("one mortise");
    };
    let half = 1.7 / 0.6;
    all_near(mortise.edges, [76.0 - half, 76.0 + half + 32.0 / 3.0]);
    near(mortise.angle, SMALLER);
    // Along the strip 7.5 into the wood are 7.5 / 0.8 and 7.5 / 0.6: 15 and 20 stand beyond the
    // inner faces, of 130 in all.
    let [trimmed] = &made.trimmed[..] else {
        panic!("one strip");
    };
    all_near(trimmed.at, [15.0 - 9.375, 130.0 - 20.0 + 12.5]);
    all_near(trimmed.angles, [LARGER, SMALLER]);
    assert_eq!(trimmed.datum_end, PanelEnd::Left);
    assert_eq!(trimmed.corners, [Vec::<usize>::new(), Vec::new()]);
}

#[test]
fn a_rail_has_a_datum_end_and_one_where_the_way_round_arrives() {
    let made = frame().rails(&lattice(vec![rising()])).unwrap();
    let ends: Vec<_> = (made.rails.iter())
        .map(|rail| (rail.datum_end(), rail.round_end(), rail.outward))
        .collect();
    let out = Vector::new;
    assert_eq!(
        ends,
        [
            (PanelEnd::Left, PanelEnd::Right, out(0.0, -1.0)),
            (PanelEnd::Lower, PanelEnd::Upper, out(1.0, 0.0)),
            (PanelEnd::Left, PanelEnd::Left, out(0.0, 1.0)),
            (PanelEnd::Lower, PanelEnd::Lower, out(-1.0, 0.0)),
        ]
    );
}

#[test]
fn a_strip_at_a_corner_is_cut_flush_along_both_rails() {
    // Through the lower inner face at x = 8, 14 from the rail's end: the mortise would begin
    // 14 - 2.833 - 10.667 from there, where 2 must stay. Through the upper one at x = 104: a tip of
    // the slanted cut, 1.5 / 0.6 to the right, is beyond the right rail's face.
    let made = frame()
        .rails(&lattice(vec![strip(
            3,
            (8.0, -6.0),
            (0.8, 0.6),
            [-20.0, 150.0],
        )]))
        .unwrap();
    let flush: Vec<_> = made.rails.iter().map(|rail| rail.flush.clone()).collect();
    assert_eq!(flush, [vec![id(3)], vec![], vec![id(3)], vec![]]);
    assert!(made.rails.iter().all(|rail| rail.mortises.is_empty()));
    all_near(made.trimmed[0].at, [20.0, 140.0]);
    all_near(made.trimmed[0].angles, [SMALLER; 2]);
    assert_eq!(made.trimmed[0].corners, [vec![], vec![1]]);
    // One farther left at both: its tips at the lower rail are beyond the left one's face instead.
    let left = strip(3, (-4.0, -6.0), (0.8, 0.6), [-20.0, 150.0]);
    let made = frame().rails(&lattice(vec![left])).unwrap();
    assert_eq!(made.trimmed[0].corners, [vec![3], vec![]]);
    // Neither: 2.5 to either side reach from 0.1 beside the left face to 0.1 beside the right one.
    for x in [-3.4, 7.4] {
        let clear = strip(3, (x, -6.0), (0.8, 0.6), [-20.0, 150.0]);
        let made = frame().rails(&lattice(vec![clear])).unwrap();
        let none = made.trimmed[0].corners.iter().all(Vec::is_empty);
        assert!(none, "{x}: {made:?}");
    }
}

#[test]
fn a_mortise_keeps_the_least_web_from_the_rails_ends() {
    // Square to the lower rail, 3.4 wide: flush within 2 of the rail's ends.
    let flush = |x: f64| {
        let upright = strip(1, (x, -6.0), (0.0, 1.0), [-20.0, 92.0]);
        let made = frame().rails(&lattice(vec![upright])).unwrap();
        assert_eq!(made.rails[0].mortises.len() + made.rails[0].flush.len(), 1);
        made.rails[0].mortises.is_empty()
    };
    assert!(flush(-6.0 + 3.69) && !flush(-6.0 + 3.71));
    assert!(flush(106.0 - 3.69) && !flush(106.0 - 3.71));
}

#[test]
fn mortises_with_little_wood_between_them_are_one() {
    // The rising strip's reaches to 76 + 1.7 / 0.6 + 32 / 3 = 89.5 along the upper rail. The falling
    // one's reaches as far to the left of where it enters, from the rail's start at x = -6.
    let upper = |between: f64| {
        let x = 89.5 + between + 13.5 - 6.0;
        let made = frame().rails(&lattice(vec![falling(x), rising()])).unwrap();
        let at = made.trimmed[0].at;
        // 20 before the upper face less 12.5 into it; 20 beyond the right one less 9.375.
        all_near(at, [7.5, 40.0 + 1.25 * (106.0 - x) - 10.625]);
        made.rails[2].mortises.clone()
    };
    let [one] = &upper(1.9)[..] else {
        panic!("one mortise");
    };
    assert_eq!(one.strips, [id(1), id(2)]);
    all_near(one.edges, [76.0 - 1.7 / 0.6, 89.5 + 1.9 + 13.5 + 1.7 / 0.6]);
    near(one.angle, SMALLER);
    let [first, second] = &upper(2.1)[..] else {
        panic!("two mortises");
    };
    near(first.edges[1], 89.5);
    near(second.edges[0], 91.6);
}

#[test]
fn a_mitre_under_the_inner_edge_keeps_mortises_away() {
    // A member 20 wide whose outer corner lies 20 behind the inner one: 8 deep the mitre is 8 in.
    let member = |mitres: [f64; 2]| Member {
        width: 20.0,
        inner_length: 100.0,
        corners: [0.75 * PI; 2],
        mitres,
    };
    let clear = |mitres: [f64; 2]| frame().clear_of_corners(2.0, Some(&member(mitres)));
    all_near(clear([3.0 * FRAC_PI_4, FRAC_PI_2]), [10.0, 2.0]);
    all_near(clear([FRAC_PI_4, 3.0 * FRAC_PI_4]), [2.0, 10.0]);
    all_near(frame().clear_of_corners(2.0, None), [2.0; 2]);
}

/// What is wrong: code, field, sentence and advice.
fn told(frame: &Frame, strips: Vec<Strip>) -> Vec<[String; 4]> {
    let text = |phrase: &phrase::Phrase| phrase.text(UnitSystem::Millimetres);
    let told = |fault: &Finding| {
        let hint = fault.hint.as_ref().map(text).unwrap_or_default();
        [
            fault.code.into(),
            fault.field.clone(),
            text(&fault.message),
            hint,
        ]
    };
    let found = frame.rails(&lattice(strips)).err().unwrap_or_default();
    found.iter().map(told).collect()
}

#[test]
fn strips_must_reach_into_their_mortises() {
    // 12.5 along the strip are needed at the upper rail, 9.375 at the left one.
    let rising = |below: f64, above: f64| strip(1, (-6.0, 9.0), (0.8, 0.6), [-below, 95.0 + above]);
    assert!(told(&frame(), vec![rising(9.375, 12.5)]).is_empty());
    assert_eq!(
        told(&frame(), vec![rising(9.0, 11.5)]),
        [[
            "overhang-too-short",
            "grid.overhang",
            "with an overhang of 18.00 mm strips do not come 7.50 mm into the mortises",
            "make the overhang 19.00 mm or more"
        ]]
    );
    let found = told(&frame(), vec![rising(9.0, 12.5)]);
    assert_eq!(found[0][3], "make the overhang 18.38 mm or more");
}

#[test]
fn wood_stays_behind_mortises() {
    let with = |widths: MemberWidths| Frame {
        widths: Some(widths),
        ..frame()
    };
    assert!(told(&with(MemberWidths::Same(10.0)), vec![]).is_empty());
    let narrow = [
        "rail-too-narrow",
        "frame.width",
        "a member this narrow keeps 1.90 mm behind mortises 8.00 mm deep",
        "make it 10.00 mm or more: at least 2.00 mm must stay behind them",
    ];
    assert_eq!(told(&with(MemberWidths::Same(9.9)), vec![]), [narrow]);
    let found = told(
        &with(MemberWidths::Each(vec![30.0, 9.9, 30.0, 5.0])),
        vec![],
    );
    let fields: Vec<&str> = found.iter().map(|[_, field, ..]| &**field).collect();
    assert_eq!(fields, ["frame.widths[1]", "frame.widths[3]"]);
    assert!(found[1][2].contains("keeps 0.00 mm behind"), "{found:?}");
}

#[test]
fn only_mitred_members_have_mitres() {
    let members = |joint: CornerJoint, widths: Option<MemberWidths>| {
        let frame = Frame {
            joint,
            widths,
            ..frame()
        };
        let made = frame.rails(&lattice(vec![rising()])).unwrap();
        let members = made.rails.into_iter().map(|rail| rail.member);
        members.collect::<Vec<_>>()
    };
    let widths = || Some(MemberWidths::Each(vec![30.0, 20.0, 25.0, 15.0]));
    let square = CornerJoint::Tenon(TenonWish::default());
    assert_eq!(members(square, widths()), [None, None, None, None]);
    assert_eq!(members(CornerJoint::Mitre, None), [None, None, None, None]);
    // From each rail's start, its left or lower end: between the face and the length, the tangent is
    // the own width by the neighbour's.
    let found = members(CornerJoint::Mitre, widths());
    let tangents = found.iter().map(|member| {
        let member = member.as_ref().unwrap();
        member.mitres.map(f64::tan)
    });
    let wanted = [
        [30.0 / 15.0, 30.0 / 20.0],
        [20.0 / 30.0, 20.0 / 25.0],
        [25.0 / 15.0, 25.0 / 20.0],
        [15.0 / 30.0, 15.0 / 25.0],
    ];
    for (found, wanted) in tangents.zip(wanted) {
        all_near(found, wanted);
    }
}

#[test]
fn measures_that_leave_no_frame_are_refused() {
    let along_the_edge = || vec![strip(1, (0.0, 0.0), (1.0, 0.0), [-20.0, 120.0])];
    let upright = || vec![strip(1, (50.0, 0.0), (0.0, 1.0), [-20.0, 80.0])];
    let codes = |frame: Frame, strips: Vec<Strip>| -> Vec<String> {
        let found = told(&frame, strips);
        found.into_iter().map(|[code, ..]| code).collect()
    };
    let with = |change: &dyn Fn(&mut Frame)| {
        let mut frame = frame();
        change(&mut frame);
        frame
    };
    // Half a strip stands beyond an edge that it lies along.
    let margin = |margin: f64| with(&|frame| frame.margins = Margins::even(margin));
    assert!(codes(margin(1.5), along_the_edge()).is_empty());
    assert_eq!(codes(margin(1.4), along_the_edge()), ["rail-in-strip"]);
    assert!(codes(margin(0.0), upright()).is_empty());
    // An end that stops where its mortise begins is not in it.
    let gap = |gap: f64| with(&|frame| frame.end_gap = gap);
    assert!(codes(gap(7.9), upright()).is_empty());
    assert_eq!(codes(gap(8.0), upright()), ["out-of-range"]);
    let flat = with(&|frame| (frame.mortise_depth, frame.end_gap) = (0.0, 0.0));
    assert_eq!(codes(flat, upright()), ["not-positive"]);
    // Mortises 12.4 high, 5.8 before and behind them at a setback of 6.
    let back = |setback: f64| with(&|frame| frame.setback = setback);
    for fits in [2.2, 6.0, 9.8] {
        assert!(codes(back(fits), upright()).is_empty(), "{fits}");
    }
    for (setback, stays) in [(1.2, "1.00"), (11.0, "0.80"), (0.1, "0.00")] {
        let [[code, field, text, hint]] = told(&back(setback), upright()).try_into().unwrap();
        assert_eq!((&*code, &*field), ("rail-too-thin", "frame.thickness"));
        let beside = format!("a rail 24.00 mm thick keeps {stays} mm beside a mortise");
        assert!(text.starts_with(&beside), "{text}");
        assert_eq!(hint, "at least 2.00 mm must stay before and behind it");
    }
}

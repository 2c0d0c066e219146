//! A frame's corners with mortise and tenon, and what is cut along its members, as part of the rails'
//! sheet.

use crate::geometry::SAME_POSITION_MM;
use crate::instructions::frame_joint::{
    RecessFigures, StileFigures, TenonFigures, TenonedRailFigures,
};
use crate::instructions::sheet::{Block, Figure, Section, Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// Lengths of the members, tenons, their mortises.
pub(super) fn tenon_sections(tenons: &TenonFigures) -> Vec<Section> {
    vec![Section {
        heading: "Members of the frame: mortise and tenon".into(),
        blocks: vec![
            Block::Figures(common(tenons)),
            Block::Table(rail_table(tenons)),
            Block::Table(stile_table(tenons)),
            Block::Remarks(remarks(tenons)),
            Block::Steps(steps(tenons)),
        ],
    }]
}

fn common(tenons: &TenonFigures) -> Vec<Figure> {
    let mut figures = vec![
        Figure::new("tenon, thickness", Mm(tenons.thickness_mm), "front to back"),
        Figure::new(
            "front cheek",
            Mm(tenons.from_front_mm),
            "members' front face to the tenon's front cheek and to its mortise's front wall",
        ),
        Figure::new("tenon, length", Mm(tenons.length_mm), "shoulder to end"),
        Figure::new(
            "its mortise, depth",
            Mm(tenons.mortise_depth_mm),
            "stile's inner face to the mortise's floor",
        ),
    ];
    if tenons.haunch_mm > 0.0 {
        figures.push(Figure::new(
            "haunch, length",
            Mm(tenons.haunch_mm),
            "shoulder to the haunch's end",
        ));
    }
    figures
}

fn rail_table(tenons: &TenonFigures) -> Table {
    let row = |rail: &TenonedRailFigures| {
        vec![
            TableCell::Text(rail.name.clone()),
            TableCell::Length(rail.width_mm),
            TableCell::Length(rail.cut_length_mm),
            TableCell::Length(rail.between_shoulders_mm),
            TableCell::Length(rail.between_back_shoulders_mm),
            TableCell::Length(rail.from_inner_edge_mm),
            TableCell::Length(rail.tenon_width_mm),
            TableCell::Length(rail.haunch_width_mm),
        ]
    };
    Table {
        caption: "Rails. Cut: end to end, over both tenons. Shoulders: between them, at the front and at the back. To tenon: rail's inner edge to the tenon's nearer edge. Tenon and haunch: their widths across the rail; the haunch goes on from the tenon to the rail's outer edge.".into(),
        columns: vec![
            "rail",
            "width",
            "cut",
            "shoulders",
            "at the back",
            "to tenon",
            "tenon",
            "haunch",
        ],
        rows: tenons.rails.iter().map(row).collect(),
    }
}

fn stile_table(tenons: &TenonFigures) -> Table {
    let row = |stile: &StileFigures| {
        let [low_near, low_far] = stile.lower_mortise_mm;
        let [up_near, up_far] = stile.upper_mortise_mm;
        vec![
            TableCell::Text(stile.name.clone()),
            TableCell::Length(stile.width_mm),
            TableCell::Length(stile.blank_mm),
            TableCell::Length(stile.cut_length_mm),
            TableCell::Length(low_near),
            TableCell::Length(low_far),
            TableCell::Length(up_near),
            TableCell::Length(up_far),
        ]
    };
    Table {
        caption: phrase!(
            "Stiles. Blank: {} longer at each end, a horn that is cut off when the joint is glued. Finished: end to end, the frame's height. Mortises for tenons: both edges, along the inner face from the stile's finished lower end.",
            Mm(tenons.horn_mm)
        ),
        columns: vec![
            "stile",
            "width",
            "blank",
            "finished",
            "lower from",
            "lower to",
            "upper from",
            "upper to",
        ],
        rows: tenons.stiles.iter().map(row).collect(),
    }
}

fn remarks(tenons: &TenonFigures) -> Vec<Phrase> {
    let mut words = Vec::new();
    for rail in &tenons.rails {
        let other = rail.tenon_width_read_otherwise_mm;
        if (rail.tenon_width_mm - other).abs() > SAME_POSITION_MM {
            words.push(phrase!(
                "Tenon of the {}: half of what the groove leaves of its width, {}. The old rule, half the width less the groove, may also be read as {}: it is not taken here.",
                &rail.name,
                Mm(rail.tenon_width_mm),
                Mm(other)
            ));
        }
    }
    if let Some(between) = tenons.least_between_mortises_mm {
        words.push(phrase!(
            "Between a tenon's mortise and the nearest strip's {} stay, along the stile.",
            Mm(between)
        ));
    }
    words
}

fn steps(tenons: &TenonFigures) -> Vec<Phrase> {
    let mut steps = vec![
        phrase!(
            "Cut the stiles to their blank lengths, the rails to their cut lengths, ends square; mark front face and inner edge on each."
        ),
        phrase!(
            "Lay both stiles beside each other, mark their finished ends and their mortises together; rails likewise with their shoulders."
        ),
        phrase!(
            "Cut the mortises first, then the tenons to fit them: they go in by hand, not by blows."
        ),
    ];
    if tenons.haunch_mm > 0.0 {
        steps.push(phrase!(
            "Cut the haunches to {} from the shoulder, and sockets for them from each mortise to the stile's end, a little deeper.",
            Mm(tenons.haunch_mm)
        ));
    }
    steps.push(phrase!("Put the frame together dry with the trimmed panel in it, measure both diagonals, then glue; saw the horns off when it is hard."));
    steps
}

/// The rebate or groove along the members.
pub(super) fn recess_section(recess: &RecessFigures) -> Section {
    let [near, far] = recess.from_front_mm;
    let mut figures = vec![
        Figure::new(
            "into the member",
            Mm(recess.into_member_mm),
            "inner face to its wall or floor",
        ),
        Figure::new("nearer wall", Mm(near), "members' front face to it"),
        Figure::new("farther wall", Mm(far), "members' front face to it"),
    ];
    if let Some([width, height]) = recess.clear_mm {
        let of = "from one to the opposite: what lies in it is smaller by its play";
        figures.push(Figure::new("clear width", Mm(width), of));
        figures.push(Figure::new("clear height", Mm(height), of));
    }
    Section {
        heading: format!("A {} along all inner edges", recess.kind),
        blocks: vec![
            Block::Figures(figures),
            Block::Remarks(vec![phrase!(
                "Cut it along the whole inner edge of every member, after the mortises for the strips and before the frame is put together."
            )]),
        ],
    }
}

//! What is told of a drawing of a frame's members.

use crate::instructions::frame_parts::{FramePart, FrameParts};
use crate::instructions::sheet::{Block, Figure, Section, SetupSheet, SheetPart, Table, TableCell};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::units::Mm;

/// The answer beside the drawing.
pub fn frame_parts_sheet(parts: &FrameParts) -> SetupSheet {
    let count = counted(parts.members.len(), "member");
    let blocks = vec![
        Block::Figures(figures(parts)),
        Block::Table(members(parts)),
        Block::Remarks(remarks(parts)),
    ];
    SetupSheet {
        part: SheetPart::Rails,
        title: format!("{} - members of the frame", parts.title),
        heading: format!("Frame: {count} as parts"),
        safety: parts.safety.clone(),
        sections: vec![Section {
            heading: format!("Drawing of {count}"),
            blocks,
        }],
    }
}

fn figures(parts: &FrameParts) -> Vec<Figure> {
    let mut figures = vec![Figure::new(
        "members, thickness",
        Mm(parts.thickness_mm),
        "front face to back face",
    )];
    let mut walls = |name: &str, [near, far]: [f64; 2], to: &str| {
        let measured = phrase!(
            "members' front face to {}; {} to {}",
            to,
            Mm(far),
            far_wall(to)
        );
        figures.push(Figure::new(name, Mm(near), measured));
    };
    walls(
        "strips' mortises",
        parts.mortises_from_front_mm,
        "their nearer wall",
    );
    if let Some(tenons) = parts.tenons_from_front_mm {
        walls("tenons", tenons, "their front cheek");
    }
    if let Some(recess) = parts.recess_from_front_mm {
        walls(parts.recess.unwrap_or_default(), recess, "its nearer wall");
    }
    figures
}

/// What lies opposite.
fn far_wall(near: &str) -> &'static str {
    match near {
        "their front cheek" => "their back one",
        _ => "the farther one",
    }
}

fn members(parts: &FrameParts) -> Table {
    let row = |part: &FramePart| {
        vec![
            TableCell::Text(part.name.clone()),
            TableCell::Length(part.length_mm),
            TableCell::Length(part.width_mm),
            TableCell::Count(part.count),
        ]
    };
    Table {
        caption: "Members from the lower side of the drawing up. Long: over all, over long points or tenons. Wide: inner edge to outer edge. Alike: how many of them are this same part, as they lie here.".into(),
        columns: vec!["member", "long", "wide", "alike"],
        rows: parts.members.iter().map(row).collect(),
    }
}

fn remarks(parts: &FrameParts) -> Vec<Phrase> {
    let files: Vec<&str> = parts.files.iter().map(|file| file.path.as_str()).collect();
    let mut remarks = vec![phrase!(
        "{}: finished members, true size, no kerf or cutter allowed for; each front face up, inner edge up the page, and so turned in the plane only.",
        files.join(", ")
    )];
    remarks.extend(
        (parts.layers.iter()).map(|layer| phrase!("Layer {}: {}.", layer.layer, layer.what)),
    );
    if let Some(horn) = parts.horn_mm {
        remarks.push(phrase!(
            "Stiles are drawn without horns: leave {} more at both ends until the joint is glued.",
            Mm(horn)
        ));
    }
    let bare = parts.members.iter().filter(|part| part.label.is_none());
    let bare: Vec<&str> = bare.map(|part| part.name.as_str()).collect();
    if !bare.is_empty() {
        remarks.push(phrase!("No room for a name on: {}.", bare.join(", ")));
    }
    remarks
}

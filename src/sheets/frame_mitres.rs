//! The members of a frame and their mitres, as part of the rails' sheet.

use crate::geometry::tolerance::DIRECTION;
use crate::instructions::frame_mitres::{
    MemberFigures, MitreCut, MitreLie, MitrePlan, MitreSawing, MitreSetting, StopContact,
};
use crate::instructions::saw::Hand;
use crate::instructions::sheet::{Block, Figure, Section, Table, TableCell};
use crate::lattice::Face;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};
use float_cmp::ApproxEq;

/// What the members are cut from, and how they are marked.
pub(super) fn member_section(plan: &MitrePlan) -> Section {
    let row = |member: &MemberFigures| {
        let [marked, other] = &member.mitres;
        vec![
            TableCell::Text(member.name.clone()),
            TableCell::Length(member.width_mm),
            TableCell::Length(member.inner_length_mm),
            TableCell::Length(member.outer_length_mm),
            TableCell::Length(member.blank_mm),
            TableCell::Text(member.mark_from.name().into()),
            TableCell::Length(member.mark_to_inner_corner_mm),
            TableCell::Text(Rad(marked.mitre).text()),
            TableCell::Text(Rad(other.mitre).text()),
        ]
    };
    let table = Table {
        caption: phrase!(
            "Lengths along the member. Inner edge: between the frame's inner corners. Outer edge: between its outer corners. Blank: cut square to it beforehand, {} at each end longer than the member over its points. To corner: from the blank's end named under mark from (seen from the panel's front) to the inner corner near it. Mitre: between its face and the member's length, at that end and at the other.",
            Mm(plan.allowance_mm)
        ),
        columns: vec![
            "member",
            "width",
            "inner edge",
            "outer edge",
            "blank",
            "mark from",
            "to corner",
            "mitre there",
            "other mitre",
        ],
        rows: plan.members.iter().map(row).collect(),
    };
    let steps = vec![
        phrase!(
            "Cut all blanks square, those of one length with one stop; mark front face and inner edge on each."
        ),
        phrase!(
            "Mark both inner corners on every blank, both from the end named: that end stands at the stop for the first mitre. The second corner lies the inner edge's length beyond the first."
        ),
        phrase!("Cut the mortises now, counted from these marks; the mitres after them."),
    ];
    Section {
        heading: "Members of the frame".into(),
        blocks: vec![Block::Table(table), Block::Steps(steps)],
    }
}

/// The mitres at the saw, and how they close.
pub(super) fn mitre_sections(plan: &MitrePlan) -> Vec<Section> {
    let mut sections = Vec::from_iter(plan.sled.as_ref().map(|sawing| at_the_saw(plan, sawing)));
    sections.push(closing(plan));
    sections
}

fn at_the_saw(plan: &MitrePlan, sawing: &MitreSawing) -> Section {
    let mut blocks = Vec::from_iter(blade_figures(sawing));
    blocks.push(Block::Table(cut_table(sawing)));
    blocks.push(Block::Remarks(remarks(plan, sawing)));
    blocks.push(Block::Steps(steps(sawing)));
    Section {
        heading: format!("Mitres at the {}", sawing.machine),
        blocks,
    }
}

fn blade_figures(sawing: &MitreSawing) -> Option<Block> {
    let blade = sawing.blade?;
    Some(Block::Figures(vec![
        Figure::new(
            "blade over the base",
            Mm(blade.height_above_base_mm),
            phrase!(
                "top of the sled's base to the top of the highest tooth: a cut right through, members {} thick and {} more, so that the gullets come out of the wood",
                Mm(blade.member_mm),
                Mm(blade.beyond_mm)
            ),
        ),
        Figure::new(
            "blade over the table",
            Mm(blade.height_above_table_mm),
            "saw table to the top of the highest tooth, sled taken off",
        ),
        Figure::new(
            "travel of the sled",
            Mm(blade.travel_mm),
            "least, for a member to come clear of the blade on both sides",
        ),
    ]))
}

fn cut_table(sawing: &MitreSawing) -> Table {
    let mut rows = Vec::new();
    for setting in &sawing.settings {
        for cut in &setting.cuts {
            let lies = cut.members.iter().map(|lie| {
                let (end, name) = (lie.end.name(), &lie.name);
                format!("{name}: {end} ({})", lie.face_down.name())
            });
            rows.push(vec![
                TableCell::Count(setting.number),
                TableCell::Text(Rad(setting.from_square).text()),
                TableCell::Text(Rad(setting.to_blade).text()),
                TableCell::Text(setting.end_away.map_or("-".into(), away)),
                TableCell::Length(cut.stop_to_kerf_mm),
                TableCell::Text(at_stop(cut.at_stop).into()),
                TableCell::Text(format!("{} edge", cut.edge_on_fence.name())),
                TableCell::Text(lies.collect::<Vec<_>>().join("; ")),
            ]);
        }
    }
    Table {
        caption: "From square: how far the fence is turned from square to the blade. To blade: the acute angle between them, the same setting said the other way. Away: the end that is turned away from you; left is at the stop. Stop: its face to the near side of the kerf, along the fence, on the wood's side of it. Ends: as they lie in the panel, seen from its front; the end that is cut lies to the right, beyond the blade.".into(),
        columns: vec![
            "setting",
            "from square",
            "to blade",
            "away",
            "stop",
            "on the stop",
            "on the fence",
            "end cut (face down)",
        ],
        rows,
    }
}

fn away(hand: Hand) -> String {
    format!("{} end", hand.name())
}

fn at_stop(contact: StopContact) -> &'static str {
    match contact {
        StopContact::BlankEnd => "blank's end",
        StopContact::LongPoint => "long point",
        StopContact::FinishedEnd => "finished end",
    }
}

/// What is cut with the same face down.
fn by_face(cut: &MitreCut) -> Vec<(Face, Vec<String>)> {
    let of = |face| {
        let lies = cut.members.iter();
        let lies = lies.filter(move |lie: &&MitreLie| lie.face_down == face);
        let ends: Vec<String> = lies
            .map(|lie| format!("{} of the {}", lie.end.name(), lie.name))
            .collect();
        (face, ends)
    };
    let all = [of(Face::Back), of(Face::Front)];
    all.into_iter()
        .filter(|(_, ends)| !ends.is_empty())
        .collect()
}

fn remarks(plan: &MitrePlan, sawing: &MitreSawing) -> Vec<Phrase> {
    let mut remarks = Vec::new();
    if !plan.without_settings.is_empty() {
        remarks.push(phrase!(
            "Not at this sled: the mitres of the {}; saw these another way.",
            plan.without_settings.join(" and the ")
        ));
    }
    remarks.push(if sawing.blade.is_some() {
        phrase!(
            "The fence stands on your side of the wood. The kept part lies between stop and blade, the off-cut free beyond the blade."
        )
    } else {
        phrase!(
            "The hook's fence stands on the far side of the wood. The kept part lies between stop and saw, the off-cut free beyond the saw, a scrap board under both."
        )
    });
    remarks.push(phrase!(
        "All ends of one row are cut before stop or fence is touched: so members that are alike come out equally long, even where the stop is a little off."
    ));
    // Common practice, no source.
    remarks.push(phrase!(
        "Brush fence and stop before each cut, and slide a long point on gently: it is a fine edge, and dust or a blow shortens the member."
    ));
    remarks
}

fn steps(sawing: &MitreSawing) -> Vec<Phrase> {
    let mut steps = vec![match sawing.blade {
        Some(blade) => phrase!(
            "Take off what was set for notches; riving knife on, guard as the manual allows. Set the blade {} over the base and square to it: it goes through.",
            Mm(blade.height_above_base_mm)
        ),
        None => phrase!("Saw right through, into a scrap board under the member."),
    }];
    for (at, setting) in sawing.settings.iter().enumerate() {
        let earlier = sawing.settings.get(..at).unwrap_or_default();
        steps.push(set_words(setting, earlier));
        steps.extend(setting.cuts.iter().map(cut_words));
    }
    steps
}

fn set_words(setting: &MitreSetting, earlier: &[MitreSetting]) -> Phrase {
    let number = setting.number;
    let Some(hand) = setting.end_away else {
        return phrase!("Setting {}: fence square to the blade.", number);
    };
    let mut words = phrase!(
        "Setting {}: fence {} from square, {} to the blade, {} end away from you.",
        number,
        Rad(setting.from_square),
        Rad(setting.to_blade),
        hand.name()
    );
    let Some(wedge) = &setting.wedge else {
        return words;
    };
    let known = earlier.iter().find(|other| {
        let other = other.wedge.as_ref();
        other.is_some_and(|other| other.angle.approx_eq(wedge.angle, DIRECTION))
    });
    words.append(match known {
        Some(known) => phrase!(
            " The wedge of setting {}, turned over end for end: thick end to the {}.",
            known.number,
            wedge.thick_end.name()
        ),
        None => phrase!(
            " The fence does not turn that far: set it square, with a wedge of {} between it and the member, thick end to the {} ({} along the fence from the thin end, {} square to it), screwed on clear of the kerf; stop and figures then go by the wedge's face.",
            Rad(wedge.angle),
            wedge.thick_end.name(),
            Mm(wedge.along_mm),
            Mm(wedge.rise_mm)
        ),
    });
    words
}

fn cut_words(cut: &MitreCut) -> Phrase {
    let contact = match cut.at_stop {
        StopContact::BlankEnd => {
            "the blank's other end, still square (the one marked from), on the stop"
        }
        StopContact::LongPoint => "the long point of the finished mitre on the stop, at the fence",
        StopContact::FinishedEnd => "the finished square end on the stop",
    };
    let mut words = phrase!(
        "Stop {} from the near side of the kerf. {} edge on the fence, {}.",
        Mm(cut.stop_to_kerf_mm),
        match cut.edge_on_fence.name() {
            "outer" => "Outer",
            _ => "Inner",
        },
        contact
    );
    for (face, ends) in by_face(cut) {
        words.append(phrase!(
            " {} face down: cut the {}.",
            match face {
                Face::Back => "Back",
                Face::Front => "Front",
            },
            ends.join(", the ")
        ));
    }
    words
}

fn closing(plan: &MitrePlan) -> Section {
    let closing = &plan.closing;
    let mut figures = vec![Figure::new(
        "each corner",
        Mm(closing.each_corner_open_mm),
        phrase!(
            "open at one end of the longest mitre, the frame held true, where every mitre is off by {} the same way",
            Rad(closing.off)
        ),
    )];
    if let Some(miss) = closing.last_corner_miss_mm {
        figures.push(Figure::new(
            "last corner",
            Mm(miss),
            phrase!(
                "between its outer corners, all others closed tight, where every mitre is {} too blunt; its faces are {} from lying on each other",
                Rad(closing.off),
                Rad(closing.closes_off)
            ),
        ));
    }
    for (number, diagonal) in (1..).zip(plan.diagonals_mm.into_iter().flatten()) {
        figures.push(Figure::new(
            if number == 1 {
                "diagonal"
            } else {
                "other diagonal"
            },
            Mm(diagonal),
            "inner corner to opposite inner corner",
        ));
    }
    // Common practice, no source.
    let test = phrase!(
        "Test the settings on a frame of scrap of the same widths, no shorter than the sled allows, before the first member. Held true, corners open at the inner edge say that mitres are too sharp, at the outer edge too blunt. With all corners but one closed tight the faces of the last are {} mitres' errors apart: turn the fence by that angle, divided by {}. Finished members are not cut again: their inner edges would come out too short.",
        2 * plan.members.len(),
        2 * plan.members.len()
    );
    let mut fit = phrase!(
        "Before gluing: lay members that are alike beside each other, their points must be flush. Dry fit the frame round the panel with a band clamp"
    );
    fit.append(match plan.diagonals_mm {
        Some(_) => phrase!(" and measure both diagonals."),
        None => phrase!("."),
    });
    Section {
        heading: "Closing the frame".into(),
        blocks: vec![Block::Figures(figures), Block::Remarks(vec![test, fit])],
    }
}

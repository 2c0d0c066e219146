//! How large a panel comes out, told to people.

use crate::instructions::panel_size::{
    EndTrim, MeasuredPlace, OpeningFigures, PanelSize, ScribeFigures, TrimmedEnd,
};
use crate::instructions::sheet::{Block, Figure, Section};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// Sizes, margins, where the ends are cut off, and what there is to scribe.
pub(super) fn size_section(size: &PanelSize) -> Section {
    let mut figures = size_figures(size);
    figures.extend(trim_figures(size));
    let mut blocks = vec![Block::Figures(figures)];
    let remarks = size_remarks(size);
    if !remarks.is_empty() {
        blocks.push(Block::Remarks(remarks));
    }
    Section {
        heading: "Size".into(),
        blocks,
    }
}

/// Sizes and margins.
pub(super) fn size_figures(size: &PanelSize) -> Vec<Figure> {
    let mut figures = Vec::new();
    if let Some([width, height]) = size.finished_mm {
        figures.push(Figure::new("finished width", Mm(width), over_all(size)));
        figures.push(Figure::new("finished height", Mm(height), over_all(size)));
    }
    if let Some([width, height]) = size.inside_mm.filter(|_| is_framed(size)) {
        let of = "between the frame's inner faces";
        figures.push(Figure::new("inside width", Mm(width), of));
        figures.push(Figure::new("inside height", Mm(height), of));
    }
    if let Some([beside, above]) = size.reveal_mm {
        let [x, y] = size.margin_mm;
        let edge = if is_framed(size) {
            "frame's inner face"
        } else {
            "the panel's edge, where the ends are cut off,"
        };
        let of = |margin| {
            phrase!(
                "{} to the outermost strip's face; {} to its centre line",
                edge,
                Mm(margin)
            )
        };
        figures.push(Figure::new("open at the sides", Mm(beside), of(x)));
        figures.push(Figure::new("open above, below", Mm(above), of(y)));
    }
    figures
}

/// Where the ends are cut off.
pub(super) fn trim_figures(size: &PanelSize) -> Vec<Figure> {
    size.trims.iter().filter_map(trim_figure).collect()
}

/// The opening, what there is to scribe, and the cells.
pub(super) fn size_remarks(size: &PanelSize) -> Vec<Phrase> {
    let mut remarks: Vec<Phrase> = size.opening.iter().map(opening_words).collect();
    let scribe = size.opening.as_ref().and_then(|of| of.scribe.as_ref());
    remarks.extend(scribe.into_iter().flat_map(scribe_words));
    if size.cut_cells > 0 {
        remarks.push(phrase!(
            "Cells that are whole: {}; cut by the panel's edge: {}. The shortest strip is {} long within the panel.",
            size.whole_cells,
            size.cut_cells,
            Mm(size.shortest_strip_mm)
        ));
    }
    remarks
}

fn is_framed(size: &PanelSize) -> bool {
    size.trims.iter().any(|trim| trim.ends == TrimmedEnd::LetIn)
}

fn over_all(size: &PanelSize) -> &'static str {
    if is_framed(size) {
        "over the frame's outer faces"
    } else {
        "over the strips' ends, cut off flush"
    }
}

fn trim_figure(trim: &EndTrim) -> Option<Figure> {
    let cut = match trim.ends {
        TrimmedEnd::Flush => "flush",
        TrimmedEnd::LetIn => "to its length in the mortises",
    };
    let label = format!("trim {}", trim.family);
    let Some(from_end) = trim.from_end_mm else {
        let of = phrase!(
            "beyond the middle of its last notch, {}: to the cut; from the strip's end it differs",
            cut
        );
        return Some(Figure::new(&label, Mm(trim.from_last_notch_mm?), of));
    };
    let of = match trim.from_last_notch_mm {
        Some(from_notch) => phrase!(
            "off each end, {}: from the strip's end to the cut, which lies {} beyond the middle of its last notch",
            cut,
            Mm(from_notch)
        ),
        None => phrase!(
            "off each end, {}: from the strip's end to the cut, along the strip",
            cut
        ),
    };
    Some(Figure::new(&label, Mm(from_end), of))
}

fn opening_words(opening: &OpeningFigures) -> Phrase {
    let [width, height] = opening.opening_mm;
    let mut words = phrase!(
        "For {}: {} wide and {} high",
        opening.measured.words(),
        Mm(width),
        Mm(height)
    );
    if opening.scribe.is_some() {
        words.append(phrase!(
            ", the largest upright rectangle that goes into what was measured"
        ));
    }
    if opening.play_mm > 0.0 {
        let into = match opening.measured {
            MeasuredPlace::Hole => "between panel and hole",
            MeasuredPlace::Inside | MeasuredPlace::Panel => "between panel and frame",
        };
        words.append(phrase!(
            ", with a play of {} {} at every side",
            Mm(opening.play_mm),
            into
        ));
    }
    words.append(phrase!("."));
    words
}

fn scribe_words(scribe: &ScribeFigures) -> Vec<Phrase> {
    let sides = [
        ("left", scribe.left_mm, ["lower", "upper"]),
        ("right", scribe.right_mm, ["lower", "upper"]),
        ("bottom", scribe.bottom_mm, ["left", "right"]),
        ("top", scribe.top_mm, ["left", "right"]),
    ];
    let mut words = vec![phrase!(
        "The opening is out of square. Held level with its lower edge and in the middle of what room there is, the panel leaves besides the play:"
    )];
    words.extend(sides.map(|(side, [from, to], [first, second])| {
        phrase!(
            "{}: {} at the {} end, {} at the {} end.",
            side,
            Mm(from),
            first,
            Mm(to),
            second
        )
    }));
    if scribe.sides_bow_in_mm > 0.0 {
        words.push(phrase!(
            "In the middle of the height left and right are {} less, both together: the sides bow in.",
            Mm(scribe.sides_bow_in_mm)
        ));
    }
    if scribe.sill_and_head_bow_in_mm > 0.0 {
        words.push(phrase!(
            "In the middle of the width top and bottom are {} less, both together: sill or head bows in.",
            Mm(scribe.sill_and_head_bow_in_mm)
        ));
    }
    words
}

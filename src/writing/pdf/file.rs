//! Pages of elements as a PDF file (ISO 32000-1).

use super::bookmarks::{self, PageLink, PageRefs};
use super::chapters::Chapter;
use super::embedded_fonts::{name_of, write_font};
use super::fonts::{FontWeight, Fonts};
use super::glyphs::UsedGlyphs;
use super::page_content::content;
use super::page_element::PageElement;
use super::paper::Paper;
use super::points::points;
use super::stream::packed;
use super::structure::{self, Marks};
use super::tags::Tag;
use crate::threads;
use crate::units::NotPrintable;
use pdf_writer::types::{PageMode, TabOrder};
use pdf_writer::{Filter, Name, Pdf, Rect, Ref, TextStr};

/// A page's own objects.
struct PageObjects {
    page: Ref,
    content: Ref,
}

/// Objects that are told of in several places.
struct Objects {
    catalog: Ref,
    page_tree: Ref,
    outline: Ref,
    tree: Ref,
    metadata: Ref,
    fonts: [(FontWeight, Ref); 2],
}

/// What is written.
pub(super) struct SetDocument<'a> {
    pub(super) pages: &'a [Vec<PageElement>],
    pub(super) chapters: &'a [Chapter],
    /// The document's tree, by number.
    pub(super) tags: &'a [Tag],
    pub(super) title: &'a str,
}

/// Writes the file. The same pages give the same bytes.
pub(super) fn write(
    document: &SetDocument<'_>,
    paper: Paper,
    fonts: &Fonts,
) -> Result<Vec<u8>, NotPrintable> {
    let SetDocument {
        pages,
        chapters,
        tags,
        title,
    } = document;
    // Contents come first: they tell which glyphs are used.
    let mut used = UsedGlyphs::default();
    let mut marks = Marks::default();
    let mut contents = Vec::new();
    for page in *pages {
        let both = (&mut used, &mut marks);
        contents.push(content(page, paper, fonts, tags, both)?);
    }
    let mut next = Ref::new(1);
    let catalog = next.bump();
    let page_tree = next.bump();
    let info = next.bump();
    let objects = Objects {
        catalog,
        page_tree,
        outline: next.bump(),
        tree: next.bump(),
        metadata: next.bump(),
        fonts: FontWeight::ALL.map(|weight| (weight, next.bump())),
    };
    let mut pdf = Pdf::new();
    write_catalog(&mut pdf, &objects);
    pdf.document_info(info).title(TextStr(title));
    let mut own = Vec::new();
    for _ in *pages {
        own.push(PageObjects {
            page: next.bump(),
            content: next.bump(),
        });
    }
    let all: Vec<Ref> = own.iter().map(|objects| objects.page).collect();
    let count = i32::try_from(all.len()).map_err(|_| NotPrintable)?;
    pdf.pages(page_tree).kids(all.iter().copied()).count(count);
    let page_refs = PageRefs {
        pages: &all,
        height: paper.size().height,
    };
    bookmarks::write_outline(&mut pdf, &mut next, objects.outline, chapters, &page_refs)?;
    pdf.metadata(objects.metadata, described(title).as_bytes());
    let contents = threads::each(&contents, |content| packed(content));
    for (((at, own), packed), page) in own.iter().enumerate().zip(&contents).zip(*pages) {
        let links: Vec<(Ref, PageLink)> = bookmarks::links(page)
            .into_iter()
            .map(|link| (next.bump(), link))
            .collect();
        write_page(&mut pdf, (at, own), &objects, paper, &links)?;
        pdf.stream(own.content, packed).filter(Filter::FlateDecode);
        for (own, link) in &links {
            let key = marks.key_of_link(marks.links.len())?;
            marks.links.push((at, *own, link.tag));
            bookmarks::write_link(&mut pdf, (*own, key), link, &page_refs)?;
        }
    }
    structure::write(&mut pdf, &mut next, objects.tree, tags, &marks, &all)?;
    for (weight, font) in objects.fonts {
        write_font(&mut pdf, &mut next, font, weight, fonts, used.of(weight))?;
    }
    Ok(pdf.finish())
}

/// Where readers begin, and how they show and print the document.
fn write_catalog(pdf: &mut Pdf, objects: &Objects) {
    let mut catalog = pdf.catalog(objects.catalog);
    catalog.pages(objects.page_tree);
    catalog.lang(TextStr("en"));
    catalog.outlines(objects.outline);
    catalog.pair(Name(b"StructTreeRoot"), objects.tree);
    catalog.mark_info().marked(true);
    catalog.metadata(objects.metadata);
    catalog.page_mode(PageMode::UseOutlines);
    let mut preferences = catalog.viewer_preferences();
    // Templates are of use at true size only.
    preferences.pair(Name(b"PrintScaling"), Name(b"None"));
    preferences.pair(Name(b"DisplayDocTitle"), true);
}

/// The title as other programs look for it (XMP, ISO 16684-1).
fn described(title: &str) -> String {
    let title = title
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;");
    let title: String = title
        .chars()
        .filter(|letter| !letter.is_control())
        .collect();
    format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\">\
         <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{title}</rdf:li></rdf:Alt></dc:title>\
         </rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>"
    )
}

/// A page without what is drawn on it, and without the links themselves.
fn write_page(
    pdf: &mut Pdf,
    (at, own): (usize, &PageObjects),
    objects: &Objects,
    paper: Paper,
    links: &[(Ref, PageLink)],
) -> Result<(), NotPrintable> {
    let size = paper.size();
    let mut page = pdf.page(own.page);
    if !links.is_empty() {
        page.annotations(links.iter().map(|(own, _)| *own));
    }
    page.struct_parents(i32::try_from(at).map_err(|_| NotPrintable)?);
    page.tab_order(TabOrder::StructureOrder);
    page.parent(objects.page_tree);
    page.media_box(Rect::new(
        0.0,
        0.0,
        points(size.width)?,
        points(size.height)?,
    ));
    page.contents(own.content);
    let mut resources = page.resources();
    let mut named = resources.fonts();
    for (weight, font) in objects.fonts {
        named.pair(name_of(weight), font);
    }
    Ok(())
}

//! A DXF file as tags: what a reader that interprets it may hide.

use super::report::OutlineFault;

/// One group code with its value.
#[derive(Clone, Copy)]
pub(super) struct Tag<'a> {
    pub(super) code: u16,
    pub(super) value: &'a str,
    /// Line of the code, from 1.
    pub(super) line: usize,
}

pub(super) fn fault(code: &'static str, line: usize, text: &str) -> OutlineFault {
    OutlineFault::new(code, format!("line {line}: {text}"))
}

/// Splits the bytes into tags. Every line must be there: a reader that stops at an empty line or
/// a broken tag would silently miss the rest.
pub(super) fn split(bytes: &[u8]) -> Result<Vec<Tag<'_>>, OutlineFault> {
    let text = str::from_utf8(bytes).ok().filter(|text| text.is_ascii());
    let text = text.ok_or_else(|| OutlineFault::new("not-dxf", "not plain ASCII text"))?;
    let mut tags = Vec::new();
    let mut lines = text.lines().zip(1..);
    while let Some((code, line)) = lines.next() {
        let code = code.trim().parse();
        let code = code.map_err(|_| fault("not-dxf", line, "not a group code"))?;
        let (value, _) = lines
            .next()
            .ok_or_else(|| fault("not-dxf", line, "a group code without a value"))?;
        let value = value.trim();
        tags.push(Tag { code, value, line });
    }
    match tags.last() {
        Some(tag) if (tag.code, tag.value) == (0, "EOF") => Ok(tags),
        _ => Err(OutlineFault::new("not-dxf", "the file does not end in EOF")),
    }
}

/// Each tag of group 0 with the tags up to the next one.
pub(super) fn records<'t, 'a>(
    tags: &'t [Tag<'a>],
) -> impl Iterator<Item = (&'t Tag<'a>, &'t [Tag<'a>])> {
    let heads = tags.iter().filter(|tag| tag.code == 0);
    // What stands before the first head is no record.
    heads.zip(tags.split(|tag| tag.code == 0).skip(1))
}

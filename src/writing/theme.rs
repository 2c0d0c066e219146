//! The theme of everything that is drawn or set: type, colours, weights of lines, in light and in
//! dark. Decided here once; SVG, HTML and PDF take it from here.
//!
//! Woods have three tones, the lightest lies in front. Ink is a dark brown, petrol marks measures
//! and paths, orange the key, red faults and nothing else. No meaning hangs on colour alone: every
//! part that is drawn is also named.

use crate::instructions::drawing::Role;

/// A colour: red, green, blue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

impl Colour {
    const fn of(hex: u32) -> Colour {
        let [_, red, green, blue] = hex.to_be_bytes();
        Colour(red, green, blue)
    }

    /// As `#rrggbb`.
    pub fn hex(self) -> String {
        format!("#{:02x}{:02x}{:02x}", self.0, self.1, self.2)
    }

    /// Each channel from 0 to 1.
    pub fn channels(self) -> [f32; 3] {
        [self.0, self.1, self.2].map(|channel| f32::from(channel) / 255.0)
    }
}

/// A colour on light and on dark ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tone {
    /// On paper and on a light screen.
    pub light: Colour,
    /// On a dark screen.
    pub dark: Colour,
}

const fn tone(light: u32, dark: u32) -> Tone {
    Tone {
        light: Colour::of(light),
        dark: Colour::of(dark),
    }
}

/// How one role is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoleStyle {
    /// Name in style sheets.
    pub class: &'static str,
    /// Of areas, and of writing.
    pub fill: Tone,
    /// Of edges and lines.
    pub edge: Tone,
    /// Of edges and lines, mm on paper.
    pub width: f64,
}

const fn style(class: &'static str, fill: Tone, edge: Tone, width: f64) -> RoleStyle {
    RoleStyle {
        class,
        fill,
        edge,
        width,
    }
}

/// Every role, for style sheets.
pub const ROLES: [Role; 14] = [
    Role::Wood,
    Role::WoodBehind,
    Role::WoodAtBack,
    Role::Piece,
    Role::Cut,
    Role::Ground,
    Role::Jig,
    Role::Key,
    Role::Tool,
    Role::Path,
    Role::Measure,
    Role::Label,
    Role::Name,
    Role::Fault,
];

/// How a role is drawn.
pub const fn style_of(role: Role) -> RoleStyle {
    const GRAIN: Tone = tone(0x6d_5130, 0x1f_170c);
    const PETROL: Tone = tone(0x1d_4f58, 0x8e_d2db);
    const ON_WOOD: Tone = tone(0x3a_2b1a, 0x1a_1206);
    const RED: Tone = tone(0xb3_261e, 0xff_8a80);
    match role {
        Role::Wood => style("wood", tone(0xe3_c592, 0xcf_a970), GRAIN, 0.15),
        Role::WoodBehind => style("behind", tone(0xc2_9a62, 0xa8_8350), GRAIN, 0.15),
        Role::WoodAtBack => style("back", tone(0xa3_7b46, 0x80_6138), GRAIN, 0.15),
        Role::Piece => style("piece", tone(0xf2_e1bd, 0xe2_c897), GRAIN, 0.12),
        Role::Cut => style(
            "cut",
            tone(0xfb_f6ec, 0x2b_251c),
            tone(0x6d_5130, 0xb7_9a6c),
            0.12,
        ),
        Role::Ground => style(
            "ground",
            tone(0xf1_ede4, 0x26_221c),
            tone(0x86_7c6b, 0x85_7a69),
            0.12,
        ),
        Role::Jig => style(
            "jig",
            tone(0xc9_d0d1, 0x4a_555a),
            tone(0x4c_585c, 0xb4_c0c4),
            0.2,
        ),
        Role::Key => style(
            "key",
            tone(0xe2_8a1c, 0xf0_a23c),
            tone(0x6b_3d00, 0xff_d9a0),
            0.2,
        ),
        Role::Tool => style(
            "tool",
            tone(0x8b_979c, 0x9d_abb1),
            tone(0x23_2c30, 0xee_f4f6),
            0.2,
        ),
        Role::Path => style(
            "path",
            tone(0x2d_6a74, 0x6f_c3ce),
            tone(0x2d_6a74, 0x6f_c3ce),
            0.12,
        ),
        Role::Measure => style("measure", PETROL, PETROL, 0.12),
        Role::Label => style("label", ON_WOOD, ON_WOOD, 0.12),
        Role::Name => style("name", INK, INK, 0.12),
        Role::Fault => style("fault", RED, RED, 0.3),
    }
}

/// The ground of all pages.
pub const PAPER: Tone = tone(0xff_fdf8, 0x18_1511);
/// Running text.
pub const INK: Tone = tone(0x2b_2118, 0xf1_e8da);
/// Captions, what a figure is measured from.
pub const QUIET: Tone = tone(0x5a_4d3e, 0xc9_bba5);
/// Rules and borders that only part things.
pub const RULE: Tone = tone(0xcd_bb9c, 0x4f_4536);
/// The ground of figures and tables' heads.
pub const CARD: Tone = tone(0xf6_efe1, 0x23_1f18);
/// Headings, controls, borders of boxes to tick.
pub const ACCENT: Tone = PETROL_INK;
/// The ground of safety notes.
pub const CAUTION: Tone = tone(0xfb_e8cb, 0x3a_2510);
/// Writing on it.
pub const CAUTION_INK: Tone = tone(0x5c_2700, 0xff_dcb3);

const PETROL_INK: Tone = tone(0x1d_4f58, 0x8e_d2db);

/// The one family of type; screens that lack it take a relative of it.
pub const TYPE_FAMILY: &str = "\"DejaVu Sans\",Verdana,sans-serif";

/// Sizes of type in points on paper; screens keep the proportions.
pub mod size {
    /// Title of the whole.
    pub const TITLE: f64 = 20.0;
    /// A machine's name over its part.
    pub const PART: f64 = 15.0;
    /// Heading of a section.
    pub const SECTION: f64 = 11.5;
    /// A setting, to be read at arm's length.
    pub const SETTING: f64 = 18.0;
    /// The least of figures that are read at arm's length.
    pub const ARMS_LENGTH: f64 = 14.0;
    /// Running text.
    pub const TEXT: f64 = 9.0;
    /// Captions and tables.
    pub const SMALL: f64 = 8.0;
    /// Nothing on paper is smaller.
    pub const LEAST: f64 = 7.0;
}

/// Height of capitals over the size of type: 1493 of 2048 units in DejaVu Sans.
pub const CAPITALS: f64 = 0.729;

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance after WCAG 2.1.
    fn luminance(colour: Colour) -> f64 {
        let [red, green, blue] = colour.channels().map(|channel| {
            let channel = f64::from(channel);
            if channel <= 0.03928 {
                channel / 12.92
            } else {
                ((channel + 0.055) / 1.055).powf(2.4)
            }
        });
        0.2126 * red + 0.7152 * green + 0.0722 * blue
    }

    /// Contrast ratio after WCAG 2.1, success criterion 1.4.3.
    fn contrast(a: Colour, b: Colour) -> f64 {
        let a = luminance(a);
        let b = luminance(b);
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn writing_has_the_contrast_of_level_aa() {
        let fill = |role| style_of(role).fill;
        let pairs = [
            (INK, PAPER),
            (INK, CARD),
            (QUIET, PAPER),
            (QUIET, CARD),
            (ACCENT, PAPER),
            (ACCENT, CARD),
            (CAUTION_INK, CAUTION),
            (fill(Role::Name), fill(Role::Ground)),
            (fill(Role::Measure), PAPER),
            (fill(Role::Measure), fill(Role::Ground)),
            (fill(Role::Measure), fill(Role::Cut)),
            (fill(Role::Label), fill(Role::Wood)),
            (fill(Role::Label), fill(Role::WoodBehind)),
            (fill(Role::Label), fill(Role::Piece)),
            (fill(Role::Fault), PAPER),
        ];
        for (at, (ink, ground)) in pairs.into_iter().enumerate() {
            for (ink, ground) in [(ink.light, ground.light), (ink.dark, ground.dark)] {
                assert!(contrast(ink, ground) >= 4.5, "{at}: {ink:?} on {ground:?}");
            }
        }
    }

    #[test]
    fn parts_stand_out_from_the_page() {
        // WCAG 2.1, success criterion 1.4.11: 3 to 1 for what has to be seen.
        // Labels stand on wood, never on the page.
        for role in ROLES.into_iter().filter(|role| *role != Role::Label) {
            let RoleStyle { fill, edge, .. } = style_of(role);
            let stands_out = |pick: fn(Tone) -> Colour| {
                let against = |tone: Tone| contrast(pick(tone), pick(PAPER));
                against(fill).max(against(edge)) >= 3.0
            };
            assert!(stands_out(|tone| tone.light), "{role:?} in light");
            assert!(stands_out(|tone| tone.dark), "{role:?} in dark");
        }
        assert!(contrast(ACCENT.light, PAPER.light) >= 3.0);
    }

    #[test]
    fn every_role_has_a_class_of_its_own() {
        let mut classes: Vec<_> = ROLES.map(|role| style_of(role).class).to_vec();
        classes.sort_unstable();
        classes.dedup();
        assert_eq!(classes.len(), ROLES.len());
    }
}

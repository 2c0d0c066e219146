//! What the numbers of the DXF colour index look like on a screen.

use std::num::NonZeroU8;

/// Red, green and blue of a number of the index, as other readers of DXF show it, to within one in
/// 255 a channel (they round in places of their own). 7 is black on paper.
///
/// From 10 to 249 the tens step round the circle of hues, 15 degrees each from red; the last
/// digit's pairs darken, its odd numbers are mixed half and half with white. After the table that
/// readers share; compared with ezdxf's in `tests/drawings/reference_outlines.rs`.
pub(super) fn rgb(number: NonZeroU8) -> [u8; 3] {
    match number.get() {
        1 => [255, 0, 0],
        2 => [255, 255, 0],
        3 => [0, 255, 0],
        4 => [0, 255, 255],
        5 => [0, 0, 255],
        6 => [255, 0, 255],
        8 => [128, 128, 128],
        9 => [192, 192, 192],
        251 | 252 => [102, 102, 102],
        253 => [153, 153, 153],
        254 => [204, 204, 204],
        255 => [255, 255, 255],
        7 | 250 => [0, 0, 0],
        hue => hued(hue),
    }
}

/// Numbers 10 to 249.
fn hued(number: u8) -> [u8; 3] {
    const BRIGHTNESS: [u16; 5] = [255, 165, 127, 76, 38];
    let step = u16::from(number / 10).saturating_sub(1);
    let digit = number % 10;
    // Four steps from one pure or mixed hue to the next; a quarter of 255 is not a whole number.
    let rising = step % 4 * 255 / 4;
    let falling = 255 - (step % 4 * 255).div_ceil(4);
    let full = match step / 4 {
        0 => [255, rising, 0],
        1 => [falling, 255, 0],
        2 => [0, 255, rising],
        3 => [0, falling, 255],
        4 => [rising, 0, 255],
        _ => [255, 0, falling],
    };
    let level = BRIGHTNESS
        .get(usize::from(digit / 2))
        .copied()
        .unwrap_or(255);
    full.map(|channel| {
        let pale = if digit % 2 == 1 {
            (channel + 255) / 2
        } else {
            channel
        };
        u8::try_from(pale * level / 255).unwrap_or(u8::MAX)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machines::Colours;

    fn luminance(number: NonZeroU8) -> f64 {
        let linear = rgb(number).map(|channel| {
            let share = f64::from(channel) / 255.0;
            if share <= 0.04045 {
                share / 12.92
            } else {
                ((share + 0.055) / 1.055).powf(2.4)
            }
        });
        0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    }

    /// WCAG 2.1, 1.4.11: what is drawn has 3:1 against what lies beside it.
    #[test]
    fn the_usual_colours_show_on_white_and_on_black() {
        let usual = Colours::default();
        let all = [
            usual.letters,
            usual.openings,
            usual.outlines,
            crate::writing::dxf::BRIDGE_COLOUR,
        ];
        for number in all {
            let light = luminance(number);
            assert!(1.05 / (light + 0.05) >= 3.0, "{number} on white");
            assert!((light + 0.05) / 0.05 >= 3.0, "{number} on black");
        }
    }
}

//! Writing of one size on every page: how large it is in a picture that will be shown as broad as a
//! column of paper, or as a phone's screen.

use super::drawing::Drawing;

/// How broad a picture will be shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shown {
    /// As a column of A4 or Letter, 178 mm, or as most of a screen.
    Broad,
    /// As a column of half that paper, or as a phone's screen, 90 mm.
    Narrow,
}

impl Shown {
    /// As broad as it is shown a picture counts that is higher than its breadth over this.
    fn tall(self) -> f64 {
        match self {
            Shown::Broad => 1.6,
            // A screen is moved up and down.
            Shown::Narrow => 0.6,
        }
    }
}

/// Height of capitals as a share of the picture's breadth. Of a tall one the breadth is a multiple of its
/// height, since a page shows it smaller.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    /// In a broad picture.
    pub broad: f64,
    /// In a narrow one.
    pub narrow: f64,
}

/// Least height of capitals on paper, mm: type of 7.5 points, capitals 0.729 of it high.
pub const LEAST_CAPITALS_MM: f64 = 7.5 * 0.729 * 25.4 / 72.0;

impl Share {
    /// Of names and measures in pictures of set-ups: 2.7 mm on a broad page, 10.5 points.
    pub const SET_UP: Share = Share {
        broad: 1.0 / 66.0,
        narrow: 1.0 / 40.0,
    };
    /// Of the many names in a panel's picture: 2.4 mm on a broad page, 9.4 points.
    pub const PANEL: Share = Share {
        broad: 1.0 / 74.0,
        narrow: 1.0 / 42.0,
    };
}

/// Writing takes room of its own, so a picture is drawn until that has its size; this often at most.
const MOST: usize = 8;

/// Two breadths of pictures that differ by less, as a share, are the same.
const SAME: f64 = 1e-3;

/// A picture for broad and narrow pages. `draw` makes it with capitals of a height, mm in the picture.
pub fn for_both(share: Share, draw: impl Fn(f64, Shown) -> Drawing) -> Drawing {
    let of =
        |shown: Shown, share: f64| settled(share, shown.tall(), |capitals| draw(capitals, shown));
    let narrow = of(Shown::Narrow, share.narrow);
    let broad = of(Shown::Broad, share.broad);
    Drawing {
        narrow: Some(Box::new(narrow)),
        ..broad
    }
}

fn settled(share: f64, tall: f64, draw: impl Fn(f64) -> Drawing) -> Drawing {
    let mut breadth = 0.0;
    let mut drawing = draw(0.0);
    for _ in 0..MOST {
        let size = drawing.low.to(drawing.high);
        let wide = f64::max(size.x, tall * size.y);
        if (wide - breadth).abs() <= SAME * wide {
            break;
        }
        breadth = wide;
        drawing = draw(share * breadth);
    }
    drawing
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Point;
    use crate::instructions::drawing::Role;

    #[test]
    fn writing_has_its_share_of_the_finished_picture() {
        let share = Share::SET_UP;
        let drawing = for_both(share, |capitals, _| {
            let mut drawing = Drawing::new("x", Point::default(), Point::default());
            drawing.rectangle(Role::Wood, Point::default(), Point::new(100.0, 5.0));
            drawing.text(Role::Name, Point::new(100.0, 9.0), capitals, "some letters");
            drawing.fit(capitals);
            drawing
        });
        let found = |drawing: &Drawing| {
            let texts = drawing.texts().map(|(_, height)| height);
            texts.sum::<f64>() / (drawing.high.x - drawing.low.x)
        };
        assert!((found(&drawing) / share.broad - 1.0).abs() < 0.02);
        let narrow = drawing.narrow.as_deref().unwrap();
        assert!((found(narrow) / share.narrow - 1.0).abs() < 0.02);
    }
}

//! A picture, before anybody knows where it is drawn: rectangles, lines and words on a surface of its own
//! units. The page and a file draw it as SVG, paper as vectors; none of them decides where anything stands.

use super::ink::Ink;

/// A picture with what it says in words, for whoever does not see it.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// What tells it apart from the other drawings of a page: a word that fits an id.
    pub name: &'static str,
    /// How wide, in units of which a body text is 10 high.
    pub width: f64,
    /// How high.
    pub height: f64,
    /// What it is, in a few words.
    pub title: String,
    /// What it shows, in sentences.
    pub description: String,
    /// What is on it, the lowest first.
    pub shapes: Vec<Shape>,
    /// Whose it is, for where nothing above it says so.
    pub caption: Shape,
    /// How far down the caption reaches; nothing else stands so high.
    pub caption_foot: f64,
}

/// A thing on a picture.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A filled rectangle.
    Area {
        /// Left edge, upper edge, width and height.
        at: [f64; 4],
        /// Its ink.
        ink: Ink,
    },
    /// A line through these points.
    Line {
        /// Each from the left and from above.
        through: Vec<[f64; 2]>,
        /// Its ink.
        ink: Ink,
        /// How thick.
        thick: f64,
    },
    /// A filled circle.
    Dot {
        /// Its middle.
        at: [f64; 2],
        /// Its radius.
        radius: f64,
        /// Its ink.
        ink: Ink,
    },
    /// Words on one line.
    Words {
        /// Where their foot stands.
        at: [f64; 2],
        /// Which part of the words stands there.
        anchor: Anchor,
        /// How high they are.
        size: f64,
        /// What they say; fit to be shown.
        text: String,
        /// Their ink.
        ink: Ink,
    },
}

/// What words hang by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Their beginning.
    Start,
    /// Their middle.
    Middle,
    /// Their end.
    End,
}

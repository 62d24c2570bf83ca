//! A picture as shapes, in units of its own: page and file draw it as SVG, paper as vectors.

/// A picture, with a description for people who cannot see it.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// A word that is unique on a page and valid as an id.
    pub name: &'static str,
    /// The width; body text is 10 high.
    pub width: f64,
    /// The height.
    pub height: f64,
    /// The title.
    pub title: String,
    /// The description, in sentences.
    pub description: String,
    /// The shapes, the lowest first.
    pub shapes: Vec<Shape>,
    /// The recipe's name, for a picture that stands alone.
    pub caption: Shape,
    /// The lower edge of the caption; all other shapes are below.
    pub caption_foot: f64,
}

/// A shape of a picture; y grows downwards.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A filled rectangle.
    Area {
        /// Left edge, upper edge, width and height.
        at: [f64; 4],
        /// Its ink.
        ink: Ink,
    },
    /// A line through points.
    Line {
        /// The points as x and y.
        through: Vec<[f64; 2]>,
        /// Its ink.
        ink: Ink,
        /// Its width.
        thick: f64,
    },
    /// A filled circle.
    Dot {
        /// Its centre.
        at: [f64; 2],
        /// Its radius.
        radius: f64,
        /// Its ink.
        ink: Ink,
    },
    /// Text on one line.
    Words {
        /// A point on its baseline.
        at: [f64; 2],
        /// The part of the text that is at the point.
        anchor: Anchor,
        /// The type size.
        size: f64,
        /// The text, safe to show.
        text: String,
        /// Its ink.
        ink: Ink,
    },
}

/// The part of a text that its point marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its start.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// The ink of a shape. Inks differ in lightness too, for printers without colour and for colour-blind readers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// Text and axes.
    Text,
    /// Grid lines.
    Faint,
    /// A bath in the tank.
    Bath,
    /// Pouring and draining.
    Flow,
    /// Agitation.
    Motion,
    /// Tonight.
    Tonight,
    /// The empty tank, and drying.
    Empty,
}

/// The name of each ink, and its RGB on a light and on a dark ground.
pub(super) const INKS: [(Ink, &str, [u8; 3], [u8; 3]); 7] = [
    (Ink::Text, "text", [0x1c, 0x1c, 0x1c], [0xe8, 0xe8, 0xe8]),
    (Ink::Faint, "faint", [0xb4, 0xb4, 0xb4], [0x5c, 0x5c, 0x5c]),
    (Ink::Bath, "bath", [0xcf, 0xe2, 0xee], [0x30, 0x49, 0x5a]),
    (Ink::Flow, "flow", [0x7f, 0xa5, 0xbd], [0x6f, 0x97, 0xb0]),
    (Ink::Motion, "motion", [0x17, 0x3f, 0x5a], [0xd3, 0xec, 0xfb]),
    (Ink::Tonight, "tonight", [0xb3, 0x26, 0x1e], [0xff, 0x8a, 0x75]),
    (Ink::Empty, "empty", [0x8d, 0x8a, 0x84], [0x8d, 0x8a, 0x84]),
];

impl Ink {
    /// Its RGB on paper, from 0 to 1.
    pub(in crate::emit) fn on_paper(self) -> [f32; 3] {
        let row = INKS.iter().find(|(ink, ..)| *ink == self);
        row.map_or([0.0; 3], |(_, _, light, _)| light.map(|part| f32::from(part) / 255.0))
    }
}

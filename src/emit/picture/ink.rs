//! What a thing on a picture is drawn in, and in which colour: on light ground, on dark ground, on paper.

/// What a thing is drawn in. Inks differ in lightness too, so that a picture survives a printer without
/// colour and an eye that does not tell red from green.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// Words and axes.
    Text,
    /// Lines that lead the eye.
    Faint,
    /// A bath in the tank.
    Bath,
    /// Pouring in and out.
    Flow,
    /// The film is moved.
    Motion,
    /// Tonight.
    Tonight,
    /// The empty tank, and drying.
    Empty,
}

/// Each ink's class, and its colour on light and on dark ground, as RGB.
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
    /// Its colour on paper, as RGB from 0 to 1: that on light ground.
    pub(in crate::emit) fn on_paper(self) -> [f32; 3] {
        let row = INKS.iter().find(|(ink, ..)| *ink == self);
        row.map_or([0.0; 3], |(_, _, light, _)| light.map(|part| f32::from(part) / 255.0))
    }
}

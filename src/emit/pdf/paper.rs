//! Sizes of paper (ISO 216 for the A series; Letter as ANSI/ASME Y14.1 has it), in points of 1/72 inch.

/// What a card is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 8.5 by 11 inches.
    Letter,
    /// 148 by 210 mm.
    A5,
    /// 105 by 148 mm.
    A6,
}

impl Paper {
    /// Width and height.
    pub(super) fn size(self) -> (f32, f32) {
        match self {
            Paper::A4 => (595.28, 841.89),
            Paper::Letter => (612.0, 792.0),
            Paper::A5 => (419.53, 595.28),
            Paper::A6 => (297.64, 419.53),
        }
    }

    /// The most pages that a card should take.
    pub(super) fn pages(self) -> usize {
        match self {
            Paper::A4 | Paper::Letter | Paper::A5 => 1,
            Paper::A6 => 2,
        }
    }
}

//! The few marks that colour adds to a card. Without colour there is not one byte of it.

/// What part of a card a text is, as far as its look goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tone {
    /// Everything else.
    Body,
    /// The title, and the heads of the sections.
    Head,
    /// A step's name.
    Step,
    /// A time on a clock.
    Clock,
    /// A doubt or a caution.
    Warning,
}

/// Whether the reader's terminal is to show colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paint {
    /// Letters only.
    Plain,
    /// With ANSI sequences for bold and for warnings.
    Colour,
}

/// How a card is drawn as text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// The most columns that a line takes; held between 40 and 200.
    pub width: usize,
    /// With colour or without.
    pub paint: Paint,
    /// Whether each step is followed by how its numbers came about.
    pub reasons: bool,
}

/// Eighty columns, without colour, without reasons.
impl Default for Look {
    fn default() -> Look {
        Look { width: 80, paint: Paint::Plain, reasons: false }
    }
}

impl Paint {
    /// The text with the marks of its tone around it.
    pub(super) fn mark(self, tone: Tone, text: &str) -> String {
        let code = match (self, tone) {
            (Paint::Plain, _) | (Paint::Colour, Tone::Body) => return text.to_owned(),
            (Paint::Colour, Tone::Head | Tone::Step | Tone::Clock) => "1",
            (Paint::Colour, Tone::Warning) => "33",
        };
        format!("\u{1b}[{code}m{text}\u{1b}[0m")
    }
}

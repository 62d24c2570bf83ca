//! How the film is kept moving (R7).

use super::quantity::{Speed, Time};
use super::words::words;
use crate::source::Span;

/// An agitation scheme.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scheme {
    /// The scheme's name, where it was named and not written out.
    pub name: Option<String>,
    /// When the film moves.
    pub pulse: Pulse,
    /// How it moves.
    pub by: Option<Motion>,
    /// How long one inversion takes.
    pub inversion: Time,
    /// Whether the tank is knocked against air bells, and when.
    pub knock: Option<Knock>,
    /// Remarks for the card.
    pub notes: Vec<String>,
    /// Where it is written.
    pub span: Span,
}

/// When the film moves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Pulse {
    /// Never.
    None,
    /// From full to draining.
    Continuous,
    /// In a turning drum, from full to draining.
    Rotary(Speed),
    /// At these times on the step's clock, each for so long.
    At {
        /// The times, rising.
        times: Vec<Time>,
        /// For how long.
        amount: Amount,
    },
    /// `first` from full on, then `then` at every whole `every` on the clock.
    Interval {
        /// From full on.
        first: Option<Amount>,
        /// Then so much, this often.
        then: Option<(Amount, Time)>,
    },
}

/// How much moving at a time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amount {
    /// For so long.
    For(Time),
    /// So many inversions.
    Inversions(u32),
}

words! {
    /// The motion.
    pub enum Motion {
        /// The tank is turned over and back.
        Inversion = "inversion",
        /// The reels are turned by their axis.
        Rotation = "rotation",
        /// The tray is tilted.
        Rocking = "rocking",
        /// The film is lifted and lowered.
        Lifting = "lifting",
        /// Sheets are moved from the bottom to the top.
        Shuffling = "shuffling",
    }
}

words! {
    /// When the tank is knocked.
    pub enum Knock {
        /// After each time of moving.
        AfterEach = "after each",
        /// Once, after the first.
        Once = "once",
    }
}

impl Scheme {
    /// How long one inversion takes unless a scheme says otherwise (common practice, no source).
    pub const INVERSION: Time = Time::from_ms(2500);

    /// How long an amount takes in this scheme.
    #[must_use]
    pub fn length(&self, amount: Amount) -> Time {
        match amount {
            Amount::For(time) => time,
            Amount::Inversions(count) => self.inversion.times(count),
        }
    }
}

//! How the film is kept moving (R7).

use super::quantity::{Speed, Time};
use super::words::words;
use crate::source::Span;

/// An agitation scheme.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scheme {
    /// Its name, if the recipe names a scheme.
    pub name: Option<String>,
    /// When to agitate.
    pub pulse: Pulse,
    /// How to agitate.
    pub by: Option<Motion>,
    /// The time of one inversion.
    pub inversion: Time,
    /// When to knock the tank to free air bells.
    pub knock: Option<Knock>,
    /// Notes for the card.
    pub notes: Vec<String>,
    /// Its span.
    pub span: Span,
}

/// When to agitate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Pulse {
    /// Never.
    None,
    /// All the time from full to draining.
    Continuous,
    /// In a rotary drum, from full to draining.
    Rotary(Speed),
    /// At these times of the step's clock.
    At {
        /// The times, in order.
        times: Vec<Time>,
        /// The amount each time.
        amount: Amount,
    },
    /// First from full on, then at whole multiples of an interval of the clock.
    Interval {
        /// The first amount.
        first: Option<Amount>,
        /// The later amount, and the interval.
        then: Option<(Amount, Time)>,
    },
}

/// An amount of agitation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amount {
    /// A time.
    For(Time),
    /// A number of inversions.
    Inversions(u32),
}

words! {
    /// A way to agitate.
    pub enum Motion {
        Inversion = "inversion",
        Rotation = "rotation",
        Rocking = "rocking",
        Lifting = "lifting",
        Shuffling = "shuffling",
    }
}

words! {
    /// When to knock the tank.
    pub enum Knock {
        /// After each agitation.
        AfterEach = "after each",
        /// Once, after the first agitation.
        Once = "once",
    }
}

impl Scheme {
    /// The default time of one inversion (common practice, no source).
    pub const INVERSION: Time = Time::from_ms(2500);

    /// The time of an amount in this scheme.
    pub fn length(&self, amount: Amount) -> Time {
        match amount {
            Amount::For(time) => time,
            Amount::Inversions(count) => self.inversion.times(count),
        }
    }
}

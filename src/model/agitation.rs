//! How the film is kept moving (R7).

use super::quantity::{Speed, Time};
use super::words::words;
use crate::source::Span;

/// An agitation scheme: when and how the film is moved during a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scheme {
    /// The name of the scheme, if the recipe gives one.
    pub name: Option<String>,
    /// When to agitate.
    pub pulse: Pulse,
    /// The way to agitate, if stated.
    pub by: Option<Motion>,
    /// The time of one inversion.
    pub inversion: Time,
    /// When to knock the tank to free air bells.
    pub knock: Option<Knock>,
    /// Whether the scheme says `stand`: its long rests without agitation are intended.
    pub stand: bool,
    /// The scheme's notes, which the card shows.
    pub notes: Vec<String>,
    /// The span of the statement or declaration of the scheme.
    pub span: Span,
}

/// When to agitate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Pulse {
    /// No agitation.
    None,
    /// All the time while the tank is full.
    Continuous,
    /// In a rotary drum, from when the drum is full until it is drained.
    Rotary(Speed),
    /// At these times on the step's clock.
    At {
        /// The times, in order.
        times: Vec<Time>,
        /// The amount of agitation at each time.
        amount: Amount,
    },
    /// Once when the tank is full, and again whenever the step's clock reaches a multiple of an interval.
    Interval {
        /// The amount of agitation when the tank is full, if any.
        first: Option<Amount>,
        /// The amount of agitation at each multiple of the interval, and the interval.
        then: Option<(Amount, Time)>,
    },
}

/// An amount of agitation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amount {
    /// Agitation for this time.
    For(Time),
    /// This number of inversions.
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
        /// Bursts of gas through the bath.
        Bursts = "bursts",
    }
}

impl Motion {
    /// Whether this motion moves the film in a tray or in an open tank.
    pub fn is_open(self) -> bool {
        matches!(self, Motion::Rocking | Motion::Lifting | Motion::Shuffling | Motion::Bursts)
    }
}

words! {
    /// When to knock the tank.
    pub enum Knock {
        AfterEach = "after each",
        /// Once, after the first agitation.
        Once = "once",
    }
}

impl Scheme {
    /// The default time of one inversion (common practice, no source).
    pub const INVERSION: Time = Time::from_ms(2500);

    /// Whether the tank needs a lid, because the scheme inverts it or turns it as a drum.
    pub fn needs_a_lid(&self) -> bool {
        let is_counted = |amount: Option<Amount>| matches!(amount, Some(Amount::Inversions(_)));
        match &self.pulse {
            _ if self.by.is_some() => self.by == Some(Motion::Inversion),
            Pulse::Rotary(_) => true,
            Pulse::At { amount, .. } => is_counted(Some(*amount)),
            Pulse::Interval { first, then } => {
                is_counted(*first) || is_counted(then.map(|(amount, _)| amount))
            }
            Pulse::None | Pulse::Continuous => false,
        }
    }

    /// Whether the scheme turns a drum that is only partly filled.
    pub fn is_rotary(&self) -> bool {
        matches!(self.pulse, Pulse::Rotary(_))
    }

    /// How long an amount of agitation takes in this scheme.
    pub fn length(&self, amount: Amount) -> Time {
        match amount {
            Amount::For(time) => time,
            Amount::Inversions(count) => self.inversion.times(count),
        }
    }
}

//! Random agitation schemes as numbers. Times are in tenths of a second, the ticks of the simulation.

use proptest::prelude::*;

/// The amount of one agitation.
#[derive(Debug, Clone, Copy)]
pub(super) enum Amount {
    /// Tenths of a second.
    For(u32),
    /// A number of inversions.
    Inversions(u32),
}

/// When the film moves.
#[derive(Debug, Clone)]
pub(super) enum Pulse {
    None,
    Continuous,
    Rotary(u32),
    At(Vec<u32>, Amount),
    Interval(Option<Amount>, Option<(Amount, u32)>),
}

/// A scheme.
#[derive(Debug, Clone)]
pub(super) struct Scheme {
    pub(super) pulse: Pulse,
    /// The length of an inversion; 2.5 s by default.
    pub(super) inversion: Option<u32>,
    /// `Some(true)` after each, `Some(false)` once.
    pub(super) knock: Option<bool>,
    /// The motion, if given.
    pub(super) by: Option<&'static str>,
}

/// Tenths of a second, as a recipe writes them.
pub(super) fn seconds(tenths: u32) -> String {
    match tenths % 10 {
        0 => format!("{} s", tenths / 10),
        part => format!("{}.{part} s", tenths / 10),
    }
}

impl Amount {
    fn words(self) -> String {
        match self {
            Amount::For(tenths) => seconds(tenths),
            Amount::Inversions(count) => format!("{count} inversions"),
        }
    }
}

impl Scheme {
    /// The length of an inversion in tenths of a second.
    pub(super) fn inversion(&self) -> u32 {
        self.inversion.unwrap_or(25)
    }

    /// The length of an amount in tenths of a second.
    pub(super) fn length(&self, amount: Amount) -> u32 {
        match amount {
            Amount::For(tenths) => tenths,
            Amount::Inversions(count) => count * self.inversion(),
        }
    }

    /// The value of an `agitate` statement.
    pub(super) fn words(&self) -> String {
        let mut clauses = Vec::new();
        match &self.pulse {
            Pulse::None => clauses.push("none".to_owned()),
            Pulse::Continuous => clauses.push("continuous".to_owned()),
            Pulse::Rotary(rpm) => clauses.push(format!("rotary {rpm} rpm")),
            Pulse::At(times, amount) => {
                let times: Vec<String> = times.iter().map(|time| seconds(*time)).collect();
                clauses.push(format!("at {} for {}", times.join(", "), amount.words()));
            }
            Pulse::Interval(first, then) => {
                clauses.extend(first.map(|first| format!("first {}", first.words())));
                let then =
                    then.map(|(then, every)| format!("then {} every {}", then.words(), seconds(every)));
                clauses.extend(then);
            }
        }
        clauses.extend(self.inversion.map(|inversion| format!("inversion {}", seconds(inversion))));
        clauses
            .extend(self.knock.map(|each| if each { "knock after each" } else { "knock once" }.to_owned()));
        clauses.extend(self.by.map(|by| format!("by {by}")));
        clauses.join(", ")
    }

    /// Whether it is valid: no amount is longer than its period.
    fn fits(&self) -> bool {
        match &self.pulse {
            Pulse::Interval(_, Some((amount, every))) => self.length(*amount) <= *every,
            Pulse::None | Pulse::Continuous | Pulse::Rotary(_) | Pulse::At(..) | Pulse::Interval(..) => true,
        }
    }
}

fn amount() -> impl Strategy<Value = Amount> {
    prop_oneof![(1_u32..900).prop_map(Amount::For), (1_u32..30).prop_map(Amount::Inversions)]
}

fn interval() -> impl Strategy<Value = Pulse> {
    let period = prop_oneof![Just(300_u32), Just(600), 10_u32..1800];
    (prop::option::weighted(0.7, amount()), prop::option::weighted(0.8, (amount(), period)))
        .prop_filter("it says when the film moves", |(first, then)| first.is_some() || then.is_some())
        .prop_map(|(first, then)| Pulse::Interval(first, then))
}

/// Any scheme for a step of at least this number of tenths of a second.
pub(super) fn scheme(shortest: u32) -> impl Strategy<Value = Scheme> {
    let at = (prop::collection::btree_set(0..shortest, 1..5), amount())
        .prop_map(|(times, amount)| Pulse::At(times.into_iter().collect(), amount));
    let pulse = prop_oneof![
        1 => Just(Pulse::None),
        1 => Just(Pulse::Continuous),
        1 => (1_u32..200).prop_map(Pulse::Rotary),
        3 => at,
        8 => interval(),
    ];
    let by = prop::option::of(prop::sample::select(vec!["inversion", "rotation", "lifting"]));
    (pulse, prop::option::of(1_u32..60), prop::option::of(any::<bool>()), by)
        .prop_map(|(pulse, inversion, knock, by)| Scheme { pulse, inversion, knock, by })
        .prop_filter("no amount is longer than its period", Scheme::fits)
}

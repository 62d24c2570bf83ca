//! Agitation schemes, declared in a block or written out in a step (R7).

use super::super::read::{Item, Reading, Value};
use super::{sound, texts};
use crate::model::{Amount, Knock, Motion, Pulse, Scheme, Time};
use crate::source::{Diagnostic, Span};

/// The faults that schemes tell.
pub(super) const FAULTS: &[(&str, &str)] = &[
    ("agitation-twice", "a scheme that says twice when the film moves"),
    ("agitation-without-time", "a scheme that does not say when the film moves"),
    ("agitation-over-period", "an agitation longer than its period"),
    ("agitation-times-unsorted", "agitation at times that do not follow each other"),
];

/// The shortest period of an agitation.
const PERIOD_MIN: Time = Time::from_seconds(1);

/// A scheme declared in a block of its own.
pub(super) fn declared(reading: &Reading, faults: &mut Vec<Diagnostic>) -> Option<Scheme> {
    if !sound(reading) {
        return None;
    }
    let items: Vec<Item> = reading
        .rows
        .iter()
        .filter(|row| !matches!(row.row.word, "note" | "source" | "caution"))
        .flat_map(|row| {
            let word = Item { value: Value::Word(row.row.word), span: row.span };
            std::iter::once(word).chain(row.items.iter().cloned())
        })
        .collect();
    let mut scheme = scheme(&items, reading.span, faults)?;
    scheme.name = reading.name().map(|(name, _)| name.to_owned());
    scheme.notes = texts(&reading.rows, "note");
    Some(scheme)
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the pattern lets no other value through")]
/// A scheme from its words and values, in the order written.
pub(super) fn scheme(items: &[Item], span: Span, faults: &mut Vec<Diagnostic>) -> Option<Scheme> {
    let mut draft = Draft::default();
    let mut items = items.iter().peekable();
    while let Some(item) = items.next() {
        let clause = item.span;
        match &item.value {
            Value::Word("first") => {
                draft.twice |= draft.first.is_some();
                draft.first = amount(&mut items);
            }
            Value::Word("then") => draft.then(every(amount(&mut items), &mut items), clause),
            Value::Word("continuous") => draft.whole(Pulse::Continuous),
            Value::Word("none") => draft.whole(Pulse::None),
            Value::Word("rotary") => {
                if let Some(Value::Speed(speed)) = items.next().map(|item| &item.value) {
                    draft.whole(Pulse::Rotary(*speed));
                }
            }
            Value::Word("at") => {
                let mut times = Vec::new();
                while let Some(Item { value: Value::Time(time), .. }) = items.peek() {
                    times.push(*time);
                    items.next();
                }
                items.next();
                if !times.is_sorted_by(|a, b| a < b) {
                    faults.push(unsorted(clause));
                    return None;
                }
                if let Some(amount) = amount(&mut items) {
                    draft.whole(Pulse::At { times, amount });
                }
            }
            Value::Word("by") => draft.by = items.next().and_then(motion),
            Value::Word("inversion") => {
                if let Some(Value::Time(time)) = items.next().map(|item| &item.value) {
                    draft.inversion = Some(*time);
                }
            }
            Value::Word("knock") => draft.knock = items.next().and_then(|word| knock(word, &mut items)),
            Value::Time(time) => draft.then(every(Some(Amount::For(*time)), &mut items), clause),
            Value::Count(count) => {
                items.next();
                draft.then(every(Some(Amount::Inversions(*count)), &mut items), clause);
            }
            _ => {}
        }
    }
    draft.finish(span, faults)
}

type Items<'a> = std::iter::Peekable<std::slice::Iter<'a, Item>>;

/// What has been said of a scheme so far.
#[derive(Debug, Default)]
struct Draft {
    first: Option<Amount>,
    then: Option<(Amount, Time)>,
    /// Where `then` stands.
    then_span: Option<Span>,
    /// Whether a clause was said a second time.
    twice: bool,
    whole: Vec<Pulse>,
    by: Option<Motion>,
    inversion: Option<Time>,
    knock: Option<Knock>,
}

impl Draft {
    fn then(&mut self, then: Option<(Amount, Time)>, span: Span) {
        self.twice |= self.then.is_some();
        (self.then, self.then_span) = (then, Some(span));
    }

    fn whole(&mut self, pulse: Pulse) {
        self.whole.push(pulse);
    }

    fn finish(mut self, span: Span, faults: &mut Vec<Diagnostic>) -> Option<Scheme> {
        let interval = self.first.is_some() || self.then.is_some();
        let pulse = match (self.whole.pop(), interval) {
            (Some(pulse), false) if self.whole.is_empty() => pulse,
            (None, true) if !self.twice => Pulse::Interval { first: self.first, then: self.then },
            (None, false) => {
                faults.push(
                    Diagnostic::error(
                        "agitation-without-time",
                        span,
                        "this does not say when the film moves",
                    )
                    .help("say it, as in: first 30 s, then 10 s every 1 min; or: continuous; or: none"),
                );
                return None;
            }
            (Some(_), _) | (None, true) => {
                faults.push(
                    Diagnostic::error("agitation-twice", span, "this says in two ways when the film moves")
                        .help("keep one: continuous, none, rotary, at …, or first … then …"),
                );
                return None;
            }
        };
        let inversion = self.inversion.unwrap_or(Scheme::INVERSION);
        let scheme =
            Scheme { name: None, pulse, by: self.by, inversion, knock: self.knock, notes: Vec::new(), span };
        if let Pulse::Interval { then: Some((amount, period)), .. } = scheme.pulse {
            let length = scheme.length(amount);
            if length > period || period < PERIOD_MIN {
                let message = format!("the film would move for {length} in every {period}");
                faults.push(
                    Diagnostic::error("agitation-over-period", self.then_span.unwrap_or(span), message)
                        .help("lengthen the period, or write continuous if the film never rests"),
                );
                return None;
            }
        }
        Some(scheme)
    }
}

fn amount(items: &mut Items<'_>) -> Option<Amount> {
    match items.next().map(|item| &item.value) {
        Some(Value::Time(time)) => Some(Amount::For(*time)),
        Some(Value::Count(count)) => {
            items.next();
            Some(Amount::Inversions(*count))
        }
        _ => None,
    }
}

fn every(amount: Option<Amount>, items: &mut Items<'_>) -> Option<(Amount, Time)> {
    items.next();
    match (amount, items.next().map(|item| &item.value)) {
        (Some(amount), Some(Value::Time(period))) => Some((amount, *period)),
        _ => None,
    }
}

fn motion(item: &Item) -> Option<Motion> {
    let all = [Motion::Inversion, Motion::Rotation, Motion::Rocking, Motion::Lifting, Motion::Shuffling];
    all.into_iter().find(|motion| item.value == Value::Word(motion.word()))
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the pattern lets no other word through")]
fn knock(word: &Item, items: &mut Items<'_>) -> Option<Knock> {
    match word.value {
        Value::Word("after") => {
            items.next();
            Some(Knock::AfterEach)
        }
        Value::Word("once") => Some(Knock::Once),
        _ => None,
    }
}

fn unsorted(span: Span) -> Diagnostic {
    Diagnostic::error("agitation-times-unsorted", span, "these times do not follow each other")
        .help("write them in order, each later than the one before")
}

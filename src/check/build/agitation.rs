//! Agitation schemes, declared in a block or written out in a step (R7).

use crate::model::{Amount, Knock, Motion, Pulse, Scheme, Time};
use crate::source::{Diagnostic, Span};
use crate::vocabulary::{Lines as _, Matched, Reading, say};

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
    if !reading.is_sound() {
        return None;
    }
    let mut scheme = scheme(reading.lines(), reading.span, faults)?;
    scheme.name = reading.name().map(|(name, _)| name.to_owned());
    scheme.notes = reading.texts(say::Note::text);
    Some(scheme)
}

/// A scheme from its clauses, in the order written.
pub(super) fn scheme<'a>(
    clauses: impl Iterator<Item = &'a Reading>,
    span: Span,
    faults: &mut Vec<Diagnostic>,
) -> Option<Scheme> {
    let mut draft = Draft::default();
    for clause in clauses {
        if let Some(first) = clause.view::<say::First>() {
            draft.twice |= draft.first.is_some();
            draft.first = first.get(say::First::amount);
        } else if let Some(then) = clause.view::<say::Then>() {
            draft.then(then.get(say::Then::amount).zip(then.get(say::Then::every)), clause.span);
        } else if let Some(then) = clause.view::<say::Every>() {
            draft.then(then.get(say::Every::amount).zip(then.get(say::Every::every)), clause.span);
        } else if let Some(at) = clause.view::<say::AtTimes>() {
            draft.whole.extend(Some(at_times(at, faults)?));
        } else if let Some(by) = clause.view::<say::By>() {
            draft.by = by.get(say::By::motion);
        } else if let Some(inversion) = clause.view::<say::Inversion>() {
            draft.inversion = inversion.get(say::Inversion::time);
        } else if let Some(knock) = clause.view::<say::Knock>() {
            draft.knock = knock.get(say::Knock::knock);
        } else if let Some(turning) = clause.view::<say::Turning>() {
            draft.whole.extend(turning.get(say::Turning::speed).map(Pulse::Rotary));
        } else if clause.is::<say::Continuous>() {
            draft.whole.push(Pulse::Continuous);
        } else if clause.is::<say::Still>() {
            draft.whole.push(Pulse::None);
        }
    }
    draft.finish(span, faults)
}

fn at_times(at: Matched<'_, say::AtTimes>, faults: &mut Vec<Diagnostic>) -> Option<Pulse> {
    let times: Vec<Time> = at.all(say::AtTimes::time).map(|(time, _)| time).collect();
    if !times.is_sorted_by(|a, b| a < b) {
        faults.push(unsorted(at.span));
        return None;
    }
    Some(Pulse::At { times, amount: at.get(say::AtTimes::amount)? })
}

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

fn unsorted(span: Span) -> Diagnostic {
    Diagnostic::error("agitation-times-unsorted", span, "these times do not follow each other")
        .help("write them in order, each later than the one before")
}

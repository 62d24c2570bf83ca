//! Agitation schemes, declared in a block or written in a step (R7).

use super::Builder;
use crate::model::{Amount, Knock, Motion, Pulse, Scheme, Time};
use crate::source::{Diagnostic, Span};
use crate::vocabulary::{Lines as _, Reading, say};

/// The shortest period of an agitation.
const PERIOD_MIN: Time = Time::from_seconds(1);

/// The clauses of a scheme so far.
#[derive(Debug, Default)]
struct Draft {
    first: Option<Amount>,
    then: Option<(Amount, Time)>,
    then_span: Option<Span>,
    /// Whether a clause occurs twice.
    twice: bool,
    whole: Vec<Pulse>,
    by: Option<Motion>,
    inversion: Option<Time>,
    knock: Option<Knock>,
}

impl Builder<'_> {
    /// A scheme declared in a block.
    pub(super) fn agitation(&mut self, reading: &Reading) -> Option<Scheme> {
        if !reading.is_sound() {
            return None;
        }
        let mut scheme = self.scheme(reading.lines(), reading.span)?;
        scheme.name = reading.name().map(|(name, _)| name.to_owned());
        scheme.notes = reading.texts(say::Note::text);
        Some(scheme)
    }

    /// A scheme from its clauses, in the order written.
    pub(super) fn scheme<'r>(
        &mut self,
        clauses: impl Iterator<Item = &'r Reading>,
        span: Span,
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
                let times: Vec<Time> = at.all(say::AtTimes::time).map(|(time, _)| time).collect();
                if !times.is_sorted_by(|a, b| a < b) {
                    let message = "these times are not in order";
                    let fault = Diagnostic::error("agitation-times-unsorted", at.span, message);
                    self.report(fault.help("put the times in order"));
                    return None;
                }
                draft.whole.push(Pulse::At { times, amount: at.get(say::AtTimes::amount)? });
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
        draft.finish(span).map_err(|fault| self.report(*fault)).ok()
    }
}

impl Draft {
    fn then(&mut self, then: Option<(Amount, Time)>, span: Span) {
        self.twice |= self.then.is_some();
        (self.then, self.then_span) = (then, Some(span));
    }

    fn finish(mut self, span: Span) -> Result<Scheme, Box<Diagnostic>> {
        let interval = self.first.is_some() || self.then.is_some();
        let pulse = match (self.whole.pop(), interval) {
            (Some(pulse), false) if self.whole.is_empty() => pulse,
            (None, true) if !self.twice => Pulse::Interval { first: self.first, then: self.then },
            (None, false) => {
                let message = "this agitation does not say when the film moves";
                return Err(Box::new(Diagnostic::error("agitation-without-time", span, message).help(
                    "add a line such as: first 30 s, then 10 s every 1 min; or: continuous; or: none",
                )));
            }
            _ => {
                let message = "this agitation says twice when the film moves";
                return Err(Box::new(
                    Diagnostic::error("agitation-twice", span, message)
                        .help("keep one: continuous, none, rotary, at …, or first … then …"),
                ));
            }
        };
        let inversion = self.inversion.unwrap_or(Scheme::INVERSION);
        let scheme =
            Scheme { name: None, pulse, by: self.by, inversion, knock: self.knock, notes: Vec::new(), span };
        if let Pulse::Interval { then: Some((amount, period)), .. } = scheme.pulse {
            let length = scheme.length(amount);
            if length > period || period < PERIOD_MIN {
                let message = format!("the film would move for {length} in every {period}");
                return Err(Box::new(
                    Diagnostic::error("agitation-over-period", self.then_span.unwrap_or(span), message)
                        .help("lengthen the period, or write continuous if the film never rests"),
                ));
            }
        }
        Ok(scheme)
    }
}

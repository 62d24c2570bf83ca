//! Tanks, and agitation schemes, which are declared in a block or written in a step (R7).

use super::super::error;
use super::{Builder, named};
use crate::model::{Amount, Pulse, Reels, Scheme, Tank, Time};
use crate::source::Span;
use crate::vocabulary::{Lines as _, Matched, Reading, say};

/// The shortest period of an agitation.
const PERIOD_MIN: Time = Time::from_seconds(1);

impl Builder<'_> {
    pub(super) fn tank(&mut self, reading: &Reading) -> Option<Tank> {
        let (name, title) = named(reading)?;
        let reels: Vec<Reels> = reading.each().filter_map(reels).collect();
        self.distinct(
            "repeated-format",
            reels.iter().map(|own| (own.format.word(), own.span)),
            |format| format!("there is already a row of reels for {format}"),
            "keep one row for each format",
        );
        let holds = reading.stated(say::Holds::volume);
        let rotary = reading.stated(say::Rotary::volume);
        if let Some(holds) = holds {
            let mut too_much = |span, who: String, need, help| {
                if need > holds.value {
                    let fault = error(
                        "reels-over-holds",
                        span,
                        format!("{who} {need}, and the tank holds {}", holds.value),
                        help,
                    );
                    self.report(fault.other(holds.span, "what the tank holds"));
                }
            };
            for own in &reels {
                let who = format!("{} of {} need", own.most, own.format.word());
                too_much(
                    own.span,
                    who,
                    own.each.scaled(i64::from(own.most), 1),
                    "check the volume per reel, the number of reels, and what the tank holds",
                );
            }
            if let Some(rotary) = rotary {
                too_much(rotary.span, "rotary needs".to_owned(), rotary.value, "check both volumes");
            }
        }
        let fill = reading.one::<say::TankFill>();
        reading.is_sound().then(|| Tank {
            name,
            title,
            span: reading.span,
            reels,
            rotary,
            holds,
            fill_whole: fill.is_some_and(|row| row.has(say::TankFill::whole)),
            fill: reading.stated(say::TankFill::time),
            drain: reading.stated(say::TankDrain::time),
            notes: reading.texts(say::Note::text),
            cautions: reading.texts(say::Caution::text),
        })
    }

    /// A scheme declared in a block.
    pub(super) fn agitation(&mut self, reading: &Reading) -> Option<Scheme> {
        if !reading.is_sound() {
            return None;
        }
        let clauses: Vec<&Reading> = reading.lines().collect();
        let mut scheme = self.scheme(&clauses, reading.span)?;
        scheme.name = reading.name().map(|(name, _)| name.to_owned());
        scheme.notes = reading.texts(say::Note::text);
        Some(scheme)
    }

    /// A scheme from its clauses, in the order written.
    pub(super) fn scheme(&mut self, clauses: &[&Reading], span: Span) -> Option<Scheme> {
        for at in clauses.each::<say::AtTimes>() {
            if !at.all(say::AtTimes::time).map(|(time, _)| time).is_sorted_by(|a, b| a < b) {
                self.error(
                    "agitation-times-unsorted",
                    at.span,
                    "these times are not in order",
                    "put the times in order",
                );
                return None;
            }
        }
        let first: Vec<Amount> = clauses.each().filter_map(|row| row.get(say::First::amount)).collect();
        let then: Vec<(Amount, Time, Span)> = clauses.iter().filter_map(|clause| then(clause)).collect();
        let whole: Vec<Pulse> = clauses.iter().filter_map(|clause| whole(clause)).collect();
        let interval = !first.is_empty() || !then.is_empty();
        if whole.is_empty() && !interval {
            self.error(
                "agitation-without-time",
                span,
                "this agitation does not say when the film moves",
                "add a line such as: first 30 s, then 10 s every 1 min; or: continuous; or: none",
            );
            return None;
        }
        if whole.len() + usize::from(interval) > 1 || first.len() > 1 || then.len() > 1 {
            self.error(
                "agitation-twice",
                span,
                "this agitation says twice when the film moves",
                "keep one: continuous, none, rotary, at …, or first … then …",
            );
            return None;
        }
        let (first, then) = (first.first().copied(), then.first().copied());
        let interval = Pulse::Interval { first, then: then.map(|(amount, period, _)| (amount, period)) };
        let inversion = clauses.each().filter_map(|row| row.get(say::Inversion::time)).last();
        let scheme = Scheme {
            name: None,
            pulse: whole.into_iter().next().unwrap_or(interval),
            by: clauses.each().filter_map(|row| row.get(say::By::motion)).last(),
            inversion: inversion.unwrap_or(Scheme::INVERSION),
            knock: clauses.each().filter_map(|row| row.get(say::Knock::knock)).last(),
            notes: Vec::new(),
            span,
        };
        if let Some((amount, period, span)) = then
            && (scheme.length(amount) > period || period < PERIOD_MIN)
        {
            self.error(
                "agitation-over-period",
                span,
                format!("the film would move for {} in every {period}", scheme.length(amount)),
                "lengthen the period, or write continuous if the film never rests",
            );
            return None;
        }
        Some(scheme)
    }
}

fn reels(row: Matched<'_, say::Reels>) -> Option<Reels> {
    Some(Reels {
        format: row.get(say::Reels::format)?,
        most: row.get(say::Reels::most)?,
        each: row.get(say::Reels::each)?,
        span: row.span,
    })
}

/// The amount and the period of a clause, and its span.
fn then(clause: &Reading) -> Option<(Amount, Time, Span)> {
    let (amount, every) = match (clause.view::<say::Then>(), clause.view::<say::Every>()) {
        (Some(then), _) => (then.get(say::Then::amount)?, then.get(say::Then::every)?),
        (_, every) => (every?.get(say::Every::amount)?, every?.get(say::Every::every)?),
    };
    Some((amount, every, clause.span))
}

/// The agitation of a clause that describes the whole step.
fn whole(clause: &Reading) -> Option<Pulse> {
    if let Some(at) = clause.view::<say::AtTimes>() {
        let times = at.all(say::AtTimes::time).map(|(time, _)| time).collect();
        return Some(Pulse::At { times, amount: at.get(say::AtTimes::amount)? });
    }
    let turning = clause.view().and_then(|row| row.get(say::Turning::speed)).map(Pulse::Rotary);
    turning
        .or(clause.is::<say::Continuous>().then_some(Pulse::Continuous))
        .or(clause.is::<say::Still>().then_some(Pulse::None))
}

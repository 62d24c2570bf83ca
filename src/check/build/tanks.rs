//! Builds tanks, and agitation schemes (rule R7). A scheme has a block of its own or is written in a step.

use super::super::error;
use super::{Builder, named};
use crate::model::{Amount, Pulse, Reels, Scheme, Stated, Tank, Time, Transfer};
use crate::source::{Diagnostic, Span};
use crate::vocabulary::{Lines as _, Matched, Reading, say};

const PERIOD_MIN: Time = Time::from_seconds(1);

impl Builder<'_> {
    pub(super) fn tank(&mut self, reading: &Reading) -> Option<Tank> {
        let (name, title) = named(reading)?;
        let reels: Vec<Reels> = reading.each().filter_map(reels).collect();
        self.distinct(
            "repeated-format",
            reels.iter().map(|own| (own.format.to_string(), own.span)),
            |format| format!("there is already a row of reels for {format}"),
            "keep one row for each format",
        );
        let holds = reading.stated(say::Holds::volume);
        let rotary = reading.stated(say::Rotary::volume);
        if let Some(holds) = holds {
            let reels = reels.iter().map(|own| {
                let who = format!("{} reels of {} need", own.most, own.format);
                let help = "check the volume per reel, the number of reels, and what the tank holds";
                (own.span, who, own.each.scaled(i64::from(own.most), 1), help)
            });
            let rotary =
                rotary.map(|it| (it.span, "rotary needs".to_owned(), it.value, "check both volumes"));
            for (span, who, need, help) in reels.chain(rotary).filter(|(_, _, need, _)| *need > holds.value) {
                let message = format!("{who} {need}, and the tank holds {}", holds.value);
                let fault = error("reels-over-holds", span, message, help);
                self.report(fault.other(holds.span, "what the tank holds"));
            }
        }
        let fill = reading.one::<say::TankFill>();
        let transfer = reading.one::<say::Transfer>();
        let poured = fill.map(|row| row.span).or(reading.one::<say::TankDrain>().map(|row| row.span));
        if let Some((transfer, poured)) = transfer.map(|row| row.span).zip(poured) {
            let message =
                "with 'transfer' the film moves from bath to bath, so the tank is neither filled nor drained";
            let fault = error("said-in-two-ways", poured, message, "keep 'transfer', or 'fill' and 'drain'");
            self.report(fault.other(transfer, "the material moves"));
            return None;
        }
        let transfer = transfer.and_then(|row| {
            let each = row.has(say::Transfer::each);
            Some(Stated::new(Transfer { time: row.time()?, each }, row.span))
        });
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
            transfer,
            notes: reading.notes(),
            cautions: reading.cautions(),
        })
    }

    pub(super) fn agitation(&mut self, reading: &Reading) -> Option<Scheme> {
        if !reading.is_sound() {
            return None;
        }
        let clauses: Vec<&Reading> = reading.lines().collect();
        let mut scheme = self.scheme(&clauses, reading.span)?;
        scheme.name = reading.name().map(|(name, _)| name.to_owned());
        scheme.notes = reading.notes();
        Some(scheme)
    }

    pub(super) fn scheme(&mut self, clauses: &[&Reading], span: Span) -> Option<Scheme> {
        let mut at_times = clauses.each::<say::AtTimes>();
        let unsorted =
            at_times.find(|at| !at.all(say::AtTimes::time).map(|(time, _)| time).is_sorted_by(|a, b| a < b));
        let first = clauses.one::<say::First>().and_then(|row| row.amount());
        let periods: Vec<(Amount, Time, Span)> = clauses.iter().filter_map(|clause| then(clause)).collect();
        let whole: Vec<Pulse> = clauses.iter().filter_map(|clause| whole(clause)).collect();
        let then = periods.first().copied();
        let pulses = whole.len() + usize::from(first.is_some() || then.is_some());
        let interval = Pulse::Interval { first, then: then.map(|(amount, period, _)| (amount, period)) };
        let inversion = clauses.one::<say::Inversion>().and_then(|row| row.time());
        let scheme = Scheme {
            name: None,
            pulse: whole.into_iter().next().unwrap_or(interval),
            by: clauses.one::<say::By>().and_then(|row| row.motion()),
            inversion: inversion.unwrap_or(Scheme::INVERSION),
            knock: clauses.one::<say::Knock>().and_then(|row| row.knock()),
            stand: clauses.one::<say::Stand>().is_some(),
            notes: Vec::new(),
            span,
        };
        let fault = if let Some(at) = unsorted {
            error(
                "agitation-times-unsorted",
                at.span,
                "these times are not in order",
                "put the times in order, the earliest first",
            )
        } else if pulses == 0 {
            error(
                "agitation-without-time",
                span,
                "the scheme does not state when to agitate",
                "add a line such as: first 30 s, then 10 s every 1 min; or: continuous; or: none",
            )
        } else if pulses > 1 || periods.len() > 1 {
            stated_twice(clauses, &periods, span)
        } else if let Some((amount, period, span)) = then
            && (scheme.length(amount) > period || period < PERIOD_MIN)
        {
            over_period(amount, scheme.length(amount), period, span)
        } else {
            return Some(scheme);
        };
        self.report(fault);
        None
    }
}

/// The error for an agitation that states twice when to agitate, such as `continuous` and `first 30 s`.
fn stated_twice(clauses: &[&Reading], periods: &[(Amount, Time, Span)], span: Span) -> Diagnostic {
    let is_time = |clause: &&&Reading| {
        whole(clause).is_some() || then(clause).is_some() || clause.view::<say::First>().is_some()
    };
    let mut all: Vec<Span> = clauses.iter().filter(is_time).map(|clause| clause.span).collect();
    if let [(.., one), (.., other), ..] = periods {
        all = vec![*one, *other];
    }
    let (first, last) = (all.first().copied().unwrap_or(span), all.last().copied().unwrap_or(span));
    error(
        "agitation-twice",
        last,
        "this agitation states twice when to agitate",
        "keep one of the two and remove the other: only 'first' and 'then' belong together",
    )
    .other(first, "the first")
}

/// The error for a period that is shorter than the agitation, or than [`PERIOD_MIN`].
fn over_period(amount: Amount, length: Time, period: Time, span: Span) -> Diagnostic {
    let what = match amount {
        Amount::Inversions(count) => format!("{count} inversions take {length}"),
        Amount::For(_) => format!("the agitation lasts {length}"),
    };
    let (message, less) = match length > period {
        true => {
            (format!("{what}, longer than the {period} after 'every'"), "agitate for less than that, or ")
        }
        false => (format!("the time after 'every' is {period}, and 1 s is the least"), ""),
    };
    let help =
        format!("{less}write a longer time after 'every'; if the film never rests, write only: continuous");
    error("agitation-over-period", span, message, help)
}

fn reels(row: Matched<'_, say::Reels>) -> Option<Reels> {
    Some(Reels { format: row.format()?, most: row.most()?, each: row.each()?, span: row.span })
}

/// The length, the period and the span of repeated agitation, such as `then 10 s every 1 min`; `None` for other
/// clauses.
fn then(clause: &Reading) -> Option<(Amount, Time, Span)> {
    let (amount, every) = match (clause.view::<say::Then>(), clause.view::<say::Every>()) {
        (Some(then), _) => (then.amount()?, then.every()?),
        (_, every) => (every?.amount()?, every?.every()?),
    };
    Some((amount, every, clause.span))
}

/// The agitation of a step, if this one clause, such as `continuous`, states all of it; otherwise `None`.
fn whole(clause: &Reading) -> Option<Pulse> {
    if let Some(at) = clause.view::<say::AtTimes>() {
        let times = at.all(say::AtTimes::time).map(|(time, _)| time).collect();
        return Some(Pulse::At { times, amount: at.amount()? });
    }
    let turning = clause.view::<say::Turning>().and_then(|row| row.speed()).map(Pulse::Rotary);
    turning
        .or(clause.is::<say::Continuous>().then_some(Pulse::Continuous))
        .or(clause.is::<say::Still>().then_some(Pulse::None))
}

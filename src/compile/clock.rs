//! R6, R14. The times when the tank of a step is full, drains and is empty; the actions of a wash; and the water used
//! in the evening.

use super::evening::Evening;
use super::schedule::{Action, Because, Event, Notices, PlannedStep};
use super::{EVENTS_MAX, agitation};
use crate::model::{Change, Clock, Duration, Scheme, Stated, Step, Time, Transfer, Use, Volume};
use crate::source::{Diagnostic, Span};

/// The moments of a step, counted from the start of the pour, and how long filling and draining take.
#[derive(Debug, Clone, Copy)]
pub(super) struct StepClock {
    pub(super) fill: Time,
    pub(super) drain: Time,
    /// The moment at which the clock of the step shows 0.
    pub(super) zero: Time,
    pub(super) draining: Time,
}

/// How long filling and draining take, as stated by the step or else by the tank; 0 if not stated or in a dry step.
#[derive(Default)]
pub(super) struct FillAndDrain {
    pub(super) fill: Time,
    pub(super) drain: Time,
    /// Where the filling and draining times are stated.
    pub(super) spans: Vec<Span>,
    pub(super) because: Vec<Because>,
    /// Whether the film or paper is moved from bath to bath, as in trays. Then `drain` is the time to move it.
    pub(super) moves: bool,
}

impl FillAndDrain {
    pub(super) fn actions(&self, is_water: bool) -> (Action, Action) {
        match is_water {
            _ if self.moves => (Action::Lower, Action::Lift),
            true => (Action::Fill, Action::Dump),
            false => (Action::Pour, Action::Drain),
        }
    }
}

impl Evening<'_> {
    pub(super) fn fill_and_drain(&self, step: &Step) -> FillAndDrain {
        if !step.is_in_liquid() {
            return FillAndDrain::default();
        }
        if let Some(transfer) = self.tank().and_then(|tank| tank.transfer) {
            return self.transferred(transfer);
        }
        let of_tank = self.tank().map_or((None, None), |tank| (tank.fill, tank.drain));
        let (mut spans, mut because) = (Vec::new(), Vec::new());
        let mut time = |of: &str, own: Option<Stated<Time>>, of_tank| {
            let (text, stated) = match (own, of_tank) {
                (Some(own), _) => ("as the step says", Some(own)),
                (None, Some(of_tank)) => ("as the tank says", Some(of_tank)),
                (None, None) => ("not stated: counted as 0:00", None),
            };
            spans.extend(stated.map(|stated| stated.span));
            let from = stated.iter().map(|stated| stated.span).collect();
            because.push(Because::new(of, "R6", text, from));
            stated.map_or(Time::ZERO, |stated| *stated)
        };
        let fill = time("/fill_ms", step.fill, of_tank.0);
        let drain = time("/drain_ms", step.drain, of_tank.1);
        FillAndDrain { fill, drain, spans, because, moves: false }
    }

    /// The times of filling and draining if film or paper is moved from bath to bath: filling takes no time, and the
    /// move counts as draining.
    fn transferred(&self, transfer: Stated<Transfer>) -> FillAndDrain {
        let rolls = self.tonight.rolls.iter().fold(0_u32, |sum, rolls| sum.saturating_add(rolls.count));
        let drain = if transfer.each { transfer.time.times(rolls) } else { transfer.time };
        let said = match transfer.each {
            true => format!("the transfer to the next bath: {rolls} x {}", transfer.time),
            false => "the transfer to the next bath, as the tank says".to_owned(),
        };
        let because = vec![
            Because::new("/fill_ms", "R6", "the baths stand: nothing is filled", vec![transfer.span]),
            Because::new("/drain_ms", "R6", said, vec![transfer.span]),
        ];
        let spans = vec![transfer.span, transfer.span];
        FillAndDrain { fill: Time::ZERO, drain, spans, because, moves: true }
    }

    /// Warns on the card of agitation by inversion or rotation where the material is in trays or in a rack.
    pub(super) fn warn_of_motions(&self, notices: &mut Notices) {
        let Some(tank) = self.tank().filter(|tank| tank.transfer.is_some()) else { return };
        let turned = self.recipe.steps.iter().filter(|step| {
            step.agitation.as_ref().is_some_and(|scheme| scheme.needs_a_lid())
                && step.round.is_none_or(|(at, _)| at == 1)
        });
        let titles: Vec<String> = turned.map(Step::title).collect();
        if !titles.is_empty() {
            let text = format!(
                "'{}' has no lid to invert or turn it, as {} says: lift or rock it for as long",
                tank.name,
                titles.join(", ")
            );
            notices.warn("R7", text);
        }
    }

    pub(super) fn warn_unknown_times(&self, notices: &mut Notices) {
        let mut steps = self.recipe.steps.iter().filter(|step| step.is_in_liquid());
        if steps.all(|step| self.fill_and_drain(step).spans.len() == 2) {
            return;
        }
        if let Some(tank) = self.tank() {
            let text =
                format!("'{}' does not state its filling and draining times: each counts as 0:00", tank.name);
            return notices.advise("R6", text);
        }
        let volumes = if self.tonight.volume.is_some() { "" } else { "volumes are what the load needs, " };
        notices.warn("R6", format!("no tank is named: {volumes}filling and draining count as 0:00"));
    }
}

/// The moments of a step of this duration. `None`, with an error, if filling and draining leave no time between them.
pub(super) fn clock(
    step: &Step,
    duration: Time,
    FillAndDrain { fill, drain, spans, moves, .. }: &FillAndDrain,
    errors: &mut Vec<Diagnostic>,
) -> Option<StepClock> {
    let (fill, drain) = (*fill, *drain);
    let (zero, draining) = match &*step.duration {
        _ if *step.clock == Clock::FromFull => (fill, fill + duration),
        // Running water washes for the whole stated time (rule R14), so draining starts after that time.
        Duration::Flow { .. } => (Time::ZERO, duration.max(fill)),
        // Draining starts when the person sees the sign (rule R18).
        Duration::Sign(sign) if sign.times.is_none() && fill < duration => (Time::ZERO, duration),
        _ if fill + drain < duration => (Time::ZERO, duration - drain),
        _ => {
            let taken = fill + drain;
            let (take, help, other) = match moves {
                true => ("the transfer takes", "lengthen the step, or move fewer at once", "the transfer"),
                false => (
                    "filling and draining take",
                    "lengthen the step, or time it from the full tank: clock from full",
                    "the time to fill or to drain",
                ),
            };
            let message = format!("{} lasts {duration}, but {take} {taken}", step.title());
            let error = Diagnostic::error("no-time-left", step.duration.span, message).help(help);
            let spans = spans.iter().take(if *moves { 1 } else { spans.len() });
            errors.push(spans.fold(error, |error, span| error.other(*span, other)));
            return None;
        }
    };
    Some(StepClock { fill, drain, zero, draining })
}

/// The actions of a wash in changes of water, and when the wash ends (rule R14). During a soak, the film is agitated as
/// the step says.
pub(super) fn changes(
    step: &Step,
    changes: &[Change],
    pour: Time,
    taken: &FillAndDrain,
    errors: &mut Vec<Diagnostic>,
) -> (Vec<Event>, Time) {
    let FillAndDrain { fill, drain, .. } = *taken;
    let (into, out) = taken.actions(true);
    let scheme = step.agitation.as_ref();
    let inversion = scheme.map_or(Scheme::INVERSION, |scheme| scheme.inversion);
    let mut events = Vec::new();
    let mut now = pour;
    for change in changes {
        let full = now + fill;
        events.push(Event::new(now, fill, into));
        let length = match change {
            Change::Inversions(count) => {
                let length = inversion.times(*count);
                let moved = Event::new(full, length, Action::Agitate);
                // Film that is moved from bath to bath is not inverted: it is agitated for as long as the inversions
                // would take.
                let inverted = Some(("inversion", *count)).filter(|_| !taken.moves).unzip();
                events.push(Event { by: inverted.0, count: inverted.1, ..moved });
                length
            }
            Change::Soak(time) => {
                if let Some(scheme) = scheme {
                    let clock = StepClock { fill, drain, zero: Time::ZERO, draining: fill + *time };
                    events.extend(agitation::events(scheme, clock, now, scheme.span, errors));
                }
                *time
            }
        };
        events.push(Event::new(full + length, drain, out));
        now = full + length + drain;
        if events.len() > EVENTS_MAX {
            break;
        }
    }
    (events, now)
}

/// The volume of water that a step uses tonight, to mix a bath that is not kept or to wash (rule R14).
pub(super) fn water_of(step: &Step, planned: &PlannedStep) -> Volume {
    let Some(bath) = &planned.bath else { return Volume::ZERO };
    let kept = bath.used.is_some() || bath.reuse.is_some_and(Use::is_kept);
    let mixed = if kept { Volume::ZERO } else { bath.water.scaled(i64::from(bath.pours), 1) };
    let time = match &*step.duration {
        Duration::Flow { time, .. } => *time,
        _ => planned.duration,
    };
    bath.flow.map_or(mixed, |flow| flow.scaled(time.ms, 60_000) + mixed)
}

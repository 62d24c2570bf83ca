//! R7. When the film is agitated: only while the tank is full and not draining.

use super::clock::StepClock;
use super::schedule::{Action, Event};
use super::words;
use crate::model::{Amount, Knock, Motion, Pulse, Scheme, Time};
use crate::source::{Diagnostic, Sorted as _, Span};

const MOVES_MAX: i64 = 50_000;

/// A period of agitation; its times are counted from the start of the pour.
#[derive(Debug, Clone, Copy)]
struct Stretch {
    start: Time,
    end: Time,
    /// Whether the recipe gives the amount of agitation in inversions.
    counted: bool,
}

pub(super) fn events(
    scheme: &Scheme,
    clock: StepClock,
    pour: Time,
    span: Span,
    errors: &mut Vec<Diagnostic>,
) -> Vec<Event> {
    let Some(stretches) = stretches(scheme, clock) else {
        errors.push(too_many(scheme, clock, span));
        return Vec::new();
    };
    let mut events = Vec::new();
    for (number, stretch) in joined(stretches, clock, scheme.inversion).into_iter().enumerate() {
        let length = stretch.end - stretch.start;
        let (by, count) = if let Pulse::Rotary(speed) = scheme.pulse {
            (Some("rotary"), Some(speed.rpm))
        } else {
            let motion = scheme.by.or(stretch.counted.then_some(Motion::Inversion));
            (motion.map(Motion::word), stretch.counted.then(|| inversions(length, scheme.inversion)))
        };
        events.push(Event { by, count, ..Event::new(pour + stretch.start, length, Action::Agitate) });
        let knocked = match scheme.knock {
            Some(Knock::AfterEach) => true,
            Some(Knock::Once) => number == 0,
            None => false,
        };
        if knocked && stretch.end < clock.draining {
            events.push(Event::new(pour + stretch.end, Time::ZERO, Action::Knock));
        }
    }
    events
}

fn too_many(scheme: &Scheme, clock: StepClock, span: Span) -> Diagnostic {
    let time = words::time(clock.draining - clock.zero);
    let every = match &scheme.pulse {
        Pulse::Interval { then: Some((_, every)), .. } => format!("every {} for {time}", words::time(*every)),
        _ => format!("in {time}"),
    };
    Diagnostic::error("too-many-actions", span, format!("{every} is more than 50,000 agitations"))
        .help(format!("check the time of the step, {time}, and its unit; or agitate less often"))
}

fn inversions(length: Time, each: Time) -> u32 {
    u32::try_from(length.ms / each.ms.max(1)).unwrap_or(u32::MAX)
}

/// The periods of agitation of the scheme; `None` if there are more than [`MOVES_MAX`].
fn stretches(scheme: &Scheme, clock: StepClock) -> Option<Vec<Stretch>> {
    let stretch = |start: Time, amount: Amount| {
        let start = start.max(clock.fill);
        let counted = matches!(amount, Amount::Inversions(_));
        Stretch { start, end: start + scheme.length(amount), counted }
    };
    Some(match &scheme.pulse {
        Pulse::None => Vec::new(),
        Pulse::Continuous | Pulse::Rotary(_) => {
            vec![Stretch { start: clock.fill, end: clock.draining, counted: false }]
        }
        Pulse::At { times, amount } => {
            times.iter().map(|time| stretch(clock.zero + *time, *amount)).collect()
        }
        Pulse::Interval { first, then } => {
            let opening = first.or(then.map(|(amount, _)| amount)).map(|amount| stretch(clock.fill, amount));
            let mut all: Vec<Stretch> = opening.into_iter().collect();
            if let Some((amount, period)) = then {
                let after = clock.fill + first.map_or(Time::ZERO, |amount| scheme.length(amount));
                let count = (clock.draining - clock.zero).ms / period.ms.max(1);
                if count > MOVES_MAX {
                    return None;
                }
                let starts = (1..=count).map(|number| clock.zero + Time::from_ms(period.ms * number));
                all.extend(starts.filter(|start| *start > after).map(|start| stretch(start, *amount)));
            }
            all
        }
    })
}

/// Sorts the stretches of agitation, cuts them off at the start of draining, merges overlapping stretches and drops
/// incomplete inversions.
fn joined(mut stretches: Vec<Stretch>, clock: StepClock, inversion: Time) -> Vec<Stretch> {
    stretches.order_by_key(|stretch| stretch.start);
    let mut joined: Vec<Stretch> = Vec::new();
    for mut stretch in stretches.into_iter().filter(|stretch| stretch.start < clock.draining) {
        stretch.end = stretch.end.min(clock.draining);
        match joined.last_mut() {
            Some(last) if stretch.start <= last.end => last.end = last.end.max(stretch.end),
            _ => joined.push(stretch),
        }
    }
    for stretch in joined.iter_mut().filter(|stretch| stretch.counted) {
        let whole = inversions(stretch.end - stretch.start, inversion);
        stretch.end = stretch.start + inversion.times(whole);
    }
    joined.retain(|stretch| stretch.start < stretch.end);
    joined
}

//! One step, planned: its temperature, time, bath and actions.

use super::evening::Evening;
use super::schedule::{Action, Because, Event, PlannedBath, PlannedStep};
use super::temperature::{self, Course};
use super::volume::Filling;
use super::{agitation, bottle, clock, duration, reasons, round, volume, wash, words};
use crate::model::{Chart, Duration, Step, StepKind, Time, Use, Volume};
use crate::source::Diagnostic;

/// How a step lies in time.
struct Layout {
    duration: Time,
    fill: Time,
    drain: Time,
    end: Time,
    events: Vec<Event>,
    because: Vec<Because>,
}

/// Plans a step that begins at `start`; `None` if it cannot be done tonight, which is told.
pub(super) fn plan(
    evening: &Evening<'_>,
    step: &Step,
    filling: Option<Filling>,
    start: Time,
    faults: &mut Vec<Diagnostic>,
) -> Option<PlannedStep> {
    let course = temperature::course(evening, step);
    if course.is_some_and(|course| !temperature::holds(step, course)) {
        return None;
    }
    let handling = step.handling.map_or(Time::ZERO, |handling| handling.value);
    let mut layout = lay_out(evening, step, course, start + handling, faults)?;
    if handling > Time::ZERO {
        let handle = Event { at: start, length: handling, action: Action::Handle, by: None, count: None };
        layout.events.insert(0, handle);
    }
    let bath = filling.as_ref().map(|filling| planned_bath(evening, step, filling));
    layout.because.extend(reasons::of_clock(evening, step));
    layout.because.extend(reasons::of_bath(step, filling, bath.as_ref()));
    layout.because.extend(course.map(|course| Because {
        of: "/temperature_c".to_owned(),
        rule: "R3",
        text: match course.own {
            Some(_) => {
                format!("{} as the step says", words::temperature(course.from, evening.conditions.scale))
            }
            None => format!("{} as was asked for", words::temperature(course.from, evening.conditions.scale)),
        },
        exact: None,
        from: course.own.into_iter().collect(),
    }));
    Some(PlannedStep {
        kind: step.kind,
        name: step.name.clone(),
        bath,
        start,
        duration: layout.duration,
        fill: layout.fill,
        drain: layout.drain,
        handling,
        end: layout.end,
        temperature: course.map(|course| course.from),
        ending: course.filter(|course| course.from != course.to).map(|course| course.to),
        chart: chart(step),
        events: layout.events,
        because: layout.because,
        light_safe: step.light_safe.is_some(),
        light: step.light.as_ref().map(|light| light.value.clone()),
        notes: with_scheme_notes(step),
        cautions: step.cautions.clone(),
    })
}

fn chart(step: &Step) -> Option<Chart> {
    match &step.duration.value {
        Duration::Chart(chart) => Some(chart.clone()),
        Duration::Plain { .. }
        | Duration::Clearing { .. }
        | Duration::EachSide(_)
        | Duration::Changes(_)
        | Duration::Flow { .. } => None,
    }
}

fn with_scheme_notes(step: &Step) -> Vec<String> {
    let of_scheme = step.agitation.iter().flat_map(|scheme| &scheme.value.notes);
    step.notes.iter().chain(of_scheme).cloned().collect()
}

fn lay_out(
    evening: &Evening<'_>,
    step: &Step,
    course: Option<Course>,
    pour: Time,
    faults: &mut Vec<Diagnostic>,
) -> Option<Layout> {
    if let Duration::Changes(changes) = &step.duration.value {
        let (fill, drain, mut from) = clock::fill_and_drain(evening, step);
        let (events, end) = wash::changes(step, changes, pour, (fill, drain), faults);
        from.insert(0, step.duration.span);
        let text = format!("{} changes of water, each filled and drained", changes.len());
        let because = Because { of: "/duration_ms".to_owned(), rule: "R14", text, exact: None, from };
        return Some(Layout { duration: end - pour, fill, drain, end, events, because: vec![because] });
    }
    let reckoned = duration::reckon(evening, step, course, faults)?;
    let duration = round::whole(reckoned.time);
    let because = vec![reckoned.because];
    if !volume::in_bath(step) {
        let events = dry_events(step, pour, duration);
        let (fill, drain) = (Time::ZERO, Time::ZERO);
        return Some(Layout { duration, fill, drain, end: pour + duration, events, because });
    }
    let layout = clock::lay_out(evening, step, duration, faults)?;
    let events = wet_events(step, layout, pour, faults);
    let (fill, drain) = (layout.fill, layout.drain);
    Some(Layout { duration, fill, drain, end: pour + layout.empty, events, because })
}

/// Pour, agitation and draining; water is filled and dumped, a bath is poured and drained.
fn wet_events(step: &Step, layout: clock::StepClock, pour: Time, faults: &mut Vec<Diagnostic>) -> Vec<Event> {
    let water = step.bath.as_ref().is_none_or(|bath| bath.solution.is_none());
    let (into, out) = if water { (Action::Fill, Action::Dump) } else { (Action::Pour, Action::Drain) };
    let mut events = vec![event(pour, layout.fill, into)];
    if let Some(scheme) = &step.agitation {
        events.extend(agitation::events(&scheme.value, layout, pour, scheme.span, faults));
    }
    events.push(event(pour + layout.draining, layout.drain, out));
    events
}

fn dry_events(step: &Step, at: Time, duration: Time) -> Vec<Event> {
    if let Duration::EachSide(time) = step.duration.value {
        return vec![event(at, time, Action::Expose), event(at + time, time, Action::Expose)];
    }
    let action = match step.kind {
        StepKind::Warm => Action::Warm,
        StepKind::Expose => Action::Expose,
        StepKind::Dry => Action::Dry,
        StepKind::Presoak
        | StepKind::Develop
        | StepKind::Stop
        | StepKind::Fix
        | StepKind::Bleach
        | StepKind::BleachFix
        | StepKind::Clear
        | StepKind::Wash
        | StepKind::Tone
        | StepKind::Rinse
        | StepKind::Rest => Action::Rest,
    };
    vec![event(at, duration, action)]
}

fn event(at: Time, length: Time, action: Action) -> Event {
    Event { at, length, action, by: None, count: None }
}

fn planned_bath(evening: &Evening<'_>, step: &Step, filling: &Filling) -> PlannedBath {
    let (pours, flow) = match &step.duration.value {
        Duration::Changes(changes) => {
            (u32::try_from(changes.len()).expect("a line of text holds fewer changes"), None)
        }
        Duration::Flow { flow, .. } => (1, Some(flow.per_minute)),
        Duration::Chart(_) | Duration::Plain { .. } | Duration::Clearing { .. } | Duration::EachSide(_) => {
            (1, None)
        }
    };
    let solution = step.bath.as_ref().and_then(|bath| Some((bath, bath.solution.as_ref()?)));
    let Some((bath, solution)) = solution else {
        return PlannedBath {
            solution: "water".to_owned(),
            title: "water".to_owned(),
            dilution: None,
            fate: None,
            volume: filling.volume,
            parts: Vec::new(),
            water: filling.volume,
            pours,
            flow,
            replenish: None,
            bottle: None,
        };
    };
    let (parts, water) = volume::parts(bath, filling);
    let replenish = solution.replenish.filter(|_| bath.fate == Some(Use::Replenished));
    PlannedBath {
        solution: solution.name.clone(),
        title: solution.title.clone(),
        dilution: Some(bath.dilution.clone()),
        fate: bath.fate,
        volume: filling.volume,
        parts,
        water,
        pours,
        flow,
        replenish: replenish
            .map(|each| each.value.scaled(evening.twelfths(), 12).rounded(Volume::from_ml(1))),
        bottle: bottle::planned(evening, step),
    }
}

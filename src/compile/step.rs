//! One step, planned: its temperature, time, bath and actions, and how each number came about.

use super::evening::Evening;
use super::schedule::{Action, Because, Event, PlannedBath, PlannedStep};
use super::temperature::{self, Course};
use super::volume::Filling;
use super::{agitation, bottle, clock, duration, time, volume, words};
use crate::model::{Duration, Step, StepKind, Time, Use, Volume};
use crate::source::{Diagnostic, Span};

/// A step's times and actions.
struct Layout {
    duration: Time,
    fill: Time,
    drain: Time,
    end: Time,
    events: Vec<Event>,
    because: Vec<Because>,
}

/// Plans a step that begins at `start`; `None` with errors if it cannot be done tonight.
pub(super) fn plan(
    evening: &Evening<'_>,
    step: &Step,
    filling: Option<Filling>,
    start: Time,
    errors: &mut Vec<Diagnostic>,
) -> Option<PlannedStep> {
    let course = temperature::course(evening, step);
    if course.is_some_and(|course| !temperature::is_allowed(step, course)) {
        return None;
    }
    let handling = step.handling.map_or(Time::ZERO, |handling| handling.value);
    let mut layout = lay_out(evening, step, course, start + handling, errors)?;
    if handling > Time::ZERO {
        layout.events.insert(0, Event::new(start, handling, Action::Handle));
    }
    let bath = filling.as_ref().map(|filling| planned_bath(evening, step, filling));
    let mut because = layout.because;
    because.extend(step.handling.map(|handling| {
        Because::new("/handling_ms", "R6", "as the step says".to_owned(), vec![handling.span])
    }));
    if step.is_in_liquid() {
        because.extend(clock::fill_and_drain(evening, step).because);
    }
    because.extend(
        filling.zip(bath.as_ref()).into_iter().flat_map(|(filling, bath)| of_bath(step, filling, bath)),
    );
    because.extend(course.map(|course| {
        let said = if course.own.is_some() { "as the step says" } else { "as was asked for" };
        let text = format!("{} {said}", evening.degrees(course.from));
        Because::new("/temperature_c", "R3", text, course.own.into_iter().collect())
    }));
    let chart = if let Duration::Chart(chart) = &step.duration.value { Some(chart.clone()) } else { None };
    let scheme_notes = step.agitation.iter().flat_map(|scheme| &scheme.value.notes);
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
        chart,
        events: layout.events,
        because,
        light_safe: step.light_safe.is_some(),
        light: step.light.as_ref().map(|light| light.value.clone()),
        notes: step.notes.iter().chain(scheme_notes).cloned().collect(),
        cautions: step.cautions.clone(),
    })
}

fn lay_out(
    evening: &Evening<'_>,
    step: &Step,
    course: Option<Course>,
    pour: Time,
    errors: &mut Vec<Diagnostic>,
) -> Option<Layout> {
    if let Duration::Changes(changes) = &step.duration.value {
        let taken = clock::fill_and_drain(evening, step);
        let (events, end) = clock::changes(step, changes, pour, &taken, errors);
        let from = [step.duration.span].into_iter().chain(taken.spans).collect();
        let text = format!("{} changes of water, each filled and drained", changes.len());
        let because = vec![Because::new("/duration_ms", "R14", text, from)];
        return Some(Layout {
            duration: end - pour,
            fill: taken.fill,
            drain: taken.drain,
            end,
            events,
            because,
        });
    }
    let timed = duration::timed(evening, step, course, errors)?;
    let duration = time::to_whole_second(timed.time);
    let because = vec![timed.because];
    if !step.is_in_liquid() {
        let events = dry_events(step, pour, duration);
        let (fill, drain) = (Time::ZERO, Time::ZERO);
        return Some(Layout { duration, fill, drain, end: pour + duration, events, because });
    }
    let clock = clock::lay_out(evening, step, duration, errors)?;
    // Water is filled and dumped, a bath is poured and drained.
    let (into, out) = match step.solution() {
        None => (Action::Fill, Action::Dump),
        Some(_) => (Action::Pour, Action::Drain),
    };
    let mut events = vec![Event::new(pour, clock.fill, into)];
    if let Some(scheme) = &step.agitation {
        events.extend(agitation::events(&scheme.value, clock, pour, scheme.span, errors));
    }
    events.push(Event::new(pour + clock.draining, clock.drain, out));
    Some(Layout { duration, fill: clock.fill, drain: clock.drain, end: pour + clock.empty, events, because })
}

fn dry_events(step: &Step, at: Time, duration: Time) -> Vec<Event> {
    if let Duration::EachSide(time) = step.duration.value {
        return vec![Event::new(at, time, Action::Expose), Event::new(at + time, time, Action::Expose)];
    }
    let action = match step.kind {
        StepKind::Warm => Action::Warm,
        StepKind::Expose => Action::Expose,
        StepKind::Dry => Action::Dry,
        _ => Action::Rest,
    };
    vec![Event::new(at, duration, action)]
}

fn planned_bath(evening: &Evening<'_>, step: &Step, filling: &Filling) -> PlannedBath {
    let (pours, flow) = match &step.duration.value {
        Duration::Changes(changes) => {
            (u32::try_from(changes.len()).expect("a line of text holds fewer changes"), None)
        }
        Duration::Flow { flow, .. } => (1, Some(flow.per_minute)),
        _ => (1, None),
    };
    let water = PlannedBath {
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
    let Some((bath, solution)) = step.bath.as_ref().zip(step.solution()) else { return water };
    let (parts, rest) = volume::measured(solution, &bath.dilution, filling.volume, filling.first);
    let replenish = solution.replenish.filter(|_| bath.fate == Some(Use::Replenished));
    let each_night = |each: Volume| each.scaled(evening.twelfths(), 12).rounded(Volume::from_ml(1));
    PlannedBath {
        solution: solution.name.clone(),
        title: solution.title.clone(),
        dilution: Some(bath.dilution.clone()),
        fate: bath.fate,
        parts,
        water: rest,
        replenish: replenish.map(|each| each_night(each.value)),
        bottle: bottle::planned(evening, step),
        ..water
    }
}

/// Why the bath has its volume, its parts and its water (R8), and what is added afterwards (R13).
fn of_bath(step: &Step, filling: Filling, bath: &PlannedBath) -> Vec<Because> {
    let mut all = vec![Because::new("/volume_ml", "R8", filling.text, filling.from)];
    let stated: Vec<Span> = step.bath.iter().map(|bath| bath.span).collect();
    let dilution = bath.dilution.as_ref().map(ToString::to_string).unwrap_or_default();
    let volume = words::volume(bath.volume);
    for at in 0..bath.parts.len() {
        let text = format!("its part of {volume} at {dilution}, to what can be measured");
        all.push(Because::new(format!("/parts/{at}/ml"), "R8", text, stated.clone()));
    }
    let text =
        if bath.parts.is_empty() { "all of it is water".to_owned() } else { format!("the rest of {volume}") };
    all.push(Because::new("/water_ml", "R8", text, stated));
    let each = step.solution().and_then(|solution| solution.replenish);
    if let (Some(_), Some(each)) = (bath.replenish, each) {
        let text = format!("{} for each roll of 80 square inches", words::volume(each.value));
        all.push(Because::new("/replenish_ml", "R13", text, vec![each.span]));
    }
    all
}

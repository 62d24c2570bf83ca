//! Plans one step: the temperature, time, bath and actions, and how each number is calculated.

use super::bath::{Added, MeasuredPart, PlannedBath, PlannedBottle};
use super::clock::{self, FillAndDrain};
use super::evening::Evening;
use super::schedule::{Action, Because, Event, PlannedStep};
use super::temperature::Course;
use super::volume::{Filling, brushable, measurable, measured_to};
use super::{agitation, legs, temperature, time, words};
use crate::model::{Bath, Duration, Format, Solution, Stated, Step, StepKind, Time, Use, Volume};
use crate::source::{Diagnostic, Span};

impl Evening<'_> {
    /// The step as planned from `start` on; `None`, with errors, if the step cannot be done tonight.
    pub(super) fn plan(
        &self,
        step: &Step,
        filling: Option<Filling>,
        start: Time,
        errors: &mut Vec<Diagnostic>,
    ) -> Option<PlannedStep> {
        let course = self.course(step);
        // Once the temperature of some step is an error, a step is not planned either if its temperature would only
        // cause a warning.
        let is_refused = errors.iter().any(|error| matches!(error.name, "outside-band" | "outside-chart"));
        if course.is_some_and(|course| !temperature::is_possible(step, course, is_refused)) {
            return None;
        }
        let handling = step.handling.map_or(Time::ZERO, |handling| *handling);
        let pour = start + handling;
        let taken = self.fill_and_drain(step);
        let (duration, reason, own, end) = if let Duration::Changes(changes) = &*step.duration {
            let (own, end) = clock::changes(step, changes, pour, &taken, errors);
            let from = [step.duration.span].into_iter().chain(taken.spans.iter().copied()).collect();
            let text = format!("{} changes of water, each filled and drained", changes.len());
            (end - pour, Because::new("/duration_ms", "R14", text, from), own, end)
        } else {
            let timed = self.timed(step, course, errors)?;
            let duration = time::to_whole_second(timed.time);
            let (own, end) = if step.is_in_liquid() {
                liquid_events(step, duration, pour, &taken, errors)?
            } else {
                (dry_events(step, pour, duration), pour + duration)
            };
            (duration, timed.because, own, end)
        };
        let own_notes = step.agitation.iter().flat_map(|scheme| &scheme.notes);
        let handled = (handling > Time::ZERO).then(|| Event::new(start, handling, Action::Handle));
        let decision = legs::decision(step, &taken);
        let mut because = vec![reason];
        let said = |it: Stated<Time>| Because::new("/handling_ms", "R6", "as the step says", vec![it.span]);
        because.extend(step.handling.map(said));
        because.extend(taken.because);
        let bath = filling.map(|filling| self.planned_bath(step, filling, &mut because));
        because.extend(course.map(|course| self.because_of(course)));
        let planned = PlannedStep {
            kind: step.kind,
            name: step.name.clone(),
            round: step.round,
            bath,
            start,
            duration,
            fill: taken.fill,
            drain: taken.drain,
            handling,
            end,
            decision,
            ended: None,
            temperature: course.map(|course| course.from),
            ending: course.filter(|course| course.from != course.to).map(|course| course.to),
            allowed: course.and_then(|course| temperature::allowed(step, course)),
            chart: if let Duration::Chart(chart) = &*step.duration { Some(chart.clone()) } else { None },
            events: handled.into_iter().chain(own).collect(),
            rests: self.rests(step, course, &mut because),
            because,
            lighting: step.lighting.as_ref().map(|lighting| lighting.value.clone()),
            light: step.light.as_deref().cloned(),
            notes: step.notes.iter().chain(own_notes).cloned().collect(),
            cautions: step.cautions.clone(),
            doubt: None,
        };
        Some(self.with_doubt(step, planned))
    }

    fn because_of(&self, course: Course) -> Because {
        let said = if course.own.is_some() { "as the step says" } else { "as stated for tonight" };
        let text = format!("{} {said}", self.degrees(course.from));
        Because::new("/temperature_c", "R3", text, course.own.into_iter().collect())
    }

    fn with_doubt(&self, step: &Step, mut planned: PlannedStep) -> PlannedStep {
        planned.doubt = self.doubt(step, &planned);
        let reason = planned.doubt.as_ref().map(|doubt| doubt.because(step, planned.duration));
        planned.because.extend(reason);
        planned
    }

    /// The bath of a step. Adds to `because` how its volumes were calculated.
    fn planned_bath(&self, step: &Step, filling: Filling, because: &mut Vec<Because>) -> PlannedBath {
        let Filling { volume, first, text, from } = filling;
        because.push(Because::new("/volume_ml", "R8", text, from));
        let flow = step.duration.flow().map(|flow| flow.per_minute);
        let pours = match &*step.duration {
            Duration::Changes(changes) => {
                u32::try_from(changes.len()).expect("a step has fewer changes of water than 2^32")
            }
            _ => 1,
        };
        let mut planned = PlannedBath {
            solution: "water".to_owned(),
            title: "water".to_owned(),
            volume,
            water: volume,
            pours,
            flow,
            ..PlannedBath::default()
        };
        let stated: Vec<Span> = step.bath.iter().map(|bath| bath.span).collect();
        let Some((bath, solution)) = step.bath.as_ref().zip(step.solution()) else {
            because.push(Because::new("/water_ml", "R8", "all of it is water", stated));
            return planned;
        };
        planned.solution.clone_from(&solution.name);
        planned.title.clone_from(&solution.title);
        planned.part.clone_from(&bath.part);
        planned.dilution = Some(bath.dilution.clone());
        planned.name.clone_from(&bath.name);
        planned.becomes.clone_from(&bath.becomes);
        planned.reuse = bath.reuse;
        if bath.used.is_some() {
            planned.used = bath.used;
            planned.water = Volume::ZERO;
            because.push(Because::new("/water_ml", "R8", "none: the bath is used already", stated));
            return planned;
        }
        planned.bottle = self.bottle(step).map(|standing| PlannedBottle {
            name: standing.bath.name.clone(),
            on: standing.on,
            treated: standing.treated,
            left: standing.left_after(self.counted_in(step)),
        });
        measure_out(&mut planned, (step, bath), solution, first, because);
        if let Some(each) = solution.replenish.filter(|_| bath.reuse == Some(Use::Replenished)) {
            let added = each.scaled(self.area(), Format::ROLL).rounded(Volume::from_ml(1));
            planned.replenish = Some(added);
            planned.replenisher.clone_from(&solution.replenisher);
            let text = format!("{} for each roll of 80 square inches", words::volume(*each));
            because.push(Because::new("/replenish_ml", "R13", text, vec![each.span]));
        }
        planned
    }
}

fn measure_out(
    planned: &mut PlannedBath,
    (step, bath): (&Step, &Bath),
    solution: &Solution,
    first: Volume,
    because: &mut Vec<Because>,
) {
    let exact = bath.added_in(planned.volume);
    let precision = if step.kind == StepKind::Coat { brushable } else { measurable };
    let added = exact.rounded(precision(exact));
    let own = planned.volume - added;
    (planned.parts, planned.water) =
        measured_to(precision, solution, (bath.bottle(), &bath.dilution), (own, first));
    let own = words::volume(own);
    let part =
        |at: usize, text: String, span| Because::new(format!("/parts/{at}/ml"), "R8", text, vec![span]);
    for at in 0..planned.parts.len() {
        let text = format!("its part of {own} at {}, rounded to what can be measured", bath.dilution);
        because.push(part(at, text, bath.span));
    }
    because.push(Because::new("/water_ml", "R8", format!("the rest of {own}"), vec![bath.span]));
    let Some(addition) = &bath.added else { return };
    let per_litre = addition.per_litre;
    let text = format!("{} in each litre of {}", words::volume(per_litre), words::volume(planned.volume));
    because.push(part(planned.parts.len(), text, addition.span));
    let Solution { name, title, .. } = &*addition.solution;
    planned.parts.push(MeasuredPart { what: name.clone(), volume: added });
    planned.added = Some(Added { name: name.clone(), title: title.clone(), per_litre });
}

/// The actions of a step in a liquid, and when the tank is empty again. A step that is too short is an error.
pub(super) fn liquid_events(
    step: &Step,
    duration: Time,
    pour: Time,
    taken: &FillAndDrain,
    errors: &mut Vec<Diagnostic>,
) -> Option<(Vec<Event>, Time)> {
    let clock = clock::clock(step, duration, taken, errors)?;
    let (into, out) = taken.actions(step.solution().is_none());
    let mut events = vec![Event::new(pour, clock.fill, into)];
    if let Some(scheme) = &step.agitation {
        events.extend(agitation::events(scheme, clock, pour, scheme.span, errors));
    }
    let draining = pour + clock.draining;
    events.push(Event::new(draining, clock.drain, out));
    Some((events, draining + clock.drain))
}

fn dry_events(step: &Step, at: Time, duration: Time) -> Vec<Event> {
    if let Duration::EachSide(time) = *step.duration {
        return vec![Event::new(at, time, Action::Expose), Event::new(at + time, time, Action::Expose)];
    }
    let action = match step.kind {
        StepKind::Warm => Action::Warm,
        StepKind::Coat => Action::Coat,
        StepKind::Expose => Action::Expose,
        StepKind::Dry => Action::Dry,
        _ => Action::Rest,
    };
    vec![Event::new(at, duration, action)]
}

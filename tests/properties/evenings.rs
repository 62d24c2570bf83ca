//! The actions of a schedule are in order, inside their step and without overlap; agitation happens only in the bath;
//! times add up (R6, R7, R14, R16).

use proptest::prelude::*;
use wetside::compile::{Action, PlannedStep, Schedule};
use wetside::model::{Clock, Duration, Format, Step, StepKind, Time};
use wetside::source::Diagnostic;

use super::charts::{by_integral, by_powers};
use super::recipe::{METRIC, draft};
use super::tried;
use crate::kitchen::{Kitchen, celsius, compiled, evening};

/// The duration of a step in the tank, from its times and not from its actions.
fn holds_the_tank(planned: &PlannedStep, written: &Step) -> Time {
    let outside = match (&written.duration.value, written.clock.value) {
        // The time of a wash in changes includes filling and draining.
        (Duration::Changes(_), _) => Time::ZERO,
        // Running water is drained after its time.
        (Duration::Flow { .. }, _) => planned.drain,
        (_, Clock::FromPour) => Time::ZERO,
        (_, Clock::FromFull) => planned.fill + planned.drain,
    };
    planned.handling + planned.duration + outside
}

/// The errors in the order and the times of steps and actions.
fn out_of_place(schedule: &Schedule) -> Vec<String> {
    let mut faults = Vec::new();
    let mut now = Time::ZERO;
    for step in &schedule.steps {
        if step.start != now {
            faults.push(format!("{} begins at {}, not at {now}", step.kind.word(), step.start));
        }
        now = step.end;
        let mut clock = step.start;
        for event in &step.events {
            if event.at < clock || event.at + event.length > step.end {
                faults.push(format!("{} {} at {}", step.kind.word(), event.action.word(), event.at));
            }
            clock = event.at + event.length;
        }
        faults.extend(moved_outside_the_bath(step));
    }
    faults
}

/// The agitations and knocks that are not between a pour and its drain.
fn moved_outside_the_bath(step: &PlannedStep) -> Vec<String> {
    let (mut faults, mut full) = (Vec::new(), None);
    for event in &step.events {
        match event.action {
            Action::Pour | Action::Fill | Action::Lower => full = Some(event.at + event.length),
            Action::Drain | Action::Dump | Action::Lift => {
                if full.is_none() || event.length != step.drain {
                    faults.push(format!("{} drains at {}", step.kind.word(), event.at));
                }
                full = None;
            }
            Action::Agitate | Action::Knock => {
                if full.is_none_or(|full| event.at < full) {
                    faults.push(format!("{} moves at {}", step.kind.word(), event.at));
                }
            }
            Action::Mix => {}
            Action::Handle | Action::Rest | Action::Coat | Action::Expose | Action::Warm | Action::Dry => {
                if full.is_some() {
                    faults.push(format!("{} {} in the bath", step.kind.word(), event.action.word()));
                }
            }
        }
    }
    if full.is_some() {
        faults.push(format!("{} never drains", step.kind.word()));
    }
    faults
}

proptest! {
    #![proptest_config(tried(200))]

    #[test]
    fn actions_are_in_order_within_their_step(draft in draft()) {
        let schedule = compiled(&draft.text(METRIC), &draft.evening());
        prop_assert_eq!(out_of_place(&schedule), Vec::<String>::new(), "{}", draft.text(METRIC));
    }

    #[test]
    fn steps_last_as_long_as_their_clock_says(draft in draft()) {
        let schedule = compiled(&draft.text(METRIC), &draft.evening());
        for (planned, written) in schedule.steps.iter().zip(&schedule.recipe.steps) {
            let expected = planned.start + holds_the_tank(planned, written);
            prop_assert_eq!(planned.end, expected, "{}: {}", planned.kind.word(), draft.text(METRIC));
        }
    }

    #[test]
    fn the_total_is_the_sum_of_all_steps_except_drying(draft in draft()) {
        let schedule = compiled(&draft.text(METRIC), &draft.evening());
        let wet = schedule.steps.iter().filter(|step| step.kind != StepKind::Dry);
        let sum: i64 = wet.map(|step| (step.end - step.start).ms).sum();
        prop_assert_eq!(schedule.total.ms, sum);
        let drying = schedule.steps.iter().find(|step| step.kind == StepKind::Dry);
        prop_assert_eq!(schedule.drying, drying.map(|step| step.duration));
    }

    #[test]
    fn a_calculated_time_is_rounded_to_the_nearest_second(draft in draft()) {
        let schedule = compiled(&draft.text(METRIC), &draft.evening());
        let develop = schedule.steps.iter().find(|step| step.kind == StepKind::Develop).unwrap();
        let exact = develop.because.iter().find(|because| because.of == "/duration_ms").unwrap().exact.unwrap();
        #[expect(clippy::cast_precision_loss, reason = "a step's time is small")]
        let over = develop.duration.ms as f64 - exact;
        prop_assert_eq!(develop.duration.ms % 1000, 0);
        prop_assert!(-500.0 < over && over <= 500.0, "{} for {}", develop.duration, exact);
    }

    #[test]
    fn a_development_follows_its_chart_from_the_first_temperature_to_the_last(draft in draft()) {
        let asked = draft.evening();
        let schedule = compiled(&draft.text(METRIC), &asked);
        let develop = schedule.steps.iter().find(|step| step.kind == StepKind::Develop).unwrap();
        let exact = develop.because.iter().find(|because| because.of == "/duration_ms").unwrap().exact.unwrap();
        let (from, to) = (asked.temperature, asked.ending.unwrap_or(asked.temperature));
        let wanted = match from == to {
            true => by_powers(&draft.chart, from.celsius()),
            false => by_integral(&draft.chart, from.celsius(), to.celsius()),
        };
        prop_assert!((exact / 1000.0 - wanted).abs() <= 1e-6 * wanted, "{exact} ms, not {wanted} s");
        prop_assert_eq!((develop.temperature, develop.ending), (Some(from), Some(to).filter(|to| *to != from)));
    }

    #[test]
    fn every_time_and_volume_has_its_origin(draft in draft()) {
        let schedule = compiled(&draft.text(METRIC), &draft.evening());
        for step in &schedule.steps {
            // R22 says how sure the time is, not where it comes from.
            let told =
                |of: &str| step.because.iter().filter(|it| it.of == of && it.rule != "R22").count();
            prop_assert_eq!(told("/duration_ms"), 1, "{}", step.kind.word());
            prop_assert_eq!(told("/volume_ml"), usize::from(step.bath.is_some()), "{}", step.kind.word());
            for because in &step.because {
                // A value from the call, or a default, comes from no line.
                let reckoned = matches!(because.of.as_str(), "/duration_ms" | "/volume_ml");
                prop_assert!((!reckoned || !because.from.is_empty()) && !because.text.is_empty(), "{}", because.of);
            }
        }
    }
}

/// A wash in running water with these lines, in a tank with 20 s to fill and 15 s to drain.
fn running(lines: &str) -> Result<Schedule, Vec<Diagnostic>> {
    let text = format!(
        "wetside 1\n\nfilm estuary-400 {{\n    speed ISO 400\n}}\n\n\
         tank tall {{\n    reels 120 x 1, 500 ml each\n    fill 20 s\n    drain 15 s\n}}\n\n\
         recipe trial {{\n    film estuary-400\n    wash {{\n        flow 2 l/min\n{lines}    }}\n}}\n"
    );
    Kitchen::sound(&text).tried(&evening(celsius("20"), &[(1, Format::F120)]))
}

#[test]
fn running_water_drains_after_its_time() {
    // The 30 s include 20 s of filling; draining follows (R14).
    let schedule = running("        time 30 s\n").map_err(|faults| faults.first().unwrap().message.clone());
    assert_eq!(schedule.map(|schedule| schedule.total), Ok(Time::from_seconds(45)));
}

#[test]
fn running_water_from_the_full_tank_fills_before_it_drains() {
    for time in [10, 20, 60] {
        let lines = format!("        time {time} s\n        clock from full\n");
        let schedule = running(&lines).unwrap();
        assert_eq!(out_of_place(&schedule), Vec::<String>::new(), "{time} s");
        // Filling, the time, and draining (R6).
        assert_eq!(schedule.total, Time::from_seconds(20 + time + 15), "{time} s");
    }
}

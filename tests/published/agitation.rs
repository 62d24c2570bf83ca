//! Filling, agitation and draining by published manuals, compared with a schedule (R6, R7).

use wetside::compile::{PlannedStep, Schedule};
use wetside::model::{Format, StepKind, Volume};

use super::CUSTOM;
use crate::kitchen::{celsius, compiled, evening, step};

/// The schedule of a recipe with one development in water, with these lines.
fn evening_of(lines: &str) -> Schedule {
    let text = format!(
        "wetside 1\n\nfilm estuary-400 {{\n    speed ISO 400\n}}\n\nrecipe trial {{\n    film estuary-400\n    \
         develop {{\n        in water\n        between 18 C and 24 C\n{lines}\n    }}\n}}\n"
    );
    let mut conditions = evening(celsius("20"), &[(1, Format::F120)]);
    conditions.volume = Some(Volume::from_ml(500));
    compiled(&text, &conditions)
}

/// The actions of a step: start and length in seconds, and the action's word.
fn actions(step: &PlannedStep) -> Vec<(i64, i64, &'static str)> {
    let events = step.events.iter();
    events.map(|event| (event.at.ms / 1000, event.length.ms / 1000, event.action.word())).collect()
}

#[test]
fn a_small_tank_is_agitated_as_in_the_navy_manual() {
    // 10 to 20 s to fill, 30 s of inversion, 5 s once every minute, draining when 10 s remain:
    // US Navy, Photography (Basic), NAVEDTRA 14209, 1993, pages 10-16 and 10-24.
    let schedule = evening_of(
        "        time 5:00\n        fill 15 s\n        drain 10 s\n        \
         agitate first 30 s, then 5 s every 1 min, by inversion",
    );
    let develop = step(&schedule, StepKind::Develop);
    let expected = [
        (0, 15, "fill"),
        (15, 30, "agitate"),
        (60, 5, "agitate"),
        (120, 5, "agitate"),
        (180, 5, "agitate"),
        (240, 5, "agitate"),
        (290, 10, "dump"),
    ];
    assert_eq!(actions(develop), expected);
    assert_eq!(develop.end.ms, 300_000);
}

#[test]
fn a_tray_is_agitated_continuously() {
    // US Navy, Photography (Basic), NAVEDTRA 14209, 1993, page 10-16.
    let schedule =
        evening_of("        time 5:00\n        fill 5 s\n        drain 5 s\n        agitate continuous");
    let expected = [(0, 5, "fill"), (5, 290, "agitate"), (295, 5, "dump")];
    assert_eq!(actions(step(&schedule, StepKind::Develop)), expected);
}

#[test]
fn a_fixer_is_agitated_for_15_seconds_and_then_for_10_in_each_minute() {
    // US Army, Laboratory Procedures, subcourse SS0509, 1988, page 24.
    let schedule = evening_of("        time 5:00\n        agitate first 15 s, then 10 s every 60 s");
    let expected = [
        (0, 0, "fill"),
        (0, 15, "agitate"),
        (60, 10, "agitate"),
        (120, 10, "agitate"),
        (180, 10, "agitate"),
        (240, 10, "agitate"),
        (300, 0, "dump"),
    ];
    assert_eq!(actions(step(&schedule, StepKind::Develop)), expected);
}

#[test]
fn sheets_on_hangers_are_agitated_once_a_minute() {
    // 10 s at the start, then once a minute, lifted and tilted: US Army, Laboratory Procedures, subcourse SS0509, 1988,
    // page 20. How long a lift takes is not printed; 4 s here.
    let schedule =
        evening_of("        time 3:00\n        agitate first 10 s, then 4 s every 1 min, by lifting");
    let develop = step(&schedule, StepKind::Develop);
    let expected =
        [(0, 0, "fill"), (0, 10, "agitate"), (60, 4, "agitate"), (120, 4, "agitate"), (180, 0, "dump")];
    assert_eq!(actions(develop), expected);
    let moved = develop.events.iter().filter(|event| event.action.word() == "agitate");
    assert!(moved.clone().all(|event| event.by == Some("lifting")));
}

#[test]
fn after_a_first_minute_of_agitation_the_film_rests_until_minute_two() {
    let schedule = evening_of("        time 4:30\n        agitate first 1 min, then 10 s every 1 min");
    let expected = [
        (0, 0, "fill"),
        (0, 60, "agitate"),
        (120, 10, "agitate"),
        (180, 10, "agitate"),
        (240, 10, "agitate"),
        (270, 0, "dump"),
    ];
    assert_eq!(actions(step(&schedule, StepKind::Develop)), expected, "{CUSTOM}");
}

#[test]
fn first_counts_from_the_full_tank_and_then_from_the_clock() {
    let schedule = evening_of(
        "        time 4:30\n        fill 25 s\n        drain 20 s\n        \
         agitate first 1 min, then 10 s every 1 min",
    );
    let expected = [
        (0, 25, "fill"),
        (25, 60, "agitate"),
        (120, 10, "agitate"),
        (180, 10, "agitate"),
        (240, 10, "agitate"),
        (250, 20, "dump"),
    ];
    assert_eq!(actions(step(&schedule, StepKind::Develop)), expected, "{CUSTOM}");
}

#[test]
fn a_clock_that_starts_when_full_shifts_the_whole_scheme() {
    let schedule = evening_of(
        "        time 2:30\n        clock from full\n        fill 25 s\n        drain 20 s\n        \
         agitate first 1 min, then 10 s every 1 min",
    );
    let expected = [(0, 25, "fill"), (25, 60, "agitate"), (145, 10, "agitate"), (175, 20, "dump")];
    assert_eq!(actions(step(&schedule, StepKind::Develop)), expected, "{CUSTOM}");
}

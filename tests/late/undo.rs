//! Everything that was said can be taken back, in the reverse order.

use proptest::prelude::*;
use wetside::emit::{Live, Press, Said};
use wetside::model::Time;

use super::{Recipes, followed};
use crate::kitchen::celsius;

/// What a person says at random: by number, and a step or a time.
fn said(kind: u8, value: i64, live: &Live, clock: Time) -> Option<Said> {
    Some(match kind {
        0 => Said::Start,
        1 => Said::In(usize::try_from(value % 7).unwrap()),
        2 => Said::Behind(Time::from_seconds(value % 31)),
        3 => Said::At(Time::from_seconds(value % 1500)),
        4 => Said::BackIn,
        5 => Said::NotNow,
        6 => Said::Seen,
        7 => Said::Read(celsius(&format!("{}", 18 + value % 7))),
        _ => return live.state(clock).hold.map(|_| Said::Hung).filter(|_| value % 50 == 0),
    })
}

/// All that a person sees.
fn seen(live: &Live, clock: Time) -> String {
    format!(
        "{:?} {:?} {:?} {:?}",
        live.state(clock),
        live.lid(clock),
        live.took(clock),
        live.read_temperatures()
    )
}

#[test]
fn every_press_can_be_taken_back() {
    let recipes = Recipes::new();
    let evenings = [
        recipes.schedule("estuary-400-mq", "21.5C", "5x120", Some("tall-five")).unwrap(),
        recipes.schedule("headrace-125-inspected", "20C", "4x8x10in", None).unwrap(),
    ];
    let mut runner = proptest::test_runner::TestRunner::new(ProptestConfig {
        cases: 12,
        failure_persistence: None,
        ..ProptestConfig::default()
    });
    let presses = prop::collection::vec((0..9_u8, 0..10_000_i64, 0..60_i64), 1..80);
    let outcome = runner.run(&presses, |presses| {
        for schedule in &evenings {
            let mut live = followed(schedule);
            let (mut clock, mut states) = (Time::ZERO, Vec::new());
            for (kind, value, later) in &presses {
                clock = clock + Time::from_seconds(*later);
                let before = seen(&live, Time::from_seconds(100_000));
                if said(*kind, *value, &live, clock).is_some_and(|said| live.say(said, clock)) {
                    states.push(before);
                }
            }
            // The place on the disk has the same history and gives the same state.
            let kept: Vec<Press> =
                live.history().iter().map(|press| Press::from_json(&press.to_json()).unwrap()).collect();
            prop_assert_eq!(&kept[..], live.history());
            let mut resumed = followed(schedule);
            resumed.restore(&kept, clock);
            let end = Time::from_seconds(100_000);
            prop_assert_eq!(seen(&resumed, end), seen(&live, end));
            while let Some(state) = states.pop() {
                prop_assert!(live.undo(clock).is_some());
                prop_assert_eq!(seen(&live, end), state);
            }
            prop_assert!(live.undo(clock).is_none());
        }
        Ok(())
    });
    outcome.unwrap();
}

/// A developer that was taken out 1:00 too early and is back after 20 s counts 10 s of them: at 0:05 + 7:29 = 7:34 its
/// clock showed 7:29, so at 7:54 it shows 7:39, and draining begins at 8:19, which is 0:40 later.
#[test]
fn a_developer_that_is_poured_back_counts_half_of_the_time_outside() {
    let schedule = Recipes::new().schedule("estuary-400-mq", "21.5C", "5x120", Some("tall-five")).unwrap();
    let mut live = followed(&schedule);
    let clock = Time::from_seconds;
    assert!(live.say(Said::Start, clock(0)));
    // Draining begins at 8:19 of the schedule.
    assert!(live.say(Said::At(clock(499)), clock(454)));
    assert_eq!(live.state(clock(455)).word, "DRAIN");
    assert!(live.say(Said::BackIn, clock(474)));
    assert_eq!(live.at(clock(474)), clock(459));
    assert_eq!(live.state(clock(514)).word, "DRAIN");
    assert!(!live.say(Said::BackIn, clock(475)));
    // The stop goes in at 8:54, 10 s later than without the time outside.
    assert!(live.say(Said::In(1), clock(534)));
    let took: Vec<String> = live.took(clock(534)).iter().map(|took| took.words()).collect();
    assert_eq!(took, ["develop 8:49 of 8:39"]);
}

//! The state of a followed session, its keys and its bell. The test sets the clock.

use super::{TEXT, live, seconds};
use wetside::emit::{Key, Live};
use wetside::model::Time;

fn trial() -> Live {
    live(TEXT, Time::ZERO)
}

#[test]
fn no_time_passes_before_the_start() {
    let mut live = trial();
    assert_eq!(live.at(seconds(500)), Time::ZERO);
    assert!(!live.rings(seconds(500)));
    live.press(Key::Start, seconds(500));
    assert_eq!(live.at(seconds(507)), seconds(7));
    live.press(Key::Start, seconds(507));
    assert_eq!(live.at(seconds(508)), seconds(8), "a second start changes nothing");
}

#[test]
fn the_time_does_not_depend_on_how_often_it_is_read() {
    let (mut often, mut seldom) = (trial(), trial());
    for live in [&mut often, &mut seldom] {
        live.press(Key::Start, Time::from_ms(333));
    }
    for ms in (333..200_000).step_by(37) {
        often.rings(Time::from_ms(ms));
    }
    let clock = Time::from_ms(200_333);
    assert_eq!(often.at(clock), seconds(200));
    assert_eq!(seldom.at(clock), seconds(200));
}

#[test]
fn time_in_a_pause_does_not_count() {
    let mut live = trial();
    live.press(Key::Pause, seconds(0));
    live.press(Key::Pause, seconds(12));
    assert_eq!(live.at(seconds(100)), seconds(12));
    live.press(Key::Pause, seconds(100));
    assert_eq!(live.at(seconds(103)), seconds(15));
}

#[test]
fn keys_step_back_and_forward_by_a_moment() {
    let mut live = trial();
    live.press(Key::Start, seconds(0));
    for (key, clock, at) in [
        (Key::Next, 3, 10),
        (Key::Next, 4, 20),
        (Key::Back, 9, 10),
        (Key::Back, 10, 0),
        (Key::Back, 11, 0),
        (Key::Next, 12, 10),
    ] {
        live.press(key, seconds(clock));
        assert_eq!(live.at(seconds(clock)), seconds(at), "{key:?} at {clock}");
    }
    // 17 s after the last key.
    assert_eq!(live.at(seconds(29)), seconds(27));
}

#[test]
fn keys_step_in_a_pause_and_before_the_start_too() {
    let mut live = trial();
    live.press(Key::Next, seconds(0));
    assert_eq!(live.at(seconds(50)), seconds(10));
    live.press(Key::Pause, seconds(50));
    live.press(Key::Pause, seconds(51));
    live.press(Key::Next, seconds(60));
    assert_eq!(live.at(seconds(99)), seconds(20));
}

#[test]
fn the_clock_stops_at_the_end() {
    let mut live = trial();
    live.press(Key::Start, seconds(0));
    // 1:30 of developing, two changes of 1:15, two hours.
    let end = seconds(90 + 150 + 7200);
    assert_eq!(live.at(seconds(100_000)), end);
    live.press(Key::Next, seconds(100_000));
    assert_eq!(live.at(seconds(100_001)), end);
    live.press(Key::Back, seconds(100_001));
    assert_eq!(live.at(seconds(100_001)), seconds(240), "back to where drying begins");
}

#[test]
fn the_bell_rings_at_each_action_and_ten_seconds_before_a_pour_or_drain() {
    let mut live = trial();
    live.press(Key::Start, seconds(0));
    let rung: Vec<i64> = (0..300).filter(|clock| live.rings(seconds(*clock))).collect();
    // Actions: see TEXT. Ten seconds before: 75 and 80 for 85 and 90, 150 and 155, 225.
    assert_eq!(rung, [0, 10, 30, 60, 75, 80, 85, 90, 150, 155, 160, 165, 225, 235, 240]);
}

#[test]
fn the_bell_rings_once_for_missed_actions() {
    let mut live = trial();
    live.press(Key::Start, seconds(0));
    assert!(live.rings(seconds(65)));
    assert!(!live.rings(seconds(65)));
}

#[test]
fn the_bell_does_not_ring_for_skipped_actions() {
    let mut live = trial();
    live.press(Key::Start, seconds(0));
    assert!(live.rings(seconds(0)));
    live.press(Key::Next, seconds(1));
    live.press(Key::Next, seconds(1));
    // From 0:20 the film rests, so nothing begins there.
    assert!(!live.rings(seconds(1)));
    live.press(Key::Next, seconds(2));
    assert!(live.rings(seconds(2)), "agitating begins at 0:30");
    live.press(Key::Pause, seconds(3));
    assert!(!live.rings(seconds(99)), "a pause is silent");
}

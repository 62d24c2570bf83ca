//! The state of a followed session, its keys and its bell. The test sets the clock.

use super::{TEXT, live, seconds, start};
use wetside::emit::{Live, Said};
use wetside::model::Time;

fn trial() -> Live {
    live(TEXT, Time::ZERO)
}

#[test]
fn no_time_passes_before_the_start() {
    let mut live = trial();
    assert_eq!(live.at(seconds(500)), Time::ZERO);
    assert!(!live.rings(seconds(500)));
    start(&mut live, 500);
    assert_eq!(live.at(seconds(498)), seconds(0), "it is counted in");
    assert_eq!(live.at(seconds(507)), seconds(7));
    assert!(!live.say(Said::Start, seconds(507)));
    assert_eq!(live.at(seconds(508)), seconds(8), "a second start changes nothing");
}

#[test]
fn the_time_does_not_depend_on_how_often_it_is_read() {
    let (mut often, mut seldom) = (trial(), trial());
    for live in [&mut often, &mut seldom] {
        live.say(Said::Start, Time::from_ms(333 - 5000));
    }
    for ms in (333..200_000).step_by(37) {
        often.rings(Time::from_ms(ms));
    }
    let clock = Time::from_ms(200_333);
    assert_eq!(often.at(clock), seconds(200));
    assert_eq!(seldom.at(clock), seconds(200));
}

#[test]
fn keys_step_back_and_forward_by_a_moment() {
    let mut live = trial();
    start(&mut live, 0);
    for (is_next, clock, at) in
        [(true, 3, 10), (true, 4, 20), (false, 9, 10), (false, 10, 0), (false, 11, 0), (true, 12, 10)]
    {
        assert!(if is_next { live.next(seconds(clock)) } else { live.back(seconds(clock)) });
        assert_eq!(live.at(seconds(clock)), seconds(at), "at {clock}");
    }
    // 17 s after the last key.
    assert_eq!(live.at(seconds(29)), seconds(27));
}

#[test]
fn keys_step_before_the_start_too() {
    let mut live = trial();
    live.next(seconds(0));
    assert_eq!(live.at(seconds(50)), seconds(10));
    start(&mut live, 60);
    assert_eq!(live.at(seconds(63)), seconds(13));
}

#[test]
fn the_clock_stops_at_the_end() {
    let mut live = trial();
    start(&mut live, 0);
    // 1:30 of developing, two changes of 1:15, two hours.
    let end = seconds(90 + 150 + 7200);
    assert_eq!(live.at(seconds(100_000)), end);
    live.next(seconds(100_000));
    assert_eq!(live.at(seconds(100_001)), end);
    live.back(seconds(100_001));
    assert_eq!(live.at(seconds(100_001)), seconds(240), "back to where drying begins");
}

#[test]
fn the_bell_rings_at_each_action_and_ten_seconds_before_a_pour_or_drain() {
    let mut live = trial();
    start(&mut live, 0);
    let rung: Vec<i64> = (0..300).filter(|clock| live.rings(seconds(*clock))).collect();
    // Actions: see TEXT. Ten seconds before: 75 and 80 for 85 and 90, 150 and 155, 225.
    assert_eq!(rung, [0, 10, 30, 60, 75, 80, 85, 90, 150, 155, 160, 165, 225, 235, 240]);
}

#[test]
fn the_bell_rings_once_for_missed_actions() {
    let mut live = trial();
    start(&mut live, 0);
    assert!(live.rings(seconds(65)));
    assert!(!live.rings(seconds(65)));
}

#[test]
fn the_bell_does_not_ring_for_skipped_actions() {
    let mut live = trial();
    start(&mut live, 0);
    assert!(live.rings(seconds(0)));
    live.next(seconds(1));
    live.next(seconds(1));
    // From 0:20 the film rests, so nothing begins there.
    assert!(!live.rings(seconds(1)));
    live.next(seconds(2));
    assert!(live.rings(seconds(2)), "agitating begins at 0:30");
}

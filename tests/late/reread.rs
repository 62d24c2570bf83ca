//! A temperature that is read again (R5), compared with a numerical integral of the test's own.

use proptest::prelude::*;
use wetside::compile::{Reading, Reread, Schedule};
use wetside::emit::Said;
use wetside::model::{Format, StepKind, Time};

use super::followed;
use crate::kitchen::{Kitchen, celsius, evening, step};

/// Development in a chart of two points: 10:00 at 20 °C, 7:00 at 24 °C. The tank fills in 10 s and drains in 5 s.
pub(super) const CHART: &str = "wetside 1

film trial-film {
    speed ISO 100
}

solution soup {
    role developer
    needs 100 ml per roll
}

solution acid {
    role stop
    needs 100 ml per roll
}

tank small {
    reels 120 x 2, 500 ml each
    holds 1 l
    fill 10 s
    drain 5 s
}

recipe trial {
    film trial-film
    index 100
    between 18 C and 24 C
    develop {
        in soup stock, one-shot
        chart {
            18 C 12:00
            20 C 10:00
            24 C 7:00
        }
        agitate first 30 s, then 10 s every 1 min
    }
    stop {
        in acid stock, one-shot
        time 1:00
        agitate none
    }
}
";

pub(super) fn schedule(text: &str, at: &str, ending: Option<&str>) -> Schedule {
    let mut tonight = evening(celsius(at), &[(2, Format::F120)]);
    tonight.ending = ending.map(celsius);
    Kitchen::sound(text).compiled(&tonight)
}

/// The seconds of the whole step at a temperature: between two points the logarithm is linear.
fn by_chart(at: f64) -> f64 {
    let points = [(18.0, 720.0), (20.0, 600.0), (24.0, 420.0_f64)];
    let pair = if at <= 20.0 { [points[0], points[1]] } else { [points[1], points[2]] };
    let share = (at - pair[0].0) / (pair[1].0 - pair[0].0);
    pair[0].1.powf(1.0 - share) * pair[1].1.powf(share)
}

/// When the film is done, in seconds: small pieces of time are summed until the whole is done. From `from` degrees the
/// bath changes evenly to each reading `(seconds, degrees)`, and then by `slope` degrees a second.
fn by_steps(from: f64, readings: &[(f64, f64)], slope: f64) -> f64 {
    const PIECE: f64 = 0.01;
    let (mut done, mut time) = (0.0, 0.0);
    while done < 1.0 {
        let mut before = (0.0, from);
        let mut at = None;
        for reading in readings {
            if time < reading.0 {
                let share = (time - before.0) / (reading.0 - before.0);
                at = Some(before.1 + share * (reading.1 - before.1));
                break;
            }
            before = *reading;
        }
        let at = at.unwrap_or(before.1 + slope * (time - before.0));
        done += PIECE / by_chart(at.clamp(18.0, 24.0));
        time += PIECE;
    }
    time
}

fn reread(schedule: &Schedule, planned: Time, readings: &[(i64, &str)]) -> Reread {
    let readings: Vec<Reading> = readings
        .iter()
        .map(|(at, degrees)| Reading { at: Time::from_seconds(*at), temperature: celsius(degrees) })
        .collect();
    schedule.reread(0, planned, &readings)
}

#[track_caller]
fn changed(reread: Reread) -> Schedule {
    match reread {
        Reread::Changed(schedule) => *schedule,
        other => panic!("{other:?}"),
    }
}

/// By hand, at 20 °C: after 5:00 at an even rise to 22 °C, the mean rate is the integral of 1/600 · e^(x/4 · ln(10/7))
/// from 0 to 2, halved: (10/7)^(1/2) = 1.19523, so (1.19523 − 1) / (0.5 · 0.356675) / 600 = 1.09473 / 600. Done are
/// 300 · 1.09473 / 600 = 0.547365. At 22 °C the whole takes 600 / 1.19523 = 501.99 s, so 0.452635 of it takes 227.22 s,
/// and the step ends at 527.2 s: 8:47.
#[test]
fn the_rest_is_worked_by_hand() {
    let before = schedule(CHART, "20", None);
    assert_eq!(before.steps[0].duration, Time::from_seconds(600));
    let after = changed(reread(&before, Time::from_seconds(600), &[(300, "22")]));
    let step = &after.steps[0];
    assert_eq!(step.duration, Time::from_seconds(527));
    // What follows begins 73 s earlier; draining begins 5 s before the end.
    assert_eq!((step.end, after.steps[1].start), (Time::from_seconds(527), Time::from_seconds(527)));
    assert_eq!(step.events.last().unwrap().at, Time::from_seconds(522));
    assert_eq!(after.total, before.total - Time::from_seconds(73));
    let moves = step.events.iter().filter(|event| event.action == wetside::compile::Action::Agitate);
    let starts: Vec<i64> = moves.map(|event| event.at.ms / 1000).collect();
    assert_eq!(starts, [10, 60, 120, 180, 240, 300, 360, 420, 480]);
}

#[test]
fn a_longer_rest_is_agitated_as_before() {
    let before = schedule(CHART, "22", None);
    let after = changed(reread(&before, before.steps[0].duration, &[(60, "19")]));
    let step = &after.steps[0];
    assert!(step.duration > before.steps[0].duration + Time::from_seconds(60), "{}", step.duration);
    let last = step.events.iter().rfind(|event| event.action == wetside::compile::Action::Agitate).unwrap();
    assert!(step.leaves() - last.at < Time::from_seconds(61), "{last:?}");
    assert_eq!(last.at.ms % 60_000, 0);
}

/// Under 5 % of the remaining time nothing changes. 0.5 °C are 4.6 % at 10:7 for 4 °C.
#[test]
fn a_small_change_changes_nothing() {
    let before = schedule(CHART, "20", None);
    let planned = Time::from_seconds(600);
    assert!(matches!(reread(&before, planned, &[(1, "20.5")]), Reread::Small));
    assert!(matches!(reread(&before, planned, &[(1, "20.7")]), Reread::Changed(_)));
    assert!(matches!(reread(&before, planned, &[(1, "25")]), Reread::Outside(..)));
    // The second step has one time for all temperatures.
    assert!(matches!(before.reread(1, planned, &[]), Reread::Fixed));
}

/// A bath that drifts as expected needs no other time.
#[test]
fn a_reading_on_the_expected_course_changes_nothing() {
    let before = schedule(CHART, "22", Some("20"));
    let planned = before.steps[0].duration;
    let half = Time::from_seconds(planned.ms / 2000);
    let readings = [Reading { at: half, temperature: celsius("21") }];
    assert!(matches!(before.reread(0, planned, &readings), Reread::Small));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_rest_agrees_with_a_numerical_integral(
        from in 185..235_i64, first in 182..238_i64, second in 182..238_i64, at in 20..180_i64, later in 20..120_i64,
        drift in -10..10_i64,
    ) {
        let text = |tenths: i64| format!("{}.{}", tenths / 10, tenths % 10);
        let end = (from + drift).clamp(182, 238);
        let before = schedule(CHART, &text(from), Some(&text(end)));
        let planned = before.steps[0].duration;
        let (first_text, second_text) = (text(first), text(second));
        let readings = [(at, first_text.as_str()), (at + later, second_text.as_str())];
        #[expect(clippy::cast_precision_loss, reason = "small whole numbers")]
        let real = |tenths: i64| tenths as f64 / 10.0;
        #[expect(clippy::cast_precision_loss, reason = "small whole numbers")]
        let seconds = |time: i64| time as f64;
        for count in 1..=2 {
            let slope = (real(end) - real(from)) / planned.seconds();
            let last = if count == 1 { (at, first) } else { (at + later, second) };
            let ending = real(last.1) + slope * (planned.seconds() - seconds(last.0));
            let Reread::Changed(after) = reread(&before, planned, &readings[..count]) else { continue };
            // The drift of the rest is spread over the new rest, which differs from the planned one.
            let rest = after.steps[0].duration.seconds() - seconds(last.0);
            let known: Vec<(f64, f64)> = [(seconds(at), real(first)), (seconds(at + later), real(second))][..count].to_vec();
            let expected = by_steps(real(from), &known, (ending - real(last.1)) / rest);
            let done = after.steps[0].duration.seconds();
            prop_assert!((done - expected).abs() < 1.5, "{done} {expected}");
        }
    }
}

/// The reading on the screen, undone and recorded.
#[test]
fn a_reading_is_shown_recorded_and_undone() {
    let before = schedule(CHART, "20", None);
    let mut live = followed(&before);
    let clock = |seconds: i64| Time::from_seconds(seconds);
    live.say(Said::Start, clock(-5));
    assert!(live.say(Said::Read(celsius("22")), clock(300)));
    assert_eq!(live.last_reading().unwrap(), "develop 10:00 \u{2192} 8:47, from 5:00 on");
    assert_eq!(live.read_temperatures(), [("develop 5:00 22 C".to_owned(), "develop=5:00=22C".to_owned())]);
    // The stop is due at 8:47; without the reading the developer rests then.
    assert_eq!((live.state(clock(527)).step, live.state(clock(527)).due), (1, Some(Time::ZERO)));
    // The bath took 8:47 of 10:00, and that is no delay.
    assert!(live.say(Said::In(1), clock(527)));
    assert_eq!(live.said(clock(528)), None);
    assert_eq!(
        live.took(clock(528)).first().map(|took| took.words()).as_deref(),
        Some("develop 8:47 of 10:00")
    );
    live.undo(clock(530));
    live.undo(clock(530));
    assert_eq!((live.state(clock(530)).step, live.read_temperatures().len()), (0, 0));
    assert_eq!(step(&before, StepKind::Develop).duration, Time::from_seconds(600));
}

//! A usual evening, five rolls of 120 in a tank, compared with common practice (no source).

use wetside::compile::{Action, Schedule};
use wetside::model::{Format, StepKind, Time, Volume};

use crate::kitchen::{celsius, compiled, evening, step};

/// A film that clears fast, one that clears slowly, and a recipe for each.
const EVENING: &str = "wetside 1

film estuary-400 {
    grain conventional
    clears 100 s in rapid-fix 1+4 at 20 C
}

film millrace-200 {
    grain tabular
    clears 200 s in rapid-fix 1+4 at 20 C
}

solution mq-borax {
    role developer
    needs 250 ml per roll
}

solution citric-stop {
    role stop
}

solution rapid-fix {
    role fixer
}

solution wetting-agent {
    role wetting
}

tank tall-five {
    reels 120 x 5, 500 ml each
    holds 2.6 l
    fill 25 s
    drain 20 s
}

recipe tail {
    stop {
        in citric-stop 1+19, reused
        time 1:00
        agitate continuous
    }
    fix {
        in rapid-fix 1+4, reused
        time 3 x clearing
        agitate 5 s every 30 s
    }
    wash {
        fills 5, 10, 20 inversions
    }
    rinse {
        in wetting-agent 1+200, one-shot
        time 30 s
        clock from full
        agitate none
    }
    dry {
        time 3 h
    }
}

recipe evening from tail {
    film FILM
    develop before stop {
        in mq-borax 1+1, one-shot
        chart {
            20 C 10:15
            24 C 8:00
        }
        agitate first 30 s, then 10 s every 1 min
    }
}
";

fn evening_with(film: &str) -> Schedule {
    let conditions = evening(celsius("20"), &[(5, Format::F120)]);
    compiled(&EVENING.replace("FILM", film), &conditions)
}

fn duration(schedule: &Schedule, kind: StepKind) -> Time {
    step(schedule, kind).duration
}

#[test]
fn five_rolls_need_2500_ml_of_a_1_plus_1_developer() {
    let schedule = evening_with("estuary-400");
    let bath = step(&schedule, StepKind::Develop).bath.as_ref().unwrap();
    assert_eq!(bath.volume, Volume::from_ml(2500));
    let parts: Vec<_> = bath.parts.iter().map(|part| (part.what.as_str(), part.volume)).collect();
    assert_eq!(parts, [("mq-borax", Volume::from_ml(1250))]);
    assert_eq!(bath.water, Volume::from_ml(1250));
}

#[test]
fn stop_fixer_and_rinse_take_their_usual_times() {
    let schedule = evening_with("estuary-400");
    assert_eq!(duration(&schedule, StepKind::Stop), Time::from_seconds(60));
    // For most negatives five minutes are enough: US Army, Laboratory Procedures, subcourse SS0509, 1988, page 15.
    assert_eq!(duration(&schedule, StepKind::Fix), Time::from_seconds(300));
    assert_eq!(duration(&schedule, StepKind::Rinse), Time::from_seconds(30));
    assert_eq!(schedule.drying, Some(Time::from_seconds(3 * 3600)));
}

#[test]
fn a_slow_clearing_film_is_fixed_for_ten_minutes() {
    let schedule = evening_with("millrace-200");
    assert_eq!(duration(&schedule, StepKind::Fix), Time::from_seconds(600));
}

#[test]
fn a_wash_has_three_changes_of_5_10_and_20_inversions() {
    let schedule = evening_with("estuary-400");
    let wash = step(&schedule, StepKind::Wash);
    let done: Vec<_> = wash.events.iter().map(|event| (event.action, event.length.ms, event.count)).collect();
    let expected = [
        (Action::Fill, 25_000, None),
        (Action::Agitate, 12_500, Some(5)),
        (Action::Dump, 20_000, None),
        (Action::Fill, 25_000, None),
        (Action::Agitate, 25_000, Some(10)),
        (Action::Dump, 20_000, None),
        (Action::Fill, 25_000, None),
        (Action::Agitate, 50_000, Some(20)),
        (Action::Dump, 20_000, None),
    ];
    assert_eq!(done, expected);
    let bath = wash.bath.as_ref().unwrap();
    assert_eq!((bath.pours, bath.volume), (3, Volume::from_ml(2500)));
}

#[test]
fn the_total_of_an_evening_equals_that_worked_by_hand() {
    let schedule = evening_with("estuary-400");
    // Developer 10:15, stop 1:00, fixer 5:00, wash 3 × 45 s and 35 inversions of 2.5 s, rinse 25 + 30 + 20 s.
    let by_hand = 615_000 + 60_000 + 300_000 + 3 * 45_000 + 87_500 + 75_000;
    assert_eq!(schedule.total, Time::from_ms(by_hand));
    // Water: half of the developer, three washes, and of the rinse all but a 201st part (12 ml).
    assert_eq!(schedule.water, Volume::from_ml(1250 + 3 * 2500 + 2488));
}

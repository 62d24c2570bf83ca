//! Random evenings with decisions at the earliest, in the middle, at the latest and never, compared with sums of their
//! own: the evening lies within the printed range, and nothing is said to be over before it is.

use std::fmt::Write as _;

use proptest::prelude::*;
use wetside::compile::{Action, Schedule};
use wetside::model::Time;

use super::{one_sheet, seconds};
use crate::kitchen::compiled;
use crate::properties::tried;

/// A step, in whole seconds.
#[derive(Debug, Clone)]
struct Wet {
    /// The stated time, or the shortest and the longest, and the tenths of the factor, if the step has a sign.
    time: Ended,
    fill: i64,
    drain: i64,
    from_full: bool,
    handling: i64,
}

#[derive(Debug, Clone)]
enum Ended {
    Plain(i64),
    Sign { least: Option<i64>, most: i64, tenths: Option<i64> },
}

impl Wet {
    fn text(&self, number: usize) -> String {
        let mut text = format!("    rinse step-{number} {{\n        in water\n");
        let _ = match &self.time {
            Ended::Plain(time) => writeln!(text, "        time {time} s"),
            Ended::Sign { least, most, tenths } => {
                let end =
                    tenths.map_or("until".to_owned(), |tenths| format!("{}.{} x", tenths / 10, tenths % 10));
                let least = least.map_or(String::new(), |least| format!(", at least {least} s"));
                writeln!(text, "        time {end} \"it shows\"{least}, at most {most} s")
            }
        };
        let _ = writeln!(text, "        fill {} s\n        drain {} s", self.fill, self.drain);
        let _ = writeln!(text, "        handling {} s", self.handling);
        let _ = writeln!(text, "        agitate 5 s every 20 s");
        let _ = writeln!(text, "        clock from {}\n    }}", if self.from_full { "full" } else { "pour" });
        text
    }

    /// The tank is full and may be drained: the shortest possible time by the clock.
    fn shortest(&self, is_factor: bool) -> i64 {
        match (self.from_full, is_factor) {
            (true, _) => 0,
            (false, true) => self.fill + self.drain,
            (false, false) => self.fill,
        }
    }

    /// How long the step takes from its start to the empty tank, in milliseconds, if the sign is seen at `seen` ms by
    /// its clock; never if that is `None`.
    fn takes(&self, seen: Option<i64>) -> i64 {
        let (fill, drain) = (self.fill * 1000, self.drain * 1000);
        let by_clock = |time: i64, drains_after: bool| {
            let around = if self.from_full {
                fill + drain
            } else if drains_after {
                drain
            } else {
                0
            };
            time + around
        };
        let own = match &self.time {
            Ended::Plain(time) => by_clock(time * 1000, false),
            Ended::Sign { least, most, tenths } => {
                let least = least.unwrap_or(0).max(self.shortest(tenths.is_some())) * 1000;
                let end =
                    seen.map_or(i64::MAX, |seen| tenths.map_or(seen, |tenths| (seen * tenths * 2 + 10) / 20));
                by_clock(end.max(least).min(most * 1000), tenths.is_none())
            }
        };
        self.handling * 1000 + own
    }
}

fn wet() -> impl Strategy<Value = Wet> {
    let sign = (prop::option::of(30_i64..100), 100_i64..400, prop::option::of(10_i64..80));
    let time = prop_oneof![
        (60_i64..200).prop_map(Ended::Plain),
        sign.prop_map(|(least, most, tenths)| Ended::Sign { least, most, tenths }),
    ];
    (time, 0_i64..20, 0_i64..20, any::<bool>(), 0_i64..10)
        .prop_map(|(time, fill, drain, from_full, handling)| Wet { time, fill, drain, from_full, handling })
}

fn recipe(steps: &[Wet]) -> String {
    let steps: String = steps.iter().enumerate().map(|(number, step)| step.text(number)).collect();
    let tank = "tank tray {\n    reels 8x10in x 1, 500 ml each\n    holds 1 l\n}\n";
    format!(
        "wetside 2\n\nfilm plain {{\n    speed ISO 100\n}}\n\n{tank}\nrecipe trial {{\n    film plain\n{steps}}}\n"
    )
}

/// Everything that a schedule says in order: no overlap, no gap between steps, each step ends empty.
fn is_in_order(schedule: &Schedule) {
    let mut now = Time::ZERO;
    for step in &schedule.steps {
        assert_eq!(step.start, now, "a step begins where the one before ends");
        for event in &step.events {
            assert!(now <= event.at, "{event:?} begins before {now}");
            now = event.at + event.length;
        }
        assert_eq!(now, step.end, "the last action ends the step");
        let out = step.events.last().unwrap();
        assert_eq!((out.action, out.length), (Action::Dump, step.drain));
    }
    assert_eq!(schedule.total, now);
}

proptest! {
    #![proptest_config(tried(120))]

    #[test]
    fn the_evening_lies_within_its_range_however_the_decisions_fall(
        steps in prop::collection::vec(wet(), 1..5),
        choices in prop::collection::vec((0_usize..4, 0_i64..400_000), 5),
    ) {
        let schedule = compiled(&recipe(&steps), &one_sheet());
        is_in_order(&schedule);
        let signed: Vec<usize> =
            (0..steps.len()).filter(|at| matches!(steps[*at].time, Ended::Sign { .. })).collect();
        prop_assert_eq!(schedule.legs.len(), signed.len() + 1);
        // The range: all signs at once, and none.
        let sum = |seen: &dyn Fn(usize) -> Option<i64>| {
            steps.iter().enumerate().map(|(at, step)| step.takes(seen(at))).sum::<i64>()
        };
        let (earliest, latest) = (sum(&|_| Some(0)), sum(&|_| None));
        prop_assert_eq!((schedule.earliest(schedule.total).ms, schedule.total.ms), (earliest, latest));
        // The decisions of this evening, one after the other.
        let mut own: Vec<Option<i64>> = vec![None; steps.len()];
        let mut now = schedule.clone();
        for (at, (way, middle)) in signed.iter().zip(&choices) {
            let seen = [Some(0), Some(*middle), Some(i64::from(u32::MAX)), None][*way];
            own[*at] = seen;
            let pressed = seen.map_or(seconds(1_000_000), Time::from_ms);
            let before = now.clone();
            now = now.decided(1, pressed);
            is_in_order(&now);
            let actual = now.steps[*at].leaves();
            // What was said to be over at the earliest and at the latest was right.
            prop_assert!(before.legs[1].earliest <= actual && actual <= before.legs[1].start);
            prop_assert!(before.earliest(before.total) <= now.earliest(now.total));
            prop_assert!(now.total <= before.total);
            // What is done before the decision is as it was said.
            for (old, new) in before.steps.iter().zip(&now.steps).take(at + 1) {
                let of_before = |events: &[wetside::compile::Event]| {
                    let ended = events.iter().filter(|event| event.at + event.length <= actual && event.at < actual);
                    ended.filter(|event| event.action != Action::Dump || event.at < actual).cloned().collect::<Vec<_>>()
                };
                prop_assert_eq!(old.start, new.start);
                let (said, done) = (of_before(&old.events), of_before(&new.events));
                prop_assert!(said.iter().all(|event| done.contains(event)), "{said:?} {done:?}");
            }
        }
        prop_assert_eq!(now.legs.len(), 1);
        let total = sum(&|at| own[at]);
        prop_assert_eq!(now.total.ms, total);
        prop_assert_eq!(now.earliest(now.total), now.total);
        prop_assert!(earliest <= total && total <= latest);
    }
}

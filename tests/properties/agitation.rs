//! Agitation, compared with an independent simulation of R7 in ticks of a tenth of a second. It is slow, but simple
//! enough to compare with the rule's text.

use proptest::prelude::*;
use wetside::compile::Action;
use wetside::model::{Format, StepKind, Volume};

use super::scheme::{Amount, Pulse, Scheme, scheme, seconds};
use super::tried;
use crate::kitchen::{celsius, compiled, evening, step};

/// A step as plain numbers, in tenths of a second.
#[derive(Debug, Clone)]
pub(crate) struct Trial {
    time: u32,
    fill: u32,
    drain: u32,
    from_full: bool,
    scheme: Scheme,
}

/// An agitation: start and length in milliseconds, and its count.
type Move = (i64, i64, Option<u32>);

impl Trial {
    pub(crate) fn text(&self) -> String {
        format!(
            "wetside 1\n\nfilm estuary-400 {{\n    speed ISO 400\n}}\n\nrecipe trial {{\n    film estuary-400\n    \
             develop {{\n        in water\n        between 18 C and 24 C\n        time {}\n        fill {}\n        drain {}\n        \
             clock from {}\n        agitate {}\n    }}\n}}\n",
            seconds(self.time),
            seconds(self.fill),
            seconds(self.drain),
            if self.from_full { "full" } else { "pour" },
            self.scheme.words(),
        )
    }

    /// Whether a clock of whole seconds tells the movements of a rhythm apart: both ends of the rhythm may be rounded by
    /// half a second.
    pub(crate) fn has_pace(&self) -> bool {
        !matches!(&self.scheme.pulse, Pulse::Interval(_, Some((_, every))) if *every <= 20)
    }

    /// The tick at which the step's clock is 0.
    fn zero(&self) -> u32 {
        if self.from_full { self.fill } else { 0 }
    }

    /// The first tick of draining.
    fn draining(&self) -> u32 {
        if self.from_full { self.fill + self.time } else { self.time - self.drain }
    }

    /// The length of the agitation that begins at this tick, if one does.
    fn begins(&self, tick: u32) -> Option<u32> {
        let clock = tick.checked_sub(self.zero());
        match &self.scheme.pulse {
            Pulse::None => None,
            Pulse::Continuous | Pulse::Rotary(_) => (tick == self.fill).then_some(u32::MAX),
            Pulse::At(times, amount) => {
                // A start that falls during filling moves to full.
                let early = |time: &u32| self.zero() + time <= self.fill && tick == self.fill;
                let now = times.iter().any(|time| early(time) || Some(*time) == clock);
                now.then(|| self.scheme.length(*amount))
            }
            Pulse::Interval(first, then) => {
                let opening = first.or(then.map(|(then, _)| then)).filter(|_| tick == self.fill);
                if let Some(opening) = opening {
                    return Some(self.scheme.length(opening));
                }
                let (then, every) = (*then)?;
                let opened = first.map_or(0, |first| self.scheme.length(first));
                let due = clock.is_some_and(|clock| clock.is_multiple_of(every));
                (due && tick > self.fill + opened).then(|| self.scheme.length(then))
            }
        }
    }

    /// Whether the agitation is counted in inversions.
    fn counted(&self, opening: bool) -> bool {
        let inversions = |amount: Amount| matches!(amount, Amount::Inversions(_));
        match &self.scheme.pulse {
            Pulse::None | Pulse::Continuous | Pulse::Rotary(_) => false,
            Pulse::At(_, amount) => inversions(*amount),
            Pulse::Interval(Some(first), _) if opening => inversions(*first),
            Pulse::Interval(_, Some((then, _))) => inversions(*then),
            Pulse::Interval(first, None) => first.is_some_and(inversions),
        }
    }

    /// The ranges of ticks with agitation, from full to draining, as first tick and tick after the last. Agitations
    /// that meet or overlap are one.
    fn stretches(&self) -> Vec<(u32, u32)> {
        let (mut stretches, mut left, mut began) = (Vec::new(), 0_u32, None);
        for tick in self.fill..self.draining() {
            left = left.max(self.begins(tick).unwrap_or(0));
            match (left > 0, began) {
                (true, None) => began = Some(tick),
                (false, Some(from)) => {
                    stretches.push((from, tick));
                    began = None;
                }
                (true, Some(_)) | (false, None) => {}
            }
            left = left.saturating_sub(1);
        }
        stretches.extend(began.map(|from| (from, self.draining())));
        stretches
    }

    /// The expected agitations and knocks.
    fn expected(&self) -> (Vec<Move>, Vec<i64>) {
        let (mut moves, mut knocks) = (Vec::new(), Vec::new());
        for (from, to) in self.stretches() {
            let counted = self.counted(from == self.fill);
            // A cut leaves whole inversions, and may leave none.
            let whole = (to - from) / self.scheme.inversion();
            let to = if counted { from + whole * self.scheme.inversion() } else { to };
            if from == to {
                continue;
            }
            let count = match self.scheme.pulse {
                Pulse::Rotary(rpm) => Some(rpm),
                Pulse::None | Pulse::Continuous | Pulse::At(..) | Pulse::Interval(..) => {
                    counted.then_some(whole)
                }
            };
            let wanted = self.scheme.knock.is_some_and(|each| each || moves.is_empty());
            if wanted && to < self.draining() {
                knocks.push(i64::from(to) * 100);
            }
            moves.push((i64::from(from) * 100, i64::from(to - from) * 100, count));
        }
        (moves, knocks)
    }

    /// The agitations and knocks of the schedule.
    fn found(&self) -> (Vec<Move>, Vec<i64>) {
        let mut conditions = evening(celsius("20"), &[(1, Format::F120)]);
        conditions.volume = Some(Volume::from_ml(500));
        let schedule = compiled(&self.text(), &conditions);
        let events = &step(&schedule, StepKind::Develop).events;
        let moves = events.iter().filter(|event| event.action == Action::Agitate);
        let knocks = events.iter().filter(|event| event.action == Action::Knock);
        (
            moves.map(|event| (event.at.ms, event.length.ms, event.count)).collect(),
            knocks.map(|event| event.at.ms).collect(),
        )
    }
}

/// Steps of whole seconds, because a step's time is rounded to them.
pub(crate) fn trial() -> impl Strategy<Value = Trial> {
    let times = (70_u32..600, 0_u32..350, 0_u32..350, any::<bool>());
    (times, scheme(700)).prop_map(|((time, fill, drain, from_full), scheme)| Trial {
        time: time * 10,
        fill,
        drain,
        from_full,
        scheme,
    })
}

proptest! {
    #![proptest_config(tried(400))]

    #[test]
    fn agitation_equals_an_independent_simulation_of_the_rule(trial in trial()) {
        prop_assert_eq!(trial.found(), trial.expected(), "{}", trial.text());
    }
}

#[test]
fn the_simulation_gives_the_values_worked_by_hand() {
    let interval = |first, then| Pulse::Interval(first, then);
    let of = |pulse, fill, drain| Trial {
        time: 3000,
        fill,
        drain,
        from_full: false,
        scheme: Scheme { pulse, inversion: None, knock: None, by: None },
    };
    // The first minute, then 10 s every minute, in 5 minutes: no agitation from 1:00 to 2:00.
    let steady = of(interval(Some(Amount::For(600)), Some((Amount::For(100), 600))), 0, 0);
    assert_eq!(steady.stretches(), [(0, 600), (1200, 1300), (1800, 1900), (2400, 2500)]);
    // The same with 25 s to fill and 55 s to drain: the last is cut.
    let poured = of(interval(Some(Amount::For(300)), Some((Amount::For(100), 600))), 250, 550);
    assert_eq!(poured.stretches(), [(250, 550), (600, 700), (1200, 1300), (1800, 1900), (2400, 2450)]);
    // Four inversions are 10 s; if they are cut after 5 s, two remain.
    let inverted = of(interval(None, Some((Amount::Inversions(4), 600))), 0, 550);
    let (moves, _) = inverted.expected();
    assert_eq!(moves.first(), Some(&(0, 10_000, Some(4))));
    assert_eq!(moves.last(), Some(&(240_000, 5_000, Some(2))));
}

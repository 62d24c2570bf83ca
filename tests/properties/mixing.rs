//! The parts of a bath for any dilution and volume: they add up, are enough for the film, and can be measured (R8).

use proptest::prelude::*;
use wetside::compile::{PlannedBath, Schedule};
use wetside::model::{Format, StepKind, Volume};
use wetside::source::Diagnostic;

use super::tried;
use crate::kitchen::{Kitchen, celsius, evening, step};

/// A bath: the need per roll of its first part, the parts with water last, and the rolls.
#[derive(Debug, Clone)]
struct Mix {
    needs_ml: Option<i64>,
    dilution: Vec<u32>,
    water: bool,
    rolls: u32,
    /// The volume per reel in millilitres; without it the call gives `asked_ml`.
    each_ml: Option<i64>,
    asked_ml: i64,
}

impl Mix {
    fn bottles(&self) -> usize {
        self.dilution.len() - usize::from(self.water)
    }

    fn text(&self) -> String {
        let parts: Vec<String> = self.dilution.iter().map(u32::to_string).collect();
        let names: Vec<String> = (1..=self.bottles()).map(|bottle| format!("part-{bottle}")).collect();
        let names =
            if names.len() == 1 { String::new() } else { format!("    parts {}\n", names.join(", ")) };
        let needs = self.needs_ml.map_or(String::new(), |ml| format!("    needs {ml} ml per roll\n"));
        let tank = self.each_ml.map_or(String::new(), |ml| {
            format!(
                "tank tall {{\n    reels 120 x {}, {ml} ml each\n    fill 0 s\n    drain 0 s\n}}\n\n",
                self.rolls
            )
        });
        format!(
            "wetside 1\n\nfilm estuary-400 {{\n    speed ISO 400\n}}\n\n{tank}\
             solution trial {{\n    role developer\n{names}{needs}}}\n\n\
             recipe trial {{\n    film estuary-400\n    develop {{\n        in trial {}{}\n        \
             time 5:00\n        between 18 C and 24 C\n    }}\n}}\n",
            parts.join("+"),
            if self.water { "" } else { " no-water" },
        )
    }

    fn tried(&self) -> Result<Schedule, Vec<Diagnostic>> {
        let mut conditions = evening(celsius("20"), &[(self.rolls, Format::F120)]);
        conditions.volume = self.each_ml.is_none().then(|| Volume::from_ml(self.asked_ml));
        Kitchen::sound(&self.text()).tried(&conditions)
    }

    /// The bath, unless it is past measure, or too small for the film.
    fn bath(&self) -> Option<PlannedBath> {
        match self.tried() {
            Ok(schedule) if schedule.is_starved() => None,
            Ok(schedule) => step(&schedule, StepKind::Develop).bath.clone(),
            Err(faults) => {
                assert!(faults.iter().all(|fault| fault.name == "volume-past-measure"), "{faults:?}");
                None
            }
        }
    }
}

/// One to three bottles, and water or none; a single bottle without water is stock.
fn mix() -> impl Strategy<Value = Mix> {
    let part = || prop_oneof![4 => 1_u32..12, 1 => 1_u32..2000];
    let dilution = (prop::collection::vec(part(), 1..4), prop::option::weighted(0.8, 1_u32..250));
    let volumes = (prop::option::of(30_i64..700), prop::option::of(0_i64..4), 5_i64..6000);
    (dilution, prop::option::weighted(0.7, 1_i64..400), 1_u32..9, volumes).prop_filter_map(
        "several parts, or a part and water",
        |((mut dilution, water), needs_ml, rolls, (each_ml, barely, asked_ml))| {
            dilution.extend(water);
            let (first, whole) = (i64::from(*dilution.first()?), i64::from(dilution.iter().sum::<u32>()));
            // Rounding matters if the reels take just what the film needs, or hardly more.
            let just = needs_ml.zip(barely).map(|(needs, more)| needs * whole / first + more);
            let each_ml = just.filter(|ml| (1..20_000).contains(ml)).or(each_ml);
            let mix = Mix { needs_ml, water: water.is_some(), dilution, rolls, each_ml, asked_ml };
            (mix.dilution.len() > 1).then_some(mix)
        },
    )
}

/// The rounding step of a volume in femtolitres: 0.1 ml under 10 ml, 1 ml under 1 l, 5 ml above.
fn step_of(volume: Volume) -> i64 {
    match volume.fl {
        ..10_000_000_000_000 => Volume::ML / 10,
        10_000_000_000_000..1_000_000_000_000_000 => Volume::ML,
        _ => 5 * Volume::ML,
    }
}

proptest! {
    #![proptest_config(tried(500))]

    #[test]
    fn parts_and_water_add_up_to_the_bath(mix in mix()) {
        let Some(bath) = mix.bath() else { return Ok(()) };
        prop_assert_eq!(bath.parts.len(), mix.bottles());
        let sum: i64 = bath.parts.iter().map(|part| part.volume.fl).sum::<i64>() + bath.water.fl;
        prop_assert_eq!(sum, bath.volume.fl, "{}", mix.text());
        let none_below_zero = bath.parts.iter().all(|part| part.volume >= Volume::ZERO) && bath.water >= Volume::ZERO;
        prop_assert!(none_below_zero, "{:?}\n{}", bath, mix.text());
        prop_assert!(mix.water || bath.water == Volume::ZERO, "{:?}", bath);
    }

    #[test]
    fn parts_are_rounded_to_measurable_volumes(mix in mix()) {
        let Some(bath) = mix.bath() else { return Ok(()) };
        let whole: u32 = mix.dilution.iter().sum();
        // Without water the last bottle is the rest, which includes the rounding of the others.
        let rounded = if mix.water { bath.parts.len() } else { bath.parts.len() - 1 };
        for (part, share) in bath.parts.iter().zip(&mix.dilution).take(rounded) {
            let exact = i128::from(bath.volume.fl) * i128::from(*share) / i128::from(whole);
            let off = (i128::from(part.volume.fl) - exact).abs();
            let step = step_of(Volume { fl: i64::try_from(exact).unwrap() });
            prop_assert!(off <= i128::from(step), "{:?}\n{}", bath, mix.text());
            prop_assert_eq!(part.volume.fl % step, 0, "{:?}\n{}", bath, mix.text());
        }
    }

    #[test]
    fn a_bath_is_rounded_up_to_five_or_ten_millilitres(mix in mix()) {
        let Some(bath) = mix.bath() else { return Ok(()) };
        let covers = mix.each_ml.map_or(mix.asked_ml, |each| each * i64::from(mix.rolls));
        let step = if bath.volume > Volume::from_ml(1000) { 10 } else { 5 };
        prop_assert_eq!(bath.volume.fl % Volume::from_ml(step).fl, 0);
        prop_assert!(Volume::from_ml(covers) <= bath.volume, "{:?}\n{}", bath, mix.text());
        // No more than rounding: what covers the reels, or what the film needs (needs × whole ÷ first part).
        let whole: u32 = mix.dilution.iter().sum();
        let first = i64::from(*mix.dilution.first().unwrap());
        let needs = mix.needs_ml.map_or(0, |ml| i128::from(ml) * i128::from(mix.rolls) * i128::from(whole));
        let over = (bath.volume - Volume::from_ml(step)).fl;
        let enough = over < Volume::from_ml(covers).fl
            || i128::from(over) * i128::from(first) < needs * i128::from(Volume::ML);
        prop_assert!(enough, "{:?}\n{}", bath, mix.text());
    }

    #[test]
    fn the_first_part_is_enough_if_the_film_sets_the_volume(mix in mix()) {
        let (Some(bath), Some(needs)) = (mix.bath(), mix.needs_ml) else { return Ok(()) };
        let whole: u32 = mix.dilution.iter().sum();
        let needs = needs * i64::from(mix.rolls);
        let covers = mix.each_ml.map_or(mix.asked_ml, |each| each * i64::from(mix.rolls));
        prop_assume!(covers * i64::from(*mix.dilution.first().unwrap()) < needs * i64::from(whole));
        let part = bath.parts.first().unwrap().volume;
        prop_assert!(Volume::from_ml(needs) <= part, "needs {needs} ml: {:?}\n{}", bath, mix.text());
    }

    #[test]
    fn the_first_part_is_enough_for_the_film(mix in mix()) {
        let (Some(bath), Some(needs)) = (mix.bath(), mix.needs_ml) else { return Ok(()) };
        let part = bath.parts.first().unwrap().volume;
        let needs = Volume::from_ml(needs * i64::from(mix.rolls));
        prop_assert!(needs <= part, "needs {needs}: {:?}\n{}", bath, mix.text());
    }
}

#[test]
fn the_volume_of_water_is_never_negative() {
    // Of 50 ml at 130+3+1 the first bottle is 48.5 ml and the second 1.1: rounded, they are 0.1 ml too much.
    let mix =
        Mix { needs_ml: None, dilution: vec![130, 3, 1], water: true, rolls: 1, each_ml: None, asked_ml: 50 };
    assert!(mix.bath().unwrap().water >= Volume::ZERO, "{:?}", mix.bath());
}

/// A tank that holds this number of fluid ounces, and how it is filled.
fn held(ounces: u32, lines: &str) -> Result<Schedule, Vec<Diagnostic>> {
    let text = format!(
        "wetside 1\n\nfilm estuary-400 {{\n    speed ISO 400\n}}\n\n\
         tank tall {{\n    holds {ounces} us-fl-oz\n{lines}}}\n\n\
         recipe trial {{\n    film estuary-400\n    develop {{\n        in water\n        \
         time 5:00\n        between 18 C and 24 C\n    }}\n}}\n"
    );
    Kitchen::sound(&text).tried(&evening(celsius("20"), &[(1, Format::F120)]))
}

proptest! {
    #![proptest_config(tried(30))]

    #[test]
    fn a_tank_that_is_filled_whole_takes_the_volume_it_holds(ounces in 10_u32..130) {
        let lines = "    reels 120 x 1, 200 ml each\n    fill whole, 10 s\n    drain 10 s\n";
        let told = held(ounces, lines).map_err(|faults| faults.iter().map(|fault| fault.message.clone()).collect::<Vec<_>>());
        prop_assert_eq!(told.err(), None, "{} us-fl-oz", ounces);
    }

    #[test]
    fn reels_that_just_fit_a_tank_are_covered(ounces in 10_u32..130) {
        let lines = format!("    reels 120 x 1, {ounces} us-fl-oz each\n    fill 10 s\n    drain 10 s\n");
        let told = held(ounces, &lines).map_err(|faults| faults.iter().map(|fault| fault.message.clone()).collect::<Vec<_>>());
        prop_assert_eq!(told.err(), None, "{} us-fl-oz", ounces);
    }
}

//! The phrases of a card: quantities, the names of steps and baths, where a bath goes after its step, and three clocks:
//! the step's (R6), the session's from the start of the first step, and the time of day, if known (R16).

use std::fmt::Display;

use jiff::{SignedDuration, civil};

use super::plain::{plain, prefixed};
use crate::compile::{Added, PlannedBath, PlannedStep, Scale, Schedule, measurable, spoken_volume};
use crate::model::{
    Clock, Flow, Format, Lighting, Material, Role, Step, StepKind, Temperature, Time, Use, Volume, decimal,
};

const DAY: i64 = 86_400_000;

/// A step by its kind and name: `develop`, `develop second`.
pub(super) fn called(step: &PlannedStep) -> String {
    step.kind.word().to_owned() + &prefixed(" ", step.name.as_deref().map(plain))
}

/// A step with its kind in capitals: `DEVELOP second`.
pub(super) fn head(step: &PlannedStep) -> String {
    let round = step.round.map(|(round, rounds)| format!("{round} of {rounds}"));
    let name = prefixed(" ", step.name.as_deref().map(plain));
    step.kind.word().to_uppercase() + &name + &prefixed(" ", round)
}

/// A bath by its title, dilution and name: `MQ borax, fine grain 1+1`, `Fixer 1+9, bath two`.
pub(super) fn bath(bath: &PlannedBath) -> String {
    [
        if bath.used.is_some() { "used " } else { "" },
        &plain(&bath.title),
        &prefixed(" ", bath.part.as_deref().map(plain)),
        &prefixed(" ", bath.dilution.as_ref()),
        &prefixed(" with ", bath.added.as_ref().map(added)),
        &prefixed(", bath ", bath.name.as_deref().map(plain)),
    ]
    .concat()
}

/// The solution that is added to a bath: `300 ml/l old-brown`.
pub(super) fn added(added: &Added) -> String {
    format!("{} ml/l {}", added.per_litre.in_ml(3), plain(&added.name))
}

/// Where the bath of a step goes, in words: `back to its bottle`. `None` for water, for a dry step, and for what is
/// brushed on and not kept.
pub(super) fn out_to(schedule: &Schedule, step: &PlannedStep) -> Option<String> {
    let fate = Fate::of(schedule, step)?;
    let user = taken_by(schedule, step).map(|user| format!(": {} takes it", head(user)));
    Some(format!("{}{}", fate.words(), user.unwrap_or_default()))
}

/// The later step that uses the bath of this step again, if there is one.
fn taken_by<'a>(schedule: &'a Schedule, step: &PlannedStep) -> Option<&'a PlannedStep> {
    schedule.user_of(schedule.steps.iter().position(|own| std::ptr::eq(own, step))?)
}

pub(super) fn written<'a>(schedule: &'a Schedule, planned: &PlannedStep) -> Option<&'a Step> {
    schedule.recipe.steps.iter().find(|step| step.kind == planned.kind && step.name == planned.name)
}

pub(super) fn running(bath: &PlannedBath) -> Option<Flow> {
    bath.flow.map(|per_minute| Flow { per_minute })
}

/// Where a bath goes after its step.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Fate {
    Bottle,
    /// Into a jug, for a later step.
    Jug,
    /// To the waste can, because the bath holds silver.
    Silver,
    /// To the waste can, because the bath must not go down a drain.
    Waste,
    /// To the sink or the waste can, as the local code says.
    Away,
    /// The recipe does not say where the bath goes.
    Unsaid,
}

impl Fate {
    /// Where the bath of a step goes; `None` for water, for a dry step, and for what is brushed on and not kept.
    pub(super) fn of(schedule: &Schedule, step: &PlannedStep) -> Option<Fate> {
        let bath = step.bath.as_ref().filter(|bath| bath.dilution.is_some())?;
        if step.kind == StepKind::Coat && !bath.reuse.is_some_and(Use::is_kept) {
            return None;
        }
        Some(match bath.reuse {
            _ if taken_by(schedule, step).is_some() => Fate::Jug,
            Some(Use::OneShot) => Fate::exhausted(step.kind, written(schedule, step).and_then(Step::role)),
            Some(Use::Reused | Use::Replenished) => Fate::Bottle,
            None => Fate::Unsaid,
        })
    }

    /// Where an exhausted bath goes, by the role of its solution, or else by the kind of its step. Used fixer holds
    /// silver. A bleach or toner must not go down a drain. Common practice, no source.
    pub(super) fn exhausted(kind: StepKind, role: Option<Role>) -> Fate {
        match (role, kind) {
            (Some(Role::Fixer | Role::BleachFix | Role::Monobath), _) => Fate::Silver,
            (Some(Role::Bleach | Role::Toner), _) => Fate::Waste,
            (_, StepKind::Fix | StepKind::BleachFix) => Fate::Silver,
            (_, StepKind::Bleach | StepKind::Tone) => Fate::Waste,
            _ => Fate::Away,
        }
    }

    /// Where the bath goes, in the words after `drain: `.
    pub(super) fn words(self) -> &'static str {
        match self {
            Fate::Bottle => "back to its bottle",
            Fate::Jug => "into a jug",
            Fate::Silver => "into its waste can, it holds silver",
            Fate::Waste => "into its waste can",
            Fate::Away => "to the sink or to waste, as your local code says",
            Fate::Unsaid => "keep it, the recipe does not say where it goes",
        }
    }
}

/// The time from the start of the session at which the step's clock shows 0:00.
pub(super) fn zero(schedule: &Schedule, step: &PlannedStep) -> Time {
    let pour = step.start + step.handling;
    if starts_full(schedule, step) { pour + step.fill } else { pour }
}

/// Whether the step's clock starts only when the tank is full.
pub(super) fn starts_full(schedule: &Schedule, step: &PlannedStep) -> bool {
    let once = step.bath.as_ref().is_some_and(|bath| bath.pours <= 1);
    once && written(schedule, step).is_some_and(|step| step.clock.value == Clock::FromFull)
}

/// A range: `4:00 to 20:00`, or only `4:00` if both ends are equal.
pub(super) fn range<T: Display + PartialEq>(from: T, to: T) -> String {
    if from == to { to.to_string() } else { format!("{from} to {to}") }
}

/// The time between two moments of the session, in whole seconds. Both moments are rounded first, so that the times of
/// consecutive spans add up.
pub(super) fn between(from: Time, to: Time) -> String {
    (whole(to) - whole(from)).to_string()
}

/// A moment of the session, rounded to whole seconds; half a second is rounded up.
pub(super) fn whole(at: Time) -> Time {
    Time::from_seconds((at.ms + 500).div_euclid(1000))
}

/// A moment of the session in whole seconds; a range such as `4:10 to 20:10` if a person ends an earlier step at a
/// sign.
pub(super) fn moment(schedule: &Schedule, at: Time) -> String {
    range(whole(schedule.earliest(at)), whole(at))
}

/// The duration of a step in whole seconds; a range if a person ends the step at a sign.
pub(super) fn lasts(step: &PlannedStep) -> String {
    let zero = step.start + step.handling;
    let least = step.decision.as_ref().map_or(step.duration, |decision| decision.least);
    range(between(zero, zero + least), between(zero, zero + step.duration))
}

/// The volume of all water of the session; a range if a person ends running water at a sign. `None` without water.
pub(super) fn all_water(schedule: &Schedule) -> Option<String> {
    let all = || range(litres(schedule.least_water), litres(schedule.water));
    (schedule.water.fl > 0).then(all)
}

/// The time of day at a moment of the session: `19:42:10`; a range if a person ends an earlier step at a sign. `None`
/// if the start is not known.
pub(super) fn wall(schedule: &Schedule, at: Time) -> Option<String> {
    Some(range(clock(schedule, schedule.earliest(at))?, clock(schedule, at)?))
}

fn clock(schedule: &Schedule, at: Time) -> Option<String> {
    let now = i64::from(schedule.conditions.start?) * 1000 + whole(at).ms;
    let shown = civil::Time::midnight().wrapping_add(SignedDuration::from_millis(now));
    Some(match now.div_euclid(DAY) {
        0 => shown.to_string(),
        1 => format!("{shown} next day"),
        days => format!("{shown} {days} days on"),
    })
}

/// A temperature with at most two decimals: `21.5 °C`.
pub(super) fn degrees(temperature: Temperature, scale: Scale) -> String {
    rounded(temperature, scale, 2)
}

/// A temperature in both scales: `21.5 °C (70.7 °F)`.
pub(super) fn both_degrees(temperature: Temperature, scale: Scale) -> String {
    let other = if scale == Scale::Celsius { Scale::Fahrenheit } else { Scale::Celsius };
    format!("{} ({})", degrees(temperature, scale), rounded(temperature, other, 1))
}

pub(super) fn rounded(temperature: Temperature, scale: Scale, places: u32) -> String {
    interval(temperature.base + degree(scale).zero, scale, places)
}

/// A difference of temperatures in degrees of `scale`: `1.5 °C`. `base` is in units of 1/9000 °C.
pub(super) fn interval(base: i64, scale: Scale, places: u32) -> String {
    let Degree { base: one, letter, .. } = degree(scale);
    format!("{} °{letter}", decimal(base, one, places))
}

/// The size of a degree and the zero of a scale, in units of 1/9000 °C.
pub(super) struct Degree {
    pub(super) base: i64,
    /// How far the zero of the scale is below 0 °C.
    pub(super) zero: i64,
    pub(super) letter: &'static str,
}

pub(super) fn degree(scale: Scale) -> Degree {
    match scale {
        Scale::Celsius => Degree { base: 9000, zero: 0, letter: "C" },
        Scale::Fahrenheit => Degree { base: 5000, zero: 160_000, letter: "F" },
    }
}

/// A volume to a tenth of a millilitre: `1250 ml`; below a millilitre to a hundredth.
pub(super) fn ml(volume: Volume) -> String {
    format!("{} ml", volume.in_ml(if volume.fl < Volume::ML { 2 } else { 1 }))
}

/// A volume for information, which nobody measures out: in millilitres below one litre, else in litres, `17.4 l`.
pub(super) fn litres(volume: Volume) -> String {
    if volume.fl < Volume::LITRE { ml(volume) } else { format!("{} l", volume.in_litres(1)) }
}

/// A volume to buy, rounded up: to 0.1 ml below one litre, else to 1 ml.
pub(super) fn enough(volume: Volume) -> String {
    let fl = if volume.fl < Volume::LITRE { Volume::ML / 10 } else { Volume::ML };
    spoken_volume(volume.rounded_up(Volume { fl }))
}

pub(super) fn count(number: impl Display, what: &str) -> String {
    let number = number.to_string();
    let plural = if number == "1" { "" } else { "s" };
    format!("{number} {what}{plural}")
}

/// Converts an area of film, in units of (1/300 mm)², to rolls, with at most two decimals.
pub(super) fn film(film: i64) -> String {
    decimal(film, Format::ROLL, 2)
}

/// Whether the baths stay in place and the material moves from one bath to the next.
pub(super) fn is_moved(schedule: &Schedule) -> bool {
    schedule.conditions.tank.as_ref().is_some_and(|tank| tank.transfer.is_some())
}

pub(super) fn clock_line(schedule: &Schedule) -> &'static str {
    match (is_moved(schedule), schedule.film.material) {
        (false, _) => "each step has its own clock, set to 0:00 at its first drop",
        (true, Material::Film) => "each step has its own clock, set to 0:00 as the film goes in",
        (true, Material::Paper) => "each step has its own clock, set to 0:00 as the paper goes in",
        (true, Material::Plate) => "each step has its own clock, set to 0:00 as the plate goes in",
    }
}

/// A volume rounded down to what a measuring cylinder can measure. Below 10 ml it is not rounded, because a syringe
/// measures it.
pub(super) fn measured_down(volume: Volume) -> Volume {
    if volume < Volume::from_ml(10) {
        return volume;
    }
    volume - Volume { fl: volume.fl.rem_euclid(measurable(volume).fl) }
}

/// The line of the card about darkness or a safelight; `None` for room light, which another line of the
/// card states.
pub(super) fn working_light(lighting: &Lighting) -> Option<String> {
    match lighting {
        Lighting::None => Some("lights out".to_owned()),
        Lighting::Safelight(lamp) => Some(format!("safelight only: {}", plain(lamp))),
        Lighting::Room => None,
    }
}

/// A bath that keeps at least this long can be mixed the day before.
const LONG: Time = Time::from_seconds(86_400);

/// How long before the first pour a bath may be mixed: `at most 30 min before the first pour`. `None` if the bath keeps
/// a day or more, or its life is not stated.
pub(super) fn still_good(schedule: &Schedule, step: &PlannedStep, bath: &PlannedBath) -> Option<String> {
    let life = bath.lives.filter(|life| *life < LONG)?;
    let at = schedule.steps.iter().position(|own| std::ptr::eq(own, step))?;
    let is_user = |other: &&PlannedStep| other.bath.as_ref().is_some_and(|bath| bath.used == Some(at));
    let last = schedule.steps.iter().rfind(is_user).unwrap_or(step);
    let minutes = Time::ZERO.max(life - last.end).ms / 60_000;
    let is_poured = schedule.steps.first().is_some_and(|first| first.bath.is_some());
    let start = if is_poured && !is_moved(schedule) { "the first pour" } else { "the start" };
    Some(match (minutes / 60, minutes % 60) {
        (0, 0) => format!("just before {start}"),
        (0, minutes) => format!("at most {minutes} min before {start}"),
        (hours, 0) => format!("at most {hours} h before {start}"),
        (hours, minutes) => format!("at most {hours} h {minutes} min before {start}"),
    })
}

//! When the lid may come off: once the film has been in the fixer for its clearing time, and the recipe allows light. A
//! clock alone never frees the lid; only a person knows that the fixer is in.

use std::fmt::{Display, Formatter, Result};

use super::phrase;
use super::plain::{joined, plain, prefixed};
use super::vessel::Vessel;
use crate::compile::{PlannedStep, Schedule};
use crate::model::{Lighting, Role, StepKind, Time};

/// The condition under which room light may reach the film.
#[derive(Debug, Clone)]
pub(super) struct Lid {
    /// The working lights, in order, until room light may reach the film; never empty.
    pub(super) on: Vec<WorkLight>,
    /// The exposures that the recipe plans before room light may reach the film, in order.
    pub(super) exposures: Vec<Exposure>,
    /// The words to show once room light may reach the film: `LID FREE` or `LIGHT MAY GO ON`.
    pub(super) free: &'static str,
    /// The bath in which light becomes harmless, as a card prints it: `fixer`, or the kind of the step, such as
    /// `bleach-fix`.
    pub(super) bath: String,
    /// How long the film must have been in `bath`.
    pub(super) needed: Time,
    /// Whether light must wait for the time `needed` in `bath`; if not, light waits only for `then`.
    is_timed: bool,
    /// The steps in `bath`: when each is poured, covers the film and drains.
    pub(super) fillings: Vec<Filling>,
    /// A moment that light must also wait for: words such as `WASH is in`, and its time from the start of the session.
    pub(super) then: Option<(String, Time)>,
}

/// The light to work by from one moment of the session on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct WorkLight {
    /// The start of this light, counted from the start of the session.
    pub(super) from: Time,
    /// The step with which this light begins; `None` at the start of the session.
    step: Option<String>,
    /// The words on the card: `LID ON`, `DARK`, `SAFELIGHT ONLY` or `ROOM LIGHT`.
    pub(super) word: &'static str,
    /// The lamp, if this light is a safelight.
    pub(super) lamp: Option<String>,
}

/// An exposure that the recipe plans. Its light replaces the working light until it ends. The times count from the
/// start of the session.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Exposure {
    pub(super) from: Time,
    pub(super) to: Time,
    /// The name of the light in the recipe: `sun, under glass with the negative`.
    pub(super) light: String,
}

impl WorkLight {
    fn of(from: Time, step: Option<String>, lighting: &Lighting) -> WorkLight {
        let (word, lamp) = match lighting {
            Lighting::None => ("DARK", None),
            Lighting::Room => ("ROOM LIGHT", None),
            Lighting::Safelight(lamp) => ("SAFELIGHT ONLY", Some(plain(lamp))),
        };
        WorkLight { from, step, word, lamp }
    }
}

impl Display for WorkLight {
    fn fmt(&self, out: &mut Formatter<'_>) -> Result {
        let lamp = self.lamp.as_ref().map(|lamp| format!(" ({lamp})")).unwrap_or_default();
        write!(out, "{}{lamp}", self.word)
    }
}

/// A step in the bath after which light is harmless. The times count from the start of the session.
#[derive(Debug, Clone, Copy)]
pub(super) struct Filling {
    pub(super) pour: Time,
    /// When the bath covers the film.
    pub(super) full: Time,
    pub(super) out: Time,
}

impl Lid {
    /// The condition under which light may reach the film; `None` if no step allows light.
    pub(super) fn of(schedule: &Schedule) -> Option<Lid> {
        let light = schedule.light?;
        let last = schedule.steps.get(light.step)?;
        let before = before(schedule)?;
        let is_clearing = |step: &&PlannedStep| match light.in_fixer {
            Some(_) => step.kind == StepKind::Fix,
            None => ends_the_dark(schedule, step),
        };
        let clearing: Vec<&PlannedStep> = match light.in_fixer {
            Some(_) => before.iter().filter(is_clearing).collect(),
            None => vec![before.iter().rfind(is_clearing).unwrap_or(last)],
        };
        let fillings: Vec<Filling> = clearing.iter().map(|step| Filling::of(step)).collect();
        let filling = fillings.last()?;
        let needed = light.in_fixer.unwrap_or(if light.at > filling.full {
            filling.out - filling.full
        } else {
            Time::ZERO
        });
        let name = phrase::head(last);
        let then = match light.in_fixer {
            Some(_) if light.at != last.full() => None,
            _ if light.at == last.end => Some(format!("{name} is done")),
            _ if last.bath.is_some() => Some(format!("{name} is in")),
            _ => Some(format!("{name} begins")),
        };
        let bath = match light.in_fixer {
            Some(_) => "fixer",
            None => match clearing.last()?.kind {
                StepKind::Fix => "fixer",
                kind => kind.word(),
            },
        };
        let on = until_light(schedule, before);
        let (on, free) = if Vessel::of(schedule).is_open() || on.iter().any(|light| light.word != "DARK") {
            (on, "LIGHT MAY GO ON")
        } else {
            (vec![WorkLight { from: Time::ZERO, step: None, word: "LID ON", lamp: None }], "LID FREE")
        };
        Some(Lid {
            on,
            exposures: before.iter().filter_map(Exposure::of).collect(),
            free,
            is_timed: light.in_fixer.is_some(),
            bath: bath.to_owned(),
            needed,
            fillings,
            then: then.map(|words| (words, light.at)),
        })
    }

    fn on_at(&self, at: Time) -> String {
        let now = self.on.iter().rfind(|light| light.from <= at).or(self.on.first());
        now.map(WorkLight::to_string).unwrap_or_default()
    }

    /// The line about light while an exposure runs: its light, and the working light after it. `None` if no exposure
    /// runs at this time of the session.
    pub(super) fn exposure_at(&self, at: Time) -> Option<String> {
        let now = self.exposures.iter().find(|one| one.from <= at && at < one.to)?;
        Some(format!("EXPOSE   {}; then {}", now.light, self.on_at(at)))
    }

    /// The condition for room light in words: `until the fixer has been in for 2:00`.
    pub(super) fn condition(&self) -> String {
        let then = self.then.as_ref().map(|(words, _)| words.as_str());
        match (self.is_timed, then) {
            (true, None) => format!("until {}", self.in_for()),
            (true, Some(then)) => format!("until {} and {then}", self.in_for()),
            (false, then) => format!("until {}", then.unwrap_or(&self.bath)),
        }
    }

    fn in_for(&self) -> String {
        format!("the {} has been in for {}", self.bath, self.needed)
    }

    /// The instruction at the moment from which light is allowed: `LID FREE once the fixer has been in for 2:00`.
    pub(super) fn once(&self) -> String {
        if self.is_timed { format!("{} once {}", self.free, self.in_for()) } else { self.free.to_owned() }
    }
}

fn before(schedule: &Schedule) -> Option<&[PlannedStep]> {
    schedule.steps.get(..=schedule.light?.step)
}

fn until_light(schedule: &Schedule, before: &[PlannedStep]) -> Vec<WorkLight> {
    let first = schedule.recipe.lighting.as_ref().map_or(&Lighting::None, |lighting| &lighting.value);
    let mut all = vec![WorkLight::of(Time::ZERO, None, first)];
    let changes = before.iter().filter_map(|step| Some((step, step.lighting.as_ref()?)));
    let changes = changes.filter(|(_, lighting)| **lighting != Lighting::Room);
    all.extend(changes.map(|(step, light)| WorkLight::of(step.start, Some(phrase::head(step)), light)));
    all
}

/// The card's line about light: when light may reach the film, or else the working light of the whole session. `None`
/// if the recipe says nothing about light.
pub(super) fn on_card(schedule: &Schedule) -> Option<String> {
    let lighting = schedule.recipe.lighting.as_ref().map(|lighting| &lighting.value);
    if lighting == Some(&Lighting::Room) {
        let changes = schedule.steps.iter().any(|step| step.lighting.is_some());
        let until = if changes { ", until a step says another light" } else { "" };
        return Some(format!("room light{until}"));
    }
    let Some(lid) = Lid::of(schedule) else {
        return lighting.and_then(phrase::working_light);
    };
    let part = |light: &WorkLight| match &light.step {
        None => light.to_string(),
        Some(step) => format!("UNTIL {step}, THEN {light}"),
    };
    let lights = joined(lid.on.iter().map(part), " ");
    let steps = before(schedule)?.iter().filter(|step| Exposure::of(step).is_some()).map(phrase::head);
    let but = prefixed(", but for ", Some(joined(steps, ", ")).filter(|steps| !steps.is_empty()));
    Some(format!("{lights} {}{but}", lid.condition()))
}

impl Exposure {
    /// The exposure of a step without a bath; `None` for other steps, and if the recipe does not name the light.
    fn of(step: &PlannedStep) -> Option<Exposure> {
        let light = step.light.as_deref().filter(|_| step.kind == StepKind::Expose && step.bath.is_none())?;
        Some(Exposure { from: step.start + step.handling, to: step.end, light: plain(light) })
    }
}

impl Filling {
    fn of(step: &PlannedStep) -> Filling {
        Filling { pour: step.start + step.handling, full: step.full(), out: step.end - step.drain }
    }
}

/// Whether light is harmless after the bath of this step, in a recipe that requires no time in a fixer.
fn ends_the_dark(schedule: &Schedule, step: &PlannedStep) -> bool {
    matches!(step.kind, StepKind::Fix | StepKind::Bleach | StepKind::BleachFix)
        || phrase::written(schedule, step).and_then(|step| step.role()) == Some(Role::Monobath)
}

const INSTANT: Time = Time::from_ms(1);

/// How long the film has been in the bath after which light is harmless. Only pours that a person confirmed count.
#[derive(Debug, Clone, Copy)]
pub(super) struct Soaked {
    pub(super) time: Time,
    pub(super) is_confirmed: bool,
}

impl Lid {
    pub(super) fn is_met(&self, soaked: Soaked) -> bool {
        soaked.time >= self.needed.max(INSTANT)
    }

    /// The line about light at the time `at` of a session that a person follows on a screen.
    pub(super) fn line(&self, soaked: Soaked, at: Time) -> String {
        let is_then = self.then.as_ref().is_none_or(|(_, then)| *then <= at);
        let (on, seconds) = (self.on_at(at), Time::from_seconds(soaked.time.ms / 1000));
        match self.then.as_ref() {
            _ if self.is_met(soaked) && is_then => self.free.to_owned(),
            _ if let Some(exposure) = self.exposure_at(at) => exposure,
            Some((then, _)) if self.is_met(soaked) => format!("{on}   until {then}"),
            _ if soaked.is_confirmed => format!("{on}   {} in {seconds} of {}", self.bath, self.needed),
            _ => format!("{on}   {}", self.condition()),
        }
    }
}

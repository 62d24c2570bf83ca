//! What a plan says, in the order in which it is read: the loads with their rolls from the bottom of the tank
//! up, what to make anew before each, and what it all comes to.

use super::super::fate;
use super::super::figure;
use super::super::naming;
use super::super::plain::plain;
use crate::compile::{PlannedStep, spoken};
use crate::model::{StepKind, Time, Use};
use crate::plan::{Load, Mix, Plan, Poured, Roll};

/// A plan, in words.
#[derive(Debug)]
pub struct PlanSheet {
    /// The backlog's title.
    pub title: String,
    /// How many loads of how many rolls.
    pub count: String,
    /// The conditions, and how far it is.
    pub head: Vec<String>,
    /// The loads.
    pub loads: Vec<LoadSheet>,
    /// What all of it comes to, each with its name.
    pub sums: Vec<(&'static str, String)>,
}

/// One load, in words.
#[derive(Debug)]
pub struct LoadSheet {
    /// `LOAD 3`
    pub title: String,
    /// What is followed, and how long it takes.
    pub head: Vec<String>,
    /// What to make anew before it.
    pub mixes: Vec<String>,
    /// The baths, a line each.
    pub baths: Vec<(String, String)>,
    /// The rolls, from the bottom up.
    pub places: Vec<Place>,
    /// In what order they hang.
    pub hanging: Option<String>,
}

/// A roll in its place.
#[derive(Debug)]
pub struct Place {
    /// From 1, at the bottom.
    pub slot: String,
    /// What is written on the roll.
    pub label: String,
    /// What it is.
    pub what: String,
}

impl PlanSheet {
    /// The words of a plan.
    #[must_use]
    pub fn of(plan: &Plan) -> PlanSheet {
        let (loads, rolls) = (plan.loads.len(), plan.waiting());
        let scale = plan.conditions.scale;
        let mut head =
            vec![plain(&plan.tank.title), figure::both_degrees(plan.conditions.temperature, scale)];
        let all = rolls + plan.done.len();
        head.push(match (plan.done.len(), rolls) {
            (0, _) => "nothing is developed yet".to_owned(),
            (_, 0) => format!("all {} are developed", count(all, "roll")),
            (done, left) => format!("{done} of {} developed, {left} left", count(all, "roll")),
        });
        if plan.within > Time::ZERO {
            let within = spoken(plan.within);
            head.push(format!(
                "developing times within {within} count as the same, and the longest is followed"
            ));
        }
        PlanSheet {
            title: plain(&plan.title),
            count: format!("{} of {}", count(loads, "load"), count(rolls, "roll")),
            head,
            loads: plan.loads.iter().zip(1..).map(|(load, number)| load_sheet(load, number)).collect(),
            sums: sums(plan),
        }
    }
}

fn count(number: usize, what: &str) -> String {
    if number == 1 { format!("1 {what}") } else { format!("{number} {what}s") }
}

fn load_sheet(load: &Load, number: usize) -> LoadSheet {
    let schedule = &load.schedule;
    let mut head = vec![plain(&schedule.recipe.title), format!("recipe {}", schedule.recipe.name)];
    head.push(format!("{} at the bench", schedule.total));
    LoadSheet {
        title: format!("LOAD {number}"),
        head,
        mixes: load.mixes.iter().map(mix).collect(),
        baths: schedule.steps.iter().filter_map(bath).collect(),
        places: load.rolls.iter().zip(1u32..).map(|(roll, slot)| place(roll, slot)).collect(),
        hanging: hanging(load),
    }
}

fn place(roll: &Roll, slot: u32) -> Place {
    let index = roll.index.map(|index| format!(" at {index}")).unwrap_or_default();
    let shot = roll.shot.map(|shot| format!(", shot {shot}")).unwrap_or_default();
    Place {
        slot: slot.to_string(),
        label: plain(&roll.label),
        what: format!("{}  {}{index}{shot}", roll.format.word(), plain(&roll.film)),
    }
}

/// What to make: `2500 ml of Citric stop 1+19: 125 ml citric-stop, the rest water`.
fn mix(mix: &Mix) -> String {
    let parts: Vec<String> = mix
        .parts
        .iter()
        .map(|(what, volume)| format!("{} {}", figure::measured(*volume), plain(what)))
        .collect();
    let water = if mix.dilution.water > 0 { ", the rest water" } else { "" };
    format!(
        "{} of {} {}: {}{water}",
        figure::measured(mix.volume),
        plain(&mix.title),
        mix.dilution,
        parts.join(" + ")
    )
}

/// A step that has a bath of its own, as a line.
fn bath(step: &PlannedStep) -> Option<(String, String)> {
    let bath = step.bath.as_ref().filter(|bath| bath.dilution.is_some())?;
    let kept = match bath.fate {
        Some(Use::Reused | Use::Replenished) => ", from its bottle",
        Some(Use::OneShot) | None => "",
    };
    let time = if step.kind == StepKind::Develop { step.duration.to_string() } else { spoken(step.duration) };
    let volume = figure::measured(bath.volume);
    Some((naming::called(step), format!("{time} in {}, {volume}{kept}", naming::bath(bath))))
}

/// The top of the tank comes out first.
fn hanging(load: &Load) -> Option<String> {
    let down: Vec<String> = load.rolls.iter().rev().map(|roll| plain(&roll.label)).collect();
    (down.len() > 1).then(|| format!("the top of the tank first: {}", down.join(" · ")))
}

fn sums(plan: &Plan) -> Vec<(&'static str, String)> {
    let fewest = match plan.loads.len() {
        loads if plan.is_fewest => format!("{loads}, the fewest that can be"),
        loads => format!("{loads}; fewer than {} cannot be", plan.bound),
    };
    let mut sums = vec![("loads", fewest), ("bench", plan.bench().to_string())];
    sums.push(("drying", plan.drying().to_string()));
    sums.push(("water", figure::told(plan.water())));
    for taken in &plan.taken {
        let packages = taken.packages.map(|(package, count)| {
            let packages = if count == 1 { "package" } else { "packages" };
            format!(", {count} {packages} of {}", figure::told(package))
        });
        let what = plain(&taken.what);
        let text = format!("{} of {what}{}", figure::told(taken.volume), packages.unwrap_or_default());
        sums.push(("have", text));
    }
    sums.extend(plan.poured.iter().map(|poured| ("waste", waste(poured))));
    sums.retain(|(name, _)| !plan.loads.is_empty() || *name == "loads");
    sums
}

/// What becomes of it in the end, a kept bath too.
fn waste(poured: &Poured) -> String {
    let fate = fate::spent(poured.step, poured.role).words().unwrap_or_default();
    let when = match poured.fate {
        Some(Use::Reused | Use::Replenished) => ", once it is spent",
        Some(Use::OneShot) | None => "",
    };
    let uncounted = match poured.fate {
        Some(Use::Reused) if !poured.is_counted => "; nothing says how far it goes",
        Some(_) | None => "",
    };
    let volume = figure::told(poured.volume);
    format!("{volume} of {} {}{when}: {fate}{uncounted}", plain(&poured.title), poured.dilution)
}

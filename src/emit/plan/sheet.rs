//! What a plan says, in the order in which it is read: the loads with their rolls from the bottom of the tank
//! up, what to make anew before each, and what it all comes to.

use super::super::facts;
use super::super::fate;
use super::super::figure;
use super::super::naming;
use super::super::plain::plain;
use crate::compile::{PlannedStep, spoken};
use crate::model::{StepKind, Time, Use};
use crate::plan::{Anew, Assumed, Days, Idle, LeftOut, Load, Mix, Plan, Poured, Roll, Unused};

/// A plan, in words.
#[derive(Debug)]
pub struct PlanSheet {
    /// The backlog's title.
    pub title: String,
    /// How many loads of how many rolls.
    pub count: String,
    /// The conditions, and how far it is.
    pub head: Vec<String>,
    /// What is told before all else, each as a sentence without its full stop.
    pub warnings: Vec<String>,
    /// The loads.
    pub loads: Vec<LoadSheet>,
    /// The rolls that have none.
    pub left: Vec<LeftSheet>,
    /// What all of it comes to, each with its name.
    pub sums: Vec<(&'static str, String)>,
}

/// Rolls that have no load, in words.
#[derive(Debug)]
pub struct LeftSheet {
    /// Why, each as a sentence without its full stop.
    pub reasons: Vec<String>,
    /// The rolls, each by its label and what it is.
    pub rolls: Vec<(String, String)>,
}

/// One load, in words.
#[derive(Debug)]
pub struct LoadSheet {
    /// `LOAD 3`
    pub title: String,
    /// Its day, where they are made on several.
    pub day: Option<String>,
    /// What is followed, and how long it takes.
    pub head: Vec<String>,
    /// The doubts that its card will tell, each with the rule that raised it.
    pub warnings: Vec<String>,
    /// What to make anew before it.
    pub mixes: Vec<String>,
    /// The baths, a line each.
    pub baths: Vec<(String, String)>,
    /// The rolls, from the bottom up.
    pub places: Vec<Place>,
    /// Their labels in the order in which they come out, the top of the tank first; none where there is but one.
    pub hanging: Vec<String>,
}

/// A roll in its place.
#[derive(Debug)]
pub struct Place {
    /// Which end of the tank it is, where there are several.
    pub end: Option<&'static str>,
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
        let out: usize = plan.left.iter().map(|left| left.rolls.len()).sum();
        let scale = plan.conditions.scale;
        let mut head =
            vec![plain(&plan.tank.title), figure::both_degrees(plan.conditions.temperature, scale)];
        head.extend(plan.days.map(days));
        let all = rolls + out + plan.done.len();
        head.push(match (plan.done.len(), rolls + out) {
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
            warnings: warnings(plan, out),
            loads: plan.loads.iter().zip(1..).map(|(load, number)| load_sheet(plan, load, number)).collect(),
            left: plan.left.iter().map(left_sheet).collect(),
            sums: sums(plan),
        }
    }
}

fn count(number: usize, what: &str) -> String {
    if number == 1 { format!("1 {what}") } else { format!("{number} {what}s") }
}

/// The day, or the days.
fn days(days: Days) -> String {
    let day = days.first;
    match (days.loads, days.apart) {
        (None, _) => format!("on {day}"),
        (Some(loads), 1) => format!("from {day} on, {} a day", count(loads as usize, "load")),
        (Some(loads), apart) => {
            format!("from {day} on, {} every {apart} days", count(loads as usize, "load"))
        }
    }
}

fn warnings(plan: &Plan, out: usize) -> Vec<String> {
    let mut warnings = Vec::new();
    if plan.assumed.contains(&Assumed::Temperature) {
        let temperature = figure::both_degrees(plan.conditions.temperature, plan.conditions.scale);
        warnings.push(format!("no temperature was given: all of this is for {temperature}"));
    }
    match out {
        0 => {}
        1 => warnings.push("1 roll has no load: it stands below, with the reason".to_owned()),
        out => warnings.push(format!("{out} rolls have no load: they stand below, with the reason")),
    }
    warnings
}

fn left_sheet(left: &LeftOut) -> LeftSheet {
    LeftSheet {
        reasons: left.faults.iter().map(|fault| plain(&fault.message)).collect(),
        rolls: left.rolls.iter().map(|roll| (plain(&roll.label), what(roll))).collect(),
    }
}

fn load_sheet(plan: &Plan, load: &Load, number: usize) -> LoadSheet {
    let schedule = &load.schedule;
    let mut head = vec![plain(&schedule.recipe.title), format!("recipe {}", schedule.recipe.name)];
    head.push(format!("{} at the bench", schedule.total));
    LoadSheet {
        title: format!("LOAD {number}"),
        day: plan.days.and_then(|days| days.loads).map(|_| load.on.to_string()),
        head,
        warnings: facts::warnings(schedule),
        mixes: load.mixes.iter().map(mix).collect(),
        baths: schedule.steps.iter().filter_map(bath).collect(),
        places: load.rolls.iter().zip(1..).map(|(roll, slot)| place(load, roll, slot)).collect(),
        hanging: hanging(load),
    }
}

fn place(load: &Load, roll: &Roll, slot: usize) -> Place {
    let end = match slot {
        _ if load.rolls.len() < 2 => None,
        1 => Some("bottom"),
        slot if slot == load.rolls.len() => Some("top"),
        _ => None,
    };
    Place { end, slot: slot.to_string(), label: plain(&roll.label), what: what(roll) }
}

/// What a roll is: `120  Skerry 400 at 400, shot 2026-10-05`.
fn what(roll: &Roll) -> String {
    let index = roll.index.map(|index| format!(" at {index}")).unwrap_or_default();
    let shot = roll.shot.map(|shot| format!(", shot {shot}")).unwrap_or_default();
    format!("{}  {}{index}{shot}", roll.format.word(), plain(&roll.film))
}

/// What to make: `2500 ml of Citric stop 1+19: 125 ml citric-stop, the rest water`.
fn mix(mix: &Mix) -> String {
    let parts: Vec<String> = mix
        .parts
        .iter()
        .map(|(what, volume)| format!("{} {}", figure::measured(*volume), plain(what)))
        .collect();
    let water = if mix.dilution.water > 0 { ", the rest water" } else { "" };
    let because = match mix.because {
        None => String::new(),
        Some(Anew::Spent) => "; the one before is used up".to_owned(),
        Some(Anew::PastKeeping(until)) => format!("; the one before keeps until {until}"),
    };
    format!(
        "{} of {} {}: {}{water}{because}",
        figure::measured(mix.volume),
        plain(&mix.title),
        mix.dilution,
        parts.join(" + ")
    )
}

/// A step that has a bath of its own, as a line.
fn bath(step: &PlannedStep) -> Option<(String, String)> {
    let bath = step.bath.as_ref().filter(|bath| bath.dilution.is_some())?;
    let kept = match (bath.fate, &bath.bottle) {
        (Some(Use::Reused | Use::Replenished), Some(bottle)) => format!(", from {}", plain(&bottle.name)),
        (Some(Use::Reused | Use::Replenished), None) => ", from its bottle".to_owned(),
        (Some(Use::OneShot) | None, _) => String::new(),
    };
    let time = if step.kind == StepKind::Develop { step.duration.to_string() } else { spoken(step.duration) };
    let volume = figure::measured(bath.volume);
    Some((naming::called(step), format!("{time} in {}, {volume}{kept}", naming::bath(bath))))
}

/// What stands before the labels in the order in which they hang.
pub(in crate::emit) const HANGING: &str = "the top of the tank first: ";

/// The top of the tank comes out first.
fn hanging(load: &Load) -> Vec<String> {
    let down = load.rolls.iter().rev().map(|roll| plain(&roll.label));
    down.filter(|_| load.rolls.len() > 1).collect()
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
            format!(", {count} {packages} of {}", figure::enough(package))
        });
        let of = if taken.tops_up { "replenisher for " } else { "" };
        let what = format!("{of}{}", plain(&taken.what));
        let text = format!("{} of {what}{}", figure::enough(taken.volume), packages.unwrap_or_default());
        sums.push(("have", text));
    }
    sums.extend(plan.poured.iter().map(|poured| ("waste", waste(poured))));
    sums.extend(plan.idle.iter().map(|idle| ("bottle", unused(idle))));
    sums.retain(|(name, _)| !plan.loads.is_empty() || *name == "loads");
    sums
}

/// Why a bottle is not poured from.
fn unused(idle: &Idle) -> String {
    format!("{} is not poured from: {}", plain(&idle.name), because(idle.because))
}

pub(super) fn because(unused: Unused) -> &'static str {
    match unused {
        Unused::NotMade => "it is not made yet",
        Unused::Speaks(verdict) => verdict.words(),
        Unused::TooSmall => "it holds less than a load needs",
        Unused::NotNeeded => "no load of this plan calls for it",
    }
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

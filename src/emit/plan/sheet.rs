//! The words of a plan, in the order in which they are read.

use super::super::plain::plain;
use super::super::{compose, fate, figure, naming};
use crate::compile::{PlannedStep, spoken};
use crate::model::{StepKind, Time, Use};
use crate::plan::{Assumed, Days, LeftOut, Load, Mix, MixedAgain, Plan, Poured, Roll, Unused};
use figure::count;

/// A plan, in words.
#[derive(Debug)]
pub struct PlanSheet {
    /// The backlog's title.
    pub title: String,
    /// The number of loads and rolls.
    pub count: String,
    /// The conditions and the progress.
    pub head: Vec<String>,
    /// Warnings, each as a sentence without its full stop.
    pub warnings: Vec<String>,
    /// The loads.
    pub loads: Vec<LoadSheet>,
    /// The rolls without a load.
    pub left: Vec<LeftSheet>,
    /// The totals, each with its name.
    pub sums: Vec<(&'static str, String)>,
}

/// Rolls without a load, in words.
#[derive(Debug)]
pub struct LeftSheet {
    /// The reasons, each as a sentence without its full stop.
    pub reasons: Vec<String>,
    /// The rolls, each by its label and description.
    pub rolls: Vec<(String, String)>,
}

/// One load, in words.
#[derive(Debug)]
pub struct LoadSheet {
    /// `LOAD 3`
    pub title: String,
    /// Its day, if the loads have several.
    pub day: Option<String>,
    /// The recipe and its time.
    pub head: Vec<String>,
    /// The warnings of its card.
    pub warnings: Vec<String>,
    /// The baths to mix before it.
    pub mixes: Vec<String>,
    /// The baths, each by its step.
    pub baths: Vec<(String, String)>,
    /// The rolls, from the bottom up.
    pub places: Vec<Place>,
    /// The labels from the top down, to hang; empty for one roll.
    pub hanging: Vec<String>,
}

/// A roll in its place.
#[derive(Debug)]
pub struct Place {
    /// `bottom` or `top`, if there are several rolls.
    pub end: Option<&'static str>,
    /// From 1, at the bottom.
    pub slot: String,
    /// The roll's label.
    pub label: String,
    /// Its format, film, index and day.
    pub what: String,
}

impl PlanSheet {
    /// The sheet of a plan.
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
            head.push(format!("developing times within {within} count as equal; the longest is used"));
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

fn days(days: Days) -> String {
    let day = days.first;
    let Some(loads) = days.loads.map(|loads| count(loads as usize, "load")) else {
        return format!("on {day}");
    };
    match days.apart {
        1 => format!("from {day} on, {loads} a day"),
        apart => format!("from {day} on, {loads} every {apart} days"),
    }
}

fn warnings(plan: &Plan, out: usize) -> Vec<String> {
    let mut warnings = Vec::new();
    if plan.assumed.contains(&Assumed::Temperature) {
        let temperature = figure::both_degrees(plan.conditions.temperature, plan.conditions.scale);
        warnings.push(format!("no temperature was given; this plan is for {temperature}"));
    }
    match out {
        0 => {}
        1 => warnings.push("1 roll has no load; LEFT OUT below has the reason".to_owned()),
        out => warnings.push(format!("{out} rolls have no load; LEFT OUT below has the reasons")),
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
    let head = vec![
        plain(&schedule.recipe.title),
        format!("recipe {}", schedule.recipe.name),
        format!("{} at the bench", schedule.total),
    ];
    let down = load.rolls.iter().rev().map(|roll| plain(&roll.label));
    LoadSheet {
        title: format!("LOAD {number}"),
        day: plan.days.and_then(|days| days.loads).map(|_| load.on.to_string()),
        head,
        warnings: compose::warnings(schedule),
        mixes: load.mixes.iter().map(mix).collect(),
        baths: schedule.steps.iter().filter_map(bath).collect(),
        places: load.rolls.iter().zip(1..).map(|(roll, slot)| place(load, roll, slot)).collect(),
        hanging: down.filter(|_| load.rolls.len() > 1).collect(),
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

/// `120  Skerry 400 at 400, shot 2026-10-05`.
fn what(roll: &Roll) -> String {
    let index = roll.index.map(|index| format!(" at {index}")).unwrap_or_default();
    let shot = roll.shot.map(|shot| format!(", shot {shot}")).unwrap_or_default();
    format!("{}  {}{index}{shot}", roll.format.word(), plain(&roll.film))
}

/// `2500 ml of Citric stop 1+19: 125 ml citric-stop, the rest water`.
fn mix(mix: &Mix) -> String {
    let part = |(what, volume): &(String, _)| format!("{} {}", figure::ml(*volume), plain(what));
    let parts = mix.parts.iter().map(part).collect::<Vec<_>>().join(" + ");
    let water = if mix.dilution.water > 0 { ", the rest water" } else { "" };
    let because = match mix.because {
        None => String::new(),
        Some(MixedAgain::Spent) => "; the one before is used up".to_owned(),
        Some(MixedAgain::PastKeeping(until)) => format!("; the one before keeps until {until}"),
    };
    let (volume, title) = (figure::ml(mix.volume), plain(&mix.title));
    format!("{volume} of {title} {}: {parts}{water}{because}", mix.dilution)
}

/// A step with a bath other than water.
fn bath(step: &PlannedStep) -> Option<(String, String)> {
    let bath = step.bath.as_ref().filter(|bath| bath.dilution.is_some())?;
    let kept = match (bath.fate, &bath.bottle) {
        (Some(Use::Reused | Use::Replenished), Some(bottle)) => format!(", from {}", plain(&bottle.name)),
        (Some(Use::Reused | Use::Replenished), None) => ", from its bottle".to_owned(),
        (Some(Use::OneShot) | None, _) => String::new(),
    };
    let time = if step.kind == StepKind::Develop { step.duration.to_string() } else { spoken(step.duration) };
    let volume = figure::ml(bath.volume);
    Some((naming::called(step), format!("{time} in {}, {volume}{kept}", naming::bath(bath))))
}

fn sums(plan: &Plan) -> Vec<(&'static str, String)> {
    let fewest = match plan.loads.len() {
        loads if plan.is_fewest => format!("{loads}, the fewest possible"),
        loads => format!("{loads}; at least {} are needed", plan.bound),
    };
    let mut sums = vec![
        ("loads", fewest),
        ("bench", plan.bench().to_string()),
        ("drying", plan.drying().to_string()),
        ("water", figure::litres(plan.water())),
    ];
    for taken in &plan.taken {
        let packages = taken.packages.map(|(package, count)| {
            let packages = if count == 1 { "package" } else { "packages" };
            format!(", {count} {packages} of {}", figure::enough(package))
        });
        let (volume, what, packages) =
            (figure::enough(taken.volume), plain(&taken.what), packages.unwrap_or_default());
        let of = if taken.tops_up { "replenisher for " } else { "" };
        sums.push(("have", format!("{volume} of {of}{what}{packages}")));
    }
    sums.extend(plan.poured.iter().map(|poured| ("waste", waste(poured))));
    sums.extend(
        plan.idle
            .iter()
            .map(|idle| ("bottle", format!("{} is not used: {}", plain(&idle.name), because(idle.because)))),
    );
    sums.retain(|(name, _)| !plan.loads.is_empty() || *name == "loads");
    sums
}

pub(super) fn because(unused: Unused) -> &'static str {
    match unused {
        Unused::NotMade => "it is not made yet",
        Unused::Speaks(verdict) => verdict.words(),
        Unused::TooSmall => "it holds less than a load needs",
        Unused::NotNeeded => "no load of this plan calls for it",
    }
}

/// The waste of a bath, and where it goes.
fn waste(poured: &Poured) -> String {
    let fate = fate::spent(poured.step, poured.role).words().unwrap_or_default();
    let when = match poured.fate {
        Some(Use::Reused | Use::Replenished) => ", once it is spent",
        Some(Use::OneShot) | None => "",
    };
    let uncounted = match poured.fate {
        Some(Use::Reused) if !poured.is_counted => "; its capacity is not stated",
        _ => "",
    };
    let volume = figure::litres(poured.volume);
    format!("{volume} of {} {}{when}: {fate}{uncounted}", plain(&poured.title), poured.dilution)
}

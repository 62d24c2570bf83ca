//! The wording of a plan, and the plan as plain text with a box to tick for each roll.

use super::card::{self, HANGING, Place};
use super::phrase::{self, Fate, count};
use super::plain::{Look, Page, Tone, joined, padded, plain, prefixed, widest};
use super::vessel::is_stacked;
use crate::compile::{MeasuredPart, PlannedStep, SafetyLine, safety_of, spoken};
use crate::model::{Exposed, StepKind, Time, Use};
use crate::plan::{Assumed, Days, Idle, LeftOut, Load, Mix, MixedAgain, Plan, Poured, Taken, Unused};

/// A plan in words.
#[derive(Debug)]
pub struct PlanSheet {
    /// The backlog's title.
    pub title: String,
    /// The number of loads and rolls.
    pub count: String,
    /// The tank, temperature, days and progress.
    pub head: Vec<String>,
    /// The safety block of all loads.
    pub safety: Vec<SafetyLine>,
    /// The warnings, each as a sentence without its full stop.
    pub warnings: Vec<String>,
    /// The loads.
    pub loads: Vec<LoadSheet>,
    /// The rolls without a load.
    pub left: Vec<LoadSheet>,
    /// The totals, each with its name.
    pub sums: Vec<(&'static str, String)>,
}

/// One load, or rolls without a load.
#[derive(Debug, Default)]
pub struct LoadSheet {
    /// The title: `LOAD 3`, `LEFT OUT`.
    pub title: String,
    /// The load's day, if not all loads are on the same day.
    pub day: Option<String>,
    /// The recipe and its total time.
    pub head: Vec<String>,
    /// Warnings of the load's card, or why the rolls have no load.
    pub warnings: Vec<String>,
    /// The card's advice.
    pub advice: Vec<String>,
    /// Baths to mix, each after `mix`, and the steps' baths, each after its step's name.
    pub baths: Vec<(String, String)>,
    /// The rolls, from the bottom of the tank up; without slots if they have no load.
    pub places: Vec<Place>,
    /// The labels in the order to hang the film; empty for one roll.
    pub hanging: Vec<String>,
}

impl PlanSheet {
    /// The words for a plan.
    pub fn of(plan: &Plan) -> PlanSheet {
        let (loads, rolls) = (plan.loads.len(), plan.waiting());
        let degrees = |at| phrase::both_degrees(at, plan.conditions.scale);
        let ending = prefixed(", ending at ", plan.conditions.ending.map(degrees));
        let temperature = degrees(plan.conditions.temperature) + &ending;
        let out: usize = plan.left.iter().map(|left| left.rolls.len()).sum();
        PlanSheet {
            title: plain(&plan.title),
            count: format!("{} of {}", count(loads, "load"), count(rolls, "roll")),
            head: head(plan, &temperature, rolls + out),
            safety: safety_of(plan.loads.iter().map(|load| &load.schedule)),
            warnings: warnings(plan, &temperature, out),
            loads: plan.loads.iter().zip(1..).map(|(load, number)| load_sheet(plan, load, number)).collect(),
            left: plan.left.iter().map(left_sheet).collect(),
            sums: sums(plan),
        }
    }
}

fn head(plan: &Plan, temperature: &str, waiting: usize) -> Vec<String> {
    let mut head = vec![plain(&plan.tank.title), temperature.to_owned()];
    head.extend(plan.days.map(days));
    let all = count(waiting + plan.done.len(), "roll");
    head.push(match (plan.done.len(), waiting) {
        (0, _) => "nothing is developed yet".to_owned(),
        (_, 0) => format!("all {all} are developed"),
        (done, left) => format!("{done} of {all} developed, {left} left"),
    });
    if plan.within > Time::ZERO {
        let within = spoken(plan.within);
        head.push(format!("developing times within {within} count as equal; the longest is used"));
    }
    head
}

fn days(days: Days) -> String {
    let day = days.first;
    let Some(loads) = days.loads.map(|loads| count(loads, "load")) else {
        return format!("on {day}");
    };
    match days.apart {
        1 => format!("from {day} on, {loads} a day"),
        apart => format!("from {day} on, {loads} every {apart} days"),
    }
}

fn warnings(plan: &Plan, temperature: &str, out: usize) -> Vec<String> {
    let mut warnings = Vec::new();
    if plan.assumed.contains(&Assumed::Temperature) {
        warnings.push(format!("no temperature was given; this plan is for {temperature}"));
    }
    if plan.assumed.contains(&Assumed::Tank) {
        let tank = plain(&plan.tank.title);
        warnings
            .push(format!("no tank was named; this plan is for {tank}, the only one of the backlog's file"));
    }
    if out > 0 {
        warnings.push(format!("no load for {}: LEFT OUT below has the reasons", count(out, "roll")));
    }
    warnings
}

fn left_sheet(left: &LeftOut) -> LoadSheet {
    LoadSheet {
        title: "LEFT OUT".to_owned(),
        warnings: left.faults.iter().map(|fault| plain(&fault.message)).collect(),
        places: left.rolls.iter().map(|roll| place(roll, String::new(), "")).collect(),
        ..LoadSheet::default()
    }
}

fn load_sheet(plan: &Plan, load: &Load, number: usize) -> LoadSheet {
    let schedule = &load.schedule;
    let head = vec![
        plain(&schedule.recipe.title),
        format!("recipe {}", schedule.recipe.name),
        format!("{} at the bench", phrase::moment(schedule, schedule.total)),
    ];
    let last = load.rolls.len();
    let place = |(roll, slot): (&Exposed, usize)| {
        let end = match slot {
            _ if !is_stacked(schedule) => "",
            1 if last > 1 => "bottom",
            _ if slot == last && last > 1 => "top",
            _ => "",
        };
        place(roll, slot.to_string(), end)
    };
    let mixes = load.mixes.iter().map(|one| ("mix".to_owned(), mix(one)));
    let down = load.rolls.iter().rev().map(|roll| plain(&roll.label));
    LoadSheet {
        title: format!("LOAD {number}"),
        day: plan.days.and_then(|days| days.loads).map(|_| load.on.to_string()),
        head,
        warnings: card::warnings(schedule),
        advice: card::advice(schedule),
        baths: mixes.chain(schedule.steps.iter().filter_map(bath)).collect(),
        places: load.rolls.iter().zip(1..).map(place).collect(),
        hanging: down.filter(|_| last > 1 && is_stacked(schedule)).collect(),
    }
}

/// A roll: `120  Skerry 400 at 400, shot 2026-10-05`.
fn place(roll: &Exposed, slots: String, end: &'static str) -> Place {
    let (index, shot) = (prefixed(" at ", roll.exposed_at()), prefixed(", shot ", roll.shot));
    let what = format!("{}  {}{index}{shot}", roll.format, plain(&roll.film.title));
    Place { end, slots, label: plain(&roll.label), what }
}

/// What to mix: `2500 ml of Citric stop 1+19: 125 ml citric-stop, the rest water`.
fn mix(mix: &Mix) -> String {
    let part = |part: &MeasuredPart| format!("{} {}", phrase::ml(part.volume), plain(&part.what));
    let parts = joined(mix.parts.iter().map(part), " + ");
    let water = if mix.dilution.water > 0 { ", the rest water" } else { "" };
    let because = mix.because.map(|because| match because {
        MixedAgain::Spent => "; the previous bath is used up".to_owned(),
        MixedAgain::PastKeeping(until) => format!("; the previous bath keeps until {until}"),
    });
    let because = because.unwrap_or_default();
    let (volume, title) = (phrase::ml(mix.volume), plain(&mix.title));
    let bath = prefixed(", bath ", mix.name.as_deref().map(plain));
    format!("{volume} of {title} {}{bath}: {parts}{water}{because}", mix.dilution)
}

/// A step and its bath. `None` for water and for a dry step.
fn bath(step: &PlannedStep) -> Option<(String, String)> {
    let bath = step.bath.as_ref().filter(|bath| bath.dilution.is_some())?;
    let bottle = bath.bottle.as_ref().map_or_else(|| "its bottle".to_owned(), |bottle| plain(&bottle.name));
    let kept = prefixed(", from ", Some(bottle).filter(|_| bath.reuse.is_some_and(Use::is_kept)));
    let is_exact = step.kind == StepKind::Develop || step.decision.is_some();
    let time = if is_exact { phrase::lasts(step) } else { spoken(step.duration) };
    let volume = phrase::ml(bath.volume);
    Some((phrase::called(step), format!("{time} in {}, {volume}{kept}", phrase::bath(bath))))
}

fn sums(plan: &Plan) -> Vec<(&'static str, String)> {
    let fewest = match plan.loads.len() {
        loads if plan.is_fewest => format!("{loads}, the fewest possible"),
        loads => format!("{loads}; at least {} are needed", plan.bound),
    };
    if plan.loads.is_empty() {
        return vec![("loads", fewest)];
    }
    let mut sums = vec![
        ("loads", fewest),
        ("bench", phrase::range(plan.shortest_bench(), plan.bench())),
        ("drying", plan.drying().to_string()),
        ("water", phrase::range(phrase::litres(plan.least_water()), phrase::litres(plan.water()))),
    ];
    sums.extend(plan.taken.iter().map(|taken| ("have", have(taken))));
    sums.extend(plan.poured.iter().map(|poured| ("waste", waste(poured))));
    let idle = |bottle: &Idle| format!("{} is not used: {}", plain(&bottle.name), because(bottle.because));
    sums.extend(plan.idle.iter().map(|bottle| ("bottle", idle(bottle))));
    sums
}

fn have(taken: &Taken) -> String {
    let of = if taken.tops_up { "replenisher for " } else { "" };
    let packages = |(package, number)| format!("{} of {}", count(number, "package"), phrase::enough(package));
    let volume = phrase::enough(taken.volume);
    format!("{volume} of {of}{}{}", plain(&taken.what), prefixed(", ", taken.packages.map(packages)))
}

pub(super) fn because(unused: Unused) -> &'static str {
    match unused {
        Unused::NotMade => "it is not made yet",
        Unused::Verdict(verdict) => verdict.words(),
        Unused::TooSmall => "it holds less than a load needs",
        Unused::NotNeeded => "no load of this plan needs it",
    }
}

fn waste(poured: &Poured) -> String {
    let fate = Fate::exhausted(poured.step, poured.solution.role).words();
    let when = if poured.reuse.is_some_and(Use::is_kept) { ", once it is spent" } else { "" };
    let uncounted = match poured.reuse {
        Some(Use::Reused) if poured.solution.treats.is_empty() => "; its capacity is not stated",
        _ => "",
    };
    let volume = phrase::litres(poured.volume);
    format!("{volume} of {} {}{when}: {fate}{uncounted}", plain(&poured.solution.title), poured.dilution)
}

/// The plan as text.
pub fn plan_text(sheet: &PlanSheet, look: Look) -> String {
    let mut page = Page::new(look);
    page.apart((Tone::Bold, &sheet.title), ' ', &[(Tone::Body, &sheet.count)]);
    page.joined(&sheet.head);
    page.safety(&sheet.safety);
    page.section("WARNINGS", &sheet.warnings, Tone::Warning);
    for load in sheet.loads.iter().chain(&sheet.left) {
        load_text(&mut page, load);
    }
    page.heading("IN ALL");
    for (name, text) in &sheet.sums {
        named(&mut page, name, text);
    }
    page.out
}

fn load_text(page: &mut Page, load: &LoadSheet) {
    page.blank();
    let day = load.day.as_deref().map(|day| (Tone::Body, day));
    page.apart((Tone::Bold, &load.title), '-', day.as_slice());
    if !load.head.is_empty() {
        page.body("  ", &load.head.join(" · "));
    }
    for warning in &load.warnings {
        page.hang(&[(Tone::Warning, "  ! ")], (Tone::Warning, warning));
    }
    for advice in &load.advice {
        page.body("  - ", advice);
    }
    for (name, bath) in &load.baths {
        named(page, name, bath);
    }
    let labels = widest(load.places.iter().map(|place| &place.label));
    for Place { end, slots, label, what } in &load.places {
        let label = padded(label, labels);
        let lead = match slots.as_str() {
            "" => format!("{:15}{label}  ", ""),
            slot => format!("  {end:<8} [ ] {slot:>2}  {label}  "),
        };
        page.body(&lead, what);
    }
    if !load.hanging.is_empty() {
        named(page, "hang", &format!("{HANGING}{}", load.hanging.join(" · ")));
    }
}

fn named(page: &mut Page, name: &str, text: &str) {
    page.hang(&[(Tone::Bold, &format!("  {name:<8} "))], (Tone::Body, text));
}

//! A plan of tank loads as a document.

use super::card;
use super::document::{Block, Bullet, Document, Head, Place, Section};
use super::mixing::{amount_text, ingredient};
use super::phrase::{self, Fate, count};
use super::plain::{joined, plain, prefixed};
use super::vessel::is_stacked;
use crate::compile::{MeasuredPart, PlannedStep, Schedule, safety_of, spoken};
use crate::measure::MixingDay;
use crate::model::{Exposed, StepKind, Time, Use, Volume};
use crate::plan::{
    Assumed, Days, Idle, LeftOut, LeftRoll, Load, Mix, MixedAgain, Plan, Poured, Taken, Unused,
};

/// The plan as a document, with a box to tick for each roll.
pub fn plan(plan: &Plan, day: &MixingDay) -> Document {
    let (loads, rolls) = (plan.loads.len(), plan.waiting());
    let degrees = |at| phrase::both_degrees(at, plan.conditions.scale);
    let ending = prefixed(", ending at ", plan.conditions.ending.map(degrees));
    let temperature = degrees(plan.conditions.temperature) + &ending;
    let out: usize = plan.left.iter().map(|left| left.rolls.len()).sum();
    let mut sections = vec![Section::safety(&safety_of(plan.loads.iter().map(|load| &load.schedule)))];
    sections.extend(Section::list("WARNINGS", Bullet::Warning, &warnings(plan, &temperature, out)));
    let stocks = stocks(plan, day);
    sections.extend((!stocks.is_empty()).then(|| Section::titled("HAVE", vec![Block::Named(stocks)])));
    sections.extend(plan.loads.iter().zip(1..).map(|(one, number)| load(plan, one, number)));
    sections.extend(plan.left.iter().map(left_out));
    sections.push(Section::titled("IN ALL", vec![Block::Named(sums(plan))]));
    Document {
        title: plain(&plan.title),
        aside: format!("{} of {}", count(loads, "load"), count(rolls, "roll")),
        facts: head(plan, &temperature, rolls + out),
        sections,
        ..Document::default()
    }
}

fn head(plan: &Plan, temperature: &str, waiting: usize) -> Vec<String> {
    let usual = if plan.conditions.usual.tank { " (usual)" } else { "" };
    let mut head = vec![plain(&plan.tank.title) + usual, temperature.to_owned()];
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

fn left_out(left: &LeftOut) -> Section {
    let reasons = left.faults.iter().map(|fault| plain(&fault.message)).collect();
    let rolls = left.rolls.iter().map(|roll| place(roll, String::new(), "")).collect();
    Section {
        head: Head::Ruled("LEFT OUT".to_owned(), String::new()),
        blocks: vec![Block::List(Bullet::Warning, reasons), Block::Rolls(rolls)],
        ..Section::default()
    }
}

fn load(plan: &Plan, load: &Load, number: usize) -> Section {
    let schedule = &load.schedule;
    let about = format!(
        "{} · recipe {} · {} at the bench",
        plain(&schedule.recipe.title),
        schedule.recipe.name,
        phrase::moment(schedule, schedule.total)
    );
    let last = load.rolls.len();
    let place = |(roll, slot): (&Exposed, usize)| {
        let end = match slot {
            _ if !is_stacked(schedule) => "",
            1 if last > 1 => "bottom",
            _ if slot == last && last > 1 => "top",
            _ => "",
        };
        place(&LeftRoll::from(roll), slot.to_string(), end)
    };
    let mixes = load.mixes.iter().map(|one| ("mix".to_owned(), mix(one)));
    let mut rolls: Vec<Place> = load.rolls.iter().zip(1..).map(place).collect();
    // Reels are listed as they stand in the tank: the top one first.
    if is_stacked(schedule) {
        rolls.reverse();
    }
    let blocks = vec![
        Block::Paragraph(about),
        Block::List(Bullet::Warning, card::warnings(schedule)),
        Block::List(Bullet::Dash, card::advice(schedule)),
        Block::Named(mixes.chain(schedule.steps.iter().filter_map(bath)).collect()),
        Block::Rolls(rolls),
    ];
    let day = plan.days.and_then(|days| days.loads).map(|_| load.on.to_string());
    let head = Head::Ruled(format!("LOAD {number}"), day.unwrap_or_default());
    Section { head, blocks, ..Section::default() }
}

fn place(roll: &LeftRoll, slots: String, end: &'static str) -> Place {
    let (index, shot) = (prefixed(" at ", roll.index), prefixed(", shot ", roll.shot));
    let what = format!("{}  {}{index}{shot}", plain(&roll.format), plain(&roll.film));
    Place { end, slots, label: plain(&roll.label), what }
}

/// What to mix: `2500 ml of Citric stop 1+19: 125 ml citric-stop, the rest water`.
pub(super) fn mix(mix: &Mix) -> String {
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

/// A step and its bath: `develop`, `8:39 in MQ borax 1+1, 2500 ml`. `None` for water and for a dry step.
fn bath(step: &PlannedStep) -> Option<(String, String)> {
    let bath = step.bath.as_ref().filter(|bath| bath.dilution.is_some())?;
    let bottle = bath.bottle.as_ref().map_or_else(|| "its bottle".to_owned(), |bottle| plain(&bottle.name));
    let kept = prefixed(", from ", Some(bottle).filter(|_| bath.reuse.is_some_and(Use::is_kept)));
    let is_exact = step.kind == StepKind::Develop || step.decision.is_some();
    let time = if is_exact { phrase::lasts(step) } else { spoken(step.duration) };
    let volume = phrase::ml(bath.volume);
    Some((phrase::called(step), format!("{time} in {}, {volume}{kept}", phrase::bath(bath))))
}

fn sums(plan: &Plan) -> Vec<(String, String)> {
    let fewest = match plan.loads.len() {
        loads if plan.is_fewest => format!("{loads}, the fewest possible"),
        loads => format!("{loads}; at least {} are needed", plan.bound),
    };
    if plan.loads.is_empty() {
        return vec![("loads".to_owned(), fewest)];
    }
    let mut sums = vec![
        ("loads", fewest),
        ("bench", bench(plan)),
        ("drying", drying(plan)),
        ("water", phrase::range(phrase::litres(plan.least_water()), phrase::litres(plan.water()))),
    ];
    sums.extend(plan.poured.iter().map(|poured| ("waste", waste(poured))));
    let idle = |bottle: &Idle| format!("{} is not used: {}", plain(&bottle.name), because(bottle.because));
    sums.extend(plan.idle.iter().map(|bottle| ("bottle", idle(bottle))));
    sums.into_iter().map(|(name, text)| (name.to_owned(), text)).collect()
}

/// The time at the bench for all loads. It is the sum of the rounded times of the loads, so that the printed times add
/// up to it.
fn bench(plan: &Plan) -> String {
    let all = |of: fn(&Schedule) -> Time| -> Time {
        plan.loads.iter().map(|load| phrase::whole(of(&load.schedule))).sum()
    };
    phrase::range(all(|one| one.earliest(one.total)), all(|one| one.total))
}

fn drying(plan: &Plan) -> String {
    let drying = plan.drying();
    match plan.loads.len() {
        _ if drying == Time::ZERO => "not stated".to_owned(),
        1 => format!("{drying}; hang the top of the tank first"),
        _ => format!(
            "{drying} after each load; hang the top of the tank first, and the loads of a day side by side"
        ),
    }
}

/// The liquids to have or to mix, and the ingredients to weigh, for all loads. Each is a pair of a word and a text:
/// `mix`, `2000 ml of mq-borax`.
fn stocks(plan: &Plan, day: &MixingDay) -> Vec<(String, String)> {
    let liquids = plan.taken.iter().map(|taken| match taken.to_mix() {
        Some(volume) => {
            let needed = (taken.volume != volume || !taken.on_hand.is_empty())
                .then(|| format!("; {} needed", phrase::enough(taken.volume)));
            ("mix", format!("{} of {}{}", phrase::enough(volume), liquid(taken), needed.unwrap_or_default()))
        }
        None => ("have", format!("{} of {}", phrase::enough(taken.volume), liquid(taken))),
    });
    let weighed = day.ingredients.iter().map(|one| {
        let had = prefixed(", on hand ", one.on_hand.map(amount_text));
        format!("{} {}{had}", ingredient(one), amount_text(one.amount))
    });
    let weighed: Vec<String> = weighed.collect();
    let weighed = (!weighed.is_empty()).then(|| ("weigh", weighed.join(" · ")));
    let all = liquids.chain(weighed);
    all.map(|(name, text)| (name.to_owned(), text)).collect()
}

/// A liquid, its packages, what the user has of it and what is to buy: `rapid-fix, 1 package of 1 l; on hand 250 ml in
/// fix-a of 2026-11-02, 250 ml to buy`.
pub(super) fn liquid(taken: &Taken) -> String {
    let of = if taken.tops_up { "replenisher for " } else { "" };
    let packages = |(package, number)| format!("{} of {}", count(number, "package"), phrase::enough(package));
    let packages = taken.packages.filter(|(_, number)| *number > 0).map(packages);
    let had = taken.on_hand.iter().map(|had| {
        let bottle = had.bottle.as_ref().map(|(name, mixed)| format!("{} of {mixed}", plain(name)));
        format!("{}{}", phrase::enough(had.volume), prefixed(" in ", bottle))
    });
    let had = joined(had, " and ");
    let had = if had.is_empty() { String::new() } else { format!("; on hand {had}") };
    let short = taken.short();
    let short = match taken.to_mix() {
        None if !taken.on_hand.is_empty() && short > Volume::ZERO => {
            format!(", {} to buy", phrase::enough(short))
        }
        _ => String::new(),
    };
    format!("{of}{}{}{had}{short}", plain(&taken.what), prefixed(", ", packages))
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

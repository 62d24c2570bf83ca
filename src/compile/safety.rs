//! The safety block, which comes first on every card, plan and sheet: at most ten lines of 76 characters.

use super::evening::Personal;
use super::schedule::Schedule;
use super::{apart, said as bottles};
use crate::chemistry::{Concern, Form};
use crate::model::{Role, Solution, Step, StepKind, Temperature};
use crate::source::Sorted as _;

/// A line of the safety block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SafetyLine {
    /// The word at the left of the line, such as `EYES`; empty if the line continues the line before.
    pub word: &'static str,
    /// The text after the word.
    pub text: String,
}

/// The heading of the safety block.
pub const SAFETY_HEADING: &str = "label, data sheet, local code and lab rules go before this card";
/// The line that an output form shows if it has no space for the safety block.
pub const SAFETY_FIRST: &str = "read the safety block of the card first";
const LINES: usize = 10;
/// The text of a line has at most this many characters, after a column of eight for the word.
pub(super) const WIDE: usize = 68;
/// The prefix of a statement that the safety block of the last session did not have.
const NEW: &str = "new: ";

pub(crate) struct Scene<'a> {
    /// The solutions, in order of use.
    pub(crate) solutions: Vec<&'a Solution>,
    pub(crate) warmest: Option<Temperature>,
    pub(crate) exposes: bool,
    pub(crate) personal: &'a Personal,
    /// The statements of the last session's safety block, if there was a session.
    pub(crate) last: Option<&'a [Saying]>,
}

/// From this temperature on, a bath steams and needs a heater. Common practice, no source.
const WARM: Temperature = Temperature::celsius_whole(30);

/// A statement of the safety block, as a full text of one or more lines and as a brief text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Saying {
    pub(super) word: &'static str,
    pub(super) full: String,
    pub(super) brief: String,
}

impl Saying {
    pub(super) fn new(word: &'static str, full: impl Into<String>, brief: impl Into<String>) -> Saying {
        Saying { word, full: full.into(), brief: brief.into() }
    }

    pub(super) fn same(word: &'static str, text: impl Into<String>) -> Saying {
        let text = text.into();
        Saying { word, full: text.clone(), brief: text }
    }
}

impl SafetyLine {
    /// The lines, each continuation joined to the line before it.
    pub fn entries(lines: &[SafetyLine]) -> Vec<SafetyLine> {
        let mut all: Vec<SafetyLine> = Vec::new();
        for line in lines {
            match all.last_mut().filter(|_| line.word.is_empty()) {
                Some(last) => last.text = format!("{} {}", last.text, line.text),
                None => all.push(line.clone()),
            }
        }
        all
    }
}

/// The safety block of one or several evenings, as in a plan.
pub fn safety_of<'a>(schedules: impl Iterator<Item = &'a Schedule> + Clone) -> Vec<SafetyLine> {
    let Some(first) = schedules.clone().next() else { return Vec::new() };
    let mut concerns: Vec<Concern> = Vec::new();
    let mut solutions: Vec<&Solution> = Vec::new();
    for schedule in schedules.clone() {
        let new = schedule.concerns.iter().filter(|one| !concerns.contains(one)).cloned();
        let new: Vec<Concern> = new.collect();
        concerns.extend(new);
        for solution in schedule.recipe.steps.iter().flat_map(Step::solutions) {
            if !solutions.iter().any(|known| known.name == solution.name) {
                solutions.push(solution);
            }
        }
    }
    let steps = || schedules.clone().flat_map(|schedule| &schedule.steps);
    let wet = steps().filter(|step| step.bath.is_some());
    let warmest = wet.filter_map(|step| step.temperature).max();
    let exposes = steps().any(|step| step.kind == StepKind::Expose && step.bath.is_none());
    let (personal, last) = (&first.conditions.personal, first.last_safety.as_deref());
    safety(&concerns, &Scene { solutions, warmest, exposes, personal, last })
}

/// The lines of the safety block below its heading. If ten lines are too few for all bottles, the worst bottles have a
/// line each, and one more line names the others. A statement that the last session did not have begins with `new:`.
pub(crate) fn safety(concerns: &[Concern], scene: &Scene<'_>) -> Vec<SafetyLine> {
    let mut said = sayings(concerns, scene);
    for saying in &mut said {
        if scene.last.is_some_and(|last| !last.contains(saying)) {
            saying.full.insert_str(0, NEW);
            saying.brief.insert_str(0, NEW);
        }
    }
    let is_bottle = |saying: &Saying| bottles::WORDS.contains(&saying.word);
    let others = said.iter().filter(|saying| !is_bottle(saying));
    let room = LINES.saturating_sub(others.map(|saying| in_brief(saying).len()).sum());
    if said.iter().filter(|saying| is_bottle(saying)).count() > room {
        bottles::merge_last(&mut said, room);
    }
    let mut texts: Vec<Vec<SafetyLine>> = said.iter().map(in_brief).collect();
    let mut count: usize = texts.iter().map(Vec::len).sum();
    let is_for_life = |saying: &Saying| saying.full.ends_with(bottles::FOR_LIFE_TOO);
    // Full texts replace brief ones while lines are free, in this order of the words at the left.
    let order = ["EYES", "NEVER", "SKIN", "BATH", "BOTTLE", "AIR", "WASTE"];
    let turn = |saying: &Saying, brief: &[SafetyLine]| {
        let place = order.iter().position(|word| *word == saying.word);
        // A statement about an allergy for life and a statement whose brief text was cut come first.
        let is_cut = brief.iter().any(|line| line.text.ends_with('…'));
        if is_for_life(saying) || is_cut { 0 } else { place.map_or(order.len() + 1, |place| place + 1) }
    };
    let mut turns: Vec<(&Saying, &mut Vec<SafetyLine>)> = said.iter().zip(&mut texts).collect();
    turns.order_by_key(|(saying, brief)| turn(saying, brief));
    for (saying, text) in turns {
        let full = rows(saying.word, &saying.full);
        if count - text.len() + full.len() <= LINES {
            count = count - text.len() + full.len();
            *text = full;
        }
    }
    let mut lines: Vec<SafetyLine> = texts.into_iter().flatten().collect();
    lines.truncate(LINES);
    lines
}

/// The lines of a statement's brief text: one line, or several for `EYES` if the number of the poison centre is long.
fn in_brief(saying: &Saying) -> Vec<SafetyLine> {
    if saying.word == "EYES" {
        return rows(saying.word, &saying.brief);
    }
    vec![clipped(saying.word, &saying.brief)]
}

pub(crate) fn sayings(concerns: &[Concern], scene: &Scene<'_>) -> Vec<Saying> {
    let is_warm = scene.warmest.is_some_and(|warmest| WARM <= warmest);
    let gases = apart::gases(concerns);
    let fan = if is_warm || gases.iter().any(|gas| gas.is_strong) { "fan ON" } else { "fan or window" };
    let forms = || concerns.iter().flat_map(|one| &one.forms);
    let long = if forms().any(bottles::burns_for_sure) { "long gloves" } else { "gloves" };
    let wear = |fan: &str| format!("goggles, {long}, apron; {fan}. No food, child or pet.");
    let mut all = vec![
        Saying::new("WEAR", wear(fan), wear(fan.trim_end_matches(" or window"))),
        eyes(scene.personal.poison.as_deref()),
        skin(concerns),
    ];
    // Each brief text must leave space for this prefix, which may be put before it.
    let lead = if scene.last.is_some() { NEW } else { "" };
    all.extend(bottles::sayings(concerns, WIDE - lead.len()));
    all.extend(apart::air(&gases, scene.warmest.filter(|_| is_warm)));
    all.extend(apart::never(concerns, &scene.solutions, lead));
    let lamp = "dry hands and floor, 1 m from water, residual-current switch.";
    all.extend(scene.exposes.then(|| Saying::same("LAMP", lamp)));
    let heat = "heater, pump: plug above the water, dry hands, residual current.";
    all.extend(is_warm.then(|| Saying::same("HEAT", heat)));
    all.extend(apart::waste(&scene.solutions, scene.personal));
    all
}

fn eyes(poison: Option<&str>) -> Saying {
    let call = poison.map_or_else(
        || "Call your poison centre or emergency number.".to_owned(),
        |number| format!("Call {number}; take this card with you."),
    );
    let full =
        format!("rinse at once, gently, lids held open, 15 min; lenses out if easy, go on rinsing. {call}");
    let brief = match poison {
        Some(number) => format!("rinse at once, lids open, 15 min; lenses out. Call {number}."),
        None => "rinse at once, gently, lids open, 15 min; lenses out if easy; call.".to_owned(),
    };
    Saying::new("EYES", full, brief)
}

/// Agents of colour and toning developers that can cause an allergy for life. Common practice, no source.
pub(super) const FOR_LIFE: &[&str] = &["colour-developing-agent", "p-phenylenediamine"];

fn skin(concerns: &[Concern]) -> Saying {
    let swallowed = "Swallowed: rinse mouth, do not vomit, call.";
    let sensitises = |one: &&Concern| one.held.iter().any(|held| held.ingredient.is_one_of(FOR_LIFE));
    if let Some(one) = concerns.iter().find(sensitises) {
        let brief = format!("{}: soap and water NOW. Rash, itch: stop, see a doctor.", one.name);
        let brief = if brief.chars().count() > WIDE { brief.replace(", itch", "") } else { brief };
        return Saying::new("SKIN", format!("{brief} {swallowed}"), brief);
    }
    let is_burning = |form: &Form| form.may_burn || bottles::burns_for_sure(form);
    let burns = concerns.iter().flat_map(|one| &one.forms).any(is_burning);
    let (rinse, brief) = match burns {
        true => ("wet clothes off, rinse.", "wet clothes off."),
        false => ("rinse splashes off now.", "rinse off now."),
    };
    Saying::new("SKIN", format!("{rinse} {swallowed}"), format!("{brief} {swallowed}"))
}

/// A short name of a bottle if no other solution has its role: `bleach b` for `permanganate-bleach b`.
pub(super) fn short_name(what: &str, solutions: &[&Solution]) -> String {
    let (name, part) = what.split_once(' ').unwrap_or((what, ""));
    let role = solutions.iter().find(|solution| solution.name == name).and_then(|solution| solution.role);
    let Some(role) = role else { return what.to_owned() };
    let is_only = solutions.iter().filter(|solution| solution.role == Some(role)).count() == 1;
    let is_short = is_only && role != Role::Developer && name.ends_with(&format!("-{}", role.word()));
    if is_short { format!("{} {part}", role.word()).trim_end().to_owned() } else { what.to_owned() }
}

/// The first two names as text: `a or b`, or `a, b and others` if there are more; `None` without names.
pub(super) fn some(names: &[&str]) -> Option<String> {
    match names {
        [] => None,
        [one, other, _, ..] => Some(format!("{one}, {other} and others")),
        few => Some(few.join(" or ")),
    }
}

/// The text in lines of at most 68 characters; the first line has the word at the left.
pub(super) fn rows(word: &'static str, text: &str) -> Vec<SafetyLine> {
    let mut lines: Vec<SafetyLine> = Vec::new();
    for piece in text.split(' ') {
        match lines.last_mut() {
            Some(line) if line.text.chars().count() + 1 + piece.chars().count() <= WIDE => {
                line.text.push(' ');
                line.text.push_str(piece);
            }
            last => {
                let word = if last.is_some() { "" } else { word };
                lines.push(SafetyLine { word, text: piece.chars().take(WIDE).collect() });
            }
        }
    }
    lines
}

/// The text in one line, cut at a word if it is too long.
fn clipped(word: &'static str, text: &str) -> SafetyLine {
    let mut lines = rows(word, text).into_iter();
    let first = lines.next().unwrap_or(SafetyLine { word, text: String::new() });
    if lines.next().is_none() {
        return first;
    }
    let mut short = first.text;
    while short.chars().count() > WIDE - 2 {
        let end = short.rfind(' ').unwrap_or(0);
        short.truncate(end);
        if end == 0 {
            break;
        }
    }
    SafetyLine { word, text: short.trim_end_matches([',', ';', '.', '·', ' ']).to_owned() + " …" }
}

/// Joins the first items, as many as fit into the given number of lines after the prefix `lead`.
pub(super) fn fitting(items: &[String], between: &str, (lead, lines): (&str, usize)) -> String {
    let joined = (1..=items.len()).rev().filter_map(|count| Some(items.get(..count)?.join(between) + "."));
    let mut fits = joined.filter(|text| rows("", &format!("{lead}{text}")).len() <= lines);
    fits.next().unwrap_or_else(|| items.iter().take(1).cloned().collect())
}

//! The safety block, which comes first on every card, plan and sheet: at most ten lines of 76 characters.

use super::schedule::Schedule;
use crate::chemistry::{Concern, Form, PAIRS};
use crate::model::{Role, Solution, Step, StepKind, Temperature};

/// A safety block line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SafetyLine {
    /// The word at the left of the line, such as `EYES`; empty if the line continues the line before.
    pub word: &'static str,
    /// The text.
    pub text: String,
}

/// The heading of the safety block: what overrules the card.
pub const SAFETY_HEADING: &str = "label, data sheet, local code and lab rules go before this card";
/// The most lines below a safety heading.
const LINES: usize = 10;
/// The most characters in the text of a line, after its word in a column of eight.
const WIDE: usize = 68;

/// What the safety block depends on besides the chemicals.
pub(crate) struct Scene<'a> {
    /// The solutions, in order of use.
    pub(crate) solutions: Vec<&'a Solution>,
    /// The highest temperature of a bath.
    pub(crate) warmest: Option<Temperature>,
    /// Whether the film is exposed to a lamp.
    pub(crate) exposes: bool,
}

const WARM: Temperature = Temperature::celsius_whole(30);

/// The safety block of one or several evenings, as in a plan.
pub fn safety_of<'a>(schedules: impl Iterator<Item = &'a Schedule> + Clone) -> Vec<SafetyLine> {
    let mut concerns: Vec<Concern> = Vec::new();
    let mut solutions: Vec<&Solution> = Vec::new();
    for schedule in schedules.clone() {
        let new = schedule.concerns.iter().filter(|one| !concerns.contains(one)).cloned();
        let new: Vec<Concern> = new.collect();
        concerns.extend(new);
        for solution in schedule.recipe.steps.iter().filter_map(Step::solution) {
            if !solutions.iter().any(|known| known.name == solution.name) {
                solutions.push(solution);
            }
        }
    }
    let steps = || schedules.clone().flat_map(|schedule| &schedule.steps);
    let wet = steps().filter(|step| step.bath.is_some());
    let warmest = wet.filter_map(|step| step.temperature).max();
    let exposes = steps().any(|step| step.kind == StepKind::Expose);
    safety(&concerns, &Scene { solutions, warmest, exposes })
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

/// The lines of the safety block below its heading.
pub(crate) fn safety(concerns: &[Concern], scene: &Scene<'_>) -> Vec<SafetyLine> {
    let is_warm = scene.warmest.is_some_and(|warmest| WARM <= warmest);
    let gases = gas(concerns);
    let fan = if is_warm || !gases.is_empty() { "fan ON" } else { "fan or window" };
    let wear = format!("goggles, gloves, apron; {fan}. No food, child or pet.");
    let burns = concerns.iter().flat_map(|one| &one.forms).any(is_burning);
    let skin = if burns { "wet clothes off, rinse." } else { "rinse splashes off now." };
    let head = [
        ("WEAR", wear),
        ("EYES", "rinse at once, gently, lids open, 15 min; lenses out if easy; call.".to_owned()),
        ("SKIN", format!("{skin} Swallowed: rinse mouth, do not vomit, call.")),
    ];
    let mut tail: Vec<(&str, String)> = Vec::new();
    let steams = "it all steams when warm: caps on, fan at the tank, not behind you.".to_owned();
    tail.extend(
        (!gases.is_empty())
            .then(|| ("AIR", format!("{}: sulfur dioxide. Asthma: fan on.", gases.join(", ")))),
    );
    tail.extend((is_warm && gases.is_empty()).then_some(("AIR", steams)));
    tail.extend(never(concerns).map(|text| ("NEVER", text)));
    let lamp = "dry hands and floor, 1 m from water, residual-current switch.";
    tail.extend(scene.exposes.then(|| ("LAMP", lamp.to_owned())));
    let heat = "heater, pump: plug above the water, dry hands, residual current.";
    tail.extend(is_warm.then(|| ("HEAT", heat.to_owned())));
    tail.extend(waste(&scene.solutions).map(|text| ("WASTE", text)));
    let room = LINES.saturating_sub(head.len() + tail.len());
    let mut lines: Vec<SafetyLine> = Vec::new();
    head.iter().for_each(|(word, text)| lines.push(clipped(word, text)));
    lines.extend(bottles(concerns, room));
    for (word, text) in &tail {
        let rows = wrapped(word, text);
        let left = tail.iter().skip_while(|(other, _)| other != word).count();
        if lines.len() + rows.len() + left - 1 <= LINES {
            lines.extend(rows);
        } else {
            lines.push(clipped(word, text));
        }
    }
    lines.truncate(LINES);
    lines
}

fn is_burning(form: &Form) -> bool {
    form.may_burn
        || form.needs_ph
        || form.class.hazards.iter().any(|one| ["H314", "H318"].contains(&one.code))
}

/// The lines about bottles and baths, the worst first; at most `room` lines.
fn bottles(concerns: &[Concern], room: usize) -> Vec<SafetyLine> {
    let mut said: Vec<(u32, &'static str, String, Vec<&str>)> = Vec::new();
    let forms = || concerns.iter().flat_map(|one| &one.forms);
    // Bottles of unstated strength share a line; the worst of them decides it.
    let may_burn = forms().any(|form| form.may_burn);
    for form in forms() {
        for (rank, word, text) in sayings(form, may_burn) {
            match said.iter_mut().find(|(_, other, known, _)| *other == word && *known == text) {
                Some((.., names)) => names.push(&form.what),
                None => said.push((rank, word, text, vec![&form.what])),
            }
        }
    }
    said.sort_by_key(|(rank, ..)| *rank);
    let mut lines = Vec::new();
    let mut left_out: Vec<&str> = Vec::new();
    let mut waiting = said.len();
    for (_, word, text, names) in said {
        waiting -= 1;
        let rows = wrapped(word, &format!("{}: {text}", names.join(", ")));
        let reserve = usize::from(waiting > 0 || !left_out.is_empty());
        if left_out.is_empty() && lines.len() + rows.len() + reserve <= room {
            lines.extend(rows);
        } else {
            left_out.extend(names);
        }
    }
    left_out.dedup();
    if !left_out.is_empty() && room > 0 {
        lines.truncate(room - 1);
        lines.push(clipped("BOTTLE", &format!("see the cautions too: {}", left_out.join(", "))));
    }
    lines
}

/// All that is said of a bottle or bath: the rank, word and text of each saying.
fn sayings(form: &Form, may_burn: bool) -> Vec<(u32, &'static str, String)> {
    let mut all = Vec::new();
    let has = |code: &str| form.class.hazards.iter().any(|one| one.code.starts_with(code));
    let memory = |code: &str| form.class.from_memory.iter().any(|one| one.code.starts_with(code));
    let mut said: Vec<String> = Vec::new();
    for (code, text) in BRIEF {
        if has(code) && !said.iter().any(|known| known.starts_with(text)) {
            said.push(format!("{text}{}", if memory(code) { " (from memory)" } else { "" }));
        }
    }
    said.extend(form.needs_ph.then(|| "pH not stated, treat as BURNING".to_owned()));
    if !said.is_empty() {
        let rank = BRIEF.iter().position(|(code, _)| has(code)).unwrap_or(BRIEF.len());
        let rank = if form.needs_ph { rank.min(4) } else { rank };
        all.push((u32::try_from(rank).unwrap_or(u32::MAX), "BOTTLE", said.join(", ") + "."));
    }
    if !form.silent.is_empty() {
        let how = if may_burn { "treat as burning" } else { "read the label" };
        all.push((if may_burn { 5 } else { 40 }, "BOTTLE", format!("strength not stated; {how}.")));
    }
    if !form.class.sensitisers.is_empty() && !has("H317") && !has("H334") {
        let names = form.class.sensitisers.join(", ");
        all.push((30, "BATH", format!("contains {names}. May produce an allergic reaction.")));
    }
    all
}

/// Hazard statements in a word or two, the worst first.
const BRIEF: &[(&str, &str)] = &[
    ("H300", "POISON"),
    ("H310", "POISON"),
    ("H330", "POISON"),
    ("H314", "BURNS"),
    ("EUH071", "burns airways"),
    ("H301", "poison"),
    ("H311", "poison"),
    ("H331", "poison"),
    ("H350", "may cause cancer"),
    ("H340", "may cause genetic defects"),
    ("H360", "never when pregnant"),
    ("H334", "asthma"),
    ("H318", "eye damage"),
    ("H317", "allergy"),
    ("H271", "fire"),
    ("H272", "feeds fire"),
    ("H351", "suspected of causing cancer"),
    ("H361", "not when pregnant"),
    ("H370", "harms organs"),
    ("H371", "harms organs"),
    ("H372", "harms organs"),
    ("H373", "harms organs"),
    ("H302", "harmful"),
    ("H312", "harmful"),
    ("H332", "harmful"),
    ("H319", "hurts eyes"),
    ("H315", "hurts skin"),
    ("H335", "hurts airways"),
    ("H336", "drowsiness"),
];

/// The solutions that give off sulfur dioxide: bisulfites, and acid with sulfite.
fn gas(concerns: &[Concern]) -> Vec<&str> {
    let holds =
        |one: &Concern, names: &[&str]| one.held.iter().any(|held| names.contains(&held.ingredient.name));
    let bisulfites = ["potassium-metabisulfite", "sodium-bisulfite", "sodium-metabisulfite"];
    let acids = ["acetic-acid", "citric-acid", "sulfuric-acid", "sodium-bisulfate"];
    let gives =
        |one: &&Concern| holds(one, &bisulfites) || (holds(one, &acids) && holds(one, &["sodium-sulfite"]));
    concerns.iter().filter(gives).map(|one| one.name.as_str()).collect()
}

/// Chemicals that must not meet undiluted, the deadliest first.
fn never(concerns: &[Concern]) -> Option<String> {
    let holding = |group: &[&str]| -> Vec<&str> {
        let of = |one: &&Concern| one.held.iter().any(|held| group.contains(&held.ingredient.name));
        concerns.iter().filter(of).map(|one| one.name.as_str()).collect()
    };
    let mut clauses: Vec<String> = Vec::new();
    for pair in PAIRS {
        let (ones, others) = (holding(pair.one), holding(pair.other));
        // A bottle may hold both chemicals by design, as an acid fixer does.
        let apart = |names: &[&str], not: &[&str]| {
            some(&names.iter().filter(|name| !not.contains(name)).copied().collect::<Vec<_>>())
        };
        let (Some((group, with, comes)), Some(met)) = (pair.short, apart(&others, &ones)) else { continue };
        let clause = match (apart(&ones, &others), with) {
            (Some(ones), "") => format!("undiluted {ones} into {met}: {comes}"),
            (Some(ones), with) => format!("{ones} with {with}: {comes}"),
            (None, _) if !group.is_empty() && clauses.is_empty() => format!("{group} into {met}: {comes}"),
            (None, _) => continue,
        };
        let begins = |known: &String| known.split(": ").next() == clause.split(": ").next();
        if !clauses.iter().any(begins) {
            clauses.push(clause);
        }
    }
    (!clauses.is_empty()).then(|| clauses.join("; ") + ".")
}

/// At most two names; `None` without any.
fn some(names: &[&str]) -> Option<String> {
    match names {
        [] => None,
        [one, other, _, ..] => Some(format!("{one}, {other} and others")),
        few => Some(few.join(", ")),
    }
}

/// The text for the waste: one can for each kind, in order of use.
fn waste(solutions: &[&Solution]) -> Option<String> {
    let mut cans: Vec<&str> = Vec::new();
    for solution in solutions {
        let holds = |names: &[&str]| solution.ingredients().iter().any(|one| names.contains(&one.name));
        let can = match solution.role {
            _ if holds(&["sodium-sulfide", "sodium-selenite"]) => "toner ALONE",
            _ if holds(&["potassium-permanganate", "potassium-dichromate"]) => "bleach ALONE, cap loose",
            Some(Role::Fixer | Role::Monobath) => "fixer (silver)",
            Some(Role::BleachFix) => "bleach-fix (silver)",
            Some(Role::Developer) => "developer",
            Some(Role::Bleach) => "bleach ALONE",
            Some(Role::Stop) => "stop",
            Some(Role::Clearing) => "clearing",
            Some(Role::Stabilizer) => "stabilizer",
            Some(Role::Toner) => "toner ALONE",
            _ => continue,
        };
        if !cans.contains(&can) {
            cans.push(can);
        }
    }
    let cans: Vec<String> = cans.iter().zip(1..).map(|(can, number)| format!("{number} {can}")).collect();
    let cans = cans.join(" · ");
    let ask = if cans.chars().count() + 27 <= WIDE { ". Ask before any drain." } else { "" };
    (!cans.is_empty()).then(|| format!("can {cans}{ask}"))
}

/// The text in lines of at most 68 characters.
fn wrapped(word: &'static str, text: &str) -> Vec<SafetyLine> {
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
    let mut lines = wrapped(word, text).into_iter();
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
    SafetyLine { word, text: short + " …" }
}

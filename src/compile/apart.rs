//! The lines of the safety block about gases, about what must not meet, and about waste.

use super::evening::Personal;
use super::safety::{Saying, WIDE, fitting, rows, short_name, some};
use crate::chemistry::{ACIDS, Concern, Form, Name, PAIRS, Percent};
use crate::model::{Role, Solution, Temperature};
use crate::source::Sorted as _;

pub(super) struct Gas<'a> {
    gas: &'static str,
    names: Vec<&'a str>,
    /// Whether the gas needs a fan, and not only an open window.
    pub(super) is_strong: bool,
}

/// Each row has groups of ingredients, a gas, and whether the gas needs a fan. A solution with an ingredient of each
/// group gives off the gas. Common practice, no source.
const GASES: &[(&[&[&str]], &str, bool)] = &[
    (&[&["potassium-metabisulfite", "sodium-bisulfite", "sodium-metabisulfite"]], "sulfur dioxide", true),
    (&[ACIDS, &["sodium-sulfite"]], "sulfur dioxide", false),
    (&[&["sodium-sulfide"]], "hydrogen sulfide", true),
    (&[&["formaldehyde", "paraformaldehyde"]], "formaldehyde", true),
    (&[&["ammonia"]], "ammonia", true),
    (&[&["hydrochloric-acid"]], "acid fumes", true),
];

pub(super) fn gases(concerns: &[Concern]) -> Vec<Gas<'_>> {
    let mut all: Vec<Gas<'_>> = Vec::new();
    for (groups, gas, is_strong) in GASES {
        let holds =
            |one: &Concern, group: &[&str]| one.held.iter().any(|held| group.contains(&held.ingredient.name));
        for one in concerns.iter().filter(|one| groups.iter().all(|group| holds(one, group))) {
            match all.iter_mut().find(|known| known.gas == *gas) {
                Some(known) if known.names.contains(&one.name.as_str()) => {}
                Some(known) => {
                    known.names.push(&one.name);
                    known.is_strong |= is_strong;
                }
                None => all.push(Gas { gas, names: vec![&one.name], is_strong: *is_strong }),
            }
        }
    }
    all
}

/// The line about gases and steam; `None` if there is neither. `steams_at` is the temperature of the warmest bath, if
/// it steams.
pub(super) fn air(gases: &[Gas<'_>], steams_at: Option<Temperature>) -> Option<Saying> {
    let said: Vec<String> =
        gases.iter().map(|gas| format!("{}: {}", gas.names.join(", "), gas.gas)).collect();
    let said = said.join("; ");
    let degree = Temperature::celsius_whole(1).base;
    let whole = |at: Temperature| (2 * at.base + degree).div_euclid(2 * degree);
    let steam = steams_at
        .map(|at| format!("at {} °C it all steams: caps on, fan at the tank, not behind you.", whole(at)));
    match (said.is_empty(), steam) {
        (true, steam) => Some(Saying::same("AIR", steam?)),
        (false, None) => Some(Saying::same("AIR", format!("{said}. Asthma: fan on."))),
        (false, Some(steam)) => Some(Saying::new(
            "AIR",
            format!("{said}. Asthma: fan on; {steam}"),
            format!("{said}. Asthma: fan on."),
        )),
    }
}

/// The words on a label for the chemicals that must not be mixed with the contents of this bottle.
pub(super) fn never_with(form: &Form) -> Vec<&'static str> {
    let holds = |group: &[&str]| form.holds.iter().any(|held| is_in_bulk(held, group));
    let words = PAIRS.iter().flat_map(|pair| {
        let (one, other) = pair.on_label;
        // An acid fixer holds an acid (`pair.one`) and a chemical that an acid decomposes (`pair.other`) by design, so
        // its label warns only of more acid.
        let is_other = holds(pair.other);
        let met = if is_other { one } else { &[] };
        let meets = if holds(pair.one) && !is_other { other } else { &[] };
        met.iter().chain(meets)
    });
    let words: Vec<&str> = words.copied().collect();
    WORDS.iter().filter(|word| words.contains(word)).copied().collect()
}

/// The words on labels for chemicals that must not meet, the commonest in a darkroom first.
const WORDS: &[&str] = &[
    "acid",
    "bleach",
    "developer",
    "fixer",
    "sulfite",
    "alcohol",
    "formaldehyde",
    "hypochlorite",
    "ammonia",
    "thiocyanate",
    "ferricyanide",
    "sulfide",
    "selenite",
];

/// Whether an ingredient belongs to the group. A weak acid does not count if its share is known and too small to free
/// gas.
fn is_in_bulk((name, share): &(Name, Option<Percent>), group: &[&str]) -> bool {
    let name = &&**name;
    let is_weak = WEAK_ACIDS.contains(name) && share.is_some_and(|share| share < STRONG);
    group.contains(name) && !is_weak
}

/// A bottle with at least 5 % of a weak acid frees a dangerous amount of gas if it is mixed with a chemical such as a
/// hypochlorite. Common practice, no source.
const STRONG: Percent = Percent::thousandths(5_000);
const WEAK_ACIDS: &[&str] = &["acetic-acid", "citric-acid"];

/// The line about undiluted chemicals that must not meet, the deadliest first; `None` if there are none. The brief text
/// fits into one line after the prefix `lead`.
pub(super) fn never(concerns: &[Concern], solutions: &[&Solution], lead: &str) -> Option<Saying> {
    let bottles: Vec<&Form> =
        concerns.iter().flat_map(|one| &one.forms).filter(|form| !form.is_bath).collect();
    let holding = |group: &[&str], is_strong: bool| -> Vec<&str> {
        let counts = |held: &(Name, Option<Percent>)| match is_strong {
            true => is_in_bulk(held, group),
            false => group.contains(&&*held.0),
        };
        let of = bottles.iter().filter(|form| form.holds.iter().any(counts));
        of.map(|form| form.what.as_str()).collect()
    };
    // Each warning as a full text and as a brief text.
    let mut clauses: Vec<(String, String)> = Vec::new();
    for pair in PAIRS {
        let Some((group, with, comes)) = pair.short else { continue };
        let own = holding(pair.one, true);
        // If no bottle holds a chemical of `pair.one`, several pairs can have the same short text. One warning then
        // names the bottles that hold a chemical of the group `other` of any of these pairs.
        let mut others = holding(pair.other, false);
        if own.is_empty() {
            let like =
                PAIRS.iter().filter(|like| like.short == pair.short && holding(like.one, true).is_empty());
            others = like.flat_map(|like| holding(like.other, false)).collect();
        }
        others.dedup();
        // Leaves out bottles that hold chemicals of both groups by design, such as an acid fixer.
        let own: Vec<&str> = own.into_iter().filter(|name| !others.contains(name)).collect();
        let clause = |names: &dyn Fn(&[&str]) -> Option<String>| match (names(&own), names(&others), with) {
            (Some(_), None, _) | (None, None, _) => None,
            (Some(own), Some(met), "") => Some(format!("{own} into {met}")),
            (Some(own), Some(_), with) => Some(format!("{own} with {with}")),
            (None, Some(met), _) => {
                (!group.is_empty() && clauses.is_empty()).then(|| format!("{group} into {met}"))
            }
        };
        let Some(full) = clause(&|names| some(names)) else { continue };
        let in_brief = |names: &[&str]| {
            let mut all: Vec<String> =
                names.iter().map(|name| solution_of(&short_name(name, solutions))).collect();
            all.dedup();
            some(&all.iter().map(String::as_str).collect::<Vec<_>>())
        };
        let undiluted = if own.is_empty() || !with.is_empty() { "" } else { "undiluted " };
        let full = format!("{undiluted}{full}: {comes}");
        if !clauses.iter().any(|(known, _)| *known == full) {
            clauses.push((full, clause(&in_brief).unwrap_or_default()));
        }
    }
    let (full, brief): (Vec<String>, Vec<String>) = clauses.into_iter().unzip();
    let in_one = |texts: &[String]| fitting(texts, "; ", (lead, 1));
    let is_one = |text: &str| rows("", &format!("{lead}{text}")).len() <= 1;
    let mild: Vec<String> = full.iter().map(|text| text.replacen("undiluted ", "", 1)).collect();
    let brief = match brief.len() {
        _ if is_one(&(full.join("; ") + ".")) => in_one(&full),
        1 if is_one(&in_one(&mild)) => in_one(&mild),
        _ => in_one(&brief),
    };
    (!full.is_empty()).then(|| Saying::new("NEVER", fitting(&full, "; ", (lead, 2)), brief))
}

/// The name of the solution, from the name of a bottle: `bleach` for `bleach b`.
fn solution_of(what: &str) -> String {
    what.split(' ').next().unwrap_or(what).to_owned()
}

/// The line about waste: a can for each kind of waste, with the number of the can if the user has set one. The cans for
/// waste with silver come first, and the can for a stop comes last.
pub(super) fn waste(solutions: &[&Solution], personal: &Personal) -> Option<Saying> {
    let mut cans: Vec<(usize, String, Option<&String>)> = Vec::new();
    for solution in solutions {
        let Some((place, kind)) = kind(solution) else { continue };
        let number = solution.role.and_then(|role| personal.cans.get(&role));
        if !cans.iter().any(|(_, known, _)| known == kind) {
            cans.push((place, kind.to_owned(), number));
        }
    }
    cans.order_by_key(|(place, ..)| *place);
    let said = |can: &(usize, String, Option<&String>), is_short: bool| {
        let kind = if is_short { can.1.replace(" (silver)", "") } else { can.1.clone() };
        match can.2 {
            Some(number) if number.chars().all(|letter| letter.is_ascii_digit()) => {
                format!("{number} {kind}")
            }
            Some(name) => format!("{kind}: {name}"),
            None => kind,
        }
    };
    let numbered = cans.iter().any(|(_, _, number)| number.is_some());
    let lead = if numbered { "can " } else { "a can each: " };
    let list = |is_short| cans.iter().map(|can| said(can, is_short)).collect::<Vec<_>>();
    let (long, short) = (list(false).join(" · "), list(true));
    let ask = ". Ask before any drain.";
    let full = format!("{lead}{long}{ask}");
    let tries = [full.clone(), format!("{lead}{long}"), long, short.join(" · ")];
    let brief = tries.into_iter().find(|text| text.chars().count() <= WIDE);
    let brief = brief.unwrap_or_else(|| short.join(" · "));
    (!cans.is_empty()).then(|| Saying::new("WASTE", full, brief))
}

/// The waste can of a solution on its label: `waste can 2`, or the kind of waste if the user has set no can.
pub(super) fn can(solution: &Solution, personal: &Personal) -> Option<String> {
    match solution.role.and_then(|role| personal.cans.get(&role)) {
        Some(number) if number.chars().all(|letter| letter.is_ascii_digit()) => {
            Some(format!("waste can {number}"))
        }
        Some(name) => Some(format!("waste: {name}")),
        None => kind(solution).map(|(_, kind)| format!("waste: {kind}")),
    }
}

/// The position of a solution in the line about waste, and its kind of waste; `None` if it needs no can.
fn kind(solution: &Solution) -> Option<(usize, &'static str)> {
    let holds = |names: &[&str]| solution.ingredients().iter().any(|one| names.contains(&one.name));
    Some(match solution.role? {
        _ if holds(&["sodium-sulfide", "sodium-selenite"]) => (4, "toner ALONE"),
        _ if holds(&["potassium-permanganate", "potassium-dichromate"]) => (3, "bleach ALONE, cap loose"),
        Role::Fixer | Role::Monobath => (0, "fixer (silver)"),
        Role::BleachFix => (1, "bleach-fix (silver)"),
        Role::Developer => (2, "developer"),
        Role::Bleach => (3, "bleach ALONE"),
        Role::Toner => (4, "toner ALONE"),
        Role::Clearing => (5, "clearing"),
        Role::Stabilizer => (6, "stabilizer"),
        Role::Treatment if holds(&["potassium-ferricyanide"]) => (4, "ferricyanide ALONE"),
        Role::Treatment => (6, "other baths"),
        Role::Stop => (7, "stop"),
        _ => return None,
    })
}

//! The cautions of a card: a line for each solution with its signal word and hazards, then precautions.

use super::hazard::*;
use super::strength::Held;

/// What the cautions of a solution depend on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Concern {
    /// The name of the solution.
    pub name: String,
    /// The known ingredients of the solution.
    pub held: Vec<Held>,
    /// Whether the solution takes silver from film because of its role, such as a fixer.
    pub takes_silver: bool,
    /// Whether an ingredient of the solution is unknown.
    pub is_unknown: bool,
}

/// A precaution for these hazards or ingredients; for all solutions if both lists are empty.
#[derive(Debug, PartialEq, Eq)]
pub struct Precaution {
    /// The text on the card.
    pub text: &'static str,
    /// The line of the card that has the text.
    line: Line,
    /// Solutions with one of these hazard statements need the precaution.
    pub hazards: &'static [&'static Hazard],
    /// Solutions with one of these ingredients need the precaution.
    pub ingredients: &'static [&'static str],
    /// The source of the precaution, or 'common practice, no source'.
    pub source: &'static str,
}

/// The lines of precautions on a card, in order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Line {
    Body,
    Mixing,
    Storage,
    Waste,
}

/// The ingredients that take silver from film.
const FIXES: &[&str] = &["ammonium-thiosulfate", "sodium-thiosulfate"];

impl Precaution {
    /// Whether a card with these solutions has the precaution.
    fn is_on_card_of(&self, solutions: &[Concern]) -> bool {
        let is_general = self.hazards.is_empty() && self.ingredients.is_empty();
        is_general || solutions.iter().any(|solution| self.concerns(solution))
    }

    fn concerns(&self, solution: &Concern) -> bool {
        let called_for = |held: &Held| {
            self.ingredients.contains(&held.ingredient.name)
                || held.hazards().iter().any(|shown| self.hazards.contains(shown))
        };
        solution.held.iter().any(called_for) || (solution.takes_silver && self.ingredients == FIXES)
    }
}

const fn precaution(
    line: Line,
    text: &'static str,
    hazards: &'static [&'static Hazard],
    ingredients: &'static [&'static str],
    source: &'static str,
) -> Precaution {
    Precaution { text, line, hazards, ingredients, source }
}

const NO_SOURCE: &str = "common practice, no source";

/// All precautions, in their order on a card.
pub const PRECAUTIONS: &[Precaution] = &[
    precaution(
        Line::Body,
        "wear gloves, an apron and eye protection; ventilate, and breathe no dust",
        &[],
        &[],
        "NAVEDTRA 14209, Photography (Basic); T.O. 33B-1-1, Nondestructive Inspection Methods, ch. 6",
    ),
    precaution(
        Line::Body,
        "when pregnant, or perhaps so, handle only after medical advice",
        &[H360FD, H361d, H361f],
        &[],
        NO_SOURCE,
    ),
    precaution(
        Line::Mixing,
        "acid into water, never the reverse",
        &[],
        &["acetic-acid", "hydrochloric-acid", "sulfuric-acid"],
        "T.O. 33B-1-1, Nondestructive Inspection Methods, ch. 6",
    ),
    precaution(
        Line::Mixing,
        "acid on sulfite or hypo frees toxic gas",
        &[EUH031],
        FIXES,
        "ICSC 1134; supplier data sheet of sodium thiosulfate",
    ),
    precaution(
        Line::Mixing,
        "hydroxide into cold water, a little at a time: it heats and spits",
        &[],
        &["potassium-hydroxide", "sodium-hydroxide"],
        NO_SOURCE,
    ),
    precaution(
        Line::Mixing,
        "keep acid, and vessels that held it, away from what frees gas with it",
        &[EUH032],
        &["sodium-selenite"],
        "ICSC 1132",
    ),
    // The first source is for 'taste nothing' only.
    precaution(
        Line::Storage,
        "use nothing that has held food; taste nothing; label all, keep from children",
        &[],
        &[],
        "NAVEDTRA 14209, Photography (Basic); common practice, no source",
    ),
    precaution(
        Line::Waste,
        "spent fixer holds silver: collect it",
        &[],
        FIXES,
        "40 CFR 261.24, code D011: 5.0 mg/l of silver",
    ),
    precaution(
        Line::Waste,
        "toxic to aquatic life: no drain unasked",
        &[H400, H410, H411, H412],
        &[],
        NO_SOURCE,
    ),
];

/// The cautions of a card: a line for each different label, with the names of its solutions in order of use, then the
/// precautions.
pub fn cautions(solutions: &[Concern]) -> Vec<String> {
    let mut labels: Vec<(Vec<&str>, String)> = Vec::new();
    for solution in solutions {
        let Some(said) = label(solution) else { continue };
        match labels.iter_mut().find(|(_, other)| *other == said) {
            Some((names, _)) if names.contains(&solution.name.as_str()) => {}
            Some((names, _)) => names.push(&solution.name),
            None => labels.push((vec![&solution.name], said)),
        }
    }
    let labels = labels.into_iter().map(|(names, said)| format!("{}{said}", names.join(", ")));
    let lines = PRECAUTIONS.chunk_by(|one, next| one.line == next.line);
    let precautions = lines.filter_map(|line| {
        let needed = line.iter().filter(|precaution| precaution.is_on_card_of(solutions));
        let texts: Vec<&str> = needed.map(|precaution| precaution.text).collect();
        (!texts.is_empty()).then(|| texts.join("; "))
    });
    labels.chain(precautions).collect()
}

/// The text that follows the name of a solution: `, DANGER: causes serious eye damage`.
fn label(solution: &Concern) -> Option<String> {
    let shown: Vec<&Hazard> = solution.held.iter().flat_map(Held::hazards).copied().collect();
    let said_by = |hazard: &Hazard| {
        SAID_BY.iter().any(|(graver, lesser)| shown.contains(graver) && lesser.contains(&hazard))
    };
    let relevant = HAZARDS.iter().copied().filter(|hazard| shown.contains(hazard) && !said_by(hazard));
    let (mut phrases, mut signal) = (Vec::<(&str, Vec<&str>)>::new(), Signal::None);
    for hazard in relevant.filter(|hazard| !hazard.brief.0.is_empty()) {
        let (lead, rest) = hazard.brief;
        signal = signal.max(hazard.signal);
        match phrases.iter_mut().find(|(other, _)| *other == lead) {
            Some((_, all)) => all.push(rest),
            None => phrases.push((lead, vec![rest])),
        }
    }
    let said: Vec<String> = phrases.iter().map(|(lead, rest)| phrase(lead, rest)).collect();
    let word = match signal {
        Signal::Danger => ", DANGER",
        Signal::Warning => ", WARNING",
        Signal::None => "",
    };
    (!said.is_empty()).then(|| format!("{word}: {}{}", said.join("; "), strengths(solution)))
}

/// Joins statements that begin alike: `may cause cancer and genetic defects`.
fn phrase(lead: &str, rest: &[&str]) -> String {
    match rest {
        [""] => lead.to_owned(),
        [one, other] if !one.contains(" and ") => format!("{lead} {one} and {other}"),
        all => format!("{lead} {}", all.join(", ")),
    }
}

/// The strengths, in brackets, of ingredients whose hazards depend on strength.
fn strengths(solution: &Concern) -> String {
    let by_strength =
        solution.held.iter().filter(|held| held.limits().is_some() && !held.hazards().is_empty());
    let texts: Vec<String> = by_strength
        .map(|held| match (held.ingredient.name, held.strength) {
            (name, None) => format!("{name} as at its strongest"),
            (name, Some(strength)) => format!("{name} of {} %", f64::from(strength) / 100.0),
        })
        .collect();
    if texts.is_empty() { String::new() } else { format!(" ({})", texts.join(", ")) }
}

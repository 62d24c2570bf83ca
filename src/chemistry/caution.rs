//! What a card says of the chemicals on it, each thing once and briefly.
//!
//! A line for each solution with the signal word of its label and what that warns of, then what a person does
//! about it. A card is read with wet hands: what does not concern tonight's ingredients is not printed.

use super::hazard::{
    EUH031, EUH032, H360FD, H361d, H400, H410, H411, H412, HAZARDS, Hazard, SAID_BY, Signal,
};
use super::strength::{Held, Strength};

/// A solution, so far as it concerns the cautions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Concern {
    /// What people call it.
    pub name: String,
    /// What is known to be in it.
    pub held: Vec<Held>,
    /// Whether it will hold silver once film has gone through, whatever is in it.
    pub takes_silver: bool,
}

/// Something to do or to leave, for the sake of certain hazards or certain ingredients, or always.
#[derive(Debug, PartialEq, Eq)]
pub struct Precaution {
    /// What to do, in a few words.
    pub text: &'static str,
    /// The line of a card that it stands in.
    pub line: Line,
    /// The hazard statements that call for it.
    pub hazards: &'static [&'static Hazard],
    /// The ingredients that call for it, whatever their statements are.
    pub ingredients: &'static [&'static str],
    /// Where the advice was read; 'common practice, no source' where it was not.
    pub source: &'static str,
}

/// The lines that precautions stand in, in their order on a card.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Line {
    /// What covers the body.
    Body,
    /// What must not meet.
    Mixing,
    /// Food and bottles.
    House,
    /// What is left over.
    Waste,
}

impl Line {
    /// All of them, in order.
    pub const ALL: [Line; 4] = [Line::Body, Line::Mixing, Line::House, Line::Waste];
}

/// The ingredients whose bath takes silver from film.
const FIXES: &[&str] = &["ammonium-thiosulfate", "sodium-thiosulfate"];
/// What is always said.
const ALWAYS: (&[&Hazard], &[&str]) = (&[], &[]);

impl Precaution {
    /// Whether it is said on every card, also on one of which nothing is known.
    #[must_use]
    pub fn is_general(&self) -> bool {
        (self.hazards, self.ingredients) == ALWAYS
    }

    fn concerns(&self, solution: &Concern) -> bool {
        let called_for = |held: &Held| {
            self.ingredients.contains(&held.ingredient.name)
                || held.hazards().iter().any(|shown| self.hazards.contains(shown))
        };
        solution.held.iter().any(called_for) || (solution.takes_silver && self.ingredients == FIXES)
    }
}

/// Every precaution known here, in the order in which a card prints them.
pub const PRECAUTIONS: &[Precaution] = &[
    Precaution {
        text: "wear gloves, an apron and eye protection; ventilate, and breathe no dust",
        line: Line::Body,
        hazards: ALWAYS.0,
        ingredients: ALWAYS.1,
        source: "NAVEDTRA 14209, Photography (Basic); T.O. 33B-1-1, Nondestructive Inspection Methods, ch. 6",
    },
    Precaution {
        text: "when pregnant, or perhaps so, handle only after medical advice",
        line: Line::Body,
        hazards: &[H360FD, H361d],
        ingredients: &[],
        source: "common practice, no source",
    },
    Precaution {
        text: "acid into water, never the reverse",
        line: Line::Mixing,
        hazards: &[],
        ingredients: &["acetic-acid", "sulfuric-acid"],
        source: "T.O. 33B-1-1, Nondestructive Inspection Methods, ch. 6",
    },
    Precaution {
        text: "acid on sulfite or hypo frees toxic gas",
        line: Line::Mixing,
        hazards: &[EUH031],
        ingredients: FIXES,
        source: "ICSC 1134; supplier data sheet of sodium thiosulfate",
    },
    Precaution {
        text: "hydroxide into cold water, a little at a time: it heats and spits",
        line: Line::Mixing,
        hazards: &[],
        ingredients: &["potassium-hydroxide", "sodium-hydroxide"],
        source: "common practice, no source",
    },
    Precaution {
        text: "keep acid, and vessels that held it, away from what frees gas with it",
        line: Line::Mixing,
        hazards: &[EUH032],
        ingredients: &["sodium-selenite"],
        source: "ICSC 1132",
    },
    // That nothing is tasted is in the first source; the rest is common practice, no source.
    Precaution {
        text: "use nothing that has held food; taste nothing; label all, keep from children",
        line: Line::House,
        hazards: ALWAYS.0,
        ingredients: ALWAYS.1,
        source: "NAVEDTRA 14209, Photography (Basic); common practice, no source",
    },
    Precaution {
        text: "spent fixer holds silver: collect it",
        line: Line::Waste,
        hazards: &[],
        ingredients: FIXES,
        source: "40 CFR 261.24, code D011: 5.0 mg/l of silver",
    },
    Precaution {
        text: "toxic to aquatic life: no drain unasked",
        line: Line::Waste,
        hazards: &[H400, H410, H411, H412],
        ingredients: &[],
        source: "common practice, no source",
    },
];

/// The cautions for a card with these solutions, none twice.
///
/// First a line for each solution that has a label to heed, in the order of their use, those with the same
/// label together; then the precautions that are called for; of no solution those that hold always.
#[must_use]
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
    let precautions = Line::ALL.into_iter().filter_map(|line| {
        let called_for = PRECAUTIONS.iter().filter(|precaution| {
            precaution.line == line
                && (precaution.is_general() || solutions.iter().any(|solution| precaution.concerns(solution)))
        });
        let texts: Vec<&str> = called_for.map(|precaution| precaution.text).collect();
        (!texts.is_empty()).then(|| texts.join("; "))
    });
    labels.chain(precautions).collect()
}

/// What a solution's label calls, as it follows its name: `, DANGER: causes serious eye damage`.
fn label(solution: &Concern) -> Option<String> {
    let shown: Vec<&Hazard> = solution.held.iter().flat_map(Held::hazards).copied().collect();
    let said_by = |hazard: &Hazard| {
        SAID_BY.iter().any(|(graver, lesser)| shown.contains(graver) && lesser.contains(&hazard))
    };
    let heeded = HAZARDS.iter().copied().filter(|hazard| shown.contains(hazard) && !said_by(hazard));
    let (mut breaths, mut signal) = (Vec::<(&str, Vec<&str>)>::new(), Signal::None);
    for hazard in heeded.filter(|hazard| !hazard.brief.0.is_empty()) {
        let (lead, rest) = hazard.brief;
        signal = signal.max(hazard.signal);
        match breaths.iter_mut().find(|(other, _)| *other == lead) {
            Some((_, all)) => all.push(rest),
            None => breaths.push((lead, vec![rest])),
        }
    }
    let said: Vec<String> = breaths.iter().map(|(lead, rest)| breath(lead, rest)).collect();
    let word = match signal {
        Signal::Danger => ", DANGER",
        Signal::Warning => ", WARNING",
        Signal::None => "",
    };
    (!said.is_empty()).then(|| format!("{word}: {}{}", said.join("; "), strengths(solution)))
}

/// `may cause cancer and genetic defects`.
fn breath(lead: &str, rest: &[&str]) -> String {
    match rest {
        [""] => lead.to_owned(),
        [one, other] if !one.contains(" and ") => format!("{lead} {one} and {other}"),
        all => format!("{lead} {}", all.join(", ")),
    }
}

/// At which strength an acid's statements hold, where they hang on it.
fn strengths(solution: &Concern) -> String {
    let by_strength = solution.held.iter().filter(|held| held.is_by_strength() && !held.hazards().is_empty());
    let told: Vec<String> = by_strength
        .map(|held| {
            let name = held.ingredient.name;
            match held.strength {
                Strength::Unsaid => format!("{name} as at its strongest"),
                Strength::Of(strength) => format!("{name} of {} %", percent(strength)),
            }
        })
        .collect();
    if told.is_empty() { String::new() } else { format!(" ({})", told.join(", ")) }
}

/// Hundredths of a percent as percent.
fn percent(hundredths: u32) -> String {
    let shown = format!("{}.{:02}", hundredths / 100, hundredths % 100);
    shown.trim_end_matches('0').trim_end_matches('.').to_owned()
}

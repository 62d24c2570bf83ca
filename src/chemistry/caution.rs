//! The cautions of a card: a line for each solution with its signal word and hazards, then precautions.

use std::sync::Arc;

use super::hazard::*;
use super::mixture::{Class, Name};
use super::own_ingredient::OwnIngredient;
use super::pairs::{OXIDISERS, SULFITES};
use super::percent::Percent;
use super::strength::Held;

/// A solution with all that its cautions depend on: bottles, baths and ingredients.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Concern {
    /// The name of the solution.
    pub name: String,
    /// The bottles of the solution, then the baths that are kept or have a hazard statement that no bottle has.
    pub forms: Vec<Form>,
    /// The known ingredients of the solution.
    pub held: Vec<Held>,
    /// The ingredients of the solution that files declare.
    pub own: Vec<Arc<OwnIngredient>>,
    /// Whether the pure ingredients are handled, because the solution is mixed from its formula.
    pub is_weighed: bool,
    /// Whether the solution takes silver from film according to its role, such as fixer.
    pub takes_silver: bool,
    /// Whether an ingredient is neither in the table of ingredients nor declared in a file, or no ingredient is stated.
    pub is_unknown: bool,
}

/// A solution as it is handled: a bottle or a bath.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Form {
    /// Bottle or bath name: `mq-borax`, `permanganate-bleach b`, `rapid-fix 1+4`.
    pub what: String,
    /// Whether this is a bath, not a bottle.
    pub is_bath: bool,
    /// The known ingredients, each with its share of the mass, if known.
    pub holds: Vec<(Name, Option<Percent>)>,
    /// The classification of the liquid.
    pub class: Class,
    /// The ingredients whose strength is not stated.
    pub silent: Vec<Name>,
    /// Whether any of `silent`, at its strongest, burns skin or damages eyes.
    pub may_burn: bool,
    /// Whether the bottle or bath has a strong acid or a hydroxide, but no stated pH.
    pub needs_ph: bool,
    /// Whether the hazards of an ingredient are not known, or no ingredient is stated.
    pub has_unknown: bool,
}

impl Form {
    /// Whether the bottle or bath has one of these hazard statements.
    pub fn has(&self, hazards: &[&Hazard]) -> bool {
        self.class.hazards.iter().any(|own| hazards.contains(own))
    }

    /// The most severe signal word of the hazard statements.
    pub fn signal(&self) -> Signal {
        self.class.hazards.iter().map(|hazard| hazard.signal).max().unwrap_or(Signal::None)
    }
}

/// A precaution for certain hazards or ingredients; for all solutions if `hazards` and `ingredients` are empty.
#[derive(Debug, PartialEq, Eq)]
pub struct Precaution {
    /// The text on the card.
    pub text: &'static str,
    line: Line,
    /// Solutions need the precaution if a bottle, a bath or a weighed ingredient has one of these hazard statements.
    pub hazards: &'static [&'static Hazard],
    /// Solutions with one of these ingredients need the precaution, at any strength.
    pub ingredients: &'static [&'static str],
    /// The source of the precaution, or 'common practice, no source'.
    pub source: &'static str,
}

/// The kind of a precaution. General precautions of one kind that follow each other in [`PRECAUTIONS`] share a line of
/// the card.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Line {
    Body,
    Mixing,
    /// Chemicals that must not meet. Labels state these in other words.
    Meeting,
    Storage,
    Waste,
}

/// The ingredients that take silver from film.
const FIXES: &[&str] = &["ammonium-thiosulfate", "sodium-thiosulfate"];

impl Precaution {
    fn is_general(&self) -> bool {
        self.hazards.is_empty() && self.ingredients.is_empty()
    }

    fn concerns(&self, solution: &Concern) -> bool {
        let holds = |held: &Held| self.ingredients.contains(&held.ingredient.name);
        // An ingredient that is weighed, or whose strength is not known, has the hazard statements of the pure
        // ingredient.
        let handled = |name: &str, hazards: &[&Hazard]| {
            let is_silent = solution.forms.iter().any(|form| form.silent.iter().any(|silent| silent == name));
            let is_handled = solution.is_weighed || is_silent;
            is_handled && hazards.iter().any(|shown| self.hazards.contains(shown))
        };
        // An acid that is weighed, of unknown strength, or in a corrosive bottle needs the precaution
        // `ACID_INTO_WATER`. Acetic acid of unknown strength counts as weak beside sulfite or thiosulfate, because
        // strong acid would destroy these salts.
        let is_weak = |held: &Held| {
            let name = held.ingredient.name;
            let is_silent = solution.forms.iter().any(|form| form.silent.iter().any(|silent| silent == name));
            let is_beside = solution.held.iter().any(|other| other.ingredient.is_one_of(SULFITES));
            let burns = solution.forms.iter().any(|form| form.has(&[H314]) || form.needs_ph);
            let is_known_weak = !is_silent && !burns;
            let is_weak = is_known_weak || is_silent && is_beside && name == "acetic-acid";
            self.text == ACID_INTO_WATER && !solution.is_weighed && is_weak
        };
        let of_table =
            |held: &Held| holds(held) && !is_weak(held) || handled(held.ingredient.name, &held.hazards());
        solution.held.iter().any(of_table)
            || solution.own.iter().any(|own| handled(&own.name, &own.all_hazards()))
            || solution.forms.iter().any(|form| form.has(self.hazards))
            || (solution.takes_silver && self.ingredients == FIXES)
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

const ACID_INTO_WATER: &str = "acid into water, never the reverse";

/// All precautions, in their order on a card.
pub const PRECAUTIONS: &[Precaution] = &[
    precaution(
        Line::Body,
        "wear gloves, an apron and eye protection; ventilate, and breathe no dust",
        &[],
        &[],
        "US Navy, Photography (Basic), NAVEDTRA 14209, 1993; US Department of Defense, Nondestructive Inspection \
         Methods, T.O. 33B-1-1, chapter 6",
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
        ACID_INTO_WATER,
        &[],
        &["acetic-acid", "hydrochloric-acid", "sodium-bisulfate", "sulfuric-acid"],
        "US Department of Defense, Nondestructive Inspection Methods, T.O. 33B-1-1, chapter 6",
    ),
    precaution(
        Line::Meeting,
        "acid on sulfite or hypo frees toxic gas",
        &[EUH031],
        SULFITES,
        "International Chemical Safety Card ICSC 1134; for sodium thiosulfate suppliers' classification, no public source",
    ),
    precaution(
        Line::Mixing,
        "gives off sulfur dioxide: beware of asthma, and ventilate",
        &[],
        &["potassium-metabisulfite", "sodium-bisulfite", "sodium-metabisulfite"],
        "International Chemical Safety Card ICSC 1134 and International Chemical Safety Card ICSC 1461",
    ),
    precaution(
        Line::Mixing,
        "hydroxide into cold water, a little at a time: it heats and spits",
        &[],
        &["potassium-hydroxide", "sodium-hydroxide"],
        NO_SOURCE,
    ),
    precaution(
        Line::Meeting,
        "acid, and what is left of it in a vessel, frees a deadly gas from it",
        &[EUH032],
        &[
            "potassium-ferricyanide",
            "potassium-thiocyanate",
            "sodium-selenite",
            "sodium-sulfide",
            "sodium-thiocyanate",
        ],
        "International Chemical Safety Card ICSC 1132",
    ),
    precaution(
        Line::Mixing,
        "splashes harm eyes and skin (from memory): rinse them off at once",
        &[],
        &["potassium-permanganate", "potassium-thiocyanate", "sodium-thiocyanate"],
        "suppliers' classification, no public source; from memory",
    ),
    precaution(
        Line::Mixing,
        "feeds fire, also as a dried splash: off paper, cloth and powder",
        &[],
        OXIDISERS,
        "H272 in Annex VI of Regulation (EC) 1272/2008",
    ),
    precaution(
        Line::Mixing,
        "chromium(VI): cancer, and an allergy that stays; long gloves",
        &[],
        &["potassium-dichromate"],
        "H317, H334 and H350 in Annex VI of Regulation (EC) 1272/2008",
    ),
    // The first source holds only for 'taste nothing'.
    precaution(
        Line::Storage,
        "use nothing that has held food; taste nothing; label all, keep from children",
        &[],
        &[],
        "US Navy, Photography (Basic), NAVEDTRA 14209, 1993; common practice, no source",
    ),
    precaution(
        Line::Storage,
        "dried splashes are powder again: wipe the bench wet before you go",
        &[],
        &[
            "amidol",
            "colour-developing-agent",
            "hydroquinone",
            "metol",
            "p-aminophenol-hydrochloride",
            "p-phenylenediamine",
            "potassium-dichromate",
            "pyrogallol",
        ],
        NO_SOURCE,
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
        "toxic to life in water: ask the waste service before any goes down a drain",
        &[H400, H410, H411, H412],
        &[],
        NO_SOURCE,
    ),
];

/// The cautions of a card. First comes a line for each different label, with the bottles and baths that have it. Then
/// comes the line about the rules by which labels are made, then the precautions, each with the solutions that need it.
pub fn cautions(solutions: &[Concern]) -> Vec<String> {
    let mut labels: Vec<(Vec<&str>, String)> = Vec::new();
    let forms = || solutions.iter().flat_map(|solution| &solution.forms);
    for form in forms() {
        let said = label(form);
        match labels.iter_mut().find(|(_, other)| *other == said) {
            Some((names, _)) if names.contains(&form.what.as_str()) => {}
            Some((names, _)) => names.push(&form.what),
            None => labels.push((vec![&form.what], said)),
        }
    }
    let mut lines: Vec<String> =
        labels.into_iter().map(|(names, said)| format!("{}{said}", names.join(", "))).collect();
    lines.extend(forms().next().map(|_| RULES_USED.to_owned()));
    for line in PRECAUTIONS.chunk_by(|one, next| one.line == next.line) {
        let general = line.iter().filter(|precaution| precaution.is_general());
        let general: Vec<&str> = general.map(|precaution| precaution.text).collect();
        lines.extend((!general.is_empty()).then(|| general.join("; ")));
        for precaution in line.iter().filter(|precaution| !precaution.is_general()) {
            let concerned = solutions.iter().filter(|solution| precaution.concerns(solution));
            let names: Vec<&str> = concerned.map(|solution| solution.name.as_str()).collect();
            lines.extend((!names.is_empty()).then(|| format!("{}: {}", names.join(", "), precaution.text)));
        }
    }
    lines
}

/// The precautions for the label of one bottle: those of the kinds `Body` and `Mixing` that are not on every card.
pub fn on_label(bottle: &Concern) -> Vec<&'static str> {
    let is_said = |one: &&Precaution| matches!(one.line, Line::Body | Line::Mixing) && !one.is_general();
    PRECAUTIONS.iter().filter(is_said).filter(|one| one.concerns(bottle)).map(|one| one.text).collect()
}

/// The line of a card that states by which rules its labels are made.
pub const RULES_USED: &str = "labels by EU limits (CLP); the US and Canada count some hazards from 0.1 %";

/// The text that follows the name of a bottle or bath: `, DANGER: causes serious eye damage`.
fn label(form: &Form) -> String {
    let mut phrases = Vec::<(&str, Vec<String>)>::new();
    for hazard in form.class.hazards.iter().filter(|hazard| !hazard.brief.0.is_empty()) {
        let (lead, rest) = hazard.brief;
        let memory = if form.class.from_memory.contains(hazard) { "(from memory)" } else { "" };
        let rest = [rest, memory].join(" ").trim().to_owned();
        match phrases.iter_mut().find(|(other, _)| *other == lead) {
            Some((_, all)) => all.push(rest),
            None => phrases.push((lead, vec![rest])),
        }
    }
    let mut said: Vec<String> = phrases.iter().map(|(lead, rest)| phrase(lead, rest)).collect();
    let with = |names: &[Name], text: &str| {
        (!names.is_empty()).then(|| format!("contains {}: {text}", names.join(", ")))
    };
    said.extend(with(&form.class.sensitisers, "may produce an allergic reaction"));
    said.extend(with(&form.class.burning, "no flames"));
    said.extend(form.needs_ph.then(|| "pH not stated: handle as burning".to_owned()));
    let burning = if form.may_burn { "; treat as burning" } else { "" };
    let is_silent = !form.silent.is_empty();
    said.extend(is_silent.then(|| format!("strength not stated: read the label{burning}")));
    said.extend(form.class.unknown.map(|_| "the toxicity of over a tenth of it is not known".to_owned()));
    said.extend(form.has_unknown.then(|| "an ingredient is not known here: read its label".to_owned()));
    if said.is_empty() {
        return ": below the limits for a label; wet skin every week is what makes an allergy".to_owned();
    }
    let word = match form.signal() {
        Signal::Danger => ", DANGER",
        Signal::Warning => ", WARNING",
        Signal::None => "",
    };
    format!("{word}: {}", said.join("; "))
}

/// Joins the beginning that several statements share to their endings: `may cause cancer and genetic defects`.
fn phrase(lead: &str, rest: &[String]) -> String {
    match rest {
        [only] if only.is_empty() => lead.to_owned(),
        [one, other] if !one.contains(" and ") => format!("{lead} {one} and {other}"),
        all => format!("{lead} {}", all.join(", ")),
    }
}

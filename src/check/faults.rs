//! The names of the errors that a check can report, each with its meaning, in the order of the stages.

use super::rules::RULES;
use crate::syntax;

/// The names of all errors and rules, each with its meaning, in the order of the stages.
#[must_use]
pub fn faults() -> Vec<(&'static str, &'static str)> {
    let rules = RULES.iter().map(|rule| (rule.name, rule.meaning));
    syntax::FAULTS.iter().chain(FAULTS).copied().chain(rules).collect()
}

const FAULTS: &[(&str, &str)] = &[
    // read
    ("unknown-word", "a word that begins no statement here"),
    ("misplaced-statement", "a statement that stands in another kind of block"),
    ("not-a-statement", "a line that does not begin with a word"),
    ("repeated-statement", "a statement that may stand once, twice"),
    ("missing-statement", "a statement that is needed and not there"),
    ("block-too-long", "a block of more than 1,000 lines; a backlog of more than 10,000"),
    ("missing-block", "a header without its block"),
    ("needless-block", "a block where none belongs"),
    ("missing-value", "a statement that ends too early"),
    ("missing-word", "a word of the statement that is not there"),
    ("missing-unit", "a number without its unit"),
    ("wrong-kind", "a value of another kind than the statement wants"),
    ("unexpected-words", "words after the statement's end"),
    ("unknown-unit", "a unit that does not exist"),
    ("unit-spelling", "a unit spelled otherwise than recipes do"),
    ("ambiguous-unit", "a unit that means several"),
    ("ambiguous-dilution", "a dilution that means two strengths"),
    ("bad-dilution", "a dilution that is not whole parts"),
    ("bad-clock", "a time whose fields are not two digits under 60"),
    ("bad-number", "a number with too many figures, or not a number"),
    ("bad-date", "a day that the calendar does not have"),
    ("out-of-range", "a value that no darkroom has"),
    ("bad-name", "a name that is not small letters, digits and hyphens"),
    ("reserved-name", "a name that is a word of the language"),
    ("text-too-long", "a text of more than 2,000 characters"),
    ("unknown-format", "a film format that does not exist"),
    ("unknown-ingredient", "an ingredient that the table does not have"),
    ("version", "a version of the language that this program does not know"),
    // gather
    ("use-outside", "a used file outside the recipes' root"),
    ("use-unreadable", "a used file that cannot be read"),
    ("use-not-text", "a used file that is not a recipe's text"),
    ("use-too-many", "more files in use than a run may read"),
    ("use-circle", "files that use each other in a circle"),
    // scope
    ("repeated-name", "two declarations of one kind and name in one scope"),
    ("unknown-name", "a name that nothing in scope bears"),
    ("too-many-names", "more names brought in by `use` than a run may know"),
    // derive
    ("from-circle", "recipes derived from each other in a circle"),
    ("from-too-deep", "more than 32 recipes derived one from another"),
    ("too-much-derived", "more text inherited by `from` than a run may hold"),
    // merge
    ("unknown-step", "a step that the recipe does not have"),
    ("repeated-step", "two steps of one kind and name"),
    ("unplaced-step", "a new step of a derived recipe that does not say where it goes"),
    ("needless-place", "a step that says where it goes and already has its place"),
    ("said-in-two-ways", "a step whose time or temperature is said in two ways"),
    // build/agitation
    ("agitation-twice", "a scheme that says twice when the film moves"),
    ("agitation-without-time", "a scheme that does not say when the film moves"),
    ("agitation-over-period", "an agitation longer than its period"),
    ("agitation-times-unsorted", "agitation at times that do not follow each other"),
    // build/chart
    ("chart-of-one", "a chart that has not two points"),
    ("chart-temperature-twice", "one temperature twice in a chart"),
    ("chart-time-rises", "a chart in which a warmer bath takes longer"),
    ("chart-time-stands", "two neighbours in a chart with the same time"),
    // build/film
    ("repeated-clearing", "two clearing times of a film in one fixer of one strength"),
    // build/formula
    ("state-not-said", "a salt whose water of crystallisation is not said"),
    ("unknown-state", "a state that the ingredient does not have"),
    ("strength-not-said", "a liquid sold in several strengths, without its strength"),
    ("water-by-weight", "water that is not given as a volume"),
    ("mark-differs", "water up to another volume than the formula is for"),
    ("over-the-mark", "more liquid in a formula than the mark that water goes up to"),
    ("mark-without-water", "a temperature or a mark given to something else than water"),
    // build/solution
    ("dilution-parts", "a dilution with more or fewer parts than the solution has bottles"),
    ("repeated-capacity", "two capacities of a solution at one strength"),
    ("repeated-part", "two bottles of one name"),
    ("formula-part", "a formula for a bottle that the solution does not have, or for none"),
    ("repeated-formula", "two formulas for one bottle"),
    // build/step
    ("missing-bath", "a step that works in a solution and does not say which"),
    ("missing-time", "a step that does not say how long it takes"),
    ("missing-band", "a step whose time holds at one temperature, and no word of how far it may stray"),
    ("within-what", "how far a temperature may stray, and not which"),
    ("at-outside-band", "a step's own temperature where the step may not be"),
    ("band-upside-down", "temperatures given as warm to cold"),
    ("no-clearing-time", "a fixing time by the clearing time of a film that does not say it"),
    ("clearing-without-fixer", "a time by the clearing time in a step without a fixer"),
    ("flow-without-time", "running water without a time"),
    ("each-side-in-bath", "a time for each side, where no light is given"),
    ("water-is-kept", "plain water that is said to be reused"),
    ("too-many-changes", "a wash of more changes of water than anybody pours"),
    // build/tank
    ("repeated-format", "two rows of reels for one format"),
    ("reels-over-holds", "reels that need more than the tank holds"),
    // build/darkroom
    ("discarded-before-mixed", "a bath that was poured away before it was made"),
    ("repeated-retraction", "a session that is taken back twice"),
    // build/backlog
    ("repeated-label", "two rolls with one label"),
    ("empty-label", "a label of which nothing shows"),
    // build/session
    ("repeated-slot", "two rolls in one place of the tank"),
    ("repeated-bath", "a bath that a session names twice"),
    ("repeated-temperature", "a step that a session gives two temperatures"),
    ("unknown-roll", "a label that the session's backlog does not have"),
    ("roll-of-another-format", "a roll that is of another format in its backlog"),
    ("bad-fingerprint", "a fingerprint that is not eight hexadecimal digits"),
    ("bad-revision", "a revision that is not 7 to 64 hexadecimal digits"),
    // inherit
    ("inherited-time", "a development whose film or bath changed and whose times did not"),
    // contradiction
    ("bath-not-there", "a bath that was used or tested before it was made, or after it was poured away"),
    ("developed-before-shot", "a roll that was developed before the day on which it was shot"),
    ("developed-twice", "a roll that two sessions developed"),
    // level
    ("unknown-rule", "a rule that does not exist"),
    ("allow-without-effect", "an allowance that silences nothing"),
    ("allow-without-reason", "an allowance whose reason is empty"),
];

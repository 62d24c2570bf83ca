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
    ("misplaced-statement", "a statement in a block of another kind"),
    ("not-a-statement", "a line that does not begin with a word"),
    ("repeated-statement", "a statement that occurs twice and may occur once"),
    ("missing-statement", "a required statement that is missing"),
    ("block-too-long", "a block of more than 1,000 lines; a backlog of more than 10,000"),
    ("missing-block", "a header without its block"),
    ("needless-block", "a block after a statement that has none"),
    ("missing-value", "a statement that ends too early"),
    ("missing-word", "a required word that is missing"),
    ("missing-unit", "a number without its unit"),
    ("wrong-kind", "a value of another kind than expected"),
    ("unexpected-words", "text after the end of a statement"),
    ("unknown-unit", "a unit that does not exist"),
    ("unit-spelling", "a unit that recipes spell differently"),
    ("ambiguous-unit", "a unit with several meanings"),
    ("ambiguous-dilution", "a dilution with two meanings"),
    ("bad-dilution", "a dilution that is not whole parts"),
    ("bad-clock", "a time whose fields are not two digits under 60"),
    ("bad-number", "a number with too many figures, or not a number"),
    ("bad-date", "a day that is not in the calendar"),
    ("out-of-range", "a value outside its range"),
    ("bad-name", "a name with other characters than small letters, digits and single hyphens"),
    ("reserved-name", "a name that is a word of the language"),
    ("text-too-long", "a text of more than 2,000 characters"),
    ("unknown-format", "a film format that does not exist"),
    ("unknown-ingredient", "an ingredient that is not in the table"),
    ("version", "a missing, misplaced or unknown version of the language"),
    // gather
    ("use-outside", "a used file outside the recipes' root"),
    ("use-unreadable", "a used file that cannot be read"),
    ("use-not-text", "a used file that is not the text of recipes"),
    ("use-too-many", "more used files than a run may read"),
    ("use-circle", "files that use each other in a circle"),
    // scope
    ("repeated-name", "two declarations with one kind and name"),
    ("unknown-name", "a name without a declaration"),
    ("too-many-names", "more names from `use` than a run may have"),
    // derive
    ("from-circle", "recipes derived from each other in a circle"),
    ("from-too-deep", "more than 32 recipes derived one from another"),
    ("too-much-derived", "more text inherited by `from` than a run may have"),
    // merge
    ("unknown-step", "a step that the recipe does not have"),
    ("repeated-step", "two steps of one kind and name"),
    ("unplaced-step", "a new step of a derived recipe without its place"),
    ("needless-place", "a place for a step that already has one"),
    ("said-in-two-ways", "a step whose time or temperature is stated in two ways"),
    // build/agitation
    ("agitation-twice", "a scheme that says twice when the film moves"),
    ("agitation-without-time", "a scheme that does not say when the film moves"),
    ("agitation-over-period", "an agitation longer than its period"),
    ("agitation-times-unsorted", "agitation at times that are not in order"),
    // build/chart
    ("chart-of-one", "a chart with fewer than two points"),
    ("chart-temperature-twice", "a temperature that occurs twice in a chart"),
    ("chart-time-rises", "a chart in which a warmer bath takes longer"),
    ("chart-time-stands", "two neighbouring points of a chart with the same time"),
    // build/film
    ("repeated-clearing", "two clearing times of a film in one bath"),
    // build/formula
    ("state-not-said", "a salt without its water of crystallisation"),
    ("unknown-state", "a state that the ingredient does not have"),
    ("strength-not-said", "a liquid that is sold in several strengths, without its strength"),
    ("water-by-weight", "water without a volume"),
    ("mark-differs", "a mark at another volume than the formula is for"),
    ("over-the-mark", "more liquid in a formula than its mark"),
    ("mark-without-water", "a temperature or a mark of an ingredient other than water"),
    // build/solution
    ("dilution-parts", "a dilution with other parts than the solution has bottles"),
    ("repeated-capacity", "two capacities of a solution at one dilution"),
    ("repeated-part", "two bottles with one name"),
    ("formula-part", "a formula for a bottle that the solution does not have"),
    ("repeated-formula", "two formulas for one bottle"),
    // build/step
    ("missing-bath", "a step without the bath that it needs"),
    ("missing-time", "a step without a time"),
    ("missing-band", "a step with a time for one temperature and no tolerance"),
    ("within-what", "a tolerance without its temperature"),
    ("at-outside-band", "a step's temperature outside its band"),
    ("band-upside-down", "temperatures given as warm to cold"),
    ("no-clearing-time", "a fixing time by a clearing time that the film does not have"),
    ("clearing-without-fixer", "a time by the clearing time in a step without a fixer"),
    ("flow-without-time", "running water without a time"),
    ("each-side-in-bath", "a time for each side in a step without light"),
    ("water-is-kept", "plain water that is reused"),
    ("too-many-changes", "a wash of more than 50 changes of water"),
    // build/tank
    ("repeated-format", "two rows of reels for one format"),
    ("reels-over-holds", "reels or rotary agitation that need more than the tank holds"),
    // build/darkroom
    ("discarded-before-mixed", "a bath that was discarded before it was mixed"),
    ("repeated-retraction", "a session that is retracted twice"),
    // build/backlog
    ("repeated-label", "two rolls with one label"),
    ("empty-label", "a label that is empty"),
    // build/session
    ("repeated-slot", "two rolls in one slot of the tank"),
    ("repeated-bath", "a bath that occurs twice in a session"),
    ("repeated-temperature", "a step with two temperatures in a session"),
    ("unknown-roll", "a label that is not in the session's backlog"),
    ("roll-of-another-format", "a roll with another format in its backlog"),
    ("bad-fingerprint", "a fingerprint that is not eight hexadecimal digits"),
    ("bad-revision", "a revision that is not 7 to 64 hexadecimal digits"),
    // inherit
    ("inherited-time", "a development with a new film or bath and the parent's time"),
    // contradiction
    ("bath-not-there", "a bath that was used or tested before it was mixed, or after it was discarded"),
    ("developed-before-shot", "a roll that was developed before the day it was shot"),
    ("developed-twice", "a roll that two sessions developed"),
    // level
    ("unknown-rule", "a rule that does not exist"),
    ("allow-without-effect", "an allowance that allows no finding"),
    ("allow-without-reason", "an allowance without a reason"),
];

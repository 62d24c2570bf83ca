//! The names and meanings of the errors of a check.

use super::rules::RULES;
use crate::syntax;

/// The names of all errors and rules, each with its meaning, in the order of a check's stages.
pub fn faults() -> Vec<(&'static str, &'static str)> {
    let rules = RULES.iter().map(|rule| (rule.name, rule.meaning));
    syntax::ERRORS.iter().chain(ERRORS).copied().chain(rules).collect()
}

const ERRORS: &[(&str, &str)] = &[
    // Reading lines
    ("unknown-word", "a line whose first word begins no statement"),
    ("misplaced-statement", "a statement in the wrong block"),
    ("not-a-statement", "a line without a word at its start"),
    ("repeated-statement", "a statement that may occur only once"),
    ("missing-statement", "a required statement that is missing"),
    ("block-too-long", "a block of more than 1,000 lines (a backlog: 10,000)"),
    ("missing-block", "a header without its block"),
    ("needless-block", "a block after a statement that opens none"),
    ("missing-value", "a statement that ends too early"),
    ("missing-word", "a required word that is missing"),
    ("missing-unit", "a number without its unit"),
    ("wrong-kind", "a value of the wrong kind"),
    ("unexpected-words", "text after the end of a statement"),
    ("unknown-unit", "a unit that does not exist"),
    ("unit-spelling", "a unit in another spelling"),
    ("ambiguous-unit", "a unit with several meanings"),
    ("ambiguous-dilution", "a dilution with two meanings"),
    ("bad-dilution", "a dilution that is not in whole parts"),
    ("bad-clock", "a time with fields that are not two digits under 60"),
    ("bad-number", "a number that cannot be read"),
    ("bad-date", "a day that is not in the calendar"),
    ("out-of-range", "a value outside its range"),
    ("bad-name", "a name that is not small letters, digits and single hyphens"),
    ("reserved-name", "a name that has a fixed meaning in recipes"),
    ("text-too-long", "a text of more than 2,000 characters"),
    ("unknown-format", "a format that does not exist"),
    ("unknown-ingredient", "an ingredient that is not in the table of chemicals"),
    ("edition", "a missing or misplaced edition of the language"),
    ("later-edition", "a file of an edition that this program cannot read"),
    ("newer-edition", "a word that the edition of its file lacks"),
    ("older-word", "a word of edition 1 that edition 2 replaces"),
    // Gathering files
    ("use-outside", "a used file outside the recipes' root"),
    ("unknown-collection", "a collection that is not in the folder `collections`"),
    ("use-inside-collection", "a file of a collection, used by its path from outside"),
    ("use-unreadable", "a used file that cannot be read"),
    ("use-not-text", "a used file that is not text"),
    ("use-too-many", "too many used files for one run"),
    ("use-circle", "files that use each other in a circle"),
    // Resolving names
    ("repeated-name", "two declarations of one kind and name"),
    ("unknown-name", "a name without a declaration"),
    ("too-many-names", "too many names from `use`"),
    // Deriving recipes
    ("from-circle", "recipes derived from each other in a circle"),
    ("from-too-deep", "a chain of more than 32 derived recipes"),
    ("too-much-derived", "too much text inherited by `from`"),
    // Merging steps
    ("unknown-step", "a step that does not exist"),
    ("repeated-step", "two steps of one kind and name"),
    ("unplaced-step", "a new step of a derived recipe without its place"),
    ("needless-place", "a second place for a step"),
    ("nothing-to-remove", "a `without` that removes no statement"),
    ("nothing-to-swap", "a `swap` of a bath that no step of the parent has"),
    ("caution-removed", "a `without` that removes a caution"),
    ("repeat-backwards", "repeated steps with the last first"),
    ("rounds-out-of-range", "steps that are repeated once or too often"),
    ("said-in-two-ways", "a time or temperature stated in two ways"),
    // Agitation
    ("agitation-twice", "a scheme with two kinds of agitation"),
    ("agitation-without-time", "a scheme without agitation times"),
    ("agitation-over-period", "an agitation longer than its period"),
    ("agitation-times-unsorted", "agitation times out of order"),
    // Charts
    ("chart-of-one", "a chart with fewer than two points"),
    ("chart-temperature-twice", "a chart with two times for one temperature"),
    ("chart-time-rises", "a chart in which a warmer bath takes longer"),
    ("chart-time-stands", "a chart with the same time at two temperatures"),
    // Films
    ("repeated-clearing", "two clearing times of a film in one bath"),
    // Formulas
    ("state-not-said", "a salt without its water of crystallisation"),
    ("unknown-state", "a state that the ingredient does not have"),
    ("strength-not-said", "a liquid without its strength"),
    ("water-by-weight", "water without a volume"),
    ("mark-differs", "a mark that differs from the formula's volume"),
    ("over-the-mark", "liquids over the mark of their formula"),
    ("mark-without-water", "a temperature or a mark on other than water"),
    // Solutions
    ("dilution-parts", "a dilution with too few or too many parts"),
    ("repeated-capacity", "two capacities at one dilution"),
    ("repeated-keeping", "two keeping times of one bath"),
    ("unknown-part", "a bottle that the solution does not have"),
    ("repeated-part", "two bottles with one name"),
    ("formula-part", "a formula for an unknown bottle"),
    ("repeated-formula", "two formulas for one bottle"),
    // Steps
    ("missing-bath", "a step without its bath"),
    ("no-used-bath", "a used bath that no earlier step leaves"),
    ("used-bath-is-kept", "a used bath that is kept, or has another name"),
    ("no-such-bath", "a bath in the place of one that does not exist"),
    ("baths-in-a-circle", "baths that take each other's place in a circle"),
    ("addition-to-no-solution", "an addition to water, or to a bath that is used already"),
    ("addition-to-kept-bath", "an addition to a bath that goes back to its bottle"),
    ("addition-in-bottles", "an addition that comes in several bottles"),
    ("addition-by-weight", "an addition in grams"),
    ("missing-time", "a step without a time"),
    ("missing-band", "a time for one temperature without a tolerance"),
    ("within-what", "a tolerance without its temperature"),
    ("at-outside-band", "a step's temperature outside its band"),
    ("band-upside-down", "temperatures given as warm to cold"),
    ("known-ingredient", "an ingredient declared that the program knows"),
    ("unknown-hazard", "the code of a hazard statement that does not exist"),
    ("another-material", "a film, paper or plate under the word of another"),
    ("no-clearing-time", "a time by a clearing time that is not known"),
    ("clearing-without-fixer", "a clearing time outside a fixer"),
    ("flow-without-time", "running water without a time"),
    ("sign-without-end", "a step that ends at a sign, without a longest time"),
    ("needless-bound", "a shortest or longest time, or looks, in a step that does not end at a sign"),
    ("empty-sign", "a sign without words"),
    ("bound-twice", "two shortest times, two longest times or two looks"),
    ("bounds-upside-down", "a shortest time that is not below the longest"),
    ("no-time-of-parent", "a multiple of a parent's time that does not exist"),
    ("each-side-in-bath", "a time for each side in a step without light"),
    ("water-is-kept", "plain water that is reused"),
    ("too-many-changes", "a wash of more than 50 changes of water"),
    // Tanks
    ("repeated-format", "two rows of reels for one format"),
    ("reels-over-holds", "reels or a rotary volume over what the tank holds"),
    // Collections
    ("misplaced-collection", "a collection in a file with another name than `collection.wet`"),
    // Darkroom
    ("discarded-before-mixed", "a bath discarded before it was mixed"),
    ("repeated-retraction", "a session retracted twice"),
    // Backlogs
    ("repeated-label", "two rolls with one label"),
    ("empty-label", "an empty label"),
    // Sessions
    ("repeated-slot", "two rolls in one slot of the tank"),
    ("repeated-bath", "a bath listed twice in a session"),
    ("repeated-temperature", "a step with two temperatures in a session"),
    ("unknown-roll", "a label that the backlog does not have"),
    ("roll-of-another-format", "a roll with another format in its backlog"),
    ("bad-fingerprint", "a fingerprint that no card has"),
    ("bad-revision", "a revision that is not 7 to 64 hexadecimal digits"),
    // Inherited times
    ("inherited-time", "a new film or bath with the parent's time"),
    // Contradictions
    ("bath-not-there", "a bath used before it was mixed or after it was discarded"),
    ("developed-before-shot", "a roll developed before it was shot"),
    ("developed-twice", "a roll developed twice"),
    // Rules and `allow`
    ("unknown-rule", "a rule that does not exist"),
    ("allow-without-effect", "an `allow` of a rule that reports nothing"),
    ("allow-without-reason", "an `allow` without a reason"),
];

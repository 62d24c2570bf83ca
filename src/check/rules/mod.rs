//! The rules: each file here has the page of one rule and the function that checks it. The examples on the page test
//! the rule.

use std::cmp::Ordering;

use super::gather::Unit;
use super::mixture::{
    ACIDS, AGENTS, ALKALI, ALUMS, BISULFITES, BROMIDES, CARBONATES, KEEP_ALONE, LYES, Mixture, Odd, SULFITES,
    THIOSULFATES, figures, has_no_agent, is_bath_b, is_in, is_restrainer, limits, ml, usual_state,
};
use super::outdated::Outdated;
use crate::journal::{Standing, Usage};
use crate::model::{
    self, Band, Clearing, Clock, Darkroom, Difference, Duration, Film, Format, Formula, Grain,
    Item as FormulaItem, KeepingUnit, Keeps, KeepsFor, KeptBath, Lighting, Material, Measure, Number, Pulse,
    Recipe, RestsOn, Role, Scheme, Solution, Stated, Step, StepKind, Substance, Tank, Temperature, Time,
    Trial, Use, Volume, change_by_rate, coefficient, decimal, steep_part, stray_point, usual_time,
};
use crate::source::{Diagnostic, Edit, Fix, Level, Span, clip};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{Declared, Item, Lines as _, Reading, Value, say, unit};
pub(crate) use dangerous_addition::dangerous;

/// A rule, which finds doubtful or dangerous statements that are written correctly.
#[derive(Debug)]
pub struct Rule {
    /// The rule's name. It states what is wrong, so that it can follow the word `allow`.
    pub name: &'static str,
    /// The severity of the rule's findings, unless the user chooses another.
    pub level: Level,
    /// The severity of the rule's milder findings. It equals `level` if the rule has no milder ones.
    pub milder: Level,
    /// Whether the user can turn the rule off or lower its severity, by `allow`, an option or the config file.
    pub liftable: bool,
    /// What the rule reports, in one line.
    pub meaning: &'static str,
    /// The doc comment of the rule's file, which is the rule's page: the heading `# name: meaning`, details, the
    /// reason, examples and the source.
    doc: &'static str,
    pub(super) check: Check,
}

/// What a rule checks, and the function that returns its findings.
#[derive(Debug)]
pub(super) enum Check {
    Step(fn(&Step) -> Vec<Diagnostic>),
    /// Two successive steps in liquid.
    Neighbours(fn(&Step, &Step) -> Option<Diagnostic>),
    /// Steps that must not come before a certain step, the anchor; for other rules, steps that must not come after it.
    Order {
        /// Whether a step is the anchor. Only the first anchor of a recipe counts.
        anchor: fn(&Step) -> bool,
        /// Whether a step must not be on the forbidden side of the anchor.
        misplaced: fn(&Step) -> bool,
        /// True if the side before the anchor is forbidden, false if the side after it is.
        before: bool,
        /// The rest of the message, after the name of the misplaced step.
        message: &'static str,
        /// The text printed under the span of the anchor.
        label: &'static str,
        help: &'static str,
    },
    Recipe(fn(&Recipe) -> Vec<Diagnostic>),
    /// A derived recipe and its parent.
    Derived(fn(&Recipe, &Recipe) -> Option<Diagnostic>),
    Solution(fn(&Solution) -> Vec<Diagnostic>),
    /// A solution with the amounts of its ingredients, as mixed and as diluted for use.
    Mixture(fn(&Mixture<'_>) -> Vec<Diagnostic>),
    /// Solutions that lack a statement that they should have.
    Missing {
        /// Whether a solution is exempt if it is only added to baths or only replenishes them.
        but_replenishers: bool,
        /// Whether a solution lacks the statement.
        is_missing: fn(&Solution) -> bool,
        /// The rest of the message, after the name of the solution.
        message: &'static str,
        help: &'static str,
    },
    Formula(fn(&Formula) -> Vec<Diagnostic>),
    Film(fn(&Film) -> Vec<Diagnostic>),
    Tank(fn(&Tank) -> Vec<Diagnostic>),
    Bath(fn(&KeptBath) -> Vec<Diagnostic>),
    /// A trial, together with the darkroom whose bottle it may name.
    Trial(fn(&Trial, &Darkroom) -> Vec<Diagnostic>),
    /// A session that used a bath. Of several findings about one bath, only the first is reported.
    Usage(fn(&Usage<'_>) -> Vec<Diagnostic>),
    File(fn(&CheckedFile<'_>) -> Vec<Diagnostic>),
}

/// A file, as the rules about files check it.
#[derive(Debug)]
pub(super) struct CheckedFile<'a> {
    pub(super) unit: &'a Unit,
    /// All statements of the file. A statement comes before the statements of its block.
    pub(super) statements: Vec<&'a Reading>,
    pub(super) text: &'a str,
    /// The places where this file names deprecated recipes.
    pub(super) outdated: Vec<Outdated<'a>>,
    /// Whether another file of the check uses this file.
    pub(super) is_used: bool,
    /// Whether every line outside of blocks was understood in all files. If not, a `use` line may have been lost, and
    /// `is_used` may be wrong.
    pub(super) all_read: bool,
}

impl Rule {
    /// The rule's page, in Markdown. The fences of its examples are marked `fires` or `quiet`. A file that the examples
    /// use is marked `beside`, with its name.
    pub fn page(&self) -> String {
        let lines = self.doc.lines().skip(2).map(|line| line.strip_prefix(' ').unwrap_or(line));
        let mut rest = lines.collect::<Vec<_>>().join("\n");
        if rest.contains(LIMITS) {
            rest = rest.replace(LIMITS, limits().trim_end());
        }
        let gap = if rest.starts_with("**") { "\n" } else { "" };
        let mut meaning = self.meaning.chars();
        let capital = meaning.next().unwrap_or_default().to_uppercase();
        format!("# {}\n\n**What.** {capital}{}.\n{gap}{rest}\n", self.name, meaning.as_str())
    }

    /// The rule's severities as words, such as `warning or advice`.
    pub fn weight(&self) -> String {
        let milder = format!(" or {}", self.milder.word());
        let milder = if self.milder == self.level { "" } else { &milder };
        format!("{}{milder}{}", self.level.word(), if self.liftable { "" } else { ", never lifted" })
    }

    /// A finding of this rule, at its milder severity if `is_mild`, else at its usual one.
    fn weighed(&self, is_mild: bool, span: Span, message: impl Into<String>) -> Diagnostic {
        let level = if is_mild { self.milder } else { self.level };
        Diagnostic { level, ..self.found(span, message) }
    }

    /// A finding of this rule, at its usual severity.
    fn found(&self, span: Span, message: impl Into<String>) -> Diagnostic {
        Diagnostic { level: self.level, ..Diagnostic::error(self.name, span, message) }
    }

    pub(super) fn is_of_solutions(&self) -> bool {
        matches!(self.check, Check::Solution(_) | Check::Formula(_) | Check::Missing { .. })
    }

    pub(super) fn in_solution(&self, solution: &Solution) -> Vec<Diagnostic> {
        match &self.check {
            Check::Solution(check) => check(solution),
            Check::Formula(check) => solution.formulas.iter().flat_map(check).collect(),
            Check::Missing { is_missing, message, help, .. } if is_missing(solution) => {
                let message = format!("'{}' {message}", solution.name);
                vec![self.found(solution.span, message).help(*help)]
            }
            _ => Vec::new(),
        }
    }

    pub(super) fn in_recipe(&self, recipe: &Recipe, parent: Option<&Recipe>) -> Vec<Diagnostic> {
        let steps = &recipe.steps;
        match (&self.check, parent) {
            (Check::Step(check), _) => steps.iter().flat_map(check).collect(),
            (Check::Neighbours(check), _) => {
                let liquid = || steps.iter().filter(|step| step.is_in_liquid());
                liquid().zip(liquid().skip(1)).filter_map(|(before, after)| check(before, after)).collect()
            }
            (Check::Recipe(check), _) => check(recipe),
            (Check::Derived(check), Some(parent)) => check(recipe, parent).into_iter().collect(),
            (Check::Order { anchor, misplaced, before, message, label, help }, _) => {
                let Some((at, anchor)) = steps.iter().enumerate().find(|(_, step)| anchor(step)) else {
                    return Vec::new();
                };
                let (earlier, later) = steps.split_at(at);
                let side = if *before { earlier } else { later.get(1..).unwrap_or(&[]) };
                let found = side.iter().filter(|step| misplaced(step)).map(|step| {
                    self.found(step.span, format!("the step {} {message}", step.title()))
                        .other(anchor.span, *label)
                        .help(*help)
                });
                found.collect()
            }
            _ => Vec::new(),
        }
    }
}

/// A placeholder in a rule's doc comment. On the rule's page, the list of the limits of all amounts replaces it.
const LIMITS: &str = "{limits}";

/// Declares the rule of a file. The doc comment becomes the rule's page.
macro_rules! rule {
    (#[doc = $heading:literal] $(#[doc = $line:literal])*
     $level:ident $(or $milder:ident)? $(never $lifted:ident)?, $subject:ident $check:tt) => {
        #[doc = $heading]
        $(#[doc = $line])*
        pub(super) static RULE: super::Rule = super::Rule {
            name: super::heading($heading).0,
            level: crate::source::Level::$level,
            milder: rule!(@milder $level $($milder)?),
            liftable: stringify!($($lifted)?).is_empty(),
            meaning: super::heading($heading).1,
            doc: concat!($heading, "\n", $($line, "\n"),*),
            check: rule!(@check $subject $check),
        };
    };
    (@milder $level:ident) => { crate::source::Level::$level };
    (@milder $level:ident $milder:ident) => { crate::source::Level::$milder };
    (@check Derived ($check:expr)) => { super::Check::Derived($check) };
    (@check Neighbours ($check:expr)) => { super::Check::Neighbours($check) };
    (@check Trial ($check:expr)) => { super::Check::Trial($check) };
    (@check $subject:ident ($check:expr)) => { super::Check::$subject(|it| $check(it).into_iter().collect()) };
    (@check $subject:ident $fields:tt) => { super::Check::$subject $fields };
}

/// The name and the meaning that a heading of the form ` # name: meaning` states.
const fn heading(line: &'static str) -> (&'static str, &'static str) {
    let (_, line) = line.split_at(" # ".len());
    let mut at = 0;
    while at < line.len() {
        let (name, rest) = line.split_at(at);
        if let [b':', b' ', ..] = rest.as_bytes() {
            return (name, rest.split_at(": ".len()).1);
        }
        at += 1;
    }
    (line, "")
}

/// Lists the rules. A new rule is a new file, whose name is added to this list.
macro_rules! rules {
    ($($file:ident),* $(,)?) => {
        $(mod $file;)*
        /// All rules, sorted by name.
        pub static RULES: &[&Rule] = &[$(&$file::RULE),*];
    };
}

rules! {
    acid_before_water,
    acid_in_developer,
    acid_without_sulfite,
    agitation_after_the_end,
    agitation_not_stated,
    alum_without_acid,
    alum_without_sulfite,
    bath_b_alone,
    bath_of_another_role,
    bath_used_past_capacity,
    bath_used_past_its_test,
    bath_used_past_keeping,
    bleach_without_acid,
    bleach_without_oxidiser,
    capacities_disagree,
    chart_outside_band,
    clears_in_no_fixer,
    collection_without_licence,
    contents_unknown,
    dangerous_addition,
    dangerous_mixture,
    deprecated_recipe,
    derived_without_change,
    develop_before_presoak,
    developer_into_acid_fix,
    developer_without_agent,
    developer_without_alkali,
    developer_without_capacity,
    developer_without_preservative,
    diluted_too_far,
    does_not_dissolve,
    drain_longer_than_step,
    film_without_clearing,
    fix_before_develop,
    fix_without_wash,
    fixer_without_capacity,
    fixer_without_thiosulfate,
    foaming_agitation,
    formula_starts_dry,
    formula_without_mark,
    hazard_without_caution,
    implausible_amount,
    implausible_capacity,
    implausible_clearing,
    implausible_coefficient,
    implausible_drum_speed,
    implausible_film_speed,
    implausible_index,
    implausible_keeping,
    implausible_pour,
    implausible_push,
    implausible_rate,
    implausible_tank,
    implausible_temperature,
    implausible_time,
    interval_without_rest,
    keeping_unknown,
    light_before_fix,
    long_text,
    narrow_bath_without_band,
    never_used,
    one_time_for_a_wide_band,
    out_of_dissolving_order,
    out_of_proportion,
    push_without_time,
    reusable_bath_poured_away,
    reused_without_capacity,
    shadowed_name,
    shared_without_source,
    short_development,
    short_fix,
    short_wash,
    short_wash_after_hardener,
    stop_before_develop,
    stop_not_acid,
    stray_chart_point,
    strong_wetting_agent,
    tank_without_times,
    temperature_jump,
    title_of_another,
    too_little_developer,
    too_precise,
    trial_in_doubtful_bath,
    trial_of_other_work,
    two_fixes_in_one_bath,
    two_spellings,
    uncounted_bath,
    undeclared_stand,
    wash_after_wetting,
    weak_developer_kept,
    wet_after_dry,
    wide_band_on_steep_chart,
    within_beside_rate,
    wrong_salt,
}

/// The rule with this name; `None` if there is none.
pub fn rule(name: &str) -> Option<&'static Rule> {
    RULES.iter().copied().find(|rule| rule.name == name)
}

//! The rules: each a page and the function under it. A page says what is meant, why it matters to
//! the film, and shows a recipe that breaks the rule and one that keeps it; those are its test.

use super::gather::Unit;
use crate::model::{Darkroom, Film, Recipe, Solution, Tank};
use crate::source::{Diagnostic, Level, Span};
use crate::vocabulary::Reading;

/// A rule.
#[derive(Debug)]
pub struct Rule {
    /// Its name: what is wrong, so that it reads after 'allow'.
    pub name: &'static str,
    /// Its weight, unless a house or a call says otherwise.
    pub level: Level,
    /// What it tells of, in one line.
    pub meaning: &'static str,
    /// Its page, in Markdown; the fenced examples are marked `fires` and `quiet`, and a file that
    /// they use `beside` with its name.
    pub page: &'static str,
    /// What it looks at.
    pub(super) look: Look,
}

/// What a rule looks at, and how. Findings are made by [`Rule::found`].
#[derive(Debug)]
pub(super) enum Look {
    /// A recipe with all it inherited.
    Recipe(fn(&Recipe, &mut Vec<Diagnostic>)),
    /// A derived recipe (the first) and the one it is derived from.
    Derived(fn(&Recipe, &Recipe, &mut Vec<Diagnostic>)),
    /// A solution.
    Solution(fn(&Solution, &mut Vec<Diagnostic>)),
    /// A film.
    Film(fn(&Film, &mut Vec<Diagnostic>)),
    /// A tank.
    Tank(fn(&Tank, &mut Vec<Diagnostic>)),
    /// The darkroom of all files of a run.
    Darkroom(fn(&Darkroom, &mut Vec<Diagnostic>)),
    /// A file as it is written.
    File(fn(&Written<'_>, &mut Vec<Diagnostic>)),
}

/// A file as it is written.
#[derive(Debug)]
pub(super) struct Written<'a> {
    /// Its pieces and statements.
    pub(super) unit: &'a Unit,
    /// All its statements, those of a block after the one that opens it: most of these rules look at each.
    pub(super) statements: Vec<&'a Reading>,
    /// Its text.
    pub(super) text: &'a str,
    /// Whether another file of this run uses it.
    pub(super) is_used: bool,
    /// Whether every file that this run uses could be read.
    pub(super) all_read: bool,
}

impl<'a> Written<'a> {
    /// A file of a run.
    pub(super) fn of(unit: &'a Unit, text: &'a str, is_used: bool) -> Written<'a> {
        let mut statements = Vec::with_capacity(unit.tokens.len() / 2);
        unit.readings.iter().for_each(|reading| add(reading, &mut statements));
        Written { unit, statements, text, is_used, all_read: !unit.incomplete }
    }
}

fn add<'a>(reading: &'a Reading, all: &mut Vec<&'a Reading>) {
    all.push(reading);
    reading.rows.iter().for_each(|row| add(row, all));
}

impl Rule {
    /// A finding of this rule, at its usual weight.
    pub(super) fn found(&self, span: Span, message: impl Into<String>) -> Diagnostic {
        let mut finding = Diagnostic::error(self.name, span, message);
        finding.level = self.level;
        finding
    }
}

/// Makes a rule of the page that stands as its doc comment.
macro_rules! rule {
    ($(#[doc = $line:literal])* $name:literal, $level:ident, $meaning:literal, $look:ident($function:expr)) => {
        $(#[doc = $line])*
        pub(super) static RULE: super::Rule = super::Rule {
            name: $name,
            level: crate::source::Level::$level,
            meaning: $meaning,
            page: concat!($($line, "\n"),*),
            look: super::Look::$look($function),
        };
    };
}

/// Lists the rules: a new one is its file and one word here.
macro_rules! rules {
    ($($file:ident),* $(,)?) => {
        $(mod $file;)*
        /// All rules, in the order of their names.
        pub static RULES: &[&Rule] = &[$(&$file::RULE),*];
    };
}

rules! {
    acid_before_water,
    agitation_after_the_end,
    bath_of_another_role,
    bath_used_past_capacity,
    bath_used_past_its_test,
    bath_used_past_keeping,
    clears_in_no_fixer,
    contents_unknown,
    derived_without_change,
    develop_before_presoak,
    developer_into_acid_fix,
    developer_without_capacity,
    drain_longer_than_step,
    film_without_clearing,
    fix_before_develop,
    fix_without_wash,
    fixer_without_capacity,
    foaming_agitation,
    formula_starts_dry,
    formula_without_mark,
    hazard_without_caution,
    implausible_coefficient,
    interval_without_rest,
    keeping_unknown,
    let_down_too_far,
    light_before_fix,
    long_text,
    narrow_bath_without_band,
    never_used,
    out_of_dissolving_order,
    push_without_time,
    reusable_bath_poured_away,
    reused_without_capacity,
    shadowed_name,
    shared_without_source,
    short_development,
    short_fix,
    short_wash_after_hardener,
    stop_before_develop,
    stray_chart_point,
    tank_without_times,
    temperature_jump,
    title_of_another,
    too_precise,
    two_spellings,
    uncounted_bath,
    undeclared_stand,
    wash_after_wetting,
    weak_developer_kept,
    wet_after_dry,
    wide_band_on_steep_chart,
}

/// The rule of that name.
#[must_use]
pub fn rule(name: &str) -> Option<&'static Rule> {
    RULES.iter().copied().find(|rule| rule.name == name)
}

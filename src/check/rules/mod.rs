//! The rules: each a page and the function under it. A page says what is meant, why it matters to
//! the film, and shows a recipe that breaks the rule and one that keeps it; those are its test.

use crate::model::Recipe;
use crate::source::{Diagnostic, Level};

/// A rule.
pub struct Rule {
    /// Its name: what is wrong, so that it reads after 'allow'.
    pub name: &'static str,
    /// What it tells of, in one line.
    pub meaning: &'static str,
    /// Its page, in Markdown; the fenced examples are marked `fires` and `quiet`.
    pub page: &'static str,
    /// Looks at a recipe with all it inherited.
    pub(super) look: fn(&Recipe, &mut Vec<Diagnostic>),
}

/// Makes a rule of the page that stands as its doc comment.
macro_rules! rule {
    ($(#[doc = $line:literal])* $name:literal, $meaning:literal, $look:expr) => {
        $(#[doc = $line])*
        pub(super) static RULE: super::Rule = super::Rule {
            name: $name,
            meaning: $meaning,
            page: concat!($($line, "\n"),*),
            look: $look,
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
    agitation_after_the_end,
    develop_before_presoak,
    drain_longer_than_step,
    fix_before_develop,
    light_before_fix,
    stop_before_develop,
    wet_after_dry,
}

/// Looks at a recipe by every rule; whether it may be compiled.
pub(super) fn keep(recipe: &Recipe, faults: &mut Vec<Diagnostic>) -> bool {
    let before = faults.len();
    for rule in RULES {
        (rule.look)(recipe, faults);
    }
    faults.iter().skip(before).all(|fault| fault.level != Level::Error)
}

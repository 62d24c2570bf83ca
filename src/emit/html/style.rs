//! How the page looks, as the one text that stands between its style tags and that its policy names: the
//! page's own rules, and those of the inks of its pictures.

use super::super::picture::rules;
use super::lean::lean;

/// The rules of the page itself.
const PAGE: &str = include_str!("style.css");
/// How it prints: as the sheet in PDF does.
const PRINT: &str = include_str!("print.css");

/// The rules of a plan's page.
const PLAN: &str = include_str!("plan.css");

/// A style, ready for its element.
pub(super) struct Style {
    text: String,
}

impl Style {
    /// The style of a card's page.
    pub(super) fn of_page() -> Style {
        Style { text: lean(&format!("{PAGE}{}{PRINT}", rules())) }
    }

    /// The style of a plan.
    pub(super) fn of_plan() -> Style {
        Style { text: PLAN.to_owned() }
    }

    /// Its rules.
    pub(super) fn text(&self) -> &str {
        &self.text
    }
}

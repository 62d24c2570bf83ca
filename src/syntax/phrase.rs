//! What each rule of the grammar is as a piece of a line. No rule's name goes further than here: a
//! new one does not compile until somebody has said what it is.

use super::grammar::Rule;
use super::token::TokenKind;

impl Rule {
    /// Whether it is how a figure goes on.
    pub(super) fn goes_on(self) -> bool {
        matches!(self, Rule::decimal | Rule::clock | Rule::parts | Rule::date | Rule::fraction | Rule::format)
    }
}

/// The form of the piece that ends with this rule; `form` is how a figure went on.
pub(super) fn token_kind(rule: Rule, form: Option<Rule>) -> Option<TokenKind> {
    match rule {
        Rule::figure => figure_kind(form),
        Rule::word => Some(TokenKind::Word),
        Rule::comma => Some(TokenKind::Comma),
        Rule::open => Some(TokenKind::Open),
        Rule::close => Some(TokenKind::Close),
        Rule::percent => Some(TokenKind::Percent),
        Rule::string => Some(TokenKind::Text),
        Rule::open_string => Some(TokenKind::OpenText),
        Rule::stray => Some(TokenKind::Stray),
        Rule::file
        | Rule::blank
        | Rule::comment
        | Rule::letter
        | Rule::sign
        | Rule::decimal
        | Rule::clock
        | Rule::parts
        | Rule::date
        | Rule::fraction
        | Rule::format
        | Rule::EOI => None,
    }
}

fn figure_kind(form: Option<Rule>) -> Option<TokenKind> {
    Some(match form {
        Some(Rule::clock) => TokenKind::Clock,
        Some(Rule::parts) => TokenKind::Parts,
        Some(Rule::date) => TokenKind::Date,
        Some(Rule::fraction) => TokenKind::Fraction,
        Some(Rule::format) => TokenKind::Format,
        _ => TokenKind::Number,
    })
}

//! The errors of usual slips: a name that begins with a digit, quotes inside a text, and `m` for months.

use super::cursor::Cursor;
use super::names::is_name;
use super::pattern::Reader;
use crate::source::{Diagnostic, Span, clip};
use crate::vocabulary::respelled;

impl Reader<'_, '_> {
    /// The error for a new name that begins with a digit, such as `400-estuary`.
    pub(super) fn name_with_a_digit_first(&self) -> Diagnostic {
        let first = self.cursor.next();
        let rest = self.cursor.tokens.iter().skip(self.cursor.at + 1);
        let whole = rest.fold(first, |whole, token| match whole.end == token.span.start {
            true => whole.to(token.span),
            false => whole,
        });
        let name = self.cursor.text_of(whole);
        let message = format!("a name begins with a letter, and '{}' begins with a digit", clip(name));
        let fault = Diagnostic::error("bad-name", whole, message);
        match name.split_once('-').map(|(number, words)| format!("{words}-{number}")) {
            Some(turned) if is_name(&turned) => fault.write(turned),
            _ => fault.help("put a word before it, such as film-400"),
        }
    }

    /// The error for a text that goes on after a quote inside it: `text` up to that quote, and what is left.
    pub(super) fn quotes_inside(&self, text: Span, left: Span) -> Diagnostic {
        let message = format!("the text is {}, and this is left over", clip(self.cursor.text_of(text)));
        let fault = Diagnostic::error("unexpected-words", left, message);
        let whole = self.cursor.text_of(text.to(left));
        let inner = whole.strip_prefix('"').and_then(|text| text.strip_suffix('"'));
        let Some(inner) = inner.filter(|_| !self.cursor.text_of(left).starts_with('"')) else {
            return fault.help("a text has one quote before it and one after it: remove the others");
        };
        let doubled = format!("\"{}\"", inner.replace("\"\"", "\"").replace('"', "\"\""));
        if self.edition > 1 {
            let title = format!("write {doubled}: a quote inside a text is written twice");
            return fault.change(text.to(left), doubled, title, false);
        }
        fault
            .help(format!(
                "put 'wetside 2' in the first line, and write a quote inside a text twice: {doubled}"
            ))
            .help(format!("or leave the inner quotes out: \"{}\"", inner.replace('"', "")))
    }
}

/// The error for a time such as `6 m` or `4 hours` in the place of a keeping time; `None` if its unit is a unit of
/// another kind, such as `s`. `whole` is the span of the time.
pub(super) fn misspelt_keeping(cursor: Cursor<'_>, whole: Span) -> Option<Diagnostic> {
    let word = cursor.peek(cursor.number_pieces()).map_or(whole, |unit| unit.span);
    let (number, written) = (cursor.words_at(0), cursor.text_of(word));
    if written == "m" {
        let fault = Diagnostic::error("ambiguous-unit", word, "'m' can mean several units");
        let (months, minutes) = (format!("{number} months"), format!("{number} min"));
        let titles = (format!("write {months}"), format!("write {minutes} (minutes; edition 2)"));
        return Some(fault.change(whole, months, titles.0, false).change(whole, minutes, titles.1, false));
    }
    let right = respelled(written)?.word;
    Some(
        Diagnostic::error("unit-spelling", word, format!("the unit '{written}' is written {right}"))
            .mend(right),
    )
}

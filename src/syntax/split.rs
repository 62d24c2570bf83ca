//! Errors of values that an unexpected character splits into several tokens, such as `10'30"`, `'a text'` or `1+1.5`.

use super::characters::QUOTES;
use super::tree::Tree;
use crate::source::{Diagnostic, Span, clip};

/// The error of the value that the token `at` is part of, and how many tokens of the value there are from `at` on.
/// `None` if the value has none of the forms that this file knows.
pub(super) fn split_value(tree: &Tree, at: usize, text: &str) -> Option<(Diagnostic, usize)> {
    let span = tree.tokens.get(at)?.span;
    let place =
        Place { text, span, before: text.get(..span.start as usize)?, after: text.get(span.end as usize..)? };
    let first = span.slice(text).chars().next()?;
    let (fault, end) = match first {
        '\\' => {
            let fault = Diagnostic::error("unknown-sign", span, "a statement cannot go on in the next line");
            let end = joined_line(tree, span).unwrap_or(span.end);
            (fault.help("remove the \\, and join the next line to this one"), end)
        }
        '\'' => with_end(place.primes().or_else(|| place.quoted("unknown-sign", &['\'']))?),
        '.' => with_end(place.broken_parts().or_else(|| place.day()).or_else(|| place.path())?),
        '“' | '”' | '„' | '‟' => with_end(place.quoted("foreign-letter", &['”', '“', '‟'])?),
        '‘' | '’' | '‚' => with_end(place.quoted("foreign-letter", &['’', '‘'])?),
        '«' | '»' => with_end(place.quoted("foreign-letter", &['»', '«'])?),
        _ => return None,
    };
    let rest = tree.tokens.iter().skip(at);
    Some((fault, rest.take_while(|token| token.span.start < end).count().max(1)))
}

fn with_end(fault: Diagnostic) -> (Diagnostic, u32) {
    let end = fault.span.end;
    (fault, end)
}

/// The index of the byte after the line that follows the span's line. `None` if the span is not the last token of its
/// line, or its line is the last one.
fn joined_line(tree: &Tree, span: Span) -> Option<u32> {
    let line = tree.lines.partition_point(|line| line.bytes.end <= span.start);
    let last = tree.tokens_in(&tree.lines.get(line)?.tokens).last()?;
    (last.span == span).then_some(tree.lines.get(line + 1)?.bytes.end)
}

struct Place<'a> {
    text: &'a str,
    span: Span,
    before: &'a str,
    after: &'a str,
}

impl<'a> Place<'a> {
    /// The longest text directly before the token in which `is_part` is true for every character.
    fn head(&self, is_part: impl Fn(char) -> bool) -> &'a str {
        let start = self.before.trim_end_matches(is_part).len();
        self.before.get(start..).unwrap_or("")
    }

    /// The longest text directly after the token in which `is_part` is true for every character.
    fn tail(&self, is_part: impl Fn(char) -> bool) -> &'a str {
        let left = self.after.trim_start_matches(is_part).len();
        self.after.get(..self.after.len() - left).unwrap_or("")
    }

    fn widened(&self, before: usize, after: usize) -> Span {
        let bytes = |count: usize| u32::try_from(count).unwrap_or(0);
        Span { start: self.span.start - bytes(before), end: self.span.end + bytes(after), ..self.span }
    }

    /// The error of a time such as `10'30"` or `10'`.
    fn primes(&self) -> Option<Diagnostic> {
        let (minutes, seconds) = (self.head(is_digit), self.tail(is_digit));
        if minutes.is_empty() || self.before.trim_end_matches(is_digit).ends_with(char::is_alphanumeric) {
            return None;
        }
        let rest = self.after.get(seconds.len()..).unwrap_or("");
        let closing = ["\"", "''"].into_iter().find(|mark| rest.starts_with(mark)).map_or(0, str::len);
        let span = self.widened(minutes.len(), seconds.len() + closing);
        let fault = Diagnostic::error("unknown-sign", span, "a time is not written with ' and \"");
        Some(match (minutes.len(), if seconds.is_empty() { Ok(0) } else { seconds.parse::<u32>() }) {
            (..=4, Ok(seconds @ 0..60)) => fault.write(format!("{minutes}:{seconds:02}")),
            _ => fault.help("write minutes and seconds, such as 10:30"),
        })
    }

    /// The error of a text in other quotes than `"`. `None` if none of the characters `closing` ends the text on its
    /// line.
    fn quoted(&self, name: &'static str, closing: &[char]) -> Option<Diagnostic> {
        if self.before.ends_with(char::is_alphanumeric) {
            return None;
        }
        // The token is either the opening quote alone, or a word that begins with it.
        let start = self.span.start as usize;
        let rest = self.text.get(start..)?.lines().next()?;
        let opening = rest.chars().next()?.len_utf8();
        let inner = rest.get(opening..)?;
        let ends = |(at, sign): &(usize, char)| {
            let behind = inner.get(at + sign.len_utf8()..).unwrap_or("");
            closing.contains(sign) && !behind.starts_with(char::is_alphanumeric)
        };
        let (end, sign) = inner.char_indices().find(ends)?;
        let inner = inner.get(..end).filter(|inner| !inner.contains('"'))?;
        let end = u32::try_from(start + opening + end + sign.len_utf8()).ok()?;
        Some(Diagnostic::error(name, Span { end, ..self.span }, QUOTES).write(format!("\"{inner}\"")))
    }

    /// The error of a dilution such as `1+1.5`.
    fn broken_parts(&self) -> Option<Diagnostic> {
        let head = self.head(|sign| is_digit(sign) || sign == '+');
        let decimals = self.tail(is_digit);
        if !head.contains('+') || decimals.is_empty() {
            return None;
        }
        let span = self.widened(head.len(), decimals.len());
        let fault = Diagnostic::error("bad-dilution", span, "the parts of a dilution are whole numbers");
        let whole = whole_parts(head, decimals);
        Some(match whole {
            Some(whole) => {
                fault.offer(whole.as_str(), format!("for {} write {whole}", span.slice(self.text)))
            }
            None => fault.help("write whole parts, such as 2+3 for 1+1.5"),
        })
    }

    /// The error of a date such as `12.11.2026`.
    fn day(&self) -> Option<Diagnostic> {
        let (head, year) = (self.head(|sign| is_digit(sign) || sign == '.'), self.tail(is_digit));
        let (day, month) = head.split_once('.')?;
        if year.len() != 4 {
            return None;
        }
        let fault = Diagnostic::error(
            "unknown-sign",
            self.widened(head.len(), year.len()),
            "a date is written as year, month and day",
        );
        Some(match (day.parse::<u32>(), month.parse::<u32>()) {
            (Ok(day @ 1..=31), Ok(month @ 1..=12)) => fault.write(format!("{year}-{month:02}-{day:02}")),
            _ => fault.help("write a date such as 2026-11-12"),
        })
    }

    /// The error of a recipe file's path that is not in quotes.
    fn path(&self) -> Option<Diagnostic> {
        let is_part = |sign: char| !sign.is_whitespace() && !"\"{}#".contains(sign);
        let (head, tail) = (self.head(is_part), self.tail(is_part));
        if head.is_empty() || !tail.ends_with("wet") {
            return None;
        }
        let span = self.widened(head.len(), tail.len());
        let path = span.slice(self.text);
        let message = format!("the path {} needs double quotes", clip(path));
        Some(Diagnostic::error("unknown-sign", span, message).write(format!("\"{path}\"")))
    }
}

fn is_digit(sign: char) -> bool {
    sign.is_ascii_digit()
}

/// The dilution in whole parts. For `1+1.5`, `parts` is `1+1` and `decimals` is `5`, and the result is `2+3`. `None` if
/// a number is too large.
fn whole_parts(parts: &str, decimals: &str) -> Option<String> {
    let scale = 10_u32.checked_pow(u32::try_from(decimals.len()).ok()?)?;
    let parts: Option<Vec<u32>> =
        parts.split('+').map(|part| part.parse::<u32>().ok()?.checked_mul(scale)).collect();
    let mut parts = parts?;
    let last = parts.last_mut()?;
    *last = last.checked_add(decimals.parse().ok()?)?;
    let gcd = |one: u32, other: u32| {
        let (mut one, mut other) = (one, other);
        while other != 0 {
            (one, other) = (other, one % other);
        }
        one
    };
    let shared = parts.iter().copied().fold(0, gcd).max(1);
    Some(parts.iter().map(|part| (part / shared).to_string()).collect::<Vec<_>>().join("+"))
}

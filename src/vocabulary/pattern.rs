//! What follows a statement's word, as data: the reader walks it, the reference prints it.

use super::kind::Kind;

/// A part of a pattern.
#[derive(Debug, Clone, Copy)]
pub enum Part {
    /// This very word.
    Word(&'static str),
    /// A comma.
    Comma,
    /// A value of this kind.
    Value(Kind),
    /// These parts, or nothing.
    Maybe(&'static [Part]),
    /// One of these; which one is told by its first part.
    Either(&'static [&'static [Part]]),
    /// These parts once, and again after each comma.
    List(&'static [Part]),
}

/// A pattern as the reference prints it: `TIME in SOLUTION DILUTION at TEMPERATURE`.
#[must_use]
pub fn pattern_text(parts: &[Part]) -> String {
    let mut text = String::new();
    for part in parts {
        let piece = match part {
            Part::Word(word) => (*word).to_owned(),
            Part::Comma => ",".to_owned(),
            Part::Value(kind) => kind.placeholder().to_owned(),
            Part::Maybe(inner) => format!("[{}]", pattern_text(inner)),
            Part::Either(ways) => {
                let ways: Vec<String> = ways.iter().map(|way| pattern_text(way)).collect();
                format!("({})", ways.join(" | "))
            }
            Part::List(inner) => format!("{}, …", pattern_text(inner)),
        };
        if !text.is_empty() && piece != "," {
            text.push(' ');
        }
        text.push_str(&piece);
    }
    text
}

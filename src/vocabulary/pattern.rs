//! The pattern of a statement as data: the reader compares a line with it, the reference prints it.

use super::kind::Kind;
use super::row::Row;

/// A part of the pattern of a statement.
#[derive(Debug, Clone, Copy)]
pub enum Part {
    /// This word.
    Word(&'static str),
    /// A comma.
    Comma,
    /// A slot: its index in the statement, and what it holds.
    Slot(u8, Form),
    /// Optional parts.
    Maybe(&'static [Part]),
    /// Optional parts that edition 1 of the language lacks; the number is the first edition with these parts.
    Newer(u32, &'static [Part]),
    /// An alternative of an `Either` that edition 1 of the language lacks; the number is the first edition that has it.
    NewWay(u32, &'static [Part]),
    /// One of these alternatives; the first token decides which.
    Either(&'static [&'static [Part]]),
    /// A list: these parts once, and again after each comma.
    List(&'static [Part]),
}

/// What a slot holds.
#[derive(Debug, Clone, Copy)]
pub enum Form {
    /// A value of this kind.
    Value(Kind),
    /// One of these texts; a text may have several words.
    Choice(&'static [&'static str]),
    /// A clause: a part that is read like a statement, by one of these rows of the vocabulary table.
    Clause(fn() -> &'static [&'static Row]),
}

/// Words that edition 1 of the language lacks among the choices of a slot.
pub const NEWER_CHOICES: &[&str] = &["treatment", "bursts"];

/// Words that only edition 1 of the language has.
pub const OLDER_WORDS: &[&str] = &["safe"];

/// A pattern as the reference prints it: `TIME in SOLUTION DILUTION at TEMPERATURE`.
pub fn pattern_text(parts: &[Part]) -> String {
    let mut text = String::new();
    for part in parts {
        let piece = match part {
            Part::Word(word) => (*word).to_owned(),
            Part::Comma => ",".to_owned(),
            Part::Slot(_, Form::Value(kind)) => kind.placeholder().to_owned(),
            Part::Maybe(inner) | Part::Newer(_, inner) => format!("[{}]", pattern_text(inner)),
            Part::Either(_) | Part::Slot(..) => match part.ways().as_slice() {
                [only] => only.clone(),
                ways => format!("({})", ways.join(" | ")),
            },
            Part::List(inner) => format!("{}, …", pattern_text(inner)),
            Part::NewWay(_, inner) => pattern_text(inner),
        };
        if !text.is_empty() && piece != "," {
            text.push(' ');
        }
        text.push_str(&piece);
    }
    text
}

/// The text of an alternative. An alternative that edition 1 lacks (`Newer`) has no brackets: it is not optional.
fn way_text(way: &[Part]) -> String {
    match way {
        [Part::Newer(_, inner)] => pattern_text(inner),
        way => pattern_text(way),
    }
}

impl Part {
    /// The alternatives of this part, as the reference prints them; empty if the part has none.
    pub fn ways(&self) -> Vec<String> {
        match self {
            Part::Either(ways) => ways
                .iter()
                .flat_map(|way| match way {
                    [choice @ Part::Slot(_, Form::Choice(_))] => choice.ways(),
                    way => vec![way_text(way)],
                })
                .collect(),
            Part::Slot(_, Form::Choice(words)) => words.iter().map(|word| (*word).to_owned()).collect(),
            Part::Slot(_, Form::Clause(rows)) => rows().iter().map(|row| row.text()).collect(),
            _ => Vec::new(),
        }
    }

    /// Calls `each` with every word, comma and slot of a pattern and of its clauses, in order.
    pub(super) fn walk(parts: &'static [Part], each: &mut dyn FnMut(&'static Part)) {
        for part in parts {
            match part {
                Part::Slot(_, Form::Clause(rows)) => {
                    each(part);
                    rows().iter().for_each(|row| Part::walk(row.takes, each));
                }
                Part::Word(_) | Part::Comma | Part::Slot(..) => each(part),
                Part::Maybe(inner) | Part::Newer(_, inner) | Part::NewWay(_, inner) | Part::List(inner) => {
                    Part::walk(inner, each)
                }
                Part::Either(ways) => ways.iter().for_each(|way| Part::walk(way, each)),
            }
        }
    }
}

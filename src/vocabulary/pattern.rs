//! The patterns of statements as data. The reader of recipes compares a line with its pattern, and the reference prints
//! the pattern.

use super::kind::Kind;
use super::row::Row;

/// One part of the pattern of a statement.
#[derive(Debug, Clone, Copy)]
pub enum Part {
    /// Exactly this word.
    Word(&'static str),
    /// A comma.
    Comma,
    /// A slot, which takes a value: its index among the slots of the statement, and what it holds.
    Slot(u8, Form),
    /// Parts that may be left out together.
    Maybe(&'static [Part]),
    /// Parts that may be left out together, and that edition 1 of the language lacks. The number is the first edition
    /// that has them.
    Newer(u32, &'static [Part]),
    /// An alternative of an `Either` that edition 1 of the language lacks. The number is the first edition that has it.
    NewWay(u32, &'static [Part]),
    /// Exactly one of these alternatives. The next token of the line decides which one.
    Either(&'static [&'static [Part]]),
    /// A list with commas: these parts once, and again after each comma.
    List(&'static [Part]),
}

/// What a slot holds.
#[derive(Debug, Clone, Copy)]
pub enum Form {
    /// A value of this kind.
    Value(Kind),
    /// One of these texts. A text may have several words, such as `half full`.
    Choice(&'static [&'static str]),
    /// A clause: a part of the line that is read like a statement of its own, by one of these rows of the vocabulary
    /// table.
    Clause(fn() -> &'static [&'static Row]),
}

/// Words that a slot can hold in edition 2 of the language, but not in edition 1.
pub const NEWER_CHOICES: &[&str] = &["treatment", "bursts"];

/// Words that only edition 1 of the language has.
pub const OLDER_WORDS: &[&str] = &["safe"];

/// A pattern as the reference prints it, such as `TIME in SOLUTION DILUTION at TEMPERATURE`.
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

/// The text of one alternative of an `Either`. A `Newer` alternative gets no brackets, because it is not optional
/// there.
fn way_text(way: &[Part]) -> String {
    match way {
        [Part::Newer(_, inner)] => pattern_text(inner),
        way => pattern_text(way),
    }
}

impl Part {
    /// The alternatives of this part, as the reference prints them. Empty if the part has no alternatives.
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

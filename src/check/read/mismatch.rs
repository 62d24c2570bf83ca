//! The words for a statement that does not fit its row: what is wanted, what stands there, and how
//! the statement is written.

use super::cursor::Seen;
use super::reader::Reader;
use crate::source::Diagnostic;
use crate::syntax::TokenKind;
use crate::vocabulary::{Dimension, Kind, Part, Row, respelled, suggest, units};

/// A value of one of these kinds is wanted, and something else stands there.
pub(super) fn kind_wanted(reader: &Reader<'_, '_>, kinds: &[Kind]) -> Diagnostic {
    wanted(reader, kinds, &[])
}

/// This word is wanted, and something else stands there.
pub(super) fn word_wanted(reader: &Reader<'_, '_>, word: &'static str) -> Diagnostic {
    wanted(reader, &[], &[word])
}

/// One of these ways is wanted, and none begins as what stands there.
pub(super) fn none_fits(reader: &Reader<'_, '_>, ways: &[&[Part]]) -> Diagnostic {
    let (mut kinds, mut words) = (Vec::new(), Vec::new());
    for way in ways {
        beginnings(way, &mut kinds, &mut words);
    }
    wanted(reader, &kinds, &words)
}

/// Something stands behind the statement's end.
pub(super) fn left_over(reader: &Reader<'_, '_>) -> Diagnostic {
    let last = reader.cursor.tokens.last().map_or_else(|| reader.cursor.here(), |token| token.span);
    let span = reader.cursor.here().to(last);
    let words = as_written(reader.row);
    Diagnostic::error("unexpected-words", span, format!("nothing more belongs to {}", name_of(reader.row)))
        .help(format!("write it as in: {words}"))
}

fn wanted(reader: &Reader<'_, '_>, kinds: &[Kind], words: &[&'static str]) -> Diagnostic {
    let cursor = reader.cursor;
    let seen = cursor.seen();
    let wish = wish(kinds, words);
    let example = format!("write it as in: {}", as_written(reader.row));
    if seen == Seen::End {
        let message = format!("{wish} is wanted at the end of {}", name_of(reader.row));
        let name = if kinds.is_empty() { "missing-word" } else { "missing-value" };
        return Diagnostic::error(name, cursor.here(), message).help(example);
    }
    if let Some(kind) = kinds.iter().find(|kind| wears_unit(**kind))
        && matches!(seen, Seen::Bare | Seen::Fraction)
    {
        return unit_wanted(reader, *kind);
    }
    let there = cursor.words_at(0);
    if kinds.is_empty() || (seen == Seen::Word && !words.is_empty()) {
        let fault = Diagnostic::error("missing-word", cursor.here(), format!("{wish} is wanted here"));
        return match suggest(there, words.iter().copied()) {
            Some(word) if seen == Seen::Word => fault.mend(word, format!("write {word}")),
            _ => fault.help(example),
        };
    }
    let message = format!("{wish} is wanted here, this is {}", seen_words(seen, there));
    let example_of = kinds.first().map_or("", |kind| kind.example());
    Diagnostic::error("wrong-kind", cursor.here(), message)
        .label(format!("such as {example_of}"))
        .help(example)
}

/// A number stands there, and no unit that is one behind it.
fn unit_wanted(reader: &Reader<'_, '_>, kind: Kind) -> Diagnostic {
    let cursor = reader.cursor;
    let pieces = cursor.number_pieces();
    let next = cursor.peek(pieces).filter(|token| token.kind == TokenKind::Word);
    let number = cursor.words_at(0);
    let choices = units_of(kind).join(", ");
    let adjacent = next.filter(|next| {
        let last = cursor.peek(pieces - 1).map_or(0, |token| token.span.end);
        last == next.span.start || !is_word_of(reader.row.takes, cursor.words(*next))
    });
    match adjacent {
        Some(next) => {
            let word = cursor.words(next);
            let message = format!("'{word}' is no unit of {}", kind.words());
            let fault = Diagnostic::error("unknown-unit", next.span, message);
            match suggest(word, units_of(kind)) {
                Some(unit) => fault.offer(unit, format!("write {number} {unit}")),
                None => fault.help(format!("its units are {choices}")),
            }
        }
        None => {
            let message = format!("{} is wanted here, and this number has no unit", kind.words());
            Diagnostic::error("missing-unit", cursor.here(), message)
                .help(format!("write {}; the units are {choices}", kind.example()))
        }
    }
}

/// The units that a kind of value can wear, as recipes write them.
pub(super) fn units_of(kind: Kind) -> Vec<&'static str> {
    let worn: &[Dimension] = match kind {
        Kind::Time => &[Dimension::Time],
        Kind::Keeping => &[Dimension::Keeping],
        Kind::Temperature | Kind::Difference => &[Dimension::Temperature],
        Kind::Volume => &[Dimension::Volume],
        Kind::Mass => &[Dimension::Mass],
        Kind::Strength => &[Dimension::MassPerLitre, Dimension::VolumePerLitre],
        Kind::Flow => &[Dimension::Flow],
        Kind::Turning => &[Dimension::Turning],
        Kind::Share => return vec!["%"],
        Kind::Count
        | Kind::Number
        | Kind::Dilution
        | Kind::Date
        | Kind::Text
        | Kind::NewName
        | Kind::Name(_)
        | Kind::OwnName
        | Kind::Ingredient
        | Kind::State
        | Kind::Format
        | Kind::Step => &[],
    };
    units().iter().filter(|unit| worn.contains(&unit.dimension)).map(|unit| unit.word).collect()
}

fn wears_unit(kind: Kind) -> bool {
    !units_of(kind).is_empty()
}

fn wish(kinds: &[Kind], words: &[&str]) -> String {
    let mut wishes: Vec<String> = Vec::new();
    for kind in kinds {
        let words = kind.words().to_owned();
        if !wishes.contains(&words) {
            wishes.push(words);
        }
    }
    wishes.extend(words.iter().map(|word| format!("'{word}'")));
    match wishes.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, before)) => format!("{} or {last}", before.join(", ")),
        None => "something else".to_owned(),
    }
}

fn seen_words(seen: Seen, there: &str) -> String {
    let words = match seen {
        Seen::End => "the end of the line",
        Seen::Bare => "a number without a unit",
        Seen::Measured(dimension) => return dimension_words(dimension).to_owned(),
        Seen::Ambiguous => "an amount",
        Seen::Share => "a percentage",
        Seen::Clock => "a time",
        Seen::Dilution => "a dilution",
        Seen::Fraction => "a broken number",
        Seen::Date => "a date",
        Seen::Format => "a film format",
        Seen::Text => "a text",
        Seen::Word => return format!("the word '{there}'"),
        Seen::Sign => return format!("the sign '{there}'"),
    };
    words.to_owned()
}

fn dimension_words(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Time => "a time",
        Dimension::Keeping => "a keeping time",
        Dimension::Temperature => "a temperature",
        Dimension::Volume => "a volume",
        Dimension::Mass => "a mass",
        Dimension::MassPerLitre | Dimension::VolumePerLitre => "an amount per litre",
        Dimension::Flow => "a flow of water",
        Dimension::Turning => "a drum's speed",
    }
}

/// With what a way can begin: kinds of values, and words.
fn beginnings(parts: &[Part], kinds: &mut Vec<Kind>, words: &mut Vec<&'static str>) {
    match parts.first() {
        Some(Part::Word(word)) => words.push(word),
        Some(Part::Comma) => words.push(","),
        Some(Part::Value(kind)) => kinds.push(*kind),
        Some(Part::Maybe(inner)) => {
            beginnings(inner, kinds, words);
            beginnings(parts.get(1..).unwrap_or(&[]), kinds, words);
        }
        Some(Part::Either(ways)) => ways.iter().for_each(|way| beginnings(way, kinds, words)),
        Some(Part::List(inner)) => beginnings(inner, kinds, words),
        None => {}
    }
}

fn is_word_of(parts: &[Part], word: &str) -> bool {
    respelled(word).is_none()
        && parts.iter().any(|part| match part {
            Part::Word(own) => *own == word,
            Part::Comma | Part::Value(_) => false,
            Part::Maybe(inner) | Part::List(inner) => is_word_of(inner, word),
            Part::Either(ways) => ways.iter().any(|way| is_word_of(way, word)),
        })
}

/// How a row is called in a message.
pub(super) fn name_of(row: &Row) -> String {
    if row.word.is_empty() { "this line".to_owned() } else { format!("'{}'", row.word) }
}

/// How a row is written, by its own example.
pub(super) fn as_written(row: &Row) -> &'static str {
    row.example
}

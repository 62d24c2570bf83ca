//! The words for a statement that does not fit its row: what is wanted, what stands there, and how
//! the statement is written.

use super::cursor::{Cursor, Seen};
use super::pattern::{Reader, Want, beginnings};
use crate::model::{Number, Temperature};
use crate::source::{Diagnostic, Span, clip};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{
    Dimension, Form, Kind, Part, Row, Statement as _, Value, offer_near, say, suggest, unit, units,
};

/// One of these parts is wanted, and something else stands there.
pub(super) fn amiss(reader: &Reader<'_, '_>, parts: &[Part]) -> Diagnostic {
    let mut wants = Vec::new();
    beginnings(parts, &mut wants);
    wanted(reader, &wants)
}

/// Something stands behind the statement's end.
pub(super) fn left_over(reader: &Reader<'_, '_>) -> Diagnostic {
    let cursor = reader.cursor;
    let last = cursor.tokens.last().map_or_else(|| cursor.here(), |token| token.span);
    let (here, behind) = (cursor.here(), cursor.behind());
    let fault = |span, message: String| Diagnostic::error("unexpected-words", span, message);
    let word = cursor.words_at(0);
    let seen = cursor.seen();
    let comma = cursor.peek(0).is_some_and(|token| token.kind == TokenKind::Comma);
    if comma && cursor.peek(1).is_none() {
        return fault(here, "nothing follows this comma".to_owned()).offer("", "take the last comma out");
    }
    let known = reader.row.words();
    if seen == Seen::Word && takes_comma_before(reader.row.takes, word) {
        return fault(here, format!("a comma is missing before '{word}'")).change(
            behind.after(),
            ",",
            format!("put a comma before '{word}'"),
            true,
        );
    }
    let message = format!("nothing more belongs to {}", name_of(reader.row));
    if seen == Seen::Word
        && let Some(near) = suggest(word, known)
    {
        return fault(here, message).offer(near, format!("write {near}"));
    }
    let named = reader.items.last().map(|item| &item.value);
    if let (Some(Value::Name(name)), Seen::Bare, Some(_)) = (named, seen, reader.row.opens) {
        let whole = format!("{name}-{word}");
        let title = format!("write {whole}: a name has hyphens and no spaces");
        return fault(here, message).change(behind.to(here), whole, title, false);
    }
    fault(here.to(last), message).help(format!("write it as in: {}", as_written(reader.row)))
}

/// One of these is wanted, and something else stands there.
pub(super) fn wanted(reader: &Reader<'_, '_>, wants: &[Want]) -> Diagnostic {
    let cursor = reader.cursor;
    let seen = cursor.seen();
    let (mut kinds, mut words) = (Vec::new(), Vec::new());
    for want in wants {
        match want {
            Want::Word(word) => words.push(*word),
            Want::Value(kind) | Want::Unit(kind) => kinds.push(*kind),
        }
    }
    let wish = wish(&kinds, &words);
    let example = format!("write it as in: {}", as_written(reader.row));
    if seen == Seen::End {
        let message = match cursor.tokens {
            [] => format!("{wish} is wanted here"),
            _ => format!("{wish} is wanted at the end of {}", name_of(reader.row)),
        };
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
        let word = if seen == Seen::Word { there } else { "" };
        return offer_near(fault, word, &words, || example);
    }
    let message = format!("{wish} is wanted here, this is {}", seen_words(seen, there));
    let example_of = kinds.iter().find(|kind| wears_unit(**kind)).or(kinds.first());
    let fault = Diagnostic::error("wrong-kind", whole_value(cursor), message)
        .label(format!("such as {}", example_of.map_or("", |kind| kind.example())));
    match (kinds.first(), seen) {
        (Some(Kind::NewName), Seen::Bare) => fault.help("a name begins with a letter, such as film-400"),
        (_, Seen::Format) if there.contains('-') => {
            fault.help("a range is not let through: write one value").help(example)
        }
        _ => fault.help(example),
    }
}

/// The place of a value with its unit.
fn whole_value(cursor: Cursor<'_>) -> Span {
    let here = cursor.here();
    match cursor.seen() {
        Seen::Measured(_) | Seen::Share | Seen::Ambiguous => {
            cursor.peek(cursor.number_pieces()).map_or(here, |unit| here.to(unit.span))
        }
        Seen::End
        | Seen::Bare
        | Seen::Clock
        | Seen::Dilution
        | Seen::Fraction
        | Seen::Date
        | Seen::Format
        | Seen::Text
        | Seen::Word
        | Seen::Sign => here,
    }
}

/// A number stands there, and no unit that is one behind it.
fn unit_wanted(reader: &Reader<'_, '_>, kind: Kind) -> Diagnostic {
    let cursor = reader.cursor;
    let pieces = cursor.number_pieces();
    let parts: Vec<&str> = (0..pieces).map(|ahead| cursor.words_at(ahead)).collect();
    let number = parts.join(" ");
    if let Some(fault) = comma_in_number(cursor, kind) {
        return fault;
    }
    let choices = units_of(kind);
    let next = cursor.peek(pieces).filter(|token| token.kind == TokenKind::Word);
    let stranger = next.filter(|next| {
        let last = cursor.peek(pieces - 1).map_or(0, |token| token.span.end);
        last == next.span.start || !reader.row.words().contains(&cursor.words(*next))
    });
    let Some(stranger) = stranger else {
        let message = format!("{} is wanted here, and this number has no unit", kind.words());
        let last = cursor.peek(pieces - 1).map_or(cursor.here(), |token| token.span);
        let offers: Vec<String> = choices.iter().take(3).map(|unit| format!("{number} {unit}")).collect();
        let fault = Diagnostic::error("missing-unit", cursor.here(), message)
            .help(format!("write {}", offers.join(" or ")));
        return offers.into_iter().fold(fault, |fault, text| fault.choice(cursor.here().to(last), text));
    };
    let word = cursor.words(stranger);
    let fault = Diagnostic::error(
        "unknown-unit",
        stranger.span,
        format!("'{}' is no unit of {}", clip(word), kind.words()),
    );
    let kelvin = Number::parse(&number).filter(|_| word == "K").and_then(Temperature::from_celsius);
    match (kelvin, suggest(word, choices.iter().copied())) {
        (Some(kelvin), _) => {
            let celsius = Temperature { base: kelvin.base.saturating_sub(KELVIN) };
            let title = format!("write {celsius} for {number} K");
            fault.change(cursor.here().to(stranger.span), celsius.to_string(), title, false)
        }
        (None, Some(unit)) => fault.offer(unit, format!("write {number} {unit}")),
        (None, None) => fault.help(format!("its units are {}", choices.join(", "))),
    }
}

/// The fault of `1,000` and `2,6`. What the comma means is a guess, and a wrong one is wrong a thousandfold, so each
/// reading is offered and none is certain.
fn comma_in_number(cursor: Cursor<'_>, kind: Kind) -> Option<Diagnostic> {
    let groups: Vec<Token> = (1..)
        .step_by(2)
        .map_while(|ahead| {
            let (comma, group) = (cursor.peek(ahead)?, cursor.peek(ahead + 1)?);
            let is_one = comma.kind == TokenKind::Comma
                && group.kind == TokenKind::Number
                && group.span.start == comma.span.end;
            is_one.then_some(group)
        })
        .collect();
    let number = cursor.words_at(0);
    let span = cursor.here().to(groups.last()?.span);
    let figures: Vec<&str> = groups.iter().map(|group| cursor.words(*group)).collect();
    let mut fault = Diagnostic::error("bad-number", span, "a number has no comma");
    if let [decimals] = figures.as_slice() {
        let point = format!("{number}.{decimals}");
        fault = fault.offer(point.as_str(), format!("write {point} if decimals follow the comma"));
        let next = cursor.peek(3).map_or("", |token| cursor.words(token));
        let time = matches!(kind, Kind::Time | Kind::Moment | Kind::ChartTime);
        if time && decimals.len() == 2 && (next == "min" || unit(next).is_none()) {
            let clock = format!("{number}:{decimals}");
            let title = format!("write {clock} if it stands before seconds");
            // A time of the clock has no unit behind it.
            let whole = cursor.peek(3).filter(|_| next == "min").map_or(span, |unit| span.to(unit.span));
            fault = fault.change(whole, clock, title, false);
        }
    }
    if figures.iter().all(|group| group.len() == 3 && group.bytes().all(|byte| byte.is_ascii_digit())) {
        let joined = format!("{number}{}", figures.concat());
        fault = fault.offer(joined.as_str(), format!("write {joined} if the comma groups thousands"));
    }
    if fault.help.is_empty() {
        fault = fault.help("write a number with a point for its decimals, such as 1000 or 2.5");
    }
    Some(fault)
}

/// 0 °C in kelvin, in the base units of a temperature: 273.15.
const KELVIN: i64 = 273_150 * 9;

/// The units that a kind of value can wear, as recipes write them.
pub(crate) fn units_of(kind: Kind) -> Vec<&'static str> {
    let worn: &[Dimension] = match kind {
        Kind::Time | Kind::Moment | Kind::ChartTime => &[Dimension::Time],
        Kind::Keeping => &[Dimension::Keeping],
        Kind::Temperature | Kind::Tap | Kind::Difference => &[Dimension::Temperature],
        Kind::Volume => &[Dimension::Volume],
        Kind::Mass => &[Dimension::Mass],
        Kind::Strength => &[Dimension::MassPerLitre, Dimension::VolumePerLitre],
        Kind::Flow => &[Dimension::Flow],
        Kind::Turning => &[Dimension::Turning],
        Kind::Share => return vec!["%"],
        Kind::Count
        | Kind::Index
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

pub(super) fn wears_unit(kind: Kind) -> bool {
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
        Seen::Word => return format!("the word '{}'", clip(there)),
        Seen::Sign => return format!("the sign '{}'", clip(there)),
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

/// Whether a pattern has a place where a comma stands before this word.
fn takes_comma_before(parts: &[Part], word: &str) -> bool {
    let begins = |parts: &[Part]| {
        let mut wants = Vec::new();
        beginnings(parts, &mut wants);
        wants.iter().any(|want| matches!(want, Want::Word(known) if *known == word))
    };
    parts.iter().enumerate().any(|(at, part)| match part {
        Part::Comma => parts.get(at + 1..).is_some_and(begins),
        Part::List(inner) => begins(inner) || takes_comma_before(inner, word),
        Part::Maybe(inner) => takes_comma_before(inner, word),
        Part::Either(ways) => ways.iter().any(|way| takes_comma_before(way, word)),
        Part::Slot(_, Form::Clause(rows)) => rows().iter().any(|row| takes_comma_before(row.takes, word)),
        Part::Word(_) | Part::Slot(..) => false,
    })
}

/// How a row is called in a message.
pub(super) fn name_of(row: &Row) -> String {
    if !row.word.is_empty() {
        return format!("'{}'", row.word);
    }
    if row.blocks.is_empty() { "this value".to_owned() } else { "this line".to_owned() }
}

/// How a row is written, by its own example.
pub(super) fn as_written(row: &'static Row) -> &'static str {
    // The reference shows the fullest way to write a time; most want the plain one.
    if say::Time::has(row) { "time 10:00" } else { row.example }
}

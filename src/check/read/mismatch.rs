//! The errors of a statement that does not fit its row: what was expected, what was found, and an example.

use super::cursor::{Cursor, Seen};
use super::pattern::{Reader, Want, beginnings};
use crate::model::{Number, Temperature};
use crate::source::{Diagnostic, Span, clip};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{
    Dimension, Form, Kind, Part, Row, Statement as _, Value, offer_near, say, suggest, unit, units,
};

/// The error of text after the end of a statement.
pub(super) fn left_over(reader: &Reader<'_, '_>) -> Diagnostic {
    let cursor = reader.cursor;
    let (next, before, seen) = (cursor.next(), cursor.last(), cursor.seen());
    let last = cursor.tokens.last().map_or(next, |token| token.span);
    let fault = |span, message: String| Diagnostic::error("unexpected-words", span, message);
    let word = cursor.words_at(0);
    if cursor.sees_comma() && cursor.peek(1).is_none() {
        return fault(next, "nothing follows this comma".to_owned()).offer("", "remove the last comma");
    }
    if seen == Seen::Word && takes_comma_before(reader.row.takes, word) {
        let title = format!("put a comma before '{word}'");
        let message = format!("a comma is missing before '{word}'");
        return fault(next, message).change(before.after(), ",", title, true);
    }
    let message = format!("unexpected text at the end of {}", name_of(reader.row));
    if seen == Seen::Word
        && let Some(near) = suggest(word, reader.row.words())
    {
        return fault(next, message).offer(near, format!("write {near}"));
    }
    let named = reader.items.last().map(|item| &item.value);
    if let (Some(Value::Name(name)), Seen::Bare, Some(_)) = (named, seen, reader.row.opens) {
        let whole = format!("{name}-{word}");
        let title = format!("write {whole}: a name has hyphens and no spaces");
        return fault(next, message).change(before.to(next), whole, title, false);
    }
    fault(next.to(last), message).help(format!("write it as in: {}", example(reader.row)))
}

/// The error of a piece that is none of these.
pub(super) fn expected(reader: &Reader<'_, '_>, wants: &[Want]) -> Diagnostic {
    let cursor = reader.cursor;
    let seen = cursor.seen();
    let (mut kinds, mut words) = (Vec::new(), Vec::new());
    for want in wants {
        match want {
            Want::Word(word) => words.push(*word),
            Want::Value(kind) | Want::Unit(kind) => kinds.push(*kind),
        }
    }
    let wish = one_of(&kinds, &words);
    let as_in = format!("write it as in: {}", example(reader.row));
    if seen == Seen::End {
        let message = match cursor.tokens {
            [] => format!("expected {wish}"),
            _ => format!("expected {wish} at the end of {}", name_of(reader.row)),
        };
        let name = if kinds.is_empty() { "missing-word" } else { "missing-value" };
        return Diagnostic::error(name, cursor.next(), message).help(as_in);
    }
    let measured = kinds.iter().find(|kind| has_units(**kind));
    if let Some(kind) = measured
        && matches!(seen, Seen::Bare | Seen::Fraction)
    {
        return unit_expected(reader, *kind);
    }
    let found = cursor.words_at(0);
    if kinds.is_empty() || (seen == Seen::Word && !words.is_empty()) {
        let message = format!("expected {wish}, found {}", found_words(seen, found));
        let fault = Diagnostic::error("missing-word", cursor.next(), message);
        let word = if seen == Seen::Word { found } else { "" };
        return offer_near(fault, word, &words, || as_in);
    }
    let message = format!("expected {wish}, found {}", found_words(seen, found));
    let such_as = measured.or(kinds.first()).map_or("", |kind| kind.example());
    let fault =
        Diagnostic::error("wrong-kind", whole_value(cursor), message).label(format!("such as {such_as}"));
    match (kinds.first(), seen) {
        (Some(Kind::NewName), Seen::Bare) => fault.help("a name begins with a letter, such as film-400"),
        (_, Seen::Format) if found.contains('-') => {
            fault.help("write one value: a range is not accepted").help(as_in)
        }
        _ => fault.help(as_in),
    }
}

/// The place of a value with its unit.
fn whole_value(cursor: Cursor<'_>) -> Span {
    let (next, seen) = (cursor.next(), cursor.seen());
    let unit = if matches!(seen, Seen::Measured(_) | Seen::Share | Seen::Ambiguous) {
        cursor.peek(cursor.number_pieces())
    } else {
        None
    };
    unit.map_or(next, |unit| next.to(unit.span))
}

/// The error of a number without its unit, or with an unknown one.
fn unit_expected(reader: &Reader<'_, '_>, kind: Kind) -> Diagnostic {
    let cursor = reader.cursor;
    if let Some(fault) = comma_in_number(cursor, kind) {
        return fault;
    }
    let pieces = cursor.number_pieces();
    let last = cursor.peek(pieces - 1).map_or(cursor.next(), |token| token.span);
    let number = (0..pieces).map(|ahead| cursor.words_at(ahead)).collect::<Vec<_>>().join(" ");
    let choices = units_of(kind);
    let next = cursor.peek(pieces).filter(|token| token.kind == TokenKind::Word);
    let unknown =
        next.filter(|next| last.end == next.span.start || !reader.row.words().contains(&cursor.words(*next)));
    let Some(unknown) = unknown else {
        let message = format!("expected {}, found a number without a unit", kind.words());
        let offers: Vec<String> = choices.iter().take(3).map(|unit| format!("{number} {unit}")).collect();
        let fault = Diagnostic::error("missing-unit", cursor.next(), message)
            .help(format!("write {}", offers.join(" or ")));
        return offers.into_iter().fold(fault, |fault, text| fault.choice(cursor.next().to(last), text));
    };
    let word = cursor.words(unknown);
    let message = format!("'{}' is not a unit of {}", clip(word), kind.words());
    let fault = Diagnostic::error("unknown-unit", unknown.span, message);
    let kelvin = Number::parse(&number).filter(|_| word == "K").and_then(Temperature::from_celsius);
    match (kelvin, suggest(word, choices.iter().copied())) {
        (Some(kelvin), _) => {
            let celsius = Temperature { base: kelvin.base.saturating_sub(KELVIN) };
            let title = format!("write {celsius} for {number} K");
            fault.change(cursor.next().to(unknown.span), celsius.to_string(), title, false)
        }
        (None, Some(unit)) => fault.offer(unit, format!("write {number} {unit}")),
        (None, None) => fault.help(format!("its units are {}", choices.join(", "))),
    }
}

/// The error of `1,000` and `2,6`. Each reading is offered and none is certain: a wrong one is wrong a thousandfold.
fn comma_in_number(cursor: Cursor<'_>, kind: Kind) -> Option<Diagnostic> {
    let group = |ahead: usize| {
        let (comma, group) = (cursor.peek(ahead)?, cursor.peek(ahead + 1)?);
        let grouped = comma.kind == TokenKind::Comma && group.kind == TokenKind::Number;
        (grouped && group.span.start == comma.span.end).then_some(group)
    };
    let groups: Vec<Token> = (1..).step_by(2).map_while(group).collect();
    let number = cursor.words_at(0);
    let span = cursor.next().to(groups.last()?.span);
    let figures: Vec<&str> = groups.iter().map(|group| cursor.words(*group)).collect();
    let mut fault = Diagnostic::error("bad-number", span, "a number has no comma");
    if let [decimals] = figures.as_slice() {
        let point = format!("{number}.{decimals}");
        fault = fault.offer(point.as_str(), format!("write {point} if decimals follow the comma"));
        let next = cursor.words_at(3);
        let time = matches!(kind, Kind::Time | Kind::Moment | Kind::ChartTime);
        if time && decimals.len() == 2 && (next == "min" || unit(next).is_none()) {
            let clock = format!("{number}:{decimals}");
            let title = format!("write {clock} if seconds follow the comma");
            // A clock time has no unit.
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

/// What the units of a kind of value measure.
pub(super) fn dimensions(kind: Kind) -> &'static [Dimension] {
    match kind {
        Kind::Time | Kind::Moment | Kind::ChartTime => &[Dimension::Time],
        Kind::Keeping => &[Dimension::Keeping],
        Kind::Temperature | Kind::Tap | Kind::Difference => &[Dimension::Temperature],
        Kind::Volume => &[Dimension::Volume],
        Kind::Mass => &[Dimension::Mass],
        Kind::Strength => &[Dimension::MassPerLitre, Dimension::VolumePerLitre],
        Kind::Flow => &[Dimension::Flow],
        Kind::Turning => &[Dimension::Turning],
        _ => &[],
    }
}

/// The units of a kind of value, as recipes spell them.
pub(crate) fn units_of(kind: Kind) -> Vec<&'static str> {
    if kind == Kind::Share {
        return vec!["%"];
    }
    let dimensions = dimensions(kind);
    units().iter().filter(|unit| dimensions.contains(&unit.dimension)).map(|unit| unit.word).collect()
}

pub(super) fn has_units(kind: Kind) -> bool {
    kind == Kind::Share || !dimensions(kind).is_empty()
}

fn one_of(kinds: &[Kind], words: &[&str]) -> String {
    let mut all: Vec<String> = Vec::new();
    for kind in kinds {
        let words = kind.words().to_owned();
        if !all.contains(&words) {
            all.push(words);
        }
    }
    all.extend(words.iter().map(|word| format!("'{word}'")));
    match all.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, before)) => format!("{} or {last}", before.join(", ")),
        None => "something else".to_owned(),
    }
}

fn found_words(seen: Seen, found: &str) -> String {
    let kind = match seen {
        Seen::End => return "the end of the line".to_owned(),
        Seen::Bare => return "a number without a unit".to_owned(),
        Seen::Fraction => return "a fraction".to_owned(),
        Seen::Text => return "a text".to_owned(),
        Seen::Ambiguous => return "an amount".to_owned(),
        Seen::Word => return format!("the word '{}'", clip(found)),
        Seen::Sign => return format!("the sign '{}'", clip(found)),
        Seen::Measured(Dimension::Keeping) => Kind::Keeping,
        Seen::Measured(Dimension::Temperature) => Kind::Temperature,
        Seen::Measured(Dimension::Volume) => Kind::Volume,
        Seen::Measured(Dimension::Mass) => Kind::Mass,
        Seen::Measured(Dimension::MassPerLitre | Dimension::VolumePerLitre) => Kind::Strength,
        Seen::Measured(Dimension::Flow) => Kind::Flow,
        Seen::Measured(Dimension::Turning) => Kind::Turning,
        Seen::Measured(Dimension::Time) | Seen::Clock => Kind::Time,
        Seen::Share => Kind::Share,
        Seen::Dilution => Kind::Dilution,
        Seen::Date => Kind::Date,
        Seen::Format => Kind::Format,
    };
    kind.words().to_owned()
}

/// Whether a pattern has a comma before this word somewhere.
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

/// The name of a row in a message.
pub(super) fn name_of(row: &Row) -> String {
    if !row.word.is_empty() {
        return format!("'{}'", row.word);
    }
    if row.blocks.is_empty() { "this value".to_owned() } else { "this line".to_owned() }
}

/// An example of a row. The example of `time` in the table has all its parts, and few times need them.
pub(super) fn example(row: &'static Row) -> &'static str {
    if say::Time::has(row) { "time 10:00" } else { row.example }
}

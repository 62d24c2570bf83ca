//! The errors of a statement that does not match its pattern.

use super::cursor::{Cursor, Seen, measured_as};
use super::error;
use super::pattern::{Reader, Want, beginnings};
use super::slips::misspelt_keeping;
use crate::model::{Dilution, Number, Temperature};
use crate::source::{Diagnostic, Span, clip};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{
    Block, EDITION, Form, Kind, Part, Row, Statement as _, Value, offer_near, row_of, say, suggest, unit,
    units,
};

/// 273.15 K, which is 0 °C, in the base unit of temperatures, 1/9000 K.
const KELVIN: i64 = 273_150 * 9;

impl Reader<'_, '_> {
    pub(super) fn left_over(&self) -> Diagnostic {
        let cursor = self.cursor;
        let (next, before, seen) = (cursor.next(), cursor.last(), cursor.seen());
        let fault = |span, message: String| Diagnostic::error("unexpected-words", span, message);
        let word = cursor.words_at(0);
        if cursor.sees(",") && cursor.peek(1).is_none() {
            return fault(next, "nothing follows this comma".to_owned()).offer("", "remove the last comma");
        }
        if seen == Seen::Word && takes_comma_before(self.row.takes, word) {
            let title = format!("write a comma before '{word}'");
            return fault(next, format!("a comma is missing before '{word}'")).change(
                before.after(),
                ",",
                title,
                true,
            );
        }
        if let Some(known) = self.seconds_left_over().or_else(|| self.known_left_over()) {
            return known;
        }
        let message = format!("this text does not belong to {}", name_of(self.row));
        if seen == Seen::Word
            && let Some(near) = suggest(word, self.row.words())
        {
            return fault(next, message).write(near);
        }
        let named = self.items.last().map(|item| &item.value);
        if let (Some(Value::Name(name)), Seen::Bare, Some(_)) = (named, seen, self.row.opens) {
            let whole = format!("{name}-{word}");
            let title = format!("write {whole}: a name has hyphens and no spaces");
            return fault(next, message).change(before.to(next), whole, title, false);
        }
        let last = cursor.tokens.last().map_or(next, |token| token.span);
        fault(next.to(last), message).help(as_in(self.row))
    }

    /// The error for seconds that have no unit after a time in minutes, as in `1 min 30`; `None` if the rest of the
    /// line is something else.
    fn seconds_left_over(&self) -> Option<Diagnostic> {
        let cursor = self.cursor;
        let number = cursor.tokens.get(cursor.at.checked_sub(2)?)?.span;
        let is_last = cursor.peek(1).is_none() && cursor.text_of(cursor.last()) == "min";
        let (minutes, seconds) = (cursor.text_of(number), cursor.words_at(0));
        let (minutes, left) = (minutes.parse::<u32>().ok()?, seconds.parse::<u32>().ok()?);
        (is_last && left < 60).then(|| {
            let clock = format!("{minutes}:{left:02}");
            let title = format!("write {clock} for {minutes} min {left} s");
            let message = format!("'{seconds}' has no unit");
            let fault = Diagnostic::error("unexpected-words", cursor.next(), message);
            fault.change(number.to(cursor.next()), clock, title, false)
        })
    }

    /// The error for text after the end of a statement, if the text is one of the usual mistakes; otherwise `None`.
    fn known_left_over(&self) -> Option<Diagnostic> {
        let cursor = self.cursor;
        let (next, before, word) = (cursor.next(), cursor.last(), cursor.words_at(0));
        let last = cursor.tokens.last().map_or(next, |token| token.span);
        let left = next.to(last);
        let fault = |span, message: String| Diagnostic::error("unexpected-words", span, message);
        if cursor.seen() == Seen::Value(Kind::Share) && self.row.kinds().contains(&Kind::Dilution) {
            let percent = next.to(cursor.peek(cursor.number_pieces()).map_or(next, |token| token.span));
            let head = cursor.tokens.first().map_or("", |first| cursor.text_of(first.span.to(before)));
            let head = head.split_whitespace().collect::<Vec<_>>().join(" ");
            return Some(
                fault(percent, "a dilution is written in parts, not in percent".to_owned())
                    .help(format!("write parts, such as: {head} {}", in_a_hundred(word))),
            );
        }
        let after_number = cursor
            .at
            .checked_sub(1)
            .and_then(|at| cursor.tokens.get(at))
            .is_some_and(|token| token.kind == TokenKind::Number);
        if after_number && before.end == next.start && cursor.seen() == Seen::Word {
            let written = before.to(next);
            let message = format!("'{}' is not a number", clip(cursor.text_of(written)));
            return Some(fault(written, message).help(as_in(self.row)));
        }
        if matches!(self.items.last(), Some(item) if matches!(item.value, Value::Text(_)))
            && cursor.text_of(left).contains('"')
        {
            return Some(self.quotes_inside(before, left));
        }
        let begins = |block: &Block| row_of(*block, word).is_some();
        if cursor.seen() == Seen::Word && self.row.opens.is_none() && self.row.blocks.iter().any(begins) {
            let message = format!("'{}' begins another statement, which needs its own line", clip(word));
            return Some(
                fault(left, message).help(format!("put on the next line: {}", cursor.text_of(left))),
            );
        }
        None
    }

    pub(super) fn expected(&self, wants: &[Want]) -> Diagnostic {
        let (cursor, seen) = (self.cursor, self.cursor.seen());
        let (mut kinds, mut words) = kinds_and_words(wants);
        if say::Time::has(self.row) && kinds.contains(&Kind::Time) {
            // `time` can also have a factor, as in `3 x clearing`, or a visible sign, as in `until "…"`. Both are rare,
            // so the message offers only a time.
            (kinds, words) = (vec![Kind::Time], Vec::new());
        }
        // `keeps` can also have a working life in hours and minutes, which is too rare to be offered in the message.
        kinds.retain(|kind| !say::Keeps::has(self.row) || *kind != Kind::Time);
        let wish = one_of(&kinds, &words);
        let is_water = say::FormulaLine::has(self.row)
            && cursor.tokens.first().is_some_and(|first| cursor.text_of(first.span) == "water");
        let as_in = if is_water { "write it as in: water to 1 l".to_owned() } else { as_in(self.row) };
        let lacks_comma = kinds.is_empty() && words.as_slice() == [","];
        if seen == Seen::End {
            let name = if kinds.is_empty() { "missing-word" } else { "missing-value" };
            let fault = error(name, cursor.next(), self.missing_end(&wish, lacks_comma), as_in);
            return match lacks_comma && say::SessionRecipe::has(self.row) {
                true => fault.help("the fingerprint is at the top right of its card"),
                false => fault,
            };
        }
        let measured = kinds.iter().find(|kind| !units_of(**kind).is_empty());
        if let (Some(kind), Seen::Bare | Seen::Fraction) = (measured, seen) {
            return comma_in_number(cursor, *kind).unwrap_or_else(|| self.unit_expected(*kind));
        }
        if kinds.first() == Some(&Kind::NewName) && seen == Seen::Bare {
            return self.name_with_a_digit_first();
        }
        let found = cursor.words_at(0);
        let whole = whole_value(cursor, seen);
        if say::Keeps::has(self.row)
            && seen == Seen::Value(Kind::Time)
            && let Some(fault) = misspelt_keeping(cursor, whole)
        {
            return fault;
        }
        if lacks_comma && !matches!(seen, Seen::Word | Seen::Sign) {
            let message = format!("a comma is missing before '{}'", cursor.text_of(whole));
            return error("missing-word", whole, message, as_in);
        }
        if seen == Seen::Value(Kind::Format)
            && let Some(fault) = self.range(measured.or(kinds.first()).copied(), found)
        {
            return fault;
        }
        let message = format!("expected {wish}, found {}", found_words(seen, found));
        if kinds.is_empty() || (seen == Seen::Word && !words.is_empty()) {
            let word = if seen == Seen::Word { found } else { "" };
            let is_choice = kinds.is_empty() && words.len() > 1 && cursor.at == 1 && seen == Seen::Word;
            let help = if is_choice { choice(self.row) } else { as_in };
            let fault = || Diagnostic::error("missing-word", cursor.next(), message);
            return self.ingredient_in_words().unwrap_or_else(|| offer_near(fault(), word, &words, || help));
        }
        if seen == Seen::Word && kinds.as_slice() == [Kind::Text] && !self.row.blocks.is_empty() {
            return self.text_without_quotes(message, as_in);
        }
        let fault = Diagnostic::error("wrong-kind", whole, message);
        // A number or a new name gets no example, because the example would look like the exact text to write.
        let own = [Kind::Count, Kind::Factor, Kind::Index, Kind::NewName];
        let kind = measured.or(kinds.first()).filter(|kind| !own.contains(kind));
        let fault =
            kind.into_iter().fold(fault, |fault, kind| fault.label(format!("such as {}", kind.example())));
        fault.help(as_in)
    }

    /// The message for a statement that ends too early. `wish` says what should follow.
    fn missing_end(&self, wish: &str, lacks_comma: bool) -> String {
        let cursor = self.cursor;
        let Some(first) = cursor.tokens.first() else { return format!("expected {wish}") };
        let there: Vec<&str> = cursor.text_of(first.span.to(cursor.last())).split_whitespace().collect();
        let there = clip(&there.join(" "));
        match self.row.example.split_once(", ").filter(|_| lacks_comma) {
            Some((_, rest)) => format!("'{there}' lacks the rest of its line, such as: , {rest}"),
            None => format!("expected {wish} after '{there}'"),
        }
    }

    fn text_without_quotes(&self, message: String, as_in: String) -> Diagnostic {
        let (cursor, next) = (self.cursor, self.cursor.next());
        let words = cursor.tokens.last().map_or(next, |last| next.to(last.span));
        let text = cursor.text_of(words);
        let fault = Diagnostic::error("wrong-kind", words, message);
        if text.contains('"') { fault.help(as_in) } else { fault.write(format!("\"{text}\"")) }
    }

    /// The error for a range of values such as `4-5 min`, in which `4-5` is read as a film format. `None` if the text
    /// is not a range of values of this kind.
    fn range(&self, kind: Option<Kind>, found: &str) -> Option<Diagnostic> {
        let (cursor, kind) = (self.cursor, kind?);
        let (low, high) = found.split_once('-').filter(|_| kind != Kind::Format)?;
        let unit = cursor.peek(1).map(|token| cursor.text_of(token.span));
        let unit = unit.filter(|unit| units_of(kind).contains(unit));
        let such_as = match (unit, low.parse::<u32>(), high.parse::<u32>()) {
            (Some("min"), Ok(low), Ok(high)) => {
                let seconds = low.saturating_add(high).saturating_mul(30);
                format!("{}:{:02}", seconds / 60, seconds % 60)
            }
            (Some(unit), ..) => format!("{low} {unit}"),
            (None, ..) => low.to_owned(),
        };
        let words = kind.words().split_once(' ').map_or(kind.words(), |(_, words)| words);
        let message = format!("expected one {words}, found '{}'", clip(found));
        let help = format!("a range is not accepted: write one {words}, such as {such_as}");
        Some(error("wrong-kind", cursor.next(), message, help))
    }

    fn unit_expected(&self, kind: Kind) -> Diagnostic {
        let (cursor, start) = (self.cursor, self.cursor.next());
        let pieces = cursor.number_pieces();
        let last = cursor.peek(pieces - 1).map_or(start, |token| token.span);
        let number = cursor.text_of(start.to(last));
        let choices = units_of(kind);
        let next = cursor.peek(pieces).filter(|token| token.kind == TokenKind::Word);
        let unknown = next.filter(|next| {
            last.end == next.span.start || !self.row.words().contains(&cursor.text_of(next.span))
        });
        let Some(unknown) = unknown else {
            let message = format!("expected {}, found a number without a unit", kind.words());
            let offers: Vec<String> = choices.iter().take(3).map(|unit| format!("{number} {unit}")).collect();
            let fault = error("missing-unit", start, message, format!("write {}", offers.join(" or ")));
            return offers.into_iter().fold(fault, |fault, text| fault.choice(start.to(last), text));
        };
        let word = cursor.text_of(unknown.span);
        let fault = Diagnostic::error(
            "unknown-unit",
            unknown.span,
            format!("'{}' is not a unit of {}", clip(word), kind.words()),
        );
        let kelvin = Number::parse(number).filter(|_| word == "K").and_then(Temperature::from_celsius);
        match (kelvin, suggest(word, choices.iter().copied())) {
            (Some(kelvin), _) => {
                let celsius = Temperature { base: kelvin.base.saturating_sub(KELVIN) };
                let title = format!("write {celsius} for {number} K");
                fault.change(start.to(unknown.span), celsius.to_string(), title, false)
            }
            (None, Some(unit)) => fault.offer(unit, format!("write {number} {unit}")),
            (None, None) => fault.help(format!("its units are {}", choices.join(", "))),
        }
    }
}

fn kinds_and_words(wants: &[Want]) -> (Vec<Kind>, Vec<&'static str>) {
    let (mut kinds, mut words) = (Vec::new(), Vec::new());
    for want in wants {
        match want {
            Want::Word(word) => words.push(*word),
            Want::Value(kind) | Want::Unit(kind) => kinds.push(*kind),
        }
    }
    (kinds, words)
}

fn whole_value(cursor: Cursor<'_>, seen: Seen) -> Span {
    let next = cursor.next();
    let has_unit = match seen {
        Seen::Value(kind) => cursor.sees_number() && !units_of(kind).is_empty(),
        seen => seen == Seen::Ambiguous,
    };
    let unit = cursor.peek(cursor.number_pieces()).filter(|_| has_unit);
    unit.map_or(next, |unit| next.to(unit.span))
}

/// The error for a number with a comma, such as `1,000` or `2,6`; `None` without a comma. No fix is certain, because a
/// wrong fix would change the amount a thousandfold.
fn comma_in_number(cursor: Cursor<'_>, kind: Kind) -> Option<Diagnostic> {
    let group = |ahead: usize| {
        let (comma, group) = (cursor.peek(ahead)?, cursor.peek(ahead + 1)?);
        let grouped = comma.kind == TokenKind::Comma && group.kind == TokenKind::Number;
        (grouped && group.span.start == comma.span.end).then_some(group)
    };
    let groups: Vec<Token> = (1..).step_by(2).map_while(group).collect();
    let number = cursor.words_at(0);
    let span = cursor.next().to(groups.last()?.span);
    let figures: Vec<&str> = groups.iter().map(|group| cursor.text_of(group.span)).collect();
    let mut fault = Diagnostic::error("bad-number", span, "a number is written without a comma");
    if let [decimals] = figures.as_slice() {
        let point = format!("{number}.{decimals}");
        fault = fault.offer(point.as_str(), format!("write {point} if decimals follow the comma"));
        let next = cursor.words_at(3);
        let time = measured_as(kind) == Kind::Time;
        if time && decimals.len() == 2 && (next == "min" || unit(next).is_none()) {
            let clock = format!("{number}:{decimals}");
            let title = format!("write {clock} if seconds follow the comma");
            // The fix writes a time such as `2:30`, which also replaces the unit `min`.
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

/// The units in which values of this kind are written, in their standard spelling.
pub(crate) fn units_of(kind: Kind) -> Vec<&'static str> {
    if kind == Kind::Share {
        return vec!["%"];
    }
    let kind = measured_as(kind);
    units().iter().filter(|unit| unit.kind == kind).map(|unit| unit.word).collect()
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
    match seen {
        Seen::Bare => "a number without a unit".to_owned(),
        Seen::Fraction => "a fraction".to_owned(),
        Seen::Ambiguous => "an amount".to_owned(),
        Seen::Clock => Kind::Time.words().to_owned(),
        Seen::Value(kind) => kind.words().to_owned(),
        Seen::Word if found == "×" => "the multiplication sign '×'".to_owned(),
        Seen::Word => format!("the word '{}'", clip(found)),
        Seen::Sign | Seen::End => format!("the sign '{}'", clip(found)),
    }
}

/// The dilution for a percentage, such as `1+19` for `5`. If `percent` is not a whole number from 1 to 99, the example
/// `1+19`.
fn in_a_hundred(percent: &str) -> String {
    let parts = percent.parse::<u32>().ok().filter(|parts| (1..100).contains(parts)).unwrap_or(5);
    Dilution { parts: vec![parts], water: 100 - parts }.reduced().to_string()
}

/// Whether the pattern `parts` has a comma directly before this word.
fn takes_comma_before(parts: &[Part], word: &str) -> bool {
    let begins = |parts: &[Part]| {
        beginnings(parts, EDITION, &mut |want, _| matches!(want, Want::Word(known) if known == word))
    };
    parts.iter().enumerate().any(|(at, part)| match part {
        Part::Comma => parts.get(at + 1..).is_some_and(begins),
        Part::List(inner) => begins(inner) || takes_comma_before(inner, word),
        Part::Maybe(inner) | Part::Newer(_, inner) | Part::NewWay(_, inner) => {
            takes_comma_before(inner, word)
        }
        Part::Either(ways) => ways.iter().any(|way| takes_comma_before(way, word)),
        Part::Slot(_, Form::Clause(rows)) => rows().iter().any(|row| takes_comma_before(row.takes, word)),
        Part::Word(_) | Part::Slot(..) => false,
    })
}

pub(super) fn name_of(row: &Row) -> String {
    if !row.word.is_empty() {
        return format!("'{}'", row.word);
    }
    if row.blocks.is_empty() { "this value".to_owned() } else { "this line".to_owned() }
}

/// The help for a word that is none of those that a statement has to choose from.
fn choice(row: &'static Row) -> String {
    let meaning = row.meaning.split_once("; edition").map_or(row.meaning, |(meaning, _)| meaning);
    format!("choose one of these words; '{}' is {meaning}", row.word)
}

pub(super) fn as_in(row: &'static Row) -> String {
    format!("write it as in: {}", example(row))
}

/// An example of a statement, for messages. The example of `time` in the vocabulary table has rare parts, so messages
/// show a shorter one.
pub(super) fn example(row: &'static Row) -> &'static str {
    if say::Time::has(row) { "time 10:00" } else { row.example }
}

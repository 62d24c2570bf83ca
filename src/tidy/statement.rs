//! Writes a statement in the standard layout: values at the block's column, one spelling of each unit, times in minutes
//! and seconds.

use crate::source::Span;
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{Block, Item, Reading, Value, unit};

/// The text of a file, a statement's tokens without the opening brace, and the kind of block that contains the
/// statement.
pub(super) struct Place<'a> {
    pub(super) text: &'a str,
    pub(super) pieces: &'a [Token],
    pub(super) block: Block,
}

/// Writes the statement without its indentation, brace and comment.
pub(super) fn write(place: &Place<'_>, reading: &Reading, line: &mut String) {
    let begun = line.len();
    // Only a unit in a quantity gets the standard spelling; a name may be spelled like a unit.
    let is_name = |item: &Item| matches!(item.value, Value::Name(_) | Value::Mention(..));
    let mut quantities: Vec<&Item> = Vec::new();
    reading.values(&mut |item| quantities.extend(Some(item).filter(|item| !is_name(item))));
    let (head, values) = place.pieces.split_at_checked(head(place, reading)).unwrap_or((place.pieces, &[]));
    join(place, &quantities, head, line);
    if values.is_empty() {
        return;
    }
    let wide = line.get(begun..).unwrap_or("").chars().count();
    let column = if reading.row.opens.is_some() { 0 } else { place.block.column() };
    line.extend(std::iter::repeat_n(' ', column.saturating_sub(wide).max(1)));
    join(place, &quantities, values, line);
}

/// The number of tokens before the column of values: 1 for the first word of the statement; in a statement without a
/// first word, the tokens of its first value.
fn head(place: &Place<'_>, reading: &Reading) -> usize {
    if !reading.row.word.is_empty() {
        return 1;
    }
    let end = reading.items.first().map_or(0, |item| item.span.end);
    place.pieces.iter().take_while(|piece| piece.span.end <= end).count().max(1)
}

fn join(place: &Place<'_>, quantities: &[&Item], pieces: &[Token], line: &mut String) {
    let begun = line.len();
    let mut done: Option<Span> = None;
    for piece in pieces {
        if done.is_some_and(|done| piece.span.end <= done.end) {
            continue;
        }
        let quantity = quantities.iter().copied().find(|item| holds(item.span, *piece));
        let clock = quantity.and_then(|item| on_the_clock(place, item));
        if line.len() > begun && piece.kind != TokenKind::Comma {
            line.push(' ');
        }
        match (clock, quantity) {
            (Some(clock), Some(item)) => {
                line.push_str(&clock);
                done = Some(item.span);
            }
            (None, Some(_)) if piece.kind == TokenKind::Word => {
                let word = words(place, *piece);
                // `1 month` keeps its spelling, because `1 months` is wrong English.
                let is_one =
                    matches!(quantity.map(|item| &item.value), Some(Value::Keeping(time)) if time.count == 1);
                line.push_str(unit(word).filter(|_| !is_one).map_or(word, |unit| unit.word));
            }
            (_, _) => line.push_str(words(place, *piece)),
        }
    }
}

/// The time as `min:s`, if it is written with several units or a fraction, and is a whole number of seconds.
fn on_the_clock(place: &Place<'_>, item: &Item) -> Option<String> {
    let Value::Time(time) = item.value else { return None };
    let pieces = || place.pieces.iter().filter(|piece| holds(item.span, **piece));
    let units = pieces().filter(|piece| piece.kind == TokenKind::Word).count();
    let broken = pieces().any(|piece| piece.kind == TokenKind::Fraction);
    ((units > 1 || broken) && time.ms % 1000 == 0).then(|| time.to_string())
}

fn words<'a>(place: &Place<'a>, piece: Token) -> &'a str {
    piece.span.slice(place.text)
}

fn holds(span: Span, piece: Token) -> bool {
    span.start <= piece.span.start && piece.span.end <= span.end
}

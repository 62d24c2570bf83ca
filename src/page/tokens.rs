//! The kinds of the tokens of a text, so that a page can colour the text.

use serde::Serialize;

use crate::source::Sources;
use crate::syntax::{Statement, TokenKind, Tree, parse};

/// A range of a text with one colour. `start` and `end` count UTF-16 units, as scripts in browsers do.
#[derive(Debug, PartialEq, Eq, Serialize)]
pub(super) struct Piece {
    start: usize,
    end: usize,
    kind: Colour,
}

/// What a piece of a text is. The page has a colour for each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
enum Colour {
    /// The first word of a statement, such as `time`.
    Keyword,
    /// A number, a clock time, a date, a dilution or a format.
    Number,
    Text,
    Comment,
}

pub(super) fn tokens(text: &str) -> Vec<Piece> {
    let mut sources = Sources::default();
    let file = sources.add("", text);
    let (tree, _) = parse(&sources, file);
    let mut spans: Vec<(usize, usize, Colour)> = Vec::new();
    let mut add = |range: std::ops::Range<usize>, kind| spans.push((range.start, range.end, kind));
    for token in &tree.tokens {
        match token.kind {
            TokenKind::Number
            | TokenKind::Clock
            | TokenKind::Parts
            | TokenKind::Date
            | TokenKind::Fraction
            | TokenKind::Format => add(token.span.range(), Colour::Number),
            TokenKind::Text | TokenKind::OpenText => add(token.span.range(), Colour::Text),
            _ => {}
        }
    }
    tree.lines.iter().filter_map(|line| line.comment).for_each(|span| add(span.range(), Colour::Comment));
    keywords(&tree, &tree.statements, &mut add);
    spans.sort_unstable_by_key(|(start, ..)| *start);
    in_units(text, &spans)
}

fn keywords(tree: &Tree, statements: &[Statement], add: &mut impl FnMut(std::ops::Range<usize>, Colour)) {
    for statement in statements {
        let first = tree.tokens_in(&statement.tokens).first();
        if let Some(word) = first.filter(|token| token.kind == TokenKind::Word) {
            add(word.span.range(), Colour::Keyword);
        }
        statement.block.iter().for_each(|block| keywords(tree, block, add));
    }
}

/// Converts sorted spans in bytes into pieces in UTF-16 units.
fn in_units(text: &str, spans: &[(usize, usize, Colour)]) -> Vec<Piece> {
    let (mut bytes, mut units) = (0, 0);
    let mut unit = |to: usize| {
        units += text.get(bytes..to).map_or(0, |part| part.encode_utf16().count());
        bytes = bytes.max(to);
        units
    };
    spans.iter().map(|&(start, end, kind)| Piece { start: unit(start), end: unit(end), kind }).collect()
}

//! Looks at each piece by itself: characters that do not show, signs that no statement has, letters
//! that only look right, texts without their end. A piece told here is marked, and not told again.

use super::faults::FINDINGS_MAX;
use super::foreign::{Foreign, all_foreign, foreign, plainly};
use super::token::{Token, TokenKind};
use super::tree::Tree;
use crate::source::{Diagnostic, Level, Span, clip, is_hidden};

/// So many characters that do not show are told in the remarks of a file; they must not use up what may be
/// told of its statements.
const REMARKS_MAX: usize = 100;

/// Tells what is wrong with single pieces, and marks them.
pub(super) fn tell(tree: &mut Tree, text: &str, faults: &mut Vec<Diagnostic>) {
    long_lines(tree, faults);
    hidden(tree, text, faults);
    let mut at = 0;
    let mut quoted = None;
    while let Some(token) = tree.tokens.get(at).copied() {
        let run = if token.kind == TokenKind::Stray { run(tree, at) } else { 1 };
        let fault = match token.kind {
            TokenKind::OpenText => Some(unclosed(token.span)),
            TokenKind::Stray => stray(tree, at, run, text),
            TokenKind::Word => odd_word(token.span, text),
            TokenKind::Number
            | TokenKind::Clock
            | TokenKind::Parts
            | TokenKind::Date
            | TokenKind::Fraction
            | TokenKind::Format
            | TokenKind::Comma
            | TokenKind::Open
            | TokenKind::Close
            | TokenKind::Percent
            | TokenKind::Text => None,
        };
        if let Some(fault) = fault.filter(|_| faults.len() < FINDINGS_MAX) {
            // Quotes come in pairs: those of one line are told once.
            let line = tree.lines.partition_point(|line| line.bytes.end <= token.span.start);
            let quote = fault.message == QUOTES;
            if !quote || quoted != Some(line) {
                faults.push(fault);
            }
            quoted = if quote { Some(line) } else { quoted };
            tree.tokens.iter_mut().skip(at).take(run).for_each(|token| token.told = true);
        }
        at += run;
    }
}

/// What is said of quotation marks that are not the straight ones.
const QUOTES: &str = "texts stand in straight double quotes";

/// How many pieces from here on are stray signs without a space between them; at least one.
fn run(tree: &Tree, at: usize) -> usize {
    let pieces = tree.tokens.get(at..).unwrap_or(&[]);
    let joined = |(left, right): &(&Token, &Token)| {
        left.kind == TokenKind::Stray && right.kind == TokenKind::Stray && left.span.end == right.span.start
    };
    1 + pieces.iter().zip(pieces.iter().skip(1)).take_while(joined).count()
}

fn long_lines(tree: &Tree, faults: &mut Vec<Diagnostic>) {
    for line in tree.lines.iter().filter(|line| line.is_too_long()) {
        let first = tree.tokens.get(line.tokens.start).map(|token| token.span).or(line.comment);
        let start = Span { file: tree.file, start: line.bytes.start, end: line.bytes.start };
        faults.push(
            Diagnostic::error(
                "line-too-long",
                first.unwrap_or(start),
                "this line is longer than 4,096 bytes",
            )
            .help("break it up: one statement a line"),
        );
    }
}

fn hidden(tree: &mut Tree, text: &str, faults: &mut Vec<Diagnostic>) {
    let plain = |byte: u8| (0x20..0x7f).contains(&byte) || byte == b'\n' || byte == b'\t';
    // No byte is asked whether to go on, so that many can be looked at together.
    if text.bytes().fold(true, |all, byte| all & plain(byte)) {
        return;
    }
    let mut in_remarks = 0;
    for (at, letter) in text.char_indices().filter(|(_, letter)| is_hidden(*letter)) {
        if faults.len() >= FINDINGS_MAX {
            return;
        }
        let (Ok(start), Ok(end)) = (u32::try_from(at), u32::try_from(at + letter.len_utf8())) else { return };
        let span = Span { file: tree.file, start, end };
        let lone = letter == '\r';
        if lone && text.get(at + 1..).is_some_and(|rest| rest.starts_with('\n')) {
            continue;
        }
        let code = u32::from(letter);
        let mut fault =
            Diagnostic::error("hidden-character", span, format!("the character U+{code:04X} does not show"));
        fault = if lone {
            fault.offer("\n", "write an ordinary line ending in its place")
        } else {
            fault.offer("", "remove it: it could make the line read otherwise than it stands")
        };
        let line = tree.lines.partition_point(|line| line.bytes.end <= start);
        let remark = tree.lines.get(line).and_then(|line| line.comment);
        if remark.is_some_and(|remark| remark.start <= start) {
            fault.level = Level::Warning;
            in_remarks += 1;
            if in_remarks == REMARKS_MAX {
                fault = fault.help("those in the remarks below are not told until these are gone");
            }
        }
        if in_remarks <= REMARKS_MAX || fault.level == Level::Error {
            faults.push(fault);
        }
        let piece = tree.tokens.partition_point(|token| token.span.end <= start);
        tree.tokens
            .iter_mut()
            .skip(piece)
            .take(1)
            .filter(|piece| piece.span.start <= start)
            .for_each(|piece| piece.told = true);
    }
}

fn unclosed(span: Span) -> Diagnostic {
    Diagnostic::error("unclosed-text", span, "this text has no closing quote").change(
        span.after(),
        "\"",
        "close it on its line with \"",
        false,
    )
}

fn odd_word(span: Span, text: &str) -> Option<Diagnostic> {
    let word = text.get(span.range()).unwrap_or("");
    if word.is_ascii() || word.chars().any(is_hidden) {
        return None;
    }
    let plain = plainly(word);
    let fault = |message: String| Diagnostic::error("foreign-letter", span, message);
    Some(match foreign(word)? {
        Foreign::Letter(letter, like) => {
            let code = u32::from(letter);
            fault(format!("the '{letter}' here is U+{code:04X}, not the letter {like}"))
                .offer(plain.clone(), format!("write {plain}"))
        }
        Foreign::Space(space) => {
            let code = u32::from(space);
            let fault = fault(format!("this space is U+{code:04X}, not the ordinary one"));
            if parts_figures(span, text) {
                let joined: String = plain.split(' ').collect();
                return Some(
                    fault
                        .offer(joined, "take it out if it groups thousands")
                        .offer(plain, "write an ordinary space"),
                );
            }
            let certain = all_foreign(word).all(|sign| matches!(sign, Foreign::Space(_)));
            fault.change(span, plain, "write an ordinary space", certain)
        }
        Foreign::Dash => {
            let certain = all_foreign(word).all(|sign| sign == Foreign::Dash);
            fault("this dash is not the one of the keyboard".to_owned()).change(
                span,
                plain,
                "write it with -",
                certain,
            )
        }
        Foreign::Quote => fault(QUOTES.to_owned()).help("write it as in: note \"keep it dark\""),
        Foreign::Fraction(words) => {
            let help = format!("write {words}, with a space before it behind a whole number: 10 {words} min");
            let before = text.get(..span.start as usize).unwrap_or("").chars().next_back();
            let space = if before.is_some_and(|before| before.is_ascii_digit()) { " " } else { "" };
            let fault = fault(format!("a broken number is written {words}")).help(help);
            let is_alone = word.chars().nth(1).is_none();
            if is_alone { fault.choice(span, format!("{space}{words}")) } else { fault }
        }
    })
}

/// Whether a foreign space of this word stands between two figures, as in a number with its thousands grouped.
fn parts_figures(span: Span, text: &str) -> bool {
    let word = text.get(span.range()).unwrap_or("");
    let mut spaces = word
        .char_indices()
        .filter(|(_, sign)| matches!(foreign(sign.encode_utf8(&mut [0; 4])), Some(Foreign::Space(_))));
    spaces.any(|(at, sign)| {
        let at = span.start as usize + at;
        let (before, behind) = (text.get(..at), text.get(at + sign.len_utf8()..));
        let figure = |sign: char| sign.is_ascii_digit();
        before.is_some_and(|before| before.ends_with(figure))
            && behind.is_some_and(|behind| behind.starts_with(figure))
    })
}

/// A sign that no statement has; signs that one could mean are left to whoever reads the statement.
fn stray(tree: &Tree, at: usize, run: usize, text: &str) -> Option<Diagnostic> {
    let first = tree.tokens.get(at)?;
    let last = tree.tokens.get(at + run - 1)?;
    let span = first.span.to(last.span);
    let signs = text.get(span.range()).unwrap_or("");
    if signs.chars().any(is_hidden) || matches!(signs, "+" | "-" | ":" | "/") {
        return None;
    }
    let fault =
        Diagnostic::error("unknown-sign", span, format!("no statement has the sign '{}'", clip(signs)));
    let next = text.get(span.end as usize..).unwrap_or("");
    let before = text.get(..span.start as usize).unwrap_or("");
    let (digit_before, digit_behind) =
        (before.ends_with(|c: char| c.is_ascii_digit()), next.starts_with(|c: char| c.is_ascii_digit()));
    Some(match signs {
        "." if digit_behind && !digit_before => fault.offer("0.", "write a 0 before the point"),
        "." if next.bytes().take_while(u8::is_ascii_digit).count() == 4 => {
            fault.help("a day begins with its year, and has dashes: 2026-11-12")
        }
        "." if digit_behind => {
            fault.help("a number has one point, and the parts of a dilution are whole: for 1+1.5 write 2+3")
        }
        // Glued to a word it may be a slip for '/', and what follows would be lost in a remark.
        "//" => {
            let certain = before.chars().next_back().is_none_or(char::is_whitespace);
            fault.change(span, "#", "a remark begins with #", certain)
        }
        "\\" => fault.help("one statement stands on one line: write it on the line before"),
        "@" => fault.offer("at", "write at"),
        "'" => fault.help("texts stand in straight double quotes"),
        ";" => fault.help("one statement stands on one line, without a sign at its end"),
        _ => fault.help("take it out, or put # before it to make the rest of the line a remark"),
    })
}

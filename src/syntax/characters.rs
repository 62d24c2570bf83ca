//! Errors of single tokens: invisible, unexpected and look-alike characters, texts without a closing quote.

use super::parse::FINDINGS_MAX;
use super::tree::{Token, TokenKind, Tree};
use crate::source::{Diagnostic, Level, Span, clip, is_hidden};

/// The most invisible characters reported in the comments of a file, so that other errors are reported too.
const IN_COMMENTS_MAX: usize = 100;

/// Reports errors of single tokens and marks these as reported.
pub(super) fn check_tokens(tree: &mut Tree, text: &str, faults: &mut Vec<Diagnostic>) {
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
            _ => None,
        };
        if let Some(fault) = fault.filter(|_| faults.len() < FINDINGS_MAX) {
            // Quotes come in pairs, so a line has one error for them.
            let line = tree.lines.partition_point(|line| line.bytes.end <= token.span.start);
            let quote = fault.message == QUOTES;
            if !quote || quoted != Some(line) {
                faults.push(fault);
            }
            quoted = if quote { Some(line) } else { quoted };
            tree.tokens.iter_mut().skip(at).take(run).for_each(|token| token.reported = true);
        }
        at += run;
    }
}

/// The message about other quotation marks.
const QUOTES: &str = "a text needs straight double quotes";

/// The number of adjoining stray tokens from here on; at least one.
fn run(tree: &Tree, at: usize) -> usize {
    let tokens = tree.tokens.get(at..).unwrap_or(&[]);
    let joined = |(left, right): &(&Token, &Token)| {
        left.kind == TokenKind::Stray && right.kind == TokenKind::Stray && left.span.end == right.span.start
    };
    1 + tokens.iter().zip(tokens.iter().skip(1)).take_while(joined).count()
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
            .help("split it: one statement a line"),
        );
    }
}

fn hidden(tree: &mut Tree, text: &str, faults: &mut Vec<Diagnostic>) {
    let plain = |byte: u8| (0x20..0x7f).contains(&byte) || byte == b'\n' || byte == b'\t';
    // Without an early exit the compiler can test many bytes at once.
    if text.bytes().fold(true, |all, byte| all & plain(byte)) {
        return;
    }
    let mut in_comments = 0;
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
            Diagnostic::error("hidden-character", span, format!("invisible character U+{code:04X}"));
        fault = if lone {
            fault.offer("\n", "replace it with a line ending")
        } else {
            fault.offer("", "remove it: it can make the line look different")
        };
        let line = tree.lines.partition_point(|line| line.bytes.end <= start);
        let comment = tree.lines.get(line).and_then(|line| line.comment);
        if comment.is_some_and(|comment| comment.start <= start) {
            fault.level = Level::Warning;
            in_comments += 1;
            if in_comments == IN_COMMENTS_MAX {
                fault = fault.help("further ones in comments are reported once these are removed");
            }
        }
        if in_comments <= IN_COMMENTS_MAX || fault.level == Level::Error {
            faults.push(fault);
        }
        let first = tree.tokens.partition_point(|token| token.span.end <= start);
        tree.tokens
            .iter_mut()
            .skip(first)
            .take(1)
            .filter(|token| token.span.start <= start)
            .for_each(|token| token.reported = true);
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
    let plain = with_plain_letters(word);
    let fault = |message: String| Diagnostic::error("foreign-letter", span, message);
    Some(match foreign(word)? {
        Foreign::Letter(letter, like) => {
            let code = u32::from(letter);
            fault(format!("the '{letter}' here is U+{code:04X}, not the letter {like}"))
                .offer(plain.clone(), format!("write {plain}"))
        }
        Foreign::Space(space) => {
            let code = u32::from(space);
            let fault = fault(format!("this space is U+{code:04X}, not an ordinary space"));
            if groups_thousands(span, text) {
                let joined: String = plain.split(' ').collect();
                return Some(
                    fault
                        .offer(joined, "remove it if it groups thousands")
                        .offer(plain, "write an ordinary space"),
                );
            }
            let certain = all_foreign(word).all(|sign| matches!(sign, Foreign::Space(_)));
            fault.change(span, plain, "write an ordinary space", certain)
        }
        Foreign::Dash => {
            let certain = all_foreign(word).all(|sign| sign == Foreign::Dash);
            fault("this dash is not the ordinary -".to_owned()).change(
                span,
                plain,
                "write it with -",
                certain,
            )
        }
        Foreign::Quote => fault(QUOTES.to_owned()).help("write it as in: note \"keep it dark\""),
        Foreign::Fraction(words) => {
            let help = format!("write {words}; after a whole number with a space: 10 {words} min");
            let before = text.get(..span.start as usize).unwrap_or("").chars().next_back();
            let space = if before.is_some_and(|before| before.is_ascii_digit()) { " " } else { "" };
            let fault = fault(format!("write this fraction as {words}")).help(help);
            let is_alone = word.chars().nth(1).is_none();
            if is_alone { fault.choice(span, format!("{space}{words}")) } else { fault }
        }
    })
}

/// Whether a foreign space of this word groups thousands.
fn groups_thousands(span: Span, text: &str) -> bool {
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

/// The error of a character that no statement uses; the check reports those that could be part of a value.
fn stray(tree: &Tree, at: usize, run: usize, text: &str) -> Option<Diagnostic> {
    let first = tree.tokens.get(at)?;
    let last = tree.tokens.get(at + run - 1)?;
    let span = first.span.to(last.span);
    let signs = text.get(span.range()).unwrap_or("");
    if signs.chars().any(is_hidden) || matches!(signs, "+" | "-" | ":" | "/") {
        return None;
    }
    let fault = Diagnostic::error("unknown-sign", span, format!("unexpected character '{}'", clip(signs)));
    let next = text.get(span.end as usize..).unwrap_or("");
    let before = text.get(..span.start as usize).unwrap_or("");
    let (digit_before, digit_behind) =
        (before.ends_with(|c: char| c.is_ascii_digit()), next.starts_with(|c: char| c.is_ascii_digit()));
    Some(match signs {
        "." if digit_behind && !digit_before => fault.offer("0.", "write a 0 before the point"),
        "." if next.bytes().take_while(u8::is_ascii_digit).count() == 4 => {
            fault.help("write a date as 2026-11-12")
        }
        "." if digit_behind => {
            fault.help("a number has one point and a dilution has whole parts: for 1+1.5 write 2+3")
        }
        // After a word it may be a slip for '/', and a comment would drop the rest.
        "//" => {
            let certain = before.chars().next_back().is_none_or(char::is_whitespace);
            fault.change(span, "#", "a comment begins with #", certain)
        }
        "\\" => fault.help("a statement is on one line: join this line to the one before"),
        "@" => fault.offer("at", "write at"),
        "'" => fault.help(QUOTES),
        ";" => fault.help("remove it: a statement ends with its line"),
        _ => fault.help("remove it, or write # before it to make the rest of the line a comment"),
    })
}

/// A character that looks like one of the language.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Foreign {
    /// A letter of another script, and the one it looks like.
    Letter(char, char),
    /// Another space.
    Space(char),
    /// A dash or a minus sign.
    Dash,
    /// Another quotation mark.
    Quote,
    /// A fraction in one character, and how to write it.
    Fraction(&'static str),
}

/// Letters of other scripts with the letters they look like (from Unicode's confusables).
#[rustfmt::skip]
const LETTERS: &[(char, char)] = &[
    ('а', 'a'), ('е', 'e'), ('о', 'o'), ('р', 'p'), ('с', 'c'), ('у', 'y'), ('х', 'x'), ('і', 'i'),
    ('ј', 'j'), ('ѕ', 's'), ('ԁ', 'd'), ('һ', 'h'), ('к', 'k'), ('м', 'm'), ('т', 't'), ('в', 'b'),
    ('н', 'h'), ('А', 'A'), ('В', 'B'), ('Е', 'E'), ('К', 'K'), ('М', 'M'), ('Н', 'H'), ('О', 'O'),
    ('Р', 'P'), ('С', 'C'), ('Т', 'T'), ('Х', 'X'), ('α', 'a'), ('ο', 'o'), ('ν', 'v'), ('ρ', 'p'),
    ('ι', 'i'), ('κ', 'k'), ('Ϲ', 'C'), ('Ｃ', 'C'), ('Ｆ', 'F'), ('ｇ', 'g'), ('ｌ', 'l'), ('ｍ', 'm'),
];

const FRACTIONS: &[(char, &str)] = &[
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
];

fn foreign(word: &str) -> Option<Foreign> {
    all_foreign(word).next()
}

/// All such characters of a word.
fn all_foreign(word: &str) -> impl Iterator<Item = Foreign> {
    word.chars().filter_map(of_letter)
}

fn of_letter(letter: char) -> Option<Foreign> {
    match letter {
        '\u{a0}' | '\u{1680}' | '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}' => {
            Some(Foreign::Space(letter))
        }
        '\u{2010}'..='\u{2015}' | '\u{2212}' => Some(Foreign::Dash),
        '“' | '”' | '„' | '‟' | '‘' | '’' | '‚' | '«' | '»' => Some(Foreign::Quote),
        _ => {
            let fraction = FRACTIONS.iter().find(|(sign, _)| *sign == letter);
            let plain = LETTERS.iter().find(|(other, _)| *other == letter);
            fraction
                .map(|(_, words)| Foreign::Fraction(words))
                .or_else(|| plain.map(|(_, plain)| Foreign::Letter(letter, *plain)))
        }
    }
}

/// A word with its foreign letters, spaces, dashes and quotes replaced.
fn with_plain_letters(word: &str) -> String {
    word.chars()
        .map(|letter| match of_letter(letter) {
            Some(Foreign::Letter(_, plain)) => plain,
            Some(Foreign::Space(_)) => ' ',
            Some(Foreign::Dash) => '-',
            Some(Foreign::Quote) => '"',
            Some(Foreign::Fraction(_)) | None => letter,
        })
        .collect()
}

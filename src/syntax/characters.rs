//! Reports errors in the characters of a file: lines that are too long, texts without a closing quote, and invisible,
//! unexpected or look-alike characters.

use super::parse::FINDINGS_MAX;
use super::split::split_value;
use super::tree::{Line, Token, TokenKind, Tree};
use crate::source::{Diagnostic, Level, Span, clip, has_hidden, is_hidden};

/// The most invisible characters that are reported in the comments of a file. More of them could use up the
/// [`FINDINGS_MAX`] findings, and errors elsewhere in the file would not be reported.
const IN_COMMENTS_MAX: usize = 100;

/// How many characters after an invisible one are searched for the word that follows it.
const WORD_MAX: usize = 60;

fn is_on_a_long_line(tree: &Tree, span: Span) -> bool {
    let line = tree.lines.partition_point(|line| line.bytes.end <= span.start);
    tree.lines.get(line).is_some_and(Line::is_too_long)
}

pub(super) fn check_tokens(tree: &mut Tree, text: &str, faults: &mut Vec<Diagnostic>) {
    long_lines(tree, text, faults);
    hidden(tree, text, faults);
    let mut at = 0;
    let mut quoted = None;
    while let Some(token) = tree.tokens.get(at).copied() {
        let is_odd = match token.kind {
            TokenKind::Stray => true,
            TokenKind::Word => !token.span.slice(text).is_ascii(),
            _ => false,
        };
        let run = if token.kind == TokenKind::Stray { run(tree, at) } else { 1 };
        // For each character, `split_value` searches the whole line, which takes too long if the line is very long.
        let is_split = is_odd && faults.len() < FINDINGS_MAX && !is_on_a_long_line(tree, token.span);
        let (fault, run) = match (is_split.then(|| split_value(tree, at, text)).flatten(), token.kind) {
            (Some((fault, run)), _) => (Some(fault), run),
            (None, TokenKind::OpenText) => {
                let fault = Diagnostic::error("unclosed-text", token.span, "this text has no closing quote");
                let title = "write \" where the text ends, on the same line";
                (Some(fault.change(token.span.after(), "\"", title, false)), 1)
            }
            (None, TokenKind::Stray) => (stray(tree, at, run, text), run),
            (None, TokenKind::Word) => (odd_word(token.span, text), 1),
            _ => (None, 1),
        };
        if let Some(fault) = fault.filter(|_| faults.len() < FINDINGS_MAX) {
            // Curly quotes come in pairs, so only the first one on each line is reported.
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

pub(super) const QUOTES: &str = "a text needs straight double quotes";

/// The number of successive `Stray` tokens from the index `at` on, with nothing between them; at least 1.
fn run(tree: &Tree, at: usize) -> usize {
    let tokens = tree.tokens.get(at..).unwrap_or(&[]);
    let joined = |(left, right): &(&Token, &Token)| {
        left.kind == TokenKind::Stray && right.kind == TokenKind::Stray && left.span.end == right.span.start
    };
    1 + tokens.iter().zip(tokens.iter().skip(1)).take_while(joined).count()
}

fn long_lines(tree: &Tree, text: &str, faults: &mut Vec<Diagnostic>) {
    for line in tree.lines.iter().filter(|line| line.is_too_long()) {
        let first = tree.tokens.get(line.tokens.start).map(|token| token.span).or(line.comment);
        let start = Span { file: tree.file, start: line.bytes.start, end: line.bytes.start };
        let is_plain = text.get(line.bytes.start as usize..line.bytes.end as usize).is_none_or(str::is_ascii);
        let accents = if is_plain { "" } else { ", where an accented letter counts as two or more" };
        let message = format!("this line is longer than 4,096 characters{accents}");
        let fault = Diagnostic::error("line-too-long", first.unwrap_or(start), message);
        faults.push(fault.help("shorten its list or its text; a long note or comment can be several"));
    }
}

fn hidden(tree: &mut Tree, text: &str, faults: &mut Vec<Diagnostic>) {
    if !has_hidden(text) {
        return;
    }
    let mut in_comments = 0;
    for (at, letter) in text.char_indices().filter(|(_, letter)| is_hidden(*letter)) {
        if faults.len() >= FINDINGS_MAX {
            return;
        }
        let (Ok(start), Ok(end)) = (u32::try_from(at), u32::try_from(at + letter.len_utf8())) else { return };
        let span = Span { file: tree.file, start, end };
        if letter == '\r' && text.get(at + 1..).is_some_and(|rest| rest.starts_with('\n')) {
            continue;
        }
        let at = tree.tokens.partition_point(|token| token.span.end <= start);
        let token = tree.tokens.get_mut(at).filter(|token| token.span.start <= start);
        let is_in_text = token.as_ref().is_some_and(|token| token.kind == TokenKind::Text);
        let mut fault = invisible((span, letter), is_in_text, text);
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
        if let Some(token) = token {
            token.reported = true;
        }
    }
}

/// The error for an invisible character.
fn invisible((span, letter): (Span, char), is_in_text: bool, text: &str) -> Diagnostic {
    let fault = |message: &str| Diagnostic::error("hidden-character", span, message);
    let place = place_of(text, span);
    let removed = |message: &str| {
        fault(&format!("{message} stands {place}"))
            .offer("", "remove this character")
            .help(format!("by hand: put the cursor {place} and press Backspace once"))
    };
    let rest = text.get(span.end as usize..).unwrap_or("");
    match letter {
        '\r' if is_in_text => {
            fault("an invisible character in a text").offer(" ", "put a space in its place")
        }
        '\r' => fault("an invisible character stands here in place of a line's end")
            .offer("\n", "remove it, and begin a new line here"),
        '\u{feff}' => removed("an invisible character, the mark that begins some files,"),
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => fault(
            "an invisible character that turns the direction of text",
        )
        .offer("", "remove it, and read the rest of the line again: its letters may be in the wrong order"),
        '\u{1b}' if control(rest) > 0 => {
            let signs = rest.get(..control(rest)).unwrap_or("");
            let whole = Span { end: span.end + u32::try_from(signs.len()).unwrap_or(0), ..span };
            fault("an invisible character that controls a terminal").change(
                whole,
                "",
                format!("remove it, and the {signs} after it"),
                false,
            )
        }
        _ => removed("an invisible character"),
    }
}

/// The length of what follows an escape character, if that controls a terminal, such as `[2J`; else 0.
fn control(rest: &str) -> usize {
    let Some(signs) = rest.strip_prefix('[') else { return 0 };
    let end = signs.find(|sign: char| !sign.is_ascii_digit() && !";?".contains(sign));
    let last = end.and_then(|end| signs.get(end..)?.chars().next()).filter(char::is_ascii_alphabetic);
    end.zip(last).map_or(0, |(end, _)| end + 2)
}

/// Where a hidden character stands, in words: before the text that follows it on its line, or at the end of the line.
fn place_of(text: &str, span: Span) -> String {
    let rest = text.get(span.end as usize..).unwrap_or("");
    let rest: String = rest.chars().take(WORD_MAX).take_while(|letter| *letter != '\n').collect();
    match rest
        .split(|letter: char| letter == '"' || letter.is_whitespace() || is_hidden(letter))
        .find(|word| !word.is_empty())
    {
        Some(word) => format!("before '{}'", clip(word)),
        None => "at the end of this line".to_owned(),
    }
}

fn odd_word(span: Span, text: &str) -> Option<Diagnostic> {
    let word = span.slice(text);
    if word.is_ascii() || word.chars().any(is_hidden) {
        return None;
    }
    let all = || word.chars().filter_map(|sign| Some((sign, foreign(sign)?)));
    let (sign, (form, like)) = all().next()?;
    let plain: String =
        word.chars().map(|sign| foreign(sign).map_or(sign.into(), |(_, like)| like)).collect();
    let certain = all().all(|(_, (own, _))| own == form);
    let fault = |message: &str| Diagnostic::error("foreign-letter", span, message);
    Some(match form {
        Foreign::Letter => {
            let message =
                format!("the '{sign}' here looks like the letter {like}, but is of another alphabet");
            fault(&message).write(plain)
        }
        Foreign::Space => {
            let fault = fault("this space looks like an ordinary one, but is another character");
            if groups_thousands(span, text) {
                fault
                    .offer(plain.replace(' ', ""), "remove it if it groups thousands")
                    .offer(plain, "write an ordinary space")
            } else {
                fault.change(span, plain, "write an ordinary space", certain)
            }
        }
        Foreign::Dash => fault("this dash is not the ordinary -").change(
            span,
            plain.clone(),
            format!("write {plain}"),
            certain,
        ),
        Foreign::Quote => fault(QUOTES).help("write it as in: note \"keep it dark\""),
        Foreign::Fraction => {
            let help = format!("write {like}; after a whole number with a space: 10 {like} min");
            let before = text.get(..span.start as usize).unwrap_or("");
            let space = if before.ends_with(|sign: char| sign.is_ascii_digit()) { " " } else { "" };
            let fault = fault(&format!("write this fraction as {like}")).help(help);
            let is_alone = word.chars().nth(1).is_none();
            if is_alone { fault.choice(span, format!("{space}{like}")) } else { fault }
        }
    })
}

/// Whether this word has a Unicode space between two digits, as in `1 000` with a no-break space.
fn groups_thousands(span: Span, text: &str) -> bool {
    let (start, is_digit) = (span.start as usize, |sign: char| sign.is_ascii_digit());
    span.slice(text).char_indices().any(|(at, sign)| {
        let (before, behind) = (text.get(..start + at), text.get(start + at + sign.len_utf8()..));
        matches!(foreign(sign), Some((Foreign::Space, _)))
            && before.is_some_and(|before| before.ends_with(is_digit))
            && behind.is_some_and(|behind| behind.starts_with(is_digit))
    })
}

/// The error for `run` tokens from the index `at` on, with characters that no statement uses. `None` if they may be
/// part of a value, such as `+`. `None` also if one of them is invisible, because `hidden` reports that.
fn stray(tree: &Tree, at: usize, run: usize, text: &str) -> Option<Diagnostic> {
    let first = tree.tokens.get(at)?;
    let last = tree.tokens.get(at + run - 1)?;
    let span = first.span.to(last.span);
    let signs = span.slice(text);
    if signs.chars().any(is_hidden) || matches!(signs, "+" | "-" | ":" | "/") {
        return None;
    }
    let fault = Diagnostic::error("unknown-sign", span, format!("unexpected character '{}'", clip(signs)));
    let next = text.get(span.end as usize..).unwrap_or("");
    let before = text.get(..span.start as usize).unwrap_or("");
    let is_digit = |sign: char| sign.is_ascii_digit();
    let (digit_before, digit_behind) = (before.ends_with(is_digit), next.starts_with(is_digit));
    Some(match signs {
        "." if digit_behind && !digit_before => fault.offer("0.", "write a 0 before the point"),
        "." if digit_behind => fault.help("write a number with one point, such as 2.5"),
        // Directly after a word, as in `l//min`, `//` may be a mistyped `/`. A `#` would then turn a part of the
        // statement into a comment, so the fix is not certain.
        "//" => {
            let certain = before.is_empty() || before.ends_with(char::is_whitespace);
            fault.change(span, "#", "a comment begins with #", certain)
        }
        "=" => fault.help("remove it: the value follows its word, without a sign between"),
        "@" => fault.offer("at", "write 'at' instead of '@'"),
        "'" => fault.help(QUOTES),
        ";" => fault.help("remove it: a statement ends with its line"),
        _ => fault.help("remove it, or write # before it to make the rest of the line a comment"),
    })
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Foreign {
    /// A letter that looks like an ASCII letter.
    Letter,
    Space,
    Dash,
    Quote,
    Fraction,
}

/// Letters that look like ASCII letters, then these ASCII letters in the same order (from Unicode's confusables).
const LETTERS: (&str, &str) =
    ("аеорсухіјѕԁһкмтвнАВЕКМНОРСТХαονρικϹＣＦｇｌｍ", "aeopcyxijsdhkmtbhABEKMHOPCTXaovpikCCFglm");
const FRACTIONS: (&str, [&str; 9]) =
    ("½¼¾⅓⅔⅛⅜⅝⅞", ["1/2", "1/4", "3/4", "1/3", "2/3", "1/8", "3/8", "5/8", "7/8"]);

/// The kind of a character that only looks like an ASCII character, and the ASCII text to write instead. `None` for any
/// other character.
fn foreign(sign: char) -> Option<(Foreign, String)> {
    let letter = || LETTERS.0.chars().zip(LETTERS.1.chars()).find(|(other, _)| *other == sign);
    let fraction = || FRACTIONS.0.chars().zip(FRACTIONS.1).find(|(other, _)| *other == sign);
    Some(match sign {
        '\u{a0}' | '\u{1680}' | '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}' => {
            (Foreign::Space, " ".to_owned())
        }
        '\u{2010}'..='\u{2015}' | '\u{2212}' => (Foreign::Dash, "-".to_owned()),
        '“' | '”' | '„' | '‟' | '‘' | '’' | '‚' | '«' | '»' => {
            (Foreign::Quote, "\"".to_owned())
        }
        _ => match letter() {
            Some((_, like)) => (Foreign::Letter, like.to_string()),
            None => (Foreign::Fraction, fraction()?.1.to_owned()),
        },
    })
}

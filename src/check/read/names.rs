//! Reads names and texts, film formats, kinds of steps, ingredients and dates.

use super::pattern::Reader;
use crate::chemistry::{HAZARDS, ingredient, respelled_ingredient};
use crate::model::{Date, Format, StepKind};
use crate::source::{Diagnostic, Span, clip};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{
    Block, Declared, RESERVED, RESERVED_OF_KIND, Statement as _, Value, offer_near, say,
};

/// The most words that are tried as one name of an ingredient.
const WORDS_MAX: usize = 4;
/// The most bytes in a name.
const NAME_MAX: usize = 100;
/// The most characters in a text.
const TEXT_MAX: usize = 2000;

impl<'a> Reader<'a, '_> {
    pub(super) fn text(&mut self) -> Option<Value> {
        let span = self.cursor.next();
        let written = self.name();
        let written = written.strip_prefix('"').unwrap_or(written);
        let written = written.strip_suffix('"').unwrap_or(written);
        let text = if written.contains('"') { written.replace("\"\"", "\"") } else { written.to_owned() };
        if text.len() < written.len() {
            self.newer.get_or_insert(span);
        }
        if text.chars().count() > TEXT_MAX {
            return self.error(
                "text-too-long",
                span,
                "a text has at most 2,000 characters",
                "shorten it, or split it into several notes",
            );
        }
        Some(Value::Text(text))
    }

    /// Moves past the next token and returns its text. The declaration that a name means is found later.
    pub(super) fn name(&mut self) -> &'a str {
        let name = self.cursor.words_at(0);
        self.cursor.at += 1;
        name
    }

    /// Reads the name that a declaration gives to what it declares. The name cannot be a word of the language.
    pub(super) fn new_name(&mut self) -> Option<Value> {
        let name = self.cursor.words_at(0);
        let declares = self.row.opens.and_then(Block::declares);
        let is_newer = declares.is_some_and(|kind| RESERVED_OF_KIND.contains(&(kind, name)));
        if is_newer && self.edition == 1 {
            self.reserved = Some(self.cursor.next());
        }
        if RESERVED.contains(&name) || is_newer && self.edition > 1 {
            return self.error(
                "reserved-name",
                self.cursor.next(),
                format!("'{name}' has a fixed meaning in recipes"),
                format!("choose another name, such as my-{name}"),
            );
        }
        self.own_name()
    }

    /// Reads the name of a step or a bottle. A name with wrong characters is reported but still returned, so that other
    /// lines can refer to it.
    pub(super) fn own_name(&mut self) -> Option<Value> {
        let span = self.cursor.next();
        let name = self.name();
        self.notes_edition(name, span);
        // A name that equals a reserved word is allowed here only in edition 2.
        if RESERVED.contains(&name) {
            self.newer.get_or_insert(span);
        }
        if !is_name(name) && !is_dated_name(name) {
            let fault = Diagnostic::error(
                "bad-name",
                span,
                "a name has small letters, digits and single hyphens, and begins with a letter",
            );
            let lower = name.to_lowercase();
            let words = lower.split(|letter: char| !letter.is_ascii_alphanumeric());
            let better = words.filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-");
            self.faults.push(if is_name(&better) {
                fault.write(better)
            } else {
                fault.help("write a name such as estuary-400, of at most 100 characters")
            });
        }
        Some(Value::Name(name.to_owned()))
    }

    pub(super) fn mention(&mut self, declared: Declared) -> Value {
        let span = self.cursor.next();
        let name = self.name();
        self.notes_edition(name, span);
        Value::Mention(declared, name.to_owned())
    }

    /// If a name begins with a digit, records its span as that of a word of edition 2: edition 1 has no such names.
    fn notes_edition(&mut self, name: &str, span: Span) {
        if name.starts_with(|first: char| first.is_ascii_digit()) {
            self.newer.get_or_insert(span);
        }
    }

    pub(super) fn ingredient(&mut self) -> Value {
        let span = self.cursor.next();
        let name = self.name();
        if let Some(known) = ingredient(name) {
            return Value::Ingredient(known);
        }
        // A file may declare the ingredient, so a name in a file is looked up later. A command-line option, whose row
        // has no blocks, cannot refer to such a declaration, so its name is reported as unknown.
        if self.row.blocks.is_empty() {
            self.faults.push(unknown_ingredient(name, span));
        }
        Value::Name(name.to_owned())
    }

    /// The error for a known ingredient whose name is written in several words; `None` if it is something else.
    pub(super) fn ingredient_in_words(&self) -> Option<Diagnostic> {
        let (cursor, first) = (self.cursor, self.cursor.tokens.first()?);
        if !say::FormulaLine::has(self.row) || cursor.at != 1 {
            return None;
        }
        let words = cursor.tokens.iter().take_while(|token| token.kind == TokenKind::Word).take(WORDS_MAX);
        let words: Vec<Token> = words.copied().collect();
        (2..=words.len()).rev().find_map(|count| {
            let last = words.get(count - 1)?;
            let parts: Vec<&str> = words.iter().take(count).map(|token| cursor.text_of(token.span)).collect();
            let joined = parts.join("-");
            let name =
                ingredient(&joined).map(|known| known.name).or_else(|| respelled_ingredient(&joined))?;
            let message = "the name of an ingredient is written in one word, with hyphens";
            Some(Diagnostic::error("missing-word", first.span.to(last.span), message).write(name))
        })
    }

    pub(super) fn hazard(&mut self) -> Option<Value> {
        let span = self.cursor.next();
        let code = self.name();
        if let Some(hazard) = HAZARDS.iter().find(|hazard| hazard.code == code) {
            return Some(Value::Hazard(hazard));
        }
        let message = format!("'{}' is not a hazard statement that this program knows", clip(code));
        self.error(
            "unknown-hazard",
            span,
            message,
            "write the codes from the safety data sheet, such as: hazards H302, H319; or write none or unknown",
        )
    }

    pub(super) fn format(&mut self) -> Option<Value> {
        let mut span = self.cursor.next();
        self.cursor.at += 1;
        // The parser splits `4x5` and `35mm` into two tokens.
        if let Some(next) = self.cursor.peek(0).filter(|next| next.span.start == span.end) {
            self.cursor.at += 1;
            span = span.to(next.span);
        }
        let word = self.cursor.text_of(span);
        if let Some(format) = Format::parse(word) {
            if !Format::FIRST.iter().any(|first| first.to_string() == word) {
                self.newer.get_or_insert(span);
            }
            return Some(Value::Format(format));
        }
        let fault = Diagnostic::error("unknown-format", span, format!("'{}' is not a format", clip(word)));
        let mut words = Format::FIRST.iter().map(Format::to_string);
        self.fail(match words.find(|known| *known == format!("{word}in")) {
            Some(sheet) => fault.mend(&sheet),
            None => fault.help(format!("the formats are {}", Format::EXAMPLES)),
        })
    }

    pub(super) fn step(&mut self) -> Option<Value> {
        let span = self.cursor.next();
        let word = self.name();
        if let Some(kind) = StepKind::parse(word) {
            return Some(Value::Step(kind));
        }
        let known = StepKind::WORDS;
        let fault =
            Diagnostic::error("unknown-word", span, format!("'{}' is not a kind of step", clip(word)));
        self.fail(offer_near(fault, word, known, || format!("the kinds of steps are {}", known.join(", "))))
    }

    pub(super) fn date(&mut self) -> Option<Value> {
        let span = self.cursor.next();
        let Ok(date) = self.name().parse() else {
            return self.error(
                "bad-date",
                span,
                "this day is not in the calendar",
                "write a day that exists, as year-month-day, such as 2026-11-25",
            );
        };
        Some(Value::Date(date))
    }
}

pub(crate) fn unknown_ingredient(name: &str, span: Span) -> Diagnostic {
    let message = format!("'{}' is not in the table of ingredients", clip(name));
    let fault = Diagnostic::warning("unknown-ingredient", span, message);
    match respelled_ingredient(name) {
        Some(known) => fault.write(known),
        None => fault.help("if the name is right, keep it, and read its safety data sheet for its hazards"),
    }
}

/// Whether a new declaration may have this name: it is well-formed and not a word of the language.
pub fn is_free_name(name: &str) -> bool {
    is_name(name) && !RESERVED.contains(&name)
}

/// Whether a name is a date, a hyphen and four letters or digits, such as `2026-11-16-7m2q`. `record` gives sessions
/// such names.
pub fn is_dated_name(name: &str) -> bool {
    let parts = name.split_at_checked(10).and_then(|(date, rest)| Some((date, rest.strip_prefix('-')?)));
    parts.is_some_and(|(date, rest)| {
        let plain = |letter: u8| letter.is_ascii_lowercase() || letter.is_ascii_digit();
        rest.len() == 4 && rest.bytes().all(plain) && date.parse::<Date>().is_ok()
    })
}

pub(super) fn is_name(name: &str) -> bool {
    let plain = |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == '-';
    name.starts_with(|first: char| first.is_ascii_lowercase())
        && name.chars().all(plain)
        && !name.ends_with('-')
        && !name.contains("--")
        && name.len() <= NAME_MAX
}

//! Names, texts, and the words that stand for things: formats, steps, ingredients, days.

use super::pattern::{Reader, Told};
use crate::chemistry::{ingredient, ingredients};
use crate::model::{Date, Format, StepKind};
use crate::source::{Diagnostic, Level, clip};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{RESERVED, Value, offer_near, suggest};

/// A name may have this many characters.
const NAME_MAX: usize = 100;
/// A text may have this many characters.
const TEXT_MAX: usize = 2000;

impl Reader<'_, '_> {
    pub(super) fn text(&mut self) -> Result<Value, Told> {
        let span = self.cursor.here();
        self.cursor.at += 1;
        let text = self.cursor.text.get(span.range()).unwrap_or("").trim_matches('"');
        if text.chars().count() > TEXT_MAX {
            let fault = Diagnostic::error("text-too-long", span, "a text has at most 2,000 characters");
            return Err(self.tell(fault.help("shorten it, or break it into several notes")));
        }
        Ok(Value::Text(text.to_owned()))
    }

    /// A name that refers to something; whether that exists is seen when names are resolved.
    pub(super) fn name(&mut self) -> String {
        let name = self.cursor.words_at(0).to_owned();
        self.cursor.at += 1;
        name
    }

    /// A name given here: small letters, digits and hyphens, and no word of the language.
    pub(super) fn new_name(&mut self) -> Result<Value, Told> {
        let (span, name) = (self.cursor.here(), self.cursor.words_at(0));
        if RESERVED.contains(&name) {
            let fault =
                Diagnostic::error("reserved-name", span, format!("'{name}' is a word of the language"));
            return Err(self.tell(fault.help(format!("choose another name, such as my-{name}"))));
        }
        self.own_name()
    }

    /// The name of a step or a bottle: written like any other name.
    pub(super) fn own_name(&mut self) -> Result<Value, Told> {
        let (span, name) = (self.cursor.here(), self.cursor.words_at(0));
        self.cursor.at += 1;
        if is_name(name) {
            return Ok(Value::Name(name.to_owned()));
        }
        let message = "a name has small letters, digits and single hyphens, and begins with a letter";
        let fault = Diagnostic::error("bad-name", span, message);
        let better = as_name(name);
        let fault = if is_name(&better) {
            let title = format!("write {better}");
            fault.offer(better, title)
        } else {
            fault.help("write a name such as estuary-400, of at most 100 characters")
        };
        let _ = self.tell(fault);
        // Kept as it stands, so that what refers to it is not told a second time.
        Ok(Value::Name(name.to_owned()))
    }

    pub(super) fn ingredient(&mut self) -> Result<Value, Told> {
        let span = self.cursor.here();
        let name = self.cursor.words_at(0);
        self.cursor.at += 1;
        if let Some(known) = ingredient(name) {
            return Ok(Value::Ingredient(known));
        }
        let message = format!("'{}' is not in the table of ingredients", clip(name));
        let mut fault = Diagnostic::error("unknown-ingredient", span, message);
        fault = match suggest(name, ingredients().iter().map(|known| known.name)) {
            Some(known) => fault.offer(known, format!("write {known}")),
            None => fault
                .help("keep it if that is its name, and read its data sheet: its hazards are not known here"),
        };
        fault.level = Level::Warning;
        let _ = self.tell(fault);
        Ok(Value::Name(name.to_owned()))
    }

    pub(super) fn format(&mut self) -> Result<Value, Told> {
        let mut span = self.cursor.here();
        self.cursor.at += 1;
        // What is written on, as in 4x5 or 35mm, is part of the word that was meant.
        if let Some(next) = self.cursor.peek(0).filter(|next| next.span.start == span.end) {
            self.cursor.at += 1;
            span = span.to(next.span);
        }
        let word = self.cursor.text.get(span.range()).unwrap_or("");
        Format::parse(word).map(Value::Format).ok_or_else(|| {
            let known: Vec<&str> = Format::ALL.iter().map(|format| format.word()).collect();
            let fault =
                Diagnostic::error("unknown-format", span, format!("'{}' is no film format", clip(word)));
            self.tell(match Format::ALL.iter().find(|format| format.word() == format!("{word}in")) {
                Some(sheet) => fault.mend(sheet.word(), format!("write {}", sheet.word())),
                None => fault.help(format!("the formats are {}", known.join(", "))),
            })
        })
    }

    pub(super) fn step(&mut self) -> Result<Value, Told> {
        let span = self.cursor.here();
        let word = self.cursor.words_at(0);
        self.cursor.at += 1;
        StepKind::parse(word).map(Value::Step).ok_or_else(|| {
            let known: Vec<&str> = StepKind::ALL.iter().map(|kind| kind.word()).collect();
            let fault =
                Diagnostic::error("unknown-word", span, format!("'{}' is no kind of step", clip(word)));
            let help = || format!("the kinds of steps are {}", known.join(", "));
            self.tell(offer_near(fault, word, &known, help))
        })
    }

    pub(super) fn date(&mut self) -> Result<Value, Told> {
        let token = self.cursor.take(TokenKind::Date);
        let parsed = token.map(|token| self.cursor.words(token).parse::<Date>());
        match parsed {
            Some(Ok(date)) => Ok(Value::Date(date)),
            Some(Err(_)) | None => {
                let span = token.map_or_else(|| self.cursor.here(), |token: Token| token.span);
                let fault = Diagnostic::error("bad-date", span, "the calendar has no such day");
                Err(self.tell(fault.help("write year, month and day, such as 2026-11-25")))
            }
        }
    }
}

/// Whether something declared may bear this name.
pub(crate) fn may_be_name(name: &str) -> bool {
    is_name(name) && !RESERVED.contains(&name)
}

fn is_name(name: &str) -> bool {
    let plain = |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == '-';
    let hyphens_inside = !name.ends_with('-') && !name.contains("--");
    name.starts_with(|first: char| first.is_ascii_lowercase())
        && name.chars().all(plain)
        && hyphens_inside
        && name.len() <= NAME_MAX
}

fn as_name(name: &str) -> String {
    let lower = name.to_lowercase();
    let plain: String =
        lower.chars().map(|letter| if letter.is_ascii_alphanumeric() { letter } else { '-' }).collect();
    plain.split('-').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-")
}

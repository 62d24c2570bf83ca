//! Compares the tokens of a statement with its pattern, and reads a value for each slot. The next token alone selects
//! the alternative of an `Either`, without backtracking, so that an error is about the alternative that the author
//! means.

use super::cursor::Cursor;
use super::error;
use super::mismatch::units_of;
use crate::source::Sources;
use crate::source::{Diagnostic, FileId, Span};
use crate::syntax::Token;
use crate::syntax::parse;
use crate::vocabulary::Capture;
use crate::vocabulary::{EDITION, Form, Item, Kind, NEWER_CHOICES, OLDER_WORDS, Part, Reading, Row, Value};

pub(super) struct Reader<'a, 'f> {
    pub(super) cursor: Cursor<'a>,
    pub(super) row: &'static Row,
    pub(super) items: Vec<Item>,
    pub(super) faults: &'f mut Vec<Diagnostic>,
    pub(super) edition: u32,
    /// The span of the first token in the statement that only edition 2 allows.
    pub(super) newer: Option<Span>,
    /// The span of a name that edition 1 allows, but that is a reserved word in edition 2.
    pub(super) reserved: Option<Span>,
    /// What could follow the last token of the statement. Collected only for the suggestions of an editor; otherwise
    /// `None`.
    pub(super) following: Option<Vec<Want>>,
}

/// What may come next in a statement.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Want {
    /// This word; a comma counts as a word.
    Word(&'static str),
    /// A value of this kind.
    Value(Kind),
    /// The unit after a number, for a value of this kind.
    Unit(Kind),
}

/// What could follow the tokens of an unfinished statement, in a file of this edition, without repetitions.
pub(crate) fn following(
    row: &'static Row,
    text: &str,
    tokens: &[Token],
    (file, edition): (FileId, u32),
) -> Vec<Want> {
    let cursor = Cursor { text, tokens, at: 0, file };
    let mut faults = Vec::new();
    let reader = Reader::new(cursor, row, &mut faults);
    let mut reader = Reader { following: Some(Vec::new()), edition, ..reader };
    let _ = reader.statement();
    let mut known: Vec<Want> = Vec::new();
    for want in reader.following.unwrap_or_default() {
        let is_of_edition = edition == 1 || !is_older(&want);
        if is_of_edition && !known.contains(&want) {
            known.push(want);
        }
    }
    known
}

/// Reads the value of a command-line option. Its unit may have any spelling that is not ambiguous, unlike in a recipe.
///
/// # Errors
/// The first error in the text.
pub(crate) fn value<T: Capture>(text: &str) -> Result<Value, Box<Diagnostic>> {
    let mut sources = Sources::default();
    let file = sources.add("", text);
    let (tree, mut faults) = parse(&sources, file);
    let cursor = Cursor { text, tokens: &tree.tokens, at: 0, file };
    let mut reader = Reader::new(cursor, T::ROW, &mut faults);
    let read = reader.statement();
    let value = reader.items.pop().filter(|_| read.is_some());
    let span = Span { file, start: 0, end: 0 };
    let missing = || Diagnostic::error("missing-value", span, "a value is missing");
    match (value, faults.into_iter().next()) {
        (Some(item), None) => Ok(item.value),
        (_, fault) => Err(Box::new(fault.unwrap_or_else(missing))),
    }
}

impl<'a, 'f> Reader<'a, 'f> {
    pub(super) fn new(
        cursor: Cursor<'a>,
        row: &'static Row,
        faults: &'f mut Vec<Diagnostic>,
    ) -> Reader<'a, 'f> {
        Reader {
            cursor,
            row,
            items: Vec::new(),
            faults,
            edition: EDITION,
            newer: None,
            reserved: None,
            following: None,
        }
    }

    /// Reports an error. Returns `None`, so that `?` ends the reading of the statement.
    pub(super) fn fail<T>(&mut self, fault: Diagnostic) -> Option<T> {
        self.faults.push(fault);
        None
    }

    pub(super) fn error<T>(
        &mut self,
        name: &'static str,
        span: Span,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Option<T> {
        self.fail(error(name, span, message, help))
    }

    /// Reads the whole statement by its pattern. Reports an error if tokens are left over.
    pub(super) fn statement(&mut self) -> Option<()> {
        self.parts(self.row.takes)?;
        if self.cursor.peek(0).is_none() { Some(()) } else { self.fail(self.left_over()) }
    }

    fn parts(&mut self, parts: &'static [Part]) -> Option<()> {
        parts.iter().try_for_each(|part| self.part(part))
    }

    fn part(&mut self, part: &'static Part) -> Option<()> {
        match part {
            Part::Word(word) => self.word(word),
            Part::Comma => self.word(","),
            Part::Slot(at, form) => {
                let start = self.cursor.next();
                let value = self.form(part, form)?;
                self.items.push(Item { slot: *at, value, span: start.to(self.cursor.last()) });
                Some(())
            }
            Part::Maybe(inner) if begins(self.cursor, inner) => self.parts(inner),
            Part::Newer(_, inner) if begins(self.cursor, inner) => self.newer(inner),
            Part::NewWay(_, inner) => self.newer(inner),
            Part::Maybe(inner) | Part::Newer(_, inner) => {
                self.note(inner);
                Some(())
            }
            Part::Either(ways) => match self.way(ways) {
                Some(way) => self.parts(way),
                None => self.unexpected(part),
            },
            Part::List(inner) => {
                self.parts(inner)?;
                while self.list_continues(inner) {
                    self.cursor.at += 1;
                    self.parts(inner)?;
                }
                Some(())
            }
        }
    }

    fn newer(&mut self, parts: &'static [Part]) -> Option<()> {
        self.newer.get_or_insert(self.cursor.next());
        self.parts(parts)
    }

    /// The alternative that begins at the next token. In edition 1, a word that begins an alternative of edition 2 can
    /// also be a name, as `used` in `in used 1+4`. The alternative of edition 2 then counts only if the second token
    /// fits, too, as in `in used develop`.
    fn way(&self, ways: &'static [&'static [Part]]) -> Option<&'static [Part]> {
        let mut begun = ways.iter().copied().filter(|way| self.begins_way(way));
        let first = begun.next()?;
        let [Part::Newer(_, inner)] = first else { return Some(first) };
        let after = Cursor { at: self.cursor.at + 1, ..self.cursor };
        let is_certain = self.edition > 1
            || inner.get(1).is_some_and(|second| begins(after, std::slice::from_ref(second)));
        Some(if is_certain { first } else { begun.next().unwrap_or(first) })
    }

    /// Whether an alternative begins at the next token. An alternative of edition 2 does not begin with a misspelt
    /// unit, because in an alternative of edition 1 that unit may mean something else: in `keeps 6 m`, `m` is a month,
    /// not a minute.
    fn begins_way(&self, way: &'static [Part]) -> bool {
        let is_newer = matches!(way, [Part::Newer(..)]);
        begins(self.cursor, way) && !(is_newer && self.cursor.has_respelled_unit())
    }

    fn word(&mut self, word: &'static str) -> Option<()> {
        if self.cursor.take_word(word) { Some(()) } else { self.unexpected(&Part::Word(word)) }
    }

    fn form(&mut self, part: &'static Part, form: &'static Form) -> Option<Value> {
        match form {
            Form::Value(kind) if self.cursor.looks_like(*kind) => self.value(*kind),
            Form::Value(_) => self.unexpected(part),
            Form::Choice(choices) => {
                let mut choices = choices.iter().enumerate();
                let choice = choices.find(|(_, choice)| self.cursor.sees(first_word(choice)));
                let Some((at, choice)) = choice else { return self.unexpected(part) };
                if NEWER_CHOICES.contains(choice) {
                    self.newer.get_or_insert(self.cursor.next());
                }
                choice.split(' ').try_for_each(|word| self.word(word))?;
                Some(Value::Choice(at))
            }
            Form::Clause(rows) => {
                let begins = |row: &&&Row| {
                    if row.word.is_empty() {
                        begins(self.cursor, row.takes)
                    } else {
                        self.cursor.sees(row.word)
                    }
                };
                match rows().iter().find(begins) {
                    Some(row) => self.clause(row),
                    None => self.unexpected(part),
                }
            }
        }
    }

    /// Reads a clause, which is a statement inside of the statement, by its row.
    fn clause(&mut self, row: &'static Row) -> Option<Value> {
        let (start, outer) = (self.cursor.next(), std::mem::take(&mut self.items));
        if row.since > 1 {
            self.newer.get_or_insert(start);
        }
        let word = if row.word.is_empty() { Some(()) } else { self.word(row.word) };
        let read = word.and_then(|()| self.parts(row.takes));
        let items = std::mem::replace(&mut self.items, outer);
        let span = start.to(self.cursor.last());
        let rows = Vec::new();
        let (sound, block_sound, block_known) = (true, true, true);
        let reading = Reading { row, items, span, extent: span, rows, sound, block_sound, block_known };
        read.map(|()| Value::Clause(Box::new(reading)))
    }

    /// Whether a comma comes next, and another item of the list after it.
    fn list_continues(&mut self, inner: &'static [Part]) -> bool {
        if !self.cursor.sees(",") {
            return false;
        }
        let after = Cursor { at: self.cursor.at + 1, ..self.cursor };
        let continues = begins(after, inner);
        if !continues {
            let here = std::mem::replace(&mut self.cursor, after);
            self.note(inner);
            self.cursor = here;
        }
        continues
    }

    fn unexpected<T>(&mut self, part: &Part) -> Option<T> {
        let parts = std::slice::from_ref(part);
        self.note(parts);
        let mut wants = wants(parts, EDITION);
        if self.edition > 1 {
            wants.retain(|want| !is_older(want));
        }
        self.fail(self.expected(&wants))
    }

    /// Adds to `following` what an editor can suggest next. At the end of the line, these are the words and values with
    /// which `parts` can begin. After a number without a unit, they are its possible units, or what follows a plain
    /// number.
    fn note(&mut self, parts: &[Part]) {
        let edition = self.edition;
        let Some(following) = &mut self.following else { return };
        if self.cursor.peek(0).is_none() {
            following.extend(wants(parts, edition));
        } else if self.cursor.ends_in_number() {
            beginnings(parts, edition, &mut |want, rest| {
                match want {
                    Want::Value(Kind::Count | Kind::Factor | Kind::Index | Kind::Number) => {
                        following.extend(wants(rest, edition))
                    }
                    Want::Value(kind) if !units_of(kind).is_empty() => following.push(Want::Unit(kind)),
                    _ => {}
                }
                false
            });
        }
    }
}

fn first_word(choice: &'static str) -> &'static str {
    choice.split(' ').next().unwrap_or(choice)
}

fn begins(cursor: Cursor<'_>, parts: &[Part]) -> bool {
    // The end of the statement is checked first, because most statements end before their optional parts.
    cursor.peek(0).is_some()
        && beginnings(parts, EDITION, &mut |want, rest| match want {
            Want::Word(word) => cursor.sees(word),
            // After a number without a unit, the next word shows which alternative is meant: `3 x clearing`, `5
            // inversions`.
            Want::Value(kind @ (Kind::Count | Kind::Factor | Kind::Index | Kind::Number)) => {
                let next = cursor.words_at(cursor.number_pieces());
                cursor.looks_like(kind) && !matches!(rest.first(), Some(Part::Word(word)) if *word != next)
            }
            Want::Value(kind) => cursor.looks_like(kind),
            Want::Unit(_) => false,
        })
}

/// Calls `each` with each word or value with which `parts` can begin in this edition, and with the parts after it. When
/// `each` returns true, stops and returns true.
pub(super) fn beginnings(parts: &[Part], edition: u32, each: &mut dyn FnMut(Want, &[Part]) -> bool) -> bool {
    let Some((first, rest)) = parts.split_first() else { return false };
    match first {
        Part::Word(word) => each(Want::Word(word), rest),
        Part::Comma => each(Want::Word(","), rest),
        Part::Slot(_, Form::Value(kind)) => each(Want::Value(*kind), rest),
        Part::Slot(_, Form::Choice(choices)) => {
            let mut known = choices.iter().filter(|choice| edition > 1 || !NEWER_CHOICES.contains(choice));
            known.any(|choice| each(Want::Word(first_word(choice)), rest))
        }
        Part::Slot(_, Form::Clause(rows)) => {
            let mut known = rows().iter().filter(|row| row.since <= edition);
            known.any(|row| {
                if row.word.is_empty() {
                    beginnings(row.takes, edition, each)
                } else {
                    each(Want::Word(row.word), rest)
                }
            })
        }
        Part::Newer(since, _) if *since > edition => beginnings(rest, edition, each),
        Part::NewWay(since, _) if *since > edition => false,
        Part::Maybe(inner) | Part::Newer(_, inner) => {
            beginnings(inner, edition, each) || beginnings(rest, edition, each)
        }
        Part::Either(ways) => ways.iter().any(|way| beginnings(way, edition, each)),
        Part::NewWay(_, inner) | Part::List(inner) => beginnings(inner, edition, each),
    }
}

fn is_older(want: &Want) -> bool {
    matches!(want, Want::Word(word) if OLDER_WORDS.contains(word))
}

fn wants(parts: &[Part], edition: u32) -> Vec<Want> {
    let mut wants = Vec::new();
    beginnings(parts, edition, &mut |want, _| {
        wants.push(want);
        false
    });
    wants
}

//! Checks the edition of a file: the statement that states it, and words that this edition lacks or no longer has.

use super::blocks::FileReader;
use crate::model::StepKind;
use crate::source::{Diagnostic, Edit, FileId, Span, clip};
use crate::syntax::{Token, Tree};
use crate::vocabulary::{Block, EDITION, Item, Reading, Statement as _, Value, row_of, say, suggest};

/// The most words of edition 2 that the error in a file of edition 1 marks, besides the first.
const MARKED_MAX: usize = 4;

/// The words and names in a file that only one of the editions allows.
#[derive(Default)]
pub(super) struct Words {
    /// The spans of words that edition 1 lacks.
    pub(super) newer: Vec<Span>,
    /// The spans of words that only edition 1 has, each with the word that replaces it.
    pub(super) older: Vec<(Span, &'static str)>,
    /// The spans of names that edition 2 reserves.
    pub(super) reserved: Vec<Span>,
}

/// The edition that the first statement of a file states, and the span of that statement. A file without such a
/// statement has edition 1.
pub(crate) fn stated(tree: &Tree, text: &str) -> (u32, Span) {
    let tokens = tree.statements.first().map_or(&[][..], |first| tree.tokens_in(&first.tokens));
    let edition = match tokens {
        [word, number] if row_of(Block::File, word.span.slice(text)).is_some_and(say::Wetside::has) => {
            number.span.slice(text).parse().ok().map(|edition| (edition, word.span.to(number.span)))
        }
        _ => None,
    };
    edition.unwrap_or((1, start(tree.file)))
}

/// The error for a file of an edition that this program does not know. It is the only error of the file, because the
/// words of that edition are unknown.
pub(super) fn later(edition: u32, span: Span) -> Diagnostic {
    let message = format!("this file is of edition {edition}; this program reads editions 1 and 2");
    Diagnostic::error("later-edition", span, message).help("use a newer version of the program")
}

pub(in crate::check) fn newer(word: &str, span: Span) -> Diagnostic {
    let message = format!("'{}' is of edition 2, and this file is of edition 1", clip(word));
    Diagnostic::error("newer-edition", span, message)
}

/// The span of a word that only edition 1 has, and the word that replaces it; `None` for any other word.
pub(crate) fn older(item: &Item) -> Option<(Span, &'static str)> {
    match &item.value {
        Value::Clause(clause) if clause.is::<say::SafeLight>() => Some((item.span, "room")),
        _ => None,
    }
}

pub(crate) fn has_development_time(recipe: &Reading) -> bool {
    let develops = recipe.rows.iter().filter(|row| row.step() == Some(StepKind::Develop));
    let mut lines = develops.flat_map(|step| &step.rows);
    recipe.is::<say::RecipeHeader>() && lines.any(|line| line.is::<say::Time>() || line.is::<say::Chart>())
}

/// Whether a recipe may be a base, which is a recipe without a film: neither the recipe nor a parent of it in the same
/// file names a film.
fn may_be_base(recipe: &Reading, readings: &[Reading]) -> bool {
    let parent_of = |reading: &Reading| {
        let name = reading.view::<say::RecipeHeader>()?.parent()?;
        let is_parent = |other: &&Reading| {
            other.is::<say::RecipeHeader>() && other.name().is_some_and(|(own, _)| own == name)
        };
        readings.iter().find(is_parent)
    };
    // The limit ends the search in a circle of recipes: any other chain of parents has at most as many recipes as
    // `readings`.
    let mut line = std::iter::successors(Some(recipe), |reading| parent_of(reading)).take(readings.len());
    !line.any(|reading| reading.rows.iter().any(|row| row.is::<say::UsedFilm>()))
}

fn start(file: FileId) -> Span {
    Span { file, start: 0, end: 0 }
}

impl FileReader<'_> {
    pub(super) fn check_edition(&mut self, readings: &[Reading]) {
        let stated = readings.iter().position(|reading| reading.is::<say::Wetside>());
        let first = self.tree.statements.first().and_then(|first| self.tree.tokens_in(&first.tokens).first());
        let is_misspelt =
            |word: &Token| word.reported || suggest(word.span.slice(self.text), ["wetside"]).is_some();
        if self.tree.half_merged || (stated.is_none() && first.is_some_and(is_misspelt)) {
            return;
        }
        let words = std::mem::take(&mut self.words);
        // In edition 1, the development times of a recipe without a film hold for the films of derived recipes. In
        // edition 2 they do so only if the recipe states `film any`. A file with such a recipe does not mean the same
        // in edition 2.
        let is_base = |recipe: &&Reading| has_development_time(recipe) && may_be_base(recipe, readings);
        let is_same =
            words.reserved.is_empty() && (words.newer.is_empty() || readings.iter().find(is_base).is_none());
        let line = stated.and_then(|at| readings.get(at)?.view::<say::Wetside>());
        match (stated, line.and_then(|line| line.said(say::Wetside::edition))) {
            (None, _) => {
                let start = start(self.tree.file);
                let edition = if words.newer.is_empty() { 1 } else { EDITION };
                let message = "a file begins with the edition of the language";
                let fault = Diagnostic::error("edition", start, message);
                let title = format!("put 'wetside {edition}' in its first line");
                self.faults.push(raised(
                    fault,
                    (start, format!("wetside {edition}\n\n")),
                    title,
                    (&words, is_same),
                ));
            }
            (Some(1..), _) => {
                let place = line.map_or_else(|| start(self.tree.file), |line| line.span);
                let fault =
                    Diagnostic::error("edition", place, "the edition is the first statement of a file");
                self.faults.push(fault.help("move this line to the top"));
            }
            (Some(_), Some((1, number))) => {
                let Some((first, others)) = words.newer.split_first() else { return };
                let place = line.map_or(number, |line| line.span);
                let fault = newer(first.slice(self.text), *first).other(place, "the edition of this file");
                let others = others.iter().take(MARKED_MAX);
                let fault = others.fold(fault, |fault, other| fault.other(*other, "of edition 2, too"));
                let title = "put 'wetside 2' in the first line".to_owned();
                self.faults.push(raised(fault, (number, "2".to_owned()), title, (&words, is_same)));
            }
            _ => {
                for (span, new) in words.older {
                    let word = clip(span.slice(self.text));
                    let message = format!("'{word}' is a word of edition 1; in edition 2 it is '{new}'");
                    self.faults.push(Diagnostic::error("older-word", span, message).mend(new));
                }
            }
        }
    }
}

/// Adds a fix to `fault` that makes the file state the oldest edition that has all words of the file. For edition 2,
/// the fix also replaces the words that only edition 1 has. It is then certain only if `is_same`: the rest of the file
/// means the same in edition 2.
fn raised(
    fault: Diagnostic,
    (span, text): (Span, String),
    mut title: String,
    (words, is_same): (&Words, bool),
) -> Diagnostic {
    let is_newer = !words.newer.is_empty();
    let older: &[(Span, &str)] = if is_newer { &words.older } else { &[] };
    if !older.is_empty() {
        title.push_str(", and replace the words of edition 1");
    }
    let mut fault = fault.change(span, text, title, !is_newer || is_same);
    if let Some(fix) = fault.fixes.last_mut() {
        fix.edits.extend(older.iter().map(|(span, new)| Edit { span: *span, text: (*new).to_owned() }));
    }
    fault
}

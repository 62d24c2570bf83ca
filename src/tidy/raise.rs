//! Brings files over to the newest edition of the language. A file is brought over only if its recipes keep their
//! fingerprints.

use std::sync::Arc;

use super::Script;
use super::lines::ending;
use crate::check::{Levels, check_all, has_development_time, older};
use crate::model::{Fingerprint, Recipe};
use crate::source::{Diagnostic, Edit, FileId, Files, Level, Map, Sorted as _, Sources, Span, clip};
use crate::vocabulary::{Declared, EDITION, Lines as _, RESERVED_OF_KIND, Reading, Value, say};

/// Errors that disappear when a file is brought over to the newest edition.
const LIFTED: &[&str] = &["newer-edition", "older-word"];

/// A file rewritten for the newest edition.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Raised {
    /// The whole new text.
    pub text: String,
    /// The changes, in the order of the old text; empty if the file is of the newest edition already.
    pub edits: Vec<Edit>,
}

/// Why a file is not brought over to the newest edition.
#[derive(Debug)]
pub struct Stays {
    /// The texts to which the findings in `why` refer.
    pub sources: Sources,
    /// The errors of the file, or errors about what the newest edition would break or change; at least one.
    pub why: Vec<Diagnostic>,
}

pub(super) struct State {
    pub(super) sources: Sources,
    pub(super) findings: Vec<Diagnostic>,
    pub(super) recipes: Vec<Arc<Recipe>>,
}

impl State {
    pub(super) fn of<'a>(texts: impl Iterator<Item = (&'a str, &'a str)>, files: &dyn Files) -> State {
        let mut sources = Sources::default();
        let roots: Vec<FileId> = texts.map(|(name, text)| sources.add(name, text)).collect();
        let (shelf, findings) = check_all(&mut sources, &roots, files, &Levels::default());
        let recipes = shelf.recipes.into_iter().chain(shelf.unsound.sound_alone).collect();
        State { sources, findings, recipes }
    }

    pub(super) fn errors(&self) -> impl Iterator<Item = &Diagnostic> {
        self.findings.iter().filter(|finding| finding.level == Level::Error)
    }

    fn works(&self) -> Map<(FileId, &str), (Fingerprint, Span)> {
        let work = |recipe: &Recipe| (Fingerprint::of(recipe), recipe.span);
        self.recipes.iter().map(|recipe| ((recipe.file, recipe.name.as_str()), work(recipe))).collect()
    }

    /// Two lists: the errors of the state `after` that this state lacks; and an error for each recipe of this state
    /// whose fingerprint differs or is missing in `after`.
    fn losses(&self, after: &State) -> (Vec<Diagnostic>, Vec<Diagnostic>) {
        let known = |error: &&Diagnostic| {
            self.errors().any(|old| (old.name, &old.message) == (error.name, &error.message))
        };
        let errors = after.errors().filter(|error| !known(error)).cloned().collect();
        let works = after.works();
        let changed = self
            .works()
            .into_iter()
            .filter(|(recipe, (work, _))| works.get(recipe).is_none_or(|(new, _)| new != work));
        let told = |((_, name), (_, span)): ((FileId, &str), (Fingerprint, Span))| {
            let message = format!("in edition {EDITION} the recipe '{}' would do other work", clip(name));
            Diagnostic::error("edition", span, message).help("keep this file at its edition")
        };
        (errors, changed.map(told).collect())
    }
}

/// Brings files over to the newest edition, each given as a name and a text, and returns the results in the same order.
/// Used files that are not in `texts` are read from `files` and stay unchanged.
pub fn raise(texts: &[(String, String)], files: &dyn Files) -> Vec<Result<Raised, Box<Stays>>> {
    let mut results: Vec<_> = texts.iter().map(|(name, text)| raised(name, text, files)).collect();
    let old = texts.iter().map(|(name, text)| (name.as_str(), text.as_str()));
    let new = old
        .clone()
        .zip(&results)
        .map(|((name, text), result)| (name, result.as_ref().map_or(text, |raised| raised.text.as_str())));
    let (before, after) = (State::of(old, files), State::of(new, files));
    let (errors, changed) = before.losses(&after);
    // The edits of one file can change the recipes of another file. If a recipe would be lost or change, no
    // file is edited.
    let is_changed =
        |result: &Result<Raised, _>| result.as_ref().is_ok_and(|raised| !raised.edits.is_empty());
    if !errors.is_empty() || !changed.is_empty() {
        for ((name, text), result) in texts.iter().zip(&mut results).filter(|(_, result)| is_changed(result))
        {
            let mut sources = Sources::default();
            let file = sources.add(name.as_str(), text.as_str());
            let first = errors.first().or(changed.first());
            let reason = first.map_or("", |first| first.message.as_str());
            let message = format!("a recipe of another file would not stay as it is: {reason}");
            let why = Diagnostic::error("edition", Span { file, start: 0, end: 0 }, message);
            *result = Err(Box::new(Stays { sources, why: vec![why.help("name one file after the other")] }));
        }
    }
    results
}

fn raised(name: &str, text: &str, files: &dyn Files) -> Result<Raised, Box<Stays>> {
    let before = State::of(std::iter::once((name, text)), files);
    let stays = |sources, why| Err(Box::new(Stays { sources, why }));
    let is_lifted = |error: &Diagnostic| {
        LIFTED.contains(&error.name) || error.name == "edition" && error.fixes.iter().any(|fix| fix.certain)
    };
    let errors: Vec<Diagnostic> = before.errors().filter(|error| !is_lifted(error)).cloned().collect();
    let Some(file) = before.sources.id(name).filter(|_| errors.is_empty()) else {
        return stays(before.sources, errors);
    };
    let script = Script::of(&before.sources, file);
    let is_first = edition_of(&script).is_none_or(|(edition, _)| edition < EDITION);
    let reserved = if is_first { reserved(&script.readings) } else { Vec::new() };
    if !reserved.is_empty() {
        return stays(before.sources, reserved);
    }
    let edits = edits(&script, is_first, &before.recipes);
    let new = edited(text, edits.iter());
    let after = State::of(std::iter::once((name, new.as_str())), files);
    match before.losses(&after) {
        (errors, changed) if errors.is_empty() && changed.is_empty() => Ok(Raised { text: new, edits }),
        (errors, changed) if changed.is_empty() => stays(after.sources, errors),
        (_, changed) => stays(before.sources, changed),
    }
}

fn edition_of(script: &Script<'_>) -> Option<(u32, Span)> {
    script.readings.iter().find_map(Reading::view::<say::Wetside>)?.said(say::Wetside::edition)
}

/// The edits that bring a file over to the newest edition. `is_first` tells whether the file is of edition 1.
pub(super) fn edits(script: &Script<'_>, is_first: bool, recipes: &[Arc<Recipe>]) -> Vec<Edit> {
    let start = Span { file: script.tree.file, start: 0, end: 0 };
    let mut edits = Vec::new();
    if is_first {
        edits.push(match edition_of(script) {
            Some((_, span)) => Edit { span, text: EDITION.to_string() },
            None => Edit { span: start, text: format!("wetside {EDITION}\n\n") },
        });
        let bases = script.readings.iter().filter(|recipe| has_times_for_any_film(recipe, recipes));
        edits.extend(bases.filter_map(|base| {
            let end = base.span.end as usize;
            let line = script.text.get(end..)?.find('\n')? + end + 1;
            let at = u32::try_from(line).ok()?;
            Some(Edit { span: Span { start: at, end: at, ..start }, text: "    film      any\n".to_owned() })
        }));
    }
    replaced(&script.readings, &mut edits);
    edits.order_by_key(|edit| edit.span);
    edits
}

/// Whether a recipe is a base with a development time. In edition 1, this time holds for every film that a derived
/// recipe names; in edition 2, only if the base says so with `film any`.
fn has_times_for_any_film(reading: &Reading, recipes: &[Arc<Recipe>]) -> bool {
    let Some((header, (name, _))) = reading.view::<say::RecipeHeader>().zip(reading.name()) else {
        return false;
    };
    let known =
        recipes.iter().find(|recipe| (recipe.file, recipe.name.as_str()) == (reading.span.file, name));
    let is_base = match known {
        Some(recipe) => recipe.film.is_none() && recipe.any.is_none(),
        None => header.parent().is_none() && reading.one::<say::UsedFilm>().is_none(),
    };
    is_base && has_development_time(reading)
}

fn replaced(readings: &[Reading], edits: &mut Vec<Edit>) {
    for reading in readings {
        let words = reading.items.iter().filter_map(older);
        edits.extend(words.map(|(span, new)| Edit { span, text: new.to_owned() }));
        replaced(&reading.rows, edits);
    }
}

/// An error for each use of a name that edition 2 reserves.
fn reserved(readings: &[Reading]) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    for reading in readings {
        let mut look = |kind: Declared, name: &str, span: Span| {
            found.extend(RESERVED_OF_KIND.contains(&(kind, name)).then(|| told((kind, name), span)));
        };
        if let Some((kind, (name, span))) = reading.declares().zip(reading.name()) {
            look(kind, name, span);
        }
        reading.values(&mut |item| {
            if let Value::Mention(kind, name) = &item.value {
                look(*kind, name, item.span);
            }
        });
        found.extend(reserved(&reading.rows));
    }
    found
}

fn told((kind, name): (Declared, &str), span: Span) -> Diagnostic {
    let message = format!("in edition {EDITION}, '{name}' cannot be the name of {}", kind.words());
    Diagnostic::error("reserved-name", span, message)
        .help(format!("rename it first, for example to my-{name}"))
}

/// The text with these edits made. The edits are sorted and do not overlap. Inserted lines get the text's line endings.
pub fn edited<'a>(text: &str, edits: impl Iterator<Item = &'a Edit>) -> String {
    let end = ending(text);
    let (mut new, mut at) = (String::with_capacity(text.len()), 0);
    for edit in edits {
        let range = edit.span.range();
        new.push_str(text.get(at..range.start).unwrap_or(""));
        new.push_str(&edit.text.replace('\n', end));
        at = range.end;
    }
    new + text.get(at..).unwrap_or("")
}

//! The history of what a recipe does, as a document and as JSON by `grammar/history.schema.json`.

use super::comparison::{difference, table};
use super::document::{Block, Document, Head, Section};
use super::object::{Object, list};
use super::phrase::count;
use super::plain::plain;
use crate::compare::{Difference, compare};
use crate::compile::Scale;
use crate::model::{Fingerprint, Recipe, Temperature};

/// Raise this version when a change breaks programs that read the JSON.
const VERSION: u32 = 1;
/// The most differences that the text lists for one change.
const LINES_MAX: usize = 8;
/// How many digits of a commit's hash the text shows.
const COMMIT: usize = 10;
/// The temperatures at which developing times are compared, in degrees Celsius.
const USUAL: [i64; 4] = [18, 20, 22, 24];

/// A change of a recipe that alters what is done in the darkroom.
#[derive(Debug)]
pub struct Changed<'a> {
    /// The hash, the day and the subject of the commit; `None` for a change that is not committed yet.
    pub commit: Option<(&'a str, &'a str, &'a str)>,
    /// The recipe before the change.
    pub was: Once<'a>,
    /// The recipe after the change.
    pub is: Once<'a>,
}

/// A recipe at one point of its history.
#[derive(Debug, Clone, Copy)]
pub enum Once<'a> {
    /// The recipe did not exist.
    Absent,
    /// The recipe, or something that it uses, had errors.
    Unsound,
    /// The recipe, if it had no errors.
    Sound(&'a Recipe),
}

impl<'a> Once<'a> {
    fn recipe(self) -> Option<&'a Recipe> {
        match self {
            Once::Sound(recipe) => Some(recipe),
            Once::Absent | Once::Unsound => None,
        }
    }
}

impl<'a> Changed<'a> {
    /// The differences in the work between the two recipes; empty if the recipe was absent or had errors before or
    /// after.
    fn differences(&self) -> Vec<Difference<'a>> {
        let at = USUAL.map(Temperature::celsius_whole);
        let both = self.was.recipe().zip(self.is.recipe());
        let all = both.map(|(was, is)| compare(was, is, &at)).unwrap_or_default();
        all.into_iter().filter(|difference| difference.is_work).collect()
    }

    /// What the change did to the recipe: `added`, `removed` or words about errors; `None` if the recipe had no errors
    /// before and after.
    fn fate(&self) -> Option<&'static str> {
        match (self.was, self.is) {
            (Once::Absent, _) => Some("added"),
            (_, Once::Absent) => Some("removed"),
            (Once::Unsound, _) => Some("had errors before"),
            (_, Once::Unsound) => Some("has errors since"),
            (Once::Sound(_), Once::Sound(_)) => None,
        }
    }
}

/// The history of a recipe: for each change in `all` the day, commit, fingerprint, subject and differences.
pub fn history(name: &str, all: &[Changed<'_>]) -> Document {
    let section = |one: &Changed<'_>| {
        let (hash, date, subject) = one.commit.unwrap_or(("", "now", "not committed yet"));
        let hash = hash.get(..COMMIT).unwrap_or(hash);
        let mark = one.is.recipe().map_or_else(|| "-".to_owned(), |is| Fingerprint::of(is).to_string());
        let differences = one.differences();
        let shown: Vec<&Difference<'_>> = differences.iter().take(LINES_MAX).collect();
        let rest = differences.len().saturating_sub(LINES_MAX);
        let rest = (rest > 0).then(|| format!("and {} more", count(rest, "difference")));
        let fate = one.fate().map(str::to_owned).map(Block::Paragraph);
        let blocks = fate.into_iter().chain([table(&shown, Scale::Celsius)]);
        Section {
            head: Head::Name(format!("{date:<10}  {hash:<COMMIT$}  {mark:<9}"), plain(subject)),
            blocks: blocks.chain(rest.map(Block::Paragraph)).collect(),
            ..Section::default()
        }
    };
    Document {
        title: format!("History of {}", plain(name)),
        is_bare: true,
        sections: all.iter().map(section).collect(),
        ..Document::default()
    }
}

/// The changes as an indented JSON object.
pub fn history_json(name: &str, all: &[Changed<'_>]) -> String {
    let change = |one: &Changed<'_>| {
        Object::default()
            .put("commit", one.commit.map(|(hash, ..)| hash))
            .put("date", one.commit.map(|(_, date, _)| date))
            .put("subject", one.commit.map(|(.., subject)| subject))
            .put("fingerprint", one.is.recipe().map(|is| Fingerprint::of(is).full()))
            .put("fate", one.fate())
            .put("differences", list(&one.differences(), difference))
    };
    Object::of("history", VERSION).put("recipe", name).put("changes", list(all, change)).text()
}

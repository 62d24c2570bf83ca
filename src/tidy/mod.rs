//! Rewrites a recipe file in the standard layout, with one spelling of each unit and time, brings it over to the newest
//! edition of the language, or gathers what a recipe uses into one file.

mod bundle;
mod lines;
mod raise;
mod statement;

use lines::{Form, TidyLine, laid, lines};

use crate::check::read_file;
use crate::source::{Diagnostic, FileId, Sources, Span};
use crate::syntax::{Tree, parse};
use crate::vocabulary::Reading;

pub use bundle::{Bundle, NoBundle, bundle};
pub use lines::ending;
pub use raise::{Raised, Stays, edited, raise};

/// Errors that prevent rewriting a file, because they leave the end of a block or line, or the meaning of words,
/// uncertain.
const DAMAGE: &[&str] = &[
    "unclosed-block",
    "unopened-block",
    "stray-brace",
    "block-too-deep",
    "half-merged",
    "hidden-character",
    "unreadable-text",
    "later-edition",
];

/// A file rewritten in the standard layout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tidied {
    /// The whole new text.
    pub text: String,
    /// The lines of the old text that could not be read, and are therefore unchanged.
    pub left_alone: Vec<Span>,
}

/// Why a file was not rewritten.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// The errors of the file, one or more: braces that do not pair, merge markers, hidden characters or a later
    /// edition.
    Damaged(Vec<Diagnostic>),
    /// The new text would have another meaning, because of a bug in this program.
    OwnFault,
}

struct Script<'a> {
    text: &'a str,
    tree: Tree,
    readings: Vec<Reading>,
    faults: Vec<Diagnostic>,
}

impl<'a> Script<'a> {
    fn of(sources: &'a Sources, file: FileId) -> Script<'a> {
        let text = sources.text(file);
        let (tree, mut faults) = parse(sources, file);
        let (readings, _) = read_file(&tree, text, &mut faults);
        Script { text, tree, readings, faults }
    }

    fn faults_and_comments(&self) -> (Vec<&str>, Vec<&str>) {
        let mut names: Vec<&str> = self.faults.iter().map(|fault| fault.name).collect();
        names.sort_unstable();
        let comments = self.tree.lines.iter().filter_map(|line| line.comment);
        (names, comments.map(|span| span.slice(self.text).trim_end()).collect())
    }
}

/// Whether a file with an error of this name is not rewritten.
pub fn is_damage(name: &str) -> bool {
    DAMAGE.contains(&name)
}

/// The file in the standard layout.
///
/// # Errors
/// See [`Refusal`].
pub fn tidy(sources: &Sources, file: FileId) -> Result<Tidied, Refusal> {
    let before = Script::of(sources, file);
    let damage: Vec<Diagnostic> =
        before.faults.iter().filter(|fault| is_damage(fault.name)).cloned().collect();
    if !damage.is_empty() {
        return Err(Refusal::Damaged(damage));
    }
    let lines = lines(&before);
    let text = laid(&lines, ending(before.text));
    let left_alone = lines.iter().filter_map(|line| line.left_alone).collect();
    if text != before.text && !is_proved(&before, &lines, &text) {
        return Err(Refusal::OwnFault);
    }
    Ok(Tidied { text, left_alone })
}

/// Whether the new text has the same values, errors, comments and unchanged lines as the old text, and another run
/// would change nothing. This check runs in every build.
fn is_proved(before: &Script<'_>, old: &[TidyLine], text: &str) -> bool {
    let mut sources = Sources::default();
    let file = sources.add("", text);
    let after = Script::of(&sources, file);
    let new = lines(&after);
    before.readings == after.readings
        && before.faults_and_comments() == after.faults_and_comments()
        && kept(old) == kept(&new)
        && laid(&new, ending(text)) == text
}

fn kept(lines: &[TidyLine]) -> Vec<&str> {
    lines.iter().filter(|line| line.form == Form::Kept).map(|line| line.text.as_str()).collect()
}

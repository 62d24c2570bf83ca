//! Rewrites a text in the standard layout, with one spelling of each unit and time.

mod damage;
mod laying;
mod lines;
mod proof;
mod statement;

use crate::check::read_file;
use crate::source::{Diagnostic, FileId, Sources, Span};
use crate::syntax::{Tree, parse};
use crate::vocabulary::Reading;

pub use damage::is_damage;
pub use laying::ending;

/// A text in the standard layout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tidied {
    /// The whole text.
    pub text: String,
    /// The lines of the old text that could not be read and are unchanged.
    pub left_alone: Vec<Span>,
}

/// Why a file was not rewritten.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// Its blocks do not pair, it has merge markers or hidden characters: at least one error.
    Damaged(Vec<Diagnostic>),
    /// The new text would have another meaning, which is an error of this program.
    OwnFault,
}

/// A text with its tree and readings.
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
}

/// The file in the standard layout, parsed again to prove that its values and comments are the same.
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
    let lines = lines::lines(&before);
    let text = laying::laid(&lines, ending(before.text));
    let left_alone = lines.iter().filter_map(|line| line.left_alone).collect();
    if text != before.text && !proof::holds(&before, &lines, &text) {
        return Err(Refusal::OwnFault);
    }
    Ok(Tidied { text, left_alone })
}

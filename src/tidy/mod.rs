//! A text to the same text in the one canonical layout. It stands behind `check` since it spells
//! units and times one way, for which it needs the vocabulary and the reading of every line; and
//! before all that computes, since it knows no arithmetic.

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

/// A text in the tidy form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tidied {
    /// The whole text.
    pub text: String,
    /// The lines of the old text that could not be read, and stand as they stood.
    pub left_alone: Vec<Span>,
}

/// Why a file was not tidied; nothing of it is changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// Its blocks do not pair, two versions of it stand unmerged, or something in it does not show:
    /// the faults, at least one.
    Damaged(Vec<Diagnostic>),
    /// The tidy text would not have said the same, which is a fault of this program.
    OwnFault,
}

/// A text with all that was read in it.
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

/// The tidy form of a file. What comes back was read once more and says the same: each statement has
/// its values, each remark its words, and to tidy it again would change nothing.
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

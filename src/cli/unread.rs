//! The declarations of a darkroom that have errors, and those of tonight's bottles whose state is unknown because of
//! these errors.

use super::root::printable;
use super::{Failure, Reader, darkroom, fail};
use crate::compile::{Objection, Tonight, Warning};
use crate::model::{DarkroomPart, LeftOut, Recipe, Shelf};
use crate::source::{Diagnostic, FileId, first_few};

const RULE: &str = "bottle-state-unknown";

/// The files of a darkroom, and for each file that cannot be read a message that names it.
#[derive(Default)]
pub(super) struct DarkroomFiles {
    pub(super) read: Vec<FileId>,
    pub(super) unreadable: Vec<String>,
}

/// A declaration with errors, or a file that cannot be read. Tonight's card does not count it.
pub(super) struct Unread {
    /// A message with file and line: `the session at journal/2026-11-16-7m2q.wet:3 has errors`.
    text: String,
    /// The declaration with errors; `None` if the whole file could not be read.
    left: Option<LeftOut>,
    /// The name of the file that has the unread declaration; empty if the whole file could not be read.
    file: String,
    /// The names of tonight's bottles whose state this error leaves unknown.
    bottles: Vec<String>,
}

/// The declarations with errors and the unreadable files of the darkroom that may be about tonight's rolls or bottles.
pub(super) fn unread(
    shelf: &Shelf,
    recipe: &Recipe,
    tonight: &Tonight,
    files: &DarkroomFiles,
    reader: &Reader,
) -> Vec<Unread> {
    let from = tonight.bottles.iter().flat_map(|bottles| &bottles.from);
    let poured = from.filter_map(|span| shelf.darkroom.bottles().find(|bottle| bottle.span == *span));
    let poured: Vec<_> = poured.collect();
    let has_labels = tonight.labels.iter().any(|label| !label.is_empty());
    let keeps_baths = darkroom::kept(recipe).next().is_some();
    let mut all = Vec::new();
    for left in &shelf.darkroom.left_out {
        // A line with errors in a file that is not of the darkroom says nothing about bottles, so it is skipped.
        let is_other = left.part == DarkroomPart::Line && !files.read.contains(&left.span.file);
        let may_use = |span| left.baths.as_ref().is_none_or(|named| named.contains(span));
        let affected = poured.iter().filter(|bottle| may_use(&bottle.span));
        let bottles: Vec<String> = affected.map(|bottle| bottle.name.clone()).collect();
        let matters = match left.part {
            DarkroomPart::Bath => keeps_baths,
            DarkroomPart::Backlog => has_labels,
            _ => has_labels || !bottles.is_empty() || keeps_baths && left.baths.is_none(),
        };
        if matters && !is_other {
            let (file, line) = (printable(reader.name(left.span.file)), reader.sources.place(left.span).line);
            let text = format!("the {} at {file}:{line} has errors", left.part.word());
            all.push(Unread { text, left: Some(left.clone()), file, bottles });
        }
    }
    all.extend(files.unreadable.iter().map(|message| Unread {
        text: message.clone(),
        left: None,
        file: String::new(),
        bottles: poured.iter().map(|bottle| bottle.name.clone()).collect(),
    }));
    all
}

/// The objections to tonight's bottles, which `--anyway` can lift.
pub(super) fn objections(unread: &[Unread]) -> impl Iterator<Item = Objection> {
    let each = unread.iter().flat_map(|part| part.bottles.iter().map(move |name| (part, name)));
    each.map(|(part, name)| Objection {
        name: name.clone(),
        rule: RULE,
        text: part.not_counted(),
        brief: part.text.clone(),
    })
}

/// Fails if the state of one of tonight's bottles is unknown and `--anyway` does not name the bottle.
pub(super) fn refuse(unread: &[Unread], tonight: &Tonight, reader: &mut Reader) -> Result<(), Failure> {
    let mut errors = Vec::new();
    for part in unread {
        let bottles: Vec<&str> =
            part.bottles.iter().map(String::as_str).filter(|name| !tonight.takes_anyway(name)).collect();
        if bottles.is_empty() {
            continue;
        }
        let unknown = format!("so the state of {} is not known", first_few(bottles.iter().copied(), ", "));
        let anyway: Vec<String> = bottles.iter().map(|name| format!("--anyway {name}")).collect();
        let anyway = anyway.join(" ");
        let Some(left) = &part.left else {
            let help = format!("mend the file; or, to count without it, add {anyway}");
            return fail(format!("{}, {unknown}", part.text), help);
        };
        let message = format!("this {} has errors, {unknown}", left.part.word());
        let mend = format!("mend its errors, which this lists: wetside check {}", part.file);
        let take = format!("or, to leave this {} out of the count, add {anyway}", left.part.word());
        errors.push(Diagnostic::error(RULE, left.span, message).help(mend).help(take));
    }
    reader.refuse_any(errors)
}

pub(super) fn warnings(unread: &[Unread], tonight: &Tonight) -> Vec<Warning> {
    let mut all = Vec::new();
    for part in unread {
        let taken = part.bottles.iter().filter(|name| tonight.takes_anyway(name));
        all.extend(taken.map(|name| Warning::lifted(RULE, name, &part.not_counted())));
        if part.bottles.is_empty() {
            all.push(Warning { rule: RULE, text: part.not_counted() });
        }
    }
    all
}

impl Unread {
    fn not_counted(&self) -> String {
        format!("{}, and is not counted", self.text)
    }
}

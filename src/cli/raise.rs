//! `tidy --edition`: brings files over to the newest edition of the language, or with `--dry` shows what would change.

use std::path::PathBuf;

use super::find::OtherRoots;
use super::root::printable;
use super::tidy::{Action, Tally, carry_out, ended};
use super::{Ended, Failure, Reader, Terminal, find, output};
use crate::report::{self, sanitise};
use crate::source::Edit;
use crate::tidy::{edited, raise};

/// Rewrites the files in the newest edition of the language. A file stays unchanged, and the reason is shown, if one of
/// its recipes would get another fingerprint.
pub(super) fn run(paths: &[PathBuf], dry: bool, terminal: Terminal) -> Result<Ended, Failure> {
    let others = OtherRoots::default();
    let (mut reader, mut tally) = (Reader::default(), Tally::default());
    let mut read = Vec::new();
    for path in find::files(paths, &others)? {
        match reader.read(&path) {
            Ok(file) => read.push((path, file)),
            Err(failure) => {
                tally.failed += 1;
                terminal.complain(&failure);
            }
        }
    }
    let text = |file| (reader.sources.name(file).to_owned(), reader.sources.text(file).to_owned());
    let texts: Vec<(String, String)> = read.iter().map(|(_, file)| text(*file)).collect();
    let results = raise(&texts, &reader.disk);
    for ((path, _), ((name, before), result)) in read.iter().zip(texts.into_iter().zip(results)) {
        let to_stdout = !dry && path.as_os_str() == "-";
        let action = match result {
            Err(stays) => {
                let why = report::draw(&stays.sources, &stays.why, terminal.err);
                output::complain(&format!("{why}{} was not changed: see above\n", printable(&name)));
                Action::Refuse(if to_stdout { before } else { String::new() })
            }
            Ok(raised) if to_stdout => Action::Print(raised.text),
            Ok(raised) if raised.edits.is_empty() => Action::Nothing,
            Ok(raised) if dry => Action::Print(changes(&name, &before, &raised.edits)),
            Ok(raised) => Action::Replace { name, before, after: raised.text },
        };
        if let Err(failure) = carry_out(path, action, &mut tally) {
            tally.failed += 1;
            terminal.complain(&failure);
        }
    }
    ended(&tally, paths, dry, &others)
}

/// The changed and the added lines of a text, each with its line number in the old text.
fn changes(name: &str, old: &str, edits: &[Edit]) -> String {
    let name = printable(name);
    let (mut all, mut start) = (String::new(), 0);
    for (number, line) in (1..).zip(old.split_inclusive('\n')) {
        let end = start + line.len();
        let here = edits.iter().filter(|edit| (start..end).contains(&edit.span.range().start));
        let (added, changed): (Vec<&Edit>, Vec<&Edit>) = here.partition(|edit| edit.text.ends_with('\n'));
        for line in added.iter().flat_map(|edit| edit.text.lines()).filter(|line| !line.is_empty()) {
            all.push_str(&format!("{name}:{number}:\n+ {}\n", sanitise(line)));
        }
        if !changed.is_empty() {
            let shifted: Vec<Edit> = changed.into_iter().map(|edit| shifted(edit, start)).collect();
            let new = edited(line, shifted.iter());
            all.push_str(&format!(
                "{name}:{number}:\n- {}\n+ {}\n",
                sanitise(line.trim_end()),
                sanitise(new.trim_end())
            ));
        }
        start = end;
    }
    all
}

/// The edit with its span relative to the byte offset `start`, at which the edited line begins.
fn shifted(edit: &Edit, start: usize) -> Edit {
    let start = u32::try_from(start).unwrap_or(u32::MAX);
    let mut edit = edit.clone();
    edit.span.start = edit.span.start.saturating_sub(start);
    edit.span.end = edit.span.end.saturating_sub(start);
    edit
}

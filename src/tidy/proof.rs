//! Compares the new text with the old one, in every build, so that no one has to proofread a rewritten recipe.

use super::lines::{Form, TidyLine, lines};
use super::{Script, is_damage, laying};
use crate::source::Sources;

/// Whether the new text has the same values, errors, comments and unchanged lines, and would not change again.
pub(super) fn holds(before: &Script<'_>, old: &[TidyLine], text: &str) -> bool {
    let mut sources = Sources::default();
    let file = sources.add("", text);
    let after = Script::of(&sources, file);
    if after.faults.iter().any(|fault| is_damage(fault.name)) {
        return false;
    }
    let new = lines(&after);
    names(before) == names(&after)
        && before.readings == after.readings
        && remarks(before) == remarks(&after)
        && kept(old) == kept(&new)
        && laying::laid(&new, laying::ending(text)) == text
}

/// The names of the faults; the places of most have moved.
fn names(script: &Script<'_>) -> Vec<&'static str> {
    let mut names: Vec<&'static str> = script.faults.iter().map(|fault| fault.name).collect();
    names.sort_unstable();
    names
}

fn remarks<'a>(script: &Script<'a>) -> Vec<&'a str> {
    let spans = script.tree.lines.iter().filter_map(|line| line.comment);
    spans.map(|span| script.text.get(span.range()).unwrap_or("").trim_end()).collect()
}

fn kept(lines: &[TidyLine]) -> Vec<&str> {
    lines.iter().filter(|line| line.form == Form::Kept).map(|line| line.text.as_str()).collect()
}

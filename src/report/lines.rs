//! One finding a line, for editors and for searching: `file:line:column: level[name]: message`.

use super::summary::Count;
use super::told::{TOLD_MAX, Told};

/// The findings, in the order given, each on its line, at most [`TOLD_MAX`]; a last line of its own form
/// says how many more of that count there are.
#[must_use]
pub fn lines(findings: &[Told], count: Count) -> String {
    let line = |told: &Told| {
        let at = &told.at;
        format!(
            "{}:{}:{}: {}[{}]: {}\n",
            at.file,
            at.line,
            at.column,
            told.level.word(),
            told.name,
            told.message
        )
    };
    let told = findings.get(..TOLD_MAX).unwrap_or(findings);
    let mut text: String = told.iter().map(line).collect();
    if let Some(left) = count.left_out(told.len()) {
        text.push_str(&format!("and {left} more\n"));
    }
    text
}

//! One finding a line, for editors and for searching: `file:line:column: level[name]: message`.

use super::told::Told;

/// The findings, in the order given, each on its line.
#[must_use]
pub fn lines(findings: &[Told]) -> String {
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
    findings.iter().map(line).collect()
}

//! Counts findings by severity, and writes the last line of a report.

use serde::Serialize;

use super::finding::{FINDINGS_MAX, Finding};
use crate::source::Level;

/// The number of findings of each severity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Count {
    /// The number of errors.
    pub errors: usize,
    /// The number of warnings.
    pub warnings: usize,
    /// The number of pieces of advice.
    pub advice: usize,
}

impl Count {
    /// The number of findings of this severity or of a higher one. Without a severity, the number of errors.
    pub fn at_least(self, level: Option<Level>) -> usize {
        match level {
            Some(Level::Advice) => self.errors + self.warnings + self.advice,
            Some(Level::Warning) => self.errors + self.warnings,
            Some(Level::Error) | None => self.errors,
        }
    }

    /// The findings that a report for programs lists, and how many others there are; `None` if it lists all.
    pub(super) fn listed(self, findings: &[Finding]) -> (&[Finding], Option<usize>) {
        let listed = findings.get(..FINDINGS_MAX).unwrap_or(findings);
        let left_out = self.at_least(Some(Level::Advice)).checked_sub(listed.len());
        (listed, left_out.filter(|left| *left > 0))
    }
}

/// Counts findings by severity.
pub fn count(levels: impl Iterator<Item = Level> + Clone) -> Count {
    let of = |level: Level| levels.clone().filter(|own| *own == level).count();
    Count { errors: of(Level::Error), warnings: of(Level::Warning), advice: of(Level::Advice) }
}

/// The last line of a report, such as `2 errors, 1 warning in 3 files`.
pub fn summary(count: Count, files: usize) -> String {
    let some = |many: usize, one: &str, more: &str| match many {
        0 => None,
        1 => Some(format!("1 {one}")),
        many => Some(format!("{many} {more}")),
    };
    let Count { errors, warnings, advice } = count;
    let parts = [
        some(errors, "error", "errors"),
        some(warnings, "warning", "warnings"),
        some(advice, "piece of advice", "pieces of advice"),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    let files = some(files, "file", "files").unwrap_or_else(|| "no file".to_owned());
    if parts.is_empty() {
        format!("nothing to fix in {files}")
    } else {
        format!("{} in {files}", parts.join(", "))
    }
}

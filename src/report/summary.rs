//! The counts of a report.

use serde::Serialize;

use crate::source::Level;

/// The number of findings of each severity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Count {
    /// Errors.
    pub errors: usize,
    /// Warnings.
    pub warnings: usize,
    /// Pieces of advice.
    pub advice: usize,
}

impl Count {
    /// The number of findings of this severity or above; without one, of errors.
    pub fn at_least(self, level: Option<Level>) -> usize {
        match level {
            Some(Level::Advice) => self.errors + self.warnings + self.advice,
            Some(Level::Warning) => self.errors + self.warnings,
            Some(Level::Error) | None => self.errors,
        }
    }

    /// The number of findings beyond those shown, if there are any.
    pub(super) fn left_out(self, shown: usize) -> Option<usize> {
        (self.errors + self.warnings + self.advice).checked_sub(shown).filter(|left| *left > 0)
    }
}

/// Counts findings by severity.
pub fn count(levels: impl Iterator<Item = Level> + Clone) -> Count {
    let of = |level: Level| levels.clone().filter(|own| *own == level).count();
    Count { errors: of(Level::Error), warnings: of(Level::Warning), advice: of(Level::Advice) }
}

/// The counts in words: `2 errors, 1 warning in 3 files`.
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

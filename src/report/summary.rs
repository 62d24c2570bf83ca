//! The last line of a report: how many of each.

use crate::source::Level;

/// How many findings of each weight.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Count {
    /// Errors.
    pub errors: usize,
    /// Warnings.
    pub warnings: usize,
    /// Pieces of advice.
    pub advice: usize,
}

impl Count {
    /// The number of findings at this level or above; without a level, of errors.
    #[must_use]
    pub fn at_least(self, level: Option<Level>) -> usize {
        match level {
            Some(Level::Advice) => self.errors + self.warnings + self.advice,
            Some(Level::Warning) => self.errors + self.warnings,
            Some(Level::Error) | None => self.errors,
        }
    }

    /// How many of a report's findings are counted and not told, if so many are told.
    pub(super) fn left_out(self, told: usize) -> Option<usize> {
        (self.errors + self.warnings + self.advice).checked_sub(told).filter(|left| *left > 0)
    }
}

/// Counts findings by their weights.
#[must_use]
pub fn count(levels: impl Iterator<Item = Level> + Clone) -> Count {
    let of = |level: Level| levels.clone().filter(|own| *own == level).count();
    Count { errors: of(Level::Error), warnings: of(Level::Warning), advice: of(Level::Advice) }
}

/// The count in words: `2 errors, 1 warning in 3 files`.
#[must_use]
pub fn summary(count: Count, files: usize) -> String {
    let some = |many: usize, one: &str, more: &str| match many {
        0 => None,
        1 => Some(format!("1 {one}")),
        many => Some(format!("{many} {more}")),
    };
    let parts: Vec<String> = [
        some(count.errors, "error", "errors"),
        some(count.warnings, "warning", "warnings"),
        some(count.advice, "piece of advice", "pieces of advice"),
    ]
    .into_iter()
    .flatten()
    .collect();
    let files = some(files, "file", "files").unwrap_or_else(|| "no file".to_owned());
    if parts.is_empty() {
        format!("nothing to mend in {files}")
    } else {
        format!("{} in {files}", parts.join(", "))
    }
}

//! Tells how far a long run has come, for whoever sits before a terminal: how many files are done. How
//! many there are is not known before the last is found.

use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressStyle};

/// A run shorter than this shows nothing.
const PATIENCE: Duration = Duration::from_secs(1);

/// A line that comes up once the wait is felt, and is gone when this is dropped.
pub(super) struct Progress {
    started: Instant,
    bar: Option<ProgressBar>,
    done: u64,
}

impl Progress {
    /// Of a run that begins now.
    pub(super) fn new() -> Progress {
        Progress { started: Instant::now(), bar: None, done: 0 }
    }

    /// So many files more are done.
    pub(super) fn on(&mut self, files: usize) {
        self.done += u64::try_from(files).unwrap_or(0);
        if self.bar.is_none() && self.started.elapsed() > PATIENCE {
            let bar = ProgressBar::new_spinner();
            let style = ProgressStyle::with_template("{spinner} files checked: {pos}");
            self.bar = Some(style.map(|style| bar.clone().with_style(style)).unwrap_or(bar));
        }
        if let Some(bar) = &self.bar {
            bar.set_position(self.done);
            bar.tick();
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some(bar) = &self.bar {
            bar.finish_and_clear();
        }
    }
}

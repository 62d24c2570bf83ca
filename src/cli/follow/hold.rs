//! Measures how long a person holds a key.

use std::time::{Duration, Instant};

/// How long a key must be held to confirm something.
const HELD: Duration = Duration::from_secs(1);
/// The longest time between two events of a held key. Terminals report a held key as repeated presses, the second after
/// up to 0.66 s.
const REPEATED: Duration = Duration::from_millis(800);

/// The times of the first and the last press event of a held key.
#[derive(Default)]
pub(super) struct Hold(Option<(Instant, Instant)>);

impl Hold {
    /// Takes one press event. Returns whether the key has now been held for `HELD`; if so, the next event begins a new
    /// hold.
    pub(super) fn press(&mut self) -> bool {
        let now = Instant::now();
        let (first, _) = self.0.filter(|(_, last)| now - *last <= REPEATED).unwrap_or((now, now));
        let is_long = now - first >= HELD;
        self.0 = Some((first, now)).filter(|_| !is_long);
        is_long
    }

    /// How much of `HELD` has passed, in hundredths; 0 if the key is not held.
    pub(super) fn hundredths(&mut self) -> usize {
        self.0 = self.0.filter(|(_, last)| last.elapsed() <= REPEATED);
        let passed = |(first, _): (Instant, Instant)| first.elapsed().as_millis() * 100 / HELD.as_millis();
        self.0.map_or(0, |hold| usize::try_from(passed(hold)).unwrap_or(100).clamp(1, 100))
    }
}

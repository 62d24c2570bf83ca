//! R15. The one place where a time is rounded: once, half up, to a whole second.

use crate::model::Time;

/// A time in seconds as the schedule has it. Anything past 64 bits of milliseconds, which no recipe
/// within its ranges gives, comes out as the longest time there is, and is refused for its length.
#[must_use]
#[expect(clippy::cast_possible_truncation, reason = "held to the range just before")]
pub(super) fn to_second(seconds: f64) -> Time {
    let whole = libm::floor(seconds + 0.5);
    if (0.0..1e12).contains(&whole) { Time::from_seconds(whole as i64) } else { Time::from_ms(i64::MAX) }
}

/// A time that was not reckoned, to the same whole seconds, half up.
#[must_use]
pub(super) fn whole(time: Time) -> Time {
    Time::from_seconds(time.ms.saturating_add(500).div_euclid(1000))
}

//! How much film a bath treats (R13), in twelfths of a roll of 80 square inches; nothing is rounded before a decision.

use crate::model::{Dilution, Solution, Volume};
use crate::source::Span;

/// A volume of a solution, and the rolls that it treats.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Capacity {
    volume: Volume,
    rolls: u32,
    per: Volume,
    /// The line that states it.
    pub span: Span,
}

impl Capacity {
    /// The capacity of this volume by the line for its dilution, else by the line for any dilution. `None` without
    /// either.
    pub fn of(solution: &Solution, dilution: &Dilution, volume: Volume) -> Option<Capacity> {
        let exact = solution.treats.iter().find(|treats| treats.at.as_ref() == Some(dilution));
        let treats = exact.or_else(|| solution.treats.iter().find(|treats| treats.at.is_none()))?;
        Some(Capacity { volume, rolls: treats.rolls, per: treats.per, span: treats.span })
    }

    /// Whether this much film, in twelfths of a roll, is within the capacity.
    pub fn holds(self, twelfths: i64) -> bool {
        self.used_by(twelfths) <= self.whole()
    }

    /// Whether this much film uses all of it.
    pub fn is_used_up_by(self, twelfths: i64) -> bool {
        self.used_by(twelfths) >= self.whole()
    }

    /// Whether this much film uses nine tenths of it or more.
    pub fn is_nearly_used_up_by(self, twelfths: i64) -> bool {
        self.used_by(twelfths) * 10 >= self.whole() * 9
    }

    /// The capacity in whole twelfths of a roll.
    pub fn twelfths(self) -> i64 {
        self.in_parts_of_a_roll(12)
    }

    /// The capacity in whole parts of a roll, with this many parts to the roll.
    pub fn in_parts_of_a_roll(self, parts: i64) -> i64 {
        let all = self.whole() / 12 * i128::from(parts) / i128::from(self.per.fl.max(1));
        i64::try_from(all).unwrap_or(i64::MAX)
    }

    /// The smallest volume that treats this much film.
    pub fn enough_for(self, twelfths: i64) -> Volume {
        let each = i128::from(self.rolls.max(1)) * 12;
        Volume { fl: i64::try_from(self.used_by(twelfths) / each).unwrap_or(i64::MAX) }
    }

    /// In twelfths of a roll times femtolitres.
    fn used_by(self, twelfths: i64) -> i128 {
        i128::from(twelfths) * i128::from(self.per.fl)
    }

    /// In twelfths of a roll times femtolitres.
    fn whole(self) -> i128 {
        i128::from(self.volume.fl) * i128::from(self.rolls) * 12
    }
}

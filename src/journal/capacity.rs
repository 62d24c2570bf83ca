//! How far a volume of a solution goes (R13). Film is counted in twelfths of a roll of 80 square inches
//! and held to a ratio of whole numbers, so that nothing is rounded before it is decided.

use crate::model::{Dilution, Solution, Volume};
use crate::source::Span;

/// So many rolls for so much of it, and how much there is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Capacity {
    volume: Volume,
    rolls: u32,
    per: Volume,
    /// Where the solution says so.
    pub span: Span,
}

impl Capacity {
    /// What this much of the solution treats at that strength: by the line for the strength, else by the one
    /// for any; `None` where it has neither.
    #[must_use]
    pub fn of(solution: &Solution, dilution: &Dilution, volume: Volume) -> Option<Capacity> {
        let exact = solution.treats.iter().find(|treats| treats.at.as_ref() == Some(dilution));
        let treats = exact.or_else(|| solution.treats.iter().find(|treats| treats.at.is_none()))?;
        Some(Capacity { volume, rolls: treats.rolls, per: treats.per, span: treats.span })
    }

    /// Whether it does for so much film, in twelfths of a roll.
    #[must_use]
    pub fn holds(self, twelfths: i64) -> bool {
        self.taken(twelfths) <= self.room()
    }

    /// Whether so much film leaves nothing of it.
    #[must_use]
    pub fn is_used_up_by(self, twelfths: i64) -> bool {
        self.taken(twelfths) >= self.room()
    }

    /// Whether so much film takes nine tenths of it or more.
    #[must_use]
    pub fn is_nearly_used_up_by(self, twelfths: i64) -> bool {
        self.taken(twelfths) * 10 >= self.room() * 9
    }

    /// What it does for in all, in whole twelfths of a roll.
    #[must_use]
    pub fn twelfths(self) -> i64 {
        self.in_parts_of_a_roll(12)
    }

    /// The same in whole parts of a roll, so many to the roll.
    #[must_use]
    pub fn in_parts_of_a_roll(self, parts: i64) -> i64 {
        let all = self.room() / 12 * i128::from(parts) / i128::from(self.per.fl.max(1));
        i64::try_from(all).unwrap_or(i64::MAX)
    }

    /// The least volume that would do for so much film.
    #[must_use]
    pub fn enough_for(self, twelfths: i64) -> Volume {
        let each = i128::from(self.rolls.max(1)) * 12;
        Volume { fl: i64::try_from(self.taken(twelfths) / each).unwrap_or(i64::MAX) }
    }

    /// Twelfths of a roll times femtolitres.
    fn taken(self, twelfths: i64) -> i128 {
        i128::from(twelfths) * i128::from(self.per.fl)
    }

    fn room(self) -> i128 {
        i128::from(self.volume.fl) * i128::from(self.rolls) * 12
    }
}

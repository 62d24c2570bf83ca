//! A share of the mass of a mixture.

/// A share of the mass in units of 10⁻¹³ %, which is 1 pg in a litre of 1000 g.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Percent(pub i128);

impl Percent {
    /// The whole mass, 100 %.
    pub const WHOLE: Percent = Percent::thousandths(100_000);

    /// A share of this many thousandths of a percent.
    pub const fn thousandths(count: u32) -> Percent {
        Percent(count as i128 * 10_000_000_000)
    }

    /// The share after `part` parts of the mixture are diluted to `whole` parts, rounded up.
    pub fn diluted(self, part: u32, whole: u32) -> Percent {
        Percent(div_up(self.0 * i128::from(part), i128::from(whole.max(1))))
    }
}

pub(super) fn div_up(dividend: i128, divisor: i128) -> i128 {
    (dividend + divisor - 1).div_euclid(divisor)
}

//! Own tests of a developer: characteristic curves, contrast against time, and how sure a time is. Only numbers come in
//! and go out; this stage knows no files and no wording.
//!
//! Times are in minutes and temperatures in °C. Densities and the logarithm of exposure are in base 10. The definitions
//! are those of the US Navy's Photography (Advanced), NAVEDTRA 14208, 1995, chapter 2, and of ISO 6; where a number is
//! from memory, its place says so. All functions use `libm`, so every machine gives the same bits.

mod curve;
mod fit;
mod scale;
mod solve;
mod times;

pub use curve::{Curve, pooled};
pub use fit::{APART_MIN, Fit, Law, NoFit, Strip};
pub use scale::{OffScale, Scale};
pub use times::{Answer, Basis, DISAGREE, NoTime, Times};

/// One stop as a difference of the logarithm of exposure.
pub const STOP: f64 = core::f64::consts::LOG10_2;

/// The contrast for a scene of this many stops, if the negative's densities are to span 1.20, which suits a soft
/// enlarger on normal paper (1.20: not looked up). Seven stops are normal, eight are N-1, six are N+1.
pub fn contrast_for(stops: f64) -> f64 {
    DENSITY_RANGE / (STOP * stops)
}

/// The range of densities of a normal negative (not looked up).
const DENSITY_RANGE: f64 = 1.20;

//! Readings of a phone or a scanner as densities, by known steps in the same picture.

use crate::source::Sorted as _;

/// Known steps of a wedge in one picture: each has its density and its reading. Densities rise, readings fall.
#[derive(Debug, Clone, PartialEq)]
pub struct Scale {
    steps: Vec<(f64, f64)>,
}

/// A reading that is lighter or darker than every known step. Flare makes the density of such a reading unknowable.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OffScale {
    /// Lighter than the thinnest step.
    Lighter,
    /// Darker than the densest step.
    Darker,
}

impl Scale {
    /// A scale of known steps, each a density and its reading. `None` with fewer than two steps, if a reading is not
    /// positive, or if a denser step does not read darker.
    pub fn new(mut steps: Vec<(f64, f64)>) -> Option<Scale> {
        steps.order_by(|one, other| one.0.total_cmp(&other.0));
        let falls = steps.windows(2).all(|pair| match pair {
            [(thin, light), (dense, dark)] => thin < dense && light > dark,
            _ => true,
        });
        let are_readings = steps.iter().all(|(_, reading)| *reading > 0.0 && reading.is_finite());
        (steps.len() >= 2 && falls && are_readings).then_some(Scale { steps })
    }

    /// The density of a reading, interpolated between the two nearest steps. Between these, the density is taken as
    /// linear in the logarithm of the reading.
    ///
    /// # Errors
    /// The reading is outside the steps.
    pub fn density(&self, reading: f64) -> Result<f64, OffScale> {
        let darker = self.steps.iter().find(|(_, known)| *known <= reading);
        let lighter = self.steps.iter().rev().find(|(_, known)| *known >= reading);
        match (lighter, darker) {
            (None, _) => Err(OffScale::Lighter),
            (_, None) => Err(OffScale::Darker),
            (Some((thin, light)), Some((dense, dark))) if light > dark => {
                let share = libm::log(light / reading) / libm::log(light / dark);
                Ok(thin + (dense - thin) * share)
            }
            (Some((thin, _)), Some(_)) => Ok(*thin),
        }
    }
}

//! To what the things of a formula are measured out: finer than the parts of a bath, since a little of a strong
//! liquid does as much as a lot of a weak one.
//!
//! A graduated pipette of 25 ml is marked in tenths, a cylinder of 100 ml in whole millilitres and read to the
//! half: ISO 835 and ISO 4788, from memory. So from 5 ml on no more is lost than 1 %, where a sheet begins to
//! tell of it.

use crate::compile::measurable;
use crate::model::Volume;

/// The least that can be told apart at a volume: 0.1 ml under 25 ml, 0.5 ml under 100 ml, then as in a bath (R8).
pub(super) fn tells(volume: Volume) -> Volume {
    if volume < Volume::from_ml(25) {
        Volume { fl: Volume::ML / 10 }
    } else if volume < Volume::from_ml(100) {
        Volume { fl: Volume::ML / 2 }
    } else {
        measurable(volume)
    }
}

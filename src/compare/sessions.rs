//! The sessions of two recipes under the same conditions, to compare their times.

use std::sync::Arc;

use crate::compile::{Schedule, Tonight, compile};
use crate::model::{Duration, Format, Recipe, Rolls, Shelf, Temperature, Volume};

/// The volume of every bath. Any volume would do, because no time depends on the volume.
const VOLUME: Volume = Volume { fl: Volume::LITRE };

/// The sessions of two recipes, for one roll and without a tank, at the first temperature at which both compile. The
/// temperatures in `at` are tried first, then those at which a recipe states times. `None` if both recipes compile at
/// none of these temperatures.
pub fn sessions(old: &Recipe, new: &Recipe, at: &[Temperature]) -> Option<[Schedule; 2]> {
    let both = [old, new].map(|recipe| Arc::new(recipe.clone()));
    let stated = [old, new].into_iter().flat_map(stated);
    at.iter().copied().chain(stated).find_map(|at| {
        let session = |recipe: &Arc<Recipe>| {
            let rolls = vec![Rolls { count: 1, format: Format::F120 }];
            let tonight = Tonight { volume: Some(VOLUME), ..Tonight::new(at, rolls) };
            compile(&Shelf::default(), recipe, &tonight, Vec::new()).ok()
        };
        let [old, new] = &both;
        Some([session(old)?, session(new)?])
    })
}

fn stated(recipe: &Recipe) -> Vec<Temperature> {
    let of = |duration: &Duration| match duration {
        Duration::Plain { at: Some(at), .. } => vec![*at],
        Duration::Chart(chart) => chart.points().iter().map(|point| point.temperature).collect(),
        _ => Vec::new(),
    };
    recipe.steps.iter().flat_map(|step| of(&step.duration)).collect()
}

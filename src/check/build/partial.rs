//! Recipes with errors, as the rules about whole recipes check them. It is unknown what a line with an error would
//! state, so the recipe is completed in several ways. A finding counts only if every completion has it.

use std::sync::Arc;

use crate::chemistry::ingredients;
use crate::model::{
    Band, Bath, Contained, Dilution, Duration, Lighting, Pulse, Recipe, Role, Scheme, Solution, Stated, Step,
    Temperature, Time,
};
use crate::source::Span;

/// What is known of a recipe with errors, so that the rules can check it.
#[derive(Debug)]
pub(crate) struct Partial {
    /// The recipe with all its steps in order. A step with errors has only those values that could be read.
    pub(super) recipe: Recipe,
    /// For each step of `recipe`, what is unknown; `None` for a step without errors.
    pub(super) unknown: Vec<Option<Unknown>>,
    /// Whether every line outside of steps could be read without an error.
    pub(super) knows_lines: bool,
    /// Whether the kind, the name and the position of every step are known.
    pub(super) knows_steps: bool,
}

/// What is unknown of a step with errors. `bath` is true if its bath could not be read. Any other value that the step
/// lacks may be on a line with an error, too.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Unknown {
    pub(super) bath: bool,
}

/// The time that stands for the unknown time of a step, long enough for any step.
const LONG: Time = Time::from_seconds(3600);

impl Partial {
    pub(crate) fn span(&self) -> Span {
        self.recipe.span
    }

    pub(crate) fn known(&self) -> &Recipe {
        &self.recipe
    }

    pub(crate) fn knows_lines(&self) -> bool {
        self.knows_lines
    }

    pub(crate) fn sound_steps(&self) -> impl Iterator<Item = &Step> {
        self.recipe
            .steps
            .iter()
            .zip(&self.unknown)
            .filter(|(_, unknown)| unknown.is_none())
            .map(|(step, _)| step)
    }

    /// A copy of `step` with a band of temperatures, if the step has none and a line of the recipe with an error may
    /// state one; otherwise `None`.
    pub(crate) fn with_band(&self, step: &Step) -> Option<Step> {
        let is_open = !self.knows_lines && step.band.is_none() && step.kind.is_wet();
        let band = Band::Between(Temperature::celsius_whole(20), Temperature::celsius_whole(20));
        is_open.then(|| Step { band: Some(Stated::new(band, step.span)), ..step.clone() })
    }

    /// The recipe completed in several ways. First, without the steps that have errors. Second, with the known values
    /// of these steps. Then with their unknown values filled in, once for each role that an unknown bath may have.
    /// Empty unless `knows_steps`.
    pub(crate) fn completions(&self) -> impl Iterator<Item = Recipe> {
        let without = std::iter::once_with(|| self.without());
        let known = std::iter::once_with(|| self.recipe.clone());
        let needs_bath = self.unknown.iter().flatten().any(|unknown| unknown.bath);
        let roles = if needs_bath { &Role::ALL[..] } else { Role::ALL.get(..1).unwrap_or_default() };
        let filled = roles.iter().map(|role| self.filled(*role));
        without.chain(known).chain(filled).filter(|_| self.knows_steps)
    }

    fn without(&self) -> Recipe {
        let places = self.unknown.iter().enumerate().filter(|(_, unknown)| unknown.is_none());
        let places: Vec<usize> = places.map(|(place, _)| place).collect();
        let mut steps: Vec<Step> = self.sound_steps().cloned().collect();
        for bath in steps.iter_mut().filter_map(|step| step.bath.as_mut()) {
            // `used` is the index of an earlier step, which changes when steps are removed.
            bath.used = bath.used.and_then(|used| places.iter().position(|place| *place == used));
        }
        Recipe { steps, ..self.recipe.clone() }
    }

    /// A copy of the recipe in which the unknown values of its steps are filled in. An unknown bath gets the role
    /// `role`.
    fn filled(&self, role: Role) -> Recipe {
        let mut recipe = self.recipe.clone();
        if !self.knows_lines {
            recipe.lighting.get_or_insert(Stated::new(Lighting::Room, recipe.span));
        }
        for (step, unknown) in recipe.steps.iter_mut().zip(&self.unknown) {
            let Some(unknown) = unknown else { continue };
            let span = step.span;
            step.lighting.get_or_insert(Stated::new(Lighting::Room, span));
            step.agitation.get_or_insert_with(|| Stated::new(continuous(span), span));
            if step.band.is_none() {
                // 38 °C, the usual temperature of a colour process.
                step.at.get_or_insert(Stated::new(Temperature::celsius_whole(38), span));
            }
            if unknown.bath {
                step.bath = Some(any_bath(role, span));
            }
        }
        recipe
    }
}

pub(super) fn any_duration(span: Span) -> Stated<Duration> {
    Stated::new(Duration::Plain { time: LONG, at: None }, span)
}

fn continuous(span: Span) -> Scheme {
    Scheme {
        name: None,
        pulse: Pulse::Continuous,
        by: None,
        inversion: Scheme::INVERSION,
        knock: None,
        stand: false,
        notes: Vec::new(),
        span,
    }
}

/// A bath in a solution of this role. It contains every ingredient of the program's table, so that no rule finds that
/// an ingredient is missing.
fn any_bath(role: Role, span: Span) -> Bath {
    let contained = |ingredient| Contained { ingredient, share: None, per_litre: None, span };
    let solution = Solution {
        name: String::new(),
        title: String::new(),
        span,
        extent: span,
        role: Some(role),
        parts: Vec::new(),
        formulas: Vec::new(),
        contains: ingredients().iter().map(contained).collect(),
        has_unlisted: true,
        declared: Vec::new(),
        ph: None,
        needs: None,
        treats: Vec::new(),
        extend: None,
        replenish: None,
        replenisher: None,
        rate: None,
        keeps: Vec::new(),
        cautions: Vec::new(),
        notes: Vec::new(),
    };
    Bath {
        solution: Some(Arc::new(solution)),
        part: None,
        dilution: Dilution::stock(),
        name: None,
        reuse: None,
        becomes: None,
        added: None,
        used: None,
        span,
    }
}

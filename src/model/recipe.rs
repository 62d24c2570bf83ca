//! A recipe and its film.

use std::fmt::{self, Display, Formatter};
use std::ops::Deref;
use std::sync::Arc;

use super::date::Date;
use super::quantity::{Temperature, Time};
use super::solution::{Dilution, Solution};
use super::step::{Bath, Step, Use};
use super::words::words;
use crate::source::{FileId, Span};

/// A value, and where the file states it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stated<T> {
    /// The value that the file states.
    pub value: T,
    /// The span of the value in the file.
    pub span: Span,
}

impl<T> Stated<T> {
    /// A value that the file states at this span.
    pub fn new(value: T, span: Span) -> Stated<T> {
        Stated { value, span }
    }
}

impl<T> Deref for Stated<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.value
    }
}

/// A recipe, including everything that it inherits. A recipe without a film is a base recipe and cannot be compiled.
#[derive(Debug, Clone)]
pub struct Recipe {
    /// The recipe's name.
    pub name: String,
    /// The recipe's title, or else the name.
    pub title: String,
    /// The file that declares the recipe.
    pub file: FileId,
    /// The span of the recipe's header line.
    pub span: Span,
    /// The span of the whole declaration, from the header to the closing brace.
    pub extent: Span,
    /// The file and name of the recipe from which this recipe is derived, if any.
    pub parent: Option<(FileId, String)>,
    /// The recipe's film.
    pub film: Option<Stated<Arc<Film>>>,
    /// The material of a base recipe whose times hold for every film (`film any`), every paper or every plate; `None`
    /// for any other recipe.
    pub any: Option<Material>,
    /// The light in which the recipe begins; darkness if not stated.
    pub lighting: Option<Stated<Lighting>>,
    /// The tests of the recipe, in the order of the file.
    pub tested: Vec<Tested>,
    /// Why the recipe should no longer be used, if the file says so.
    pub deprecated: Option<Stated<Arc<Deprecated>>>,
    /// The recipe's exposure index.
    pub index: Option<Stated<u32>>,
    /// The recipe's steps, at least one.
    pub steps: Vec<Step>,
    /// The steps that are done several times in turn.
    pub repeat: Option<Stated<Repeat>>,
    /// The recipe's notes, which the card shows.
    pub notes: Vec<String>,
    /// The recipe's cautions, which come first on the card.
    pub cautions: Vec<String>,
}

/// A test of a recipe.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tested {
    /// The day of the test.
    pub date: Date,
    /// How the recipe was tested, if stated.
    pub text: Option<String>,
}

/// Why a recipe should no longer be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Deprecated {
    /// The reason, as the recipe states it.
    pub reason: String,
    /// The recipe to use instead, by its name in the file of the deprecated recipe.
    pub instead: Option<String>,
}

impl Display for Tested {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        write!(out, "{}", self.date)?;
        self.text.iter().try_for_each(|text| write!(out, ": {text}"))
    }
}

impl Display for Deprecated {
    fn fmt(&self, out: &mut Formatter<'_>) -> fmt::Result {
        out.write_str(&self.reason)?;
        self.instead.iter().try_for_each(|instead| write!(out, "; use {instead}"))
    }
}

words! {
    /// The material that carries the emulsion.
    #[derive(Default)]
    pub enum Material {
        #[default]
        Film = "film",
        Paper = "paper",
        /// A glass plate.
        Plate = "plate",
    }
}

/// The light in which a step is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Lighting {
    /// No light at all.
    None,
    /// Full room light.
    Room,
    /// A lamp whose light does not harm the material, such as `amber, 1.2 m away`.
    Safelight(String),
}

/// Steps that are done several times in turn, as in `repeat from develop to wash still, 3 times`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Repeat {
    /// The index of the first repeated step.
    pub first: usize,
    /// The index of the last repeated step.
    pub last: usize,
    /// How many times the steps are done, at least twice.
    pub rounds: u32,
}

impl Repeat {
    fn length(self) -> usize {
        self.last.saturating_sub(self.first) + 1
    }

    /// The index of a step in the recipe with all rounds written out. `round`, counted from 0, matters only for a
    /// repeated step.
    fn index(self, step: usize, round: usize) -> usize {
        match step {
            _ if step < self.first => step,
            _ if step <= self.last => step + round * self.length(),
            _ => step + (self.rounds as usize).saturating_sub(1) * self.length(),
        }
    }
}

impl Recipe {
    /// The recipe with every round of its repeated steps written out. A bath that is not kept is mixed once and used in
    /// all rounds.
    pub fn written_out(self: &Arc<Recipe>) -> Arc<Recipe> {
        let Some(repeat) = self.repeat.map(|repeat| repeat.value) else { return Arc::clone(self) };
        let is_repeated = |at: usize| (repeat.first..=repeat.last).contains(&at);
        let mut steps: Vec<Step> = Vec::new();
        let mut add = |at: usize, step: &Step, round: usize| {
            let mut step = step.clone();
            let is_inside = is_repeated(at);
            step.round = is_inside
                .then(|| (u32::try_from(round).unwrap_or(u32::MAX).saturating_add(1), repeat.rounds));
            if let Some(bath) = &mut step.bath {
                let last = (repeat.rounds as usize).saturating_sub(1);
                let round_of = |used: usize| if is_inside && is_repeated(used) { round } else { last };
                bath.used = bath.used.map(|used| repeat.index(used, round_of(used)));
                if round > 0
                    && bath.used.is_none()
                    && bath.solution.is_some()
                    && !bath.reuse.is_some_and(Use::is_kept)
                {
                    bath.used = Some(repeat.index(at, 0));
                }
            }
            steps.push(step);
        };
        let all = || self.steps.iter().enumerate();
        all().filter(|(at, _)| *at < repeat.first).for_each(|(at, step)| add(at, step, 0));
        for round in 0..repeat.rounds as usize {
            all().filter(|(at, _)| is_repeated(*at)).for_each(|(at, step)| add(at, step, round));
        }
        all().filter(|(at, _)| *at > repeat.last).for_each(|(at, step)| add(at, step, 0));
        Arc::new(Recipe { steps, repeat: None, ..(**self).clone() })
    }
}

/// A film, a paper or a glass plate.
#[derive(Debug, Clone, Default)]
pub struct Film {
    /// Whether this is a film, a paper or a glass plate.
    pub material: Material,
    /// Whether both sides are coated with emulsion.
    pub both_sides: bool,
    /// The film's name.
    pub name: String,
    /// The film's title, or else the name.
    pub title: String,
    /// The span of the film's header line.
    pub span: Span,
    /// The span of the whole declaration, from the header to the closing brace.
    pub extent: Span,
    /// The film's grain.
    pub grain: Option<Grain>,
    /// The film's nominal speed (ISO).
    pub speed: Option<Stated<u32>>,
    /// The film's clearing times.
    pub clears: Vec<Clearing>,
    /// The film's cautions.
    pub cautions: Vec<String>,
    /// The film's notes, which the card shows.
    pub notes: Vec<String>,
}

impl Film {
    /// The number of coated sides, 1 or 2.
    pub fn sides(&self) -> i64 {
        if self.both_sides { 2 } else { 1 }
    }

    /// The clearing time of the film in this bath, if stated.
    pub fn clearing_in(&self, bath: &Bath) -> Option<&Clearing> {
        self.clearing_at(bath.solution.as_ref()?, &bath.dilution)
    }

    /// The clearing time of the film in a solution at a dilution, if stated.
    pub fn clearing_at(&self, solution: &Arc<Solution>, dilution: &Dilution) -> Option<&Clearing> {
        self.clears.iter().find(|row| Arc::ptr_eq(&row.solution, solution) && row.dilution == *dilution)
    }
}

words! {
    /// The form of the silver halide crystals. Tabular grain fixes more slowly.
    pub enum Grain {
        /// Crystals of the classic form.
        Conventional = "conventional",
        /// Flat crystals.
        Tabular = "tabular",
    }
}

/// The clearing time of a film in a fixer (R11).
#[derive(Debug, Clone)]
pub struct Clearing {
    /// The time in the fixer until the film is clear.
    pub time: Time,
    /// The fixer in which the film clears.
    pub solution: Arc<Solution>,
    /// The dilution of the fixer, for which the time holds.
    pub dilution: Dilution,
    /// The temperature of the fixer, for which the time holds.
    pub at: Temperature,
    /// The span of the line that states the clearing time.
    pub span: Span,
}

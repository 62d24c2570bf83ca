//! The declarations of all files, after checking.

use std::sync::Arc;

use super::collection::Collection;
use super::darkroom::Darkroom;
use super::recipe::{Film, Recipe};
use super::solution::Solution;
use super::step::Step;
use super::tank::Tank;
use super::trial::{Thermometer, Trial};
use crate::source::{FileId, Span};

/// The checked declarations of all files that were read.
#[derive(Debug, Clone, Default)]
pub struct Shelf {
    /// The recipes without errors, in the order of files and lines.
    pub recipes: Vec<Arc<Recipe>>,
    /// The tanks that each file declares or imports, with their names in that file.
    pub tanks: Vec<(FileId, String, Arc<Tank>)>,
    /// The solutions without errors, with their files.
    pub solutions: Vec<(FileId, Arc<Solution>)>,
    /// The films, papers and plates without errors, with their files.
    pub films: Vec<(FileId, Arc<Film>)>,
    /// The trials without errors, with their files.
    pub trials: Vec<(FileId, Arc<Trial>)>,
    /// The thermometers that files declare.
    pub thermometers: Vec<Thermometer>,
    /// The collections, in the order of files.
    pub collections: Vec<Collection>,
    /// The bottles, clearing tests, sessions and backlogs.
    pub darkroom: Darkroom,
    /// Declarations that have errors, or that use a declaration with errors.
    pub unsound: Unsound,
}

/// The files that have declarations with errors, and the recipes that use such declarations.
#[derive(Debug, Clone, Default)]
pub struct Unsound {
    /// The file of each recipe with errors.
    pub recipes: Vec<FileId>,
    /// The recipes that have no errors of their own, but use a declaration with errors.
    pub sound_alone: Vec<Arc<Recipe>>,
    /// The file of each solution with errors.
    pub solutions: Vec<FileId>,
    /// The file of each tank with errors.
    pub tanks: Vec<FileId>,
}

impl Shelf {
    /// The recipe that this file declares with this name; `None` if it has errors or does not exist.
    pub fn recipe(&self, file: FileId, name: &str) -> Option<&Arc<Recipe>> {
        self.recipes.iter().find(|recipe| recipe.file == file && recipe.name == name)
    }

    /// The tanks that a file declares or imports, with their names in that file.
    pub fn tanks_of(&self, file: FileId) -> impl Iterator<Item = (&str, &Arc<Tank>)> {
        self.tanks.iter().filter(move |(of, ..)| *of == file).map(|(_, name, tank)| (name.as_str(), tank))
    }

    /// The solutions of a file, in the order of its lines.
    pub fn solutions_of(&self, file: FileId) -> impl Iterator<Item = &Arc<Solution>> {
        self.solutions.iter().filter(move |(of, _)| *of == file).map(|(_, solution)| solution)
    }

    /// A recipe, and all recipes derived from it, directly or indirectly.
    pub fn family(&self, of: &Recipe) -> Vec<&Arc<Recipe>> {
        let is_it = |recipe: &Recipe| recipe.file == of.file && recipe.name == of.name;
        self.recipes.iter().filter(|recipe| self.with_parents(recipe).any(is_it)).collect()
    }

    /// The spans of the declarations that make up a recipe: its own, and those of its parents, film and solutions.
    pub fn made_of(&self, recipe: &Recipe) -> Vec<Span> {
        let mut extents: Vec<Span> = self.with_parents(recipe).map(|one| one.extent).collect();
        extents.extend(recipe.film.iter().map(|film| film.extent));
        extents.extend(recipe.steps.iter().flat_map(Step::solutions).map(|solution| solution.extent));
        extents
    }

    fn with_parents<'a>(&'a self, recipe: &'a Recipe) -> impl Iterator<Item = &'a Recipe> {
        std::iter::successors(Some(recipe), |recipe| {
            let (file, name) = recipe.parent.as_ref()?;
            self.recipe(*file, name).map(Arc::as_ref)
        })
    }
}

//! All that a run knows once its files are checked.

use std::sync::Arc;

use super::darkroom::Darkroom;
use super::recipe::Recipe;
use super::solution::Solution;
use super::tank::Tank;
use crate::source::{FileId, Span};

/// The checked declarations of the files of a run.
#[derive(Debug, Clone, Default)]
pub struct Shelf {
    /// The recipes without errors, in the order of files and lines.
    pub recipes: Vec<Arc<Recipe>>,
    /// The tanks that each file can name, with their names there.
    pub tanks: Vec<(FileId, String, Arc<Tank>)>,
    /// The solutions without errors, with their files.
    pub solutions: Vec<(FileId, Arc<Solution>)>,
    /// Bottles, tests, sessions and backlogs.
    pub darkroom: Darkroom,
    /// Declarations with errors, or that need one with errors.
    pub unsound: Unsound,
}

/// The files of declarations that are not on the shelf.
#[derive(Debug, Clone, Default)]
pub struct Unsound {
    /// Recipes.
    pub recipes: Vec<FileId>,
    /// The recipes without an error of their own.
    pub sound_alone: Vec<Arc<Recipe>>,
    /// Solutions.
    pub solutions: Vec<FileId>,
    /// Tanks.
    pub tanks: Vec<FileId>,
}

impl Shelf {
    /// The recipe with this name in this file.
    pub fn recipe(&self, file: FileId, name: &str) -> Option<&Arc<Recipe>> {
        self.recipes.iter().find(|recipe| recipe.file == file && recipe.name == name)
    }

    /// The tanks that a file can name.
    pub fn tanks_of(&self, file: FileId) -> impl Iterator<Item = (&str, &Arc<Tank>)> {
        self.tanks.iter().filter(move |(of, ..)| *of == file).map(|(_, name, tank)| (name.as_str(), tank))
    }

    /// The solutions of a file, in the order of its lines.
    pub fn solutions_of(&self, file: FileId) -> impl Iterator<Item = &Arc<Solution>> {
        self.solutions.iter().filter(move |(of, _)| *of == file).map(|(_, solution)| solution)
    }

    /// A recipe and all recipes derived from it, also indirectly.
    pub fn family(&self, of: &Recipe) -> Vec<&Arc<Recipe>> {
        self.recipes.iter().filter(|recipe| self.descends(recipe, of)).collect()
    }

    /// The declarations of a recipe, its parents, its film and its solutions.
    pub fn made_of(&self, recipe: &Recipe) -> Vec<Span> {
        let mut extents = vec![recipe.extent];
        let mut parent = recipe.parent.as_ref();
        while let Some(one) = parent.and_then(|(file, name)| self.recipe(*file, name)) {
            extents.push(one.extent);
            parent = one.parent.as_ref();
        }
        extents.extend(recipe.film.iter().map(|film| film.extent));
        let baths = recipe.steps.iter().filter_map(|step| step.bath.as_ref());
        extents.extend(baths.filter_map(|bath| bath.solution.as_ref()).map(|solution| solution.extent));
        extents
    }

    fn descends(&self, recipe: &Recipe, from: &Recipe) -> bool {
        let mut now = Some(recipe);
        for _ in 0..=self.recipes.len() {
            let Some(this) = now else { return false };
            if this.file == from.file && this.name == from.name {
                return true;
            }
            now = this.parent.as_ref().and_then(|(file, name)| self.recipe(*file, name)).map(Arc::as_ref);
        }
        false
    }
}

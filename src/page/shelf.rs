//! What a shelf declares, as a page lists it.

use std::sync::Arc;

use serde::Serialize;

use super::desk::MemoryDesk;
use crate::check::{Levels, check_all};
use crate::model::{self, Fingerprint, Shelf, Step};
use crate::source::{FileId, Files as _, Level, Set, Sources};

/// What the recipe files of a page declare, in the order of files and lines.
#[derive(Debug, Default, Serialize)]
pub struct ShelfList {
    /// The recipes that have a film and no errors.
    pub recipes: Vec<Recipe>,
    /// The films, papers and plates.
    pub films: Vec<Film>,
    /// The solutions.
    pub solutions: Vec<Solution>,
    /// The tanks.
    pub tanks: Vec<Tank>,
    /// The names of the files with errors.
    pub unsound: Vec<String>,
}

/// A recipe.
#[derive(Debug, Serialize)]
pub struct Recipe {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// The file that declares it.
    pub file: String,
    /// The title of the recipe's film.
    pub film: String,
    /// The exposure index.
    pub index: Option<u32>,
    /// The titles of the solutions of all steps, each once.
    pub solutions: Vec<String>,
    /// The kinds of the steps, such as `develop`, in order.
    pub steps: Vec<&'static str>,
    /// The short form of the recipe's fingerprint.
    pub fingerprint: String,
    /// Why the recipe is no longer to be used, if its author says so.
    pub deprecated: Option<String>,
}

/// A film, a paper or a plate.
#[derive(Debug, Serialize)]
pub struct Film {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// The file that declares it.
    pub file: String,
    /// `film`, `paper` or `plate`.
    pub material: &'static str,
    /// The ISO speed, if stated.
    pub speed: Option<u32>,
}

/// A solution.
#[derive(Debug, Serialize)]
pub struct Solution {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// The file that declares it.
    pub file: String,
    /// What the solution is for, such as `developer`, if stated.
    pub role: Option<&'static str>,
    /// Whether the solution has a formula to weigh.
    pub formula: bool,
}

/// A tank.
#[derive(Debug, Serialize)]
pub struct Tank {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// The file that declares it.
    pub file: String,
    /// The film formats of the tank's reels, such as `120`.
    pub formats: Vec<String>,
}

/// What these files declare. Declarations without errors are listed even if their file has errors.
pub(super) fn listed(desk: &MemoryDesk) -> ShelfList {
    let mut sources = Sources::default();
    let read = |name: &String| Some((name.clone(), desk.read(name).ok()?));
    let texts: Vec<(String, String)> = desk.names().iter().filter_map(read).collect();
    let roots: Vec<FileId> = texts.into_iter().map(|(name, text)| sources.add(name, text)).collect();
    let (shelf, findings) = check_all(&mut sources, &roots, desk, &Levels::default());
    let with_errors =
        findings.iter().filter(|found| found.level == Level::Error).map(|found| found.span.file);
    let unsound: Set<FileId> = with_errors.collect();
    ShelfList {
        recipes: shelf.recipes.iter().filter_map(|one| recipe(one, &sources)).collect(),
        films: shelf.films.iter().map(|(file, one)| film(one, sources.name(*file))).collect(),
        solutions: shelf.solutions.iter().map(|(file, one)| solution(one, sources.name(*file))).collect(),
        tanks: tanks(&shelf, &sources),
        unsound: unsound.into_iter().map(|file| sources.name(file).to_owned()).collect(),
    }
}

/// The entry of a recipe; `None` if it has no film, because it is only a base of other recipes.
fn recipe(recipe: &model::Recipe, sources: &Sources) -> Option<Recipe> {
    let film = recipe.film.as_ref()?;
    let mut solutions: Vec<String> = Vec::new();
    for solution in recipe.steps.iter().flat_map(Step::solutions) {
        if !solutions.contains(&solution.title) {
            solutions.push(solution.title.clone());
        }
    }
    Some(Recipe {
        name: recipe.name.clone(),
        title: recipe.title.clone(),
        file: sources.name(recipe.file).to_owned(),
        film: film.title.clone(),
        index: recipe.index.map(|index| *index),
        solutions,
        steps: recipe.steps.iter().map(|step| step.kind.word()).collect(),
        fingerprint: Fingerprint::of(recipe).to_string(),
        deprecated: recipe.deprecated.as_ref().map(|why| why.reason.clone()),
    })
}

fn film(film: &model::Film, file: &str) -> Film {
    Film {
        name: film.name.clone(),
        title: film.title.clone(),
        file: file.to_owned(),
        material: film.material.word(),
        speed: film.speed.map(|speed| *speed),
    }
}

fn solution(solution: &model::Solution, file: &str) -> Solution {
    Solution {
        name: solution.name.clone(),
        title: solution.title.clone(),
        file: file.to_owned(),
        role: solution.role.map(model::Role::word),
        formula: !solution.formulas.is_empty(),
    }
}

/// The tanks, each only in the file that declares it.
fn tanks(shelf: &Shelf, sources: &Sources) -> Vec<Tank> {
    let own = shelf.tanks.iter().filter(|(file, name, one)| (*file, name) == (one.span.file, &one.name));
    let one = |(file, _, tank): &(FileId, String, Arc<model::Tank>)| Tank {
        name: tank.name.clone(),
        title: tank.title.clone(),
        file: sources.name(*file).to_owned(),
        formats: tank.reels.iter().map(|reels| reels.format.to_string()).collect(),
    };
    own.map(one).collect()
}

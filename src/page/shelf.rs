//! What a shelf declares, in the form in which a page lists it.

use std::sync::Arc;

use serde::Serialize;

use super::desk::MemoryDesk;
use crate::check::{Levels, check_all};
use crate::model::{self, Fingerprint, Shelf, Step};
use crate::source::{FileId, Files as _, Level, Set, Sources};

/// What the recipe files of a page declare, in the order of files and of lines.
#[derive(Debug, Default, Serialize)]
pub struct ShelfList {
    /// The recipes that have a film and no errors.
    pub recipes: Vec<Recipe>,
    /// The films, papers and plates without errors.
    pub films: Vec<Film>,
    /// The solutions without errors.
    pub solutions: Vec<Solution>,
    /// The tanks without errors.
    pub tanks: Vec<Tank>,
    /// The names of the files with errors.
    pub unsound: Vec<String>,
}

/// The entry of a recipe in the list.
#[derive(Debug, Serialize)]
pub struct Recipe {
    /// The name of the recipe.
    pub name: String,
    /// The title of the recipe.
    pub title: String,
    /// The name of the file that declares the recipe.
    pub file: String,
    /// The title of the recipe's film.
    pub film: String,
    /// The exposure index of the recipe, if it states one.
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

/// The entry of a film, a paper or a plate in the list.
#[derive(Debug, Serialize)]
pub struct Film {
    /// The name of the film, paper or plate.
    pub name: String,
    /// The title of the film, paper or plate.
    pub title: String,
    /// The name of the file that declares the film, paper or plate.
    pub file: String,
    /// `film`, `paper` or `plate`.
    pub material: &'static str,
    /// The nominal ISO speed, if the file states it.
    pub speed: Option<u32>,
}

/// The entry of a solution in the list.
#[derive(Debug, Serialize)]
pub struct Solution {
    /// The name of the solution.
    pub name: String,
    /// The title of the solution.
    pub title: String,
    /// The name of the file that declares the solution.
    pub file: String,
    /// What the solution is for, such as `developer`, if the file states it.
    pub role: Option<&'static str>,
    /// Whether the solution has a formula to weigh.
    pub formula: bool,
}

/// The entry of a tank in the list.
#[derive(Debug, Serialize)]
pub struct Tank {
    /// The name of the tank.
    pub name: String,
    /// The title of the tank.
    pub title: String,
    /// The name of the file that declares the tank.
    pub file: String,
    /// The film formats of the tank's reels, such as `120`.
    pub formats: Vec<String>,
}

/// What the recipe files in memory declare. Declarations without errors are listed even if their file has errors.
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

/// The tanks, each only for the file that declares it.
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

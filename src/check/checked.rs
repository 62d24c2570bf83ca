//! Checks a file by its name.

use std::ops::Deref;
use std::sync::Arc;

use super::check;
use super::level::Levels;
use crate::model::{Recipe, Shelf, Tank};
use crate::report::{Look, draw};
use crate::source::{Diagnostic, FileId, Files, Level, NotRead, Sources};

/// A checked file, with those it uses.
#[derive(Debug)]
pub struct Checked {
    /// The texts that were read.
    pub sources: Sources,
    /// The named file.
    pub file: FileId,
    /// Their sound declarations.
    pub shelf: Shelf,
    /// The findings, in the order of files and places.
    pub findings: Vec<Diagnostic>,
}

/// A sound recipe of a checked file, which can be compiled.
#[derive(Debug, Clone, Copy)]
pub struct CheckedRecipe<'a> {
    pub(crate) checked: &'a Checked,
    pub(crate) recipe: &'a Arc<Recipe>,
}

impl Deref for CheckedRecipe<'_> {
    type Target = Recipe;

    fn deref(&self) -> &Recipe {
        self.recipe
    }
}

/// Checks the file with this name, and the files that it uses.
///
/// # Errors
/// The named file cannot be read. An unreadable used file is a finding instead.
pub fn check_file(files: &dyn Files, name: &str) -> Result<Checked, NotRead> {
    let mut sources = Sources::default();
    let name = files.resolve("", name)?;
    let text = files.read(&name)?;
    let file = sources.add(name, text);
    let (shelf, findings) = check(&mut sources, &[file], files, &Levels::default());
    Ok(Checked { sources, file, shelf, findings })
}

impl Checked {
    /// Whether there is an error; recipes without errors are sound nevertheless.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.findings.iter().any(|finding| finding.level == Level::Error)
    }

    /// These diagnostics as text, each with its lines.
    #[must_use]
    pub fn report(&self, diagnostics: &[Diagnostic]) -> String {
        draw(&self.sources, diagnostics, Look::Plain)
    }

    /// The sound recipes of the file, in its order.
    pub fn recipes(&self) -> impl Iterator<Item = CheckedRecipe<'_>> {
        let own = self.shelf.recipes.iter().filter(|recipe| recipe.file == self.file);
        own.map(|recipe| CheckedRecipe { checked: self, recipe })
    }

    /// The sound recipe of this name in the file.
    #[must_use]
    pub fn recipe(&self, name: &str) -> Option<CheckedRecipe<'_>> {
        self.recipes().find(|recipe| recipe.name == name)
    }

    /// The tank of this name that the file declares or uses.
    #[must_use]
    pub fn tank(&self, name: &str) -> Option<&Arc<Tank>> {
        self.shelf.tanks_of(self.file).find(|(own, _)| *own == name).map(|(_, tank)| tank)
    }
}

//! One side of a comparison: a file, a file and a recipe of it, a recipe that is looked for, or any of a
//! file's recipes as they were at a revision.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::disk::Disk;
use super::failure::Failure;
use super::find::Index;
use super::levels::levels;
use super::revision::Revision;
use super::sought::Sought;
use crate::check::check;
use crate::model::{Recipe, Shelf};
use crate::source::{Diagnostic, FileId, Level, Sources};
use crate::vocabulary::Declared;

/// What a person wrote for a side.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Named {
    from: From,
    /// The recipe's name, where the side says one.
    pub(super) recipe: Option<String>,
}

/// Where a side's text is.
#[derive(Debug, Clone, PartialEq, Eq)]
enum From {
    /// A file, or `-` for standard input.
    File(PathBuf),
    /// A file at a revision, by its path from this folder.
    Revision(String, String),
    /// The file below this folder that declares the recipe.
    Name,
}

/// A side, read and checked.
#[derive(Debug)]
pub(super) struct Side {
    pub(super) sources: Sources,
    shelf: Shelf,
    file: FileId,
    /// The files of this folder that were read; none of a revision.
    disk: Disk,
}

impl Named {
    /// Reads `FILE.wet`, `FILE.wet:NAME`, `REV:FILE.wet`, `REV:FILE.wet:NAME`, `NAME` or `-`. What is there
    /// as a file is that file, whatever its name looks like.
    pub(super) fn of(given: &Path) -> Named {
        let file = |path: &Path| From::File(path.to_owned());
        let whole = Named { from: file(given), recipe: None };
        let Some(text) = given.to_str().filter(|text| *text != "-" && !given.exists()) else { return whole };
        let (path, recipe) = match text.rsplit_once(':') {
            Some((path, name)) if path.ends_with(".wet") && !name.ends_with(".wet") => (path, Some(name)),
            Some(_) | None => (text, None),
        };
        let recipe = recipe.map(str::to_owned);
        match path.split_once(':') {
            _ if Path::new(path).exists() => Named { from: file(Path::new(path)), recipe },
            Some((revision, path)) => {
                Named { from: From::Revision(revision.to_owned(), path.to_owned()), recipe }
            }
            None if recipe.is_some() || path.ends_with(".wet") || path.contains('/') => {
                Named { from: file(Path::new(path)), recipe }
            }
            None => Named { from: From::Name, recipe: Some(path.to_owned()) },
        }
    }

    /// Whether it is standard input, which can be read once.
    pub(super) fn is_standard_input(&self) -> bool {
        self.from == From::File(PathBuf::from("-"))
    }

    /// Reads and checks the side, by the weights of its file's house; what was at a revision is weighed by
    /// the house of this folder as it is now. The inner error is the recipe's, the outer the call's.
    pub(super) fn read(&self, no_config: bool) -> Result<Result<Side, (Sources, Vec<Diagnostic>)>, Failure> {
        let (mut sources, mut disk) = (Sources::default(), Disk::default());
        let (file, (shelf, findings)) = match &self.from {
            From::Revision(named, path) => {
                let revision = Revision::of(named)?;
                let file = revision.read_named(&mut sources, path)?;
                let levels = levels(&[], &[], no_config)?;
                (file, check(&mut sources, &[file], &revision, &levels))
            }
            From::File(path) => on_disk(&mut sources, &mut disk, path, no_config)?,
            From::Name => {
                let name = self.recipe.as_deref().unwrap_or_default();
                let sought = Sought::below(Declared::Recipe, name).called(format!("FILE.wet:{name}"));
                let path = Index::of_name(Declared::Recipe, name).find(&sought)?;
                on_disk(&mut sources, &mut disk, &path, no_config)?
            }
        };
        if findings.iter().any(|finding| finding.level == Level::Error) {
            return Ok(Err((sources, findings)));
        }
        Ok(Ok(Side { sources, shelf, file, disk }))
    }
}

type Checked = (FileId, (Shelf, Vec<Diagnostic>));

fn on_disk(sources: &mut Sources, disk: &mut Disk, path: &Path, no_config: bool) -> Result<Checked, Failure> {
    let file = disk.read(sources, path)?;
    let levels = levels(&[path.to_owned()], &[], no_config)?;
    Ok((file, check(sources, &[file], disk, &levels)))
}

impl Side {
    /// Whether this file was read for it.
    pub(super) fn has_read(&self, path: &Path) -> bool {
        self.disk.has_read(path)
    }

    /// The recipes that stand in the side's own file.
    pub(super) fn recipes(&self) -> Vec<Arc<Recipe>> {
        self.shelf.recipes.iter().filter(|recipe| recipe.file == self.file).cloned().collect()
    }
}

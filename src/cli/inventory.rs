//! What the root of the current folder has: the declarations of its own files, and what its collections export.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::batches::{batches, spread};
use super::find::{self, OtherRoots, recipes_below};
use super::levels::levels;
use super::{Failure, Reader, darkroom, root};
use crate::check::Levels;
use crate::emit::{About, Listed};
use crate::model::{Collection, Recipe, Shelf};
use crate::source::{COLLECTION, COLLECTIONS, FileId, Sorted as _, Sources, Span};
use crate::vocabulary::Declared;

const BATCH: usize = 128;

pub(super) type Filter<'f> = dyn Fn(&Shelf, &Arc<Recipe>, &Sources) -> bool + Sync + 'f;

/// Declarations of a root. `left_out` are the names of files with errors; `things` may lack declarations of these
/// files.
#[derive(Default)]
pub(super) struct Inventory {
    pub(super) things: Vec<Listed>,
    pub(super) left_out: Vec<String>,
}

impl Inventory {
    pub(super) fn add(&mut self, other: Inventory) {
        self.things.extend(other.things);
        self.left_out.extend(other.left_out);
    }

    fn leave_out(&mut self, file: &str) {
        if self.left_out.last().is_none_or(|last| last != file) {
            self.left_out.push(file.to_owned());
        }
    }
}

/// The declarations of one kind: first those of the root's own files in path order, then those that its collections
/// export. `filter` chooses the recipes.
pub(super) fn inventory(kind: Declared, filter: &Filter<'_>, no_config: bool) -> Result<Inventory, Failure> {
    let levels = levels(&[], no_config)?;
    if kind == Declared::Session {
        return sessions(&levels);
    }
    let mut all = Inventory::default();
    if kind != Declared::Collection {
        let own = recipes_below(&root::ROOT, &OtherRoots::default());
        let own = own.filter(|path| !find::is_session_file(path));
        let work = |paths: Vec<PathBuf>| own_things(&paths, kind, filter, &levels);
        spread(batches(own, BATCH), work, |one| all.add(one));
    }
    let of_collections = collections().into_iter();
    let work = |folder: PathBuf| of_collection(&folder, kind, filter, &levels);
    spread(of_collections, work, |one| all.add(one));
    Ok(all)
}

fn collections() -> Vec<PathBuf> {
    let folders = std::fs::read_dir(root::ROOT.join(COLLECTIONS)).into_iter().flatten();
    let folders = folders.filter_map(Result::ok).map(|entry| entry.path());
    let mut all: Vec<PathBuf> = folders.filter(|folder| folder.join(COLLECTION).is_file()).collect();
    all.order_by(Ord::cmp);
    all
}

fn read(paths: &[PathBuf], reader: &mut Reader, all: &mut Inventory) -> Vec<FileId> {
    let mut files = Vec::new();
    for path in paths {
        match reader.read(path) {
            Ok(file) => files.push(file),
            Err(_) => all.leave_out(&root::shown(path, path).display().to_string()),
        }
    }
    files
}

fn own_things(paths: &[PathBuf], kind: Declared, filter: &Filter<'_>, levels: &Levels) -> Inventory {
    let (mut reader, mut all) = (Reader::default(), Inventory::default());
    let files = read(paths, &mut reader, &mut all);
    let (shelf, _) = reader.check(&files, levels);
    let mut unsound = unsound(&shelf, kind);
    unsound.sort_unstable();
    let left_out = unsound.into_iter().filter(|file| files.contains(file));
    left_out.for_each(|file| all.leave_out(reader.name(file)));
    let things = things(&shelf, &reader.sources, kind, filter);
    all.things = things.into_iter().filter(|one| files.contains(&one.file)).map(|one| one.listed).collect();
    all
}

/// The files in which a declaration of this kind has errors. A file may occur twice.
fn unsound(shelf: &Shelf, kind: Declared) -> Vec<FileId> {
    let alone = shelf.unsound.sound_alone.iter().map(|recipe| recipe.file);
    match kind {
        Declared::Recipe => alone.chain(shelf.unsound.recipes.iter().copied()).collect(),
        Declared::Solution => shelf.unsound.solutions.clone(),
        Declared::Tank => shelf.unsound.tanks.clone(),
        _ => Vec::new(),
    }
}

/// The declarations of a kind that a collection exports, with names such as `club/NAME`. For the kind `Collection`, the
/// collection itself.
fn of_collection(folder: &Path, kind: Declared, filter: &Filter<'_>, levels: &Levels) -> Inventory {
    let (mut reader, mut all) = (Reader::default(), Inventory::default());
    let path = folder.join(COLLECTION);
    let [file] = read(&[path], &mut reader, &mut all)[..] else { return all };
    let (shelf, _) = reader.check(&[file], levels);
    let own = shelf.collections.iter().find(|collection| collection.span.file == file);
    let Some(collection) = own else {
        all.leave_out(reader.name(file));
        return all;
    };
    let name = folder.file_name().unwrap_or_default().to_string_lossy();
    if kind == Declared::Collection {
        let file = reader.name(file).to_owned();
        all.things.push(collection_of(collection, &name, file));
        return all;
    }
    let things = things(&shelf, &reader.sources, kind, filter);
    let exports = collection.exports.iter().filter(|export| export.kind == kind.word());
    for export in exports {
        let exported = things.iter().find(|one| one.span.holds(export.declared));
        let listed = exported.map(|one| one.listed.clone());
        all.things.extend(listed.map(|one| Listed { name: format!("{name}/{}", export.name), ..one }));
    }
    if !unsound(&shelf, kind).is_empty() {
        all.leave_out(reader.name(file));
    }
    all
}

fn collection_of(collection: &Collection, name: &str, file: String) -> Listed {
    let about = About::Collection { licence: collection.licence.clone(), exports: collection.exports.len() };
    Listed { name: name.to_owned(), title: Some(collection.title.clone()), file, about }
}

/// A declaration to list, with its file and the span of its header.
struct Thing {
    file: FileId,
    span: Span,
    listed: Listed,
}

/// The declarations of a kind that have no errors, in the order of files and lines.
fn things(shelf: &Shelf, sources: &Sources, kind: Declared, filter: &Filter<'_>) -> Vec<Thing> {
    let thing = |(file, span): (FileId, Span), name: &str, title: &str, about: About| {
        let (name, title) = (name.to_owned(), Some(title.to_owned()));
        Thing { file, span, listed: Listed { name, title, file: sources.name(file).to_owned(), about } }
    };
    match kind {
        Declared::Recipe => {
            let recipes = shelf.recipes.iter().filter(|recipe| filter(shelf, recipe, sources));
            let one =
                |one: &Arc<Recipe>| thing((one.file, one.span), &one.name, &one.title, About::of_recipe(one));
            recipes.map(one).collect()
        }
        Declared::Film => {
            let films = shelf.films.iter().map(|(file, one)| {
                let about = About::Film { material: one.material, speed: one.speed.map(|speed| speed.value) };
                thing((*file, one.span), &one.name, &one.title, about)
            });
            films.collect()
        }
        Declared::Solution => {
            let solutions = shelf.solutions.iter().map(|(file, one)| {
                thing((*file, one.span), &one.name, &one.title, About::Solution(one.role))
            });
            solutions.collect()
        }
        Declared::Tank => {
            let tanks =
                shelf.tanks.iter().filter(|(file, name, one)| (*file, name) == (one.span.file, &one.name));
            let one = |(file, _, one): &(FileId, String, Arc<_>)| tank(*file, one, sources);
            tanks.map(one).collect()
        }
        _ => Vec::new(),
    }
}

fn tank(file: FileId, tank: &crate::model::Tank, sources: &Sources) -> Thing {
    let listed = Listed {
        name: tank.name.clone(),
        title: Some(tank.title.clone()),
        file: sources.name(file).to_owned(),
        about: About::Tank(tank.formats()),
    };
    Thing { file, span: tank.span, listed }
}

fn sessions(levels: &Levels) -> Result<Inventory, Failure> {
    let mut reader = Reader::default();
    let files = darkroom::files(&darkroom::index(&root::ROOT), None, &mut reader)?;
    let (shelf, _) = reader.check_darkroom(&root::ROOT, &files, levels);
    let mut all = Inventory::default();
    for session in &shelf.darkroom.sessions {
        let about = About::Session {
            date: session.date.value,
            recipe: session.recipe.clone(),
            fingerprint: session.fingerprint.clone(),
            is_retracted: session.retracted.is_some(),
        };
        let file = reader.name(session.span.file).to_owned();
        all.things.push(Listed { name: session.name.clone(), title: None, file, about });
    }
    let parts = [crate::model::DarkroomPart::Session, crate::model::DarkroomPart::Line];
    let left = shelf.darkroom.left_out.iter().filter(|left| parts.contains(&left.part));
    left.for_each(|left| all.leave_out(reader.name(left.span.file)));
    Ok(all)
}

/// Reports on standard error the files whose declarations may be missing from a list.
pub(super) fn complain_of(left_out: &[String]) {
    if !left_out.is_empty() {
        let names: Vec<String> = left_out.iter().map(|name| root::printable(name)).collect();
        let names = crate::source::first_few(names.iter().map(String::as_str), ", ");
        super::output::complain(&format!(
            "left out, because of errors in these files or in what they use: {names}; wetside check says which\n"
        ));
    }
}

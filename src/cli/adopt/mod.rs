//! `adopt`: takes in a collection of another author, with a lock that records its origin; updates, checks or removes
//! such a collection, or makes it the user's own.

mod changes;
mod lock;
mod origin;
mod place;
mod solutions;

use std::path::{Component, Path, PathBuf};

use self::lock::{Lock, Read};
use self::place::Shelf;
pub(super) use self::place::swap;
use super::root::{self, printable};
use super::{Ended, Failure, fail, output, write};
use crate::check::{Checked, is_free_name};
use crate::disk::text_of;
use crate::model::Collection;
use crate::source::{self, COLLECTION, COLLECTIONS, Map};

/// The texts of a collection's files. The keys are paths relative to the collection's folder.
type Files = Map<String, String>;

/// The maximum number of exported names of one kind that are printed. If there are more, only the first few are
/// printed.
const NAMES_MAX: usize = 100;

/// Take in the recipes of others, pinned to a revision
///
/// ORIGIN is a folder, or an address that git can clone, with a collection.wet. Its files are copied to
/// collections/NAME, and collections/NAME.lock keeps where they come from. Recipes are data: nothing of them is run.
/// Chemistry can hurt all the same: read them before you mix.
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside adopt ../club\n  wetside adopt https://example.org/club.git --as club\n  wetside adopt --update club\n  wetside adopt --check\n  wetside adopt --remove club"
)]
pub(super) struct Arguments {
    /// The origin; with --update, --check, --remove or --release, the name of an adopted collection
    #[arg(value_name = "ORIGIN")]
    what: Option<String>,
    /// The name of the collection's folder, and the prefix of its names; its own name if not given
    #[arg(long = "as", value_name = "NAME")]
    name: Option<String>,
    /// Show what has changed at the origin, and take it in
    #[arg(long, conflicts_with_all = ["check", "remove", "release", "name"])]
    update: bool,
    /// With --update: show what has changed, and write nothing
    #[arg(long, requires = "update")]
    dry: bool,
    /// Compare the files with their locks; all collections if none is named
    #[arg(long, conflicts_with_all = ["remove", "release", "name"])]
    check: bool,
    /// Remove a collection that none of your files uses
    #[arg(long, conflicts_with_all = ["release", "name"])]
    remove: bool,
    /// Move a collection out of collections/, so that its files are yours to change
    #[arg(long, conflicts_with = "name")]
    release: bool,
}

/// A collection without errors, as read from its origin, which is a folder or a git repository.
struct Found {
    /// The name that the collection gives itself.
    name: String,
    revision: Option<String>,
    files: Files,
    checked: Checked,
}

impl Found {
    fn collection(&self) -> Option<&Collection> {
        collection_of(&self.checked)
    }
}

fn collection_of(checked: &Checked) -> Option<&Collection> {
    checked.shelf.collections.iter().find(|it| it.span.file == checked.file)
}

pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    let shelf = Shelf::of(&root::ROOT);
    let what = || arguments.what.as_deref();
    let named = |option: &str| match what() {
        Some(name) if is_free_name(name) => Ok(name),
        Some(name) => fail(
            format!("'{}' cannot be the name of a collection", source::clip(name)),
            format!("name a folder of {COLLECTIONS}: wetside adopt {option} NAME"),
        ),
        None => fail("the name of a collection is missing", format!("wetside adopt {option} NAME")),
    };
    match arguments {
        Arguments { check: true, .. } => check(&shelf, what().map(|_| named("--check")).transpose()?),
        Arguments { update: true, dry, .. } => update(&shelf, named("--update")?, *dry),
        Arguments { remove: true, .. } => remove(&shelf, named("--remove")?),
        Arguments { release: true, .. } => release(&shelf, named("--release")?),
        Arguments { name, .. } => match what() {
            Some(origin) => adopt(&shelf, origin, name.as_deref()),
            None => fail("an origin is missing", "wetside adopt ORIGIN, such as: wetside adopt ../club"),
        },
    }
}

/// Locks the root for writing, and finishes the changes of killed runs. Callers read an origin only while they do not
/// hold this lock, so that a slow origin does not block other runs.
fn begun(shelf: &Shelf) -> Result<write::Lock, Failure> {
    let lock = write::Lock::of_root(&root::ROOT)?;
    if shelf.is_link() {
        return fail(
            format!("{COLLECTIONS} is a link, and what it leads to is not of this folder"),
            format!("nothing was changed; put a folder {COLLECTIONS} in place of the link"),
        );
    }
    shelf.finish_all().map_err(|error| {
        Failure::new(
            format!("what an earlier call began cannot be finished: {error}"),
            format!("check that {COLLECTIONS} may be written to, then run the command again"),
        )
    })?;
    Ok(lock)
}

fn adopt(shelf: &Shelf, given: &str, name: Option<&str>) -> Result<Ended, Failure> {
    let found = origin::found(given)?;
    let _lock = begun(shelf)?;
    let name = name.unwrap_or(&found.name);
    if !is_free_name(name) {
        return fail(
            format!("'{}' cannot be the name of a collection", source::clip(name)),
            "write small letters, digits and hyphens, such as: --as club",
        );
    }
    if shelf.is_taken(name) || shelf.names().iter().any(|known| known.eq_ignore_ascii_case(name)) {
        return fail(
            format!("{COLLECTIONS}/{name} is already there"),
            format!("to renew it: wetside adopt --update {name}; to keep both, add: --as OTHER-NAME"),
        );
    }
    let lock = Lock::of(&kept_origin(given), found.revision.as_deref(), &found.files);
    shelf.place(name, &found.files, &lock)?;
    output::print(format!(
        "adopted {COLLECTIONS}/{name}, {}\n{}",
        count(found.files.len()),
        introduced(&found, name)
    ))
}

/// The text that introduces a collection: its title, author, licence and exports, and how to use it.
fn introduced(found: &Found, name: &str) -> String {
    let Some(collection) = found.collection() else { return String::new() };
    let mut text = format!("  {}", printable(&collection.title));
    if let Some(author) = &collection.author {
        text += &format!(", by {}", printable(author));
    }
    text += &match &collection.licence {
        Some(licence) => format!("; licence {}\n", printable(licence)),
        None => "; WARNING: it states no licence, so ask its author what you may do with it\n".to_owned(),
    };
    let mut kinds: Map<&str, Vec<&str>> = Map::new();
    for export in &collection.exports {
        kinds.value_of(export.kind).push(&export.name);
    }
    for (kind, names) in kinds {
        let names = match names.len() {
            0..=NAMES_MAX => names.join(", "),
            count => format!("{count}: {}", source::first_few(names, ", ")),
        };
        text += &format!("  {kind} {names}\n");
    }
    text + &format!("to use it, add a line to your file: use {name}\n")
}

fn count(files: usize) -> String {
    if files == 1 { "1 file".to_owned() } else { format!("{files} files") }
}

/// The origin as written into the lock file: an address as given, a folder near the root as a path relative to the
/// root. The lock file is shared with others, and a relative path tells them nothing about this computer.
fn kept_origin(given: &str) -> String {
    let Ok(real) = std::fs::canonicalize(given) else { return given.to_owned() };
    let (mut from, mut to) = (root::ROOT.components().peekable(), real.components().peekable());
    while from.peek().is_some() && from.peek() == to.peek() {
        from.next();
        to.next();
    }
    let up = from.map(|_| Component::ParentDir);
    let path: PathBuf = up.chain(to).collect();
    let ups = path.components().filter(|part| *part == Component::ParentDir).count();
    if ups > 2 || Path::new(given).is_absolute() { given.to_owned() } else { source::with_slashes(&path) }
}

/// The origin that a lock file states, ready for use: a folder as a path that is valid in the current folder, an
/// address unchanged.
fn origin_now(kept: &str) -> String {
    let beside = root::ROOT.join(kept);
    if beside.is_dir() { beside.display().to_string() } else { kept.to_owned() }
}

fn lock_of(shelf: &Shelf, name: &str) -> Result<Read, Failure> {
    let text = text_of(&shelf.lock(name)).map_err(|why| {
        let known = shelf.names();
        let help = match known.is_empty() {
            true => {
                "there is no collection here yet; to get one from its address or folder: wetside adopt ORIGIN"
                    .to_owned()
            }
            false => format!("the collections here: {}", known.join(", ")),
        };
        Failure::new(format!("{COLLECTIONS}/{}.lock cannot be read: {why}", source::clip(name)), help)
    })?;
    Lock::read(&text.0, name)
}

fn check(shelf: &Shelf, name: Option<&str>) -> Result<Ended, Failure> {
    let _lock = begun(shelf)?;
    let names = name.map_or_else(|| shelf.names(), |name| vec![name.to_owned()]);
    let (mut text, mut differ) = (String::new(), false);
    for one in &names {
        if name.is_none() && !shelf.lock(one).exists() {
            text += &format!("{}: it has no lock, so it was not adopted\n", printable(one));
            continue;
        }
        let Read { lock, is_conflicted } = lock_of(shelf, one)?;
        if is_conflicted {
            differ = true;
            text +=
                &format!("{one}: its lock has marks of a merge; to mend it: wetside adopt --update {one}\n");
            continue;
        }
        let differences = lock.differences(&shelf.files(one).unwrap_or_default());
        differ |= !differences.is_empty();
        let from =
            lock.revision.as_ref().map(|revision| format!(" at {}", revision.get(..12).unwrap_or(revision)));
        let state = if differences.is_empty() { "as adopted" } else { "not as adopted" };
        text += &format!("{one}: {state} from {}{}\n", printable(&lock.origin), from.unwrap_or_default());
        for (how, path) in differences {
            text += &format!("  {how} {}\n", printable(&path));
        }
    }
    if names.is_empty() {
        text += "there is no collection here\n";
    }
    output::print(text)?;
    Ok(Ended::with(differ))
}

fn update(shelf: &Shelf, name: &str, dry: bool) -> Result<Ended, Failure> {
    let read = || -> Result<_, Failure> {
        let held = begun(shelf)?;
        Ok((held, lock_of(shelf, name)?.lock))
    };
    let (_, known) = read()?;
    let found = origin::found(&origin_now(&known.origin))?;
    let (_held, lock) = read()?;
    if lock.origin != known.origin {
        return fail(
            format!("another call has changed {COLLECTIONS}/{name}.lock meanwhile"),
            "nothing was written; run the command again",
        );
    }
    let before = shelf.files(name).unwrap_or_default();
    let new = Lock::of(&lock.origin, found.revision.as_deref(), &found.files);
    if new == lock && new.differences(&before).is_empty() {
        output::print(format!("{name}: nothing has changed\n"))?;
        return Ok(Ended::Done);
    }
    output::print(changes::shown(name, &before, &found))?;
    if dry {
        return Ok(Ended::WithFindings);
    }
    shelf.place(name, &found.files, &new)?;
    output::print(format!("updated {COLLECTIONS}/{name}\n"))
}

fn remove(shelf: &Shelf, name: &str) -> Result<Ended, Failure> {
    let _lock = begun(shelf)?;
    lock_of(shelf, name)?;
    let users = changes::users(name);
    if let Some(first) = users.first() {
        return fail(
            format!(
                "{COLLECTIONS}/{name} is used by {}",
                source::first_few(users.iter().map(String::as_str), ", ")
            ),
            format!("nothing was removed; take the line 'use {name}' out of {first} first"),
        );
    }
    shelf.remove(name)?;
    output::print(format!("removed {COLLECTIONS}/{name}\n"))
}

fn release(shelf: &Shelf, name: &str) -> Result<Ended, Failure> {
    let _lock = begun(shelf)?;
    lock_of(shelf, name)?;
    let to = shelf.released(name);
    // An earlier version of the program may have moved the files and left the lock file. Then only the lock file is
    // removed.
    let is_moved = to.is_dir() && !shelf.collection(name).exists();
    if to.exists() && !is_moved {
        return fail(
            format!("{name} is already there"),
            format!("nothing was moved; rename {name}, then run the command again"),
        );
    }
    shelf.release(name)?;
    let users = changes::users(name);
    let mut text = format!("{name} is yours now; its files are in {name}\n");
    if !users.is_empty() {
        let files = source::first_few(users.iter().map(String::as_str), ", ");
        text += &format!("in {files}, write in place of 'use {name}', for each file of it that you use:\n");
        text += &format!("  use \"{name}/FILE.wet\" as {name}\n");
        text += &format!("you may then delete {name}/{COLLECTION}\n");
    }
    output::print(text)
}

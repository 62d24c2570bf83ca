//! `site`: writes a folder of static pages about a shelf, with the compiler in them. The folder is written whole or not
//! at all. It replaces only an empty folder or a site.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use pulldown_cmark::{CowStr, Event, Parser, Tag, TagEnd, html};

use super::adopt::swap;
use super::find::{self, OtherRoots};
use super::root::{self, folder_of, printable};
use super::write::{HIDDEN, sync_names};
use super::{Ended, Failure, Reader, fail, output};
use crate::check::declared_names;
use crate::page::{Document, MARK, Site, site};
use crate::vocabulary::Declared;

/// The name, the title and the Markdown text of each document.
const DOCUMENTS: [(&str, &str, &str); 2] = [
    ("guide", "Guide", include_str!("../../grammar/guide.md")),
    ("reference", "Reference", include_str!("../../grammar/README.md")),
];
/// The maximum size of the WebAssembly module, in bytes.
const MODULE_MAX: u64 = 32 << 20;
/// The compression level for the module, from 0 to 10.
const SMALLEST: u8 = 9;
/// The WebAssembly module in this program, if it was built with the feature `page`.
#[cfg(feature = "page")]
const OWN_MODULE: Option<&[u8]> = Some(include_bytes!(env!("WETSIDE_WASM")));
#[cfg(not(feature = "page"))]
const OWN_MODULE: Option<&[u8]> = None;
/// The name of a file that is in every site. A folder that is not empty is replaced only if it has this file and
/// `shelf.js`.
const OF_A_SITE: &str = "wetside.js";

/// Write a site: pages that show the shelf and make cards, without a server
///
/// The site works from any web server and from the disk. Journals, bottles and backlogs are left out.
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside site recipes -o public --module wetside.wasm\n  wetside site recipes -o public --title \"Recipes of the estuary crew\""
)]
pub(super) struct Arguments {
    /// The folder of recipes
    #[arg(value_name = "SHELF")]
    shelf: PathBuf,
    /// The folder to write: a new or empty one, or a site that this command wrote
    #[arg(short, long, value_name = "DIR")]
    output: PathBuf,
    /// The title of the first page
    #[arg(long, default_value = "Recipes", value_parser = super::given::line, value_name = "TEXT")]
    title: String,
    /// The compiler as a WebAssembly module, if this program was built without it
    #[arg(long, value_name = "FILE")]
    module: Option<PathBuf>,
}

pub(super) fn run(arguments: &Arguments) -> Result<Ended, Failure> {
    let place = &arguments.output;
    let is_old = vacant(place)?;
    let module = module(arguments.module.as_deref())?;
    let (files, left_out) = files(&arguments.shelf)?;
    let documents = DOCUMENTS.map(|(name, title, text)| Document { name, title, body: body(text) });
    let count = files.len();
    let module = miniz_oxide::deflate::compress_to_vec(&module, SMALLEST);
    let site_of = Site { title: &arguments.title, files, module: &module, documents: &documents };
    let (pages, list) = site(site_of);
    write(place, &pages, is_old).map_err(|error| {
        Failure::new(
            format!("the site could not be written to {}: {error}", place.display()),
            "nothing was changed; check that the folder above exists, may be written to, and has space",
        )
    })?;
    let mut text = format!(
        "wrote {}: {} recipes and {} solutions of {count} files; open {}\n",
        printable(&place.to_string_lossy()),
        list.recipes.len(),
        list.solutions.len(),
        printable(&place.join("index.html").to_string_lossy()),
    );
    for (why, names) in [("personal", left_out), ("errors", list.unsound)] {
        if !names.is_empty() {
            let names: Vec<String> = names.iter().map(|name| printable(name)).collect();
            let names = crate::source::first_few(names.iter().map(String::as_str), ", ");
            text += &format!("left out ({why}): {names}\n");
        }
    }
    output::print(text)
}

/// Whether `place` exists and may be replaced, because it is a site or an empty folder. Fails if something else is
/// there.
fn vacant(place: &Path) -> Result<bool, Failure> {
    let Ok(found) = fs::symlink_metadata(place) else { return Ok(false) };
    let is_empty = || fs::read_dir(place).is_ok_and(|mut entries| entries.next().is_none());
    if found.is_dir() && (is_empty() || place.join(OF_A_SITE).is_file() && place.join("shelf.js").is_file()) {
        return Ok(true);
    }
    fail(
        format!("{} is there, and it is not a site", printable(&place.to_string_lossy())),
        "nothing was changed; name a new folder, an empty one, or a site that wetside wrote",
    )
}

/// The WebAssembly module from a file, else the one in this program.
fn module(file: Option<&Path>) -> Result<Vec<u8>, Failure> {
    let Some(file) = file else {
        return OWN_MODULE.map(<[u8]>::to_vec).ok_or_else(|| {
            Failure::new(
                "this program has no module for pages in it",
                "build the module as DEVELOPERS.md says, and name it with --module FILE",
            )
        });
    };
    let shown = printable(&file.to_string_lossy());
    let wrong = |why: String| {
        Failure::new(
            format!("{shown} is no module for pages of this version: {why}"),
            "build the module from the same source as this program, as DEVELOPERS.md says",
        )
    };
    let length = fs::metadata(file).map_err(|error| wrong(error.to_string()))?.len();
    if length > MODULE_MAX {
        return Err(wrong(format!("it has {length} bytes, and at most {MODULE_MAX} are read")));
    }
    let bytes = fs::read(file).map_err(|error| wrong(error.to_string()))?;
    let has_mark = bytes.windows(MARK.len()).any(|piece| piece == MARK.as_bytes());
    if !bytes.starts_with(b"\0asm") || !has_mark {
        return Err(wrong(format!("it does not have the mark '{MARK}'")));
    }
    Ok(bytes)
}

/// The texts of the recipe files below a folder, and the paths of personal files, which are left out. The keys are
/// paths.
fn files(shelf: &Path) -> Result<(BTreeMap<String, String>, Vec<String>), Failure> {
    if !shelf.is_dir() {
        return fail(
            format!("{} is not a folder", printable(&shelf.to_string_lossy())),
            "name a folder that holds recipes",
        );
    }
    let mut reader = Reader::default();
    let (mut files, mut personal) = (BTreeMap::new(), Vec::new());
    for path in find::recipes_below(shelf, &OtherRoots::default()) {
        let inside = root::relative(&root::real(&path), &root::real(shelf));
        let Some(name) = inside else { continue };
        let file = reader.read(&path)?;
        let is_own = |(kind, _): &(Declared, String)| PERSONAL.contains(kind);
        if find::is_session_file(&path) || declared_names(&reader.sources, file).iter().any(is_own) {
            personal.push(name);
        } else {
            files.insert(name, reader.sources.text(file).to_owned());
        }
    }
    if files.is_empty() {
        return fail("there is no .wet file with recipes in this folder", "name a folder that holds recipes");
    }
    Ok((files, personal))
}

/// A file with one of these declarations is personal, and is not published.
const PERSONAL: [Declared; 3] = [Declared::Bath, Declared::Backlog, Declared::Session];

/// Writes the pages into a hidden folder, then moves that folder to `place`. With `is_old`, it replaces the folder that
/// is at `place`.
fn write(place: &Path, pages: &BTreeMap<String, String>, is_old: bool) -> std::io::Result<()> {
    let above = folder_of(place);
    let hidden = tempfile::Builder::new().prefix(HIDDEN).tempdir_in(above)?;
    let new = hidden.path().join("site");
    for (path, text) in pages {
        let path = new.join(path);
        fs::create_dir_all(folder_of(&path))?;
        fs::write(&path, text)?;
    }
    match is_old {
        true => swap(&new, place)?,
        false => fs::rename(&new, place)?,
    }
    sync_names(above);
    Ok(())
}

/// A document as HTML. Links to other files of the project become plain text, since a site has none of these files.
fn body(markdown: &str) -> String {
    let mut events: Vec<Event<'_>> = Vec::new();
    let mut dropped = false;
    for event in Parser::new_ext(markdown, pulldown_cmark::Options::ENABLE_TABLES) {
        match event {
            Event::Start(Tag::Link { ref dest_url, .. }) if !dest_url.starts_with('#') => dropped = true,
            Event::End(TagEnd::Link) if std::mem::take(&mut dropped) => {}
            event => events.push(event),
        }
    }
    let anchors: Vec<String> = anchors(&events);
    let mut names = anchors.into_iter();
    for event in &mut events {
        if let Event::Start(Tag::Heading { id, .. }) = event {
            *id = names.next().map(CowStr::from);
        }
    }
    let mut text = String::new();
    html::push_html(&mut text, events.into_iter());
    text
}

/// The anchor of each heading: its words in small letters, joined by hyphens.
fn anchors(events: &[Event<'_>]) -> Vec<String> {
    let mut all = Vec::new();
    let mut open: Option<String> = None;
    for event in events {
        match event {
            Event::Start(Tag::Heading { .. }) => open = Some(String::new()),
            Event::End(TagEnd::Heading(_)) => all.extend(open.take()),
            Event::Text(text) | Event::Code(text) => {
                let letters = text.chars().filter_map(|letter| match letter {
                    ' ' => Some('-'),
                    letter if letter.is_alphanumeric() || letter == '-' || letter == '_' => Some(letter),
                    _ => None,
                });
                if let Some(open) = &mut open {
                    open.extend(letters.flat_map(char::to_lowercase));
                }
            }
            _ => {}
        }
    }
    all
}

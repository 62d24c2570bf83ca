//! The weights of the rules as a house and a call have them: `wetside.toml` at the root of what is named,
//! then `--level`. A house can weigh rules and nothing else.

use std::collections::BTreeMap;
use std::ops::Range;
use std::path::{Path, PathBuf};

use toml::Spanned;

use super::failure::Failure;
use super::{named, root};
use crate::check::Levels;
use crate::disk;
use crate::source::{Level, Sources, Span};

/// The name of the file.
const FILE: &str = "wetside.toml";
/// A whole file as it may be written.
const EXAMPLE: &str = "[levels]\nwet-after-dry = \"off\"\n";

/// What `wetside.toml` may say.
#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct House {
    #[serde(default)]
    levels: BTreeMap<Spanned<String>, Spanned<String>>,
}

/// The weights of a call that names these files and folders, this folder if none: those of their house,
/// and over them those that the call asks for.
///
/// # Errors
/// The house's file is at fault, the call asks for what there is not, or what is named has several houses.
pub(super) fn levels(paths: &[PathBuf], asked: &[String], no_config: bool) -> Result<Levels, Failure> {
    let house = if no_config { None } else { the_house(paths)? };
    let mut levels = house.map_or_else(|| Ok(Levels::default()), |file| read(&file))?;
    for pair in asked {
        let wrong = |why: String| Failure::new(why, "write it as in: --level wet-after-dry=off");
        let (name, word) =
            pair.split_once('=').ok_or_else(|| wrong(format!("'{pair}' does not say which weight")))?;
        levels.set(name, level(word).map_err(wrong)?).map_err(wrong)?;
    }
    Ok(levels)
}

/// The weights of the house at a root; the rules' own where it has no file.
///
/// # Errors
/// Its file is at fault.
pub(super) fn at(root: &Path) -> Result<Levels, Failure> {
    in_root(root).map_or_else(|| Ok(Levels::default()), |file| read(&file))
}

/// The weight of that word; `None` for off.
pub(super) fn level(word: &str) -> Result<Option<Level>, String> {
    match word {
        "off" => Ok(None),
        "advice" => Ok(Some(Level::Advice)),
        "warning" => Ok(Some(Level::Warning)),
        "error" => Ok(Some(Level::Error)),
        other => Err(format!("'{other}' is no weight; write off, advice, warning or error")),
    }
}

/// A link too is what the house wrote, so one that cannot be followed is told and not passed over.
fn in_root(root: &Path) -> Option<PathBuf> {
    Some(root.join(FILE)).filter(|file| file.is_file() || file.is_symlink())
}

/// The file of the one house of all that is named. What is not there is told of when it is read.
fn the_house(paths: &[PathBuf]) -> Result<Option<PathBuf>, Failure> {
    let here = [PathBuf::from(".")];
    let paths = if paths.is_empty() { &here[..] } else { paths };
    // Each folder is looked at once, however many files of it are named.
    let mut folders: BTreeMap<PathBuf, &Path> = BTreeMap::new();
    for path in paths {
        let real = std::fs::canonicalize(if named::is_stdin(path) { Path::new(".") } else { path });
        let Ok(real) = real else { continue };
        let folder = if real.is_dir() { Some(real.as_path()) } else { real.parent() };
        folders.entry(folder.unwrap_or(&real).to_owned()).or_insert(path);
    }
    let mut houses: BTreeMap<Option<PathBuf>, &Path> = BTreeMap::new();
    for (folder, path) in folders {
        houses.entry(in_root(&root::above(&folder))).or_insert(path);
    }
    if houses.len() < 2 {
        return Ok(houses.into_keys().next().flatten());
    }
    let of = |(house, path): (&Option<PathBuf>, &&Path)| match house {
        Some(file) => format!("{} for {}", root::shown(file, file).display(), path.display()),
        None => format!("none for {}", path.display()),
    };
    Err(Failure::new(
        format!("what is named has several houses: {}", houses.iter().map(of).collect::<Vec<_>>().join(", ")),
        "make a call for each, or leave the houses out: --no-config",
    ))
}

fn read(path: &Path) -> Result<Levels, Failure> {
    let name = root::shown(path, path).display().to_string();
    let text = text_below(path.parent().unwrap_or(path), path, &name)?;
    let mut levels = Levels::default();
    match set(&mut levels, &text) {
        Ok(()) => Ok(levels),
        Err((place, why)) => {
            let mut sources = Sources::default();
            let file = sources.add(name.as_str(), text);
            let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
            let at = sources.place(Span { file, start: byte(place.start), end: byte(place.end) });
            Err(wrong(&format!("{name}:{}:{} is at fault: {why}", at.line, at.column)))
        }
    }
}

/// The text of the file, if it is one of its root: whoever gives recipes away does not choose which file elsewhere is
/// read, nor learns what is there.
fn text_below(root: &Path, path: &Path, name: &str) -> Result<String, Failure> {
    let real = std::fs::canonicalize(path).ok().filter(|real| real.starts_with(root));
    let Some((kind, real)) = real.and_then(|real| std::fs::metadata(&real).ok().zip(Some(real))) else {
        return Err(Failure::new(
            format!("{name} is a link that leads to no file of its root, and was not opened"),
            "put the file itself there, or pass --no-config",
        ));
    };
    let read = disk::text_of(&real, &kind);
    read.map(|(text, _)| text).map_err(|why| wrong(&format!("{name} cannot be read: {why}")))
}

/// Sets what the text says; else the bytes that are at fault, and why.
fn set(levels: &mut Levels, text: &str) -> Result<(), (Range<usize>, String)> {
    let house: House = toml::from_str(text)
        .map_err(|error| (error.span().unwrap_or_default(), error.message().to_owned()))?;
    for (name, word) in &house.levels {
        let weight = level(word.get_ref()).map_err(|why| (word.span(), why))?;
        levels.set(name.get_ref(), weight).map_err(|why| (name.span(), why))?;
    }
    Ok(())
}

fn wrong(why: &str) -> Failure {
    Failure::new(why, "write it as in this example, or pass --no-config").showing(EXAMPLE)
}

//! The severities of rules: from `wetside.toml` at the root of the named files, overridden by `--level`.

use std::collections::BTreeMap;
use std::ops::Range;
use std::path::{Path, PathBuf};

use toml::Spanned;

use super::{Failure, fail, root};
use crate::check::Levels;
use crate::disk;
use crate::source::{Level, Map, Set, Sources, Span};

const FILE: &str = "wetside.toml";
const EXAMPLE: &str = "[levels]\nwet-after-dry = \"off\"\n";

#[derive(serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct Config {
    #[serde(default)]
    levels: BTreeMap<Spanned<String>, Spanned<String>>,
}

/// The severities of the rules for a command line that names these paths; if it names none, for the current folder.
pub(super) fn levels(paths: &[PathBuf], no_config: bool) -> Result<Levels, Failure> {
    let Some(file) = (if no_config { None } else { config_of(paths)? }) else {
        return Ok(Levels::default());
    };
    read(&file).map_err(|message| {
        let help = "write it as in this example, or add --no-config".to_owned();
        Failure::Call { message, help, example: EXAMPLE }
    })
}

/// Sets the severities that `--level` gives as `RULE=SEVERITY`.
pub(super) fn set_given(levels: &mut Levels, given: &[String]) -> Result<(), Failure> {
    let mut set = |pair: &String| {
        let parts = pair.split_once('=').ok_or_else(|| format!("'{pair}' has no severity"))?;
        levels.set(parts.0, level(parts.1)?)
    };
    let set = given.iter().try_for_each(&mut set);
    set.map_err(|why| Failure::new(why, "write it as in --level wet-after-dry=off"))
}

/// The severities in the config file of a root; the default severities if the root has no config file.
pub(super) fn at(root: &Path) -> Result<Levels, String> {
    in_root(root).map_or_else(|| Ok(Levels::default()), |file| read(&file))
}

/// The severity with the name `word`; `None` for `off`.
pub(super) fn level(word: &str) -> Result<Option<Level>, String> {
    let known = [Level::Advice, Level::Warning, Level::Error].into_iter().find(|level| level.word() == word);
    if word == "off" || known.is_some() {
        return Ok(known);
    }
    Err(format!("'{word}' is not a severity; write off, advice, warning or error"))
}

/// The config file of a root, if it exists. A dangling link counts as existing, so that its error is reported.
fn in_root(root: &Path) -> Option<PathBuf> {
    Some(root.join(FILE)).filter(|file| file.is_file() || file.is_symlink())
}

/// The config file that applies to all these paths, if any. Fails if several config files apply. A missing path is
/// skipped, since the command reports it later, when it reads the path.
fn config_of(paths: &[PathBuf]) -> Result<Option<PathBuf>, Failure> {
    let here = [PathBuf::from(".")];
    let paths = if paths.is_empty() { &here[..] } else { paths };
    // Each folder is examined once, even if it holds several of the paths.
    let mut folders = Set::new();
    let mut configs: Map<Option<PathBuf>, &Path> = Map::new();
    for path in paths {
        let real = std::fs::canonicalize(if path.as_os_str() == "-" { Path::new(".") } else { path });
        let Ok(real) = real else { continue };
        let folder = if real.is_dir() { &real } else { real.parent().unwrap_or(&real) };
        if folders.insert(folder.to_owned()) {
            configs.value_or(in_root(&root::above(folder)), || path);
        }
    }
    if configs.len() < 2 {
        return Ok(configs.into_iter().next().and_then(|(config, _)| config));
    }
    let list = configs.iter().map(|(config, path)| match config {
        Some(file) => format!("{} for {}", root::shown(file, file).display(), path.display()),
        None => format!("none for {}", path.display()),
    });
    fail(
        format!("these paths have different wetside.toml files: {}", list.collect::<Vec<_>>().join(", ")),
        "check them one by one, or add --no-config",
    )
}

fn read(path: &Path) -> Result<Levels, String> {
    let name = root::shown(path, path).display().to_string();
    // A config file that is a link must not make the program read a file outside the root, or show whether such a file
    // exists.
    let real = std::fs::canonicalize(path).ok();
    let real = real.filter(|real| path.parent().is_some_and(|root| real.starts_with(root)));
    let real = real.ok_or_else(|| format!("{name} is a link that leads out of its root"))?;
    let (text, _) = disk::text_of(&real).map_err(|why| format!("{name} cannot be read: {why}"))?;
    let mut levels = Levels::default();
    let Err((place, why)) = set(&mut levels, &text) else { return Ok(levels) };
    let mut sources = Sources::default();
    let file = sources.add(name.as_str(), text);
    let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    let at = sources.place(Span { file, start: byte(place.start), end: byte(place.end) });
    Err(format!("{name}:{}:{}: {why}", at.line, at.column))
}

/// Sets the levels to the severities that the text of a config file states. The error is the byte range of the
/// mistake, and the reason.
fn set(levels: &mut Levels, text: &str) -> Result<(), (Range<usize>, String)> {
    let config: Config = toml::from_str(text)
        .map_err(|error| (error.span().unwrap_or_default(), error.message().to_owned()))?;
    for (name, word) in &config.levels {
        let severity = level(word.get_ref()).map_err(|why| (word.span(), why))?;
        levels.set(name.get_ref(), severity).map_err(|why| (name.span(), why))?;
    }
    Ok(())
}

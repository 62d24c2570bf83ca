//! The personal settings of a user, in a file outside of every repository: the number of the poison centre, and the
//! waste cans.

use std::collections::BTreeMap;
use std::path::PathBuf;

use toml::{Table, Value};

use super::{Failure, given, root};
use crate::compile::Personal;
use crate::disk;
use crate::model::Role;
use crate::vocabulary::suggest;

/// The path of the settings file, relative to the folder for configuration.
const FILE: &str = "wetside/tonight.toml";
const EXAMPLE: &str = "poison = \"01 23 45 67\"\n\n[waste]\nfixer = 1\ndeveloper = \"the white can\"\n";
/// The most characters of a setting, which must fit on a line of a card.
const LETTERS_MAX: usize = 40;

/// The user's settings; none with `--no-config`, or without a file.
pub(super) fn personal(no_config: bool) -> Result<Personal, Failure> {
    let path = folder().map(|folder| folder.join(FILE));
    let Some(path) = path.filter(|path| !no_config && path.exists()) else { return Ok(Personal::default()) };
    let read = disk::text_of(&path).map_err(|why| format!("it cannot be read: {why}"));
    read.and_then(|(text, _)| settings(&text)).map_err(|why| {
        let message = format!("{}: {why}", root::printable(&path.display().to_string()));
        let help = "write it as in this example, or add --no-config".to_owned();
        Failure::Call { message, help, example: EXAMPLE }
    })
}

/// The folder for configuration: `XDG_CONFIG_HOME`, else `.config` in the home folder; on Windows `APPDATA`. A path
/// that is not absolute is ignored, as the XDG standard demands.
fn folder() -> Option<PathBuf> {
    let path = |name| std::env::var_os(name).map(PathBuf::from).filter(|path| path.is_absolute());
    if cfg!(windows) {
        return path("APPDATA");
    }
    path("XDG_CONFIG_HOME").or_else(|| path("HOME").map(|home| home.join(".config")))
}

/// The settings in a text, or what is wrong with it.
fn settings(text: &str) -> Result<Personal, String> {
    let table: Table = text.parse().map_err(|error: toml::de::Error| error.message().to_owned())?;
    let mut personal = Personal::default();
    for (key, value) in &table {
        match (key.as_str(), value) {
            ("poison", value) => personal.poison = Some(line(key, value)?),
            ("waste", Value::Table(cans)) => personal.cans = of_cans(cans)?,
            ("waste", _) => return Err("waste is a table: [waste]".to_owned()),
            _ => return Err(unknown(key, &["poison", "waste"])),
        }
    }
    Ok(personal)
}

/// The waste can for each kind of solution.
fn of_cans(table: &Table) -> Result<BTreeMap<Role, String>, String> {
    let can = |(key, value): (&String, &Value)| {
        let role = Role::parse(key).ok_or_else(|| unknown(key, Role::WORDS))?;
        Ok((role, line(key, value)?))
    };
    table.iter().map(can).collect()
}

/// The value of a setting, a text or a whole number, as a short text of one line.
fn line(key: &str, value: &Value) -> Result<String, String> {
    let text = match value {
        Value::String(text) => text.trim().to_owned(),
        Value::Integer(number) => number.to_string(),
        _ => return Err(format!("{key} is a text or a number")),
    };
    if text.chars().count() > LETTERS_MAX {
        return Err(format!("{key} has more than {LETTERS_MAX} characters"));
    }
    given::line(&text).map_err(|why| format!("{key}: {why}"))
}

fn unknown(key: &str, known: &[&'static str]) -> String {
    match suggest(key, known.iter().copied()) {
        Some(near) => format!("there is no setting '{key}'; did you mean {near}?"),
        None => format!("there is no setting '{key}'; there are {}", known.join(", ")),
    }
}

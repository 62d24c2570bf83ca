//! The personal settings of a user, in a file outside of every repository: the number of the poison centre, the waste
//! cans, the site, and what the user usually has: the tank, the taps, the paper and the units.

use std::path::PathBuf;

use clap::ValueEnum;
use toml::{Table, Value};

use super::{Failure, given, root};
use crate::check::is_free_name;
use crate::compile::{Personal, Scale};
use crate::disk;
use crate::emit::Paper;
use crate::measure::Taps;
use crate::model::Role;
use crate::source::Map;
use crate::vocabulary::suggest;

/// The path of the settings file, relative to the user's configuration folder (see `folder`).
const FILE: &str = "wetside/tonight.toml";
const EXAMPLE: &str = "poison = \"01 23 45 67\"\nsite = \"https://crew.example/recipes/\"\ntank = \"tall-five\"\ntaps = \"12C,55C\"\npaper = \"a5\"\nunits = \"metric\"\n\n[waste]\nfixer = 1\ndeveloper = \"the white can\"\n";
/// The maximum number of characters of a setting. A setting must fit on one line of a card.
const LETTERS_MAX: usize = 40;

/// The maximum length of a site's address, in bytes. A QR code on the card holds the address.
const SITE_MAX: usize = 100;

#[derive(Debug, Clone, Default)]
pub(super) struct Settings {
    /// The settings that every card shows, such as the number of the poison centre.
    pub(super) card: Personal,
    pub(super) tank: Option<String>,
    pub(super) taps: Option<Taps>,
    pub(super) paper: Option<Paper>,
    /// The units of sheets. They also decide the scale of a temperature that is given without a unit.
    pub(super) units: Option<Units>,
}

/// The units of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Units {
    /// Grams and millilitres
    Metric,
    /// Metric units, and beside them avoirdupois ounces, grains and US fluid ounces
    Us,
}

impl Units {
    pub(super) fn scale(self) -> Scale {
        match self {
            Units::Metric => Scale::Celsius,
            Units::Us => Scale::Fahrenheit,
        }
    }
}

impl Settings {
    /// The scale in which a temperature without a unit is read; Celsius if the settings state no units.
    pub(super) fn scale(&self) -> Scale {
        self.units.map_or_else(Scale::default, Units::scale)
    }
}

/// The user's settings; the defaults with `--no-config`, or without a settings file.
pub(super) fn personal(no_config: bool) -> Result<Settings, Failure> {
    let path = folder().map(|folder| folder.join(FILE));
    let Some(path) = path.filter(|path| !no_config && path.exists()) else { return Ok(Settings::default()) };
    let read = disk::text_of(&path).map_err(|why| format!("it cannot be read: {why}"));
    read.and_then(|(text, _)| settings(&text)).map_err(|why| {
        let message = format!("{}: {why}", root::printable(&path.display().to_string()));
        let help = "write it as in this example, or add --no-config".to_owned();
        Failure::Call { message, help, example: EXAMPLE }
    })
}

/// The paper of a PDF: `given` by `--paper`, else the paper of the user's settings, else A4.
pub(super) fn paper(given: Option<Paper>, no_config: bool) -> Result<Paper, Failure> {
    let usual = || Ok(personal(no_config)?.paper.unwrap_or(Paper::A4));
    given.map_or_else(usual, Ok)
}

/// The user's configuration folder: `XDG_CONFIG_HOME`, else `.config` in the home folder; on Windows `APPDATA`. A path
/// that is not absolute is ignored, as the XDG standard demands.
fn folder() -> Option<PathBuf> {
    let path = |name| std::env::var_os(name).map(PathBuf::from).filter(|path| path.is_absolute());
    if cfg!(windows) {
        return path("APPDATA");
    }
    path("XDG_CONFIG_HOME").or_else(|| path("HOME").map(|home| home.join(".config")))
}

/// Parses the text of the settings file. The error says what is wrong.
fn settings(text: &str) -> Result<Settings, String> {
    let table: Table = text.parse().map_err(|error: toml::de::Error| error.message().to_owned())?;
    let mut all = Settings::default();
    for (key, value) in &table {
        match (key.as_str(), value) {
            ("poison", value) => all.card.poison = Some(line(key, value)?),
            ("site", value) => all.card.site = Some(site(value)?),
            ("tank", value) => all.tank = Some(tank(&line(key, value)?)?),
            ("taps", value) => {
                let taps = given::taps(&line(key, value)?).map_err(|why| format!("taps: {why}"))?;
                all.taps = Some(Taps { are_usual: true, ..taps });
            }
            ("paper", value) => all.paper = Some(choice(key, value)?),
            ("units", value) => all.units = Some(choice(key, value)?),
            ("waste", Value::Table(cans)) => all.card.cans = of_cans(cans)?,
            ("waste", _) => return Err("waste is a table: [waste]".to_owned()),
            _ => return Err(unknown(key, &["paper", "poison", "site", "tank", "taps", "units", "waste"])),
        }
    }
    Ok(all)
}

fn tank(name: &str) -> Result<String, String> {
    match is_free_name(name) {
        true => Ok(name.to_owned()),
        false => {
            Err(format!("'{name}' is not the name of a tank; write it as its file does, such as tall-five"))
        }
    }
}

/// Checks the address of a site's folder or first page. The address must be short and plain, because a QR code holds
/// it.
fn site(value: &Value) -> Result<String, String> {
    let Value::String(text) = value else { return Err("site is a text".to_owned()) };
    let text = given::line(text.trim()).map_err(|why| format!("site: {why}"))?;
    let wrong =
        |why: &str| Err(format!("site: '{text}' {why}; write it as in https://crew.example/recipes/"));
    let Some(rest) = text.strip_prefix("https://") else { return wrong("does not begin with https://") };
    let host = rest.split('/').next().unwrap_or_default();
    let is_host = |letter: char| letter.is_ascii_alphanumeric() || ".-:".contains(letter);
    let is_path = |letter: char| letter.is_ascii_alphanumeric() || "-._~%/:".contains(letter);
    match () {
        () if !host.starts_with(|letter: char| letter.is_ascii_alphanumeric())
            || !host.chars().all(is_host) =>
        {
            wrong("has no host")
        }
        () if !rest.chars().all(is_path) => wrong("has a character that the address of a folder cannot have"),
        () if text.len() > SITE_MAX => wrong(&format!("has more than {SITE_MAX} characters")),
        () => Ok(text.clone()),
    }
}

/// Parses a setting whose value is one of the words of `T`.
fn choice<T: ValueEnum>(key: &str, value: &Value) -> Result<T, String> {
    let word = line(key, value)?;
    T::from_str(&word, true).map_err(|_| {
        let words = T::value_variants().iter().filter_map(ValueEnum::to_possible_value);
        let words: Vec<String> = words.map(|word| word.get_name().to_owned()).collect();
        format!("{key} is one of {}, not '{word}'", words.join(", "))
    })
}

/// The waste can for each role of solutions, from the table `[waste]` of the settings.
fn of_cans(table: &Table) -> Result<Map<Role, String>, String> {
    let can = |(key, value): (&String, &Value)| {
        let role = Role::parse(key).ok_or_else(|| unknown(key, Role::WORDS))?;
        Ok((role, line(key, value)?))
    };
    table.iter().map(can).collect()
}

/// The value of a setting, a text or a whole number, as one line of at most `LETTERS_MAX` characters.
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

//! The options that describe a session, and the functions that parse the values of options.

use std::path::PathBuf;

use super::Failure;
pub(super) use crate::compile::asked::{
    At, RollsAsked, StepAsked, at, rolls, start, step, temperature, value,
};
use crate::model::{Date, Temperature, Time, Volume};
use crate::source::is_hidden;
use crate::vocabulary::Index;

// The recipe and the conditions of a session. A doc comment here would replace the help text of the command.
#[derive(Clone, clap::Args)]
pub(super) struct Evening {
    /// A recipe's name, a file, or - for standard input
    pub(super) recipe: PathBuf,
    /// The recipe's name, if RECIPE is a file with several
    pub(super) name: Option<String>,
    /// The temperature of the baths, and of single steps, as in 37.8C,wash=30C
    #[arg(long, value_parser = at, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    pub(super) at: At,
    /// The rolls in the tank, from the bottom up, as in 5x120 or 3x120+2x135
    #[arg(long, value_parser = rolls, allow_hyphen_values = true)]
    pub(super) rolls: RollsAsked,
    /// The name of the tank
    #[arg(long)]
    pub(super) tank: Option<String>,
    /// Take the recipe for this exposure index: RECIPE or one derived from it
    #[arg(long, value_parser = value::<Index, _>, value_name = "NUMBER")]
    pub(super) index: Option<u32>,
    /// The temperature that the baths are expected to have at the end
    #[arg(long, value_parser = value::<Temperature, _>, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    pub(super) ending: Option<Temperature>,
    /// The baths of your darkroom to pour from; needed only where several fit
    #[arg(long, value_delimiter = ',', value_name = "NAMES")]
    pub(super) bath: Vec<String>,
    /// Take this roll or this bottle although tonight's facts contradict it; may be given several times
    #[arg(long, num_args = 0..=1, default_missing_value = "", value_name = "NAME")]
    pub(super) anyway: Vec<String>,
    /// The time in which a leader cleared in tonight's fixer a minute ago, as in 1:20
    #[arg(long, value_parser = value::<Time, _>, allow_hyphen_values = true, value_name = "TIME")]
    pub(super) clears: Option<Time>,
    /// A piece of film turned dark in tonight's developer a minute ago
    #[arg(long, value_name = "ok")]
    pub(super) dunk: Option<Dunk>,
    /// The volume to fill, if not that of the tank
    #[arg(long, value_parser = value::<Volume, _>, allow_hyphen_values = true)]
    pub(super) volume: Option<Volume>,
    /// Ignore wetside.toml and your personal settings
    #[arg(long)]
    pub(super) no_config: bool,
}

/// The value of `--dunk`. A developer that fails this test is not used, so no other value is needed.
#[derive(Clone, Copy, clap::ValueEnum)]
pub(super) enum Dunk {
    /// The piece of film is dark.
    Ok,
}

/// Reads a solution and the volume of its package: `rapid-fix=1l`.
pub(super) fn package(text: &str) -> Result<(String, Volume), String> {
    let (name, size) =
        text.split_once('=').ok_or_else(|| format!("'{text}' has no volume; write rapid-fix=1l"))?;
    Ok((name.trim().to_owned(), value::<Volume, _>(size)?))
}

/// The day `given` by the option named `option`, else today by the clock.
pub(super) fn day(option: &str, given: Option<Date>) -> Result<Date, Failure> {
    let now = || jiff::ZonedDateTime::try_from(std::time::SystemTime::now()).ok();
    let today = || now().and_then(|now| Date::new(now.year(), now.month(), now.day()));
    given.or_else(today).ok_or_else(|| {
        Failure::new(
            "the clock of this machine shows no year from 1 to 9999",
            format!("set the clock, or add {option} 2026-11-25"),
        )
    })
}

/// Reads one line of text without double quotes, for a recipe file.
pub(super) fn line(text: &str) -> Result<String, String> {
    if text.trim().is_empty() {
        return Err("the text is empty; leave the option out, or write a text".to_owned());
    }
    match text.chars().find(|letter| *letter == '"' || *letter == '\n' || is_hidden(*letter)) {
        None => Ok(text.to_owned()),
        Some('"') => Err("a text has no double quotes; write 'single' ones".to_owned()),
        Some('\n' | '\r') => Err("a text is one line; give the option once for each line".to_owned()),
        Some(hidden) => Err(format!("remove the hidden character U+{:04X}", u32::from(hidden))),
    }
}

//! The options that describe a session, and the functions that parse the values of options.

use std::path::PathBuf;

use super::Failure;
use crate::check;
use crate::compile::{Scale, StepTemperature};
use crate::model::{Date, Format, StepKind, Temperature, Time, Volume};
use crate::source::{Diagnostic, is_hidden};
use crate::vocabulary::{Capture, Count, Index, respelled, unit};

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
    /// The volume to fill, if not that of the tank
    #[arg(long, value_parser = value::<Volume, _>, allow_hyphen_values = true)]
    pub(super) volume: Option<Volume>,
    /// Ignore wetside.toml and your personal settings
    #[arg(long)]
    pub(super) no_config: bool,
}

/// The temperatures that `--at` gives: one for all baths, and others for single steps.
#[derive(Clone)]
pub(super) struct At {
    pub(super) temperature: Temperature,
    pub(super) scale: Scale,
    pub(super) steps: Vec<StepTemperature>,
}

/// The counts and formats of `--rolls`. A count without a format means the tank's only format. This alias hides the
/// `Vec` from clap, which would expect an option for each item of a `Vec`.
pub(super) type RollsAsked = Vec<(u32, Option<Format>)>;

/// Reads the value of `--at`: `21.5C`, or `37.8C,wash=30C`.
pub(super) fn at(text: &str) -> Result<At, String> {
    let mut own: Option<(Temperature, Scale)> = None;
    let mut steps = Vec::new();
    for piece in text.split(',') {
        match piece.split_once('=') {
            Some((step, value)) => {
                let (kind, name) = self::step(step)?;
                if steps.iter().any(|known: &StepTemperature| (known.kind, &known.name) == (kind, &name)) {
                    return Err(format!("two temperatures for {} in '{text}'; write one", step.trim()));
                }
                steps.push(StepTemperature { kind, name, temperature: temperature(value)?.0 });
            }
            None if own.is_some() => {
                return Err(format!("two temperatures in '{text}'; write one, and others as wash=30C"));
            }
            None => own = Some(temperature(piece)?),
        }
    }
    let (temperature, scale) = own.ok_or("the temperature of the baths is missing; write 37.8C,wash=30C")?;
    Ok(At { temperature, scale, steps })
}

/// The kind of a step that an option names, and the step's name if given.
pub(super) type StepAsked = (StepKind, Option<String>);

/// Reads a step: `fix`, or `wash-last`.
pub(super) fn step(text: &str) -> Result<StepAsked, String> {
    let text = text.trim();
    if let Some(kind) = StepKind::parse(text) {
        return Ok((kind, None));
    }
    // The longest matching kind counts: `bleach-fix-last` is of the kind bleach-fix, not bleach.
    let fits = |kind: StepKind| {
        let name = text.strip_prefix(kind.word())?.strip_prefix(['-', ' '])?;
        Some((kind, Some(name.to_owned())))
    };
    let named = StepKind::ALL.into_iter().filter_map(fits).max_by_key(|(kind, _)| kind.word().len());
    named.ok_or_else(|| {
        let kinds: Vec<&str> = StepKind::ALL.iter().map(|kind| kind.word()).collect();
        format!("'{text}' is not a kind of step; the kinds are {}", kinds.join(", "))
    })
}

/// Reads a temperature such as `21.5C`, with its scale.
pub(super) fn temperature(text: &str) -> Result<(Temperature, Scale), String> {
    let number = |letter: char| letter.is_ascii_digit() || "+-./ ".contains(letter);
    let word = text.trim_start_matches(number).trim_end();
    let is_fahrenheit = unit(word).or_else(|| respelled(word)).is_some_and(|unit| unit.word == "F");
    Ok((value::<Temperature, _>(text)?, if is_fahrenheit { Scale::Fahrenheit } else { Scale::Celsius }))
}

/// Reads a value in the spelling of recipe files.
pub(super) fn value<T, V>(text: &str) -> Result<V, String>
where
    T: for<'a> Capture<Of<'a> = V>,
{
    let in_a_line = |error: Box<Diagnostic>| format!("{}; {}", error.message, error.help.join(", or "));
    let read = check::value::<T>(text).map_err(in_a_line)?;
    T::of(&read).ok_or_else(|| "this value is of another kind".to_owned())
}

/// Reads the value of `--rolls`: `5`, `5x120` or `3x120+2x135`.
pub(super) fn rolls(text: &str) -> Result<RollsAsked, String> {
    let one = |piece: &str| {
        let mut parts = piece.splitn(2, 'x');
        let count = value::<Count, _>(parts.next().unwrap_or(piece))?;
        Ok((count, parts.next().map(value::<Format, _>).transpose()?))
    };
    text.split('+').map(one).collect()
}

/// Reads a solution and the volume of its package: `rapid-fix=1l`.
pub(super) fn package(text: &str) -> Result<(String, Volume), String> {
    let (name, size) =
        text.split_once('=').ok_or_else(|| format!("'{text}' has no volume; write rapid-fix=1l"))?;
    Ok((name.trim().to_owned(), value::<Volume, _>(size)?))
}

/// Reads a time of day such as `19:30`, and returns it in seconds after midnight.
pub(super) fn start(text: &str) -> Result<u32, String> {
    let time = text.trim().parse::<jiff::civil::Time>().ok();
    let seconds = time.map(|time| time.duration_since(jiff::civil::Time::midnight()).as_secs());
    let seconds = seconds.and_then(|seconds| u32::try_from(seconds).ok());
    seconds.ok_or_else(|| format!("'{text}' is not a time of day; write 19:30 or 19:30:00"))
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

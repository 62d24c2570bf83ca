//! The options that describe a session, and the functions that parse the values of options.

use std::path::PathBuf;

use super::{Failure, fail};
use crate::compile::Scale;
use crate::compile::asked;
pub(super) use crate::compile::asked::{
    At, RollsAsked, StepAsked, at, degrees, rolls, step, temperature, value,
};
use crate::measure::{Amount, Taps};
use crate::model::{Date, Mass, Temperature, Time, Volume};
use crate::source::is_hidden;
use crate::vocabulary::{Index, Tap};

// The arguments that `card`, `follow` and `record` share. A doc comment here would replace the help text of the
// command.
#[derive(Clone, clap::Args)]
pub(super) struct Asked {
    /// A recipe's name, a file, or - for standard input; the labels of rolls, as in; or a planned session
    pub(super) recipe: Option<PathBuf>,
    /// The recipe's name, if RECIPE is a file with several
    pub(super) name: Option<String>,
    #[command(flatten)]
    pub(super) common: Common,
    /// The rolls in the tank, from the bottom up, as in 5x120 or 3x120+2x135
    #[arg(long, value_parser = rolls, allow_hyphen_values = true)]
    pub(super) rolls: Option<RollsAsked>,
    /// Labels of the rolls, from the bottom of the tank up; - for a roll without one
    #[arg(long, value_delimiter = ',', value_parser = line, value_name = "LABELS")]
    pub(super) label: Vec<String>,
    /// Take the recipe for this exposure index: RECIPE or one derived from it
    #[arg(long, value_parser = value::<Index, _>, value_name = "NUMBER")]
    pub(super) index: Option<u32>,
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
}

// The options that `card`, `follow`, `record` and `plan` share. A doc comment here would replace the help text.
#[derive(Clone, clap::Args)]
pub(super) struct Common {
    /// The temperature of the baths, read now, and of single steps, as in 21.5, 70F or 37.8C,wash=30C
    #[arg(long, value_parser = at, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    pub(super) at: Option<At>,
    /// The name of the tank; if not given, that of the plan, your usual one, or the only one
    #[arg(long)]
    pub(super) tank: Option<String>,
    /// The temperature that the baths are expected to have at the end
    #[arg(long, value_parser = ending, allow_hyphen_values = true, value_name = "TEMPERATURE")]
    pub(super) ending: Option<Temperature>,
    /// The day, as in 2026-11-25 or today; if not given, today, and in a record the day on which the card began
    #[arg(long, visible_alias = "on", value_parser = date, allow_hyphen_values = true)]
    pub(super) date: Option<Date>,
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

impl Asked {
    /// These options, with the value in `before` for each option that is not given.
    pub(super) fn over(self, before: Asked) -> Asked {
        let or = |own: Vec<String>, before| if own.is_empty() { before } else { own };
        Asked {
            recipe: self.recipe.or(before.recipe),
            name: self.name.or(before.name),
            common: Common {
                at: self.common.at.or(before.common.at),
                tank: self.common.tank.or(before.common.tank),
                ending: self.common.ending.or(before.common.ending),
                date: self.common.date.or(before.common.date),
                no_config: self.common.no_config || before.common.no_config,
            },
            rolls: self.rolls.or(before.rolls),
            label: or(self.label, before.label),
            index: self.index.or(before.index),
            bath: or(self.bath, before.bath),
            anyway: or(self.anyway, before.anyway),
            clears: self.clears.or(before.clears),
            dunk: self.dunk.or(before.dunk),
            volume: self.volume.or(before.volume),
        }
    }
}

/// Fails if a temperature without a unit makes sense only in the other scale than the user's scale `own`. If `own` is
/// Celsius, 70 fails, since no bath is at 70 °C.
pub(super) fn in_scale(at: &At, own: Scale) -> Result<(), Failure> {
    let Some((number, other)) = at.bare.iter().find(|(_, scale)| *scale != own) else { return Ok(()) };
    let (own, other) = (own.letter(), other.letter());
    fail(
        format!("{number} has no unit, and no bath is at {number} °{own}"),
        format!("write {number}{other}, or the temperature in °{own}"),
    )
}

/// Reads the value of `--ending`: `20C`, `20`, or `20,5`. A number without a unit is in °C.
fn ending(text: &str) -> Result<Temperature, String> {
    let text = text.replace(',', ".");
    match degrees(&text)? {
        (_, Scale::Fahrenheit, true) => Err(format!("{text} has no unit; write {text}F or {text}C")),
        (read, ..) => Ok(read),
    }
}

/// Reads a day such as `2026-11-25`, or `today`.
pub(super) fn date(text: &str) -> Result<Date, String> {
    match text.trim() {
        "today" => day("a day as in", None).map_err(|failure| failure.message()),
        text => value::<Date, _>(text),
    }
}

/// Reads the temperatures of the two taps, such as `12C,55C`, in any order.
pub(super) fn taps(text: &str) -> Result<Taps, String> {
    let both = text.split(',').map(value::<Tap, _>).collect::<Result<Vec<_>, String>>()?;
    let [one, other] = both.as_slice() else {
        return Err(format!("'{text}' is not two temperatures; write 12C,55C"));
    };
    Taps::of(*one, *other).ok_or_else(|| format!("both taps are at {one}; leave --taps out"))
}

/// Reads a solution and the volume of its package: `rapid-fix=1l`.
pub(super) fn package(text: &str) -> Result<(String, Volume), String> {
    let (name, size) =
        text.split_once('=').ok_or_else(|| format!("'{text}' has no volume; write rapid-fix=1l"))?;
    Ok((name.trim().to_owned(), value::<Volume, _>(size)?))
}

/// Reads a time of day such as `19:30`, or `now`, and returns it in seconds after midnight.
pub(super) fn start(text: &str) -> Result<u32, String> {
    let now = now().filter(|_| text.trim() == "now");
    let now = now
        .map(|now| u32::from(now.hour().unsigned_abs()) * 3600 + u32::from(now.minute().unsigned_abs()) * 60);
    now.map_or_else(|| asked::start(text).map_err(|why| why + ", or now"), Ok)
}

/// The date and time of this machine in its time zone; `None` if the clock shows no year from 1 to 9999.
pub(super) fn now() -> Option<jiff::ZonedDateTime> {
    let now = jiff::ZonedDateTime::try_from(std::time::SystemTime::now()).ok()?;
    Some(now.with_time_zone(jiff::tz::TimeZone::system()))
}

/// Reads a liquid or ingredient and the amount that the user has: `rapid-fix=400ml` or `metol=50g`.
pub(super) fn on_hand(text: &str) -> Result<(String, Amount), String> {
    let (name, amount) = text
        .split_once('=')
        .ok_or_else(|| format!("'{text}' has no amount; write metol=50g or rapid-fix=1l"))?;
    let mass = value::<Mass, _>(amount).map(Amount::Mass);
    let amount = mass.or_else(|_| value::<Volume, _>(amount).map(Amount::Volume));
    let amount = amount.map_err(|_| format!("'{text}' has no amount; write metol=50g or rapid-fix=1l"))?;
    Ok((name.trim().to_owned(), amount))
}

/// The day `given` by the option named `option`, else today by the clock. Fails if the clock shows no valid day.
pub(super) fn day(option: &str, given: Option<Date>) -> Result<Date, Failure> {
    let today = || now().and_then(|now| Date::new(now.year(), now.month(), now.day()));
    given.or_else(today).ok_or_else(|| {
        Failure::new(
            "the clock of this machine shows no year from 1 to 9999",
            format!("set the clock, or add {option} 2026-11-25"),
        )
    })
}

/// Reads a text that is to be written between double quotes in a recipe file: one line, without double quotes and
/// hidden characters.
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

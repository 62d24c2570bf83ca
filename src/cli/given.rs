//! What a call gives: temperatures, rolls, volumes and the clock, each with its unit, each held to
//! its range, each fault with what to write instead.

use super::failure::Failure;
use crate::compile::{Scale, StepTemperature};
use crate::model::{Date, Format, Limit, Number, StepKind, Temperature, Time, Volume};
use crate::source::is_hidden;
use crate::vocabulary::{Dimension, ambiguous, respelled, unit};

/// The temperatures of `--at`: tonight's, and those of single steps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct At {
    pub(super) temperature: Temperature,
    pub(super) scale: Scale,
    pub(super) steps: Vec<StepTemperature>,
}

/// One entry of `--rolls`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Asked {
    pub(super) count: u32,
    /// `None` for a bare number: the tank's only format.
    pub(super) format: Option<Format>,
}

/// All of `--rolls`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct RollsAsked(pub(super) Vec<Asked>);

/// A tank takes no more than this.
const ROLLS_MAX: u32 = 1000;

/// Reads `21.5C`, or `37.8C,wash=30C`.
pub(super) fn at(text: &str) -> Result<At, String> {
    let mut own: Option<(Temperature, Scale)> = None;
    let mut steps = Vec::new();
    for piece in text.split(',') {
        match piece.split_once('=') {
            Some((step, value)) => {
                let (kind, name) = step_of(step.trim())?;
                steps.push(StepTemperature { kind, name, temperature: temperature(value)?.0 });
            }
            None if own.is_some() => {
                return Err(format!(
                    "two temperatures for the evening in '{text}'; write one, and others as wash=30C"
                ));
            }
            None => own = Some(temperature(piece)?),
        }
    }
    let (temperature, scale) = own.ok_or("the evening's own temperature is missing; write 37.8C,wash=30C")?;
    Ok(At { temperature, scale, steps })
}

/// A step that a call names by its kind, or by its kind and its own name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct StepAsked {
    pub(super) kind: StepKind,
    pub(super) name: Option<String>,
}

/// Reads `--from`: `fix`, or `wash-last`.
pub(super) fn step(text: &str) -> Result<StepAsked, String> {
    step_of(text.trim()).map(|(kind, name)| StepAsked { kind, name })
}

/// Reads `--ending`.
pub(super) fn ending(text: &str) -> Result<Temperature, String> {
    temperature(text).map(|(temperature, _)| temperature)
}

fn step_of(text: &str) -> Result<(StepKind, Option<String>), String> {
    if let Some(kind) = StepKind::parse(text) {
        return Ok((kind, None));
    }
    // The longest kind that fits: `bleach-fix-last` is a bleach-fix, not a bleach.
    let fits = |kind: StepKind| {
        let name = text.strip_prefix(kind.word())?.strip_prefix(['-', ' '])?;
        Some((kind, Some(name.to_owned())))
    };
    let named = StepKind::ALL.into_iter().filter_map(fits).max_by_key(|(kind, _)| kind.word().len());
    named.ok_or_else(|| {
        let kinds: Vec<&str> = StepKind::ALL.iter().map(|kind| kind.word()).collect();
        format!("'{text}' is no kind of step; the kinds are {}", kinds.join(", "))
    })
}

/// Reads how warm water comes from a tap or a kettle.
pub(super) fn water(text: &str) -> Result<Temperature, String> {
    let liquid = Temperature::celsius_whole(0)..=Temperature::celsius_whole(100);
    let (read, _) = degrees(text)?;
    read.filter(|temperature| liquid.contains(temperature))
        .ok_or_else(|| format!("no water is at {}: it is from 0 C to 100 C (32 F to 212 F)", text.trim()))
}

/// Reads `21.5C`, in the scale it is given in.
pub(super) fn temperature(text: &str) -> Result<(Temperature, Scale), String> {
    let (read, scale) = degrees(text)?;
    let range = Limit::Bath.range();
    let fits = read.filter(|temperature| range.holds(temperature.base));
    fits.map(|temperature| (temperature, scale))
        .ok_or_else(|| format!("no bath is at {}; {} is from {}", text.trim(), range.what, range.words))
}

/// Any temperature, and the scale it is given in; `None` past all figures.
fn degrees(text: &str) -> Result<(Option<Temperature>, Scale), String> {
    let (number, word) = split(text)?;
    let unit = unit(word).or_else(|| respelled(word)).filter(|unit| unit.dimension == Dimension::Temperature);
    match unit.map(|unit| unit.word) {
        Some("F") => Ok((Temperature::from_fahrenheit(number), Scale::Fahrenheit)),
        Some(_) => Ok((Temperature::from_celsius(number), Scale::Celsius)),
        None if word.is_empty() => Err(format!("'{text}' has no unit; write {0}C or {0}F", text.trim())),
        None => Err(format!("'{word}' is no unit of temperature; write 21.5C or 70F")),
    }
}

/// Reads `5`, `5x120` or `3x120+2x135`.
pub(super) fn rolls(text: &str) -> Result<RollsAsked, String> {
    let one = |piece: &str| {
        let (count, format) = match piece.trim().split_once('x') {
            Some((count, format)) => (count.trim(), Some(format.trim())),
            None => (piece.trim(), None),
        };
        let number = count.parse::<u32>().ok().filter(|count| (1..=ROLLS_MAX).contains(count));
        let count = number.ok_or_else(|| {
            format!("'{count}' is no number of rolls; write 5x120, with a count from 1 to {ROLLS_MAX}")
        })?;
        let known = || Format::ALL.map(Format::word).join(", ");
        let format = match format {
            Some(word) => Some(
                Format::parse(word)
                    .ok_or_else(|| format!("'{word}' is no film format; the formats are {}", known()))?,
            ),
            None => None,
        };
        Ok(Asked { count, format })
    };
    text.split('+').map(one).collect::<Result<Vec<Asked>, String>>().map(RollsAsked)
}

/// Reads `--volume`.
pub(super) fn volume(text: &str) -> Result<Volume, String> {
    let (number, word) = split(text)?;
    if let Some(doubt) = ambiguous(word) {
        let readings: Vec<&str> = doubt.readings.iter().map(|(unit, _)| *unit).collect();
        return Err(format!("'{word}' means several units; write one of {}", readings.join(", ")));
    }
    let unit = unit(word).or_else(|| respelled(word)).filter(|unit| unit.dimension == Dimension::Volume);
    let Some(unit) = unit else {
        return Err(format!("'{text}' is no volume; write 500ml or 2.5l"));
    };
    let range = Limit::Volume.range();
    Volume::of(number, unit.factor)
        .filter(|volume| range.holds(volume.fl))
        .ok_or_else(|| format!("{} is from {}", range.what, range.words))
}

/// Reads a short time, `15s` or `1min`.
pub(super) fn time(text: &str) -> Result<Time, String> {
    let (number, word) = split(text)?;
    let unit = unit(word).or_else(|| respelled(word)).filter(|unit| unit.dimension == Dimension::Time);
    let Some(unit) = unit else { return Err(format!("'{text}' is no time; write 15s or 1min")) };
    let range = Limit::Time.range();
    let time = number.in_base(unit.factor).filter(|ms| range.holds(*ms)).map(Time::from_ms);
    time.ok_or_else(|| format!("{} is from {}", range.what, range.words))
}

/// Reads `rapid-fix=1l`.
pub(super) fn package(text: &str) -> Result<(String, Volume), String> {
    let (name, size) =
        text.split_once('=').ok_or_else(|| format!("'{text}' does not say how much; write rapid-fix=1l"))?;
    Ok((name.trim().to_owned(), volume(size)?))
}

/// Reads the clock on the wall, `19:30`, as seconds after midnight.
pub(super) fn start(text: &str) -> Result<u32, String> {
    let time: jiff::civil::Time =
        text.trim().parse().map_err(|_| format!("'{text}' is no time of day; write 19:30 or 19:30:00"))?;
    let seconds = i32::from(time.hour()) * 3600 + i32::from(time.minute()) * 60 + i32::from(time.second());
    u32::try_from(seconds).map_err(|_| "a time of day is from 00:00 to 23:59:59".to_owned())
}

/// Reads the day of the start, `2026-11-25`, and no other way to write one.
pub(super) fn date(text: &str) -> Result<Date, String> {
    let text = text.trim();
    text.parse().map_err(|_| format!("'{text}' is no day; write year, month and day as in 2026-11-25"))
}

/// The day by this machine's clock.
///
/// # Errors
/// The clock is outside of the calendar; `option` is how the call says the day instead.
pub(super) fn today(option: &str) -> Result<Date, Failure> {
    let now = jiff::ZonedDateTime::try_from(std::time::SystemTime::now());
    let day = now.ok().and_then(|now| Date::new(now.year(), now.month(), now.day()));
    day.ok_or_else(|| {
        Failure::new(
            "the clock of this machine shows no day from the year 1 to 9999",
            format!("set it, or say the day: {option} 2026-11-25"),
        )
    })
}

/// Reads a text that is to stand in a recipe file: one line in double quotes.
pub(super) fn line(text: &str) -> Result<String, String> {
    if text.trim().is_empty() {
        return Err("nothing shows of it; leave it out, or write what it should say".to_owned());
    }
    let odd = text.chars().find(|letter| *letter == '"' || *letter == '\n' || is_hidden(*letter));
    match odd {
        None => Ok(text.to_owned()),
        Some('"') => Err("a text ends at a double quote; write 'single' ones in it".to_owned()),
        Some('\n' | '\r') => Err("a text is one line; give the option once for each line".to_owned()),
        Some(hidden) => {
            let code = u32::from(hidden);
            Err(format!("the character U+{code:04X} in it does not show; type it without"))
        }
    }
}

/// A number and the unit behind it.
pub(super) fn split(text: &str) -> Result<(Number, &str), String> {
    let text = text.trim();
    let end = text
        .find(|letter: char| !(letter.is_ascii_digit() || matches!(letter, '.' | '-')))
        .unwrap_or(text.len());
    let (number, word) = text.split_at(end);
    let number =
        Number::parse(number).ok_or_else(|| format!("'{text}' does not begin with a number such as 21.5"))?;
    Ok((number, word.trim()))
}

//! What a call gives: temperatures, rolls, volumes and the clock, each with its unit, each held to
//! its range, each fault with what to write instead.

use super::failure::Failure;
use crate::check;
use crate::compile::{Scale, StepTemperature};
use crate::model::{Date, Format, StepKind, Temperature, Volume};
use crate::source::{Diagnostic, is_hidden};
use crate::vocabulary::{Capture, Count, respelled, unit};

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
        format!("'{text}' is not a kind of step; the kinds are {}", kinds.join(", "))
    })
}

/// Reads `21.5C`, in the scale it is given in.
pub(super) fn temperature(text: &str) -> Result<(Temperature, Scale), String> {
    let number = |letter: char| letter.is_ascii_digit() || "+-./ ".contains(letter);
    let word = text.trim_start_matches(number).trim_end();
    let is_fahrenheit = unit(word).or_else(|| respelled(word)).is_some_and(|unit| unit.word == "F");
    Ok((value::<Temperature, _>(text)?, if is_fahrenheit { Scale::Fahrenheit } else { Scale::Celsius }))
}

/// Reads a value as a statement of a recipe reads it.
pub(super) fn value<T, V>(text: &str) -> Result<V, String>
where
    T: for<'a> Capture<Of<'a> = V>,
{
    let read = check::value::<T>(text).map_err(|fault| words(&fault))?;
    T::of(&read).ok_or_else(|| "this value is of another kind".to_owned())
}

/// An error in one line: its message, and what to write instead.
pub(super) fn words(fault: &Diagnostic) -> String {
    format!("{}; {}", fault.message, fault.help.join(", or "))
}

/// Reads `5`, `5x120` or `3x120+2x135`.
pub(super) fn rolls(text: &str) -> Result<RollsAsked, String> {
    let one = |piece: &str| {
        let (count, format) =
            piece.split_once('x').map_or((piece, None), |(count, format)| (count, Some(format)));
        Ok(Asked { count: value::<Count, _>(count)?, format: format.map(value::<Format, _>).transpose()? })
    };
    text.split('+').map(one).collect::<Result<Vec<Asked>, String>>().map(RollsAsked)
}

/// Reads `rapid-fix=1l`.
pub(super) fn package(text: &str) -> Result<(String, Volume), String> {
    let (name, size) =
        text.split_once('=').ok_or_else(|| format!("'{text}' does not say how much; write rapid-fix=1l"))?;
    Ok((name.trim().to_owned(), value::<Volume, _>(size)?))
}

/// Reads the clock on the wall, `19:30`, as seconds after midnight.
pub(super) fn start(text: &str) -> Result<u32, String> {
    let time: jiff::civil::Time =
        text.trim().parse().map_err(|_| format!("'{text}' is no time of day; write 19:30 or 19:30:00"))?;
    let seconds = i32::from(time.hour()) * 3600 + i32::from(time.minute()) * 60 + i32::from(time.second());
    u32::try_from(seconds).map_err(|_| "a time of day is from 00:00 to 23:59:59".to_owned())
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

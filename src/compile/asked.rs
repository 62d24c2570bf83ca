//! The conditions of an evening as a person writes them: `21.5C`, `5x120`, `wash-last`.

use super::{Scale, StepTemperature};
use crate::check;
use crate::model::{Format, Rolls, StepKind, Tank, Temperature};
use crate::source::Diagnostic;
use crate::vocabulary::{Capture, Count, respelled, unit};

/// The temperatures that `--at` gives: one for all baths, and others for single steps.
#[derive(Clone)]
pub(crate) struct At {
    #[cfg_attr(not(feature = "cli"), allow(dead_code, reason = "the command line reads it"))]
    pub(crate) text: String,
    pub(crate) temperature: Temperature,
    pub(crate) scale: Scale,
    pub(crate) steps: Vec<StepTemperature>,
    /// The numbers that the user wrote without a unit, each with the scale that was assumed.
    #[cfg_attr(not(feature = "cli"), allow(dead_code, reason = "the command line reads it"))]
    pub(crate) bare: Vec<(String, Scale)>,
}

impl At {
    #[cfg_attr(not(feature = "cli"), allow(dead_code, reason = "the command line reads it"))]
    pub(crate) fn is_bare(&self) -> bool {
        !self.bare.is_empty()
    }
}

/// The counts and formats of `--rolls`. A count without a format means the tank's only format. This alias hides the
/// `Vec` from clap, which would expect an option for each item of a `Vec`.
pub(crate) type RollsAsked = Vec<(u32, Option<Format>)>;

/// Reads the value of `--at`: `21.5`, `22,5C`, or `37.8C,wash=30C`.
pub(crate) fn at(text: &str) -> Result<At, String> {
    let mut own: Option<(Temperature, Scale)> = None;
    let (mut steps, mut bare) = (Vec::new(), Vec::new());
    let mut read = |piece: &str| {
        let (temperature, scale, is_bare) = degrees(piece)?;
        bare.extend(is_bare.then(|| (piece.trim().to_owned(), scale)));
        Ok::<_, String>((temperature, scale))
    };
    for piece in pieces(text) {
        match piece.split_once('=') {
            Some((step, value)) => {
                let (kind, name) = self::step(step)?;
                if steps.iter().any(|known: &StepTemperature| (known.kind, &known.name) == (kind, &name)) {
                    return Err(format!("two temperatures for {} in '{text}'; write one", step.trim()));
                }
                steps.push(StepTemperature { kind, name, temperature: read(value)?.0 });
            }
            None if own.is_some() => {
                return Err(format!("two temperatures in '{text}'; write one, and others as wash=30C"));
            }
            None => own = Some(read(&piece)?),
        }
    }
    let (temperature, scale) = own.ok_or("the temperature of the baths is missing; write 37.8C,wash=30C")?;
    Ok(At { text: text.to_owned(), temperature, scale, steps, bare })
}

/// The pieces of a text between commas. A comma between two digits is a decimal comma and becomes a point: `22,5C` is
/// one piece.
fn pieces(text: &str) -> Vec<String> {
    let mut pieces: Vec<String> = Vec::new();
    for piece in text.split(',') {
        let is_digit = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
        match pieces.last_mut() {
            Some(last)
                if is_digit(last.chars().last()) && is_digit(piece.chars().next()) && !last.contains('.') =>
            {
                *last += &format!(".{piece}");
            }
            _ => pieces.push(piece.to_owned()),
        }
    }
    pieces
}

/// A number without a unit is in °C below 50, and else in °F: no bath is as hot as 50 °C or as cold as 49 °F.
const CELSIUS_BELOW: Temperature = Temperature::celsius_whole(50);

/// Reads a temperature, its scale, and whether it has no unit.
pub(crate) fn degrees(text: &str) -> Result<(Temperature, Scale, bool), String> {
    let text = text.trim();
    if text.is_empty() || !text.chars().all(|letter| letter.is_ascii_digit() || "+-.".contains(letter)) {
        return temperature(text).map(|(read, scale)| (read, scale, false));
    }
    match temperature(&format!("{text}C")) {
        Ok((read, scale)) if read < CELSIUS_BELOW => Ok((read, scale, true)),
        _ => temperature(&format!("{text}F")).map(|(read, scale)| (read, scale, true)),
    }
}

/// A step that an option names: the kind, and the step's name if given.
pub(crate) type StepAsked = (StepKind, Option<String>);

/// Reads the kind and the name of a step: `fix`, or `wash-last`.
pub(crate) fn step(text: &str) -> Result<StepAsked, String> {
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
pub(crate) fn temperature(text: &str) -> Result<(Temperature, Scale), String> {
    let number = |letter: char| letter.is_ascii_digit() || "+-./ ".contains(letter);
    let word = text.trim_start_matches(number).trim_end();
    let is_fahrenheit = unit(word).or_else(|| respelled(word)).is_some_and(|unit| unit.word == "F");
    Ok((value::<Temperature, _>(text)?, if is_fahrenheit { Scale::Fahrenheit } else { Scale::Celsius }))
}

/// Reads a value in the spelling of recipe files.
pub(crate) fn value<T, V>(text: &str) -> Result<V, String>
where
    T: for<'a> Capture<Of<'a> = V>,
{
    let in_a_line = |error: Box<Diagnostic>| format!("{}; {}", error.message, error.help.join(", or "));
    let read = check::value::<T>(text).map_err(in_a_line)?;
    T::of(&read).ok_or_else(|| "this value is of another kind".to_owned())
}

/// Reads the value of `--rolls`: `5`, `5x120` or `3x120+2x135`.
pub(crate) fn rolls(text: &str) -> Result<RollsAsked, String> {
    let one = |piece: &str| {
        let mut parts = piece.splitn(2, 'x');
        let count = value::<Count, _>(parts.next().unwrap_or(piece))?;
        Ok((count, parts.next().map(value::<Format, _>).transpose()?))
    };
    text.split('+').map(one).collect()
}

/// Reads a time of day such as `19:30`, and returns it in seconds after midnight.
pub(crate) fn start(text: &str) -> Result<u32, String> {
    let time = text.trim().parse::<jiff::civil::Time>().ok();
    let seconds = time.map(|time| time.duration_since(jiff::civil::Time::midnight()).as_secs());
    let seconds = seconds.and_then(|seconds| u32::try_from(seconds).ok());
    seconds.ok_or_else(|| format!("'{text}' is not a time of day; write 19:30 or 19:30:00"))
}

/// The rolls of `--rolls` with their formats. A count without a format means the tank's only format. The error is a
/// message and a help text.
pub(crate) fn in_formats(asked: &RollsAsked, tank: Option<&Tank>) -> Result<Vec<Rolls>, (String, String)> {
    let formats: Vec<Format> = tank.iter().flat_map(|tank| &tank.reels).map(|reels| reels.format).collect();
    let one = |(count, format): &(u32, Option<Format>)| match (format, formats.as_slice()) {
        (Some(format), _) | (None, [format]) => Ok(Rolls { count: *count, format: *format }),
        (None, _) => {
            let words: Vec<String> = formats.iter().map(Format::to_string).collect();
            let takes = tank.map(|tank| format!(", as '{}' takes {}", tank.name, words.join(" and ")));
            Err((
                format!("the format of {count} rolls is not known{}", takes.unwrap_or_default()),
                format!("write --rolls {count}x{}", words.first().map_or("120", String::as_str)),
            ))
        }
    };
    asked.iter().map(one).collect()
}

//! Figures finer than anything in a darkroom can be measured.

use super::Written;
use crate::model::{Number, Temperature, Time, decimal};
use crate::source::Diagnostic;
use crate::vocabulary::{Item, Value};

rule! {
    /// # too-precise
    ///
    /// **What.** A time over a minute has parts of a second, or one of ten hours and more has seconds; a temperature is finer than a twentieth of a degree Celsius and than a tenth of a degree Fahrenheit; or a mass has more than four figures.
    ///
    /// **Why.** Such a figure was calculated, not measured, or a digit slipped. It promises what no clock, thermometer or balance on the bench can keep, and hides which figures matter.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///         at        18.333 C
    ///     }
    /// }
    /// ```
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     fix {
    ///         in        water
    ///         time      90.5 s
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Write what can be measured; what was converted can stand in the unit it comes from.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     fix {
    ///         in        water
    ///         time      1:30
    ///         at        65 F
    ///     }
    ///     rinse {
    ///         in        water
    ///         time      2:00
    ///         at        37.75 C
    ///         within    0.15 C
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** US Army subcourse SS0513 has thermometers read to a quarter of a degree Fahrenheit; the other bounds are common practice, no source.
    "too-precise", Advice, "a time, a temperature or a mass that nobody can measure so finely", File(look)
}

const MINUTE: i64 = 60_000;
const TEN_HOURS: i64 = 600 * MINUTE;
/// A balance that a darkroom has shows no more.
const FIGURES: usize = 4;
/// A twentieth of a degree Celsius, and a tenth of a degree Fahrenheit, in the base unit.
const CELSIUS_STEP: i64 = 450;
const FAHRENHEIT_STEP: i64 = 500;
/// 0 °F lies so far below 0 °C, in the base unit.
const FAHRENHEIT_ZERO: i64 = 160_000;

fn look(written: &Written<'_>, faults: &mut Vec<Diagnostic>) {
    let mut each = |item: &Item| {
        let text = written.text.get(item.span.range()).unwrap_or("");
        faults.extend(too_fine(item, text));
    };
    written.statements.iter().for_each(|statement| statement.values(&mut each));
}

#[expect(clippy::wildcard_enum_match_arm, reason = "only what is measured is looked at")]
fn too_fine(item: &Item, text: &str) -> Option<Diagnostic> {
    match item.value {
        Value::Time(time) => of_time(item, time),
        Value::Temperature(temperature) => of_temperature(item, temperature, text),
        Value::Mass(_) | Value::MassPerLitre(_) => of_mass(item, text),
        _ => None,
    }
}

fn of_time(item: &Item, time: Time) -> Option<Diagnostic> {
    let (step, message) = if time.ms > MINUTE && time.ms % 1000 != 0 {
        (1000, "no hand at a tank keeps to parts of a second in a time over a minute")
    } else if time.ms >= TEN_HOURS && time.ms % MINUTE != 0 {
        (MINUTE, "seconds do not matter in ten hours")
    } else {
        return None;
    };
    let rounded = Time::from_ms((time.ms + step / 2) / step * step);
    Some(RULE.found(item.span, message).offer(rounded.to_string(), format!("write {rounded}")))
}

fn of_temperature(item: &Item, temperature: Temperature, text: &str) -> Option<Diagnostic> {
    let celsius = temperature.base % CELSIUS_STEP == 0;
    if celsius || (temperature.base + FAHRENHEIT_ZERO) % FAHRENHEIT_STEP == 0 {
        return None;
    }
    let rounded = if text.ends_with('F') {
        format!("{} F", temperature.in_fahrenheit(1))
    } else {
        format!("{} C", temperature.in_celsius(1))
    };
    let message = "no thermometer in a darkroom shows a temperature so finely";
    Some(RULE.found(item.span, message).offer(rounded.as_str(), format!("write {rounded}")))
}

fn of_mass(item: &Item, text: &str) -> Option<Diagnostic> {
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let (number, unit) = text.split_at_checked(end)?;
    let (whole, part) = number.split_once('.').unwrap_or((number, ""));
    // Most masses are short, and of these nothing need be put together.
    if whole.len() + part.len() <= FIGURES {
        return None;
    }
    let digits = format!("{whole}{part}");
    let figures = digits.trim_start_matches('0');
    let figures = if part.is_empty() { figures.trim_end_matches('0') } else { figures };
    if figures.len() <= FIGURES {
        return None;
    }
    let finding = RULE.found(item.span, "no balance in a darkroom shows so many figures");
    let rounded = rounded(number, whole.trim_start_matches('0'), part);
    Some(match rounded.map(|number| format!("{number}{unit}")) {
        Some(text) => finding.offer(text.as_str(), format!("write {text}")),
        None => finding.help("round it to four figures"),
    })
}

/// The number with four figures; `None` where that takes a larger unit.
fn rounded(number: &str, whole: &str, part: &str) -> Option<String> {
    const UNIT: i64 = 1_000_000_000;
    let zeros = part.len() - part.trim_start_matches('0').len();
    let places = if whole.is_empty() { FIGURES + zeros } else { FIGURES.checked_sub(whole.len())? };
    Some(decimal(Number::parse(number)?.in_base(UNIT)?, UNIT, u32::try_from(places).ok()?))
}

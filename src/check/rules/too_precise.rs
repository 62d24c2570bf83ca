//! The rule `too-precise`.

use super::*;

rule! {
    /// # too-precise: a time, a temperature or a mass finer than anyone can measure
    ///
    /// A time over a minute has fractions of a second, or one of ten hours and more has seconds; a temperature is
    /// finer than 0.05 °C and than 0.1 °F; or a mass has more than four figures.
    ///
    /// **Why.** Such a number was calculated, or is a slip. No darkroom clock, thermometer or balance can keep it.
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
    /// **Instead.** Write what can be measured; a converted value can keep its original unit.
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
    /// **Source.** US Army, Photographic Quality Control, subcourse SS0513, 1988, has thermometers read to a quarter of
    /// a degree Fahrenheit. The other bounds are common practice, no source.
    Advice, File(check)
}

const MINUTE: i64 = 60_000;
const TEN_HOURS: i64 = 600 * MINUTE;
/// The most significant figures that a balance shows.
const FIGURES: usize = 4;
/// A twentieth of a degree Celsius and a tenth of a degree Fahrenheit, in units of 1/9000 K.
const CELSIUS_STEP: i64 = 450;
const FAHRENHEIT_STEP: i64 = 500;
/// How far 0 °F is below 0 °C, in units of 1/9000 K.
const FAHRENHEIT_ZERO: i64 = 160_000;

fn check(file: &CheckedFile<'_>) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    let mut each = |item: &Item| {
        let text = item.span.slice(file.text);
        found.extend(match item.value {
            Value::Time(time) => too_fine_time(item, time),
            Value::Temperature(temperature) => too_fine_temperature(item, temperature, text),
            Value::Mass(_) | Value::Measure(Measure::MassPerLitre(_)) => too_fine_mass(item, text),
            _ => None,
        });
    };
    file.statements.iter().for_each(|statement| statement.values(&mut each));
    found
}

fn too_fine_time(item: &Item, time: Time) -> Option<Diagnostic> {
    let (step, message) = if time.ms > MINUTE && time.ms % 1000 != 0 {
        (1000, "fractions of a second cannot be kept in a time over a minute")
    } else if time.ms >= TEN_HOURS && time.ms % MINUTE != 0 {
        (MINUTE, "seconds do not matter in ten hours")
    } else {
        return None;
    };
    let rounded = Time::from_ms((time.ms + step / 2) / step * step).to_string();
    Some(RULE.found(item.span, message).write(rounded))
}

fn too_fine_temperature(item: &Item, temperature: Temperature, text: &str) -> Option<Diagnostic> {
    let celsius = temperature.base % CELSIUS_STEP == 0;
    if celsius || (temperature.base + FAHRENHEIT_ZERO) % FAHRENHEIT_STEP == 0 {
        return None;
    }
    let rounded = if text.ends_with('F') {
        format!("{} F", temperature.in_fahrenheit(1))
    } else {
        format!("{} C", temperature.in_celsius(1))
    };
    Some(RULE.found(item.span, "no darkroom thermometer can show this temperature so finely").write(rounded))
}

fn too_fine_mass(item: &Item, text: &str) -> Option<Diagnostic> {
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let (number, unit) = text.split_at_checked(end)?;
    if number.len() <= FIGURES {
        return None;
    }
    let (whole, part) = number.split_once('.').unwrap_or((number, ""));
    let digits = format!("{whole}{part}");
    let figures = digits.trim_start_matches('0');
    let figures = if part.is_empty() { figures.trim_end_matches('0') } else { figures };
    if figures.len() <= FIGURES {
        return None;
    }
    let finding = RULE.found(item.span, "a darkroom balance shows at most four figures");
    Some(match rounded(number, whole.trim_start_matches('0'), part) {
        Some(number) => finding.write(format!("{number}{unit}")),
        None => finding.help("round it to four figures"),
    })
}

/// The number rounded to four significant figures; `None` if it has more than four figures before the point.
fn rounded(number: &str, whole: &str, part: &str) -> Option<String> {
    const UNIT: i64 = 1_000_000_000;
    let zeros = part.len() - part.trim_start_matches('0').len();
    let places = if whole.is_empty() { FIGURES + zeros } else { FIGURES.checked_sub(whole.len())? };
    Some(decimal(Number::parse(number)?.in_base(UNIT)?, UNIT, u32::try_from(places).ok()?))
}

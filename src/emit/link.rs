//! The link of a card: the address of the user's site with tonight's conditions after `#`, and the same link as a QR
//! code.

use qrcodegen::{QrCode, QrCodeEcc};

use super::plain::joined;
use crate::compile::{Scale, Schedule, StepTemperature};
use crate::model::Temperature;

pub(super) const ON_A_PHONE: &str = "ON A PHONE";
/// The width of the light zone around a QR code, in modules (ISO/IEC 18004, quiet zone).
const QUIET: u16 = 4;
/// The width of a printed module, in tenths of a millimetre. Phones can read this width from 20 cm away. Common
/// practice, no source.
const MODULE: u16 = 5;

/// The address at which the user's site shows this card. `None` if the user has no site, or if a bath is from a bottle
/// of the darkroom. The site does not know the bottles, and would show other times.
pub(super) fn link(schedule: &Schedule) -> Option<String> {
    let tonight = &schedule.conditions;
    let site = tonight.personal.site.as_deref()?;
    let mut baths = schedule.steps.iter().filter_map(|step| step.bath.as_ref());
    if baths.any(|bath| bath.bottle.is_some()) {
        return None;
    }
    let clock = |start: u32| format!("{:02}:{:02}:{:02}", start / 3600, start / 60 % 60, start % 60);
    let without_space = |quantity: String| quantity.replace(' ', "");
    let rolls = tonight.rolls.iter().map(|rolls| format!("{}x{}", rolls.count, rolls.format));
    let values = [
        ("recipe", Some(schedule.recipe.name.clone())),
        ("fingerprint", Some(schedule.fingerprint.to_string())),
        ("at", Some(temperatures(tonight.temperature, &tonight.step_temperatures, tonight.scale))),
        ("rolls", Some(joined(rolls, "+"))),
        ("tank", tonight.tank.as_ref().map(|tank| tank.name.clone())),
        ("ending", tonight.ending.map(|ending| degrees(ending, tonight.scale))),
        ("volume", tonight.volume.map(|volume| without_space(volume.to_string()))),
        ("clears", tonight.clears.map(|time| time.to_string())),
        ("start", tonight.start.map(clock)),
    ];
    let given = values.iter().filter_map(|(name, value)| Some((name, value.as_ref()?)));
    let given = given.map(|(name, value)| format!("{name}={}", encoded(value)));
    let is_page = site.ends_with('/') || site.ends_with(".html");
    Some(format!("{site}{}#{}", if is_page { "" } else { "/" }, joined(given, "&")))
}

/// The temperatures as the option `--at` takes them: `37.8C,wash=30C`.
fn temperatures(baths: Temperature, steps: &[StepTemperature], scale: Scale) -> String {
    let step = |step: &StepTemperature| {
        let name = step.name.as_ref().map(|name| format!("-{name}")).unwrap_or_default();
        format!("{}{name}={}", step.kind.word(), degrees(step.temperature, scale))
    };
    joined([degrees(baths, scale)].into_iter().chain(steps.iter().map(step)), ",")
}

/// The exact temperature: `21.5C`. It is in °F if `scale` is Fahrenheit, or if three decimals of °C are not exact.
fn degrees(temperature: Temperature, scale: Scale) -> String {
    let is_exact = temperature.base % (Temperature::celsius_whole(1).base / 1000) == 0;
    match scale {
        Scale::Celsius if is_exact => format!("{}C", temperature.in_celsius(3)),
        _ => format!("{}F", temperature.in_fahrenheit(4)),
    }
}

/// The text percent-encoded for a URL; `/` stays as it is.
pub(crate) fn encoded(text: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte);
    text.bytes()
        .map(|byte| if plain(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") })
        .collect()
}

/// A QR code (ISO/IEC 18004) with its quiet zone.
pub(super) struct Code {
    /// The number of modules along each side, including the quiet zone.
    pub(super) side: u16,
    /// Horizontal runs of dark modules: the column and the row of the first module, from 0, and the number of modules.
    pub(super) dark: Vec<[u16; 3]>,
}

impl Code {
    /// The QR code of a link; `None` if the link is too long for a QR code.
    pub(super) fn of(link: &str) -> Option<Code> {
        let code = QrCode::encode_text(link, QrCodeEcc::Medium).ok()?;
        let size = u16::try_from(code.size()).ok()?;
        let is_dark = |x: u16, y: u16| code.get_module(x.into(), y.into());
        let mut dark: Vec<[u16; 3]> = Vec::new();
        for y in 0..size {
            for x in (0..size).filter(|x| is_dark(*x, y)) {
                match dark.last_mut() {
                    Some([start, line, count]) if (*start + *count, *line) == (x + QUIET, y + QUIET) => {
                        *count += 1;
                    }
                    _ => dark.push([x + QUIET, y + QUIET, 1]),
                }
            }
        }
        Some(Code { side: size + 2 * QUIET, dark })
    }

    /// The printed width of the code, in tenths of a millimetre.
    pub(super) fn width(&self) -> u16 {
        self.side * MODULE
    }
}

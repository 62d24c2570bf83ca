//! What only a call of `measure` gives: what is had, how fine the scale is, the taps, and how far something is
//! let down; each fault with what to write instead.

use super::super::given::{split, water};
use crate::measure::{Had, HadAs, Taps};
use crate::model::{Dilution, Limit, Mass, Share};
use crate::vocabulary::{Dimension, ambiguous, respelled, unit};

/// A hundred percent, in hundredths of one.
const WHOLE: i64 = 10_000;

/// Reads `carbonate=monohydrate`, `acetic-acid=99.5%`.
pub(super) fn had(text: &str) -> Result<Had, String> {
    let wrong = || format!("'{text}' does not say what is had; write carbonate=monohydrate or bromide=10%");
    let (name, form) = text.split_once('=').ok_or_else(wrong)?;
    let (name, form) = (name.trim(), form.trim());
    if name.is_empty() || form.is_empty() {
        return Err(wrong());
    }
    let begins = |first: char| first.is_ascii_digit() || matches!(first, '-' | '.');
    let form =
        if form.starts_with(begins) { HadAs::Percent(percent(form)?) } else { HadAs::State(form.to_owned()) };
    Ok(Had { name: name.to_owned(), form })
}

fn percent(text: &str) -> Result<Share, String> {
    let (number, word) = split(text)?;
    if word != "%" {
        return Err(format!("'{text}' is no strength; write it in per cent, as in 28%"));
    }
    let share = number.in_base(100).filter(|share| (1..=WHOLE).contains(share));
    let share = share.and_then(|share| u32::try_from(share).ok());
    share
        .map(|basis_points| Share { basis_points })
        .ok_or_else(|| format!("a strength is from 0.01 % to 100 %, and '{text}' is not"))
}

/// Reads `--scale`: `0.1g`, `1grain`.
pub(super) fn mass(text: &str) -> Result<Mass, String> {
    let (number, word) = split(text)?;
    if let Some(doubt) = ambiguous(word) {
        let readings: Vec<&str> = doubt.readings.iter().map(|(unit, _)| *unit).collect();
        return Err(format!("'{word}' means several units; write one of {}", readings.join(", ")));
    }
    let unit = unit(word).or_else(|| respelled(word)).filter(|unit| unit.dimension == Dimension::Mass);
    let Some(unit) = unit else {
        return Err(format!("'{text}' is no mass; write 0.1g or 1grain"));
    };
    let range = Limit::Mass.range();
    Mass::of(number, unit.factor)
        .filter(|mass| range.holds(mass.pg))
        .ok_or_else(|| format!("{} is from {}", range.what, range.words))
}

/// Reads `--taps`: `12C,55C`, in either order.
pub(super) fn taps(text: &str) -> Result<Taps, String> {
    let both = text.split(',').map(water).collect::<Result<Vec<_>, String>>()?;
    let [one, other] = both.as_slice() else {
        return Err(format!("two taps have two temperatures, and '{text}' is not two; write 12C,55C"));
    };
    Taps::of(*one, *other)
        .ok_or_else(|| format!("both taps are at {one}: there is nothing to mix; leave --taps out"))
}

/// Reads how far something is let down: `1+4`, `stock`, or `1+1` and `no-water`.
pub(super) fn dilution(words: &[String]) -> Result<Dilution, String> {
    let words: Vec<&str> = words.iter().flat_map(|word| word.split_whitespace()).collect();
    let (text, is_dry) = match words.as_slice() {
        ["stock"] => return Ok(Dilution::stock()),
        [text] => (*text, false),
        [text, "no-water"] => (*text, true),
        _ => return Err(format!("'{}' is no dilution; write 1+4, or stock", words.join(" "))),
    };
    if text.contains([':', '/']) {
        return Err(ambiguous_strength(text));
    }
    let range = Limit::Part.range();
    let part = |part: &str| part.parse::<u32>().ok().filter(|part| range.holds(i64::from(*part)));
    let parts: Option<Vec<u32>> = text.split('+').map(part).collect();
    let mut parts = parts.filter(|parts| parts.len() > 1).ok_or_else(|| {
        let most = range.words;
        format!("'{text}' is no dilution; write 1+4, water last, each part from {most}; or stock")
    })?;
    let water = if is_dry { 0 } else { parts.pop().unwrap_or(0) };
    Ok(Dilution { parts, water })
}

/// `1:4` and `1/4`: one part and four of water, or one part in four?
fn ambiguous_strength(text: &str) -> String {
    let plus = text.replace([':', '/'], "+");
    let fields: Vec<Option<u32>> = text.split([':', '/']).map(|field| field.parse().ok()).collect();
    let in_all = match fields.as_slice() {
        [Some(part), Some(whole)] if 0 < *part && part < whole => {
            format!(", or {part}+{} for {part} in {whole} altogether", whole.saturating_sub(*part))
        }
        _ => String::new(),
    };
    format!("'{text}' can mean two strengths; write {plus} for these parts, water last{in_all}")
}

//! Parts that both pictures use: lines of text, and the ticks of an axis.

use unicode_width::UnicodeWidthChar as _;

use super::super::figure;
use super::super::plain::plain;
use super::drawing::{Anchor, Ink, Shape};
use crate::compile::{PlannedStep, Scale};
use crate::model::{Temperature, Time};

/// The type size of body text.
pub(in crate::emit) const BODY: f64 = 10.0;
/// The type size of a title.
pub(super) const TITLE: f64 = 13.0;
/// The lower edge of a title with its baseline at 15.
pub(super) const CAPTION_FOOT: f64 = 19.0;
/// The width of every picture: on a screen of 320 pixels body text is 10 pixels high.
pub(super) const WIDTH: f64 = 320.0;
/// The margin at each side.
pub(super) const MARGIN: f64 = 8.0;
/// The width of a letter in its type size: the average in a wide face, and some more.
const BREADTH: f64 = 0.53;

/// Text in the text colour.
pub(super) fn words(at: [f64; 2], anchor: Anchor, size: f64, text: String) -> Shape {
    Shape::Words { at, anchor, size, text, ink: Ink::Text }
}

/// A line of text from the left margin on, cut to the picture's width.
pub(super) fn line(foot: f64, size: f64, text: &str) -> Shape {
    words([MARGIN, foot], Anchor::Start, size, fitted(text, size, WIDTH - 2.0 * MARGIN))
}

/// The estimated width of a text; its face is not known yet.
pub(super) fn breadth(text: &str, size: f64) -> f64 {
    text.chars().map(|letter| if letter.width() == Some(2) { size } else { size * BREADTH }).sum()
}

/// The text, cut with `…` to this width.
fn fitted(text: &str, size: f64, room: f64) -> String {
    if breadth(text, size) <= room {
        return text.to_owned();
    }
    let mut kept = String::new();
    let mut used = size;
    for letter in text.chars() {
        used += breadth(letter.encode_utf8(&mut [0; 4]), size);
        if used > room {
            break;
        }
        kept.push(letter);
    }
    format!("{}…", kept.trim_end())
}

/// The bath of a step: `mq-borax 1+1`; `None` for a dry step.
pub(super) fn bath(step: &PlannedStep) -> Option<String> {
    let bath = step.bath.as_ref()?;
    let name = plain(&bath.solution);
    Some(bath.dilution.as_ref().map_or_else(|| name.clone(), |dilution| format!("{name} {dilution}")))
}

/// `at 21.5 °C`, or `from 22 °C to 20 °C` for a bath that drifts; `None` without a temperature.
pub(super) fn temperature(step: &PlannedStep, scale: Scale) -> Option<String> {
    let from = figure::degrees(step.temperature?, scale);
    Some(match step.ending {
        Some(to) => format!("from {from} to {}", figure::degrees(to, scale)),
        None => format!("at {from}"),
    })
}

/// Tick distances of a time axis, in seconds.
const CLOCK: [i64; 17] =
    [1, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 28_800, 86_400, 172_800];
/// Tick distances of a temperature axis, in tenths of a degree of its scale.
const DEGREES: [i64; 8] = [1, 2, 5, 10, 20, 50, 100, 200];

/// The smallest tick distance with at most `most` ticks between two values.
fn step((low, high): (i64, i64), steps: impl Iterator<Item = i64>, most: i64) -> i64 {
    let mut chosen = 1;
    for each in steps {
        chosen = each;
        if high.saturating_sub(low) / each < most {
            break;
        }
    }
    chosen
}

/// The multiples of `step` between two values, both included.
fn multiples((low, high): (i64, i64), step: i64) -> impl Iterator<Item = i64> {
    let first = low.div_euclid(step) + i64::from(low.rem_euclid(step) != 0);
    (first..=high.div_euclid(step)).map(move |count| count * step)
}

/// The ticks between two times.
pub(super) fn time_ticks((low, high): (Time, Time), most: i64) -> Vec<Time> {
    let ends = (low.ms, high.ms);
    let step = step(ends, CLOCK.into_iter().map(|seconds| seconds * 1000), most);
    multiples(ends, step).map(Time::from_ms).collect()
}

/// The nearest ticks around two times; the second is later than the first.
pub(super) fn ticks_around((low, high): (Time, Time), most: i64) -> (Time, Time) {
    let step = step((low.ms, high.ms), CLOCK.into_iter().map(|seconds| seconds * 1000), most);
    let under = low.ms.div_euclid(step) * step;
    let over = (high.ms.div_euclid(step) + i64::from(high.ms.rem_euclid(step) != 0)) * step;
    (Time::from_ms(under), Time::from_ms(over.max(under + step)))
}

/// The ticks of a scale between two temperatures.
pub(super) fn temperature_ticks(
    (low, high): (Temperature, Temperature),
    scale: Scale,
    most: i64,
) -> Vec<Temperature> {
    // A tenth of a degree, and the distance of the scale's zero below 0 °C, in 1/9000 °C.
    let (tenth, zero) = match scale {
        Scale::Celsius => (900, 0),
        Scale::Fahrenheit => (500, 160_000),
    };
    let ends = (low.base + zero, high.base + zero);
    let step = step(ends, DEGREES.into_iter().map(|tenths| tenths * tenth), most);
    multiples(ends, step).map(|base| Temperature { base: base - zero }).collect()
}

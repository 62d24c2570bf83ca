//! Parts that both pictures use: lines of text, and the ticks of an axis.

use unicode_width::UnicodeWidthChar as _;

use super::super::figure;
use super::super::page::cut;
use super::super::plain::{plain, prefixed};
use super::{Anchor, Ink, Mark, Shape};
use crate::compile::{PlannedStep, Scale};
use crate::model::{Temperature, Time};

pub(in crate::emit) const BODY: f64 = 10.0;
/// The lower edge of a caption.
pub(in crate::emit) const CAPTION_FOOT: f64 = 19.0;
/// The width of every picture: on a screen of 320 pixels body text is 10 pixels high.
pub(in crate::emit) const WIDTH: f64 = 320.0;
pub(super) const MARGIN: f64 = 8.0;
pub(super) const MARKS: i64 = 6;
/// The width of a letter in its type size: the average in a wide face, and some more.
const BREADTH: f64 = 0.53;

/// Body text in the text colour.
pub(super) fn words(at: [f64; 2], anchor: Anchor, text: String) -> Mark {
    (Ink::TEXT, Shape::Words { at, anchor, size: BODY, text })
}

pub(super) fn caption(name: &str) -> Mark {
    sized(15.0, 13.0, name)
}

/// A line of body text from the left margin on, cut to the picture's width.
pub(super) fn line(foot: f64, text: &str) -> Mark {
    sized(foot, BODY, text)
}

fn sized(foot: f64, size: f64, text: &str) -> Mark {
    let text = cut(text, |start| breadth(start, size) <= WIDTH - 2.0 * MARGIN);
    (Ink::TEXT, Shape::Words { at: [MARGIN, foot], anchor: Anchor::Start, size, text })
}

/// The estimated width of a text; its face is not known yet.
pub(super) fn breadth(text: &str, size: f64) -> f64 {
    let is_wide = |letter: char| letter == '…' || letter.width() == Some(2);
    text.chars().map(|letter| if is_wide(letter) { size } else { size * BREADTH }).sum()
}

/// The bath of a step: `mq-borax 1+1`; `None` for a dry step.
pub(super) fn bath(step: &PlannedStep) -> Option<String> {
    let bath = step.bath.as_ref()?;
    Some(plain(&bath.solution) + &prefixed(" ", bath.dilution.as_ref()))
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
const SECONDS: [i64; 17] =
    [1, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 28_800, 86_400, 172_800];
/// Tick distances of a temperature axis, in tenths of a degree of its scale.
const TENTHS: [i64; 8] = [1, 2, 5, 10, 20, 50, 100, 200];

/// The smallest of the distances with at most `most` ticks between two values, else the largest.
fn distance((low, high): (i64, i64), distances: &[i64], unit: i64, most: i64) -> i64 {
    let is_wide = |distance: &i64| high.saturating_sub(low) / distance < most;
    let mut all = distances.iter().map(|distance| distance * unit);
    all.clone().find(is_wide).or(all.next_back()).unwrap_or(unit)
}

/// The lowest multiple of a distance that is not under a value.
fn multiple_from(value: i64, distance: i64) -> i64 {
    -(-value).div_euclid(distance) * distance
}

/// The multiples of a distance between two values, both included.
fn multiples((low, high): (i64, i64), distance: i64) -> impl Iterator<Item = i64> {
    let ticks = std::iter::successors(Some(multiple_from(low, distance)), move |tick| Some(tick + distance));
    ticks.take_while(move |tick| *tick <= high)
}

pub(super) fn time_ticks((low, high): (Time, Time)) -> impl Iterator<Item = Time> {
    let ends = (low.ms, high.ms);
    multiples(ends, distance(ends, &SECONDS, 1000, MARKS)).map(Time::from_ms)
}

/// The nearest ticks around two times; the second is later than the first.
pub(super) fn ticks_around((low, high): (Time, Time)) -> (Time, Time) {
    let distance = distance((low.ms, high.ms), &SECONDS, 1000, MARKS - 1);
    let under = low.ms.div_euclid(distance) * distance;
    let over = multiple_from(high.ms, distance).max(under + distance);
    (Time::from_ms(under), Time::from_ms(over))
}

pub(super) fn temperature_ticks(
    (low, high): (Temperature, Temperature),
    scale: Scale,
) -> impl Iterator<Item = Temperature> {
    // A tenth of a degree, and the distance of the scale's zero below 0 °C, in 1/9000 °C.
    let (tenth, zero) = match scale {
        Scale::Celsius => (900, 0),
        Scale::Fahrenheit => (500, 160_000),
    };
    let ends = (low.base + zero, high.base + zero);
    let ticks = multiples(ends, distance(ends, &TENTHS, tenth, MARKS));
    ticks.map(move |base| Temperature { base: base - zero })
}

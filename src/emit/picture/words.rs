//! Words on a picture: what stands in a line is cut to the room it has, since a picture cannot wrap it, and
//! what a step happens in is told as the schedule's JSON tells it.

use unicode_width::UnicodeWidthChar as _;

use super::super::figure;
use super::super::plain::plain;
use super::drawing::{Anchor, Shape};
use super::ink::Ink;
use crate::compile::{PlannedStep, Scale};

/// The height of body text.
pub(in crate::emit) const BODY: f64 = 10.0;
/// The height of a title.
pub(super) const TITLE: f64 = 13.0;
/// Down to here reaches a title whose foot stands at 15.
pub(super) const CAPTION_FOOT: f64 = 19.0;
/// How wide every picture is: on a screen of 320 pixels body text is 10 pixels high.
pub(super) const WIDTH: f64 = 320.0;
/// What stays empty at each side.
pub(super) const MARGIN: f64 = 8.0;
/// How wide a letter is against its height: half, on average over lines of a strip in a wide face, and some more.
const BREADTH: f64 = 0.53;

/// Words in the colour of text.
pub(super) fn words(at: [f64; 2], anchor: Anchor, size: f64, text: String) -> Shape {
    Shape::Words { at, anchor, size, text, ink: Ink::Text }
}

/// A line of words from the left margin on, cut to what the picture has room for.
pub(super) fn line(foot: f64, size: f64, text: &str) -> Shape {
    words([MARGIN, foot], Anchor::Start, size, fitted(text, size, WIDTH - 2.0 * MARGIN))
}

/// How much room words take, for want of the face that they will be set in.
pub(super) fn breadth(text: &str, size: f64) -> f64 {
    text.chars().map(|letter| if letter.width() == Some(2) { size } else { size * BREADTH }).sum()
}

/// The text, or its beginning and `…`, in so many units of width.
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

/// What the step happens in, by name: `mq-borax 1+1`; `None` for a dry step.
pub(super) fn bath(step: &PlannedStep) -> Option<String> {
    let bath = step.bath.as_ref()?;
    let name = plain(&bath.solution);
    Some(bath.dilution.as_ref().map_or_else(|| name.clone(), |dilution| format!("{name} {dilution}")))
}

/// How warm: `at 21.5 °C`, or `from 22 °C to 20 °C` for a bath that drifts; `None` where it does not matter.
pub(super) fn warmth(step: &PlannedStep, scale: Scale) -> Option<String> {
    let from = figure::degrees(step.temperature?, scale);
    Some(match step.ending {
        Some(to) => format!("from {from} to {}", figure::degrees(to, scale)),
        None => format!("at {from}"),
    })
}

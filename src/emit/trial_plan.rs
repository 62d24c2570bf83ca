//! How to make a trial by eye, as a document.

use super::document::{Block, Bullet, Document, Section};
use super::plain::plain;
use crate::model::{Recipe, Step, Temperature, Time};

/// The developing times of the three pieces, as fractions of the recipe's time.
const PARTS: [(i64, i64); 3] = [(3, 4), (1, 1), (4, 3)];
/// The contrast that each of the three pieces is expected to have, in a word.
const WORDS: [&str; 3] = ["soft", "right", "hard"];

const EXPOSE: [&str; 3] = [
    "one roll, the same subject on every frame, in even light: shadows, a face or a grey card, a bright wall",
    "the camera on a tripod, one speed and one aperture throughout",
    "in the dark, cut the roll in three, and cut one, two and three notches into the ends; a frame at each cut is lost",
];
const JUDGE: [&str; 3] = [
    "print all three on one paper, with the exposure that makes the gap between two frames just black",
    "choose the print that you like: it is right, a shorter time is soft, a longer one is hard",
    "if you like the shortest or the longest best, test one more beyond it",
];
/// What spoils a trial (common practice, no source).
const SPOILERS: [&str; 8] = [
    "another roll, or another batch of the film",
    "a developer that another piece has used: mix it fresh for each",
    "another tank, amount, filling or agitation than in your usual work",
    "a shutter that is off by a third of a stop: keep to one speed",
    "a meter reading of a shiny card, flare, or a close-up without its correction",
    "another thermometer than in your usual work",
    "pieces in the wrong order: cut notches in the dark, one, two and three",
    "judging wet film: let it dry, and print all pieces on one paper with one exposure",
];

/// A trial of a recipe's development by eye: what to expose, how long to develop each piece, what spoils the trial, and
/// how to write it down. `time` is the recipe's developing time at the temperature `at`.
pub fn trial_plan(recipe: &Recipe, step: &Step, at: Temperature, time: Time) -> Document {
    let times = PARTS.map(|(above, below)| to_five_seconds(time.scaled(above, below)));
    let film = recipe.film.as_ref().map_or("the film", |film| &film.title);
    let bath = step
        .bath
        .as_ref()
        .and_then(|bath| Some(format!("{} {}", plain(&bath.solution.as_ref()?.title), bath.dilution)));
    let mut develop =
        vec![format!("each piece in fresh {}, agitated as always", bath.as_deref().unwrap_or("developer"))];
    develop.extend((1..).zip(&times).map(|(number, time)| {
        let notches = if number == 1 { "1 notch".to_owned() } else { format!("{number} notches") };
        format!("{notches}: {time} at {}", degrees(at))
    }));
    develop.push("then stop, fix, wash and dry all three in the same way".to_owned());
    let list = |title: &str, items: &[String]| Section::list(title, Bullet::Dash, items);
    let sections = [
        list("EXPOSE", &EXPOSE.map(str::to_owned)),
        list("DEVELOP", &develop),
        list("JUDGE", &JUDGE.map(str::to_owned)),
        list("WHAT SPOILS IT", &SPOILERS.map(str::to_owned)),
        Some(written(recipe, step, at, &times)),
    ];
    Document {
        title: format!("Trial by eye: {}", plain(&recipe.title)),
        facts: vec![plain(film), degrees(at), format!("{time} in the recipe")],
        sections: sections.into_iter().flatten().collect(),
        ..Document::default()
    }
}

/// The section with the trial to copy into a recipe file, and with the line that uses it.
fn written(recipe: &Recipe, step: &Step, at: Temperature, times: &[Time; 3]) -> Section {
    let name = format!("{}-trial", recipe.name);
    let mut lines = vec![format!("trial {name} \"what you photographed\" {{")];
    lines.extend(recipe.film.iter().map(|film| format!("    film      {}", film.name)));
    if let Some((bath, solution)) = step.bath.as_ref().and_then(|bath| Some((bath, bath.solution.as_ref()?)))
    {
        lines.push(format!("    in        {} {} at {at}", solution.name, bath.dilution));
    }
    lines.extend(times.iter().zip(WORDS).map(|(time, word)| format!("    piece     {time} \"{word}\"")));
    lines.push("}".to_owned());
    let last = format!("and in the step {} of the recipe: time by {name}", plain(&step.title()));
    let first = "right is the piece that you chose; here it is the second".to_owned();
    Section::titled(
        "THEN WRITE DOWN",
        vec![Block::Paragraph(first), Block::Lines(lines), Block::Paragraph(last)],
    )
}

/// The time rounded to five seconds, because nobody can keep it more exactly by a clock.
fn to_five_seconds(time: Time) -> Time {
    Time::from_seconds((time.ms + 2500).div_euclid(5000) * 5)
}

fn degrees(at: Temperature) -> String {
    format!("{} °C", at.in_celsius(1))
}

//! What the screen of a followed session shows when people are late: the evenings of `late/*.json`, worked by hand, and
//! every evening of the shelf with a person who is late at each pour.

mod pace;
mod reread;
mod shelf;
mod undo;

use std::collections::BTreeMap;
use std::sync::Arc;

use serde_json::Value;
use wetside::check::{Levels, check_all};
use wetside::compile::{Schedule, Tonight, compile};
use wetside::emit::{Hold, Live, Said, card};
use wetside::model::{Format, Recipe, Rolls, Shelf, Tank, Time};
use wetside::source::{MemoryFiles, Sources};

use crate::kitchen::{celsius, fahrenheit};

const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/late");

/// All recipes and tanks of the shelf.
pub(crate) struct Recipes(Shelf);

impl Recipes {
    pub(crate) fn new() -> Recipes {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/recipes");
        let paths = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        let texts = paths.filter(|path| path.is_file()).map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, std::fs::read_to_string(path).unwrap())
        });
        let texts: BTreeMap<String, String> = texts.collect();
        let mut sources = Sources::default();
        let roots: Vec<_> = texts.iter().map(|(name, text)| sources.add(name, text.as_str())).collect();
        let (shelf, findings) = check_all(&mut sources, &roots, &MemoryFiles::default(), &Levels::default());
        assert!(findings.is_empty(), "the shelf is clean");
        Recipes(shelf)
    }

    fn recipe(&self, name: &str) -> &Arc<Recipe> {
        self.0.recipes.iter().find(|recipe| recipe.name == name).unwrap()
    }

    fn tank(&self, name: &str) -> Arc<Tank> {
        self.0.tanks.iter().find(|(_, own, _)| own == name).map(|(.., tank)| Arc::clone(tank)).unwrap()
    }

    /// The schedule of an evening; `None` if it cannot be done without a tank.
    pub(crate) fn schedule(
        &self,
        recipe: &str,
        at: &str,
        rolls: &str,
        tank: Option<&str>,
    ) -> Option<Schedule> {
        let (degrees, scale) = at.split_at(at.len() - 1);
        let temperature = if scale == "F" { fahrenheit(degrees) } else { celsius(degrees) };
        let rolls = rolls.split('+').map(|rolls| {
            let (count, format) = rolls.split_once('x').unwrap();
            Rolls { count: count.parse().unwrap(), format: Format::parse(format).unwrap() }
        });
        let tank = tank.map(|tank| self.tank(tank));
        let tonight = Tonight { tank, ..Tonight::new(temperature, rolls.collect()) };
        compile(&self.0, self.recipe(recipe), &tonight, Vec::new()).ok()
    }
}

/// A session after its cautions.
pub(crate) fn followed(schedule: &Schedule) -> Live {
    Live::new(schedule, &card(schedule, &Sources::default()), Time::ZERO)
}

/// A clock such as `9:04` or `1:02:03`.
fn time(text: &str) -> Time {
    Time::from_seconds(text.split(':').fold(0, |sum, part| sum * 60 + part.parse::<i64>().unwrap()))
}

/// Says what a row of an evening says.
fn press(live: &mut Live, schedule: &Schedule, what: &str, clock: Time) {
    let (word, value) = what.split_once(':').unwrap_or((what, ""));
    let step = || {
        let (kind, name) = value.split_once(' ').map_or((value, None), |(kind, name)| (kind, Some(name)));
        let is_own = |step: &wetside::compile::PlannedStep| {
            step.kind.word() == kind && (name.is_none() || step.name.as_deref() == name)
        };
        schedule.steps.iter().position(is_own).unwrap()
    };
    let is_taken = match word {
        "start" => live.say(Said::Start, clock),
        "in" => live.say(Said::In(step()), clock),
        "behind" => live.say(Said::Behind(time(value)), clock),
        "go" => {
            let step = &schedule.steps[step()];
            live.say(Said::At(step.start + step.handling), clock)
        }
        "not-now" => live.say(Said::NotNow, clock),
        "done" => live.say(Said::Seen, clock),
        "back-in" => live.say(Said::BackIn, clock),
        "read" => live.say(Said::Read(celsius(value)), clock),
        "lamp" => matches!(live.state(clock).hold, Some(Hold::Lamp(_))) && live.confirm(clock),
        "undo" => {
            live.undo(clock);
            true
        }
        other => panic!("{other} is not a press"),
    };
    assert!(is_taken, "{what} at {clock}");
}

/// What is on the screen, by the keys of the evenings.
fn seen(live: &Live, clock: Time, key: &str) -> Value {
    let now = live.state(clock);
    let hold = now.hold.map(|hold| match hold {
        Hold::Start => "start",
        Hold::In(_) => "in",
        Hold::NotNow => "not-now",
        Hold::Done => "done",
        Hold::Lamp(_) => "lamp",
        Hold::Hung => "hung",
    });
    let took = || live.took(clock).iter().map(|took| took.words()).collect::<Vec<_>>().join(", ");
    match key {
        "word" => now.word.into(),
        "count" => now.count.into(),
        "due" => now.due.map(|due| Time::from_seconds(due.ms / 1000).to_string()).into(),
        "hold" => hold.into(),
        "lid" => live.lid(clock).into(),
        "said" => live.said(clock).into(),
        "read" => live.last_reading().into(),
        "took" => took().into(),
        other => panic!("{other} is not seen"),
    }
}

#[test]
fn the_evenings_worked_by_hand_are_on_the_screen() {
    let recipes = Recipes::new();
    let mut compared = 0;
    for entry in std::fs::read_dir(FOLDER).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "json") {
            continue;
        }
        let evening: Value = serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
        let words: Vec<&str> = evening["card"].as_str().unwrap().split(' ').collect();
        let option = |name: &str| words.iter().position(|word| *word == name).map(|at| words[at + 1]);
        let (at, rolls) = (option("--at").unwrap(), option("--rolls").unwrap());
        let schedule = recipes.schedule(words[0], at, rolls, option("--tank")).unwrap();
        let mut live = followed(&schedule);
        for row in evening["steps"].as_array().unwrap() {
            let clock = time(row["at"].as_str().unwrap());
            if let Some(what) = row.get("press") {
                press(&mut live, &schedule, what.as_str().unwrap(), clock);
            }
            for (key, value) in row.as_object().unwrap() {
                if !["at", "press"].contains(&key.as_str()) {
                    assert_eq!(seen(&live, clock, key), *value, "{}: {key} at {clock}", path.display());
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 200, "{compared}");
}

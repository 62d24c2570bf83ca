//! What the page shows when people are late: the evenings of `tests/late`, and every evening of the shelf with a delay at
//! each pour.

use std::fs;
use std::path::Path;

use serde_json::{Value, json};

use super::stage::{QUICK, Stage, TRIAL, readme_evening};
use crate::evenings::{SHELF, call, laid_out, shelf};

const REPLAY: &str = include_str!("replay.js");
const DELAYS: &str = include_str!("delays.js");

/// A script file without its comment, as an expression.
fn expression(script: &str) -> String {
    script.lines().filter(|line| !line.starts_with("//")).collect::<Vec<_>>().join("\n")
}

#[test]
fn the_page_shows_what_the_evenings_worked_by_hand_say() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/late");
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    let mut seen = 0;
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "json") {
            continue;
        }
        let evening: Value = serde_json::from_str(&fs::read_to_string(&path).unwrap()).unwrap();
        let options = evening["card"].as_str().unwrap();
        let run = options.split(' ').fold(shelf().args(["card"]), |run, option| run.arg(option));
        page.opens(&run.args(["--as", "html"]).succeeds());
        let wrong = page.value(&format!("({})({evening})", expression(REPLAY)));
        assert_eq!(wrong, json!([]), "{}", path.display());
        page.was_quiet();
        seen += 1;
    }
    assert!(seen >= 10, "{seen}");
}

/// The steps of a schedule as `delays.js` takes them.
fn steps(schedule: &Value, names: &Value) -> Value {
    let laid = laid_out(schedule);
    let all = laid["steps"].as_array().unwrap();
    let ms = |value: &Value| value.as_i64().unwrap_or(0);
    let list = all.iter().enumerate().map(|(place, step)| {
        let events = step["events"].as_array().unwrap().iter();
        let events = events.map(|event| json!([event["at_ms"], event["for_ms"], event["do"]]));
        let pour = ms(&step["start_ms"]) + ms(&step["handling_ms"]);
        let end = all.get(place + 1).map_or(pour + 60_000, |next| ms(&next["start_ms"]));
        json!({
            "name": names[place]["name"], "pour": pour, "end": end, "isWet": names[place]["isWet"],
            "isLamp": step["kind"] == "expose", "events": events.collect::<Vec<_>>(),
        })
    });
    list.collect()
}

/// Without a tank, nothing states the volume of these recipes, and they have no card.
const WITHOUT_A_VOLUME: [&str; 4] =
    ["saltmarsh-100-two-bath", "wheelhouse-400-monobath", "estuary-400-line", "headland-print"];

/// Each step's own schedule is the truth about the tank once a person has said when its bath went in: with delays of 0, 5,
/// 20 and 60 s at each pour, with and without a tank.
#[test]
fn after_each_delay_the_words_are_those_of_the_bath_in_the_tank() {
    let Some(mut page) = Stage::prepared(readme_evening(), &[TRIAL, QUICK]) else { return };
    let mut compared = 0;
    for (place, evenings) in SHELF.iter().filter(|evenings| !evenings.has_signs()).enumerate() {
        let (at, rolls) = evenings.all().next().unwrap();
        let untanked = || shelf().args(["card", evenings.recipe, "--at", at, "--rolls", rolls]);
        let tanked = || call(shelf(), evenings, (at, rolls));
        let has_volume = !WITHOUT_A_VOLUME.contains(&evenings.recipe);
        let more = has_volume.then(|| (untanked(), untanked()));
        for (json, run) in [(tanked(), tanked())].into_iter().chain(more) {
            let data: Value = serde_json::from_str(&json.args(["--as", "json"]).succeeds()).unwrap();
            let delay = [0, 5, 20, 60][place % 4];
            page.opens(&run.args(["--as", "html"]).succeeds());
            let names = page.value("JSON.parse(document.getElementById('evening').textContent).steps");
            let asked = json!({ "steps": steps(&data, &names), "delay": delay });
            let result = page.value(&format!("({})({asked})", expression(DELAYS)));
            assert_eq!(result["wrong"], json!([]), "{} with {delay} s", evenings.recipe);
            compared += result["compared"].as_u64().unwrap();
            page.was_quiet();
        }
    }
    assert!(compared > 500, "{compared}");
}

//! The recipes of the first edition, as its last version had them: their times, volumes and movements are those that the
//! program of that time printed. `edition-1/evenings.txt` was written from the cards of that program, as JSON.
#![expect(clippy::indexing_slicing, reason = "a missing key must fail the test")]

use std::fs;

use serde_json::Value;

use crate::program::Run;

/// Findings that the first program did not report, each with its reason. They change no card.
const NEW_FINDINGS: &[(&str, &str)] = &[(
    "allow-without-effect",
    "a bath A of two has no capacity of its own, so its missing capacity is no longer a finding that can be allowed",
)];

pub(crate) fn first_shelf() -> Run {
    Run::new().folders_of_repo("tests/edition-1").below("tests/edition-1")
}

/// The list of evenings: the call of each card, and the lines of its schedule.
pub(crate) fn evenings() -> Vec<(String, Vec<String>)> {
    let list = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/edition-1/evenings.txt");
    let list = fs::read_to_string(list).unwrap();
    let blocks = list.trim_end().split("\n\n").map(|block| block.split_once('\n').unwrap());
    blocks.map(|(call, lines)| (call.to_owned(), lines.lines().map(str::to_owned).collect())).collect()
}

/// A number of JSON as the list of evenings has it.
fn number(value: &Value) -> String {
    value.as_f64().unwrap().to_string()
}

/// Seconds; 0 if JSON does not have the key.
fn seconds(value: &Value) -> String {
    (value.as_f64().unwrap_or(0.0) / 1000.0).to_string()
}

fn words<'a>(values: impl IntoIterator<Item = &'a Value>) -> String {
    let words = values.into_iter().filter_map(|value| match value {
        Value::Null => None,
        Value::String(text) => Some(text.clone()),
        number => Some(number.to_string()),
    });
    words.collect::<Vec<_>>().join(" ")
}

fn all(values: &Value, each: impl Fn(&Value) -> String, between: &str) -> String {
    let all = values.as_array().map_or(&[][..], Vec::as_slice);
    all.iter().map(each).collect::<Vec<_>>().join(between)
}

/// What is done in a step: the line of the list of evenings.
fn step(step: &Value) -> String {
    let time = |key: &str| seconds(&step[key]);
    let mut line = format!(
        "{}: {} + {} s, handling {}, fill {}, drain {}",
        words([&step["kind"], &step["name"]]),
        time("start_ms"),
        time("duration_ms"),
        time("handling_ms"),
        time("fill_ms"),
        time("drain_ms"),
    );
    if !step["temperature_c"].is_null() {
        line += &format!("; {} C", number(&step["temperature_c"]));
    }
    if !step["volume_ml"].is_null() {
        let bath = words([&step["solution"], &step["dilution"], &step["use"]]);
        line += &format!("; {} ml of {bath}", number(&step["volume_ml"]));
        if !step["pours"].is_null() {
            line += &format!(" x {}", step["pours"]);
        }
        let part = |part: &Value| format!("{} {} + ", number(&part["ml"]), words([&part["what"]]));
        line += &format!(": {}{} water", all(&step["parts"], part, ""), number(&step["water_ml"]));
    }
    if !step["flow_ml_per_min"].is_null() {
        line += &format!("; {} ml/min", number(&step["flow_ml_per_min"]));
    }
    if step["light_safe"] == true {
        line += "; room light";
    }
    let event = |event: &Value| {
        let (at, long) = (seconds(&event["at_ms"]), seconds(&event["for_ms"]));
        words([&at.into(), &event["do"], &long.into(), &event["count"], &event["by"]])
    };
    line + "; " + &all(&step["events"], event, ", ")
}

/// The lines of the list of evenings.
fn evening(schedule: &Value) -> Vec<String> {
    let rolls = |key: &str| all(&schedule[key], |roll| words([&roll["slot"], &roll["format"]]), ", ");
    let mut lines = vec![format!(
        "total {} s, drying {} s, water {} ml; index {}; load {}; hang {}",
        seconds(&schedule["total_ms"]),
        seconds(&schedule["drying_ms"]),
        number(&schedule["water_ml"]),
        schedule["conditions"]["index"],
        rolls("load"),
        rolls("hanging"),
    )];
    let rules =
        schedule["warnings"].as_array().unwrap().iter().map(|warning| warning["rule"].as_str().unwrap());
    lines.extend(rules.map(|rule| format!("warning: {rule}")));
    lines.extend(schedule["steps"].as_array().unwrap().iter().map(step));
    lines
}

#[test]
fn recipes_of_the_first_edition_keep_their_times_and_volumes() {
    let mut run = first_shelf();
    let mut differences = Vec::new();
    let evenings = evenings();
    for (call, then) in &evenings {
        run = call.split(' ').fold(run.again(), Run::arg).args(["--as", "json"]);
        let schedule: Value = serde_json::from_str(&run.succeeds()).unwrap();
        let now = evening(&schedule);
        let gone = then.iter().filter(|line| !now.contains(line)).map(|line| format!("- {line}"));
        let new = now.iter().filter(|line| !then.contains(line)).map(|line| format!("+ {line}"));
        let changed: Vec<String> = gone.chain(new).collect();
        if !changed.is_empty() {
            differences.push(format!("{call}\n{}\n", changed.join("\n")));
        }
    }
    assert!(differences.is_empty(), "{}", differences.join("\n"));
    assert_eq!(evenings.len(), 60);
}

/// The first program had no finding on its recipes.
#[test]
fn the_check_of_the_first_editions_recipes_has_only_the_new_warnings() {
    let report = first_shelf().args(["check", "--as", "json"]).succeeds();
    let report: Value = serde_json::from_str(&report).unwrap();
    let findings = report["findings"].as_array().unwrap();
    let names: Vec<&str> = findings.iter().map(|finding| finding["name"].as_str().unwrap()).collect();
    assert_eq!(names, NEW_FINDINGS.iter().map(|(name, _)| *name).collect::<Vec<_>>());
}

/// The journal of that autumn is one file with fingerprints of another kind. By hand, without the retracted session: five,
/// five and four rolls in the fixer of bottle A, eight in that of bottle B, all of them in the stop bath.
#[test]
fn the_journal_of_the_first_edition_still_counts() {
    let run = first_shelf().below("tests/edition-1/recipes/estuary-autumn");
    let baths = run.args(["baths"]).succeeds();
    for (bath, treated) in
        [("autumn-fix-a", "14 of 25"), ("autumn-fix-b", "8 of 25"), ("autumn-stop-a", "22 of 30")]
    {
        let line = baths.lines().find(|line| line.starts_with(bath)).unwrap();
        assert!(line.contains(&format!("  {treated} ")), "{line}");
    }
}

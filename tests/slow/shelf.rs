//! The table, calendar and cue track of every evening of the shelf, read by another reader and compared with the JSON.

use jiff::SignedDuration;
use jiff::civil::date;
use serde_json::Value;

use crate::evenings::{Evenings, SHELF, shelf};
use crate::program::Run;
use crate::readers::{LEAD_IN, alarms, calendar, heard, samples, value};

/// An action of the evening: its word, its start and its length in milliseconds.
type Done = (String, i64, i64);

/// The card of that evening in that form, with the wall's clock.
fn written(run: Run, evenings: &Evenings, (at, rolls): (&str, &str), form: &str) -> (Run, String) {
    let call = ["card", evenings.recipe, "--at", at, "--rolls", rolls, "--tank", evenings.tank];
    let run = run.again().args(call).args(["--date", "2026-11-25", "--start", "23:58", "--as", form]);
    let said = run.succeeds();
    (run, said)
}

/// Each evening of the shelf, in that form and as JSON.
fn each(form: &str, mut holds: impl FnMut(&str, &str, &Value)) {
    let (mut run, mut seen) = (shelf(), 0);
    // A calendar and a track of a recipe with signs need --expect, as tests/decisions shows.
    let has_form = |evenings: &&Evenings| form == "csv" || !evenings.has_signs();
    for evenings in SHELF.iter().filter(has_form) {
        for evening in evenings.all() {
            let (said, schedule);
            (run, said) = written(run, evenings, evening, form);
            (run, schedule) = written(run, evenings, evening, "json");
            holds(evenings.recipe, &said, &serde_json::from_str(&schedule).unwrap());
            seen += 1;
        }
    }
    assert!(seen >= 4 * 20, "{seen}");
}

fn actions(events: &Value) -> Vec<Done> {
    let done = events.as_array().unwrap().iter().map(|event| {
        let [at, length] = ["at_ms", "for_ms"].map(|key| event[key].as_i64().unwrap());
        (event["do"].as_str().unwrap().to_owned(), at, length)
    });
    done.collect()
}

fn steps(schedule: &Value) -> &[Value] {
    schedule["steps"].as_array().unwrap()
}

/// Whether a bath goes in.
fn is_in(action: &str) -> bool {
    ["pour", "fill", "lower"].contains(&action)
}

/// Whether a bath goes in or comes out.
fn is_of_a_bath(action: &str) -> bool {
    is_in(action) || ["drain", "dump", "lift"].contains(&action)
}

#[test]
fn every_table_of_the_shelf_has_every_action_and_no_formula() {
    each("csv", |name, table, schedule| {
        let mut reader = csv::Reader::from_reader(table.as_bytes());
        let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        let told: Vec<Done> = rows
            .iter()
            // Rows that are no action of the schedule.
            .filter(|row| &row[1] != "decide" && &row[1] != "safety")
            .map(|row| (row[1].to_owned(), row[3].parse().unwrap(), row[5].parse().unwrap()))
            .collect();
        let meant: Vec<Done> = steps(schedule).iter().flat_map(|step| actions(&step["events"])).collect();
        assert_eq!(told, meant, "{name}");
        for cell in rows.iter().flatten() {
            assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "{name}: {cell:?}");
        }
    });
}

/// A calendar has whole seconds, rounded down.
#[test]
fn every_calendar_of_the_shelf_has_every_step_and_an_alarm_for_each_bath() {
    let start = date(2026, 11, 25).at(23, 58, 0, 0);
    each("ics", |name, text, schedule| {
        let calendar = calendar(text);
        assert_eq!(calendar.events.len(), steps(schedule).len(), "{name}");
        for (event, step) in calendar.events.iter().zip(steps(schedule)) {
            let whole = |ms: i64| ms.div_euclid(1000);
            let begins = whole(step["start_ms"].as_i64().unwrap());
            let then = start + SignedDuration::from_secs(begins);
            let then = then.strftime("%Y%m%dT%H%M%S").to_string();
            assert_eq!(value(&event.properties, "DTSTART"), then, "{name}");
            let kind = step["kind"].as_str().unwrap();
            assert!(value(&event.properties, "SUMMARY").starts_with(kind), "{name}");
            let wet = actions(&step["events"]).into_iter().filter(|(action, ..)| is_of_a_bath(action));
            let mut due: Vec<String> = wet.map(|(_, at, _)| format!("PT{}S", whole(at) - begins)).collect();
            // A bath that comes out as the next goes in has one alarm with it.
            due.dedup();
            let told: Vec<String> = alarms(event).into_iter().map(|(trigger, _)| trigger).collect();
            assert_eq!(told, due, "{name}");
        }
    });
}

/// Only the first evening of each recipe, because reading a track takes seconds. Each pour and drain from the first pour on
/// has a rising note; two at one time have one. A note can be late by the 0.15 s of a short one and a gap.
#[test]
fn every_track_of_the_shelf_has_a_tone_for_each_bath() {
    let mut run = shelf();
    for evenings in SHELF.iter().filter(|evenings| !evenings.has_signs()) {
        let evening = evenings.all().next().unwrap();
        let name = evenings.recipe;
        let schedule;
        (run, schedule) = written(run, evenings, evening, "json");
        let schedule: Value = serde_json::from_str(&schedule).unwrap();
        let all = steps(&schedule).iter().flat_map(|step| actions(&step["events"])).collect::<Vec<_>>();
        let first = all.iter().find(|(action, ..)| is_in(action)).unwrap().1;
        let last = all.iter().rfind(|(action, ..)| is_of_a_bath(action)).unwrap().1;
        // A lamp and a coat have the note as well.
        let is_now = |action: &str| is_of_a_bath(action) || ["expose", "coat"].contains(&action);
        let now = all.iter().filter(|(action, at, _)| is_now(action) && (first..=last).contains(at));
        let mut wet: Vec<i64> = now.map(|(_, at, _)| *at).collect();
        wet.dedup();
        let (at, rolls) = evening;
        let call = ["card", name, "--at", at, "--rolls", rolls, "--tank", evenings.tank, "-o", "cues.wav"];
        run = run.again().args(call);
        assert_eq!(run.succeeds(), "");
        let tones = heard(&samples(&std::fs::read(run.folder().join("cues.wav")).unwrap()));
        let rising: Vec<f64> =
            tones.iter().filter(|(_, length, _)| *length > 1.0).map(|tone| tone.0).collect();
        assert_eq!(rising.len(), wet.len(), "{name}: {rising:?} and not {wet:?}");
        for (at, due) in rising.iter().zip(&wet) {
            let late = at - LEAD_IN - (due - first) as f64 / 1000.0;
            assert!((-0.02..0.3).contains(&late), "{name}: {late} s late at {at} s");
        }
    }
}

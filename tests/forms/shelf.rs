//! The table, the calendar and the track of every evening of the shelf, each read by a reader that is not ours
//! and held to the schedule in JSON, which has tests of its own.

use jiff::SignedDuration;
use jiff::civil::date;
use serde_json::Value;

use super::calendar::{alarms, read, value};
use super::tones::{DRAIN, POUR, heard, read_back};
use crate::evenings::{Evenings, SHELF, shelf};
use crate::program::Run;

/// An action of the evening: what is done, when it begins, and how long it takes, in milliseconds.
type Done = (String, i64, i64);

/// What the card of that evening is in that form, with the wall's clock known.
fn written(run: Run, evenings: &Evenings, (at, rolls): (&str, &str), form: &str) -> (Run, String) {
    let call = ["card", evenings.recipe, "--at", at, "--rolls", rolls, "--tank", evenings.tank];
    let run = run.again().args(call).args(["--date", "2026-11-25", "--start", "23:58", "--as", form]);
    let said = run.succeeds();
    (run, said)
}

/// Each evening of the shelf, in that form and as JSON.
fn each(form: &str, mut holds: impl FnMut(&str, &str, &Value)) {
    let (mut run, mut seen) = (shelf(), 0);
    for evenings in &SHELF {
        for evening in evenings.all() {
            let (said, schedule);
            (run, said) = written(run, evenings, evening, form);
            (run, schedule) = written(run, evenings, evening, "json");
            holds(evenings.recipe, &said, &serde_json::from_str(&schedule).unwrap());
            seen += 1;
        }
    }
    assert!(seen >= 4 * 15, "{seen}");
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

/// Whether a bath goes in or comes out, and at which pitch that is told.
fn pitch(action: &str) -> Option<f64> {
    match action {
        "pour" | "fill" => Some(POUR),
        "drain" | "dump" => Some(DRAIN),
        _ => None,
    }
}

#[test]
fn every_table_of_the_shelf_has_every_action_and_no_formula() {
    each("csv", |name, table, schedule| {
        let mut reader = csv::Reader::from_reader(table.as_bytes());
        let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        let told: Vec<Done> = rows
            .iter()
            .map(|row| (row[1].to_owned(), row[3].parse().unwrap(), row[5].parse().unwrap()))
            .collect();
        let meant: Vec<Done> = steps(schedule).iter().flat_map(|step| actions(&step["events"])).collect();
        assert_eq!(told, meant, "{name}");
        for cell in rows.iter().flatten() {
            assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r']), "{name}: {cell:?}");
        }
    });
}

/// A calendar knows whole seconds, and each is the one that has begun.
#[test]
fn every_calendar_of_the_shelf_has_every_step_and_an_alarm_for_each_bath() {
    let start = date(2026, 11, 25).at(23, 58, 0, 0);
    each("ics", |name, text, schedule| {
        let calendar = read(text);
        assert_eq!(calendar.events.len(), steps(schedule).len(), "{name}");
        for (event, step) in calendar.events.iter().zip(steps(schedule)) {
            let whole = |ms: i64| ms.div_euclid(1000);
            let begins = whole(step["start_ms"].as_i64().unwrap());
            let then = start + SignedDuration::from_secs(begins);
            let then = then.strftime("%Y%m%dT%H%M%S").to_string();
            assert_eq!(value(&event.properties, "DTSTART"), then, "{name}");
            let kind = step["kind"].as_str().unwrap();
            assert!(value(&event.properties, "SUMMARY").starts_with(kind), "{name}");
            let wet = actions(&step["events"]).into_iter().filter(|(action, ..)| pitch(action).is_some());
            let mut due: Vec<String> = wet.map(|(_, at, _)| format!("PT{}S", whole(at) - begins)).collect();
            // A bath that comes out as the next goes in has one alarm with it.
            due.dedup();
            let told: Vec<String> = alarms(event).into_iter().map(|(trigger, _)| trigger).collect();
            assert_eq!(told, due, "{name}");
        }
    });
}

/// Of each recipe's first evening, as a track takes seconds to be listened to: a tone of the pitch at each pour
/// and each drain, from the first pour on, and no other of that pitch. A tone that sounds already may make it wait
/// for the 0.2 seconds that the short ones take and a gap behind it.
#[test]
fn every_track_of_the_shelf_tells_of_each_bath_when_it_is_due() {
    let mut run = shelf();
    for evenings in &SHELF {
        let evening = evenings.all().next().unwrap();
        let name = evenings.recipe;
        let schedule;
        (run, schedule) = written(run, evenings, evening, "json");
        let schedule: Value = serde_json::from_str(&schedule).unwrap();
        let wet: Vec<(f64, i64)> = steps(&schedule)
            .iter()
            .flat_map(|step| actions(&step["events"]))
            .filter_map(|(action, at, _)| Some((pitch(&action)?, at)))
            .collect();
        let first = wet.iter().find(|(pitch, _)| (pitch - POUR).abs() < 1.0).unwrap().1;
        let (at, rolls) = evening;
        let call = ["card", name, "--at", at, "--rolls", rolls, "--tank", evenings.tank, "-o", "cues.wav"];
        run = run.again().args(call);
        assert_eq!(run.succeeds(), "");
        let tones = heard(&read_back(&std::fs::read(run.folder().join("cues.wav")).unwrap()));
        let of_baths = tones.iter().filter(|(_, length, _)| *length > 0.5);
        let of_baths: Vec<&(f64, f64, f64)> = of_baths.collect();
        assert_eq!(of_baths.len(), wet.len(), "{name}: {of_baths:?} and not {wet:?}");
        for ((at, _, pitch), (meant, due)) in of_baths.iter().zip(&wet) {
            let late = at - (due - first) as f64 / 1000.0;
            assert!((-0.02..0.3).contains(&late), "{name}: {late} s late at {at} s");
            assert!((pitch / meant - 1.0).abs() < 0.1, "{name}: {pitch} Hz and not {meant} Hz at {at} s");
        }
    }
}

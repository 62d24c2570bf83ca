//! The sums of every schedule, calculated again from the JSON alone.

use std::fs;
use std::path::Path;

use serde_json::Value;

use super::{LAID_OUT, events, measured, ms, steps, when};
use crate::evenings::shelf;

/// The end of the last action: the tank is empty, or the dry step is over.
fn end(step: &Value) -> i64 {
    events(step).iter().map(|(_, at, length)| at + length).max().unwrap()
}

fn each_step(mut look: impl FnMut(&str, &Value)) {
    for (call, schedule) in LAID_OUT.iter() {
        for (number, step) in steps(schedule).iter().enumerate() {
            look(&format!("{call}, step {number}, {}", step["kind"]), step);
        }
    }
}

#[test]
fn each_step_begins_when_the_previous_one_ends() {
    for (call, schedule) in LAID_OUT.iter() {
        let mut now = 0;
        for step in steps(schedule) {
            assert_eq!(ms(step, "start_ms"), now, "{call}: {}", step["kind"]);
            now = end(step);
        }
    }
}

#[test]
fn the_actions_of_a_step_are_in_order_within_it() {
    each_step(|place, step| {
        let mut now = ms(step, "start_ms");
        for (what, at, length) in events(step) {
            assert!(now <= at, "{place}: {what} at {at} begins before {now}");
            now = at + length;
        }
        assert_eq!(now, end(step), "{place}: the last action is not the last to end");
    });
}

/// R6: a step takes its handling and its time; from full, also its fill and drain; running water, also its drain.
#[test]
fn a_step_takes_its_time_and_handling_filling_and_draining() {
    let mut seen = [0; 3];
    each_step(|place, step| {
        let time = end(step) - ms(step, "start_ms") - step["handling_ms"].as_i64().unwrap_or(0);
        let (own, fill, drain) = (ms(step, "duration_ms"), ms(step, "fill_ms"), ms(step, "drain_ms"));
        let ways = [own, own + fill + drain, own + drain];
        let way = ways.iter().position(|way| *way == time);
        let way = way.unwrap_or_else(|| panic!("{place}: {time} ms is none of {ways:?}"));
        seen[way] += 1;
    });
    assert!(seen.iter().all(|count| 0 < *count), "{seen:?}");
}

#[test]
fn pours_and_drains_take_the_times_of_the_step() {
    each_step(|place, step| {
        let (into, out) = match step["solution"].as_str() {
            // A brush takes up its bath.
            Some(_) if step["kind"] == "coat" => return,
            // The bath stands, and the material moves.
            Some(_) if !when(step, "lower").is_empty() => ("lower", "lift"),
            Some("water") => ("fill", "dump"),
            Some(_) => ("pour", "drain"),
            None => return,
        };
        let pours = step["pours"].as_u64().unwrap_or(1);
        for (what, key) in [(into, "fill_ms"), (out, "drain_ms")] {
            let told = when(step, what);
            assert_eq!(told.len() as u64, pours, "{place}: {what}");
            assert!(told.iter().all(|(_, length)| *length == ms(step, key)), "{place}: {what} {told:?}");
        }
    });
}

#[test]
fn handling_precedes_the_pour() {
    let mut handled = 0;
    each_step(|place, step| {
        let start = ms(step, "start_ms");
        let handling = step["handling_ms"].as_i64();
        let told = handling.map(|length| (start, length));
        assert_eq!(when(step, "handle"), Vec::from_iter(told), "{place}");
        handled += told.iter().count();
        let rest = events(step).into_iter().find(|(what, ..)| *what != "handle").unwrap();
        assert_eq!(rest.1, start + handling.unwrap_or(0), "{place}");
    });
    assert!(0 < handled);
}

#[test]
fn parts_and_water_add_up_to_the_volume() {
    each_step(|place, step| {
        let Some(volume) = step["volume_ml"].as_f64() else { return };
        let sum: f64 = measured(step).iter().sum();
        assert!((sum - volume).abs() < 0.05, "{place}: {sum} ml of {volume} ml");
    });
}

/// R16.
#[test]
fn the_total_ends_where_drying_begins() {
    for (call, schedule) in LAID_OUT.iter() {
        let last = steps(schedule).last().unwrap();
        let dries = last["kind"] == "dry";
        let total = if dries { ms(last, "start_ms") } else { end(last) };
        assert_eq!(ms(schedule, "total_ms"), total, "{call}");
        let drying = dries.then(|| ms(last, "duration_ms"));
        assert_eq!(schedule["drying_ms"].as_i64(), drying, "{call}");
    }
}

/// R14: the water in baths that are not kept, in every change of the wash, and in running water.
#[test]
fn the_water_of_the_evening_is_the_sum_of_its_steps() {
    for (call, schedule) in LAID_OUT.iter() {
        let mut water = 0.0;
        for step in steps(schedule) {
            let kept = matches!(step["use"].as_str(), Some("reused" | "replenished"));
            let pours = step["pours"].as_f64().unwrap_or(1.0);
            let minutes = step["duration_ms"].as_f64().unwrap() / 60_000.0;
            water += step["flow_ml_per_min"].as_f64().unwrap_or(0.0) * minutes;
            water += if kept { 0.0 } else { step["water_ml"].as_f64().unwrap_or(0.0) * pours };
        }
        let told = schedule["water_ml"].as_f64().unwrap();
        assert!((water - told).abs() < 0.05, "{call}: {water} ml, but the JSON has {told} ml");
    }
}

#[test]
fn every_reason_refers_to_an_existing_number_and_existing_lines() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    each_step(|place, step| {
        let reasons = step["because"].as_array().unwrap();
        let of = |reason: &Value| reason["of"].as_str().unwrap().to_owned();
        assert!(reasons.iter().any(|reason| of(reason) == "/duration_ms"), "{place}: why so long?");
        for reason in reasons {
            let number = step.pointer(&of(reason)).and_then(Value::as_f64);
            let number = number.unwrap_or_else(|| panic!("{place}: no number is at {}", of(reason)));
            if let Some(exact) = reason["exact"].as_f64() {
                assert!((exact - number).abs() <= 500.0, "{place}: {exact} is not rounded to {number}");
            }
            for from in reason["from"].as_array().unwrap() {
                let file = from["file"].as_str().unwrap();
                let text = match file {
                    "trial.wet" => super::REPLENISHED.to_owned(),
                    file => fs::read_to_string(root.join(file)).unwrap(),
                };
                let line = text.lines().nth(usize::try_from(ms(from, "line") - 1).unwrap());
                assert!(line.is_some_and(|line| !line.trim().is_empty()), "{place}: {from}");
            }
        }
    });
}

/// R12: the load is the rolls of the call, one slot each, in order from the bottom.
#[test]
fn the_load_is_the_rolls_of_the_call_from_the_bottom_up() {
    for (call, schedule) in LAID_OUT.iter() {
        let asked = schedule["conditions"]["rolls"].as_array().unwrap().iter().flat_map(|rolls| {
            let count = usize::try_from(ms(rolls, "count")).unwrap();
            std::iter::repeat_n(rolls["format"].as_str().unwrap(), count)
        });
        let asked: Vec<(u64, &str)> = (1..).zip(asked).collect();
        let load = schedule["load"].as_array().unwrap().iter();
        let load = load.map(|slot| (slot["slot"].as_u64().unwrap(), slot["format"].as_str().unwrap()));
        assert_eq!(load.collect::<Vec<_>>(), asked, "{call}");
    }
}

#[test]
fn labels_go_to_the_lowest_slots_unchanged() {
    let labels = |name: &str| {
        let (_, schedule) = LAID_OUT.iter().find(|(call, _)| call.starts_with(name)).unwrap();
        let load = schedule["load"].as_array().unwrap();
        load.iter().map(|slot| slot["label"].as_str().map(str::to_owned)).collect::<Vec<_>>()
    };
    let some = |label: &str| Some(label.to_owned());
    assert_eq!(labels("a start and labels"), [some("tide-1"), some("'tide' 2")]);
    assert_eq!(labels("fewer labels than rolls"), [some("gate"), None, None, None]);
}

/// The slots of a card from the top of the tank, by its JSON and by its text.
fn hung(rolls: &str, labels: &str) -> (Vec<String>, Vec<String>) {
    let call = |form: &str| {
        let run = shelf().args(["card", "estuary-400-mq", "--at", "21.5C", "--tank", "tall-five"]);
        let run = run.args(["--rolls", rolls, "--label", labels, "--as", form]);
        run.succeeds()
    };
    let schedule: Value = serde_json::from_str(&call("json")).unwrap();
    let name = |slot: &Value| slot["label"].as_str().map_or_else(|| slot["slot"].to_string(), str::to_owned);
    let of_json = schedule["hanging"].as_array().unwrap().iter().map(name).collect();
    let text = call("text").split_whitespace().collect::<Vec<_>>().join(" ");
    let (_, order) = text.split_once("hang the film, the top of the tank first: ").unwrap();
    // The next line is the drying.
    let (order, _) = order.split_once(" 3:00:00 dry").unwrap();
    let mut of_text = Vec::new();
    for one in order.split(" · ") {
        match one.split_once(" down to ") {
            Some((high, low)) => {
                let (high, low): (u32, u32) = (high.parse().unwrap(), low.parse().unwrap());
                of_text.extend((low..=high).rev().map(|slot| slot.to_string()));
            }
            None => of_text.push(one.to_owned()),
        }
    }
    (of_json, of_text)
}

/// By hand: the last roll in comes out first.
#[test]
fn the_order_of_hanging_is_the_same_in_json_and_text() {
    for (rolls, labels, expected) in [
        ("5x120", "A,B,C,D,E", &["E", "D", "C", "B", "A"][..]),
        ("3x120+2x135", "A,B,-,-,-", &["5", "4", "3", "B", "A"]),
        ("2x120", "A,-", &["2", "A"]),
    ] {
        let (of_json, of_text) = hung(rolls, labels);
        assert_eq!(
            (&*of_json, &*of_text),
            (expected_names(expected).as_slice(), expected_names(expected).as_slice())
        );
    }
}

fn expected_names(names: &[&str]) -> Vec<String> {
    names.iter().map(|name| (*name).to_owned()).collect()
}

/// In every schedule, `hanging` is `load` reversed.
#[test]
fn film_hangs_in_the_order_of_the_load_from_the_top_down() {
    for (call, schedule) in LAID_OUT.iter() {
        let mut load = schedule["load"].as_array().unwrap().clone();
        load.reverse();
        assert_eq!(schedule["hanging"].as_array().unwrap(), &load, "{call}");
    }
}

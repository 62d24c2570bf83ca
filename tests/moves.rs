//! The agitation printed on a card equals that of the schedule. The test reconstructs each agitation and knock
//! from the printed lines alone (R7).

use proptest::prelude::*;
use serde_json::Value;
use wetside::compile::{Action, Schedule};
use wetside::emit::card;
use wetside::model::{Format, Volume};

use crate::evenings::{SHELF, laid_out, output, shelf};
use crate::kitchen::{Kitchen, celsius, evening, step_text};
use crate::properties::agitation::{Trial, trial};
use crate::properties::tried;

/// A line of a card: its time and its text.
type Line = (String, String);

/// An agitation on the step's clock: start and length in milliseconds, motion, and count. A knock has length 0 and
/// the motion `knock`.
type Move = (i64, i64, Option<String>, Option<i64>);

/// Milliseconds of `30 s`, `2.5 s`, `1 min`, `3 h`, `1:30`, `1:02:30.5`.
fn ms(time: &str) -> i64 {
    let (figure, unit) = match time.split_once(' ') {
        Some((figure, "s")) => (figure, 1000),
        Some((figure, "min")) => (figure, 60_000),
        Some((figure, "h")) => (figure, 3_600_000),
        Some(other) => panic!("{other:?} is not a time"),
        None => (time, 1000),
    };
    let (whole, part) = figure.split_once('.').unwrap_or((figure, ""));
    let whole = whole.split(':').fold(0_i64, |sum, field| sum * 60 + field.parse::<i64>().unwrap());
    let part: i64 = format!("{part:0<3}").parse().unwrap();
    whole * unit + part * unit / 1000
}

/// The length and the count of `30 s` or `5 inversions`.
fn amount(words: &str, each: i64) -> (i64, Option<i64>) {
    let count = words.strip_suffix(" inversions").or(words.strip_suffix(" inversion"));
    match count.map(|count| count.parse::<i64>().unwrap()) {
        Some(count) => (count * each, Some(count)),
        None => (ms(words), None),
    }
}

/// The agitations of a line `agitate: …` at the time `from`, in a tank that drains at `draining`.
fn agitated(body: &str, from: i64, draining: i64) -> Vec<Move> {
    let (body, knocks) = body.split_once("; ").map_or((body, None), |(body, knocks)| (body, Some(knocks)));
    let mut pieces: Vec<&str> = body.split(", ").filter(|piece| *piece != "then leave it still").collect();
    let by =
        pieces.iter().position(|piece| piece.starts_with("by ")).map(|at| pieces.remove(at)[3..].to_owned());
    let mut last = |pattern: &dyn Fn(&str) -> Option<String>| {
        let found = pieces.last().and_then(|piece| pattern(piece))?;
        pieces.pop();
        Some(found)
    };
    let each = last(&|piece| piece.strip_suffix(" each").map(str::to_owned)).map_or(0, |each| ms(&each));
    if pieces.last() == Some(&"without a pause") {
        let rpm = pieces[0].strip_prefix("turning at ").and_then(|rest| rest.strip_suffix(" rpm"));
        let by = by.or(rpm.map(|_| "rotary".to_owned()));
        return vec![(from, draining - from, by, rpm.map(|rpm| rpm.parse().unwrap()))];
    }
    let mut moves = Vec::new();
    let mut at = |time: i64, (length, count): (i64, Option<i64>)| {
        let usual = count.map(|_| "inversion".to_owned());
        moves.push((time, length, by.clone().or(usual), count));
    };
    let mut listed = (0, None);
    for piece in pieces {
        let piece = piece.strip_prefix("then ").unwrap_or(piece);
        if let Some((what, rhythm)) = piece.split_once(" every ") {
            let (period, range) = rhythm.split_once(" from ").unwrap();
            let (first, end) = range.split_once(" to ").unwrap();
            let (first, end, period) = (ms(first), ms(end), ms(period));
            // Both times are rounded to whole seconds, so the last one is near a multiple of the period.
            let after = (end - first + period / 2) / period;
            (0..=after).for_each(|number| at(first + number * period, amount(what, each)));
            continue;
        }
        // A list of times is split at its commas, so a piece may be only times.
        let bare = piece.split(' ').next().unwrap().contains(':') && piece.len() < 30 && listed.0 != 0;
        let times = match piece.split_once(" at ") {
            Some((what, times)) => {
                listed = amount(what, each);
                times
            }
            None if bare => piece,
            None => {
                at(from, amount(piece, each));
                continue;
            }
        };
        times.split(" and ").for_each(|time| at(ms(time), listed));
    }
    let knocked = match knocks.map(without_vessel) {
        None => 0,
        Some("after each") => moves.len(),
        Some("after each but the last") => moves.len() - 1,
        Some(other) => panic!("{other:?}"),
    };
    let ends: Vec<Move> = moves.iter().take(knocked).map(|(at, length, ..)| knock(at + length)).collect();
    moves.extend(ends);
    moves
}

fn knock(at: i64) -> Move {
    (at, 0, Some("knock".to_owned()), None)
}

/// What follows `knock the tank`, `knock the rack` and so on.
fn without_vessel(words: &str) -> &str {
    words
        .strip_prefix("knock the ")
        .and_then(|rest| rest.split_once(' '))
        .unwrap_or_else(|| panic!("{words:?}"))
        .1
}

/// The agitations of one change of wash water.
fn changed(what: &str) -> Vec<Move> {
    let (what, draining) = what.rsplit_once("; dump at ").unwrap();
    let draining = ms(draining);
    let Some((_, moved)) = what.split_once("fill; ") else { return Vec::new() };
    let knocked = moved.split_once("; knock the ").and_then(|(moved, knock)| {
        let (_, time) = knock.split_once(" at ")?;
        Some((moved, Some(time)))
    });
    let (moved, alone) = knocked.unwrap_or((moved, None));
    let mut moves = if moved.starts_with("let it stand") {
        Vec::new()
    } else if let Some(rest) = moved.strip_prefix("agitate from ") {
        let (from, body) = rest.split_once(": ").unwrap();
        agitated(body, ms(from), draining)
    } else {
        let (count, from) = moved.split_once(" from ").unwrap();
        let (_, count) = amount(count, 0);
        vec![(ms(from), draining - ms(from), Some("inversion".to_owned()), count)]
    };
    moves.extend(alone.map(|at| knock(ms(at))));
    moves
}

/// All agitations and knocks in the lines of a step, in order.
fn told(lines: &[Line]) -> Vec<Move> {
    let empties = |what: &str| ["drain", "dump", "lift"].iter().any(|word| what.starts_with(word));
    let out = lines.iter().find(|(_, what)| empties(what));
    // A step that ends by the time to a sign ends at the latest time of its line: `at 2:50 if it was 0:30 or later`.
    let draining = out.map_or(0, |(when, what)| match what.rsplit_once(" if it was ") {
        Some((before, _)) => ms(before.rsplit_once(' ').unwrap().1),
        None => ms(when),
    });
    let mut moves = Vec::new();
    for (when, what) in lines {
        if let Some(body) = what.strip_prefix("agitate: ") {
            moves.extend(agitated(body, ms(when), draining));
        } else if what.starts_with("knock the ") {
            moves.push(knock(ms(when)));
        } else if what.starts_with("change ") {
            moves.extend(changed(what));
        }
    }
    moves.sort_by_key(|(at, length, ..)| (*at, *length));
    moves
}

/// The same from a step of the schedule's JSON. The line of the pour says when the step's clock begins.
fn done(step: &Value, lines: &[Line]) -> Vec<Move> {
    let events = step["events"].as_array().unwrap();
    let number = |event: &Value, key: &str| event[key].as_i64().unwrap();
    let pour = events.iter().find(|event| ["pour", "fill", "lower"].iter().any(|word| event["do"] == *word));
    let from_full = lines.iter().any(|(_, what)| what.contains("start the clock when it is full"));
    let zero =
        pour.map_or(0, |pour| number(pour, "at_ms") + if from_full { number(pour, "for_ms") } else { 0 });
    let moved = events.iter().filter(|event| event["do"] == "agitate" || event["do"] == "knock");
    let mut moves: Vec<Move> = moved
        .map(|event| {
            let at = number(event, "at_ms") - zero;
            if event["do"] == "knock" {
                return knock(at);
            }
            let by = event["by"].as_str().map(str::to_owned);
            (at, number(event, "for_ms"), by, event["count"].as_i64())
        })
        .collect();
    moves.sort_by_key(|(at, length, ..)| (*at, *length));
    moves
}

/// Whether the card lists the movements and knocks of the schedule. A card shows whole seconds, so each may differ by less
/// than a second.
fn is_same(told: &[Move], done: &[Move]) -> bool {
    let near = |one: i64, other: i64| (one - other).abs() < 1000;
    let alike = |(told, done): (&&Move, &&Move)| {
        near(told.0, done.0) && near(told.1, done.1) && (&told.2, told.3) == (&done.2, done.3)
    };
    let is_knock = |one: &&Move| one.2.as_deref() == Some("knock");
    [true, false].into_iter().all(|knocks| {
        let told: Vec<&Move> = told.iter().filter(|one| is_knock(one) == knocks).collect();
        let done: Vec<&Move> = done.iter().filter(|one| is_knock(one) == knocks).collect();
        told.len() == done.len() && told.iter().zip(&done).all(alike)
    })
}

/// The lines of each step of a printed card, with the head of its block.
fn printed(card: &str) -> Vec<(String, Vec<Line>)> {
    let mut blocks: Vec<(String, Vec<Line>)> = Vec::new();
    let work = card.split_once("\nWORK\n").unwrap().1.split_once("\nTOTAL ").unwrap().0;
    for line in work.lines() {
        if let Some((head, _)) = line.split_once(" -") {
            blocks.push((head.to_owned(), Vec::new()));
        } else if let (Some((_, lines)), Some((when, what))) =
            (blocks.last_mut(), line.trim().split_once("  "))
            && (when == "first"
                || when.chars().all(|letter| letter.is_ascii_digit() || ":.".contains(letter)))
        {
            lines.push((when.to_owned(), what.trim().to_owned()));
        }
    }
    blocks
}

#[test]
fn every_card_lists_exactly_the_movements_of_its_schedule() {
    let (mut run, mut seen) = (shelf(), 0);
    for evenings in &SHELF {
        for (at, rolls) in evenings.two() {
            run = run.again().args(["card", evenings.recipe, "--at", at, "--rolls", rolls]);
            run = run.args(["--tank", evenings.tank]);
            let blocks = printed(&run.clone().args(["--width", "200"]).succeeds());
            run = run.args(["--as", "json"]);
            let schedule: Value = laid_out(&serde_json::from_str(&output(&run)).unwrap());
            let steps = schedule["steps"].as_array().unwrap();
            assert_eq!(blocks.len(), steps.len());
            for ((head, lines), step) in blocks.iter().zip(steps) {
                let done = done(step, lines);
                let told = told(lines);
                let what = format!("{} at {at}: {head} {lines:?}", evenings.recipe);
                assert!(is_same(&told, &done), "{what}: {told:?} and {done:?}");
                seen += done.len();
            }
        }
    }
    assert!(seen > 500, "only {seen} movements were read");
}

/// The agitations of every step: by the card's lines, and by the schedule's actions.
fn both(text: &str) -> Vec<(Vec<Move>, Vec<Move>)> {
    let kitchen = Kitchen::sound(text);
    let mut conditions = evening(celsius("20"), &[(1, Format::F120)]);
    conditions.volume = Some(Volume::from_ml(500));
    let schedule: Schedule = kitchen.compiled(&conditions);
    let json: Value = serde_json::from_str(&wetside::emit::json(&schedule, &kitchen.sources)).unwrap();
    let card = card(&schedule, &kitchen.sources);
    let blocks = card.work.iter().map(|block| {
        let lines = block.lines.iter().map(|line| (line.when.clone(), line.what.clone()));
        lines.collect::<Vec<Line>>()
    });
    let steps = json["steps"].as_array().unwrap().iter();
    blocks.zip(steps).map(|(lines, step)| (told(&lines), done(step, &lines))).collect()
}

/// The same scheme in three soaks of a wash.
fn soaked(trial: &Trial) -> String {
    let head = trial.text();
    let (before, step) = head.split_once("    develop {\n").unwrap();
    let kept = ["fill ", "drain ", "agitate "];
    let lines: Vec<&str> =
        step.lines().filter(|line| kept.iter().any(|word| line.trim().starts_with(word))).collect();
    let lines = lines.join("\n");
    format!("{before}    wash {{\n        soak 1:10 x 3\n{lines}\n    }}\n}}\n")
}

const PACE: &str = "whole seconds tell the movements apart";

proptest! {
    #![proptest_config(tried(600))]

    #[test]
    fn a_card_lists_exactly_the_movements_of_any_scheme(trial in trial().prop_filter(PACE, Trial::has_pace)) {
        for (told, done) in both(&trial.text()) {
            prop_assert!(is_same(&told, &done), "{:?} and {:?}: {}", told, done, trial.text());
        }
    }

    #[test]
    fn a_wash_lists_exactly_the_movements_of_any_scheme(trial in trial().prop_filter(PACE, Trial::has_pace)) {
        let text = soaked(&trial);
        for (told, done) in both(&text) {
            prop_assert!(is_same(&told, &done), "{:?} and {:?}: {}", told, done, text);
        }
    }
}

/// The card's lines about agitation, for a step of 10 minutes with 25 s to fill and 20 s to drain.
fn lines_of(scheme: &str) -> Vec<String> {
    let text = format!(
        "wetside 1\n\nfilm estuary-400 {{\n    speed ISO 400\n}}\n\nrecipe trial {{\n    film estuary-400\n    \
         develop {{\n        in water\n        between 18 C and 24 C\n        time 10:00\n        fill 25 s\n        \
         drain 20 s\n        agitate {scheme}\n    }}\n}}\n"
    );
    let kitchen = Kitchen::sound(&text);
    let mut conditions = evening(celsius("20"), &[(1, Format::F120)]);
    conditions.volume = Some(Volume::from_ml(500));
    let schedule = kitchen.compiled(&conditions);
    let any = schedule.steps.iter().flat_map(|step| &step.events);
    assert!(any.clone().any(|event| event.action == Action::Drain || event.action == Action::Dump));
    let card = card(&schedule, &kitchen.sources);
    let lines = card.work.iter().flat_map(|block| &block.lines);
    let about = |what: &str| ["agitate", "knock", "leave"].iter().any(|word| what.starts_with(word));
    lines.filter(|line| about(&line.what)).map(|line| format!("{} {}", line.when, line.what)).collect()
}

#[test]
fn agitations_that_meet_are_printed_as_one() {
    // Full at 0:25: 5 s from there meet the 5 s of 0:30, and draining begins at 9:40 (R7).
    assert_eq!(lines_of("5 s every 30 s"), ["0:25 agitate: 10 s, then 5 s every 30 s from 1:00 to 9:30"]);
}

#[test]
fn a_cut_agitation_is_printed_with_its_real_length() {
    // The last begins at 9:30 and would take 20 s; draining begins at 9:40.
    assert_eq!(
        lines_of("first 30 s, then 20 s every 1:30"),
        ["0:25 agitate: 30 s, then 20 s every 1:30 from 1:30 to 9:00"]
    );
    assert_eq!(
        lines_of("first 30 s, then 20 s every 30 s"),
        ["0:25 agitate: 30 s, then 20 s every 30 s from 1:00 to 9:00, then 10 s at 9:30"]
    );
}

#[test]
fn single_times_are_printed_once() {
    assert_eq!(
        lines_of("at 0:00, 5:00 for 30 s, by inversion"),
        ["0:25 agitate: 30 s, then 30 s at 5:00, by inversion"]
    );
    assert_eq!(lines_of("at 1:00, 2:30 for 30 s"), ["1:00 agitate: 30 s, then 30 s at 2:30"]);
    assert_eq!(lines_of("first 1 min"), ["0:25 agitate: 1 min, then leave it still"]);
}

#[test]
fn knocks_are_printed_at_their_times() {
    assert_eq!(
        lines_of("first 1 min, then 10 s every 3 min, knock after each"),
        ["0:25 agitate: 1 min, then 10 s every 3 min from 3:00 to 9:00; knock the tank after each"]
    );
    assert_eq!(lines_of("continuous, knock after each"), ["0:25 agitate: without a pause"]);
    assert_eq!(
        lines_of("2 inversions every 4 min, knock once"),
        [
            "0:25 agitate: 2 inversions, then 2 inversions at 4:00 and 8:00, 2.5 s each",
            "0:30 knock the tank, once"
        ]
    );
}

#[test]
fn a_step_without_agitation_says_so() {
    assert_eq!(lines_of("none"), ["0:25 leave it still"]);
}

#[test]
fn a_repeated_word_of_an_inline_agitation_is_an_error() {
    for repeated in
        ["by inversion, by rotation", "inversion 2 s, inversion 3 s", "knock once, knock after each"]
    {
        let agitation = format!("agitate first 30 s, then 10 s every 1 min, {repeated}");
        let lines = ["in water", "time 5:00", "between 18 C and 24 C", &agitation];
        let kitchen = Kitchen::of(&step_text("stop", &lines));
        let names: Vec<&str> = kitchen.findings.iter().map(|finding| finding.name).collect();
        assert_eq!(names, ["repeated-statement"], "{repeated}");
    }
}

//! The calendar, read back by another reader and checked against the standard's line format.

use ical::parser::ical::component::IcalCalendar;
use wetside::compile::Schedule;
use wetside::emit;
use wetside::model::Date;

use super::{TEXT, schedule};
use crate::evenings::shelf;
use crate::readers::{alarms, calendar as read, value};

/// From 23:58 on.
fn written(schedule: &Schedule) -> String {
    emit::ics(schedule, Date::new(2026, 11, 25).unwrap(), 86_280).unwrap()
}

fn calendar(schedule: &Schedule) -> IcalCalendar {
    read(&written(schedule))
}

#[test]
fn every_step_is_an_event_at_its_wall_clock_time() {
    let calendar = calendar(&schedule(TEXT));
    assert_eq!(value(&calendar.properties, "VERSION"), "2.0");
    let found: Vec<[String; 3]> = calendar
        .events
        .iter()
        .map(|event| ["SUMMARY", "DTSTART", "DTEND"].map(|name| value(&event.properties, name)))
        .collect();
    // From 23:58: 90 s of developing, 150 s of washing, two hours of drying; midnight falls into the wash.
    assert_eq!(
        found,
        [
            ["develop: Soup of the day stock", "20261125T235800", "20261125T235930"],
            ["wash: water", "20261125T235930", "20261126T000200"],
            ["dry", "20261126T000200", "20261126T020200"],
        ]
    );
}

#[test]
fn each_pour_and_each_drain_has_its_alarm() {
    let calendar = calendar(&schedule(TEXT));
    let develop = alarms(&calendar.events[0]);
    assert_eq!(develop[0], ("PT0S".to_owned(), "pour 1000 ml of Soup of the day stock".to_owned()));
    assert_eq!(develop[1].0, "PT85S");
    assert!(develop[1].1.starts_with("drain"), "{develop:?}");
    assert_eq!(develop.len(), 2);
    // The wash begins at 90 s: 160, 165 and 235 less that.
    let wash: Vec<String> = alarms(&calendar.events[1]).into_iter().map(|(trigger, _)| trigger).collect();
    assert_eq!(wash, ["PT0S", "PT70S", "PT75S", "PT145S"]);
    assert!(calendar.events[2].alarms.is_empty());
}

#[test]
fn an_event_is_identified_by_recipe_and_evening() {
    let schedule = schedule(TEXT);
    let calendar = calendar(&schedule);
    for (event, number) in calendar.events.iter().zip(1..) {
        let uid = format!("{}-20261125T235800-{number}@wetside", schedule.fingerprint);
        assert_eq!(value(&event.properties, "UID"), uid);
        assert_eq!(value(&event.properties, "DTSTAMP"), "20261125T235800Z");
    }
}

#[test]
fn no_title_begins_a_property_or_value() {
    let plain = calendar(&schedule(TEXT));
    for title in ["a\nDTSTART:19990101T000000", "a\r\nEND:VEVENT", "a, b; c\\n d", "a\\"] {
        let mut schedule = schedule(TEXT);
        schedule.steps[0].bath.as_mut().unwrap().title = title.to_owned();
        let calendar = calendar(&schedule);
        let names = |calendar: &IcalCalendar| -> Vec<Vec<String>> {
            let all = calendar.events.iter();
            all.map(|event| event.properties.iter().map(|property| property.name.clone()).collect()).collect()
        };
        assert_eq!(names(&calendar), names(&plain), "{title:?}");
        assert_eq!(value(&calendar.events[0].properties, "DTSTART"), "20261125T235800", "{title:?}");
    }
    let mut schedule = schedule(TEXT);
    schedule.steps[0].bath.as_mut().unwrap().title = "a, b; c\\d".to_owned();
    let summary = value(&calendar(&schedule).events[0].properties, "SUMMARY");
    assert_eq!(summary, "develop: a\\, b\\; c\\\\d stock");
}

#[test]
fn no_line_is_over_75_bytes_and_none_is_cut_within_a_letter() {
    let title = "Größe ".repeat(40);
    let mut schedule = schedule(TEXT);
    schedule.steps[0].bath.as_mut().unwrap().title = title.clone();
    let text = written(&schedule);
    assert!(text.ends_with("\r\n"));
    let lines: Vec<&str> = text.split("\r\n").collect();
    assert!(lines.iter().all(|line| line.len() <= 75 && !line.contains(['\r', '\n'])));
    assert!(lines.iter().any(|line| line.len() == 75));
    // Unfolded as the standard says, the title is whole.
    assert!(text.replace("\r\n ", "").contains(&format!("SUMMARY:develop: {title} stock\r\n")));
}

#[test]
fn an_evening_past_the_last_day_is_refused() {
    // The evening of TEXT is over some two hours after its start: at 0:01 there is a day left, at 23:58 there is none.
    let ended = |start| emit::ics(&schedule(TEXT), Date::MAX, start);
    assert!(ended(60).is_some());
    assert_eq!(ended(86_280), None);
}

#[test]
fn a_calendar_without_a_date_or_a_clock_is_an_error_with_help() {
    let evening = ["card", "estuary-400-mq", "--at", "20C", "--rolls", "2x120", "--tank", "tall-five"];
    let table: [(&[&str], &str); 3] = [
        (&[], "needs the day and the time of the start"),
        (&["--start", "19:30"], "needs the day and the time of the start"),
        (&["--date", "2026-11-25"], "needs the day and the time of the start"),
    ];
    for (given, lacks) in table {
        let run = given.iter().fold(shelf().args(evening), |run, arg| run.arg(*arg));
        let run = run.args(["-o", "tonight.ics"]);
        let (_, found) = run.fails(2);
        assert!(found.contains(lacks) && found.contains("--date 2026-11-25"), "{found}");
        assert!(!run.folder().join("tonight.ics").exists());
    }
    let run = shelf().args(evening).args(["--date", "2026-11-25", "--start", "19:30", "-o", "tonight.ics"]);
    assert_eq!(run.succeeds(), "");
    let written = std::fs::read_to_string(run.folder().join("tonight.ics")).unwrap();
    assert_eq!(value(&read(&written).events[0].properties, "DTSTART"), "20261125T193000");
}

//! The other forms of a card with signs: table, calendar, sound, page, paper, picture.

use serde_json::Value;

use crate::evenings::{SHELF, call, shelf};
use crate::program::Run;
use crate::readers::{LEAD_IN, alarms, calendar, heard, samples, value};

const EXPECT: &str = "bleach=5:00,wash-bleach-out=10:00,tone=1:00";

fn sepia(form: &str) -> Run {
    let call = ["card", "headland-sepia", "--at", "20C", "--rolls", "1x8x10in", "--tank", "tray"];
    shelf().args(call).args(["--date", "2026-11-25", "--start", "19:30", "--as", form])
}

/// The tray takes 10 s to fill and 10 s to drain, within the time. The bleach begins at 5:00, its decision falls at the
/// earliest at 1:00 of it, so at 6:00, and at the latest at 8:00, so at 13:00.
#[test]
fn a_table_has_a_row_for_each_decision_and_counts_within_legs() {
    let table = sepia("csv").succeeds();
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let head: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let of = |row: &csv::StringRecord, column: &str| {
        row[head.iter().position(|own| own == column).unwrap()].to_owned()
    };
    let bleach: Vec<&csv::StringRecord> = rows.iter().filter(|row| &row[0] == "bleach").collect();
    let shown = |row: &csv::StringRecord| {
        ["action", "leg", "at_ms", "length_ms", "earliest_ms", "latest_ms"].map(|column| of(row, column))
    };
    assert_eq!(shown(bleach[2]), ["decide", "1", "360000", "420000", "360000", "360000"]);
    assert_eq!(shown(bleach[3]), ["drain", "2", "0", "10000", "360000", "780000"]);
    assert_eq!(
        of(bleach[2], "what"),
        "look every 30 s, until only the faint brown is left; at the latest at 8:00"
    );
    assert_eq!(of(bleach[3], "wall"), "19:36:00 to 19:43:00");
    assert_eq!(rows.iter().filter(|row| &row[1] == "decide").count(), 3);
}

/// presoak 5:00, bleach 5:00 + 0:10, wash 10:00 + 0:10, tone 1:00 + 0:10: the last wash begins at 21:30.
#[test]
fn a_calendar_goes_by_the_expected_signs_and_names_them() {
    let text = sepia("ics").args(["--expect", EXPECT]).succeeds();
    let calendar = calendar(&text);
    let starts: Vec<String> =
        calendar.events.iter().map(|event| value(&event.properties, "DTSTART").to_owned()).collect();
    assert_eq!(starts[1..5], ["20261125T193500", "20261125T194010", "20261125T195020", "20261125T195130"]);
    let description = value(&calendar.events[1].properties, "DESCRIPTION");
    // The reader drops a space where a line is folded.
    let words = description.replace(' ', "");
    assert!(words.contains("youendit:lookevery30s"), "{description}");
    assert!(alarms(&calendar.events[1]).iter().any(|(trigger, _)| trigger == "PT300S"));
}

/// The first bath goes in at 0:00. The bath of the bleach comes out at 5:00 + 5:00.
#[test]
fn a_sound_track_goes_by_the_expected_signs() {
    let call = ["card", "headland-sepia", "--at", "20C", "--rolls", "1x8x10in", "--tank", "tray"];
    let run = shelf().args(call).args(["--expect", EXPECT, "-o", "cues.wav"]);
    assert_eq!(run.succeeds(), "");
    let tones = heard(&samples(&std::fs::read(run.folder().join("cues.wav")).unwrap()));
    let is_drain = |(at, length, _): &&(f64, f64, f64)| *length > 1.0 && (at - LEAD_IN - 600.0).abs() < 0.3;
    assert_eq!(tones.iter().filter(is_drain).count(), 1, "{tones:?}");
}

#[test]
fn forms_with_fixed_times_need_the_expected_signs() {
    for form in ["ics", "wav"] {
        let (_, report) = sepia(form).fails(2);
        let report = report.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(report.contains("a person ends the step bleach"), "{report}");
        assert!(report.contains("--expect bleach=8:00,wash-bleach-out=15:00,tone=3:00"), "{report}");
    }
    let (_, report) = sepia("ics").args(["--expect", "bleach=9:00,wash=10:00,tone=1:00"]).fails(2);
    assert!(report.contains("bleach takes 1:00 to 8:00, not 9:00"), "{report}");
    let (_, report) = sepia("ics").args(["--expect", &format!("{EXPECT},presoak=1:00")]).fails(2);
    assert!(report.contains("no step presoak of headland-sepia ends at a sign"), "{report}");
    let (_, report) = sepia("text").args(["--expect", EXPECT]).fails(2);
    assert!(report.contains("only a calendar and a sound track take --expect"), "{report}");
}

/// Every form that waits for a person prints the range, and none the latest end alone.
#[test]
fn page_paper_and_picture_print_the_range() {
    let page = sepia("html").succeeds();
    assert!(page.contains("Total 1:12:10 to 1:31:40"), "{page}");
    assert!(page.contains("look every 30 s, until only the faint brown is left"));
    let picture = sepia("strip").succeeds();
    assert!(picture.contains("bleach 1:00 to 8:00"), "{picture}");
    assert!(picture.contains("1:12:10 to 1:31:40, drawn at its longest, in all"), "{picture}");
}

/// Version 2 of the JSON: the legs, and moments within them.
#[test]
fn json_has_legs_with_their_earliest_and_latest_start() {
    let schedule: Value = serde_json::from_str(&sepia("json").succeeds()).unwrap();
    let legs: Vec<[i64; 2]> = schedule["legs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|leg| ["earliest_ms", "latest_ms"].map(|key| leg[key].as_i64().unwrap() / 1000))
        .collect();
    // 6:00 and 13:00; then 0:10 + 5:00 and 0:10 + 15:00 later; then 0:10 + 0:30 and 0:10 + 3:00 later.
    assert_eq!(legs, [[0, 0], [360, 780], [670, 1690], [710, 1880]]);
    assert_eq!(schedule["legs"][1]["after_step"], 2);
    let wash = &schedule["steps"][2];
    assert_eq!((wash["leg"].as_i64(), wash["start_ms"].as_i64()), (Some(2), Some(10_000)));
    assert_eq!([&wash["earliest_ms"], &wash["latest_ms"]], [370_000, 790_000]);
    let decision = &schedule["steps"][1]["decision"];
    assert_eq!(decision["sign"], "only the faint brown is left");
    assert_eq!(
        [&decision["least_ms"], &decision["most_ms"], &decision["look_ms"]],
        [60_000, 480_000, 30_000]
    );
}

/// A recipe without signs has one leg.
#[test]
fn only_recipes_with_signs_have_several_legs() {
    let mut run = shelf();
    for evenings in &SHELF {
        run = call(run, evenings, evenings.all().next().unwrap()).args(["--as", "json"]);
        let schedule: Value = serde_json::from_str(&run.succeeds()).unwrap();
        assert_eq!(
            schedule["legs"].as_array().unwrap().len() > 1,
            evenings.has_signs(),
            "{}",
            evenings.recipe
        );
    }
}

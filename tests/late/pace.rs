//! The table from which a page times a step again, read from the page's own data: with it, each reading gives the time that
//! the schedule gives.

use proptest::prelude::*;
use serde_json::Value;
use wetside::compile::{Reading, Reread, Scale, Schedule};
use wetside::emit::{PageParts, html};
use wetside::model::{StepKind, Time};
use wetside::source::Sources;

use super::Recipes;
use super::reread::{CHART, schedule};
use crate::kitchen::celsius;

/// The data of a card's page.
fn data(schedule: &Schedule) -> Value {
    let parts = PageParts { reasons: false, record: "wetside record", asking: None };
    let page = html(schedule, &Sources::default(), parts);
    let text = page.split_once("id=\"evening\">").unwrap().1.split_once("</script>").unwrap().0;
    serde_json::from_str(text.replace("\\u003c", "<").trim()).unwrap()
}

/// The cubic of Hermite through two rows, by the textbook: its value, and its slope.
fn cubic(rows: &[[f64; 3]], at: f64) -> (f64, f64) {
    let pair = rows.windows(2).find(|pair| at <= pair[1][0]).unwrap();
    let ([low, part, sum], [high, next_part, next_sum]) = (pair[0], pair[1]);
    let (wide, x) = (high - low, (at - low) / (high - low));
    let (x2, x3) = (x * x, x * x * x);
    let value = (2.0 * x3 - 3.0 * x2 + 1.0) * sum
        + (x3 - 2.0 * x2 + x) * wide * part
        + (3.0 * x2 - 2.0 * x3) * next_sum
        + (x3 - x2) * wide * next_part;
    let slope = (6.0 * x2 - 6.0 * x) * (sum - next_sum) / wide
        + (3.0 * x2 - 4.0 * x + 1.0) * part
        + (3.0 * x2 - 2.0 * x) * next_part;
    (value, slope)
}

#[test]
fn the_table_has_the_points_of_the_chart_and_is_in_tenths_of_the_card() {
    let recipes = Recipes::new();
    let schedule = recipes.schedule("estuary-400-mq", "21.5C", "5x120", Some("tall-five")).unwrap();
    let data = data(&schedule);
    let pace = &data["steps"][0]["pace"];
    let rows = pace["knots"].as_array().unwrap();
    let tenths: Vec<f64> = rows.iter().map(|row| row[0].as_f64().unwrap()).collect();
    assert_eq!(tenths, [180, 185, 190, 195, 200, 205, 210, 215, 220, 225, 230, 235, 240].map(f64::from));
    // 519.388 s by the chart are 519 s on the card, so 495 s at 22 °C are 494.630 s: 0.00202171 of the step in a second.
    let part = rows[8][1].as_f64().unwrap();
    assert!((part - 1.0 / 494.630).abs() < 1e-8, "{part}");
    assert_eq!((pace["from"].as_f64(), pace["to"].as_f64()), (Some(215.0), Some(215.0)));
    // A fixer has one time for all temperatures.
    assert_eq!((&data["steps"][2]["pace"], &data["steps"][2]["tenths"]), (&Value::Null, &215.0.into()));
    let mut warm = schedule;
    warm.conditions.scale = Scale::Fahrenheit;
    let data = self::data(&warm);
    let rows = data["steps"][0]["pace"]["knots"].as_array().unwrap();
    let ends = [&rows[0], &rows[12]].map(|row| row[0].as_f64().unwrap());
    // 18 °C are 64.4 °F and 24 °C are 75.2 °F.
    assert!((ends[0] - 644.0).abs() < 1e-9 && (ends[1] - 752.0).abs() < 1e-9, "{ends:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_table_gives_the_times_of_the_schedule(
        from in 185..235_i64, drift in -10..10_i64, reading in 182..238_i64, at in 10..300_i64,
    ) {
        let text = |tenths: i64| format!("{}.{}", tenths / 10, tenths % 10);
        let end = (from + drift).clamp(182, 238);
        let before = schedule(CHART, &text(from), Some(&text(end)));
        let planned = before.steps[0].duration;
        let now = Reading { at: Time::from_seconds(at), temperature: celsius(&text(reading)) };
        let Reread::Changed(after) = before.reread(0, planned, &[now]) else { return Ok(()) };
        let data = data(&before);
        let pace = &data["steps"][0]["pace"];
        let number = |value: &Value| value.as_f64().unwrap();
        let rows = pace["knots"].as_array().unwrap().iter();
        let rows: Vec<[f64; 3]> = rows.map(|row| [number(&row[0]), number(&row[1]), number(&row[2])]).collect();
        let between = |one: f64, other: f64| match (other - one).abs() < 1e-9 {
            true => cubic(&rows, one).1,
            false => (cubic(&rows, other).0 - cubic(&rows, one).0) / (other - one),
        };
        #[expect(clippy::cast_precision_loss, reason = "small whole numbers")]
        let (passed, read) = (at as f64, reading as f64);
        let (start, finish) = (number(&pace["from"]), number(&pace["to"]));
        let done = passed * between(start, read);
        let ending = read + (finish - start) * (1.0 - passed / planned.seconds());
        prop_assume!(done < 0.95 && rows[0][0] <= ending && ending <= rows[rows.len() - 1][0]);
        let expected = passed + (1.0 - done) / between(read, ending);
        let duration = after.steps[0].duration.seconds();
        prop_assert!((duration - expected).abs() < 0.501, "{duration} {expected}");
        prop_assert_eq!(before.steps[0].kind, StepKind::Develop);
    }
}

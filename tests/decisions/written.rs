//! How times with signs, and multiples of the parent's time, are written and inherited.

use wetside::model::{Duration, Time};

use super::seconds;
use crate::kitchen::Kitchen;

fn base(rows: &str) -> String {
    format!(
        "wetside 2

film estuary {{
    speed     ISO 400
}}

recipe base {{
    film      estuary
    index     400
    between   18 C and 24 C
    develop {{
        in        water
        chart {{
            20 C   12:00
            21.5 C 10:00
            24 C   7:00
        }}
        agitate   continuous
    }}
    stop {{
        in        water
        time      1:00
        agitate   continuous
    }}
}}

recipe child from base {{
{rows}
}}
"
    )
}

fn times(text: &str, step: usize) -> Vec<Time> {
    let kitchen = Kitchen::sound(text);
    match &kitchen.recipe().steps[step].duration.value {
        Duration::Chart(chart) => chart.points().iter().map(|point| point.time).collect(),
        Duration::Plain { time, .. } => vec![*time],
        other => panic!("{other:?}"),
    }
}

/// 1.4 x 12:00 = 16:48, 1.4 x 10:00 = 14:00, 1.4 x 7:00 = 9:48.
#[test]
fn a_multiple_of_the_parents_chart_multiplies_its_points() {
    let child = base("    develop {\n        time 1.4 x parent\n    }");
    let minutes = |minutes: i64, rest: i64| seconds(minutes * 60 + rest);
    assert_eq!(times(&child, 0), [minutes(16, 48), minutes(14, 0), minutes(9, 48)]);
}

/// 1.5 x 1:00 = 1:30, and 2 x 1:30 = 3:00.
#[test]
fn a_multiple_of_a_multiple_counts_from_its_own_parent() {
    let child = base("    stop {\n        time 1.5 x parent\n    }");
    assert_eq!(times(&child, 1), [seconds(90)]);
    let grandchild =
        format!("{child}\nrecipe second from child {{\n    stop {{\n        time 2 x parent\n    }}\n}}\n");
    assert_eq!(times(&grandchild, 1), [seconds(180)]);
    let again =
        format!("{grandchild}\nrecipe third from second {{\n    stop {{\n        time 40 s\n    }}\n}}\n");
    assert_eq!(times(&again, 1), [seconds(40)]);
}

#[test]
fn a_multiple_of_the_parents_time_is_no_test_with_another_film() {
    let other = base("    film other\n    develop {\n        time 1.4 x parent\n    }")
        .replace("film estuary {", "film other {\n    speed ISO 100\n}\n\nfilm estuary {");
    let kitchen = Kitchen::of(&other);
    assert!(
        kitchen.findings.iter().any(|finding| finding.name == "inherited-time"),
        "{:?}",
        kitchen.findings
    );
}

#[test]
fn the_bounds_may_stand_in_any_order_and_mean_the_same_work() {
    let with = |time: &str| {
        let text = base(&format!("    stop {{\n        time {time}\n    }}"));
        wetside::model::Fingerprint::of(Kitchen::sound(&text).recipe())
    };
    let first = with("until \"it is clear\", at least 1:00, at most 4:00, look every 30 s");
    assert_eq!(first, with("until \"it is clear\", look every 30 s, at most 4:00, at least 60 s"));
    for other in [
        "until \"it is pale\", at least 1:00, at most 4:00, look every 30 s",
        "until \"it is clear\", at least 1:01, at most 4:00, look every 30 s",
        "until \"it is clear\", at least 1:00, at most 4:01, look every 30 s",
        "until \"it is clear\", at least 1:00, at most 4:00, look every 20 s",
        "2 x \"it is clear\", at least 1:00, at most 4:00, look every 30 s",
    ] {
        assert_ne!(first, with(other), "{other}");
    }
    assert_eq!(with("1.5 x parent"), with("1:30"));
}

/// A person ends the step by eye, so the developer needs no temperatures for its time.
#[test]
fn a_development_that_ends_at_a_sign_needs_no_band() {
    let text = "wetside 2\n\nfilm sheet {\n    speed ISO 100\n}\n\nrecipe seen {\n    film sheet\n    develop {\n        \
                in water\n        time until \"dark from the back\", at most 11:00\n        agitate continuous\n    }\n}\n";
    assert!(!Kitchen::of(text).has_errors());
    let plain = text.replace("until \"dark from the back\", at most 11:00", "11:00");
    assert!(Kitchen::of(&plain).findings.iter().any(|finding| finding.name == "missing-band"));
}

//! The moments of an evening, which the page, `follow`, the sound track and the calendar use.

use crate::kitchen::{SMALL_EVENING as TEXT, two_rolls};
use wetside::emit::moments;
use wetside::model::Time;

fn told(text: &str) -> Vec<(i64, i64, String)> {
    let all = moments(&two_rolls(text)).into_iter();
    all.map(|moment| (moment.at.ms, moment.until.ms, moment.what)).collect()
}

#[test]
fn an_evening_is_a_sequence_of_moments() {
    // By hand: pour 10 s; first 10 s from full; then 5 s every 30 s after 0:20; draining at 1:30 - 5 s.
    let told = told(TEXT);
    let develop: Vec<(i64, i64, &str)> =
        told.iter().map(|(a, b, what)| (*a, *b, what.as_str())).take(7).collect();
    assert_eq!(
        develop,
        [
            (0, 10_000, "pour 1000 ml of Soup of the day stock"),
            (10_000, 20_000, "agitate"),
            (20_000, 30_000, "leave it still"),
            (30_000, 35_000, "agitate"),
            (35_000, 60_000, "leave it still"),
            (60_000, 65_000, "agitate"),
            (65_000, 85_000, "leave it still"),
        ]
    );
}

#[test]
fn the_moments_have_no_gaps() {
    let told = told(TEXT);
    assert_eq!(told.first().unwrap().0, 0);
    for pair in told.windows(2) {
        assert_eq!(pair[0].1, pair[1].0, "{pair:?}");
    }
    // 1:30 of developing, two changes of 10 s + 60 s + 5 s, two hours of drying.
    assert_eq!(told.last().unwrap().1, Time::from_seconds(90 + 150 + 7200).ms);
}

#[test]
fn an_action_without_duration_joins_the_next_moment() {
    let text = TEXT.replace("    fill     10 s\n    drain    5 s\n", "");
    let told = told(&text.replace("agitate  first 10 s, then 5 s every 30 s", "agitate  none"));
    assert_eq!(told.first().unwrap().2, "pour 1000 ml of Soup of the day stock, then leave it still");
    let second = &told[1];
    assert_eq!(second.0, 90_000);
    assert_eq!(
        second.2,
        "drain: to the sink or to waste, as your local code says, then fill with 1000 ml of water, then leave it still"
    );
}

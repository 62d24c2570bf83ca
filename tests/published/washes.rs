//! Washes in running water by published manuals: how much water runs, and that nothing warns of a short wash (R14).

use wetside::compile::Schedule;
use wetside::model::Format;

use crate::kitchen::{Kitchen, celsius, evening};

const NAVY: &str =
    "US Navy, Photography (Basic), NAVEDTRA 14209, 1993, page 10-8: a complete change every 3 min, 20 min";
const ARMY: &str =
    "US Army, X-Ray Film Processing, subcourse MD0954, 3-33: eight times the tank an hour, 25 to 30 min";
const CLERC: &str =
    "Clerc, Photography: Theory and Practice, 1937, 607: water renewed every 5 min, 30 to 90 min";
const SHEETS: &str =
    "US Army, Laboratory Procedures, subcourse SS0509, 1988, pages 16 to 24: 30 min in running water";

/// A film fixed and then washed at this flow for these minutes, in a tank of 12 l.
fn washed(flow: &str, minutes: u32) -> (Kitchen, Schedule) {
    let text = format!(
        "wetside 2

film headrace {{
    clears    1:00 in hypo stock at 20 C
    source    \"invented\"
}}

solution hypo {{
    role      fixer
    contains  sodium-thiosulfate, sodium-sulfite
    treats    10 rolls per 1 l
    keeps     3 months
    source    \"invented\"
}}

tank deep {{
    reels     8x10in x 8, 1.5 l each
    holds     12 l
    transfer  10 s
}}

recipe trial {{
    film      headrace
    between   18 C and 24 C

    fix {{
        in        hypo stock, reused
        time      4:00
        agitate   5 s every 30 s, by lifting
    }}
    wash {{
        flow      {flow} l/min
        time      {minutes} min
    }}
}}
"
    );
    let kitchen = Kitchen::sound(&text);
    let schedule = kitchen.compiled(&evening(celsius("20"), &[(8, Format::SHEET_8X10)]));
    (kitchen, schedule)
}

/// A tank of 12 l: one change each 3 min is 4 l/min, each 5 min 2.4 l/min; eight changes an hour are 96 l in 60 min, 1.6
/// l/min. The film goes into a full tank, which is 12 l more.
#[test]
fn running_water_is_the_published_number_of_changes() {
    for (flow, minutes, litres, source) in [
        // 20 min / 3 min = 6 2/3 changes: 80 l.
        ("4", 20, 80 + 12, NAVY),
        // 25 / 7.5 = 3 1/3 changes: 40 l; 30 / 7.5 = 4 changes: 48 l.
        ("1.6", 25, 40 + 12, ARMY),
        ("1.6", 30, 48 + 12, ARMY),
        // 6 and 18 changes: 72 l and 216 l.
        ("2.4", 30, 72 + 12, CLERC),
        ("2.4", 90, 216 + 12, CLERC),
        // The manual states no flow; 2 l/min for 30 min is 60 l.
        ("2", 30, 60 + 12, SHEETS),
    ] {
        let (kitchen, schedule) = washed(flow, minutes);
        assert_eq!(schedule.water.in_litres(1), litres.to_string(), "{source}");
        assert_eq!(schedule.steps[1].duration.ms, i64::from(minutes) * 60_000, "{source}");
        let found: Vec<&str> = kitchen.findings.iter().map(|finding| finding.name).collect();
        assert!(!found.iter().any(|name| name.contains("wash")), "{found:?}: {source}");
    }
}

/// Less than three changes since the fixer is found.
#[test]
fn a_wash_far_below_the_published_ones_is_found() {
    let (kitchen, _) = washed("0.5", 1);
    assert!(kitchen.findings.iter().any(|finding| finding.name == "short-wash"));
}

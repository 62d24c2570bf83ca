//! Development by a factor: published examples of the time to the first sign and the whole time, compared with a
//! schedule after the sign (R18).

use wetside::compile::Schedule;
use wetside::model::{Format, Time};

use crate::kitchen::{celsius, compiled, evening};

const WELLINGTON: &str = "The Wellington Photographic Handbook, c. 1920, page 26";
const SCHRIEVER: &str =
    "Schriever (ed.), Complete Self-Instructing Library of Practical Photography, 1909, chapter XVIII";
const WALL: &str = "Wall, The Dictionary of Photography, c. 1902, page 713";
const JONES: &str = "Jones (ed.), Cassell's Cyclopaedia of Photography, 1911, on factorial development";
const MODERN: &str = "Modern Photography, chapter VII";

/// The schedule of one plate in a dish that is developed by this factor, for 4 h at most.
fn by(factor: u32) -> Schedule {
    let text = format!(
        "wetside 2

plate slate {{
    source    \"invented\"
}}

tank dish {{
    reels     4x5in x 1, 300 ml each
    holds     300 ml
    transfer  5 s
}}

recipe trial {{
    plate     slate
    light     safelight \"red\"

    develop {{
        in        water
        between   18 C and 22 C
        time      {factor} x \"the first sign shows\", at most 4 h
        agitate   continuous, by rocking
    }}
}}
"
    );
    compiled(&text, &evening(celsius("20"), &[(1, Format::parse("4x5in").unwrap())]))
}

#[test]
fn the_whole_time_is_the_published_multiple_of_the_time_to_the_sign() {
    for (factor, sign, whole, source) in [
        (10, 30, 300, WELLINGTON),
        (12, 20, 240, SCHRIEVER),
        (24, 25, 600, SCHRIEVER),
        (5, 45, 225, WALL),
        (15, 9, 135, JONES),
        (7, 15, 105, MODERN),
    ] {
        let schedule = by(factor).decided(1, Time::from_seconds(sign));
        let develop = &schedule.steps[0];
        assert_eq!(develop.end.ms, whole * 1000, "{factor} x {sign} s: {source}");
        // The plate is lifted 5 s before, and is in the next bath when the time is over.
        assert_eq!(develop.leaves().ms, (whole - 5) * 1000, "{factor} x {sign} s: {source}");
    }
}

/// Factors of single developing agents go up to 40.
#[test]
fn every_published_factor_can_be_written() {
    for factor in [5, 9, 13, 18, 28, 40] {
        let schedule = by(factor).decided(1, Time::from_seconds(20));
        assert_eq!(schedule.total.ms, i64::from(factor) * 20_000, "{MODERN}");
    }
}

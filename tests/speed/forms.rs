//! The page, the PDF and the sound track of a card in one process on one core: the time from a schedule, and the size.

use std::hint::black_box;
use std::time::Instant;

use wetside::compile::{Schedule, Tonight};
use wetside::emit;
use wetside::source::{MemoryFiles, Sources};

use super::core::{schedule, tonight};
use super::{Figure, median};

const RUNS: usize = 9;
/// Bytes per second: 8000 samples of 16 bits.
const BYTES_A_SECOND: usize = 2 * 8000;

/// An hour from the first pour to the end of the last drain, which the step's time includes.
const HOUR: &str = "wetside 1

film trial-film {
    speed    ISO 100
}

solution slow {
    role     developer
    needs    100 ml per roll
}

tank small {
    reels    120 x 2, 500 ml each
    holds    1 l
    fill     10 s
    drain    5 s
}

recipe trial {
    film     trial-film
    index    100
    between  18 C and 24 C

    develop {
        in       slow stock, one-shot
        time     1 h
        between  18 C and 24 C
        agitate  first 30 s, then 10 s every 1 min
    }
}
";

fn an_hour() -> Schedule {
    let checked = wetside::check(&MemoryFiles::from([("hour.wet", HOUR)]), "hour.wet").unwrap();
    let tank = checked.tank("small").cloned();
    checked.recipe("trial").unwrap().compile(&Tonight { tank, ..tonight(2) }).unwrap()
}

/// Milliseconds for one, the median of several runs.
fn millis<T>(times: u32, made: impl Fn() -> T) -> f64 {
    let run = |_| {
        let start = Instant::now();
        (0..times).for_each(|_| drop(black_box(made())));
        start.elapsed().as_secs_f64() * 1e3 / f64::from(times)
    };
    median((0..RUNS).map(run).collect())
}

pub(super) fn figures() -> Vec<Figure> {
    let (schedule, hour, sources) = (schedule(), an_hour(), Sources::default());
    let parts = emit::PageParts { reasons: false, record: "wetside record", asking: None };
    let page = || emit::html(black_box(&schedule), &sources, parts);
    let paper = || emit::pdf(black_box(&schedule), &sources, emit::Paper::A4);
    let track = || emit::wav(black_box(&hour)).unwrap();
    let seconds = track().len() / BYTES_A_SECOND;
    assert_eq!(seconds, 3605, "the track is an hour and the count before it");
    let at_most = |what, reached, unit, bar| Figure { what, reached, unit, bar: (bar, false) };
    let kilobytes = |bytes: usize| bytes as f64 / 1e3;
    vec![
        at_most("a page from a schedule", millis(100, page), "ms", 5.0),
        at_most("the page's size", kilobytes(page().len()), "kB", 96.0),
        at_most("a card on paper from a schedule", millis(10, paper), "ms", 50.0),
        at_most("its size on paper", kilobytes(paper().len()), "kB", 150.0),
        at_most("a track of an hour, 57.6 MB, from a schedule", millis(1, track), "ms", 500.0),
    ]
}

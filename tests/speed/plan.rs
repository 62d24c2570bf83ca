//! Planning in one process on one core: 1,000 rolls of twelve kinds in two formats, and rolls of two formats with the
//! same share of the reels and different shares of the baths.

use std::fmt::Write as _;
use std::hint::black_box;
use std::time::Instant;

use wetside::compile::Tonight;
use wetside::model::Date;
use wetside::model::{Shelf, Temperature};
use wetside::plan::{Asked, Days, plan};
use wetside::source::{Map, MemoryFiles, Set};

use super::{Figure, median};

const RUNS: usize = 9;

/// A backlog of this number of kinds of film, each with its own time. `second` of every `of` rolls have the second
/// format.
fn bench(kinds: usize, (rolls, second, of): (usize, usize, usize), formats: [&str; 2]) -> String {
    let mut text = "wetside 1\nsolution soup {\n    role developer\n    contains metol, sodium-sulfite\n    needs 60 ml per roll\n}\nsolution fixer {\n    role fixer\n    contains ammonium-thiosulfate\n    treats 10 rolls per 1 l at 1+4\n    keeps 3 months\n}\n".to_owned();
    let [one, two] = formats;
    let _ = writeln!(
        text,
        "tank five {{\n    reels {one}\n    reels {two}\n    holds 2.6 l\n    fill 20 s\n    drain 20 s\n}}"
    );
    for kind in 0..kinds {
        let _ = writeln!(
            text,
            "film film-{kind} {{\n    speed ISO 100\n    clears 60 s in fixer 1+4 at 20 C\n}}\nrecipe of-{kind} {{\n    film film-{kind}\n    between 18 C and 24 C\n    develop {{\n        in soup 1+3, one-shot\n        time {}:00\n        between 18 C and 24 C\n        agitate first 30 s, then 10 s every 1 min\n    }}\n    fix {{\n        in fixer 1+4, reused\n        time 3 x clearing\n    }}\n    wash {{\n        fills 5, 10 inversions\n    }}\n}}",
            8 + kind
        );
    }
    text.push_str("backlog autumn {\n");
    for roll in 0..rolls {
        let format = if roll * second % of < second { two } else { one };
        let format = format.split(' ').next().unwrap();
        // Kinds change from roll to roll, and each has both formats.
        let _ = writeln!(text, "    roll \"R{roll}\" {format} of film-{}", roll * 7 % kinds);
    }
    text + "}\n"
}

fn shelf(text: String) -> Shelf {
    let checked = wetside::check(&MemoryFiles::from([("bench.wet", text)]), "bench.wet").unwrap();
    assert!(!checked.has_errors(), "{:?}", checked.findings);
    checked.shelf
}

/// Milliseconds for a plan, and its number of loads.
fn planned(shelf: &Shelf) -> (f64, usize) {
    let backlog = shelf.darkroom.backlogs_once().next().unwrap();
    let tank = shelf.tanks.first().map(|(.., tank)| tank).unwrap();
    let asked = Asked {
        shelf,
        others: &Set::new(),
        backlog,
        done: Map::new(),
        unread: Vec::new(),
        tank,
        conditions: Tonight::new(Temperature::celsius_whole(20), Vec::new()),
        within: wetside::model::Time::ZERO,
        days: Days { first: Date::new(2026, 11, 25).unwrap(), loads: Some(2), apart: 7 },
        assumed: Vec::new(),
        warnings: Vec::new(),
        packages: Vec::new(),
        on_hand: Vec::new(),
    };
    let mut loads = 0;
    let times = (0..RUNS).map(|_| {
        let start = Instant::now();
        let plan = black_box(plan(black_box(&asked))).unwrap();
        loads = plan.loads.len();
        assert!(plan.bound <= loads && plan.left.is_empty());
        start.elapsed().as_secs_f64() * 1e3
    });
    (median(times.collect()), loads)
}

pub(super) fn figures() -> Vec<Figure> {
    let (many, _) =
        planned(&shelf(bench(12, (1_000, 2, 5), ["120 x 5, 500 ml each", "135 x 8, 300 ml each"])));
    let (two, loads) =
        planned(&shelf(bench(1, (539, 420, 539), ["120 x 5, 500 ml each", "220 x 5, 500 ml each"])));
    // 539 rolls of five to a tank are 107.8.
    assert!(108 <= loads);
    vec![
        Figure { what: "plan 1,000 rolls of 12 kinds", reached: many, unit: "ms", bar: (1_000.0, false) },
        Figure {
            what: "plan 119 rolls of 120 and 420 of 220",
            reached: two,
            unit: "ms",
            bar: (1_000.0, false),
        },
    ]
}

//! The rows of the steps on paper: whole, in large type, in whole seconds by one clock, with one box each.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde_json::Value;

use super::{PAPERS, printed};
use crate::evenings::{Evenings, SHELF, call, laid_out, output, shelf};
use crate::printed::{Word, places, words};
use crate::program::Run;

/// The least sizes of clock times in points: at arm's length, and on small paper.
const LARGE: [(&str, f64); 4] = [("a4", 18.0), ("letter", 18.0), ("a5", 14.0), ("a6", 14.0)];
/// From its lowest to its highest point a letter of the font is 0.928 + 0.236 of its size, by the font's own table.
const HIGH: f64 = 1.164;
/// The most times of a movement that a row lists.
const LISTED: usize = 12;

/// A recipe of the shelf on a paper: its pages, its words with their places, and its schedule with the latest decisions.
struct Printed {
    recipe: &'static str,
    paper: &'static str,
    pages: Vec<[f64; 2]>,
    words: Vec<Word>,
    schedule: Value,
}

/// Each recipe on the largest paper, the smallest and, in turn, one of the others; none where no program reads a PDF.
static ALL: LazyLock<Vec<Printed>> = LazyLock::new(|| {
    let (mut run, mut all) = (shelf(), Vec::new());
    for (number, evenings) in SHELF.iter().enumerate() {
        let (at, rolls) = evenings.all().next().unwrap();
        let schedule = laid_out(&schedule(&run, evenings, (at, rolls)));
        let [largest, middle @ .., smallest] = PAPERS;
        for paper in [largest, middle[number % 2], smallest] {
            (run, _) = printed(run, [evenings.recipe, at, rolls], evenings.tank, paper);
            let Some((pages, words)) = places(&run.folder().join("card.pdf")) else { return all };
            all.push(Printed { recipe: evenings.recipe, paper, pages, words, schedule: schedule.clone() });
        }
    }
    all
});

fn each(mut check: impl FnMut(&str, &str, &[[f64; 2]], &[Word], &Value)) {
    ALL.iter().for_each(|Printed { recipe, paper, pages, words, schedule }| {
        check(recipe, paper, pages, words, schedule)
    });
}

fn schedule(run: &Run, evenings: &Evenings, evening: (&str, &str)) -> Value {
    serde_json::from_str(&output(&call(run.again(), evenings, evening).args(["--as", "json"]))).unwrap()
}

fn ms(value: &Value) -> i64 {
    value.as_i64().unwrap_or(0)
}

/// A time from one moment of the session to another. Both are rounded to whole seconds, half a second up.
fn clock(from: i64, to: i64) -> String {
    let whole = |at: i64| (at + 500).div_euclid(1000);
    let seconds = whole(to) - whole(from);
    match seconds / 3600 {
        0 => format!("{}:{:02}", seconds / 60, seconds % 60),
        hours => format!("{hours}:{:02}:{:02}", seconds / 60 % 60, seconds % 60),
    }
}

/// The times at which something is done in a step, by a clock that starts at the first drop. Those after a decision have
/// no time, and of many movements only the first is certain to be listed.
fn times(step: &Value) -> Vec<String> {
    let events = step["events"].as_array().unwrap();
    let handled: i64 =
        events.iter().filter(|event| event["do"] == "handle").map(|event| ms(&event["for_ms"])).sum();
    let zero = ms(&step["start_ms"]) + handled;
    let moved = events.iter().filter(|event| event["do"] == "agitate").count();
    let changes = events.iter().filter(|event| event["do"] == "fill" || event["do"] == "pour").count();
    let is_open = !step["decision"].is_null();
    let mut seen = false;
    let mut all = Vec::new();
    for event in events {
        let listed = match event["do"].as_str().unwrap() {
            "agitate" => {
                let first = !std::mem::replace(&mut seen, true);
                changes < 2 && (first || moved <= LISTED)
            }
            "pour" | "fill" | "lower" => true,
            "drain" | "dump" | "lift" => !is_open,
            _ => false,
        };
        if listed {
            all.push(clock(zero, ms(&event["at_ms"])));
        }
    }
    all
}

#[test]
fn every_time_of_every_step_is_in_large_type() {
    each(|recipe, paper, _, words, schedule| {
        let least = LARGE.iter().find(|(name, _)| *name == paper).unwrap().1 * HIGH;
        let mut large: BTreeMap<&str, usize> = BTreeMap::new();
        for word in words.iter().filter(|word| word.edges[3] - word.edges[1] >= least - 0.05) {
            *large.entry(&word.text).or_default() += 1;
        }
        let mut wanted: BTreeMap<String, usize> = BTreeMap::new();
        let steps = schedule["steps"].as_array().unwrap();
        steps.iter().flat_map(times).for_each(|time| *wanted.entry(time).or_default() += 1);
        for (time, count) in wanted {
            let found = large.get(time.as_str()).copied().unwrap_or(0);
            assert!(found >= count, "{recipe} on {paper}: {time} is large {found} times of {count}");
        }
    });
}

/// Each row has the session's time of its step at its beginning, and a blank for the true time at its end.
#[test]
fn no_row_is_torn_between_two_pages() {
    each(|recipe, paper, pages, words, schedule| {
        let steps = schedule["steps"].as_array().unwrap().len();
        let follows = |first: &'static str, then: &'static str, page: usize| {
            let pairs = words.windows(2).filter(move |two| two[0].text == first && two[0].page == page);
            pairs.filter(|two| two[1].text == then).count()
        };
        let (mut begun, mut ended) = (0, 0);
        for page in 0..pages.len() {
            let begins = words.iter().filter(|word| word.text == "begins" && word.page == page).count();
            let ends = follows("true", "time", page);
            assert_eq!(begins, ends, "{recipe} on {paper}: page {page}");
            (begun, ended) = (begun + begins, ended + ends);
        }
        assert_eq!((begun, ended), (steps, steps), "{recipe} on {paper}");
    });
}

#[test]
fn nothing_is_cut_and_nothing_overlaps() {
    each(|recipe, paper, pages, words, _| {
        for (at, word) in words.iter().enumerate() {
            let ([left, top, right, bottom], [width, height]) = (word.edges, pages[word.page]);
            let is_inside = 14.0 < left && right < width - 14.0 && 8.0 < top && bottom < height - 8.0;
            assert!(is_inside, "{recipe} on {paper}: {word:?} is at the edge of {width} x {height}");
            for other in words[at + 1..].iter().filter(|other| other.page == word.page) {
                let [from, over, until, under] = other.edges;
                let beside = right.min(until) - left.max(from);
                let above = bottom.min(under) - top.max(over);
                // The highest and the lowest points of the font's letters are not those of these words.
                let is_apart = beside < 0.5 || above < 0.35 * (bottom - top).max(under - over);
                assert!(is_apart, "{recipe} on {paper}: {word:?} and {other:?}");
            }
        }
    });
}

#[test]
fn the_words_of_a_row_are_those_of_the_card() {
    each(|recipe, paper, _, words, _| {
        let text: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
        let text = text.join(" ");
        assert_eq!(
            text.matches("poured at __:__").count(),
            usize::from(text.contains("POUR")),
            "{recipe} on {paper}"
        );
        let late = "Late? Finish what is in your hand. Next bath from 0:00. Write the true time.";
        assert!(text.contains(late), "{recipe} on {paper}: {text}");
        for word in ["WEAR", "EYES", "NEVER", "WASTE"] {
            assert!(words.iter().any(|one| one.text == word && one.page < 2), "{recipe} on {paper}: {word}");
        }
        // Half a second is in no time of a card.
        let halves = text.split(' ').filter(|word| word.contains(':') && word.ends_with(".5"));
        assert_eq!(halves.collect::<Vec<_>>(), [""; 0], "{recipe} on {paper}");
    });
}

/// Worked by hand from the recipe: 8:39 + 1:00 + 4:00, then a wash of 3:42.5 that begins at 13:39 and ends at 17:21.5,
/// which is 17:22 in whole seconds, so 3:43. The rinse takes 0:25 to fill, 0:30, and 0:20 to drain: 1:15. It ends at
/// 18:36.5, in whole seconds 18:37, and 8:39 + 1:00 + 4:00 + 3:43 + 1:15 is 18:37.
#[test]
fn whole_seconds_add_up_to_the_total() {
    let (run, _) = printed(shelf(), ["estuary-400-mq", "21.5C", "5x120"], "tall-five", "a4");
    let Some((_, words)) = places(&run.folder().join("card.pdf")) else { return };
    let huge = words.iter().filter(|word| word.edges[3] - word.edges[1] > 25.0 * HIGH);
    let huge: Vec<&str> = huge.map(|word| word.text.as_str()).collect();
    assert_eq!(huge, ["8:39", "1:00", "4:00", "3:43", "1:15", "3:00:00"]);
    let text: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
    assert!(text.join(" ").contains("TOTAL 18:37"));
    let call = ["card", "estuary-400-mq", "--at", "21.5C", "--rolls", "5x120", "--tank", "tall-five"];
    let card = run.again().args(call).succeeds();
    for line in ["WASH 3:43 -", "RINSE 0:30 -", "TOTAL 18:37 -"] {
        assert!(card.contains(line), "{line}: {card}");
    }
    for words in ["begins 13:39", "begins 17:22", "dump at 0:38", "begins 18:37"] {
        assert!(card.contains(words), "{words}: {card}");
    }
}

/// The line about the lid is in the row of the fixer, and says the whole condition.
#[test]
fn the_lid_is_in_the_row_in_which_it_becomes_free() {
    let (run, _) = printed(shelf(), ["estuary-400-mq", "21.5C", "5x120"], "tall-five", "a4");
    let Some(text) = words(&run.folder().join("card.pdf")) else { return };
    let row = text.split_once("FIX 4:00").unwrap().1.split_once("WASH 3:43").unwrap().0;
    assert!(row.contains("LID ON until the fixer has been in for 1:00 and WASH is in"), "{row}");
}

#[test]
fn a_row_says_which_can_or_bottle_a_bath_goes_into() {
    let settings = "[waste]\nfixer = 1\nbleach = \"3, alone\"\n";
    let bath = "bath stop-a {\n    in citric-stop 1+19\n    volume 2.5 l\n    mixed 2026-11-20\n}\n";
    let run = shelf().file("own/wetside/tonight.toml", settings);
    let run = run.file("recipes/mine.wet", format!("wetside 1\nuse \"solutions.wet\"\n{bath}"));
    let folder = run.folder().join("own").display().to_string();
    let run = run.env("XDG_CONFIG_HOME", &folder);
    let (run, _) = printed(run, ["ebb-50-reversal", "20C", "1x135"], "twin", "a4");
    let Some(text) = words(&run.folder().join("card.pdf")) else { return };
    assert!(text.contains("into waste can 3, alone"), "{text}");
    let call = ["card", "estuary-400-mq", "--at", "21.5C", "--rolls", "5x120", "--tank", "tall-five"];
    let run = run.again().args(call).args(["--bath", "stop-a", "--date", "2026-11-25", "-o", "card.pdf"]);
    let _ = run.succeeds();
    let text = words(&run.folder().join("card.pdf")).unwrap();
    assert!(text.contains("into its bottle stop-a"), "{text}");
    // The slips have the day, and the fingerprint last.
    let slip = "Estuary 400 at 400 · 120";
    assert_eq!(text.matches(slip).count(), 5, "{text}");
    assert_eq!(text.matches("2026-11-25 · page ____ · ").count(), 5, "{text}");
}

/// Two steps of 20 s: the second begins too soon after the first for another box.
#[test]
fn no_two_boxes_are_ticked_within_half_a_minute() {
    let step = |name: &str| {
        format!("    wash {name} {{\n        between  18 C and 24 C\n        time     20 s\n    }}\n")
    };
    let text = format!(
        "wetside 1\nfilm trial {{\n    speed    ISO 100\n}}\nsolution soup {{\n    role     developer\n    \
         needs    100 ml per roll\n}}\nrecipe quick {{\n    film     trial\n    index    100\n    develop {{\n        \
         in       soup stock, one-shot\n        between  18 C and 24 C\n        time     5:00\n    }}\n{}{}{}}}\n",
        step("one"),
        step("two"),
        step("three")
    );
    let run = Run::new().file("a.wet", text);
    let run = run.args(["card", "a.wet", "--at", "20C", "--rolls", "1x120", "-o", "card.pdf"]);
    assert_eq!(run.succeeds(), "");
    let bytes = std::fs::read(run.folder().join("card.pdf")).unwrap();
    let content: String = bytes.iter().copied().map(char::from).collect();
    // A box of ten points. The steps begin at 0:00, 5:00, 5:20 and 5:40; the third has none.
    let boxes = content.lines().filter(|line| line.ends_with(" 10 10 re")).count();
    assert_eq!(boxes, 3);
}

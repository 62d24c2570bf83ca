//! The recipes in `recipes` with suitable evenings, for tests that try all of them.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, OnceLock};

use serde_json::Value;

use crate::program::Run;

/// A recipe and its evenings: each temperature with each load.
pub(crate) struct Evenings {
    pub(crate) recipe: &'static str,
    pub(crate) tank: &'static str,
    pub(crate) at: [&'static str; 2],
    pub(crate) rolls: [&'static str; 2],
}

const fn on(
    recipe: &'static str,
    tank: &'static str,
    at: [&'static str; 2],
    rolls: [&'static str; 2],
) -> Evenings {
    Evenings { recipe, tank, at, rolls }
}

/// All recipes.
pub(crate) const SHELF: [Evenings; 28] = [
    on("ebb-50-reversal", "twin", ["19C", "20C"], ["2x135", "1x120"]),
    on("estuary-400-mq", "tall-five", ["18.5C", "21.5C"], ["5x120", "3x120+2x135"]),
    on("estuary-400-mq-800", "tall-five", ["20C", "22C"], ["5x120", "2x120"]),
    on("estuary-400-mq-1600", "tall-five", ["21C", "24C"], ["4x120", "1x220"]),
    on("estuary-400-stand", "tall-five", ["18C", "21C"], ["1x120", "2x135"]),
    on("headland-sepia", "tray", ["19C", "21C"], ["1x8x10in", "2x8x10in"]),
    on("headrace-125-tray", "tray", ["18C", "21C"], ["6x4x5in", "2x8x10in"]),
    on("millrace-200-mq", "twin", ["19C", "23C"], ["1x120", "1x135"]),
    on("saltmarsh-100-fahrenheit", "twin", ["69F", "72F"], ["1x135", "1x120"]),
    on("saltmarsh-100-mq-reused", "tall-five", ["20C", "23C"], ["5x120", "8x135"]),
    on("saltmarsh-100-two-bath", "tall-five", ["19C", "24C"], ["3x120+2x135", "5x120"]),
    on("saltmarsh-100-warm-night", "tall-five", ["24C", "26.5C"], ["2x120", "3x135-24"]),
    on("slack-tide-200-colour", "twin", ["37.7C", "100F"], ["2x135", "1x120"]),
    on("wheelhouse-400-monobath", "twin", ["23C", "24.5C"], ["2x135", "1x120"]),
    on("wheelhouse-400-mq", "tall-five", ["22C", "24C"], ["4x135", "3x120"]),
    on("wheelhouse-400-rotary", "drum", ["19C", "21C"], ["2x120", "3x135"]),
    on("cotton-blueprint", "print-trays", ["18C", "22C"], ["2x8x10in", "1x24x30cm"]),
    on("crew-estuary-400", "tall-five", ["19C", "21C"], ["5x120", "8x135"]),
    on("crew-estuary-at-800", "tall-five", ["19C", "21C"], ["5x120", "2x120"]),
    on("crew-saltmarsh-100", "tall-five", ["19C", "21C"], ["5x120", "8x135"]),
    on("crew-wheelhouse-400", "tall-five", ["19C", "21C"], ["5x120", "8x135"]),
    on("estuary-400-line", "deep-line", ["19.8C", "20C"], ["12x120", "20x135"]),
    on("gull-lith", "print-trays", ["22C", "25C"], ["1x24x30cm", "2x8x10in"]),
    on("headland-print", "print-trays", ["19C", "21C"], ["1x24x30cm", "2x8x10in"]),
    on("headrace-125-inspected", "sheet-trays", ["19C", "21C"], ["4x8x10in", "6x4x5in"]),
    on("pearl-print", "print-trays", ["19C", "22C"], ["1x24x30cm", "1x8x10in"]),
    on("pearl-strip", "print-trays", ["20C", "22C"], ["3x6x24cm", "1x8x10in"]),
    on("ripple-100-cine", "cine-spiral", ["19C", "21C"], ["1x16mmx50ft", "1x16mmx30ft"]),
];

/// The recipes with steps that a person ends.
const SIGNS: [&str; 6] = [
    "cotton-blueprint",
    "gull-lith",
    "headland-sepia",
    "headrace-125-inspected",
    "pearl-print",
    "pearl-strip",
];

impl Evenings {
    /// Whether a person ends a step of the recipe (R18).
    pub(crate) fn has_signs(&self) -> bool {
        SIGNS.contains(&self.recipe)
    }

    /// The temperature and the rolls of each evening.
    pub(crate) fn all(&self) -> impl Iterator<Item = (&'static str, &'static str)> {
        let rolls = self.rolls;
        self.at.into_iter().flat_map(move |at| rolls.map(|rolls| (at, rolls)))
    }

    /// Two evenings, in which each temperature and each load comes once.
    pub(crate) fn two(&self) -> impl Iterator<Item = (&'static str, &'static str)> {
        self.at.into_iter().zip(self.rolls)
    }
}

/// A run in a folder with all recipes.
pub(crate) fn shelf() -> Run {
    Run::new().folder_of_repo("recipes")
}

/// The call of `card` for an evening, given as its temperature and its rolls.
pub(crate) fn call(run: Run, evenings: &Evenings, (at, rolls): (&str, &str)) -> Run {
    let Evenings { recipe, tank, .. } = evenings;
    run.again().args(["card", recipe, "--at", at, "--rolls", rolls, "--tank", tank])
}

/// Passes each call of the table to `each`, with the name of its evening.
pub(crate) fn every_evening(each: impl FnMut(Run, String) -> Run) {
    evenings(|of| of.all().collect(), each);
}

/// As [`every_evening`], for the two evenings of each recipe, where the program is called in every form.
pub(crate) fn two_evenings(each: impl FnMut(Run, String) -> Run) {
    evenings(|of| of.two().collect(), each);
}

/// The output of each call that [`output`] made.
static OUTPUTS: Mutex<BTreeMap<String, Arc<OnceLock<String>>>> = Mutex::new(BTreeMap::new());

/// The output of a call in a folder with all recipes, unchanged. The program is called once, for all tests of this run.
pub(crate) fn output(run: &Run) -> String {
    assert!(run.has_only_arguments(), "{run}: another call of the same words may print something else");
    let call = Arc::clone(OUTPUTS.lock().unwrap().entry(run.to_string()).or_default());
    call.get_or_init(|| run.succeeds()).clone()
}

fn evenings(chosen: fn(&Evenings) -> Vec<(&str, &str)>, mut each: impl FnMut(Run, String) -> Run) {
    let mut run = shelf();
    for evenings in &SHELF {
        for (at, rolls) in chosen(evenings) {
            run = each(call(run, evenings, (at, rolls)), format!("{}-{at}-{rolls}", evenings.recipe));
        }
    }
}

/// The schedule with the latest decisions (R18): all times count from the start of the first step.
pub(crate) fn laid_out(schedule: &Value) -> Value {
    let mut laid = schedule.clone();
    let ms = |value: &Value| value.as_i64().unwrap();
    let start = |leg: &Value| {
        let at = usize::try_from(leg.as_u64().unwrap() - 1).unwrap();
        schedule["legs"][at]["latest_ms"].as_i64().unwrap()
    };
    for step in laid["steps"].as_array_mut().unwrap() {
        step["start_ms"] = (ms(&step["start_ms"]) + start(&step["leg"])).into();
        assert_eq!(step["start_ms"], step["latest_ms"]);
        for event in step["events"].as_array_mut().unwrap() {
            event["at_ms"] = (ms(&event["at_ms"]) + start(&event["leg"])).into();
        }
    }
    laid
}

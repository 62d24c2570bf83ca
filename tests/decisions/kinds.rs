//! The recipes of `tests/kinds` in which a person ends steps, with decisions at the earliest, in the middle, at the
//! latest and never. The sum of each evening lies within the printed range, and nothing is said to be over before it is.

use std::fs;
use std::path::Path;

use proptest::prelude::*;
use wetside::compile::{Decision, Schedule, Tonight, compile};
use wetside::emit::{Look, card, text};
use wetside::model::{Format, Temperature, Time};

use super::seconds;
use crate::kitchen::{Kitchen, celsius, evening, fahrenheit};
use crate::properties::tried;

/// One card of a file: its schedule, and the checked file.
struct Evening {
    call: String,
    kitchen: Kitchen,
    schedule: Schedule,
}

/// The texts of the `.wet` files of a folder of the project, by their names.
fn files_of(folder: &str) -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let paths = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let files = paths.filter(|path| path.extension().is_some_and(|end| end == "wet"));
    files
        .map(|path| {
            (path.file_name().unwrap().to_str().unwrap().to_owned(), fs::read_to_string(&path).unwrap())
        })
        .collect()
}

/// The conditions of a call such as `card FILE lith --at 20C --rolls 1x24x30cm --tank trays`.
fn tonight(words: &[&str], kitchen: &Kitchen) -> Tonight {
    let option = |name: &str| words.iter().skip_while(|word| **word != name).nth(1).copied();
    let at = option("--at").unwrap();
    let at: Temperature = at.strip_suffix('C').map_or_else(|| fahrenheit(&at[..at.len() - 1]), celsius);
    let rolls: Vec<(u32, Format)> = option("--rolls")
        .unwrap()
        .split('+')
        .map(|rolls| rolls.split_once('x').unwrap())
        .map(|(count, format)| (count.parse().unwrap(), Format::parse(format).unwrap()))
        .collect();
    let named = option("--tank").unwrap();
    let tank = kitchen.shelf.tanks_of(kitchen.file).find(|(name, _)| *name == named);
    let (_, tank) = tank.unwrap_or_else(|| panic!("no tank {named}"));
    Tonight { tank: Some(tank.clone()), ..evening(at, &rolls) }
}

/// Each card of `tests/kinds` on which a person ends steps.
fn evenings() -> Vec<Evening> {
    let shelf = files_of("recipes");
    let shelf: Vec<(&str, &str)> = shelf.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let mut all = Vec::new();
    for (name, text) in files_of("tests/kinds") {
        let calls: Vec<&str> = text.lines().filter_map(|line| line.strip_prefix("# ")).collect();
        for call in calls.into_iter().filter(|call| call.starts_with("card FILE ")) {
            let kitchen = Kitchen::of_files(&text, &shelf).without_errors();
            let words: Vec<&str> = call.split(' ').skip(2).collect();
            let own = kitchen.shelf.recipes.iter().filter(|recipe| recipe.film.is_some());
            let own: Vec<_> = own.filter(|recipe| recipe.span.file == kitchen.file).cloned().collect();
            let named = own.iter().find(|recipe| recipe.name == words[0]);
            let recipe = named.unwrap_or_else(|| own.last().unwrap());
            if !recipe.steps.iter().any(|step| matches!(*step.duration, wetside::model::Duration::Sign(_))) {
                continue;
            }
            let conditions = tonight(&words, &kitchen);
            let schedule = compile(&kitchen.shelf, recipe, &conditions, Vec::new()).unwrap();
            all.push(Evening { call: format!("{name}: {call}"), kitchen, schedule });
        }
    }
    all
}

/// When the person ends one step.
#[derive(Debug, Clone, Copy)]
enum Moment {
    Earliest,
    /// This many thousandths of the way from the earliest end to the latest.
    Between(i64),
    Latest,
    /// The person sees no sign.
    Never,
}

fn moment() -> impl Strategy<Value = Moment> {
    prop_oneof![
        Just(Moment::Earliest),
        (1_i64..1000).prop_map(Moment::Between),
        Just(Moment::Latest),
        Just(Moment::Never)
    ]
}

/// When the sign is seen by the step's clock, and when the step's time ends by the bounds of the recipe.
fn seen(decision: &Decision, moment: Moment) -> (Time, Time) {
    let (least, most) = (decision.least, decision.most);
    let end = match moment {
        Moment::Earliest => least,
        Moment::Between(thousandths) => least + Time::from_ms((most - least).ms * thousandths / 1000),
        Moment::Latest => most,
        Moment::Never => return (seconds(1_000_000), most),
    };
    let Some(times) = decision.times else { return (end, end) };
    // The sign comes so early that the whole multiple of its time is at most this end.
    let factor = times.in_base(1).unwrap();
    let sign = Time::from_ms(end.ms / factor);
    (sign, Time::from_ms(sign.ms * factor).max(least))
}

/// The sums, the order and the ages of a schedule with these decisions, and what the schedule before them said.
fn ends_in_its_range(said: &Schedule, moments: &[Moment], call: &str) -> Schedule {
    let mut now = said.clone();
    let mut saved = Time::ZERO;
    let decisions = said.steps.iter().filter_map(|step| step.decision.as_ref());
    for (decision, moment) in decisions.zip(moments) {
        let (sign, end) = seen(decision, *moment);
        saved = saved + (decision.most - end);
        let before = now;
        now = before.decided(1, sign);
        assert!(
            before.earliest(before.total) <= now.earliest(now.total),
            "{call}: the earliest end moves back"
        );
        assert!(now.total <= before.total, "{call}: the latest end moves on");
    }
    assert_eq!(now.legs.len(), 1, "{call}");
    assert_eq!(now.total, said.total - saved, "{call}: the sum of the evening");
    let within = |earliest: Time, at: Time, latest: Time| earliest <= at && at <= latest;
    assert!(within(said.earliest(said.total), now.total, said.total), "{call}");
    assert!(said.least_water <= now.water && now.water <= said.water, "{call}: water");
    let mut at = Time::ZERO;
    for (old, step) in said.steps.iter().zip(&now.steps) {
        assert_eq!(step.start, at, "{call}: no gap before {:?}", step.kind);
        assert!(within(said.earliest(old.start), step.start, old.start), "{call}: {:?} begins", step.kind);
        assert!(within(said.earliest(old.end), step.end, old.end), "{call}: {:?} ends", step.kind);
        assert!(
            step.events.iter().all(|event| at <= event.at && event.at + event.length <= step.end),
            "{call}"
        );
        assert!(step.events.is_sorted_by_key(|event| event.at), "{call}");
        if let Some((life, mixed)) = step.bath.as_ref().and_then(|bath| Some((bath.lives?, bath.mixed?))) {
            assert!(mixed <= step.start && step.end - mixed <= life, "{call}: the bath of {:?}", step.kind);
        }
        at = step.end;
    }
    if let (Some(old), Some(new)) = (&said.light, &now.light) {
        assert!(within(said.earliest(old.at), new.at, old.at), "{call}: light");
    }
    now
}

#[test]
fn kinds_with_signs_are_these() {
    let all = evenings();
    let mut names: Vec<&str> = all.iter().map(|evening| evening.call.split('.').next().unwrap()).collect();
    names.dedup();
    names.sort_unstable();
    let expected = [
        "cyanotype",
        "development-by-inspection",
        "intensification",
        "lith-by-snatch-point",
        "prints-by-factor",
        "reduction",
        "reversal-by-light",
        "toning-selenium",
        "toning-sulfide",
    ];
    assert_eq!(names, expected);
}

/// All signs at the earliest, and none: the two ends of the printed total.
#[test]
fn the_ends_of_the_printed_total_are_the_earliest_and_the_latest_decisions() {
    for Evening { call, kitchen, schedule } in evenings() {
        let printed = |schedule: &Schedule| {
            let card = text(&card(schedule, &kitchen.sources), Look::default());
            let line = card.lines().find_map(|line| line.strip_prefix("TOTAL ")).unwrap();
            line.trim_end_matches('-').trim().to_owned()
        };
        let at_all = |moment| ends_in_its_range(&schedule, &vec![moment; schedule.legs.len() - 1], &call);
        let ends = [Moment::Earliest, Moment::Never].map(|moment| printed(&at_all(moment)));
        assert_eq!(printed(&schedule), ends.join(" to "), "{call}");
    }
}

#[test]
fn an_evening_ends_within_its_range_however_the_decisions_fall() {
    let all = evenings();
    proptest!(tried(60), |(moments in prop::collection::vec(moment(), 6))| {
        for Evening { call, schedule, .. } in &all {
            ends_in_its_range(schedule, &moments, call);
        }
    });
}

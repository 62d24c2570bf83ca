//! The example in `recipes/estuary-autumn`: its backlog, its journal, and the fingerprints in it.
#![expect(clippy::indexing_slicing, reason = "a missing entry must fail the test")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use crate::program::Run;

fn text(name: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes/estuary-autumn").join(name))
        .unwrap()
}

/// The files of the journal, in the order of their names.
fn journal() -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes/estuary-autumn/journal");
    let mut paths: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths.iter().map(|path| fs::read_to_string(path).unwrap()).collect()
}

/// A run in a copy of the folder alone.
fn autumn() -> Run {
    let run = Run::new().folder_of_repo("recipes/estuary-autumn/journal");
    run.folder_of_repo("recipes/estuary-autumn").below("recipes/estuary-autumn")
}

/// The words of each `roll`: `"A-01" 120 of skerry-400 index 400 shot 2026-10-02`.
fn rolls(backlog: &str) -> Vec<Vec<&str>> {
    let lines = backlog.lines().filter_map(|line| line.trim().strip_prefix("roll "));
    lines.map(|line| line.split_whitespace().collect()).collect()
}

/// The statements of each block of a kind, by the name of the block, such as `("date", "2026-11-04")`.
fn blocks<'a>(text: &'a str, kind: &str) -> BTreeMap<&'a str, Vec<(&'a str, &'a str)>> {
    let mut found: BTreeMap<&str, Vec<(&str, &str)>> = BTreeMap::new();
    let mut inside = None;
    for line in text.lines() {
        if let Some(head) = line.strip_prefix(&format!("{kind} ")) {
            inside = head.split(' ').next();
        } else if line == "}" {
            inside = None;
        } else if let (Some(name), Some((word, rest))) = (inside, line.trim().split_once(' ')) {
            found.entry(name).or_default().push((word, rest.trim()));
        }
    }
    found
}

/// The values of a statement in a block, which may occur several times.
fn said<'a>(block: &[(&str, &'a str)], word: &str) -> Vec<&'a str> {
    block.iter().filter(|(own, _)| *own == word).map(|(_, rest)| *rest).collect()
}

#[test]
fn the_backlog_has_60_rolls_of_120_and_12_of_135_of_three_films() {
    let backlog = text("backlog.wet");
    let rolls = rolls(&backlog);
    let of = |format: &str| rolls.iter().filter(|roll| roll[1] == format).count();
    assert_eq!((rolls.len(), of("120"), of("135")), (72, 60, 12));
    let distinct = |at: usize| rolls.iter().map(|roll| roll[at]).collect::<BTreeSet<_>>();
    assert_eq!(distinct(3).len(), 3, "{:?}", distinct(3));
    let days: BTreeSet<String> = (2..=20).map(|day| format!("2026-10-{day:02}")).collect();
    assert_eq!(distinct(7), days.iter().map(String::as_str).collect());
    assert!(rolls.is_sorted_by_key(|roll| roll[7]), "not in the order of shooting");
    assert_eq!(distinct(5), BTreeSet::from(["100", "1600", "400", "800"]), "the indexes");
}

#[test]
fn the_journal_has_four_sessions_and_a_retracted_one() {
    let journal = journal();
    let (sessions, back) = (blocks(&journal, "session"), journal.matches("\nretract 2026-").count());
    assert_eq!((sessions.len(), back), (5, 1));
    let checked = autumn().args(["check", "--fail-on", "warning"]);
    assert_eq!(checked.succeeds(), "nothing to fix in 10 files\n");
}

/// Compiles a card from each session's own conditions.
#[test]
fn the_fingerprints_in_the_journal_equal_those_of_the_cards() {
    let (journal, backlog) = (journal(), text("backlog.wet"));
    let by_label: BTreeMap<&str, Vec<&str>> =
        rolls(&backlog).into_iter().map(|roll| (roll[0], roll)).collect();
    let mut run = autumn();
    for (name, session) in blocks(&journal, "session") {
        let (recipe, fingerprint) = said(&session, "recipe")[0].split_once(", fingerprint ").unwrap();
        let slots = said(&session, "slot");
        let format = slots[0].rsplit(' ').next().unwrap();
        let load = format!("{}x{format}", slots.len());
        let at = said(&session, "at")[0].replace(' ', "");
        run = run.again().args(["card", recipe, "--at", &at, "--rolls", &load]);
        run = run.args(["--bath", "autumn-fix-b", "--date", "2026-11-16"]);
        run = run.args(["--tank", said(&session, "tank")[0]]);
        let card = run.succeeds();
        let head = card.lines().next().unwrap();
        let shown = head.rsplit(' ').next().unwrap().replace('-', "");
        assert!(shown.len() == 8 && fingerprint.trim_matches('"').starts_with(&shown), "{name}: {head}");
        // The rolls in the slots have the recipe's film and index.
        let film = format!("{}-{}", recipe.split('-').next().unwrap(), recipe.split('-').nth(1).unwrap());
        let indexes: BTreeSet<&str> = slots
            .iter()
            .map(|slot| &by_label[slot.split(' ').nth(1).unwrap()])
            .inspect(|roll| assert_eq!((roll[1], roll[3]), (format, film.as_str()), "{name}: {roll:?}"))
            .map(|roll| roll[5])
            .collect();
        let index = indexes.iter().next().unwrap();
        assert!(indexes.len() == 1 && card.contains(&format!("exposed at {index}\n")), "{name}: {indexes:?}");
    }
}

/// By hand: 10 rolls per litre of fixer are 25 in 2.5 l, and 12 per litre of stop bath are 30. A roll of 135 with
/// 36 exposures counts as one of 120.
#[test]
fn no_bottle_of_the_autumn_is_over_its_capacity() {
    let journal = journal();
    let retracted =
        journal.lines().find_map(|line| line.strip_prefix("retract ")?.split(' ').next()).unwrap();
    let mut treated: BTreeMap<&str, usize> = BTreeMap::new();
    for (name, session) in blocks(&journal, "session") {
        for bath in said(&session, "bath") {
            *treated.entry(bath).or_default() +=
                if name == retracted { 0 } else { said(&session, "slot").len() };
        }
    }
    let expected = [("autumn-fix-a", 14), ("autumn-fix-b", 8), ("autumn-stop-a", 22)];
    assert_eq!(treated, BTreeMap::from(expected));
}

/// Each kind of roll has one recipe for its film and index, and a tank that takes it.
#[test]
fn every_roll_of_the_autumn_has_a_card() {
    let backlog = text("backlog.wet");
    let kinds: BTreeSet<(&str, &str, &str)> =
        rolls(&backlog).iter().map(|roll| (roll[1], roll[3], roll[5])).collect();
    assert_eq!(kinds.len(), 5, "{kinds:?}");
    let mut run = autumn();
    for (format, film, index) in kinds {
        let (recipe, load) = (format!("{film}-autumn"), format!("1x{format}"));
        run = run.again().args(["card", &recipe, "--index", index, "--at", "21C", "--rolls", &load]);
        run = run.args(["--bath", "autumn-fix-b", "--date", "2026-11-16"]);
        run = run.args(["--tank", "autumn-five"]);
        let card = run.succeeds();
        assert!(card.contains(&format!("exposed at {index}\n")), "{card}");
    }
}

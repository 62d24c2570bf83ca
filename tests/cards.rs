//! The card and the JSON of every recipe of the shelf, as snapshots. A new recipe fails here until the table has it.
#![expect(clippy::indexing_slicing, reason = "a missing key must fail the test")]

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use serde_json::Value;
use unicode_width::UnicodeWidthStr;

use crate::evenings::{Evenings, SHELF, call, every_evening, output, shelf, two_evenings};
use crate::program::Run;

#[test]
fn the_table_has_every_recipe_of_the_shelf() {
    let mut table: Vec<&str> = SHELF.iter().map(|evenings| evenings.recipe).collect();
    table.sort_unstable();
    assert_eq!(table, whole_recipes(), "the recipes in the folder are those at the right");
    for Evenings { recipe, at, rolls, .. } in &SHELF {
        assert!(at[0] != at[1] && rolls[0] != rolls[1], "{recipe} is tried twice on one evening");
    }
}

/// The names of all recipes in the folder with a film of their own or of a parent, from their lines.
fn whole_recipes() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("recipes");
    let mut recipes: BTreeMap<String, (Option<String>, bool)> = BTreeMap::new();
    let paths = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    for path in paths.filter(|path| path.is_file()) {
        let mut inside = None;
        for line in fs::read_to_string(path).unwrap().lines() {
            if let Some(head) = line.strip_prefix("recipe ") {
                let name = head.split(' ').next().unwrap().to_owned();
                let parent = head.rsplit_once("\" from ").map(|(_, parent)| parent.trim_end_matches(" {"));
                recipes.insert(name.clone(), (parent.map(str::to_owned), false));
                inside = Some(name);
            } else if line == "}" {
                inside = None;
            } else if let (true, Some(name)) =
                (["    film ", "    paper ", "    plate "].iter().any(|word| line.starts_with(word)), &inside)
            {
                recipes.get_mut(name).unwrap().1 = true;
            }
        }
    }
    let is_whole = |name: &String| {
        let line = std::iter::successors(recipes.get(name), |(parent, _)| recipes.get(parent.as_ref()?));
        line.into_iter().any(|(_, has_film)| *has_film)
    };
    recipes.keys().filter(|name| is_whole(name)).cloned().collect()
}

#[test]
fn every_card_is_as_it_was_read() {
    every_evening(|run, name| {
        let card = output(&run);
        fits(&card, 80, &name);
        kept(&run, &format!("{name}-text"), &card);
        run
    });
}

/// One evening of each recipe; the schema and the cards cover the others.
#[test]
fn the_schedule_of_each_recipe_is_as_it_was_read() {
    let mut run = shelf();
    for evenings in &SHELF {
        let first = evenings.all().next().unwrap();
        run = call(run, evenings, first).args(["--as", "json"]);
        let schedule: Value = serde_json::from_str(&output(&run)).unwrap();
        kept(&run, &format!("{}-json", evenings.recipe), &compact(&schedule));
    }
}

/// JSON with each list or object on one line if it fits in 110 columns.
fn compact(value: &Value) -> String {
    let mut text = String::new();
    lay(value, 0, 0, &mut text);
    text.push('\n');
    text
}

/// Appends a value that starts `used` columns into its line.
fn lay(value: &Value, depth: usize, used: usize, text: &mut String) {
    let flat = value.to_string();
    let parts: Vec<(String, &Value)> = match value {
        Value::Array(items) => items.iter().map(|item| (String::new(), item)).collect(),
        Value::Object(fields) => fields.iter().map(|(key, item)| (format!("\"{key}\": "), item)).collect(),
        _ => Vec::new(),
    };
    if parts.is_empty() || used + flat.width() <= 110 {
        return text.push_str(&flat);
    }
    let inner = "  ".repeat(depth + 1);
    for (at, (key, item)) in parts.iter().enumerate() {
        let open = if at > 0 {
            ","
        } else if value.is_array() {
            "["
        } else {
            "{"
        };
        text.push_str(&format!("{open}\n{inner}{key}"));
        lay(item, depth + 1, inner.len() + key.width() + 1, text);
    }
    text.push_str(&format!("\n{}{}", "  ".repeat(depth), if value.is_array() { "]" } else { "}" }));
}

/// The recipe warms the tank at 37.8 °C, at any temperature of the evening.
#[test]
fn a_step_without_a_bath_shows_its_temperature() {
    let call = ["card", "slack-tide-200-colour", "--at", "37.7C", "--rolls", "2x135", "--tank", "twin"];
    let card = shelf().args(call).succeeds();
    let (_, warm) = card.split_once("\nWARM 5:00 ").unwrap();
    assert_eq!(warm.lines().nth(1), Some("  at 37.8 °C"), "{card}");
}

/// Its cautions have `28 %` in one place.
#[test]
fn no_line_ends_between_a_number_and_its_per_cent() {
    let mut run = shelf();
    for width in (40..=70).chain((75..=120).step_by(5)) {
        let call = ["card", "slack-tide-200-colour", "--at", "37.7C", "--rolls", "2x135", "--tank", "twin"];
        run = run.again().args(call).args(["--width", &width.to_string()]);
        let card = run.succeeds();
        assert_eq!(card.matches("28 %").count(), 1, "{width} columns: {card}");
    }
}

fn kept(run: &Run, name: &str, said: &str) {
    insta::with_settings!({ description => run.to_string(), omit_expression => true }, {
        insta::assert_snapshot!(name, said);
    });
}

/// Every card without line breaks, with its evening's name.
static WIDE: LazyLock<Vec<(String, String)>> = LazyLock::new(|| {
    let mut cards = Vec::new();
    two_evenings(|run, name| {
        let run = run.args(["--width", "120"]);
        cards.push((name, run.succeeds()));
        run
    });
    cards
});

#[test]
fn every_card_fits_half_a_page() {
    two_evenings(|run, name| {
        let run = run.args(["--width", "60"]);
        fits(&run.succeeds(), 60, &name);
        run
    });
}

#[test]
fn every_card_fits_a_wide_terminal() {
    WIDE.iter().for_each(|(name, card)| fits(card, 120, name));
}

/// It has the closing line, the fingerprint and the total time.
#[test]
fn every_card_fits_a_phone_and_is_complete() {
    two_evenings(|run, name| {
        let schedule: Value = serde_json::from_str(&output(&run.clone().args(["--as", "json"]))).unwrap();
        let run = run.args(["--width", "40"]);
        let card = run.succeeds();
        fits(&card, 40, &name);
        let words = card.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains("a product's own safety data sheet"), "{name}: {card}");
        let fingerprint = schedule["recipe"]["fingerprint"].as_str().unwrap();
        let short = format!("{}-{}", &fingerprint[..4], &fingerprint[4..8]);
        assert!(words.contains(&format!("recipe {short} ")), "{name}: {card}");
        let [least, most] = ["total_earliest_ms", "total_ms"]
            .map(|key| clock((schedule[key].as_u64().unwrap() + 500) / 1000 * 1000));
        let total = if least == most { most } else { format!("{least} to {most}") };
        assert!(words.contains(&format!("TOTAL {total} ")), "{name}: {total}: {card}");
        run
    });
}

#[track_caller]
fn fits(card: &str, width: usize, name: &str) {
    assert!(card.ends_with('\n') && !card.ends_with("\n\n"), "{name}: the last line");
    for line in card.lines() {
        assert!(line.width() <= width, "{name}: {} columns: {line}", line.width());
        assert!(!line.ends_with(char::is_whitespace), "{name}: blanks at the end: {line:?}");
    }
    let odd = card.chars().find(|letter| letter.is_control() && *letter != '\n');
    assert_eq!(odd, None, "{name}");
}

/// Milliseconds as a card shows them; parts of a second are halves on this shelf.
fn clock(ms: u64) -> String {
    let (minutes, seconds, half) = (ms / 60_000, ms / 1000 % 60, ms % 1000);
    let part = match half {
        0 => "",
        500 => ".5",
        other => panic!("{other} ms is no half second"),
    };
    match minutes / 60 {
        0 => format!("{minutes}:{seconds:02}{part}"),
        hours => format!("{hours}:{:02}:{seconds:02}{part}", minutes % 60),
    }
}

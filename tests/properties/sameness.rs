//! The same recipe gives the same bytes. Comments, titles, notes and paths do not change its fingerprint; its work
//! does (R15).

use proptest::prelude::*;
use serde_json::Value;
use wetside::emit;
use wetside::model::Fingerprint;

use super::recipe::{Draft, METRIC, Units, draft};
use super::tried;
use crate::kitchen::Kitchen;
use crate::tidy::editions::brought_over;

/// The fingerprint of the last recipe of a text.
fn mark(text: &str) -> Fingerprint {
    Fingerprint::of(Kitchen::sound(text).recipe())
}

/// The schedule as JSON.
fn bytes(text: &str, draft: &Draft) -> String {
    let kitchen = Kitchen::sound(text);
    emit::json(&kitchen.compiled(&draft.evening()), &kitchen.sources)
}

/// The schedule without line numbers.
fn without_lines(bytes: &str) -> Value {
    fn strip(value: &mut Value) {
        match value {
            Value::Object(object) => {
                object.remove("line");
                object.values_mut().for_each(strip);
            }
            Value::Array(items) => items.iter_mut().for_each(strip),
            Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
        }
    }
    let mut value = serde_json::from_str(bytes).unwrap();
    strip(&mut value);
    value
}

/// A text with lines inserted at these indexes, modulo the number of lines.
fn with_lines(text: &str, places: &[(usize, String)]) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for (at, line) in places {
        lines.insert(at % (lines.len() + 1), line.clone());
    }
    lines.join("\n") + "\n"
}

/// Blank lines and comments with random indexes.
fn comments() -> impl Strategy<Value = Vec<(usize, String)>> {
    let line = prop_oneof![Just(String::new()), "[ \t]{0,4}", "# [ -~]{0,30}", "    #[a-z{}\"#]{0,12}"];
    prop::collection::vec((any::<usize>(), line), 1..12)
}

proptest! {
    #![proptest_config(tried(80))]

    #[test]
    fn the_same_evening_gives_the_same_bytes(draft in draft()) {
        let text = draft.text(METRIC);
        prop_assert_eq!(bytes(&text, &draft), bytes(&text, &draft));
    }

    /// The text of a draft is of edition 1, and states `light safe`.
    #[test]
    fn a_recipe_brought_over_to_edition_2_does_the_same(draft in draft(), comments in comments()) {
        let text = with_lines(&draft.text(METRIC), &comments);
        let new = brought_over(&text).text;
        prop_assert!(new.contains("wetside 2\n") && new.contains("light     room"));
        prop_assert_eq!(mark(&text), mark(&new));
        prop_assert_eq!(bytes(&text, &draft), bytes(&new, &draft));
        prop_assert_eq!(brought_over(&new).edits, []);
    }

    #[test]
    fn comments_and_blank_lines_change_nothing(draft in draft(), comments in comments()) {
        let text = draft.text(METRIC);
        let remarked = with_lines(&text, &comments);
        prop_assert_eq!(mark(&text), mark(&remarked));
        let (one, other) = (bytes(&text, &draft), bytes(&remarked, &draft));
        prop_assert_eq!(without_lines(&one), without_lines(&other));
    }

    #[test]
    fn comments_and_spaces_after_a_statement_change_nothing(draft in draft(), comment in "[ \t]{1,3}(#[ -~]{0,20})?") {
        let text = draft.text(METRIC);
        let commented: String = text.lines().map(|line| format!("  {line}{comment}\r\n")).collect();
        prop_assert_eq!(bytes(&text, &draft), bytes(&commented, &draft));
    }

    #[test]
    fn another_unit_for_the_same_quantity_changes_nothing(
        draft in draft(), fahrenheit in any::<bool>(), litres in any::<bool>(),
    ) {
        let (text, other) = (draft.text(METRIC), draft.text(Units { fahrenheit, litres }));
        prop_assert_eq!(mark(&text), mark(&other));
        prop_assert_eq!(bytes(&text, &draft), bytes(&other, &draft));
    }

    #[test]
    fn titles_and_notes_do_not_change_the_fingerprint(draft in draft(), words in "[a-z ]{1,20}") {
        let text = draft.text(METRIC);
        let mut told = text.replace("\"Estuary 400\"", &format!("\"{words}\""));
        told = told.replace("\"A developer\"", "").replace("\"An evening\"", &format!("\"{words}\""));
        told = told.replace("    role      developer\n", &format!("    role      developer\n    source    \"{words}\"\n    note \"{words}\"\n"));
        told = told.replace("    index     400\n", &format!("    index     400\n    note \"{words}\"\n    caution \"{words}\"\n"));
        told = told.replace("        time      75 s\n", &format!("        time      75 s\n        note \"{words}\"\n"));
        prop_assert_ne!(&text, &told);
        prop_assert_eq!(mark(&text), mark(&told));
    }

    #[test]
    fn files_and_tanks_do_not_change_the_fingerprint(draft in draft()) {
        let text = draft.text(METRIC);
        let (shelf, recipe) = draft.two_texts();
        let kitchen = Kitchen::of_files(&recipe, &[("shelf.wet", &shelf)]).without_errors();
        prop_assert_eq!(mark(&text), Fingerprint::of(kitchen.recipe()));
        prop_assert_eq!(mark(&text), mark(&text.replace(" ml each\n", " ml each\n    holds     900 l\n")));
    }

    #[test]
    fn any_other_number_in_a_chart_changes_the_fingerprint(draft in draft(), which in any::<usize>()) {
        let before = mark(&draft.text(METRIC));
        let count = draft.chart.len();
        let mut longer = draft.clone();
        // The colder points become longer too, so that no time rises with temperature.
        longer.chart.iter_mut().take(which % count + 1).for_each(|(_, seconds)| *seconds += 1);
        prop_assert_ne!(&before, &mark(&longer.text(METRIC)));
        let mut warmer = draft;
        warmer.chart.iter_mut().skip(which % count).for_each(|(tenths, _)| *tenths += 1);
        prop_assert_ne!(&before, &mark(&warmer.text(METRIC)));
    }
}

//! Recipes that were tested, and recipes that should no longer be used: where they are reported, and what is offered instead.

use serde_json::Value;
use wetside::source::Diagnostic;

use crate::kitchen::Kitchen;
use crate::program::Run;

const CLUB: &str = "wetside 2

film gull {
    speed     ISO 100
}

tank small {
    reels     120 x 2, 500 ml each
    fill      10 s
    drain     10 s
}

recipe old \"The old one\" {
    film      gull
    index     100
    tested    2026-11-12 \"two rolls, by eye\"
    tested    2026-11-20
    deprecated because \"the times were too short\", use new

    rinse {
        in        water
        time      1:00
    }
}

recipe new from old {
    rinse {
        time      2:00
    }
}
";

fn found(own: &str) -> Vec<Diagnostic> {
    let kitchen = Kitchen::of_files(own, &[("club.wet", CLUB)]);
    kitchen.findings.iter().filter(|finding| finding.name == "deprecated-recipe").cloned().collect()
}

const OWN: &str = "recipe mine from club/old {\n    rinse {\n        time      3:00\n    }\n}\n";

#[test]
fn whoever_derives_from_a_deprecated_recipe_is_offered_the_other_one() {
    let all = found(&format!("wetside 2\nuse \"club.wet\" as club\n{OWN}"));
    let [one] = all.as_slice() else { panic!("{all:?}") };
    assert_eq!(one.message, "'club/old' is deprecated: the times were too short");
    let [fix] = one.fixes.as_slice() else { panic!("{one:?}") };
    assert_eq!((fix.certain, fix.edits[0].text.as_str()), (false, "club/new"));
    // In its own file the recipe to use derives from the old one, and is not advised to use itself.
    assert!(Kitchen::of(CLUB).findings.iter().all(|finding| finding.name != "deprecated-recipe"));
}

#[test]
fn a_backlog_that_names_a_deprecated_recipe_is_advised_too() {
    let backlog = "backlog autumn {\n    recipe    old\n    roll      \"A-1\" 120 of gull\n}\n";
    let all = found(&format!("wetside 2\nuse \"club.wet\"\n{backlog}"));
    assert_eq!(all.len(), 1, "{all:?}");
    assert_eq!(all[0].fixes[0].edits[0].text, "new");
}

#[test]
fn what_is_deprecated_can_be_allowed_with_a_reason() {
    let own =
        OWN.replace("rinse {", "allow     deprecated-recipe because \"mine were long enough\"\n    rinse {");
    assert_eq!(found(&format!("wetside 2\nuse \"club.wet\" as club\n{own}")).len(), 0);
}

#[test]
fn a_recipe_to_use_that_does_not_exist_is_an_error() {
    let kitchen = Kitchen::of(&CLUB.replace("use new\n", "use newest\n"));
    assert!(kitchen.findings.iter().any(|finding| finding.name == "unknown-name"), "{:?}", kitchen.findings);
}

fn card(name: &str, form: &str) -> String {
    let run = Run::new().file("club.wet", CLUB);
    let (status, out, report) =
        run.args(["card", "club.wet", name, "--at", "20C", "--rolls", "1x120", "--as", form]).ends();
    assert_eq!(status, 0, "{report}");
    out
}

#[test]
fn the_card_says_when_its_recipe_was_tested_and_that_it_is_deprecated() {
    let words = card("old", "text").split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("this recipe is deprecated: the times were too short; use new"), "{words}");
    assert!(words.contains("tested 2026-11-12: two rolls, by eye"), "{words}");
    assert!(words.contains("tested 2026-11-20"), "{words}");
    let json: Value = serde_json::from_str(&card("old", "json")).unwrap();
    assert_eq!(
        json["recipe"]["tested"],
        serde_json::json!([{ "date": "2026-11-12", "text": "two rolls, by eye" }, { "date": "2026-11-20" }])
    );
    assert_eq!(
        json["recipe"]["deprecated"],
        serde_json::json!({ "because": "the times were too short", "use": "new" })
    );
}

#[test]
fn a_derived_recipe_is_neither_tested_nor_deprecated() {
    let json: Value = serde_json::from_str(&card("new", "json")).unwrap();
    assert_eq!((&json["recipe"]["tested"], &json["recipe"]["deprecated"]), (&Value::Null, &Value::Null));
    assert!(!card("new", "text").contains("deprecated"));
}

#[test]
fn a_recipe_that_changes_nothing_is_still_noticed_if_its_parent_was_tested() {
    let kitchen = Kitchen::of(&format!("{CLUB}\nrecipe same from new {{\n    tested    2026-11-21\n}}\n"));
    assert!(kitchen.findings.iter().any(|finding| finding.name == "derived-without-change"));
}

/// Both recipes fit a roll of this film at this index.
#[test]
fn a_plan_and_an_index_pass_over_a_deprecated_recipe() {
    let backlog = "\nbacklog autumn {\n    roll      \"A-1\" 120 of gull index 100\n}\n";
    let run = Run::new().file("club.wet", format!("{CLUB}{backlog}"));
    let plan = run.again().args(["plan", "club.wet", "autumn", "--at", "20C", "--as", "json"]).ends();
    assert_eq!(plan.0, 0, "{}", plan.2);
    let json: Value = serde_json::from_str(&plan.1).unwrap();
    assert_eq!(json["loads"][0]["recipe"], "new");
    let call =
        ["card", "club.wet", "old", "--index", "100", "--at", "20C", "--rolls", "1x120", "--as", "json"];
    let card = run.args(call).ends();
    let json: Value = serde_json::from_str(&card.1).unwrap_or_else(|_| panic!("{}", card.2));
    assert_eq!(json["recipe"]["name"], "new");
}

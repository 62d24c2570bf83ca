//! What a call of `card`, `follow`, `record` and `plan` may leave out, and how its values may be written.

use super::{autumn, planned, without_bottles};

/// The whole evening of a planned load, with tonight's temperature.
const EVENING: [&str; 3] = ["wetside card --at 21.5", "wetside follow", "wetside record"];

#[test]
fn the_evening_of_a_planned_load_takes_at_most_60_characters() {
    let typed: usize = EVENING.iter().map(|line| line.chars().count()).sum();
    assert!(typed <= 60, "{typed} characters");
    let run = without_bottles();
    for line in EVENING {
        let words = line.split(' ').skip(1);
        let call = words.fold(run.again(), |run, word| run.arg(word));
        // The dry run of `follow` needs not wait.
        let call = if line.ends_with("follow") { call.args(["--speed", "10000"]) } else { call };
        let printed = call.succeeds();
        let shown = if line.ends_with("record") { "planned-as load-1" } else { "21.5 °C" };
        assert!(
            printed.contains(shown) || line.ends_with("follow") && printed.contains("DEVELOP 8:39"),
            "{printed}"
        );
    }
}

#[test]
fn the_temperature_is_always_stated() {
    let run = planned();
    for call in [vec!["card"], vec!["card", "load-1"], vec!["card", "A-12,A-16"]] {
        let (_, told) = call.iter().fold(run.again(), |run, word| run.arg(*word)).fails(2);
        assert!(
            told.contains("the temperature of the baths is not given") && told.contains("--at 21.5"),
            "{told}"
        );
    }
}

#[test]
fn a_temperature_may_have_a_comma_or_no_unit() {
    let run = planned();
    let card = |at: &str| run.again().args(["card", "--at", at, "--date", "2026-11-16"]);
    let usual = card("21.5C").succeeds();
    for at in ["21.5", "21,5", "21,5C", " 21.5 C", "70.7F", "70,7F", "21.5,wash=21,5C", "21.5,wash=21.5"] {
        let shown = card(at).succeeds();
        let same = |text: &str| text.contains("21.5 °C (70.7 °F)") || text.contains("70.7 °F (21.5 °C)");
        assert!(same(&shown) && same(&usual), "{at}: {shown}");
    }
    let (_, told) = card("70").fails(2);
    assert!(told.contains("70 has no unit") && told.contains("write 70F"), "{told}");
    let (_, told) = card("21C,22C").fails(2);
    assert!(told.contains("two temperatures in '21C,22C'"), "{told}");
}

#[test]
fn a_day_may_be_today_and_a_start_now() {
    let run = without_bottles();
    let text = run.again().args(["card", "--at", "21.5", "--date", "today", "--start", "now"]).succeeds();
    assert!(text.contains("DEVELOP 8:39") && text.contains("TOTAL "), "{text}");
    let clock = text.lines().find(|line| line.starts_with("DEVELOP")).unwrap();
    assert!(clock.matches(':').count() > 2, "the time of day at the start: {clock}");
    run.again().args(["plan", "autumn", "--tank", "tall-five", "--on", "today"]).succeeds();
}

#[test]
fn labels_stand_for_their_recipe_and_rolls() {
    let run = autumn();
    let card = |labels: &str| {
        run.again().args(["card", labels, "--at", "21", "--bath", "autumn-fix-b", "--date", "2026-11-16"])
    };
    let text = card("A-12,A-16").succeeds();
    assert!(text.starts_with("Skerry 400 at 400"), "{text}");
    assert!(text.contains("Skerry 400 · 2 x 120 · The crew's five-reel tank · 21 °C (69.8 °F)"), "{text}");
    assert!(text.contains("A-12") && text.contains("A-16"), "{text}");
    // One label alone, and a roll that was pushed.
    assert!(card("A-37").succeeds().starts_with("Skerry 400 pushed to 800"));
    let (_, told) = card("A-12,A-61b").fails(2);
    assert!(told.contains("has no roll 'A-61b'"), "{told}");
    let (_, told) = card("B-12,B-16").fails(2);
    assert!(told.contains("no backlog has a roll 'B-12'") && told.contains("did you mean"), "{told}");
    // Films of different work are refused as ever, with calls that can be repeated.
    let (_, told) = card("A-12,A-17").fails(1);
    assert!(told.contains("WRONG ROLL in slot 2: A-17 is Tideline 100"), "{told}");
    assert!(
        told.contains("wetside card skerry-400-autumn --at 21 --rolls 2x120 --label A-12,A-17"),
        "{told}"
    );
    // What has been developed is said.
    let (_, told) = card("A-01").fails(1);
    assert!(told.contains("A-01 was developed on"), "{told}");
}

#[test]
fn options_come_before_what_the_plan_has() {
    let run = planned();
    let text =
        run.again().args(["card", "--at", "21", "--label", "A-12,A-16", "--date", "2026-11-16"]).succeeds();
    assert!(text.contains("Skerry 400 · 2 x 120"), "{text}");
    let (_, told) = run.again().args(["card", "--at", "21", "--rolls", "2x120"]).fails(2);
    assert!(told.contains("which rolls of 'load-1' are in the tank?") && told.contains("--label"), "{told}");
}

#[test]
fn a_recipe_that_changed_since_the_plan_is_said_on_the_card() {
    let run = planned();
    let recipes = super::file(&run, "recipes.wet").replacen("20 C   9:15", "20 C   9:20", 1);
    let run = run.file("recipes/estuary-autumn/recipes.wet", recipes);
    let text = run.again().args(["card", "--at", "21", "--date", "2026-11-16"]).succeeds();
    assert!(text.contains("the recipe 'skerry-400-autumn' has changed since 'load-1' was planned"), "{text}");
}

/// All four commands have the same text about what they share.
#[test]
fn the_commands_share_their_options() {
    let help = |command: &str| super::autumn().args([command, "--help"]).succeeds();
    let entry = |text: &str, option: &str| {
        let text = text.split("\nOptions:\n").nth(1).unwrap();
        let from = text.find(option).unwrap_or_else(|| panic!("{option}: {text}"));
        text.get(from..).unwrap().split("\n\n").next().unwrap().to_owned()
    };
    for option in
        ["--at <TEMPERATURE>", "--tank <TANK>", "--ending <TEMPERATURE>", "--date <DATE>", "--no-config"]
    {
        let card = entry(&help("card"), option);
        for command in ["follow", "record", "plan"] {
            assert_eq!(entry(&help(command), option), card, "{command} {option}");
        }
    }
    for option in [
        "--rolls <ROLLS>",
        "--label <LABELS>",
        "--bath <NAMES>",
        "--anyway",
        "--clears <TIME>",
        "--volume <VOLUME>",
    ] {
        let card = entry(&help("card"), option);
        for command in ["follow", "record"] {
            assert_eq!(entry(&help(command), option), card, "{command} {option}");
        }
    }
}

//! The loads of a plan as planned sessions: the file that `plan` writes, what `next` shows of it, and what counts.

mod calls;
mod season;
mod settings;
mod tonight;

use std::fs;

use serde_json::Value;

use crate::program::Run;
use crate::writers::names;

/// The crew's autumn, in a copy of its folder.
fn autumn() -> Run {
    let run = Run::new().folder_of_repo("recipes/estuary-autumn/journal");
    run.folder_of_repo("recipes/estuary-autumn").file(".git/HEAD", "").below("recipes/estuary-autumn")
}

/// The autumn with a plan in `loads.wet`, a load a week.
fn planned() -> Run {
    let run =
        autumn().args(["plan", "estuary-autumn", "--at", "20.5C", "--on", "2026-11-16", "--a-day", "1"]);
    let run = run.args(["--every", "7", "-o", "loads.wet"]);
    assert_eq!(run.succeeds(), "");
    run.again()
}

/// A file of the autumn's folder.
fn file(run: &Run, name: &str) -> String {
    fs::read_to_string(run.folder().join("recipes/estuary-autumn").join(name)).unwrap()
}

/// A darkroom without bottles, beside the shelf, with a plan for one tankful.
fn without_bottles() -> Run {
    let backlog = "wetside 1\n\nuse \"recipes/films.wet\"\n\nbacklog autumn {\n    recipe    estuary-400-mq\n    roll      \"E-01\" 120 of estuary-400\n    roll      \"E-02\" 120 of estuary-400\n}\n";
    let backlog = backlog.replace(
        "use \"recipes/films.wet\"\n",
        "use \"recipes/films.wet\"\nuse \"recipes/estuary-400-mq.wet\"\n",
    );
    let run = Run::new().folder_of_repo("recipes").file("autumn.wet", backlog);
    let run = run.args(["plan", "autumn", "--tank", "tall-five", "--at", "21C", "-o", "loads.wet"]);
    run.succeeds();
    run.again()
}

#[test]
fn a_plan_becomes_a_file_of_planned_sessions() {
    let run = planned();
    let text = file(&run, "loads.wet");
    // The first load of the plan in the guide: five rolls of Skerry 400 at 400, in the order in which they were shot.
    let first = "wetside 2\n\nuse \"backlog.wet\"\nuse \"darkroom.wet\"\n\nsession load-1 {\n    planned   2026-11-16\n    recipe    skerry-400-autumn, fingerprint \"";
    assert!(text.starts_with(first), "{text}");
    for line in [
        "tank      autumn-five",
        "backlog   estuary-autumn",
        "slot      1 \"A-12\" 120",
        "bath      autumn-fix-a",
    ] {
        assert!(text.contains(&format!("    {line}\n")), "{line}: {text}");
    }
    assert_eq!(
        (text.matches("\nsession load-").count(), text.matches("planned   2026-11-23").count()),
        (11, 1)
    );
    assert!(!text.contains("    at "), "a plan has no temperature: {text}");
    assert_eq!(run.again().args(["check", "--fail-on", "advice"]).succeeds(), "nothing to fix in 11 files\n");
    assert_eq!(run.again().args(["tidy", "--dry"]).succeeds(), "nothing to tidy in 11 files\n");
}

/// By hand, from the journal of the folder: 14 and 8 of 25 rolls in the bottles of fixer, 22 of 30 in the stop bath.
#[test]
fn planned_sessions_count_for_nothing() {
    let run = planned();
    let table = run.again().args(["baths", "--on", "2026-11-16"]).succeeds();
    for counted in ["14 of 25", "8 of 25", "22 of 30"] {
        assert!(table.contains(counted), "{counted}: {table}");
    }
    let plan = run.again().args(["plan", "estuary-autumn", "--at", "20.5C", "--on", "2026-11-16"]).succeeds();
    assert!(plan.contains("22 of 72 rolls developed, 50 left"), "{plan}");
    assert_eq!(run.again().args(["list", "sessions"]).succeeds().lines().count(), 5);
    let found = run.again().args(["find", "WYVR-198K"]).succeeds();
    assert!(!found.contains("load-"), "{found}");
}

#[test]
fn next_shows_the_rolls_the_bottles_and_the_temperatures() {
    let run = planned();
    let text = run.again().arg("next").succeeds();
    for words in [
        "load-1, planned for 2026-11-16                                    11 loads to do\n",
        "Skerry 400 at 400 · recipe skerry-400-autumn · WYVR-198K\n",
        "  bottom    1  A-12  120  Skerry 400 at 400, shot 2026-10-05\n",
        "  top       5  A-23  120  Skerry 400 at 400, shot 2026-10-08\n",
        "from autumn-stop-a\n",
        "from autumn-fix-a\n",
        // The band of the recipe and the ends of its chart are 18 and 24 °C.
        "18 °C (64.4 °F) to 24 °C (75.2 °F)",
        "wetside card --at TEMPERATURE\n",
    ] {
        assert!(text.contains(words), "{words}\n{text}");
    }
    let schema: Value = serde_json::from_str(include_str!("../grammar/next.schema.json")).unwrap();
    let json: Value = serde_json::from_str(&run.again().args(["next", "--as", "json"]).succeeds()).unwrap();
    jsonschema::validate(&schema, &json).unwrap();
    assert_eq!((&json["load"]["lowest_c"], &json["load"]["highest_c"]), (&18.into(), &24.into()));
    assert_eq!(json["load"]["slots"][4]["label"], "A-23");
    assert_eq!(json["to_do"], 11);
}

#[test]
fn without_a_plan_there_is_no_next_load() {
    let (_, told) = autumn().arg("next").fails(2);
    assert!(told.contains("no load is planned here") && told.contains("-o loads.wet"), "{told}");
    let json: Value = serde_json::from_str(&autumn().args(["next", "--as", "json"]).succeeds()).unwrap();
    let schema: Value = serde_json::from_str(include_str!("../grammar/next.schema.json")).unwrap();
    jsonschema::validate(&schema, &json).unwrap();
    assert_eq!((json["to_do"].as_u64(), json.get("load")), (Some(0), None));
}

#[test]
fn a_withdrawn_load_is_skipped() {
    let run = planned();
    let told = run.again().args(["record", "--undo", "load-1", "--because", "the rolls are lent"]).succeeds();
    assert!(told.contains("retract load-1 because \"the rolls are lent\"\n"), "{told}");
    assert!(run.again().arg("next").succeeds().starts_with("load-2, "));
    let (_, told) = run.again().args(["card", "load-1", "--at", "21"]).fails(2);
    assert!(told.contains("'load-1' was done, or is withdrawn"), "{told}");
}

/// A plan that is made again replaces its own file, and its loads get numbers that no session has.
#[test]
fn a_plan_made_again_takes_new_numbers() {
    let run = planned();
    run.again().args(["card", "--at", "21.5", "--date", "2026-11-16"]).succeeds();
    run.again().arg("record").succeeds();
    let again = || {
        run.again().args(["plan", "estuary-autumn", "--at", "20.5C", "--on", "2026-11-23", "-o", "loads.wet"])
    };
    assert!(again().fails(2).1.contains("add --replace"));
    again().arg("--replace").succeeds();
    let text = file(&run, "loads.wet");
    assert!(text.contains("\nsession load-2 {") && !text.contains("session load-1 {"), "{text}");
    assert!(run.again().arg("next").succeeds().starts_with("load-2, planned for 2026-11-23"));
    run.again().args(["check", "--fail-on", "advice"]).succeeds();
}

#[test]
fn two_plans_of_one_backlog_contradict_each_other() {
    let run = planned();
    let other = ["plan", "estuary-autumn", "--at", "20.5C", "--on", "2026-11-16", "-o", "other.wet"];
    run.again().args(other).succeeds();
    assert!(file(&run, "other.wet").contains("session load-12 {"));
    let (out, told) = run.again().arg("check").fails(1);
    assert!((out + &told).contains("error[planned-twice]: the roll 'A-12' is already planned, in 'load-1'"));
    run.again().arg("next").fails(1);
}

/// A journal is a folder, or the file of an older journal. A plan is neither.
#[test]
fn a_plan_is_no_journal() {
    let run = without_bottles();
    run.again().args(["card", "--at", "21.5"]).succeeds();
    run.again().arg("record").succeeds();
    assert_eq!(names(&run.folder().join("journal")).len(), 1);
    assert!(!run.folder().join("loads").exists());
}

#[test]
fn a_plan_is_written_where_its_files_can_be_used() {
    let run = without_bottles().file("lists/old.txt", "");
    let away = ["plan", "autumn", "--tank", "tall-five", "--at", "21C", "-o", "lists/loads.wet"];
    let (_, told) = run.args(away).fails(2);
    let told = told.lines().map(|line| line.trim_matches([' ', '|'])).collect::<Vec<_>>().join(" ");
    assert!(told.contains("cannot use the backlog and the bottles of this plan"), "{told}");
}

//! A season from its plan to its journal: three loads, a roll that turned out to be another, and two branches.

use std::process::Command;

use super::{file, planned};
use crate::program::Run;

#[expect(clippy::print_stderr, reason = "a skipped test is reported")]
fn skipped() {
    eprintln!("skipped: there is no git to merge branches with");
}

/// The stop bath is used up after the first load, as the plan says, so the crew mixes another.
fn with_another_stop(run: Run) -> Run {
    let text = file(&run, "darkroom.wet");
    let old = "    volume    2.5 l\n    mixed     2026-11-02\n}\n";
    let gone = text.replacen(old, &old.replace("}\n", "    discarded 2026-11-23\n}\n"), 1);
    let new = "\nbath autumn-stop-b \"Stop, bottle B\" {\n    in        autumn-stop 1+19\n    volume    2.5 l\n    mixed     2026-11-23\n}\n";
    run.file("recipes/estuary-autumn/darkroom.wet", gone + new)
}

/// Makes the card of a load and records it, and returns what `record` prints.
fn evening(run: &Run, card: &[&str], record: &[&str]) -> String {
    let call = card.iter().fold(run.again().arg("card"), |run, word| run.arg(*word));
    call.succeeds();
    record.iter().fold(run.again().arg("record"), |run, word| run.arg(*word)).succeeds()
}

#[test]
fn a_season_from_its_plan_to_its_journal() {
    if Command::new("git").arg("--version").output().is_err() {
        return skipped();
    }
    let run = planned();
    std::fs::remove_dir_all(run.folder().join(".git")).unwrap();
    let folder = run.folder().to_owned();
    let git = |args: &[&str]| {
        let mut call = Command::new("git");
        call.args(["-c", "user.name=n", "-c", "user.email=n@invalid", "-c", "init.defaultBranch=main"]);
        let output = call.args(args).current_dir(&folder).output().unwrap();
        assert!(output.status.success(), "{args:?}: {output:?}");
    };
    let commit = |words: &str| {
        git(&["add", "-A"]);
        git(&["commit", "--quiet", "-m", words]);
    };
    git(&["init", "--quiet"]);
    commit("the autumn and its plan");
    let plan = file(&run, "loads.wet");

    let told = evening(&run, &["--at", "21.5", "--date", "2026-11-16"], &[]);
    assert!(told.contains("    date      2026-11-16\n    planned-as load-1\n"), "{told}");
    assert!(
        told.contains("    at        21.5 C\n") && told.contains("    bath      autumn-stop-a\n"),
        "{told}"
    );
    let run = with_another_stop(run);
    commit("load 1, and a new stop bath");

    // One branch does the second load. The roll in its fifth slot turns out to be A-36.
    git(&["checkout", "--quiet", "-b", "cellar"]);
    assert!(run.again().arg("next").succeeds().starts_with("load-2, planned for 2026-11-23"));
    let told =
        evening(&run, &["--at", "22", "--date", "2026-11-23"], &["--label", "A-17,A-21,A-24,A-28,A-36"]);
    assert!(
        told.contains("    planned-as load-2\n") && told.contains("    slot      5 \"A-36\" 120\n"),
        "{told}"
    );
    assert!(!told.contains("doubt"), "{told}");
    commit("load 2");

    // The other branch, which does not know of it, does the third.
    git(&["checkout", "--quiet", "main"]);
    let told =
        evening(&run, &["load-3", "--at", "20,5C", "--date", "2026-11-30"], &["--note", "fixer smells"]);
    assert!(
        told.contains("    planned-as load-3\n") && told.contains("    note      \"fixer smells\"\n"),
        "{told}"
    );
    commit("load 3");
    git(&["merge", "--quiet", "--no-edit", "cellar"]);

    assert_eq!(file(&run, "loads.wet"), plan, "the plan's file is not changed");
    counts(&run);
    goes_on(&run);
}

/// What the bottles have treated after three loads.
fn counts(run: &Run) {
    run.again().args(["check", "--fail-on", "warning"]).succeeds();
    // By hand: 14 + 5 + 5 of 25 rolls in bottle A, 8 + 4 in bottle B; 22 + 5 of 30 in the old stop bath, 5 + 4 in the new.
    let table = run.again().args(["baths", "--all", "--on", "2026-11-30"]).succeeds();
    for (bottle, treated) in [
        ("autumn-fix-a", "24 of 25"),
        ("autumn-fix-b", "12 of 25"),
        ("autumn-stop-a", "27 of 30"),
        ("autumn-stop-b", "9 of 30"),
    ] {
        let line = table.lines().find(|line| line.starts_with(bottle));
        assert!(line.is_some_and(|line| line.contains(treated)), "{bottle} {treated}: {table}");
    }
}

/// The plan goes on with what is left.
fn goes_on(run: &Run) {
    // 50 rolls waited; three loads had 5, 5 and 4.
    let plan = run.again().args(["plan", "estuary-autumn", "--at", "21C", "--on", "2026-12-07"]).ends().1;
    assert!(plan.contains("36 of 72 rolls developed, 36 left"), "{plan}");
    assert!(run.again().arg("next").succeeds().starts_with("load-4, planned for 2026-12-07"));

    // The roll that was taken in place of another is still in a later load of the plan: its card is refused.
    let later = plan_with(run, "A-36");
    let (_, told) = run.again().args(["card", &later, "--at", "21", "--date", "2026-12-14"]).fails(1);
    assert!(told.contains("A-36 was developed on 2026-11-23"), "{told}");
    // The roll that did not come up is in no load any more; a card by its label has its recipe and the tank.
    let card = run
        .again()
        .args(["card", "A-32", "--at", "21", "--bath", "autumn-fix-b", "--date", "2026-12-07"])
        .succeeds();
    assert!(card.starts_with("Tideline 100 at 100") && card.contains("The crew's five-reel tank"), "{card}");
}

/// The name of the planned session with this label.
fn plan_with(run: &Run, label: &str) -> String {
    let text = file(run, "loads.wet");
    let session = text.split("\nsession ").find(|session| session.contains(&format!("\"{label}\""))).unwrap();
    session.split(' ').next().unwrap().to_owned()
}

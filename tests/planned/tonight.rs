//! The card made last, in the hidden folder `.tonight` beside the journal.

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::thread;
use std::time::Duration;

use serde_json::Value;

use super::{autumn, planned, without_bottles};
use crate::program::Run;
use crate::writers::names;

/// A change of the card made last.
type Change<'a> = &'a dyn Fn(&mut Value);

fn kept(run: &Run, folder: &str) -> PathBuf {
    run.folder().join(folder).join(".tonight/card.json")
}

/// Changes the card made last.
fn change(run: &Run, change: impl Fn(&mut Value)) {
    let path = kept(run, "");
    let mut card: Value = serde_json::from_str(&fs::read_to_string(&path).unwrap()).unwrap();
    change(&mut card);
    fs::write(path, card.to_string()).unwrap();
}

#[test]
fn a_card_is_kept_beside_the_journal_and_out_of_git() {
    let run = autumn().below("");
    let call = ["card", "A-12,A-16", "--at", "21", "--bath", "autumn-fix-b", "--date", "2026-11-16"];
    run.again().args(call).succeeds();
    let folder = run.folder().join("recipes/estuary-autumn/.tonight");
    assert_eq!(names(&folder), [".gitignore", "card.json"]);
    assert_eq!(fs::read_to_string(folder.join(".gitignore")).unwrap(), "*\n");
    assert!(run.again().arg("record").succeeds().contains("recorded in recipes/estuary-autumn/journal/"));
    // From below the folder it is the same card.
    let told = run.again().below("recipes/estuary-autumn/journal").arg("record").fails(2).1;
    assert!(told.contains("recorded already"), "{told}");
}

/// The day is that on which the card began: the film hangs after midnight.
#[test]
fn record_dates_by_the_start_of_the_card() {
    let run = without_bottles();
    run.again().args(["card", "--at", "21.5", "--date", "2026-11-16"]).succeeds();
    assert!(run.again().arg("record").succeeds().contains("    date      2026-11-16\n"));
    // A card that was made yesterday, a few hours ago.
    let run = without_bottles();
    run.again().args(["card", "--at", "21.5"]).succeeds();
    change(&run, |card| card["date"] = "2026-11-15".into());
    assert!(run.again().arg("record").succeeds().contains("    date      2026-11-15\n"));
}

#[test]
fn a_card_is_recorded_once() {
    let run = without_bottles();
    let (_, told) = run.again().arg("record").fails(2);
    assert!(told.contains("no card was made here"), "{told}");
    run.again().args(["card", "--at", "21.5"]).succeeds();
    run.again().arg("record").succeeds();
    for command in ["record", "follow"] {
        let (_, told) = run.again().arg(command).fails(2);
        assert!(told.contains("the card made last is recorded already"), "{told}");
    }
    let (_, told) = run.again().args(["card", "--at", "21.5"]).fails(2);
    assert!(told.contains("all 1 planned loads are done"), "{told}");
}

#[test]
fn an_old_card_and_a_broken_one_are_said_and_not_used() {
    let made = || {
        let run = without_bottles();
        run.again().args(["card", "--at", "21.5"]).succeeds();
        run
    };
    let run = made();
    change(&run, |card| {
        let two_days = 2 * 24 * 3600;
        card["made"] = (card["made"].as_u64().unwrap() - two_days).into();
        card["date"] = "2026-11-28".into();
    });
    let (_, told) = run.again().arg("record").fails(2);
    assert!(
        told.contains("the card made last is old: it is for 2026-11-28")
            && told.contains("--date 2026-11-28"),
        "{told}"
    );
    assert!(run.again().args(["record", "--date", "2026-11-28"]).succeeds().contains("date      2026-11-28"));

    let changes: [(Change<'_>, &str); 4] = [
        (&|card| card["version"] = 99.into(), "another version, or in another folder"),
        (&|card| card["folder"] = "/elsewhere".into(), "another version, or in another folder"),
        (&|card| card["words"] = Value::from(vec!["--no-such-option"]), "its call cannot be read"),
        (&|card| card["date"] = "the day before".into(), "its day cannot be read"),
    ];
    for (how, words) in changes {
        let run = made();
        change(&run, how);
        let (_, told) = run.again().arg("follow").fails(2);
        let told = told.lines().map(|line| line.trim_matches([' ', '|'])).collect::<Vec<_>>().join(" ");
        assert!(told.contains(".tonight/card.json cannot be used") && told.contains(words), "{told}");
        assert!(told.contains("wetside card --at 21.5"), "{told}");
    }
    let run = made();
    fs::write(kept(&run, ""), "{").unwrap();
    let (_, told) = run.again().arg("record").fails(2);
    assert!(told.contains("it is not a card that this version made"), "{told}");
}

#[test]
fn a_card_of_a_recipe_that_changed_is_not_followed() {
    let run = without_bottles();
    run.again().args(["card", "--at", "21.5"]).succeeds();
    let path = run.folder().join("recipes/estuary-400-mq.wet");
    let text = fs::read_to_string(&path).unwrap();
    fs::write(&path, text.replacen("10:00", "10:05", 1)).unwrap();
    let (_, told) = run.again().arg("follow").fails(2);
    assert!(told.contains("the recipe has changed since the card of"), "{told}");
    // What was done is recorded: with the fingerprint of the card, and with a doubt.
    let told = run.again().arg("record").succeeds();
    assert!(
        told.contains("fingerprint \"W7KXXET1")
            && told.contains("recorded, with a doubt: the recipe has changed"),
        "{told}"
    );
}

/// A link in a downloaded folder must not make the program write elsewhere.
#[cfg(unix)]
#[test]
fn a_card_is_not_kept_through_a_link() {
    let run = without_bottles().file("away/card.json", "mine");
    std::os::unix::fs::symlink(run.folder().join("away"), run.folder().join(".tonight")).unwrap();
    let (status, card, told) = run.again().args(["card", "--at", "21.5"]).ends();
    assert!(status == 0 && card.contains("TOTAL "), "{card}");
    assert!(told.contains("will not know this card") && told.contains("is not a folder"), "{told}");
    assert_eq!(fs::read_to_string(run.folder().join("away/card.json")).unwrap(), "mine");
}

#[test]
fn follow_and_record_take_what_is_stated_in_place_of_the_card() {
    let run = planned();
    run.again().args(["card", "--at", "21.5", "--date", "2026-11-16"]).succeeds();
    let told = run.again().args(["record", "--at", "22", "--note", "warmer than the card"]).succeeds();
    assert!(told.contains("    at        22 C\n") && told.contains("planned-as load-1"), "{told}");
}

const FOLLOWED: [&str; 8] =
    ["follow", "estuary-400-mq", "--at", "21.5C", "--rolls", "5x120", "--tank", "tall-five"];

/// A recipe that `follow` names makes a card too.
#[test]
fn a_followed_recipe_is_the_card_made_last() {
    let run = Run::new().folder_of_repo("recipes");
    let mut call = Command::new(env!("CARGO_BIN_EXE_wetside"));
    call.args(FOLLOWED).current_dir(run.folder()).stdin(Stdio::null()).stdout(Stdio::null());
    let mut child = call.spawn().unwrap();
    let card = run.folder().join(".tonight/card.json");
    let is_kept = || {
        (0..1000).any(|_| {
            card.exists() || {
                thread::sleep(Duration::from_millis(20));
                false
            }
        })
    };
    let was_kept = is_kept();
    child.kill().unwrap();
    child.wait().unwrap();
    assert!(was_kept);
    let told = run.again().arg("record").succeeds();
    assert!(told.contains("recipe    estuary-400-mq,") && told.contains("slot      5 120"), "{told}");
}

/// A dry run is not the evening: the card made last stays.
#[test]
fn a_dry_run_does_not_replace_the_card_made_last() {
    let run = Run::new().folder_of_repo("recipes");
    let other = ["card", "saltmarsh-100-two-bath", "--at", "19C", "--rolls", "5x120", "--tank", "tall-five"];
    run.again().args(other).succeeds();
    run.again().args(FOLLOWED).args(["--speed", "10000"]).succeeds();
    let told = run.again().arg("record").succeeds();
    assert!(told.contains("recipe    saltmarsh-100-two-bath,"), "{told}");
}

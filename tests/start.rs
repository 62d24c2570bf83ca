//! `start`: the files it writes have no errors, the commands it suggests work, and it refuses a folder that is not
//! empty.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use crate::program::Run;

/// The texts of a folder's files, by name.
fn files(folder: &Path) -> BTreeMap<String, String> {
    let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let name = |path: &Path| path.file_name().unwrap().to_str().unwrap().to_owned();
    entries.map(|path| (name(&path), fs::read_to_string(&path).unwrap())).collect()
}

/// A run in a new folder `shelf`, and the output of `start`.
fn started() -> (Run, String) {
    let run = Run::new().args(["start", "shelf"]);
    let said = run.succeeds();
    (run.again().below("shelf"), said)
}

/// Requires a refusal with this message that leaves nothing behind.
#[track_caller]
fn refused(run: &Run, said: &str) {
    let before = fs::read_dir(run.folder()).unwrap().count();
    let (stdout, stderr) = run.fails(2);
    assert_eq!(stdout, "");
    let flat = stderr.split_whitespace().collect::<Vec<_>>().join(" ").replace(" │ ", " ");
    assert!(flat.contains(said), "{run} does not say {said:?}:\n{stderr}");
    assert_eq!(fs::read_dir(run.folder()).unwrap().count(), before, "something was left behind");
}

#[test]
fn the_new_folder_has_everything_a_darkroom_needs() {
    let (run, said) = started();
    let files = files(&run.folder().join("shelf"));
    let declares = |word: &str| {
        let lines = files.values().flat_map(|text| text.lines());
        lines.filter(|line| line.starts_with(&format!("{word} "))).count()
    };
    let counts = ["film", "recipe", "tank", "bath", "test", "backlog", "session"].map(declares);
    assert_eq!(counts, [1, 1, 1, 2, 1, 1, 0]);
    assert_eq!(files["backlog.wet"].matches("\n    roll ").count(), 11);
    for (name, text) in &files {
        assert!(text.starts_with("# "), "{name} does not begin with a comment");
        assert!(said.contains(&format!("\n  {name}\n")), "{name} is not in the output: {said}");
    }
}

#[test]
fn the_new_files_have_no_errors_no_warnings_and_the_standard_layout() {
    let (run, _) = started();
    let run = run.args(["check", "--fail-on", "warning"]);
    assert_eq!(run.succeeds(), "nothing to fix in 5 files\n");
    let run = run.again().args(["tidy", "--dry"]);
    assert!(run.succeeds().starts_with("nothing to tidy"));
}

/// The last command is `record`, after which two of the eleven rolls are developed.
#[test]
fn every_suggested_command_works_in_the_new_folder() {
    let (mut run, said) = started();
    let calls: Vec<&str> = said.lines().filter_map(|line| line.strip_prefix("  wetside ")).collect();
    let words: Vec<&str> = calls.iter().map(|call| call.split(' ').next().unwrap()).collect();
    assert_eq!(words, ["check", "card", "record"]);
    let mut told = Vec::new();
    for call in calls {
        run = call.split(' ').fold(run.again(), |run, argument| run.arg(argument));
        told.push(run.succeeds());
    }
    assert!(told[1].contains("\nTOTAL "), "{}", told[1]);
    assert!(told[2].contains("    slot      2 \"J-02\" 120\n    bath      stop-a\n"), "{}", told[2]);
    assert!(told[2].ends_with(" (9 of 11 rolls)\n"), "{}", told[2]);
    let run = run.again().args(["check", "--fail-on", "warning"]);
    assert_eq!(run.succeeds(), "nothing to fix in 6 files\n");
}

/// Other journals are below the same root, and the new folder has none.
#[test]
fn every_suggested_command_works_in_a_clone_with_other_journals() {
    let run = Run::new().folders_of_repo("recipes").file(".git/HEAD", "");
    let run = run.args(["start", "shelf"]);
    let said = run.succeeds();
    let mut run = run.again().below("shelf");
    for call in said.lines().filter_map(|line| line.strip_prefix("  wetside ")) {
        run = call.split(' ').fold(run.again(), |run, argument| run.arg(argument));
        run.succeeds();
    }
    assert_eq!(fs::read_dir(run.folder().join("shelf/journal")).unwrap().count(), 1);
}

/// By hand: 21 C is halfway between 8:00 at 20 C and 6:45 at 22 C, so the time is their geometric mean:
/// √(480 s · 405 s) = 440.9 s, which is 7:21.
#[test]
fn the_card_of_the_new_recipe_has_the_time_worked_by_hand() {
    let (run, _) = started();
    let run = run.args(["card", "jetty-400-first", "--at", "21C", "--rolls", "2x120", "--tank", "two-reel"]);
    let card = run.succeeds();
    assert!(card.contains("\nDEVELOP 7:21 --"), "{card}");
}

#[test]
fn start_writes_the_same_bytes_every_time() {
    let ((one, first), (two, second)) = (started(), started());
    assert_eq!(first, second);
    assert_eq!(files(&one.folder().join("shelf")), files(&two.folder().join("shelf")));
}

#[test]
fn start_fills_an_empty_folder() {
    let run = Run::new().args(["start", "shelf/"]);
    fs::create_dir(run.folder().join("shelf")).unwrap();
    run.succeeds();
    assert_eq!(files(&run.folder().join("shelf")).len(), 5);
    assert_eq!(fs::read_dir(run.folder()).unwrap().count(), 1, "something was left beside it");
}

#[test]
fn a_folder_that_is_not_empty_is_refused() {
    let run = Run::new().file("shelf/.hidden", "mine").args(["start", "shelf"]);
    refused(&run, "the folder shelf is not empty");
    assert_eq!(files(&run.folder().join("shelf")), BTreeMap::from([(".hidden".into(), "mine".into())]));
    // A second call finds the files of the first.
    let (run, _) = started();
    let run = run.below("").args(["start", "shelf"]);
    refused(&run, "the folder shelf is not empty");
}

#[test]
fn a_file_with_the_name_of_the_folder_is_refused() {
    let run = Run::new().file("shelf", "mine").args(["start", "shelf"]);
    refused(&run, "shelf exists and is not a folder");
    assert_eq!(fs::read_to_string(run.folder().join("shelf")).unwrap(), "mine");
}

#[test]
fn the_current_folder_is_refused() {
    refused(&Run::new().args(["start", "."]), ". is the current folder");
}

#[test]
fn a_path_that_cannot_be_created_is_refused() {
    refused(&Run::new().args(["start", "no/such/shelf"]), "the folder no/such/shelf could not be made: ");
    refused(&Run::new().file("file", "").args(["start", "file/shelf"]), "file/shelf could not be made: ");
    refused(&Run::new().args(["start", "gone/.."]), "the folder gone/.. could not be made: ");
    refused(&Run::new().args(["start", ""]), "a value is required");
}

#[cfg(unix)]
#[test]
fn a_dangling_link_is_refused_and_a_link_to_an_empty_folder_is_followed() {
    let run = Run::new().args(["start", "link"]);
    let link = run.folder().join("link");
    std::os::unix::fs::symlink("shelf", &link).unwrap();
    refused(&run, "the folder link could not be made: ");
    fs::create_dir(run.folder().join("shelf")).unwrap();
    run.succeeds();
    assert_eq!(files(&run.folder().join("shelf")).len(), 5);
    assert!(link.symlink_metadata().unwrap().is_symlink());
}

#[cfg(unix)]
#[test]
fn no_folder_name_controls_the_terminal() {
    let hostile = "sh\u{1b}[31melf\n";
    let run = Run::new().args(["start", hostile]);
    let said = run.succeeds();
    assert!(!said.contains('\u{1b}') && said.starts_with("made sh"), "{said:?}");
    assert!(said.lines().next().unwrap().ends_with("in the order to read them:"), "{said:?}");
    let (_, stderr) = run.fails(2);
    assert!(!stderr.contains('\u{1b}') && stderr.contains("is not empty"), "{stderr:?}");
}

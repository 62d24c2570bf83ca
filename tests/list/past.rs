//! `find` and `history` in a repository of git. Without git there is nothing to look into.

use std::path::Path;
use std::process::Command;

use serde_json::Value;

use super::{MINE, list, root, words};
use crate::program::Run;

fn git(folder: &Path, args: &[&str]) -> Option<String> {
    let mut call = Command::new("git");
    call.args(["-c", "user.name=n", "-c", "user.email=n@invalid", "-c", "init.defaultBranch=main"]);
    call.env("GIT_AUTHOR_DATE", "2026-11-20T20:00:00Z").env("GIT_COMMITTER_DATE", "2026-11-20T20:00:00Z");
    let output = call.args(args).current_dir(folder).output().ok()?;
    assert!(output.status.success(), "{args:?}: {output:?}");
    Some(String::from_utf8(output.stdout).unwrap().trim().to_owned())
}

fn commit(run: &Run, subject: &str) {
    git(run.folder(), &["add", "-A"]).unwrap();
    git(run.folder(), &["commit", "--quiet", "-m", subject]).unwrap();
}

/// The root folder of `list`, in a repository with these versions of `mine.wet` and `bench.wet`, one commit for each.
fn repository() -> Option<Run> {
    let path = std::env::var("PATH").unwrap_or_default();
    let run = root().env("PATH", &path);
    std::fs::remove_dir_all(run.folder().join(".git")).unwrap();
    git(run.folder(), &["init", "--quiet"])?;
    commit(&run, "The first recipes");
    let run = run.file("mine.wet", MINE.replace("9:00", "8:30"));
    commit(&run, "Shorter by half a minute");
    let run = run.file("mine.wet", MINE.replace("9:00", "8:30").replace("with a stop", "by hand"));
    commit(&run, "A better title");
    let bench = std::fs::read_to_string(run.folder().join("bench.wet")).unwrap();
    let run = run.file("bench.wet", bench.replace("50 s in house-fix", "55 s in house-fix"));
    commit(&run, "The film clears later");
    Some(run)
}

fn mark(run: &Run, name: &str) -> String {
    let text = list(run, []);
    words(&text).into_iter().find(|words| words[0] == name).unwrap()[1].to_owned()
}

/// The days and hashes are the machine's: without them, the lines that begin at the left.
fn heads(text: &str) -> Vec<String> {
    let heads = text.lines().filter(|line| !line.starts_with(' '));
    heads.map(|line| line.split_whitespace().skip(3).collect::<Vec<_>>().join(" ")).collect()
}

#[test]
fn a_history_has_the_commits_that_changed_the_work() {
    let Some(run) = repository() else { return };
    let text = run.again().args(["history", "ferry"]).succeeds();
    assert_eq!(heads(&text), ["The film clears later", "Shorter by half a minute", "The first recipes"]);
    assert!(text.starts_with("2026-11-20  "), "{text}");
    assert!(text.contains(&mark(&run, "ferry")), "{text}");
    assert!(text.contains("9:00 → 8:30") && text.contains("0:50"), "{text}");
    assert!(text.ends_with("  added\n"), "{text}");
    // The title of another recipe, and its times, are not the club's: its work never changed.
    let text = run.again().args(["history", "jetty"]).succeeds();
    assert_eq!(heads(&text), ["The first recipes"]);
    // From a folder below, and by the file.
    let below = run.again().below("below").args(["history", "../mine.wet", "jetty"]).succeeds();
    assert_eq!(below, text);
}

#[test]
fn a_history_follows_a_recipe_into_another_file_and_shows_what_is_not_committed() {
    let Some(run) = repository() else { return };
    git(run.folder(), &["mv", "mine.wet", "films.wet"]).unwrap();
    commit(&run, "A better name");
    let text = run.again().args(["history", "ferry"]).succeeds();
    assert_eq!(heads(&text).len(), 3, "{text}");
    let run = run.file("films.wet", MINE.replace("9:00", "8:15"));
    let text = run.again().args(["history", "ferry"]).succeeds();
    assert!(text.starts_with("now ") && text.contains("8:30 → 8:15"), "{text}");
    // An error is between two sound versions.
    let run = run.file("films.wet", MINE.replace("9:00", "9 parsecs"));
    commit(&run, "A slip");
    let run = run.file("films.wet", MINE);
    commit(&run, "The slip is mended");
    let text = run.again().args(["history", "ferry"]).succeeds();
    assert_eq!(heads(&text)[..2], ["The slip is mended", "A slip"]);
    assert!(text.contains("  had errors before\n") && text.contains("  has errors since\n"), "{text}");
}

#[test]
fn a_history_for_programs_matches_its_schema() {
    let Some(run) = repository() else { return };
    let text = run.again().args(["history", "ferry", "--as", "json"]).succeeds();
    let json: Value = serde_json::from_str(&text).unwrap();
    let schema: Value = serde_json::from_str(include_str!("../../grammar/history.schema.json")).unwrap();
    jsonschema::validate(&schema, &json).unwrap();
    assert_eq!(json["changes"].as_array().unwrap().len(), 3);
    assert_eq!(json["changes"][1]["differences"][0]["old"]["ms"], 540_000);
    assert_eq!(json["changes"][2]["fate"], "added");
    let head = git(run.folder(), &["rev-parse", "HEAD"]).unwrap();
    assert_eq!(json["changes"][0]["commit"], head.as_str());
}

#[test]
fn a_fingerprint_of_the_past_is_found_in_the_newest_commit_that_has_it() {
    let Some(run) = repository() else { return };
    let now = mark(&run, "ferry");
    let first = mark(&root(), "ferry");
    let text = run.again().args(["find", &first]).succeeds();
    let found = words(&text);
    assert_eq!(found.len(), 1, "{text}");
    assert_eq!(found[0][..3], ["commit", "ferry", first.as_str()]);
    let hash = git(run.folder(), &["rev-parse", "HEAD~3"]).unwrap();
    assert_eq!(found[0][3..], [&hash[..10], "2026-11-20", "mine.wet", "The", "first", "recipes"]);
    let text = run.again().args(["find", &first, "--as", "json"]).succeeds();
    let json: Value = serde_json::from_str(&text).unwrap();
    let schema: Value = serde_json::from_str(include_str!("../../grammar/list.schema.json")).unwrap();
    jsonschema::validate(&schema, &json).unwrap();
    assert_eq!(json["things"][0]["commit"], hash.as_str());
    // The work that a change of the film in another file ended is in the commit before.
    let changed = root().file("mine.wet", MINE.replace("9:00", "8:30"));
    let text = run.again().args(["find", &mark(&changed, "ferry")]).succeeds();
    assert!(text.contains("A better title"), "{text}");
    // What a recipe has now is not looked for in the past.
    assert!(run.again().args(["find", &now]).succeeds().starts_with("recipe"));
    let (text, _) = run.again().args(["find", "W0000-0000"]).fails(1);
    assert_eq!(text, "nothing has this fingerprint, now or in any commit\n");
}

/// A repository's settings can name programs to run.
#[cfg(unix)]
#[test]
fn nothing_of_the_repository_runs() {
    use std::os::unix::fs::PermissionsExt as _;
    let Some(run) = repository() else { return };
    let (program, ran) = (run.folder().join("evil"), run.folder().join("ran"));
    std::fs::write(&program, format!("#!/bin/sh\ntouch {}\n", ran.display())).unwrap();
    std::fs::set_permissions(&program, std::fs::Permissions::from_mode(0o755)).unwrap();
    let evil = program.to_str().unwrap();
    for key in ["core.fsmonitor", "core.pager", "diff.external", "gpg.program", "diff.evil.textconv"] {
        git(run.folder(), &["config", key, evil]).unwrap();
    }
    git(run.folder(), &["config", "log.showSignature", "true"]).unwrap();
    let run = run.file(".gitattributes", "*.wet diff=evil\n");
    run.again().args(["history", "ferry"]).succeeds();
    run.again().args(["find", "W0000-0000"]).fails(1);
    assert!(!ran.exists());
}

#[test]
fn a_recipe_outside_of_a_repository_has_no_history() {
    let run = root();
    let (_, error) = run.again().args(["history", "ferry"]).fails(2);
    assert!(error.contains("in no repository of git"), "{error}");
}

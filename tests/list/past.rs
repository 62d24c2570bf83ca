//! `find` and `history` in a repository of git. Without git there is nothing to look into.

use std::path::{Path, PathBuf};
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

/// A card may be older than the rule that finds its recipe wrong.
#[test]
fn a_recipe_that_only_a_rule_finds_wrong_is_found_in_the_past() {
    let Some(run) = repository() else { return };
    let early = "wetside 2\nuse \"bench.wet\"\nrecipe early {\n    allow fix-before-develop because \"by test\"\n    fix {\n        in house-fix 1+4, one-shot\n        time 4:00\n        agitate continuous\n    }\n    develop {\n        in house-dev 1+3, one-shot\n        time 9:00\n        between 18 C and 22 C\n        agitate continuous\n    }\n}\n";
    let run = run.file("early.wet", early);
    let fingerprint = mark(&run, "early");
    let run = run.file("early.wet", early.replace("    allow fix-before-develop because \"by test\"\n", ""));
    commit(&run, "Without a reason");
    std::fs::remove_file(run.folder().join("early.wet")).unwrap();
    let text = run.again().args(["find", &fingerprint]).succeeds();
    assert!(text.starts_with("commit  early  "), "{text}");
}

/// The marks of past commits, in git's folder.
fn marks(run: &Run) -> Vec<PathBuf> {
    let folders = std::fs::read_dir(run.folder().join(".git/wetside")).unwrap();
    let files = folders.flat_map(|folder| std::fs::read_dir(folder.unwrap().path()).unwrap());
    files.map(|file| file.unwrap().path()).collect()
}

#[test]
fn marks_that_are_cut_or_changed_change_no_answer() {
    let Some(run) = repository() else { return };
    let first = mark(&root(), "ferry");
    let answer = run.again().args(["find", &first]).succeeds();
    let nothing = "nothing has this fingerprint, now or in any commit\n";
    let ask = |how: &str| {
        assert_eq!(run.again().args(["find", &first]).succeeds(), answer, "{how}");
        assert_eq!(run.again().args(["find", "W0000-0000"]).fails(1).0, nothing, "{how}");
    };
    ask("with marks");
    // One file for each of the four commits.
    let kept: Vec<(PathBuf, Vec<u8>)> =
        marks(&run).into_iter().map(|path| (path.clone(), std::fs::read(&path).unwrap())).collect();
    assert_eq!(kept.len(), 4, "{kept:?}");
    type Change = fn(&[u8]) -> Vec<u8>;
    let changes: [(&str, Change); 6] = [
        ("empty", |_| Vec::new()),
        ("cut", |bytes| bytes[..bytes.len() / 2].to_vec()),
        ("without its last byte", |bytes| bytes[..bytes.len() - 1].to_vec()),
        ("without its first line", |bytes| {
            bytes.split_inclusive(|byte| *byte == b'\n').skip(1).collect::<Vec<_>>().concat()
        }),
        ("no text", |bytes| vec![0xff; bytes.len()]),
        ("another digit", |bytes| {
            bytes.iter().map(|byte| if *byte == b'W' { b'X' } else { *byte }).collect()
        }),
    ];
    for (how, change) in changes {
        kept.iter().for_each(|(path, bytes)| std::fs::write(path, change(bytes)).unwrap());
        ask(how);
        kept.iter().for_each(|(path, bytes)| assert!(std::fs::read(path).unwrap() == *bytes, "{how}"));
    }
    // Each file has the marks of another commit.
    for ((path, _), (_, other)) in kept.iter().zip(kept.iter().cycle().skip(1)) {
        std::fs::write(path, other).unwrap();
    }
    ask("exchanged");
    std::fs::remove_dir_all(run.folder().join(".git/wetside")).unwrap();
    ask("deleted");
    // Something else is where the marks are kept.
    for (path, _) in &kept {
        std::fs::remove_file(path).unwrap();
        std::fs::create_dir(path).unwrap();
    }
    ask("folders");
    std::fs::remove_dir_all(run.folder().join(".git/wetside")).unwrap();
    std::fs::write(run.folder().join(".git/wetside"), "a file").unwrap();
    ask("a file");
}

/// Marks with a right sum that name a file without the recipe.
#[test]
fn marks_are_looked_up_before_they_are_believed() {
    use sha2::{Digest as _, Sha256};
    let Some(run) = repository() else { return };
    let first = mark(&root(), "ferry");
    let answer = run.again().args(["find", &first]).succeeds();
    for path in marks(&run) {
        let text = std::fs::read_to_string(&path).unwrap();
        let head = text.lines().next().unwrap();
        let body = format!("{head}\n{} bench.wet\n", first.replace('-', ""));
        let sum: String = Sha256::digest(body.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect();
        std::fs::write(&path, body + &sum).unwrap();
    }
    assert_eq!(run.again().args(["find", &first]).succeeds(), answer);
}

/// A link must not lead the marks out of git's folder, and a pipe must not be waited for.
#[cfg(unix)]
#[test]
fn marks_follow_no_link_and_wait_for_no_pipe() {
    let Some(run) = repository() else { return };
    let first = mark(&root(), "ferry");
    let answer = run.again().args(["find", &first]).succeeds();
    let files = marks(&run);
    for path in &files {
        std::fs::remove_file(path).unwrap();
        let made = Command::new("mkfifo").arg(path).status();
        assert!(made.unwrap().success());
    }
    assert_eq!(run.again().args(["find", &first]).succeeds(), answer);
    let (folder, other) = (run.folder().join(".git/wetside"), run.folder().join("other"));
    std::fs::remove_dir_all(&folder).unwrap();
    std::fs::create_dir(&other).unwrap();
    std::fs::write(other.join("kept"), "").unwrap();
    std::os::unix::fs::symlink(&other, &folder).unwrap();
    assert_eq!(run.again().args(["find", &first]).succeeds(), answer);
    assert_eq!(std::fs::read_dir(&other).unwrap().count(), 1);
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

//! A club, a teacher who builds on the club, and a photographer who adopts both, each in a repository of git.

use std::fs;
use std::path::Path;
use std::process::Command;

use super::{COLLECTION, RECIPES, tree};
use crate::program::Run;

pub(super) fn git(folder: &Path, args: &[&str]) -> Option<String> {
    let mut call = Command::new("git");
    call.args(["-c", "user.name=n", "-c", "user.email=n@invalid", "-c", "init.defaultBranch=main"]);
    let output = call.args(args).current_dir(folder).output().ok()?;
    assert!(output.status.success(), "{args:?}: {output:?}");
    Some(String::from_utf8(output.stdout).unwrap().trim().to_owned())
}

pub(super) fn committed(folder: &Path) -> Option<String> {
    if !folder.join(".git").exists() {
        git(folder, &["init", "--quiet"])?;
    }
    git(folder, &["add", "-A"])?;
    git(folder, &["commit", "--quiet", "-m", "a change"])?;
    git(folder, &["rev-parse", "HEAD"])
}

#[expect(clippy::print_stderr, reason = "a skipped test is reported")]
pub(super) fn skipped() {
    eprintln!("skipped: there is no git to adopt a repository with");
}

fn call<const N: usize>(run: &Run, folder: &str, args: [&str; N]) -> Run {
    run.again().below(folder).args(args)
}

#[test]
fn a_photographer_adopts_a_club_and_a_teacher_who_builds_on_it() {
    let path = std::env::var("PATH").unwrap_or_default();
    let run = Run::new()
        .env("PATH", &path)
        .file("club/collection.wet", COLLECTION)
        .file("club/recipes.wet", RECIPES)
        .file("teacher/.gitignore", "")
        .file("mine/mine.wet", "wetside 2\n");
    let at = |name: &str| run.folder().join(name);
    let Some(first) = committed(&at("club")) else { return skipped() };

    // The teacher adopts the club and builds a lesson on its recipe.
    git(&at("teacher"), &["init", "--quiet"]);
    call(&run, "teacher", ["adopt", "../club", "--as", "club"]).succeeds();
    let run = run
        .file(
            "teacher/lessons.wet",
            "wetside 2\n\nuse club\n\nrecipe lesson \"First lesson\" from club/usual {\n    develop {\n        time 10:00\n    }\n}\n",
        )
        .file(
            "teacher/collection.wet",
            "wetside 2\n\nuse \"lessons.wet\"\n\ncollection teacher \"Lessons\" {\n    licence \"CC0-1.0\"\n    exports recipe lesson\n}\n",
        );
    let at = |name: &str| run.folder().join(name);
    committed(&at("teacher"));

    // The photographer adopts both, and works by both.
    git(&at("mine"), &["init", "--quiet"]);
    call(&run, "mine", ["adopt", "../club", "--as", "club"]).succeeds();
    call(&run, "mine", ["adopt", "../teacher"]).succeeds();
    let lock = fs::read_to_string(at("mine/collections/club.lock")).unwrap();
    assert!(lock.contains(&format!("revision {first}\n")), "{lock}");
    // The teacher's copy of the club comes with its lock.
    assert!(at("mine/collections/teacher/collections/club.lock").is_file());
    let run = run.file(
        "mine/mine.wet",
        "wetside 2\n\nuse club\nuse teacher\n\nrecipe jetty from club/usual {\n    note \"a\"\n}\n\nrecipe school from teacher/lesson {\n    note \"a\"\n}\n",
    );
    let at = |name: &str| run.folder().join(name);
    let card = |name: &str| call(&run, "mine", ["card", name, "--at", "20C", "--rolls", "1x120"]).succeeds();
    let mark = |card: &str| card.lines().next().unwrap().rsplit(' ').next().unwrap().to_owned();
    let (jetty, school) = (card("jetty"), card("school"));
    assert!(jetty.contains("9:00") && school.contains("10:00"), "{jetty}{school}");
    let before = committed(&at("mine")).unwrap();

    // The club changes its time. Nothing of mine changes until I update.
    fs::write(at("club/recipes.wet"), RECIPES.replace("9:00", "8:30")).unwrap();
    let second = committed(&at("club")).unwrap();
    assert_eq!(card("jetty"), jetty);
    call(&run, "mine", ["adopt", "--check"]).succeeds();
    let shown = call(&run, "mine", ["adopt", "--update", "club"]).succeeds();
    assert!(shown.contains("your recipe jetty in mine.wet changes"), "{shown}");
    assert!(shown.contains(&mark(&jetty)), "the fingerprint of the old card: {shown}");
    assert!(!shown.contains("your recipe school"), "the teacher has a copy of its own: {shown}");
    let lock = fs::read_to_string(at("mine/collections/club.lock")).unwrap();
    assert!(lock.contains(&format!("revision {second}\n")), "{lock}");
    assert!(card("jetty").contains("8:30"));
    assert_eq!(card("school"), school);

    the_past_has_the_old_card(&run, &mark(&jetty), &before);
    two_branches_record_on_one_evening(&run);
    two_branches_update_and_the_lock_is_mended(&run);

    // The same revision gives the same bytes.
    let adopted = tree(&at("mine/collections/club"));
    call(&run, "mine", ["adopt", "../club", "--as", "again"]).succeeds();
    assert_eq!(tree(&at("mine/collections/again")), adopted);
}

/// The fingerprint of a card that was printed before the update leads to the commit that has its recipe.
fn the_past_has_the_old_card(run: &Run, mark: &str, commit: &str) {
    committed(&run.folder().join("mine"));
    let found = call(run, "mine", ["find", mark]).succeeds();
    let lines: Vec<Vec<&str>> = found.lines().map(|line| line.split_whitespace().collect()).collect();
    let jetty = lines.iter().find(|words| words[1] == "jetty").unwrap_or_else(|| panic!("{found}"));
    assert_eq!(jetty[..4], ["commit", "jetty", mark, &commit[..10]], "{found}");
    let file = "collections/club/recipes.wet";
    let old = format!("{commit}:{file}");
    let (said, _) = call(run, "mine", ["compare", old.as_str(), file]).fails(1);
    assert!(said.contains("9:00 → 8:30"), "{said}");
    let told = call(run, "mine", ["history", "jetty"]).succeeds();
    assert!(told.contains("9:00 → 8:30") && told.ends_with("  added\n"), "{told}");
}

fn two_branches_record_on_one_evening(run: &Run) {
    let mine = run.folder().join("mine");
    let recorded = || {
        let evening = ["record", "jetty", "--at", "20C", "--rolls", "1x120", "--date", "2026-11-16"];
        call(run, "mine", evening).succeeds();
        committed(&mine);
    };
    git(&mine, &["checkout", "--quiet", "-b", "kitchen"]);
    recorded();
    git(&mine, &["checkout", "--quiet", "main"]);
    recorded();
    git(&mine, &["merge", "--quiet", "--no-edit", "kitchen"]);
    let sessions = call(run, "mine", ["list", "sessions"]).succeeds();
    assert_eq!(sessions.lines().count(), 2, "{sessions}");
}

/// Each branch has another version of the club's recipes: the merge leaves its marks in the copy and in the lock.
fn two_branches_update_and_the_lock_is_mended(run: &Run) {
    let (club, mine) = (run.folder().join("club"), run.folder().join("mine"));
    let updated = |time: &str| {
        fs::write(club.join("recipes.wet"), RECIPES.replace("9:00", time)).unwrap();
        let revision = committed(&club).unwrap();
        call(run, "mine", ["adopt", "--update", "club"]).succeeds();
        committed(&mine);
        revision
    };
    git(&mine, &["checkout", "--quiet", "-b", "later"]);
    updated("8:15");
    git(&mine, &["checkout", "--quiet", "main"]);
    let newest = updated("8:00");
    let merge = Command::new("git").args(["merge", "--quiet", "later"]).current_dir(&mine).output().unwrap();
    assert!(!merge.status.success(), "{merge:?}");
    let lock = || fs::read_to_string(mine.join("collections/club.lock")).unwrap();
    assert!(lock().contains("<<<<<<<"), "{}", lock());
    let (said, _) = call(run, "mine", ["adopt", "--check"]).fails(1);
    assert!(said.contains("to mend it: wetside adopt --update club"), "{said}");
    call(run, "mine", ["adopt", "--update", "club"]).succeeds();
    assert!(lock().contains(&format!("revision {newest}\n")) && !lock().contains("<<<<<<<"), "{}", lock());
    committed(&mine);
    let card = call(run, "mine", ["card", "jetty", "--at", "20C", "--rolls", "1x120"]).succeeds();
    assert!(card.contains("8:00"), "{card}");
    call(run, "mine", ["adopt", "--check"]).succeeds();
}

/// Hooks of the origin and of a template do not run, submodules are not cloned, and links are no files.
#[test]
fn nothing_of_a_repository_runs() {
    let path = std::env::var("PATH").unwrap_or_default();
    let run = Run::new()
        .env("PATH", &path)
        .file("club/collection.wet", COLLECTION)
        .file("club/recipes.wet", RECIPES)
        .file("club/.gitattributes", "*.wet filter=evil\n")
        .file("club/.gitmodules", "[submodule \"s\"]\n\tpath = s\n\turl = ext::touch ran\n")
        .file("mine/mine.wet", "wetside 2\n");
    let club = run.folder().join("club");
    if committed(&club).is_none() {
        return skipped();
    }
    for hook in ["post-checkout", "post-upload-pack", "reference-transaction", "pre-auto-gc"] {
        let hook = club.join(".git/hooks").join(hook);
        fs::create_dir_all(hook.parent().unwrap()).unwrap();
        let ran = run.folder().join("ran");
        fs::write(&hook, format!("#!/bin/sh\ntouch {}\n", ran.display())).unwrap();
        #[cfg(unix)]
        fs::set_permissions(&hook, std::os::unix::fs::PermissionsExt::from_mode(0o755)).unwrap();
    }
    call(&run, "mine", ["adopt", "../club"]).succeeds();
    assert!(!run.folder().join("ran").exists() && !run.folder().join("mine/ran").exists());
    assert!(!run.folder().join("mine/collections/harbour/.gitattributes").exists());
}

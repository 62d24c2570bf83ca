//! Repositories of git that are broken, empty, huge or mean harm.

use std::fs;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

use super::refused;
use crate::adopt::journey::{committed, git};
use crate::adopt::{COLLECTION, RECIPES, adopt, beside};
use crate::program::Run;

/// The club as a repository of one commit; nothing without git.
fn club() -> Option<Run> {
    let run = beside().env("PATH", &std::env::var("PATH").unwrap_or_default());
    committed(&run.folder().join("club"))?;
    Some(run)
}

/// A repository whose only commit has this listing, in the form of `git mktree`; BLOB is replaced by a text.
fn of_listing(run: &Run, rows: &str, text: &str) {
    let club = run.folder().join("club");
    let fed = |args: &[&str], input: &str| {
        let mut call = Command::new("git")
            .args(args)
            .current_dir(&club)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        call.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
        String::from_utf8(call.wait_with_output().unwrap().stdout).unwrap().trim().to_owned()
    };
    let blob = |text: &str| fed(&["hash-object", "-w", "--stdin"], text);
    let (collection, recipes, text) = (blob(COLLECTION), blob(RECIPES), blob(text));
    let rows = rows.replace("COLLECTION", &collection).replace("RECIPES", &recipes).replace("BLOB", &text);
    let tree = fed(&["mktree", "--missing"], &rows.replace("\n\n", "\n"));
    let commit = git(&club, &["commit-tree", "-m", "a change", &tree]).unwrap();
    git(&club, &["update-ref", "HEAD", &commit]).unwrap();
}

#[test]
fn repositories_without_a_commit_are_refused() {
    let Some(run) = club() else { return };
    git(&run.folder().join("club"), &["symbolic-ref", "HEAD", "refs/heads/nothing"]);
    refused(&run, "../club", "git cannot read");
    let empty = run.again().file("empty/a", "").file("bare/a", "");
    git(&empty.folder().join("empty"), &["init", "--quiet"]);
    git(&empty.folder().join("bare"), &["init", "--quiet", "--bare"]);
    for origin in ["../empty", "../bare"] {
        refused(&empty, origin, "git cannot read");
    }
}

#[test]
fn broken_repositories_are_refused() {
    let broken = |harm: &dyn Fn(&Path)| {
        let Some(run) = club() else { return };
        harm(&run.folder().join("club/.git"));
        refused(&run, "../club", "git cannot read");
    };
    broken(&|git| fs::remove_file(git.join("HEAD")).unwrap());
    broken(&|git| fs::write(git.join("HEAD"), [0xff; 100]).unwrap());
    broken(&|git| fs::write(git.join("config"), "[core\n\trepositoryformatversion = 99\n").unwrap());
    broken(&|git| fs::remove_dir_all(git.join("objects")).unwrap());
    broken(&|git| {
        fs::remove_dir_all(git).unwrap();
        fs::write(git, "gitdir: ../../../nothing\n").unwrap();
    });
    broken(&|git| {
        fs::remove_dir_all(git).unwrap();
        fs::write(git, "gitdir: .git\n").unwrap();
    });
    broken(&|git| {
        for folder in fs::read_dir(git.join("objects")).unwrap().map(|entry| entry.unwrap().path()) {
            for object in fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
                fs::remove_file(&object).unwrap();
                fs::write(&object, "no object").unwrap();
            }
        }
    });
}

#[test]
fn bare_and_shallow_repositories_are_adopted() {
    let Some(run) = club() else { return };
    let at = |name: &str| run.folder().join(name);
    fs::write(at("club/recipes.wet"), RECIPES.replace("9:00", "8:30")).unwrap();
    let commit = committed(&at("club")).unwrap();
    git(run.folder(), &["clone", "--quiet", "--bare", "club", "bare"]);
    let address = format!("file://{}", at("club").display());
    git(run.folder(), &["clone", "--quiet", "--depth", "1", &address, "shallow"]);
    for name in ["bare", "shallow"] {
        adopt(&run, [&format!("../{name}"), "--as", name]).succeeds();
        let lock = fs::read_to_string(at(&format!("mine/collections/{name}.lock"))).unwrap();
        assert!(lock.contains(&format!("revision {commit}\n")), "{lock}");
    }
}

#[test]
fn entries_that_are_no_plain_files_are_refused() {
    for row in [
        // A link, a submodule, and a folder in place of the file.
        "120000 blob BLOB\trecipes.wet",
        "160000 commit 1111111111111111111111111111111111111111\trecipes.wet",
        "",
    ] {
        let Some(run) = club() else { return };
        of_listing(&run, &format!("100644 blob COLLECTION\tcollection.wet\n{row}\n"), "../secret.wet");
        refused(&run, "../club", "was not adopted");
    }
    let Some(run) = club() else { return };
    of_listing(&run, "100644 blob RECIPES\trecipes.wet\n", "");
    refused(&run, "../club", "is no collection");
}

/// A tree may have entries that no folder can have. They cannot be named by a `use` line.
#[test]
fn entries_with_names_that_leave_the_folder_are_not_reached() {
    let Some(run) = club() else { return };
    of_listing(
        &run,
        "100644 blob COLLECTION\tcollection.wet\n100644 blob BLOB\trecipes.wet\n100644 blob RECIPES\t..\n",
        &RECIPES.replace("wetside 2\n", "wetside 2\nuse \"../recipes.wet\"\n"),
    );
    refused(&run, "../club", "was not adopted");
}

#[test]
fn a_file_over_the_limit_is_refused() {
    let Some(run) = club() else { return };
    of_listing(
        &run,
        "100644 blob COLLECTION\tcollection.wet\n100644 blob BLOB\trecipes.wet\n",
        &"# x\n".repeat(300_000),
    );
    refused(&run, "../club", "was not adopted");
}

/// 20,000 entries, of which the collection uses two. Their names have what no name should have.
#[test]
fn a_huge_listing_is_no_part_of_the_collection() {
    let Some(run) = club() else { return };
    let odd: String = (0..20_000).map(|at| format!("100644 blob BLOB\t\"a\\n\\033 {at}.wet\"\n")).collect();
    let own = "100644 blob COLLECTION\tcollection.wet\n100644 blob RECIPES\trecipes.wet\n";
    of_listing(&run, &format!("{odd}{own}"), "wetside 9\n");
    adopt(&run, ["../club", "--as", "club"]).succeeds();
    assert_eq!(fs::read_dir(run.folder().join("mine/collections/club")).unwrap().count(), 2);
}

/// A hook of git that calls the program says in variables which repository it runs in.
#[test]
fn the_repository_of_a_hook_is_not_taken_for_the_origin() {
    let Some(run) = club() else { return };
    let run =
        run.env("GIT_DIR", "/nothing").env("GIT_OBJECT_DIRECTORY", "/nothing").env("GIT_WORK_TREE", "/");
    adopt(&run, ["../club", "--as", "club"]).succeeds();
}

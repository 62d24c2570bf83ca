//! A recipe at a revision is read through git, with its used files at that revision. No argument becomes an option or
//! a command of git.

use std::io::Write as _;
use std::path::Path;
use std::process::Command;

use super::{TEXT, changed, report_of};
use crate::program::Run;

/// Runs git in that folder without prompts and without settings of the machine; `None` without git.
fn git(folder: &Path, arguments: &[&str]) -> Option<()> {
    let run = Command::new("git")
        .args(["-c", "user.name=Keeper", "-c", "user.email=keeper@example.org", "-c", "commit.gpgsign=false"])
        .args(arguments)
        .current_dir(folder)
        .envs([("GIT_CONFIG_GLOBAL", "/dev/null"), ("GIT_CONFIG_NOSYSTEM", "1")])
        .output()
        .ok()?;
    assert!(run.status.success(), "git {arguments:?}: {}", String::from_utf8_lossy(&run.stderr));
    Some(())
}

/// The texts of the shelf below `shelf`: a recipe, and the file that it uses.
fn texts() -> (String, String) {
    let (head, rest) = TEXT.split_once("recipe one").unwrap();
    (head.to_owned(), format!("wetside 2\nuse \"parts/stock.wet\"\nrecipe one{rest}"))
}

/// A repository with the shelf in one commit, tagged `v1`; `None`, with a message, without git.
fn repository() -> Option<Run> {
    let (stock, recipe) = texts();
    let run = Run::new().file("shelf/parts/stock.wet", stock).file("shelf/a.wet", recipe);
    let run = run
        .file("secret.wet", "tidegate 4711\n")
        .file("big.wet", " ".repeat(2 << 20))
        .file("bad.wet", [0xff, b'\n']);
    let path = std::env::var("PATH").unwrap_or_default();
    let run = run.env("PATH", &path);
    let folder = run.folder().to_owned();
    if Command::new("git").arg("--version").output().is_err() {
        let _ = writeln!(std::io::stderr(), "skipped: there is no git on this machine");
        return None;
    }
    git(&folder, &["init", "--quiet"])?;
    git(&folder, &["add", "."])?;
    git(&folder, &["commit", "--quiet", "-m", "The shelf"])?;
    git(&folder, &["tag", "v1"])?;
    Some(run)
}

#[test]
fn a_recipe_is_compared_with_its_old_revision() {
    let Some(run) = repository() else { return };
    let run = run.args(["compare", "HEAD:shelf/a.wet", "shelf/a.wet"]);
    assert!(run.succeeds().ends_with("\nthe same work\n"));
    let (_, recipe) = texts();
    let run = run.again().file("shelf/a.wet", recipe.replace("10:00 at 20 C", "9:30 at 20 C"));
    for old in [
        "HEAD:shelf/a.wet",
        "v1:./shelf/a.wet",
        "HEAD:shelf/a.wet:one",
        "v1^{commit}:shelf/../shelf/a.wet",
        "@:shelf/a.wet",
    ] {
        let run = run_again(&run, old);
        assert!(report_of(&run).contains("develop time at 20 °C 10:00 → 9:30"), "{old}");
    }
}

/// A new call in a copy of the run's folder.
fn run_again(run: &Run, old: &str) -> Run {
    let copy = Run::new().env("PATH", &std::env::var("PATH").unwrap_or_default());
    copied(run.folder(), copy.folder());
    copy.args(["compare", old, "shelf/a.wet"])
}

fn copied(from: &Path, to: &Path) {
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap().path();
        let target = to.join(entry.file_name().unwrap());
        if entry.is_dir() {
            std::fs::create_dir_all(&target).unwrap();
            copied(&entry, &target);
        } else {
            std::fs::copy(&entry, &target).unwrap();
        }
    }
}

#[test]
fn used_files_are_read_at_the_same_revision() {
    let Some(run) = repository() else { return };
    let (head, _) = changed("metol            2 g", "metol            3 g")
        .split_once("recipe one")
        .map(|(head, rest)| (head.to_owned(), rest.to_owned()))
        .unwrap();
    let run = run.file("shelf/parts/stock.wet", head).args(["compare", "HEAD:shelf/a.wet", "shelf/a.wet"]);
    let report = report_of(&run);
    // The label of the bottle changes too, without effect on the work.
    assert!(report.contains("develop formula a: metol 2 g → 3 g\n"), "{report}");
    assert!(report.ends_with("\n1 difference"), "{report}");
    // The same after the folder is deleted.
    std::fs::remove_dir_all(run.folder().join("shelf")).unwrap();
    let run = run.again().args(["compare", "HEAD:shelf/a.wet", "v1:shelf/a.wet"]);
    assert!(run.succeeds().ends_with("\nthe same work\n"));
}

#[test]
fn an_unknown_revision_is_an_error() {
    let Some(run) = repository() else { return };
    for revision in ["nope", "HEAD~7", "v2", "HEAD:shelf"] {
        let run = run_again(&run, &format!("{revision}:shelf/a.wet"));
        let (stdout, stderr) = run.fails(2);
        assert!(
            stdout.is_empty() && (stderr.contains("has no revision") || stderr.contains("cannot be read")),
            "{revision}: {stderr}"
        );
    }
}

#[test]
fn a_revision_is_neither_an_option_nor_a_command() {
    let Some(run) = repository() else { return };
    for revision in [
        "--upload-pack=touch made",
        "--output=made",
        "-pmade",
        "HEAD;touch made",
        "HEAD|touch",
        "$(touch made)",
        "`touch made`",
        "HEAD made",
        "HEAD\nmade",
        "HEAD&touch",
        "HEAD>made",
        "\u{1b}[2J",
        "",
        "'HEAD'",
        "HEAD\\",
    ] {
        let copy = run_again(&run, "HEAD:shelf/a.wet").again();
        let copy = copy.args(["compare", "--", &format!("{revision}:shelf/a.wet"), "shelf/a.wet"]);
        let (stdout, stderr) = copy.fails(2);
        assert!(stdout.is_empty() && stderr.contains("is not a revision"), "{revision}: {stderr}");
        assert!(!stderr.contains('\u{1b}') && !copy.folder().join("made").exists(), "{revision}");
    }
}

#[test]
fn a_wrong_path_at_a_revision_is_an_error() {
    let Some(run) = repository() else { return };
    for (path, words) in [
        ("shelf/b.wet", "there was no such file"),
        ("b.wet", "there was no such file"),
        ("../outside.wet", "outside the root folder of the recipes"),
        ("/etc/hostname.wet", "outside the root folder of the recipes"),
        ("shelf", "outside the root folder of the recipes"),
        ("big.wet", "over 1 MiB"),
        ("bad.wet", "not UTF-8"),
        ("*.wet", "outside the root folder of the recipes"),
    ] {
        let (stdout, stderr) = run_again(&run, &format!("HEAD:{path}")).fails(2);
        // A long message is wrapped.
        let message = super::squeezed(&stderr.replace("\n  | ", " ")).replace('\n', " ");
        assert!(stdout.is_empty() && message.contains(words), "{path}: {stderr}");
        assert!(!stderr.contains("tidegate"), "{stderr}");
    }
}

#[test]
fn a_use_that_leaves_the_repository_is_refused_at_a_revision_too() {
    let Some(run) = repository() else { return };
    for path in ["../../secret.wet", "../../../secret.wet", "/secret.wet", "parts/none.wet"] {
        let (_, recipe) = texts();
        let run =
            run_again(&run, "HEAD:shelf/a.wet").file("shelf/b.wet", recipe.replace("parts/stock.wet", path));
        git(run.folder(), &["add", "."]).unwrap();
        git(run.folder(), &["commit", "--quiet", "-m", "Another"]).unwrap();
        let run = run.again().args(["compare", "HEAD:shelf/b.wet", "shelf/a.wet"]);
        let (stdout, stderr) = run.fails(2);
        assert!(
            stdout.is_empty() && stderr.contains("error[use-") && stderr.contains("HEAD:shelf/b.wet"),
            "{stderr}"
        );
        assert!(!stderr.contains("tidegate"), "{stderr}");
    }
}

#[cfg(unix)]
#[test]
fn a_link_is_not_followed_at_a_revision() {
    let Some(run) = repository() else { return };
    std::os::unix::fs::symlink("a.wet", run.folder().join("shelf/link.wet")).unwrap();
    git(run.folder(), &["add", "."]).unwrap();
    git(run.folder(), &["commit", "--quiet", "-m", "A link"]).unwrap();
    let run = run.args(["compare", "HEAD:shelf/link.wet", "shelf/a.wet"]);
    assert!(run.fails(2).1.contains("it was not a plain file"));
}

#[test]
fn a_missing_repository_is_an_error() {
    let path = std::env::var("PATH").unwrap_or_default();
    let run = Run::new().file("a.wet", TEXT).env("PATH", &path).args(["compare", "HEAD:a.wet", "a.wet"]);
    let (_, stderr) = run.fails(2);
    assert!(stderr.contains("no repository") || stderr.contains("git cannot be run"), "{stderr}");
    let run = Run::new().file("a.wet", TEXT).env("PATH", "/nowhere").args(["compare", "HEAD:a.wet", "a.wet"]);
    assert!(run.fails(2).1.contains("git cannot be run"));
}

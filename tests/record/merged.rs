//! Two branches that record on one evening merge without a conflict.

use std::process::Command;

use super::{darkroom, evening, journal, one_roll};

#[expect(clippy::print_stderr, reason = "a skipped test is reported")]
fn skipped() {
    eprintln!("skipped: there is no git to merge branches with");
}

#[test]
fn branches_that_record_on_one_evening_merge() {
    if Command::new("git").arg("--version").output().is_err() {
        return skipped();
    }
    let run = darkroom();
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
    commit("the darkroom");
    git(&["branch", "cellar"]);
    let labelled = |run: &crate::program::Run, label: &str| {
        let run = evening(run.again()).args(["--rolls", "1x120", "--label", label, "--bath", "fix-a"]);
        run.args(["--date", "2026-11-12"])
    };
    let run = labelled(&run, "E-01");
    run.succeeds();
    commit("one tank");
    git(&["checkout", "--quiet", "cellar"]);
    let run = labelled(&run, "E-02");
    run.succeeds();
    // Without --bath it pours from the only bottle that fits.
    let run = one_roll(run.again(), "2026-11-12");
    run.succeeds();
    commit("two tanks");
    git(&["merge", "--quiet", "--no-edit", "main"]);
    assert_eq!(journal(&run).len(), 3);
    assert!(run.again().args(["check", "--fail-on", "advice"]).succeeds().starts_with("nothing to fix"));
    assert!(run.again().args(["baths", "--on", "2026-11-12"]).succeeds().contains("3 of 25  22"));
}

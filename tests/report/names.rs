//! Names of files in a report: paths from the root, from whatever folder the call is made.

use serde_json::{Value, json};

use super::WIDE;
use crate::program::Run;

/// A repository with an error in each of two folders, and a file outside.
fn repository() -> Run {
    Run::new()
        .file("repo/.git/HEAD", "")
        .file("repo/a b/wide.wet", WIDE)
        .file("repo/c/wide.wet", WIDE)
        .file("out.wet", WIDE)
}

fn reported_files(run: &Run) -> Vec<String> {
    let lines = run.fails(1).0;
    let file = |line: &str| line.split_once(".wet:").unwrap().0.to_owned();
    let mut files: Vec<String> = lines.lines().map(file).collect();
    files.dedup();
    files
}

#[test]
fn a_file_is_named_by_its_path_from_the_root() {
    let mut run = repository();
    for (below, named) in [("repo", "."), ("repo/c", ".."), ("repo/a b", "../c/../")] {
        run = run.again().below(below).args(["check", "--as", "lines", named]);
        assert_eq!(reported_files(&run), ["a b/wide", "c/wide"], "{below}");
    }
    run = run.again().below("repo/c").args(["check", "--as", "lines"]);
    assert_eq!(reported_files(&run), ["c/wide"]);
    run = run.again().below("repo/c").args(["check"]);
    assert!(run.fails(1).0.contains(" at c/wide.wet:2:13\n"));
    run = run.again().below("repo/c").args(["check", "--as", "json"]);
    let json: Value = serde_json::from_str(&run.fails(1).0).unwrap();
    assert_eq!(json["findings"][0]["file"], "c/wide.wet");
    assert_eq!(json["findings"][1]["fixes"][0]["edits"][0]["file"], "c/wide.wet");
}

#[test]
fn a_file_outside_the_root_keeps_its_name_from_the_call() {
    let run = repository().below("repo/c").args(["check", "--as", "lines", "../../out.wet"]);
    assert_eq!(reported_files(&run), ["../../out"]);
    let absolute = run.folder().join("out.wet").to_str().unwrap().to_owned();
    let run = run.again().args(["check", "--as", "lines", &absolute]);
    assert_eq!(reported_files(&run), [absolute.strip_suffix(".wet").unwrap()]);
    // Without a repository the current folder is the root.
    let run = Run::new().file("a/x.wet", WIDE).file("b/y.wet", WIDE).below("a");
    let run = run.args(["check", "--as", "lines", "../b/y.wet", "./x.wet"]);
    assert_eq!(reported_files(&run), ["../b/y", "x"]);
}

/// A link that leads out of the root keeps its name.
#[cfg(unix)]
#[test]
fn a_link_out_of_the_root_is_named_by_its_own_path() {
    let run = repository();
    std::os::unix::fs::symlink("../../out.wet", run.folder().join("repo/c/led.wet")).unwrap();
    let run = run.below("repo/c").args(["check", "--as", "lines", "led.wet"]);
    assert_eq!(reported_files(&run), ["c/led"]);
}

/// SARIF 2.1.0, 3.4.4 and 3.14.14: a path with a base is relative, without `/` or `..` at its start.
#[test]
fn only_files_below_the_root_have_a_base_in_sarif() {
    let of = |run: &Run, status: i32| -> Value {
        let printed = if status == 0 { run.succeeds() } else { run.fails(status).0 };
        let sarif: Value = serde_json::from_str(&printed).unwrap();
        assert!(sarif["runs"][0]["originalUriBaseIds"]["%SRCROOT%"].is_object());
        sarif["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"].clone()
    };
    let run = repository().below("repo/c").args(["check", "--as", "sarif", "../a b"]);
    assert_eq!(of(&run, 1), json!({ "uri": "a%20b/wide.wet", "uriBaseId": "%SRCROOT%" }));
    let run = run.again().args(["check", "--as", "sarif", "../../out.wet"]);
    assert_eq!(of(&run, 1), json!({ "uri": "../../out.wet" }));
    let run = run.again().args(["check", "--as", "sarif", "-"]).stdin(WIDE);
    assert_eq!(of(&run, 1), json!({ "uri": "standard%20input" }));
    let absolute = run.folder().join("out.wet").to_str().unwrap().to_owned();
    let run = run.again().args(["check", "--as", "sarif", &absolute]);
    assert_eq!(of(&run, 1), json!({ "uri": format!("file://{absolute}") }));
}

/// The other commands name files in the same way.
#[test]
fn card_tidy_and_compare_name_files_as_check_does() {
    let run = repository().file("repo/c/loose.wet", "wetside  1\n");
    let run = run.below("repo/c").args(["tidy", "--dry", "loose.wet"]);
    assert!(run.fails(1).0.starts_with("c/loose.wet:1:\n- wetside  1\n+ wetside 1\n"));
    let run = run.again().args(["tidy", "loose.wet"]);
    assert!(run.succeeds().starts_with("tidied c/loose.wet\n"));
    let run = run.again().args(["card", "wide.wet", "--at", "20C", "--rolls", "1x120"]);
    assert!(run.fails(1).1.contains(" at c/wide.wet:2:13\n"));
    let run = run.again().args(["compare", "wide.wet", "../a b/wide.wet"]);
    let stderr = run.fails(2).1;
    assert!(
        stderr.contains(" at c/wide.wet:2:13\n") && stderr.contains(" at a b/wide.wet:2:13\n"),
        "{stderr}"
    );
    let run = run.again().args(["check", "--mend", "--dry", "wide.wet"]);
    assert!(run.fails(1).0.contains(" at c/wide.wet:2:13\n"));
}

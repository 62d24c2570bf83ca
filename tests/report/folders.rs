//! Many files at once: the same output for any order of the call, ignored files left out, and no file that hides others.

use std::fmt::Write;

use super::HASTY;
use crate::program::Run;

/// A film's block with one error, at line 3, column 5.
const FAULTY: &str = "wetside 1\nfilm f {\n    x-rating  1\n    speed     ISO 100\n}\n";
const FINDING: &str = "3:5: error[unknown-word]: 'x-rating' is not a statement of a film\n";

/// More files than one batch, each with one error, named in the order of their numbers.
fn many() -> Run {
    (0..300).fold(Run::new(), |run, number| run.file(&format!("{}/{number:03}.wet", number / 50), FAULTY))
}

fn name(number: usize) -> String {
    format!("{}/{number:03}.wet", number / 50)
}

/// The expected output: a line for each file, in the order of names.
fn expected() -> String {
    (0..300).fold(String::new(), |mut all, number| {
        write!(all, "{}:{FINDING}", name(number)).unwrap();
        all
    })
}

#[test]
fn findings_are_in_the_order_of_files_in_every_run() {
    let mut run = many();
    for form in ["lines", "text", "json", "sarif"] {
        run = run.again().args(["check", "--as", form]);
        let (first, _) = run.fails(1);
        if form == "lines" {
            assert_eq!(first, expected());
        }
        for _ in 1..10 {
            assert_eq!(run.fails(1).0, first, "{form}");
        }
    }
}

/// One thread checks a few files; all cores check all of them.
#[test]
fn one_thread_and_many_report_the_same() {
    let mut run = many();
    let mut by_one = String::new();
    for from in (0..300).step_by(100) {
        run = (from..from + 100)
            .fold(run.again().args(["check", "--as", "lines"]), |run, number| run.arg(name(number)));
        by_one += &run.fails(1).0;
    }
    run = run.again().args(["check", "--as", "lines"]);
    assert_eq!(run.fails(1).0, by_one);
    // The order on the command line has no effect.
    run = (0..300)
        .rev()
        .fold(run.again().args(["check", "--as", "lines"]), |run, number| run.arg(name(number)));
    assert_eq!(run.fails(1).0, by_one);
}

#[test]
fn the_last_line_has_the_counts() {
    let run = many().file("hasty.wet", HASTY).file("sound.wet", "wetside 1\n").args(["check"]);
    let (text, _) = run.fails(1);
    assert!(text.ends_with("\nand 251 more\n\n300 errors, 1 warning in 302 files\n"), "{text}");
    assert_eq!(text.matches("error[unknown-word]").count(), 50);
    let run = run.again().args(["check", "hasty.wet", "sound.wet", "hasty.wet"]);
    assert!(run.succeeds().ends_with("\n1 warning in 2 files\n"), "a file that is named twice is one");
}

/// Its users are in other batches.
#[test]
fn an_error_in_a_shared_file_is_reported_once() {
    let shared = format!("{FAULTY}recipe r {{\n    wash {{\n        fills     10 inversions\n    }}\n}}\n");
    let user = "wetside 1\nuse \"../a/shared.wet\"\nrecipe of-file from r {\n    film      f\n}\n";
    let run = (0..300).fold(Run::new(), |run, number| run.file(&format!("b/{number:03}.wet"), user));
    let run = run.file("a/shared.wet", shared).file(".git/HEAD", "").file("c/keep", "");
    let shared_findings = |run: &Run, folder: &str| -> Vec<String> {
        let (lines, _) = run.fails(1);
        let of_shared = lines.lines().filter(|line| line.contains("x-rating"));
        let of_shared: Vec<String> = of_shared.map(str::to_owned).collect();
        assert_eq!(of_shared.len(), 1, "{folder}: {of_shared:#?}");
        of_shared
    };
    let mut run = run.args(["check", "--as", "lines"]);
    assert_eq!(shared_findings(&run, "."), [format!("a/shared.wet:{}", FINDING.trim_end())]);
    // The way the folder is named has no effect.
    for folder in ["./", "c/../", "c/.././"] {
        run = run.again().args(["check", "--as", "lines", folder]);
        shared_findings(&run, folder);
    }
}

/// A film used in another batch is not reported as unused.
#[test]
fn a_name_used_in_another_batch_is_not_unused() {
    let own = "wetside 1\nfilm lone {\n    speed     ISO 100\n}\nrecipe own {\n    wash {\n        fills     10 \
               inversions\n    }\n}\n";
    let user = "wetside 1\nuse \"000.wet\"\nrecipe far from own {\n    film      lone\n}\n";
    let shelf = |between: usize| {
        let run = Run::new().file("000.wet", own).file("999.wet", user);
        let run = (1..=between).fold(run, |run, number| run.file(&format!("{number:03}.wet"), "wetside 1\n"));
        run.args(["check", "--as", "lines"])
    };
    assert_eq!(shelf(1).succeeds(), "");
    assert_eq!(shelf(300).succeeds(), "");
    let alone = Run::new().file("000.wet", own).args(["check", "--as", "lines"]).succeeds();
    assert!(alone.starts_with("000.wet:2:6: advice[never-used]: "), "{alone}");
}

#[test]
fn files_that_git_ignores_are_skipped_unless_named() {
    let run = Run::new()
        .file(".gitignore", "drafts/\n*-old.wet\n")
        .file("a.wet", FAULTY)
        .file("b-old.wet", FAULTY)
        .file("drafts/c.wet", FAULTY)
        .file("d/.gitignore", "e.wet\n")
        .file("d/e.wet", FAULTY)
        .file("d/notes.txt", FAULTY)
        .args(["check", "--as", "lines"]);
    assert_eq!(run.fails(1).0, format!("a.wet:{FINDING}"));
    let run = run.again().args(["check", "--as", "lines", "b-old.wet"]);
    assert_eq!(run.fails(1).0, format!("b-old.wet:{FINDING}"));
}

#[cfg(unix)]
#[test]
fn circular_links_do_not_repeat_files() {
    let run = Run::new().file("a/a.wet", FAULTY).file("b/b.wet", FAULTY);
    std::os::unix::fs::symlink("..", run.folder().join("a/up")).unwrap();
    std::os::unix::fs::symlink("self", run.folder().join("a/self")).unwrap();
    std::os::unix::fs::symlink("self.wet", run.folder().join("a/self.wet")).unwrap();
    let run = run.args(["check", "--as", "lines"]);
    assert_eq!(run.fails(1).0, format!("a/a.wet:{FINDING}b/b.wet:{FINDING}"));
}

/// An unreadable file is an error of the call; the others are checked.
#[test]
fn an_unreadable_file_does_not_hide_the_others() {
    let latin = b"wetside 1\n# \xe9tat\n";
    let run = Run::new().file("a.wet", FAULTY).file("b.wet", latin).file("c.wet", FAULTY);
    let run = run.args(["check", "--as", "lines"]);
    let (stdout, stderr) = run.fails(2);
    assert_eq!(stdout, format!("a.wet:{FINDING}c.wet:{FINDING}"));
    assert!(stderr.contains("b.wet cannot be read: it is not UTF-8, from byte 13 on"), "{stderr}");
    let run = run.again().args(["check", "missing.wet", "c.wet", "--as", "lines"]);
    let (stdout, stderr) = run.fails(2);
    assert_eq!(stdout, format!("c.wet:{FINDING}"));
    assert!(stderr.contains("missing.wet cannot be read: there is no such file"), "{stderr}");
}

#[test]
fn a_folder_without_a_recipe_is_an_error_of_the_call() {
    let (stdout, stderr) = Run::new().file("a.txt", FAULTY).args(["check"]).fails(2);
    assert!(stdout.is_empty() && stderr.contains("there is no .wet file here"), "{stderr}");
}

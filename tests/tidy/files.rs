//! `wetside tidy` on files: which files it writes, which it never changes, and the exit status.

use std::fs;
use std::path::PathBuf;

use crate::program::Run;

const ROUGH: &str = "wetside 1\nfilm ebb {\nspeed   ISO 1\n}\n";
const TIDY: &str = "wetside 1\n\nfilm ebb {\n    speed     ISO 1\n}\n";

fn read(run: &Run, path: &str) -> String {
    fs::read_to_string(run.folder().join(path)).unwrap()
}

#[test]
fn a_rough_file_is_rewritten_and_named() {
    let run = Run::new().file("a.wet", ROUGH).args(["tidy", "a.wet"]);
    assert_eq!(run.succeeds(), "tidied a.wet\n1 of 1 file tidied\n");
    assert_eq!(read(&run, "a.wet"), TIDY);
    assert_eq!(run.succeeds(), "nothing to tidy in 1 file\n");
}

#[test]
fn files_that_git_ignores_are_not_tidied() {
    let run = Run::new()
        .file("in/b.wet", ROUGH)
        .file("c.wet", TIDY)
        .file("d.wet", ROUGH)
        .file("e.txt", ROUGH)
        .file(".gitignore", "d.wet\n")
        .arg("tidy");
    assert_eq!(run.succeeds(), "tidied in/b.wet\n1 of 2 files tidied\n");
    assert_eq!((read(&run, "d.wet").as_str(), read(&run, "e.txt").as_str()), (ROUGH, ROUGH));
}

#[test]
fn dry_lists_every_changed_line_and_writes_nothing() {
    let run = Run::new().file("a.wet", ROUGH).file("b.wet", TIDY).args(["tidy", "--dry", "."]);
    let path = run.folder().join("a.wet");
    let before = fs::metadata(&path).unwrap().modified().unwrap();
    let (printed, error) = run.fails(1);
    let lines = [
        "a.wet:2: blank lines above it: 0, in the tidy form 1",
        "a.wet:3:",
        "- speed   ISO 1",
        "+     speed     ISO 1",
        "1 of 2 files would change; wetside tidy changes them",
    ];
    assert_eq!((printed.lines().collect::<Vec<_>>(), error.as_str()), (lines.to_vec(), ""));
    assert_eq!(read(&run, "a.wet"), ROUGH);
    assert_eq!(fs::metadata(&path).unwrap().modified().unwrap(), before);
    assert_eq!(fs::read_dir(run.folder()).unwrap().count(), 2);
}

#[cfg(unix)]
#[test]
fn a_tidy_file_is_not_rewritten() {
    use std::os::unix::fs::MetadataExt;
    let run = Run::new().file("a.wet", TIDY).args(["tidy", "a.wet"]);
    let of = || fs::metadata(run.folder().join("a.wet")).unwrap();
    let before = (of().ino(), of().modified().unwrap());
    run.succeeds();
    assert_eq!((of().ino(), of().modified().unwrap()), before);
}

#[cfg(unix)]
#[test]
fn a_file_keeps_its_mode_and_a_read_only_file_its_text() {
    use std::os::unix::fs::PermissionsExt;
    let run = Run::new().file("a.wet", ROUGH).file("b.wet", ROUGH);
    let mode = |name: &str, mode: u32| {
        fs::set_permissions(run.folder().join(name), fs::Permissions::from_mode(mode)).unwrap();
    };
    mode("a.wet", 0o640);
    mode("b.wet", 0o444);
    let of = |name: &str| fs::metadata(run.folder().join(name)).unwrap().permissions().mode() & 0o777;
    let modes = || (of("a.wet"), of("b.wet"));
    assert_eq!(modes(), (0o640, 0o444));
    let run = run.args(["tidy", "a.wet", "b.wet"]);
    let (_, error) = run.fails(2);
    assert!(error.contains("b.wet could not be written: it is read-only"), "{error}");
    let folder: PathBuf = run.folder().to_owned();
    let mode_of = |name: &str| fs::metadata(folder.join(name)).unwrap().permissions().mode() & 0o777;
    assert_eq!((mode_of("a.wet"), mode_of("b.wet")), (0o640, 0o444));
    assert_eq!((read(&run, "a.wet").as_str(), read(&run, "b.wet").as_str()), (TIDY, ROUGH));
}

#[cfg(unix)]
#[test]
fn a_link_still_points_to_the_tidied_file() {
    let run = Run::new().file("in/a.wet", ROUGH).args(["tidy", "b.wet"]);
    std::os::unix::fs::symlink("in/a.wet", run.folder().join("b.wet")).unwrap();
    run.succeeds();
    assert!(fs::symlink_metadata(run.folder().join("b.wet")).unwrap().is_symlink());
    assert_eq!(read(&run, "in/a.wet"), TIDY);
}

#[test]
fn carriage_returns_stay_and_a_byte_order_mark_is_removed() {
    let with_returns = |text: &str| text.replace('\n', "\r\n");
    let run = Run::new()
        .file("a.wet", with_returns(ROUGH))
        .file("b.wet", format!("\u{feff}{}", with_returns(TIDY)))
        .file("c.wet", with_returns(TIDY));
    let run = run.again().args(["tidy", "--dry", "b.wet"]);
    let (printed, _) = run.fails(1);
    let mark = "b.wet:1: its byte-order mark goes\n";
    assert!(printed.starts_with(mark) && printed.lines().count() == 2, "{printed}");
    let run = run.again().arg("tidy");
    assert_eq!(run.succeeds(), "tidied a.wet\ntidied b.wet\n2 of 3 files tidied\n");
    for name in ["a.wet", "b.wet", "c.wet"] {
        assert_eq!(read(&run, name), with_returns(TIDY), "{name}");
    }
}

#[test]
fn standard_input_is_printed_tidy() {
    assert_eq!(Run::new().args(["tidy", "-"]).stdin(ROUGH).succeeds(), TIDY);
    assert_eq!(Run::new().args(["tidy", "-"]).stdin(TIDY).succeeds(), TIDY);
    let (printed, _) = Run::new().args(["tidy", "--dry", "-"]).stdin(ROUGH).fails(1);
    assert!(printed.starts_with("standard input:2: "), "{printed}");
}

/// An editor that replaces the input by the output must lose nothing.
#[test]
fn refused_standard_input_is_printed_unchanged() {
    let open = "wetside 1\nfilm ebb {\n";
    let (out, error) = Run::new().args(["tidy", "-"]).stdin(open).fails(1);
    assert_eq!(out, open);
    assert!(error.contains("error[unclosed-block]"), "{error}");
}

#[test]
fn a_damaged_file_does_not_stop_the_others() {
    let open = "wetside 1\nfilm   x {\n";
    let run = Run::new().file("a.wet", open).file("b.wet", ROUGH).arg("tidy");
    let (out, error) = run.fails(1);
    assert_eq!(out, "tidied b.wet\n1 of 2 files tidied\n");
    assert!(error.contains("error[unclosed-block]"), "{error}");
    assert!(error.ends_with("a.wet was not changed: fix this first\n"), "{error}");
    assert_eq!((read(&run, "a.wet").as_str(), read(&run, "b.wet").as_str()), (open, TIDY));
}

#[test]
fn an_unparsed_line_is_advice() {
    let run = Run::new().file("a.wet", "wetside 1\n\nfilm ebb {\n  speeed ISO  1\nspeed ISO 1\n}\n");
    let run = run.args(["tidy", "--dry", "a.wet"]);
    let (out, error) = run.fails(1);
    assert!(error.starts_with("advice[left-alone]: ") && error.contains("a.wet:4:3"), "{error}");
    assert!(!out.contains("speeed"), "{out}");
}

#[test]
fn a_missing_file_is_an_error_of_the_call() {
    let (_, error) = Run::new().args(["tidy", "a.wet"]).fails(2);
    assert!(error.contains("a.wet cannot be read: there is no such file"), "{error}");
    Run::new().arg("tidy").fails(2);
}

//! An internal error is printed once, with its place and how to report it.

use std::process::{Command, ExitCode};

use wetside::cli::{STATUS, guarded};

/// Set where the test below runs itself again, to panic there.
const WITHIN: &str = "HAS_A_BUG";

/// The thread that waits for the other one panics as well, and that is not printed.
fn has_a_bug() -> ExitCode {
    std::thread::spawn(|| panic!("the clock\n\u{1b}[2Jran back")).join().unwrap()
}

/// 70 is `EX_SOFTWARE` of the BSD's `sysexits.h`.
#[test]
fn an_internal_error_has_its_place_and_how_to_report_it() {
    if std::env::var_os(WITHIN).is_some() {
        assert_eq!(guarded(has_a_bug), ExitCode::from(70));
        assert_eq!(STATUS, 70);
        return;
    }
    let test = "bad_input::internal::an_internal_error_has_its_place_and_how_to_report_it";
    let mut command = Command::new(std::env::current_exe().unwrap());
    let output = command.args(["--exact", test, "--nocapture"]).env(WITHIN, "1").output().unwrap();
    let stderr = String::from_utf8(output.stderr).unwrap();
    assert!(output.status.success(), "{stderr}");
    let lines: Vec<&str> = stderr.lines().collect();
    let [what, place, help, report] = lines.as_slice() else { panic!("{stderr}") };
    assert!(what.starts_with("internal error: the clock ") && what.ends_with("ran back"), "{what}");
    assert!(!stderr.contains('\u{1b}'), "{stderr:?}");
    assert_eq!(
        *place,
        format!("  in wetside {} at tests/bad_input/internal.rs:12", env!("CARGO_PKG_VERSION"))
    );
    assert_eq!(*help, "  help: this is a bug in wetside, not in your recipe");
    assert_eq!(*report, "        report it with these lines, the command and its files");
}

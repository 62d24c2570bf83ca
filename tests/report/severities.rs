//! `--fail-on` sets the severity that ends a call with status 1, `--level` the severity of one rule.

use super::HASTY;
use crate::program::Run;

/// A solution without a keeping time, which is advice.
const UNKEPT: &str = "\
wetside 1
solution dev {
    role      developer
    formula for 1 l {
        water            750 ml at 50 C
        metol            7.5 g
        sodium-sulfite   100 g anhydrous
        water            to 1 l
    }
    treats    8 rolls per 1 l
    caution   \"wear gloves\"
}
";

fn finding(level: &str) -> String {
    format!(
        "hasty.wet:5:9: {level}[short-development]: a development of 1:00 is shorter than any published\n"
    )
}

fn hasty() -> Run {
    Run::new().file("hasty.wet", HASTY)
}

fn lines(run: Run) -> Run {
    run.again().args(["check", "--as", "lines"])
}

#[test]
fn a_warning_gives_status_one_only_with_fail_on() {
    let run = lines(hasty());
    assert_eq!(run.succeeds(), finding("warning"));
    for severity in ["warning", "advice"] {
        let run = lines(hasty()).args(["--fail-on", severity]);
        assert_eq!(run.fails(1), (finding("warning"), String::new()), "{severity}");
    }
}

#[test]
fn advice_gives_status_one_only_with_fail_on_advice() {
    let unkept = || Run::new().file("a.wet", UNKEPT).args(["check", "--as", "lines"]);
    let advice = unkept().succeeds();
    assert!(advice.starts_with("a.wet:2:1: advice[keeping-unknown]: "), "{advice}");
    assert_eq!(advice.lines().count(), 1, "{advice}");
    assert_eq!(unkept().args(["--fail-on", "warning"]).succeeds(), advice);
    assert_eq!(unkept().args(["--fail-on", "advice"]).fails(1).0, advice);
}

#[test]
fn an_error_always_gives_status_one() {
    for severity in ["warning", "advice"] {
        let run = Run::new().file("a.wet", "wetside 3\n").args(["check", "--fail-on", severity]);
        assert!(run.fails(1).0.ends_with("\n1 error in 1 file\n"));
    }
}

#[test]
fn a_call_without_findings_succeeds_with_fail_on() {
    let run = Run::new().file("a.wet", "wetside 1\n").args(["check", "--fail-on", "advice"]);
    assert_eq!(run.succeeds(), "nothing to fix in 1 file\n");
}

#[test]
fn an_option_sets_the_severity_of_a_rule() {
    let with = |severity: &str| lines(hasty()).args(["--level", &format!("short-development={severity}")]);
    assert_eq!(with("off").succeeds(), "");
    assert_eq!(with("advice").succeeds(), finding("advice"));
    assert_eq!(with("warning").succeeds(), finding("warning"));
    assert_eq!(with("error").fails(1).0, finding("error"));
    assert_eq!(with("advice").args(["--fail-on", "warning"]).succeeds(), finding("advice"));
    let twice = ["short-development=off", "short-development=error"];
    assert_eq!(
        with("off").args(["--level", twice[1]]).fails(1).0,
        finding("error"),
        "the last option counts"
    );
    assert_eq!(with("error").args(["--level", twice[0]]).succeeds(), "");
}

/// Each wrong call with its message.
#[test]
fn an_unknown_severity_is_an_error_of_the_call() {
    let wrong = [
        (["--level", "short-developmnt=off"], "did you mean short-development?"),
        (["--level", "zzzzzz=off"], "wetside rules lists them"),
        (["--level", "unknown-word=off"], "there is no rule 'unknown-word'"),
        (
            ["--level", "short-development=loud"],
            "'loud' is not a severity; write off, advice, warning or error",
        ),
        (["--level", "short-development"], "'short-development' has no severity"),
        (["--level", "short-development="], "'' is not a severity"),
        (["--fail-on", "error"], "[possible values: warning, advice]"),
        (["--fail-on", "off"], "[possible values: warning, advice]"),
        (["--fail-on", "loud"], "[possible values: warning, advice]"),
        (["--as", "xml"], "[possible values: text, lines, json, sarif]"),
    ];
    for (arguments, expected) in wrong {
        let run = hasty().arg("check").args(arguments);
        let (stdout, stderr) = run.fails(2);
        let stderr = stderr.replace("\n  | ", " ");
        assert!(stdout.is_empty() && stderr.contains(expected), "{run}: {stderr}");
    }
}

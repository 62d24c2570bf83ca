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
        metol            2 g
        water            to 1 l
    }
    treats    8 rolls per 1 l
    caution   \"wear gloves\"
}
";

fn told(level: &str) -> String {
    format!("hasty.wet:5:9: {level}[short-development]: a development of 4:00 is too short to be even\n")
}

fn hasty() -> Run {
    Run::new().file("hasty.wet", HASTY)
}

fn lines(run: Run) -> Run {
    run.again().args(["check", "--as", "lines"])
}

#[test]
fn a_warning_ends_a_call_with_one_only_where_it_is_denied() {
    let run = lines(hasty());
    assert_eq!(run.succeeds(), told("warning"));
    for weight in ["warning", "advice"] {
        let run = lines(hasty()).args(["--fail-on", weight]);
        assert_eq!(run.fails(1), (told("warning"), String::new()), "{weight}");
    }
}

#[test]
fn advice_ends_a_call_with_one_only_where_advice_is_denied() {
    let unkept = || Run::new().file("a.wet", UNKEPT).args(["check", "--as", "lines"]);
    let advice = unkept().succeeds();
    assert!(advice.starts_with("a.wet:2:1: advice[keeping-unknown]: "), "{advice}");
    assert_eq!(advice.lines().count(), 1, "{advice}");
    assert_eq!(unkept().args(["--fail-on", "warning"]).succeeds(), advice);
    assert_eq!(unkept().args(["--fail-on", "advice"]).fails(1).0, advice);
}

#[test]
fn an_error_ends_a_call_with_one_whatever_is_denied() {
    for weight in ["warning", "advice"] {
        let run = Run::new().file("a.wet", "wetside 2\n").args(["check", "--fail-on", weight]);
        assert!(run.fails(1).0.ends_with("\n1 error in 1 file\n"));
    }
}

#[test]
fn nothing_to_tell_is_nothing_to_deny() {
    let run = Run::new().file("a.wet", "wetside 1\n").args(["check", "--fail-on", "advice"]);
    assert_eq!(run.succeeds(), "nothing to fix in 1 file\n");
}

#[test]
fn a_rule_weighs_what_the_call_says() {
    let with = |weight: &str| lines(hasty()).args(["--level", &format!("short-development={weight}")]);
    assert_eq!(with("off").succeeds(), "");
    assert_eq!(with("advice").succeeds(), told("advice"));
    assert_eq!(with("warning").succeeds(), told("warning"));
    assert_eq!(with("error").fails(1).0, told("error"));
    assert_eq!(with("advice").args(["--fail-on", "warning"]).succeeds(), told("advice"));
    let twice = ["short-development=off", "short-development=error"];
    assert_eq!(with("off").args(["--level", twice[1]]).fails(1).0, told("error"), "the last word counts");
    assert_eq!(with("error").args(["--level", twice[0]]).succeeds(), "");
}

/// Each wrong call with its message.
#[test]
fn a_wrong_weight_is_a_call_at_fault() {
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
    for (arguments, said) in wrong {
        let run = hasty().arg("check").args(arguments);
        let (stdout, stderr) = run.fails(2);
        let stderr = stderr.replace("\n  | ", " ");
        assert!(stdout.is_empty() && stderr.contains(said), "{run}: {stderr}");
    }
}

//! The config file `wetside.toml` at the root: found from every folder, checked for its form, overruled by options, and
//! used by `card` and `compare`.

use super::HASTY;
use crate::program::Run;

/// Its last step comes after drying, which is an error by default.
const WET_AGAIN: &str = "\
wetside 1
film plain-film {
    speed     ISO 100
}
solution dev \"Developer\" {
    role      developer
    contains  metol
    needs     50 ml per roll
}
tank own \"Own tank\" {
    reels     120 x 3, 400 ml each
    fill      10 s
    drain     10 s
}
recipe plain \"A plain one\" {
    film      plain-film

    develop {
        in        dev 1+3, one-shot
        time      10:00
        between   18 C and 24 C
        agitate   first 30 s, then 10 s every 1 min
    }
    dry {
        time      3 h
    }
    wash {
        fills     10 inversions
    }
}
";
const CARD: [&str; 6] = ["card", "plain", "--at", "20C", "--rolls", "2"];
const ALLOW: &str = "    allow     wet-after-dry because \"it is a trial\"\n";

/// A root with these severities in its config file.
fn config(levels: &str) -> Run {
    Run::new()
        .file(".git/HEAD", "")
        .file("wetside.toml", format!("[levels]\n{levels}\n"))
        .file("hasty.wet", HASTY)
        .file("below/hasty.wet", HASTY)
}

fn check_hasty(run: Run) -> Run {
    run.again().args(["check", "hasty.wet"])
}

#[test]
fn a_config_file_sets_the_severity_of_a_rule() {
    assert_eq!(check_hasty(config("short-development = \"off\"")).succeeds(), "nothing to fix in 1 file\n");
    let advice = check_hasty(config("short-development = \"advice\"")).succeeds();
    assert!(advice.ends_with("\n1 piece of advice in 1 file\n"), "{advice}");
    let (error, _) = check_hasty(config("short-development = \"error\"")).fails(1);
    assert!(error.ends_with("\n1 error in 1 file\n"), "{error}");
}

/// The root is the nearest folder with `.git`, else the current folder.
#[test]
fn a_config_file_is_found_from_a_folder_below_its_root() {
    let run = config("short-development = \"error\"").below("below").args(["check"]);
    let (error, _) = run.fails(1);
    assert!(error.contains(" below/hasty.wet:5:9\n") && error.ends_with("\n1 error in 1 file\n"), "{error}");
    let bare = Run::new()
        .file("wetside.toml", "[levels]\nshort-development = \"error\"\n")
        .file("below/hasty.wet", HASTY);
    let bare = bare.args(["check"]);
    assert!(bare.fails(1).0.ends_with("\n1 error in 1 file\n"));
    let bare = bare.again().below("below").args(["check"]);
    assert!(bare.succeeds().ends_with("\n1 warning in 1 file\n"));
}

/// Only the config file of the inner root counts.
#[test]
fn the_nearest_root_has_the_config_file() {
    let run = config("short-development = \"error\"").file("below/.git", "gitdir: elsewhere\n");
    let run = run.below("below").args(["check"]);
    assert!(run.succeeds().ends_with("\n1 warning in 1 file\n"));
}

#[test]
fn an_option_overrides_or_ignores_the_config_file() {
    let with = |arguments: [&str; 2]| check_hasty(config("short-development = \"error\"")).args(arguments);
    assert_eq!(with(["--level", "short-development=off"]).succeeds(), "nothing to fix in 1 file\n");
    let alone = check_hasty(config("short-development = \"error\"")).arg("--no-config").succeeds();
    assert!(alone.ends_with("\n1 warning in 1 file\n"), "{alone}");
    let other = with(["--level", "short-fix=off"]).fails(1).0;
    assert!(other.ends_with("\n1 error in 1 file\n"), "{other}");
    assert_eq!(with(["--level", "short-development=off"]).arg("--no-config").succeeds().lines().count(), 1);
}

/// Each config file, the line and column of its error, check_hasty by hand, and the message. A misspelt name turns no rule
/// off.
#[test]
fn an_invalid_config_file_is_refused() {
    let wrong = [
        ("x = 1\n", "1:1", "unknown field `x`"),
        ("# Ours.\n\n[level]\nshort-fix = \"off\"\n", "3:2", "unknown field `level`"),
        ("[levels]\nshort-fixx = \"off\"\n", "2:1", "there is no rule 'short-fixx'; did you mean short-fix?"),
        ("[levels]\n  unknown-word = \"off\"\n", "2:3", "there is no rule 'unknown-word'"),
        (
            "[levels]\nshort-fix = \"loud\"\n",
            "2:13",
            "'loud' is not a severity; write off, advice, warning or error",
        ),
        ("[levels]\nshort-fix = false\n", "2:13", "invalid type: boolean"),
        ("[levels]\nshort-fix = off\n", "2:13", "must be quoted"),
        ("[levels\n", "1:8", "unclosed table"),
        ("\u{1b}[2J = \u{202e}\n", "1:2", "key with no value"),
    ];
    for (text, place, said) in wrong {
        let run = Run::new().file("wetside.toml", text).file("hasty.wet", HASTY).args(["check"]);
        let (stdout, stderr) = run.fails(2);
        assert!(!stderr.contains(['\u{1b}', '\u{202e}']), "{stderr:?}");
        let (_, example) = stderr.split_once("\n\n").unwrap();
        let told = stderr.split_whitespace().filter(|word| *word != "|").collect::<Vec<_>>().join(" ");
        let begins = format!("x wetside.toml:{place}: ");
        assert!(stdout.is_empty() && told.starts_with(&begins) && told.contains(said), "{text:?}: {told}");
        let run = run.again().args(["check", "--no-config"]);
        assert!(run.succeeds().ends_with("\n1 warning in 1 file\n"), "{text:?}");
        // The example of the help text is valid.
        let run = run.file("wetside.toml", example).again().args(["check"]);
        assert!(run.succeeds().ends_with("\n1 warning in 1 file\n"), "{example}");
    }
}

/// Two roots: one by its `.git`, the other by its config file.
fn roots() -> Run {
    let error = "[levels]\nshort-development = \"error\"\n";
    Run::new()
        .file("strict/.git/HEAD", "")
        .file("strict/wetside.toml", error)
        .file("strict/in/hasty.wet", HASTY)
        .file("plain/hasty.wet", HASTY)
        .file("elsewhere/wetside.toml", "[levels]\nshort-development = \"off\"\n")
}

#[test]
fn a_recipe_uses_the_config_file_of_its_own_root_from_any_folder() {
    for path in ["../strict/in/hasty.wet", "../strict/in", "../strict"] {
        let run = roots().below("elsewhere").args(["check", path]);
        assert!(run.fails(1).0.ends_with("\n1 error in 1 file\n"), "{path}");
    }
    let run = roots().below("strict").args(["check", "../plain"]);
    assert!(run.succeeds().ends_with("\n1 warning in 1 file\n"));
    let run = roots().below("strict/in").args(["check", "-"]).stdin(HASTY);
    assert!(run.fails(1).0.ends_with("\n1 error in 1 file\n"));
}

#[test]
fn a_call_over_different_config_files_is_refused() {
    let run = roots().args(["check", "strict", "plain/hasty.wet"]);
    let (stdout, stderr) = run.fails(2);
    let stderr = stderr.replace("\n  | ", " ");
    let said = "these paths have different wetside.toml files: none for plain/hasty.wet, strict/wetside.toml for strict\n";
    assert!(stdout.is_empty() && stderr.contains(said), "{stderr}");
    let run = run.again().args(["check", "strict", "plain/hasty.wet", "--no-config"]);
    assert!(run.succeeds().ends_with("\n2 warnings in 2 files\n"));
    // Without config files, roots do not differ.
    let run = roots().file("bare/hasty.wet", HASTY).args(["check", "plain", "bare/hasty.wet"]);
    assert!(run.succeeds().ends_with("\n2 warnings in 2 files\n"));
}

/// A recipe with an error by the default severity cannot be compared.
#[test]
fn a_comparison_uses_the_config_file_of_each_side() {
    let lenient = "[levels]\nwet-after-dry = \"warning\"\n";
    let run =
        Run::new().file("a/a.wet", WET_AGAIN).file("b/b.wet", WET_AGAIN).file("a/wetside.toml", lenient);
    let run = run.args(["compare", "a/a.wet", "b/b.wet"]);
    let (stdout, stderr) = run.fails(2);
    assert!(
        stdout.is_empty() && stderr.contains(" at b/b.wet:") && !stderr.contains(" at a/a.wet:"),
        "{stderr}"
    );
    let run = run.file("b/wetside.toml", lenient);
    assert!(run.succeeds().ends_with("the same work\n"));
    let (_, stderr) = run.again().args(["compare", "a/a.wet", "b/b.wet", "--no-config"]).fails(2);
    assert!(stderr.contains(" at a/a.wet:") && stderr.contains(" at b/b.wet:"), "{stderr}");
}

#[test]
fn no_config_makes_a_card_ignore_the_config_file() {
    let lenient = "[levels]\nwet-after-dry = \"warning\"\n";
    let run = Run::new().file("a.wet", WET_AGAIN).file("wetside.toml", lenient).args(CARD);
    run.succeeds();
    let (stdout, stderr) = run.again().args(CARD).arg("--no-config").fails(1);
    assert!(stdout.is_empty() && stderr.contains("error[wet-after-dry]"), "{stderr}");
}

#[test]
fn an_empty_config_file_changes_nothing() {
    for text in ["", "[levels]\n", "# Ours.\n"] {
        let run = Run::new().file("wetside.toml", text).file("hasty.wet", HASTY).args(["check"]);
        assert!(run.succeeds().ends_with("\n1 warning in 1 file\n"), "{text:?}");
    }
}

#[test]
fn a_card_prints_an_error_that_the_config_file_makes_a_warning() {
    let run = Run::new().file("a.wet", WET_AGAIN).args(CARD);
    let (stdout, stderr) = run.fails(1);
    assert!(stdout.is_empty() && stderr.contains("error[wet-after-dry]"), "{stderr}");
    let run = run.file("wetside.toml", "[levels]\nwet-after-dry = \"warning\"\n");
    let card = run.succeeds();
    let warnings = card.split_once("\nWARNINGS\n").unwrap_or_else(|| panic!("{card}")).1;
    assert!(warnings.contains("the step wash comes after drying"), "{card}");
}

#[test]
fn a_card_leaves_out_allowed_findings() {
    let allowed =
        WET_AGAIN.replacen("    film      plain-film\n", &format!("    film      plain-film\n{ALLOW}"), 1);
    let run = Run::new().file("a.wet", &allowed).args(CARD);
    for run in [run, Run::new().file("a.wet", &allowed).file("wetside.toml", "").args(CARD)] {
        let card = run.succeeds();
        assert!(!card.contains("after drying") && !card.contains("WARNINGS"), "{card}");
        assert!(!card.contains("it is a trial"), "{card}");
    }
    // Even with the highest severity.
    let run =
        Run::new().file("a.wet", &allowed).file("wetside.toml", "[levels]\nwet-after-dry = \"error\"\n");
    assert!(!run.args(CARD).succeeds().contains("after drying"));
}

#[test]
fn a_card_leaves_out_rules_that_the_config_file_turns_off() {
    let run = Run::new().file("a.wet", WET_AGAIN).file("wetside.toml", "[levels]\nwet-after-dry = \"off\"\n");
    let card = run.args(CARD).succeeds();
    assert!(!card.contains("after drying") && !card.contains("WARNINGS"), "{card}");
}

/// A recipe cannot make the program read or quote a file outside its root.
#[cfg(unix)]
#[test]
fn a_config_file_that_is_a_link_out_of_its_root_is_not_opened() {
    use std::os::unix::fs::symlink;
    for (target, secret) in
        [("../secret.toml", "tidegate = 4711\n"), ("../secret.toml", "[levels]\n"), ("../gone", "")]
    {
        let run = Run::new().file("secret.toml", secret).file("shelf/hasty.wet", HASTY);
        symlink(target, run.folder().join("shelf/wetside.toml")).unwrap();
        let run = run.below("shelf").args(["check"]);
        let (stdout, stderr) = run.fails(2);
        let stderr = stderr.replace("\n  | ", " ");
        let said = "wetside.toml is a link that leads out of its root\n";
        assert!(stdout.is_empty() && stderr.contains(said) && !stderr.contains("tidegate"), "{stderr}");
        assert!(run.again().args(["check", "--no-config"]).succeeds().ends_with("\n1 warning in 1 file\n"));
    }
    // Within the root a link is allowed.
    let run = config("short-fix = \"off\"").file("strict.toml", "[levels]\nshort-development = \"error\"\n");
    std::fs::remove_file(run.folder().join("wetside.toml")).unwrap();
    symlink("strict.toml", run.folder().join("wetside.toml")).unwrap();
    assert!(check_hasty(run).fails(1).0.ends_with("\n1 error in 1 file\n"));
}

#[test]
fn an_oversized_config_file_is_refused_unread() {
    let run = Run::new().file("hasty.wet", HASTY).file("wetside.toml", "").args(["check"]);
    let file = std::fs::File::options().write(true).open(run.folder().join("wetside.toml")).unwrap();
    file.set_len(8 << 30).unwrap();
    let (stdout, stderr) = run.fails(2);
    assert!(
        stdout.is_empty() && stderr.contains("wetside.toml cannot be read: it is over 1 MiB"),
        "{stderr}"
    );
}

//! A house's own weights, `wetside.toml` at the root of what is named: found from every folder, held to its form,
//! outranked by the call, and minded by `card` and `compare`.

use super::HASTY;
use crate::program::Run;

/// Its last step comes after the drying, which is an error at its usual weight.
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

/// A house with these weights, whose root is the folder that the program runs in.
fn house(levels: &str) -> Run {
    Run::new()
        .file(".git/HEAD", "")
        .file("wetside.toml", format!("[levels]\n{levels}\n"))
        .file("hasty.wet", HASTY)
        .file("below/hasty.wet", HASTY)
}

fn counted(run: Run) -> Run {
    run.again().args(["check", "hasty.wet"])
}

#[test]
fn a_house_weighs_a_rule() {
    assert_eq!(counted(house("short-development = \"off\"")).succeeds(), "nothing to fix in 1 file\n");
    let advice = counted(house("short-development = \"advice\"")).succeeds();
    assert!(advice.ends_with("\n1 piece of advice in 1 file\n"), "{advice}");
    let (error, _) = counted(house("short-development = \"error\"")).fails(1);
    assert!(error.ends_with("\n1 error in 1 file\n"), "{error}");
}

/// The root is where `.git` is: a folder above, if there is one, else this folder and none above it.
#[test]
fn a_house_is_found_from_a_folder_below_its_root() {
    let run = house("short-development = \"error\"").below("below").args(["check"]);
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

/// The house of a root that is further in is that of the inner one alone.
#[test]
fn the_nearest_root_is_the_house() {
    let run = house("short-development = \"error\"").file("below/.git", "gitdir: elsewhere\n");
    let run = run.below("below").args(["check"]);
    assert!(run.succeeds().ends_with("\n1 warning in 1 file\n"));
}

#[test]
fn a_call_outranks_the_house_and_may_leave_it() {
    let with = |arguments: [&str; 2]| counted(house("short-development = \"error\"")).args(arguments);
    assert_eq!(with(["--level", "short-development=off"]).succeeds(), "nothing to fix in 1 file\n");
    let alone = counted(house("short-development = \"error\"")).arg("--no-config").succeeds();
    assert!(alone.ends_with("\n1 warning in 1 file\n"), "{alone}");
    let other = with(["--level", "short-fix=off"]).fails(1).0;
    assert!(other.ends_with("\n1 error in 1 file\n"), "{other}");
    assert_eq!(with(["--level", "short-development=off"]).arg("--no-config").succeeds().lines().count(), 1);
}

/// Each file, the line and column of what is wrong in it, counted by hand, and what is said of it. No rule is
/// off because a letter of it was wrong.
#[test]
fn a_house_that_says_anything_else_is_refused() {
    let wrong = [
        ("x = 1\n", "1:1", "unknown field `x`"),
        ("# Ours.\n\n[level]\nshort-fix = \"off\"\n", "3:2", "unknown field `level`"),
        ("[levels]\nshort-fixx = \"off\"\n", "2:1", "there is no rule 'short-fixx'; did you mean short-fix?"),
        ("[levels]\n  unknown-word = \"off\"\n", "2:3", "there is no rule 'unknown-word'"),
        (
            "[levels]\nshort-fix = \"loud\"\n",
            "2:13",
            "'loud' is no weight; write off, advice, warning or error",
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
        let begins = format!("x wetside.toml:{place} is at fault: ");
        assert!(stdout.is_empty() && told.starts_with(&begins) && told.contains(said), "{text:?}: {told}");
        let run = run.again().args(["check", "--no-config"]);
        assert!(run.succeeds().ends_with("\n1 warning in 1 file\n"), "{text:?}");
        // What is shown to be copied is a house that holds.
        let run = run.file("wetside.toml", example).again().args(["check"]);
        assert!(run.succeeds().ends_with("\n1 warning in 1 file\n"), "{example}");
    }
}

/// Two folders, each a house of its own: one by its `.git`, the other as the folder that its file stands in.
fn houses() -> Run {
    let error = "[levels]\nshort-development = \"error\"\n";
    Run::new()
        .file("strict/.git/HEAD", "")
        .file("strict/wetside.toml", error)
        .file("strict/in/hasty.wet", HASTY)
        .file("plain/hasty.wet", HASTY)
        .file("elsewhere/wetside.toml", "[levels]\nshort-development = \"off\"\n")
}

#[test]
fn a_recipe_is_weighed_by_its_own_house_wherever_the_call_is_made() {
    for path in ["../strict/in/hasty.wet", "../strict/in", "../strict"] {
        let run = houses().below("elsewhere").args(["check", path]);
        assert!(run.fails(1).0.ends_with("\n1 error in 1 file\n"), "{path}");
    }
    let run = houses().below("strict").args(["check", "../plain"]);
    assert!(run.succeeds().ends_with("\n1 warning in 1 file\n"));
    let run = houses().below("strict/in").args(["check", "-"]).stdin(HASTY);
    assert!(run.fails(1).0.ends_with("\n1 error in 1 file\n"));
}

#[test]
fn a_call_that_names_several_houses_is_told_which() {
    let run = houses().args(["check", "strict", "plain/hasty.wet"]);
    let (stdout, stderr) = run.fails(2);
    let stderr = stderr.replace("\n  | ", " ");
    let said = "what is named has several houses: none for plain/hasty.wet, strict/wetside.toml for strict\n";
    assert!(stdout.is_empty() && stderr.contains(said), "{stderr}");
    let run = run.again().args(["check", "strict", "plain/hasty.wet", "--no-config"]);
    assert!(run.succeeds().ends_with("\n2 warnings in 2 files\n"));
    // Where none has a file of its weights, one house is like another.
    let run = houses().file("bare/hasty.wet", HASTY).args(["check", "plain", "bare/hasty.wet"]);
    assert!(run.succeeds().ends_with("\n2 warnings in 2 files\n"));
}

/// An error by the rule's own weight keeps a recipe from being compared.
#[test]
fn a_comparison_weighs_each_side_by_its_house() {
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
fn a_card_leaves_the_house_out_where_it_is_told_to() {
    let lenient = "[levels]\nwet-after-dry = \"warning\"\n";
    let run = Run::new().file("a.wet", WET_AGAIN).file("wetside.toml", lenient).args(CARD);
    run.succeeds();
    let (stdout, stderr) = run.again().args(CARD).arg("--no-config").fails(1);
    assert!(stdout.is_empty() && stderr.contains("error[wet-after-dry]"), "{stderr}");
}

#[test]
fn an_empty_house_changes_nothing() {
    for text in ["", "[levels]\n", "# Ours.\n"] {
        let run = Run::new().file("wetside.toml", text).file("hasty.wet", HASTY).args(["check"]);
        assert!(run.succeeds().ends_with("\n1 warning in 1 file\n"), "{text:?}");
    }
}

#[test]
fn a_card_has_as_a_doubt_what_the_house_made_a_warning() {
    let run = Run::new().file("a.wet", WET_AGAIN).args(CARD);
    let (stdout, stderr) = run.fails(1);
    assert!(stdout.is_empty() && stderr.contains("error[wet-after-dry]"), "{stderr}");
    let run = run.file("wetside.toml", "[levels]\nwet-after-dry = \"warning\"\n");
    let card = run.succeeds();
    let warnings = card.split_once("\nWARNINGS\n").unwrap_or_else(|| panic!("{card}")).1;
    assert!(warnings.contains("the step wash comes after drying"), "{card}");
}

#[test]
fn what_a_recipe_allows_never_reaches_the_card() {
    let allowed =
        WET_AGAIN.replacen("    film      plain-film\n", &format!("    film      plain-film\n{ALLOW}"), 1);
    let run = Run::new().file("a.wet", &allowed).args(CARD);
    for run in [run, Run::new().file("a.wet", &allowed).file("wetside.toml", "").args(CARD)] {
        let card = run.succeeds();
        assert!(!card.contains("after drying") && !card.contains("WARNINGS"), "{card}");
        assert!(!card.contains("it is a trial"), "{card}");
    }
    // Even where the house makes it as heavy as it can be.
    let run =
        Run::new().file("a.wet", &allowed).file("wetside.toml", "[levels]\nwet-after-dry = \"error\"\n");
    assert!(!run.args(CARD).succeeds().contains("after drying"));
}

#[test]
fn what_the_house_turns_off_never_reaches_the_card() {
    let run = Run::new().file("a.wet", WET_AGAIN).file("wetside.toml", "[levels]\nwet-after-dry = \"off\"\n");
    let card = run.args(CARD).succeeds();
    assert!(!card.contains("after drying") && !card.contains("WARNINGS"), "{card}");
}

/// Whoever gives recipes away does not choose which file elsewhere is read, and no word of it comes back.
#[cfg(unix)]
#[test]
fn a_house_that_is_a_link_out_of_its_root_is_not_opened() {
    use std::os::unix::fs::symlink;
    for (target, secret) in
        [("../secret.toml", "tidegate = 4711\n"), ("../secret.toml", "[levels]\n"), ("../gone", "")]
    {
        let run = Run::new().file("secret.toml", secret).file("shelf/hasty.wet", HASTY);
        symlink(target, run.folder().join("shelf/wetside.toml")).unwrap();
        let run = run.below("shelf").args(["check"]);
        let (stdout, stderr) = run.fails(2);
        let stderr = stderr.replace("\n  | ", " ");
        let said = "wetside.toml is a link that leads to no file of its root, and was not opened\n";
        assert!(stdout.is_empty() && stderr.contains(said) && !stderr.contains("tidegate"), "{stderr}");
        assert!(run.again().args(["check", "--no-config"]).succeeds().ends_with("\n1 warning in 1 file\n"));
    }
    // Within the root a link is as good as the file.
    let run = house("short-fix = \"off\"").file("strict.toml", "[levels]\nshort-development = \"error\"\n");
    std::fs::remove_file(run.folder().join("wetside.toml")).unwrap();
    symlink("strict.toml", run.folder().join("wetside.toml")).unwrap();
    assert!(counted(run).fails(1).0.ends_with("\n1 error in 1 file\n"));
}

#[test]
fn a_house_that_is_too_large_is_refused_unread() {
    let run = Run::new().file("hasty.wet", HASTY).file("wetside.toml", "").args(["check"]);
    let file = std::fs::File::options().write(true).open(run.folder().join("wetside.toml")).unwrap();
    file.set_len(8 << 30).unwrap();
    let (stdout, stderr) = run.fails(2);
    assert!(
        stdout.is_empty() && stderr.contains("wetside.toml cannot be read: it is over 1 MiB"),
        "{stderr}"
    );
}

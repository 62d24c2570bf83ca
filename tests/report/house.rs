//! A house's own weights, `wetside.toml` at the root: found from every folder below, held to its form, outranked
//! by the call, and minded by the card.

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
    assert_eq!(counted(house("short-development = \"off\"")).succeeds(), "nothing to mend in 1 file\n");
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
    assert!(error.contains(" hasty.wet:5:9\n") && error.ends_with("\n1 error in 1 file\n"), "{error}");
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
    assert_eq!(with(["--level", "short-development=off"]).succeeds(), "nothing to mend in 1 file\n");
    let alone = counted(house("short-development = \"error\"")).arg("--isolated").succeeds();
    assert!(alone.ends_with("\n1 warning in 1 file\n"), "{alone}");
    let other = with(["--level", "short-fix=off"]).fails(1).0;
    assert!(other.ends_with("\n1 error in 1 file\n"), "{other}");
    assert_eq!(with(["--level", "short-development=off"]).arg("--isolated").succeeds().lines().count(), 1);
}

/// Each file, and what is said of it. No rule is off because a letter of it was wrong.
#[test]
fn a_house_that_says_anything_else_is_refused() {
    let wrong = [
        ("x = 1\n", "unknown field `x`"),
        ("[level]\nshort-fix = \"off\"\n", "unknown field `level`"),
        ("[levels]\nshort-fixx = \"off\"\n", "there is no rule 'short-fixx'; did you mean short-fix?"),
        ("[levels]\nunknown-word = \"off\"\n", "there is no rule 'unknown-word'"),
        ("[levels]\nshort-fix = \"loud\"\n", "'loud' is no weight; write off, advice, warning or error"),
        ("[levels]\nshort-fix = false\n", "invalid type: boolean"),
        ("[levels\n", "is at fault"),
        ("\u{1b}[2J = \u{202e}\n", "is at fault"),
    ];
    for (text, said) in wrong {
        let run = Run::new().file("wetside.toml", text).file("hasty.wet", HASTY).args(["check"]);
        let (stdout, stderr) = run.fails(2);
        assert!(!stderr.contains(['\u{1b}', '\u{202e}']), "{stderr:?}");
        // A long line is wrapped wherever the folder's own path ends.
        let stderr = stderr.split_whitespace().filter(|word| *word != "|").collect::<Vec<_>>().join(" ");
        assert!(stdout.is_empty() && stderr.contains(said), "{text:?}: {stderr}");
        assert!(stderr.contains("wetside.toml is at fault") && stderr.contains("--isolated"), "{stderr}");
        let run = run.again().args(["check", "--isolated"]);
        assert!(run.succeeds().ends_with("\n1 warning in 1 file\n"), "{text:?}");
    }
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

//! Pieces of film that are tried before the rolls are loaded: in the developer (`--dunk ok`) and in the fixer
//! (`--clears 1:20`), and a clearing time that grows from evening to evening.

use serde_json::Value;

use crate::program::Run;

/// A film, its developer, and a bottle of fixer.
const SHELF: &str = "\
wetside 2
allow one-time-for-a-wide-band because \"the leaders are what is tested\"

film marsh-100 {
    clears    60 s in fixer 1+4 at 20 C
}
solution soup {
    role      developer
    contains  metol, sodium-sulfite
    needs     5 ml per roll
}
solution fixer {
    role      fixer
    contains  ammonium-thiosulfate
    treats    100 rolls per 1 l at 1+4
}
tank two {
    reels     120 x 2, 300 ml each
    holds     600 ml
    fill      10 s
    drain     10 s
}
bath fix-a {
    in        fixer 1+4
    volume    1 l
    mixed     2026-11-01
}
recipe marsh {
    film      marsh-100
    develop {
        in        soup 1+9, one-shot
        time      10:00
        between   15 C and 24 C
        agitate   first 30 s, then 10 s every 1 min
    }
    fix {
        in        fixer 1+4, reused
        time      2 x clearing, at least 1:00
        between   15 C and 24 C
    }
    wash {
        fills     5, 10, 20 inversions
    }
}
recipe marsh-pushed from marsh {
    develop {
        time      15:00
    }
}
recipe dry-only {
    film      marsh-100
    fix {
        in        fixer 1+4, reused
        time      2 x clearing, at least 1:00
        between   15 C and 24 C
    }
}
";

fn evening(command: &str, text: String, more: &[&str]) -> Run {
    let run = Run::new().file("bench.wet", text).args([command, "marsh", "--tank", "two", "--at", "20C"]);
    let run = run.args(["--rolls", "2x120", "--date", "2026-11-30", "--bath", "fix-a"]);
    more.iter().fold(run, |run, arg| run.arg(*arg))
}

fn card(text: impl Into<String>, more: &[&str]) -> String {
    evening("card", text.into(), more).succeeds()
}

const DUNK: &str = "develop: dip a bit of film";
const CLIP: &str = "fix: dip another bit";

#[test]
fn the_card_asks_for_both_until_they_are_done() {
    let asked = card(SHELF, &[]);
    assert!(asked.contains("BEFORE YOU LOAD") && asked.contains(DUNK) && asked.contains(CLIP), "{asked}");
    let half = card(SHELF, &["--dunk", "ok"]);
    assert!(half.contains("a leader turned dark tonight") && !half.contains(DUNK), "{half}");
    assert!(half.contains(CLIP), "{half}");
    let done = card(SHELF, &["--dunk", "ok", "--clears", "1:20"]);
    assert!(!done.contains("BEFORE YOU LOAD"), "{done}");
}

/// A print shows by itself whether its developer works. The first bath of two, and a developer for half an hour,
/// darken no film within a minute.
#[test]
fn no_minute_is_asked_of_a_print_of_two_baths_or_of_weak_developer() {
    let paper =
        SHELF.replace("film marsh-100", "paper marsh-100").replace("film      marsh", "paper     marsh");
    let print = card(paper, &[]);
    assert!(!print.contains("BEFORE YOU LOAD"), "{print}");
    let second = "    develop second {\n        in        soup 1+9, one-shot\n        time      4:00\n        between   15 C and 24 C\n        agitate   none\n    }\n    fix {";
    assert!(!card(SHELF.replacen("    fix {", second, 1), &[]).contains(DUNK));
    assert!(card(SHELF.replacen("10:00", "20:00", 1), &[]).contains(DUNK));
    assert!(!card(SHELF.replacen("10:00", "20:01", 1), &[]).contains(DUNK));
}

#[test]
fn a_dunk_needs_a_developer_and_has_one_answer() {
    let run = Run::new().file("bench.wet", SHELF).args(["card", "dry-only", "--tank", "two", "--at", "20C"]);
    let told = run.args(["--rolls", "2x120", "--dunk", "ok"]).fails(2).1;
    assert!(told.contains("--dunk is for a developer"), "{told}");
    assert!(
        evening("card", SHELF.to_owned(), &["--dunk", "pale"]).fails(2).1.contains("[possible values: ok]")
    );
}

#[test]
fn record_writes_the_dunk_and_the_clearing_time() {
    let run = evening("record", SHELF.to_owned(), &["--dunk", "ok", "--clears", "1:20"]);
    run.succeeds();
    let sessions = std::fs::read_dir(run.folder().join("journal")).unwrap();
    let text: String = sessions.map(|file| std::fs::read_to_string(file.unwrap().path()).unwrap()).collect();
    assert!(text.contains("    dunk      ok\n    cleared   fix 1:20\n"), "{text}");
}

#[test]
fn json_has_the_dunk() {
    let json = |more: &[&str]| -> Value {
        serde_json::from_str(&card(SHELF, &[&["--as", "json"], more].concat())).unwrap()
    };
    assert_eq!(json(&["--dunk", "ok"])["conditions"]["dunk"], "ok");
    assert_eq!(json(&[])["conditions"]["dunk"], Value::Null);
}

/// Sessions with the bottle; each has its day in November, its recipe, its temperature and its clearing time.
fn with_sessions(sessions: &[(u32, &str, &str, &str)]) -> String {
    let session = |(day, recipe, at, clears): &(u32, &str, &str, &str)| {
        format!(
            "session s-{day} {{\n    date      2026-11-{day:02}\n    recipe    {recipe}, fingerprint \"46ac83d1\"\n    \
             at        {at} C\n    slot      1 120\n    bath      fix-a\n    dunk      ok\n    cleared   fix {clears}\n}}\n"
        )
    };
    sessions.iter().map(session).fold(SHELF.to_owned(), |text, one| text + &one)
}

const GROWING: [(u32, &str, &str, &str); 2] = [(2, "marsh", "20", "0:40"), (9, "marsh", "20", "0:45")];

/// 0:50 is 1.25 times 0:40. A third time that is longer by less, or shorter than the one before, is within what a
/// person sees.
#[test]
fn a_clearing_time_that_grows_is_advice_on_the_card() {
    let grown = card(with_sessions(&GROWING), &["--clears", "0:50"]);
    let words = "'fix-a': a leader cleared in 0:40 on 2026-11-02, 0:45 on 2026-11-09, 0:50 on 2026-11-30: it wears out";
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat(&grown).contains(words), "{grown}");
    for quiet in ["0:49", "0:44"] {
        assert!(!card(with_sessions(&GROWING), &["--clears", quiet]).contains("wears out"), "{quiet}");
    }
    let twice = flat(&card(with_sessions(&GROWING), &["--clears", "1:20"]));
    assert!(twice.contains("1:20 on 2026-11-30: it is exhausted: mix a new bath"), "{twice}");
}

/// Two times grow only if the second is longer by a half: 1:00 after 0:40.
#[test]
fn two_times_grow_by_a_half() {
    let one = &GROWING[..1];
    assert!(card(with_sessions(one), &["--clears", "1:00"]).contains("wears out"));
    assert!(!card(with_sessions(one), &["--clears", "0:59"]).contains("wears out"));
}

/// Another recipe may be for another film, and a colder fixer clears more slowly.
#[test]
fn only_times_of_one_recipe_at_one_temperature_are_compared() {
    for other in [("marsh-pushed", "20"), ("marsh", "22.1")] {
        let first = (2, other.0, other.1, "0:40");
        assert!(!card(with_sessions(&[first]), &["--clears", "1:10"]).contains("wears out"), "{other:?}");
    }
    assert!(card(with_sessions(&[(2, "marsh", "22", "0:40")]), &["--clears", "1:10"]).contains("wears out"));
}

#[test]
fn baths_tells_of_the_growth() {
    let third = (16, "marsh", "20", "0:52");
    let run = |form: &[&str]| {
        let text = with_sessions(&[GROWING[0], GROWING[1], third]);
        let run = Run::new().file("bench.wet", text).args(["baths", "--on", "2026-11-30"]);
        form.iter().fold(run, |run, arg| run.arg(*arg)).succeeds()
    };
    let line =
        "fix-a: a leader cleared in 0:40 on 2026-11-02, 0:45 on 2026-11-09, 0:52 on 2026-11-16: it wears out";
    let shown = run(&[]).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(shown.contains(line), "{shown}");
    let json: Value = serde_json::from_str(&run(&["--as", "json"])).unwrap();
    assert_eq!(json["bottles"][0]["growing"][2]["clears_ms"], 52_000);
}

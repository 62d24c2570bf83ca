//! A darkroom with errors: which card says what is not counted, which one is refused, and that no command counts on a
//! darkroom that it has read in part.

use crate::program::Run;

/// A litre of a fixer that treats ten rolls, and a stop that treats four.
const BENCH: &str = "\
wetside 1
film marsh-100 {
    clears 60 s in fixer 1+4 at 20 C
}
solution soup {
    role developer
    contains metol, sodium-sulfite
}
solution acid {
    role stop
    contains citric-acid
    treats 4 rolls per 1 l
}
solution fixer {
    role fixer
    contains ammonium-thiosulfate
    treats 10 rolls per 1 l at 1+4
}
tank two {
    reels 120 x 2, 500 ml each
    holds 1 l
    fill 10 s
    drain 10 s
}
recipe marsh {
    film marsh-100
    develop {
        in soup, one-shot
        time 10:00
        between 18 C and 24 C
        agitate first 30 s, then 10 s every 1 min
    }
    stop {
        in acid, reused
        time 1:00
        between 18 C and 24 C
        agitate first 10 s, then 5 s every 30 s
    }
    fix {
        in fixer 1+4, reused
        time 3 x clearing, at least 1:00
        between 18 C and 24 C
        agitate first 10 s, then 5 s every 30 s
    }
    wash {
        fills 5, 10, 20 inversions
    }
}
";

/// The two bottles, with more text.
fn bottles(more: &str) -> String {
    let bottle = |name: &str, of: &str| {
        format!("bath {name} {{\n    in {of}\n    volume 1 l\n    mixed 2020-11-02\n}}\n")
    };
    format!(
        "wetside 1\nuse \"bench.wet\"\n{}{}{more}",
        bottle("fix-a", "fixer 1+4"),
        bottle("stop-a", "acid")
    )
}

/// A session file with this header that used these baths for one roll.
fn session(header: &str, baths: &str) -> String {
    format!(
        "wetside 2\nuse \"../darkroom.wet\"\n{header} {{\n    date 2026-11-05\n    recipe marsh, fingerprint \
         \"46ac83d1\"\n    slot 1 120\n{baths}}}\n"
    )
}

const SESSION: &str = "journal/2026-11-05-7m2q.wet";
const FIX: &str = "    bath fix-a\n";
const BOTH: &str = "    bath fix-a\n    bath stop-a\n";

/// A darkroom with two bottles and a file of a session.
fn with(session: impl AsRef<[u8]>) -> Run {
    Run::new().file("bench.wet", BENCH).file("darkroom.wet", bottles("")).file(SESSION, session)
}

fn evening(run: Run, command: &str, more: &[&str]) -> Run {
    let run = run.again().args([command, "marsh", "--at", "20C", "--rolls", "2x120"]);
    more.iter().fold(run, |run, one| run.arg(*one))
}

const ANYWAY: [&str; 4] = ["--anyway", "fix-a", "--anyway", "stop-a"];
const DAY: [&str; 2] = ["--date", "2026-11-25"];

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The report of a call that is refused, which names the bottles and has one error.
#[track_caller]
fn refused(run: Run, words: &[&str]) {
    let told = flat(&run.fails(1).1);
    for word in words {
        assert!(told.contains(word), "{word}: {told}");
    }
    assert_eq!(told.matches("error[").count(), 1, "{told}");
}

#[test]
fn a_session_with_an_error_is_an_error_of_the_bottles_it_used() {
    let run = with(session("session first", BOTH));
    let words = [
        "error[bottle-state-unknown]: this session has errors, so the state of stop-a, fix-a is not known",
        "at journal/2026-11-05-7m2q.wet:3:",
        "mend its errors, which this lists: wetside check journal/2026-11-05-7m2q.wet",
        "--anyway stop-a --anyway fix-a",
    ];
    for command in ["card", "follow"] {
        let more = if command == "card" { &DAY[..] } else { &["--speed", "10000"] };
        refused(evening(run.again(), command, more), &words);
    }
    // Only the fixer is in doubt.
    let fixer = with(session("session first", FIX));
    refused(evening(fixer, "card", &DAY), &["so the state of fix-a is not known"]);
}

#[test]
fn no_other_command_counts_on_a_session_with_an_error() {
    let list = "backlog autumn {\n    roll \"E-01\" 120 of marsh-100\n}\n";
    let run = with(session("session first", BOTH)).file("darkroom.wet", bottles(list));
    let reserved = ["error[reserved-name]", "journal/2026-11-05-7m2q.wet:3:"];
    refused(run.again().args(["baths", "--on", "2026-11-25"]), &reserved);
    refused(run.again().args(["plan", "autumn", "--on", "2026-11-25"]), &reserved);
    refused(evening(run, "record", &DAY), &reserved);
}

#[test]
fn anyway_takes_a_bottle_as_it_is_counted_and_the_card_says_so() {
    let run = with(session("session first", BOTH));
    let one = [&DAY[..], &["--anyway", "fix-a"]].concat();
    refused(evening(run.again(), "card", &one), &["so the state of stop-a is not known"]);
    let text = flat(&evening(run, "card", &[&DAY[..], &ANYWAY].concat()).succeeds());
    for bottle in ["fix-a", "stop-a"] {
        let line = format!(
            "anyway \"{bottle}\": the session at journal/2026-11-05-7m2q.wet:3 has errors, and is not counted"
        );
        assert!(text.contains(&line), "{line}: {text}");
    }
}

#[test]
fn a_line_that_may_name_any_bottle_is_an_error_of_all() {
    let all = ["error[bottle-state-unknown]", "the state of stop-a, fix-a is not known"];
    let misspelt = with(session("session one", "    bath fix-a\n    bth stop-a\n"));
    let unknown = with(session("session one", "    bath fix-b\n"));
    let no_session = with(session("sesion one", BOTH));
    let unread_use = with(session("session one", BOTH).replace("darkroom.wet", "darkrom.wet"));
    let half_merged = with(format!("<<<<<<< one\n{}", session("session one", BOTH)));
    let retraction = with(session("session one", BOTH) + "retract two because \"it was another\"\n");
    for run in [misspelt, unknown, no_session, unread_use, half_merged, retraction] {
        refused(evening(run, "card", &DAY), &all);
    }
}

#[test]
fn a_file_that_is_no_text_is_an_error_of_every_bottle() {
    let run = with(b"session \xff {");
    let told = flat(&evening(run.again(), "card", &DAY).fails(2).1);
    for words in ["journal/2026-11-05-7m2q.wet cannot be read", "the state of stop-a, fix-a is not known"] {
        assert!(told.contains(words), "{words}: {told}");
    }
    let text = flat(&evening(run, "card", &[&DAY[..], &ANYWAY].concat()).succeeds());
    assert!(text.contains("journal/2026-11-05-7m2q.wet cannot be read"), "{text}");
}

/// The film of the test has an error in a file that no session is in.
#[test]
fn a_test_that_is_lost_by_an_error_in_another_file_is_an_error_of_its_bottle() {
    let test = "use \"other.wet\"\ntest one {\n    date 2026-11-20\n    bath fix-a\n    film reed-100\n    clears 3:00 at 20 C\n}\n";
    let list = "backlog autumn {\n    roll \"E-01\" 120 of marsh-100\n}\n";
    let run = Run::new()
        .file("bench.wet", BENCH)
        .file("other.wet", "wetside 1\nfilm reed-100 {\n    clears 60 in fixer 1+4 at 20 C\n}\n")
        .file("darkroom.wet", bottles(&format!("{test}{list}")));
    refused(
        evening(run.again(), "card", &DAY),
        &["this test has errors, so the state of fix-a", "darkroom.wet:"],
    );
    refused(
        run.again().args(["plan", "autumn", "--on", "2026-11-25"]),
        &["error[missing-unit]", "other.wet:3"],
    );
}

#[test]
fn a_bottle_or_a_backlog_with_an_error_is_a_warning_that_names_its_line() {
    let bath = bottles("")
        .replace("volume 1 l\n    mixed 2020-11-02\n}\nbath", "volume 1\n    mixed 2020-11-02\n}\nbath");
    let run = Run::new().file("bench.wet", BENCH).file("darkroom.wet", bath);
    let text = flat(&evening(run, "card", &DAY).succeeds());
    assert!(text.contains("the bath at darkroom.wet:3 has errors, and is not counted"), "{text}");
    let list = bottles("backlog autumn {\n    roll \"E-01\" 12 of marsh-100\n}\n");
    let run = Run::new().file("bench.wet", BENCH).file("darkroom.wet", list);
    let line = "the backlog at darkroom.wet:13 has errors, and is not counted";
    assert!(
        !flat(&evening(run.again(), "card", &DAY).succeeds()).contains(line),
        "a card without labels needs no backlog"
    );
    let labelled = [&DAY[..], &["--label", "E-01,-"]].concat();
    let text = flat(&evening(run, "card", &labelled).succeeds());
    assert!(text.contains(line), "{text}");
}

#[test]
fn a_session_with_an_error_that_used_other_bottles_is_no_concern_of_the_card() {
    let other = "bath fix-b {\n    in fixer 1+9\n    volume 1 l\n    mixed 2020-11-02\n}\n";
    let run = with(session("session first", "    bath fix-b\n")).file("darkroom.wet", bottles(other));
    let text = evening(run, "card", &DAY).succeeds();
    assert!(!text.contains("has errors"), "{text}");
}

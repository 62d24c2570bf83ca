//! Cards that use a bottle of the darkroom: which one, what it has treated, how that changes tonight, and when it is
//! refused. Worked by hand.

use crate::program::Run;

/// A litre of a fixer that treats ten rolls and keeps three months; a film that clears in it in a minute, and one
/// that clears in half of that. The developer is kept as well: ten per cent more for each four rolls.
const BENCH: &str = "\
wetside 1
film marsh-100 {
    clears 60 s in fixer 1+4 at 20 C
}
film reed-100 {
    clears 30 s in fixer 1+4 at 20 C
}
solution soup {
    role developer
    contains metol, sodium-sulfite
    extend 10 % per 4 rolls
}
solution fixer {
    role fixer
    contains ammonium-thiosulfate
    treats 10 rolls per 1 l at 1+4
    keeps 3 months
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
        in soup, reused
        time 10:00
        between 18 C and 24 C
        agitate first 30 s, then 10 s every 1 min
    }
    fix {
        in fixer 1+4, reused
        time 3 x clearing, at least 1:00
        between 18 C and 24 C
    }
    wash {
        fills 5, 10 inversions
    }
}
";

/// A darkroom with a fixer `fix-a` of that volume that has treated that many rolls, and more statements.
fn with(litres: &str, treated: u32, more: &str) -> Run {
    let slots: String = (1..=treated).map(|slot| format!("    slot {slot} 120\n")).collect();
    let session = format!(
        "session one {{\n    date 2026-11-05\n    recipe marsh, fingerprint \"46ac83d1\"\n{slots}    bath fix-a\n    bath soup-a\n}}\n"
    );
    let session = if treated > 0 { session } else { String::new() };
    let darkroom = format!(
        "wetside 1\nuse \"bench.wet\"\nbath fix-a {{\n    in fixer 1+4\n    volume {litres}\n    mixed 2026-11-02\n}}\nbath soup-a {{\n    in soup\n    volume 2 l\n    mixed 2026-11-02\n}}\n{session}{more}"
    );
    Run::new().file("bench.wet", BENCH).file("darkroom.wet", darkroom)
}

fn card(run: Run, more: &[&str]) -> Run {
    let mut run = run.args(["card", "marsh", "--at", "20C", "--rolls", "2x120"]);
    for arg in more {
        run = run.arg(*arg);
    }
    run
}

const DAY: [&str; 2] = ["--date", "2026-11-25"];

/// It has treated five of ten rolls; after tonight's two, three are left.
#[test]
fn the_only_bottle_that_fits_is_used_and_shown() {
    let text = card(with("1 l", 5, ""), &DAY).succeeds();
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains(
            "take 1000 ml from fix-a at 20 °C: 5 rolls treated by 2026-11-25, 3 rolls left after tonight"
        ),
        "{text}"
    );
}

/// Nine of ten before, and two tonight.
#[test]
fn earlier_film_of_a_bottle_counts_with_tonight() {
    let told = card(with("1 l", 9, ""), &DAY).fails(1).1;
    assert!(told.contains("error[bath-over-capacity]") && told.contains("after 9 rolls before"), "{told}");
    card(with("2 l", 9, ""), &DAY).succeeds();
}

#[test]
fn a_spent_bottle_is_refused_unless_the_call_allows_it() {
    let told = card(with("1 l", 10, ""), &DAY).fails(1).1;
    assert!(told.contains("error[bottle-exhausted]: 'fix-a' has treated 10 rolls"), "{told}");
    let text = card(with("1 l", 10, ""), &["--date", "2026-11-25", "--anyway", "fix-a"]).succeeds();
    assert!(text.contains("! anyway \"fix-a\": 'fix-a' has treated 10 rolls, its full capacity"), "{text}");
}

/// Three months from the second of November end on the second of February.
#[test]
fn a_bottle_past_keeping_is_refused_from_the_day_after() {
    card(with("1 l", 0, ""), &["--date", "2027-02-02"]).succeeds();
    let told = card(with("1 l", 0, ""), &["--date", "2027-02-03"]).fails(1).1;
    assert!(told.contains("error[bottle-past-keeping]: 'fix-a' keeps until 2027-02-02"), "{told}");
}

/// Another film clears in 45 s where a fresh bath takes 30 s, so this one takes 60 s × 45 / 30 = 90 s, and three times
/// that is 4:30. A fixer is exhausted when the clearing time is double the fresh one (US Navy, Photography (Basic),
/// NAVEDTRA 14209, 1993, Photography (Basic), chapter 10).
#[test]
fn the_newest_test_of_a_bottle_decides_how_long_it_fixes() {
    let test = |time: &str, film: &str| {
        format!(
            "test t {{\n    date 2026-11-20\n    bath fix-a\n    film {film}\n    clears {time} at 20 C\n}}\n"
        )
    };
    let text = card(with("1 l", 1, &test("45 s", "reed-100")), &DAY).succeeds();
    assert!(text.contains("FIX 4:30 "), "{text}");
    let text = card(with("1 l", 1, &test("70 s", "marsh-100")), &DAY).succeeds();
    assert!(text.contains("FIX 3:30 "), "{text}");
    let told = card(with("1 l", 1, &test("2:00", "marsh-100")), &DAY).fails(1).1;
    assert!(told.contains("error[bottle-exhausted]: 'fix-a' clears in twice the fresh time"), "{told}");
    // Before the day of the test it is not known of.
    let text = card(with("1 l", 1, &test("70 s", "marsh-100")), &["--date", "2026-11-19"]).succeeds();
    assert!(text.contains("FIX 3:00 "), "{text}");
}

/// Nine rolls before are two whole fours: 10:00 and twice ten per cent of it.
#[test]
fn a_bottle_extends_its_time_by_what_it_has_treated() {
    let text = card(with("2 l", 9, ""), &DAY).succeeds();
    assert!(text.contains("DEVELOP 12:00 "), "{text}");
    let text = card(with("2 l", 3, ""), &DAY).succeeds();
    assert!(text.contains("DEVELOP 10:00 "), "{text}");
}

#[test]
fn the_call_chooses_among_several_bottles_and_a_small_one_is_refused() {
    let more = "bath fix-b {\n    in fixer 1+4\n    volume 500 ml\n    mixed 2026-11-20\n}\n";
    let told = card(with("1 l", 0, more), &DAY).fails(2).1;
    assert!(
        told.contains("several bottles of fixer 1+4 fit: fix-a, fix-b") && told.contains("--bath fix-a"),
        "{told}"
    );
    let told = card(with("1 l", 0, more), &["--date", "2026-11-25", "--bath", "fix-b"]).fails(1).1;
    assert!(told.contains("error[bottle-too-small]: 'fix-b' holds 500 ml"), "{told}");
    let told = card(with("1 l", 0, ""), &["--bath", "fix-c"]).fails(2).1;
    assert!(
        told.contains("there is no bath 'fix-c' in this darkroom") && told.contains("did you mean fix-a?"),
        "{told}"
    );
    let told = card(with("1 l", 0, ""), &["--date", "2026-11-01", "--bath", "fix-a"]).fails(1).1;
    assert!(told.contains("error[bottle-not-there]"), "{told}");
}

#[test]
fn the_json_names_the_bottle_and_a_record_uses_it() {
    let run = card(with("1 l", 5, ""), &["--date", "2026-11-25", "--as", "json"]);
    let schedule: serde_json::Value = serde_json::from_str(&run.succeeds()).unwrap();
    let expected = serde_json::json!({ "name": "fix-a", "on": "2026-11-25", "treated_twelfths": 60, "left_twelfths": 36 });
    assert_eq!(schedule["steps"][1]["bottle"], expected);
    let run =
        run.again().args(["record", "marsh", "--at", "20C", "--rolls", "2x120", "--date", "2026-11-25"]);
    let told = run.succeeds();
    assert!(told.contains("    bath      soup-a\n    bath      fix-a\n"), "{told}");
}

#[test]
fn a_card_without_a_darkroom_names_no_bottle() {
    let run = Run::new().file("bench.wet", BENCH);
    let text = card(run, &[]).succeeds();
    assert!(text.contains("take 1000 ml from its bottle at 20 °C; to mix it new"), "{text}");
}

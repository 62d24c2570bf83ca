//! Who lifts what: `--anyway` lifts the objections to one roll or one bottle, `--clears` gives the clearing time of
//! tonight, `--volume` outranks what a solution needs. Worked by hand.

use serde_json::Value;

use crate::program::Run;

/// A litre of a fixer that treats ten rolls and keeps three months. The film clears in it at 1+4 in a minute.
const BENCH: &str = "\
wetside 1
allow one-time-for-a-wide-band because \"the temperatures are what is tested\"
film marsh-100 {
    clears 60 s in fixer 1+4 at 20 C
}
film odd-50 {
}
solution soup {
    role developer
    contains metol, sodium-sulfite
    needs 5 ml per roll
}
solution fixer {
    role fixer
    contains ammonium-thiosulfate
    treats 10 rolls per 1 l at 1+4
    keeps 3 months
}
tank two {
    reels 120 x 2, 300 ml each
    holds 600 ml
    fill 10 s
    drain 10 s
}
recipe marsh {
    film marsh-100
    develop {
        in soup 1+99, one-shot
        time 10:00
        between 15 C and 24 C
        agitate first 30 s, then 10 s every 1 min
    }
    fix {
        in fixer 1+4, reused
        time 2 x clearing, at least 1:00
        between 15 C and 24 C
    }
    wash {
        fills 5, 10, 20 inversions
    }
}
";

/// The recipe of the bench with another strength of the fixer, or for another film.
fn bench(from: &str, to: &str) -> Run {
    let (before, recipe) = BENCH.split_once("recipe marsh").unwrap();
    Run::new().file("bench.wet", format!("{before}recipe marsh{}", recipe.replace(from, to)))
}

/// A fixer of a litre that has treated this many rolls.
fn with_bottle(treated: u32) -> Run {
    let slots: String = (1..=treated).map(|slot| format!("    slot {slot} 120\n")).collect();
    let session = format!(
        "session one {{\n    date 2026-11-05\n    recipe marsh, fingerprint \"46ac83d1\"\n{slots}    bath fix-a\n}}\n"
    );
    let darkroom = format!(
        "wetside 1\nuse \"bench.wet\"\nbath fix-a {{\n    in fixer 1+4\n    volume 1 l\n    mixed 2026-11-02\n}}\n{session}"
    );
    Run::new().file("bench.wet", BENCH).file("darkroom.wet", darkroom)
}

fn card(run: Run, more: &[&str]) -> Run {
    let run = run.again().args(["card", "marsh", "--at", "20C", "--rolls", "2x120"]);
    more.iter().fold(run, |run, one| run.arg(*one))
}

/// One line without repeated spaces.
fn flat(text: &str) -> String {
    text.split(|letter: char| letter.is_whitespace() || letter == '|')
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
}

fn json(run: Run) -> Value {
    serde_json::from_str(&run.args(["--as", "json"]).succeeds()).unwrap()
}

/// The duration of the fixing step in seconds.
fn fixes(schedule: &Value) -> i64 {
    schedule["steps"][1]["duration_ms"].as_i64().unwrap() / 1000
}

const DAY: [&str; 2] = ["--date", "2026-11-25"];
const LATE: [&str; 2] = ["--date", "2027-03-25"];

/// Ten of ten rolls before, and 2 February is the last day of three months from 2 November.
#[test]
fn every_objection_to_a_bottle_is_an_error() {
    let told = card(with_bottle(10), &LATE).fails(1).1;
    for words in [
        "'fix-a' has treated 10 rolls, its full capacity",
        "'fix-a' keeps until 2027-02-02",
        "--anyway fix-a",
    ] {
        assert!(flat(&told).contains(words), "{words}: {told}");
    }
    assert_eq!(told.matches("error[").count(), 2, "{told}");
}

#[test]
fn anyway_lifts_the_objections_to_the_named_bottle_in_every_form() {
    let run = card(with_bottle(10), &[&LATE[..], &["--anyway", "fix-a"]].concat());
    let lines = [
        "anyway \"fix-a\": 'fix-a' has treated 10 rolls, its full capacity",
        "anyway \"fix-a\": 'fix-a' keeps until 2027-02-02",
    ];
    let text = flat(&run.succeeds());
    lines.iter().for_each(|line| assert!(text.contains(line), "{line}: {text}"));
    let schedule = json(card(run, &[&LATE[..], &["--anyway", "fix-a"]].concat()));
    assert_eq!(schedule["conditions"]["anyway"], serde_json::json!(["fix-a"]));
    for form in ["html", "csv", "ics"] {
        let run = card(
            with_bottle(10),
            &[&LATE[..], &["--anyway", " fix-a ", "--start", "19:30", "--as", form]].concat(),
        );
        let out = run
            .succeeds()
            .replace("\r\n ", "")
            .replace("&quot;", "\"")
            .replace("\"\"", "\"")
            .replace("&#39;", "'");
        lines.iter().for_each(|line| {
            assert!(
                out.contains(&line.replace(',', if form == "ics" { "\\," } else { "," })),
                "{form}: {out}"
            )
        });
    }
}

/// Nine of ten rolls before, so one is left, and tonight's are two.
#[test]
fn anyway_lifts_the_capacity_of_the_named_bottle() {
    let told = card(with_bottle(9), &DAY).fails(1).1;
    assert!(
        told.contains("error[bath-over-capacity]") && flat(&told).contains("take it with --anyway fix-a"),
        "{told}"
    );
    let text = card(with_bottle(9), &[&DAY[..], &["--anyway", "fix-a"]].concat()).succeeds();
    assert!(
        flat(&text)
            .contains("anyway \"fix-a\": 1 l of fixer 1+4 treats 10 rolls, but tonight's load is 2 rolls"),
        "{text}"
    );
}

#[test]
fn anyway_without_a_name_or_with_one_that_lifts_nothing_lists_what_it_could_lift() {
    let told = card(with_bottle(9), &[&DAY[..], &["--anyway"]].concat()).fails(2).1;
    assert!(flat(&told).contains("which? fix-a (1 of 10 left)"), "{told}");
    let told = card(with_bottle(10), &[&LATE[..], &["--anyway", "fix-b"]].concat()).fails(2).1;
    assert!(told.contains("--anyway lifts nothing for 'fix-b'"), "{told}");
    assert!(flat(&told).contains("which? fix-a (0 of 10 left; kept until 2027-02-02)"), "{told}");
    let told = card(with_bottle(1), &[&DAY[..], &["--anyway", "fix-a"]].concat()).fails(2).1;
    assert!(flat(&told).contains("nothing contradicts a roll or a bottle tonight"), "{told}");
}

#[test]
fn anyway_lifts_no_bottle_that_is_too_small_or_not_there() {
    let run = card(with_bottle(1), &["--date", "2026-11-01", "--bath", "fix-a", "--anyway", "fix-a"]);
    assert!(run.fails(2).1.contains("lifts nothing"));
}

/// Twice 1:20 is 2:40, at any strength, for any film and at 16 °C.
#[test]
fn clears_gives_the_clearing_time_at_any_strength_and_for_any_film() {
    for (from, to) in [("1+4", "1+9"), ("film marsh-100", "film odd-50"), ("", "")] {
        for at in ["20C", "16C"] {
            let run =
                bench(from, to).args(["card", "marsh", "--at", at, "--rolls", "2x120", "--clears", "1:20"]);
            assert_eq!(fixes(&json(run)), 160, "{from} {to} {at}");
        }
    }
    let told = card(bench("1+4", "1+9"), &[]).fails(1).1;
    assert!(told.contains("error[no-clearing-time]") && told.contains("--clears 1:20"), "{told}");
    let told = bench("", "").args(["card", "marsh", "--at", "16C", "--rolls", "2x120"]).fails(1).1;
    assert!(told.contains("error[bath-too-cold-to-clear]") && told.contains("--clears 1:20"), "{told}");
}

#[test]
fn clears_is_on_the_card_and_in_the_json() {
    let schedule = json(card(bench("", ""), &["--clears", "1:20"]));
    assert_eq!(schedule["conditions"]["clears_ms"], 80_000);
    let text = card(bench("", ""), &["--clears", "1:20"]).succeeds();
    assert!(text.contains("a leader clears in 1:20 tonight"), "{text}");
}

/// The film clears in a minute in fresh fixer, so 2:00 tonight is an exhausted one (US Navy, Photography (Basic),
/// NAVEDTRA 14209, 1993, Photography (Basic), chapter 10), and 1:59 is not, whatever a test of the bottle found before.
#[test]
fn a_leader_of_tonight_replaces_the_test_of_a_bottle() {
    let test =
        "test t {\n    date 2026-11-20\n    bath fix-a\n    film marsh-100\n    clears 2:10 at 20 C\n}\n";
    let tested = || {
        let run = with_bottle(1);
        let text = std::fs::read_to_string(run.folder().join("darkroom.wet")).unwrap();
        run.file("darkroom.wet", text + test)
    };
    let told = card(tested(), &DAY).fails(1).1;
    assert!(told.contains("clears in twice the fresh time"), "{told}");
    assert_eq!(fixes(&json(card(tested(), &[&DAY[..], &["--clears", "1:59"]].concat()))), 238);
    let told = card(with_bottle(1), &[&DAY[..], &["--clears", "2:00"]].concat()).fails(1).1;
    assert!(told.contains("clears in twice the fresh time"), "{told}");
    let lifted = card(with_bottle(1), &[&DAY[..], &["--clears", "2:00", "--anyway", "fix-a"]].concat());
    assert_eq!(fixes(&json(lifted)), 240);
}

/// A minute in fresh fixer at 20 °C. A fixer clears more slowly when it is colder.
#[test]
fn a_test_at_another_temperature_neither_condemns_nor_passes_a_bottle() {
    let tested = |clears: &str| {
        let test = format!(
            "test t {{\n    date 2026-11-20\n    bath fix-a\n    film marsh-100\n    clears {clears}\n}}\n"
        );
        let run = with_bottle(1);
        let text = std::fs::read_to_string(run.folder().join("darkroom.wet")).unwrap();
        card(run.file("darkroom.wet", text + &test), &DAY)
    };
    let unknown = "the fresh time is for 20 °C: whether it is exhausted is not known";
    assert!(flat(&tested("2:10 at 17.9 C").succeeds()).contains(unknown));
    assert!(tested("2:10 at 18 C").fails(1).1.contains("clears in twice the fresh time"));
    assert!(tested("2:10 at 26 C").fails(1).1.contains("clears in twice the fresh time"));
    assert!(!tested("1:10 at 15 C").succeeds().contains("not known"));
    // Tonight's bath is more than 2 °C colder than the test.
    assert!(tested("1:10 at 22.1 C").fails(1).1.contains("bath-too-cold-to-clear"));
}

#[test]
fn clears_without_a_fixing_step_is_refused() {
    let (before, rest) = BENCH.split_once("    fix {").unwrap();
    let text = format!("{before}{}", rest.split_once("    }\n").unwrap().1);
    let told = card(Run::new().file("bench.wet", text), &["--clears", "1:20"]).fails(2).1;
    assert!(flat(&told).contains("--clears is for a fixer, and 'marsh' has no fixing step"), "{told}");
}

/// 600 ml at 1+99 have 6 ml of the developer, 3 ml for each of two rolls; the label says 5. Half of that is 2.5 ml,
/// which 500 ml have.
#[test]
fn a_volume_outranks_what_the_solution_needs() {
    let notices = |run: Run| {
        let schedule = json(run);
        let texts = |key: &str| match schedule[key].as_array() {
            Some(all) => all.iter().map(|one| one["text"].as_str().unwrap().to_owned()).collect(),
            None => Vec::new(),
        };
        (texts("warnings"), texts("advice"), schedule["steps"][0]["volume_ml"].clone())
    };
    let none = Vec::<String>::new;
    let three = vec!["develop: 3 ml of soup a roll; its label says 5".to_owned()];
    assert_eq!(notices(card(bench("", ""), &[])), (none(), three.clone(), 600.into()));
    assert_eq!(notices(card(bench("", ""), &["--volume", "600ml"])), (none(), three, 600.into()));
    let tall = bench("", "").file("bench.wet", BENCH.replace("300 ml each", "250 ml each"));
    let half = vec!["develop: 2.5 ml of soup a roll; its label says 5".to_owned()];
    assert_eq!(notices(card(tall, &["--volume", "500ml"])), (none(), half, 500.into()));
    let low = bench("", "").file("bench.wet", BENCH.replace("300 ml each", "240 ml each"));
    let less = vec!["develop: 2.4 ml of soup a roll; its label says 5".to_owned()];
    assert_eq!(notices(card(low, &["--volume", "480ml"])), (less, none(), 480.into()));
}

/// Two reels of 300 ml. Nothing lifts it.
#[test]
fn a_volume_that_does_not_cover_the_reels_is_an_error() {
    let told = card(bench("", ""), &["--volume", "599ml"]).fails(1).1;
    assert!(flat(&told).contains("--volume is 599 ml, but 600 ml cover the reels"), "{told}");
    assert_eq!(told.matches("error[").count(), 1, "{told}");
    let told = card(bench("", ""), &["--volume", "599ml", "--anyway", "two"]).fails(2).1;
    assert!(told.contains("lifts nothing"), "{told}");
}

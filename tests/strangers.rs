//! Files of edition 2 that a stranger wrote to break the program: each ends with the error named here, or with a card,
//! and never with a panic.

use wetside::emit::{Look, card, text};
use wetside::model::Format;

use crate::kitchen::{Kitchen, celsius, evening};

const SHELF: &str = "wetside 2
film f {
    speed     ISO 400
}
paper p {
    source    \"x\"
}
solution dev {
    role      developer
    parts     a, b
    contains  hydroquinone, sodium-sulfite
    needs     1 ml per roll
    treats    8 rolls per 1 l at 1+1+8
}
solution fx {
    role      fixer
    contains  sodium-thiosulfate
    treats    40 rolls per 1 l
}
tank t {
    reels     120 x 10000, 1 ml each
    holds     1000 l
    transfer  10 s each
}
";

fn step(kind: &str, lines: &str) -> String {
    format!("{kind} {{\n{lines}\nbetween 18 C and 22 C\nagitate continuous\n}}\n")
}

fn develop(time: &str) -> String {
    recipe(&step("develop", &format!("in water\ntime {time}")))
}

fn recipe(steps: &str) -> String {
    format!("{SHELF}recipe r {{\nfilm f\n{steps}}}\n")
}

/// The names of the errors of a text, and of the card of the last recipe for a film if it has none.
fn errors(text: &str, rolls: u32) -> Vec<String> {
    let kitchen = Kitchen::of(text);
    let mut names: Vec<String> = Vec::new();
    let is_error = |finding: &&wetside::source::Diagnostic| finding.level == wetside::source::Level::Error;
    names.extend(kitchen.findings.iter().filter(is_error).map(|finding| finding.name.to_owned()));
    if names.is_empty() {
        let conditions = evening(celsius("20"), &[(rolls, Format::parse("120").unwrap())]);
        match kitchen.tried(&conditions) {
            Ok(schedule) => {
                let shown = crate::strangers::text(&card(&schedule, &kitchen.sources), Look::default());
                assert!(!shown.chars().any(|letter| letter.is_control() && letter != '\n'), "{shown:?}");
            }
            Err(faults) => names.extend(faults.iter().map(|fault| fault.name.to_owned())),
        }
    }
    names.dedup();
    names
}

fn two_fixes(first: &str, second: &str) -> String {
    let fix = |name: &str, bath: &str| step(&format!("fix {name}"), &format!("in fx 1+4 {bath}\ntime 3:00"));
    recipe(&[fix("one", first), fix("two", second)].concat())
}

#[test]
fn signs_and_looks_end_in_plain_errors() {
    let cases: [(&str, &[&str]); 14] = [
        ("99999999999999999999 x \"a\", at most 3:00", &["bad-number"]),
        ("0 x \"a\", at most 3:00", &["out-of-range"]),
        ("-1 x \"a\", at most 3:00", &["out-of-range"]),
        ("0.000000001 x \"a\", at most 3:00", &["out-of-range"]),
        ("1000000 x \"a\", at most 3:00", &["out-of-range"]),
        ("until \"\", at most 3:00", &["empty-sign"]),
        ("until \" \", at most 3:00", &["empty-sign"]),
        ("until \"9\"\" x 12\"\"\", at most 3:00", &[]),
        ("until \"a\u{1b}[31mb\", at most 3:00", &["hidden-character"]),
        ("until \"a\u{202e}b\", at most 3:00", &["hidden-character"]),
        ("until \"a\", at least 1 s, at most 10000 s, look every 1 s", &[]),
        ("until \"a\", at least 5:00, at most 3:00", &["bounds-upside-down"]),
        ("until \"a\", at most 3:00, look every 0 s", &["out-of-range"]),
        ("until \"a\", at most 999999 h", &["out-of-range"]),
    ];
    for (time, expected) in cases {
        assert_eq!(errors(&develop(time), 1), expected, "{time}");
    }
    let long = "x".repeat(100_000);
    assert_eq!(errors(&develop(&format!("until \"{long}\", at most 3:00")), 1), ["line-too-long"]);
}

#[test]
fn rounds_and_used_baths_end_in_plain_errors() {
    let steps = [step("develop", "in water\ntime 8:00"), step("stop", "in water\ntime 1:00")].concat();
    for rounds in ["0", "1", "1000", "4294967295"] {
        let found = errors(&recipe(&format!("{steps}repeat from develop to stop, {rounds} times\n")), 1);
        assert!(found == ["rounds-out-of-range"] || found == ["out-of-range"], "{rounds}: {found:?}");
    }
    assert_eq!(errors(&recipe(&format!("{steps}repeat from develop to stop, 50 times\n")), 1), [""; 0]);
    assert_eq!(
        errors(&recipe(&format!("{steps}repeat from stop to develop, 3 times\n")), 1),
        ["repeat-backwards"]
    );
    assert_eq!(errors(&recipe(&format!("{steps}repeat from fix to wash, 3 times\n")), 1), ["unknown-step"]);
    assert_eq!(errors(&recipe(&step("develop", "in used develop\ntime 3:00")), 1), ["no-used-bath"]);
    assert_eq!(
        errors(&two_fixes("bath one, becomes two", "bath two, becomes one"), 1),
        ["baths-in-a-circle"]
    );
    assert_eq!(errors(&two_fixes("bath one, becomes one", "bath two, reused"), 1), ["no-such-bath"]);
    assert_eq!(errors(&two_fixes("bath one, reused", "bath two, becomes one"), 1), [""; 0]);
}

/// A used bath may be used again: the first step's drain and the second's both go into the jug.
#[test]
fn a_used_bath_of_a_used_bath_is_one_bath() {
    let steps = [
        step("develop", "in dev 1+1+8, one-shot\ntime 8:00"),
        step("tone a", "in used develop\ntime 3:00"),
        step("tone b", "in used tone a\ntime 3:00"),
    ]
    .concat();
    let kitchen = Kitchen::sound(&recipe(&steps));
    let schedule = kitchen.compiled(&evening(celsius("20"), &[(1, Format::parse("120").unwrap())]));
    let used: Vec<Option<usize>> =
        schedule.steps.iter().map(|step| step.bath.as_ref().and_then(|bath| bath.used)).collect();
    assert_eq!(used, [None, Some(0), Some(0)]);
    let users: Vec<Option<&str>> =
        (0..3).map(|at| schedule.user_of(at).and_then(|step| step.name.as_deref())).collect();
    assert_eq!(users, [Some("a"), Some("b"), None]);
    let shown = text(&card(&schedule, &kitchen.sources), Look::default());
    assert!(shown.contains("develop, tone a, tone b"), "{shown}");
}

#[test]
fn what_a_child_drops_is_still_asked_for() {
    let base =
        format!("{SHELF}recipe b {{\nfilm f\n{}caution \"x\"\n}}\n", step("develop", "in water\ntime 8:00"));
    let child = |lines: &str| format!("{base}recipe r from b {{\n{lines}\n}}\n");
    assert_eq!(errors(&child("without develop"), 1), ["missing-statement"]);
    let bare = "develop {\nwithout in\nwithout time\n}";
    assert_eq!(errors(&child(bare), 1), ["missing-bath", "missing-time"]);
    assert_eq!(errors(&child("without caution"), 1), ["caution-removed"]);
}

#[test]
fn formats_of_nothing_and_of_anything_are_refused() {
    for format in
        ["0x0cm", "0x10in", "9x12", "9999999999x1in", "16mmx0ft", "16mmx99999999ft", "1e9x1cm", "135-0"]
    {
        let text = SHELF.replace("120 x 10000", &format!("{format} x 4"));
        assert_eq!(errors(&text, 1), ["unknown-format"], "{format}");
        assert!(Format::parse(format).is_none(), "{format}");
    }
}

/// 10,000 rolls of 10 s each take more than a day to move.
#[test]
fn a_transfer_longer_than_its_step_is_an_error() {
    assert_eq!(errors(&develop("8:00"), 10_000), ["no-time-left"]);
    let slow = develop("8:00").replace("transfer  10 s each", "transfer  10 h");
    assert_eq!(errors(&slow, 1), ["no-time-left"]);
}

#[test]
fn a_long_chain_of_parents_and_of_baths_is_no_more_than_an_error() {
    let mut text = format!("{SHELF}recipe r0 {{\nfilm f\n{}}}\n", step("develop", "in water\ntime 8:00"));
    for number in 1..100 {
        text.push_str(&format!(
            "recipe r{number} from r{} {{\ndevelop {{\ntime 1.5 x parent\n}}\n}}\n",
            number - 1
        ));
    }
    assert!(errors(&text, 1).iter().any(|name| name == "from-too-deep"), "{:?}", errors(&text, 1));
    let chain: String = (0..200)
        .map(|number| {
            let fate = if number == 0 { "reused".to_owned() } else { format!("becomes b{}", number - 1) };
            step(&format!("fix s{number}"), &format!("in fx 1+4 bath b{number}, {fate}\ntime 40 s"))
        })
        .collect();
    assert_eq!(errors(&recipe(&chain), 1), [""; 0]);
}

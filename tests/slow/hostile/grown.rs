//! Texts in which every line imports, derives or reports a large text: the cost must not be the product of both sizes.

use super::{Ends, Input, SOUND, all_end_in_order, each};

/// A recipe with many washes, each with these lines.
fn parent(washes: usize, lines: &str) -> String {
    let (head, _) = SOUND.rsplit_once('}').unwrap();
    format!("{head}{}}}\n", each(washes, |at| format!("wash w{at} {{\n{lines}}}\n")))
}

fn children(count: usize) -> String {
    each(count, |at| format!("recipe d{at} from plain {{\n}}\n"))
}

#[test]
fn many_recipes_derived_from_a_long_one_end_in_order() {
    all_end_in_order(&[
        Input::new(
            "8,000 from one of 990 steps",
            Ends::Refused,
            parent(980, "fills 1 inversions\n") + &children(8_000),
        ),
        Input::new(
            "30 from 9,800,000 soaks",
            Ends::Refused,
            parent(980, "soak 1 s x 10000\n") + &children(30),
        ),
    ]);
}

#[test]
fn a_file_that_every_line_imports_ends_in_order() {
    let films = each(20_000, |at| format!("film f{at} {{\nspeed ISO 100\n}}\n"));
    let prefixed = each(300, |at| format!("use \"b.wet\" as p{at}\n"));
    let start = |uses: &str| SOUND.replace("wetside 1\n", &format!("wetside 1\n{uses}"));
    all_end_in_order(&[
        Input::new("one file used 80,000 times", Ends::Either, start(&"use \"b.wet\"\n".repeat(80_000)))
            .file("b.wet", format!("wetside 1\n{films}")),
        Input::new("one file under 300 prefixes", Ends::Either, start(&prefixed))
            .file("b.wet", format!("wetside 1\n{films}")),
        Input::new("80,000 uses of 80,000 uses", Ends::Either, start(&"use \"b.wet\"\n".repeat(80_000)))
            .file("b.wet", format!("wetside 1\n{}", "use \"c.wet\"\n".repeat(80_000)))
            .file("c.wet", "wetside 1\n"),
    ]);
}

#[test]
fn long_unknown_names_end_in_order() {
    let name = |first: char, at: usize| format!("{first}{at}{}", "a".repeat(4_000));
    let known = each(120, |at| format!("recipe {} {{\n}}\n", name('k', at)));
    let asked = each(120, |at| format!("recipe r{at} from {} {{\n}}\n", name('x', at)));
    let text = format!("wetside 1\n{known}{asked}");
    all_end_in_order(&[Input::new("120 long names beside 120", Ends::Refused, text)]);
}

#[test]
fn a_mebibyte_of_braces_ends_in_order() {
    let lines = |line: &str| format!("wetside 1\n{}", line.repeat(((1 << 20) - 100) / line.len()));
    all_end_in_order(&[
        Input::new("a mebibyte of openings", Ends::Refused, lines("{\n")),
        Input::new("a mebibyte of closings", Ends::Refused, lines("}\n")),
        Input::new("a mebibyte of blocks", Ends::Refused, lines("a{\n")),
    ]);
}

#[test]
fn a_hundred_files_of_a_mebibyte_end_in_order() {
    let uses = each(100, |at| format!("use \"m{at}.wet\"\n"));
    let first = Input::new("100 files of a mebibyte", Ends::Refused, format!("wetside 1\n{uses}"));
    let with = |input: Input, at| input.file(format!("m{at}.wet"), "a 1\n".repeat(260_000));
    all_end_in_order(&[(0..100).fold(first, with)]);
}

/// Warnings about comments must not use up the limit of findings, so that errors are lost.
#[test]
fn an_error_after_ten_thousand_warnings_is_still_an_error() {
    let text = SOUND.replace("time 10:00", "tiem ten minutes") + &"# \u{202e}\n".repeat(10_000);
    let input = Input::new("an error after 10,000 warnings", Ends::Refused, &*text);
    let kitchen = crate::kitchen::Kitchen::of(&text);
    let is_error = |level| level == wetside::source::Level::Error;
    assert!(kitchen.findings.iter().any(|finding| is_error(finding.level)), "no error is reported");
    all_end_in_order(&[input]);
}

#[test]
fn a_check_that_stops_early_reports_it_as_one_error() {
    let films = format!("wetside 1\n{}", each(20_000, |at| format!("film f{at} {{\nspeed ISO 100\n}}\n")));
    let uses = each(16, |at| format!("use \"b.wet\" as p{at}\n"));
    let used = SOUND.replace("wetside 1\n", &format!("wetside 1\n{uses}"));
    for (name, text) in [
        // The same mistake on successive lines is one error, so each line has its own.
        ("too-many-findings", SOUND.to_owned() + &each(10_001, |at| format!("tied{at}\n"))),
        ("too-many-findings", format!("{SOUND}{}", "}\n".repeat(10_001))),
        (
            "too-many-findings",
            SOUND.to_owned() + &each(10_001, |at| format!("recipe r{at} from x{at} {{\n}}\n")),
        ),
        ("too-many-names", used),
        ("too-much-derived", parent(900, "fills 1 inversions\n") + &children(100)),
    ] {
        let kitchen = crate::kitchen::Kitchen::of_files(&text, &[("b.wet", &films)]);
        let told: Vec<_> = kitchen.findings.iter().filter(|finding| finding.name == name).collect();
        let [finding] = told.as_slice() else { panic!("{name} is reported {} times", told.len()) };
        assert_eq!(finding.level, wetside::source::Level::Error, "{name}");
    }
}

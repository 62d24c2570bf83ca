//! The safety block of a card: its size, its lines on the evenings of the shelf, and what must not meet.

use crate::evenings::{output, shelf, two_evenings};
use crate::program::Run;

/// The block of a text: `SAFETY` and the lines after it.
fn block(text: &str) -> Vec<&str> {
    let lines = text.lines().skip_while(|line| !line.starts_with("SAFETY"));
    lines.take_while(|line| !line.is_empty()).collect()
}

fn card(recipe: &str, at: &str, rolls: &str, tank: &str) -> String {
    shelf().args(["card", recipe, "--at", at, "--rolls", rolls, "--tank", tank]).succeeds()
}

#[test]
fn every_block_has_at_most_ten_lines_of_76_characters() {
    two_evenings(|run, name| {
        let card = output(&run);
        let block = block(&card);
        assert!((7..=11).contains(&block.len()), "{name}: {block:#?}");
        assert!(block.iter().all(|line| line.chars().count() <= 76), "{name}: {block:#?}");
        for word in ["WEAR", "EYES", "SKIN", "WASTE"] {
            assert_eq!(block.iter().filter(|line| line.starts_with(word)).count(), 1, "{name}: {block:#?}");
        }
        let first = card.lines().position(|line| line.starts_with("SAFETY")).unwrap();
        assert!(first <= 4, "{name}: the block comes first");
        run
    });
}

/// The three blocks of the shelf that were drafted by hand; a person read each line.
#[test]
fn three_evenings_say_what_hurts_most() {
    let blocks = [
        card("estuary-400-mq", "21.5C", "5x120", "tall-five"),
        card("ebb-50-reversal", "20C", "1x120", "twin"),
        card("slack-tide-200-colour", "100F", "1x120", "twin"),
    ];
    let blocks: Vec<String> = blocks.iter().map(|card| block(card).join("\n")).collect();
    insta::assert_snapshot!(blocks.join("\n\n"));
}

/// Hydroquinone of 8 % may be in either bottle of a bought developer. From 3 % on a mixture with H318 damages eyes, and
/// from 1 % on one with H317 causes an allergy: Regulation (EC) 1272/2008, Annex I, tables 3.3.3 and 3.4.5.
#[test]
fn each_bottle_of_a_bought_solution_counts_as_holding_what_it_contains() {
    let card = card("gull-lith", "25C", "1x24x30cm", "print-trays");
    let said = block(&card).join("\n");
    assert!(said.contains("BOTTLE  lith-developer a, lith-developer b: eye damage, allergy"), "{said}");
}

/// 81-93-6 is the number that the recipe's file declares.
#[test]
fn the_number_of_a_declared_ingredient_is_there_for_a_doctor() {
    let card = card("headrace-125-inspected", "20C", "4x8x10in", "sheet-trays");
    let said = card.split_whitespace().collect::<Vec<_>>().join(" ");
    let (_, numbers) = said.split_once("CAS numbers, for a doctor: ").unwrap();
    assert!(numbers.contains("desensitiser: 81-93-6"), "{numbers}");
}

const KEPT: &str = "wetside 2

film trial {
    speed    ISO 100
}

solution soup {
    role     developer
    needs    100 ml per roll
    contains A
}

solution bath {
    role     stop
    contains B
}

recipe one {
    film     trial
    index    100
    develop {
        in       soup stock, one-shot
        between  18 C and 24 C
        time     5:00
        agitate  first 10 s, then 5 s every 1 min
    }
    stop {
        in       bath stock, one-shot
        time     1:00
        agitate  first 10 s, then 5 s every 1 min
    }
}
";

/// The line NEVER of an evening with these two bottles.
fn never(one: &str, other: &str) -> Option<String> {
    let run = Run::new().file(
        "a.wet",
        KEPT.replace("contains A", &format!("contains {one}"))
            .replace("contains B", &format!("contains {other}")),
    );
    let card = run.args(["card", "a.wet", "--at", "20C", "--rolls", "1x120", "--volume", "500ml"]).succeeds();
    let lines = block(&card);
    let start = lines.iter().position(|line| line.starts_with("NEVER"))?;
    let more = lines.iter().skip(start + 1).take_while(|line| line.starts_with("        "));
    let text = lines[start..=start].iter().chain(more).map(|line| line[5..].trim());
    Some(text.collect::<Vec<_>>().join(" "))
}

/// The gases by the sources of the pairs: EUH031 and EUH032 of Annex VI, International Chemical Safety Card ICSC 1132, 40
/// CFR 264, appendix V.
#[test]
fn what_must_not_meet_is_said_by_bottle_with_what_comes_of_it() {
    for (one, other, expected) in [
        ("potassium-thiocyanate 2 g/l", "sulfuric-acid 10 %", "undiluted bath into soup: deadly gas"),
        ("sodium-sulfide 20 g/l", "acetic-acid 28 %", "undiluted bath into soup: deadly gas"),
        ("sodium-selenite 20 g/l", "acetic-acid 28 %", "undiluted bath into soup: toxic gas"),
        ("sodium-hypochlorite 5 %", "citric-acid 30 %", "undiluted bath into soup: chlorine"),
        ("sodium-sulfite 100 g/l", "acetic-acid 28 %", "undiluted bath into soup: choking gas"),
        ("metol 2 g/l", "potassium-dichromate 9 g/l", "bath with developer, fixer, alcohol: fire"),
    ] {
        assert_eq!(never(one, other), Some(format!("{expected}.")), "{one} and {other}");
    }
}

/// A stop at work is poured into developer by every evening; its concentrate is not.
#[test]
fn a_weak_acid_is_named_only_undiluted() {
    assert_eq!(never("sodium-sulfite 100 g/l", "acetic-acid 1.3 %").unwrap(), "acid into soup: choking gas.");
    assert_eq!(never("metol 2 g/l", "sodium-sulfate 45 g/l"), None);
}

/// A folder with settings of a user, and a card of the reversal.
fn with_settings(settings: &str) -> String {
    let run = Run::new().folder_of_repo("recipes").file("own/wetside/tonight.toml", settings);
    let folder = run.folder().join("own").display().to_string();
    let run = run.env("XDG_CONFIG_HOME", &folder);
    run.args(["card", "estuary-400-mq", "--at", "21.5C", "--rolls", "5x120", "--tank", "tall-five"])
        .succeeds()
}

#[test]
fn the_users_number_and_cans_are_in_the_block() {
    let card =
        with_settings("poison = \"01 23 45 67\"\n\n[waste]\nfixer = 1\ndeveloper = 2\nstop = \"the pail\"\n");
    let said = block(&card).join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("Call 01 23 45 67; take this card with you."), "{said}");
    assert!(said.contains("WASTE can 1 fixer (silver) · 2 developer · stop: the pail"), "{said}");
    assert!(card.contains("  - poison centre: 01 23 45 67\n"), "{card}");
    let long = "0123 456 789 in the day, else 999 or 000";
    let card = with_settings(&format!("poison = \"{long}\"\n"));
    let said = block(&card).join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains(long), "a long number is printed whole: {said}");
    let card = with_settings("");
    let said = block(&card).join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("Call your poison centre or emergency number."), "{said}");
}

/// A session of the reversal's fixer only; the bleach is new.
#[test]
fn a_line_that_the_last_session_did_not_have_is_new() {
    let session = "wetside 1\n\nsession last {\n    date      2026-11-02\n    recipe    RECIPE, fingerprint \"46ac83d1\"\n    slot      1 120\n}\n";
    let after = |recipe: &str| {
        let run =
            Run::new().folder_of_repo("recipes").file("journal/last.wet", session.replace("RECIPE", recipe));
        let run = run.args(["card", "ebb-50-reversal", "--at", "20C", "--rolls", "1x120", "--tank", "twin"]);
        run.args(["--date", "2026-11-30"]).succeeds()
    };
    let card = after("estuary-400-mq");
    let new: Vec<&str> = block(&card).into_iter().filter(|line| line.contains("  new: ")).collect();
    assert!(new.iter().any(|line| line.starts_with("LAMP    new: dry hands")), "{card}");
    assert!(new.iter().any(|line| line.starts_with("BOTTLE  new: permanganate-bleach b: BURNS")), "{card}");
    assert!(!block(&card).iter().any(|line| line.starts_with("EYES    new")), "{card}");
    let card = after("ebb-50-reversal");
    assert!(!block(&card).iter().any(|line| line.contains("new: ")), "{card}");
}

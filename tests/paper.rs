//! The card on paper: its pages, its words as another reader finds them, and characters that it cannot show.
//! `rows` holds the rows of the steps, `pictures` the pictures.
//! The tools of Debian's `poppler-utils` read pages and words. Without them the test says so and counts the pages in
//! the file itself.

mod pictures;
mod rows;

use std::process::Command;

use crate::evenings::{SHELF, shelf};
use crate::printed::{pages, words};
use crate::program::Run;

/// The papers.
const PAPERS: [&str; 4] = ["a4", "letter", "a5", "a6"];

fn printed(run: Run, evening: [&str; 3], tank: &str, paper: &str) -> (Run, Vec<u8>) {
    let [recipe, at, rolls] = evening;
    let run = run.again().args(["card", recipe, "--at", at, "--rolls", rolls, "--tank", tank]);
    let run = run.args(["--paper", paper, "-o", "card.pdf"]);
    assert_eq!(run.succeeds(), "");
    let bytes = std::fs::read(run.folder().join("card.pdf")).unwrap();
    (run, bytes)
}

/// An evening of six steps, with five bottles and the slips of five rolls, is on two pages of A4 or Letter; the third page
/// is the back. The longest recipe of the shelf has thirteen steps.
#[test]
fn every_recipe_of_the_shelf_is_on_few_sheets() {
    let mut run = shelf();
    for evenings in &SHELF {
        let (at, rolls) = evenings.all().next().unwrap();
        for (paper, usual, longest) in [("a4", 5, 6), ("letter", 5, 6), ("a5", 7, 11)] {
            let bytes;
            (run, bytes) = printed(run, [evenings.recipe, at, rolls], evenings.tank, paper);
            let most = if evenings.recipe == "ebb-50-reversal" { longest } else { usual };
            let pages = pages(&bytes);
            assert!((2..=most).contains(&pages), "{} on {paper}: {pages} pages", evenings.recipe);
            assert!(bytes.len() < 200_000, "{} on {paper}: {} bytes", evenings.recipe, bytes.len());
        }
    }
    let (_, bytes) = printed(run, ["estuary-400-mq", "21.5C", "5x120"], "tall-five", "a4");
    assert_eq!(pages(&bytes), 3);
}

/// The sizes of the papers in points of 1/72 inch, by hand: 210 mm = 595.28, 297 mm = 841.89, 148 mm = 419.53,
/// 105 mm = 297.64; a letter is 8.5 by 11 inches.
#[test]
fn another_reader_finds_the_pages_and_their_size() {
    let sizes = ["595.28 x 841.89 pts (A4)", "612 x 792 pts (letter)", "419.53 x 595.28", "297.64 x 419.53"];
    let mut run = shelf();
    for (paper, size) in PAPERS.into_iter().zip(sizes) {
        let bytes;
        (run, bytes) = printed(run, ["estuary-400-mq", "21.5C", "5x120"], "tall-five", paper);
        let out = Command::new("pdfinfo").arg(run.folder().join("card.pdf")).output();
        let Ok(out) = out else { return };
        let info = String::from_utf8(out.stdout).unwrap();
        assert!(info.contains(&format!("{:<16} {}\n", "Pages:", pages(&bytes))), "{info}");
        assert!(info.contains(size), "{info}");
        assert!(info.contains("Title:           Estuary 400 in MQ borax 1+1\n"), "{info}");
        assert!(!info.contains("CreationDate"), "{info}");
    }
}

/// The words of Annex IV of Regulation (EC) 1272/2008, and the CAS numbers of metol and acetic acid.
#[test]
fn first_aid_is_on_the_back_of_every_sheet() {
    let mut run = shelf();
    for paper in PAPERS {
        let bytes;
        (run, bytes) = printed(run, ["estuary-400-mq", "21.5C", "5x120"], "tall-five", paper);
        let side = |page: usize| {
            let page = page.to_string();
            let card = run.folder().join("card.pdf");
            let only = ["-f", &page, "-l", &page];
            let words = Command::new("pdftotext").args(only).arg(card).arg("-").output().ok()?;
            Some(String::from_utf8(words.stdout).unwrap().split_whitespace().collect::<Vec<_>>().join(" "))
        };
        let Some(front) = side(1) else { return };
        assert!(
            front.contains("SAFETY label, data sheet") && !front.contains("FIRST AID"),
            "{paper}: {front}"
        );
        let sides: Vec<String> = (2..=pages(&bytes)).filter_map(side).collect();
        let begins = "FIRST AID – if in eyes: rinse cautiously with water for several";
        let first = sides.iter().position(|side| side.starts_with(begins)).expect("a page begins with it");
        let back = sides[first..].join(" ");
        assert!(!back.contains("POUR"), "{paper}: {back}");
        for words in ["do not induce vomiting", "rinse for at least 15 minutes", "55-55-0", "64-19-7"] {
            assert!(back.contains(words), "{paper}: {words} is not in {back}");
        }
    }
}

#[test]
fn the_same_card_is_the_same_bytes() {
    let evening = ["estuary-400-mq", "21.5C", "5x120"];
    let (run, one) = printed(shelf(), evening, "tall-five", "a4");
    let (_, other) = printed(run, evening, "tall-five", "a4");
    assert!(one == other);
}

const SHORT: &str = "wetside 1

film trial {
    speed    ISO 100
}

solution soup {
    role     developer
    needs    100 ml per roll
}

recipe titled \"TITLE\" {
    film     trial
    index    100

    develop {
        in       soup stock, one-shot
        between  18 C and 24 C
        time     5:00
    }
}
";

fn titled(title: &str) -> Run {
    titled_with(title, "a5")
}

fn titled_with(title: &str, paper: &str) -> Run {
    let run = Run::new().file("a.wet", SHORT.replace("TITLE", title));
    let run = run.args(["card", "a.wet", "--at", "20C", "--rolls", "1x120", "--paper", paper]);
    let run = run.args(["-o", "card.pdf"]);
    assert_eq!(run.succeeds(), "");
    run
}

#[test]
fn greek_and_cyrillic_titles_are_shown() {
    let run = titled("Ποτάμι, Река, ☐ 20 °C");
    let Some(paper) = words(&run.folder().join("card.pdf")) else { return };
    assert!(paper.starts_with("Ποτάμι, Река, ☐ 20 °C"), "{paper}");
    assert!(!paper.contains("printed as an empty box"), "{paper}");
}

/// Hebrew runs from right to left, and the font has no Chinese.
#[test]
fn letters_that_cannot_be_shown_are_named() {
    let run = titled("נהר 河 river");
    let Some(paper) = words(&run.folder().join("card.pdf")) else { return };
    let named = "characters printed as an empty box: U+05D4, U+05E0, U+05E8, U+6CB3";
    assert!(paper.contains(named), "{paper}");
    assert!(paper.starts_with("□□□ □ river"), "copied text must be the visible text: {paper}");
}

#[test]
fn a_long_card_continues_on_further_pages() {
    let note =
        "a line of remarks that is as long as it takes to fill the whole width of a page, more or less";
    let notes = format!("    note     \"{note}\"\n").repeat(400);
    let text = SHORT.replace("    index    100\n", &format!("    index    100\n{notes}"));
    let run = Run::new().file("a.wet", text);
    let run =
        run.args(["card", "a.wet", "--at", "20C", "--rolls", "1x120", "--paper", "a6", "-o", "card.pdf"]);
    assert_eq!(run.succeeds(), "");
    let bytes = std::fs::read(run.folder().join("card.pdf")).unwrap();
    assert!(2 < pages(&bytes));
    let Some(paper) = words(&run.folder().join("card.pdf")) else { return };
    assert_eq!(paper.matches("a line of remarks").count(), 400);
}

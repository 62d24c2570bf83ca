//! The card on paper: its pages, its words as another reader finds them, and characters that it cannot show.
//! The tools of Debian's `poppler-utils` read pages and words. Without them the test says so and counts the pages in
//! the file itself.

mod pictures;

use std::process::Command;

use crate::evenings::{SHELF, shelf};
use crate::printed::{pages, words};
use crate::program::Run;

/// The pages on each paper: the card, and its back.
const PAPERS: [(&str, usize); 4] = [("a4", 2), ("letter", 2), ("a5", 2), ("a6", 3)];

fn printed(run: Run, evening: [&str; 3], tank: &str, paper: &str) -> (Run, Vec<u8>) {
    let [recipe, at, rolls] = evening;
    let run = run.again().args(["card", recipe, "--at", at, "--rolls", rolls, "--tank", tank]);
    let run = run.args(["--paper", paper, "-o", "card.pdf"]);
    assert_eq!(run.succeeds(), "");
    let bytes = std::fs::read(run.folder().join("card.pdf")).unwrap();
    (run, bytes)
}

#[test]
fn every_recipe_of_the_shelf_fits_its_paper() {
    let mut run = shelf();
    for evenings in &SHELF {
        let (at, rolls) = evenings.all().next().unwrap();
        for (paper, most) in PAPERS {
            let bytes;
            (run, bytes) = printed(run, [evenings.recipe, at, rolls], evenings.tank, paper);
            let pages = pages(&bytes);
            assert!((2..=most).contains(&pages), "{} on {paper}: {pages} pages", evenings.recipe);
            assert!(bytes.len() < 150_000, "{} on {paper}: {} bytes", evenings.recipe, bytes.len());
        }
    }
}

/// The sizes of the papers in points of 1/72 inch, by hand: 210 mm = 595.28, 297 mm = 841.89, 148 mm = 419.53,
/// 105 mm = 297.64; a letter is 8.5 by 11 inches.
#[test]
fn another_reader_finds_the_pages_and_their_size() {
    let sizes = ["595.28 x 841.89 pts (A4)", "612 x 792 pts (letter)", "419.53 x 595.28", "297.64 x 419.53"];
    let mut run = shelf();
    for ((paper, most), size) in PAPERS.into_iter().zip(sizes) {
        (run, _) = printed(run, ["estuary-400-mq", "21.5C", "5x120"], "tall-five", paper);
        let out = Command::new("pdfinfo").arg(run.folder().join("card.pdf")).output();
        let Ok(out) = out else { return };
        let info = String::from_utf8(out.stdout).unwrap();
        assert!(info.contains(&format!("Pages:           {most}\n")), "{info}");
        assert!(info.contains(size), "{info}");
        assert!(info.contains("Title:           Estuary 400 in MQ borax 1+1\n"), "{info}");
        assert!(!info.contains("CreationDate"), "{info}");
    }
}

#[test]
fn the_paper_card_has_the_words_of_the_text_card() {
    let mut run = shelf();
    for evenings in &SHELF {
        let (at, rolls) = evenings.all().next().unwrap();
        (run, _) = printed(run, [evenings.recipe, at, rolls], evenings.tank, "a5");
        let Some(paper) = words(&run.folder().join("card.pdf")) else { return };
        let asked = ["card", evenings.recipe, "--at", at, "--rolls", rolls, "--tank", evenings.tank];
        run = run.again().args(asked).args(["--width", "200"]);
        let text = run.succeeds();
        let work = text.split_once("\nWORK\n").unwrap().1;
        // Where all is brushed on, nothing is left to put away.
        let work = work.split_once("\nAFTERWARDS\n").or_else(|| work.split_once("\nCAUTIONS\n")).unwrap().0;
        for line in work.lines().filter(|line| !line.trim().is_empty()) {
            let head = line.split_once(" --").map_or(line, |(head, _)| head);
            let wanted: Vec<&str> = head.split_whitespace().collect();
            assert!(paper.contains(&wanted.join(" ")), "{}: '{head}' is not in: {paper}", evenings.recipe);
        }
        let title = text.split_once("  ").unwrap().0;
        assert!(paper.starts_with(title), "{title}: {paper}");
    }
}

/// The words of Annex IV of Regulation (EC) 1272/2008, and the CAS numbers of metol and acetic acid.
#[test]
fn first_aid_is_on_the_back_of_every_sheet() {
    let mut run = shelf();
    for (paper, pages) in PAPERS {
        (run, _) = printed(run, ["estuary-400-mq", "21.5C", "5x120"], "tall-five", paper);
        let side = |page: usize| {
            let page = page.to_string();
            let card = run.folder().join("card.pdf");
            let only = ["-f", &page, "-l", &page];
            let words = Command::new("pdftotext").args(only).arg(card).arg("-").output().ok()?;
            Some(String::from_utf8(words.stdout).unwrap().split_whitespace().collect::<Vec<_>>().join(" "))
        };
        let Some((front, back)) = side(1).zip(side(pages)) else { return };
        assert!(
            front.contains("SAFETY label, data sheet") && !front.contains("FIRST AID"),
            "{paper}: {front}"
        );
        assert!(
            back.starts_with("FIRST AID if in eyes: rinse cautiously with water for several"),
            "{paper}: {back}"
        );
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

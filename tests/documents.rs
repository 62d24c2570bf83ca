//! Plans, sheets, tables of baths and comparisons in the forms that people read: the text, the page and the paper have
//! the same words, and nothing on paper is cut.

use std::collections::BTreeMap;

use crate::evenings::shelf;
use crate::printed::{pages, places, words};
use crate::program::Run;

/// A call for each kind of document. The folder has the recipes of the shelf, and a backlog.
const CALLS: [&[&str]; 5] = [
    &["plan", "estuary-autumn", "--tank", "autumn-five", "--on", "2026-11-16", "--at", "20.5C"],
    &["measure", "mq-borax", "--make", "2l", "--units", "us"],
    &["measure", "permanganate-bleach", "--make", "1l"],
    &["measure", "rapid-fix", "1+4", "--make", "1l", "--at", "20C", "--taps", "12C,55C"],
    &["compare", "estuary-400-mq", "estuary-400-mq-800"],
];

fn folder() -> Run {
    Run::new().folders_of_repo("recipes")
}

/// Runs a call, of which a comparison may end with 1.
fn run(run: Run, call: &[&str], more: &[&str]) -> (Run, String) {
    let run = call.iter().chain(more).fold(run.again(), |run, one| run.args([one]));
    let text = if call[0] == "compare" { run.fails(1).0 } else { run.succeeds() };
    (run, text)
}

/// How often each word is in a text. Signs that draw lines and boxes are left out, and a word may be broken after a
/// hyphen.
fn counted(text: &str) -> BTreeMap<String, usize> {
    let mut all = BTreeMap::new();
    for word in text.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty()) {
        *all.entry(word.to_lowercase()).or_default() += 1;
    }
    all
}

#[track_caller]
fn has_all(have: &str, wanted: &str, what: &str) {
    let have = counted(have);
    for (word, count) in counted(wanted) {
        let found = have.get(&word).copied().unwrap_or(0);
        assert!(found >= count, "{what}: '{word}' is there {found} times, and should be {count} times");
    }
}

/// Half a page a load is the most; eleven loads of five rolls, the safety block and the sums are on three pages.
#[test]
fn a_plan_on_paper_takes_less_than_half_a_page_a_load() {
    let (run, text) = run(folder(), CALLS[0], &[]);
    let loads = text.lines().filter(|line| line.starts_with("LOAD ")).count();
    let (run, _) = self::run(run, CALLS[0], &["-o", "plan.pdf"]);
    let pages = pages(&std::fs::read(run.folder().join("plan.pdf")).unwrap());
    assert_eq!((loads, pages), (11, 3));
}

#[test]
fn the_page_has_the_words_of_the_text() {
    for call in CALLS {
        let (next, text) = run(folder(), call, &[]);
        let (_, page) = run(next, call, &["--as", "html"]);
        let body = page.split_once("<body>").unwrap().1.split_once("<script>").unwrap().0;
        let bare: String = body
            .split('<')
            .map(|tag| tag.split_once('>').map_or(tag, |(_, text)| text))
            .fold(String::new(), |all, text| all + " " + text);
        let signs = [("&#39;", "'"), ("&quot;", "\""), ("&amp;", "&")];
        let bare = signs.into_iter().fold(bare, |text, (sign, shown)| text.replace(sign, shown));
        // The page numbers the rolls of a plan as a list, which is no text.
        let text =
            if call[0] == "plan" { text.replace(|letter: char| letter.is_ascii_digit(), " ") } else { text };
        has_all(&bare, &text, call[0]);
    }
}

#[test]
fn the_paper_has_the_words_of_the_text_and_none_is_cut() {
    let mut folder = folder();
    for call in CALLS {
        let text;
        (folder, text) = run(folder, call, &[]);
        for paper in ["a4", "letter", "a5", "a6"] {
            (folder, _) = run(folder, call, &["--paper", paper, "-o", "out.pdf"]);
            let file = folder.folder().join("out.pdf");
            let Some(printed) = words(&file) else { return };
            let what = format!("{} on {paper}", call[..2].join(" "));
            has_all(&printed, &text, &what);
            let (pages, words) = places(&file).unwrap();
            for word in &words {
                assert!(!word.text.is_empty(), "{what}");
                let ([left, top, right, bottom], [width, height]) = (word.edges, pages[word.page]);
                let is_inside = 14.0 < left && right < width - 14.0 && 8.0 < top && bottom < height - 8.0;
                assert!(is_inside, "{what}: {word:?} is at the edge of {width} x {height}");
            }
        }
    }
}

/// The text of every letter is ten points high or more: a font's line is at least as high as its size.
#[test]
fn body_text_on_paper_is_ten_points_or_more() {
    let mut folder = folder();
    for call in CALLS {
        (folder, _) = run(folder, call, &["--paper", "a5", "-o", "out.pdf"]);
        let bytes = std::fs::read(folder.folder().join("out.pdf")).unwrap();
        let text: String = bytes.iter().copied().map(char::from).collect();
        let sizes = text.lines().filter_map(|line| line.strip_suffix(" Tf")?.rsplit_once(' '));
        let sizes: Vec<f64> = sizes.map(|(_, size)| size.parse().unwrap()).collect();
        assert!(!sizes.is_empty() && sizes.iter().all(|size| *size >= 10.0), "{}: {sizes:?}", call[0]);
    }
}

#[test]
fn a_table_of_baths_is_in_every_form() {
    let bath = "bath fix-a {\n    in rapid-fix 1+4\n    volume 2.5 l\n    mixed 2026-11-02\n}\n";
    let file = format!("wetside 1\nuse \"solutions.wet\"\n{bath}");
    let mut folder = shelf().file("recipes/mine.wet", file);
    let call = ["baths", "--on", "2026-11-25"];
    let text;
    (folder, text) = run(folder, &call, &[]);
    assert!(text.starts_with("bath   in it"), "{text}");
    let page;
    (folder, page) = run(folder, &call, &["--as", "html"]);
    assert!(
        page.contains("<h1>Baths on 2026-11-25</h1>") && page.contains("<th scope=\"row\">fix-a</th>"),
        "{page}"
    );
    for paper in ["a4", "a6"] {
        (folder, _) = run(folder, &call, &["--paper", paper, "-o", "out.pdf"]);
        let Some(printed) = words(&folder.folder().join("out.pdf")) else { return };
        has_all(&printed, &text, paper);
    }
    let _ = folder;
}

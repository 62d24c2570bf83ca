//! The printed page: the rows of the tank sheet in type that is legible at arm's length, on each paper, with first aid and
//! pictures on the back.

use serde_json::json;

use super::stage::{Stage, readme_evening};
use crate::evenings::{SHELF, call, every_evening, shelf};
use crate::printed::{pages, places};
use crate::program::Run;

/// The papers in inches, with the most pages of a card, and of that of the longest recipe.
const PAPERS: [((f64, f64), usize, usize); 4] =
    [((8.27, 11.69), 5, 6), ((8.5, 11.0), 5, 6), ((5.83, 8.27), 8, 12), ((4.13, 5.83), 18, 25)];
const A4: (f64, f64) = PAPERS[0].0;
const LETTER: (f64, f64) = PAPERS[1].0;
/// A CSS pixel in inches.
const PIXEL: f64 = 1.0 / 96.0;
/// The margins at both sides: twice 9 mm, in pixels.
const MARGINS: f64 = 18.0 / 25.4 / PIXEL;

/// The smallest printed type, and the smallest of clock times, in points of 1/72 inch; a CSS pixel is 1/96 inch.
const SMALLEST: &str =
    "['body *', '.row strong'].map((all) => Math.min(...[...document.querySelectorAll(all)]
    .filter((one) => one.checkVisibility() && !one.closest('svg, script'))
    .filter((one) => [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim() !== ''))
    .map((one) => Math.round(parseFloat(getComputedStyle(one).fontSize) * 72 / 96 * 100) / 100)))";

/// The smallest words of a picture; they are drawn 10 high on a picture of 320.
const DRAWN: &str = "Math.min(...[...document.querySelectorAll('.picture')].map((picture) =>
    10 * picture.getBoundingClientRect().width / picture.viewBox.baseVal.width * 72 / 96))";

/// How much the print is wider than the sheet. A browser would print all of it smaller.
const WIDER: &str = "document.documentElement.scrollWidth - document.documentElement.clientWidth";

/// Inspects the page in print layout, then restores the screen layout.
#[track_caller]
fn on_paper(page: &mut Stage, expressions: &[&str]) -> Vec<serde_json::Value> {
    page.browser("Emulation.setEmulatedMedia", json!({ "media": "print" }));
    let values = expressions.iter().map(|expression| page.value(expression)).collect();
    page.browser("Emulation.setEmulatedMedia", json!({ "media": "" }));
    values
}

#[test]
fn every_card_prints_in_legible_type_with_its_pictures() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    every_evening(|run, name| {
        let run = run.args(["--as", "html"]);
        page.write(&run.succeeds());
        page.reload();
        let seen = on_paper(&mut page, &[SMALLEST, DRAWN]);
        assert_eq!(seen[0][0], json!(10), "{name}");
        // Times at which the same is done again are nine tenths as large: 20 points and 18.
        assert!(seen[0][1].as_f64().unwrap() >= 18.0, "{name}: {seen:?}");
        assert!(seen[1].as_f64().unwrap() >= 8.0, "{name}: {} pt in a picture", seen[1]);
        run
    });
    page.was_quiet();
}

/// A row begins with the session's time of its step, and ends with a blank for the true time.
#[test]
fn no_row_is_torn_and_nothing_is_cut_on_any_paper() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    let mut run = shelf();
    for evenings in &SHELF {
        run = call(run, evenings, evenings.all().next().unwrap()).args(["--as", "html"]);
        page.write(&run.succeeds());
        page.reload();
        for (paper, usual, longest) in PAPERS {
            let name = format!("{} on {paper:?}", evenings.recipe);
            let printed = page.printed(paper);
            let most = if evenings.recipe == "ebb-50-reversal" { longest } else { usual };
            assert!((2..=most).contains(&pages(&printed)), "{name}: {} pages", pages(&printed));
            let room = (paper.0 / PIXEL - MARGINS).floor();
            page.browser(
                "Emulation.setDeviceMetricsOverride",
                json!(
                { "width": room, "height": 1000, "deviceScaleFactor": 1, "mobile": false }),
            );
            assert_eq!(on_paper(&mut page, &[WIDER]), [json!(0)], "{name}");
            page.browser("Emulation.clearDeviceMetricsOverride", json!({}));
            let sheet = run.folder().join("printed.pdf");
            std::fs::write(&sheet, printed).unwrap();
            let Some((sides, words)) = places(&sheet) else { return };
            let mut rows = 0;
            for side in 0..sides.len() {
                let texts = || words.iter().filter(|word| word.page == side).map(|word| word.text.as_str());
                let begun = texts().filter(|text| *text == "begins").count();
                let ended = texts().zip(texts().skip(1)).filter(|pair| *pair == ("true", "time")).count();
                assert_eq!(begun, ended, "{name}: page {side}");
                rows += begun;
            }
            assert_eq!(page.value("document.querySelectorAll('.row').length"), rows, "{name}");
            for word in &words {
                let ([left, top, right, bottom], [width, height]) = (word.edges, sides[word.page]);
                let is_inside = 14.0 < left && right < width - 14.0 && 14.0 < top && bottom < height - 14.0;
                assert!(is_inside, "{name}: {word:?} of {width} x {height}");
            }
        }
    }
    page.was_quiet();
}

/// The longest recipe. The page's script has no part in printing.
#[test]
fn without_script_the_card_prints_the_same() {
    let call = ["card", "ebb-50-reversal", "--at", "19C", "--rolls", "2x135", "--tank", "twin"];
    let Some(mut page) = Stage::untouched(shelf().args(call)) else { return };
    let with = [A4, LETTER].map(|sheet| pages(&page.printed(sheet)));
    page.browser("Emulation.setScriptExecutionDisabled", json!({ "value": true }));
    page.reload_without_script();
    assert_eq!([A4, LETTER].map(|sheet| pages(&page.printed(sheet))), with);
}

#[test]
fn a_phone_prints_the_same_as_a_computer() {
    let Some(mut page) = Stage::on_trial() else { return };
    page.press("begin");
    let mut prints = Vec::new();
    for size in [(320, 568), (1920, 1080)] {
        page.picture(size, "dark", "before-print");
        prints.push(pages(&page.printed(LETTER)));
        let back = page.value("getComputedStyle(document.getElementById('follow')).display");
        assert_eq!(back, "grid", "the screen is as it was");
    }
    assert_eq!(prints, [3, 3]);
    page.was_quiet();
}

/// A box at the left of each bottle, each step and each task, and blanks that only paper shows.
#[test]
fn the_print_has_boxes_to_tick_and_blanks_to_fill_in() {
    let Some(mut page) = Stage::untouched(readme_evening()) else { return };
    let boxes = "['.bottles > li', '.head.boxed h3', 'ul.boxed > li'].map((all) =>
        [...document.querySelectorAll(all)].filter((one) => {
            const box = getComputedStyle(one, '::before');
            return box.float === 'left' && parseFloat(box.borderTopWidth) > 0 && parseFloat(box.width) > 5;
        }).length)";
    let blanks =
        "[...document.querySelectorAll('.blank, .stubs > li')].filter((one) => one.checkVisibility()).length";
    // Five bottles; six steps; two films to dip before and two tasks afterwards.
    let seen = on_paper(&mut page, &[boxes, blanks]);
    assert_eq!(seen[0], json!([5, 6, 4]));
    // A true time for each step, the time of the first pour, and a slip for each of five rolls.
    assert_eq!(seen[1], json!(6 + 1 + 5));
    assert_eq!(page.value(blanks), 0);
}

const LONG: &str = "wetside 1

film trial {
    speed    ISO 100
}

solution soup {
    role     developer
    needs    100 ml per roll
}

recipe long \"Long\" {
    film     trial
    index    100
NOTES
    develop {
        in       soup stock, one-shot
        between  18 C and 24 C
        time     5:00
    }
}
";

#[test]
fn a_very_long_card_prints_on_further_sheets_in_legible_type() {
    let note = "    note     \"a note that is as long as it takes to fill a column, more or less\"\n";
    let run = Run::new().file("a.wet", LONG.replace("NOTES", &note.repeat(400)));
    let Some(mut page) = Stage::untouched(run.args(["card", "a.wet", "--at", "20C", "--rolls", "1x120"]))
    else {
        return;
    };
    assert!(1 < pages(&page.printed(A4)));
    assert_eq!(on_paper(&mut page, &[SMALLEST])[0][0], json!(10));
}

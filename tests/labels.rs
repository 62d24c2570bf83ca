//! The labels of bottles: their lines, as text and on paper, and how many fit on a sheet.

use std::path::PathBuf;

use wetside::chemistry::{HAZARDS, Hazard, pictograms};

use crate::evenings::shelf;
use crate::printed::{pages, words};
use crate::program::Run;

const RULES: &str = "Labels by EU limits (CLP); the US and Canada count some hazards from 0.1 %.";
const DAY: [&str; 2] = ["--date", "2026-11-02"];

/// The words of a text, a space between each two.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn label(solution: &str, make: &str) -> Run {
    shelf().args(["measure", solution, "--make", make, "--as", "label"]).args(DAY)
}

/// By hand: 100 g of sulfite in 1000 g is 10 %; six months from the second of November; the capacity of a litre is 8
/// rolls. The lines are those that two photographers agreed on.
#[test]
fn a_stock_has_its_name_its_days_its_contents_and_a_box_for_each_roll() {
    let text = label("mq-borax", "1l").succeeds();
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(flat(lines[0]), "MQ BORAX, FINE GRAIN, stock 1 l use ________");
    assert_eq!(lines[1], "mixed 2026-11-02, until 2027-05-02 full");
    assert_eq!(lines[2], "metol 0.2 %, sodium-sulfite 10 %, hydroquinone 0.5 %, borax 0.2 %");
    let text = flat(&text);
    assert!(text.contains("Contains metol, hydroquinone. May produce an allergic reaction."), "{text}");
    assert!(text.contains(RULES), "{text}");
    let keeping = "NOT FOOD · keep from children · never with: acid, bleach · waste: developer";
    assert!(text.contains(keeping), "{text}");
    assert_eq!(text.matches("[ ]").count(), 8, "{text}");
    assert!(text.ends_with("no. mq-borax-________"), "{text}");
    assert!(!text.contains("DANGER") && text.contains("goggles, gloves · borax may harm"), "{text}");
}

/// 90 g of the monohydrate are 90 x 120.06 / 138.07 = 78.3 g without water: 7.8 %. Without a pH it counts as burning.
/// The two bottles of the bleach are two labels; a bottle of permanganate gives off gas.
#[test]
fn each_bottle_of_a_solution_has_a_label_of_its_own() {
    let text = label("permanganate-bleach", "1l").succeeds();
    let [a, b] = text.split("\n\n").map(flat).collect::<Vec<_>>().try_into().unwrap();
    assert!(b.starts_with("PERMANGANATE BLEACH, b 1 l use ________ DANGER GHS05 "), "{b}");
    assert!(
        b.contains("sodium-bisulfate 7.8 % Causes severe skin burns and eye damage (pH not measured)."),
        "{b}"
    );
    assert!(b.contains("goggles, gloves · acid into water, never the reverse"), "{b}");
    assert!(b.contains("never with: developer, fixer, sulfite, hypochlorite,"), "{b}");
    assert!(!b.contains("cap one turn loose"), "{b}");
    assert!(
        a.starts_with("PERMANGANATE BLEACH, a 1 l use ________ mixed 2026-11-02, until 2027-02-02 full"),
        "{a}"
    );
    assert!(
        a.contains("potassium-permanganate 0.4 % Harmful to aquatic life with long lasting effects."),
        "{a}"
    );
    assert!(a.contains("never with: developer, fixer, sulfite, alcohol, formaldehyde"), "{a}");
    assert!(a.contains("cap one turn loose"), "{a}");
}

#[test]
fn a_bought_solution_sends_to_its_own_label_and_data_sheet() {
    let run = shelf().args(["measure", "rapid-fix", "1+4", "--make", "2.5l", "--as", "label"]).args(DAY);
    let text = flat(&run.succeeds());
    assert!(
        text.starts_with("RAPID FIXER, CONCENTRATE, 1+4 2.5 l mixed 2026-11-02, until 2027-02-02 full"),
        "{text}"
    );
    assert!(text.contains("ammonium-thiosulfate (strength not stated)"), "{text}");
    let read = "Strength not stated: it may burn skin and eyes. Read its own label and data sheet.";
    assert!(text.contains(read), "{text}");
    assert!(text.contains("never with: acid, bleach") && text.contains("waste: fixer (silver)"), "{text}");
    assert!(!text.contains("use ________") && !text.contains("acid into water"), "{text}");
}

#[test]
fn what_is_not_known_is_never_below_the_limits() {
    let file = "wetside 2\n\nsolution tea \"Bought tea\" {\n    role toner\n}\n\nsolution salt {\n    role clearing\n    \
                formula for 1 l {\n        water 800 ml\n        sodium-sulfate 20 g anhydrous\n        water to 1 l\n    \
                }\n}\n";
    let run = Run::new().file("tea.wet", file);
    let tea = run.again().args(["measure", "tea", "1+1", "--make", "1l", "--as", "label"]).args(DAY);
    let tea = flat(&tea.succeeds());
    assert!(tea.contains("What it contains is not known: read its own label and data sheet."), "{tea}");
    assert!(tea.contains("keeping time not stated") && tea.contains("goggles, gloves"), "{tea}");
    assert!(!tea.contains("Below the limits") && !tea.contains("EU limits"), "{tea}");
    let salt = run.args(["measure", "salt", "--make", "500ml", "--as", "label"]).args(DAY);
    let salt = flat(&salt.succeeds());
    assert!(salt.starts_with("SALT, stock 500 ml use"), "{salt}");
    assert!(
        salt.contains("Below the limits for a label. Wet skin every week is what makes an allergy."),
        "{salt}"
    );
}

/// The bottles of that autumn, and a stop of 1+19 from one of two bottles.
#[test]
fn every_bottle_of_the_darkroom_has_a_label_with_what_it_has_treated() {
    let run = Run::new().folder_of_repo("recipes/estuary-autumn");
    let table = run.again().args(["baths", "--on", "2026-11-16"]).succeeds();
    let text = run.again().args(["baths", "--on", "2026-11-16", "--as", "label"]).succeeds();
    let labels: Vec<String> = text.split("\n\n").map(flat).collect();
    assert_eq!(
        labels.len(),
        table.lines().skip(1).filter(|line| line.starts_with("autumn-")).count(),
        "{table}"
    );
    assert!(labels.iter().any(|label| label.ends_with("no. autumn-fix-a, Fixer, bottle A")), "{text}");
    assert!(labels.iter().all(|label| label.contains(", until 20") && !label.contains("use ___")), "{text}");
    let one = run.again().args(["baths", "autumn-fix-b", "--on", "2026-11-16", "--as", "label"]).succeeds();
    assert!(flat(&one).contains("mixed 2026-11-12") && !one.contains("autumn-stop"), "{one}");
    let (_, error) = run.again().args(["baths", "autumn-fix", "--as", "label"]).fails(2);
    assert!(error.contains("autumn-fix") && error.contains("autumn-fix-a"), "{error}");
    let (_, error) = run.args(["baths", "--on", "2026-10-01", "--as", "label"]).fails(2);
    assert!(error.contains("no bath is in use on 2026-10-01, so there is no label"), "{error}");
}

/// 5 of 10 rolls: 1 l treats 10 rolls, and a bottle of 500 ml five, of which two are ticked.
#[test]
fn a_box_is_ticked_for_each_roll_that_the_bottle_has_treated() {
    let file = "wetside 2\n\nsolution fixer {\n    role fixer\n    contains sodium-thiosulfate 20 %\n    treats 10 rolls per 1 l \
                at stock\n    treats 400 rolls per 1 l at 2+1\n    keeps 3 months\n    keeps 2 weeks half full\n}\n\nbath a {\n    in fixer stock\n    \
                volume 500 ml\n    mixed 2026-11-02\n}\n\nbath many {\n    in fixer 2+1\n    volume 500 ml\n    mixed 2026-11-02\n}\n\n\
                session s-1 {\n    date 2026-11-03\n    recipe gone, fingerprint \"46ac83d1\"\n    slot 1 120\n    slot 2 120\n    \
                bath a\n}\n";
    let run = Run::new().file("darkroom.wet", file);
    let text = run.args(["baths", "--on", "2026-11-05", "--as", "label"]).succeeds();
    let [a, many] = text.split("\n\n").map(flat).collect::<Vec<_>>().try_into().unwrap();
    assert!(a.contains("mixed 2026-11-02, until 2027-02-02 full; half full until 2026-11-16"), "{a}");
    assert!(a.contains("rolls [x][x][ ][ ][ ] no. a"), "{a}");
    assert!(many.contains("rolls 0 of 200 treated ________ no. many"), "{many}");
}

#[test]
fn a_label_names_the_users_can() {
    let run =
        shelf().file("own/wetside/tonight.toml", "[waste]\ndeveloper = 2\nbleach = \"the white drum\"\n");
    let folder = run.folder().join("own").display().to_string();
    let label = |solution: &str| {
        let run = run.again().env("XDG_CONFIG_HOME", &folder);
        flat(&run.args(["measure", solution, "--make", "1l", "--as", "label"]).args(DAY).succeeds())
    };
    assert!(label("mq-borax").contains("never with: acid, bleach · waste can 2 rolls"));
    assert!(label("permanganate-bleach").contains("· waste: the white drum rolls"));
}

/// Each file has the labels of a call, and their number of pages.
fn printed(run: Run) -> (PathBuf, usize) {
    let run = run.args(["--as", "label", "-o", "labels.pdf"]);
    assert_eq!(run.succeeds(), "");
    let file = run.folder().join("labels.pdf");
    let bytes = std::fs::read(&file).unwrap();
    (file, pages(&bytes))
}

/// By hand: a sheet of A4 without a margin of 8 mm is 194 mm by 281 mm, two labels of at least 88 mm wide and five of at
/// least 52 mm high; Letter is 200 mm by 263 mm, the same. A5 and A6 take three and two. A label for more than 3 l is at
/// least 105 mm high, two of the five rows.
#[test]
fn ten_small_labels_fit_on_a_sheet_and_large_bottles_have_large_labels() {
    for (paper, make, on_a_sheet) in [
        ("a4", "1l", 10),
        ("letter", "1l", 10),
        ("a5", "1l", 3),
        ("a6", "1l", 2),
        ("a4", "5l", 4),
        ("letter", "5l", 4),
    ] {
        for (copies, expected) in [(on_a_sheet, 1), (on_a_sheet + 1, 2), (2 * on_a_sheet + 1, 3)] {
            let run = shelf().args(["measure", "clearing-bath", "--make", make, "--paper", paper]).args(DAY);
            let (_, pages) = printed(run.args(["--copies", &copies.to_string()]));
            assert_eq!(pages, expected, "{copies} of {make} on {paper}");
        }
    }
}

/// Every line of the text is on the paper, whole and in its order.
fn has_all_of(paper: &str, text: &str) {
    let lines =
        text.split("\n\n").flat_map(|label| label.lines().map(str::trim).filter(|line| !line.is_empty()));
    for line in lines {
        let shown = line.replace("[ ]", "").replace("[x]", "");
        for word in shown.split_whitespace() {
            assert!(paper.contains(word), "'{word}' of '{line}' is not in: {paper}");
        }
    }
}

#[test]
fn the_paper_has_the_words_of_the_text() {
    let folder = shelf();
    for solution in ["mq-borax", "permanganate-bleach", "colour-developer", "monobath", "clearing-bath"] {
        let text = label(solution, "1l").args(["--width", "200"]).succeeds();
        for paper in ["a4", "letter"] {
            let run = folder.again().args(["measure", solution, "--make", "1l", "--paper", paper]).args(DAY);
            let (file, pages) = printed(run);
            assert_eq!(pages, 1, "{solution}");
            let Some(paper) = words(&file) else { return };
            has_all_of(&paper, &text);
            // A sentence is not broken by anything else.
            assert!(paper.contains(RULES), "{paper}");
        }
    }
}

/// A title of 200 letters, forty ingredients and thirty cautions of 90 letters: more than a column of A4 has, and more
/// than both sides of A6.
#[test]
fn nothing_of_a_long_label_is_cut() {
    let names = [
        "metol",
        "hydroquinone",
        "phenidone",
        "pyrogallol",
        "catechol",
        "glycin",
        "amidol",
        "thiourea",
        "borax",
        "boric-acid",
        "potassium-bromide",
        "potassium-iodide",
        "sodium-sulfite",
        "potassium-carbonate",
        "potassium-dichromate",
        "sodium-selenite",
        "mercuric-chloride",
        "gold-chloride",
        "stannous-chloride",
        "copper-sulfate",
        "edta-disodium",
        "ammonium-chloride",
        "citrazinic-acid",
        "hexamine",
    ];
    let grams: Vec<String> = names.iter().map(|name| format!("{name} 20 g/l")).collect();
    let cautions: Vec<String> = (1..=30)
        .map(|at| format!("    caution \"caution-{at} {}\"\n", "of-a-stranger ".repeat(6).trim()))
        .collect();
    let title = format!("{} end-of-title", "Long-winded ".repeat(15).trim());
    let file = format!(
        "wetside 2\n\nsolution long \"{title}\" {{\n    role toner\n    contains {}\n{}}}\n",
        grams.join(", "),
        cautions.concat()
    );
    let run = Run::new().file("long.wet", &file);
    let ask = || run.again().args(["measure", "long", "1+1", "--make", "1l"]).args(DAY);
    let text = ask().args(["--as", "label", "--width", "200"]).succeeds();
    assert!(text.contains("END-OF-TITLE") && text.contains("caution-30"), "{text}");
    for paper in ["a4", "letter", "a5", "a6"] {
        let (file, _) = printed(ask().args(["--paper", paper]));
        let Some(paper) = words(&file) else { return };
        has_all_of(&paper, &text);
        for at in 1..=30 {
            assert!(paper.contains(&format!("caution-{at} ")), "{at}: {paper}");
        }
    }
}

#[test]
fn an_odd_name_is_safe_and_a_letter_that_cannot_be_printed_is_listed() {
    let file = "wetside 1\n\nsolution odd \"Straße 雪\" {\n    role stop\n    contains citric-acid\n}\n";
    let run = Run::new().file("odd.wet", file);
    let ask = || run.again().args(["measure", "odd", "1+1", "--make", "1l"]).args(DAY);
    let text = ask().args(["--as", "label"]).succeeds();
    assert!(text.contains("STRASSE 雪, 1+1"), "{text}");
    let (file, pages) = printed(ask());
    assert_eq!(pages, 1);
    let Some(paper) = words(&file) else { return };
    assert!(paper.contains("characters printed as an empty box: U+96EA"), "{paper}");
}

#[test]
fn options_of_labels_without_labels_are_refused() {
    for (more, words) in [
        (["--copies", "2"], "--date and --copies are for labels"),
        (["--paper", "a4"], "only a PDF has --paper"),
        (["--date", "2026-11-02"], "--date and --copies are for labels"),
    ] {
        let (_, error) = shelf().args(["measure", "mq-borax", "--make", "1l"]).args(more).fails(2);
        assert!(error.contains(words), "{error}");
    }
    let (_, error) = label("mq-borax", "1l").args(["--paper", "letter"]).fails(2);
    assert!(error.contains("only a PDF has --paper"), "{error}");
    let (_, error) = label("mq-borax", "1l").args(["--copies", "0"]).fails(2);
    assert!(error.contains("0 is not in 1..=100"), "{error}");
    let (_, error) = shelf().args(["baths", "--paper", "a4"]).fails(2);
    assert!(error.contains("only a PDF has --paper"), "{error}");
    let (_, error) = Run::new().args(["baths", "--as", "label"]).fails(2);
    assert!(error.contains("no bath is declared below this folder"), "{error}");
}

/// Annex V and Article 26 of Regulation (EC) 1272/2008, from memory.
#[test]
fn pictograms_are_those_of_the_statements() {
    for (codes, expected) in [
        ("H302 H315 H319", "GHS07"),
        ("H314", "GHS05"),
        ("H314 H302", "GHS05 GHS07"),
        ("H318 H315", "GHS05"),
        ("H318 H317", "GHS05 GHS07"),
        ("H301 H312", "GHS06"),
        ("H301 H317", "GHS06 GHS07"),
        ("H334 H317", "GHS08"),
        ("H334 H335", "GHS07 GHS08"),
        ("H272 H350", "GHS03 GHS08"),
        ("H225 H336", "GHS02 GHS07"),
        ("H410", "GHS09"),
        ("H412 EUH208 EUH031", ""),
        ("H290", "GHS05"),
    ] {
        let hazards: Vec<&'static Hazard> = codes
            .split(' ')
            .map(|code| *HAZARDS.iter().find(|hazard| hazard.code == code).unwrap())
            .collect();
        assert_eq!(pictograms(&hazards).join(" "), expected, "{codes}");
    }
}

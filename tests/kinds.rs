//! One test recipe for each kind of work that the trade does, with a card whose numbers are worked by hand.
//!
//! A file of `tests/kinds` begins with its calls, `# card …` or `# measure …`; FILE is replaced by the file itself. Each line `#= TEXT` is a
//! text that the card has, the numbers worked by hand in the comments around it; `#! TEXT` is a text that it has not.
//! Spaces and line breaks count as one space. `check` of each file finds no error and no warning, and a warning on a card
//! is one of the lines `#= TEXT`. A file `NAME.darkroom` beside `NAME.wet` has its bottles and sessions; it is no `.wet`
//! file, so that nothing else counts them.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use crate::program::Run;

/// The kinds of work, each with its files.
const KINDS: [(&str, &[&str]); 34] = [
    ("one-shot", &["one-shot", "restrainer-in-the-bath"]),
    ("reuse with extension", &["reuse-with-extension"]),
    ("replenished deep tank", &["replenished-deep-tank"]),
    ("two-bath", &["two-bath"]),
    ("water bath", &["water-bath"]),
    ("stand and semi-stand", &["stand-and-semi-stand"]),
    ("push and pull", &["push-and-pull", "shared-process"]),
    ("staining developer from A, B and water", &["stain-bath"]),
    ("coffee and washing soda", &["coffee-and-soda"]),
    ("vitamin C in glycol", &["vitamin-c-in-glycol"]),
    ("monobath", &["monobath"]),
    ("reversal by light and chemically", &["bath-that-dies", "reversal-by-light", "reversal-chemically"]),
    ("three-bath colour", &["three-bath-colour"]),
    ("six-bath colour reversal", &["six-bath-colour-reversal"]),
    ("rotary with prewarm and pre-wet", &["rotary-prewarm-prewet"]),
    ("cross process", &["cross-process"]),
    ("no stop", &["no-stop"]),
    ("two-bath fixing", &["two-bath-fixing"]),
    ("clearing agent", &["clearing-agent"]),
    ("toning", &["toning-selenium", "toning-sulfide"]),
    ("reduction and intensification of a finished negative", &["reduction", "intensification"]),
    ("paper prints in trays", &["prints-by-factor", "prints-in-trays"]),
    ("lith by snatch point", &["lith-by-snatch-point"]),
    ("sheets shuffled in a tray", &["sheets-shuffled"]),
    ("sheets in a deep tank with bursts", &["sheets-with-bursts"]),
    ("X-ray sheets, two-sided", &["x-ray-sheets"]),
    ("development by inspection under a safelight", &["development-by-inspection"]),
    ("16 mm film by the foot", &["cine-by-the-foot"]),
    ("cyanotype", &["cyanotype"]),
    ("salt print", &["salt-print"]),
    ("glass plates", &["glass-plates"]),
    ("archival wash by flow", &["archival-wash-by-flow"]),
    ("drying at a temperature", &["drying-at-a-temperature"]),
    ("hard water and ice", &["hard-water-and-ice"]),
];

/// The warnings of a card, each on one line.
fn warnings(card: &str) -> Vec<String> {
    let mut block =
        card.lines().skip_while(|line| *line != "WARNINGS").skip(1).take_while(|line| !line.is_empty());
    let text = block.by_ref().collect::<Vec<_>>().join(" ");
    text.split("  ! ").map(squeezed).filter(|one| !one.is_empty()).collect()
}

/// The texts after `mark` at the beginning of lines.
fn marked<'a>(text: &'a str, mark: &'static str) -> Vec<&'a str> {
    text.lines().filter_map(|line| Some(line.strip_prefix(mark)?.trim())).collect()
}

fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn each_kind_of_work_has_the_card_that_was_worked_by_hand() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/kinds");
    let files = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let files: Vec<_> = files.filter(|path| path.extension().is_some_and(|end| end == "wet")).collect();
    let mut wrong = Vec::new();
    for path in &files {
        let (name, text) = (path.file_name().unwrap().to_str().unwrap(), fs::read_to_string(path).unwrap());
        let is_call = |line: &&str| line.starts_with("card ") || line.starts_with("measure ");
        let calls: Vec<&str> = marked(&text, "# ").into_iter().filter(is_call).collect();
        let has = marked(&text, "#= ");
        assert!(!calls.is_empty() && has.len() >= 3, "{name} has a call and at least three lines '#= TEXT'");
        let own = format!("recipes/{name}");
        let mut all = Run::new().folder_of_repo("recipes").file(&own, &text);
        if let Ok(darkroom) = fs::read(path.with_extension("darkroom")) {
            all = all.file("recipes/darkroom.wet", darkroom);
        }
        let found = all.again().args(["check", "--fail-on", "warning", own.as_str()]).ends();
        if found.0 != 0 {
            wrong.push(format!("{name}: {}{}", found.1, found.2));
        }
        let mut cards = String::new();
        for call in calls {
            let words = call.split(' ').map(|word| if word == "FILE" { own.as_str() } else { word });
            let (status, card, report) = words.fold(all.again(), Run::arg).ends();
            if status != 0 {
                wrong.push(format!("{name}: {report}"));
            }
            let unsaid =
                warnings(&card).into_iter().filter(|one| !has.iter().any(|line| squeezed(line) == *one));
            wrong.extend(unsaid.map(|one| format!("{name}: the card warns '{one}'")));
            cards.push_str(&squeezed(&card));
            cards.push('\n');
        }
        let lacks = has.iter().filter(|line| !cards.contains(&squeezed(line)));
        wrong.extend(lacks.map(|line| format!("{name}: '{line}' is not in\n{cards}")));
        let forbidden = marked(&text, "#! ").into_iter().filter(|line| cards.contains(&squeezed(line)));
        wrong.extend(forbidden.map(|line| format!("{name}: '{line}' is in\n{cards}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let names: BTreeSet<_> = files.iter().map(|path| path.file_stem().unwrap().to_str().unwrap()).collect();
    let listed: BTreeSet<_> = KINDS.iter().flat_map(|(_, files)| files.iter().copied()).collect();
    assert_eq!(names, listed, "each file is of a kind, and each kind has its files");
}

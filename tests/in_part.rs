//! Recipes with errors: the rules about whole recipes run on what is sound, and no error causes a second finding.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use wetside::check::check_file;
use wetside::source::{Level, MemoryFiles};

use crate::kitchen::Kitchen;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");

/// The texts of a folder of the project by their names.
fn texts(folder: &str) -> Vec<(String, String)> {
    let entries = fs::read_dir(Path::new(ROOT).join(folder)).unwrap();
    let paths = entries.map(|entry| entry.unwrap().path());
    let wet = paths.filter(|path| path.extension().is_some_and(|ending| ending == "wet"));
    let named = wet.map(|path| {
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        (name, fs::read_to_string(path).unwrap())
    });
    let mut all: Vec<_> = named.collect();
    all.sort();
    all
}

/// The warnings and advice about a text that uses the files `beside`, each by name and message.
fn mild(beside: &[(String, String)], text: &str) -> BTreeSet<(&'static str, String)> {
    let changed = ("changed.wet".to_owned(), text.to_owned());
    let files: MemoryFiles = beside.iter().cloned().chain([changed]).collect();
    let checked = check_file(&files, "changed.wet").unwrap();
    let mild = checked.findings.iter().filter(|finding| finding.level != Level::Error);
    mild.map(|finding| (finding.name, finding.message.clone())).collect()
}

/// Each line of a text that begins a statement, with two mistakes: an unknown word, and words after the end.
fn mistakes(text: &str) -> Vec<(usize, String)> {
    let lines: Vec<&str> = text.lines().collect();
    let mut all = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let Some(word) = line.split_whitespace().next() else { continue };
        if word.starts_with(['#', '}']) || word == "wetside" {
            continue;
        }
        let unknown = line.replacen(word, &format!("{word}zz"), 1);
        // A name after the kind of a step is no mistake.
        let more = (!line.ends_with('{')).then(|| format!("{line} zz"));
        for wrong in std::iter::once(unknown).chain(more) {
            let mut changed: Vec<&str> = lines.clone();
            changed[at] = &wrong;
            all.push((at + 1, changed.join("\n") + "\n"));
        }
    }
    all
}

/// An ingredient that is not known is reported as a warning, and a solution with one may be a developer.
const BY_ITSELF: [&str; 2] = ["unknown-ingredient", "developer-without-capacity"];

#[test]
fn no_error_in_a_line_causes_a_warning_or_advice() {
    let mut caused = Vec::new();
    let mut tried = 0;
    for folder in ["recipes", "tests/plausible/sound", "tests/habits"] {
        let all = texts(folder);
        for (name, text) in all.iter().filter(|(_, text)| text.contains("\nrecipe ")) {
            let all = if text.contains("\nuse ") { &all[..] } else { &[] };
            let before = mild(all, text);
            for (line, changed) in mistakes(text).into_iter().step_by(5) {
                tried += 1;
                let after = mild(all, &changed);
                let new = after.difference(&before).filter(|(rule, _)| !BY_ITSELF.contains(rule));
                caused
                    .extend(new.map(|(rule, message)| format!("{folder}/{name}:{line}: {rule}: {message}")));
            }
        }
    }
    assert!(caused.is_empty() && 300 < tried, "{tried} mistakes\n{}", caused.join("\n"));
}

/// A recipe with a wrong order, a short fix and no wash. Each `LINE` is a line that may get an error.
const WRONG: &str = "wetside 1
film marsh-100 {
    speed ISO 100
    clears 60 s in fixer 1+4 at 20 C
    source \"invented\"
}
solution soup {
    role developer
    contains metol, sodium-sulfite
    treats 8 rolls per 1 l
    keeps 3 months
}
solution fixer {
    role fixer
    contains ammonium-thiosulfate
    treats 10 rolls per 1 l at 1+4
    keeps 3 months
}
recipe marsh {
    film marsh-100
    index 100
    between 18 C and 24 C
    stop {
        in water
        time 1:00
        agitate continuous
    }
    develop {
        in soup, one-shot
        time 10:00
        between 19 C and 21 C
        agitate first 30 s, then 10 s every 1 min
    }
    fix {
        in fixer 1+4, reused
        time 1 x clearing
        agitate first 10 s, then 5 s every 30 s
    }
    dry {
        time 2 h
    }
}
";

fn of_whole(text: &str) -> Vec<&'static str> {
    let names = Kitchen::of(text).findings.iter().map(|finding| finding.name).collect::<Vec<_>>();
    let whole = ["stop-before-develop", "short-fix", "fix-without-wash"];
    names.into_iter().filter(|name| whole.contains(name)).collect()
}

#[test]
fn rules_about_whole_recipes_run_beside_an_error() {
    assert_eq!(of_whole(WRONG), ["stop-before-develop", "fix-without-wash", "short-fix"]);
    // The error is in another step, or in a line of the recipe that is no step.
    for (right, wrong) in [("time 2 h", "time 2"), ("index 100", "index 1OO")] {
        let text = WRONG.replace(right, wrong);
        assert!(Kitchen::of(&text).has_errors(), "{wrong}");
        assert_eq!(of_whole(&text), ["stop-before-develop", "fix-without-wash", "short-fix"], "{wrong}");
    }
    // It is unknown whether this is a step.
    assert_eq!(of_whole(&WRONG.replace("index 100", "indx 100")), [""; 0]);
}

#[test]
fn what_a_line_with_an_error_may_excuse_is_not_reported() {
    let wash = "    wash {\n        fills 5, 10, 20 inversion\n    }\n    dry";
    let washed = WRONG.replace("    dry", wash);
    assert_eq!(of_whole(&washed), ["stop-before-develop", "short-fix"], "there is a wash");
    let fix = "    fix second {\n        in fixer 1+4, reused\n        time 1 x clering\n    }\n    dry";
    let fixed = WRONG.replace("    dry", fix);
    assert_eq!(
        of_whole(&fixed),
        ["stop-before-develop"],
        "the film may be fixed for longer, and washed after that"
    );
    let before = WRONG.replace(
        "    stop {",
        "    develop first-bath {\n        in soop, one-shot\n        time 5:00\n    }\n    stop {",
    );
    assert_eq!(of_whole(&before), ["fix-without-wash", "short-fix"], "the stop follows a development");
}

#[test]
fn light_after_a_bath_that_could_not_be_read_is_not_reported() {
    let text = "wetside 1
recipe short {
    between 18 C and 24 C
    develop {
        in monbath, one-shot
        time 6:00
        between 18 C and 24 C
        agitate continuous
    }
    wash {
        fills 5, 10, 20 inversions
        light safe
    }
}
";
    let names =
        |text: &str| -> Vec<&str> { Kitchen::of(text).findings.iter().map(|finding| finding.name).collect() };
    assert_eq!(names(text), ["unknown-name"], "it may be a monobath");
    let found = names(&text.replace("in monbath, one-shot", "in water").replace("time 6:00", "time 6"));
    assert!(found.contains(&"light-before-fix"), "{found:?}");
}

/// At 1+9 the bath has 5 g/l of hydroquinone, as published; undiluted it would have 50.
#[test]
fn a_dilution_that_could_not_be_read_makes_no_amount_implausible() {
    let text = |dilution: &str| {
        format!(
            "wetside 1
solution strong {{
    role developer
    formula for 1 l {{
        water 700 ml at 40 C
        sodium-sulfite 300 g anhydrous
        hydroquinone 50 g
        phenidone 2 g
        sodium-carbonate 100 g anhydrous
        water to 1 l
    }}
    keeps 3 months
    treats 8 rolls per 1 l
}}
recipe r {{
    between 18 C and 24 C
    develop {{
        in strong {dilution}, one-shot
        time 6:00
        agitate continuous
    }}
}}
"
        )
    };
    let amounts = |dilution: &str| {
        Kitchen::of(&text(dilution))
            .findings
            .iter()
            .filter(|finding| finding.name == "implausible-amount")
            .count()
    };
    // Hydroquinone and phenidone.
    assert_eq!((amounts("stock"), amounts("1+9"), amounts("1:9")), (2, 0, 0));
}

//! One test recipe for each kind of work that the trade does, with a card whose numbers are worked by hand.
//!
//! A file of `tests/kinds` begins with its calls, `# card …` or `# measure …`; FILE stands for the file itself. Each line `#= TEXT` is a
//! text that the card has, the numbers worked by hand in the comments around it; `#! TEXT` is a text that it has not.
//! Spaces and line breaks count as one space. `check` of each file finds no error and no warning.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use crate::program::Run;

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
    let files: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    let mut wrong = Vec::new();
    for path in &files {
        let (name, text) = (path.file_name().unwrap().to_str().unwrap(), fs::read_to_string(path).unwrap());
        let is_call = |line: &&str| line.starts_with("card ") || line.starts_with("measure ");
        let calls: Vec<&str> = marked(&text, "# ").into_iter().filter(is_call).collect();
        let has = marked(&text, "#= ");
        assert!(!calls.is_empty() && has.len() >= 3, "{name} has a call and at least three lines '#= TEXT'");
        let own = format!("recipes/{name}");
        let all = Run::new().folder_of_repo("recipes").file(&own, &text);
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
            cards.push_str(&squeezed(&card));
            cards.push('\n');
        }
        let lacks = has.iter().filter(|line| !cards.contains(&squeezed(line)));
        wrong.extend(lacks.map(|line| format!("{name}: '{line}' is not in\n{cards}")));
        let forbidden = marked(&text, "#! ").into_iter().filter(|line| cards.contains(&squeezed(line)));
        wrong.extend(forbidden.map(|line| format!("{name}: '{line}' is in\n{cards}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let names: BTreeSet<_> = files.iter().filter_map(|path| path.file_stem()).collect();
    assert!(names.len() >= 2, "{names:?}");
}

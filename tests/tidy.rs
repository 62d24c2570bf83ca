//! `tidy` changes the layout and never the meaning. Inputs are the shelf, every fixture with an error, and the shelf with
//! random noise; expected texts are written by hand or are the shelf itself.

pub(crate) mod editions;
mod files;
mod noise;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use wetside::model::Fingerprint;
use wetside::source::Sources;
use wetside::tidy::{Refusal, Tidied, tidy};

use crate::kitchen::Kitchen;

/// The tidy form of a text, or why there is none.
fn tried(text: &str) -> Result<Tidied, Refusal> {
    let mut sources = Sources::default();
    let file = sources.add("trial.wet", text);
    tidy(&sources, file)
}

/// The tidy form of a text that has one.
#[track_caller]
fn tidied(text: &str) -> String {
    tried(text).unwrap_or_else(|refusal| panic!("{refusal:?}\n{text}")).text
}

/// The comments of a text, in order, found without the program's grammar.
fn comments(text: &str) -> Vec<&str> {
    text.lines().filter_map(comment_of).collect()
}

fn comment_of(line: &str) -> Option<&str> {
    let mut in_text = false;
    let start = line.char_indices().find(|(_, letter)| {
        in_text ^= *letter == '"';
        *letter == '#' && !in_text
    });
    Some(line.get(start?.0..).unwrap().trim_end())
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The text files of a folder and its folders, by path.
fn texts(folder: &Path) -> BTreeMap<PathBuf, String> {
    let mut found = BTreeMap::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(texts(&path));
        } else if let Ok(text) = String::from_utf8(fs::read(&path).unwrap()) {
            let text = text.strip_prefix('\u{feff}').unwrap_or(&text).to_owned();
            found.insert(path, text);
        }
    }
    assert!(!found.is_empty(), "{folder:?} is empty");
    found
}

/// The `.wet` files of the shelf by their names. Readings of a trial lie beside them.
fn shelf() -> Vec<(String, String)> {
    let name = |path: PathBuf| path.file_name().unwrap().to_str().unwrap().to_owned();
    let files = texts(&root().join("recipes")).into_iter().map(|(path, text)| (name(path), text));
    files.filter(|(name, _)| name.ends_with(".wet")).collect()
}

/// Names and fingerprints of the recipes that a text declares or uses from the shelf.
fn fingerprints(text: &str, shelf: &[(String, String)]) -> Vec<(String, Fingerprint)> {
    let others: Vec<(&str, &str)> = shelf.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let kitchen = Kitchen::of_files(text, &others);
    kitchen.shelf.recipes.iter().map(|recipe| (recipe.name.clone(), Fingerprint::of(recipe))).collect()
}

/// The names of the findings of a text, sorted.
fn names(text: &str) -> Vec<&'static str> {
    let mut names: Vec<&str> = Kitchen::of(text).findings.iter().map(|finding| finding.name).collect();
    names.sort_unstable();
    names
}

#[test]
fn the_shelf_is_tidy_already() {
    for (name, text) in shelf() {
        assert_eq!(tidied(&text), text, "{name}");
    }
}

/// A file with an error is tidied as far as it parses and keeps its error, also without indentation and columns.
#[test]
fn a_file_with_an_error_is_tidied_around_it() {
    let (mut changed, mut refused) = (0, 0);
    let fixtures = texts(&root().join("tests/faults"));
    let rough = fixtures.values().map(|text| text.replace("    ", " "));
    for text in rough.chain(fixtures.values().cloned()) {
        let Ok(done) = tried(&text) else {
            refused += 1;
            continue;
        };
        assert_eq!(tidied(&done.text), done.text, "tidied again");
        assert_eq!(comments(&done.text), comments(&text));
        assert_eq!(names(&done.text), names(&text), "{text}\n{}", done.text);
        changed += usize::from(done.text != text);
        for span in done.left_alone {
            let above = text.get(..span.range().start).unwrap().matches('\n').count();
            let line = text.lines().nth(above).unwrap();
            assert!(done.text.lines().any(|own| own == line), "{line}");
        }
    }
    assert!(changed > 150 && refused > 20, "{changed} changed, {refused} refused");
}

/// The lines are tidied by hand: column 10 in a film, 17 in a formula, 7 in a chart.
#[test]
fn values_start_at_the_column_of_their_block() {
    let rough = "wetside 1\nfilm  x-100   \"X  100\"{\nspeed ISO   100   # nominal\n}\n\
        solution   q {\n\trole developer\n  formula for   1 l {\nwater 1 l\n potassium-bromide    1 g\n}\n}\n\
        recipe r from  base{\ndevelop  before   stop {\nin q   1+1,one-shot\nchart {\n18 C 9:00\n100.4 F  1:00\n}\n}\n}";
    let tidy = "\
wetside 1

film x-100 \"X  100\" {
    speed     ISO 100  # nominal
}

solution q {
    role      developer
    formula for 1 l {
        water            1 l
        potassium-bromide 1 g
    }
}

recipe r from base {
    develop before stop {
        in        q 1+1, one-shot
        chart {
            18 C   9:00
            100.4 F 1:00
        }
    }
}
";
    assert_eq!(tidied(rough), tidy);
}

/// One line of a step, tidied.
#[track_caller]
fn line(of: &str) -> String {
    let text = tidied(&format!("wetside 1\n\nrecipe r {{\n    develop {{\n        {of}\n    }}\n}}\n"));
    text.lines().nth(4).unwrap().trim().to_owned()
}

#[test]
fn a_unit_has_one_spelling_and_one_space() {
    assert_eq!(line("at 20°C"), "at        20 C");
    assert_eq!(line("between 64F and 75 °F"), "between   64 F and 75 F");
    assert_eq!(line("agitate 5s every 30s"), "agitate   5 s every 30 s");
    assert!(tidied("wetside 1\nsolution q {\nrole stop\nkeeps 1month\n}").contains("keeps     1 month\n"));
    assert!(tidied("wetside 1\nsolution q {\nextend 10% per 4 rolls\n}").contains("extend    10 % per"));
}

#[test]
fn a_compound_time_becomes_a_clock_time() {
    assert_eq!(line("time 9min 30 s"), "time      9:30");
    assert_eq!(line("time 10 1/4 min"), "time      10:15");
    assert_eq!(line("time 1 h 2 min 30 s at 20 C"), "time      1:02:30 at 20 C");
    assert_eq!(line("time 1/2 min"), "time      0:30");
}

#[test]
fn a_plain_time_does_not_change() {
    for time in ["30 s", "10 min", "3 h", "2.5 min", "10:15", "90:00", "90 min"] {
        assert_eq!(line(&format!("time {time}")), format!("time      {time}"));
    }
}

/// A clock time has no fraction of a second.
#[test]
fn a_fractional_compound_time_keeps_its_units() {
    assert_eq!(line("time 9min   30.5s"), "time      9 min 30.5 s");
}

#[test]
fn one_blank_line_separates_declarations() {
    let rough = "\n\n# head\nwetside 1\n# about x\nfilm ebb {\n\n  speed ISO 1\n\n\n  # grain\n  grain tabular\n\n}\n# end of x\n\n\n# y\nfilm y {\n  speed ISO 2\n  # last\n}\nfilm z {\n  speed ISO 3\n}\n\n\n";
    let tidy = "# head\nwetside 1\n\n# about x\nfilm ebb {\n    speed     ISO 1\n\n    # grain\n    grain     tabular\n}\n\n# end of x\n\n# y\nfilm y {\n    speed     ISO 2\n    # last\n}\n\nfilm z {\n    speed     ISO 3\n}\n";
    assert_eq!(tidied(rough), tidy);
}

#[test]
fn the_most_common_line_ending_is_kept() {
    assert_eq!(
        tidied("wetside 1\r\n\r\nfilm ebb {\r\n speed ISO 1\n}"),
        "wetside 1\r\n\r\nfilm ebb {\r\n    speed     ISO 1\r\n}\r\n"
    );
    assert_eq!(tidied("wetside   1\r\n\nuse \"a.wet\"\n"), "wetside 1\n\nuse \"a.wet\"\n");
}

#[test]
fn a_damaged_file_is_refused() {
    let film = "wetside 1\n\nfilm ebb {\n  speed ISO 1\n";
    let damaged = [
        film.to_owned(),
        format!("{film}}}\n}}\n"),
        format!("<<<<<<< a\n{film}}}\n=======\n{film}}}\n>>>>>>> b\n"),
        format!("{film}}}\n# \u{202e} turned\n"),
        format!("{film}}} film y {{\n}}\n"),
    ];
    for text in damaged {
        assert!(matches!(tried(&text), Err(Refusal::Damaged(errors)) if !errors.is_empty()), "{text}");
    }
}

/// The contents of an unknown block, with its comments, are not parsed.
#[test]
fn an_unknown_block_does_not_change() {
    let text = "wetside 1\n\nrecipe r {\n  lantern {\n   wick   3\n\t# lit\n\n\n  }\n  index   4\n}\n";
    let done = tried(text).unwrap();
    assert!(
        done.text.contains("\n  lantern {\n   wick   3\n\t# lit\n\n\n  }\n    index     4\n"),
        "{}",
        done.text
    );
    assert_eq!(done.left_alone.len(), 1);
}

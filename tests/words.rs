//! `words` lists the words of the language, and `words NAME` prints the page of one.

use wetside::vocabulary::{Block, ambiguous, respelled, rows, rows_of, units};

use crate::program::Run;

fn told(name: &str) -> String {
    Run::new().args(["words", name]).succeeds()
}

/// The text without line breaks.
fn flat(page: &str) -> String {
    page.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The lines below a title of the list, each as its name and its words.
fn below(list: &str, title: &str) -> Vec<(String, String)> {
    let lines = list.lines().skip_while(|line| *line != title).skip(1).take_while(|line| !line.is_empty());
    let line = |line: &str| {
        let (name, words) = line.trim_start().split_once("  ").unwrap();
        (name.to_owned(), words.trim_start().to_owned())
    };
    lines.map(line).collect()
}

#[test]
fn every_word_is_listed_below_its_block() {
    let list = Run::new().arg("words").succeeds();
    let blocks = [
        ("in a file", Block::File),
        ("in a film", Block::Film),
        ("in a solution", Block::Solution),
        ("in an agitation", Block::Agitation),
        ("in a tank", Block::Tank),
        ("in a recipe", Block::Recipe),
        ("in a bath", Block::Bath),
        ("in a test", Block::Test),
        ("in a session", Block::Session),
        ("in a backlog", Block::Backlog),
    ];
    for (title, block) in blocks {
        let expected: Vec<(String, String)> =
            rows_of(block).map(|row| (row.word.to_owned(), row.meaning.to_owned())).collect();
        assert_eq!(below(&list, title), expected, "{title}");
    }
    // A line of these begins with a value.
    assert_eq!(below(&list, "in a chart"), [("TEMPERATURE".to_owned(), "a point of the chart".to_owned())]);
    assert_eq!(below(&list, "in a formula")[0].0, "(water | INGREDIENT)");
    let steps: Vec<String> = below(&list, "in a step").into_iter().map(|(name, _)| name).collect();
    for row in rows().filter(|row| row.blocks.iter().any(|block| matches!(block, Block::Step(_)))) {
        assert!(steps.iter().any(|name| name == row.word), "{}", row.word);
    }
    let listed: Vec<String> = below(&list, "units").into_iter().map(|(name, _)| name).collect();
    assert_eq!(listed, units().iter().map(|unit| unit.word).collect::<Vec<_>>());
    assert!(list.ends_with("turn a minute\n"), "the last unit must end the list");
}

#[test]
fn every_word_and_unit_of_the_list_has_a_page() {
    for row in rows().filter(|row| !row.word.is_empty()) {
        let page = told(row.word);
        assert!(flat(&page).contains(row.meaning) && page.contains(row.example), "{page}");
        assert!(page.contains(row.often.word()), "{page}");
    }
    for unit in units() {
        assert!(told(unit.word).contains("\n  is exactly  "), "{}", unit.word);
    }
}

#[test]
fn a_page_has_pattern_place_and_example() {
    let page = "\
without (WORD | STEP [NAME])
  drops a step of the parent; edition 2: or the statement with this word

  used in    a recipe
  how often  any number
  WORD       the first word of a statement, such as repeat
  STEP       a kind of step, such as develop
  NAME       a name, such as mq-borax
  example    without stop

without WORD
  drops the parent's statement with this word

  used in    steps: every step
  how often  any number
  since      edition 2
  WORD       the first word of a statement, such as repeat
  example    without agitate
";
    assert_eq!(told("without"), page);
}

#[test]
fn a_statement_with_many_ways_has_each_on_its_own_line() {
    let page = "\
agitate WAY, …
agitate AGITATION
  the agitation: a scheme's name, or the scheme itself; edition 2: `stand` and
  `by bursts`

  used in    steps: all but warm, coat, rest, dry
  how often  once
  WAY        first (TIME | COUNT inversions)
             then (TIME | COUNT inversions) every TIME
             continuous
             none
             at TIME, … for (TIME | COUNT inversions)
             rotary RPM
             by (inversion | rotation | rocking | lifting | shuffling | bursts)
             inversion TIME
             knock (after each | once)
             stand
             (TIME | COUNT inversions) every TIME
  AGITATION  an agitation's name, such as mq-borax
  TIME       a time, such as 30 s or 10:15
  COUNT      a whole number, such as 5
  RPM        a drum's speed, such as 60 rpm
  example    agitate first 30 s, then 10 s every 1 min
";
    let told_of_it = told("agitate");
    let (of_steps, of_trials) = told_of_it.split_once("\n\nagitate WAY").unwrap();
    assert_eq!(format!("{of_steps}\n"), page);
    assert!(of_trials.contains("  used in    a trial\n"), "{of_trials}");
    let page = told("role");
    assert!(page.starts_with("role WAY\n"), "{page}");
    assert!(page.contains("  WAY        developer\n             monobath\n             stop\n"), "{page}");
}

#[test]
fn no_line_on_a_word_is_longer_than_80_columns() {
    let words = rows().map(|row| row.word).filter(|word| !word.is_empty());
    for word in words.chain(units().iter().map(|unit| unit.word)) {
        let page = told(word);
        assert!(page.lines().all(|line| line.chars().count() <= 80), "{page}");
    }
}

#[test]
fn a_word_of_several_blocks_has_a_page_for_each() {
    let page = told("film");
    assert!(page.contains("\n  declares a film\n") && page.contains("  used in    a file\n"), "{page}");
    assert!(page.contains("\n  the film it is for; ") && page.contains("  used in    a recipe\n"), "{page}");
    let page = told("note");
    assert!(flat(&page).contains("a film, an ingredient, a solution, an agitation, a tank, a recipe, a trial, a wedge, a reader, a bath, a test, a session, a backlog, steps: every step"), "{page}");
}

/// `because` begins nothing; it is a word of `allow`.
#[test]
fn a_word_inside_a_statement_leads_to_that_statement() {
    assert!(told("because").starts_with("allow NAME because TEXT\n"));
}

/// An ounce by weight is 28.349523125 g: NIST Handbook 44, appendix C.
#[test]
fn a_unit_has_its_size_and_an_ambiguous_one_its_meanings() {
    assert_eq!(told("av-oz"), "av-oz\n  a unit of a mass\n\n  is exactly  28.349523125 g\n");
    let page = told("oz");
    for unit in ["av-oz", "us-fl-oz", "imp-fl-oz"] {
        assert!(page.contains(&format!("\n  {unit}")), "{page}");
    }
}

/// Each unknown word, and the nearest known one.
#[test]
fn an_unknown_word_gets_a_suggestion() {
    let meant = [
        ("agitat", "agitate"),
        ("becuase", "because"),
        ("litres", "l"),
        ("sec", "s"),
        ("Develop", "develop"),
    ];
    for (asked, meant) in meant {
        let said = format!("  x there is no word '{asked}'\n  help: did you mean {meant}?\n");
        assert_eq!(Run::new().args(["words", asked]).fails(2), (String::new(), said));
    }
    let (stdout, stderr) = Run::new().args(["words", "zz\n\u{1b}[2Jzz"]).fails(2);
    assert!(stdout.is_empty() && stderr.ends_with("\n  help: wetside words lists them\n"), "{stderr}");
    assert!(!stderr.contains('\u{1b}') && stderr.lines().count() == 2, "{stderr:?}");
}

/// Spellings of other languages and habits, each with the unit that alone it can mean.
#[test]
fn other_spellings_of_a_unit_lead_to_it() {
    let pairs = [
        ("Celsius", "C"),
        ("℃", "C"),
        ("degF", "F"),
        ("secs", "s"),
        ("mins", "min"),
        ("hrs", "h"),
        ("cc", "ml"),
        ("litre", "l"),
        ("gms", "g"),
        ("Kg", "kg"),
        ("milligrams", "mg"),
        ("pounds", "lb"),
        ("grains", "grain"),
        ("g/L", "g/l"),
        ("mL/L", "ml/l"),
        ("lpm", "l/min"),
        ("RPM", "rpm"),
    ];
    for (spelling, unit) in pairs {
        assert_eq!(respelled(spelling).map(|unit| unit.word), Some(unit), "{spelling}");
        assert!(ambiguous(spelling).is_none(), "{spelling}");
    }
}

//! Wrong calls: a value without its unit, an unknown name, a tank that is too small.

use super::{EVENING, SOUND, beside_a_sound_one, card, told};
use crate::evenings::shelf;
use crate::program::Run;

/// Each argument, and the words of its message.
const WRONG: [(&str, &str, &[&str]); 39] = [
    ("--at", "70", &["70 has no unit", "write 70F"]),
    ("--at", "-40C", &["-40C is out of range: a temperature is from -5 C to 60 C"]),
    ("--at", "60.1C", &["60.1C is out of range: a temperature is from -5 C to 60 C"]),
    ("--at", "294K", &["'K' is not a unit of a temperature", "write 20.85 C"]),
    ("--at", "21K", &["'K' is not a unit of a temperature"]),
    ("--at", "21ml", &["expected a temperature, found a volume", "20 C or 68 F"]),
    ("--at", "warm", &["found the word 'warm'"]),
    ("--at", "", &["expected a temperature"]),
    ("--at", "1e3C", &["'e3C' is not a unit of a temperature"]),
    ("--at", "20C,22C", &["two temperatures in", "wash=30C"]),
    ("--at", "wash=20C", &["the temperature of the baths is missing"]),
    ("--at", "20C,soap=20C", &["'soap' is not a kind of step", "develop, stop, fix"]),
    ("--at", "20C,wash=warm", &["found the word 'warm'"]),
    ("--ending", "68", &["68 has no unit", "write 68F or 68C"]),
    ("--rolls", "0", &["0 is out of range: this number is from 1 to 10000"]),
    ("--rolls", "0x120", &["0 is out of range: this number is from 1 to 10000"]),
    ("--rolls", "five", &["expected a whole number, found the word 'five'"]),
    ("--rolls", "1.5x120", &["expected a whole number of at least 1, found 1.5"]),
    ("--rolls", "10001x120", &["from 1 to 10000"]),
    ("--rolls", "5x110", &["'110' is not a format", "120, 220, 135, 135-24, or a width and a length"]),
    ("--rolls", "5x", &["expected a format"]),
    ("--rolls", "1x120+", &["expected a whole number"]),
    ("--rolls", "1x120,1x135", &["'120,' is not a format"]),
    ("--volume", "500", &["found a number without a unit", "write 500 ml"]),
    ("--volume", "1pt", &["'pt' can mean several units", "write us-pt (473 ml, US), or write imp-pt"]),
    ("--volume", "0ml", &["0.001 ml to 1000 l"]),
    ("--volume", "2000l", &["0.001 ml to 1000 l"]),
    ("--start", "25:00", &["'25:00' is not a time of day", "write 19:30"]),
    ("--start", "7pm", &["'7pm' is not a time of day"]),
    ("--date", "25.11.2026", &["a date is written as year, month and day", "write 2026-11-25"]),
    ("--date", "2026-02-30", &["this day is not in the calendar"]),
    ("--date", "2026-11-25T19:30", &["this text does not belong to this value"]),
    ("--index", "fast", &["invalid value 'fast' for '--index"]),
    ("--width", "39", &["39 is not in 40..=200"]),
    ("--width", "201", &["201 is not in 40..=200"]),
    (
        "--as",
        "card",
        &["invalid value 'card' for '--as", "text, html, json, pdf, curve, strip, csv, ics, wav"],
    ),
    ("--color", "green", &["invalid value 'green' for '--color", "auto, always, never"]),
    ("--tanks", "twin", &["unexpected argument '--tanks'", "--tank"]),
    (
        "-o",
        "tonight.doc",
        &["no form has the ending .doc", ".txt, .html, .json, .pdf, .svg, .csv, .ics, .wav", "--as text"],
    ),
];

#[test]
fn an_invalid_value_is_an_error_with_a_valid_one_in_its_help() {
    let mut run = beside_a_sound_one();
    for (flag, value, words) in WRONG {
        let others = EVENING.chunks(2).filter(|pair| pair[0] != flag).flatten();
        run = others.fold(run.again().args(["card", "a.wet"]), |run, arg| run.arg(*arg));
        run = run.args([flag, value]);
        told(&run, 2, words);
        assert_eq!(super::names(run.folder()), ["a.wet"]);
    }
}

/// The hint that a dash begins a flag would not help here.
#[test]
fn a_negative_number_is_read_as_a_number_and_not_as_an_option() {
    let run = beside_a_sound_one().args(["card", "a.wet", "--at", "20C", "--rolls", "-1x120"]);
    told(&run, 2, &["expected a whole number of at least 1, found -1"]);
    let run = card(run.again(), "a.wet").args(["--volume", "-500ml"]);
    told(&run, 2, &["0.001 ml to 1000 l"]);
}

#[test]
fn a_missing_argument_is_named_in_the_error() {
    let run = beside_a_sound_one().arg("card");
    told(&run, 2, &["no load is planned here", "or name a recipe"]);
    let run = run.again().args(["card", "a.wet", "--at", "20C"]);
    told(&run, 2, &["which rolls are in the tank?", "--rolls 5x120"]);
    let run = run.again().args(["card", "a.wet", "--rolls", "1x120"]);
    told(&run, 2, &["the temperature of the baths is not given", "--at 21.5"]);
    let run = card(run.again(), "a.wet").arg("--at");
    told(&run, 2, &["--at <TEMPERATURE>"]);
    let run = run.again().arg("crad");
    told(&run, 2, &["unrecognized subcommand 'crad'", "card"]);
    let run = card(run.again(), "a.wet").args(["--at", "21C"]);
    told(&run, 2, &["--at <TEMPERATURE>", "cannot be used multiple times"]);
}

#[test]
fn a_number_of_rolls_without_a_format_is_an_error_if_ambiguous() {
    let run = beside_a_sound_one().args(["card", "a.wet", "--at", "20C", "--rolls", "5"]);
    told(&run, 2, &["the format of 5 rolls is not known", "write --rolls 5x120"]);
    let evening = ["card", "estuary-400-mq", "--at", "20C", "--rolls", "5", "--tank", "tall-five"];
    let run = shelf().args(evening);
    told(&run, 2, &["'tall-five' takes 120 and 135", "write --rolls 5x120"]);
}

#[test]
fn a_tank_that_is_too_small_is_an_error_with_a_remedy() {
    let run =
        shelf().args(["card", "wheelhouse-400-mq", "--at", "20C", "--rolls", "2x135", "--tank", "twin"]);
    let run = run.args(["--volume", "700ml"]);
    told(&run, 1, &["tank-too-small", "650 ml", "write --volume 650ml or less", "take a larger tank"]);
    let run =
        run.again().args(["card", "estuary-400-mq", "--at", "20C", "--rolls", "2x120", "--tank", "twin"]);
    told(&run, 1, &["load-does-not-fit", "1 of 120, or 2 of 135"]);
    let run =
        run.again().args(["card", "estuary-400-mq", "--at", "20C", "--rolls", "1x4x5in", "--tank", "twin"]);
    told(&run, 1, &["'twin' has no reels for 4x5in", "the tank takes 120, 135"]);
}

#[test]
fn an_unknown_name_is_an_error_that_suggests_the_nearest() {
    let tall = ["--tank", "tall-five"];
    let run = card(shelf(), "estuary-400-m").args(tall);
    told(&run, 2, &["there is no recipe 'estuary-400-m' below this folder", "did you mean estuary-400-mq?"]);
    let run = card(run.again(), "estuary-400-mq").args(["--tank", "tall-fife"]);
    told(&run, 2, &["there is no tank 'tall-fife' below this folder", "did you mean tall-five?"]);
    let run = card(run.again(), "estuary-400-mq").args(["--tank", "bathtub"]);
    told(&run, 2, &["there is no tank 'bathtub' below this folder"]);
    let run = run
        .again()
        .args(["card", "recipes/estuary-400-mq.wet", "estuary-400-mq-80"])
        .args(EVENING)
        .args(tall);
    told(
        &run,
        2,
        &[
            "there is no recipe 'estuary-400-mq-80' in recipes/estuary-400-mq.wet",
            "did you mean estuary-400-mq-800?",
        ],
    );
    let run = run.again().args(["card", "recipes/estuary-400-mq.wet", "another"]).args(EVENING).args(tall);
    told(&run, 2, &["there is no recipe 'another' in recipes/estuary-400-mq.wet", "known: estuary-400-mq"]);
    let run = run.again().args(["card", "estuary-400-mq", "estuary-400-mq-800"]).args(EVENING).args(tall);
    told(&run, 2, &["unexpected second name", "the file first"]);
}

/// The help names the command that was called.
#[test]
fn the_help_shows_a_call_of_the_same_command() {
    let twice = || beside_a_sound_one().file("deeper/b.wet", SOUND);
    for command in ["card", "follow", "record"] {
        let run = twice().args([command, "plain"]).args(EVENING);
        told(&run, 2, &[&format!("name one: wetside {command} a.wet plain")]);
        let run = run.again().args([command, "nope"]).args(EVENING);
        told(&run, 2, &[&format!("name the file: wetside {command} FILE.wet nope")]);
    }
}

#[test]
fn plan_without_a_backlog_lists_both_ways_to_give_its_rolls() {
    let run = Run::new().args(["plan", "--tank", "twin"]);
    told(&run, 2, &["wetside plan [OPTIONS] <BACKLOG> [NAME]", "wetside plan [OPTIONS] --from <FILE>"]);
}

/// A message repeats a name as it was typed.
#[test]
fn a_name_in_a_message_is_not_broken_at_its_hyphen() {
    let run = card(shelf(), "estuary-400-mq").args(["--tank", "tall-fife"]);
    let told = told(&run, 2, &[]);
    assert!(!told.lines().any(|line| line.ends_with('-')), "{told}");
}

/// A tank cannot be named after a file.
#[test]
fn the_help_for_an_unknown_tank_speaks_of_tanks() {
    let run = card(shelf(), "estuary-400-mq").args(["--tank", "tall-fife"]);
    let told = told(&run, 2, &[]);
    assert!(!told.contains("card FILE.wet"), "{told}");
}

#[test]
fn a_name_in_two_files_is_an_error_that_lists_both() {
    let run = beside_a_sound_one().file("deeper/b.wet", SOUND);
    let run = card(run, "plain");
    let both = "the recipe 'plain' is in 2 files: a.wet, deeper/b.wet";
    told(&run, 2, &[both, "wetside card a.wet plain"]);
    let run = run.again().args(["card", "a.wet", "plain"]).args(EVENING);
    run.succeeds();
    let tank = "wetside 1\ntank two {\nreels 120 x 2, 500 ml each\n}\n";
    let run = card(run.again().file("t.wet", tank).file("u.wet", tank), "a.wet").args(["--tank", "two"]);
    told(&run, 2, &["the tank 'two' is in 2 files: t.wet, u.wet", "rename one of them"]);
}

/// A line in a block, a comment or a text does not declare a name.
#[test]
fn a_line_that_only_looks_like_a_declaration_declares_nothing() {
    let inside =
        "wetside 1\nuse \"a.wet\"\nbacklog b {\n    recipe plain # {\n    roll \"1\" 120 of plain-film\n}\n";
    let remark = "wetside 1\n# recipe plain {\n# }\n";
    let run = beside_a_sound_one().file("b.wet", inside).file("c.wet", remark);
    card(run, "plain").succeeds();
    let step = "wetside 1\nrecipe other {\n    tank two {\n    }\n}\n";
    let tank = "wetside 1\ntank two {\n    reels 120 x 2, 500 ml each\n}\n";
    let run = beside_a_sound_one().file("step.wet", step).file("tank.wet", tank);
    card(run, "a.wet").args(["--tank", "two"]).succeeds();
}

/// The search for a recipe of such a file reports the errors of the file.
#[test]
fn a_recipe_in_a_file_with_merge_markers_is_found_and_its_error_reported() {
    let text = format!("<<<<<<< HEAD\n=======\n{SOUND}>>>>>>> other\n");
    let run = card(Run::new().file("a.wet", text), "plain");
    told(&run, 1, &["half-merged"]);
}

#[test]
fn a_file_of_several_recipes_needs_a_name() {
    let second = SOUND.split_once("recipe plain").unwrap().1;
    let run = Run::new().file("a.wet", format!("{SOUND}\nrecipe other{second}"));
    let run = card(run, "a.wet");
    told(&run, 2, &["a.wet declares 2 recipes: plain, other", "write the name of one after the file"]);
    let run = card(shelf(), "recipes/bases.wet");
    told(&run, 2, &["this file has no recipe for a film"]);
    let run = run.again().args(["card", "recipes/bases.wet", "usual-tail"]).args(EVENING);
    told(&run, 1, &["base-recipe", "without a film"]);
}

/// It would else be as if it had been heeded.
#[test]
fn a_temperature_for_a_step_that_the_recipe_does_not_have_is_refused() {
    let run = beside_a_sound_one().args(["card", "a.wet", "--at", "20C,bleach=30C", "--rolls", "1x120"]);
    told(&run, 2, &["bleach", "develop"]);
}

#[test]
fn more_labels_than_rolls_are_refused() {
    let run = card(beside_a_sound_one(), "a.wet").args(["--label", "one,two"]);
    told(&run, 2, &["2 labels", "one label"]);
}

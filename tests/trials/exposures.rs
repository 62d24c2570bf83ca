//! Trials in the language: strips through wedges and in brackets, readers, and the bottle of the developer.

use wetside::model::StepKind;

use super::language::{BY_EYE, TIGHT, file, found, kitchen, schedule};
use crate::kitchen::{Kitchen, step};

/// A strip through a wedge of steps of 0.30, on a straight line of slope 0.6 from a net density of 0.05 on: its average
/// gradient over four stops is 0.6.
#[test]
fn densities_become_a_contrast() {
    let strip = |minutes: u32, slope: f64| {
        let densities = (0..7).map(|at| format!("{:.3}", 0.35 + slope * 0.3 * f64::from(at)));
        let densities = densities.collect::<Vec<_>>().join(", ");
        format!(
            "    strip {minutes}:00 {{\n        fog       0.29, 0.30, 0.31\n        densities {densities}\n    }}\n"
        )
    };
    let trial = format!(
        "trial strips {{\n    film      marsh-100\n    in        soup 1+9 at 20 C\n    exposed   by step-7\n    measure   gradient over 4 stops\n{}{}}}\n",
        strip(6, 0.5),
        strip(9, 0.7)
    );
    let kitchen = kitchen(&trial, "by strips for contrast 0.6", TIGHT);
    let (_, trial) = kitchen.shelf.trials.first().unwrap();
    let contrasts: Vec<f64> = trial.pieces.iter().map(|piece| piece.contrast.unwrap()).collect();
    assert!((contrasts[0] - 0.5).abs() < 0.002 && (contrasts[1] - 0.7).abs() < 0.002, "{contrasts:?}");
    // Half way in the logarithm between 6 and 9 min: 7.348 min.
    assert_eq!(step(&schedule(&kitchen, "20"), StepKind::Develop).duration.to_string(), "7:21");
    let backwards = trial_with_reversed_densities(&file_of(&kitchen));
    assert!(Kitchen::of(&backwards).findings.iter().any(|it| it.name == "wedge-read-backwards"));
}

/// A trial of two strips of 21 densities on straight lines of slopes 0.5 and 0.7, exposed and read as `how` says, with
/// the lines that `line` makes of the densities and of the fog of a strip.
fn straight(how: &str, steps: u32, wide: f64, line: impl Fn(&[f64], f64) -> String) -> String {
    let strip = |minutes: u32, slope: f64| {
        let densities: Vec<f64> = (0..steps).map(|at| 0.35 + slope * wide * f64::from(at)).collect();
        format!("    strip {minutes}:00 {{\n{}    }}\n", line(&densities, 0.30))
    };
    format!(
        "trial strips {{\n    film      marsh-100\n    in        soup 1+9 at 20 C\n    measure   gradient over 4 stops\n{how}{}{}}}\n",
        strip(6, 0.5),
        strip(9, 0.7)
    )
}

fn listed(values: impl Iterator<Item = f64>, places: usize) -> String {
    values.map(|value| format!("{value:.places$}")).collect::<Vec<_>>().join(", ")
}

#[track_caller]
fn contrasts_are_the_slopes(kitchen: &Kitchen) {
    let (_, trial) = kitchen.shelf.trials.first().unwrap();
    let contrasts: Vec<f64> = trial.pieces.iter().map(|piece| piece.contrast.unwrap()).collect();
    assert!((contrasts[0] - 0.5).abs() < 0.002 && (contrasts[1] - 0.7).abs() < 0.002, "{contrasts:?}");
}

/// Thirds of a stop are 0.1003 of log exposure; from 2 under to 4 over there are 19 of them.
#[test]
fn a_bracket_needs_no_wedge() {
    let densities = |densities: &[f64], fog: f64| {
        format!("        fog       {fog}\n        densities {}\n", listed(densities.iter().copied(), 4))
    };
    let third = wetside::trial::STOP / 3.0;
    let how = "    exposed   in third-stops from 2 under to 4 over\n";
    contrasts_are_the_slopes(&kitchen(
        &straight(how, 19, third, densities),
        "by strips for contrast 0.6",
        TIGHT,
    ));
    let short = straight(how, 18, third, densities);
    assert_eq!(
        found(&short, "by strips for contrast 0.6", TIGHT),
        ["other-count-of-steps", "other-count-of-steps"]
    );
}

/// Readings of a scanner that are exact by its two known densities: 52400 x (700/52400)^((density - 0.05)/2.00).
#[test]
fn a_reader_turns_readings_into_densities() {
    let read = |density: f64| 52_400.0 * (700.0_f64 / 52_400.0).powf((density - 0.05) / 2.0);
    let readings = |densities: &[f64], fog: f64| {
        let steps = listed(densities.iter().map(|density| read(*density)), 1);
        format!("        clear     {}\n        readings  {steps}\n", listed([fog].into_iter().map(read), 1))
    };
    let reader =
        "reader flatbed {\n    known     2.05 700\n    known     0.05 52400\n    within    0.02\n}\n";
    let wedge =
        "wedge step-b {\n    densities 1.80, 1.50, 1.20, 0.90, 0.60, 0.30, 0\n    within    0.01\n}\n";
    let how = "    exposed   by step-b\n    read      by flatbed\n";
    let trial = format!("{reader}{wedge}{}", straight(how, 7, 0.3, readings));
    let kitchen = kitchen(&trial, "by strips for contrast 0.6", TIGHT);
    contrasts_are_the_slopes(&kitchen);
    // The reader is off by 0.02 and the wedge by 0.01: 1.4142 x 0.02236/(4 x 0.30103) = 0.02626.
    let error = kitchen.shelf.trials.first().unwrap().1.contrast_error();
    assert!((error - 0.02626).abs() < 1e-5, "{error}");
    let names = |trial: &str| found(trial, "by strips for contrast 0.6", TIGHT);
    assert!(names(&trial.replace("    read      by flatbed\n", "")).contains(&"readings-without-reader"));
    assert!(names(&trial.replace("2.05 700", "0.65 14356")).contains(&"reading-off-scale"));
    assert!(names(&trial.replace("2.05 700", "2.05 60000")).contains(&"known-steps-without-order"));
    let unclear = trial.lines().filter(|line| !line.contains("clear")).map(|line| format!("{line}\n"));
    assert!(names(&unclear.collect::<String>()).contains(&"missing-statement"));
}

const BOTTLE: &str = "bath soup-a {\n    in        soup\n    volume    1 l\n    mixed     2026-05-02\n}\n";

/// The bottle keeps 3 months, to 2026-08-02.
#[test]
fn a_doubtful_bottle_at_a_trial_is_a_warning() {
    let trial = |day: &str, bottle: &str| {
        let lines = format!("    date      {day}\n    bath      soup-a\n    piece     6");
        format!("{bottle}{}", BY_EYE.replace("    piece     6", &lines))
    };
    let names = |day: &str, bottle: &str| {
        let text = file(&trial(day, bottle), "by wall", TIGHT)
            .replace("role      developer", "role      developer\n    keeps     3 months");
        let kitchen = Kitchen::of(&text);
        let found = kitchen.findings.iter().find(|finding| finding.name == "trial-in-doubtful-bath");
        found.map(|finding| finding.message.clone()).unwrap_or_default()
    };
    assert_eq!(names("2026-08-02", BOTTLE), "");
    assert!(names("2026-08-03", BOTTLE).ends_with("past its keeping time"));
    assert!(names("2026-05-01", BOTTLE).ends_with("not mixed yet"));
    let gone = BOTTLE.replace("2026-05-02\n", "2026-05-02\n    discarded 2026-05-20\n");
    assert!(names("2026-06-01", &gone).ends_with("already poured away"));
    let other = names("2026-06-01", &BOTTLE.replace("soup\n", "fixer\n"));
    assert!(other.contains("holds fixer stock, and the trial is in soup 1+9"), "{other}");
}

fn file_of(kitchen: &Kitchen) -> String {
    kitchen.sources.text(kitchen.file).to_owned()
}

fn trial_with_reversed_densities(text: &str) -> String {
    let line = |line: &str| match line.trim().strip_prefix("densities ") {
        Some(list) if line.starts_with("        ") => {
            let mut numbers: Vec<&str> = list.split(", ").collect();
            numbers.reverse();
            format!("        densities {}\n", numbers.join(", "))
        }
        _ => format!("{line}\n"),
    };
    text.lines().map(line).collect()
}

/// A darker density has a lower reading, in any order of the lines.
#[test]
fn known_densities_that_contradict_each_other_are_both_marked() {
    let found = |known: [&str; 3]| {
        let text = format!("wetside 2\n\nreader flatbed {{\n    {}\n}}\n", known.join("\n    "));
        let kitchen = Kitchen::of(&text);
        let fault = kitchen.findings.iter().find(|it| it.name == "known-steps-without-order").unwrap();
        let marked = [fault.span, fault.others[0].0].map(|span| text[span.range()].to_owned());
        (fault.message.clone(), marked)
    };
    let marked = |first: &str, second: &str| [first.to_owned(), second.to_owned()];
    let message = "density 1.25 is darker than 0.65, but its reading is not lower".to_owned();
    let (light, dark) = ("known 0.65 14356", "known 1.25 52400");
    assert_eq!(found(["known 0.05 60000", light, dark]), (message.clone(), marked(dark, light)));
    assert_eq!(found([dark, "known 0.05 60000", light]), (message, marked(dark, light)));
    let twice = "the density 0.65 is stated twice".to_owned();
    assert_eq!(
        found([light, "known 0.05 60000", "known 0.65 14000"]),
        (twice, marked("known 0.65 14000", light))
    );
}

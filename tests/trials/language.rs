//! Trials in the language: times by eye and for a contrast, what the card says of them, and what is wrong with them.

use wetside::compile::Schedule;
use wetside::emit::{Look, card, json, text};
use wetside::model::{Fingerprint, Format, StepKind};

use crate::kitchen::{Kitchen, celsius, evening, step};

const SHELF: &str = "\
wetside 2

film marsh-100 \"Marsh 100\" {
    clears    60 s in fixer 1+4 at 20 C
}
film heath-400 {
}
solution soup \"Soup\" {
    role      developer
    contains  metol, sodium-sulfite
    needs     5 ml per roll
}
solution fixer {
    role      fixer
    contains  ammonium-thiosulfate
    treats    30 rolls per 1 l at 1+4
}
tank two \"Tank for two\" {
    reels     120 x 2, 300 ml each
    holds     600 ml
    fill      10 s
    drain     10 s
}
tank zinc \"The other tank\" {
    reels     120 x 2, 300 ml each
    holds     600 ml
    fill      10 s
    drain     10 s
}
wedge step-7 {
    densities 2.10, 1.80, 1.50, 1.20, 0.90, 0.60, 0.30
}
";

const RECIPE: &str = "\
recipe marsh {
    film      marsh-100
    develop {
        in        soup 1+9, one-shot
        time      TIME
        BAND
        agitate   first 30 s, then 10 s every 1 min
    }
}
";

pub(super) const BY_EYE: &str = "\
trial wall \"Mill wall, October\" {
    film      marsh-100
    in        soup 1+9 at 20 C
    piece     6:00 \"soft\"
    piece     8:00 \"right\"
    piece     10:40 \"hard\"
}
";

/// The five strips of the worked example at 20 C, and four at two other temperatures.
pub(super) const MEASURED: &str = "\
trial strips {
    film      marsh-100
    in        soup 1+9
    within    0.01
    piece     4:00 at 20 C contrast 0.38
    piece     5:30 at 20 C contrast 0.51
    piece     8:00 at 20 C contrast 0.66
    piece     11:00 at 20 C contrast 0.77
    piece     15:00 at 20 C contrast 0.87
    piece     4:00 at 24 C contrast 0.50
    piece     7:30 at 24 C contrast 0.75
    piece     8:00 at 18 C contrast 0.61
    piece     13:00 at 18 C contrast 0.78
}
";

pub(super) fn file(trial: &str, time: &str, band: &str) -> String {
    format!("{SHELF}{trial}{}", RECIPE.replace("TIME", time).replace("BAND", band))
}

pub(super) fn kitchen(trial: &str, time: &str, band: &str) -> Kitchen {
    Kitchen::sound(&file(trial, time, band))
}

pub(super) fn schedule(kitchen: &Kitchen, at: &str) -> Schedule {
    kitchen.compiled(&evening(celsius(at), &[(2, Format::F120)]))
}

pub(super) fn shown(kitchen: &Kitchen, at: &str) -> String {
    let card = text(&card(&schedule(kitchen, at), &kitchen.sources), Look::default());
    card.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The names of the errors and warnings about the trial.
pub(super) fn found(trial: &str, time: &str, band: &str) -> Vec<&'static str> {
    let kitchen = Kitchen::of(&file(trial, time, band));
    let about_trials =
        |name: &&str| !matches!(*name, "agitation-not-stated" | "never-used" | "fix-without-wash");
    let names =
        kitchen.findings.iter().filter(|it| it.level != wetside::source::Level::Advice).map(|it| it.name);
    names.filter(about_trials).collect()
}

pub(super) const TIGHT: &str = "within    0.3 C";
pub(super) const WIDE: &str = "between   18 C and 24 C";

/// Half of the mean gap from 8:00 to 6:00 and to 10:40 is (2:00 + 2:40)/4 = 1:10, which is about a minute.
#[test]
fn a_time_by_eye_is_that_of_the_right_piece() {
    let kitchen = kitchen(BY_EYE, "by wall", TIGHT);
    assert_eq!(step(&schedule(&kitchen, "20"), StepKind::Develop).duration.to_string(), "8:00");
    let shown = shown(&kitchen, "20");
    assert!(
        shown.contains("8:00 at 20 °C was chosen by eye from 6:00, 8:00, 10:40; good to about a minute"),
        "{shown}"
    );
}

#[test]
fn the_card_says_what_was_not_tried() {
    for (change, words) in [
        ("    piece     6:00 \"soft\"\n", "from 8:00, 10:40; nothing shorter was tried"),
        ("    piece     10:40 \"hard\"\n", "from 6:00, 8:00; nothing longer was tried"),
    ] {
        let shown = shown(&kitchen(&BY_EYE.replace(change, ""), "by wall", TIGHT), "20");
        assert!(shown.contains(words), "{shown}");
    }
}

/// The times at 18, 20, 22 and 24 C are 7:23, 6:23, 5:30 and 4:45 (scipy, in fits.txt: 7.38970, 6.37624, 5.50177 and
/// 4.74722 min).
#[test]
fn a_contrast_gives_a_chart_of_even_degrees() {
    let kitchen = kitchen(MEASURED, "by strips for contrast 0.57", WIDE);
    let schedule = schedule(&kitchen, "21");
    let chart = step(&schedule, StepKind::Develop).chart.clone().unwrap();
    let points = chart.points().iter().map(|point| format!("{} {}", point.temperature, point.time));
    assert_eq!(points.collect::<Vec<_>>(), ["18 C 7:23", "20 C 6:23", "22 C 5:30", "24 C 4:45"]);
    // Between 20 and 22 C: the root of 383 s x 330 s is 355.5 s.
    assert_eq!(step(&schedule, StepKind::Develop).duration.to_string(), "5:56");
}

#[test]
fn the_card_says_in_words_how_sure_a_contrast_is() {
    let shown = shown(&kitchen(MEASURED, "by strips for contrast 0.57", WIDE), "20");
    // 6:23, give or take 7 s: 6:16 to 6:29, to the nearest 10 s. Of the 9 s of scipy (0.14936 min) for a contrast that
    // is wrong by 0.01, which counts twice, 7 s are left: densities that are wrong by 0.01 make 1.414 x 0.01/2.107 =
    // 0.0067 of contrast, so the scatter counts, 0.005873 x 2.571 (Student, 5 degrees of freedom) = 0.0151, and
    // 0.14936 x 0.0151/0.02 is 0.1128 min.
    let words = "contrast 0.57 by the trial strips, 9 pieces; between 6:20 and 6:30 nobody could tell the prints apart";
    assert!(shown.contains(words), "{shown}");
    assert!(!shown.contains('±') && !shown.contains("95 %"), "{shown}");
}

/// Normal is 1.20/(7 x 0.30103) = 0.5695, n-1 is 0.4983, n+1 is 0.6644. At 20 C alone the times are 6:25, 5:23 and 8:08
/// (scipy: 6.42302, 5.38912, 8.13127 min).
#[test]
fn aims_are_contrasts() {
    let alone: String = MEASURED
        .lines()
        .filter(|line| !line.contains("at 24 C") && !line.contains("at 18 C"))
        .map(|line| format!("{line}\n"))
        .collect();
    for (aim, time) in [("normal", "6:25"), ("n-minus-1", "5:23"), ("n-plus-1", "8:08")] {
        let kitchen = kitchen(&alone, &format!("by strips for {aim}"), TIGHT);
        assert_eq!(step(&schedule(&kitchen, "20"), StepKind::Develop).duration.to_string(), time, "{aim}");
    }
}

#[test]
fn the_fingerprint_follows_the_trial() {
    let of = |trial: &str, time: &str| Fingerprint::of(kitchen(trial, time, WIDE).recipe()).to_string();
    let normal = of(MEASURED, "by strips for contrast 0.57");
    assert_ne!(normal, of(MEASURED, "by strips for contrast 0.58"));
    assert_ne!(normal, of(&MEASURED.replace("0.66", "0.68"), "by strips for contrast 0.57"));
    // The same points, written as a chart, are the same work.
    let chart = "by strips for contrast 0.57";
    let written = "chart {\n 18 C 7:23\n 20 C 6:23\n 22 C 5:30\n 24 C 4:45\n }";
    let text = file(MEASURED, chart, WIDE).replace(&format!("time      {chart}"), written);
    assert_eq!(normal, Fingerprint::of(Kitchen::sound(&text).recipe()).to_string());
}

#[test]
fn why_and_json_have_the_trial() {
    let kitchen = kitchen(MEASURED, "by strips for contrast 0.57", WIDE);
    let schedule = schedule(&kitchen, "20");
    let json: serde_json::Value = serde_json::from_str(&json(&schedule, &kitchen.sources)).unwrap();
    let develop = &json["steps"][0];
    assert_eq!(develop["rests_on"]["trial"], "strips");
    assert_eq!(develop["rests_on"]["contrast"], 0.57);
    assert_eq!(develop["rests_on"]["give_or_take_ms"], 7_000);
    let because = develop["because"].as_array().unwrap();
    let text = because.iter().find(|one| one["rule"] == "R20").unwrap()["text"].as_str().unwrap();
    assert!(text.contains("0.570") && text.contains("give or take 0:07 (95 %)"), "{text}");
}

#[test]
fn contradictions_between_trial_and_recipe_are_warnings() {
    assert_eq!(found(BY_EYE, "by wall", TIGHT), [""; 0]);
    let film = BY_EYE.replace("film      marsh-100", "film      heath-400");
    assert_eq!(found(&film, "by wall", TIGHT), ["trial-of-other-work"]);
    let bath = BY_EYE.replace("soup 1+9", "soup 1+19");
    assert_eq!(found(&bath, "by wall", TIGHT), ["trial-of-other-work"]);
    let still = BY_EYE.replace("    piece     6", "    agitate   none\n    piece     6");
    assert_eq!(found(&still, "by wall", TIGHT), ["trial-of-other-work"]);
    let same =
        BY_EYE.replace("    piece     6", "    agitate   first 30 s, then 10 s every 1 min\n    piece     6");
    assert_eq!(found(&same, "by wall", TIGHT), [""; 0]);
    // A trial at 20 C is no time for baths from 21 C on.
    assert!(!found(BY_EYE, "by wall", "between   21 C and 24 C").is_empty());
}

#[test]
fn another_tank_than_that_of_the_trial_is_advice_on_the_card() {
    let in_tank =
        |tank: &str| BY_EYE.replace("    piece     6", &format!("    tank      {tank}\n    piece     6"));
    let words = "the trial 'wall' was made in another tank, The other tank";
    assert!(shown(&kitchen(&in_tank("zinc"), "by wall", TIGHT), "20").contains(words));
    assert!(!shown(&kitchen(&in_tank("two"), "by wall", TIGHT), "20").contains("another tank"));
}

#[test]
fn what_a_trial_cannot_say_is_an_error() {
    let no_right = BY_EYE.replace("\"right\"", "\"softish\"");
    assert_eq!(found(&no_right, "by wall", TIGHT), ["no-right-piece"]);
    let two = BY_EYE.replace("\"soft\"", "\"right\"");
    assert_eq!(found(&two, "by wall", TIGHT), ["two-right-pieces"]);
    assert_eq!(found(BY_EYE, "by wall for contrast 0.57", TIGHT), ["trial-without-contrast"]);
    assert_eq!(found(MEASURED, "by strips", WIDE), ["no-right-piece"]);
    assert_eq!(found(MEASURED, "by strips for contrast 0.90", WIDE), ["contrast-not-tested"]);
    assert_eq!(found(MEASURED, "by nobody for normal", WIDE), ["unknown-name"]);
    let gamma = MEASURED.replace("    within    0.01", "    measure   gamma");
    assert_eq!(found(&gamma, "by strips for normal", WIDE), ["aim-of-another-measure"]);
    assert_eq!(found(&gamma, "by strips for contrast 0.57", WIDE), [""; 0]);
    let cold = BY_EYE.replace(" at 20 C", "");
    assert!(found(&cold, "by wall", TIGHT).contains(&"piece-without-temperature"));
    let falling = MEASURED.replace("0.77", "0.57");
    assert!(found(&falling, "by strips for contrast 0.5", WIDE).contains(&"contrast-falls"));
}

/// Of 6:00, soft, and 8:00, hard, the middle is 7:00.
#[test]
fn between_soft_and_hard_the_help_proposes_the_middle() {
    let trial = "trial wall {\n    film marsh-100\n    in soup 1+9 at 20 C\n    piece 6:00 \"soft\"\n    piece 8:00 \"hard\"\n}\n";
    let kitchen = Kitchen::of(&file(trial, "by wall", TIGHT));
    let finding = kitchen.findings.iter().find(|it| it.name == "no-right-piece").unwrap();
    assert!(finding.help.iter().any(|help| help.contains("develop a piece for 7:00")), "{:?}", finding.help);
}

/// A contrast outside the tested ones names the nearest that works.
#[test]
fn the_nearest_contrast_is_offered() {
    let kitchen = Kitchen::of(&file(MEASURED, "by strips for contrast 0.90", WIDE));
    let finding = kitchen.findings.iter().find(|it| it.name == "contrast-not-tested").unwrap();
    assert!(finding.help.iter().any(|help| help.contains("for contrast 0.87")), "{:?}", finding.help);
}

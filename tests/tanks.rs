//! `card`, `plan` and `record` in a darkroom with two tanks: a named tank, an unknown tank, and none. The expected
//! values are worked by hand.

use crate::program::Run;

/// A run in the folder of `start`, whose tank takes two rolls of 500 ml each, with a second tank for five rolls.
fn two_tanks() -> Run {
    let run = Run::new().args(["start", "shelf"]);
    run.succeeds();
    let tank = "wetside 1\n\ntank tall-five \"Five-reel tank\" {\n    reels     120 x 5, 450 ml each\n    holds     2.6 l\n    fill      25 s\n    drain     20 s\n}\n";
    run.again().file("shelf/tanks.wet", tank).below("shelf")
}

fn card(run: Run, rolls: &str, more: &[&str]) -> Run {
    let run = run.again().args([
        "card",
        "jetty-400-first",
        "--at",
        "21C",
        "--rolls",
        rolls,
        "--date",
        "2026-11-12",
    ]);
    more.iter().fold(run, |run, one| run.arg(*one))
}

fn plan(run: Run, more: &[&str]) -> Run {
    let run = run.again().args(["plan", "jetty", "--at", "21C"]);
    more.iter().fold(run, |run, one| run.arg(*one))
}

#[track_caller]
fn told(run: &Run, words: &[&str]) {
    let (stdout, stderr) = run.fails(2);
    assert_eq!(stdout, "");
    let flat = stderr.split_whitespace().collect::<Vec<_>>().join(" ");
    for word in words {
        assert!(flat.contains(word), "{run} does not say {word:?}:\n{stderr}");
    }
}

#[test]
fn a_card_is_for_the_named_tank() {
    let run = card(two_tanks(), "2x120", &["--tank", "two-reel"]);
    let small = run.succeeds();
    // 2 x 500 ml in the first, 2 x 450 ml in the second.
    assert!(small.contains("Two-reel tank") && small.contains("mix 1000 ml"), "{small}");
    let run = card(run, "2x120", &["--tank", "tall-five"]);
    let large = run.succeeds();
    assert!(large.contains("Five-reel tank") && large.contains("mix 900 ml"), "{large}");
    // Three rolls are too many for the first, and need 3 x 450 ml in the second.
    let (_, stderr) = card(run, "3x120", &["--tank", "two-reel"]).fails(1);
    assert!(stderr.contains("error["), "{stderr}");
    let run = card(two_tanks(), "3x120", &["--tank", "tall-five"]);
    assert!(run.succeeds().contains("mix 1350 ml"));
}

/// Eleven rolls make six loads of two, or three loads of five.
#[test]
fn a_plan_is_for_the_named_tank() {
    let run = plan(two_tanks(), &["--tank", "two-reel"]);
    let small = run.succeeds();
    assert!(small.lines().next().unwrap().ends_with(" 6 loads of 11 rolls"), "{small}");
    let run = plan(run, &["--tank", "tall-five"]);
    let large = run.succeeds();
    assert!(large.lines().next().unwrap().ends_with(" 3 loads of 11 rolls"), "{large}");
    // Each slot is listed once, from the top down, as the reels are seen in the tank.
    let first: Vec<&str> =
        large.split("LOAD 2").next().unwrap().lines().filter(|line| line.contains("[ ]")).collect();
    let slots: Vec<String> =
        first.iter().map(|line| line.split("[ ]").nth(1).unwrap().trim()[..1].to_owned()).collect();
    assert_eq!(slots, ["5", "4", "3", "2", "1"]);
    assert!(
        first[0].trim_start().starts_with("top") && first[4].trim_start().starts_with("bottom"),
        "{large}"
    );
}

#[test]
fn a_session_has_the_named_tank() {
    let run = two_tanks().args([
        "record",
        "jetty-400-first",
        "--at",
        "21C",
        "--rolls",
        "3x120",
        "--tank",
        "tall-five",
    ]);
    let run = run.args(["--label", "J-01,J-02,J-03", "--date", "2026-11-12"]);
    let said = run.succeeds();
    assert!(said.contains("    tank      tall-five\n") && said.ends_with("(8 of 11 rolls)\n"), "{said}");
}

#[test]
fn an_unknown_tank_is_reported_with_the_known_ones() {
    let run = card(two_tanks(), "2x120", &["--tank", "drum"]);
    told(&run, &["there is no tank 'drum' below this folder", "known: tall-five, two-reel; or declare it"]);
    let run = plan(run, &["--tank", "drum"]);
    told(&run, &["there is no tank 'drum' below this folder"]);
    let run = card(run, "2x120", &["--tank", "tal-five"]);
    told(&run, &["there is no tank 'tal-five'", "did you mean tall-five?"]);
}

#[test]
fn a_plan_without_a_tank_lists_the_known_tanks() {
    told(&plan(two_tanks(), &[]), &["there are several tanks: tall-five, two-reel", "say which with --tank"]);
}

/// The recipe's file imports no tank, so the volume is what the film needs, 2 x 300 ml.
#[test]
fn a_card_without_any_tank_says_so() {
    let run = card(two_tanks(), "2x120", &[]);
    let said = run.succeeds();
    assert!(said.contains("no tank is named") && said.contains("mix 600 ml"), "{said}");
}

#[test]
fn without_a_tank_a_card_lists_the_tanks_of_the_recipe_file() {
    let run = two_tanks();
    let path = run.folder().join("shelf/recipes.wet");
    let text = std::fs::read_to_string(&path).unwrap();
    let uses = "use \"solutions.wet\"\nuse \"darkroom.wet\"\nuse \"tanks.wet\"\n";
    std::fs::write(&path, text.replace("use \"solutions.wet\"\n", uses)).unwrap();
    let run = card(run, "2x120", &[]);
    told(&run, &["the recipe's file has several tanks: tall-five, two-reel", "say which with --tank"]);
    let run = card(run, "2x120", &["--tank", "tall-five"]);
    assert!(run.succeeds().contains("mix 900 ml"));
}

/// Three tanks with two names in three files.
#[test]
fn several_tanks_of_one_name_are_listed_with_their_files() {
    let run = two_tanks();
    let tanks = std::fs::read_to_string(run.folder().join("shelf/tanks.wet")).unwrap();
    let run = plan(run.file("shelf/other.wet", tanks), &["--tank", "tall-five"]);
    let files = "the tank 'tall-five' is in 2 files: other.wet, tanks.wet";
    told(&run, &[files, "help: rename one of them"]);
    let run = card(run, "2x120", &["--tank", "tall-five"]);
    told(&run, &[files]);
}

#[test]
fn a_plan_lists_each_tank_name_once() {
    let run = two_tanks();
    let tanks = std::fs::read_to_string(run.folder().join("shelf/tanks.wet")).unwrap();
    let run = plan(run.file("shelf/other.wet", tanks), &[]);
    let (_, stderr) = run.fails(2);
    assert_eq!(stderr.matches("tall-five").count(), 1, "{stderr}");
    told(&run, &["there are several tanks:", "say which with --tank"]);
}

#[test]
fn a_name_with_a_slash_is_a_file_for_plan_and_card() {
    let run = two_tanks().again().args(["card", "./nope", "--at", "21C", "--rolls", "1x120"]);
    let (_, card) = run.fails(2);
    assert!(card.contains("cannot be read"), "{card}");
    assert_eq!(run.again().args(["plan", "./nope"]).fails(2).1, card);
}

//! A darkroom with two tanks, through all that takes one: each by its name, one that is not there, and none named.
//! The sums are worked by hand.

use crate::program::Run;

/// The shelf of `start`, whose tank takes two rolls at 500 ml each, with a tank for five beside it.
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
fn a_card_is_for_the_tank_that_is_named() {
    let run = card(two_tanks(), "2x120", &["--tank", "two-reel"]);
    let small = run.succeeds();
    // 2 x 500 ml in the one, 2 x 450 ml in the other.
    assert!(small.contains("Two-reel tank") && small.contains("mix 1000 ml"), "{small}");
    let run = card(run, "2x120", &["--tank", "tall-five"]);
    let large = run.succeeds();
    assert!(large.contains("Five-reel tank") && large.contains("mix 900 ml"), "{large}");
    // Three rolls are too many for the one, and fill 1350 ml, rounded up to 10 ml, of the other.
    let (_, stderr) = card(run, "3x120", &["--tank", "two-reel"]).fails(1);
    assert!(stderr.contains("error["), "{stderr}");
    let run = card(two_tanks(), "3x120", &["--tank", "tall-five"]);
    assert!(run.succeeds().contains("mix 1350 ml"));
}

/// Eleven rolls: six loads by two, three loads by five.
#[test]
fn a_plan_is_for_the_tank_that_is_named() {
    let run = plan(two_tanks(), &["--tank", "two-reel"]);
    let small = run.succeeds();
    assert!(small.lines().next().unwrap().ends_with(" 6 loads of 11 rolls"), "{small}");
    let run = plan(run, &["--tank", "tall-five"]);
    let large = run.succeeds();
    assert!(large.lines().next().unwrap().ends_with(" 3 loads of 11 rolls"), "{large}");
    // Each of its slots is told once, from the bottom up.
    let first: Vec<&str> =
        large.split("LOAD 2").next().unwrap().lines().filter(|line| line.contains("[ ]")).collect();
    let slots: Vec<String> =
        first.iter().map(|line| line.split("[ ]").nth(1).unwrap().trim()[..1].to_owned()).collect();
    assert_eq!(slots, ["1", "2", "3", "4", "5"]);
    assert!(
        first[0].trim_start().starts_with("bottom") && first[4].trim_start().starts_with("top"),
        "{large}"
    );
}

#[test]
fn a_record_is_of_the_tank_that_is_named() {
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
fn a_tank_that_is_not_there_is_told_with_those_that_are() {
    let run = card(two_tanks(), "2x120", &["--tank", "drum"]);
    told(&run, &["there is no tank 'drum' below this folder", "known: tall-five, two-reel; or declare it"]);
    let run = plan(run, &["--tank", "drum"]);
    told(&run, &["there is no tank 'drum' below this folder"]);
    let run = card(run, "2x120", &["--tank", "tal-five"]);
    told(&run, &["there is no tank 'tal-five'", "did you mean tall-five?"]);
}

#[test]
fn a_plan_without_a_tank_asks_which_of_several() {
    told(&plan(two_tanks(), &[]), &["there are several tanks: two-reel, tall-five", "say which with --tank"]);
}

/// The recipe's file knows none of them, so the card is for what the film needs, 2 x 300 ml, and says so.
#[test]
fn without_a_tank_a_card_of_a_recipe_that_knows_none_says_that_none_was_named() {
    let run = card(two_tanks(), "2x120", &[]);
    let said = run.succeeds();
    assert!(said.contains("no tank was named") && said.contains("mix 600 ml"), "{said}");
}

#[test]
fn without_a_tank_one_of_several_that_a_file_knows_has_to_be_named() {
    let run = two_tanks();
    let path = run.folder().join("shelf/recipes.wet");
    let text = std::fs::read_to_string(&path).unwrap();
    let uses = "use \"solutions.wet\"\nuse \"darkroom.wet\"\nuse \"tanks.wet\"\n";
    std::fs::write(&path, text.replace("use \"solutions.wet\"\n", uses)).unwrap();
    let run = card(run, "2x120", &[]);
    told(&run, &["the recipe's file knows several tanks: tall-five, two-reel", "say which with --tank"]);
    let run = card(run, "2x120", &["--tank", "tall-five"]);
    assert!(run.succeeds().contains("mix 900 ml"));
}

/// Three tanks of two names in three files.
#[test]
fn a_plan_that_finds_several_tanks_of_one_name_tells_their_files() {
    let run = two_tanks();
    let tanks = std::fs::read_to_string(run.folder().join("shelf/tanks.wet")).unwrap();
    let run = plan(run.file("shelf/other.wet", tanks), &["--tank", "tall-five"]);
    let files = "the tank 'tall-five' is in 2 files: other.wet, tanks.wet";
    told(&run, &[files, "help: give one of them another name"]);
    let run = card(run, "2x120", &["--tank", "tall-five"]);
    told(&run, &[files]);
}

#[test]
fn a_plan_tells_each_name_of_several_tanks_once() {
    let run = two_tanks();
    let tanks = std::fs::read_to_string(run.folder().join("shelf/tanks.wet")).unwrap();
    let run = plan(run.file("shelf/other.wet", tanks), &[]);
    let (_, stderr) = run.fails(2);
    assert_eq!(stderr.matches("tall-five").count(), 1, "{stderr}");
    told(&run, &["there are several tanks:", "say which with --tank"]);
}

#[test]
fn what_has_a_stroke_in_it_is_a_file_to_a_plan_as_to_a_card() {
    let run = two_tanks().again().args(["card", "./nope", "--at", "21C", "--rolls", "1x120"]);
    let (_, card) = run.fails(2);
    assert!(card.contains("cannot be read"), "{card}");
    assert_eq!(run.again().args(["plan", "./nope"]).fails(2).1, card);
}

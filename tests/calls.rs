//! Valid calls: every way to name a recipe, an evening and an output, with its result. A valid call prints nothing
//! on standard error, and the environment does not change its output.
#![expect(clippy::indexing_slicing, reason = "a missing key must fail the test")]

mod colour;

use std::fs;

use serde_json::Value;

use crate::evenings::shelf;
use crate::program::Run;

/// The everyday evening.
const EVENING: [&str; 6] = ["--at", "21.5C", "--rolls", "5x120", "--tank", "tall-five"];

/// A recipe in one file, with a tank that only it knows.
const ALONE: &str = "\
wetside 1
film plain-film {
    speed ISO 100
}
solution dev \"Developer\" {
    role developer
    contains metol
    needs 50 ml per roll
}
tank own \"Own tank\" {
    reels 120 x 3, 400 ml each
    fill 10 s
    drain 10 s
}
recipe plain \"A plain one\" {
    film plain-film
    develop {
        in dev 1+3, one-shot
        time 10:00
        between 18 C and 24 C
        agitate first 30 s, then 10 s every 1 min
    }
}
recipe base \"No film\" {
    wash {
        fills 10 inversions
    }
}
";

fn everyday(run: Run) -> Run {
    run.args(["card", "estuary-400-mq"]).args(EVENING)
}

fn alone(run: Run) -> Run {
    run.file("deep/er/a.wet", ALONE)
}

/// The lines of a card that begin with one of these.
fn lines<'a>(card: &'a str, beginnings: &[&str]) -> Vec<&'a str> {
    let begins = |line: &&str| beginnings.iter().any(|beginning| line.trim_start().starts_with(beginning));
    card.lines().filter(begins).collect()
}

#[test]
fn a_call_names_a_recipe_its_file_or_both() {
    let card = everyday(shelf()).succeeds();
    for named in [
        &["recipes/estuary-400-mq.wet", "estuary-400-mq"][..],
        &["./recipes/estuary-400-mq.wet", "estuary-400-mq"],
    ] {
        let run = named.iter().fold(shelf().arg("card"), |run, arg| run.arg(*arg));
        assert_eq!(run.args(EVENING).succeeds(), card);
    }
    let other = shelf().args(["card", "estuary-400-mq-800"]).args(EVENING).succeeds();
    assert!(other.starts_with("Estuary 400 in MQ borax 1+1, pushed one stop"), "{other}");
    // A file with one recipe for a film needs no name; a base without a film does not count.
    let evening = ["--at", "20C", "--rolls", "2"];
    let run = alone(Run::new()).args(["card", "deep/er/a.wet"]).args(evening);
    let card = run.succeeds();
    assert!(card.starts_with("A plain one"), "{card}");
    let run = run.again().args(["card", "plain"]).args(evening);
    assert_eq!(run.succeeds(), card);
    let whole = run.folder().join("deep/er/a.wet");
    let run = run.again().arg("card").arg(whole).args(evening);
    assert_eq!(run.succeeds(), card);
}

#[test]
fn a_dash_reads_the_recipe_from_standard_input() {
    let evening = ["--at", "20C", "--rolls", "2"];
    let card = Run::new().args(["card", "-"]).args(evening).stdin(ALONE).succeeds();
    assert!(card.starts_with("A plain one"), "{card}");
    assert_eq!(Run::new().args(["card", "-", "plain"]).args(evening).stdin(ALONE).succeeds(), card);
    let said = Run::new().args(["check", "-"]).stdin(ALONE).succeeds();
    assert_eq!(said, "nothing to fix in 1 file\n");
    let json = Run::new().args(["card", "-", "--as", "json"]).args(evening).stdin(ALONE).succeeds();
    let json: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["recipe"]["file"], "standard input");
}

#[test]
fn the_only_tank_of_a_file_is_the_default() {
    let run = alone(Run::new()).args(["card", "plain", "--at", "20C", "--rolls", "2"]);
    let card = run.succeeds();
    assert!(card.contains("Own tank") && card.contains("mix 800 ml"), "{card}");
    let tank = "wetside 1\ntank other \"Other tank\" {\nreels 120 x 2, 500 ml each\nfill 5 s\ndrain 5 s\n}\n";
    let run = run.again().file("shelf/tanks.wet", tank);
    let run = run.args(["card", "plain", "--at", "20C", "--rolls", "2", "--tank", "other"]);
    let card = run.succeeds();
    assert!(card.contains("Other tank") && card.contains("mix 1000 ml"), "{card}");
}

#[test]
fn a_card_has_no_warning_of_another_recipe() {
    let suspicious = "\
recipe suspicious \"A doubtful one\" {
    film plain-film
    develop {
        in dev 1+3, one-shot
        chart {
            20 C   10:00
            22 C   10:00
        }
    }
}
";
    let evening = ["--at", "20C", "--rolls", "2"];
    let run =
        Run::new().file("a.wet", format!("{ALONE}{suspicious}")).args(["card", "suspicious"]).args(evening);
    assert!(run.succeeds().contains("chart-time-stands"));
    let run = run.again().args(["card", "plain"]).args(evening);
    let card = run.succeeds();
    assert!(!card.contains("WARNINGS"), "{card}");
}

#[test]
fn the_form_of_an_output_comes_from_its_name_or_the_option() {
    let text = everyday(shelf()).succeeds();
    let json = everyday(shelf()).args(["--as", "json"]).succeeds();
    assert!(text.starts_with("Estuary 400 in MQ borax 1+1") && json.starts_with("{\n"));
    assert_eq!(everyday(shelf()).args(["--as", "text"]).succeeds(), text);
    let written = |args: &[&str], name: &str| {
        let run = args.iter().fold(everyday(shelf()).args(["-o", name]), |run, arg| run.arg(*arg));
        assert_eq!(run.succeeds(), "", "a card in a file is not printed too");
        fs::read_to_string(run.folder().join(name)).unwrap()
    };
    assert_eq!(written(&[], "tonight.txt"), text);
    assert_eq!(written(&[], "tonight.json"), json);
    assert_eq!(written(&[], "recipes/tonight.json"), json);
    assert_eq!(written(&["--as", "json"], "tonight.txt"), json);
    assert_eq!(written(&["--as", "text"], "tonight"), text);
    assert_eq!(written(&["--as", "json"], "to night.x"), json);
}

#[test]
fn a_card_has_eighty_columns_by_default() {
    let widest = |args: &[&str]| {
        let run = args.iter().fold(everyday(shelf()), |run, arg| run.arg(*arg));
        run.succeeds().lines().map(|line| line.chars().count()).max().unwrap()
    };
    assert_eq!(widest(&[]), 80);
    assert_eq!(["40", "60", "200"].map(|width| widest(&["--width", width])), [40, 60, 200]);
}

#[test]
fn a_card_shows_a_temperature_first_in_the_scale_of_the_call() {
    let head = |at: &str| {
        let run =
            shelf().args(["card", "estuary-400-mq", "--at", at, "--rolls", "1x120", "--tank", "tall-five"]);
        let card = run.succeeds();
        assert!(card.contains("DEVELOP 10:00"), "{card}");
        card.lines().nth(1).unwrap().to_owned()
    };
    for at in ["20C", "20 C", "20.0C", "20°C", "20 °C"] {
        assert!(head(at).contains(" 20 °C (68 °F) "), "{at}: {}", head(at));
    }
    for at in ["68F", "68 F", "68°F"] {
        assert!(head(at).contains(" 68 °F (20 °C) "), "{at}: {}", head(at));
    }
}

#[test]
fn a_step_may_have_its_own_temperature() {
    let run = shelf().args(["card", "slack-tide-200-colour", "--rolls", "1x120", "--tank", "twin"]);
    let card = run.args(["--at", "37.8C,wash-acid-out=36C,wash=86F"]).succeeds();
    let baths = lines(&card, &["Colour negative developer stock at", "water at"]);
    assert_eq!(
        baths,
        [
            "  Colour negative developer stock at 37.8 °C (37.65 °C to 37.95 °C)",
            "  water at 36 °C (35 °C to 40 °C), 2 changes of 500 ml",
            "  water at 30 °C (30 °C to 40 °C), 6 changes of 500 ml",
        ]
    );
}

#[test]
fn a_cooling_bath_shows_both_temperatures() {
    let run = shelf().args(["card", "estuary-400-mq", "--rolls", "1x120", "--tank", "tall-five"]);
    let card = run.args(["--at", "22C", "--ending", "68F"]).succeeds();
    assert!(card.contains("22 °C (71.6 °F), ending at 20 °C (68 °F)"), "{card}");
    assert!(card.contains("MQ borax, fine grain 1+1 at 22 °C, ending at 20 °C"), "{card}");
}

/// The bottom reel is loaded first, and the top roll hangs first.
#[test]
fn labels_are_listed_by_reel_and_in_the_order_of_hanging() {
    let run = shelf().args([
        "card",
        "estuary-400-mq",
        "--at",
        "20C",
        "--rolls",
        "2x120+1x135",
        "--tank",
        "tall-five",
    ]);
    let card = run.args(["--label", "quay,mill wheel,sluice"]).succeeds();
    let load = lines(&card, &["bottom", "2  120", "top"]);
    assert_eq!(load, ["  bottom  1  120  quay", "          2  120  mill wheel", "  top     3  135  sluice"]);
    let words = card.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("the top of the tank first: sluice · mill wheel · quay"), "{card}");
    let run =
        shelf().args(["card", "estuary-400-mq", "--at", "20C", "--rolls", "2x120", "--tank", "tall-five"]);
    let card = run.args(["--label", "quay", "--label", "sluice"]).succeeds();
    assert!(card.contains("the top of the tank first: sluice · quay"), "{card}");
}

/// 19:30 and 8:39 of developing; 18:36.5 in all is 18:37 in whole seconds; 23:55 and ten minutes are the next day.
#[test]
fn a_start_time_adds_wall_clock_times() {
    let card = everyday(shelf()).args(["--start", "19:30"]).succeeds();
    let steps = lines(&card, &["DEVELOP", "STOP", "TOTAL"]);
    let ends: Vec<&str> = steps.iter().map(|line| line.rsplit_once("- ").unwrap().1).collect();
    assert_eq!(ends, ["begins 0:00 · 19:30:00", "begins 8:39 · 19:38:39", "ends 19:48:37"]);
    let card = everyday(shelf()).args(["--start", "23:55:00"]).succeeds();
    assert!(card.contains("begins 8:39 · 00:03:39 next day"), "{card}");
    assert!(!everyday(shelf()).succeeds().contains(" · 0"));
}

#[test]
fn why_shows_the_rule_and_the_lines_of_each_number() {
    let card = everyday(shelf()).arg("--why").succeeds();
    let words = card.split_whitespace().collect::<Vec<_>>().join(" ");
    for expected in [
        "R1 time: between 10:00 at 20 °C, 8:15 at 22 °C, the logarithm of the time is linear [recipes/estuary-400-mq.wet:20, 21]",
        "R11 time: 3 x 1 min to clear is 3:00, but the recipe states at least 4:00 [recipes/bases.wet:18, recipes/films.wet:10]",
        "R8 volume: what covers the reels: 5 x 500 ml [recipes/tanks.wet:6]",
    ] {
        assert!(words.contains(expected), "{expected}:\n{card}");
    }
    let without = everyday(shelf()).succeeds();
    assert!(!without.contains("[recipes/") && without.lines().all(|line| card.contains(line)));
}

#[test]
fn the_version_is_that_of_the_package() {
    let version = format!("wetside {}\n", env!("CARGO_PKG_VERSION"));
    assert_eq!(Run::new().arg("--version").succeeds(), version);
    assert_eq!(Run::new().arg("-V").succeeds(), version);
}

#[test]
fn help_lists_the_commands_and_each_command_has_help() {
    let help = Run::new().arg("--help").succeeds();
    let list = help.split_once("Commands:\n").unwrap().1.split_once("\n\n").unwrap().0;
    let commands: Vec<&str> = list.lines().map(|line| line.split_whitespace().next().unwrap()).collect();
    for known in ["card", "check"] {
        assert!(commands.contains(&known), "{known} is not in {commands:?}");
    }
    for command in commands.into_iter().filter(|command| *command != "help") {
        let own = Run::new().args([command, "--help"]).succeeds();
        assert!(own.contains(&format!("Usage: wetside {command} ")), "{own}");
        assert!(own.contains("Examples:\n  wetside "), "{command} shows no example: {own}");
        assert_eq!(Run::new().args(["help", command]).succeeds(), own);
    }
    assert!(help.contains("Exit status: 0 done; 1 errors, a difference or something left to do; 2 an error in the command line; 70 an internal error"), "{help}");
}

/// The word with which the script of each shell registers its completions.
#[test]
fn each_shell_has_a_completion_script() {
    let words = [
        ("bash", "complete -F"),
        ("elvish", "edit:completion"),
        ("fish", "complete -c wetside"),
        ("powershell", "Register-ArgumentCompleter"),
        ("zsh", "#compdef wetside"),
    ];
    for (shell, word) in words {
        let script = Run::new().args(["completions", shell]).succeeds();
        assert!(script.contains(word), "{shell}");
        for known in ["measure", "fail-on", "no-config"] {
            assert!(script.contains(known), "the script of {shell} lacks {known}");
        }
    }
    let said = Run::new().args(["completions", "cmd"]).fails(2).1;
    assert!(said.contains("[possible values: bash, elvish, fish, powershell, zsh]"), "{said}");
}

/// The call is an error, and the help names the commands.
#[test]
fn a_call_without_arguments_prints_the_help() {
    let (stdout, stderr) = Run::new().fails(2);
    assert_eq!(stdout, "");
    assert!(
        stderr.contains("Usage: wetside") && stderr.contains("  card ") && stderr.contains("  check "),
        "{stderr}"
    );
}

/// Each example runs unchanged on the shelf. Those of a planned load are in the tests of planned sessions.
#[test]
fn every_example_of_the_help_works() {
    let mut run = shelf();
    let mut tried = 0;
    for command in ["card", "check", "measure"] {
        let help = Run::new().args([command, "--help"]).succeeds();
        let examples = help.split_once("Examples:\n").unwrap().1;
        let calls = examples.lines().filter(|line| line.starts_with("  wetside "));
        let is_planned = |line: &&str| line.contains("card --at") || line.contains("card A-12");
        for example in calls.filter(|line| !is_planned(line)) {
            run = example.split_whitespace().skip(1).fold(run.again(), |run, arg| run.arg(arg));
            run.succeeds();
            tried += 1;
        }
    }
    assert!(3 <= tried, "{tried} examples");
}

#[test]
fn the_shelf_has_nothing_to_fix() {
    let entries = fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/recipes")).unwrap();
    let count = entries.filter(|entry| entry.as_ref().unwrap().path().is_file()).count();
    let said = format!("nothing to fix in {count} files\n");
    assert_eq!(shelf().arg("check").succeeds(), said);
    assert_eq!(shelf().args(["check", "recipes"]).succeeds(), said);
    // Used files are read and not counted.
    assert_eq!(shelf().args(["check", "recipes/films.wet"]).succeeds(), "nothing to fix in 1 file\n");
}

/// Time zone, language, terminal and home folder have no effect.
#[test]
fn the_environment_does_not_change_a_card() {
    let calls = [&["--start", "19:30"][..], &["--as", "json"], &["--why"]];
    for args in calls {
        let call = |run: Run| args.iter().fold(everyday(run), |run, arg| run.arg(*arg)).succeeds();
        let plain = call(shelf());
        let elsewhere =
            shelf().env("TZ", "Pacific/Chatham").env("LANG", "tr_TR.UTF-8").env("LC_ALL", "de_DE.UTF-8");
        assert_eq!(
            call(elsewhere.env("COLUMNS", "40").env("TERM", "xterm-256color").env("HOME", "/")),
            plain
        );
    }
}

#[test]
fn a_recipe_has_a_card_if_another_in_its_file_has_errors() {
    let evening = ["--at", "20C", "--rolls", "1x120"];
    let recipe = |name: &str, time: &str| {
        format!(
            "recipe {name} {{\nfilm plain-film\ndevelop {{\nin dev stock, one-shot\ntime {time}\nbetween 18 C and 24 C\n}}\n}}\n"
        )
    };
    let head = ALONE.split("recipe ").next().unwrap();
    let both = |time: &str| format!("{head}{}{}", recipe("good", "10:00"), recipe("bad", time));
    let run = || Run::new().file("two.wet", both("10"));
    let card = |run: Run| run.args(["card"]).args(["two.wet", "good"]).args(evening);
    // The card is the same as if the other recipe had no error.
    assert_eq!(card(run()).succeeds(), card(Run::new().file("two.wet", both("12:00"))).succeeds());
    let (_, errors) = run().args(["card", "two.wet", "bad"]).args(evening).fails(1);
    assert!(errors.contains("missing-unit"), "{errors}");
    // Without a name the call could mean either recipe.
    let (_, errors) = run().args(["card", "two.wet"]).args(evening).fails(1);
    assert!(errors.contains("missing-unit"), "{errors}");
    let (errors, _) = run().args(["check", "two.wet"]).fails(1);
    assert!(errors.contains("missing-unit"), "{errors}");
    // A tank with an error still counts, so there is no only tank.
    let tanks = both("12:00") + "tank second {\nreels 120 x 3\n}\n";
    let (_, errors) = card(Run::new().file("two.wet", tanks.clone())).fails(1);
    assert!(errors.contains("error["), "{errors}");
    let named = card(Run::new().file("two.wet", tanks)).args(["--tank", "own"]);
    assert_eq!(named.succeeds(), card(Run::new().file("two.wet", both("12:00"))).succeeds());
}

#[test]
fn a_solution_is_measured_if_another_in_its_file_has_errors() {
    let solution = |name: &str, water: u32| {
        format!(
            "solution {name} {{\nrole stop\nformula for 1 l {{\nwater {water} ml at 20 C\nacetic-acid 17 ml glacial\nwater to 1 l\n}}\n}}\n"
        )
    };
    let text = format!("wetside 1\n{}{}", solution("good", 750), solution("bad", 1500));
    let run =
        |name: &str| Run::new().file("two.wet", &text).args(["measure", "two.wet", name, "--make", "1l"]);
    assert!(run("good").succeeds().contains("acetic-acid"));
    let (_, errors) = run("bad").fails(1);
    assert!(errors.contains("over-the-mark"), "{errors}");
}

//! `light safe` and `light TEXT`, and what a card says about light.

use serde_json::Value;
use wetside::source::Level;

use crate::kitchen::Kitchen;
use crate::program::Run;

const TEXT: &str = "wetside 1

film estuary-400 {
    speed ISO 400
}

solution soup {
    role developer
    contains metol
    needs 100 ml per roll
}

solution hypo {
    role fixer
    contains sodium-thiosulfate
    treats 10 rolls per 1 l at stock
}

recipe trial {
    film estuary-400
    index 400

    develop {
        in soup
        time 5:00
        between 18 C and 24 C
        agitate continuous, by MOTION
    }
    fix {
        in hypo
        time 5:00
    }
    expose {
        time 1:00 each side
        light safe
        light \"a lamp of 100 W at 1 m\"
    }
}

recipe brighter from trial {
    expose {
        light \"a lamp of 200 W at 1 m\"
    }
}
";

fn card(motion: &str, recipe: &str, form: &str) -> String {
    let run =
        Run::new().file("trial.wet", TEXT.replace("MOTION", motion)).args(["card", "trial.wet", recipe]);
    let run = run.args(["--at", "20C", "--rolls", "1x120", "--volume", "500ml", "--as", form]);
    run.succeeds()
}

#[test]
fn a_step_can_have_safe_light_and_a_lamp() {
    let schedule: Value = serde_json::from_str(&card("inversion", "trial", "json")).unwrap();
    let expose = &schedule["steps"][2];
    assert_eq!(expose["light_safe"], true);
    assert_eq!(expose["light"], "a lamp of 100 W at 1 m");
}

#[test]
fn another_lamp_replaces_the_lamp_and_keeps_the_light_safe() {
    let schedule: Value = serde_json::from_str(&card("inversion", "brighter", "json")).unwrap();
    let expose = &schedule["steps"][2];
    assert_eq!(expose["light_safe"], true);
    assert_eq!(expose["light"], "a lamp of 200 W at 1 m");
}

#[test]
fn each_kind_of_light_is_allowed_once() {
    for twice in ["light safe", "light \"a lamp of 100 W at 1 m\""] {
        let text =
            TEXT.replace("MOTION", "inversion").replacen(twice, &format!("{twice}\n        {twice}"), 1);
        let kitchen = Kitchen::of(&text);
        let errors = kitchen.findings.iter().filter(|finding| finding.level == Level::Error);
        let names: Vec<&str> = errors.map(|finding| finding.name).collect();
        assert_eq!(names, ["repeated-statement"], "{twice}");
    }
}

#[test]
fn a_card_mentions_the_lid_only_for_closed_tanks() {
    for motion in ["inversion", "rotation"] {
        let card = card(motion, "trial", "text");
        assert!(
            card.contains("LID ON until the fixer has been in for 3:00 and EXPOSE begins")
                && card.contains("LID FREE once the fixer has been in for 3:00"),
            "{card}"
        );
    }
    for motion in ["shuffling", "rocking", "lifting"] {
        let card = card(motion, "trial", "text");
        assert!(card.contains("DARK until the fixer has been in for 3:00 and EXPOSE begins"), "{card}");
        assert!(card.contains("LIGHT MAY GO ON once the fixer") && !card.contains("LID"), "{card}");
    }
}

/// Filled in 10 s and drained in 5 s. Develop 5:00, so the fixer is in at 5:10; the film clears in 1:20 at 20 °C.
const FIXED: &str = "wetside 1

film estuary-400 {
    speed ISO 400
    clears 80 s in hypo 1+4 at 20 C
}

solution soup {
    role developer
    contains metol
    needs 100 ml per roll
}

solution hypo {
    role fixer
    contains CONTENTS
    treats 10 rolls per 1 l at 1+4
}

tank small {
    reels 120 x 2, 250 ml each
    fill 10 s
    drain 5 s
}

recipe trial {
    film estuary-400
    index 400

    develop {
        in soup stock
        time 5:00
        between 15 C and 24 C
        agitate none
    }
    fix {
        in hypo 1+4, reused
        time FIXING
        agitate 5 s every 30 s
        IN-FIX
    }
    wash {
        fills 5, 10, 20 inversions
        IN-WASH
    }
}
";

fn fixed(changes: &[(&str, &str)], args: &[&str]) -> Run {
    let given =
        [changes, &[("CONTENTS", "sodium-thiosulfate"), ("FIXING", "4:00"), ("IN-FIX", ""), ("IN-WASH", "")]];
    let text = given.concat().iter().fold(FIXED.to_owned(), |text, (from, to)| text.replace(from, to));
    let run = Run::new().file("trial.wet", text).args(["card", "trial.wet", "--rolls", "1x120"]);
    args.iter().fold(run, |run, arg| run.arg(*arg))
}

/// 5:10 + 1:20 = 6:30. The fixer's own clock begins at 5:00, so it reads 1:30.
#[test]
fn light_stated_in_the_fixer_waits_for_the_clearing_time() {
    let run = fixed(&[("IN-FIX", "light safe")], &["--at", "20C"]);
    let card = run.succeeds();
    assert!(card.contains("LID ON until the fixer has been in for 1:20\n"), "{card}");
    assert!(card.contains("1:30  LID FREE once the fixer has been in for 1:20"), "{card}");
    let json: Value = serde_json::from_str(
        &fixed(&[("IN-FIX", "light safe")], &["--at", "20C", "--as", "json"]).succeeds(),
    )
    .unwrap();
    assert_eq!(
        (&json["steps"][1]["light_from_ms"], &json["steps"][1]["in_fixer_ms"]),
        (&390_000.into(), &80_000.into())
    );
}

/// Develop 5:00, fix 4:00 and a fill of 10 s: 9:10.
#[test]
fn light_stated_after_enough_fixing_begins_with_its_step() {
    let card = fixed(&[("IN-WASH", "light safe")], &["--at", "20C"]).succeeds();
    assert!(card.contains("LID ON until the fixer has been in for 1:20 and WASH is in"), "{card}");
    let json = fixed(&[("IN-WASH", "light safe")], &["--at", "20C", "--as", "json"]).succeeds();
    let json: Value = serde_json::from_str(&json).unwrap();
    let wash = &json["steps"][2];
    assert_eq!((&wash["light_from_ms"], &wash["in_fixer_ms"]), (&550_000.into(), &80_000.into()));
}

/// A fix of 1:00 holds the film for 1:00 - 0:10 - 0:05 = 0:45.
#[test]
fn light_before_the_film_is_clear_is_an_error_that_nothing_lifts() {
    for at in ["IN-FIX", "IN-WASH"] {
        let run = fixed(&[("FIXING", "1:00"), (at, "light safe")], &["--at", "20C"]);
        let (_, told) = run.fails(1);
        for words in ["error[light-before-clear]", "after 45 s in the fixer", "needs 1:20", "fix for longer"]
        {
            assert!(told.contains(words), "{words}: {told}");
        }
        let allowed = format!("allow light-before-clear because \"a test\"\n\n    {}", "light safe");
        let run = fixed(&[("FIXING", "1:00"), (at, &allowed)], &["--at", "20C"]);
        assert!(!run.fails(1).0.contains("LID"), "allowed at {at}");
    }
}

/// Without a clearing time at tonight's strength and temperature: 2:00 in an acid rapid fixer (US Army,
/// Laboratory Procedures, subcourse SS0509, 1988, page 24), 3:00 in another (Clerc, Photography: Theory and Practice,
/// 1937, § 411).
#[test]
fn an_unknown_clearing_time_is_assumed_by_the_kind_of_fixer() {
    let rapid = "ammonium-thiosulfate, acetic-acid";
    for (contents, lid) in [(rapid, "2:00"), ("sodium-thiosulfate", "3:00")] {
        let changes = [
            ("CONTENTS", contents),
            ("IN-FIX", "light safe"),
            ("in hypo 1+4, reused", "in hypo 1+9, reused"),
        ];
        let card = fixed(&changes, &["--at", "20C"]).succeeds();
        assert!(
            card.contains(&format!("LID ON until the fixer has been in for {lid}\n")),
            "{contents}: {card}"
        );
    }
    // 16 °C is more than 2 °C colder than the film's clearing time.
    let card = fixed(&[("IN-FIX", "light safe")], &["--at", "16C"]).succeeds();
    assert!(card.contains("has been in for 3:00\n"), "{card}");
}

/// Monobath, bleach-fix and a colour bleach need the dark to their end; a reversal's bleach does not.
#[test]
fn other_baths_that_end_the_dark() {
    let bath = |kind: &str, role: &str, after: &str| {
        let text = FIXED
            .replace("role fixer", &format!("role {role}"))
            .replace("    fix {", &format!("    {kind} {{"))
            .replace("    wash {", &format!("{after}    wash {{"));
        let text = text
            .replace("CONTENTS", "sodium-thiosulfate")
            .replace("FIXING", "4:00\n        between 15 C and 24 C");
        let text = text.replace("IN-FIX", "light safe").replace("IN-WASH", "");
        let run =
            Run::new().file("trial.wet", text).args(["card", "trial.wet", "--rolls", "1x120", "--at", "20C"]);
        run.succeeds()
    };
    let card = bath("bleach-fix", "bleach-fix", "");
    assert!(card.contains("LID ON until BLEACH-FIX is done\n"), "{card}");
    let card = bath("bleach", "bleach", "");
    assert!(card.contains("LID ON until BLEACH is done\n"), "{card}");
    let card = bath("bleach", "bleach", "    expose {\n        time 1:00\n    }\n");
    assert!(card.contains("LID ON until BLEACH is in\n"), "{card}");
}

/// Tonight's leader counts at any strength: 5:10 + 1:40 = 6:50.
#[test]
fn tonights_leader_decides_when_the_lid_may_come_off() {
    let changes = [("IN-FIX", "light safe"), ("in hypo 1+4, reused", "in hypo 1+9, reused")];
    let card = fixed(&changes, &["--at", "16C", "--clears", "1:40"]).succeeds();
    assert!(card.contains("LID ON until the fixer has been in for 1:40\n"), "{card}");
}

/// A lamp or a safelight may be stated in any step, and drying may have a range of temperatures.
#[test]
fn every_form_shows_the_light_of_a_step_and_the_range_of_drying() {
    let dry = "dry {\n        time 2 h\n        at 30 C\n        between 20 C and 40 C\n    }\n}\n";
    let text = FIXED.replace("IN-WASH\n    }\n}\n", &format!("light \"a red lamp\"\n    }}\n    {dry}"));
    let text = text.replace("CONTENTS", "sodium-thiosulfate").replace("FIXING", "4:00").replace("IN-FIX", "");
    for form in ["text", "html"] {
        let run = Run::new().file("trial.wet", &text).args([
            "card",
            "trial.wet",
            "--rolls",
            "1x120",
            "--at",
            "20C",
        ]);
        let shown = run.args(["--as", form]).succeeds();
        assert!(shown.contains("light: a red lamp"), "{form}: {shown}");
        assert!(shown.replace('\u{a0}', " ").contains("at 30 °C (20 °C to 40 °C)"), "{form}: {shown}");
    }
}

/// The bottle has treated a roll and was not tested: 5:10 + 2 · 1:20 = 7:50.
#[test]
fn a_used_bottle_without_a_test_doubles_the_clearing_time() {
    let bottle = "bath hypo-a {\n    in hypo 1+4\n    volume 1 l\n    mixed 2026-11-01\n}\n";
    let session = "session one-roll {\n    date 2026-11-05\n    recipe trial, fingerprint \"46ac83d1\"\n    slot 1 120\n    \
                   bath hypo-a\n}\n";
    let text =
        FIXED.replace("CONTENTS", "sodium-thiosulfate").replace("FIXING", "4:00").replace("IN-WASH", "");
    let (head, tail) = text.split_once("recipe trial {").unwrap();
    let text = format!("{head}{bottle}\n{session}\nrecipe trial {{{}", tail.replace("IN-FIX", "light safe"));
    let run =
        Run::new().file("trial.wet", text).args(["card", "trial.wet", "--rolls", "1x120", "--at", "20C"]);
    let card = run.args(["--bath", "hypo-a", "--date", "2026-11-20"]).succeeds();
    assert!(card.contains("LID ON until the fixer has been in for 2:40\n"), "{card}");
}

/// A recipe of edition 2 for this material, beginning with this line of light.
fn lit(material: &str, light: &str) -> String {
    format!(
        "wetside 2\n{material} gull {{\n    source \"invented\"\n}}\nsolution soup {{\n    role developer\n    \
         contains metol, sodium-sulfite, borax\n}}\nsolution hypo {{\n    role fixer\n    contains sodium-thiosulfate\n    \
         treats 10 rolls per 1 l\n}}\nrecipe trial {{\n    {material} gull\n    {light}\n    develop {{\n        \
         in soup stock, one-shot\n        time 5:00 at 20 C\n        within 1 C\n        agitate none\n    }}\n    fix {{\n        \
         in hypo stock, reused\n        time 6:00\n        agitate none\n        light room\n    }}\n    wash {{\n        \
         flow 2 l/min\n        time 30 min\n    }}\n}}\n"
    )
}

/// The same development in room light loses film and plates. Photograms drawn with chemicals on paper begin so.
#[test]
fn what_begins_in_room_light_and_is_developed_is_an_error_for_film_and_plates() {
    let errors = |text: &str| -> Vec<String> {
        let kitchen = Kitchen::of(text);
        let errors = kitchen.findings.iter().filter(|finding| finding.level == Level::Error);
        errors.map(|finding| finding.name.to_owned()).collect()
    };
    for material in ["film", "plate"] {
        assert_eq!(errors(&lit(material, "light room")), ["light-before-fix"], "{material}");
        assert_eq!(errors(&lit(material, "light safelight \"red\"")), [""; 0], "{material}");
    }
    assert_eq!(errors(&lit("paper", "light room")), [""; 0]);
}

/// Film without a known clearing time in a neutral fixer waits 3:00 (Clerc, Photography: Theory and Practice, 1937, §
/// 411); paper waits for the end of the step.
#[test]
fn paper_without_a_clearing_time_may_see_light_at_the_end_of_the_fixer() {
    let from = |material: &str| -> Value {
        let run = Run::new().file("trial.wet", lit(material, "light safelight \"red\""));
        let run = run.args(["card", "trial.wet", "--at", "20C", "--rolls", "1x120", "--volume", "500ml"]);
        let schedule: Value = serde_json::from_str(&run.args(["--as", "json"]).succeeds()).unwrap();
        assert_eq!(schedule["recipe"]["lighting"], "safelight");
        assert_eq!(schedule["recipe"]["lamp"], "red");
        schedule["steps"][1]["light_from_ms"].clone()
    };
    // The development takes 5:00, and nothing is said about filling: 8:00 and 11:00.
    assert_eq!(from("film"), 480_000);
    assert_eq!(from("plate"), 480_000);
    assert_eq!(from("paper"), 660_000);
}

/// A print lies in an open tray, unless it is moved as in a closed drum.
#[test]
fn prints_have_a_lid_only_where_they_are_turned() {
    for (motion, expected) in [
        ("none", "DARK until FIX is done"),
        ("continuous, by rocking", "DARK until FIX is done"),
        ("continuous, by rotation", "LID ON until FIX is done"),
        ("rotary 60 rpm", "LID ON until FIX is done"),
    ] {
        let text = lit("paper", "light none").replacen("agitate none", &format!("agitate {motion}"), 1);
        let run = Run::new().file("trial.wet", text);
        let run = run.args(["card", "trial.wet", "--at", "20C", "--rolls", "1x120", "--volume", "500ml"]);
        let card = run.succeeds();
        assert!(card.contains(expected), "{motion}: {card}");
    }
}

#[test]
fn an_edition_one_file_says_light_safe_and_means_light_room() {
    let old = lit("film", "").replace("wetside 2", "wetside 1").replace("light room", "light safe");
    let (old, new) = (Kitchen::sound(&old), Kitchen::sound(&lit("film", "")));
    assert_eq!(old.recipe().work(), new.recipe().work());
    let mixed = Kitchen::of(&lit("film", "").replace("wetside 2", "wetside 1"));
    assert!(mixed.findings.iter().any(|finding| finding.name == "newer-edition"));
}

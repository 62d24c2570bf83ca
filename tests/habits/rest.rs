//! Habits at the sink and with prints: sea water, lith, the lid, a cold developer, a bottle poured back, the kitchen.

use super::{SHELF, development, habit, only, refused, silent};
use crate::program::Run;

#[test]
fn sea_water_needs_fresh_water_after_it() {
    let sea = "solution sea-water {\nrole treatment\ncontains sodium-chloride\n}\n";
    let wash =
        |place: &str| format!("{place} {{\nin sea-water stock, one-shot\nflow 4 l/min\ntime 20 min\n}}");
    silent(&(habit(&wash("wash sea before wash")) + sea));
    let only_sea = habit(&format!("without wash\n{}", wash("wash sea before rinse"))) + sea;
    only(&only_sea, "advice fix-without-wash");
}

/// The paper of the shelf, developed to its snatch point between these temperatures.
fn lith(band: &str) -> String {
    let lith = "solution lith {\nrole developer\nparts a, b\ncontains hydroquinone, sodium-sulfite, potassium-carbonate\n\
                treats 8 rolls per 1 l\n}\n";
    let usual = habit(&format!(
        "without develop\nlight safelight \"red, 1.2 m away\"\ndevelop print before stop {{\nin lith 1+1+20, one-shot\n\
         time until \"the deepest shadow turns black\", at least 4:00, at most 20:00, look every 30 s\n\
         between {band}\nagitate continuous, by rocking\n}}\nfix {{\ntime 3:00\n}}"
    ));
    let paper = usual.replace("film bromide-paper", "paper bromide-paper");
    let paper = paper.replace("film      plain\n    index", "paper     bromide-paper\n    index");
    paper.replace("3 x clearing, at least 3:00", "3:00") + lith
}

#[test]
fn lith_to_a_snatch_point_is_silent_and_too_warm_a_warning() {
    silent(&lith("20 C and 30 C"));
    silent(&lith("25 C and 35 C"));
    only(&lith("25 C and 36 C"), "warning implausible-temperature");
    only(&lith("24 C and 40 C"), "warning implausible-temperature");
}

/// The fixer of the shelf clears the film in 45 s.
#[test]
fn room_light_before_the_film_is_clear_is_an_error() {
    let at = ["--at", "20C", "--rolls", "1x135", "--tank", "small-tank"];
    let early = habit("fix {\ntime 0:40\n}\nwash {\nlight room\n}");
    assert_eq!(refused(&early, &at), ["light-before-clear"]);
}

/// From 16 to 20 °C is the mean of water of 20 °C and of the bath: the help says which water tempers it.
#[test]
fn the_error_of_a_cold_developer_says_how_to_temper_it() {
    let run = Run::new().file("habit.wet", habit("index 320"));
    let run = run.args(["card", "own", "--at", "16C", "--rolls", "1x135", "--tank", "small-tank"]);
    let told = run.fails(1).1.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("temper"), "{told}");
}

/// Three rolls in a session are counted, although the developer states no capacity.
#[test]
fn the_use_of_a_dilute_developer_that_is_poured_back_is_counted() {
    let kept = development(
        "in everyday-dev 1+9, reused\ntime 10:00\nbetween 18 C and 22 C\nagitate first 30 s, then 10 s every 1 min",
    );
    let darkroom = "bath brown {\nin everyday-dev 1+9\nvolume 1 l\nmixed 2026-11-02\n}\n\
                    session one {\ndate 2026-11-05\nrecipe own, fingerprint \"46ac83d1\"\nslot 1 120\nslot 2 120\nslot 3 120\n\
                    bath brown\n}\n";
    let run = Run::new().file("habit.wet", kept + darkroom).args(["baths", "--on", "2026-11-10"]);
    let baths = run.succeeds();
    let row = baths.lines().find(|line| line.starts_with("brown")).unwrap();
    assert_eq!(row.split_whitespace().nth(4), Some("3"), "{baths}");
}

/// A brew without sulfite is usual; 4 g on a scale that shows 5 g are questioned on the sheet.
#[test]
fn a_brew_without_sulfite_is_silent_and_a_coarse_scale_is_said_on_the_sheet() {
    let brew = "solution brew {\nrole developer\nformula for 1 l {\nwater 800 ml at 20 C\n\
                sodium-carbonate 54 g anhydrous\nascorbic-acid 16 g\ninstant-coffee 40 g\nwater to 1 l\n}\n\
                needs 300 ml per roll\nkeeps 1 days\ncaution \"never food again in this jug\"\n}\n";
    let text = format!("{SHELF}{brew}").replace("recipe usual", "recipe own");
    let text = text.replacen("in        mq-borax 1+1, one-shot", "in        brew stock, one-shot", 1);
    silent(&text);
    let sheet =
        Run::new().file("habit.wet", &text).args(["measure", "brew", "--make", "300ml", "--scale", "5g"]);
    let sheet = sheet.succeeds().split_whitespace().collect::<Vec<_>>().join(" ");
    // 0.3 x 16 g = 4.8 g.
    assert!(sheet.contains("4.8 g of ascorbic-acid is less than the scale's step of 5 g"), "{sheet}");
    assert!(sheet.contains("never food again in this jug"), "{sheet}");
}

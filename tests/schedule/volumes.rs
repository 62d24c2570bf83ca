//! R8: the volume of each bath and of its parts. Each value is worked by hand in the comment beside it.

use serde_json::Value;

use super::{made, measured, refused, step, steps, trial};

/// A step in this bath and tank, with these arguments.
fn bath(solution: &str, dilution: &str, tank: &str, args: &[&str]) -> Value {
    let declared = format!("solution own {{\nrole stop\ncontains citric-acid\n{solution}\n}}\n{tank}");
    let steps = format!("stop {{\nin own {dilution}, one-shot\ntime 5:00\n}}");
    step(&made(&trial(&declared, &steps), &[&["--at", "20C"], args].concat()), 0).clone()
}

/// The volume of the call.
fn asked(solution: &str, dilution: &str, volume: &str) -> Vec<f64> {
    measured(&bath(solution, dilution, "", &["--rolls", "1x120", "--volume", volume]))
}

/// The volume that the film needs, without a tank.
fn needed(needs: &str, dilution: &str, rolls: &str) -> Value {
    bath(&format!("needs {needs} per roll"), dilution, "", &["--rolls", rolls])
}

const TWO: &str = "tank two {\nreels 120 x 2, 300 ml each\nholds 1.2 l\n}";

/// Two reels of 300 ml are 600 ml; two rolls of 250 ml at one of two parts are 1000 ml.
#[test]
fn the_larger_of_the_covering_and_the_needed_volume_is_poured() {
    let both = bath("needs 250 ml per roll", "1+1", TWO, &["--rolls", "2"]);
    assert_eq!(both["volume_ml"], 1000);
    assert_eq!(measured(&both), [500.0, 500.0]);
    let covered = bath("needs 100 ml per roll", "1+1", TWO, &["--rolls", "2"]);
    assert_eq!(covered["volume_ml"], 600);
    // Of stock the two need 500 ml, so the reels decide.
    assert_eq!(bath("needs 250 ml per roll", "stock", TWO, &["--rolls", "2"])["volume_ml"], 600);
}

/// Up to 5 ml; over a litre, up to 10 ml.
#[test]
fn a_volume_is_rounded_up_to_5_or_10_ml() {
    let volume = |needs: &str, rolls: &str| needed(needs, "stock", rolls)["volume_ml"].clone();
    assert_eq!(volume("83 ml", "1x120"), 85);
    assert_eq!(volume("85 ml", "1x120"), 85);
    assert_eq!(volume("85.1 ml", "1x120"), 90);
    assert_eq!(volume("500 ml", "2x120"), 1000);
    // 13 · 83 = 1079; 2 · 500.5 = 1001.
    assert_eq!(volume("83 ml", "13x120"), 1080);
    assert_eq!(volume("500.5 ml", "2x120"), 1010);
    // A US quart is 946.353 ml.
    assert_eq!(volume("1 us-qt", "1x120"), 950);
}

#[test]
fn parts_are_rounded_half_up_to_measurable_volumes() {
    // To 0.1 ml under 10 ml: 500 ÷ 201 = 2.4876; 5 ÷ 20 = 0.25.
    assert_eq!(asked("", "1+200", "500ml"), [2.5, 497.5]);
    assert_eq!(asked("", "1+19", "5ml"), [0.3, 4.7]);
    // To 1 ml from there on: 500 ÷ 7 = 71.43; 50 ÷ 4 = 12.5; 1000 ÷ 100 = 10.
    assert_eq!(asked("", "1+6", "500ml"), [71.0, 429.0]);
    assert_eq!(asked("", "1+3", "50ml"), [13.0, 37.0]);
    assert_eq!(asked("", "1+99", "1l"), [10.0, 990.0]);
    // To 5 ml from a litre on: 2500 · 2 ÷ 3 = 1666.67; 4030 ÷ 4 = 1007.5.
    assert_eq!(asked("", "2+1", "2.5l"), [1665.0, 835.0]);
    assert_eq!(asked("", "1+3", "4.03l"), [1010.0, 3020.0]);
}

/// Half up would leave the film short where it says that it needs more. 83.2 ml at one of six parts are 499.2 ml;
/// the reel takes 500 ml, of which a sixth is 83.33 ml, and 83 is too little. 2 · 503 ml at two of three parts are
/// 1509 ml, so 1510 ml: two thirds of it are 1006.67 ml, of which 1005 is too little.
#[test]
fn the_first_part_is_never_less_than_the_film_needs() {
    let one = "tank one {\nreels 120 x 1, 500 ml each\n}";
    assert_eq!(measured(&bath("needs 83.2 ml per roll", "1+5", one, &["--rolls", "1"])), [84.0, 416.0]);
    assert_eq!(measured(&needed("503 ml", "2+1", "2x120")), [1010.0, 500.0]);
    // 71 ml at one of seven parts are 497 ml, so 500 ml: a seventh is 71.43 ml, and 71 will do.
    assert_eq!(measured(&needed("71 ml", "1+6", "1x120")), [71.0, 429.0]);
    // 5 ml at one of 101 parts are 505 ml. 1.35 ml at one of 11 parts are 14.85 ml, so 15 ml: 1.364 ml.
    assert_eq!(measured(&needed("5 ml", "1+100", "1x120")), [5.0, 500.0]);
    assert_eq!(measured(&needed("1.35 ml", "1+10", "1x120")), [1.4, 13.6]);
}

/// In the order of the bottles; the last takes the rest where there is no water.
#[test]
fn each_of_several_bottles_is_measured() {
    let bottles = "parts a, b";
    assert_eq!(asked(bottles, "1+9+40", "500ml"), [10.0, 90.0, 400.0]);
    assert_eq!(asked(bottles, "1+1 no-water", "605ml"), [303.0, 302.0, 0.0]);
    let mixed = bath(bottles, "1+9+40", "", &["--rolls", "1x120", "--volume", "500ml"]);
    assert_eq!(mixed["parts"][1]["what"], "own b");
    assert_eq!(mixed["dilution"], "1+9+40");
    // 100 ml of the first for one roll: 100 · 50 ÷ 1 = 5000 ml.
    let needed = bath("parts a, b\nneeds 100 ml per roll", "1+9+40", "", &["--rolls", "1x120"]);
    assert_eq!(needed["volume_ml"], 5000);
    assert_eq!(measured(&needed), [100.0, 900.0, 4000.0]);
}

#[test]
fn a_stock_bath_is_one_part_without_water() {
    let stock = bath("", "stock", "", &["--rolls", "1x120", "--volume", "500ml"]);
    assert_eq!(measured(&stock), [500.0, 0.0]);
    assert_eq!(stock["parts"][0]["what"], "own");
}

#[test]
fn a_drum_uses_its_rotary_volume_only_in_rotary_steps() {
    let drum = "tank drum {\nreels 120 x 2, 480 ml each\nrotary 300 ml\nholds 1 l\n}";
    let declared =
        format!("solution own {{\nrole stop\ncontains citric-acid\nneeds 125 ml per roll\n}}\n{drum}");
    let steps = "\
stop {\nin own stock\ntime 5:00\nagitate rotary 60 rpm\n}
stop more {\nin own 1+1\ntime 5:00\nagitate rotary 60 rpm\n}
rinse {\nin own stock\ntime 5:00\n}";
    let schedule = made(&trial(&declared, steps), &["--at", "20C", "--rolls", "2"]);
    let volumes: Vec<_> = super::steps(&schedule).iter().map(|step| step["volume_ml"].clone()).collect();
    // The drum's 300 ml; 2 · 125 · 2 = 500 ml that the film needs; two reels of 480 ml where it stands.
    assert_eq!(volumes, [300, 500, 960]);
}

#[test]
fn a_tank_that_is_filled_whole_takes_the_volume_it_holds() {
    let tray = "tank tray {\nreels 4x5in x 6, 160 ml each\nholds 1 l\nfill whole, 10 s\n}";
    assert_eq!(bath("", "1+3", tray, &["--rolls", "2x4x5in"])["volume_ml"], 1000);
}

/// A bath without another volume is as large as the largest of the evening.
#[test]
fn without_a_tank_a_bath_has_the_volume_the_film_needs() {
    let declared = "solution own {\nrole developer\ncontains metol\nneeds 100 ml per roll\n}";
    let steps = "\
presoak {\ntime 1:00\n}
develop {\nin own 1+1, one-shot\ntime 5:00\nbetween 18 C and 24 C\n}
wash {\nsoak 1:00 x 2\n}";
    let text = trial(declared, steps);
    let volumes = |args: &[&str]| -> Vec<Value> {
        let schedule = made(&text, &[&["--at", "20C"], args].concat());
        super::steps(&schedule).iter().map(|step| step["volume_ml"].clone()).collect()
    };
    assert_eq!(volumes(&["--rolls", "3x120"]), [600, 600, 600]);
    assert_eq!(volumes(&["--rolls", "3x120", "--volume", "700ml"]), [700, 700, 700]);
    // 595 ml have 297.5 ml of the first part for three rolls, 99.2 ml a roll.
    let schedule = made(&text, &["--at", "20C", "--rolls", "3x120", "--volume", "595ml"]);
    assert_eq!(super::steps(&schedule)[1]["volume_ml"], 595);
    assert_eq!(schedule["advice"][0]["text"], "develop: 99.2 ml of own a roll; its label says 100");
}

/// The volume of the call is not the need of the film, and the card does not claim so.
#[test]
fn a_requested_volume_is_not_explained_as_a_need() {
    let text = trial("", "wash {\nsoak 1:00 x 2\n}");
    let schedule = made(&text, &["--at", "20C", "--rolls", "1x120", "--volume", "750ml"]);
    let doubts = schedule["warnings"].to_string();
    assert!(!doubts.contains("what the film needs"), "{doubts}");
}

/// One litre at one of 10,000 parts would be ten thousand litres. A volume is at most 1000 l, and a bath that is
/// silently made smaller would not do for the film.
#[test]
fn a_bath_above_1000_l_is_refused() {
    let declared = "solution own {\nrole developer\ncontains metol\nneeds 1 l per roll\n}";
    let develop = |dilution: &str| {
        let lines = format!("in own {dilution}, one-shot\ntime 5:00\nbetween 18 C and 24 C");
        trial(declared, &format!("develop {{\n{lines}\n}}"))
    };
    let args = ["--at", "20C", "--rolls", "1x120"];
    assert_eq!(step(&made(&develop("1+99"), &args), 0)["volume_ml"], 100_000);
    let told = refused(&develop("1+9999"), &args);
    assert!(told.contains("1000 l") || told.contains("10000 l"), "{told}");
}

#[test]
fn without_any_volume_the_call_must_give_one() {
    let text = trial("", "wash {\nsoak 1:00 x 2\n}");
    let told = refused(&text, &["--at", "20C", "--rolls", "3x120"]);
    assert!(told.contains("--tank") && told.contains("--volume"), "{told}");
    let schedule = made(&text, &["--at", "20C", "--rolls", "3x120", "--volume", "750ml"]);
    assert_eq!(steps(&schedule)[0]["volume_ml"], 750);
}

/// 1200 ml are held; two rolls of 350 ml at one of two parts would be 1400 ml, one is 700 ml. 1200 ml have 300 ml for
/// each roll, 6/7 of its need. The volume of a call cannot be more than the tank holds.
#[test]
fn a_bath_that_needs_more_than_the_tank_holds_fills_it() {
    let declared =
        format!("solution own {{\nrole developer\ncontains metol\nneeds 350 ml per roll\n}}\n{TWO}");
    let develop = |name: &str, dilution: &str| {
        format!(
            "recipe {name} {{\nfilm plain-film\nindex 100\ndevelop {{\nin own {dilution}\ntime 5:00\nbetween 18 C and 24 C\n}}\n}}\n"
        )
    };
    let text = trial(&declared, "rest {\ntime 1:00\n}") + &develop("strong", "1+1");
    let schedule = made(&text, &["strong", "--at", "20C", "--rolls", "2"]);
    assert_eq!(steps(&schedule)[0]["volume_ml"], 1200);
    assert_eq!(schedule["advice"][0]["text"], "develop: 300 ml of own a roll; its label says 350");
    let told = refused(&text, &["strong", "--at", "20C", "--rolls", "2", "--volume", "1.3l"]);
    for words in ["tank-too-small", "develop would be 1.3 l", "--volume 1200ml or less", "larger tank"] {
        assert!(told.contains(words), "{words}: {told}");
    }
    let schedule = made(&text, &["strong", "--at", "20C", "--rolls", "1"]);
    assert_eq!(steps(&schedule)[0]["volume_ml"], 700);
}

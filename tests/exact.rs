//! What is exact at its limit: volumes that just fit, totals, weights, temperatures and speeds as they are stated, and
//! jumps of temperature. Worked by hand.

use serde_json::Value;

use crate::program::Run;

/// A tank that holds 200 ml, and a developer of which a roll needs 100 ml.
const BENCH: &str = "\
wetside 1
allow one-time-for-a-wide-band because \"the temperatures are what is tested\"
allow short-wash because \"two changes are what is counted\"
allow developer-without-preservative because \"the weights are what is tested\"
allow implausible-capacity because \"the film must not use the fixer up\"
film marsh-100 {
    speed ISO 100/21
    clears 60 s in fixer 1+4 at 20 C
}
solution soup {
    role developer
    contains metol, sodium-sulfite
    needs 100 ml per roll
    formula for 1 l {
        water 750 ml at 125 F
        metol 2.3456 g
        phenidone 0.2 g
        water to 1 l
    }
}
solution fixer {
    role fixer
    contains ammonium-thiosulfate
    treats 100 rolls per 1 l at 1+4
}
tank small {
    reels 135 x 1, 180 ml each
    holds 200 ml
    fill 5 s
    drain 5 s
}
recipe marsh {
    film marsh-100
    develop {
        in soup 1+2, one-shot
        time 10:00
        between 15 C and 40 C
        agitate first 30 s, then 10 s every 1 min
    }
    develop second {
        in soup 1+2, one-shot
        time 5:00
        between 15 C and 40 C
        agitate none
    }
    fix {
        in fixer 1+4, reused
        time 3:00
        between 15 C and 40 C
        agitate none
    }
    wash {
        soak 1:00 x 2
        between 5 C and 40 C
    }
    dry {
        time 2:00:00
        handling 1:30
    }
}
";

fn card(at: &str, rolls: &str) -> Run {
    Run::new()
        .file("bench.wet", BENCH.replace("    contains metol, sodium-sulfite\n    needs", "    needs"))
        .args(["card", "marsh", "--at", at, "--rolls", rolls])
}

fn json(run: Run) -> Value {
    serde_json::from_str(&run.args(["--as", "json"]).succeeds()).unwrap()
}

fn texts(schedule: &Value, key: &str) -> Vec<String> {
    let all = schedule[key].as_array().into_iter().flatten();
    all.map(|one| one["text"].as_str().unwrap().to_owned()).collect()
}

/// 24 exposures are two thirds of a roll, which needs 66 2/3 ml of the developer: at 1+2 exactly 200 ml.
#[test]
fn a_bath_that_just_fits_is_neither_enlarged_nor_starved() {
    let schedule = json(card("20C", "1x135-24"));
    assert_eq!(schedule["steps"][0]["volume_ml"], 200);
    assert_eq!(texts(&schedule, "advice"), Vec::<String>::new());
    // A whole roll needs 300 ml, and 200 ml have two thirds of that.
    let schedule = json(card("20C", "1x135"));
    assert_eq!(schedule["steps"][0]["volume_ml"], 200);
    assert!(
        texts(&schedule, "advice")[0].starts_with("develop: 66.7 ml of soup a roll; its 'needs' says 100")
    );
}

/// 10:00 + 5:00 + 3:00, two changes of 5 s + 1:00 + 5 s, and 1:30 before drying.
#[test]
fn handling_before_drying_counts_in_the_total() {
    let schedule = json(card("20C", "1x135-24"));
    assert_eq!(schedule["total_ms"], (18 * 60 + 2 * 70 + 90) * 1000);
    assert_eq!(schedule["drying_ms"], 2 * 3600 * 1000);
}

/// Half a litre of 2.3456 g in a litre: 1.1728 g.
#[test]
fn a_fine_scale_shows_what_is_weighed() {
    let run = card("20C", "1x135").again().args(["measure", "soup", "--make", "500ml", "--scale", "0.1mg"]);
    let sheet = run.succeeds();
    assert!(sheet.contains("1.1728 g") && sheet.contains("scale to 0.0001 g"), "{sheet}");
}

/// 125 °F is 51.67 °C.
#[test]
fn a_temperature_in_fahrenheit_stays_what_it_is() {
    for (units, words) in [("metric", "water at 51.7 °C (125 °F)"), ("us", "water at 125 °F (51.7 °C)")] {
        let run = card("20C", "1x135").again().args(["measure", "soup", "--make", "1l", "--units", units]);
        let sheet = run.succeeds();
        assert!(sheet.contains(words), "{sheet}");
    }
}

/// 100/21 belong together on the two scales of ISO, 100/20 do not.
#[test]
fn a_speed_on_both_scales_is_read() {
    let list = "label,film,format,index\nE-01,marsh-100,135,ISO 100/21°\nE-02,marsh-100,135,100\n";
    let run = card("20C", "1x135").file("list.csv", list).again();
    let plan = json(run.args(["plan", "--from", "list.csv", "--at", "20C"]));
    assert_eq!(plan["loads"][0]["rolls"][0]["index"], 100);
    let run = Run::new().file("bench.wet", BENCH.replace("100/21", "100/20")).args(["check", "bench.wet"]);
    let told = run.fails(1).0;
    assert!(told.contains("'100/20' is no speed on the two scales of ISO"), "{told}");
}

#[test]
fn the_temperature_of_a_named_step_comes_before_that_of_its_kind() {
    for at in ["20C,develop=22C,develop-second=24C", "20C,develop-second=24C,develop=22C"] {
        let schedule = json(card(at, "1x135-24"));
        let temperatures: Vec<_> =
            (0..3).map(|step| schedule["steps"][step]["temperature_c"].clone()).collect();
        assert_eq!(temperatures, [22, 24, 20], "{at}");
    }
    let told = card("20C,develop=22C,develop=24C", "1x135-24").fails(2).1;
    assert!(told.contains("two temperatures for develop"), "{told}");
}

/// 5 °F are 2.78 °C, 15 °F are 8.33 °C.
#[test]
fn a_jump_that_the_evening_makes_is_a_warning() {
    let warned = |at: &str| texts(&json(card(at, "1x135-24")), "warnings");
    let none = Vec::<String>::new;
    assert_eq!(warned("20C,develop=22.77C"), none());
    let from = |words: &str| vec![format!("from {words} at once: its gelatin may wrinkle")];
    assert_eq!(
        warned("20C,develop=22.78C,develop-second=22.78C"),
        from("develop second to fix the film goes from 22.78 °C to 20 °C, more than 5 °F (2.8 °C)")
    );
    assert_eq!(warned("20C,wash=11.67C"), none());
    assert_eq!(
        warned("20C,wash=11.66C"),
        from("fix to wash the film goes from 20 °C to 11.66 °C, more than 15 °F (8.3 °C)")
    );
    // The baths cool from 20 to 16 °C by the end, and the wash is at its own temperature.
    let cooling = |at: &str| texts(&json(card(at, "1x135-24").args(["--ending", "16C"])), "warnings");
    assert_eq!(cooling("20C,wash=28.3C"), none());
    assert!(cooling("20C,wash=28.4C")[0].contains("from 20 °C to 28.4 °C"));
}

//! Running water fills the tank of the evening and changes what it holds. Worked by hand.

use serde_json::Value;

use crate::program::Run;

/// Tanks of each kind, and a wash of `FLOW` and `TIME` after a fixer.
const BENCH: &str = "\
wetside 2
allow fixer-without-capacity because \"the water is what is tested\"
allow one-time-for-a-wide-band because \"the water is what is tested\"
film marsh-100 {
    speed ISO 100
    clears 60 s in fixer stock at 20 C
}
solution fixer {
    role fixer
    contains sodium-thiosulfate 20 %
}
tank five {
    reels 120 x 5, 500 ml each
    holds 2.6 l
    fill 20 s
    drain 20 s
}
tank unmeasured {
    reels 120 x 5, 500 ml each
    fill 20 s
    drain 20 s
}
tank drum {
    reels 120 x 2, 480 ml each
    rotary 300 ml
    holds 1 l
    fill 10 s
    drain 10 s
}
tank tray {
    reels 120 x 1, 500 ml each
    holds 2 l
    fill whole, 10 s
    drain 10 s
}
tank rack {
    reels 120 x 8, 500 ml each
    holds 12 l
    transfer 10 s
}
recipe marsh {
    film marsh-100
    between 15 C and 30 C
    fix {
        in fixer stock, reused
        time 5:00
        agitate none
    }
    wash {
        flow FLOW
        time TIME
        AGITATE
    }
}
";

/// The call `card` in this tank.
fn card(tank: &str, flow: &str, time: &str, agitate: &str) -> Run {
    let bench = BENCH.replace("FLOW", flow).replace("TIME", time).replace("        AGITATE\n", agitate);
    let run = Run::new().file("marsh.wet", &bench);
    run.args(["card", "marsh", "--at", "20C", "--rolls", "1x120", "--tank", tank])
}

/// Millilitres of a filling of the wash, and of all water of the evening.
fn water(run: Run) -> (f64, f64) {
    let card: Value = serde_json::from_str(&run.args(["--as", "json"]).succeeds()).unwrap();
    let wash = card["steps"].as_array().unwrap().iter().find(|step| step["kind"] == "wash").unwrap();
    (wash["volume_ml"].as_f64().unwrap(), card["water_ml"].as_f64().unwrap())
}

/// 2 l/min for 30 min is 60 l. Water runs over the rim, so the tank is full, whatever would cover one reel. A drum on
/// its rollers is never full.
#[test]
fn running_water_fills_the_tank_that_it_runs_through() {
    let rotary = "        agitate rotary 30 rpm\n";
    for (tank, agitate, filling) in [
        ("five", "", 2_600.0),
        ("unmeasured", "", 500.0),
        ("drum", "", 1_000.0),
        ("drum", rotary, 300.0),
        ("tray", "", 2_000.0),
        ("rack", "", 12_000.0),
    ] {
        let found = water(card(tank, "2 l/min", "30 min", agitate));
        assert_eq!(found, (filling, 60_000.0 + filling), "{tank} {agitate}");
    }
}

/// Three changes of the tank's volume are the least after a fixer.
#[test]
fn a_card_counts_the_changes_of_tonights_tank() {
    for (tank, flow, time, times) in [
        // 3.9 min of 2 l are 7.8 l, three times 2.6 l; 3:53 are 7.77 l.
        ("five", "2 l/min", "3:54", None),
        ("five", "2 l/min", "3:53", Some("2 times")),
        ("five", "1 l/min", "3:00", Some("once")),
        ("unmeasured", "1 l/min", "1:30", None),
        ("unmeasured", "1 l/min", "1:29", Some("2 times")),
        ("tray", "2 l/min", "3:00", None),
        ("tray", "2 l/min", "2:59", Some("2 times")),
        ("rack", "4 l/min", "5:00", Some("once")),
        ("rack", "8 l/min", "10:00", None),
    ] {
        let text = card(tank, flow, time, "").succeeds();
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let said = text.contains("the wash after the fixer changes the");
        assert_eq!(said, times.is_some(), "{tank} {flow} {time}: {text}");
        assert!(times.is_none_or(|times| text.contains(&format!("of the tank only {times} at"))), "{text}");
    }
}

/// 0.5 l are 1.7 changes even of 0.3 l, which the check of the recipe reports without a tank.
#[test]
fn a_wash_that_is_short_for_any_tank_has_one_finding() {
    let text = card("five", "0.5 l/min", "1:00", "").succeeds();
    assert_eq!(text.matches("after the last fixer there is only 1 change of water").count(), 1, "{text}");
    assert!(!text.contains("R14"), "{text}");
}

//! The small spellings of edition 2, each with what a card or a sheet makes of it. Worked by hand.

use crate::program::Run;

/// A shelf with each spelling, and a darkroom whose developer has treated two rolls.
const SHELF: &str = "wetside 2

film marsh \"Marsh, 9\"\" x 12\"\" contact\" {
    clears    60 s in fixer 1+4 at 20 C
}

solution soup {
    role      developer
    contains  metol, sodium-sulfite
    treats    20 rolls per 1 l
    extend    5 % per 1 roll
    keeps     1 month
}

solution fixer {
    role      fixer
    contains  ammonium-thiosulfate
    treats    1 roll per 500 ml
}

solution hot {
    role      clearing
    formula for 1 l {
        water            600 ml at 95 C
        sodium-sulfite   20 g anhydrous
        water            to 1 l
    }
    keeps     6 months
    keeps     2 months half full
}

solution brief {
    role      clearing
    contains  hydrogen-peroxide 3 %
    keeps     45 min at 1+9
}

tank two {
    reels     120 x 2, 500 ml each
    holds     1 l
    fill      0 s
    drain     0 s
}

recipe marsh-soup {
    film      marsh
    between   18 C and 24 C

    develop {
        in        soup, reused
        time      10:00
        between   18 C and 24 C
        agitate   first 30 s, then 10 s every 1 min
    }
    fix {
        in        fixer 1+4, reused
        time      1.5 x clearing
        agitate   continuous
    }
    clear {
        in        brief 1+9, one-shot
        time      2:00
        agitate   continuous
    }
    wash {
        flow      1 us-gal/min
        time      10 min
    }
}
";

const DARKROOM: &str = "wetside 2

use \"shelf.wet\"

bath soup-a {
    in        soup
    volume    1 l
    mixed     2026-11-02
}

session one {
    date      2026-11-05
    recipe    marsh-soup, fingerprint \"46ac83d1\"
    slot      1 120
    slot      2 120
    bath      soup-a
}
";

fn run() -> Run {
    Run::new().file("shelf.wet", SHELF).file("darkroom.wet", DARKROOM)
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn card(rolls: &str) -> Run {
    run().args([
        "card",
        "marsh-soup",
        "--at",
        "20C",
        "--tank",
        "two",
        "--date",
        "2026-11-10",
        "--rolls",
        rolls,
    ])
}

#[test]
fn a_card_takes_the_small_spellings() {
    let text = flat(&card("2x120").succeeds());
    for line in [
        // A quote inside a text is written twice.
        "Marsh, 9\" x 12\" contact",
        // Two rolls before at 5 % each: 10:00 + 1:00.
        "DEVELOP 11:00",
        // 1.5 x 60 s.
        "FIX 1:30",
        // A gallon is 3.785 l: in 10 min 37.85 l, with one filling of 1 l, and 900 ml in the one-shot bath.
        "39.8 l of water in all",
        // The bath lives 45 min, and its step begins at 11:00 + 1:30 = 12:30: it is mixed 5 min before.
        "7:30 mix 1000 ml of brief 1+9 for CLEAR: 100 ml brief + 900 ml water; it keeps 45 min",
    ] {
        assert!(text.contains(line), "{line}\n{text}");
    }
}

/// A developer that is poured as it is needs no water, so the card says nothing of water.
#[test]
fn a_card_without_water_does_not_speak_of_it() {
    let text = "wetside 2\n\nfilm f {\n    speed ISO 100\n}\n\nsolution soup {\n    role developer\n    contains metol\n    \
                needs 100 ml per roll\n}\n\nrecipe r {\n    film f\n    develop {\n        in soup stock, one-shot\n        \
                time 6:30 at 20 C\n        between 18 C and 24 C\n        agitate none\n    }\n}\n";
    let card =
        Run::new().file("r.wet", text).args(["card", "r.wet", "--at", "20C", "--rolls", "1x120"]).succeeds();
    let total = card.split("TOTAL ").nth(1).unwrap().lines().next().unwrap();
    assert!(total.starts_with("6:30") && !card.contains("of water"), "{card}");
}

/// A roll for each half litre: a litre treats two, so three in a tank for two are refused by the tank, and in a new
/// bath of half a litre two are refused.
#[test]
fn one_roll_per_half_litre_is_a_capacity() {
    let (_, report) = card("2x120").args(["--volume", "900ml"]).fails(1);
    assert!(flat(&report).contains("--volume is 900 ml, but 1 l cover the reels"), "{report}");
    let drum = SHELF.replace("120 x 2, 500 ml each", "120 x 2, 250 ml each");
    let run = Run::new().file("shelf.wet", drum).file("darkroom.wet", DARKROOM);
    let call =
        ["card", "marsh-soup", "--at", "20C", "--tank", "two", "--date", "2026-11-10", "--rolls", "2x120"];
    let report = flat(&run.args(call).fails(1).1);
    assert!(report.contains("500 ml of fixer 1+4 treats 1 roll, but tonight's load is 2 rolls"), "{report}");
}

#[test]
fn one_month_is_a_month_of_the_calendar() {
    let baths = run().args(["baths", "--on", "2026-11-10"]).succeeds();
    assert!(flat(&baths).contains("2026-12-02"), "{baths}");
    let tidy = run().args(["tidy", "--dry", "shelf.wet"]).succeeds();
    assert!(tidy.contains("nothing to tidy"), "{tidy}");
}

#[test]
fn water_of_95_degrees_scalds_and_a_half_full_bottle_keeps_less() {
    let sheet = flat(&run().args(["measure", "hot", "--make", "1l"]).succeeds());
    assert!(sheet.contains("water at 95 °C (203 °F)"), "{sheet}");
    assert!(sheet.contains("water of over 60 °C scalds: pour it slowly"), "{sheet}");
    assert!(sheet.contains("keeps 6 months") && sheet.contains("half full"), "{sheet}");
    assert!(sheet.contains("2 months"), "{sheet}");
}

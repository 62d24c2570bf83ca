//! The card of every kind of step in every kind of vessel: a spiral tank, a drum, trays, sheets shuffled in one tray, a
//! rack in deep tanks, and a brush. Each is a snapshot, which a person has read; the tests below hold what must not
//! be said.

use crate::program::Run;

const SHELF: &str = include_str!("vessels/shelf.txt");

/// Every kind of step; `MOVE` is replaced by the agitation.
const STEPS: &str = "
    warm {
        time      5:00
    }
    presoak {
        time      2:00
        MOVE
    }
    develop {
        in        mq 1+1, one-shot
        time      8:00
        between   19 C and 21 C
        MOVE
    }
    stop {
        in        citric-stop 1+19, reused
        time      1:00
        MOVE
    }
    bleach {
        in        brown-bleach stock, reused
        time      until \"only the faint brown is left\", at least 1:00, at most 8:00, look every 30 s
        MOVE
    }
    wash out {
        fills     5, 10 inversions
    }
    clear {
        in        clearing stock, one-shot
        time      2:00
        MOVE
    }
    expose {
        time      1:00 each side
        light     \"a lamp of 100 W at 1 m\"
    }
    develop second {
        in        mq 1+1, one-shot
        time      6 x \"the first shadow shows\", at least 1:00, at most 3:00
        MOVE
    }
    fix {
        in        rapid-fix 1+4, reused
        time      4:00
        MOVE
        light     room
    }
    wash soak {
        soak      5:00 x 2
    }
    tone {
        in        sepia stock, reused
        time      3:00
        MOVE
    }
    wash {
        flow      4 l/min
        time      20 min
    }
    rinse {
        in        wetting 1+200, one-shot
        time      1:00
        agitate   none
    }
    rest {
        time      1:00
    }
    dry {
        time      2 h
    }
";

const COAT: &str = "
    coat {
        in        sensitiser stock, one-shot
        time      1:00
    }
    rest coated {
        time      until \"dry to the touch\", at least 30 min, at most 3 h
    }
";

/// A vessel: the material, the agitation, the lines at the head of the recipe, the tank and the rolls.
struct Case {
    name: &'static str,
    material: &'static str,
    moves: &'static str,
    head: &'static str,
    tank: &'static str,
    rolls: &'static str,
}

const INTERVALS: &str = "agitate   first 15 s, then 5 s every 1 min, by lifting, knock after each";
const CASES: [Case; 6] = [
    Case {
        name: "spiral",
        material: "film      estuary",
        moves: "agitate   first 30 s, then 10 s every 1 min, knock once",
        head: "",
        tank: "five-reels",
        rolls: "2x120",
    },
    Case {
        name: "drum",
        material: "film      estuary",
        moves: "agitate   rotary 60 rpm",
        head: "",
        tank: "drum",
        rolls: "2x120",
    },
    Case {
        name: "trays",
        material: "plate     slate",
        moves: "agitate   continuous, by rocking",
        head: "    light     safelight \"red\"\n",
        tank: "trays",
        rolls: "2x8x10in",
    },
    Case {
        name: "shuffled-sheets",
        material: "film      estuary",
        moves: "agitate   continuous, by shuffling",
        head: "",
        tank: "one-tray",
        rolls: "4x4x5in",
    },
    Case {
        name: "rack",
        material: "film      estuary",
        moves: INTERVALS,
        head: "",
        tank: "deep-line",
        rolls: "12x120",
    },
    Case {
        name: "brush",
        material: "paper     pearl",
        moves: "agitate   continuous, by rocking",
        head: "    light     room\n",
        tank: "trays",
        rolls: "3x8x10in",
    },
];

impl Case {
    fn run(&self) -> Run {
        let coat = if self.name == "brush" { COAT } else { "" };
        let steps = format!("{coat}{STEPS}").replace("MOVE", self.moves);
        let text = format!(
            "{SHELF}\nrecipe all-steps \"Every step\" {{\n    {}\n{}    between   18 C and 24 C\n{steps}}}\n",
            self.material, self.head
        );
        let call = ["card", "all-steps", "--at", "20C", "--clears", "1:00", "--tank", self.tank];
        Run::new().file("all.wet", text).args(call).args(["--rolls", self.rolls])
    }

    /// The card from what is loaded to what is done afterwards, without cautions.
    fn card(&self) -> String {
        let card = self.run().succeeds();
        let (_, work) = card.split_once("\nLOAD\n").unwrap();
        work.split("\nCAUTIONS").next().unwrap().to_owned()
    }
}

/// The card up to the end of the work.
fn of(name: &str) -> String {
    let card = CASES.iter().find(|case| case.name == name).unwrap().card();
    card.split("\nAFTERWARDS").next().unwrap().to_owned()
}

#[test]
fn every_step_in_every_vessel_reads_right() {
    for case in &CASES {
        insta::with_settings!({ description => case.run().to_string(), omit_expression => true }, {
            insta::assert_snapshot!(case.name, case.card());
        });
    }
}

/// Nothing open has a lid, is inverted, stands empty or is filled; a tank is not lifted.
#[test]
fn each_vessel_has_its_own_words() {
    for name in ["trays", "shuffled-sheets", "rack", "brush"] {
        let card = of(name);
        let lies: &[&str] = if name == "rack" { &[] } else { &["bottom", "top of"] };
        let words = [
            "LID",
            "inversion",
            "the tank",
            "pour ",
            "drain",
            "dump",
            "fill",
            "in EXPOSE",
            "in REST",
            "first drop",
        ];
        for word in words.iter().chain(lies) {
            assert!(!card.contains(word), "{name}: {word}\n{card}");
        }
    }
    for name in ["spiral", "drum"] {
        let card = of(name);
        for word in ["lift", "drip", "lay into", "lower", "DARK", "LIGHT MAY", "rack", "tray"] {
            assert!(!card.contains(word), "{name}: {word}\n{card}");
        }
    }
    assert!(of("trays").contains("lay into running water"));
    assert!(of("rack").contains("lower into running water"));
    assert!(of("rack").contains("knock the rack after each"));
    assert!(of("trays").contains("stand the plates in the rack"));
    assert!(of("shuffled-sheets").contains("hang the sheets by a corner, each clear of the next"));
    assert!(of("brush").contains("hang or lay out the prints"));
}

/// The lines of a step are in the order of its clock.
#[test]
fn the_lines_of_a_step_are_in_order() {
    for case in &CASES {
        let card = case.card();
        let mut last = -1.0;
        for line in card.lines() {
            let time = line.trim_start().split("  ").next().unwrap();
            let parts: Option<Vec<f64>> = time.split(':').map(|part| part.parse().ok()).collect();
            match parts.filter(|parts| parts.len() > 1 && line.starts_with("  ")) {
                Some(parts) => {
                    let now = parts.iter().fold(0.0, |sum, part| sum * 60.0 + part);
                    assert!(now >= last, "{}: {line}\n{card}", case.name);
                    last = now;
                }
                None if !line.starts_with(' ') => last = -1.0,
                None => {}
            }
        }
    }
}

/// 5 + 10 inversions of 2.5 s each, and two transfers of 12 s: 12.5 + 12 + 25 + 12 = 61.5 s, in whole seconds 1:02.
#[test]
fn a_wash_in_changes_takes_as_long_where_nothing_can_be_inverted() {
    let card = of("rack");
    assert!(card.contains("\nWASH out 1:02 "), "{card}");
    let card = card.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        card.contains("change 1: lower into fresh water; agitate from 0:00: without a pause; lift at 0:13"),
        "{card}"
    );
}

/// Four sheets take 10 s each to move: a development of 8:00 is left at 7:20.
#[test]
fn each_sheet_takes_its_own_time_to_move() {
    let card = of("shuffled-sheets");
    let (_, develop) = card.split_once("\nDEVELOP 8:00").unwrap();
    assert!(develop.contains("\n     7:20  lift, and let it drip\n     8:00  in STOP\n"), "{card}");
}

#[test]
fn inversions_without_a_lid_are_a_warning_on_the_card() {
    let turned = Case { moves: "agitate   5 inversions every 1 min", ..CASES[4] };
    let card = turned.run().succeeds();
    let flat = card.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flat.contains("'deep-line' has no lid to invert or turn it, as presoak, develop, stop, "),
        "{card}"
    );
}

/// 12 s are longer than a step of 10 s.
#[test]
fn a_step_shorter_than_the_transfer_is_an_error_in_these_words() {
    let case = &CASES[4];
    let text = format!(
        "{SHELF}\nrecipe brief {{\n    film estuary\n    stop {{\n        in citric-stop 1+19, reused\n        time 10 s\n        {INTERVALS}\n    }}\n}}\n"
    );
    let call = ["card", "brief", "--at", "20C", "--tank", case.tank, "--rolls", case.rolls];
    let (_, report) = Run::new().file("all.wet", text).args(call).fails(1);
    assert!(report.contains("error[no-time-left]: stop lasts 0:10, but the transfer takes 0:12"), "{report}");
    assert!(report.contains("lengthen the step, or move fewer at once"), "{report}");
}

/// A brush and a deep tank.
const BOUNDS: &str = "wetside 2

film f {
    speed     ISO 400
}

paper p {
    source    \"invented\"
}

solution syrup {
    role      developer
    contains  metol, hydroquinone, sodium-sulfite, borax
    needs     4 ml per roll
    treats    10 rolls per 1 l at 1+63
}

solution sensitiser {
    role      treatment
    parts     a, b
    contains  sodium-chloride
    needs     1 ml per roll
}

tank deep-line {
    reels     120 x 12, 1 l each
    holds     13 l
    transfer  12 s
}

tank tray {
    reels     4x5in x 24, 40 ml each
    holds     1 l
    transfer  5 s
}

recipe dipped {
    film      f
    develop {
        in        syrup 1+63, one-shot
        time      8:00
        between   18 C and 22 C
        agitate   first 15 s, then 5 s every 1 min, by lifting
    }
}

recipe brushed {
    paper     p
    light     room
    coat {
        in        sensitiser 1+1 no-water, one-shot
        time      1:00
    }
    wash {
        flow      2 l/min
        time      5 min
    }
}
";

/// A sheet of 4 x 5 in is a quarter of a roll: 0.25 ml of each of two parts, 0.5 ml together. Twelve rolls in a deep tank of
/// 13 l: 13000 / 64 = 203.1 ml.
#[test]
fn a_brush_and_a_deep_tank_get_volumes_that_can_be_measured() {
    let run = Run::new().file("all.wet", BOUNDS);
    let flat = |run: Run| run.succeeds().split_whitespace().collect::<Vec<_>>().join(" ");
    let call = ["--at", "20C", "--tank"];
    let brush =
        |rolls: &str| flat(run.again().args(["card", "brushed", "--rolls", rolls]).args(call).arg("tray"));
    let one = brush("1x4x5in");
    assert!(one.contains("mix 0.5 ml: 0.25 ml sensitiser a + 0.25 ml sensitiser b"), "{one}");
    assert!(one.contains("coat with 0.5 ml of sensitiser 1+1 no-water"), "{one}");
    // Twelve sheets are three rolls: 6 ml, 3 + 3.
    let twelve = brush("12x4x5in");
    assert!(twelve.contains("mix 6 ml: 3 ml sensitiser a + 3 ml sensitiser b"), "{twelve}");
    let deep = flat(run.again().args(["card", "dipped", "--rolls", "12x120"]).args(call).arg("deep-line"));
    assert!(deep.contains("mix 13000 ml at 20 °C: 203 ml syrup + water to 13000 ml"), "{deep}");
    assert!(run.args(["check", "--fail-on", "warning"]).ends().0 == 0);
}

/// 500 ml at 1+50 are 500 / 51 = 9.8 ml, and 490.2 ml of water, of which a cylinder measures 490. An acid goes into the
/// water, which then fills up; JSON has the exact volume.
#[test]
fn water_that_no_cylinder_measures_fills_up() {
    let text = "wetside 2\nfilm f {\n    speed ISO 100\n}\nsolution sour {\n    role stop\n    contains acetic-acid\n}\n\
                solution plain {\n    role wetting\n}\nrecipe r {\n    film f\n    index 100\n    between 18 C and 24 C\n    \
                stop {\n        in sour 1+50, one-shot\n        time 30 s\n        agitate none\n    }\n    rinse {\n        \
                in plain 1+50, one-shot\n        time 30 s\n        agitate none\n    }\n}\n";
    let run = Run::new().file("r.wet", text);
    let run = run.args(["card", "r.wet", "--at", "20C", "--rolls", "1x120", "--volume", "500ml"]);
    let card = run.succeeds().split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(card.contains("490 ml water + 9.8 ml sour + water to 500 ml"), "{card}");
    assert!(card.contains("9.8 ml plain + water to 500 ml"), "{card}");
    let run = run.args(["--as", "json"]);
    let exact: serde_json::Value = serde_json::from_str(&run.succeeds()).unwrap();
    assert_eq!(exact["steps"][0]["water_ml"], 490.2);
    let sheet = run.again().args(["measure", "r.wet", "sour", "1+50", "--make", "500ml"]).succeeds();
    let rows: Vec<&str> =
        sheet.lines().filter_map(|line| line.trim().strip_prefix("[ ]")).map(str::trim).collect();
    assert_eq!(rows, ["490   ml  water", "9.8 ml  sour", "to 500   ml  water"]);
}

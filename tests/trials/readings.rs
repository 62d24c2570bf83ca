//! `wetside trial`: the plan of a trial, and tables of readings as a spreadsheet pastes them.

use serde_json::Value;

use crate::program::Run;

/// The worked strip, developed for 8 min; three others with 0.9, 1.18 and 1.32 of its net densities.
const WEDGE: &str = include_str!("wedge.csv");

fn read(table: impl AsRef<[u8]>, more: &[&str]) -> Run {
    let run = Run::new().file("readings.csv", table).args(["trial", "read", "readings.csv"]);
    more.iter().fold(run, |run, arg| run.arg(*arg))
}

fn json(table: impl AsRef<[u8]>, more: &[&str]) -> Value {
    serde_json::from_str(&read(table, &[more, &["--as", "json"]].concat()).succeeds()).unwrap()
}

/// JSON matches its schema, for an evaluation and for an order.
#[test]
fn json_matches_its_schema() {
    let schema = concat!(env!("CARGO_MANIFEST_DIR"), "/grammar/trial.schema.json");
    let schema: Value = serde_json::from_str(&std::fs::read_to_string(schema).unwrap()).unwrap();
    let validator = jsonschema::draft202012::new(&schema).unwrap();
    let order = "stops,8:00,6:00\n-4,40000,42000\n3,5000,6500\n";
    for table in [WEDGE, order] {
        let json = json(table, &["--at", "20C"]);
        let errors: Vec<String> = validator.iter_errors(&json).map(|error| error.to_string()).collect();
        assert!(errors.is_empty(), "{errors:#?}\n{json:#}");
    }
    assert!(!validator.is_valid(&serde_json::json!({ "trial": 1 })));
}

fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[track_caller]
fn near(value: &Value, hand: f64, within: f64) {
    let own = value.as_f64().unwrap_or_else(|| panic!("{value} is no number"));
    assert!((own - hand).abs() <= within, "{own} is not within {within} of {hand}");
}

/// By hand, with straight lines between the steps: the speed point at -2.180 is a wedge density of 2.18, the gradient
/// over seven stops is 0.5915, gamma 0.6350, the index 0.5842, the rise over 1.30 is 0.737.
#[test]
fn a_wedge_gives_contrast_gamma_and_index() {
    let strip = &json(WEDGE, &["--at", "20C"])["strips"][1];
    near(&strip["fog"], 0.28, 1e-9);
    near(&strip["contrast"], 0.5915, 0.01);
    near(&strip["gamma"], 0.6350, 0.002);
    near(&strip["index"], 0.5842, 0.006);
    near(&strip["rise"], 0.7367, 0.01);
    near(&strip["speed_point"], -2.180, 0.02);
}

#[test]
fn the_text_gives_times_in_plain_words() {
    let text = read(WEDGE, &["--at", "20C"]).succeeds();
    assert!(
        text.contains(
            "NORMAL SCENE (N)\n  a scene of 7 stops: for normal paper the negative needs a contrast of 0.57"
        ) && text.contains("nobody could tell the prints apart"),
        "{text}"
    );
    for word in ['±', 'σ'] {
        assert!(!text.contains(word), "{text}");
    }
    assert!(!text.contains("95 %") && !text.contains("freedom"), "{text}");
    let why = read(WEDGE, &["--at", "20C", "--why"]).succeeds();
    assert!(why.contains("95 %") && why.contains("degrees of freedom"), "{why}");
}

/// 0.80 lies between the rises of the second and the third strip.
#[test]
fn a_speed_needs_known_exposures() {
    let text = flat(&read(WEDGE, &["--at", "20C"]).succeeds());
    assert!(
        text.contains("the exposure is not known in lux seconds") && text.contains("expose a bracket"),
        "{text}"
    );
}

/// Speed points at log H -2.180 and -2.235 with rises of 0.737 and 0.842: 0.80 is at 0.6 of the way, at -2.213, so
/// 0.8/0.006124 = 130.6: ISO 125/22.
#[test]
fn a_speed_by_the_criterion_of_the_standard() {
    // Straight lines through the two speed points: net 0.1 there, and 0.1 + the rise 1.30 further.
    let strip = |point: f64, rise: f64, x: f64| 0.28 + (0.1 + rise * (x - point) / 1.30).max(0.0);
    let rows = (0..=16).map(|at| -3.2 + 0.15 * f64::from(at));
    let rows =
        rows.map(|x| format!("{x:.2},{:.4},{:.4}\n", strip(-2.180, 0.737, x), strip(-2.235, 0.842, x)));
    let table = format!("log H,8:00,10:00\nfog,0.28,0.28\n{}", rows.collect::<String>());
    let text = read(&table, &["--at", "20C"]).succeeds();
    assert!(flat(&text).contains("125/22 by the criterion of the standard ISO 6:1993"), "{text}");
    let soft = format!(
        "log H,8:00\nfog,0.28\n{}",
        (0..=16)
            .map(|at| -3.2 + 0.15 * f64::from(at))
            .map(|x| format!("{x:.2},{:.4}\n", strip(-2.18, 0.6, x)))
            .collect::<String>()
    );
    let told = read(&soft, &["--at", "20C"]).succeeds();
    assert!(
        told.contains("no film speed")
            && flat(&told).contains("too soft for it, and a longer development would meet it"),
        "{told}"
    );
    near(&json(&table, &["--at", "20C"])["iso_speed"], 130.6, 6.0);
}

/// A bracket against a meter at 100: net 0.08 at -3 2/3 stops and 0.11 at -3 1/3, so 0.10 is at -3.444. The speed point
/// is 3.322 stops under the meter: 100 x 2^(3.444 - 3.322) = 109. The curve differs from the straight line by at most
/// 0.02 in the logarithm, which is 5 of 109.
#[test]
fn an_index_by_the_meter() {
    let text = flat(&read(BRACKET, &["--at", "20C", "--index", "100", "--why"]).succeeds());
    near(&json(BRACKET, &["--at", "20C", "--index", "100"])["exposure_index"], 109.0, 5.0);
    assert!(text.contains("set the meter to 100: your exposure index is 1"), "{text}");
    // Counted as four stops under the meter it is 100 x 2^(3.444 - 4) = 68.
    let other = text.split_once("as 4 stops, your index is ").unwrap().1.split(' ').next().unwrap();
    assert!((other.parse::<f64>().unwrap() - 68.0).abs() <= 3.0, "{text}");
    assert!(text.contains("one strip gives its own contrast and no time"), "{text}");
    let (_, told) = read(WEDGE, &["--at", "20C", "--index", "100"]).fails(1);
    assert!(told.contains("an exposure index needs rows in stops"), "{told}");
}

const BRACKET: &str = "stops,8:00\nfog,0.28\n-4,0.33\n-3.6667,0.36\n-3.3333,0.39\n-3,0.44\n-2,0.62\n-1,0.80\n0,0.98\n1,1.16\n2,1.34\n3,1.52\n4,1.70\n";

/// Straight strips with slopes of 0.5 and 0.7, whose speed points are at -3.0 and -3.2 stops. A contrast of 0.57 is 0.35
/// of the way: -3.07 stops, so 100 x 2^(3.07 - 3.322) = 84. For 0.498 there is no strip soft enough, for 0.664 it is
/// 0.82 of the way, at -3.16: 90.
#[test]
fn an_index_beside_each_contrast() {
    let density = |slope: f64, point: f64, stops: f64| {
        0.28 + (0.1 + slope * wetside::trial::STOP * (stops - point)).max(0.0)
    };
    let rows = (-15..=18).map(|third| f64::from(third) / 3.0);
    let rows =
        rows.map(|at| format!("{at:.4},{:.4},{:.4}\n", density(0.5, -3.0, at), density(0.7, -3.2, at)));
    let table = format!("stops,6:00,9:00\nfog,0.28,0.28\n{}", rows.collect::<String>());
    let result = json(&table, &["--at", "20C", "--index", "100"]);
    let index = |at: usize| &result["wanted"][at]["exposure_index"];
    near(index(0), 84.0, 1.0);
    assert!(index(1).is_null(), "{result}");
    near(index(2), 90.0, 1.0);
    let text = read(&table, &["--at", "20C", "--index", "100"]).succeeds();
    assert!(text.contains("index    set the meter to 80: your exposure index is 84"), "{text}");
    assert!(text.contains("the index is beside each contrast above; good to about"), "{text}");
}

/// Two frames seven stops apart. The readings of the photograph become densities by its known steps: 0.05 reads 52400,
/// 0.95 reads 7310, 1.25 reads 3960. Frames of 40000 and 5000 at 8:00: 0.05 + 0.9 ln(52400/40000)/ln(52400/7310) =
/// 0.1734, and 1.1359 as in the worked example, so (1.1359 - 0.1734)/2.1072 = 0.4568.
#[test]
fn two_greys_and_a_phone() {
    let table = "stops,6:00,8:00\nknown 0.05,52400,52400\nknown 0.95,7310,7310\nknown 1.25,3960,3960\nclear,50000,50000\n-4,42000,40000\n3,6500,5000\n";
    let result = json(table, &["--at", "20C"]);
    near(&result["strips"][1]["contrast"], 0.4568, 0.0005);
    near(&result["within"], 0.02, 1e-9);
    // Two densities that are off by 0.02 over 2.1072: 1.414 x 0.02/2.1072 = 0.0134.
    near(&result["contrast_within"], 0.0134, 1e-4);
    assert_eq!(result["within_assumed"], true);
    let text = read(table, &["--at", "20C"]).succeeds();
    assert!(text.contains("contrast between two frames 7.0 stops apart"), "{text}");
}

/// Without a known step in the picture there is no number. 42000/6500 = 6.5 is softer than 40000/5000 = 8.
#[test]
fn without_a_known_step_there_is_only_an_order() {
    let table = "stops\t8:00\t6:00\nclear\t50000\t50000\n-4\t40000\t42000\n3\t5000\t6500\n";
    let text = read(table, &["--at", "20C"]).succeeds();
    assert!(text.contains("Only an order") && text.contains("6:00, 8:00"), "{text}");
    assert!(!text.contains("contrast 0"), "{text}");
}

/// As a spreadsheet with decimal commas pastes it: tabs between the cells.
#[test]
fn tabs_semicolons_and_decimal_commas_are_read() {
    let plain = json(WEDGE, &["--at", "20C"]);
    let tabs: String = WEDGE.lines().map(|line| line.replace(',', "\t").replace('.', ",") + "\r\n").collect();
    let semicolons: String =
        WEDGE.lines().map(|line| line.replace(',', ";").replace('.', ",") + "\n").collect();
    let quoted = |line: &str| {
        let cells = line.split(',').map(|cell| format!("\"{}\"", cell.replace('.', ",")));
        cells.collect::<Vec<_>>().join(",") + "\n"
    };
    let quoted: String = WEDGE.lines().map(quoted).collect();
    assert_eq!(json(&quoted, &["--at", "20C"]), plain);
    assert_eq!(json(format!("sep=;\n{semicolons}"), &["--at", "20C"]), plain);
    // A spreadsheet's text in UTF-16, with a comment and an empty row.
    let wide = format!("\u{feff}# my strips\r\n\t\t\r\n{tabs}");
    let wide: Vec<u8> = wide.encode_utf16().flat_map(u16::to_le_bytes).collect();
    assert_eq!(json(wide, &["--at", "20C"]), plain);
    assert_eq!(json(&tabs, &["--at", "20C"]), plain);
    assert_eq!(json(&semicolons, &["--at", "20C"]), plain);
}

/// The strip of 6:30 has its speed point at -2.15 and its last step at -0.05: 2.10 are 6.98 stops. The others reach over
/// 7 stops and not over 8.
#[test]
fn a_wedge_that_is_too_short_says_over_how_many_stops_it_reaches() {
    for (stops, short) in [("8", "4 of 4"), ("7", "1 of 4")] {
        let text = flat(&read(WEDGE, &["--at", "20C", "--stops", stops]).succeeds());
        let words = format!(
            "{short} strips have no contrast, because their steps cover less than is measured; the film is fine: \
             run this again with --stops 6"
        );
        assert!(text.contains(&words) && !text.contains("one strip gives"), "{text}");
    }
    let text = read(WEDGE, &["--at", "20C", "--stops", "6"]).succeeds();
    assert!(!text.contains("no contrast"), "{text}");
}

#[test]
fn slips_are_pointed_at() {
    let typed = WEDGE.replace("1.17", "0.17");
    let (out, told) = read(&typed, &["--at", "20C"]).fails(1);
    assert!(
        out.contains("STRIPS")
            && told.contains("warning[readings-slip]")
            && told.contains("0.17 does not fit between 1.07 and 1.26"),
        "{told}"
    );
    // The digit that was mistyped is pointed at, not the step after it.
    let told = read(WEDGE.replace("1.17", "1.71"), &["--at", "20C"]).fails(1).1;
    assert!(told.contains("1.71 does not fit between 1.07 and 1.26"), "{told}");
    let told = read(WEDGE.replace("1.17", "117"), &["--at", "20C"]).fails(1).1;
    assert!(
        told.contains("error[readings-density]") && told.contains("no density of the strip of 8:00 is 117"),
        "{told}"
    );
    let swapped = WEDGE.replace("\n1.10,", "\nx,").replace("\n0.95,", "\n1.10,").replace("\nx,", "\n0.95,");
    let told = read(&swapped, &["--at", "20C"]).fails(1).1;
    assert!(
        told.contains("whether the two rows were swapped") && told.matches("readings-slip").count() == 1,
        "{told}"
    );
    let told = read(WEDGE.replace("6:30,8:00,11:00", "6:30,11:00,8:00"), &["--at", "20C"]).fails(1).1;
    assert!(told.contains("readings-contrast-falls") && told.contains("two columns were swapped"), "{told}");
    let told = read(WEDGE.replace("fog,0.28", "fog,0.38"), &["--at", "20C"]).fails(1).1;
    assert!(told.contains("the fog of 6:30 is 0.38, and its thinnest step is only 0.28"), "{told}");
    let told = read(WEDGE.replace("3.05,0.28", "fog,0.48"), &["--at", "20C"]).fails(1).1;
    assert!(told.contains("the readings of fog of 6:30 differ: 0.28 and 0.48"), "{told}");
    let told = read(WEDGE.replace("fog,0.28", "fog,"), &["--at", "20C"]).fails(1).1;
    assert!(told.contains("warning[readings-no-fog]"), "{told}");
    let mut rows: Vec<&str> = WEDGE.lines().collect();
    rows[2..].reverse();
    let first: Vec<String> = rows[2..].iter().map(|row| row.split(',').next().unwrap().to_owned()).collect();
    let turned = rows[2..].iter().zip(first.iter().rev());
    let turned: String =
        turned.map(|(row, step)| format!("{step},{}\n", row.split_once(',').unwrap().1)).collect();
    let (_, told) = read(format!("{}\n{}\n{turned}", rows[0], rows[1]), &["--at", "20C"]).fails(1);
    assert!(told.contains("error[readings-backwards]"), "{told}");
}

/// No table ends the program otherwise than in order, and none takes long.
#[test]
fn absurd_tables_end_in_order() {
    let tables = [
        "wedge",
        "wedge,8:00",
        "wedge,8:00\n1e308,1\n",
        "log H,8:00\nfog,0\n1e8,1\n-1e8,2\n0,3\n",
        "stops,8:00\n1,nan\n2,inf\n3,-inf\n",
        "stops,8:00\n0,0\n0.000001,6\n",
        "stops,8:00,9:00\n-4,6,6\n3,-6,-6\n",
        "stops,0:03,1440:00\n-4,0,0\n3,0,0\n",
        "wedge,8:00\nfog,5\n3,1\n2,1\n1,1\n",
        "wedge,8:00 at 20 C at 30 C\nfog,0.3\n",
        "known 1,8:00\n",
        "stops,8:00\nknown 0,0\nknown 1,-1\n-4,1\n3,2\n",
        "stops,8:00\nknown 99,1\nknown 1,9\n-4,1\n3,2\n",
        "\u{feff}wedge;8:00\nfog;0,28\n",
        ",,,\n,,\n",
        "wedge,,8:00\nfog,1,2\n",
    ];
    for table in tables {
        for form in ["text", "json", "svg", "html", "pdf"] {
            let (status, ..) =
                read(table, &["--at", "20C", "--beyond", "--why", "--as", form, "-o", "out"]).ends();
            assert!((0..=2).contains(&status), "{status}: {table:?} as {form}");
        }
    }
}

#[test]
fn what_cannot_be_read_is_named() {
    for (table, name) in [
        ("", "readings-empty"),
        ("steps,8:00\n", "readings-heading"),
        ("wedge,eight\nfog,0.28\n", "readings-time"),
        ("wedge,8:00\nfog,0.28\nx,0.30\n", "readings-row"),
        ("wedge,8:00\nfog,0.28\n3.0,dark\n", "readings-number"),
        ("stops,8:00\nknown 0.05,400\nfog,300\n-4,300\n3,200\n", "readings-scale"),
        ("wedge\nfog\n", "readings-empty"),
        // Numbers of steps are no densities.
        ("wedge,8:00\nfog,0.28\n1,1.2\n2,1.1\n3,1\n4,0.9\n5,0.8\n6,0.7\n7,0.6\n", "readings-row"),
        // Decimal commas between commas, without and with the ends of a cell.
        ("wedge,8:00\nfog,0,28\n3,05,0,28\n", "readings-cells"),
        ("stops,8:00\nknown 0.05,\"52,400\"\n", "readings-number"),
        ("wedge,8:00\nfog,0.28\ntemperature,warm\n", "readings-temperature"),
    ] {
        let told = read(table, &["--at", "20C"]).fails(1).1;
        assert!(told.contains(&format!("error[{name}]")), "{name}: {told}");
    }
    let told = read("wedge,8:00\nfog,0.28\n", &[]).fails(1).1;
    assert!(told.contains("error[readings-temperature]"), "{told}");
}

/// Frames seven stops apart, with the contrasts of the worked example: the density above 0.3 is the contrast x 2.1072.
/// By its law, 0.90 is at 0.8319 - ln(1 - 0.90/0.9705)/0.15807 = 17.42 min.
#[test]
fn nothing_outside_the_tested_range_unless_asked() {
    let frames =
        "stops,4:00,5:30,8:00,11:00,15:00\n-4,0.3,0.3,0.3,0.3,0.3\n3,1.1007,1.3747,1.6908,1.9225,2.1333\n";
    let inside = read(frames, &["--at", "20C", "--contrast", "0.90"]).succeeds();
    assert!(
        flat(&inside).contains("no time: even your hardest strip is too soft; develop one for 20:00"),
        "{inside}"
    );
    let outside = read(frames, &["--at", "20C", "--contrast", "0.90", "--beyond"]).succeeds();
    assert!(
        flat(&outside).contains("OUTSIDE WHAT WAS TESTED: 17:25 is a guess; develop a strip for 17:25"),
        "{outside}"
    );
    let past = read(frames, &["--at", "20C", "--contrast", "0.98", "--beyond"]).succeeds();
    assert!(flat(&past).contains("ends at a contrast of 0.97, however long you develop"), "{past}");
}

#[test]
fn the_pasted_trial_is_a_trial() {
    let text = read(WEDGE, &["--at", "20C"]).succeeds();
    let (_, trial) = text.split_once("trial readings {").unwrap();
    let trial = trial.replace("YOUR-FILM", "f").replace("YOUR-DEVELOPER", "d");
    let shelf = "wetside 2\nfilm f {\n}\nsolution d {\n role developer\n}\n";
    let run = Run::new().file("pasted.wet", format!("{shelf}trial readings {{{trial}"));
    let (_, out, told) = run.args(["check", "pasted.wet"]).ends();
    assert!(!out.contains("error[") && !told.contains("error["), "{out}{told}");
}

#[test]
fn a_picture_has_each_strip() {
    let svg = read(WEDGE, &["--at", "20C", "--as", "svg"]).succeeds();
    assert!(svg.contains("<svg") && svg.contains("8:00 at 20 °C 0.59"), "{svg}");
}

/// The strips of the demo are generated from the contrasts of its trial. A reading is rounded to 0.01, and its error is
/// 0.004: together 0.005 for one reading, and 0.0034 of contrast. Three times that is 0.01.
#[test]
fn the_strips_of_the_demo_have_the_contrasts_of_its_trial() {
    let result = json(include_str!("../../recipes/crew-trials/strips.csv"), &["--at", "20C"]);
    for (strip, contrast) in [0.411, 0.515, 0.677, 0.799, 0.887].into_iter().enumerate() {
        near(&result["strips"][strip]["contrast"], contrast, 0.01);
    }
}

/// Three quarters of 8:39 are 6:29, four thirds are 11:32; to five seconds.
#[test]
fn a_plan_gives_three_times_and_what_spoils_it() {
    let run = Run::new().folder_of_repo("recipes");
    let plan = run.args(["trial", "plan", "estuary-400-mq", "--at", "21.5C"]).succeeds();
    for words in [
        "1 notch: 6:30",
        "2 notches: 8:40",
        "3 notches: 11:30",
        "WHAT SPOILS IT",
        "time by estuary-400-mq-trial",
    ] {
        assert!(plan.contains(words), "{words}: {plan}");
    }
}

#[test]
fn a_plan_needs_a_development_with_a_time() {
    let cold = Run::new().folder_of_repo("recipes").args(["trial", "plan", "estuary-400-mq", "--at", "5C"]);
    assert!(cold.fails(2).1.contains("has no time at 5 °C"));
}

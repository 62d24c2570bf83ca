//! The schedule as JSON: it conforms to the schema, its sums are right, and the rules of the arithmetic give values that
//! are worked by hand.
#![expect(clippy::indexing_slicing, reason = "a missing key must fail the test")]

mod film;
mod fixing;
mod shape;
mod sums;
mod times;
mod volumes;
mod washing;

use std::fs;
use std::sync::LazyLock;

use serde_json::Value;

use crate::evenings::{SHELF, laid_out, output, shelf};
use crate::program::Run;

/// Calls with more options than the table of evenings: a name and the arguments.
const FURTHER: [(&str, &[&str]); 10] = [
    (
        "a bath that cools",
        &["estuary-400-mq", "--at", "22C", "--ending", "20C", "--rolls", "2x120", "--tank", "tall-five"],
    ),
    (
        "a rate that cools",
        &["wheelhouse-400-rotary", "--at", "70F", "--ending", "68F", "--rolls", "2x135", "--tank", "drum"],
    ),
    (
        "a start and labels",
        &[
            "estuary-400-mq",
            "--at",
            "20C",
            "--rolls",
            "2x120",
            "--tank",
            "tall-five",
            "--start",
            "23:55",
            "--label",
            "tide-1,'tide' 2",
        ],
    ),
    (
        "fewer labels than rolls",
        &[
            "headrace-125-tray",
            "--at",
            "20C",
            "--rolls",
            "3x4x5in+1x8x10in",
            "--tank",
            "tray",
            "--label",
            "gate,-,-,-",
        ],
    ),
    (
        "temperatures of steps",
        &[
            "slack-tide-200-colour",
            "--at",
            "37.8C,rinse=22C,wash-acid-out=36.5C,wash=31C",
            "--rolls",
            "2x135",
            "--tank",
            "twin",
        ],
    ),
    (
        "a step's own in the other scale",
        &["ebb-50-reversal", "--at", "68F,develop-second=21.123C", "--rolls", "1x135-24", "--tank", "twin"],
    ),
    (
        "a leader of tonight, and less than the film needs",
        &["wheelhouse-400-mq", "--at", "22C", "--rolls", "2x135", "--tank", "twin", "--clears", "0:40"],
    ),
    ("no tank", &["estuary-400-mq", "--at", "20C", "--rolls", "2x120+1x220"]),
    (
        "no tank and a volume",
        &["wheelhouse-400-monobath", "--at", "24C", "--rolls", "1x135", "--volume", "20us-fl-oz"],
    ),
    (
        "an index",
        &["estuary-400-mq", "--index", "1600", "--at", "20C", "--rolls", "1x120", "--tank", "tall-five"],
    ),
];

/// A recipe with statements that no other recipe has: a plate coated on both sides, a safelight, a replenished bath, a
/// lamp, a rest, cautions, light in the fixer, and a last bath that burns, with a hazard from memory.
const REPLENISHED: &str = "\
wetside 2
plate plain-film {
    speed ISO 100
    coated both sides
}
solution dev {
    role developer
    contains metol
    needs 100 ml per roll
    replenish 25 ml per roll
}
solution hypo {
    role fixer
    contains sodium-thiosulfate
    treats 10 rolls per 1 l
}
solution spirit {
    role wetting
    formula for 1 l {
        water 600 ml
        amidol 50 g
        isopropyl-alcohol 300 ml 99 %
        water to 1 l
    }
}
agitation slow {
    at 0:00, 1:00 for 10 s
    by lifting
    caution \"slowly\"
}
recipe trial {
    plate plain-film
    light safelight \"red\"
    develop {
        in dev stock, replenished
        time 3:00
        between 18 C and 24 C
        agitate slow
        caution \"hold the reel\"
    }
    rest {
        time 30 s
        handling 10 s
    }
    expose {
        time 1:00 each side
        light \"a lamp of 100 W\"
    }
    fix {
        in hypo stock, reused
        time 4:00
        light room
    }
    tone {
        in water
        time 6 x \"the shadows turn brown\", at least 1:00, at most 3:00
    }
    rinse {
        in spirit stock
        time 1:00
    }
}
";

/// A bottle of the fixer in `recipes`.
const BOTTLE: &str = "wetside 1\nuse \"recipes/solutions.wet\"\nbath fix-a {\n    in rapid-fix 1+4\n    volume 2.5 l\n    mixed 2026-11-02\n}\n";

/// All schedules: those of the table of evenings and those above.
static SCHEDULES: LazyLock<Vec<(String, Value)>> = LazyLock::new(|| {
    let mut run = shelf().file("trial.wet", REPLENISHED);
    let mut made = Vec::new();
    for evenings in &SHELF {
        for (at, rolls) in evenings.all() {
            run = run.again().args(["card", evenings.recipe, "--at", at, "--rolls", rolls]);
            run = run.args(["--tank", evenings.tank, "--as", "json"]);
            made.push((run.to_string(), serde_json::from_str(&output(&run)).unwrap()));
        }
    }
    let replenished = ["trial.wet", "--at", "20C", "--rolls", "3x135-24"];
    for (name, args) in FURTHER.iter().copied().chain([("a replenished bath", &replenished[..])]) {
        run = run.again().args(["card", "--as", "json"]);
        run = args.iter().fold(run, |run, arg| run.arg(*arg));
        made.push((format!("{name}: {run}"), read(&run)));
    }
    run = run.again().file("kept.wet", BOTTLE).args([
        "card",
        "estuary-400-mq",
        "--at",
        "20C",
        "--rolls",
        "2x120",
    ]);
    // Three months after it was mixed.
    run = run.args(["--tank", "tall-five", "--date", "2027-02-25", "--anyway", "fix-a", "--as", "json"]);
    made.push(("a bottle of a darkroom".to_owned(), read(&run)));
    made
});

/// Schedules with the keys that few recipes need.
static RARE: LazyLock<Vec<(String, Value)>> = LazyLock::new(|| {
    let kinds = [
        ("bath-that-dies.wet", "--at 20C --rolls 2x135 --tank twin"),
        ("replenished-deep-tank.wet", "--at 20C --rolls 12x120 --tank deep-line"),
        ("stain-bath.wet", "--at 20C --rolls 2x135 --tank twin"),
        ("two-bath-fixing.wet", "--at 20C --rolls 4x8x10in --tank tray"),
        ("water-bath.wet", "saltmarsh-water-bath --at 20C --rolls 1x120 --tank twin"),
    ];
    let read_kind = |(file, args): (&str, &str)| {
        let path = format!("{}/tests/kinds/{file}", env!("CARGO_MANIFEST_DIR"));
        let run = shelf().file("recipes/kind.wet", fs::read_to_string(path).unwrap());
        let run = run.args(["card", "recipes/kind.wet", "--as", "json"]);
        (file.to_owned(), read(&args.split(' ').fold(run, Run::arg)))
    };
    let of_one_bottle = made(TWO_BOTTLES, &["--at", "20C", "--rolls", "1x135", "--volume", "500ml"]);
    let by_trial = "recipes/crew-trials/trials.wet saltmarsh-100-by-strips --as json --at 20C --rolls 5x120 --tank tall-five --dunk ok";
    let run = shelf().folders_of_repo("recipes").file(".git/HEAD", "").arg("card");
    let by_trial = ("a time by a trial".to_owned(), read(&by_trial.split(' ').fold(run, Run::arg)));
    let of_one_bottle = ("a bath of one bottle".to_owned(), of_one_bottle);
    kinds.into_iter().map(read_kind).chain([of_one_bottle, by_trial]).collect()
});

/// A step in only one of the two bottles of a solution.
const TWO_BOTTLES: &str = "\
wetside 2
film plain-film {
    speed ISO 100
}
solution pair {
    role developer
    parts a, b
    contains metol
}
solution restrainer {
    role developer
    contains potassium-bromide
}
recipe trial {
    film plain-film
    index 100
    tested 2026-11-12 \"one roll\"
    deprecated because \"too weak\", use other
    develop {
        in pair part a stock, one-shot
        with 20 ml/l restrainer
        time 8:00
        between 18 C and 24 C
        agitate continuous
    }
}
recipe other {
    rinse {
        in water
        time 1:00
    }
}
";

/// The same schedules, laid out with the latest decisions.
static LAID_OUT: LazyLock<Vec<(String, Value)>> =
    LazyLock::new(|| SCHEDULES.iter().map(|(call, schedule)| (call.clone(), laid_out(schedule))).collect());

#[track_caller]
fn read(run: &Run) -> Value {
    serde_json::from_str(&run.succeeds()).unwrap()
}

/// A file with a recipe `trial`, for a film that clears in 60 s in `fixer` 1+4, and its declarations.
fn trial(declared: &str, steps: &str) -> String {
    format!(
        "wetside 1
film plain-film {{
    clears 60 s in fixer 1+4 at 20 C
}}
solution fixer {{
    role fixer
    contains sodium-thiosulfate
    treats 10 rolls per 1 l at 1+4
}}
{declared}
recipe trial {{
    film plain-film
    index 100
{steps}
}}
"
    )
}

fn run(text: &str, args: &[&str]) -> Run {
    let run = Run::new().file("trial.wet", text).args(["card", "trial.wet"]);
    args.iter().fold(run, |run, arg| run.arg(*arg))
}

/// The schedule of such a file.
#[track_caller]
fn made(text: &str, args: &[&str]) -> Value {
    read(&run(text, args).args(["--as", "json"]))
}

/// The report if the recipe cannot be compiled.
#[track_caller]
fn refused(text: &str, args: &[&str]) -> String {
    let (stdout, stderr) = run(text, args).fails(1);
    assert_eq!(stdout, "");
    stderr
}

/// The step with this index.
#[track_caller]
fn step(schedule: &Value, number: usize) -> &Value {
    schedule["steps"].get(number).unwrap_or_else(|| panic!("no step {number} in {schedule}"))
}

fn steps(schedule: &Value) -> &Vec<Value> {
    schedule["steps"].as_array().unwrap()
}

/// The whole number of a key.
#[track_caller]
fn ms(object: &Value, key: &str) -> i64 {
    object[key].as_i64().unwrap_or_else(|| panic!("no whole number {key} in {object}"))
}

/// The actions of a step: word, start, length.
fn events(step: &Value) -> Vec<(&str, i64, i64)> {
    let events = step["events"].as_array().unwrap();
    let told =
        events.iter().map(|event| (event["do"].as_str().unwrap(), ms(event, "at_ms"), ms(event, "for_ms")));
    told.collect()
}

/// The actions of a step with one word: start, length.
fn when(step: &Value, what: &str) -> Vec<(i64, i64)> {
    let of = events(step).into_iter().filter(|(own, ..)| *own == what);
    of.map(|(_, at, length)| (at, length)).collect()
}

/// The volumes for a step: the parts in order, then the water.
fn measured(step: &Value) -> Vec<f64> {
    let parts = step["parts"].as_array().into_iter().flatten().map(|part| &part["ml"]);
    parts.chain([&step["water_ml"]]).map(|ml| ml.as_f64().unwrap()).collect()
}

//! `list`, `find` and `history`: what the root folder and its collections have, what has a fingerprint, and how a
//! recipe changed.

mod lookup;
mod past;

use serde_json::Value;

use crate::adopt::{COLLECTION, RECIPES};
use crate::program::Run;

const BENCH: &str = "wetside 2

film ferry-100 \"Ferry 100\" {
    speed     ISO 100
    clears    50 s in house-fix 1+4 at 20 C
}

solution house-dev \"House developer\" {
    role      developer
    contains  metol
    needs     100 ml per roll
}

solution house-fix \"House fixer\" {
    role      fixer
    contains  ammonium-thiosulfate
    treats    10 rolls per 1 l at 1+4
    keeps     3 months
}

tank pair \"A tank for two\" {
    reels     120 x 2, 500 ml each
    holds     1.1 l
    fill      10 s
    drain     10 s
}
";

pub(crate) const MINE: &str = "wetside 2

use \"bench.wet\"
use club

recipe ferry \"Ferry, with a stop\" {
    film      ferry-100
    index     100
    develop {
        in        house-dev 1+3, one-shot
        chart {
            20 C   9:00
            24 C   7:00
        }
        agitate   first 30 s, then 10 s every 1 min
    }
    fix {
        in        house-fix 1+4, reused
        time      3 x clearing, at least 4:00
        agitate   5 s every 30 s
    }
}

recipe jetty from club/usual {
    note      \"for the prints of the jetty\"
}
";

const BOTTLE: &str = "wetside 2

use \"bench.wet\"

bath fix-a {
    in        house-fix 1+4
    volume    1 l
    mixed     2026-11-02
}

session evening-1 {
    date      2026-11-03
    recipe    ferry, fingerprint \"46ac83d1\"
    slot      1 120
    bath      fix-a
}
";

/// A root with two recipes, a bottle and the adopted collection of a club.
pub(crate) fn root() -> Run {
    Run::new()
        .file(".git/HEAD", "")
        .file("bench.wet", BENCH)
        .file("mine.wet", MINE)
        .file("bottles.wet", BOTTLE)
        .file("below/empty.wet", "wetside 2\n")
        .file("collections/club/collection.wet", COLLECTION)
        .file("collections/club/recipes.wet", RECIPES)
}

fn list<const N: usize>(run: &Run, args: [&str; N]) -> String {
    run.again().arg("list").args(args).succeeds()
}

/// The words of each line, without the columns between them.
fn words(text: &str) -> Vec<Vec<&str>> {
    text.lines().map(|line| line.split_whitespace().collect()).collect()
}

/// The first word of each line.
fn names(text: &str) -> Vec<&str> {
    text.lines().filter_map(|line| line.split_whitespace().next()).collect()
}

#[test]
fn a_recipe_has_a_line_with_the_fingerprint_of_its_card() {
    let run = root();
    let text = list(&run, []);
    assert_eq!(names(&text), ["ferry", "jetty", "club/usual"]);
    let card =
        run.again().args(["card", "ferry", "--at", "20C", "--rolls", "1x120", "--tank", "pair"]).succeeds();
    let mark = card.lines().next().unwrap().rsplit(' ').next().unwrap();
    let first = format!("ferry {mark} ferry-100 mine.wet Ferry, with a stop");
    assert_eq!(words(&text)[0].join(" "), first);
    // A note is no work: the recipe of mine and that of the club have one fingerprint.
    assert_eq!(words(&text)[1][1], words(&text)[2][1]);
    assert!(text.contains("collections/club/recipes.wet"), "{text}");
    assert_eq!(text, list(&run, ["recipes"]));
    assert_eq!(text, run.again().below("below").args(["list"]).succeeds());
}

#[test]
fn each_kind_of_thing_is_listed() {
    let run = root();
    let of = |kind| words(&list(&run, [kind])).iter().map(|words| words.join(" ")).collect::<Vec<_>>();
    assert_eq!(
        of("films"),
        [
            "ferry-100 film ISO 100 bench.wet Ferry 100",
            "club/estuary-400 film ISO 400 collections/club/recipes.wet Estuary 400"
        ]
    );
    // The club does not export its solution.
    assert_eq!(
        of("solutions"),
        ["house-dev developer bench.wet House developer", "house-fix fixer bench.wet House fixer"]
    );
    assert_eq!(of("tanks"), ["pair 120 bench.wet A tank for two"]);
    assert_eq!(
        of("collections"),
        ["club 2 exports CC0-1.0 collections/club/collection.wet Recipes of the harbour club"]
    );
    assert_eq!(of("sessions"), ["evening-1 46ac83d1 ferry 2026-11-03 bottles.wet"]);
}

#[test]
fn recipes_are_chosen_by_film_temperature_rolls_and_bottles() {
    let run = root();
    let chosen = |args: &[&str]| -> Vec<String> {
        let run = args.iter().fold(run.again().arg("list"), |run, arg| run.arg(*arg));
        names(&run.succeeds()).into_iter().map(str::to_owned).collect()
    };
    assert_eq!(chosen(&["--film", "estuary-400"]), ["jetty", "club/usual"]);
    assert_eq!(chosen(&["--film", "none"]), [""; 0]);
    // The chart of ferry begins at 20 °C, the band of the club's recipe at 18 °C.
    assert_eq!(chosen(&["--at", "19C"]), ["jetty", "club/usual"]);
    assert_eq!(chosen(&["--at", "68F", "--film", "ferry-100"]), ["ferry"]);
    assert_eq!(chosen(&["--at", "20C", "--rolls", "2x120"]), ["ferry", "jetty", "club/usual"]);
    assert_eq!(chosen(&["--ready", "--on", "2026-11-20"]), ["ferry", "jetty", "club/usual"]);
    // The fixer keeps for three months from the second of November.
    assert_eq!(chosen(&["--ready", "--on", "2027-02-03"]), ["jetty", "club/usual"]);
    let spent = root().file("bottles.wet", BOTTLE.replace("volume    1 l", "volume    100 ml"));
    let text = list(&spent, ["--ready", "--on", "2026-11-20"]);
    assert_eq!(names(&text), ["jetty", "club/usual"]);
}

/// A club's fixer, and its copy in the collection of a teacher who builds on the club.
#[test]
fn a_bottle_of_one_root_is_ready_for_an_equal_solution_of_another() {
    let baths = "wetside 2\nsolution rapid {\n    role fixer\n    contains ammonium-thiosulfate\n    treats 10 rolls per 1 l at 1+4\n    keeps 3 months\n}\n";
    let club = "wetside 2\nuse \"baths.wet\"\ncollection club {\n    licence \"CC0-1.0\"\n    exports solution rapid\n}\n";
    let lesson = "wetside 2\nuse club\nrecipe lesson {\n    fix {\n        in club/rapid 1+4, reused\n        time 4:00\n        agitate continuous\n    }\n}\n";
    let teacher = "wetside 2\nuse \"lesson.wet\"\ncollection teacher {\n    licence \"CC0-1.0\"\n    exports recipe lesson\n}\n";
    let bottles =
        "wetside 2\nuse club\nbath fix-a {\n    in club/rapid 1+4\n    volume 1 l\n    mixed 2026-11-02\n}\n";
    let run = |copy: &str| {
        Run::new()
            .file(".git/HEAD", "")
            .file("collections/club/collection.wet", club)
            .file("collections/club/baths.wet", baths)
            .file("collections/teacher/collection.wet", teacher)
            .file("collections/teacher/lesson.wet", lesson)
            .file("collections/teacher/collections/club/collection.wet", club)
            .file("collections/teacher/collections/club/baths.wet", copy)
            .file("bottles.wet", bottles)
            .args(["list", "--ready", "--on", "2026-11-20"])
            .succeeds()
    };
    assert_eq!(names(&run(baths)), ["teacher/lesson"]);
    // Another capacity: two solutions of one name, and the bottle has the club's.
    assert_eq!(names(&run(&baths.replace("10 rolls", "8 rolls"))), [""; 0]);
}

#[test]
fn a_file_with_errors_is_named_and_the_rest_is_listed() {
    let run = root().file("below/broken.wet", "wetside 2\n\nrecipe torn {\n    film nothing\n}\n");
    let (status, text, error) = run.again().arg("list").ends();
    assert_eq!((status, names(&text)), (0, vec!["ferry", "jetty", "club/usual"]));
    assert!(error.contains("left out") && error.contains("below/broken.wet"), "{error}");
    let (_, text, _) = run.again().args(["list", "--as", "json"]).ends();
    let json: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(json["left_out"], serde_json::json!(["below/broken.wet"]));
}

#[test]
fn a_list_for_programs_matches_its_schema() {
    let run = root();
    let schema: Value = serde_json::from_str(include_str!("../grammar/list.schema.json")).unwrap();
    for kind in ["recipes", "films", "solutions", "tanks", "collections", "sessions"] {
        let json: Value = serde_json::from_str(&list(&run, [kind, "--as", "json"])).unwrap();
        jsonschema::validate(&schema, &json).unwrap();
        let count = json["things"].as_array().unwrap().len();
        assert_eq!(count, list(&run, [kind]).lines().count(), "{json}");
    }
    let json: Value = serde_json::from_str(&list(&run, ["--as", "json"])).unwrap();
    let mut other = json;
    other["things"][0]["fingerprint"] = "W7KX-XET1".into();
    assert!(jsonschema::validate(&schema, &other).is_err(), "JSON has the whole fingerprint");
}

#[test]
fn the_options_that_choose_recipes_are_for_recipes() {
    let run = root();
    for args in [["--film", "ferry-100"], ["--at", "20C"]] {
        let (_, error) = run.again().args(["list", "tanks"]).args(args).fails(2);
        assert!(error.contains("choose recipes"), "{error}");
    }
    run.again().args(["list", "--rolls", "2x120"]).fails(2);
}

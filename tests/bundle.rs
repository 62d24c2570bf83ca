//! `bundle`: one file that uses no other, with the same work, the same cards and the same cautions.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use wetside::check::Checked;
use wetside::emit::{Look, card, text};
use wetside::model::{Film, Fingerprint, Format, Recipe, Rolls, Step, Temperature};
use wetside::source::Files;
use wetside::tidy::{NoBundle, bundle};
use wetside::{MemoryFiles, Tonight, check};

use crate::collections::CLUB;
use crate::program::Run;

/// The bundle of a recipe in a file.
fn bundled(files: &dyn Files, file: &str, name: &str) -> Result<String, NoBundle> {
    let mut checked = check(files, file).unwrap();
    let recipe = checked.shelf.recipe(checked.file, name).unwrap().clone();
    bundle(&mut checked.sources, files, &checked.shelf, &recipe).map(|bundle| bundle.text)
}

fn alone(text: &str) -> Checked {
    check(&MemoryFiles::from([("bundle.wet", text)]), "bundle.wet").unwrap()
}

/// Everything that the recipe's notes, sources and cautions say to people.
fn said(recipe: &Recipe) -> BTreeSet<String> {
    let mut all: BTreeSet<String> = recipe.notes.iter().chain(&recipe.cautions).cloned().collect();
    let solutions = recipe.steps.iter().flat_map(Step::solutions);
    solutions.for_each(|one| all.extend(one.notes.iter().chain(&one.cautions).cloned()));
    let film: Option<&Film> = recipe.film.as_ref().map(|film| &*film.value);
    film.into_iter().for_each(|film| all.extend(film.notes.iter().chain(&film.cautions).cloned()));
    all
}

/// The card of an evening with one roll, if the recipe compiles for it.
fn evening(checked: &Checked, name: &str, celsius: i64, format: Format) -> Option<String> {
    let rolls = vec![Rolls { count: 1, format }];
    let tonight = Tonight::new(Temperature::celsius_whole(celsius), rolls);
    let schedule = checked.recipe(name)?.compile(&tonight).ok()?;
    Some(text(&card(&schedule, &checked.sources), Look::default()))
}

/// The names and texts of the recipe files in a folder of the project.
fn texts(folder: &str) -> Vec<(String, String)> {
    let entries = fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)).unwrap();
    let paths = entries.map(|entry| entry.unwrap().path());
    let recipes = paths.filter(|path| path.extension().is_some_and(|ending| ending == "wet"));
    recipes.map(|path| (file_name(&path), fs::read_to_string(&path).unwrap())).collect()
}

fn file_name(path: &Path) -> String {
    path.file_name().unwrap().to_str().unwrap().to_owned()
}

/// Bundles every recipe of a folder of the project, whose files may use those of the shelf. Returns how many recipes and
/// how many cards were compared.
fn all_of(folder: &str) -> (usize, usize) {
    let own = texts(folder);
    let files: MemoryFiles = texts("recipes").into_iter().chain(own.iter().cloned()).collect();
    let (mut recipes, mut cards) = (0, 0);
    for (file, _) in &own {
        let checked = check(&files, file).unwrap();
        for recipe in checked.recipes() {
            let name = &recipe.name;
            let text =
                bundled(&files, file, name).unwrap_or_else(|reason| panic!("{file} {name}: {reason:?}"));
            let flat = alone(&text);
            assert!(!flat.has_errors(), "{file} {name}\n{}", flat.report(&flat.findings));
            let same = flat.recipe(name).unwrap();
            assert_eq!(Fingerprint::of(&same), Fingerprint::of(&recipe), "{file} {name}");
            assert_eq!(said(&same), said(&recipe), "{file} {name}");
            assert!(text.lines().all(|line| !line.starts_with("use ")), "{file} {name}");
            for (celsius, format) in [(20, Format::F120), (38, Format::F120)] {
                let before = evening(&checked, name, celsius, format);
                assert_eq!(evening(&flat, name, celsius, format), before, "{file} {name}");
                cards += usize::from(before.is_some());
            }
            recipes += 1;
        }
    }
    (recipes, cards)
}

#[test]
fn every_recipe_of_the_shelf_keeps_its_work_its_cautions_and_its_cards() {
    let (recipes, cards) = all_of("recipes");
    assert!(recipes > 30 && cards > 15, "{recipes} recipes, {cards} cards");
}

#[test]
fn every_kind_of_work_can_be_bundled() {
    let (recipes, cards) = all_of("tests/kinds");
    assert!(recipes > 40 && cards > 30, "{recipes} recipes, {cards} cards");
}

/// One's own file beside the club's.
fn mine(own: &str) -> Result<String, NoBundle> {
    let files: MemoryFiles = CLUB.iter().copied().chain([("own.wet", own)]).collect();
    bundled(&files, "own.wet", "mine")
}

const MINE: &str = "recipe mine from club/usual {\n    develop {\n        time 8:00\n    }\n}\n";

#[test]
fn what_is_derived_from_a_collection_loses_the_prefix_and_names_the_collection() {
    let text = mine(&format!("wetside 2\n\nuse club\n\n# For the jetty.\n{MINE}")).unwrap();
    assert!(text.contains("\n# For the jetty.\nrecipe mine from usual {\n"), "{text}");
    assert!(text.contains("# Parts are from the collection Recipes of the harbour club, licence CC0-1.0.\n"));
    assert!(!text.contains("club/") && !text.contains("recipe short") && !text.contains("recipe secret"));
    assert!(text.contains("caution   \"gloves\""), "{text}");
}

#[test]
fn of_two_solutions_with_one_name_that_differ_the_nearer_keeps_it() {
    // The recipe pours its own soup, and derives from a recipe that pours the club's.
    let soup = "solution soup {\n    role developer\n    needs 150 ml per roll\n}\n";
    let own = MINE.replace("time 8:00", "in soup 1+3, one-shot\n        time 8:00");
    let text = mine(&format!("wetside 2\nuse club\n{soup}{own}")).unwrap();
    assert!(text.contains("# Called soup by its author; a solution with other contents has that name here.\nsolution soup-2 {"), "{text}");
    assert!(text.contains("in        soup-2 1+3, one-shot\n        time      9:00"), "{text}");
    assert!(text.contains("in        soup 1+3, one-shot\n        time      8:00"), "{text}");
}

#[test]
fn two_equal_solutions_become_one() {
    let soup = "# a copy\nsolution   soup {\n    role developer\n    needs 100 ml per roll\n}\n";
    let own = MINE.replace("time 8:00", "in soup 1+3, one-shot\n        time 8:00");
    let text = mine(&format!("wetside 2\nuse club\n{soup}{own}")).unwrap();
    assert_eq!(text.matches("solution soup").count(), 1, "{text}");
}

/// The fingerprint holds the names of bought solutions. The recipe pours its own rapid-fix and the club's in one evening.
#[test]
fn a_bundle_that_would_have_another_fingerprint_is_refused_with_the_name() {
    let fix = "solution rapid-fix {\n    role fixer\n    contains ammonium-thiosulfate\n    treats 5 rolls per 1 l at 1+4\n}\n";
    let own = MINE.replace(
        "    develop {",
        "    fix first before fix {\n        in rapid-fix 1+4, one-shot\n        time 5:00\n        agitate continuous\n    }\n    develop {",
    );
    match mine(&format!("wetside 2\nuse club\n{fix}{own}")) {
        Err(NoBundle::OtherWork(names)) => assert_eq!(names, ["rapid-fix"]),
        other => panic!("{other:?}"),
    }
}

const BASE: &str = "wetside 1\n\nsolution developer {\n    role developer\n    contains hydroquinone\n    needs 100 ml per roll\n}\n\nsolution fixer {\n    role fixer\n    contains sodium-thiosulfate\n}\n\nrecipe base {\n    develop {\n        in developer 1+1\n        time 8:00\n        between 18 C and 22 C\n        agitate continuous\n    }\n    fix {\n        in fixer 1+4\n        time 5:00\n        agitate continuous\n    }\n    wash {\n        soak 1:00 x 4\n        light safe\n    }\n}\n";

/// In edition 2 the time of a base holds for a film only if the base says so, and the light is called `room`.
#[test]
fn recipes_of_both_editions_make_a_bundle_of_the_second() {
    let own = "wetside 2\n\nuse \"base.wet\"\n\nfilm ebb {\n    speed ISO 100\n}\n\nrecipe mine from base {\n    film ebb\n    index 100\n}\n";
    let files = MemoryFiles::from([("base.wet", BASE), ("own.wet", own)]);
    let text = bundled(&files, "own.wet", "mine").unwrap();
    assert!(text.contains("\nwetside 2\n"), "{text}");
    assert!(text.contains("recipe base {\n    film      any\n"), "{text}");
    assert!(text.contains("light     room"), "{text}");
    let first = bundled(&files, "base.wet", "base").unwrap();
    assert!(first.contains("\nwetside 1\n") && first.contains("light     safe"), "{first}");
}

/// A development of 4:00 is short, and the file allows it with its reason.
#[test]
fn what_a_file_allows_stays_allowed_where_it_has_an_effect() {
    let short = "wetside 2\n\nallow short-development because \"a tray\"\nallow wet-after-dry because \"never\"\n\nfilm ebb {\n    speed ISO 100\n}\n\nsolution developer {\n    role developer\n    needs 100 ml per roll\n}\n\nrecipe one {\n    film ebb\n    index 100\n    develop {\n        in developer 1+1\n        time 4:00\n        between 18 C and 22 C\n        agitate first 30 s, then 10 s every 30 s\n    }\n}\n";
    let text = bundled(&MemoryFiles::from([("own.wet", short)]), "own.wet", "one").unwrap();
    assert_eq!(text.matches("allow ").count(), 1, "{text}");
    assert!(text.contains("recipe one {\n    allow     short-development because \"a tray\"\n"), "{text}");
    let flat = alone(&text);
    let found: Vec<&str> = flat.findings.iter().map(|finding| finding.name).collect();
    assert!(!found.contains(&"short-development"), "{found:?}");
}

#[test]
fn the_command_writes_the_file_and_never_over_a_recipe() {
    let run = Run::new().folder_of_repo("recipes");
    let call = |args: [&str; 4]| run.again().args(args);
    call(["bundle", "estuary-400-mq", "-o", "../sent.wet"]).below("recipes").succeeds();
    let sent = fs::read_to_string(run.folder().join("sent.wet")).unwrap();
    let printed = run.again().below("recipes").args(["bundle", "estuary-400-mq"]).succeeds();
    assert_eq!(sent, printed);
    let evening = ["--at", "21.5C", "--rolls", "5x120"];
    let card = |file: &str| {
        run.again().args(["card", file, "estuary-400-mq"]).args(evening).arg("--volume").arg("2.5l")
    };
    assert!(card("sent.wet").succeeds().lines().next().unwrap().ends_with("recipe W7KX-XET1"));
    let (_, error) = call(["bundle", "estuary-400-mq", "-o", "../sent.wet"]).below("recipes").fails(2);
    assert!(error.contains("--replace"), "{error}");
    let (_, error) = call(["bundle", "estuary-400-mq", "-o", "../sent.txt"]).below("recipes").fails(2);
    assert!(error.contains("its name ends in .wet"), "{error}");
}

#[test]
fn a_recipe_with_errors_has_no_bundle() {
    let run = Run::new().file("own.wet", format!("{BASE}\nrecipe other from bese {{\n    note \"a\"\n}}\n"));
    run.again().args(["bundle", "own.wet", "base", "-o", "sent.wet"]).succeeds();
    let run = run.file("own.wet", BASE.replace("in developer", "in develloper"));
    let (out, error) = run.again().args(["bundle", "own.wet", "base", "-o", "next.wet"]).fails(1);
    assert!(out.is_empty() && error.contains("there is no solution 'develloper' here"), "{error}");
    assert!(!run.folder().join("next.wet").exists());
}

/// The author of a collection allows an error. A recipe that is built on it has a warning on the card; in the one file,
/// where the author's `allow` is like one's own, the card has a caution in its place.
#[test]
fn an_error_that_another_author_allows_is_a_caution_of_the_bundle() {
    let steps = "    fix {\n        in        rapid-fix 1+4, one-shot\n        time      4:00\n        agitate   first 30 s, then 10 s every 1 min\n    }\n    develop {\n        in        soup 1+3, one-shot\n        time      9:00\n        between   18 C and 24 C\n        agitate   first 30 s, then 10 s every 1 min\n    }\n    wash {\n        fills     5, 10, 20 inversions\n    }\n}\n";
    let allow = "allow     fix-before-develop because \"the base is all we want\"\n";
    for (in_file, in_recipe) in [("", allow), (allow, "")] {
        let odd = format!(
            "wetside 2\nuse \"baths.wet\"\n{in_file}recipe odd {{\n    film      estuary-400\n    index     400\n    {in_recipe}{steps}"
        );
        let exports = CLUB[0].1.replace("exports   recipe usual", "exports   recipe odd, usual");
        let collection = exports.replace("use \"recipes.wet\"", "use \"recipes.wet\"\nuse \"odd.wet\"");
        let mut run = Run::new().file(".git/HEAD", "").file("collections/club/odd.wet", odd);
        for (name, text) in CLUB {
            run = run.file(name, if name.ends_with("collection.wet") { collection.as_str() } else { *text });
        }
        let own = "wetside 2\nuse club\nrecipe mine from club/odd {\n    note \"a\"\n}\n";
        let run = run.file("own.wet", own).args(["bundle", "own.wet", "mine", "-o", "flat.wet"]);
        let said = "the step fix would destroy the picture before it is developed; the collection's author allows it: the base is all we want";
        let (status, _, error) = run.ends();
        let notice = format!("the bundle has this caution, as a card here has a warning: {said}\n");
        assert_eq!((status, error), (0, notice));
        let flat = fs::read_to_string(run.folder().join("flat.wet")).unwrap();
        assert!(flat.contains(&format!("recipe mine from odd {{\n    caution   \"{said}\"\n")), "{flat}");
        let card =
            |file| run.again().args(["card", file, "mine", "--at", "20C", "--rolls", "1x120"]).ends().1;
        let one_line = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
        for file in ["own.wet", "flat.wet"] {
            assert!(one_line(card(file)).contains(said), "{file}: {}", card(file));
        }
    }
}

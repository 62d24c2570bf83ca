//! `adopt`: the collection of others is copied with a lock, whole or not at all; an update says first what it changes.

mod hostile;
mod journey;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use crate::program::Run;

/// A club's collection, in the folder `club`.
pub(crate) const COLLECTION: &str = "wetside 2

use \"recipes.wet\"

collection harbour \"Recipes of the harbour club\" {
    author    \"the darkroom group\"
    licence   \"CC0-1.0\"
    exports   film estuary-400
    exports   recipe usual
}
";

pub(crate) const RECIPES: &str = "wetside 2

film estuary-400 \"Estuary 400\" {
    speed     ISO 400
}

solution soup \"Soup\" {
    role      developer
    contains  metol
    needs     100 ml per roll
    caution   \"gloves\"
}

recipe usual \"Estuary, as always\" {
    film      estuary-400
    index     400
    develop {
        in        soup 1+3, one-shot
        time      9:00
        between   18 C and 24 C
        agitate   first 30 s, then 10 s every 1 min
    }
}
";

const MINE: &str = "wetside 2

use club

recipe mine \"My way\" from club/usual {
    note      \"for the prints of the jetty\"
}
";

/// The folder `mine`, beside a club's folder with a licence and a file that its collection does not use.
fn beside() -> Run {
    Run::new()
        .file("club/collection.wet", COLLECTION)
        .file("club/recipes.wet", RECIPES)
        .file("club/LICENSE", "The licence.\n")
        .file("club/journal/2026-11-16-7m2q.wet", "wetside 1\n")
        .file("mine/mine.wet", MINE)
}

fn adopt<const N: usize>(run: &Run, args: [&str; N]) -> Run {
    run.again().below("mine").args(["adopt"]).args(args)
}

/// All files below a folder, with their bytes.
pub(crate) fn tree(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut all = BTreeMap::new();
    let mut open = vec![folder.to_owned()];
    while let Some(next) = open.pop() {
        for entry in fs::read_dir(&next).into_iter().flatten().map(Result::unwrap) {
            if entry.file_type().unwrap().is_dir() {
                open.push(entry.path());
            } else {
                let name = entry.path().strip_prefix(folder).unwrap().display().to_string();
                let is_link = entry.file_type().unwrap().is_symlink();
                all.insert(name, if is_link { Vec::new() } else { fs::read(entry.path()).unwrap() });
            }
        }
    }
    all
}

#[test]
fn a_folder_is_adopted_with_what_it_uses_and_its_licence() {
    let run = beside();
    let said = adopt(&run, ["../club", "--as", "club"]).succeeds();
    assert_eq!(
        said,
        "adopted collections/club, 3 files
  Recipes of the harbour club, by the darkroom group; licence CC0-1.0
  film estuary-400
  recipe usual
to use it, add a line to your file: use club
"
    );
    let mine = run.folder().join("mine");
    let files = tree(&mine.join("collections"));
    let names: Vec<&str> = files.keys().map(String::as_str).collect();
    assert_eq!(names, ["club.lock", "club/LICENSE", "club/collection.wet", "club/recipes.wet"]);
    assert_eq!(files["club/recipes.wet"], RECIPES.as_bytes());
    let card = run.again().below("mine").args(["card", "mine", "--at", "20C", "--rolls", "1x120"]).succeeds();
    assert!(card.contains("9:00") && card.contains("My way"), "{card}");
}

/// SHA-256 of `The licence.` and a line feed, by `sha256sum`.
#[test]
fn a_lock_has_the_origin_and_the_hash_of_each_file() {
    let run = beside();
    adopt(&run, ["../club", "--as", "club"]).succeeds();
    let lock = fs::read_to_string(run.folder().join("mine/collections/club.lock")).unwrap();
    let lines: Vec<&str> = lock.lines().collect();
    assert_eq!(&lines[..2], ["# Written by wetside adopt. Do not edit.", "origin ../club"]);
    assert_eq!(lines[2], "LICENSE 0e2e261e478312f02ba139e6c449ff735f04a782711feed862b6b20c31c653b0");
    assert_eq!(lines.len(), 5);
    // Line endings do not matter, and the same files give the same lock.
    let again = beside().file("club/recipes.wet", RECIPES.replace('\n', "\r\n"));
    adopt(&again, ["../club", "--as", "club"]).succeeds();
    assert_eq!(fs::read_to_string(again.folder().join("mine/collections/club.lock")).unwrap(), lock);
}

#[test]
fn a_collection_has_its_own_name_if_no_other_is_given() {
    let run = beside();
    adopt(&run, ["../club"]).succeeds();
    assert!(run.folder().join("mine/collections/harbour/collection.wet").is_file());
}

#[test]
fn a_name_that_is_taken_is_refused() {
    let run = beside();
    adopt(&run, ["../club", "--as", "club"]).succeeds();
    let before = tree(&run.folder().join("mine"));
    let (_, said) = adopt(&run, ["../club", "--as", "club"]).fails(2);
    assert!(said.contains("wetside adopt --update club"), "{said}");
    assert_eq!(tree(&run.folder().join("mine")), before);
}

#[test]
fn check_shows_what_is_not_as_adopted() {
    let run = beside();
    adopt(&run, ["../club", "--as", "club"]).succeeds();
    assert_eq!(adopt(&run, ["--check"]).succeeds(), "club: as adopted from ../club\n");
    let run = run.file("mine/collections/club/recipes.wet", RECIPES.replace("9:00", "8:00"));
    let run = run.file("mine/collections/club/more.wet", "wetside 2\n");
    fs::remove_file(run.folder().join("mine/collections/club/LICENSE")).unwrap();
    let (said, _) = adopt(&run, ["--check", "club"]).fails(1);
    assert_eq!(
        said,
        "club: not as adopted from ../club\n  missing LICENSE\n  changed recipes.wet\n  added more.wet\n"
    );
}

#[test]
fn an_update_says_what_it_changes_and_whom_it_concerns() {
    let run = beside();
    adopt(&run, ["../club", "--as", "club"]).succeeds();
    assert_eq!(adopt(&run, ["--update", "club"]).succeeds(), "club: nothing has changed\n");
    let new = RECIPES.replace("9:00", "8:00").replace("gloves", "gloves and goggles");
    let run = run.file(
        "club/recipes.wet",
        new.replace(
            "    index     400\n",
            "    index     400\n    allow     short-development because \"by test\"\n",
        ),
    );
    let before = tree(&run.folder().join("mine"));
    let (shown, _) = adopt(&run, ["--update", "club", "--dry"]).fails(1);
    assert_eq!(tree(&run.folder().join("mine")), before);
    for words in [
        "9:00 → 8:00",
        "gloves and goggles",
        "the author now allows: recipes.wet: allow     short-development because \"by test\"",
        "your recipe mine in mine.wet changes from W",
    ] {
        assert!(shown.contains(words), "{words}: {shown}");
    }
    let said = adopt(&run, ["--update", "club"]).succeeds();
    assert_eq!(said, format!("{shown}updated collections/club\n"));
    adopt(&run, ["--check"]).succeeds();
    let card = run.again().below("mine").args(["card", "mine", "--at", "20C", "--rolls", "1x120"]).succeeds();
    assert!(card.contains("8:00"), "{card}");
}

/// A solution that no recipe uses. Hydroquinone damages the eyes, and a mixture with 3 % of it or more does too: Regulation
/// (EC) 1272/2008, Annex I, table 3.3.3, from memory.
#[test]
fn an_update_shows_the_hazards_and_the_capacities_of_solutions() {
    let lye = "\nsolution lye {\n    role      developer\n    contains  hydroquinone 0.4 %\n    treats    10 rolls per 1 l\n}\n";
    let collection = COLLECTION.replace("exports   recipe", "exports   solution lye\n    exports   recipe");
    let run =
        beside().file("club/collection.wet", collection).file("club/recipes.wet", RECIPES.to_owned() + lye);
    adopt(&run, ["../club", "--as", "club"]).succeeds();
    let stronger = lye.replace("0.4 %", "10 %").replace("10 rolls", "6 rolls");
    let run = run.file("club/recipes.wet", RECIPES.to_owned() + &stronger);
    let (shown, _) = adopt(&run, ["--update", "club", "--dry"]).fails(1);
    let (_, changes) = shown.split_once("solution lye\n").unwrap_or_else(|| panic!("{shown}"));
    assert!(changes.starts_with("  label ") && changes.contains("→ DANGER GHS05"), "{shown}");
    assert!(changes.contains("  new: Causes serious eye damage"), "{shown}");
    assert!(
        changes.contains("  no longer: treats 10 rolls per 1 l\n  new: treats 6 rolls per 1 l\n"),
        "{shown}"
    );
}

#[test]
fn a_lock_that_a_merge_left_in_conflict_is_mended_by_an_update() {
    let run = beside();
    adopt(&run, ["../club", "--as", "club"]).succeeds();
    let path = run.folder().join("mine/collections/club.lock");
    let lock = fs::read_to_string(&path).unwrap();
    let (head, rest) = lock.split_once("LICENSE").unwrap();
    let torn = format!("{head}<<<<<<< HEAD\nLICENSE{rest}=======\nLICENSE{rest}>>>>>>> other\n");
    fs::write(&path, torn).unwrap();
    let (said, _) = adopt(&run, ["--check"]).fails(1);
    assert!(said.contains("wetside adopt --update club"), "{said}");
    adopt(&run, ["--update", "club"]).succeeds();
    assert_eq!(fs::read_to_string(&path).unwrap(), lock);
    // With two origins it is unknown which is right.
    fs::write(&path, lock.replace("origin ../club", "origin ../club\norigin ../other")).unwrap();
    let (_, said) = adopt(&run, ["--update", "club"]).fails(2);
    assert!(said.contains("several origins: ../club, ../other"), "{said}");
}

#[test]
fn a_collection_in_use_is_not_removed() {
    let run = beside();
    adopt(&run, ["../club", "--as", "club"]).succeeds();
    let (_, said) = adopt(&run, ["--remove", "club"]).fails(2);
    assert!(said.contains("is used by mine.wet"), "{said}");
    let run = run.file("mine/mine.wet", "wetside 2\n");
    assert_eq!(adopt(&run, ["--remove", "club"]).succeeds(), "removed collections/club\n");
    assert_eq!(tree(&run.folder().join("mine")).len(), 1);
}

#[test]
fn a_released_collection_is_an_ordinary_folder() {
    let run = beside();
    adopt(&run, ["../club", "--as", "club"]).succeeds();
    let said = adopt(&run, ["--release", "club"]).succeeds();
    assert!(said.contains("use \"club/FILE.wet\" as club"), "{said}");
    let run = run.file("mine/mine.wet", MINE.replace("use club", "use \"club/recipes.wet\" as club"));
    run.again().below("mine").args(["card", "mine", "--at", "20C", "--rolls", "1x120"]).succeeds();
    assert!(!run.folder().join("mine/collections/club.lock").exists());
}

#[test]
fn a_release_that_was_killed_is_finished_by_the_next() {
    let run = beside();
    adopt(&run, ["../club", "--as", "club"]).succeeds();
    let at = |name: &str| run.folder().join("mine").join(name);
    fs::rename(at("collections/club"), at("club")).unwrap();
    let said = adopt(&run, ["--release", "club"]).succeeds();
    assert!(said.starts_with("club is yours now; its files are in club\n"), "{said}");
    assert!(at("club/recipes.wet").is_file() && !at("collections/club.lock").exists());
    // A folder that is there beside the collection is not replaced.
    adopt(&run, ["../club", "--as", "club"]).succeeds();
    let (_, said) = adopt(&run, ["--release", "club"]).fails(2);
    assert!(said.contains("club is already there"), "{said}");
}

#[test]
fn a_collection_without_a_licence_is_adopted_with_a_warning() {
    let run = beside().file("club/collection.wet", COLLECTION.replace("    licence   \"CC0-1.0\"\n", ""));
    let said = adopt(&run, ["../club"]).succeeds();
    assert!(said.contains("WARNING: it states no licence"), "{said}");
}

#[test]
fn a_collection_with_errors_is_not_adopted() {
    let run = beside().file("club/recipes.wet", RECIPES.replace("9:00", "9 parsecs"));
    let (_, said) = adopt(&run, ["../club"]).fails(1);
    assert!(said.contains("was not adopted: a collection with errors is not taken in"), "{said}");
    assert!(!run.folder().join("mine/collections").exists());
}

/// The author's config file is not taken in; even if someone copies it, it holds for the author's folder alone.
#[test]
fn the_severities_of_an_author_do_not_count() {
    let short = RECIPES.replace("9:00", "3:30");
    let run = beside()
        .file("club/recipes.wet", short)
        .file("club/wetside.toml", "[levels]\nshort-development = \"off\"\n");
    adopt(&run, ["../club", "--as", "club"]).succeeds();
    let path = run.folder().join("mine/collections/club/wetside.toml");
    assert!(!path.exists());
    for copied in [false, true] {
        if copied {
            fs::copy(run.folder().join("club/wetside.toml"), &path).unwrap();
        }
        let (_, out, err) = run.again().below("mine").args(["check", "mine.wet"]).ends();
        assert!(format!("{out}{err}").contains("short-development"), "{out}{err}");
    }
}

//! What is in the place of a collection, and who writes there: names, files and links that are in the way, and calls at
//! one time.

use std::fs;

use super::{everything, refused};
use crate::adopt::{COLLECTION, RECIPES, adopt, beside, tree};

#[test]
fn a_name_that_leaves_the_folder_is_refused() {
    let run = beside();
    for name in ["..", "../x", "a/b", ".hidden", "a b", "CON.", ""] {
        let (status, _, _) = adopt(&run, ["../club", "--as", name]).ends();
        assert_eq!(status, 2, "{name}");
    }
    assert!(!run.folder().join("mine/collections").exists());
}

/// Whatever is in the place of a collection or of its lock stays as it is.
#[test]
fn what_is_in_the_place_of_a_collection_is_not_replaced() {
    for taken in
        ["collections/club", "collections/club.lock", "collections/club/x", "collections/club.lock/x"]
    {
        let run = beside().file(&format!("mine/{taken}"), "mine\n");
        let before = tree(&run.folder().join("mine"));
        let (_, said) = adopt(&run, ["../club", "--as", "club"]).fails(2);
        assert!(said.contains("is already there"), "{said}");
        assert_eq!(tree(&run.folder().join("mine")), before);
    }
}

#[cfg(unix)]
#[test]
fn nothing_is_written_through_a_link() {
    use std::os::unix::fs::symlink;
    for target in ["../../elsewhere", "../../nothing"] {
        let run = beside().file("elsewhere/kept", "").file("mine/collections/other/a.wet", "wetside 2\n");
        symlink(target, run.folder().join("mine/collections/club")).unwrap();
        let before = everything(run.folder());
        let (_, said) = adopt(&run, ["../club", "--as", "club"]).fails(2);
        assert!(said.contains("is already there"), "{said}");
        assert_eq!(everything(run.folder()), before);
    }
    let run = beside().file("elsewhere/kept", "");
    symlink("../elsewhere", run.folder().join("mine/collections")).unwrap();
    let (_, said) = adopt(&run, ["../club"]).fails(2);
    assert!(said.contains("collections is a link"), "{said}");
    for option in ["--update", "--remove", "--release", "--check"] {
        adopt(&run, [option, "club"]).fails(2);
    }
    assert_eq!(everything(&run.folder().join("elsewhere")), ["kept"]);
}

#[test]
fn two_calls_at_once_take_turns() {
    let run = beside();
    let call = |name: &'static str| {
        let run = adopt(&run, ["../club", "--as", name]);
        std::thread::spawn(move || run.ends())
    };
    let calls = ["one", "two", "one", "three", "two"].map(call);
    let ends: Vec<i32> = calls.into_iter().map(|call| call.join().unwrap().0).collect();
    assert_eq!(ends.iter().filter(|status| **status == 0).count(), 3, "{ends:?}");
    assert_eq!(ends.iter().filter(|status| **status == 2).count(), 2, "{ends:?}");
    assert_eq!(
        adopt(&run, ["--check"]).succeeds(),
        "one: as adopted from ../club\nthree: as adopted from ../club\ntwo: as adopted from ../club\n"
    );
    assert_eq!(fs::read_dir(run.folder().join("mine/collections")).unwrap().count(), 6);
}

/// With an option, the word is the name of a collection, never a path.
#[test]
fn a_path_is_no_name_of_a_collection() {
    let run = beside().file("mine/kept/a.wet", "wetside 2\n").file("mine/kept.lock", "origin ../club\n");
    let run = run.file("mine/collections/club/a.wet", "wetside 2\n");
    let before = tree(&run.folder().join("mine"));
    for option in ["--update", "--remove", "--release", "--check"] {
        for name in ["../kept", "club/../../kept", ".", ""] {
            let (_, said) = adopt(&run, [option, name]).fails(2);
            assert!(said.contains("cannot be the name of a collection"), "{option} {name}: {said}");
        }
    }
    assert_eq!(tree(&run.folder().join("mine")), before);
}

/// A folder of collections may have some that were put there by hand.
#[test]
fn a_collection_without_a_lock_is_no_difference() {
    let run = beside().file("mine/collections/own/collection.wet", "wetside 2\n");
    adopt(&run, ["../club", "--as", "club"]).succeeds();
    assert_eq!(
        adopt(&run, ["--check"]).succeeds(),
        "club: as adopted from ../club\nown: it has no lock, so it was not adopted\n"
    );
    adopt(&run, ["--check", "own"]).fails(2);
}

/// `é` is one character, or an `e` and an accent. For some systems both are one file name. The first is kept.
#[test]
fn a_file_name_that_unicode_can_write_otherwise_is_refused() {
    let club = |path: &str| {
        let collection = COLLECTION.replace("recipes.wet", path);
        beside().file("club/collection.wet", collection).file(&format!("club/{path}"), RECIPES)
    };
    let composed = "caf\u{e9}.wet";
    adopt(&club(composed), ["../club"]).succeeds();
    for path in ["cafe\u{301}.wet", "ca\u{30b}\u{327}/a.wet", "\u{1112}\u{1161}\u{11ab}.wet", "\u{212b}.wet"]
    {
        refused(&club(path), "../club", "cannot be kept on every system");
    }
    // A collection that uses both.
    let used = format!("use \"cafe\u{301}.wet\"\nuse \"{composed}\"");
    let collection = COLLECTION.replace("use \"recipes.wet\"", &used);
    let both = club(composed).file("club/cafe\u{301}.wet", "wetside 2\n");
    refused(&both.file("club/collection.wet", collection), "../club", "cannot be kept on every system");
}

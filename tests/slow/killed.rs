//! Calls that are killed while they write: afterwards the old state or the new one is there, whole. Everything else
//! they leave is hidden. And a writer that waits too long for another one.

use std::cell::Cell;
use std::collections::BTreeMap;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::Instant;

use crate::closed_root::{ClosedRoot, said};
use crate::program::Run;
use crate::writers::{RECORD, call, names, recording, small};

/// What a killed call left.
#[derive(PartialEq)]
enum Left {
    Old,
    New,
}

/// Kills a call this many times, from before its first byte to well after its end. How long a call takes depends on
/// the load of the machine, so each result moves the next kill.
fn killed(kills: u32, folder: &Path, args: &[&str], mut look: impl FnMut(u32) -> Left) {
    let began = Instant::now();
    assert!(call(folder, args).status().unwrap().success());
    let mut usual = began.elapsed();
    look(0);
    let mut old = 0;
    for kill in 1..=kills {
        let mut child = call(folder, args).spawn().unwrap();
        sleep(usual * (kill * 7919 % kills) * 3 / (kills * 2));
        // It may have ended already.
        let _ = child.kill();
        child.wait().unwrap();
        if look(kill) == Left::Old {
            old += 1;
            usual = usual * 21 / 20;
        } else {
            usual = usual * 20 / 21;
        }
    }
    let new = kills - old;
    assert!(old >= kills / 10 && new >= kills / 10, "the kills are not spread: {old} before, {new} after");
}

/// Whether a name is one that no call reads.
fn is_leftover(name: &str) -> bool {
    name.starts_with(".wetside-") && !name.ends_with(".wet")
}

#[test]
fn a_killed_record_leaves_a_whole_session_or_none() {
    let run = small();
    let folder = run.folder().join("journal");
    let sessions = || -> Vec<String> {
        let entries = fs::read_dir(&folder).into_iter().flatten().map(|entry| entry.unwrap().path());
        let wet = entries.filter(|path| path.extension().is_some_and(|ending| ending == "wet"));
        wet.map(|path| fs::read_to_string(path).unwrap()).collect()
    };
    let older = fs::read_to_string(run.folder().join("journal.wet")).unwrap();
    let count = Cell::new(0);
    killed(500, run.folder(), &RECORD, |kill| {
        let now = sessions();
        for text in &now {
            let whole = text.starts_with("wetside 2\n\nsession 2026-11-12-")
                && text.ends_with("    slot      1 120\n}\n");
            assert!(whole, "after kill {kill}: {text}");
        }
        if now.len() == count.replace(now.len()) { Left::Old } else { Left::New }
    });
    let own = ["journal", "journal.wet", "plain.wet"];
    let left: Vec<String> = names(run.folder()).into_iter().filter(|name| !own.contains(&&**name)).collect();
    assert!(left.iter().all(|name| is_leftover(name)), "{left:?}");
    let beside = names(&folder).into_iter().filter(|name| !name.ends_with(".wet"));
    assert!(beside.into_iter().all(|name| is_leftover(&name)));
    assert!(recording(run.folder()).status().unwrap().success());
    assert_eq!(sessions().len(), count.get() + 1);
    assert_eq!(fs::read_to_string(run.folder().join("journal.wet")).unwrap(), older);
    run.args(["check"]).succeeds();
}

#[test]
fn a_killed_start_leaves_a_complete_folder_or_none() {
    let run = Run::new();
    let shelf = run.folder().join("shelf");
    let files = || -> BTreeMap<_, _> {
        let entries = fs::read_dir(&shelf).unwrap().map(|entry| entry.unwrap());
        entries.map(|entry| (entry.file_name(), fs::read_to_string(entry.path()).unwrap())).collect()
    };
    let mut complete = None;
    killed(300, run.folder(), &["start", "shelf"], |kill| {
        if !shelf.exists() {
            return Left::Old;
        }
        let now = files();
        assert_eq!(now, *complete.get_or_insert_with(|| now.clone()), "after kill {kill}");
        fs::remove_dir_all(&shelf).unwrap();
        Left::New
    });
    assert!(call(run.folder(), &["start", "shelf"]).status().unwrap().success());
    assert!(names(run.folder()).iter().all(|name| name == "shelf" || is_leftover(name)));
    assert_eq!(run.args(["check"]).succeeds(), "nothing to fix in 5 files\n");
}

/// All files of a folder, with their texts.
fn texts(folder: &Path) -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    for entry in fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
        let name = entry.file_name().unwrap().to_string_lossy().into_owned();
        if entry.is_dir() {
            all.extend(texts(&entry).into_iter().map(|(inner, text)| (format!("{name}/{inner}"), text)));
        } else {
            all.insert(name, fs::read_to_string(&entry).unwrap());
        }
    }
    all
}

/// The versions differ in a time, in a file that only one has, and in one that only the other has.
#[test]
fn a_killed_update_of_a_collection_leaves_the_old_version_or_the_new_one() {
    let run = small();
    let (club, mine) = (run.folder().join("club"), run.folder().join("mine"));
    fs::create_dir_all(&mine).unwrap();
    let publish = |time: &str, other: &str| {
        let _ = fs::remove_dir_all(&club);
        fs::create_dir_all(&club).unwrap();
        let plain = fs::read_to_string(run.folder().join("plain.wet")).unwrap();
        fs::write(club.join("plain.wet"), plain.replace("10:00", time)).unwrap();
        fs::write(club.join(other), "wetside 2\n").unwrap();
        let collection = format!(
            "wetside 2\nuse \"plain.wet\"\nuse \"{other}\"\ncollection club {{\n    licence \"CC0-1.0\"\n    \
             exports recipe estuary-400-mq\n}}\n"
        );
        fs::write(club.join("collection.wet"), collection).unwrap();
    };
    let versions = [("10:00", "a.wet"), ("9:00", "b.wet")];
    let here = || texts(&mine.join("collections"));
    // What each version is, whole.
    let whole = versions.map(|(time, other)| {
        publish(time, other);
        assert!(call(&mine, &["adopt", "../club"]).status().unwrap().success());
        let files = here();
        assert!(call(&mine, &["adopt", "--remove", "club"]).status().unwrap().success());
        files
    });
    assert!(whole.iter().all(|files| files.len() == 4) && whole[0] != whole[1]);
    publish(versions[0].0, versions[0].1);
    assert!(call(&mine, &["adopt", "../club"]).status().unwrap().success());
    let old = Cell::new(0);
    publish(versions[1].0, versions[1].1);
    killed(300, &mine, &["adopt", "--update", "club"], |kill| {
        assert!(call(&mine, &["adopt", "--check"]).status().unwrap().success(), "after kill {kill}");
        let now = here();
        if now == whole[old.get()] {
            return Left::Old;
        }
        assert_eq!(now, whole[1 - old.get()], "after kill {kill}");
        publish(versions[old.get()].0, versions[old.get()].1);
        old.set(1 - old.get());
        Left::New
    });
}

/// The folder of a person, beside a club's folder with a collection.
fn beside_a_club() -> (Run, PathBuf) {
    let run = small();
    let (club, mine) = (run.folder().join("club"), run.folder().join("mine"));
    [&club, &mine].into_iter().for_each(|folder| fs::create_dir(folder).unwrap());
    fs::copy(run.folder().join("plain.wet"), club.join("plain.wet")).unwrap();
    let collection = "wetside 2\nuse \"plain.wet\"\ncollection club {\n    licence \"CC0-1.0\"\n    exports recipe estuary-400-mq\n}\n";
    fs::write(club.join("collection.wet"), collection).unwrap();
    (run, mine)
}

#[test]
fn a_killed_adoption_leaves_a_whole_collection_or_none() {
    let (_run, mine) = beside_a_club();
    let here = mine.join("collections");
    let mut whole = None;
    killed(300, &mine, &["adopt", "../club"], |kill| {
        assert!(call(&mine, &["adopt", "--check"]).status().unwrap().success(), "after kill {kill}");
        let now = if here.exists() { texts(&here) } else { BTreeMap::new() };
        if now.is_empty() {
            return Left::Old;
        }
        let names: Vec<&str> = now.keys().map(String::as_str).collect();
        assert_eq!(names, ["club.lock", "club/collection.wet", "club/plain.wet"], "after kill {kill}");
        assert_eq!(now, *whole.get_or_insert_with(|| now.clone()), "after kill {kill}");
        fs::remove_dir_all(&here).unwrap();
        Left::New
    });
}

/// Kills calls that take a collection away. `gone` has what is left where it was when nothing is, and clears it away.
fn killed_away(option: &str, gone: impl Fn(&Path, &BTreeMap<String, String>)) {
    let (_run, mine) = beside_a_club();
    let here = mine.join("collections");
    let adopt = || {
        assert!(call(&mine, &["adopt", "../club"]).status().unwrap().success());
        texts(&here)
    };
    let whole = adopt();
    assert_eq!(whole.len(), 3, "{whole:?}");
    killed(300, &mine, &["adopt", option, "club"], |kill| {
        assert!(call(&mine, &["adopt", "--check"]).status().unwrap().success(), "after kill {kill}");
        if here.exists() {
            assert_eq!(texts(&here), whole, "after kill {kill}");
            assert_eq!(names(&mine), ["collections"], "after kill {kill}");
            return Left::Old;
        }
        gone(&mine, &whole);
        assert_eq!(adopt(), whole);
        Left::New
    });
}

#[test]
fn a_killed_removal_leaves_the_whole_collection_or_nothing() {
    killed_away("--remove", |mine, _| assert!(names(mine).is_empty()));
}

#[test]
fn a_killed_release_leaves_the_collection_or_an_ordinary_folder() {
    killed_away("--release", |mine, whole| {
        assert_eq!(names(mine), ["club"]);
        let released = texts(&mine.join("club"));
        let released = released.into_iter().map(|(name, text)| (format!("club/{name}"), text));
        let without_lock = whole.iter().filter(|(name, _)| *name != "club.lock");
        assert!(released.eq(without_lock.map(|(name, text)| (name.clone(), text.clone()))));
        fs::remove_dir_all(mine.join("club")).unwrap();
    });
}

const ROUGH: &str = "wetside 1\n\nfilm   plain-film   {\n speed ISO 100\n}\n";
const TIDY: &str = "wetside 1\n\nfilm plain-film {\n    speed     ISO 100\n}\n";

#[test]
fn a_killed_tidy_leaves_the_old_file_or_the_new_one() {
    let run = Run::new().file("a.wet", ROUGH);
    let path = run.folder().join("a.wet");
    killed(120, run.folder(), &["tidy", "a.wet"], |kill| {
        let now = fs::read_to_string(&path).unwrap();
        assert!([ROUGH, TIDY].contains(&&*now), "after kill {kill}: {now}");
        let mut others = names(run.folder()).into_iter().filter(|name| name != "a.wet");
        assert!(others.all(|name| is_leftover(&name)), "after kill {kill}");
        fs::write(&path, ROUGH).unwrap();
        if now == ROUGH { Left::Old } else { Left::New }
    });
}

/// A file with two names is written in place, which takes two steps. Meanwhile a copy has the old text.
#[test]
fn a_killed_tidy_loses_no_text_of_a_file_with_two_names() {
    let run = Run::new().file("a.wet", ROUGH);
    fs::hard_link(run.folder().join("a.wet"), run.folder().join("b.wet")).unwrap();
    let read = |name: &str| fs::read_to_string(run.folder().join(name)).unwrap();
    killed(120, run.folder(), &["tidy", "a.wet"], |kill| {
        let now = read("a.wet");
        assert_eq!(now, read("b.wet"));
        let is_copied = || names(run.folder()).iter().any(|name| is_leftover(name) && read(name) == ROUGH);
        assert!([ROUGH, TIDY].contains(&&*now) || is_copied(), "after kill {kill}: {now}");
        fs::write(run.folder().join("a.wet"), ROUGH).unwrap();
        if now == TIDY { Left::New } else { Left::Old }
    });
}

#[test]
fn a_writer_that_waits_too_long_for_another_one_writes_nothing() {
    let run = small();
    let journal = fs::read(run.folder().join("journal.wet")).unwrap();
    let held = File::open(run.folder()).unwrap();
    held.lock().unwrap();
    let run = run.args(RECORD);
    let (_, said) = run.fails(2);
    for words in ["another call of wetside has held", "nothing was written"] {
        assert!(said.contains(words), "{said}");
    }
    assert_eq!(fs::read(run.folder().join("journal.wet")).unwrap(), journal);
}

#[test]
fn waiting_too_long_is_an_error_if_the_folder_cannot_be_locked() {
    let Some(mut inner) = ClosedRoot::new() else { return };
    let _held = inner.taken();
    let writer = inner.writer();
    assert!(said(writer, 2).contains("another call of wetside has held"));
    assert_eq!(inner.sessions(), 0);
}

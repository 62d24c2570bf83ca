//! Calls that are killed while they write: afterwards the old state or the new one is there, whole. Everything else
//! they leave is hidden. And a writer that waits too long for another one.

use std::cell::Cell;
use std::collections::BTreeMap;
use std::fs::{self, File};
use std::path::Path;
use std::thread::sleep;
use std::time::Instant;

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
fn a_killed_record_leaves_the_old_journal_or_the_new_one() {
    let run = small();
    let journal = || fs::read_to_string(run.folder().join("journal.wet")).unwrap();
    let before = journal();
    assert!(recording(run.folder()).status().unwrap().success());
    let block = journal().strip_prefix(&before).unwrap().to_owned();
    let sessions = Cell::new(1);
    let mut before = journal();
    killed(500, run.folder(), &RECORD, |kill| {
        let now = journal();
        if now == before {
            return Left::Old;
        }
        sessions.set(sessions.get() + 1);
        let own = format!("evening-2026-11-12-{} {{", sessions.get());
        assert_eq!(
            now,
            format!("{before}{}", block.replace("evening-2026-11-12 {", &own)),
            "after kill {kill}"
        );
        before = now;
        Left::New
    });
    let own = ["journal.wet", "plain.wet"];
    let left: Vec<String> = names(run.folder()).into_iter().filter(|name| !own.contains(&&**name)).collect();
    assert!(left.iter().all(|name| is_leftover(name)), "{left:?}");
    assert!(recording(run.folder()).status().unwrap().success());
    assert_eq!(journal().matches("\nsession ").count(), 1 + sessions.get() + 1);
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
    assert_eq!(run.args(["check"]).succeeds(), "nothing to fix in 6 files\n");
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

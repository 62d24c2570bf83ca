//! Very large darkrooms, and journals that are not ordinary files: pipes, links that leave the root, folders, and
//! files without write permission.

use super::{CALLS, Call, Ends, IN_A_DARKROOM, Input, SOUND, all_end_in_order, each, each_ends_in_order};

/// The sound recipe with a bottle of its developer.
fn with(more: &str) -> String {
    format!("{SOUND}bath dev-a {{\nin dev 1+1\nvolume 1 l\nmixed 2026-11-02\n}}\n{more}")
}

fn session(name: usize, lines: &str) -> String {
    format!("session s{name} {{\ndate 2026-11-05\nrecipe plain, fingerprint \"46ac83d1\"\n{lines}}}\n")
}

fn sessions(count: usize) -> String {
    each(count, |at| session(at, "slot 1 120\nbath dev-a\n"))
}

/// The sound recipe with more text, for `check` and the commands of a darkroom.
fn large(name: &str, ends: Ends, more: &str) -> Input {
    Input::new(name, ends, with(more)).in_a_darkroom().only(CALLS.iter().take(1).chain(&IN_A_DARKROOM))
}

/// Many sessions, each in a file of its own.
fn session_files(name: &str, count: usize) -> Input {
    let first = Input::new(name, Ends::Accepted, with("")).in_a_darkroom().only(&IN_A_DARKROOM);
    (0..count).fold(first, |input, at| {
        let (day, name) = (at % 28 + 1, format!("2026-10-{:02}-{:04}", at % 28 + 1, at));
        let text = format!(
            "date 2026-10-{day:02}\nrecipe plain, fingerprint \"46ac83d1\"\nslot 1 120\nbath dev-a\n"
        );
        let text = format!("wetside 2\nuse \"../a.wet\"\nsession {name} {{\n{text}}}\n");
        input.file(format!("journal/{name}.wet"), text)
    })
}

/// Many sessions, in files of 8,300.
fn journals(name: &str, files: usize) -> Input {
    let first = Input::new(name, Ends::Accepted, with("")).in_a_darkroom().only(&IN_A_DARKROOM);
    (0..files).fold(first, |input, file| {
        let head = "wetside 1\nuse \"a.wet\"\n";
        let own = each(8_300, |at| session(file * 8_300 + at, "slot 1 120\nbath dev-a\n"));
        input.file(format!("j{file}.wet"), format!("{head}{own}"))
    })
}

#[test]
fn very_long_backlogs_end_in_order() {
    let backlog = |name: usize, count: usize| {
        format!(
            "backlog b{name} {{\n{}}}\n",
            each(count, |at| format!("roll \"{name}-{at}\" 120 of plain-film\n"))
        )
    };
    let alike = each(5_000, |_| "roll \"R1\" 120 of plain-film\n".to_owned());
    each_ends_in_order(&[
        large("12 backlogs of 900 rolls", Ends::Accepted, &each(12, |at| backlog(at, 900))),
        large("a backlog of 9,900 rolls", Ends::Accepted, &backlog(0, 9_900)),
        large("a backlog of 12,000 rolls", Ends::Refused, &backlog(0, 12_000)),
        large("5,000 rolls of one label", Ends::Refused, &format!("backlog b {{\n{alike}}}\n")),
    ]);
}

#[test]
fn very_long_journals_end_in_order() {
    let slots = each(900, |at| format!("slot {} 120\n", at + 1));
    let one_roll = each(4_000, |at| session(at, "backlog one\nslot 1 \"R1\" 120\n"));
    let one_roll = format!("backlog one {{\nroll \"R1\" 120 of plain-film\n}}\n{one_roll}");
    let taken_back = each(4_000, |at| format!("retract s{at} because \"again\"\n"));
    each_ends_in_order(&[
        large("8,000 sessions", Ends::Accepted, &sessions(8_000)),
        large("a session of 900 rolls", Ends::Accepted, &session(0, &format!("{slots}bath dev-a\n"))),
        large("4,000 sessions, all taken back", Ends::Accepted, &format!("{}{taken_back}", sessions(4_000))),
        large(
            "4,000 sessions, taken back twice",
            Ends::Refused,
            &format!("{}{taken_back}{taken_back}", sessions(4_000)),
        ),
        large("a roll in 4,000 sessions", Ends::Refused, &one_roll),
        session_files("9,000 sessions in as many files", 9_000),
        journals("25,000 sessions in three files", 3),
        journals("100,000 sessions in twelve files", 12),
    ]);
}

#[test]
fn very_many_baths_and_tests_end_in_order() {
    let bath = |at: usize| format!("bath b{at} {{\nin dev 1+1\nvolume 1 l\nmixed 2026-11-02\n}}\n");
    let used = |at: usize| session(at, &format!("slot 1 120\nbath b{}\n", at % 2_000));
    let test = |at: usize| {
        format!("test t{at} {{\ndate 2026-11-05\nbath dev-a\nfilm plain-film\nclears 1:00 at 20 C\n}}\n")
    };
    let named = each(900, |at| format!("bath b{at}\n"));
    each_ends_in_order(&[
        large("2,000 baths in 5,000 sessions", Ends::Accepted, &(each(2_000, bath) + &each(5_000, used))),
        large("a bath of 8,000 tests", Ends::Accepted, &(each(8_000, test) + &sessions(1_000))),
        large(
            "a session of 900 baths",
            Ends::Accepted,
            &(each(2_000, bath) + &session(0, &format!("slot 1 120\n{named}"))),
        ),
    ]);
}

/// A sound darkroom cut off at every 11th byte, as after a full disk.
#[test]
fn a_journal_cut_anywhere_ends_in_order() {
    let whole = with(&format!(
        "test t {{\ndate 2026-11-05\nbath dev-a\nfilm plain-film\nclears 1:00 at 20 C\n}}\n\
         backlog waiting {{\nroll \"R1\" 120 of plain-film index 100 shot 2026-10-02\n}}\n{}\
         retract s0 because \"it was a different tank\"\n",
        session(0, "backlog waiting\nslot 1 \"R1\" 120\nbath dev-a\nnote \"cold\"\n")
    ));
    let from = SOUND.len();
    let cuts = (from..=whole.len()).step_by(11).map(|at| {
        let input = Input::new(format!("{at} bytes"), Ends::Either, whole.get(..at).unwrap());
        input.in_a_darkroom().only(CALLS.iter().take(1).chain(&IN_A_DARKROOM))
    });
    all_end_in_order(&cuts.collect::<Vec<_>>());
}

/// If all calls were refused, they would test nothing.
#[test]
fn a_sound_recipe_passes_every_command_in_a_darkroom() {
    let home = tempfile::TempDir::new().unwrap();
    let folder = Input::new("sound", Ends::Accepted, SOUND).in_a_darkroom().written(home.path());
    for call in &IN_A_DARKROOM {
        let ran = super::Ran::of(call.args, &folder, super::CPU_SECONDS_MAX);
        let said = String::from_utf8_lossy(&ran.err);
        assert!(ran.status.success(), "{:?} ends with {}: {said}", call.args, ran.status);
    }
}

/// Commands that must not write anything.
const INTO: [Call; 3] = [
    Call {
        args: &["record", "a.wet", "--at", "20C", "--rolls", "1x120", "--date", "2026-11-25"],
        accepted: &[],
        refused: &[2],
        writes: &[],
    },
    Call {
        args: &[
            "record",
            "a.wet",
            "--at",
            "20C",
            "--rolls",
            "1x120",
            "--date",
            "2026-11-25",
            "--journal",
            "journal.wet",
        ],
        accepted: &[],
        refused: &[2],
        writes: &[],
    },
    Call {
        args: &["record", "--undo", "--because", "x", "--journal", "journal.wet"],
        accepted: &[],
        refused: &[2],
        writes: &[],
    },
];

/// Creates an entry in place of the journal.
#[cfg(unix)]
type Furnish = fn(&std::path::Path);

#[cfg(unix)]
#[test]
fn a_journal_that_is_not_a_file_of_its_darkroom_is_refused() {
    use std::fs;
    use std::os::unix::fs::symlink;
    let furnished: [(&str, Furnish); 7] = [
        ("a link to the secret", |shelf| symlink("../secret.wet", shelf.join("journal.wet")).unwrap()),
        ("a link to a journal outside", |shelf| {
            fs::write(shelf.join("../outside.wet"), "wetside 1\n").unwrap();
            symlink("../outside.wet", shelf.join("journal.wet")).unwrap();
        }),
        ("a link to nothing outside", |shelf| symlink("../gone.wet", shelf.join("journal.wet")).unwrap()),
        ("a link to itself", |shelf| symlink("journal.wet", shelf.join("journal.wet")).unwrap()),
        ("a device that swallows all", |shelf| symlink("/dev/null", shelf.join("journal.wet")).unwrap()),
        ("a device without end", |shelf| symlink("/dev/zero", shelf.join("journal.wet")).unwrap()),
        ("a pipe", |shelf| {
            let made = std::process::Command::new("mkfifo").arg(shelf.join("journal.wet")).status();
            assert!(made.unwrap().success());
        }),
    ];
    let inputs = furnished
        .map(|(name, furnish)| Input::new(name, Ends::Refused, SOUND).furnished(furnish).only(&INTO));
    each_ends_in_order(&inputs);
}

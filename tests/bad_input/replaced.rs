//! The files that a command may replace. A replaced file keeps its owner, mode, attributes and other names.

use std::fs;
use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _, chown, symlink};
use std::process::{Command, Stdio};

use super::{EVENING, SOUND, beside_a_sound_one, card, names, outcome, told};
use crate::program::Run;
use crate::unprivileged::as_one_who_may_not;

const OLD: &str = "# what was there before\n";

/// With a solution to weigh, and a roll to plan for.
const MORE: &str = "
solution mix {
    role developer
    formula for 1 l {
        water 750 ml
        metol 2 g
        water to 1 l
    }
}

tank twin {
    reels 120 x 2, 500 ml each
}

backlog autumn {
    roll \"E-01\" 120 of plain-film
}
";

/// Every command that has `-o`, each with a call that reads `a.wet` and `used.wet`.
const CALLS: [&[&str]; 4] = [
    &["card", "a.wet", "--at", "20C", "--rolls", "1x120"],
    &["measure", "a.wet", "mix", "--make", "1l"],
    &["compare", "a.wet", "same.wet"],
    &["plan", "a.wet", "autumn", "--at", "20C", "--on", "2026-11-12"],
];

fn room() -> Run {
    let plain = SOUND.replace("wetside 1\n", "wetside 1\nuse \"used.wet\"\n");
    Run::new()
        .file("a.wet", format!("{plain}{MORE}"))
        .file("same.wet", &plain)
        .file("used.wet", "wetside 1\n")
}

fn called(run: Run, args: &[&str], output: &str) -> Run {
    args.iter().fold(run.again(), |run, arg| run.arg(*arg)).args(["--as", "text", "-o", output])
}

#[test]
fn no_command_replaces_its_own_input() {
    for args in CALLS {
        for path in ["a.wet", "used.wet", "./a.wet", "link.txt", "hard.txt"] {
            let run = room();
            let at = |name: &str| run.folder().join(name);
            symlink("used.wet", at("link.txt")).unwrap();
            fs::hard_link(at("a.wet"), at("hard.txt")).unwrap();
            let before = (fs::read(at("a.wet")).unwrap(), fs::read(at("used.wet")).unwrap());
            let run = called(run, args, path);
            told(&run, 2, &["one of the files that this call reads", "name another file"]);
            let run = run.args(["--replace"]);
            told(&run, 2, &["one of the files that this call reads"]);
            let at = |name: &str| run.folder().join(name);
            assert_eq!((fs::read(at("a.wet")).unwrap(), fs::read(at("used.wet")).unwrap()), before);
        }
    }
}

/// A link goes on pointing to its file, and a file with two names keeps both.
#[test]
fn a_recipe_a_config_file_and_the_target_of_a_link_are_replaced_only_with_replace() {
    let targets = [
        ("other.wet", "other.wet", "is a recipe file"),
        ("wetside.toml", "wetside.toml", "is a config file"),
        ("link.txt", "deeper/real.txt", "is a link to deeper/real.txt"),
        ("hard.txt", "deeper/twin.txt", "is a hard link"),
    ];
    for args in CALLS {
        for (path, real, words) in targets {
            // A plan reads every recipe file below this folder that git does not ignore.
            let run = room().file(".gitignore", "other.wet\n");
            let run = run.file("deeper/real.txt", OLD).file("deeper/twin.txt", OLD);
            let run = run.file("other.wet", format!("wetside 1\n{OLD}")).file("wetside.toml", OLD);
            symlink("deeper/real.txt", run.folder().join("link.txt")).unwrap();
            fs::hard_link(run.folder().join("deeper/twin.txt"), run.folder().join("hard.txt")).unwrap();
            let run = called(run, args, path);
            told(&run, 2, &[words, "--replace"]);
            assert!(fs::read_to_string(run.folder().join(real)).unwrap().ends_with(OLD));
            let run = run.args(["--replace"]);
            assert_eq!(run.succeeds(), "");
            assert!(!fs::read_to_string(run.folder().join(real)).unwrap().contains(OLD), "{run}");
            assert!(run.folder().join("link.txt").is_symlink());
            assert_eq!(fs::metadata(run.folder().join("hard.txt")).unwrap().nlink(), 2);
            let hidden = |name: &String| name.starts_with(".wetside");
            assert!(!names(run.folder()).iter().any(hidden), "{run} left something");
        }
    }
}

#[test]
fn replace_without_a_file_is_an_error() {
    told(&card(beside_a_sound_one(), "a.wet").args(["--replace"]), 2, &["-o <FILE>"]);
}

/// 0666 without 077 is 0600; without 002 it is 0664.
#[test]
fn a_new_file_has_the_mode_that_the_umask_leaves() {
    for (umask, mode) in [("077", 0o600), ("002", 0o664), ("022", 0o644)] {
        let run = beside_a_sound_one();
        let mut call = Command::new("/bin/sh");
        call.args(["-c", &format!("umask {umask}; exec \"$@\""), "sh", env!("CARGO_BIN_EXE_wetside")]);
        call.args(["card", "a.wet", "-o", "tonight.txt"]).args(EVENING).current_dir(run.folder());
        call.stdout(Stdio::piped()).stderr(Stdio::piped());
        let (status, _, stderr) = outcome(&mut call);
        assert_eq!((status, &*stderr), (0, ""));
        let made = fs::metadata(run.folder().join("tonight.txt")).unwrap();
        assert_eq!(made.permissions().mode() & 0o777, mode, "umask {umask}");
    }
}

fn tidied(run: Run) -> Run {
    let run = run.again().args(["tidy", "a.wet"]);
    run.succeeds();
    let text = fs::read_to_string(run.folder().join("a.wet")).unwrap();
    assert!(text.contains("    speed     ISO 100\n"), "{text}");
    assert!(!names(run.folder()).iter().any(|name| name.starts_with(".wetside")), "something was left");
    run
}

/// Only root gives a file to another; anyone else leaves this out.
#[test]
fn a_replaced_file_keeps_its_owner_and_its_group() {
    let run = beside_a_sound_one();
    let path = run.folder().join("a.wet");
    if chown(&path, Some(1234), Some(2345)).is_err() {
        return;
    }
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
    let run = tidied(run);
    let now = fs::metadata(run.folder().join("a.wet")).unwrap();
    assert_eq!((now.uid(), now.gid(), now.mode() & 0o777), (1234, 2345, 0o640));
}

/// All users may write to the folder, but not to the file: a user who may not write to it cannot replace it.
#[test]
fn a_file_that_this_user_may_not_write_to_is_unchanged() {
    let run = beside_a_sound_one();
    let path = run.folder().join("a.wet");
    if chown(&path, Some(1234), None).is_err() {
        return;
    }
    let Some(mut call) = as_one_who_may_not(run.folder()) else { return };
    fs::set_permissions(run.folder(), fs::Permissions::from_mode(0o777)).unwrap();
    let (status, _, stderr) = outcome(call.args(["tidy", "a.wet"]));
    assert!(status == 2 && stderr.contains("a.wet could not be written"), "{status}: {stderr}");
    assert_eq!(fs::read_to_string(&path).unwrap(), SOUND);
    assert_eq!(fs::metadata(&path).unwrap().uid(), 1234);
}

/// A file system without such attributes leaves this out.
#[test]
fn a_replaced_file_keeps_its_attributes() {
    let run = beside_a_sound_one();
    if xattr::set(run.folder().join("a.wet"), "user.shelf", b"third").is_err() {
        return;
    }
    let run = tidied(run);
    let kept = xattr::get(run.folder().join("a.wet"), "user.shelf").unwrap();
    assert_eq!(kept.as_deref(), Some(&b"third"[..]));
}

#[test]
fn a_file_with_two_names_has_the_new_text_under_both() {
    let run = beside_a_sound_one();
    fs::create_dir(run.folder().join("deeper")).unwrap();
    fs::hard_link(run.folder().join("a.wet"), run.folder().join("deeper/b.wet")).unwrap();
    let run = tidied(run);
    let read = |name: &str| fs::read_to_string(run.folder().join(name)).unwrap();
    assert_eq!(read("a.wet"), read("deeper/b.wet"));
    assert_eq!(fs::metadata(run.folder().join("a.wet")).unwrap().nlink(), 2);
}

/// A file size limit of one block simulates a full disk.
#[test]
fn a_file_with_two_names_stays_whole_if_the_disk_fills_up() {
    let rough = format!("{SOUND}{}", "# and on, and on, and on\n".repeat(100));
    let run = Run::new().file("a.wet", &rough);
    fs::hard_link(run.folder().join("a.wet"), run.folder().join("b.wet")).unwrap();
    let mut call = Command::new("/bin/sh");
    call.args(["-c", "trap '' XFSZ; ulimit -f 1; exec \"$@\"", "sh", env!("CARGO_BIN_EXE_wetside")]);
    call.args(["tidy", "a.wet"]).current_dir(run.folder()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let (status, _, stderr) = outcome(&mut call);
    assert!(status == 2 && stderr.contains("a.wet could not be written"), "{status}: {stderr}");
    assert_eq!(fs::read_to_string(run.folder().join("b.wet")).unwrap(), rough);
    assert_eq!(names(run.folder()), ["a.wet", "b.wet"]);
}

//! Files that are unreadable, not text, too large or endless.

use super::{SOUND, beside_a_sound_one, card, told};
use crate::program::Run;

#[test]
fn a_missing_file_or_a_folder_is_an_error() {
    let run = beside_a_sound_one().file("shelf.wet/inside.wet", SOUND).file("shelf/b.wet", SOUND);
    let run = card(run, "missing.wet");
    told(&run, 2, &["missing.wet cannot be read: there is no such file", "help:"]);
    let run = card(run.again(), "no/such/folder.wet");
    told(&run, 2, &["no/such/folder.wet cannot be read: there is no such file"]);
    let run = card(run.again(), "shelf");
    told(&run, 2, &["shelf cannot be read: it is a folder", "name a .wet file"]);
    let run = card(run.again(), "shelf.wet");
    told(&run, 2, &["shelf.wet cannot be read: it is a folder"]);
    let run = run.again().args(["check", "missing.wet"]);
    let (stdout, stderr) = run.fails(2);
    super::civil(&stderr);
    assert!(stderr.contains("missing.wet cannot be read") && !stdout.contains("missing"), "{stdout}{stderr}");
}

#[test]
fn a_folder_without_a_recipe_is_an_error() {
    told(&Run::new().arg("check"), 2, &["there is no .wet file here", "name a file or a folder"]);
    let run = card(Run::new(), "plain");
    told(&run, 2, &["there is no recipe 'plain' below this folder", "go to the folder of your recipes"]);
}

#[test]
fn a_file_of_another_encoding_is_an_error_that_names_the_file() {
    let wide = |little: bool| {
        let units = SOUND.encode_utf16();
        let bytes = units.flat_map(|unit| if little { unit.to_le_bytes() } else { unit.to_be_bytes() });
        [if little { [0xff, 0xfe] } else { [0xfe, 0xff] }.to_vec(), bytes.collect()].concat()
    };
    let latin = SOUND.replace("A plain one", "A pl\u{e0}in one");
    let before = latin.find('\u{e0}').unwrap();
    let latin: Vec<u8> = latin.chars().map(|letter| u8::try_from(letter).unwrap()).collect();
    let place = format!("it is not UTF-8, from byte {} on", before + 1);
    for (bytes, words) in [(wide(true), "UTF-16"), (wide(false), "UTF-16"), (latin, &*place)] {
        let run = card(Run::new().file("a.wet", &bytes), "a.wet");
        told(&run, 2, &["a.wet cannot be read", words, "with UTF-8 as its encoding"]);
        let run = run.again().args(["check", "a.wet"]);
        assert!(run.fails(2).1.contains(words));
        let run = card(run.again(), "-").stdin(bytes);
        told(&run, 2, &["standard input cannot be read", words]);
    }
}

#[test]
fn a_byte_order_mark_and_crlf_line_endings_change_nothing() {
    let sound = card(beside_a_sound_one(), "a.wet");
    let (text, json) = (sound.succeeds(), card(sound.again(), "a.wet").args(["--as", "json"]).succeeds());
    let two = SOUND.replace('\n', "\r\n");
    for other in [format!("\u{feff}{SOUND}"), two.clone(), format!("\u{feff}{two}")] {
        let run = card(Run::new().file("a.wet", other), "a.wet");
        assert_eq!(run.succeeds(), text);
        let run = card(run.again(), "a.wet").args(["--as", "json"]);
        assert_eq!(run.succeeds(), json);
        assert_eq!(run.again().arg("check").succeeds(), "nothing to fix in 1 file\n");
    }
}

#[test]
fn a_byte_order_mark_in_the_text_and_a_null_are_errors_of_the_recipe() {
    for odd in ["\u{feff}", "\0"] {
        let text = SOUND.replace("A plain one", &format!("A plain{odd} one"));
        let run = card(Run::new().file("a.wet", &text), "a.wet");
        told(&run, 1, &["hidden-character"]);
        let text = SOUND.replace("speed ISO", &format!("speed{odd}ISO"));
        told(&card(Run::new().file("a.wet", &text), "a.wet"), 1, &["hidden-character"]);
    }
}

#[test]
fn an_empty_file_is_an_error_with_the_missing_line() {
    for text in ["", "\n\n", "\u{feff}", "# nothing yet\n"] {
        let run = Run::new().file("a.wet", text).args(["check", "a.wet"]);
        let (stdout, stderr) = run.fails(1);
        assert!(stdout.contains("put 'wetside 1' in its first line"), "{text:?}: {stdout}");
        assert_eq!(stderr, "");
        told(&card(run.again(), "a.wet"), 1, &["put 'wetside 1' in its first line"]);
    }
    told(&card(Run::new(), "-"), 1, &["standard input", "put 'wetside 1' in its first line"]);
}

/// 1 MiB is 1,048,576 bytes; comments fill it up.
#[test]
fn a_file_may_have_one_mebibyte_and_no_byte_more() {
    let full = |bytes: usize| {
        let remarks = "# and on, and on, and on\n".repeat(1 + bytes / 25);
        let (own, more) = (SOUND.to_owned(), remarks.get(..bytes - SOUND.len() - 1).unwrap());
        own + more + "\n"
    };
    let run = card(Run::new().file("a.wet", full(1 << 20)), "a.wet");
    run.succeeds();
    for bytes in [(1 << 20) + 1, 2 << 20] {
        let text = full(bytes);
        let run = card(Run::new().file("a.wet", &text), "a.wet");
        told(&run, 2, &["a.wet cannot be read: it is over 1 MiB", "under 1 MiB"]);
        let run = card(run.again(), "-").stdin(text);
        told(&run, 2, &["standard input cannot be read: it is over 1 MiB"]);
    }
}

#[cfg(unix)]
mod of_this_system {
    use std::fs::{self, File, Permissions};
    use std::os::unix::fs::PermissionsExt as _;
    use std::path::Path;
    use std::process::Command;

    use super::super::{EVENING, SOUND, beside_a_sound_one, civil, command, outcome};
    use crate::program::Run;
    use crate::unprivileged::as_one_who_may_not;

    fn pipe(path: &Path) {
        assert!(Command::new("mkfifo").arg(path).status().unwrap().success());
    }

    /// No process writes into the pipe, so a process that opens it waits.
    #[test]
    fn a_pipe_and_an_endless_file_are_refused_at_once() {
        let run = Run::new();
        pipe(&run.folder().join("pipe.wet"));
        for path in ["pipe.wet", "/dev/zero", "/dev/null"] {
            for first in ["card", "check"] {
                let mut call = command(run.folder());
                call.args([first, path]).args(EVENING.iter().filter(|_| first == "card"));
                let (status, _, stderr) = outcome(&mut call);
                civil(&stderr);
                let told = stderr.contains(&format!("{path} cannot be read: it is not a plain file"));
                assert!(status == 2 && told, "{first} {path}: {status}: {stderr}");
            }
        }
    }

    #[test]
    fn endless_input_is_refused_at_once() {
        let run = Run::new();
        let mut call = command(run.folder());
        call.args(["card", "-"]).args(EVENING).stdin(File::open("/dev/zero").unwrap());
        let (status, _, stderr) = outcome(&mut call);
        assert!(status == 2 && stderr.contains("it is over 1 MiB"), "{status}: {stderr}");
    }

    #[test]
    fn a_pipe_that_a_recipe_uses_is_an_error_of_the_recipe() {
        let text = SOUND.replace("wetside 1\n", "wetside 1\nuse \"pipe.wet\"\n");
        let run = Run::new().file("a.wet", text);
        pipe(&run.folder().join("pipe.wet"));
        let (status, _, stderr) = outcome(command(run.folder()).args(["card", "a.wet"]).args(EVENING));
        assert!(status == 1 && stderr.contains("use-unreadable"), "{status}: {stderr}");
    }

    /// A search passes over what is no plain file.
    #[test]
    fn a_pipe_on_the_shelf_does_not_block_a_search() {
        let run = beside_a_sound_one();
        pipe(&run.folder().join("pipe.wet"));
        let (status, stdout, stderr) = outcome(command(run.folder()).args(["card", "plain"]).args(EVENING));
        assert!(status == 0 && stdout.contains("A plain one"), "{status}: {stderr}");
        let (status, stdout, _) = outcome(command(run.folder()).arg("check"));
        assert_eq!((status, &*stdout), (0, "nothing to fix in 1 file\n"));
    }

    #[test]
    fn an_unreadable_file_is_an_error() {
        let run = beside_a_sound_one();
        let file = run.folder().join("a.wet");
        fs::set_permissions(&file, Permissions::from_mode(0o000)).unwrap();
        let Some(mut call) = as_one_who_may_not(run.folder()) else { return };
        let (status, stdout, stderr) = outcome(call.args(["card", "a.wet"]).args(EVENING));
        civil(&stderr);
        assert_eq!((status, &*stdout), (2, ""), "{stderr}");
        assert!(stderr.contains("a.wet cannot be read: it may not be read"), "{stderr}");
    }
}

//! A recipe reads only below its root: other paths are refused, and no byte of them is shown.

use super::{SOUND, card, civil, harmless};
use crate::program::Run;

/// The text of the file that no recipe may read; no output may contain a word of it.
const SECRET: &str = "tidegate 4711\nfilm drowned \"floodmark\" {\n}\n";

/// Below `shelf` a recipe that uses this path; beside the folder a file that it may not read.
fn using(path: &str) -> Run {
    let text = SOUND.replace("wetside 1\n", &format!("wetside 1\nuse \"{path}\"\n"));
    Run::new().file("shelf/a.wet", text).file("secret.wet", SECRET).file("secret.txt", SECRET)
}

/// Refused under this name by `card` and `check`, and silent about what it may not read.
#[track_caller]
fn is_refused(run: Run, name: &str) -> Run {
    let run = card(run, "shelf/a.wet");
    let (stdout, stderr) = run.fails(1);
    assert_eq!(stdout, "");
    civil(&stderr);
    assert!(stderr.contains(name), "{stderr}");
    keeps_silent(&stderr);
    let run = run.again().args(["check", "shelf"]);
    let (stdout, stderr) = run.fails(1);
    assert!(stdout.contains(name) && stderr.is_empty(), "{stdout}{stderr}");
    keeps_silent(&stdout);
    run
}

#[track_caller]
fn keeps_silent(said: &str) {
    harmless(said);
    for word in ["tidegate", "4711", "drowned", "floodmark"] {
        assert!(!said.contains(word), "it tells {word}:\n{said}");
    }
}

#[test]
fn a_path_that_leaves_the_root_is_refused() {
    for path in
        ["../secret.wet", "x/../../secret.wet", "./../secret.wet", "../shelf/../secret.wet", "../missing.wet"]
    {
        let _ = is_refused(using(path), "use-outside");
    }
}

#[test]
fn an_absolute_path_or_one_of_another_system_is_refused() {
    for path in
        ["/etc/hostname.wet", "~/secret.wet", "C:/secret.wet", "..\\secret.wet", "file:secret.wet", "*.wet"]
    {
        let _ = is_refused(using(path), "use-outside");
    }
    let run = Run::new();
    let whole = run.folder().join("secret.wet").display().to_string();
    let text = SOUND.replace("wetside 1\n", &format!("wetside 1\nuse \"{whole}\"\n"));
    let _ = is_refused(run.file("shelf/a.wet", text).file("secret.wet", SECRET), "use-outside");
}

#[test]
fn a_path_that_is_not_a_recipe_file_is_an_error() {
    for path in ["../secret.txt", "secret.txt", "/etc/passwd", "", ".", "secret"] {
        let _ = is_refused(using(path).file("shelf/secret.txt", SECRET), "use-outside");
    }
}

/// The root is the nearest folder above with `.git`; the author of a recipe does not choose it.
#[test]
fn the_root_of_a_repository_is_its_top_folder() {
    let text = SOUND.replace("wetside 1\n", "wetside 1\nuse \"../../../secret.wet\"\n");
    let run = using("x.wet").file("shelf/.git/HEAD", "").file("shelf/one/two/b.wet", text);
    let run = run.args(["check", "shelf/one/two/b.wet"]);
    let (stdout, _) = run.fails(1);
    assert!(stdout.contains("use-outside"), "{stdout}");
    keeps_silent(&stdout);
    // Up to the top it may go.
    let text = SOUND.replace("wetside 1\n", "wetside 1\nuse \"../../tanks.wet\"\n");
    let tank = "wetside 1\ntank two {\nreels 120 x 2, 600 ml each\nfill 10 s\ndrain 10 s\n}\n";
    let run = run.again().file("shelf/tanks.wet", tank).file("shelf/one/two/b.wet", text);
    let run = card(run, "shelf/one/two/b.wet");
    assert!(run.succeeds().contains("600 ml"));
}

#[cfg(unix)]
mod by_links {
    use std::os::unix::fs::symlink;

    use super::{is_refused, keeps_silent, using};
    use crate::program::Run;

    #[test]
    fn a_link_that_leads_out_is_refused() {
        let run = using("link.wet");
        symlink("../secret.wet", run.folder().join("shelf/link.wet")).unwrap();
        let run = run.args(["check", "shelf/a.wet"]);
        let (stdout, _) = run.fails(1);
        assert!(stdout.contains("use-outside"), "{stdout}");
        keeps_silent(&stdout);
    }

    #[test]
    fn a_folder_that_is_a_link_out_is_refused() {
        let run = using("out/secret.wet");
        symlink("..", run.folder().join("shelf/out")).unwrap();
        let _ = is_refused(run, "use-outside");
    }

    #[test]
    fn a_link_to_a_link_out_is_refused() {
        let run = using("first.wet");
        symlink("second.wet", run.folder().join("shelf/first.wet")).unwrap();
        symlink("../secret.wet", run.folder().join("shelf/second.wet")).unwrap();
        let (stdout, _) = run.args(["check", "shelf/a.wet"]).fails(1);
        assert!(stdout.contains("use-outside"), "{stdout}");
        keeps_silent(&stdout);
    }

    /// Else a recipe could ask of any file of the machine whether it is there.
    #[test]
    fn the_error_for_a_link_out_does_not_show_whether_its_target_exists() {
        let through = |path: &str| {
            let run = using(path);
            symlink("..", run.folder().join("shelf/out")).unwrap();
            symlink("../secret.wet", run.folder().join("shelf/there.wet")).unwrap();
            symlink("../gone.wet", run.folder().join("shelf/gone.wet")).unwrap();
            let (stdout, _) = run.args(["check", "--as", "lines", "shelf/a.wet"]).fails(1);
            stdout
        };
        for (there, gone) in [("out/secret.wet", "out/gone.wet"), ("there.wet", "gone.wet")] {
            let (there, gone) = (through(there), through(gone));
            assert_eq!(there, gone);
            assert!(there.contains("use-outside"), "{there}");
        }
        assert!(through("missing.wet").contains("there is no such file"));
    }

    /// A call that names a folder does not name the targets of its links.
    #[test]
    fn a_search_follows_no_link_out_of_the_folder() {
        let run = Run::new().file("shelf/a.wet", super::SOUND).file("secret.txt", super::SECRET);
        symlink("../secret.txt", run.folder().join("shelf/link.wet")).unwrap();
        let run = run.args(["check", "shelf"]);
        assert_eq!(run.succeeds(), "nothing to fix in 1 file\n");
    }
}

//! Imports in circles and diamonds, links, pipes, devices, folders, and names that are not UTF-8.

use std::path::Path;

use super::{Ends, Input, SOUND, all_end_in_order};

/// The sound recipe with these imports.
fn using(paths: &[&str]) -> String {
    let uses: String = paths.iter().map(|path| format!("use \"{path}\"\n")).collect();
    SOUND.replace("wetside 1\n", &format!("wetside 1\n{uses}"))
}

fn uses(paths: &[String]) -> String {
    let uses: String = paths.iter().map(|path| format!("use \"{path}\"\n")).collect();
    format!("wetside 1\n{uses}")
}

fn circles() -> Vec<Input> {
    let mut inputs = Vec::new();
    for length in [2, 3, 16, 17, 100] {
        let name =
            |at: usize| if at.is_multiple_of(length) { "a.wet".to_owned() } else { format!("c{at}.wet") };
        let first = Input::new(format!("a circle of {length}"), Ends::Refused, using(&[&name(1)]));
        inputs.push((1..length).fold(first, |input, at| input.file(name(at), uses(&[name(at + 1)]))));
    }
    // Each of 30 imports all of them.
    let all: Vec<String> = (0..30).map(|at| format!("k{at}.wet")).collect();
    let first = Input::new("30 that all use each other", Ends::Refused, using(&["k0.wet"]));
    inputs.push(all.iter().fold(first, |input, name| input.file(name, uses(&all))));
    let by_other_ways = using(&["sub/../b.wet", "./sub/./b.wet"]);
    let circle = Input::new("a circle through other spellings", Ends::Refused, by_other_ways);
    inputs.push(
        circle
            .file("b.wet", uses(&["sub/b.wet".to_owned()]))
            .file("sub/b.wet", "wetside 1\nuse \"../a.wet\"\n"),
    );
    inputs
}

/// Levels of two files, each importing both of the next level: 2^30 paths to the last file.
fn diamonds() -> Vec<Input> {
    let mut inputs = Vec::new();
    for (storeys, ends) in [(16, Ends::Accepted), (17, Ends::Refused), (30, Ends::Refused)] {
        let both = |at: usize| [format!("l{at}.wet"), format!("r{at}.wet")];
        let mut input = Input::new(
            format!("diamonds {storeys} deep"),
            ends,
            using(&both(1).each_ref().map(String::as_str)),
        );
        for at in 1..=storeys {
            for name in both(at) {
                let text = if at == storeys { "wetside 1\n".to_owned() } else { uses(&both(at + 1)) };
                input = input.file(name, text);
            }
        }
        inputs.push(input);
    }
    inputs
}

fn many() -> Vec<Input> {
    let names = |count: usize| (0..count).map(|at| format!("m{at}.wet")).collect::<Vec<_>>();
    let with = |count: usize, ends| {
        let names = names(count);
        let text = using(&names.iter().map(String::as_str).collect::<Vec<_>>());
        let input = Input::new(format!("{count} files in use"), ends, text);
        names.iter().fold(input, |input, name| input.file(name, "wetside 1\n"))
    };
    let missing = names(3_000);
    let missing = using(&missing.iter().map(String::as_str).collect::<Vec<_>>());
    vec![
        with(256, Ends::Accepted),
        with(257, Ends::Refused),
        Input::new("3,000 imports of missing files", Ends::Refused, missing),
        Input::new("a file of 2 MiB in use", Ends::Refused, using(&["b.wet"]))
            .file("b.wet", "# and on\n".repeat(240_000)),
        Input::new("one file used 500 times", Ends::Accepted, using(&["b.wet"; 500]))
            .file("b.wet", "wetside 1\nfilm other-film {\nspeed ISO 100\n}\n"),
        Input::new("a folder in use", Ends::Refused, using(&["b.wet"])).file("b.wet/c.wet", "wetside 1\n"),
        Input::new("a recipe below what is a file", Ends::Refused, using(&["a.wet/b.wet"])),
        Input::new("a used file that is no text", Ends::Refused, using(&["b.wet"]))
            .file("b.wet", [0xff, 0xfe, 0, 0xd8]),
        Input::new("a used file of marks and escapes", Ends::Refused, using(&["b.wet"]))
            .file("b.wet", "wetside 1\nfilm \u{202e}\u{1b}[2J {\n}\n"),
    ]
}

#[cfg(unix)]
fn link(to: &str, at: &Path) {
    std::os::unix::fs::symlink(to, at).unwrap();
}

#[cfg(unix)]
fn by_links() -> Vec<Input> {
    let b = || using(&["b.wet"]);
    vec![
        Input::new("a link out of the root", Ends::Refused, b())
            .furnished(|shelf| link("../secret.wet", &shelf.join("b.wet"))),
        Input::new("a link out by a whole path", Ends::Refused, b()).furnished(|shelf| {
            link(&shelf.join("../secret.wet").display().to_string(), &shelf.join("b.wet"))
        }),
        Input::new("a link to what is no recipe", Ends::Refused, b())
            .furnished(|shelf| link("../secret.txt", &shelf.join("b.wet"))),
        Input::new("a link to the passwords", Ends::Refused, b())
            .furnished(|shelf| link("/etc/passwd", &shelf.join("b.wet"))),
        Input::new("a folder that leads out", Ends::Refused, using(&["out/secret.wet"]))
            .furnished(|shelf| link("..", &shelf.join("out"))),
        Input::new("out and in again", Ends::Refused, using(&["out/shelf/../secret.wet"]))
            .furnished(|shelf| link("..", &shelf.join("out"))),
        Input::new("a link to itself", Ends::Refused, b())
            .furnished(|shelf| link("b.wet", &shelf.join("b.wet"))),
        Input::new("links in a circle", Ends::Refused, b()).furnished(|shelf| {
            link("c.wet", &shelf.join("b.wet"));
            link("b.wet", &shelf.join("c.wet"));
        }),
        Input::new("a link to nothing", Ends::Refused, b())
            .furnished(|shelf| link("missing.wet", &shelf.join("b.wet"))),
        Input::new("a folder in itself", Ends::Accepted, using(&["d/d/d/d/e.wet"]))
            .file("e.wet", "wetside 1\n")
            .furnished(|shelf| link(".", &shelf.join("d"))),
        Input::new("a link to a file of the root", Ends::Accepted, b())
            .file("e.wet", "wetside 1\n")
            .furnished(|shelf| link("e.wet", &shelf.join("b.wet"))),
        Input::new("a link back to the recipe", Ends::Refused, b())
            .furnished(|shelf| link("a.wet", &shelf.join("b.wet"))),
        Input::new("100 links one after another", Ends::Refused, b()).furnished(|shelf| {
            link("c0.wet", &shelf.join("b.wet"));
            (0..100).for_each(|at| link(&format!("c{}.wet", at + 1), &shelf.join(format!("c{at}.wet"))));
        }),
        Input::new("a device without end", Ends::Refused, b())
            .furnished(|shelf| link("/dev/zero", &shelf.join("b.wet"))),
        Input::new("a device of chance", Ends::Refused, b())
            .furnished(|shelf| link("/dev/urandom", &shelf.join("b.wet"))),
        Input::new("its own standard input", Ends::Refused, b())
            .furnished(|shelf| link("/dev/stdin", &shelf.join("b.wet"))),
        Input::new("a pipe", Ends::Refused, b()).furnished(|shelf| {
            let made = std::process::Command::new("mkfifo").arg(shelf.join("b.wet")).status();
            assert!(made.unwrap().success());
        }),
        Input::new("a socket", Ends::Refused, b())
            .furnished(|shelf| drop(std::os::unix::net::UnixListener::bind(shelf.join("b.wet")).unwrap())),
        // Eight times the size limit, as a sparse file.
        Input::new("a file of nothing but length", Ends::Refused, b())
            .furnished(|shelf| std::fs::File::create(shelf.join("b.wet")).unwrap().set_len(8 << 20).unwrap()),
    ]
}

#[cfg(not(unix))]
fn by_links() -> Vec<Input> {
    Vec::new()
}

/// File names that are not UTF-8.
#[cfg(target_os = "linux")]
fn odd_names() -> Vec<Input> {
    use std::ffi::OsStr;
    use std::os::unix::ffi::OsStrExt as _;
    let beside = |name: &[u8], ends, text: String| {
        let input = Input::new(format!("beside {}", name.escape_ascii()), ends, text);
        input.file(OsStr::from_bytes(name), "wetside 1\n")
    };
    vec![
        beside(b"b\xff\xfe.wet", Ends::Accepted, SOUND.to_owned()),
        beside(b"b\xff.wet", Ends::Refused, using(&["b\u{fffd}.wet"])),
        beside("b\u{202e}.wet".as_bytes(), Ends::Refused, using(&["b\u{202e}.wet"])),
        beside(b"b\x1b[2J.wet", Ends::Refused, using(&["b\x1b[2J.wet"])),
        beside("潮 目.wet".as_bytes(), Ends::Accepted, using(&["潮 目.wet"])),
        beside(b"-o.wet", Ends::Accepted, using(&["-o.wet"])),
        beside(b"$(touch owned).wet", Ends::Accepted, using(&["$(touch owned).wet"])),
    ]
}

#[cfg(not(target_os = "linux"))]
fn odd_names() -> Vec<Input> {
    Vec::new()
}

/// All inputs of this module.
pub(super) fn inputs() -> Vec<Input> {
    let all = [circles(), diamonds(), many(), by_links(), odd_names()].into_iter().flatten();
    all.map(Input::in_a_darkroom).collect()
}

#[test]
fn links_end_in_order() {
    all_end_in_order(&inputs());
}

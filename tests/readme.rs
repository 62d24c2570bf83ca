//! Whoever follows the README gets what it shows: its commands are run, its files written, and what they print
//! is compared. The pages beside it name only files and tests that exist.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use tempfile::TempDir;

use crate::program::Run;

/// What the README has a newcomer type for the program itself.
const PROGRAM: &str = "cargo run --release -- ";
/// Stands where an output is cut.
const CUT: &str = "\n…\n";

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn text(path: &str) -> String {
    fs::read_to_string(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// What stands between two fences of a page.
struct Fence {
    /// What it is: `sh`, `console`, `wet`, `toml`, `yaml`, `diff`, or `text`, which a file has become.
    kind: String,
    /// The file's name, for a recipe.
    name: String,
    /// The paragraph above it.
    above: String,
    body: String,
}

fn fences(page: &str) -> Vec<Fence> {
    let (mut fences, mut above) = (Vec::new(), String::new());
    let mut lines = page.lines();
    while let Some(line) = lines.next() {
        match line.strip_prefix("```") {
            Some(info) => {
                let (kind, name) = info.split_once(' ').unwrap_or((info, ""));
                let inside = lines.by_ref().take_while(|line| *line != "```");
                let body = inside.map(|line| format!("{line}\n")).collect();
                let (kind, name) = (kind.to_owned(), name.to_owned());
                fences.push(Fence { kind, name, above: std::mem::take(&mut above), body });
            }
            None if line.is_empty() => {}
            None => above = format!("{above}{line}\n"),
        }
    }
    fences
}

/// A newcomer's desk: the clone, and beside it the folder that the README has them make.
struct Desk {
    folder: TempDir,
    /// The file written last.
    last: PathBuf,
}

impl Desk {
    fn new() -> Desk {
        let folder = TempDir::new().unwrap();
        copy_recipes(root(), &folder.path().join("clone"));
        fs::create_dir(folder.path().join("clone/.git")).unwrap();
        Desk { folder, last: PathBuf::new() }
    }

    fn clone(&self) -> PathBuf {
        self.folder.path().join("clone")
    }

    fn mine(&self) -> PathBuf {
        self.folder.path().join("mine")
    }

    /// Does what a command does, and gives its exit status and all that it prints.
    fn run(&self, command: &str) -> (i32, String) {
        if command == "mkdir ../mine" {
            fs::create_dir(self.mine()).unwrap();
            return (0, String::new());
        }
        if command == "cargo test" {
            // This is it.
            return (0, String::new());
        }
        let (command, into) = command.split_once(" > ").map_or((command, None), |(c, into)| (c, Some(into)));
        let arguments = command.strip_prefix(PROGRAM);
        let arguments = arguments.unwrap_or_else(|| panic!("this test cannot run `{command}`"));
        assert!(!arguments.contains(['"', '\'', '|', '>']), "this test is no shell: {command}");
        let output = Command::new(env!("CARGO_BIN_EXE_wetside"))
            .args(arguments.split_whitespace())
            .current_dir(self.clone())
            .env_clear()
            .output()
            .unwrap();
        let printed = match into {
            Some(file) => {
                fs::write(self.clone().join(file), output.stdout).unwrap();
                output.stderr
            }
            None => [output.stdout, output.stderr].concat(),
        };
        (output.status.code().unwrap(), String::from_utf8(printed).unwrap())
    }

    fn write(&mut self, name: &str, body: &str) {
        self.last = self.mine().join(name);
        fs::write(&self.last, body).unwrap();
    }

    /// Hooks are what this test can read without a library for it: a list of plain words. Each one's entry is
    /// run as a hook is: in the root, with files behind it.
    fn hooks(&self, fence: &Fence) {
        assert_eq!(fence.name, ".pre-commit-hooks.yaml");
        let keys = ["- id: ", "  name: ", "  entry: ", "  language: ", "  files: "];
        let lines: Vec<&str> = fence.body.lines().collect();
        assert_eq!(lines.len(), 2 * keys.len());
        for hook in lines.chunks(keys.len()) {
            let values: Vec<&str> =
                hook.iter().zip(keys).map(|(line, key)| line.strip_prefix(key).unwrap()).collect();
            assert_eq!(values[3..], ["system", r"\.wet$"]);
            let words: Vec<&str> = values[2].split(' ').collect();
            assert_eq!((words[0], values[1]), ("wetside", words[..2].join(" ").as_str()));
            assert_eq!(values[0], words[..2].join("-"));
            let output = Command::new(env!("CARGO_BIN_EXE_wetside"))
                .args(&words[1..])
                .arg(&self.last)
                .current_dir(self.clone())
                .env_clear()
                .output()
                .unwrap();
            assert!(output.status.success(), "{hook:?}");
        }
    }

    /// Carries out a change that the README asks for in the file written last.
    fn change(&self, body: &str) {
        let of = |sign: char| -> String {
            body.lines().filter_map(|line| line.strip_prefix(sign)).map(|line| format!("{line}\n")).collect()
        };
        let before = fs::read_to_string(&self.last).unwrap();
        assert_eq!(before.matches(&of('-')).count(), 1, "not once in {:?}:\n{body}", self.last);
        fs::write(&self.last, before.replace(&of('-'), &of('+'))).unwrap();
    }
}

/// All recipes of a clone, wherever they stand, since a name is looked for in every one of them.
fn copy_recipes(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let from = entry.unwrap().path();
        let name = from.file_name().unwrap().to_string_lossy().into_owned();
        if from.is_dir() && name != "target" && name != ".git" {
            copy_recipes(&from, &to.join(name));
        } else if name.ends_with(".wet") || name == ".ignore" || name == ".gitignore" {
            fs::copy(&from, to.join(name)).unwrap();
        }
    }
}

/// A `console` fence is a command and what it prints, up to where it is cut.
#[track_caller]
fn holds(desk: &Desk, body: &str) {
    let (command, shown) = body.strip_prefix("$ ").and_then(|rest| rest.split_once('\n')).unwrap();
    assert!(!shown.contains("\n$ "), "one command a fence: {body}");
    let (status, printed) = desk.run(command);
    match shown.strip_suffix(CUT) {
        Some(begins) => assert!(
            printed.starts_with(begins) && printed.len() > begins.len(),
            "`{command}` prints\n{printed}\nbut shown is\n{shown}"
        ),
        None => assert_eq!(printed, shown, "`{command}`"),
    }
    let is_of_another_work = shown.contains(" → ") && command.contains(" compare ");
    let expected = i32::from(shown.contains("error[") || is_of_another_work);
    assert_eq!(status, expected, "the exit status of `{command}`");
}

#[test]
fn whoever_follows_the_readme_gets_what_it_shows() {
    let mut desk = Desk::new();
    for fence in fences(&text("README.md")) {
        match fence.kind.as_str() {
            "sh" => {
                for command in fence.body.lines() {
                    let (status, printed) = desk.run(command);
                    assert_eq!(status, 0, "`{command}`\n{printed}");
                }
            }
            "console" => holds(&desk, &fence.body),
            "wet" => {
                let named = format!("`{}`", fence.name);
                assert!(fence.above.contains(&named), "the text above does not name {named}");
                desk.write(&fence.name, &fence.body);
            }
            "toml" => {
                assert_eq!(fence.name, "wetside.toml");
                fs::write(desk.mine().join(&fence.name), &fence.body).unwrap();
            }
            "yaml" => desk.hooks(&fence),
            "diff" => desk.change(&fence.body),
            "text" => {
                assert_eq!(fs::read_to_string(&desk.last).unwrap(), fence.body, "the file written last")
            }
            other => panic!("a fence of `{other}` is neither run nor read: {}", fence.body),
        }
    }
}

/// What is set up is set up by two commands, and the card shown is that of the first of them.
#[test]
fn the_readme_begins_with_two_commands() {
    let page = text("README.md");
    let begins = page.split("\n## ").next().unwrap();
    assert!(begins.contains(concat!("Rust ", env!("CARGO_PKG_RUST_VERSION"))), "which Rust it needs");
    let commands: Vec<String> = fences(begins).into_iter().map(|fence| fence.body).collect();
    assert_eq!(commands.len(), 2, "{commands:?}");
    assert!(commands.iter().all(|fence| fence.lines().count() == 1), "{commands:?}");
    assert!(commands.first().unwrap().starts_with(PROGRAM));
    assert_eq!(commands.last().unwrap(), "cargo test\n");
    let shown = fences(&page).into_iter().find(|fence| fence.kind == "console").unwrap();
    assert!(shown.body.starts_with(&format!("$ {}", commands.first().unwrap())));
    assert!(shown.body.contains("\nTOTAL "), "the work is shown whole");
}

/// No command but the program's own, and each of them.
#[test]
fn the_readme_tells_of_every_command_and_of_no_other() {
    let (_, help) = Desk::new().run(&format!("{PROGRAM}--help"));
    let listed = help.split_once("Commands:\n").unwrap().1.split("\n\n").next().unwrap().to_owned();
    let names = listed.lines().filter_map(|line| line.split_whitespace().next());
    let names: Vec<&str> = names.filter(|name| *name != "help").collect();
    let page = text("README.md");
    let told = page.lines().filter_map(|line| line.strip_prefix("| `wetside ")?.split([' ', '`']).next());
    assert_eq!(told.collect::<Vec<_>>(), names);
}

/// The pages that lead from one to another, each with the folder that its links begin in.
const PAGES: [(&str, &str); 3] = [("README.md", ""), ("DEVELOPERS.md", ""), ("grammar/README.md", "grammar")];

#[test]
fn every_link_of_a_page_leads_somewhere() {
    for (page, folder) in PAGES {
        let text = text(page);
        let links: Vec<&str> = text.split("](").skip(1).filter_map(|rest| rest.split(')').next()).collect();
        assert!(!links.is_empty(), "{page} has no link");
        for link in links {
            match link.strip_prefix('#') {
                Some(heading) => assert!(headings(&text).contains(&heading.to_owned()), "{page}: {link}"),
                None => assert!(root().join(folder).join(link).exists(), "{page}: {link}"),
            }
        }
    }
}

/// The headings of a page as links name them.
fn headings(page: &str) -> Vec<String> {
    let heads = page.lines().filter(|line| line.starts_with('#'));
    heads.map(|line| line.trim_start_matches('#').trim().to_lowercase().replace(' ', "-")).collect()
}

/// What DEVELOPERS.md sets as code and has the form of a path, it names.
#[test]
fn every_path_in_developers_md_exists() {
    let text = text("DEVELOPERS.md");
    let set = text.split('`').skip(1).step_by(2);
    let paths: Vec<&str> = set
        .filter(|code| {
            ["src/", "tests/", "grammar/", "recipes/", ".ci/"].iter().any(|top| code.starts_with(top))
        })
        .filter(|code| !code.contains(|letter: char| letter.is_ascii_uppercase() || letter == '*'))
        .collect();
    assert!(!paths.is_empty());
    for path in paths {
        assert!(root().join(path).exists(), "{path}");
    }
}

#[test]
fn developers_md_tells_what_each_file_of_tests_holds() {
    let text = text("DEVELOPERS.md");
    let names = fs::read_dir(root().join("tests")).unwrap().map(|entry| entry.unwrap().file_name());
    let names: Vec<String> = names.map(|name| name.to_string_lossy().into_owned()).collect();
    let untold: Vec<&String> = names
        .iter()
        .filter(|name| name.ends_with(".rs") && *name != "main.rs")
        .filter(|name| !text.contains(&format!("`tests/{name}`")))
        .collect();
    assert!(names.len() > 20 && untold.is_empty(), "{untold:?}");
}

/// The rows of the README are the endings that the program knows.
#[test]
fn the_readme_tells_of_every_ending() {
    let text = text("README.md");
    let table = text.split_once("\n| ending | for |\n").unwrap().1.split("\n\n").next().unwrap();
    let mut told: Vec<&str> = table.lines().skip(1).filter_map(|row| row.split('`').nth(1)).collect();
    let call = ["card", "estuary-400-mq", "--at", "20C", "--rolls", "1x120", "-o", "card.none"];
    let (_, said) = Run::new().args(call).fails(2);
    let known = said.split_once("ends in").unwrap().1.split(", or say").next().unwrap();
    let mut known: Vec<&str> =
        known.split([' ', ',', '\n']).filter(|word| word.len() > 1 && word.starts_with('.')).collect();
    known.sort_unstable();
    told.sort_unstable();
    assert_eq!(told, known);
}

/// An invariant is held by the test that is named beside it.
#[test]
fn every_test_that_developers_md_names_exists() {
    let text = text("DEVELOPERS.md");
    let section = text.split_once("\n## What must not be\n").unwrap().1.split("\n## ").next().unwrap();
    let named: Vec<&str> = section.split('`').skip(1).step_by(2).filter(|code| is_test(code)).collect();
    assert!(!named.is_empty());
    let all = sources(&root().join("tests"));
    for name in named {
        assert!(all.contains(&format!("fn {name}(")), "no test is called {name}");
    }
}

fn is_test(code: &str) -> bool {
    code.contains('_') && code.chars().all(|letter| letter.is_ascii_lowercase() || letter == '_')
}

/// The texts of all tests, one after the other.
fn sources(folder: &Path) -> String {
    let mut all = String::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            all.push_str(&sources(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            all.push_str(&fs::read_to_string(path).unwrap());
        }
    }
    all
}

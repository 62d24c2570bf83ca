//! Runs the commands of the README and of the guide, writes their files, and compares the outputs. With
//! `INSTA_UPDATE=always` it writes the outputs that differ into the pages. It also checks links and paths.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use tempfile::TempDir;

use crate::program::Run;

/// How the first command of the README runs the program, before it is installed.
const BUILT: &str = "cargo run --release -- ";
/// The name of the program in all other commands.
const PROGRAM: &str = "wetside ";
/// Marks where a page cuts an output.
const CUT: &str = "\n…\n";

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn text(path: &str) -> String {
    fs::read_to_string(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

/// A fenced block of a page.
struct Fence {
    /// `sh`, `console`, `wet`, `toml`, `yaml`, `diff`, or `text` for the current contents of a file.
    kind: String,
    /// The name of the file, for a recipe or a change.
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

/// A reader's folders: the clone, and beside it the folder that the README tells them to make.
struct Desk {
    folder: TempDir,
    /// The file that was written last.
    last: PathBuf,
    /// The commits that were made, each on its own day.
    commits: u32,
    /// Whether the program `git` is installed. Without it, commits and histories are left out.
    has_git: bool,
}

impl Desk {
    fn new() -> Desk {
        let folder = TempDir::new().unwrap();
        copy_recipes(root(), &folder.path().join("clone"));
        fs::create_dir(folder.path().join("clone/.git")).unwrap();
        fs::create_dir(folder.path().join("mine")).unwrap();
        let has_git = Command::new("git").arg("--version").output().is_ok();
        Desk { folder, last: PathBuf::new(), commits: 0, has_git }
    }

    fn clone(&self) -> PathBuf {
        self.folder.path().join("clone")
    }

    fn mine(&self) -> PathBuf {
        self.folder.path().join("mine")
    }

    /// Runs a command; gives its exit status and everything it prints.
    fn run(&self, command: &str) -> (i32, String) {
        if command == "cargo test" {
            // That is this run.
            return (0, String::new());
        }
        let (command, into) = command.split_once(" > ").map_or((command, None), |(c, into)| (c, Some(into)));
        let arguments = command.strip_prefix(BUILT).or_else(|| command.strip_prefix(PROGRAM));
        let arguments = arguments.unwrap_or_else(|| panic!("this test cannot run `{command}`"));
        assert!(!arguments.contains(['"', '\'', '|', '>']), "this test is no shell: {command}");
        let output = Command::new(env!("CARGO_BIN_EXE_wetside"))
            .args(arguments.split_whitespace())
            .current_dir(self.clone())
            .env_clear()
            .env("PATH", std::env::var_os("PATH").unwrap_or_default())
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

    /// Runs git in the clone, which the test has copied without its repository.
    fn git(&mut self, arguments: &str) {
        let words = arguments.split('"').enumerate().flat_map(|(at, part)| -> Vec<&str> {
            if at % 2 == 1 { vec![part] } else { part.split_whitespace().collect() }
        });
        let words: Vec<&str> = words.collect();
        let clone = self.clone();
        let run = |words: &[&str], day: u32| {
            let date = format!("2026-11-{:02}T20:00:00Z", 13 + 7 * day);
            let mut call = Command::new("git");
            call.args(["-c", "user.name=n", "-c", "user.email=n@invalid", "-c", "init.defaultBranch=main"]);
            call.env("GIT_AUTHOR_DATE", &date).env("GIT_COMMITTER_DATE", &date);
            let output = call.args(words).current_dir(&clone).output().unwrap();
            assert!(output.status.success(), "{words:?}: {output:?}");
        };
        if !self.has_git {
            return;
        }
        if !self.clone().join(".git/HEAD").exists() {
            run(&["init", "--quiet"], 0);
        }
        self.commits += u32::from(words.first() == Some(&"commit"));
        run(&words, self.commits);
    }

    fn write(&mut self, name: &str, body: &str) {
        self.last = self.at(name);
        fs::write(&self.last, body).unwrap();
    }

    /// A file of the reader's own folder; with `./` before its name, one of the clone.
    fn at(&self, name: &str) -> PathBuf {
        name.strip_prefix("./").map_or_else(|| self.mine().join(name), |name| self.clone().join(name))
    }

    /// Runs each hook as a hook tool does: in the root, with files as arguments. The YAML is a plain list, so no
    /// library reads it.
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

    /// Applies a `diff` to the file of this name, or else to the one that was written last.
    fn change(&mut self, name: &str, body: &str) {
        if !name.is_empty() {
            self.last = self.at(name);
        }
        let of = |sign: char| -> String {
            body.lines().filter_map(|line| line.strip_prefix(sign)).map(|line| format!("{line}\n")).collect()
        };
        let before = fs::read_to_string(&self.last).unwrap();
        assert_eq!(before.matches(&of('-')).count(), 1, "not once in {:?}:\n{body}", self.last);
        fs::write(&self.last, before.replace(&of('-'), &of('+'))).unwrap();
    }
}

/// Copies all recipes of the clone, because a name is searched in every one of them.
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

/// The names of sessions in a text, such as `2026-11-12-7m2q`, each once.
fn session_names(text: &str) -> Vec<&str> {
    let mut names: Vec<&str> = Vec::new();
    for word in text.split(|letter: char| !letter.is_ascii_alphanumeric() && letter != '-') {
        if wetside::check::is_dated_name(word) && !names.contains(&word) {
            names.push(word);
        }
    }
    names
}

/// An output with the page's names of sessions. A new session's name has four random characters, and a retraction that
/// of today.
fn with_names_of(printed: &str, page: &str) -> String {
    let pairs = session_names(printed).into_iter().zip(session_names(page));
    pairs.fold(printed.to_owned(), |text, (own, shown)| text.replace(own, shown))
}

/// An output of `history` with the page's hashes of commits: those of the clone depend on all its recipes.
fn with_commits_of(printed: &str, page: &str) -> String {
    let is_hash = |word: &&str| word.len() == 10 && word.bytes().all(|byte| byte.is_ascii_hexdigit());
    let hashes = |text: &str| -> Vec<String> {
        let second = text.lines().filter_map(|line| line.split_whitespace().nth(1).filter(is_hash));
        second.map(str::to_owned).collect()
    };
    let pairs = hashes(printed).into_iter().zip(hashes(page));
    pairs.fold(printed.to_owned(), |text, (own, shown)| text.replace(&own, &shown))
}

/// The correct text of a `console` fence: the command and as many lines of its output as the page shows.
#[track_caller]
fn shown(desk: &Desk, body: &str) -> String {
    let (command, shown) = body.strip_prefix("$ ").and_then(|rest| rest.split_once('\n')).unwrap();
    assert!(!shown.contains("\n$ "), "one command a fence: {body}");
    if command.starts_with("wetside history ") && !desk.has_git {
        return body.to_owned();
    }
    let (status, printed) = desk.run(command);
    let printed = with_commits_of(&with_names_of(&printed, shown), shown);
    let has_difference = shown.contains(" → ") && command.contains("compare ");
    let expected = i32::from(shown.contains("error[") || has_difference);
    assert_eq!(status, expected, "the exit status of `{command}`\n{printed}");
    let Some(begins) = shown.strip_suffix(CUT) else { return format!("$ {command}\n{printed}") };
    let lines: Vec<&str> = printed.lines().take(begins.lines().count()).collect();
    assert!(lines.len() < printed.lines().count(), "nothing is cut from `{command}`");
    format!("$ {command}\n{}{CUT}", lines.join("\n"))
}

#[test]
fn the_readme_and_the_guide_show_the_real_output() {
    let mut desk = Desk::new();
    for page in ["README.md", "grammar/guide.md"] {
        let (mut text, mut differs) = (text(page), String::new());
        for fence in fences(&text.clone()) {
            if fence.kind != "console" {
                follow(&mut desk, &fence);
                continue;
            }
            let printed = shown(&desk, &fence.body);
            if printed != fence.body {
                differs.push_str(&format!("{page} shows\n{}but now it is\n{printed}\n", fence.body));
                text = text.replace(&fence.body, &printed);
            }
        }
        if std::env::var("INSTA_UPDATE").is_ok_and(|update| update == "always") {
            fs::write(root().join(page), text).unwrap();
        } else {
            assert!(differs.is_empty(), "{differs}");
        }
    }
}

/// Runs the commands of a fence, or writes or changes its file.
#[track_caller]
fn follow(desk: &mut Desk, fence: &Fence) {
    match fence.kind.as_str() {
        "sh" => {
            for command in fence.body.lines() {
                if let Some(arguments) = command.strip_prefix("git ") {
                    desk.git(arguments);
                    continue;
                }
                let (status, printed) = desk.run(command);
                assert_eq!(status, 0, "`{command}`\n{printed}");
            }
        }
        "wet" => {
            let named = format!("`{}`", fence.name);
            assert!(fence.above.contains(&named), "the text above does not name {named}");
            desk.write(&fence.name, &fence.body);
        }
        "toml" => {
            assert_eq!(fence.name, "wetside.toml");
            fs::write(desk.mine().join(&fence.name), &fence.body).unwrap();
        }
        "yaml" => desk.hooks(fence),
        "diff" => desk.change(&fence.name, &fence.body),
        "text" => assert_eq!(fs::read_to_string(&desk.last).unwrap(), fence.body, "the file written last"),
        other => panic!("a fence of `{other}` is neither run nor read: {}", fence.body),
    }
}

#[test]
fn the_first_pages_are_at_most_250_lines_long() {
    for page in ["README.md", "DEVELOPERS.md"] {
        let lines = text(page).lines().count();
        assert!(lines <= 250, "{page} has {lines} lines");
    }
}

/// The first two commands print a card and run the tests; the page shows that card.
#[test]
fn the_readme_begins_with_two_commands() {
    let page = text("README.md");
    let begins = page.split("\n## ").next().unwrap();
    assert!(begins.contains(concat!("Rust ", env!("CARGO_PKG_RUST_VERSION"))), "which Rust it needs");
    let commands: Vec<String> = fences(begins).into_iter().map(|fence| fence.body).collect();
    assert_eq!(commands.len(), 2, "{commands:?}");
    assert!(commands.iter().all(|fence| fence.lines().count() == 1), "{commands:?}");
    let card = commands.first().unwrap().strip_prefix(BUILT).unwrap();
    assert_eq!(commands.last().unwrap(), "cargo test\n");
    let shown = fences(&page).into_iter().find(|fence| fence.kind == "console").unwrap();
    assert!(shown.body.starts_with(&format!("$ {PROGRAM}{card}")));
    assert!(shown.body.contains("\nTOTAL "), "the card ends before its total");
}

#[test]
fn the_readme_lists_exactly_the_commands_of_the_program() {
    let help = Run::new().arg("--help").succeeds();
    let listed = help.split_once("Commands:\n").unwrap().1.split("\n\n").next().unwrap().to_owned();
    let names = listed.lines().filter_map(|line| line.split_whitespace().next());
    let names: Vec<&str> = names.filter(|name| *name != "help").collect();
    let page = text("README.md");
    let told = page.lines().filter_map(|line| line.strip_prefix("| `wetside ")?.split([' ', '`']).next());
    assert_eq!(told.collect::<Vec<_>>(), names);
}

/// The pages with links, each with its folder.
const PAGES: [(&str, &str); 4] = [
    ("README.md", ""),
    ("DEVELOPERS.md", ""),
    ("grammar/README.md", "grammar"),
    ("grammar/guide.md", "grammar"),
];

#[test]
fn every_link_has_an_existing_target() {
    for (page, folder) in PAGES {
        let text = text(page);
        let links: Vec<&str> = text.split("](").skip(1).filter_map(|rest| rest.split(')').next()).collect();
        assert!(!links.is_empty(), "{page} has no link");
        for link in links {
            let (file, heading) = link.split_once('#').unwrap_or((link, ""));
            let target =
                root().join(if file.is_empty() { page.into() } else { Path::new(folder).join(file) });
            assert!(target.exists(), "{page}: {link}");
            if !heading.is_empty() {
                let target = fs::read_to_string(target).unwrap();
                assert!(headings(&target).contains(&heading.to_owned()), "{page}: {link}");
            }
        }
    }
}

/// The headings of a page in the form that links use.
fn headings(page: &str) -> Vec<String> {
    let heads = page.lines().filter(|line| line.starts_with('#'));
    heads.map(|line| line.trim_start_matches('#').trim().to_lowercase().replace(' ', "-")).collect()
}

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
fn the_guide_lists_exactly_the_file_endings_of_the_program() {
    let text = text("grammar/guide.md");
    let table = text.split_once("\n| ending | for |\n").unwrap().1.split("\n\n").next().unwrap();
    let mut told: Vec<&str> = table.lines().skip(1).filter_map(|row| row.split('`').nth(1)).collect();
    let call = ["card", "estuary-400-mq", "--at", "20C", "--rolls", "1x120", "-o", "card.none"];
    let (_, said) = Run::new().args(call).fails(2);
    let known = said.split_once("one of").unwrap().1.split(", or add").next().unwrap();
    let mut known: Vec<&str> =
        known.split([' ', ',', '\n']).filter(|word| word.len() > 1 && word.starts_with('.')).collect();
    known.sort_unstable();
    told.sort_unstable();
    assert_eq!(told, known);
}

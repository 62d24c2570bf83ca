//! A tree of 10,000 recipes that use one file: their list, and 100 commits that change that file.

use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

use super::{Figure, median};

const FILES: usize = 10_000;
const COMMITS: usize = 100;

fn shared(commit: usize) -> String {
    format!(
        "wetside 2

film plain-film {{
    speed     ISO 100
    clears    {} s in fixer 1+4 at 20 C
}}

solution dev {{
    role      developer
    contains  hydroquinone, potassium-carbonate
    needs     {} ml per roll
}}

solution fixer {{
    role      fixer
    contains  ammonium-thiosulfate
    treats    10 rolls per 1 l at 1+4
}}
",
        50 + commit,
        10 + commit
    )
}

fn recipe(at: usize) -> String {
    let (minutes, seconds) = (8 + at / 3_600, at / 60 % 60);
    format!(
        "wetside 2

use \"../shared.wet\"

recipe recipe-{at} {{
    film      plain-film
    develop {{
        in        dev 1+1, one-shot
        chart {{
            18 C   {}:{seconds:02}
            20 C   {minutes}:{seconds:02}
        }}
        agitate   first 30 s, then 10 s every 1 min
    }}
    fix {{
        in        fixer 1+4, reused
        time      3 x clearing, at least {}:{:02}
        agitate   5 s every 30 s
    }}
    wash {{
        fills     5, 10, 20 inversions
    }}
}}
",
        minutes + 1,
        4 + at % 60 / 30,
        at % 60
    )
}

/// A repository with all recipes in its first commit, and `COMMITS` commits that change the file that all use.
fn repository(folder: &Path) {
    let git = |args: &[&str]| {
        let mut call = Command::new("git");
        call.args(args).current_dir(folder).stdout(Stdio::null());
        call
    };
    assert!(git(&["init", "--quiet", "--initial-branch=main"]).status().unwrap().success());
    let mut import = git(&["fast-import", "--quiet"]).stdin(Stdio::piped()).spawn().unwrap();
    let mut stream = String::new();
    let data = |text: &str| format!("data {}\n{text}\n", text.len());
    for commit in 0..COMMITS {
        let second = 1_790_000_000 + commit * 86_400;
        stream += &format!("commit refs/heads/main\ncommitter n <n@invalid> {second} +0000\n");
        stream += &data("a change");
        stream += &format!("M 644 inline shared.wet\n{}", data(&shared(commit)));
        for at in (0..FILES).filter(|_| commit == 0) {
            stream += &format!("M 644 inline d{}/r{at}.wet\n{}", at % 100, data(&recipe(at)));
        }
    }
    import.stdin.take().unwrap().write_all(stream.as_bytes()).unwrap();
    assert!(import.wait().unwrap().success());
    assert!(git(&["reset", "--quiet", "--hard"]).status().unwrap().success());
}

fn call(folder: &Path, args: &[&str]) -> (f64, String) {
    let mut call = Command::new(env!("CARGO_BIN_EXE_wetside"));
    call.args(args).current_dir(folder);
    let start = Instant::now();
    let output = call.output().unwrap();
    (start.elapsed().as_secs_f64(), String::from_utf8(output.stdout).unwrap())
}

pub(super) fn figures() -> Vec<Figure> {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    repository(folder);
    let listed = median((0..5).map(|_| call(folder, &["list"]).0).collect());
    let told = median((0..5).map(|_| call(folder, &["history", "recipe-77"]).0).collect());
    let (_, history) = call(folder, &["history", "recipe-77"]);
    let heads: Vec<&str> = history.lines().filter(|line| !line.starts_with(' ')).collect();
    assert_eq!(heads.len(), COMMITS);
    // The oldest fingerprint, so that every commit is looked into.
    let oldest = heads.last().and_then(|line| line.split_whitespace().nth(2)).unwrap();
    let (first, found) = call(folder, &["find", oldest]);
    assert!(found.contains("recipe-77 "), "{found}");
    let again = median((0..5).map(|_| call(folder, &["find", oldest]).0).collect());
    let figure = |what, reached, bar| Figure { what, reached, unit: "s", bar: (bar, false) };
    vec![
        figure("a list of 10,000 recipes", listed, 1.0),
        figure("the history of 100 commits to a shared file", told, 2.0),
        figure("a search of these commits, the first", first, 60.0),
        figure("a search of these commits, the next", again, 2.0),
    ]
}

//! Collections: a check of a file that uses one of 200 files, and taking that one in.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

use super::{Figure, made, median};

const FILES: usize = 200;
const PROGRAM: &str = env!("CARGO_BIN_EXE_wetside");

fn call(folder: &Path, args: &[&str]) -> f64 {
    let mut call = Command::new(PROGRAM);
    call.args(args).current_dir(folder).stdout(Stdio::null());
    let start = Instant::now();
    assert!(call.status().unwrap().success(), "{args:?}");
    start.elapsed().as_secs_f64() * 1e3
}

pub(super) fn figures() -> Vec<Figure> {
    let folder = tempfile::tempdir().unwrap();
    let (club, mine) = (folder.path().join("club"), folder.path().join("mine"));
    [&club, &mine].into_iter().for_each(|folder| std::fs::create_dir(folder).unwrap());
    let mut collection = "wetside 2\n".to_owned();
    for at in 0..FILES {
        let text = format!("wetside 1\n\n{}", made::declarations(at));
        std::fs::write(club.join(format!("film-{at}.wet")), text).unwrap();
        collection += &format!("use \"film-{at}.wet\"\n");
    }
    let exports: String = (0..FILES).map(|at| format!("    exports recipe recipe-{at}\n")).collect();
    collection += &format!("collection club {{\n    licence \"CC0-1.0\"\n{exports}}}\n");
    std::fs::write(club.join("collection.wet"), collection).unwrap();
    let own = "wetside 2\nuse club\nrecipe mine from club/recipe-7 {\n    note \"a\"\n}\n";
    std::fs::write(mine.join("mine.wet"), own).unwrap();

    let adopted = median(
        (0..9)
            .map(|_| {
                let _ = std::fs::remove_dir_all(mine.join("collections"));
                call(&mine, &["adopt", "../club"])
            })
            .collect(),
    );
    let checked = median((0..21).map(|_| call(&mine, &["check", "mine.wet"])).collect());
    let figure = |what, reached, bar| Figure { what, reached, unit: "ms", bar: (bar, false) };
    vec![
        figure("a check of a file that uses 200 of others", checked, 100.0),
        figure("adopting a folder of 200 files", adopted, 1_000.0),
    ]
}

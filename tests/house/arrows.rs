//! Which stage may use which: only itself and those before it, so that each can be read without the next.

use super::{none, stages, texts};

#[test]
fn no_stage_looks_back() {
    let stages = stages();
    let mut failures = Vec::new();
    for file in texts(&["src"], ".rs") {
        let inside = file.path.trim_start_matches("src/");
        if inside == "lib.rs" || inside == "main.rs" {
            continue;
        }
        let modules: Vec<_> = inside.trim_end_matches(".rs").trim_end_matches("/mod").split('/').collect();
        let Some(own) = stages.iter().position(|stage| modules.first() == Some(&stage.as_str())) else {
            failures.push(format!("{} belongs to no stage that src/lib.rs names", file.path));
            continue;
        };
        for (number, line) in file.lines() {
            let mut wrong = wrong_arrows(line, own, &stages);
            if line.contains(&"super::".repeat(modules.len())) {
                wrong.push("leaves its stage by `super`, not by `crate::`".to_owned());
            }
            failures.extend(wrong.iter().map(|wrong| format!("{}:{number} {wrong}", file.path)));
        }
    }
    none(failures);
}

/// What a line of the stage at `own` may not use, in comments as well: a stage knows nothing of the next.
fn wrong_arrows(line: &str, own: usize, stages: &[String]) -> Vec<String> {
    let mut wrong = Vec::new();
    for used in line.split("crate::").skip(1) {
        let name = used.split(|c: char| !c.is_alphanumeric() && c != '_').next().unwrap();
        match stages.iter().position(|stage| stage == name) {
            Some(used) if used <= own => {}
            Some(_) => wrong.push(format!("uses later {name}")),
            None if name.is_empty() => wrong.push("hides which stage it uses".to_owned()),
            // What stands in lib.rs itself puts the stages together, so only the edge comes after it.
            None if stages.get(own).is_some_and(|stage| stage == "cli") => {}
            None => wrong.push(format!("uses later {name}, of src/lib.rs")),
        }
    }
    wrong
}

//! A stage uses only itself and earlier stages, so that it can be read without the later ones.

use super::{none, stages, texts};

#[test]
fn no_stage_uses_a_later_stage() {
    let stages = stages();
    let mut failures = Vec::new();
    for file in texts(&["src"], ".rs") {
        let inside = file.path.trim_start_matches("src/");
        if inside == "lib.rs" || inside == "main.rs" {
            continue;
        }
        let modules: Vec<_> = inside.trim_end_matches(".rs").trim_end_matches("/mod").split('/').collect();
        let Some(own) = stages.iter().position(|stage| modules.first() == Some(&stage.as_str())) else {
            failures.push(format!("{} is in no stage of src/lib.rs", file.path));
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

/// The later stages that a line of the stage `own` mentions, in comments too.
fn wrong_arrows(line: &str, own: usize, stages: &[String]) -> Vec<String> {
    let mut wrong = Vec::new();
    for used in line.split("crate::").skip(1) {
        let name = used.split(|c: char| !c.is_alphanumeric() && c != '_').next().unwrap();
        match stages.iter().position(|stage| stage == name) {
            Some(used) if used <= own => {}
            Some(_) => wrong.push(format!("uses later {name}")),
            None if name.is_empty() => wrong.push("does not name the stage it uses".to_owned()),
            // An item of lib.rs itself uses the stages, so only `cli` may use it.
            None if stages.get(own).is_some_and(|stage| stage == "cli") => {}
            None => wrong.push(format!("uses later {name}, of src/lib.rs")),
        }
    }
    wrong
}

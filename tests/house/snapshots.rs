//! Each snapshot has a test, each example of an error has a snapshot, and each such snapshot is short.
//!
//! An example is `faults/STAGE/what-is-wrong.wet`, or a folder of that name if it needs several files. Its snapshot is
//! `snapshots/tests__faults__…what-is-wrong.snap`, where `…` is empty or ends in `__` or `@`.

use std::collections::BTreeSet;

use super::{entries, none, root, stages, stem, text};

const FAULTS: &str = "tests__faults__";

/// The names of all snapshots, without their ending.
fn snapshots() -> Vec<String> {
    if !root().join("tests/snapshots").exists() {
        return Vec::new();
    }
    entries("tests/snapshots")
        .iter()
        .filter_map(|name| name.strip_suffix(".snap"))
        .map(str::to_owned)
        .collect()
}

#[test]
fn every_snapshot_belongs_to_an_existing_test() {
    let orphans = snapshots().into_iter().filter(|name| {
        let module = name.strip_prefix("tests__").and_then(|rest| rest.split("__").next());
        !module.is_some_and(|module| root().join(format!("tests/{module}.rs")).exists())
    });
    none(orphans.map(|name| format!("tests/snapshots/{name}.snap has no test file")));
}

#[test]
fn every_fault_has_a_snapshot_and_every_snapshot_a_fault() {
    if !root().join("tests/faults").exists() {
        return;
    }
    let (mut failures, mut faults) = (Vec::new(), BTreeSet::new());
    for stage in entries("tests/faults") {
        if !stages().contains(&stage) {
            failures.push(format!("tests/faults/{stage} is no stage"));
            continue;
        }
        for name in entries(&format!("tests/faults/{stage}")) {
            if !faults.insert(stem(&name).to_owned()) {
                failures.push(format!("tests/faults/{stage}/{name} is the second of that name"));
            }
        }
    }
    let shown: BTreeSet<_> = snapshots().iter().filter_map(|name| fault_of(name)).collect();
    failures.extend(faults.difference(&shown).map(|fault| format!("the fault {fault} has no snapshot")));
    failures.extend(shown.difference(&faults).map(|fault| format!("the snapshot of {fault} has no fault")));
    assert!(!faults.is_empty(), "tests/faults has none");
    none(failures);
}

#[test]
fn every_fault_snapshot_has_at_most_40_lines() {
    let faults = snapshots().into_iter().filter(|name| fault_of(name).is_some());
    let shown = faults.map(|name| text(&format!("tests/snapshots/{name}.snap")));
    let long = shown.filter(|shown| 40 < shown.lines().count());
    none(long.map(|shown| format!("{} has {} lines", shown.path, shown.lines().count())));
}

/// The name of the example in `faults` that a snapshot shows, if any.
fn fault_of(snapshot: &str) -> Option<String> {
    let rest = snapshot.strip_prefix(FAULTS)?;
    let last = rest.rsplit('@').next()?.rsplit("__").next()?;
    Some(last.trim_end_matches(".wet").to_owned())
}

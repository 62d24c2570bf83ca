//! The reports for programs, in one check of a whole family, which is fast. Only after an error is each file checked
//! alone, to find which it was.

use std::path::{Path, PathBuf};

use tempfile::TempDir;

use super::{CPU_SECONDS_MAX, Ends, Input, Ran};

const FORMS: [&str; 3] = ["lines", "json", "sarif"];

/// A larger family is checked file by file, because the memory limit is for one file.
const BYTES_MAX: usize = 1 << 20;

/// Everything that is wrong with a family.
pub(super) fn faults(inputs: &[Input]) -> Vec<String> {
    let home = TempDir::new().unwrap();
    let written =
        |(at, input): (usize, &Input)| input.written(&home.path().join(at.to_string())).join("a.wet");
    let paths: Vec<PathBuf> = inputs.iter().enumerate().map(written).collect();
    let bytes: usize = inputs.iter().flat_map(|input| &input.files).map(|(_, bytes)| bytes.len()).sum();
    let alone = || inputs.iter().zip(&paths);
    FORMS
        .iter()
        .flat_map(|form| {
            let together =
                if bytes > BYTES_MAX { Err(()) } else { Ok(told(home.path(), form, &paths, None)) };
            if together.as_ref().is_ok_and(Vec::is_empty) {
                return Vec::new();
            }
            let one = |(input, path): (&Input, &PathBuf)| {
                let faults = told(home.path(), form, std::slice::from_ref(path), Some(input.ends));
                let name = |fault: String| format!("check --as {form} with {}: {fault}", input.name);
                faults.into_iter().map(name).collect::<Vec<_>>()
            };
            let each: Vec<String> = alone().flat_map(one).collect();
            let all = together.unwrap_or_default().into_iter();
            if each.is_empty() {
                all.map(|fault| format!("check --as {form} with all of these: {fault}")).collect()
            } else {
                each
            }
        })
        .collect()
}

/// Checks files in one form; returns what is wrong with the status and the output.
fn told(folder: &Path, form: &str, paths: &[PathBuf], ends: Option<Ends>) -> Vec<String> {
    let args = ["check".as_ref(), "--as".as_ref(), form.as_ref()];
    let args: Vec<_> = args.into_iter().chain(paths.iter().map(|path| path.as_os_str())).collect();
    let seconds = CPU_SECONDS_MAX * u32::try_from(paths.len()).unwrap();
    let ran = Ran::of(&args, folder, seconds);
    let mut faults = ran.unfit();
    match ran.status.code() {
        Some(0) => {}
        Some(1 | 2) if ends != Some(Ends::Accepted) => {}
        Some(_) | None => faults.push(format!("it ends with {}", ran.status)),
    }
    if form != "lines" && serde_json::from_slice::<serde_json::Value>(&ran.out).is_err() {
        faults.push("the output is not JSON".to_owned());
    }
    faults
}

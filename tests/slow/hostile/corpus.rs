//! The kept inputs: `ENDS/FAMILY/what-it-is.wet`, where `ENDS` is the expected result.

use std::fs;
use std::path::{Path, PathBuf};

use super::{Ends, Input, all_end_in_order};

fn folder(ends: Ends) -> PathBuf {
    let name = match ends {
        Ends::Accepted => "accepted",
        Ends::Refused => "refused",
        Ends::Either => "either",
    };
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/hostile").join(name)
}

fn entries(folder: &Path) -> Vec<PathBuf> {
    let mut paths: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    paths
}

/// All kept inputs with this expected result.
pub(super) fn inputs(ends: Ends) -> Vec<Input> {
    let files = entries(&folder(ends)).into_iter().flat_map(|family| entries(&family));
    let inputs = files.map(|file| Input::new(file.display().to_string(), ends, fs::read(&file).unwrap()));
    let drawn = inputs.map(|input| if ends == Ends::Refused { input } else { input.drawn() });
    drawn.map(Input::in_a_darkroom).collect()
}

#[test]
fn every_kept_accepted_input_is_accepted() {
    all_end_in_order(&inputs(Ends::Accepted));
}

#[test]
fn every_kept_refused_input_is_refused() {
    all_end_in_order(&inputs(Ends::Refused));
}

#[test]
fn every_other_kept_input_ends_in_order() {
    all_end_in_order(&inputs(Ends::Either));
}

/// An empty family, or a file outside the families, would not be tested.
#[test]
fn every_kept_file_is_in_a_family() {
    for ends in [Ends::Accepted, Ends::Refused, Ends::Either] {
        for family in entries(&folder(ends)) {
            assert!(family.is_dir() && !entries(&family).is_empty(), "{}", family.display());
            for file in entries(&family) {
                assert_eq!(file.extension().unwrap(), "wet", "{}", file.display());
            }
        }
    }
}

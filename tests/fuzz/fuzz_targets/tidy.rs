//! Any text is tidied or refused; what is tidy stays as it is, says no more faults, and means the same.
#![no_main]

use libfuzzer_sys::fuzz_target;
use wetside::tidy::{Refusal, tidy};
use wetside_fuzz::{checked, marks};

fuzz_target!(|text: &str| {
    let (sources, file, shelf, findings) = checked(text);
    let tidied = match tidy(&sources, file) {
        Ok(tidied) => tidied.text,
        Err(Refusal::Damaged(_)) => return,
        Err(Refusal::OwnFault) => panic!("the tidy form says something else"),
    };
    let (again, own, same, left) = checked(&tidied);
    assert_eq!(tidy(&again, own).expect("what is tidy can be tidied").text, tidied);
    assert_eq!(marks(&shelf, file), marks(&same, own));
    assert!(left.len() <= findings.len(), "{findings:?} became {left:?}");
});

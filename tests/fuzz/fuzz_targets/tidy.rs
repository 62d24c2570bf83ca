//! `tidy` on any text: a second run changes nothing, there are no new errors, and the meaning is the same.
#![no_main]

use libfuzzer_sys::fuzz_target;
use wetside::tidy::{Refusal, tidy};
use wetside_fuzz::{checked, marks};

fuzz_target!(|text: &str| {
    let before = checked(text);
    let tidied = match tidy(&before.sources, before.file) {
        Ok(tidied) => tidied.text,
        Err(Refusal::Damaged(_)) => return,
        Err(Refusal::OwnFault) => panic!("the tidy form says something else"),
    };
    let after = checked(&tidied);
    assert_eq!(tidy(&after.sources, after.file).expect("what is tidy can be tidied").text, tidied);
    assert_eq!(marks(&before), marks(&after));
    let (findings, left) = (&before.findings, &after.findings);
    assert!(left.len() <= findings.len(), "{findings:?} became {left:?}");
});

//! The report about any text has no control characters.
#![no_main]

use libfuzzer_sys::fuzz_target;
use wetside::report::{self, Look};
use wetside_fuzz::{checked, harmless};

fuzz_target!(|text: &str| {
    let checked = checked(text);
    let (sources, findings) = (&checked.sources, &checked.findings);
    harmless(&report::draw(sources, findings, Look::Plain));
    // In colour too, apart from the program's own escapes.
    assert!(findings.is_empty() == report::draw(sources, findings, Look::Colour).is_empty());
});

//! Any text can be checked; every error has a span in a file, and help.
#![no_main]

use libfuzzer_sys::fuzz_target;
use wetside::source::Level;
use wetside_fuzz::checked;

fuzz_target!(|text: &str| {
    let checked = checked(text);
    for finding in &checked.findings {
        assert!(finding.level != Level::Error || !finding.help.is_empty(), "{finding:?}");
        assert!(checked.sources.text(finding.span.file).get(finding.span.range()).is_some(), "{finding:?}");
    }
});

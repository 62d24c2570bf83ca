//! Any text is checked; every error stands at a place of a file and says what to write.
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

//! `--mend` on any text: no new error, no changed recipe, and a second run changes nothing.
#![no_main]

use libfuzzer_sys::fuzz_target;
use wetside::check::Levels;
use wetside::cli::mended;
use wetside_fuzz::{checked, files, marks};

fuzz_target!(|text: &str| {
    let mend = |text: &str| mended("any.wet", text, &files(text), &Levels::default());
    let new = mend(text);
    if new == text {
        return;
    }
    let (before, after) = (checked(text), checked(&new));
    // A fix may reveal an error in a line or a block that could not be parsed before.
    assert!(before.has_errors() || !after.has_errors(), "{:?}", after.findings);
    let after = marks(&after);
    assert!(marks(&before).iter().all(|mark| after.contains(mark)), "{after:?}");
    assert_eq!(mend(&new), new);
});

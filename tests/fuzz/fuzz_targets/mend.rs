//! Any text is mended: no error is new, no sound recipe becomes another, and a second mend changes nothing.
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
    // What a mend brings to light stood there before, in a line or a block that could not be read.
    assert!(before.has_errors() || !after.has_errors(), "{:?}", after.findings);
    let after = marks(&after);
    assert!(marks(&before).iter().all(|mark| after.contains(mark)), "{after:?}");
    assert_eq!(mend(&new), new);
});

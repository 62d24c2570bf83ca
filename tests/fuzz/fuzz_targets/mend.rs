//! Any text is mended: no error is new, no sound recipe becomes another, and a second mend changes nothing.
#![no_main]

use libfuzzer_sys::fuzz_target;
use wetside::check::Levels;
use wetside::cli::mended;
use wetside::source::{Diagnostic, Level};
use wetside_fuzz::{Shared, checked, marks};

fn errors(findings: &[Diagnostic]) -> usize {
    findings.iter().filter(|finding| finding.level == Level::Error).count()
}

fuzz_target!(|text: &str| {
    let mend = |text: &str| mended("any.wet", text, &mut Shared::default(), &Levels::default());
    let new = mend(text);
    if new == text {
        return;
    }
    let (_, file, shelf, before) = checked(text);
    let (_, own, same, after) = checked(&new);
    // What a mend brings to light stood there before, in a line or a block that could not be read.
    assert!(errors(&before) > 0 || errors(&after) == 0, "{after:?}");
    let after = marks(&same, own);
    assert!(marks(&shelf, file).iter().all(|mark| after.contains(mark)), "{after:?}");
    assert_eq!(mend(&new), new);
});

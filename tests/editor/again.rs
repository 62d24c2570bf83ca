//! What is checked again when a text changes, counted in files, and that what is found stays the same.

use wetside::check::{Checker, Levels, Work, check};
use wetside::source::{MemoryFiles, Sources};

/// Checks two open texts, the second of which uses `c`; what was parsed and resolved for it. Fails unless the
/// findings are those of a first check.
fn done(checker: &mut Checker, [a, b, c]: [&str; 3]) -> (usize, usize) {
    let before = checker.work();
    let files = MemoryFiles::from([("c.wet", c)]);
    let laid = || {
        let mut sources = Sources::default();
        let roots = [sources.add("a.wet", a), sources.add("b.wet", b)];
        (sources, roots)
    };
    let (mut sources, roots) = laid();
    let again = checker.check(&mut sources, &roots, &files, &Levels::default());
    let (mut sources, roots) = laid();
    let (_, first) = check(&mut sources, &roots, &files, &Levels::default());
    assert_eq!(again, first);
    let Work { parsed, resolved } = checker.work();
    (parsed - before.parsed, resolved - before.resolved)
}

const A: &str = "wetside 1\n\nfilm ebb {\n    speeed    ISO 100\n}\n";
const B: &str = "wetside 1\n\nuse \"c.wet\"\n\nrecipe hang {\n    film      flood\n\n    dry {\n        time      3 h\n    }\n}\n";
const C: &str = "wetside 1\n\nfilm flood {\n    speed     ISO 400\n}\n";

/// At first all three; then `a`, which nothing else is connected with; then `c`, which `b` uses.
#[test]
fn only_what_changed_is_parsed_and_only_what_it_concerns_is_resolved() {
    let mut checker = Checker::default();
    assert_eq!(done(&mut checker, [A, B, C]), (3, 3));
    assert_eq!(done(&mut checker, [A, B, C]), (0, 0));
    let mended = A.replace("speeed", "speed");
    assert_eq!(done(&mut checker, [&mended, B, C]), (1, 1));
    let without = C.replace("flood", "spring");
    assert_eq!(done(&mut checker, [&mended, B, &without]), (1, 2));
    assert_eq!(done(&mut checker, [&mended, B, C]), (1, 2));
}

/// Without its `use` line `b` is by itself, and `c` is not read.
#[test]
fn files_that_no_longer_use_each_other_are_resolved_apart() {
    let mut checker = Checker::default();
    done(&mut checker, [A, B, C]);
    let alone = B.replace("use \"c.wet\"\n", "\n");
    assert_eq!(done(&mut checker, [A, &alone, C]), (1, 1));
    assert_eq!(done(&mut checker, [A, B, C]), (2, 2));
}

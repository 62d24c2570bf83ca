//! Any text becomes a tree with every byte in a line.
#![no_main]

use libfuzzer_sys::fuzz_target;
use wetside::source::Sources;
use wetside::syntax::parse;

fuzz_target!(|text: &str| {
    let mut sources = Sources::default();
    let file = sources.add("any.wet", text);
    let (tree, _) = parse(&sources, file);
    assert_eq!(tree.lines.last().map_or(0, |line| line.bytes.end as usize), text.len());
    assert!(tree.tokens.iter().all(|token| text.get(token.span.range()).is_some()));
});

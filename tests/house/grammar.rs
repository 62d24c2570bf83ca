//! The grammar is short, each rule has a comment, and no rule is recursive, so no input nests deeply.

use std::collections::{BTreeMap, BTreeSet};
use std::iter::Peekable;
use std::str::Chars;

use super::{Text, none, text};

fn grammar() -> Text {
    text("grammar/wetside.pest")
}

#[test]
fn the_grammar_is_at_most_120_lines() {
    let grammar = grammar();
    let lines = grammar.code().filter(|(_, line)| !line.trim().is_empty()).count();
    assert!(lines <= 120, "{} has {lines} without comments and blanks", grammar.path);
}

#[test]
fn every_grammar_rule_has_a_comment() {
    let grammar = grammar();
    let (mut failures, mut heads, mut above) = (Vec::new(), 0, "");
    for (number, line) in grammar.lines() {
        if line.starts_with(is_of_a_word) {
            heads += 1;
            if !above.starts_with("/// ") {
                failures.push(format!("{}:{number} has no `///` above it: {line}", grammar.path));
            }
        }
        above = line;
    }
    assert_eq!(
        heads,
        rules(&grammar.text).len(),
        "each rule begins at the start of a line, and nothing else does"
    );
    none(failures);
}

#[test]
fn the_grammar_does_not_recurse() {
    let rules = rules(&grammar().text);
    assert!(!rules.is_empty(), "no rule was found");
    let circles = circles(rules);
    assert!(circles.is_empty(), "recursive, or leading to a recursive rule: {circles:?}");
}

#[test]
fn a_recursive_grammar_is_detected() {
    let of = |grammar| circles(rules(grammar)).into_iter().collect::<Vec<_>>();
    assert_eq!(of("a = { \"x\" ~ b }\nb = _{ c? | ANY }\nc = @{ 'c'..'d' }"), [""; 0]);
    assert_eq!(of("a = { \"x\" ~ a? }"), ["a"]);
    assert_eq!(of("a = { b }\nb = { (c | \"}\")+ }\nc = { \"\\\"\" ~ b? }\nd = { '\\'' }"), ["a", "b", "c"]);
    assert_eq!(of("a = { \"a\" ~ 'a'..'b' } // a = { a }\n/// { a }\nb = ${ a{2} }"), [""; 0]);
}

/// The recursive rules, and the rules that lead to one.
fn circles(mut rules: BTreeMap<String, BTreeSet<String>>) -> BTreeSet<String> {
    // A rule that names none of the remaining rules is not recursive.
    loop {
        let names: BTreeSet<_> = rules.keys().cloned().collect();
        rules.retain(|_, words| !words.is_disjoint(&names));
        if rules.len() == names.len() {
            return names;
        }
    }
}

/// The rules of a grammar, each with the words it uses, without comments and literals.
fn rules(grammar: &str) -> BTreeMap<String, BTreeSet<String>> {
    let mut rules: BTreeMap<_, BTreeSet<_>> = BTreeMap::new();
    let (mut depth, mut rule) = (0, String::new());
    let mut left = grammar.chars().peekable();
    while let Some(c) = left.next() {
        match c {
            '/' if left.peek() == Some(&'/') => _ = left.find(|c| *c == '\n'),
            '"' | '\'' => pass_literal(&mut left, c),
            '{' => depth += 1,
            '}' => depth -= 1,
            c if is_of_a_word(c) => {
                let mut word = String::from(c);
                while let Some(c) = left.next_if(|c| is_of_a_word(*c)) {
                    word.push(c);
                }
                if 0 < depth {
                    rules.entry(rule.clone()).or_default().insert(word);
                } else if word != "_" {
                    rules.entry(word.clone()).or_default();
                    rule = word;
                }
            }
            _ => {}
        }
    }
    rules
}

fn is_of_a_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// Advances past the closing quote of a literal; a backslash escapes a quote.
fn pass_literal(left: &mut Peekable<Chars>, quote: char) {
    while let Some(c) = left.next() {
        match c {
            '\\' => _ = left.next(),
            c if c == quote => return,
            _ => {}
        }
    }
}

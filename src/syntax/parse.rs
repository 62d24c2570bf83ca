//! Parses text into a tree, by the grammar in `grammar/wetside.pest`. After an error, parsing continues on the next
//! line.

use pest::{Parser, Token as Mark};

use self::grammar::{Grammar, Rule};
use super::blocks::blocks;
use super::characters::check_tokens;
use super::tree::{Line, Token, TokenKind, Tree};
use crate::source::{Diagnostic, FileId, Sources, Span};

mod grammar {
    #![allow(missing_docs, unreachable_pub, reason = "pest generates it; the grammar has comments")]

    #[derive(pest_derive::Parser)]
    #[grammar = "grammar/wetside.pest"]
    pub(super) struct Grammar;
}

/// The errors that parsing can report: the name of each, and its meaning in one line.
pub const ERRORS: &[(&str, &str)] = &[
    ("hidden-character", "an invisible character, or one that changes the direction of text"),
    ("line-too-long", "a line of more than 4,096 bytes"),
    ("unclosed-text", "a text whose closing quote is missing"),
    ("unclosed-block", "a block whose closing brace is missing"),
    ("unopened-block", "a line that lacks the { at its end"),
    ("half-merged", "two versions of lines, between the marks of a merge in git"),
    ("foreign-letter", "a character that only looks like one of the language"),
    ("stray-brace", "a brace where no block begins or ends"),
    ("block-too-deep", "a line within three pairs of braces that has its own"),
    ("unknown-sign", "a character that no statement uses"),
    ("unreadable-text", "a text that could not be parsed"),
    ("too-many-findings", "over 10,000 findings; the rest is not checked"),
];

/// The most diagnostics that are reported for a file, and for all files of a check.
pub const FINDINGS_MAX: usize = 10_000;

/// The error that is reported in place of all findings after the first 10,000.
pub fn too_many_findings(span: Span) -> Diagnostic {
    Diagnostic::error("too-many-findings", span, "the rest was not checked: over 10,000 findings")
        .help("fix these, then check again")
}

/// The tree of a file, and the errors in its tokens and braces.
pub fn parse(sources: &Sources, file: FileId) -> (Tree, Vec<Diagnostic>) {
    let text = sources.text(file);
    let line_starts = sources.get(file).map_or(&[][..], |file| &file.line_starts);
    // Reserves memory for one token in six bytes of text.
    let (tokens, lines) = (Vec::with_capacity(text.len() / 6), Vec::with_capacity(line_starts.len()));
    let mut tree = Tree { file, tokens, lines, statements: Vec::new(), half_merged: false };
    let mut faults = Vec::new();
    match Grammar::parse(Rule::file, text) {
        Ok(pairs) => read_lines(&mut tree, pairs.tokens(), line_starts),
        Err(_) => {
            let end = u32::try_from(text.len()).unwrap_or(u32::MAX);
            let span = Span { file, start: 0, end };
            let fault = Diagnostic::error("unreadable-text", span, "this text could not be parsed");
            faults.push(fault.help("split it into smaller files, each under 1 MiB"));
        }
    }
    if let Some(fault) = merge_marks(&tree, text) {
        tree.half_merged = true;
        faults.push(fault);
        return (tree, faults);
    }
    check_tokens(&mut tree, text, &mut faults);
    tree.statements = blocks(&tree, text, &mut faults);
    (tree, faults)
}

/// Fills the tree's tokens and lines. `marks` are the parser's events: the start and the end of each matched grammar
/// rule.
fn read_lines<'i>(tree: &mut Tree, marks: impl Iterator<Item = Mark<'i, Rule>>, line_starts: &[u32]) {
    let place = |byte: usize| u32::try_from(byte).unwrap_or(u32::MAX);
    let (mut start, mut form, mut end) = (0, TokenKind::Number, 0);
    let mut comments = Vec::new();
    for mark in marks {
        match mark {
            Mark::Start { rule, pos } => match figure(rule) {
                Some(kind) => form = kind,
                None => (start, form) = (place(pos.pos()), TokenKind::Number),
            },
            Mark::End { rule, pos } => {
                end = place(pos.pos());
                let span = Span { file: tree.file, start, end };
                match token_kind(rule).or((rule == Rule::figure).then_some(form)) {
                    Some(kind) => tree.tokens.push(Token { kind, span, reported: false }),
                    None if rule == Rule::comment => comments.push(span),
                    None => {}
                }
            }
        }
    }
    let mut comments = comments.into_iter().peekable();
    let mut first = 0;
    let ends = line_starts.iter().skip(1).copied().chain([end]);
    for (start, end) in line_starts.iter().copied().zip(ends) {
        let count = tree.tokens.iter().skip(first).take_while(|token| token.span.start < end).count();
        let comment = comments.next_if(|comment| comment.start < end);
        tree.lines.push(Line { bytes: start..end, tokens: first..first + count, comment });
        first += count;
    }
}

fn merge_marks(tree: &Tree, text: &str) -> Option<Diagnostic> {
    let mark = |line: &&Line| {
        let words = text.get(line.bytes.start as usize..line.bytes.end as usize).unwrap_or("");
        ["<<<<<<<", "=======", ">>>>>>>", "|||||||"].iter().any(|mark| words.starts_with(mark))
    };
    let place = |line: &Line| Span { file: tree.file, start: line.bytes.start, end: line.bytes.start + 7 };
    let mut marks = tree.lines.iter().filter(mark).map(place);
    let first = marks.next()?;
    let message = "two versions of these lines are left here, between the marks of a merge in git";
    let fault = Diagnostic::error("half-merged", first, message)
        .help("keep the lines of one version, and remove the other lines and the marks");
    Some(marks.take(5).fold(fault, |fault, mark| fault.other(mark, "")))
}

/// The kind of a token that begins with digits. The grammar rule `rest` matches what follows the digits; `None` for any
/// other rule.
fn figure(rest: Rule) -> Option<TokenKind> {
    Some(match rest {
        Rule::decimal => TokenKind::Number,
        Rule::clock => TokenKind::Clock,
        Rule::parts => TokenKind::Parts,
        Rule::dated => TokenKind::Word,
        Rule::date => TokenKind::Date,
        Rule::fraction => TokenKind::Fraction,
        Rule::format | Rule::rectangle => TokenKind::Format,
        _ => return None,
    })
}

fn token_kind(rule: Rule) -> Option<TokenKind> {
    Some(match rule {
        Rule::word => TokenKind::Word,
        Rule::comma => TokenKind::Comma,
        Rule::open => TokenKind::Open,
        Rule::close => TokenKind::Close,
        Rule::percent => TokenKind::Percent,
        Rule::string => TokenKind::Text,
        Rule::open_string => TokenKind::OpenText,
        Rule::stray => TokenKind::Stray,
        _ => return None,
    })
}

//! One unit that a file writes in two ways.

use super::Written;
use crate::source::{Diagnostic, Edit, Fix, Span};
use crate::syntax::{Token, TokenKind};
use crate::vocabulary::{Unit, unit};

rule! {
    /// # two-spellings
    ///
    /// **What.** A file spells one unit in two ways, as `C` and `°C`, or `months` and `month`. `1 month` may stand beside `6 months`.
    ///
    /// **Why.** It is read all the same. But whoever searches a file for every temperature finds half of them.
    ///
    /// ```fires
    /// wetside 1
    /// recipe wrong {
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///         between   18 C and 24 °C
    ///     }
    /// }
    /// ```
    ///
    /// **Instead.** Keep to one, best that of the tidy form.
    ///
    /// ```quiet
    /// wetside 1
    /// recipe right {
    ///     fix {
    ///         in        water
    ///         time      5:00
    ///         between   18 C and 24 C
    ///     }
    /// }
    /// ```
    ///
    /// **Source.** Common practice, no source.
    "two-spellings", Advice, "two spellings of one unit in a file", File(look)
}

fn look(written: &Written<'_>, faults: &mut Vec<Diagnostic>) {
    let mut tidy: Vec<(&'static str, Span)> = Vec::new();
    let mut other: Vec<(&'static str, Span)> = Vec::new();
    for (number, spelled) in written.unit.tokens.iter().zip(written.unit.tokens.iter().skip(1)) {
        let Some(unit) = measured(written, *number, *spelled) else { continue };
        let word = words(written, *spelled);
        let one = words(written, *number) == "1" && word.strip_suffix('s').is_none();
        if unit.word == word {
            tidy.push((unit.word, spelled.span));
        } else if !(one && unit.word.strip_suffix('s') == Some(word)) {
            other.push((unit.word, spelled.span));
        }
    }
    while let Some((word, span)) = other.first().copied() {
        let same = other.extract_if(.., |(of, _)| *of == word).map(|(_, span)| span).collect::<Vec<_>>();
        let Some((_, first)) = tidy.iter().find(|(of, _)| *of == word) else { continue };
        let title = format!("write {word} throughout the file");
        let mut finding = RULE
            .found(span, format!("this unit is spelled '{word}' elsewhere in the file"))
            .other(*first, "here, for one")
            .help(title.as_str());
        let edits = same.into_iter().map(|span| Edit { span, text: word.to_owned() }).collect();
        finding.fixes.push(Fix { title, edits, certain: true });
        faults.push(finding);
    }
}

/// The unit that a word is, where a number stands before it.
fn measured(written: &Written<'_>, number: Token, word: Token) -> Option<&'static Unit> {
    let counts = matches!(number.kind, TokenKind::Number | TokenKind::Fraction);
    (counts && word.kind == TokenKind::Word).then(|| unit(words(written, word))).flatten()
}

fn words<'a>(written: &Written<'a>, token: Token) -> &'a str {
    written.text.get(token.span.range()).unwrap_or("")
}

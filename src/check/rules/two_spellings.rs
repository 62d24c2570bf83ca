//! The rule `two-spellings`.

use super::*;
use crate::source::Map;

rule! {
    /// # two-spellings: two spellings of one unit in a file
    ///
    /// Examples are `C` and `°C`, or `months` and `month`. `1 month` and `6 months` are one spelling.
    ///
    /// **Why.** A search for every temperature finds only some of them.
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
    /// **Instead.** Use one spelling, preferably the one that `wetside tidy` writes.
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
    Advice, File(check)
}

fn check(file: &CheckedFile<'_>) -> Vec<Diagnostic> {
    let words = |token: &Token| token.span.slice(file.text);
    // Each number with the word after it, which may be its unit.
    let pairs = || {
        let pairs = file.unit.tokens.iter().zip(file.unit.tokens.iter().skip(1));
        pairs.filter(|(number, word)| {
            matches!(number.kind, TokenKind::Number | TokenKind::Fraction) && word.kind == TokenKind::Word
        })
    };
    // For each unit, in its standard spelling, the places where it has another spelling.
    let mut spellings: Map<&str, Vec<Span>> = Map::new();
    for (number, spelled) in pairs() {
        let word = words(spelled);
        let Some(unit) = unit(word).filter(|unit| unit.word != word) else { continue };
        let one = words(number) == "1" && unit.word.strip_suffix('s') == Some(word);
        if !one {
            spellings.value_of(unit.word).push(spelled.span);
        }
    }
    let found = spellings.into_iter().filter_map(|(word, others)| {
        let (_, own) = pairs().find(|(_, spelled)| words(spelled) == word)?;
        let title = format!("write {word} throughout the file");
        let mut finding = RULE
            .found(*others.first()?, format!("this unit is spelled '{word}' elsewhere in the file"))
            .other(own.span, "here, for example")
            .help(title.as_str());
        let edits = others.into_iter().map(|span| Edit { span, text: word.to_owned() }).collect();
        finding.fixes.push(Fix { title, edits, certain: true });
        Some(finding)
    });
    found.collect()
}

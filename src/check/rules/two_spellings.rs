//! One unit with two spellings.

use super::*;

rule! {
    /// # two-spellings: two spellings of one unit in a file
    ///
    /// Examples are `C` and `°C`, or `months` and `month`. `1 month` and `6 months` are one spelling.
    ///
    /// **Why.** Both are read. But a search for every temperature finds only some of them.
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
    /// **Instead.** Keep to one, preferably the one that tidy writes.
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
    let words = |token: Token| file.text.get(token.span.range()).unwrap_or("");
    let mut tidy: Vec<(&'static str, Span)> = Vec::new();
    let mut other: Vec<(&'static str, Span)> = Vec::new();
    for (number, spelled) in file.unit.tokens.iter().zip(file.unit.tokens.iter().skip(1)) {
        let counts = matches!(number.kind, TokenKind::Number | TokenKind::Fraction);
        let word = words(*spelled);
        let unit = if counts && spelled.kind == TokenKind::Word { unit(word) } else { None };
        let Some(unit) = unit else { continue };
        let one = words(*number) == "1" && word.strip_suffix('s').is_none();
        if unit.word == word {
            tidy.push((unit.word, spelled.span));
        } else if !(one && unit.word.strip_suffix('s') == Some(word)) {
            other.push((unit.word, spelled.span));
        }
    }
    let mut found = Vec::new();
    while let Some((word, span)) = other.first().copied() {
        let same = other.extract_if(.., |(of, _)| *of == word).map(|(_, span)| span).collect::<Vec<_>>();
        let Some((_, first)) = tidy.iter().find(|(of, _)| *of == word) else { continue };
        let title = format!("write {word} throughout the file");
        let mut finding = RULE
            .found(span, format!("this unit is spelled '{word}' elsewhere in the file"))
            .other(*first, "here, for example")
            .help(title.as_str());
        let edits = same.into_iter().map(|span| Edit { span, text: word.to_owned() }).collect();
        finding.fixes.push(Fix { title, edits, certain: true });
        found.push(finding);
    }
    found
}

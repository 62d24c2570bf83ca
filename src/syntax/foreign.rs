//! Letters, signs and spaces that look like those of the language and are not: each with what to
//! write for it.

/// What looks like something of the language in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Foreign {
    /// A letter of another script, and the one it looks like.
    Letter(char, char),
    /// A space that is not the ordinary one.
    Space(char),
    /// A dash or a minus sign.
    Dash,
    /// A quotation mark that is not the straight one.
    Quote,
    /// A broken number in one sign, and how it is written.
    Fraction(&'static str),
}

/// Letters of other scripts beside the plain ones they are taken for (from Unicode's confusables).
#[rustfmt::skip]
const LETTERS: &[(char, char)] = &[
    ('а', 'a'), ('е', 'e'), ('о', 'o'), ('р', 'p'), ('с', 'c'), ('у', 'y'), ('х', 'x'), ('і', 'i'),
    ('ј', 'j'), ('ѕ', 's'), ('ԁ', 'd'), ('һ', 'h'), ('к', 'k'), ('м', 'm'), ('т', 't'), ('в', 'b'),
    ('н', 'h'), ('А', 'A'), ('В', 'B'), ('Е', 'E'), ('К', 'K'), ('М', 'M'), ('Н', 'H'), ('О', 'O'),
    ('Р', 'P'), ('С', 'C'), ('Т', 'T'), ('Х', 'X'), ('α', 'a'), ('ο', 'o'), ('ν', 'v'), ('ρ', 'p'),
    ('ι', 'i'), ('κ', 'k'), ('Ϲ', 'C'), ('Ｃ', 'C'), ('Ｆ', 'F'), ('ｇ', 'g'), ('ｌ', 'l'), ('ｍ', 'm'),
];

const FRACTIONS: &[(char, &str)] = &[
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
];

/// The first such thing in a word.
pub(super) fn foreign(word: &str) -> Option<Foreign> {
    all_foreign(word).next()
}

/// All such things in a word.
pub(super) fn all_foreign(word: &str) -> impl Iterator<Item = Foreign> {
    word.chars().filter_map(of_letter)
}

fn of_letter(letter: char) -> Option<Foreign> {
    match letter {
        '\u{a0}' | '\u{1680}' | '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}' => {
            Some(Foreign::Space(letter))
        }
        '\u{2010}'..='\u{2015}' | '\u{2212}' => Some(Foreign::Dash),
        '“' | '”' | '„' | '‟' | '‘' | '’' | '‚' | '«' | '»' => Some(Foreign::Quote),
        _ => {
            let fraction = FRACTIONS.iter().find(|(sign, _)| *sign == letter);
            let plain = LETTERS.iter().find(|(other, _)| *other == letter);
            fraction
                .map(|(_, words)| Foreign::Fraction(words))
                .or_else(|| plain.map(|(_, plain)| Foreign::Letter(letter, *plain)))
        }
    }
}

/// A word with its foreign letters, spaces and dashes written as those of the language.
pub(super) fn plainly(word: &str) -> String {
    word.chars()
        .map(|letter| match of_letter(letter) {
            Some(Foreign::Letter(_, plain)) => plain,
            Some(Foreign::Space(_)) => ' ',
            Some(Foreign::Dash) => '-',
            Some(Foreign::Quote) => '"',
            Some(Foreign::Fraction(_)) | None => letter,
        })
        .collect()
}

//! The fingerprint of a recipe: the SHA-256 of the recipe's work (see `work.rs`), written after the letter of the
//! scheme.

use std::fmt;

use sha2::{Digest, Sha256};

use super::canonical::canonical;
use super::fact::Fact;
use super::recipe::Recipe;

/// The letter of the scheme by which the facts of a recipe are written and hashed.
const SCHEME: char = 'W';

/// The digits of Crockford's base 32, which has no I, L, O and U.
const DIGITS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// The number of base-32 digits for all 256 bits.
const ALL: usize = 52;

/// The number of base-32 digits of the short form, for 35 bits.
const SHORT: usize = 7;

/// The number of first digits that almost certainly distinguish a fingerprint from every other one: they have 60 bits.
#[cfg(feature = "cli")]
const BEGINNING: usize = 12;

/// The fingerprint of a recipe. `Display` writes the short form, such as `W301-W94N`; `full` writes all 256 bits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Fingerprint([u8; 32]);

impl Fingerprint {
    /// The fingerprint of a recipe.
    pub fn of(recipe: &Recipe) -> Fingerprint {
        Fingerprint::of_facts(&recipe.work())
    }

    /// The fingerprint of these facts.
    pub fn of_facts(facts: &[Fact<'_>]) -> Fingerprint {
        Fingerprint(Sha256::digest(canonical(facts).as_bytes()).into())
    }

    /// The letter of the scheme and 52 digits, such as `W301W94N…`. The first digits are those of the short form.
    pub fn full(self) -> String {
        self.digits(ALL)
    }

    #[cfg(feature = "cli")]
    pub(crate) fn beginning(self) -> String {
        self.digits(BEGINNING)
    }

    fn digits(self, count: usize) -> String {
        let bit = |at: usize| self.0.get(at / 8).is_some_and(|byte| byte >> (7 - at % 8) & 1 == 1);
        let digit = |at: usize| (0..5).fold(0, |value, next| value * 2 + usize::from(bit(at * 5 + next)));
        let digits = (0..count).filter_map(|at| DIGITS.get(digit(at))).map(|byte| char::from(*byte));
        std::iter::once(SCHEME).chain(digits).collect()
    }
}

impl fmt::Display for Fingerprint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let digits = self.digits(SHORT);
        let (first, last) = digits.split_at(digits.len().div_ceil(2));
        write!(f, "{first}-{last}")
    }
}

/// Whether a text is a fingerprint as cards print it and sessions store it: of this scheme, in its short or full form,
/// or of the first scheme, which had eight hexadecimal digits.
pub fn is_fingerprint(text: &str) -> bool {
    is_first(text) || written(text).is_some_and(|digits| digits.len() == SHORT || digits.len() == ALL)
}

/// The fewest digits with which a person can look for a fingerprint.
const LEAST: usize = 4;

/// What a person wrote to look for a fingerprint.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FingerprintSought {
    /// The first digits of a fingerprint of this scheme, without its letter.
    Begins(String),
    /// A fingerprint of the first scheme, which is no longer made: eight hexadecimal digits in small letters.
    First(String),
}

impl FingerprintSought {
    /// Reads the beginning of a fingerprint; `None` if the text is no fingerprint's beginning, or has too few digits.
    pub fn parse(text: &str) -> Option<FingerprintSought> {
        let small = text.to_ascii_lowercase();
        if is_first(&small) {
            return Some(FingerprintSought::First(small));
        }
        let digits = written(text).filter(|digits| (LEAST..=ALL).contains(&digits.len()));
        digits.map(FingerprintSought::Begins)
    }

    /// Whether this matches a recipe's fingerprint. No recipe has a fingerprint of the first scheme any more.
    pub fn finds(&self, fingerprint: Fingerprint) -> bool {
        self.finds_text(&fingerprint.full())
    }

    /// Whether this can match a fingerprint of which only the first digits, `beginning`, are known.
    #[cfg(feature = "cli")]
    pub(crate) fn may_find(&self, beginning: &str) -> bool {
        let FingerprintSought::Begins(sought) = self else { return false };
        written(beginning).is_some_and(|own| own.starts_with(sought) || sought.starts_with(&own))
    }

    /// Whether this matches the fingerprint that a session states, which may be in its short form.
    pub fn finds_text(&self, fingerprint: &str) -> bool {
        match self {
            FingerprintSought::First(sought) => sought == fingerprint,
            FingerprintSought::Begins(sought) => written(fingerprint)
                .is_some_and(|own| own.starts_with(sought) || own.len() == SHORT && sought.starts_with(&own)),
        }
    }
}

/// The fingerprint that a session states, in the short form that cards print; any other text is returned unchanged.
pub(crate) fn short(fingerprint: &str) -> String {
    match written(fingerprint).as_deref().and_then(|digits| Some((digits.get(..3)?, digits.get(3..SHORT)?))) {
        Some((first, last)) => format!("{SCHEME}{first}-{last}"),
        None => fingerprint.to_owned(),
    }
}

fn is_first(text: &str) -> bool {
    text.len() == 8 && text.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'))
}

/// The digits of a fingerprint of this scheme, or of its beginning, as a person may write it. Hyphens and the case of
/// letters do not count, `I` and `L` are read as 1 and `O` as 0. `None` for any other text.
fn written(text: &str) -> Option<String> {
    let mut letters = text.chars().filter(|letter| *letter != '-').map(|letter| letter.to_ascii_uppercase());
    let read = |letter| match letter {
        'I' | 'L' => '1',
        'O' => '0',
        other => other,
    };
    let is_digit = |letter: &char| DIGITS.iter().any(|digit| char::from(*digit) == *letter);
    (letters.next()? == SCHEME).then_some(())?;
    letters.map(read).map(|letter| Some(letter).filter(is_digit)).collect()
}

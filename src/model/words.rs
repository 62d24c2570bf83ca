//! Closed choices of words: an enum whose spellings stand once.

/// Makes an enum of a choice, with all of it in order, and the word that a recipe has for each.
macro_rules! words {
    ($(#[$meta:meta])* $visible:vis enum $name:ident {
        $($(#[$doc:meta])* $variant:ident = $word:literal),* $(,)?
    }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        $visible enum $name {
            $($(#[$doc])* $variant),*
        }

        impl $name {
            /// All of them, in order.
            $visible const ALL: [$name; $name::WORDS.len()] = [$($name::$variant),*];
            /// Their words, in the same order.
            $visible const WORDS: &'static [&'static str] = &[$($word),*];

            /// The word a recipe has for it.
            #[must_use]
            $visible fn word(self) -> &'static str {
                match self {
                    $($name::$variant => $word),*
                }
            }

            /// The one of that word.
            #[must_use]
            $visible fn parse(word: &str) -> Option<$name> {
                $name::ALL.into_iter().find(|one| one.word() == word)
            }
        }
    };
}

pub(crate) use words;

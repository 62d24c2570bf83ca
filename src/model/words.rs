//! Closed choices of words: an enum whose spellings stand once.

/// Makes an enum with its words in a recipe.
macro_rules! words {
    ($(#[$meta:meta])* $visible:vis enum $name:ident {
        $($(#[$doc:meta])* $variant:ident = $word:literal),* $(,)?
    }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        $visible enum $name {
            $(#[doc = concat!("`", $word, "`")] $(#[$doc])* $variant),*
        }

        impl $name {
            /// All variants, in order.
            $visible const ALL: [$name; $name::WORDS.len()] = [$($name::$variant),*];
            /// Their words, in order.
            $visible const WORDS: &'static [&'static str] = &[$($word),*];

            /// Its word in a recipe.
            $visible fn word(self) -> &'static str {
                match self {
                    $($name::$variant => $word),*
                }
            }

            /// The variant with this word.
            $visible fn parse(word: &str) -> Option<$name> {
                $name::ALL.into_iter().find(|one| one.word() == word)
            }
        }
    };
}

pub(crate) use words;

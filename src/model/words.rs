//! The macro `words!` declares an enum, and the word for each variant in a recipe.

/// Declares an enum, and functions from a variant to its word and back.
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
            /// All variants, in the order of their declaration.
            $visible const ALL: [$name; $name::WORDS.len()] = [$($name::$variant),*];
            /// The words of all variants, in the order of their declaration.
            $visible const WORDS: &'static [&'static str] = &[$($word),*];

            /// The word for the variant in a recipe.
            $visible fn word(self) -> &'static str {
                match self {
                    $($name::$variant => $word),*
                }
            }

            /// The variant with this word; `None` if there is none.
            $visible fn parse(word: &str) -> Option<$name> {
                $name::ALL.into_iter().find(|one| one.word() == word)
            }
        }
    };
}

pub(crate) use words;

//! The kinds of values in statements and the kinds of declarations, with their names in messages and in the reference.

use super::row::Block;
use crate::model::words;

/// A kind of value in a statement.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A whole number without a unit.
    Count,
    /// A film's speed or exposure index.
    Index,
    /// Any number without a unit.
    Number,
    /// A factor by which another time is multiplied, as in `1.5 x clearing`.
    Factor,
    /// A pH.
    Ph,
    /// An optical density of film, or a contrast.
    Density,
    /// A brightness, as the number that a scanner or a phone shows.
    Brightness,
    /// `30 s`, `10:15`
    Time,
    /// A time that may be 0, such as `0 s`.
    Moment,
    /// A development time in a chart.
    ChartTime,
    /// `6 months`
    Keeping,
    /// `20 C`
    Temperature,
    /// The temperature of water, from a tap or for a formula.
    Tap,
    /// `0.15 C`, as a difference of two temperatures
    Difference,
    /// `2.5 l`
    Volume,
    /// `2 g`
    Mass,
    /// `2 g/l`, `5 ml/l`
    Strength,
    /// `10 %`
    Share,
    /// `1+4`, `stock`
    Dilution,
    /// `2 l/min`
    Flow,
    /// `60 rpm`
    Turning,
    /// `2026-11-25`
    Date,
    /// `"a text"`
    Text,
    /// The name that a declaration gives to what it declares.
    NewName,
    /// A name that refers to a declaration of this kind.
    Name(Declared),
    /// A name that is known only inside the declaration that states it, such as the name of a bottle or a step.
    OwnName,
    /// A substance from the table of ingredients.
    Ingredient,
    /// The state in which an ingredient is sold, such as `anhydrous`.
    State,
    /// The code of a hazard statement, such as `H302`.
    Hazard,
    /// A format of film, paper or plates.
    Format,
    /// A kind of step.
    Step,
    /// The first word of a statement that a recipe or a step can inherit.
    Statement,
}

/// Defines the kinds of declarations, each with its article, its word, and its placeholder in the language reference.
macro_rules! declared {
    ($($name:ident = $article:literal $word:literal $placeholder:literal,)*) => {
        words! {
            /// The kinds of declarations. Two declarations of different kinds can have the same name.
            pub enum Declared {
                $($name = $word),*
            }
        }

        impl Block {
            /// The kind of declaration that the header of this block begins; `None` for a block inside of a declaration
            /// and for the file.
            pub fn declares(self) -> Option<Declared> {
                match self {
                    $(Block::$name => Some(Declared::$name),)*
                    Block::File | Block::Formula | Block::Chart | Block::Strip | Block::Step(_) => None,
                }
            }
        }

        impl Declared {
            /// The kind with an article ("a film"), the words for its name ("a film's name"), and its placeholder in
            /// the reference (`FILM`).
            const fn texts(self) -> (&'static str, &'static str, &'static str) {
                match self {
                    $(Declared::$name => (
                        concat!($article, " ", $word),
                        concat!($article, " ", $word, "'s name"),
                        $placeholder,
                    ),)*
                }
            }
        }
    };
}

declared! {
    Film = "a" "film" "FILM",
    Ingredient = "an" "ingredient" "INGREDIENT",
    Solution = "a" "solution" "SOLUTION",
    Agitation = "an" "agitation" "AGITATION",
    Tank = "a" "tank" "TANK",
    Recipe = "a" "recipe" "RECIPE",
    Trial = "a" "trial" "TRIAL",
    Wedge = "a" "wedge" "WEDGE",
    Reader = "a" "reader" "READER",
    Bath = "a" "bath" "BATH",
    Test = "a" "test" "TEST",
    Session = "a" "session" "SESSION",
    Backlog = "a" "backlog" "BACKLOG",
    Collection = "a" "collection" "COLLECTION",
}

impl Declared {
    /// The kind with an article, as messages have it.
    pub fn words(self) -> &'static str {
        self.texts().0
    }
}

impl Kind {
    /// The kind with an article, as messages have it.
    pub const fn words(self) -> &'static str {
        self.texts().0
    }

    /// The placeholder for a value of this kind in a pattern of the reference.
    pub const fn placeholder(self) -> &'static str {
        self.texts().1
    }

    /// An example of a value of this kind.
    pub const fn example(self) -> &'static str {
        self.texts().2
    }

    const fn texts(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Kind::Count | Kind::Index => ("a whole number", "COUNT", "5"),
            Kind::Number => ("a number", "NUMBER", "2.4"),
            Kind::Factor => ("a number", "NUMBER", "1.5"),
            Kind::Ph => ("a pH", "PH", "4.8"),
            Kind::Density => ("a density or a contrast", "NUMBER", "0.58"),
            Kind::Brightness => ("a reading of a scanner or a phone", "NUMBER", "26900"),
            Kind::Time | Kind::Moment | Kind::ChartTime => ("a time", "TIME", "30 s or 10:15"),
            Kind::Keeping => ("a keeping time", "KEEPING", "6 months"),
            Kind::Temperature | Kind::Tap => ("a temperature", "TEMPERATURE", "20 C or 68 F"),
            Kind::Difference => ("a difference of temperatures", "DIFFERENCE", "0.3 C"),
            Kind::Volume => ("a volume", "VOLUME", "250 ml or 2.5 l"),
            Kind::Mass => ("a mass", "MASS", "2 g"),
            Kind::Strength => ("an amount per litre", "AMOUNT/L", "2 g/l"),
            Kind::Share => ("a percentage", "PERCENT", "10 %"),
            Kind::Dilution => ("a dilution", "DILUTION", "1+4 or stock"),
            Kind::Flow => ("a flow of water", "FLOW", "2 l/min"),
            Kind::Turning => ("a drum's speed", "RPM", "60 rpm"),
            Kind::Date => ("a date", "DATE", "2026-11-25"),
            Kind::Text => ("a text in quotes", "TEXT", "\"a text\""),
            Kind::NewName | Kind::OwnName => ("a name", "NAME", "mq-borax"),
            Kind::Name(declared) => (declared.texts().1, declared.texts().2, "mq-borax"),
            Kind::Ingredient => ("an ingredient", "INGREDIENT", "sodium-sulfite"),
            Kind::State => ("an ingredient's state", "STATE", "anhydrous"),
            Kind::Hazard => ("the code of a hazard statement", "CODE", "H302"),
            Kind::Format => ("a format", "FORMAT", "120, 135-24, 4x5in, 9x12cm or 16mmx50ft"),
            Kind::Step => ("a kind of step", "STEP", "develop"),
            Kind::Statement => ("the first word of a statement", "WORD", "repeat"),
        }
    }
}

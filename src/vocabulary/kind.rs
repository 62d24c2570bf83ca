//! The kinds of values, each with what the trade calls it.

use crate::model::words;

/// A kind of value that a statement can want.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A whole number without a unit.
    Count,
    /// A film's speed or index.
    Index,
    /// Any number without a unit.
    Number,
    /// `30 s`, `10:15`
    Time,
    /// A time that may be 0.
    Moment,
    /// A time of a chart.
    ChartTime,
    /// `6 months`
    Keeping,
    /// `20 C`
    Temperature,
    /// The temperature of a tap's water.
    Tap,
    /// `0.15 C`, as a difference
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
    /// A name given here.
    NewName,
    /// The name of something declared.
    Name(Declared),
    /// A name used only inside this declaration: a bottle or a step.
    OwnName,
    /// A substance from the table of ingredients.
    Ingredient,
    /// The state that an ingredient is in.
    State,
    /// A film format.
    Format,
    /// A kind of step.
    Step,
}

words! {
    /// The kinds of declarations; each has its own names.
    pub enum Declared {
        /// `film`
        Film = "film",
        /// `solution`
        Solution = "solution",
        /// `agitation`
        Agitation = "agitation",
        /// `tank`
        Tank = "tank",
        /// `recipe`
        Recipe = "recipe",
        /// `bath`
        Bath = "bath",
        /// `test`
        Test = "test",
        /// `session`
        Session = "session",
        /// `backlog`
        Backlog = "backlog",
    }
}

impl Declared {
    /// With its article.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Declared::Film => "a film",
            Declared::Solution => "a solution",
            Declared::Agitation => "an agitation",
            Declared::Tank => "a tank",
            Declared::Recipe => "a recipe",
            Declared::Bath => "a bath",
            Declared::Test => "a test",
            Declared::Session => "a session",
            Declared::Backlog => "a backlog",
        }
    }
}

impl Kind {
    /// What the trade calls it, with its article.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Kind::Count | Kind::Index => "a count",
            Kind::Number => "a number",
            Kind::Time | Kind::Moment | Kind::ChartTime => "a time",
            Kind::Keeping => "a keeping time",
            Kind::Temperature | Kind::Tap => "a temperature",
            Kind::Difference => "a difference of temperatures",
            Kind::Volume => "a volume",
            Kind::Mass => "a mass",
            Kind::Strength => "an amount per litre",
            Kind::Share => "a percentage",
            Kind::Dilution => "a dilution",
            Kind::Flow => "a flow of water",
            Kind::Turning => "a drum's speed",
            Kind::Date => "a date",
            Kind::Text => "a text in quotes",
            Kind::NewName | Kind::OwnName => "a name",
            Kind::Name(Declared::Film) => "a film's name",
            Kind::Name(Declared::Solution) => "a solution's name",
            Kind::Name(Declared::Agitation) => "an agitation's name",
            Kind::Name(Declared::Tank) => "a tank's name",
            Kind::Name(Declared::Recipe) => "a recipe's name",
            Kind::Name(Declared::Bath) => "a bath's name",
            Kind::Name(Declared::Test) => "a test's name",
            Kind::Name(Declared::Session) => "a session's name",
            Kind::Name(Declared::Backlog) => "a backlog's name",
            Kind::Ingredient => "an ingredient",
            Kind::State => "an ingredient's state",
            Kind::Format => "a film format",
            Kind::Step => "a kind of step",
        }
    }

    /// An example, as one would write it.
    #[must_use]
    pub const fn example(self) -> &'static str {
        match self {
            Kind::Count | Kind::Index => "5",
            Kind::Number => "2.4",
            Kind::Time | Kind::Moment | Kind::ChartTime => "30 s or 10:15",
            Kind::Keeping => "6 months",
            Kind::Temperature | Kind::Tap => "20 C or 68 F",
            Kind::Difference => "0.3 C",
            Kind::Volume => "250 ml or 2.5 l",
            Kind::Mass => "2 g",
            Kind::Strength => "2 g/l",
            Kind::Share => "10 %",
            Kind::Dilution => "1+4 or stock",
            Kind::Flow => "2 l/min",
            Kind::Turning => "60 rpm",
            Kind::Date => "2026-11-25",
            Kind::Text => "\"a text\"",
            Kind::NewName | Kind::OwnName | Kind::Name(_) => "mq-borax",
            Kind::Ingredient => "sodium-sulfite",
            Kind::State => "anhydrous",
            Kind::Format => "120, 220, 135, 135-24, 4x5in or 8x10in",
            Kind::Step => "develop",
        }
    }

    /// How it stands in a pattern of the reference.
    #[must_use]
    pub fn placeholder(self) -> &'static str {
        match self {
            Kind::Count | Kind::Index => "COUNT",
            Kind::Number => "NUMBER",
            Kind::Time | Kind::Moment | Kind::ChartTime => "TIME",
            Kind::Keeping => "KEEPING",
            Kind::Temperature | Kind::Tap => "TEMPERATURE",
            Kind::Difference => "DIFFERENCE",
            Kind::Volume => "VOLUME",
            Kind::Mass => "MASS",
            Kind::Strength => "AMOUNT/L",
            Kind::Share => "PERCENT",
            Kind::Dilution => "DILUTION",
            Kind::Flow => "FLOW",
            Kind::Turning => "RPM",
            Kind::Date => "DATE",
            Kind::Text => "TEXT",
            Kind::NewName | Kind::OwnName => "NAME",
            Kind::Name(Declared::Film) => "FILM",
            Kind::Name(Declared::Solution) => "SOLUTION",
            Kind::Name(Declared::Agitation) => "AGITATION",
            Kind::Name(Declared::Tank) => "TANK",
            Kind::Name(Declared::Recipe) => "RECIPE",
            Kind::Name(Declared::Bath) => "BATH",
            Kind::Name(Declared::Test) => "TEST",
            Kind::Name(Declared::Session) => "SESSION",
            Kind::Name(Declared::Backlog) => "BACKLOG",
            Kind::Ingredient => "INGREDIENT",
            Kind::State => "STATE",
            Kind::Format => "FORMAT",
            Kind::Step => "STEP",
        }
    }
}

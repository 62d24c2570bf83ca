//! The values of statements, and the types of slots, by which the program takes these values out of a statement.

use super::kind::{Declared, Kind};
use super::pattern::Form;
use super::reading::Reading;
use super::recipes::{bounds, lightings};
use super::shelf::contained;
use super::slot::Capture;
use super::tanks::{AmountOf, agitation_clauses, amounts};
use crate::chemistry::{Hazard, Ingredient};
use crate::model::{
    Aim, Amount, BracketStep, Clock, Date, Difference, Dilution, Flow, Format, Grain, Keeping, Knock, Mass,
    Measure, Motion, Number, Role, Share, Slope, Speed, StepKind, Substance, Temperature, Time, Use, Volume,
};

#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Value {
    Choice(usize),
    Count(u32),
    Number(Number),
    Time(Time),
    Keeping(Keeping),
    Temperature(Temperature),
    Difference(Difference),
    Volume(Volume),
    Mass(Mass),
    Measure(Measure),
    Share(Share),
    Dilution(Dilution),
    Flow(Flow),
    Speed(Speed),
    Date(Date),
    Text(String),
    /// A new name, a name that is known only inside its declaration, or another word, such as an ingredient's state.
    Name(String),
    /// A name that refers to a declaration of this kind in a file.
    Mention(Declared, String),
    Ingredient(&'static Ingredient),
    Hazard(&'static Hazard),
    Format(Format),
    Step(StepKind),
    Clause(Box<Reading>),
}

/// Implements [`Capture`] for types of slots. Each line gives the slot's type, the Rust type of its value, what the
/// slot holds, and how a [`Value`] is converted.
macro_rules! captures {
    ($($(#[$doc:meta])* $type:ty as $of:ty = $form:expr, $($value:pat => $given:expr),+;)*) => { $(
        $(#[$doc])*
        impl Capture for $type {
            type Of<'a> = $of;
            const FORM: Form = $form;
            fn of(value: &Value) -> Option<Self::Of<'_>> {
                match value {
                    $($value => Some($given),)+
                    _ => None,
                }
            }
        }
    )* };
}

macro_rules! copies {
    ($($type:ident as $of:ident = $kind:ident, $value:ident;)*) => {
        captures! { $($type as $of = Form::Value(Kind::$kind), Value::$value(value) => *value;)* }
    };
}

/// Implements [`Capture`] for enums whose variants are words of the language.
macro_rules! choices {
    ($($type:ident)*) => {
        captures! { $($type as $type = Form::Choice($type::WORDS), Value::Choice(at) => *$type::ALL.get(*at)?;)* }
    };
}

/// Declares empty types that serve only as types of slots. The values of these slots have a common Rust type, such as
/// `u32`.
macro_rules! markers {
    ($($type:ident)*) => { $(
        #[derive(Debug, Clone, Copy)]
        #[cfg_attr(not(feature = "cli"), allow(dead_code, reason = "the command line has a kind of its own"))]
        pub(crate) enum $type {}
    )* };
}

macro_rules! mentions {
    ($($type:ident = $declared:ident,)*) => {
        markers! { $($type)* }
        captures! { $(
            $type as &'a str = Form::Value(Kind::Name(Declared::$declared)), Value::Mention(_, name) => name;
        )* }
    };
}

markers! {
    StatementWord Count Density Brightness Factor Index Moment ChartTime Tap Text NewName OwnName State Ph AgitationClause BoundClause ContainedClause
    LightingClause HazardCode
}

copies! {
    Count as u32 = Count, Count;
    Index as u32 = Index, Count;
    Number as Number = Number, Number;
    Factor as Number = Factor, Number;
    Ph as Number = Ph, Number;
    Density as Number = Density, Number;
    Brightness as Number = Brightness, Number;
    Time as Time = Time, Time;
    Moment as Time = Moment, Time;
    ChartTime as Time = ChartTime, Time;
    Keeping as Keeping = Keeping, Keeping;
    Temperature as Temperature = Temperature, Temperature;
    Tap as Temperature = Tap, Temperature;
    Difference as Difference = Difference, Difference;
    Volume as Volume = Volume, Volume;
    Mass as Mass = Mass, Mass;
    Measure as Measure = Strength, Measure;
    Share as Share = Share, Share;
    Flow as Flow = Flow, Flow;
    Speed as Speed = Turning, Speed;
    Date as Date = Date, Date;
    Format as Format = Format, Format;
    StepKind as StepKind = Step, Step;
}

mentions! {
    FilmName = Film,
    SolutionName = Solution,
    AgitationName = Agitation,
    RecipeName = Recipe,
    BathName = Bath,
    SessionName = Session,
    BacklogName = Backlog,
    IngredientName = Ingredient,
    TankName = Tank,
    TrialName = Trial,
    WedgeName = Wedge,
    ReaderName = Reader,
}

choices! { Aim BracketStep Clock Grain Knock Motion Role Slope Use }

captures! {
    Text as &'a str = Form::Value(Kind::Text), Value::Text(text) => text;
    NewName as &'a str = Form::Value(Kind::NewName), Value::Name(name) => name;
    OwnName as &'a str = Form::Value(Kind::OwnName), Value::Name(name) => name;
    StatementWord as &'a str = Form::Value(Kind::Statement), Value::Name(name) => name;
    State as &'a str = Form::Value(Kind::State), Value::Name(name) => name;
    Dilution as &'a Dilution = Form::Value(Kind::Dilution), Value::Dilution(dilution) => dilution;

    /// An ingredient of the program's table, or the name of another ingredient.
    Substance as Substance = Form::Value(Kind::Ingredient),
        Value::Ingredient(ingredient) => Substance::Known(ingredient),
        Value::Name(name) => Substance::Other(name.clone());
    Amount as Amount = Form::Clause(amounts), Value::Clause(clause) => {
        let amount = clause.view::<AmountOf>()?;
        amount.time().map(Amount::For).or(amount.count().map(Amount::Inversions))?
    };
    BoundClause as &'a Reading = Form::Clause(bounds), Value::Clause(clause) => clause;
    ContainedClause as &'a Reading = Form::Clause(contained), Value::Clause(clause) => clause;
    HazardCode as &'static Hazard = Form::Value(Kind::Hazard), Value::Hazard(hazard) => hazard;
    LightingClause as &'a Reading = Form::Clause(lightings), Value::Clause(clause) => clause;
    AgitationClause as &'a Reading = Form::Clause(agitation_clauses), Value::Clause(clause) => clause;
}

/// Declares a type of slot for each optional word. The word alone has a meaning and carries no value, so the slot's
/// value is `()`.
macro_rules! flags {
    ($($type:ident = $word:literal),* $(,)?) => { $(
        #[derive(Debug, Clone, Copy)]
        pub(crate) enum $type {}

        captures! { $type as () = Form::Choice(&[$word]), Value::Choice(_) => (); }
    )* };
}

flags! {
    Any = "any", Harmless = "none", Unknown = "unknown", Clearing = "clearing", FromParent = "parent", Used = "used",
    HalfFull = "half full", Second = "second", Water = "water", Whole = "whole", EachSide = "each side",
    BothSides = "both sides", Before = "before", After = "after", Each = "each", Fine = "ok",
}

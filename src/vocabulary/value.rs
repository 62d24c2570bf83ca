//! The values of slots, and the types by which a slot gives them.

use super::kind::{Declared, Kind};
use super::pattern::Form;
use super::reading::Reading;
use super::slot::Capture;
use super::tanks::{AmountOf, agitation_clauses, amounts};
use crate::chemistry::Ingredient;
use crate::model::{
    Amount, Clock, Date, Difference, Dilution, Flow, Format, Grain, Keeping, Knock, Mass, Measure, Motion,
    Number, Role, Share, Speed, StepKind, Substance, Temperature, Time, Use, Volume,
};

/// What a slot of a statement holds.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Value {
    /// The index of a choice.
    Choice(usize),
    Count(u32),
    Number(Number),
    Time(Time),
    Keeping(Keeping),
    Temperature(Temperature),
    Difference(Difference),
    Volume(Volume),
    Mass(Mass),
    MassPerLitre(Mass),
    VolumePerLitre(Volume),
    Share(Share),
    Dilution(Dilution),
    Flow(Flow),
    Speed(Speed),
    Date(Date),
    Text(String),
    /// A new name, or one of this declaration alone.
    Name(String),
    /// The name of something declared.
    Mention(Declared, String),
    Ingredient(&'static Ingredient),
    Format(Format),
    Step(StepKind),
    /// A statement within the statement.
    Clause(Box<Reading>),
}

/// Types that stand for a kind of value whose own type is used by another kind too.
macro_rules! markers {
    ($($type:ident)*) => { $(
        #[derive(Debug, Clone, Copy)]
        #[cfg_attr(not(feature = "cli"), allow(dead_code, reason = "the command line has a kind of its own"))]
        pub(crate) enum $type {}
    )* };
}

markers! {
    Count Index Moment ChartTime Tap Text NewName OwnName State FilmName SolutionName AgitationName RecipeName BathName SessionName
    BacklogName
}

/// Kinds of values that a slot gives as a copy.
macro_rules! copies {
    ($($type:ident as $of:ident = $kind:ident, $value:ident;)*) => { $(
        impl Capture for $type {
            type Of<'a> = $of;
            const FORM: Form = Form::Value(Kind::$kind);
            fn of(value: &Value) -> Option<$of> {
                if let Value::$value(value) = value { Some(*value) } else { None }
            }
        }
    )* };
}

copies! {
    Count as u32 = Count, Count;
    Index as u32 = Index, Count;
    Number as Number = Number, Number;
    Time as Time = Time, Time;
    Moment as Time = Moment, Time;
    ChartTime as Time = ChartTime, Time;
    Keeping as Keeping = Keeping, Keeping;
    Temperature as Temperature = Temperature, Temperature;
    Tap as Temperature = Tap, Temperature;
    Difference as Difference = Difference, Difference;
    Volume as Volume = Volume, Volume;
    Mass as Mass = Mass, Mass;
    Share as Share = Share, Share;
    Flow as Flow = Flow, Flow;
    Speed as Speed = Turning, Speed;
    Date as Date = Date, Date;
    Format as Format = Format, Format;
    StepKind as StepKind = Step, Step;
}

/// Kinds of values that a slot gives as a text.
macro_rules! texts {
    ($($type:ident = $kind:expr, $value:pat => $text:ident;)*) => { $(
        impl Capture for $type {
            type Of<'a> = &'a str;
            const FORM: Form = Form::Value($kind);
            fn of(value: &Value) -> Option<&str> {
                if let $value = value { Some($text) } else { None }
            }
        }
    )* };
}

texts! {
    Text = Kind::Text, Value::Text(text) => text;
    NewName = Kind::NewName, Value::Name(text) => text;
    OwnName = Kind::OwnName, Value::Name(text) => text;
    State = Kind::State, Value::Name(text) => text;
    FilmName = Kind::Name(Declared::Film), Value::Mention(_, text) => text;
    SolutionName = Kind::Name(Declared::Solution), Value::Mention(_, text) => text;
    AgitationName = Kind::Name(Declared::Agitation), Value::Mention(_, text) => text;
    RecipeName = Kind::Name(Declared::Recipe), Value::Mention(_, text) => text;
    BathName = Kind::Name(Declared::Bath), Value::Mention(_, text) => text;
    SessionName = Kind::Name(Declared::Session), Value::Mention(_, text) => text;
    BacklogName = Kind::Name(Declared::Backlog), Value::Mention(_, text) => text;
}

impl Capture for Dilution {
    type Of<'a> = &'a Dilution;
    const FORM: Form = Form::Value(Kind::Dilution);
    fn of(value: &Value) -> Option<&Dilution> {
        if let Value::Dilution(dilution) = value { Some(dilution) } else { None }
    }
}

/// An amount for each litre.
impl Capture for Measure {
    type Of<'a> = Measure;
    const FORM: Form = Form::Value(Kind::Strength);
    fn of(value: &Value) -> Option<Measure> {
        match value {
            Value::MassPerLitre(mass) => Some(Measure::MassPerLitre(*mass)),
            Value::VolumePerLitre(volume) => Some(Measure::VolumePerLitre(*volume)),
            _ => None,
        }
    }
}

/// An ingredient, or the name of one that the table lacks.
impl Capture for Substance {
    type Of<'a> = Substance;
    const FORM: Form = Form::Value(Kind::Ingredient);
    fn of(value: &Value) -> Option<Substance> {
        match value {
            Value::Ingredient(ingredient) => Some(Substance::Known(ingredient)),
            Value::Name(name) => Some(Substance::Other(name.clone())),
            _ => None,
        }
    }
}

impl Capture for Amount {
    type Of<'a> = Amount;
    const FORM: Form = Form::Clause(amounts);
    fn of(value: &Value) -> Option<Amount> {
        let Value::Clause(clause) = value else { return None };
        let amount = clause.view::<AmountOf>()?;
        amount.get(AmountOf::time).map(Amount::For).or(amount.get(AmountOf::count).map(Amount::Inversions))
    }
}

/// A clause of an agitation.
#[derive(Debug, Clone, Copy)]
pub(crate) enum AgitationClause {}

impl Capture for AgitationClause {
    type Of<'a> = &'a Reading;
    const FORM: Form = Form::Clause(agitation_clauses);
    fn of(value: &Value) -> Option<&Reading> {
        if let Value::Clause(clause) = value { Some(clause) } else { None }
    }
}

macro_rules! choices {
    ($($type:ty),* $(,)?) => { $(
        impl Capture for $type {
            type Of<'a> = $type;
            const FORM: Form = Form::Choice(<$type>::WORDS);
            fn of(value: &Value) -> Option<$type> {
                if let Value::Choice(at) = value { <$type>::ALL.get(*at).copied() } else { None }
            }
        }
    )* };
}

choices! { Clock, Grain, Knock, Motion, Role, Use }

/// Words that a statement has or lacks.
macro_rules! flags {
    ($($type:ident = $word:literal),* $(,)?) => { $(
        #[doc = concat!("The words `", $word, "`, which a statement has or lacks.")]
        #[derive(Debug, Clone, Copy)]
        pub(crate) enum $type {}

        impl Capture for $type {
            type Of<'a> = ();
            const FORM: Form = Form::Choice(&[$word]);
            fn of(_: &Value) -> Option<()> {
                Some(())
            }
        }
    )* };
}

flags! {
    Water = "water", Whole = "whole", EachSide = "each side", Safe = "safe", Before = "before", After = "after",
}

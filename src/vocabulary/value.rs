//! The values that slots hold: how each is written, and how it is taken from a reading.

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
    /// Which of the slot's choices.
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
    /// A name given here, or known only here.
    Name(String),
    /// The name of something declared.
    Mention(Declared, String),
    Ingredient(&'static Ingredient),
    Format(Format),
    Step(StepKind),
    /// A statement within the statement.
    Clause(Box<Reading>),
}

/// Gives types their form and their value; those in brackets are made here, for want of one in the model.
macro_rules! captures {
    ($($life:lifetime [$($type:ident)?] $($model:ty)?, $of:ty, $form:expr, $pattern:pat => $value:expr;)*) => {
        $(captures! { @one $life [$($type)?] [$($model)?], $of, $form, $pattern => $value })*
    };
    (@one $life:lifetime [$type:ident] [], $of:ty, $form:expr, $pattern:pat => $value:expr) => {
        #[derive(Debug, Clone, Copy)]
        pub(crate) enum $type {}
        captures! { @one $life [] [$type], $of, $form, $pattern => $value }
    };
    (@one $life:lifetime [] [$type:ty], $of:ty, $form:expr, $pattern:pat => $value:expr) => {
        impl Capture for $type {
            type Of<$life> = $of;
            const FORM: Form = Form::Value($form);
            fn of<$life>(value: &$life Value) -> Option<$of> {
                if let $pattern = value { Some($value) } else { None }
            }
        }
    };
}

captures! {
    'a [Count], u32, Kind::Count, Value::Count(count) => *count;
    'a [Index], u32, Kind::Index, Value::Count(count) => *count;
    'a [] Number, Number, Kind::Number, Value::Number(number) => *number;
    'a [] Time, Time, Kind::Time, Value::Time(time) => *time;
    'a [Moment], Time, Kind::Moment, Value::Time(time) => *time;
    'a [ChartTime], Time, Kind::ChartTime, Value::Time(time) => *time;
    'a [] Keeping, Keeping, Kind::Keeping, Value::Keeping(keeping) => *keeping;
    'a [] Temperature, Temperature, Kind::Temperature, Value::Temperature(temperature) => *temperature;
    'a [Tap], Temperature, Kind::Tap, Value::Temperature(temperature) => *temperature;
    'a [] Difference, Difference, Kind::Difference, Value::Difference(difference) => *difference;
    'a [] Volume, Volume, Kind::Volume, Value::Volume(volume) => *volume;
    'a [] Mass, Mass, Kind::Mass, Value::Mass(mass) => *mass;
    'a [] Share, Share, Kind::Share, Value::Share(share) => *share;
    'a [] Dilution, &'a Dilution, Kind::Dilution, Value::Dilution(dilution) => dilution;
    'a [] Flow, Flow, Kind::Flow, Value::Flow(flow) => *flow;
    'a [] Speed, Speed, Kind::Turning, Value::Speed(speed) => *speed;
    'a [] Date, Date, Kind::Date, Value::Date(date) => *date;
    'a [] Format, Format, Kind::Format, Value::Format(format) => *format;
    'a [] StepKind, StepKind, Kind::Step, Value::Step(kind) => *kind;
    'a [Text], &'a str, Kind::Text, Value::Text(text) => text;
    'a [NewName], &'a str, Kind::NewName, Value::Name(name) => name;
    'a [OwnName], &'a str, Kind::OwnName, Value::Name(name) => name;
    'a [State], &'a str, Kind::State, Value::Name(name) => name;
    'a [FilmName], &'a str, Kind::Name(Declared::Film), Value::Mention(_, name) => name;
    'a [SolutionName], &'a str, Kind::Name(Declared::Solution), Value::Mention(_, name) => name;
    'a [AgitationName], &'a str, Kind::Name(Declared::Agitation), Value::Mention(_, name) => name;
    'a [RecipeName], &'a str, Kind::Name(Declared::Recipe), Value::Mention(_, name) => name;
    'a [BathName], &'a str, Kind::Name(Declared::Bath), Value::Mention(_, name) => name;
    'a [SessionName], &'a str, Kind::Name(Declared::Session), Value::Mention(_, name) => name;
    'a [BacklogName], &'a str, Kind::Name(Declared::Backlog), Value::Mention(_, name) => name;
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

/// An ingredient; one that the table does not have goes by its name.
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

/// Words that a statement may have or not; what counts is whether they stand there.
macro_rules! flags {
    ($($type:ident = $word:literal),* $(,)?) => { $(
        #[doc = concat!("Whether `", $word, "` stands there.")]
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

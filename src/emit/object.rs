//! JSON values.

use serde::{Serialize, Serializer};
use serde_json::Value;

use super::plain::plain;
use crate::model::{Date, Dilution, Format, Temperature, Time, Volume, decimal};

/// A JSON value. Its texts have no control characters.
#[derive(Serialize)]
#[serde(untagged)]
pub(super) enum Json {
    Plain(Value),
    List(Vec<Json>),
    Object(Object),
    /// No value. An [`Object`] leaves out a key with this value.
    #[serde(skip)]
    Absent,
}

/// A JSON object. Its keys stay in the order in which they are added.
#[derive(Default)]
pub(super) struct Object(Vec<(&'static str, Json)>);

impl Object {
    pub(super) fn of(key: &'static str, value: impl Into<Json>) -> Object {
        Object::default().put(key, value)
    }

    /// Adds a key, unless its value is [`Json::Absent`].
    pub(super) fn put(mut self, key: &'static str, value: impl Into<Json>) -> Object {
        let value = value.into();
        if !matches!(value, Json::Absent) {
            self.0.push((key, value));
        }
        self
    }

    pub(super) fn join(mut self, other: Object) -> Object {
        self.0.extend(other.0);
        self
    }

    pub(super) fn text(&self) -> String {
        serde_json::to_string_pretty(self).expect("an object with text keys is valid JSON") + "\n"
    }
}

impl Serialize for Object {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_map(self.0.iter().map(|(key, value)| (key, value)))
    }
}

/// Converts an area of film, in units of (1/300 mm)², to twelfths of a roll, with at most three decimals.
pub(super) fn twelfths(film: i64) -> Json {
    number(&decimal(film, Format::ROLL / 12, 3))
}

/// Converts a decimal number to a JSON number. A whole number has no decimals: `50`, not `50.0`.
pub(super) fn number(decimal: &str) -> Json {
    match decimal.parse::<i64>() {
        Ok(whole) => whole.into(),
        Err(_) => decimal.parse::<f64>().unwrap_or(f64::NAN).into(),
    }
}

pub(super) fn ml(volume: Volume) -> Json {
    number(&volume.in_ml(1))
}

pub(super) fn list<T, V: Into<Json>>(items: impl IntoIterator<Item = T>, value: impl FnMut(T) -> V) -> Json {
    Json::List(items.into_iter().map(value).map(Into::into).collect())
}

/// The list; [`Json::Absent`] if it is empty.
pub(super) fn filled(list: impl Into<Json>) -> Json {
    match list.into() {
        Json::List(items) if items.is_empty() => Json::Absent,
        list => list,
    }
}

impl<T: Into<Json>> From<Option<T>> for Json {
    fn from(value: Option<T>) -> Json {
        value.map_or(Json::Absent, Into::into)
    }
}

/// Implements the conversion to [`Json`] for each type. A time becomes milliseconds, a temperature degrees Celsius.
macro_rules! from {
    ($($type:ty: $value:ident => $json:expr;)*) => {
        $(impl From<$type> for Json {
            fn from($value: $type) -> Json {
                $json
            }
        })*
    };
}

from! {
    bool: value => Json::Plain(value.into());
    i64: value => Json::Plain(value.into());
    u32: value => Json::Plain(value.into());
    usize: value => Json::Plain(value.into());
    f64: value => Json::Plain(value.into());
    &str: text => Json::Plain(plain(text).into());
    &String: text => text.as_str().into();
    String: text => text.as_str().into();
    &Vec<String>: texts => list(texts, Json::from);
    Object: object => Json::Object(object);
    Time: time => time.ms.into();
    Temperature: temperature => number(&temperature.in_celsius(3));
    Date: date => date.to_string().into();
    &Dilution: dilution => dilution.to_string().into();
}

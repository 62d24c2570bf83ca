//! JSON values whose keys keep the order in which they were added.

use serde::{Serialize, Serializer};

use crate::model::{Temperature, Volume};

/// A JSON value.
#[derive(Serialize)]
#[serde(untagged)]
pub(super) enum Json {
    Null,
    Bool(bool),
    Whole(i64),
    Decimal(f64),
    Text(String),
    List(Vec<Json>),
    Object(Object),
    /// Leaves its key out of an object.
    #[serde(skip)]
    Absent,
}

/// A JSON object.
#[derive(Default)]
pub(super) struct Object(Vec<(&'static str, Json)>);

impl Object {
    pub(super) fn new() -> Object {
        Object::default()
    }

    /// Adds a key; `None` adds nothing.
    pub(super) fn put(mut self, key: &'static str, value: impl Into<Json>) -> Object {
        let value = value.into();
        if !matches!(value, Json::Absent) {
            self.0.push((key, value));
        }
        self
    }

    /// Adds the keys of another object.
    pub(super) fn join(mut self, other: Object) -> Object {
        self.0.extend(other.0);
        self
    }

    /// The indented text, with a line ending.
    pub(super) fn text(&self) -> String {
        serde_json::to_string_pretty(self).expect("every key is a word and every number is finite") + "\n"
    }
}

impl Serialize for Object {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_map(self.0.iter().map(|(key, value)| (key, value)))
    }
}

/// A decimal without needless places: `50`, not `50.0`.
pub(super) fn number(decimal: &str) -> Json {
    match decimal.parse() {
        Ok(whole) => Json::Whole(whole),
        Err(_) => Json::Decimal(decimal.parse().unwrap_or(f64::NAN)),
    }
}

pub(super) fn ml(volume: Volume) -> Json {
    number(&volume.in_ml(1))
}

pub(super) fn celsius(temperature: Temperature) -> Json {
    number(&temperature.in_celsius(3))
}

/// The items, in their order.
pub(super) fn list<T, V: Into<Json>>(items: impl IntoIterator<Item = T>, value: impl FnMut(T) -> V) -> Json {
    Json::List(items.into_iter().map(value).map(Into::into).collect())
}

/// A list that is left out if it is empty.
pub(super) fn filled(list: Json) -> Json {
    match list {
        Json::List(items) if items.is_empty() => Json::Absent,
        list => list,
    }
}

impl<T: Into<Json>> From<Option<T>> for Json {
    fn from(value: Option<T>) -> Json {
        value.map_or(Json::Absent, Into::into)
    }
}

impl<T: Into<Json>> From<Vec<T>> for Json {
    fn from(items: Vec<T>) -> Json {
        list(items, Into::into)
    }
}

impl From<&str> for Json {
    fn from(text: &str) -> Json {
        Json::Text(text.to_owned())
    }
}

impl From<usize> for Json {
    fn from(count: usize) -> Json {
        Json::Whole(i64::try_from(count).unwrap_or(i64::MAX))
    }
}

impl From<u32> for Json {
    fn from(count: u32) -> Json {
        Json::Whole(count.into())
    }
}

/// The variant that holds a value of each of these types.
macro_rules! from {
    ($($type:ty => $variant:ident),*) => {
        $(impl From<$type> for Json {
            fn from(value: $type) -> Json {
                Json::$variant(value)
            }
        })*
    };
}

from!(bool => Bool, i64 => Whole, f64 => Decimal, String => Text, Object => Object);

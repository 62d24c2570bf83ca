//! Canonical JSON for the fingerprint: keys sorted, no blanks, whole numbers only. Lean, since a
//! recipe is hashed whenever it is compiled: no key is copied and no map is built.

use std::borrow::Cow;

/// A value of canonical JSON.
pub(super) enum Canon {
    Null,
    Bool(bool),
    Number(i64),
    Text(Cow<'static, str>),
    List(Vec<Canon>),
    Object(Vec<(&'static str, Canon)>),
}

/// Builds a [`Canon`] in the form of JSON.
macro_rules! canon {
    ({ $($key:literal : $value:expr),* $(,)? }) => {
        $crate::compile::canon::Canon::Object(vec![$(($key, $crate::compile::canon::Canon::from($value))),*])
    };
    ([ $($value:expr),* $(,)? ]) => {
        $crate::compile::canon::Canon::List(vec![$($crate::compile::canon::Canon::from($value)),*])
    };
}
pub(super) use canon;

impl Canon {
    /// The text of the value.
    pub(super) fn text(self) -> String {
        let mut text = String::with_capacity(4096);
        self.write(&mut text);
        text
    }

    fn write(self, out: &mut String) {
        match self {
            Canon::Null => out.push_str("null"),
            Canon::Bool(value) => out.push_str(if value { "true" } else { "false" }),
            Canon::Number(value) => out.push_str(&value.to_string()),
            Canon::Text(text) => out.push_str(&serde_json::Value::from(text).to_string()),
            Canon::List(values) => {
                out.push('[');
                for (at, value) in values.into_iter().enumerate() {
                    out.push_str(if at == 0 { "" } else { "," });
                    value.write(out);
                }
                out.push(']');
            }
            Canon::Object(mut fields) => {
                fields.sort_unstable_by_key(|(key, _)| *key);
                out.push('{');
                for (at, (key, value)) in fields.into_iter().enumerate() {
                    out.push_str(if at == 0 { "\"" } else { ",\"" });
                    out.push_str(key);
                    out.push_str("\":");
                    value.write(out);
                }
                out.push('}');
            }
        }
    }
}

impl From<bool> for Canon {
    fn from(value: bool) -> Canon {
        Canon::Bool(value)
    }
}

impl From<i64> for Canon {
    fn from(value: i64) -> Canon {
        Canon::Number(value)
    }
}

impl From<u32> for Canon {
    fn from(value: u32) -> Canon {
        Canon::Number(i64::from(value))
    }
}

impl From<&'static str> for Canon {
    fn from(text: &'static str) -> Canon {
        Canon::Text(Cow::Borrowed(text))
    }
}

impl From<String> for Canon {
    fn from(text: String) -> Canon {
        Canon::Text(Cow::Owned(text))
    }
}

impl<T: Into<Canon>> From<Option<T>> for Canon {
    fn from(value: Option<T>) -> Canon {
        value.map_or(Canon::Null, Into::into)
    }
}

impl<T: Into<Canon>> From<Vec<T>> for Canon {
    fn from(values: Vec<T>) -> Canon {
        Canon::List(values.into_iter().map(Into::into).collect())
    }
}

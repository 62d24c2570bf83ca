//! The protocol's error responses.

use gen_lsp_types::ErrorCodes;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// An error response: the protocol's code and a message.
#[derive(Debug)]
pub(super) struct Refusal {
    pub(super) code: ErrorCodes,
    pub(super) message: String,
}

/// The protocol's code for a valid request that failed.
const REQUEST_FAILED: i32 = -32803;

impl Refusal {
    /// A valid request failed.
    pub(super) fn failed(message: impl Into<String>) -> Refusal {
        Refusal { code: ErrorCodes::Custom(REQUEST_FAILED), message: message.into() }
    }

    /// The parameters of a request are invalid.
    pub(super) fn params(message: impl Into<String>) -> Refusal {
        Refusal { code: ErrorCodes::InvalidParams, message: message.into() }
    }
}

/// Parses a request's parameters.
pub(super) fn params<T: DeserializeOwned>(params: Value) -> Result<T, Refusal> {
    serde_json::from_value(params).map_err(|error| Refusal::params(error.to_string()))
}

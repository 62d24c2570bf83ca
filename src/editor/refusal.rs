//! Why a request is not answered, as the protocol says it.

use gen_lsp_types::ErrorCodes;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// A request refused: the protocol's number for the reason, and words for the person.
#[derive(Debug)]
pub(super) struct Refusal {
    pub(super) code: ErrorCodes,
    pub(super) message: String,
}

/// The protocol's number for a request that is well formed and cannot be carried out.
const REQUEST_FAILED: i32 = -32803;

impl Refusal {
    /// The request cannot be carried out; the words say why.
    pub(super) fn failed(message: impl Into<String>) -> Refusal {
        Refusal { code: ErrorCodes::Custom(REQUEST_FAILED), message: message.into() }
    }

    /// The request's parameters are not what the protocol wants.
    pub(super) fn params(message: impl Into<String>) -> Refusal {
        Refusal { code: ErrorCodes::InvalidParams, message: message.into() }
    }
}

/// A request's parameters in their type.
pub(super) fn params<T: DeserializeOwned>(params: Value) -> Result<T, Refusal> {
    serde_json::from_value(params).map_err(|error| Refusal::params(error.to_string()))
}

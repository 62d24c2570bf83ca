//! What both sides can do: what the editor said of itself, and what it is told in turn.

use serde_json::{Value, json};

use super::positions::Encoding;

/// What columns count: bytes where the editor can, since then nothing is counted twice. Nothing else of what it
/// says of itself is read, so that an editor of another age is not refused for the rest.
pub(super) fn encoding(params: &Value) -> Encoding {
    let known = params.pointer("/capabilities/general/positionEncodings").and_then(Value::as_array);
    match known.is_some_and(|known| known.iter().any(|one| one == "utf-8")) {
        true => Encoding::Utf8,
        false => Encoding::Utf16,
    }
}

/// What this side offers.
pub(super) fn offered(encoding: Encoding) -> Value {
    let encoding = match encoding {
        Encoding::Utf8 => "utf-8",
        Encoding::Utf16 => "utf-16",
    };
    json!({
        "capabilities": {
            "positionEncoding": encoding,
            "textDocumentSync": { "openClose": true, "change": 1 },
            "codeActionProvider": { "codeActionKinds": ["quickfix"] },
            "hoverProvider": true,
            "definitionProvider": true,
            "referencesProvider": true,
            "renameProvider": { "prepareProvider": true },
            "completionProvider": { "triggerCharacters": [" "] },
            "documentLinkProvider": {},
            "documentSymbolProvider": true,
            "foldingRangeProvider": true,
            "documentFormattingProvider": true,
            "inlayHintProvider": true,
        },
        "serverInfo": { "name": "wetside", "version": env!("CARGO_PKG_VERSION") },
    })
}

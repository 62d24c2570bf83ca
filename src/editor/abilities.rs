//! The capabilities of the editor and of this server.

use serde_json::{Value, json};

use super::positions::Encoding;

/// The unit of columns: bytes if the editor supports them. Its other capabilities are not read, so that no version of
/// the protocol is refused for them.
pub(super) fn encoding(params: &Value) -> Encoding {
    let known = params.pointer("/capabilities/general/positionEncodings").and_then(Value::as_array);
    match known.is_some_and(|known| known.iter().any(|one| one == "utf-8")) {
        true => Encoding::Utf8,
        false => Encoding::Utf16,
    }
}

/// The capabilities of this server.
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

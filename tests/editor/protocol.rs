//! Invalid messages are refused, and the session goes on; only an unreadable frame ends it.

use serde_json::{Value, json};

use super::BENCH;
use super::client::Client;

const PARSE: i64 = -32700;
const INVALID: i64 = -32600;
const NO_METHOD: i64 = -32601;
const PARAMS: i64 = -32602;
const NOT_BEGUN: i64 = -32002;

#[test]
fn invalid_json_is_refused_and_the_session_goes_on() {
    let mut client = Client::begun(&["utf-8"]);
    let deep = "[".repeat(100_000);
    for body in ["{\"jsonrpc\": ", "", "\u{1}", deep.as_str()] {
        client.framed(body);
        let told = client.receive();
        assert_eq!((&told["error"]["code"], &told["id"]), (&json!(PARSE), &Value::Null), "{body:.20}");
    }
    client.raw(b"Content-Length: 2\r\n\r\n\xff\xfe");
    assert_eq!(client.receive()["error"]["code"], PARSE);
    client.ends_well();
}

#[test]
fn json_that_is_no_message_is_refused_and_the_session_goes_on() {
    let mut client = Client::begun(&["utf-8"]);
    for body in ["[]", "3", "null", "\"x\"", "{}", "{\"jsonrpc\":\"1.0\",\"id\":1,\"method\":\"shutdown\"}"] {
        client.framed(body);
        assert_eq!(client.receive()["error"]["code"], INVALID, "{body}");
    }
    // A response without a request is ignored.
    client.framed("{\"jsonrpc\":\"2.0\",\"id\":7,\"result\":null}");
    client.ends_well();
}

#[test]
fn an_unknown_method_is_refused_and_an_unknown_notification_is_ignored() {
    let mut client = Client::begun(&["utf-8"]);
    client.notify("$/setTrace", json!({ "value": "off" }));
    client.notify("textDocument/didDance", json!([1, 2]));
    let (code, words) = client.refused("textDocument/dance", json!({}));
    assert_eq!(code, NO_METHOD);
    assert!(words.contains("textDocument/dance"), "{words}");
    client.ends_well();
}

#[test]
fn invalid_parameters_are_refused() {
    let mut client = Client::begun(&["utf-8"]);
    client.open("bench.wet", BENCH);
    let uri = client.uri("bench.wet");
    for params in [
        Value::Null,
        json!([]),
        json!({ "textDocument": 3 }),
        json!({ "textDocument": { "uri": uri }, "position": { "line": -1, "character": 0 } }),
        json!({ "textDocument": { "uri": uri }, "position": { "line": 1e300, "character": 0 } }),
        json!({ "textDocument": { "uri": "file:///nowhere.wet" }, "position": { "line": 0, "character": 0 } }),
    ] {
        assert_eq!(client.refused("textDocument/hover", params.clone()).0, PARAMS, "{params}");
    }
    client.notify("textDocument/didChange", json!({ "textDocument": { "uri": uri }, "contentChanges": 3 }));
    client.notify("textDocument/didClose", json!({ "textDocument": { "uri": "file:///never-opened.wet" } }));
    client.ends_well();
}

#[test]
fn nothing_is_answered_before_initialize_and_nothing_after_shutdown() {
    let mut client = Client::started();
    client.notify("textDocument/didOpen", json!({}));
    assert_eq!(client.refused("textDocument/hover", json!({})).0, NOT_BEGUN);
    assert_eq!(client.refused("shutdown", Value::Null).0, NOT_BEGUN);
    client.request("initialize", json!({ "capabilities": {} }));
    assert_eq!(client.refused("initialize", json!({ "capabilities": {} })).0, INVALID);
    client.request("shutdown", Value::Null);
    assert_eq!(client.refused("textDocument/hover", json!({})).0, INVALID);
    client.notify("exit", Value::Null);
    assert_eq!(client.left(), (0, String::new()));
}

#[test]
fn an_exit_without_shutdown_is_status_one() {
    let mut client = Client::begun(&["utf-8"]);
    client.notify("exit", Value::Null);
    assert_eq!(client.left(), (1, String::new()));
    assert_eq!(Client::begun(&["utf-8"]).left(), (1, String::new()));
    assert_eq!(Client::started().left(), (1, String::new()));
}

#[test]
fn a_frame_that_cannot_be_read_ends_the_session_with_status_two() {
    let long = format!("X: {}", "y".repeat(100_000));
    let many = "X: y\r\n".repeat(100);
    for frame in [
        "hello\r\n\r\n",
        "\r\n",
        "Content-Type: text\r\n\r\n{}",
        "Content-Length: two\r\n\r\n{}",
        "Content-Length: -2\r\n\r\n{}",
        "Content-Length: +2\r\n\r\n{}",
        "Content-Length: 99999999999999999999999\r\n\r\n{}",
        "Content-Length: 18446744073709551615\r\n\r\n{}",
        "Content-Length: 4000000000\r\n\r\n{}",
        "Content-Length: 400\r\n\r\n{}",
        "Content-Length: 2",
        "Content-Length: \u{1b}[31m\r\n\r\n",
        long.as_str(),
        many.as_str(),
    ] {
        let mut client = Client::begun(&["utf-8"]);
        client.raw(frame.as_bytes());
        let (status, said) = client.left();
        assert_eq!(status, 2, "{frame:.40}: {said}");
        assert!(said.contains("messages cannot be read"), "{frame:.40}: {said}");
        assert!(!said.contains('\u{1b}'), "{said:?}");
    }
}

#[test]
fn a_header_may_have_other_fields_and_another_case() {
    let mut client = Client::started();
    let body =
        "{\"jsonrpc\":\"2.0\",\"id\":\"a\",\"method\":\"initialize\",\"params\":{\"capabilities\":{}}}";
    let header = "Content-Type: application/vscode-jsonrpc; charset=utf-8\r\ncontent-length:";
    client.raw(format!("{header}{}\r\n\r\n{body}", body.len()).as_bytes());
    assert_eq!(client.receive()["id"], "a");
    client.ends_well();
}

#[test]
fn odd_addresses_are_texts_that_use_no_other_file() {
    let mut client = Client::begun(&["utf-8"]);
    for uri in [
        "untitled:one",
        "",
        "file://",
        "file:///%zz.wet",
        "file:///a%00b.wet",
        "file:///../../x.wet",
        "https://x/y.wet",
    ] {
        let document =
            json!({ "uri": uri, "languageId": "wetside", "version": 1, "text": "wetside 1\noddly\n" });
        client.notify("textDocument/didOpen", json!({ "textDocument": document }));
        let told = client.diagnostics(uri);
        assert_eq!(told.len(), 1, "{uri}");
        assert_eq!(told[0]["code"], "unknown-word", "{uri}");
    }
    client.ends_well();
}

#[test]
fn a_text_over_one_mebibyte_is_reported_and_not_checked() {
    let mut client = Client::begun(&["utf-8"]);
    let told = client.open("long.wet", &"# tide\n".repeat(200_000));
    assert_eq!(told.len(), 1);
    assert!(told[0]["message"].as_str().unwrap().contains("over 1 MiB"), "{}", told[0]);
    assert_eq!(client.change("long.wet", 2, "wetside 1\n"), [Value::Null; 0]);
    client.ends_well();
}

/// The text in it is not known until the editor sends the whole text again.
#[test]
fn a_message_over_the_limit_is_refused_and_the_session_goes_on() {
    let mut client = Client::begun(&["utf-8"]);
    client.open("bench.wet", BENCH);
    client.open("long.wet", "wetside 1\n");
    let uri = client.uri("long.wet");
    let text = "# tide\n".repeat(2_500_000);
    let change =
        json!({ "textDocument": { "uri": uri, "version": 2 }, "contentChanges": [{ "text": text }] });
    client.notify("textDocument/didChange", change);
    let refused = client.receive();
    assert_eq!((&refused["error"]["code"], &refused["id"]), (&json!(INVALID), &Value::Null));
    assert!(
        refused["error"]["message"].as_str().unwrap().contains("longer than 16777216 bytes"),
        "{refused}"
    );
    let told = client.diagnostics(&uri);
    assert!(told.len() == 1 && told[0]["message"].as_str().unwrap().contains("is not known"), "{told:?}");
    let place = json!({ "line": 0, "character": 0 });
    let part = json!({ "range": { "start": place, "end": place }, "text": "oddly\n" });
    let document = json!({ "uri": uri, "version": 3 });
    client.notify("textDocument/didChange", json!({ "textDocument": document, "contentChanges": [part] }));
    assert!(client.diagnostics(&uri)[0]["message"].as_str().unwrap().contains("is not known"));
    assert_eq!(client.change("long.wet", 4, "wetside 1\noddly\n")[0]["code"], "unknown-word");
    assert_eq!(client.change("bench.wet", 2, BENCH), [Value::Null; 0]);
    let long = json!({ "textDocument": { "uri": "x".repeat(17 << 20) } });
    assert_eq!(client.refused("textDocument/hover", long).0, INVALID);
    client.raw(b"Content-Length: 20000000\r\n\r\n");
    client.raw(&[b'['; 20_000_000]);
    assert_eq!(client.receive()["error"]["code"], INVALID);
    client.ends_well();
}

/// After an edit of a text that was too long, the text is the editor's again.
#[test]
fn a_text_that_is_cut_to_under_one_mebibyte_is_checked_again() {
    let mut client = Client::begun(&["utf-8"]);
    client.open("long.wet", &format!("wetside 1\n{}oddly\n", "# tide\n".repeat(200_000)));
    let uri = client.uri("long.wet");
    let range = json!({ "start": { "line": 1, "character": 0 }, "end": { "line": 200_001, "character": 0 } });
    let document = json!({ "uri": uri, "version": 2 });
    let change = json!([{ "range": range, "text": "" }]);
    client.notify("textDocument/didChange", json!({ "textDocument": document, "contentChanges": change }));
    let told = client.diagnostics(&uri);
    assert_eq!((told.len(), &told[0]["code"]), (1, &json!("unknown-word")));
    assert_eq!(told[0]["range"]["start"], json!({ "line": 1, "character": 0 }));
    client.ends_well();
}

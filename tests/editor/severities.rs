//! Severities of each document's own config file, and the report of an invalid config file.

use serde_json::Value;

use super::client::Client;

/// A development of a minute, which is a warning by default: 2 in the protocol.
const HASTY: &str = "\
wetside 1
recipe hasty {
    develop {
        in        water
        time      1:00
        between   18 C and 24 C
        agitate   first 10 s, then 5 s every 30 s
    }
}
";

fn severities(told: &[Value]) -> Vec<(&str, u64)> {
    told.iter().map(|told| (told["code"].as_str().unwrap(), told["severity"].as_u64().unwrap())).collect()
}

#[test]
fn each_document_has_the_severities_of_its_own_config_file() {
    let mut client = Client::begun(&["utf-8"]);
    client.file("strict/wetside.toml", "[levels]\nshort-development = \"error\"\n");
    client.file("off/wetside.toml", "[levels]\nshort-development = \"off\"\n");
    let strict = client.open("strict/a.wet", HASTY);
    assert_eq!(severities(&strict), [("short-development", 1)]);
    assert!(client.open("off/a.wet", HASTY).is_empty());
    client.file("plain/keep", "");
    assert_eq!(severities(&client.open("plain/a.wet", HASTY)), [("short-development", 2)]);
    client.ends_well();
}

#[test]
fn no_config_ignores_the_config_file() {
    let mut client = Client::begun_with("--no-config");
    client.file("wetside.toml", "[levels]\nshort-development = \"error\"\n");
    assert_eq!(severities(&client.open("a.wet", HASTY)), [("short-development", 2)]);
    client.ends_well();
}

#[test]
fn an_error_of_a_config_file_is_reported_and_the_default_severities_apply() {
    let mut client = Client::begun(&["utf-8"]);
    client.file("wetside.toml", "[levels]\nshort-development = \"loud\"\n");
    let told = client.open("a.wet", HASTY);
    let said = told[0]["message"].as_str().unwrap();
    let why = "wetside.toml:2:21: 'loud' is not a severity; write off, advice, warning or error";
    assert!(said.ends_with(why), "{said}");
    assert_eq!((told[0]["severity"].as_u64(), told[0].get("code")), (Some(2), None));
    assert_eq!(severities(&told[1..]), [("short-development", 2)]);
    client.ends_well();
}

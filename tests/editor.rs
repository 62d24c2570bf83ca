//! The language server, as an editor meets it: a session with the built program over pipes.

mod client;
mod collections;
mod completion;
mod darkroom;
mod diagnostics;
mod hover;
mod members;
mod names;
mod newer;
mod other_files;
mod positions;
mod protocol;
mod severities;
mod work;

use serde_json::{Value, json};

use client::Client;

/// A file of the tests, which count its lines from 0.
const BENCH: &str = r#"wetside 1

solution borax-brew "Borax brew" {
    role      developer
    needs     250 ml per roll
    contains  borax
    keeps     6 months
    source    "invented"
    caution   "gloves"
}
"#;

/// Uses the other by its own names.
const NIGHT: &str = r#"wetside 1

use "bench.wet"

film sluice-200 "Sluice 200" {
    speed     ISO 200
}

# what is invented
# must be tested
recipe night {
    film      sluice-200

    develop {
        in        borax-brew 1+3, one-shot
        chart {
            20 C   10:00
            25 C   6:15
        }
        agitate   continuous
    }
}
"#;

/// An editor that has both files open, by bytes.
fn both() -> Client {
    let mut client = Client::begun(&["utf-8"]);
    client.open("bench.wet", BENCH);
    client.open("night.wet", NIGHT);
    client
}

fn place(line: u32, character: u32) -> Value {
    json!({ "line": line, "character": character })
}

fn range(line: u32, from: u32, to: u32) -> Value {
    json!({ "start": place(line, from), "end": place(line, to) })
}

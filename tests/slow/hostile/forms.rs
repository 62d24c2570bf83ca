//! Each form of a card, and `follow`, with the kept inputs and with those that make the card itself long. A refused
//! recipe, or a large file with a short card, would find nothing that `card` in text does not, and take as long again.

use std::fs;
use std::path::Path;

use super::{CPU_SECONDS_MAX, Call, Ends, Ran, ended_in_order, unfit};

/// The conditions of every card.
const EVENING: [&str; 6] = ["card", "a.wet", "--at", "20C", "--rolls", "1x120"];

/// A form, its additional options, and its kind of content.
struct Form {
    file: &'static str,
    more: &'static [&'static str],
    kind: Kind,
    /// Whether every sound recipe has it: some have no chart or no tones.
    every: bool,
}

/// The content of a file.
enum Kind {
    /// Text with line feeds.
    Text,
    /// Text with CRLF, by the standards of calendars and tables.
    Calendar,
    /// Binary, beginning with these bytes.
    Bytes(&'static [u8]),
}

const FORMS: [Form; 8] = [
    Form { file: "a.html", more: &["--why"], kind: Kind::Text, every: true },
    Form { file: "a.json", more: &[], kind: Kind::Text, every: true },
    Form { file: "a.csv", more: &[], kind: Kind::Calendar, every: true },
    Form {
        file: "a.ics",
        more: &["--date", "2026-11-25", "--start", "19:30"],
        kind: Kind::Calendar,
        every: true,
    },
    Form { file: "a.pdf", more: &[], kind: Kind::Bytes(b"%PDF-"), every: true },
    Form { file: "a.wav", more: &[], kind: Kind::Bytes(b"RIFF"), every: false },
    Form { file: "curve.svg", more: &[], kind: Kind::Text, every: false },
    Form { file: "strip.svg", more: &["--as", "strip"], kind: Kind::Text, every: true },
];

/// At this speed a day takes nine seconds.
const FOLLOW: Call = Call {
    args: &["follow", "a.wet", "--at", "20C", "--rolls", "1x120", "--speed", "10000"],
    accepted: &[0],
    refused: &[1, 2],
    writes: &[],
};

/// Everything that is wrong with any form of the recipe in this folder.
pub(super) fn faults(ends: Ends, folder: &Path) -> Vec<String> {
    let (_, followed) = ended_in_order(&FOLLOW, ends, folder);
    let followed = followed.into_iter().map(|fault| format!("follow: {fault}"));
    let drawn = FORMS.iter().flat_map(|form| {
        let faults = form.faults(if form.every { ends } else { Ends::Either }, folder);
        faults.into_iter().map(|fault| format!("-o {}: {fault}", form.file))
    });
    followed.chain(drawn).collect()
}

impl Form {
    fn faults(&self, ends: Ends, folder: &Path) -> Vec<String> {
        let args = [&EVENING, self.more, &["-o", self.file]].concat();
        let ran = Ran::of(&args, folder, CPU_SECONDS_MAX);
        let mut faults = ran.unfit();
        let written = fs::read(folder.join(self.file)).ok();
        match (ran.status.code(), ends, written) {
            (Some(0), Ends::Accepted | Ends::Either, Some(bytes)) => faults.extend(self.unfit(&bytes)),
            (Some(1 | 2), Ends::Refused | Ends::Either, None) => {}
            (_, _, written) => {
                let there = if written.is_some() { "a file" } else { "no file" };
                faults.push(format!("it ends with {} and {there}, and should be {ends:?}", ran.status));
            }
        }
        // The next form finds the folder unchanged.
        let _ = fs::remove_file(folder.join(self.file));
        faults
    }

    fn unfit(&self, bytes: &[u8]) -> Option<String> {
        match self.kind {
            Kind::Text => unfit(bytes),
            Kind::Calendar => unfit(String::from_utf8_lossy(bytes).replace("\r\n", "\n").as_bytes()),
            Kind::Bytes(first) => (!bytes.starts_with(first)).then(|| "is of another kind".to_owned()),
        }
        .map(|fault| format!("the file {fault}"))
    }
}

#[test]
fn every_form_of_a_card_is_tried() {
    let folder = tempfile::tempdir().unwrap();
    let ran = Ran::of(&[&EVENING[..], &["--as", "nothing"]].concat(), folder.path(), CPU_SECONDS_MAX);
    let help = String::from_utf8(ran.err).unwrap();
    let (_, forms) = help.split_once("[possible values: ").unwrap();
    for form in forms.split(']').next().unwrap().split(", ").filter(|form| *form != "text") {
        let is_tried = |tried: &Form| tried.file.ends_with(form) || tried.file.starts_with(form);
        assert!(FORMS.iter().any(is_tried), "no row of FORMS for --as {form}");
    }
}

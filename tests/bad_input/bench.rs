//! Calls of `baths`, `measure`, `plan`, `record` and `start` with errors.

use super::{beside_a_sound_one, names, told};
use crate::program::Run;

/// A darkroom beside the shelf: a bottle, a backlog of two rolls, and a session.
const DARKROOM: &str = "\
wetside 1

use \"recipes/films.wet\"
use \"recipes/solutions.wet\"
use \"recipes/estuary-400-mq.wet\"

bath fix-a \"Fixer, bottle A\" {
    in        rapid-fix 1+4
    volume    2.5 l
    mixed     2026-11-02
}

backlog autumn \"The estuary in autumn\" {
    recipe    estuary-400-mq
    roll      \"E-01\" 120 of estuary-400
    roll      \"E-02\" 120 of estuary-400
}

session evening-2026-11-10 {
    date      2026-11-10
    recipe    estuary-400-mq, fingerprint \"358f7dfb\"
    slot      1 120
}
";

fn bench() -> Run {
    Run::new().folder_of_repo("recipes").file("darkroom.wet", DARKROOM)
}

/// Each call fails with status 2 and these words, and leaves no file in the folder.
#[track_caller]
fn all_told(calls: &[(&str, &[&str])]) {
    let mut run = bench();
    let before = names(run.folder());
    for (call, words) in calls {
        // A bar is a space in an argument.
        let args = call.split(' ').map(|arg| arg.replace('|', " "));
        run = args.fold(run.again(), |run, arg| run.arg(arg));
        let said = told(&run, 2, words);
        // Names of the system's errors and of hidden files do not help the user.
        assert!(!said.contains("os error") && !said.contains("wetside-"), "{said}");
        assert_eq!(names(run.folder()), before, "{call}");
    }
}

#[test]
fn an_invalid_call_of_baths_is_an_error() {
    all_told(&[
        ("baths --on yesterday", &["expected a date", "2026-11-25"]),
        ("baths --on 2026-02-30", &["this day is not in the calendar"]),
        ("baths --on -1", &["expected a date"]),
        ("baths --on", &["a value is required for '--on <DATE>'"]),
        ("baths --on 2026-11-25 --on 2026-11-26", &["--on <DATE>", "cannot be used multiple times"]),
        ("baths fix-b", &["there is no bath 'fix-b' in this darkroom", "fix-a"]),
        ("baths --as csv", &["invalid value 'csv' for '--as", "text, html, pdf, json"]),
        ("bath", &["unrecognized subcommand 'bath'", "baths"]),
    ]);
    let run = beside_a_sound_one().arg("baths");
    told(&run, 2, &["no bath is declared below this folder", "bath fix-a {"]);
}

#[test]
fn an_invalid_call_of_measure_is_an_error() {
    all_told(&[
        ("measure", &["--make <VOLUME>", "<SOLUTION>"]),
        ("measure mq-borax", &["--make <VOLUME>"]),
        ("measure mq-boraks --make 1l", &["there is no solution 'mq-boraks'", "did you mean mq-borax?"]),
        ("measure estuary-400 --make 1l", &["there is no solution 'estuary-400' below this folder"]),
        (
            "measure water --make 1l",
            &["water needs its temperature and those of the taps", "--at 20C --taps 12C,55C"],
        ),
        ("measure salt --make 1l", &["there is no solution 'salt'", "known: acetic-stop"]),
        ("measure nothing.wet --make 1l", &["nothing.wet cannot be read: there is no such file"]),
        ("measure recipes --make 1l", &["recipes cannot be read: it is a folder"]),
        ("measure recipes/solutions.wet --make 1l", &["solutions: mq-borax", "after the file"]),
        (
            "measure recipes/solutions.wet mq-borak --make 1l",
            &["in recipes/solutions.wet", "did you mean mq-borax?"],
        ),
        ("measure mq-borax --make 1", &["found a number without a unit", "write 1 ml or 1 l"]),
        ("measure mq-borax --make 1kg", &["expected a volume, found a mass"]),
        (
            "measure mq-borax --make 1pt",
            &["'pt' can mean several units", "write us-pt (473 ml, US), or write imp-pt"],
        ),
        ("measure mq-borax --make 0l", &["0.001 ml to 1000 l"]),
        ("measure mq-borax --make -1l", &["0.001 ml to 1000 l"]),
        ("measure mq-borax --make 1l --make 2l", &["--make <VOLUME>", "cannot be used multiple times"]),
        ("measure mq-borax 1:4 --make 1l", &["'1:4' can mean two strengths", "1+4", "1+3 for one part in 4"]),
        ("measure mq-borax 1+x --make 1l", &["a dilution is whole parts", "write 1+4"]),
        ("measure mq-borax 4 --make 1l", &["expected a dilution", "1+4 or stock"]),
        ("measure rapid-fix 1+4 1+5 --make 1l", &["this text does not belong to this value"]),
        (
            "measure mq-borax --make 1l --have metol",
            &["'metol' is not an ingredient and its form", "carbonate=monohydrate"],
        ),
        (
            "measure rapid-fix 1+4 --make 1l --have metol=10%",
            &["a dilution has no weights", "leave them out"],
        ),
        ("measure mq-borax --make 1l --scale 1ml", &["expected a mass, found a volume", "2 g"]),
        ("measure mq-borax --make 1l --scale 0g", &["a mass is from"]),
        ("measure mq-borax --make 1l --taps 12C", &["'12C' is not two temperatures", "12C,55C"]),
        ("measure mq-borax --make 1l --taps 12,55", &["found a number without a unit"]),
        ("measure mq-borax --make 1l --at 20", &["found a number without a unit", "write 20 C or 20 F"]),
        ("measure rapid-fix 1+4 --make 1l --stock-at 20C", &["--at <TEMPERATURE>"]),
        ("measure mq-borax --make 1l --units imperial", &["invalid value 'imperial'", "metric, us"]),
        ("measure mq-borax --make 1l --width 10", &["10 is not in 40..=200"]),
        (
            "measure mq-borax --make 1l -o sheet.doc",
            &["no form has the ending .doc", ".txt, .html, .pdf, .json"],
        ),
        (
            "measure mq-borax --make 1l -o recipes/solutions.wet --as text",
            &["one of the files that this call reads"],
        ),
        ("mesure mq-borax --make 1l", &["unrecognized subcommand 'mesure'", "measure"]),
    ]);
}

#[test]
fn an_invalid_call_of_plan_is_an_error() {
    all_told(&[
        ("plan", &["<BACKLOG>"]),
        ("plan autumm --tank tall-five", &["there is no backlog 'autumm'", "did you mean autumn?"]),
        ("plan winter --tank tall-five", &["there is no backlog 'winter'", "known: autumn"]),
        ("plan darkroom.wet winter --tank tall-five", &["there is no backlog 'winter'"]),
        ("plan recipes/films.wet --tank tall-five", &["recipes/films.wet declares no backlog"]),
        ("plan autumn --tank tall-fife", &["there is no tank 'tall-fife'", "did you mean tall-five?"]),
        ("plan autumn --tank bathtub", &["there is no tank 'bathtub'", "tank bathtub {"]),
        ("plan autumn", &["there are several tanks", "say which with --tank"]),
        ("plan autumn --tank tall-five --at 70", &["70 has no unit", "write 70F"]),
        ("plan autumn --tank tall-five --at 20C,soap=20C", &["'soap' is not a kind of step"]),
        ("plan autumn --tank tall-five --within 15", &["found a number without a unit", "write 15 s"]),
        ("plan autumn --tank tall-five --within -15s", &["a time"]),
        ("plan autumn --tank tall-five --package rapid-fix", &["has no volume", "rapid-fix=1l"]),
        ("plan autumn --tank tall-five --package rapid-fix=1kg", &["expected a volume, found a mass"]),
        (
            "plan autumn --tank tall-five --package citric-stp=1l",
            &["this plan does not need 'citric-stp'", "citric-stop"],
        ),
        ("plan autumn --from list.csv", &["cannot be used with '--from <FILE>'"]),
        ("plan --from", &["a value is required for '--from <FILE>'"]),
        ("plan --from list.csv --tank tall-five", &["list.csv cannot be read: there is no such file"]),
        ("plan --from recipes --tank tall-five", &["recipes cannot be read: it is a folder"]),
        ("plan autumn --tank tall-five -o plan.doc", &["no form has the ending .doc", ".html, .pdf, .wet"]),
        ("plan autumn --tank tall-five --paper a5", &["only a PDF has --paper", "-o NAME.pdf"]),
        (
            "plan autumn --tank tall-five --as xml",
            &["invalid value 'xml'", "text, json, csv, html, pdf, wet"],
        ),
        ("plan autumn --tank tall-five -o darkroom.wet", &["one of the files that this call reads"]),
        ("plan autumn --rolls 5x120", &["unexpected argument '--rolls'"]),
        ("plann autumn", &["unrecognized subcommand 'plann'", "plan"]),
    ]);
}

/// A call without errors; each call below adds one.
const EVENING: &str = "record estuary-400-mq --at 21.5C --rolls 2x120 --tank tall-five --date 2026-11-12";

#[test]
fn an_invalid_call_of_record_is_an_error() {
    all_told(&[
        ("record", &["no card was made here", "wetside card --at 21.5"]),
        ("record estuary-400-mq --at 20C", &["which rolls are in the tank?", "--rolls 5x120"]),
        ("record estuary-400-mq --rolls 1x120", &["the temperature of the baths is not given", "--at 21.5"]),
        (
            "record estuary-400-m --at 20C --rolls 1x120",
            &["no recipe 'estuary-400-m'", "did you mean estuary-400-mq?"],
        ),
        ("record estuary-400-mq --at 70 --rolls 1x120", &["70 has no unit", "write 70F"]),
        ("record --undo", &["--undo needs a reason", "--because"]),
        ("record --undo --because", &["a value is required for '--because <TEXT>'"]),
        ("record --undo --because |", &["the text is empty"]),
        ("record --undo --because x --note y", &["cannot be used with '--note <TEXT>'"]),
        (
            "record --undo evening-2026-11-11 --because x",
            &["among the sound sessions of", "did you mean evening-2026-11-10?"],
        ),
        (
            "record --undo --because x --journal winter.wet",
            &["there is no session to retract in winter", "--journal"],
        ),
        (
            "record --undo --because x --journal winter.txt",
            &["is neither a folder nor a .wet file", "--journal journal"],
        ),
        ("record --undo --because x --journal gone/winter.wet", &["in a folder that does not exist"]),
    ]);
    let more: [(&str, &[&str]); 12] = [
        ("--date tomorrow", &["--date", "cannot be used multiple times"]),
        ("--label E-01,E-02,E-03", &["3 labels", "one label"]),
        ("--label E-01,,E-02", &["the text is empty"]),
        ("--label E-01,E\"2", &["a text has no double quotes"]),
        ("--backlog autumn", &["which rolls of the backlog were developed?", "--label E-01,E-02"]),
        ("--label E-01,E-02 --backlog autumm", &["no backlog 'autumm'", "did you mean autumn?"]),
        ("--bath fix-b", &["no bath 'fix-b'", "did you mean fix-a?"]),
        ("--note", &["a value is required for '--note <TEXT>'"]),
        ("--note |", &["the text is empty"]),
        ("--start 19:30", &["unexpected argument '--start'"]),
        ("--undo --because x", &["cannot be used with '--undo"]),
        ("--journal journal.txt", &["journal.txt is neither a folder nor a .wet file"]),
    ];
    let calls: Vec<(String, &[&str])> =
        more.iter().map(|(more, words)| (format!("{EVENING} {more}"), *words)).collect();
    let calls: Vec<(&str, &[&str])> = calls.iter().map(|(call, words)| (call.as_str(), *words)).collect();
    all_told(&calls);
}

#[test]
fn an_invalid_call_of_start_is_an_error() {
    all_told(&[
        ("start", &["<DIR>"]),
        ("start one two", &["unexpected argument 'two'"]),
        ("start .", &["the folder . is not empty", "nothing was changed"]),
        ("start recipes", &["the folder recipes is not empty"]),
        ("start darkroom.wet", &["darkroom.wet exists and is not a folder"]),
        ("start darkroom.wet/shelf", &["could not be made: darkroom.wet is not a folder"]),
        ("start gone/shelf", &["could not be made: gone is not a folder", "nothing was changed"]),
        ("start --force shelf", &["unexpected argument '--force'"]),
    ]);
}

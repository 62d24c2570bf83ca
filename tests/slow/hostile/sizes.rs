//! Generated inputs that are too deep, too long or too many, with up to 1 MiB, the limit of a file, and more.

use super::{Ends, Input, Ran, SOUND, all_end_in_order, each};

/// A little under 1 MiB.
const NEARLY: usize = (1 << 20) - 4096;

fn filled(piece: &str, bytes: usize) -> String {
    format!("wetside 1\n{}", piece.repeat(bytes / piece.len()))
}

/// The sound recipe with these lines in its second last block.
fn with_steps(steps: &str) -> String {
    let (head, _) = SOUND.rsplit_once('}').unwrap();
    format!("{head}{steps}}}\n")
}

fn refused(inputs: Vec<(&str, String)>) -> Vec<Input> {
    inputs.into_iter().map(|(name, text)| Input::new(name, Ends::Refused, text)).collect()
}

fn nesting() -> Vec<Input> {
    refused(vec![
        ("10,000 blocks in each other", filled("film a {\n", 90_000)),
        (
            "10,000 blocks, closed",
            format!("wetside 1\n{}{}", "film a {\n".repeat(10_000), "}\n".repeat(10_000)),
        ),
        (
            "blocks in stairs",
            format!("wetside 1\n{}", each(800, |at| format!("{}film a{at} {{\n", " ".repeat(at)))),
        ),
        (
            "stairs back",
            format!("wetside 1\n{}", each(800, |at| format!("{}film a{at} {{\n", " ".repeat(800 - at)))),
        ),
        ("a line of openings", filled("{", NEARLY)),
        ("a line of closings", filled("}", NEARLY)),
        ("a line of brackets", filled("([", NEARLY)),
        ("a line of quotes", filled("\"", NEARLY)),
        ("blocks that never pair", filled("film a {\n}\n}\n", 100_000)),
        ("blocks that never close", format!("wetside 1\n{}", each(20_000, |at| format!("film a{at} {{\n")))),
    ])
}

fn length() -> Vec<Input> {
    let line = |text: &str| filled(text, NEARLY);
    refused(vec![
        ("a line of one word", line("a")),
        ("a line of figures", line("9")),
        ("a line of words", line("a ")),
        ("a line of signs", line("!")),
        ("a line of parts", line("1+")),
        ("a line of clocks", line("10:00 ")),
        ("a line of points", line("1.")),
        ("a line of commas", line(",")),
        ("a line of spaces", format!("{}x", line(" "))),
        ("a line of wide letters", line("潮")),
        ("a line of turned letters", line("\u{202e}")),
        ("a line of escapes", line("\u{1b}[2J")),
        ("a text of 1 MiB", SOUND.replace("A plain one", &"x".repeat(NEARLY))),
        ("a name of 1 MiB", SOUND.replace("recipe plain", &format!("recipe p{}", "a".repeat(NEARLY)))),
        ("a comment of 1 MiB", format!("{SOUND}#{}\n", "x".repeat(NEARLY))),
        ("a number of 1 MiB", SOUND.replace("250 ml", &format!("{} ml", "2".repeat(NEARLY)))),
        ("a file of 1 MiB and more", format!("{SOUND}{}", "# x\n".repeat(1 << 19))),
        ("2 MiB of nothing", "\0".repeat(2 << 20)),
    ])
}

fn counts() -> Vec<Input> {
    let films = each(12_000, |at| format!("film f{at} {{\nspeed ISO 100\n}}\n"));
    let titled = |title: fn(usize) -> String| {
        format!("{SOUND}{}", each(25_000, |at| format!("film t{at} \"{}\" {{\nspeed ISO 9\n}}\n", title(at))))
    };
    let blank = "\n".repeat(500_000);
    let sound = [
        ("500,000 blank lines", format!("{SOUND}{blank}")),
        ("100,000 comments", format!("{SOUND}{}", "# x\n".repeat(100_000))),
        ("12,000 films", format!("{SOUND}{films}")),
        ("25,000 films of as many titles", titled(|at| at.to_string())),
        ("25,000 films of one title", titled(|_| "T".to_owned())),
        ("9,000 invisible characters in comments", format!("{SOUND}{}", "# \u{202e}\n".repeat(9_000))),
    ];
    let on_the_card = [
        ("900 points", SOUND.replace("time 10:00", &format!("chart {{\n{}}}", points(900)))),
        ("300 rinses", with_steps(&rinses(300))),
    ];
    let mut inputs: Vec<Input> =
        sound.into_iter().map(|(name, text)| Input::new(name, Ends::Accepted, text)).collect();
    inputs.extend(on_the_card.map(|(name, text)| Input::new(name, Ends::Accepted, text).drawn()));
    inputs.extend(refused(vec![
        ("1,000,000 statements", filled("a\n", 2_000_000)),
        ("150,000 statements", filled("a\n", 300_000)),
        ("1,001 points", SOUND.replace("time 10:00", &format!("chart {{\n{}}}", points(1_001)))),
        (
            "1,000,000 points",
            SOUND.replace("time 10:00", &format!("chart {{\n{}}}", "20 C 10:00\n".repeat(1_000_000))),
        ),
        (
            "100,000 points",
            SOUND.replace("time 10:00", &format!("chart {{\n{}}}", "20 C 9:00\n".repeat(95_000))),
        ),
        ("30,000 films of one name", filled("film f {\nspeed ISO 9\n}\n", 690_000)),
        ("2,000 steps", with_steps(&rinses(2_000))),
        ("100,000 unknown words", filled("tied\n", 500_000)),
        (
            "12,000 unknown names",
            format!("wetside 1\n{}", each(12_000, |at| format!("recipe r{at} from x{at} {{\n}}\n"))),
        ),
        ("100,000 hidden letters", filled("\u{200b}\n", 400_000)),
        ("100,000 escapes in texts", filled("film a \"\u{1b}\" {\n}\n", 400_000)),
        ("100,000 open quotes", filled("note \"x\n", 700_000)),
        ("100,000 look-alikes", filled("tіme 1\n", 700_000)),
        (
            "8,000 recipes in a chain",
            format!("wetside 1\n{}", each(8_000, |at| format!("recipe r{at} from r{} {{\n}}\n", at + 1))),
        ),
        (
            "8,000 recipes in a circle",
            format!(
                "wetside 1\n{}",
                each(8_000, |at| format!("recipe r{at} from r{} {{\n}}\n", (at + 1) % 8_000))
            ),
        ),
        ("12,000 films of one name", format!("{SOUND}{}", "film a {\nspeed ISO 100\n}\n".repeat(12_000))),
    ]));
    inputs
}

/// Points of a chart, each 0.003 °C warmer and 0.1 s shorter.
fn points(count: usize) -> String {
    each(count, |at| {
        format!(
            "{}.{:03} C {}.{} s\n",
            18 + 3 * at / 1000,
            3 * at % 1000,
            600 - at.div_ceil(10),
            (1000 - at) % 10
        )
    })
}

fn rinses(count: usize) -> String {
    each(count, |at| format!("rinse r{at} {{\nin water\ntime 1 min\nagitate none\n}}\n"))
}

/// Short inputs with long or large results.
fn amplified() -> Vec<Input> {
    let every = |amount: &str, time: &str| {
        SOUND.replace("10 s every 1 min", amount).replace("time 10:00", &format!("time {time}"))
    };
    refused(vec![
        ("a millisecond of every two for 100 h", every("0.001 s every 0.002 s", "100 h")),
        ("100,000 fills", with_steps("wash {\nsoak 1 s x 100000\n}\n")),
        (
            "10,000 fills, agitated",
            with_steps("wash {\nsoak 10 min x 10000\nagitate 0.001 s every 0.002 s\n}\n"),
        ),
        (
            "30 washes of 10,000 fills",
            with_steps(&each(30, |at| format!("wash w{at} {{\nsoak 1 s x 10000\n}}\n"))),
        ),
        (
            "300 steps agitated without end",
            with_steps(&each(300, |at| {
                format!("rinse r{at} {{\nin water\ntime 1 h\nagitate 0.01 s every 0.1 s\n}}\n")
            })),
        ),
    ])
}

/// All inputs of this module.
pub(super) fn inputs() -> Vec<Input> {
    [nesting(), length(), counts(), amplified()].into_iter().flatten().collect()
}

#[test]
fn too_deep_input_ends_in_order() {
    all_end_in_order(&nesting());
}

#[test]
fn too_long_input_ends_in_order() {
    all_end_in_order(&length());
}

#[test]
fn too_much_input_ends_in_order() {
    all_end_in_order(&counts());
}

#[test]
fn small_input_with_huge_results_ends_in_order() {
    all_end_in_order(&amplified());
}

/// Each file is within its limit; together they are far over the memory limit.
#[test]
fn large_files_are_not_in_memory_at_the_same_time() {
    let folder = tempfile::tempdir().unwrap();
    let films = each(12_000, |at| format!("film f{at} {{\nspeed ISO 100\n}}\n"));
    for at in 0..16 {
        std::fs::write(folder.path().join(format!("f{at}.wet")), format!("wetside 1\n{films}")).unwrap();
    }
    let ran = Ran::of(&["check", "--as", "lines"], folder.path(), 90);
    assert_eq!(ran.status.code(), Some(0), "{}", String::from_utf8_lossy(&ran.err));
    assert!(ran.unfit().is_empty(), "{:?}", ran.unfit());
}

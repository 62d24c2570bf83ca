//! `card` and `follow` compare the labels of rolls with the backlogs and the journal, before anything is poured.

use serde_json::Value;

use crate::mislabelled::shelf;
use crate::program::Run;

fn card(rolls: &str, labels: &str) -> Run {
    shelf().args(["card", "drift", "--at", "21C", "--rolls", rolls, "--label", labels])
}

/// The lines of a refusal.
fn refused(run: &Run) -> Vec<String> {
    run.fails(1).1.lines().map(str::to_owned).collect()
}

const CALM: &str = "Nothing was made. Loaded film in a dry, closed tank keeps for days: there is no hurry.";

#[test]
fn a_roll_of_another_film_is_refused_in_six_lines_with_three_ways_out() {
    assert_eq!(
        refused(&card("2x120", "T-13,T-14")),
        [
            "WRONG ROLL in slot 2: T-14 is Skerry 400 at 400. This card is for Drift 800 at 800.",
            CALM,
            "same work? no: 8:39 against 11:20. Take one out in the dark, or choose which may suffer:",
            "  the label was misread   Drift 800 still waiting: T-15  T-41",
            "  the card is wrong       wetside card skerry --at 21C --rolls 2x120 --label T-13,T-14 --anyway T-13",
            "  the list is wrong       wetside card drift --at 21C --rolls 2x120 --label T-13,T-14 --anyway T-14      (says so on card and journal)",
        ]
    );
    let run = card("1x120", "T-14");
    assert_eq!(run.fails(1).0, "", "one roll has one card, which is refused");
    let alone = refused(&run);
    assert_eq!((alone.len(), alone[2].as_str()), (6, ""));
    assert!(alone[4].ends_with("wetside card skerry --at 21C --rolls 1x120 --label T-14"), "{alone:?}");
}

/// Both are printed before the six lines, so that these are the last on a terminal.
#[test]
fn both_cards_are_printed_for_two_films_in_one_tank() {
    for command in ["card", "follow"] {
        let call = [command, "drift", "--at", "21C", "--rolls", "2x120", "--label", "T-13,T-14"];
        let (out, told) = shelf().args(call).fails(1);
        assert!(told.contains("same work? no: 8:39 against 11:20."), "{told}");
        let (first, second) = out.split_once("CARD 2 of 2: T-13 may suffer\n").unwrap();
        let first = first.strip_prefix("CARD 1 of 2: T-14 may suffer\n").unwrap();
        for (card, film, time, suffers) in [
            (first, "Drift 800", "DEVELOP 8:39", "anyway \"T-14\": slot 2 is Skerry 400 at 400"),
            (second, "Skerry 400", "DEVELOP 11:20", "anyway \"T-13\": slot 1 is Drift 800 at 800"),
        ] {
            for words in [film, time, suffers] {
                assert!(card.contains(words), "{command}: {words} is not in\n{card}");
            }
        }
    }
    // Other forms are for programs and paper, which have no place for a second card.
    for form in ["json", "csv"] {
        assert_eq!(card("2x120", "T-13,T-14").args(["--as", form]).fails(1).0, "", "{form}");
    }
    let run = card("2x120", "T-13,T-14").args(["-o", "card.txt"]);
    assert_eq!(run.fails(1).0, "");
    assert!(!run.folder().join("card.txt").exists());
}

/// The page has the whole question as text, so it is asked without a script too.
#[test]
fn the_page_of_a_wrong_roll_asks_before_start() {
    let run = card("2x120", "T-13,T-14").args(["-o", "card.html"]);
    let (out, told) = run.fails(1);
    let lines: Vec<&str> = told.lines().collect();
    assert_eq!((out.as_str(), lines.len()), ("", 6));
    assert!(lines[0].starts_with("WRONG ROLL in slot 2"), "{told}");
    assert_eq!(lines[1], CALM.replace("Nothing was made.", "The page asks before Start."));
    let page = std::fs::read_to_string(run.folder().join("card.html")).unwrap().replace('\u{a0}', " ");
    let (_, body) = page.split_once("<body>\n").unwrap();
    let (screen, rest) = body.split_once("</section>").unwrap();
    for words in [
        "WRONG ROLL",
        "<dt>slot 2</dt><dd>T-14</dd>",
        "<dt>is</dt><dd>Skerry 400 at 400</dd>",
        "<dt>card</dt><dd>Drift 800 at 800</dd>",
        "show the card for Skerry 400",
        "T-14 is really Drift 800",
        "Film in a dry closed tank keeps. Stop here if unsure.",
    ] {
        assert!(screen.contains(words), "{words}: {screen}");
    }
    for words in
        ["DEVELOP <span>11:20</span>", "DEVELOP <span>8:39</span>", "anyway &quot;T-14&quot;: slot 2"]
    {
        assert!(rest.contains(words), "{words}: {rest}");
    }
    // The page of rolls without a contradiction asks nothing.
    let page = card("1x120", "T-13").args(["--as", "html"]).succeeds();
    assert!(!page.contains("WRONG ROLL") && !page.contains("id=\"wrong\""), "{page}");
}

#[test]
fn the_page_says_what_else_is_wrong_with_a_roll() {
    for (label, is, card_is, really) in [
        ("T-16", "Drift 800 at 400", "Drift 800 at 800", "T-16 is really Drift 800 at 800"),
        ("T-17", "135", "120", "T-17 is really 120"),
        ("T-19", "developed on 2026-11-02, in earlier", "Drift 800 at 800", "T-19 is not developed"),
    ] {
        let page = card("1x120", label).args(["--as", "html"]).fails(1).0.replace('\u{a0}', " ");
        for words in [format!("<dd>{is}</dd>"), format!("<dd>{card_is}</dd>"), format!("<b>{really}</b>")] {
            assert!(page.contains(&words), "{label}: {words}");
        }
    }
}

/// The command of the third way is taken as it is printed.
#[test]
fn anyway_takes_a_roll_of_another_film_and_the_card_says_so() {
    let run = card("1x120", "T-14");
    let way = refused(&run)[5].clone();
    let words = way.split_once("wetside ").unwrap().1.split_once("      (").unwrap().0.to_owned();
    let run = words.split(' ').fold(run.again(), |run, word| run.arg(word));
    let text = run.succeeds().split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("anyway \"T-14\": slot 1 is Skerry 400 at 400; this card is for Drift 800 at 800"),
        "{text}"
    );
    let json: Value = serde_json::from_str(&run.args(["--as", "json"]).succeeds()).unwrap();
    assert_eq!(json["conditions"]["anyway"], serde_json::json!(["T-14"]));
    let told = card("1x120", "T-14").arg("--anyway").fails(2).1;
    assert!(told.contains("which? T-14 (other film)"), "{told}");
}

#[test]
fn another_index_another_format_and_a_developed_roll_are_refused() {
    let of = |label: &str| refused(&card("1x120", label));
    assert!(
        of("T-16")[0].starts_with("WRONG ROLL in slot 1: T-16 is Drift 800 at 400. This card"),
        "{:?}",
        of("T-16")
    );
    assert!(of("T-17")[0].starts_with("WRONG ROLL in slot 1: T-17 is 135, and the slot is for 120."));
    let gone = of("T-19");
    assert!(
        gone[0].starts_with("WRONG ROLL in slot 1: T-19 was developed on 2026-11-02, in earlier."),
        "{gone:?}"
    );
    assert!(gone[4].contains("the journal is wrong    wetside record --undo earlier"), "{gone:?}");
    assert!(gone[5].contains("--anyway T-19"));
    card("1x120", "T-19").args(["--anyway", "T-19"]).succeeds();
}

#[test]
fn follow_refuses_a_wrong_roll_as_card_does() {
    let run = shelf().args(["follow", "drift", "--at", "21C", "--rolls", "1x120", "--label", "T-14"]);
    let lines = refused(&run);
    assert_eq!((lines.len(), lines[1].as_str()), (6, CALM));
    assert!(lines[5].contains("wetside follow drift"), "{lines:?}");
}

#[test]
fn two_films_of_one_work_share_a_tank() {
    card("2x120", "T-13,T-18").succeeds();
    // Not if one develops longer.
    let text = std::fs::read_to_string(shelf().folder().join("bench.wet")).unwrap();
    let (before, after) = text.split_once("recipe shoal").unwrap();
    let longer = format!("{before}recipe shoal{}", after.replace("8:39", "8:40"));
    let lines = refused(&card("2x120", "T-13,T-18").file("bench.wet", longer));
    assert!(lines[2].starts_with("same work? no: 8:39 against 8:40."), "{lines:?}");
}

#[test]
fn labels_are_trimmed_and_unknown_ones_are_advice() {
    let json = |run: Run| -> Value { serde_json::from_str(&run.args(["--as", "json"]).succeeds()).unwrap() };
    let schedule = json(card("2x120", " T-13,T-15 "));
    assert_eq!(
        (&schedule["load"][0]["label"], &schedule["load"][1]["label"]),
        (&"T-13".into(), &"T-15".into())
    );
    let schedule = json(card("2x120", "T-13,X-1"));
    assert_eq!(schedule["advice"][0]["text"], "no backlog has X-1");
    assert_eq!(json(card("1x120", "X-1"))["advice"], Value::Null);
}

#[test]
fn fewer_labels_than_rolls_ask_which_rolls_they_are() {
    let told = card("5x120", "T-13,T-15").fails(2).1;
    assert!(told.contains("which of the 5 rolls have the labels T-13, T-15?"), "{told}");
    let text = card("3x120", "T-13,-,T-15").args(["--as", "json"]).succeeds();
    let schedule: Value = serde_json::from_str(&text).unwrap();
    let labels: Vec<&Value> =
        schedule["load"].as_array().unwrap().iter().map(|slot| &slot["label"]).collect();
    assert_eq!(labels, [&Value::from("T-13"), &Value::Null, &Value::from("T-15")]);
}

#[test]
fn a_tank_that_was_not_named_is_said_where_another_file_has_one() {
    let run = || shelf().args(["card", "drift", "--at", "21C", "--rolls", "1x120"]);
    assert!(!run().succeeds().contains("no tank was named"));
    let other = "wetside 1\ntank other {\n    reels 120 x 1, 400 ml each\n}\n";
    let text = run().file("other.wet", other).succeeds().split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains(
            "no tank was named: 'five' is the only one of the recipe's file, and other.wet has another"
        ),
        "{text}"
    );
    let named = run().file("other.wet", other).args(["--tank", "five"]).succeeds();
    assert!(!named.contains("no tank was named"));
}

/// Two materials of a kind, the first developed for 2:00 and the second for 3:00, and a backlog of three.
fn box_of(kind: &str, [first, second]: [(&str, &str); 2], format: &str) -> Run {
    let block = |(name, title): (&str, &str), time: &str| {
        format!(
            "{kind} {name} \"{title}\" {{\n    speed ISO 25\n}}\nrecipe {name} {{\n    {kind} {name}\n    develop {{\n        \
             in soup, one-shot\n        time {time}\n        between 18 C and 24 C\n        agitate none\n    }}\n}}\n"
        )
    };
    let text = format!(
        "wetside 2\n{}{}solution soup {{\n    role developer\n    needs 250 ml per roll\n}}\ntank tray {{\n    reels {format} x \
         5, 100 ml each\n    transfer 5 s\n}}\nbacklog box {{\n    roll \"B-1\" {format} of {}\n    roll \"B-2\" {format} of \
         {}\n    roll \"B-3\" {format} of {}\n}}\n",
        block(first, "2:00"),
        block(second, "3:00"),
        first.0,
        second.0,
        first.0
    );
    let rolls = format!("2x{format}");
    let run =
        Run::new().file("box.wet", text).args(["card", first.0, "--at", "21C", "--rolls", rolls.as_str()]);
    run.args(["--label", "B-1,B-2"])
}

/// Exposed paper and plates lie in a box, and no tank keeps them dry.
#[test]
fn papers_and_plates_are_called_so() {
    for (kind, both, format, kept, on_page) in [
        (
            "paper",
            [("gull", "Gull, warm"), ("tern", "Tern, hard")],
            "8x10in",
            "Exposed paper in its closed box keeps for days",
            "Paper in its closed box keeps. Stop here if unsure.",
        ),
        (
            "plate",
            [("slate", "Slate, slow"), ("shale", "Shale, fast")],
            "9x12cm",
            "Exposed plates in their closed box keep for days",
            "Plates in their closed box keep. Stop here if unsure.",
        ),
    ] {
        let [(_, first), (_, second)] = both;
        let run = box_of(kind, both, format);
        let lines = refused(&run);
        assert_eq!(
            lines[..4],
            [
                format!("WRONG ROLL in slot 2: B-2 is {second} at 25. This card is for {first} at 25."),
                format!("Nothing was made. {kept}: there is no hurry."),
                "same work? no: 2:00 against 3:00. Take one out in the dark, or choose which may suffer:"
                    .to_owned(),
                format!("  the label was misread   {first} still waiting: B-3"),
            ]
        );
        let told = box_of(kind, both, format).arg("--anyway").fails(2).1;
        assert!(told.contains(&format!("which? B-2 (other {kind})")), "{told}");
        let (page, told) = box_of(kind, both, format).args(["--as", "html"]).fails(1);
        assert!(told.contains(&format!("The page asks before Start. {kept}")), "{told}");
        assert!(page.replace('\u{a0}', " ").contains(on_page), "{page}");
    }
}

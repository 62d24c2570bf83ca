//! Prints and sheets whose ends are seen. The numbers are worked by hand.

use wetside::compile::{Action, Schedule};
use wetside::emit::{Look, card, text};
use wetside::model::{Format, Volume};

use super::{TRAYS, one_sheet, seconds, starts, totals};
use crate::kitchen::{Kitchen, celsius, compiled, evening};

const SEPIA: &str = include_str!("../../recipes/headland-sepia.wet");

fn sepia() -> Kitchen {
    Kitchen::sound(&format!("{SEPIA}{TRAYS}"))
}

/// presoak 5:00, bleach 1:00 to 8:00 + 0:10, wash 5:00 to 15:00 + 0:10, tone 0:30 to 3:00 + 0:10, wash 1:00:00 + 0:10.
/// The earliest: 5:00 + 1:10 + 5:10 + 0:40 + 1:00:10 = 1:12:10; the latest: 5:00 + 8:10 + 15:10 + 3:10 + 1:00:10 =
/// 1:31:40.
#[test]
fn sepia_takes_from_the_earliest_to_the_latest_decisions() {
    let schedule = sepia().compiled(&one_sheet());
    assert_eq!(totals(&schedule), ["1:12:10", "1:31:40"]);
    let starts = starts(&schedule);
    // The toner is used until 0:10 before the last wash begins; 31:30 is the latest.
    assert_eq!(
        starts,
        [
            ["0:00", "0:00"],
            ["5:00", "5:00"],
            ["6:10", "13:10"],
            ["11:20", "28:20"],
            ["12:00", "31:30"],
            ["1:12:10", "1:31:40"]
        ]
    );
    assert_eq!(schedule.legs.len(), 4);
}

/// 4 l/min for 5 to 15 min is 20 to 60 l, and for 60 min 240 l. The presoak fills 250 ml, and each of the two washes
/// the litre that the tray holds. The stock baths take no water tonight.
#[test]
fn running_water_is_a_range() {
    let schedule = sepia().compiled(&one_sheet());
    let [least, most] = [schedule.least_water, schedule.water].map(|water| water.in_litres(1));
    assert_eq!([least.as_str(), most.as_str()], ["262.3", "302.3"]);
    let card = text(&card(&schedule, &sepia().sources), Look::default());
    assert!(card.contains("262.3 l to 302.3 l of water in all"), "{card}");
}

#[test]
fn the_card_says_when_to_look_for_what_and_the_latest_end() {
    let kitchen = sepia();
    let mut schedule = kitchen.compiled(&one_sheet());
    schedule.conditions.start = Some(19 * 3600 + 30 * 60);
    let card = text(&card(&schedule, &kitchen.sources), Look::default());
    for line in [
        "BLEACH 1:00 to 8:00",
        "      1:00  look every 30 s, until only the faint brown is left\n",
        "      8:00  drain now at the latest, even without the sign\n",
        "      then  drain: back to its bottle; 0:10 later it is empty; next WASH",
        "begins 6:10 to 13:10 · 19:36:10 to 19:43:10",
        "TOTAL 1:12:10 to 1:31:40",
        "ends 20:42:10 to 21:01:40",
    ] {
        assert!(card.contains(line), "{line}\n{card}");
    }
}

/// expose 0:12, stop 0:30, fix 1:00, wash 4:00 + 0:10; the development takes 6 times the time to the sign, 1:00 to 3:00.
const FACTOR: &str = "wetside 2

paper pearl {
    source    \"invented\"
}

recipe print {
    paper     pearl
    light     safelight \"amber, 1.2 m away\"
    between   18 C and 24 C

    expose {
        time      12 s
    }
    develop {
        in        water
        time      6 x \"the first shadow shows\", at least 1:00, at most 3:00
        agitate   continuous, by rocking
    }
    stop {
        in        water
        time      30 s
        agitate   continuous
    }
    rinse {
        in        water
        time      1:00
    }
    wash {
        flow      4 l/min
        time      4:00
    }
    dry {
        time      20 min
    }
}
";

fn by_factor() -> Schedule {
    compiled(&format!("{FACTOR}{TRAYS}"), &one_sheet())
}

/// 0:12 + 1:00 + 0:30 + 1:00 + 4:10 = 6:52; with 3:00 instead of 1:00 it is 8:52.
#[test]
fn a_print_by_the_factor_takes_a_range() {
    assert_eq!(totals(&by_factor()), ["6:52", "8:52"]);
}

/// 6 x 0:15 = 1:30: lift at 1:20, in the next bath at 1:30. 6 x 0:08 = 0:48, so 1:00. 6 x 0:35 = 3:30, so 3:00.
#[test]
fn the_time_to_the_sign_gives_the_whole_time() {
    for (seen, lift, whole, total) in
        [(15, 80, 90, "7:22"), (8, 50, 60, "6:52"), (35, 170, 180, "8:52"), (30, 170, 180, "8:52")]
    {
        let schedule = by_factor().decided(1, seconds(seen));
        let develop = &schedule.steps[1];
        let drain = develop.events.iter().find(|event| event.action == Action::Dump).unwrap();
        // The development begins after the exposure of 0:12.
        assert_eq!(drain.at, seconds(12 + lift), "{seen}");
        assert_eq!((develop.duration, develop.end), (seconds(whole), seconds(12 + whole)), "{seen}");
        assert_eq!(totals(&schedule), [total, total], "{seen}");
        assert_eq!(schedule.legs.len(), 1);
    }
}

#[test]
fn the_card_lists_ends_for_times_to_the_sign() {
    let kitchen = Kitchen::sound(&format!("{FACTOR}{TRAYS}"));
    let card = text(
        &card(&kitchen.compiled(&one_sheet()), &kitchen.sources),
        Look { width: 200, ..Look::default() },
    );
    let list = "dump by 6 x that time: at 0:50 if it was 0:10 or sooner, at 1:20 if it was 0:15, at 1:50 if it was \
                0:20, at 2:20 if it was 0:25, at 2:50 if it was 0:30 or later";
    assert!(card.contains(list), "{card}");
}

/// Four sheets of 8x10in: presoak 2:00, develop 5:00 to 11:00 + 0:10, stop 1:00, fix 2 x 2:30 = 5:00, wash 30:00 + 0:10,
/// rinse 1:00. The earliest: 2:00 + 5:10 + 1:00 + 5:00 + 30:10 + 1:00 = 44:20; the latest: 50:20.
#[test]
fn inspection_is_a_range_with_its_looks() {
    let text = format!(
        "wetside 2

film headrace {{
    clears    2:30 in hypo stock at 20 C
}}

solution hypo {{
    role      fixer
    contains  sodium-thiosulfate
    treats    20 rolls per 1 l
}}

recipe inspected {{
    film      headrace
    between   18 C and 22 C

    presoak {{
        time      2:00
    }}
    develop {{
        in        water
        time      until \"the sky shows dark from the back\", at least 5:00, at most 11:00, look every 1:00
        agitate   continuous, by shuffling
    }}
    stop {{
        in        water
        time      1:00
        agitate   continuous
    }}
    fix {{
        in        hypo stock, reused
        time      2 x clearing
        agitate   continuous
    }}
    wash {{
        flow      2 l/min
        time      30 min
    }}
    rinse {{
        in        water
        time      1:00
    }}
}}
{TRAYS}"
    );
    let schedule = compiled(&text, &one_sheet());
    assert_eq!(totals(&schedule), ["44:20", "50:20"]);
    let looks = &schedule.steps[1].decision.as_ref().unwrap().looks;
    assert_eq!(*looks, [5, 6, 7, 8, 9, 10, 11].map(|minutes| seconds(minutes * 60)));
}

/// rest 30:00 to 3:00:00, expose 6:00 to 25:00, wash 5:00 to 20:00 without draining: with 1:00 before them 42:00 to
/// 3:46:00, in four legs; 2 l/min for 5 to 20 min is 10 to 40 l.
#[test]
fn dry_steps_end_at_signs_too() {
    let text = "wetside 2

paper cotton {
    source    \"invented\"
}

recipe blueprint {
    paper     cotton
    light     room
    between   15 C and 28 C

    rest coat {
        time      1:00
    }
    rest dark {
        time      until \"dry to the touch\", at least 30 min, at most 3 h, look every 15 min
    }
    expose {
        time      until \"the shadows turn grey\", at least 6:00, at most 25:00, look every 2:00
        light     \"sun, under glass\"
    }
    wash {
        flow      2 l/min
        time      until \"no yellow runs off\", at least 5:00, at most 20:00, look every 1:00
    }
    dry {
        time      2 h
    }
}
";
    let mut evening = one_sheet();
    evening.volume = Some(Volume::from_ml(1000));
    let kitchen = Kitchen::sound(text);
    let schedule = kitchen.compiled(&evening);
    assert_eq!(totals(&schedule), ["42:00", "3:46:00"]);
    assert_eq!(schedule.legs.len(), 4);
    // The running water, and one filling of a litre.
    assert_eq!(schedule.least_water, Volume::from_ml(10_000 + 1000));
    assert_eq!(schedule.water, Volume::from_ml(40_000 + 1000));
    let card = wetside::emit::text(&card(&schedule, &kitchen.sources), Look::default());
    for line in [
        "wait 30:00 to 3:00:00\n",
        "look every 15 min, until dry to the touch",
        "end it now at the latest, even without the sign",
        "expose, 6:00 to 25:00; light: sun, under glass",
    ] {
        assert!(card.contains(line), "{line}\n{card}");
    }
}

/// What the lith print shares with the trays of the print room: 24x30cm in a litre, 10 s to lift and drip.
const LITH: &str = "wetside 2

paper gull-warm \"Gull Warm, a paper that liths\" {
    source    \"invented\"
}

solution lith \"Lith developer\" {
    role      developer
    parts     a, b
    contains  hydroquinone, sodium-sulfite, potassium-carbonate, potassium-bromide
    treats    8 rolls per 1 l
    keeps     6 months
    source    \"invented\"
}

solution print-stop \"Citric stop for prints\" {
    role      stop
    contains  citric-acid
    treats    50 rolls per 1 l at 1+19
    keeps     1 days
    source    \"common practice, no source\"
}

solution print-fix \"Fixer for prints\" {
    role      fixer
    contains  ammonium-thiosulfate, sodium-sulfite
    treats    40 rolls per 1 l at 1+9
    keeps     1 years
    source    \"common practice, no source\"
}

tank print-trays {
    reels     24x30cm x 1, 1 l each
    holds     1 l
    fill      0 s
    drain     10 s
}

recipe gull-lith \"Gull Warm, lith, by the snatch point\" {
    paper     gull-warm
    light     safelight \"red, 1.2 m away\"
    between   20 C and 30 C

    develop {
        in        lith 1+1+20, one-shot
        time      until \"the deepest shadow turns black\", at least 4:00, at most 20:00, look every 30 s
        agitate   continuous, by rocking
    }
    stop {
        in        print-stop 1+19, reused
        time      30 s
        agitate   continuous, by rocking
    }
    fix {
        in        print-fix 1+9, reused
        time      3:00
        agitate   continuous, by rocking
        light     room
    }
    wash {
        flow      4 l/min
        time      30 min
    }
    dry {
        time      12 h
    }
}
";

/// The decision falls between 4:00 and 20:00, and lifting takes 0:10: STOP 0:30, FIX 3:00, WASH 30:00 + 0:10. So
/// 4:10 + 0:30 + 3:00 + 30:10 = 37:50, and with 20:00 it is 53:50. The paper states no clearing time, so there is light
/// from the end of FIX on: 4:10 + 0:30 + 3:00 = 7:40, and at the latest 23:40.
#[test]
fn a_lith_print_is_snatched_within_its_range() {
    let kitchen = Kitchen::sound(LITH);
    let print = Format::parse("24x30cm").unwrap();
    let schedule = kitchen.compiled(&evening(celsius("25"), &[(1, print)]));
    assert_eq!(totals(&schedule), ["37:50", "53:50"]);
    assert_eq!(schedule.legs.len(), 2);
    let light = schedule.light.unwrap().at;
    assert_eq!([schedule.earliest(light), light], [seconds(7 * 60 + 40), seconds(23 * 60 + 40)]);
    let snatched = schedule.decided(1, seconds(9 * 60));
    // 9:10 + 0:30 + 3:00.
    assert_eq!(snatched.light.unwrap().at, seconds(12 * 60 + 40));
    assert_eq!(totals(&snatched), ["42:50", "42:50"]);
}

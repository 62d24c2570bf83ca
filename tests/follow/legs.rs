//! Steps that a person ends at a sign (R18), in a followed session.
//!
//! UNTIL: the tank fills in 10 s and drains in 5 s. Develop from 0:00, looks at 4:00, 5:00 and so on, at the latest 10:00.
//! Draining begins at the decision. The wash fills for 10 s, stays for 1:00 and is dumped in 5 s. So the work takes
//! 10:00 + 0:05 + 1:15 = 11:20 at the latest, and 5:20 at the earliest.

use super::screen::{USUAL, shown};
use super::{live, seconds, start};
use wetside::emit::{Live, Size};
use wetside::model::Time;

const UNTIL: &str = "wetside 2

film trial-film {
    speed ISO 100
}

solution soup {
    role developer
    needs 100 ml per roll
}

tank small {
    reels 120 x 2, 500 ml each
    holds 1 l
    fill 10 s
    drain 5 s
}

recipe trial {
    film trial-film
    index 100
    between 18 C and 24 C
    develop {
        in soup stock, one-shot
        time TIME
        between 18 C and 24 C
        agitate continuous
    }
    wash {
        soak 1:00 x 1
    }
}
";

const SIGN: &str = "the sky shows dark";
const FLAT: Size = Size { columns: 60, rows: 8 };

fn started(time: &str) -> Live {
    let mut live = live(&UNTIL.replace("TIME", time), Time::ZERO);
    start(&mut live, 0);
    live
}

fn until() -> Live {
    started(&format!("until \"{SIGN}\", at least 4:00, at most 10:00, look every 1:00"))
}

/// Six times the time to the sign.
fn factor() -> Live {
    started("6 x \"the first blacks show\", at least 1:00, at most 3:00")
}

/// The screen on one line, and the large time.
#[track_caller]
fn seen(live: &Live, clock: i64) -> (String, String) {
    let page = shown(live, seconds(clock), USUAL);
    let count = live.frame(seconds(clock), FLAT)[1].text.clone();
    (page.split_whitespace().collect::<Vec<_>>().join(" "), count)
}

#[test]
fn the_step_waits_for_the_sign_and_what_follows_moves() {
    let mut live = until();
    let words = format!("LOOK until {SIGN}, from 4:00 to 10:00");
    // At 3:00, one minute is left until the first look, which is next.
    let (page, count) = seen(&live, 180);
    assert!(page.contains("AGITATE") && page.contains(&format!("next {words}")), "{page}");
    assert_eq!((count.as_str(), live.asks(seconds(180))), ("1:00", Some("not now".to_owned())));
    // What ends at a sign cannot end before its shortest time.
    assert_ne!(live.asks(seconds(239)).as_deref(), Some(SIGN));
    // From the first look on, the time counts up.
    let (page, count) = seen(&live, 240);
    assert!(page.contains(&format!("{words} · agitate")), "{page}");
    assert!(page.contains("next at 10:00 at the latest, drain"), "{page}");
    assert!(page.contains("4:00 of 4:05 to 10:05") && page.contains("4:00 of 5:20 to 11:20"), "{page}");
    assert!(page.contains(&format!("hold Enter: {SIGN}")), "{page}");
    assert_eq!((count.as_str(), live.asks(seconds(240)).as_deref()), ("4:00", Some(SIGN)));
    // At 6:40 the sign is seen: 10:00 - 6:40 = 3:20 less, so 8:00 in all.
    live.confirm(seconds(400));
    assert!(live.rings(seconds(400)), "draining begins");
    let (page, count) = seen(&live, 400);
    assert!(page.contains("DRAIN to the sink") && !page.contains("LOOK"), "{page}");
    assert!(page.contains("0:05 left of 6:45") && page.contains("6:40 of 8:00"), "{page}");
    assert_eq!((count.as_str(), live.asks(seconds(400))), ("0:05", None));
    assert!(seen(&live, 405).0.contains("WASH water"), "{}", seen(&live, 405).0);
    assert!(seen(&live, 479).0.contains("DRAIN dump"), "{}", seen(&live, 479).0);
    assert!(seen(&live, 480).0.contains("DONE next nothing"), "{}", seen(&live, 480).0);
}

#[test]
fn without_a_decision_the_step_does_not_end() {
    let mut live = until();
    for clock in [240, 300, 599, 600, 630] {
        let (page, count) = seen(&live, clock);
        assert!(page.contains("LOOK until"), "{clock}: {page}");
        assert_eq!(count, seconds(clock).to_string());
        assert_eq!(live.asks(seconds(clock)).as_deref(), Some(SIGN));
    }
    assert!(!seen(&live, 599).0.contains("past the latest end"));
    assert!(seen(&live, 600).0.contains("past the latest end"));
    // The sign is seen at 10:30, half a minute after the latest end: all that follows is that much later.
    live.confirm(seconds(630));
    let (page, count) = seen(&live, 630);
    assert!(page.contains("DRAIN to the sink") && !page.contains("LOOK"), "{page}");
    assert_eq!((count.as_str(), live.asks(seconds(630))), ("0:05", None));
    assert_eq!(live.at(seconds(632)), seconds(602));
    assert_eq!(live.at(seconds(100_000)), seconds(680));
    // The bath was left at 10:30 and not at 10:00: no planned time, since a person ended the step.
    let took: Vec<String> = live.took(seconds(640)).iter().map(|took| took.words()).collect();
    assert_eq!(took, ["develop 10:30"]);
}

#[test]
fn going_back_before_a_decision_opens_it_again() {
    let mut live = until();
    live.confirm(seconds(400));
    live.back(seconds(401));
    assert_eq!(live.at(seconds(401)), seconds(10), "agitating begins at 0:10");
    assert!(seen(&live, 401).0.contains("of 5:20 to 11:20"), "{}", seen(&live, 401).0);
    // 4:00 of the session.
    assert_eq!(live.asks(seconds(631)).as_deref(), Some(SIGN));
    live.confirm(seconds(631));
    assert!(seen(&live, 631).0.contains("4:00 of 5:20"), "{}", seen(&live, 631).0);
}

#[test]
fn the_bell_rings_at_each_look() {
    let mut live = until();
    let rung: Vec<i64> = (100..420).filter(|clock| live.rings(seconds(*clock))).collect();
    // The first of these is for the pour and the agitation before.
    assert_eq!(rung, [100, 240, 300, 360]);
}

/// The tank is empty at six times the sign, and draining takes 5 s: 6 x 0:15 = 1:30, so it begins at 1:25.
/// 6 x 0:08 = 0:48 becomes 1:00, and 6 x 0:35 = 3:30 becomes 3:00.
#[test]
fn a_factor_is_fixed_at_the_sign() {
    for (sign, drain, empty) in [(15, 85, 90), (8, 55, 60), (35, 175, 180)] {
        let mut live = factor();
        let (page, count) = seen(&live, sign);
        assert!(
            page.contains("LOOK for the time at which the first blacks show; 6 x that, 1:00 to 3:00"),
            "{page}"
        );
        assert_eq!(count, seconds(sign).to_string());
        assert_eq!(live.asks(seconds(sign)).as_deref(), Some("the first blacks show"));
        live.confirm(seconds(sign));
        let (page, count) = seen(&live, sign + 3);
        assert!(page.contains("AGITATE") && page.contains("next drain"), "{page}");
        assert_eq!(count, seconds(drain - sign - 3).to_string());
        assert!(seen(&live, drain).0.contains("DRAIN to the sink"), "{}", seen(&live, drain).0);
        assert!(seen(&live, empty).0.contains("WASH water"), "{}", seen(&live, empty).0);
    }
}

#[test]
fn lines_say_when_to_look_and_the_latest_end() {
    let lines: Vec<String> = until().lines(Time::ZERO).into_iter().map(|(_, line)| line).collect();
    let said = format!("look every 1 min, until {SIGN}; at the latest at 10:00");
    assert!(lines.iter().any(|line| line.ends_with(&said)), "{lines:?}");
    assert!(lines.iter().any(|line| line.starts_with("DEVELOP 4:00 to 10:00")), "{lines:?}");
}

#[test]
fn no_frame_with_a_decision_is_larger_than_its_screen() {
    let live = until();
    for columns in 1..100 {
        for rows in 1..30 {
            for clock in [0, 200, 300, 620] {
                let frame = live.frame(seconds(clock), Size { columns, rows });
                assert!(frame.len() <= rows && frame.iter().all(|row| row.text.chars().count() <= columns));
            }
        }
    }
}

/// At 6:40.7 the sign is seen; the times that follow are whole seconds, as those of a card.
#[test]
fn a_decision_falls_on_a_whole_second() {
    let mut live = until();
    live.confirm(Time::from_ms(400_700));
    assert!(live.rings(Time::from_ms(400_700)), "draining begins");
    let page = shown(&live, Time::from_ms(400_700), USUAL);
    assert!(page.contains("6:40 of 8:00\n"), "{page}");
    live.back(Time::from_ms(402_000));
    assert_eq!(live.at(Time::from_ms(402_000)), seconds(10));
}

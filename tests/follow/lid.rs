//! The lid in a followed session: a condition that a person confirms, never a clock.
//!
//! FIXED: the tank fills in 10 s and drains in 5 s. Develop 5:00, so the fixer is poured from 5:00 and in at 5:10. It
//! drains at 8:55. The film clears in 1:20. The wash is poured from 9:00 and is in at 9:10.

use super::screen::{SMALL, USUAL, shown};
use super::{live, seconds, start};
use wetside::emit::{Live, Said, Size};
use wetside::model::Time;

const FIXED: &str = "wetside 1

film trial-film {
    speed ISO 100
    clears 80 s in hypo 1+4 at 20 C
}

solution soup {
    role developer
    needs 100 ml per roll
}

solution hypo {
    role fixer
    contains sodium-thiosulfate
    treats 10 rolls per 1 l at 1+4
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
        time 5:00
        between 18 C and 24 C
        agitate none
    }
    fix {
        in hypo 1+4, reused
        time 4:00
        agitate none
        IN-FIX
    }
    wash {
        soak 1:00 x 2
        IN-WASH
    }
}
";

const UNTIL: &str = "LID ON   until the fixer has been in for 1:20";

/// The session with light stated in the fixer, or with `wash` in the wash.
fn fixing(from: i64, wash: bool) -> Live {
    let (fix, washing) = if wash { ("", "light safe") } else { ("light safe", "") };
    live(&FIXED.replace("IN-FIX", fix).replace("IN-WASH", washing), seconds(from))
}

/// The line about the lid on a usual screen.
#[track_caller]
fn lid(live: &Live, clock: i64) -> String {
    let page = shown(live, seconds(clock), USUAL);
    let line = page.lines().find(|line| line.starts_with("LID") || line.starts_with("DARK"));
    line.unwrap_or_else(|| panic!("no lid: {page}")).to_owned()
}

#[test]
fn the_lid_is_free_only_after_a_person_confirmed_the_fixer() {
    let mut live = fixing(0, false);
    assert_eq!(lid(&live, 0), UNTIL);
    start(&mut live, 0);
    // 6:30 of the session is 1:20 after the pour, but no one confirmed a pour.
    for clock in [0, 320, 390, 391, 530, 600, 700] {
        assert_eq!(lid(&live, clock), UNTIL, "at {clock}");
    }
    // Confirmed at 5:30: it covers the film at 5:40, and 48 s later it is 6:28.
    let mut live = fixing(0, false);
    start(&mut live, 0);
    assert_eq!(live.asks(seconds(299)), None);
    assert_eq!(live.asks(seconds(330)).as_deref(), Some("FIX went in now"));
    assert!(live.confirm(seconds(330)));
    assert_eq!(live.asks(seconds(341)), None);
    assert_eq!(lid(&live, 388), "LID ON   fixer in 0:48 of 1:20");
    assert_eq!(lid(&live, 419), "LID ON   fixer in 1:19 of 1:20");
    assert_eq!(lid(&live, 420), "LID FREE");
    assert_eq!(lid(&live, 650), "LID FREE");
}

/// A pour that is confirmed as it begins, at 5:00, covers the film at 5:10.
#[test]
fn the_fixer_counts_from_when_it_covers_the_film() {
    let mut live = fixing(0, false);
    start(&mut live, 0);
    assert!(live.confirm(seconds(300)));
    assert_eq!(lid(&live, 309), "LID ON   fixer in 0:00 of 1:20");
    assert_eq!(lid(&live, 389), "LID ON   fixer in 1:19 of 1:20");
    assert_eq!(lid(&live, 390), "LID FREE");
}

#[test]
fn skipping_the_schedule_never_frees_the_lid() {
    for wash in [false, true] {
        let mut live = fixing(0, wash);
        start(&mut live, 0);
        for clock in 5..54 {
            live.next(seconds(clock));
            assert!(lid(&live, clock).starts_with(UNTIL), "{}", lid(&live, clock));
        }
        // Nor does it where the fixer was in from the start: skipping adds no time in the fixer.
        let mut live = fixing(300, wash);
        start(&mut live, 0);
        for clock in 20..60 {
            live.next(seconds(clock));
            assert!(lid(&live, clock).starts_with("LID ON   fixer in 0:"), "{}", lid(&live, clock));
        }
        assert!(lid(&live, 9000).starts_with("LID ON   fixer in 0:"), "{}", lid(&live, 9000));
    }
}

/// The fixer covers the film from 5:10 on and is taken out at 6:05: 55 s. Poured back, it covers the film 10 s later.
#[test]
fn drained_fixer_counts_no_longer() {
    let drained = || {
        let mut live = fixing(0, false);
        start(&mut live, 0);
        assert!(live.confirm(seconds(300)) && live.next(seconds(365)));
        live
    };
    let mut live = drained();
    assert_eq!(live.at(seconds(365)), seconds(535));
    for clock in [365, 400, 3000] {
        assert_eq!(lid(&live, clock), "LID ON   fixer in 0:55 of 1:20", "at {clock}");
    }
    assert!(live.say(Said::BackIn, seconds(375)));
    assert_eq!(live.at(seconds(375)), seconds(365), "all of the remaining time");
    assert_eq!(lid(&live, 384), "LID ON   fixer in 0:55 of 1:20");
    assert_eq!(lid(&live, 409), "LID ON   fixer in 1:19 of 1:20");
    assert_eq!(lid(&live, 410), "LID FREE");
    // Going back to the rest in the fixer says nothing of the lid; the pour is confirmed again.
    let mut live = drained();
    assert!(live.say(Said::At(seconds(310)), seconds(375)));
    let before = lid(&live, 376);
    assert_eq!(lid(&live, 700), before);
    assert!(live.confirm(seconds(376)));
    assert!(lid(&live, 386) == before && lid(&live, 387) != before, "{before}");
}

#[test]
fn going_before_the_fixer_forgets_it() {
    let mut live = fixing(310, false);
    start(&mut live, 0);
    assert!(live.confirm(seconds(0)));
    assert_eq!(lid(&live, 89), "LID ON   fixer in 1:19 of 1:20");
    assert_eq!(lid(&live, 90), "LID FREE");
    for clock in 91..95 {
        live.back(seconds(clock));
    }
    assert_eq!(live.at(seconds(94)), Time::ZERO);
    assert_eq!(lid(&live, 94), UNTIL);
}

/// The recipe allows light from the wash on, which is in at 9:10 of the session.
#[test]
fn light_that_the_recipe_allows_later_waits_for_both() {
    let mut live = fixing(0, true);
    start(&mut live, 0);
    assert_eq!(lid(&live, 9), format!("{UNTIL} and WASH is in"));
    assert!(live.confirm(seconds(310)));
    assert_eq!(lid(&live, 399), "LID ON   fixer in 1:19 of 1:20");
    assert_eq!(lid(&live, 400), "LID ON   until WASH is in");
    assert_eq!(lid(&live, 559), "LID ON   until WASH is in");
    assert_eq!(lid(&live, 560), "LID FREE");
}

#[test]
fn trays_have_darkness_in_place_of_a_lid() {
    let text = FIXED.replace("agitate none\n    }", "agitate continuous, by rocking\n    }");
    let mut live = super::live(&text.replace("IN-FIX", "light safe").replace("IN-WASH", ""), seconds(310));
    assert_eq!(lid(&live, 0), "DARK   until the fixer has been in for 1:20");
    start(&mut live, 0);
    assert!(live.confirm(seconds(0)));
    let page = shown(&live, seconds(90), USUAL);
    assert!(page.contains("\nLIGHT MAY GO ON\n"), "{page}");
}

#[test]
fn every_screen_has_the_whole_line_and_says_what_a_held_key_means() {
    let mut live = fixing(310, true);
    start(&mut live, 0);
    for size in [USUAL, SMALL, Size { columns: 30, rows: 14 }] {
        let page = shown(&live, seconds(0), size);
        let words = page.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains("LID ON until the fixer has been in for 1:20 and WASH is in"), "{page}");
        assert!(page.contains("\nhold Enter: FIX went in now"), "{page}");
    }
    live.hold(50);
    let page = shown(&live, seconds(0), USUAL);
    let bar = page.lines().find_map(|line| line.strip_prefix("hold Enter: FIX went in now   ")).unwrap();
    // 80 columns less 30; half of 50 is 25.
    assert_eq!(bar, format!("{}{}", "\u{2588}".repeat(25), "\u{2591}".repeat(25)));
    live.hold(0);
    assert!(live.confirm(seconds(0)));
    assert!(!shown(&live, seconds(11), USUAL).contains("hold Enter"));
}

/// Through a pipe, no key can be held.
#[test]
fn lines_never_say_that_the_lid_is_free() {
    let lines: Vec<String> = fixing(0, false).lines(Time::ZERO).into_iter().map(|(_, line)| line).collect();
    assert!(lines.iter().any(|line| line.ends_with(UNTIL)), "{lines:?}");
    assert!(!lines.iter().any(|line| line.contains("FREE")), "{lines:?}");
}

/// The exposure takes 2:00 to get ready and 12 s. Its light replaces the safelight for these 12 s only.
#[test]
fn an_exposure_shows_its_own_light() {
    let exposed = "    light safelight \"amber\"\n    expose {\n        handling 2:00\n        time 12 s\n        \
                   light \"sun, under glass\"\n    }\n    develop {\n";
    let text = FIXED.replace("wetside 1", "wetside 2").replace("    develop {\n", exposed);
    let mut live = live(&text.replace("IN-FIX", "light room").replace("IN-WASH", ""), seconds(0));
    start(&mut live, 0);
    let line = |live: &Live, clock: i64| {
        let page = shown(live, seconds(clock), USUAL);
        let mut lines = page.lines().map(str::trim);
        lines.find(|line| line.contains("SAFELIGHT ONLY")).unwrap().to_owned()
    };
    let safelight = "SAFELIGHT ONLY (amber)   until the fixer has been in for 1:20";
    assert_eq!(line(&live, 119), safelight);
    // The session waits for the lamp until a person says that it is on.
    assert_eq!(line(&live, 125), safelight);
    assert_eq!(live.asks(seconds(125)).as_deref(), Some("the lamp is on"));
    assert!(live.confirm(seconds(130)));
    assert_eq!(line(&live, 130), "EXPOSE   sun, under glass; then SAFELIGHT ONLY (amber)");
    assert_eq!(line(&live, 141), line(&live, 130));
    assert_eq!(line(&live, 142), safelight);
}

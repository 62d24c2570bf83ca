//! Thirty habits of the trade, sound and unsound, each with exactly the finding it should have and no other. The
//! table at the end names the test of each.

mod rest;

use serde_json::Value;

use crate::kitchen::Kitchen;
use crate::program::Run;

/// A shelf, and a recipe of which each habit changes a part.
const SHELF: &str = include_str!("habits/shelf.wet");

/// A recipe with these lines, over the usual one.
fn habit(lines: &str) -> String {
    format!("{SHELF}\nrecipe own from usual {{\n{lines}\n}}\n")
}

/// The same for another film.
fn of_film(film: &str, lines: &str) -> String {
    let usual = habit(lines).replace("film      plain", &format!("film      {film}"));
    // Only the habit goes by a clearing time that is not known.
    if film != "flat" { usual.replace("3 x clearing, at least 3:00", "3:00") } else { usual }
}

/// A development in place of the usual one.
fn development(lines: &str) -> String {
    habit(&format!("without develop\ndevelop own before stop {{\n{lines}\n}}"))
}

/// The findings of a text: the severity and the name of each.
fn found(text: &str) -> Vec<String> {
    let kitchen = Kitchen::of(text);
    kitchen.findings.iter().map(|finding| format!("{} {}", finding.level.word(), finding.name)).collect()
}

#[track_caller]
fn silent(text: &str) {
    assert_eq!(found(text), [""; 0], "{text}");
}

#[track_caller]
fn only(text: &str, finding: &str) {
    assert_eq!(found(text), [finding], "{text}");
}

/// The warnings and the advice of a card for the recipe `own`, each with its severity.
fn on_card(text: &str, arguments: &[&str]) -> Vec<String> {
    let run = Run::new().file("habit.wet", text).args(["card", "own", "--as", "json"]);
    let run = arguments.iter().fold(run, |run, argument| run.arg(*argument));
    let schedule: Value = serde_json::from_str(&run.succeeds()).unwrap();
    let of = |key: &str, level: &str| -> Vec<String> {
        let all = schedule[key].as_array().cloned().unwrap_or_default();
        all.iter().map(|one| format!("{level} {}", one["text"].as_str().unwrap())).collect()
    };
    [of("warnings", "warning"), of("advice", "advice")].concat()
}

/// The names of the errors of a card for the recipe `own`.
fn refused(text: &str, arguments: &[&str]) -> Vec<String> {
    let run = Run::new().file("habit.wet", text).args(["card", "own"]);
    let run = arguments.iter().fold(run, |run, argument| run.arg(*argument));
    let told = run.fails(1).1;
    let names = told.lines().filter_map(|line| line.strip_prefix("error["));
    names.filter_map(|rest| rest.split(']').next()).map(str::to_owned).collect()
}

const TWO_135: [&str; 6] = ["--at", "20C", "--rolls", "2x135", "--tank", "small-tank"];

#[test]
fn the_usual_recipe_has_no_finding() {
    silent(&habit("title-less-note").replace("title-less-note", "note \"as always\"\nindex 320"));
}

#[test]
fn stand_for_an_hour_is_silent_and_less_developer_than_the_label_says_is_advice() {
    let stand = |dilution: &str, time: &str| {
        development(&format!(
            "in syrup {dilution}, one-shot\ntime {time}\nbetween 18 C and 22 C\nagitate first 30 s, stand"
        ))
    };
    silent(&stand("1+100", "60 min"));
    // 606 ml at 1+100 have 6 ml, 3 for each of two rolls; the label says 5.
    assert_eq!(
        on_card(&stand("1+100", "60 min"), &TWO_135),
        ["advice develop own: 3 ml of syrup a roll; its label says 5"]
    );
    // 252.5 ml have 2.5 ml, half of it.
    let half = ["--at", "20C", "--rolls", "1x135", "--tank", "least-tank"];
    assert_eq!(
        on_card(&stand("1+100", "60 min"), &half),
        ["advice develop own: 2.5 ml of syrup a roll; its label says 5"]
    );
    // At 1+200 a roll needs 1005 ml for its 5 ml, at 1+500 2505 ml.
    only(&stand("1+200", "2 h"), "advice diluted-too-far");
    only(&stand("1+500", "2 h"), "warning diluted-too-far");
}

#[test]
fn agitation_that_is_not_stated_is_questioned() {
    let develop = |agitate: &str| {
        development(&format!("in mq-borax 1+1, one-shot\ntime 10:00\nbetween 18 C and 22 C\n{agitate}"))
    };
    only(&develop(""), "warning agitation-not-stated");
    silent(&develop("agitate none"));
}

#[test]
fn a_stop_may_be_water_or_vinegar_or_left_out() {
    silent(&habit("stop {\nin water\n}"));
    only(&habit("without stop"), "advice developer-into-acid-fix");
    only(&habit("stop {\nin vinegar 1+3, reused\n}"), "advice reused-without-capacity");
    let alkaline =
        of_film("unmeasured", "without stop\nfix {\nin alkaline-fix 1+4, reused\ntime 2 x clearing\n}");
    let at = ["--at", "20C", "--rolls", "1x135", "--tank", "small-tank"];
    assert_eq!(on_card(&alkaline, &[&at[..], &["--clears", "1:20"]].concat()), [""; 0]);
}

#[test]
fn a_dilute_developer_that_is_poured_back_is_a_warning() {
    only(
        &development(
            "in everyday-dev 1+9, reused\ntime 10:00\nbetween 18 C and 22 C\nagitate first 30 s, then 10 s every 1 min",
        ),
        "warning weak-developer-kept",
    );
}

#[test]
fn a_short_development_is_advice_in_a_tank_and_silent_where_the_film_always_moves() {
    let steady = "agitate first 30 s, then 10 s every 1 min";
    let brief = |time: &str, agitate: &str| {
        development(&format!("in mq-borax 1+1, one-shot\ntime {time} at 24 C\nwithin 0.5 C\n{agitate}"))
    };
    only(&brief("4:50", steady), "advice short-development");
    only(&brief("1:20", "agitate first 10 s, then 5 s every 30 s"), "warning short-development");
    silent(&brief("4:50", "agitate rotary 60 rpm"));
    silent(&format!(
        "{SHELF}recipe own {{\nfilm plain\ndevelop {{\nin colour-developer stock, one-shot\ntime 3:15 at 37.8 C\n\
         within 0.15 C\nagitate first 30 s, then 5 s every 15 s\n}}\n}}\n"
    ));
    // Paper in a tray, and its developer for film.
    silent(&of_film(
        "bromide-paper",
        "without develop\ndevelop print before stop {\nin paper-dev 1+9, one-shot\ntime 1:30\n\
         between 18 C and 22 C\nagitate continuous\n}\nfix {\ntime 2:00\n}",
    ));
    let film = format!("in paper-dev 1+9, one-shot\ntime 3:30\nbetween 18 C and 22 C\n{steady}");
    only(&development(&film), "advice short-development");
}

#[test]
fn a_temperature_below_the_chart_is_one_error() {
    let at = ["--at", "16C", "--rolls", "1x135", "--tank", "small-tank"];
    assert_eq!(refused(&habit("index 320"), &at), ["outside-band"]);
}

/// US Department of Defense, Nondestructive Inspection Methods, T.O. 33B-1-1, 6.7.10.1: three times as long at 50 to 60
/// °F.
#[test]
fn a_cold_wash_is_a_warning_and_takes_three_times_as_long() {
    let at = ["--at", "20C,wash=10C", "--rolls", "1x135", "--tank", "small-tank"];
    assert_eq!(
        on_card(&habit("index 320"), &at),
        ["warning wash is at 10 °C, too cold: it may be 18 °C to 24 °C; wash three times as long"]
    );
}

#[test]
fn one_time_for_any_temperature_is_a_warning_unless_the_film_stands_or_has_two_baths() {
    let steady = "agitate first 30 s, then 10 s every 1 min";
    let wide = |agitate: &str| {
        development(&format!("in mq-borax 1+1, one-shot\ntime 10:00\nbetween 15 C and 25 C\n{agitate}"))
    };
    only(&wide(steady), "warning one-time-for-a-wide-band");
    silent(&wide("agitate first 30 s, stand"));
    silent(&habit(&format!(
        "without develop\ndevelop a before stop {{\nin bath-a stock, reused\ntime 5:00\nbetween 15 C and 25 C\n{steady}\n}}\n\
         develop b after develop a {{\nin bath-b stock, one-shot\ntime 5:00\nbetween 15 C and 25 C\n{steady}\n}}"
    )));
}

#[test]
fn twice_tonights_clearing_time_at_any_strength_is_silent_and_without_it_an_error() {
    let weak = of_film("unmeasured", "fix {\nin rapid-fix 1+9, reused\ntime 2 x clearing\n}");
    let at = ["--at", "20C", "--rolls", "1x135", "--tank", "small-tank"];
    assert_eq!(on_card(&weak, &[&at[..], &["--clears", "1:20"]].concat()), [""; 0]);
    assert_eq!(refused(&weak, &at), ["no-clearing-time"]);
}

#[test]
fn tabular_film_fixed_for_twice_its_clearing_time_is_advice() {
    only(&of_film("flat", "fix {\ntime 2 x clearing\n}"), "advice short-fix");
    only(&of_film("flat", "fix {\ntime 1 x clearing\n}"), "warning short-fix");
}

#[test]
fn a_long_fix_is_silent_in_hypo_advice_in_a_rapid_fixer_and_a_warning_over_half_an_hour() {
    silent(&habit("fix {\nin plain-hypo 1+1, reused\ntime 20:00\n}"));
    only(&habit("fix {\ntime 20:00\n}"), "advice implausible-time");
    only(&habit("fix {\ntime 31:00\n}"), "warning implausible-time");
}

#[test]
fn hardened_film_needs_a_long_wash() {
    let hard = "fix {\nin hard-fix stock, reused\ntime 5:00\n}";
    only(
        &habit(&format!("{hard}\nwash {{\nfills 5, 10, 20 inversions\n}}")),
        "warning short-wash-after-hardener",
    );
    silent(&habit(&format!("{hard}\nwash {{\nflow 2 l/min\ntime 20 min\n}}")));
}

#[test]
fn a_drum_without_filling_and_draining_times_is_advice() {
    let drum = "tank drum {\nreels 135 x 2, 250 ml each\nholds 600 ml\nrotary 300 ml\n}\n";
    let turning = "in mq-borax 1+1, one-shot\ntime 6:00\nbetween 18 C and 22 C\nagitate rotary 60 rpm";
    let text = development(turning) + drum;
    only(&text, "advice tank-without-times");
    let at = ["--at", "20C", "--rolls", "1x135", "--tank", "drum"];
    let advice = "advice 'drum' does not state its filling and draining times: each counts as 0:00";
    assert_eq!(on_card(&text, &at), [advice]);
}

#[test]
fn a_push_needs_more_time_and_an_expired_film_a_lower_index() {
    let time = |time: &str| format!("develop {{\ntime {time} at 20 C\nwithin 0.5 C\n}}");
    silent(&habit(&format!("index 3200\n{}", time("25:00"))));
    only(&habit("index 3200"), "warning push-without-time");
    only(&habit("index 800"), "advice push-without-time");
    silent(&habit("index 100"));
}

#[test]
fn a_presoak_and_the_removal_of_a_backing_are_silent() {
    let soak = |lines: &str| habit(&format!("presoak before develop {{\n{lines}\n}}"));
    silent(&soak("time 5:00"));
    only(&soak("time 16:00"), "advice implausible-time");
    silent(&soak("in soda-bath stock, one-shot\ntime 2:00"));
}

#[test]
fn a_developer_of_metol_and_sulfite_a_bath_b_and_a_water_bath_are_silent() {
    let steady = "agitate first 30 s, then 10 s every 1 min";
    silent(&development(&format!(
        "in metol-sulfite stock, one-shot\ntime 8:00\nbetween 18 C and 22 C\n{steady}"
    )));
    let round = |name: &str, after: &str| {
        format!(
            "develop {name} {after} {{\nin mq-borax 1+1, one-shot\ntime 2:00\nbetween 18 C and 22 C\n{steady}\n}}\n\
             rest {name} after develop {name} {{\ntime 2:00\n}}\n"
        )
    };
    let rounds =
        [round("one", "before stop"), round("two", "after rest one"), round("three", "after rest two")];
    silent(&habit(&format!("without develop\n{}", rounds.concat())));
}

#[test]
fn coffee_with_soda_lacks_the_water_of_crystallisation() {
    let soda = "solution brew {\nrole developer\nformula for 1 l {\nwater 800 ml\nsodium-carbonate 54 g\n\
                ascorbic-acid 16 g\ninstant-coffee 40 g\nwater to 1 l\n}\nneeds 300 ml per roll\nkeeps 1 days\n\
                caution \"never food again in this jug\"\n}\n";
    let text = format!("{SHELF}{soda}").replace("recipe usual", "recipe own");
    let text = text.replacen("in mq-borax 1+1, one-shot", "in brew stock, one-shot", 1);
    let kitchen = Kitchen::of(&text);
    let error: Vec<_> = kitchen.findings.iter().filter(|one| one.name == "state-not-said").collect();
    assert_eq!((error.len(), kitchen.findings.len()), (1, 1), "{}", kitchen.report(&kitchen.findings));
    let states = ["anhydrous", "monohydrate", "decahydrate"];
    let offers =
        |state: &&str| error.iter().all(|one| one.fixes.iter().any(|fix| fix.title.contains(*state)));
    assert_eq!(states.iter().filter(|state| offers(state)).count(), 3, "{:?}", error);
}

/// The lid may come off once the film is clear, which is before the end of the fixing step.
#[test]
fn the_lid_off_at_clearing_is_silent() {
    silent(&habit("fix {\nlight room\n}"));
}

#[test]
fn desensitised_film_under_a_green_safelight_is_silent() {
    let develop = "in mq-borax 1+1, one-shot\ntime 10:00\nbetween 18 C and 22 C\nagitate none\n\
                   light safelight \"dark green, 1.5 m away\"";
    silent(&development(develop));
}

/// The thirty habits, each with the test that holds it.
const HABITS: [(&str, &str); 30] = [
    (
        "stand 1 h, 1+100, 2 x 135",
        "stand_for_an_hour_is_silent_and_less_developer_than_the_label_says_is_advice",
    ),
    ("250 ml tank at 1+100", "stand_for_an_hour_is_silent_and_less_developer_than_the_label_says_is_advice"),
    ("2 h at 1+200", "stand_for_an_hour_is_silent_and_less_developer_than_the_label_says_is_advice"),
    ("develop without agitate", "agitation_that_is_not_stated_is_questioned"),
    ("water stop", "a_stop_may_be_water_or_vinegar_or_left_out"),
    ("no stop, acid fixer", "a_stop_may_be_water_or_vinegar_or_left_out"),
    ("no stop, alkaline fixer", "a_stop_may_be_water_or_vinegar_or_left_out"),
    ("vinegar stop", "a_stop_may_be_water_or_vinegar_or_left_out"),
    ("one-shot poured back", "a_dilute_developer_that_is_poured_back_is_a_warning"),
    ("4:50 at 24 C", "a_short_development_is_advice_in_a_tank_and_silent_where_the_film_always_moves"),
    ("16 C, chart starts at 18", "a_temperature_below_the_chart_is_one_error"),
    ("wash at 10 C", "a_cold_wash_is_a_warning_and_takes_three_times_as_long"),
    (
        "10:00 at any temperature",
        "one_time_for_any_temperature_is_a_warning_unless_the_film_stands_or_has_two_baths",
    ),
    (
        "fix for twice the clearing time, 1+9",
        "twice_tonights_clearing_time_at_any_strength_is_silent_and_without_it_an_error",
    ),
    ("lid off at clearing", "the_lid_off_at_clearing_is_silent"),
    ("tabular film fixed for twice", "tabular_film_fixed_for_twice_its_clearing_time_is_advice"),
    (
        "fix for 20 min",
        "a_long_fix_is_silent_in_hypo_advice_in_a_rapid_fixer_and_a_warning_over_half_an_hour",
    ),
    ("hardener, wash of three changes", "hardened_film_needs_a_long_wash"),
    ("wash in sea water", "sea_water_needs_fresh_water_after_it"),
    ("rotation without fill and drain", "a_drum_without_filling_and_draining_times_is_advice"),
    ("push 3", "a_push_needs_more_time_and_an_expired_film_a_lower_index"),
    ("one stop under, normal time", "a_push_needs_more_time_and_an_expired_film_a_lower_index"),
    ("EI two stops over", "a_push_needs_more_time_and_an_expired_film_a_lower_index"),
    ("pre-wash", "a_presoak_and_the_removal_of_a_backing_are_silent"),
    ("cine backing", "a_presoak_and_the_removal_of_a_backing_are_silent"),
    (
        "metol and sulfite; bath B; water bath",
        "a_developer_of_metol_and_sulfite_a_bath_b_and_a_water_bath_are_silent",
    ),
    ("coffee, kitchen scale", "coffee_with_soda_lacks_the_water_of_crystallisation"),
    ("lith to a snatch point", "lith_to_a_snatch_point_is_silent_and_too_warm_a_warning"),
    (
        "paper developer for film, 3:30",
        "a_short_development_is_advice_in_a_tank_and_silent_where_the_film_always_moves",
    ),
    ("desensitised film", "desensitised_film_under_a_green_safelight_is_silent"),
];

#[test]
fn every_habit_has_its_test() {
    let own = [include_str!("habits.rs"), include_str!("habits/rest.rs")].concat();
    for (habit, test) in HABITS {
        assert!(own.contains(&format!("\nfn {test}() {{")), "{habit} has no test {test}");
    }
}

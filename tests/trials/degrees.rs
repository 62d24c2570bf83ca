//! The result of a trial is in the scale in which its temperature was given.

use crate::program::Run;

/// Two frames, three stops apart: 0.9031 in the logarithm of exposure. Densities of 0.452, 0.524 and 0.596 above the first
/// frame are contrasts of 0.501, 0.580 and 0.660. 25 °C take 4:15 and 5:39 where 20 °C take 6:00 and 8:00: times 1.414,
/// which is the root of 2, so a factor of 2 for 10 °C.
const STRIPS: &str = "\
stops,6:00,8:00,11:00,4:15,5:39
temperature,68F,68F,68F,77F,77F
fog,0.20,0.20,0.20,0.20,0.20
-3,0.300,0.300,0.300,0.300,0.300
0,0.752,0.824,0.896,0.752,0.824
";

fn read(more: &[&str]) -> String {
    let run = Run::new().file("readings.csv", STRIPS).args(["trial", "read", "readings.csv"]);
    let text = more.iter().fold(run, |run, arg| run.arg(*arg)).succeeds();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// ln 2 = 0.693, so 6.9 % for 1 °C, and 6.9 / 1.8 = 3.9 % for 1 °F. 10 °C are 18 °F.
#[test]
fn a_degree_is_one_of_the_scale_of_the_call() {
    for (more, degree) in [
        (&[][..], "from 20 °C to 25 °C: 1 °C warmer, develop 7 % shorter (10 °C: divide the time by 2.0)"),
        (
            &["--at", "68F,77F"],
            "from 68 °F to 77 °F: 1 °F warmer, develop 4 % shorter (18 °F: divide the time by 2.0)",
        ),
    ] {
        let text = read(more);
        assert!(text.contains(degree), "{text}");
        let other = if more.is_empty() { "°F" } else { "°C" };
        assert!(!text.contains(other), "{text}");
        let why = read(&[more, &["--why"]].concat());
        assert!(!why.contains(other) && why.contains("times at "), "{why}");
        let picture = read(&[more, &["--as", "svg"]].concat());
        assert!(!picture.contains(other) && picture.contains('°'), "{picture}");
    }
}

/// Programs read one scale.
#[test]
fn json_is_in_celsius() {
    let json = read(&["--at", "68F,95F", "--as", "json"]);
    assert!(json.contains("you tested from 20 °C to 25 °C"), "{json}");
    assert_eq!(read(&["--at", "20C,35C", "--as", "json"]), json);
}

#[test]
fn the_usual_units_of_the_user_count_where_the_call_has_no_temperature() {
    let run = Run::new().file("own/wetside/tonight.toml", "units = \"us\"\n").file("readings.csv", STRIPS);
    let own = run.folder().join("own").display().to_string();
    let text = run.args(["trial", "read", "readings.csv"]).env("XDG_CONFIG_HOME", &own).succeeds();
    assert!(text.contains("77 °F") && !text.contains("°C"), "{text}");
}

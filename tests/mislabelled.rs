//! A darkroom with rolls of several films, to load the wrong ones.

use crate::program::Run;

/// Drift 800 develops for 8:39, Skerry 400 for 11:20, and Shoal 200 as Drift does.
pub(crate) fn shelf() -> Run {
    let recipe = |name: &str, index: u32, time: &str| {
        format!(
            "recipe {name} {{\n    film {name}\n    index {index}\n    develop {{\n        in soup, one-shot\n        time {time}\n        \
             between 18 C and 24 C\n        agitate none\n    }}\n}}\n"
        )
    };
    let films = "film drift \"Drift 800\" {\n    speed ISO 800\n}\nfilm skerry \"Skerry 400\" {\n    speed ISO 400\n}\n\
                 film shoal \"Shoal 200\" {\n    speed ISO 200\n}\n";
    let bench = format!(
        "wetside 1\n{films}solution soup {{\n    role developer\n    needs 250 ml per roll\n}}\n\
         tank five {{\n    reels 120 x 5, 500 ml each\n    reels 135 x 5, 300 ml each\n    fill 10 s\n    drain 10 s\n}}\n{}{}{}",
        recipe("drift", 800, "8:39"),
        recipe("skerry", 400, "11:20"),
        recipe("shoal", 200, "8:39")
    );
    let rolls = [
        ("T-13", "120", "drift"),
        ("T-14", "120", "skerry"),
        ("T-15", "120", "drift"),
        ("T-16", "120", "drift index 400"),
        ("T-17", "135", "drift"),
        ("T-18", "120", "shoal"),
        ("T-19", "120", "drift"),
        ("T-41", "120", "drift"),
    ];
    let rolls: String =
        rolls.map(|(label, format, of)| format!("    roll \"{label}\" {format} of {of}\n")).concat();
    let darkroom = format!(
        "wetside 1\nuse \"bench.wet\"\nbacklog autumn {{\n{rolls}}}\nsession earlier {{\n    date 2026-11-02\n    \
         recipe drift, fingerprint \"46ac83d1\"\n    backlog autumn\n    slot 1 \"T-19\" 120\n}}\n"
    );
    Run::new().file("bench.wet", bench).file("darkroom.wet", darkroom)
}

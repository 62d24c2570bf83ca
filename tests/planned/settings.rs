//! What a user usually has: the tank, the units, the paper and the taps, from a file outside of every repository.

use crate::program::Run;

/// Two tanks of one volume that fill and drain alike, and one that does not.
const TANKS: &str = "wetside 1\ntank slow {\n    reels     120 x 5, 500 ml each\n    holds     2.6 l\n    fill      40 s\n    drain     20 s\n}\n";

fn with(settings: &str) -> Run {
    let run = Run::new().folder_of_repo("recipes").file("own/wetside/tonight.toml", settings);
    let folder = run.folder().join("own").display().to_string();
    run.env("XDG_CONFIG_HOME", &folder)
}

fn card(run: &Run, recipe: &str, rolls: &str) -> Run {
    run.again().args(["card", recipe, "--at", "21.5C", "--rolls", rolls])
}

#[test]
fn the_usual_tank_is_marked_on_the_card() {
    let run = with("tank = \"tall-five\"\n");
    let text = card(&run, "estuary-400-mq", "5x120").succeeds();
    assert!(text.contains("Estuary 400 · 5 x 120 · Five-reel tank (usual) · 21.5 °C"), "{text}");
    assert!(text.contains("DEVELOP 8:39"), "{text}");
    let named = card(&run, "estuary-400-mq", "5x120").args(["--tank", "tall-five"]).succeeds();
    assert!(named.contains("Five-reel tank · 21.5 °C"), "{named}");
    let without = card(&run, "estuary-400-mq", "5x120").arg("--no-config").succeeds();
    assert!(!without.contains("(usual)") && without.contains("no tank is named"), "{without}");
}

#[test]
fn the_usual_tank_counts_only_where_rolls_and_agitation_fit() {
    let run = with("tank = \"tall-five\"\n");
    for (recipe, rolls) in
        [("estuary-400-mq", "6x120"), ("wheelhouse-400-rotary", "2x120"), ("headrace-125-tray", "4x8x10in")]
    {
        let (_, text, _) = card(&run, recipe, rolls).ends();
        assert!(!text.contains("(usual)"), "{recipe}: {text}");
    }
    // A tank that is not below this folder is not there either.
    let other = with("tank = \"tall-six\"\n");
    assert!(!card(&other, "estuary-400-mq", "5x120").succeeds().contains("(usual)"));
}

/// A tank of the same volume that fills 15 s slower: which one is it?
#[test]
fn tanks_of_one_volume_and_other_times_are_asked_about() {
    let run = with("tank = \"tall-five\"\n").file("slow.wet", TANKS);
    let (_, told) = card(&run, "estuary-400-mq", "5x120").fails(2);
    let flat = told.lines().map(|line| line.trim_matches([' ', '|'])).collect::<Vec<_>>().join(" ");
    assert!(
        flat.contains("which tank? tall-five (fill 0:25, drain 0:20); slow (fill 0:40, drain 0:20)"),
        "{told}"
    );
    assert!(flat.contains("--tank tall-five or --tank slow"), "{told}");
    // 10 s are not more than 10 s.
    let near = with("tank = \"tall-five\"\n").file("slow.wet", TANKS.replace("40 s", "35 s"));
    assert!(card(&near, "estuary-400-mq", "5x120").succeeds().contains("(usual)"));
}

#[test]
fn the_usual_units_read_a_number_without_a_unit() {
    let run = with("units = \"us\"\n");
    let call = |at: &str| {
        run.again().args(["card", "estuary-400-mq", "--at", at, "--rolls", "1x120", "--tank", "tall-five"])
    };
    let text = call("70.7").succeeds();
    assert!(text.contains("70.7 °F (21.5 °C)") && text.contains("°F (usual)"), "{text}");
    let (_, told) = call("21.5").fails(2);
    assert!(
        told.contains("21.5 has no unit, and no bath is at 21.5 °F") && told.contains("write 21.5C"),
        "{told}"
    );
    assert!(!call("21.5C").succeeds().contains("(usual)"));
}

#[test]
fn the_usual_paper_and_taps_are_used() {
    let run = with("paper = \"a5\"\ntaps = \"12C,55C\"\n");
    let pdf = run.again().args([
        "card",
        "estuary-400-mq",
        "--at",
        "21.5C",
        "--rolls",
        "1x120",
        "--tank",
        "tall-five",
        "-o",
        "card.pdf",
    ]);
    pdf.succeeds();
    let bytes = std::fs::read(run.folder().join("card.pdf")).unwrap();
    let text = String::from_utf8_lossy(&bytes);
    // ISO 216: A5 is 148 by 210 mm, which is 419.53 by 595.28 points.
    assert!(text.contains("419.53"), "the page has the size of A5");
    let sheet = run.again().args(["measure", "mq-borax", "--make", "2.5l"]).succeeds();
    assert!(sheet.contains("(usual taps)"), "{sheet}");
    // Taps that cannot give the water are left out, and those of the call come first.
    let cold = with("taps = \"5C,10C\"\n").args(["measure", "mq-borax", "--make", "2.5l"]).succeeds();
    assert!(!cold.contains("taps)"), "{cold}");
}

#[test]
fn a_wrong_or_contradictory_setting_is_refused() {
    for (settings, words) in [
        ("tank = \"Tall Five\"\n", "'Tall Five' is not the name of a tank"),
        ("taps = \"12C\"\n", "taps: '12C' is not two temperatures"),
        ("taps = \"12C,12C\"\n", "taps: both taps are at"),
        ("paper = \"a3\"\n", "paper is one of a4, letter, a5, a6, not 'a3'"),
        ("units = \"imperial\"\n", "units is one of metric, us, not 'imperial'"),
        ("tank = \"twin\"\ntank = \"tall-five\"\n", "duplicate key"),
    ] {
        let (_, told) = card(&with(settings), "estuary-400-mq", "1x120").fails(2);
        let flat = told.lines().map(|line| line.trim_matches([' ', '|'])).collect::<Vec<_>>().join(" ");
        assert!(flat.contains(words) && flat.contains("--no-config"), "{settings}: {told}");
    }
}

#[test]
fn a_plan_takes_the_usual_tank_if_it_takes_all_formats() {
    let backlog = |format: &str| {
        format!(
            "wetside 1\nuse \"recipes/films.wet\"\nuse \"recipes/estuary-400-mq.wet\"\nbacklog autumn {{\n    recipe    estuary-400-mq\n    roll      \"E-01\" {format} of estuary-400\n}}\n"
        )
    };
    let run = with("tank = \"tall-five\"\n").file("autumn.wet", backlog("120"));
    let text = run.again().args(["plan", "autumn", "--at", "21C"]).succeeds();
    assert!(text.contains("Five-reel tank (usual) · 21 °C"), "{text}");
    let run = with("tank = \"tall-five\"\n").file("autumn.wet", backlog("4x5in"));
    assert!(run.args(["plan", "autumn", "--at", "21C"]).fails(2).1.contains("there are several tanks"));
}

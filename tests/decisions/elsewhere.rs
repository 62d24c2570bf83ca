//! Signs in a plan.

use crate::program::Run;

const SEPIA: &str = include_str!("../../recipes/headland-sepia.wet");

/// Two prints in two loads, each as in `prints`: 1:12:10 to 1:31:40.
#[test]
fn a_plan_shows_the_range_at_the_bench() {
    let text = format!(
        "{SEPIA}
tank tray {{
    reels     8x10in x 1, 1 l each
    holds     1 l
    fill      0 s
    drain     10 s
}}

backlog prints \"Prints to tone\" {{
    roll      \"P-1\" 8x10in of headland-fb-print index 100 shot 2026-10-02
    roll      \"P-2\" 8x10in of headland-fb-print index 100 shot 2026-10-03
}}
"
    );
    let text = text.replace("    light     room\n", "    light     room\n    index     100\n");
    let plan = Run::new().file("prints.wet", &text).args([
        "plan",
        "prints.wet",
        "--at",
        "20C",
        "--on",
        "2026-11-25",
    ]);
    let json = plan.again().args(["plan", "prints.wet", "--at", "20C", "--on", "2026-11-25", "--as", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json.succeeds()).unwrap();
    // 1:12:10 and 1:31:40; twice that; and twice 260.8 and 300.8 l, with the water of what is mixed.
    assert_eq!(
        [&json["loads"][0]["total_earliest_ms"], &json["loads"][0]["total_ms"]],
        [4_330_000, 5_500_000]
    );
    assert_eq!([&json["bench_earliest_ms"], &json["bench_ms"]], [8_660_000, 11_000_000]);
    let water = ["least_water_ml", "water_ml"].map(|key| json[key].as_f64().unwrap());
    assert!((water[1] - water[0] - 80_000.0).abs() < 1.0, "{water:?}");
    let plan = plan.succeeds();
    assert!(plan.contains("1:12:10 to 1:31:40 at the bench"), "{plan}");
    assert!(plan.contains("1:00 to 8:00 in Sepia bleach stock"), "{plan}");
    // 2 x 1:12:10 and 2 x 1:31:40.
    assert!(plan.contains("2:24:20 to 3:03:20"), "{plan}");
}

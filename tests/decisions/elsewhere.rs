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
    let plan = plan.succeeds();
    assert!(plan.contains("1:12:10 to 1:31:40 at the bench"), "{plan}");
    assert!(plan.contains("1:00 to 8:00 in Sepia bleach stock"), "{plan}");
    // 2 x 1:12:10 and 2 x 1:31:40.
    assert!(plan.contains("2:24:20 to 3:03:20"), "{plan}");
}

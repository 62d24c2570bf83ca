//! Ingredients that files declare count in the labels of bottles and in the safety block as those of the table do. The
//! shares are worked by hand; a litre counts as 1000 g. The limits are those of Regulation (EC) 1272/2008, Annex I,
//! Tables 3.2.3 and 3.3.3: of an ingredient that burns skin, 5 % burn, 3 % damage eyes, and 1 % irritate both.

use serde_json::Value;

use crate::program::Run;

/// A coat of a solution with this formula or content, of the ingredient `mordant` with these hazards.
fn coat(ingredient: &str, solution: &str) -> Run {
    let text = format!(
        "wetside 2

ingredient mordant \"Mordant\" {{
{ingredient}
    source    \"invented\"
}}

paper plain {{
    source    \"invented\"
}}

solution bath \"Bath\" {{
    role      treatment
    {solution}
    needs     2 ml per roll
    keeps     6 months
    source    \"invented\"
}}

recipe dip {{
    paper     plain
    light     room
    between   15 C and 28 C

    coat {{
        in        bath stock, one-shot
        time      1:00
    }}
    dry {{
        time      1 h
    }}
}}
"
    );
    Run::new().file("dip.wet", text)
}

fn formula(amount: &str) -> String {
    format!(
        "formula for 1 l {{\n        water            800 ml at 20 C\n        mordant          {amount}\n        water            to 1 l\n    }}\n    caution   \"gloves\""
    )
}

fn card(run: &Run) -> String {
    let card = run.again().args(["card", "dip", "--at", "20C", "--rolls", "1x8x10in", "--volume", "500ml"]);
    card.succeeds().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The codes of the statements of the bottle.
fn statements(run: &Run) -> Vec<String> {
    let call = ["card", "dip", "--at", "20C", "--rolls", "1x8x10in", "--volume", "500ml", "--as", "json"];
    let schedule: Value = serde_json::from_str(&run.again().args(call).succeeds()).unwrap();
    let forms = schedule["hazards"].as_array().cloned().unwrap_or_default();
    let statements = forms.iter().flat_map(|form| form["statements"].as_array().cloned().unwrap_or_default());
    statements.map(|one| one["code"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn a_declared_hazard_counts_by_its_share() {
    let of = |amount: &str| statements(&coat("    hazards   H314", &formula(amount)));
    assert_eq!(of("60 g"), ["H314"]);
    // 4 %: under 5, over 3.
    assert_eq!(of("40 g"), ["H318", "H315"]);
    // 2 %: under 3, over 1.
    assert_eq!(of("20 g"), ["H319", "H315"]);
    assert_eq!(of("5 g"), [""; 0]);
    // Of a bought solution, a stated share counts the same.
    assert_eq!(statements(&coat("    hazards   H314", "contains  mordant 6 %")), ["H314"]);
    assert_eq!(statements(&coat("    hazards   H314", "contains  mordant 40 g/l")), ["H318", "H315"]);
}

#[test]
fn the_safety_block_and_the_label_say_what_a_declared_ingredient_does() {
    let burning = card(&coat("    cas       \"100-00-0\"\n    hazards   H314", &formula("60 g")));
    assert!(burning.contains("BOTTLE bath: BURNS."), "{burning}");
    assert!(burning.contains("bath, DANGER: causes severe skin burns and eye damage"), "{burning}");
    assert!(burning.contains("CAS numbers, for a doctor: bath: 100-00-0"), "{burning}");
    let silent = card(&coat("    hazards   H314", "contains  mordant"));
    assert!(silent.contains("bath: strength not stated: read the label; treat as burning"), "{silent}");
    assert!(silent.contains("BOTTLE bath: strength not stated; treat as burning."), "{silent}");
}

#[test]
fn unknown_hazards_are_said_and_none_are_silent() {
    let unknown = card(&coat("    hazards   unknown", &formula("60 g")));
    assert!(unknown.contains("Mordant: its hazards are not known, so handle it as harmful"), "{unknown}");
    let none = card(&coat("    hazards   none", &formula("60 g")));
    assert!(!none.contains("Mordant") && !none.contains("mordant"), "{none}");
    assert!(!none.contains("not known"), "{none}");
}

/// Silver nitrate has an entry in Annex VI (H272, H314, H410): 12 % are over 5 %, and over 0.1 % with an M factor.
#[test]
fn the_cas_number_of_a_harmonised_substance_brings_its_classification() {
    let silver = "    cas       \"7761-88-8\"\n    hazards   none";
    assert_eq!(statements(&coat(silver, &formula("120 g"))), ["H314", "H410"]);
    let said = "    cas       \"7761-88-8\"\n    hazards   H272, H314, H410";
    assert_eq!(statements(&coat(said, &formula("120 g"))), ["H314", "H410"]);
}

#[test]
fn the_sheet_has_the_label_of_what_is_weighed() {
    let run = coat("    cas       \"100-00-0\"\n    hazards   H301, H319", &formula("5 g"));
    let sheet = run.again().args(["measure", "bath", "--make", "1l"]).succeeds();
    let flat = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    // The precautions of both statements, by the GHS.
    assert!(flat.contains("mordant · CAS 100-00-0 · H301 H319 · P264 P270 P280 P301+P310"), "{sheet}");
    assert!(flat.contains("BOTTLE mordant: poison, hurts eyes."), "{sheet}");
    let unknown = coat("    cas       \"100-00-0\"\n    hazards   unknown", &formula("5 g"));
    let sheet = unknown.args(["measure", "bath", "--make", "1l"]).succeeds();
    assert!(sheet.contains("mordant · CAS 100-00-0 · not known here: see its own label"), "{sheet}");
}

/// A dangerous ingredient of a formula needs a caution, whether the program's table or a file knows the ingredient.
#[test]
fn a_dangerous_declared_ingredient_asks_for_a_caution() {
    let bare = formula("60 g").replace("\n    caution   \"gloves\"", "");
    let report = coat("    hazards   H314", &bare).args(["check", "--fail-on", "warning"]).fails(1);
    let report = report.0;
    assert!(report.contains("[hazard-without-caution]: mordant causes severe skin burns"), "{report}");
}

//! The wording of hazard and precautionary statements, compared with the Regulation's. A choice in the Regulation, with
//! a slash or in brackets, is a choice here too.

use wetside::chemistry::{HAZARDS, Hazard, STATEMENTS, Signal};

const CLP: &str = "Regulation (EC) 1272/2008, Annexes II and III, as a typesetting package prints them";
const LIST: &str = "a public list of the codes of the tenth revision, with those that were deleted";
const SHEET: &str = "suppliers' classification, no public source";

/// Codes and texts.
const HARMS: &[(&str, &str)] = &[
    ("H225", "Highly flammable liquid and vapour."),
    ("H226", "Flammable liquid and vapour."),
    ("H228", "Flammable solid."),
    ("H251", "Self-heating; may catch fire."),
    ("H271", "May cause fire or explosion; strong oxidiser."),
    ("H272", "May intensify fire; oxidiser."),
    ("H290", "May be corrosive to metals."),
    ("H300", "Fatal if swallowed."),
    ("H301", "Toxic if swallowed."),
    ("H302", "Harmful if swallowed."),
    ("H310", "Fatal in contact with skin."),
    ("H311", "Toxic in contact with skin."),
    ("H312", "Harmful in contact with skin."),
    ("H314", "Causes severe skin burns and eye damage."),
    ("H315", "Causes skin irritation."),
    ("H317", "May cause an allergic skin reaction."),
    ("H318", "Causes serious eye damage."),
    ("H319", "Causes serious eye irritation."),
    ("H330", "Fatal if inhaled."),
    ("H331", "Toxic if inhaled."),
    ("H332", "Harmful if inhaled."),
    ("H334", "May cause allergy or asthma symptoms or breathing difficulties if inhaled."),
    ("H335", "May cause respiratory irritation."),
    ("H336", "May cause drowsiness or dizziness."),
    ("H340", "May cause genetic defects."),
    ("H341", "Suspected of causing genetic defects."),
    ("H350", "May cause cancer."),
    ("H351", "Suspected of causing cancer."),
    ("H360FD", "May damage fertility. May damage the unborn child."),
    ("H361d", "Suspected of damaging the unborn child."),
    ("H361f", "Suspected of damaging fertility."),
    ("H370", "Causes damage to organs."),
    ("H371", "May cause damage to organs."),
    ("H372", "Causes damage to organs through prolonged or repeated exposure."),
    ("H373", "May cause damage to organs through prolonged or repeated exposure."),
    ("H400", "Very toxic to aquatic life."),
    ("H410", "Very toxic to aquatic life with long lasting effects."),
    ("H411", "Toxic to aquatic life with long lasting effects."),
    ("H412", "Harmful to aquatic life with long lasting effects."),
    ("H413", "May cause long lasting harmful effects to aquatic life."),
    ("EUH031", "Contact with acids liberates toxic gas."),
    ("EUH032", "Contact with acids liberates very toxic gas."),
    ("EUH066", "Repeated exposure may cause skin dryness or cracking."),
    ("EUH071", "Corrosive to the respiratory tract."),
    // After 'contains' and the name of the substance.
    ("EUH208", "May produce an allergic reaction."),
];

/// Codes, texts and their sources.
const CARES: &[(&str, &str, &str)] = &[
    ("P201", "Obtain special instructions before use.", CLP),
    ("P202", "Do not handle until all safety precautions have been read and understood.", CLP),
    (
        "P210",
        "Keep away from heat, hot surfaces, sparks, open flames and other ignition sources. No smoking.",
        SHEET,
    ),
    ("P220", "Keep away from clothing and other combustible materials.", LIST),
    ("P234", "Keep only in original packaging.", SHEET),
    ("P260", "Do not breathe dust/fume/gas/mist/vapours/spray.", CLP),
    ("P261", "Avoid breathing dust/fume/gas/mist/vapours/spray.", CLP),
    ("P264", "Wash hands [and ...] thoroughly after handling.", LIST),
    ("P270", "Do not eat, drink or smoke when using this product.", CLP),
    ("P271", "Use only outdoors or in a well-ventilated area.", CLP),
    ("P272", "Contaminated work clothing should not be allowed out of the workplace.", CLP),
    ("P273", "Avoid release to the environment.", CLP),
    ("P280", "Wear protective gloves/protective clothing/eye protection/face protection.", CLP),
    ("P284", "[In case of inadequate ventilation] Wear respiratory protection.", LIST),
    ("P301+P310", "IF SWALLOWED: Immediately call a POISON CENTER/doctor/...", LIST),
    ("P301+P312", "IF SWALLOWED: Call a POISON CENTER/doctor/... if you feel unwell.", LIST),
    ("P301+P330+P331", "IF SWALLOWED: Rinse mouth. Do NOT induce vomiting.", LIST),
    ("P302+P352", "IF ON SKIN: Wash with plenty of water/...", LIST),
    (
        "P303+P361+P353",
        "IF ON SKIN (or hair): Take off immediately all contaminated clothing. Rinse skin with water [or shower].",
        LIST,
    ),
    ("P304+P340", "IF INHALED: Remove person to fresh air and keep comfortable for breathing.", LIST),
    (
        "P305+P351+P338",
        "IF IN EYES: Rinse cautiously with water for several minutes. Remove contact lenses, if present and easy \
         to do. Continue rinsing.",
        CLP,
    ),
    ("P308+P311", "IF exposed or concerned: Call a POISON CENTER/doctor/...", CLP),
    ("P308+P313", "IF exposed or concerned: Get medical advice/attention.", CLP),
    ("P310", "Immediately call a POISON CENTER or doctor/physician.", CLP),
    ("P311", "Call a POISON CENTER or doctor/...", LIST),
    ("P312", "Call a POISON CENTER or doctor/... if you feel unwell.", LIST),
    ("P314", "Get medical advice/attention if you feel unwell.", CLP),
    ("P330", "Rinse mouth.", CLP),
    ("P332+P313", "If skin irritation occurs: Get medical advice/attention.", LIST),
    ("P333+P313", "If skin irritation or rash occurs: Get medical advice/attention.", CLP),
    ("P337+P313", "If eye irritation persists: Get medical advice/attention.", CLP),
    ("P342+P311", "If experiencing respiratory symptoms: Call a POISON CENTER/doctor/...", LIST),
    ("P361+P364", "Take off immediately all contaminated clothing and wash it before reuse.", LIST),
    ("P362+P364", "Take off contaminated clothing and wash it before reuse.", LIST),
    ("P363", "Wash contaminated clothing before reuse.", LIST),
    ("P390", "Absorb spillage to prevent material damage.", CLP),
    ("P391", "Collect spillage.", CLP),
];

/// The codes without a signal word, with WARNING and with DANGER: the Regulation's Annex I, from memory.
/// International Chemical Safety Card ICSC 0991, International Chemical Safety Card ICSC 1135 and the data sheets in `labels` confirm H225, H226 with H314, H302, H314, H319 and H360FD.
const SIGNALS: [(Signal, &str); 3] = [
    (Signal::None, "EUH031 EUH032 EUH066 EUH071 EUH208 H411 H412 H413"),
    (
        Signal::Warning,
        "H226 H228 H290 H302 H312 H315 H317 H319 H332 H335 H336 H341 H351 H361d H361f H371 H373 H400 H410",
    ),
    (
        Signal::Danger,
        "H225 H251 H271 H272 H300 H301 H310 H311 H314 H318 H330 H331 H334 H340 H350 H360FD H370 H372",
    ),
];

/// The words without case and punctuation, without bracketed ones and those that `chosen` drops.
fn words(text: &str) -> Vec<String> {
    let mut bare = String::new();
    let mut open = 0_u32;
    for letter in text.chars() {
        match letter {
            '[' => open += 1,
            ']' => open -= 1,
            _ if open == 0 => bare.push(letter),
            _ => {}
        }
    }
    // A label has one of the two, and any conjunction in a list.
    let dropped = ["/attention", "/physician"]
        .iter()
        .fold(bare.to_lowercase(), |text, choice| text.replace(choice, ""));
    let split = dropped.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty());
    split
        .filter(|word| !["a", "and", "or"].contains(word))
        .map(|word| if word == "center" { "centre".to_owned() } else { word.to_owned() })
        .collect()
}

#[test]
fn hazard_statements_have_the_wording_of_the_regulation() {
    for (code, printed) in HARMS {
        let ours = hazard(code).text;
        assert_eq!(ours.replace(';', "").to_lowercase(), without_stops(printed), "{code}: {CLP}");
    }
    assert_eq!(HARMS.len(), HAZARDS.len(), "each of them");
}

fn hazard(code: &str) -> &'static Hazard {
    HAZARDS.iter().find(|known| known.code == code).unwrap()
}

fn without_stops(text: &str) -> String {
    text.replace(['.', ';'], "").to_lowercase()
}

#[test]
fn precautionary_statements_have_the_wording_of_the_regulation() {
    let codes: Vec<&str> = CARES.iter().map(|(code, ..)| *code).collect();
    let known: Vec<&str> = STATEMENTS.iter().map(|(code, _)| *code).collect();
    assert_eq!(codes, known, "each of them, in the order of the codes");
    for ((code, printed, source), ours) in CARES.iter().zip(STATEMENTS) {
        assert_eq!(words(ours.1), words(printed), "{code}: {source}");
    }
}

#[test]
fn each_statement_has_its_signal_word() {
    for (signal, codes) in SIGNALS {
        for code in codes.split(' ') {
            assert_eq!(hazard(code).signal, signal, "{code}");
        }
    }
    let told: usize = SIGNALS.iter().map(|(_, codes)| codes.split(' ').count()).sum();
    assert_eq!(told, HAZARDS.len(), "each of them");
}

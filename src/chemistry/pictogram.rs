//! The hazard pictograms of a label.

use super::hazard::*;

/// The code of each pictogram, and the hazard statements that require it: Regulation (EC) 1272/2008, Annex V, which
/// was not looked up.
const PICTOGRAMS: &[(&str, &[&Hazard])] = &[
    ("GHS02", &[H225, H226, H228, H251]),
    ("GHS03", &[H271, H272]),
    ("GHS05", &[H290, H314, H318]),
    ("GHS06", &[H300, H301, H310, H311, H330, H331]),
    ("GHS07", &[H302, H312, H315, H317, H319, H332, H335, H336]),
    ("GHS08", &[H334, H340, H341, H350, H351, H360FD, H361d, H361f, H370, H371, H372, H373]),
    ("GHS09", &[H400, H410, H411]),
];

/// Groups of graver and lesser hazard statements. Beside a graver statement, the lesser ones need no pictogram GHS07
/// (Article 26 of the same Regulation, not looked up). In the first row, a poison is graver than harm; in the second,
/// burns are graver than irritation; in the third, asthma is graver than irritation and skin allergy.
const SAID_BY_ANOTHER: &[(&[&Hazard], &[&Hazard])] = &[
    (&[H300, H301, H310, H311, H330, H331], &[H302, H312, H332]),
    (&[H314, H318], &[H315, H319]),
    (&[H334], &[H315, H317, H319]),
];

/// The codes of the pictograms for these statements.
pub fn pictograms(hazards: &[&'static Hazard]) -> Vec<&'static str> {
    let is_said = |hazard: &Hazard| {
        SAID_BY_ANOTHER.iter().any(|(graver, lesser)| {
            lesser.contains(&hazard) && hazards.iter().any(|own| graver.contains(own))
        })
    };
    let calls = |code: &str, hazard: &&'static Hazard| code != "GHS07" || !is_said(hazard);
    let called = |(code, of): &&(&'static str, &[&Hazard])| {
        hazards.iter().any(|hazard| of.contains(hazard) && calls(code, hazard))
    };
    PICTOGRAMS.iter().filter(called).map(|(code, _)| *code).collect()
}

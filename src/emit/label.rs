//! The labels of bottles as text.

use super::plain::{Look, Page, Tone, plain};
use crate::compile::Label;

/// The labels as text, with an empty line between them.
pub fn labels(labels: &[Label], look: Look) -> String {
    let mut page = Page::new(look);
    for (at, label) in labels.iter().enumerate() {
        if at > 0 {
            page.blank();
        }
        let facts: Vec<&str> =
            label.facts.iter().map(String::as_str).chain([label.signal.as_str()]).collect();
        let facts = facts.join("   ");
        page.apart((Tone::Bold, &plain(&label.title)), ' ', &[(Tone::Bold, facts.trim_end())]);
        lines(label).iter().for_each(|(tone, line)| page.hang(&[], (*tone, line)));
        let boxes: String = label.rolls.iter().map(|is_used| if *is_used { "[x]" } else { "[ ]" }).collect();
        let rolls = label.counted.as_deref().unwrap_or(&boxes);
        let number = format!("no.  {}", plain(&label.number));
        page.apart((Tone::Body, &format!("rolls  {rolls}")), ' ', &[(Tone::Body, &number)]);
    }
    page.out
}

/// The lines of a label between its title and its boxes for rolls. They have no hidden characters. The hazard
/// statements are bold if the label has a signal word.
pub(super) fn lines(label: &Label) -> Vec<(Tone, String)> {
    let handling: Vec<String> = label.handling.iter().map(|text| plain(text)).collect();
    let keeping: Vec<String> = label.keeping.iter().map(|text| plain(text)).collect();
    let loud = if label.signal.is_empty() { Tone::Body } else { Tone::Bold };
    let all = [
        (Tone::Body, label.dates.clone()),
        (Tone::Body, label.contents.join(", ")),
        (loud, label.statements.join(" ")),
        (Tone::Body, label.rules.clone().unwrap_or_default()),
        (Tone::Body, handling.join(" · ")),
        (Tone::Body, keeping.join(" · ")),
    ];
    all.into_iter().filter(|(_, line)| !line.is_empty()).collect()
}

//! The lines of the safety block about each bottle and bath, the worst first.

use super::safety::{FOR_LIFE, Saying};
use crate::chemistry::{Concern, Form, Hazard, OXIDISERS};
use crate::source::Sorted as _;

/// The words at the left of the safety lines about bottles and baths.
pub(super) const WORDS: [&str; 2] = ["BOTTLE", "BATH"];

/// Whether the bottle or bath burns skin or eyes, or counts as burning because its pH is not stated.
pub(super) fn burns_for_sure(form: &Form) -> bool {
    form.needs_ph || form.class.hazards.iter().any(|one| ["H314", "H318"].contains(&one.code))
}

/// A statement of the safety block about some bottles. A lower rank is a worse hazard.
struct Ranked<'a> {
    rank: usize,
    word: &'static str,
    names: Vec<&'a str>,
    full: String,
    brief: String,
}

/// The rank of a bottle with an oxidiser, which feeds fire: after an allergy, and before a bottle whose strength is not
/// stated.
const FEEDS_FIRE: usize = 15;
/// The rank of a bottle that may burn skin or eyes, but whose strength is not stated.
const MAY_BURN: usize = 16;
const NAMED: usize = 30;
const SILENT: usize = 40;

/// The statements of the safety block about all bottles and baths, the worst first. Bottles with the same text share
/// one statement. A brief text has at most `room` characters.
pub(super) fn sayings(concerns: &[Concern], room: usize) -> Vec<Saying> {
    let mut said: Vec<Ranked<'_>> = Vec::new();
    let forms = || concerns.iter().flat_map(|one| &one.forms);
    // If any bottle of unstated strength may burn skin or eyes, all bottles of unstated strength get the text about
    // burning. With one text, they share one line.
    let may_burn = forms().any(|form| form.may_burn);
    let weighed = concerns.iter().filter(|one| one.is_weighed).flat_map(|one| &one.held);
    let powders = weighed.filter_map(|held| {
        let hazards = held.hazards();
        let texts = texts(|code| hazards.iter().any(|one| one.code.starts_with(code)), |_| false);
        Some(ranked(held.ingredient.name, rank(&hazards)?, &texts, room))
    });
    let declared = concerns.iter().filter(|one| one.is_weighed).flat_map(|one| &one.own);
    let declared = declared.filter_map(|own| {
        let hazards = own.all_hazards();
        let texts = texts(|code| hazards.iter().any(|one| one.code.starts_with(code)), |_| false);
        Some(ranked(&own.name, rank(&hazards)?, &texts, room))
    });
    for one in forms().flat_map(|form| about(form, may_burn, room)).chain(powders).chain(declared) {
        match said.iter_mut().find(|known| known.word == one.word && known.full == one.full) {
            Some(known) if known.names.iter().any(|name| one.names.contains(name)) => {}
            Some(known) => known.names.extend(one.names),
            None => said.push(one),
        }
    }
    said.order_by_key(|one| one.rank);
    share_lines(&mut said, room);
    let text = |one: &Ranked<'_>, text: &str| format!("{}: {text}", one.names.join(", "));
    said.iter().map(|one| Saying::new(one.word, text(one, &one.full), text(one, &one.brief))).collect()
}

/// Joins two bottles of one solution if a line has space for both: `bleach b: BURNS; a: feeds fire.`
fn share_lines(said: &mut Vec<Ranked<'_>>, room: usize) {
    let mut at = 0;
    while let Some(first) = said.get(at) {
        let fitting = said.iter().enumerate().skip(at + 1).find_map(|(place, other)| {
            let ([name], [own]) = (first.names.as_slice(), other.names.as_slice()) else { return None };
            let ((solution, _), (of, part)) = (name.split_once(' ')?, own.split_once(' ')?);
            let text = format!("{}; {part}: {}", first.brief.trim_end_matches('.'), other.brief);
            let is_one = solution == of && first.word == other.word;
            (is_one && name.chars().count() + 2 + text.chars().count() <= room).then_some((place, text))
        });
        if let (Some((place, text)), Some(first)) = (fitting, said.get_mut(at)) {
            (first.full, first.brief) = (text.clone(), text);
            said.remove(place);
        }
        at += 1;
    }
}

/// Keeps the worst statements about bottles, one fewer than `room`. One last line names the bottles of the others.
pub(super) fn merge_last(said: &mut Vec<Saying>, room: usize) {
    let mut place = 0;
    let mut names: Vec<String> = Vec::new();
    let mut end = None;
    let mut at = 0;
    said.retain(|saying| {
        at += 1;
        let is_bottle = WORDS.contains(&saying.word);
        place += usize::from(is_bottle);
        let stays = !is_bottle || place < room;
        if !stays {
            end.get_or_insert(at - 1);
            let text = saying.brief.trim_start_matches("new: ");
            names.extend(
                text.split(": ").next().into_iter().flat_map(|names| names.split(", ")).map(str::to_owned),
            );
        }
        stays
    });
    names.dedup();
    let text = format!("see CAUTIONS too: {}.", names.join(", "));
    if let Some(end) = end.filter(|_| room > 0) {
        said.insert(end, Saying::same("BOTTLE", text));
    }
}

fn ranked<'a>(name: &'a str, rank: usize, texts: &[String], room: usize) -> Ranked<'a> {
    let full = texts.join(", ") + ".";
    // The brief text has as many of the hazards as fit in a line, the worst first.
    let most = (1..=texts.len()).rev().find(|count| {
        let shown = texts.iter().take(*count).map(|text| text.chars().count() + 2).sum::<usize>();
        name.chars().count() + 2 + shown <= room + 1
    });
    let brief = texts.iter().take(most.unwrap_or(1)).cloned().collect::<Vec<_>>().join(", ") + ".";
    Ranked { rank, word: "BOTTLE", names: vec![name], full, brief }
}

fn rank(hazards: &[&Hazard]) -> Option<usize> {
    BRIEF.iter().position(|(code, _)| hazards.iter().any(|one| one.code.starts_with(code)))
}

/// The texts of [`BRIEF`] for the hazard codes that apply (`has`), each once.
fn texts(has: impl Fn(&str) -> bool, from_memory: impl Fn(&str) -> bool) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for (code, text) in BRIEF.iter().filter(|(code, _)| has(code)) {
        if !said.iter().any(|known| known.starts_with(text)) {
            said.push(format!("{text}{}", if from_memory(code) { " (from memory)" } else { "" }));
        }
    }
    said
}

/// The statements about one bottle or bath. `may_burn` tells whether some bottle of unstated strength may burn.
fn about(form: &Form, may_burn: bool, room: usize) -> Vec<Ranked<'_>> {
    let mut all = Vec::new();
    let has = |code: &str| form.class.hazards.iter().any(|one| one.code.starts_with(code));
    let memory = |code: &str| form.class.from_memory.iter().any(|one| one.code.starts_with(code));
    let holds = |names: &[&str]| form.holds.iter().any(|(name, _)| names.contains(&&**name));
    let is_chromium = holds(&["potassium-dichromate"]);
    // The text `BURNS` already covers harm to skin and eyes, and the text `chromium(VI)` already covers cancer and
    // allergy.
    let shown = |code: &str| {
        let is_said = form.needs_ph && ["H314", "H318", "H319", "H315"].contains(&code)
            || is_chromium && ["H350", "H317", "H334"].contains(&code);
        has(code) && !is_said
    };
    let mut said = texts(shown, memory);
    if is_chromium {
        said.insert(0, "chromium(VI): cancer, an allergy that stays".to_owned());
    }
    if form.needs_ph {
        said.insert(0, "BURNS (pH not stated)".to_owned());
    }
    let feeds_fire = holds(OXIDISERS) && !has("H27");
    said.extend(feeds_fire.then(|| "feeds fire".to_owned()));
    said.extend(holds(&["potassium-permanganate"]).then(|| "stains".to_owned()));
    if !said.is_empty() {
        let worst = [
            rank(&form.class.hazards),
            form.needs_ph.then_some(4),
            is_chromium.then_some(3),
            feeds_fire.then_some(FEEDS_FIRE),
        ];
        let rank = worst.into_iter().flatten().min().unwrap_or(BRIEF.len());
        all.push(ranked(&form.what, rank, &said, room));
    }
    if !form.silent.is_empty() {
        let how = if may_burn { "treat as burning" } else { "read the label" };
        let (rank, text) = (if may_burn { MAY_BURN } else { SILENT }, format!("strength not stated; {how}."));
        let brief = if may_burn { "strength not stated; may burn." } else { "read the label." };
        let names = vec![form.what.as_str()];
        all.push(Ranked { rank, word: "BOTTLE", names, full: text, brief: brief.to_owned() });
    }
    if !form.class.sensitisers.is_empty() && !has("H317") && !has("H334") {
        all.push(sensitises(form, room));
    }
    all
}

pub(super) const FOR_LIFE_TOO: &str = ", and that stays for life.";

fn sensitises(form: &Form, room: usize) -> Ranked<'_> {
    let names = &form.class.sensitisers;
    let is_for_life = names.iter().any(|name| FOR_LIFE.contains(&&**name));
    let more = if is_for_life { FOR_LIFE_TOO } else { ": sleeves down; a rash means stop working with it." };
    let short = |name: &str| match name {
        "colour-developing-agent" => "its colour agent".to_owned(),
        name => name.to_owned(),
    };
    let listed: Vec<String> = names.iter().map(|name| short(name)).collect();
    let full = format!("contains {}. May produce an allergic reaction{more}", listed.join(", "));
    let room = room.saturating_sub(form.what.chars().count() + 2 + 33);
    let listed = (1..=listed.len()).rev().filter_map(|count| Some(listed.get(..count)?.join(", ")));
    let listed = listed.filter(|text| text.chars().count() <= room).max_by_key(String::len);
    let brief = listed.map_or_else(
        || "may produce an allergic reaction.".to_owned(),
        |listed| format!("{listed} may produce an allergic reaction."),
    );
    let rank = if is_for_life { 12 } else { NAMED };
    Ranked { rank, word: "BATH", names: vec![&form.what], full, brief }
}

/// Hazard statements in a word or two, the worst first. The order is common practice, no source.
const BRIEF: &[(&str, &str)] = &[
    ("H300", "POISON"),
    ("H310", "POISON"),
    ("H330", "POISON"),
    ("H350", "may cause cancer"),
    ("H314", "BURNS"),
    ("EUH071", "burns airways"),
    ("H301", "poison"),
    ("H311", "poison"),
    ("H331", "poison"),
    ("H340", "may cause genetic defects"),
    ("H360", "never when pregnant"),
    ("H334", "asthma"),
    ("H318", "eye damage"),
    ("H317", "allergy"),
    ("H271", "fire"),
    ("H272", "feeds fire"),
    ("H351", "suspected of causing cancer"),
    ("H361", "not when pregnant"),
    ("H370", "harms organs"),
    ("H371", "harms organs"),
    ("H372", "harms organs"),
    ("H373", "harms organs"),
    ("H302", "harmful"),
    ("H312", "harmful"),
    ("H332", "harmful"),
    ("H319", "hurts eyes"),
    ("H315", "hurts skin"),
    ("H335", "hurts airways"),
    ("H336", "drowsiness"),
];

//! Every value of a text, changed alone: a number becomes greater, a word or a name another, a text longer. What a
//! declaration is called is changed wherever it is named.

use wetside::model::StepKind;
use wetside::vocabulary::{Block, Row, rows};

/// A text with one value changed.
#[derive(Debug)]
pub(crate) struct Change {
    pub(crate) row: &'static Row,
    /// The block that has the line, or that the line opens.
    pub(crate) block: Block,
    /// The kind of the value.
    pub(crate) kind: &'static str,
    pub(crate) text: String,
    /// The line as it is now.
    pub(crate) line: String,
}

/// Words that can replace each other, with the kind of block.
const OTHERS: &[(&str, &str, &str)] = &[
    ("tabular", "conventional", "CHOICE"),
    ("developer", "monobath", "CHOICE"),
    ("hypo", "rapid", "NAME"),
    ("dev", "brew", "NAME"),
    ("rapid", "hypo", "NAME"),
    ("brine", "salt", "NAME"),
    ("sluice", "weir", "NAME"),
    ("replenished", "reused", "CHOICE"),
    ("one-shot", "reused", "CHOICE"),
    ("reused", "one-shot", "CHOICE"),
    ("rotation", "lifting", "CHOICE"),
    ("lifting", "rocking", "CHOICE"),
    ("once", "after each", "CHOICE"),
    ("full", "pour", "CHOICE"),
    ("pour", "full", "CHOICE"),
    ("steady", "gentle", "NAME"),
    ("drum", "moving", "NAME"),
    ("tail", "shore", "NAME"),
    ("shore", "tail", "NAME"),
    ("clear", "tone", "STEP"),
    ("rinse", "rest", "STEP"),
    ("presoak", "rinse", "STEP"),
    ("deep", "again", "NAME"),
    ("agitate", "note", "NAME"),
    ("metol", "hydroquinone", "NAME"),
    ("borax", "sodium-carbonate", "NAME"),
    ("potassium-ferricyanide", "potassium-bromide", "NAME"),
    ("anhydrous", "heptahydrate", "NAME"),
    ("extra", "spare", "NAME"),
    ("short-fix", "light-before-fix", "NAME"),
    ("H319", "H302", "CODE"),
    ("strips", "wall", "NAME"),
];

/// Kinds of values that look alike are one.
pub(crate) fn kind_of(placeholder: &str) -> &'static str {
    match placeholder {
        "NUMBER" | "COUNT" | "PH" => "COUNT",
        "TEMPERATURE" | "DIFFERENCE" => "TEMPERATURE",
        "TIME" => "TIME",
        "VOLUME" => "VOLUME",
        "MASS" => "MASS",
        "AMOUNT/L" => "AMOUNT/L",
        "PERCENT" => "PERCENT",
        "DILUTION" => "DILUTION",
        "FLOW" => "FLOW",
        "RPM" => "RPM",
        "KEEPING" => "KEEPING",
        "CODE" => "CODE",
        "DATE" => "DATE",
        "TEXT" => "TEXT",
        "STEP" => "STEP",
        "NAME" | "WORD" | "FILM" | "SOLUTION" | "AGITATION" | "RECIPE" | "INGREDIENT" | "STATE" | "TANK"
        | "TRIAL" | "WEDGE" | "READER" => "NAME",
        other => panic!("{other} has no change"),
    }
}

/// Whether a block says something of a recipe. A tank and a darkroom are tonight's, a collection is for others, and a
/// file is only read. What follows from a trial is in tests of its own, `tests/trials`.
pub(crate) fn is_of_a_recipe(block: Block) -> bool {
    use Block::{Backlog, Bath, Collection, File, Reader, Session, Strip, Tank, Test, Trial, Wedge};
    !matches!(
        block,
        File | Tank | Bath | Test | Session | Backlog | Collection | Trial | Strip | Wedge | Reader
    )
}

/// A piece of a line: where it begins, and the piece.
type Piece<'a> = (usize, &'a str);

fn pieces(line: &str) -> Vec<Piece<'_>> {
    let mut all = Vec::new();
    let mut start = None;
    let mut quoted = false;
    for (at, sign) in line.char_indices().chain([(line.len(), ' ')]) {
        quoted ^= sign == '"';
        let between = !quoted && (sign == ' ' || sign == ',');
        match (start, between) {
            (None, false) => start = Some(at),
            (Some(from), true) => {
                all.push((from, &line[from..at]));
                start = None;
            }
            (Some(_), false) | (None, true) => {}
        }
    }
    all
}

/// Every change of the text in the wanted blocks.
pub(crate) fn changes(text: &str, is_wanted: fn(Block) -> bool) -> Vec<Change> {
    let mut all = Vec::new();
    let mut blocks = vec![Block::File];
    let lines: Vec<&str> = text.lines().collect();
    for (number, line) in lines.iter().enumerate() {
        let pieces = pieces(line);
        let Some((_, word)) = pieces.first() else { continue };
        if *word == "}" {
            blocks.pop();
            continue;
        }
        let block = *blocks.last().unwrap();
        let fits = |row: &&Row| row.blocks.contains(&block) && (row.word == *word || row.word.is_empty());
        let row = rows().find(fits).unwrap_or_else(|| panic!("no row reads '{line}'"));
        blocks.extend(row.opens);
        if !is_wanted(row.opens.unwrap_or(block)) {
            continue;
        }
        for (kind, changed) in of_line(row, block, &pieces, line) {
            let text = match changed {
                Changed::Line(line) => with(&lines, number, &line),
                Changed::Name(from) => renamed(text, from),
            };
            let line = text.lines().nth(number).unwrap_or("").to_owned();
            all.push(Change { row, block: row.opens.unwrap_or(block), kind, text, line });
        }
    }
    all
}

enum Changed<'a> {
    Line(String),
    /// This name, everywhere.
    Name(&'a str),
}

fn of_line<'a>(
    row: &Row,
    block: Block,
    pieces: &[Piece<'a>],
    line: &str,
) -> Vec<(&'static str, Changed<'a>)> {
    let mut all = Vec::new();
    let first = usize::from(!row.word.is_empty());
    let declares = block == Block::File || row.word == "formula" || StepKind::parse(row.word).is_some();
    for (at, (start, piece)) in pieces.iter().enumerate().skip(first) {
        let unit = pieces.get(at + 1).map_or("", |(_, unit)| *unit);
        let put =
            |new: &str| Changed::Line(format!("{}{new}{}", &line[..*start], &line[start + piece.len()..]));
        let is_name = piece.starts_with(|sign: char| sign.is_ascii_lowercase());
        let place = is_name && !["before", "after", "for", "from"].contains(piece);
        if piece.split('-').count() == 3 && piece.starts_with("20") {
            all.push(("DATE", put(&format!("{}2", &piece[..piece.len() - 1].replace("-11-", "-12-")))));
        } else if let Some(greater) = greater(piece, unit) {
            all.push((number_kind(piece, unit), put(&greater)));
        } else if piece.starts_with('"') {
            all.push(("TEXT", put(&format!("{}, and more\"", piece.trim_end_matches('"')))));
        } else if row.word == "parts" || (declares && at == 1 && place) {
            all.push(("NAME", Changed::Name(piece)));
        } else if let Some((_, other, kind)) = OTHERS.iter().find(|(word, ..)| word == piece) {
            all.push((kind, put(other)));
        }
    }
    all
}

/// A number or a time by a fifth greater, a temperature by a degree, a dilution by one more part of water; `None` for
/// what is none.
fn greater(piece: &str, unit: &str) -> Option<String> {
    let more = |number: u64| number + if unit == "C" { 1 } else { (number / 5).max(1) };
    if let Some((minutes, seconds)) = piece.split_once(':') {
        let all = more(minutes.parse::<u64>().ok()? * 60 + seconds.parse::<u64>().ok()?);
        return Some(format!("{}:{:02}", all / 60, all % 60));
    }
    if let Some((parts, water)) = piece.rsplit_once('+') {
        return Some(format!("{parts}+{}", water.parse::<u64>().ok()? + 1));
    }
    match piece.split_once('.') {
        Some((whole, part)) => Some(format!("{}.{part}", whole.parse::<u64>().ok()? + 1)),
        None => piece.parse().ok().map(|number: u64| more(number).to_string()),
    }
}

fn number_kind(piece: &str, unit: &str) -> &'static str {
    match unit {
        _ if piece.contains(':') => "TIME",
        _ if piece.contains('+') => "DILUTION",
        "s" | "min" | "h" => "TIME",
        "C" => "TEMPERATURE",
        "ml" | "l" => "VOLUME",
        "g" => "MASS",
        "g/l" | "ml/l" => "AMOUNT/L",
        "%" => "PERCENT",
        "l/min" => "FLOW",
        "rpm" => "RPM",
        "months" => "KEEPING",
        _ => "COUNT",
    }
}

fn with(lines: &[&str], number: usize, line: &str) -> String {
    let own = lines.iter().enumerate().map(|(at, old)| if at == number { line } else { old });
    own.map(|line| format!("{line}\n")).collect()
}

/// The text with another name in place of this one, wherever that is a word.
fn renamed(text: &str, from: &str) -> String {
    let mut out = String::new();
    let mut word = String::new();
    for sign in text.chars().chain(['\n']) {
        if sign.is_ascii_alphanumeric() || sign == '-' {
            word.push(sign);
            continue;
        }
        out.push_str(&word);
        if word == from {
            out.push_str("-too");
        }
        word.clear();
        out.push(sign);
    }
    out
}

//! Makes the text of a new file of the journal, with a retraction, a session or both, and the text of a file of planned
//! sessions.

use crate::model::Format;
use crate::source::{FileId, Map, Sources};
use crate::tidy::tidy;

/// A declaration that a new journal file names, with the file that declares it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Name {
    pub(super) file: FileId,
    pub(super) name: String,
}

#[derive(Debug, Clone)]
pub(super) enum Line {
    Plain(String),
    Backlog(Name),
    Slot { slot: u32, label: Option<String>, format: Format, both_sides: bool, doubt: Option<String> },
    Bath { bath: Name, is_second: bool, doubt: Option<String> },
}

#[derive(Debug, Clone)]
pub(super) struct Retraction {
    pub(super) session: Name,
    pub(super) reason: String,
}

/// The content of a new file of the journal.
#[derive(Debug, Clone, Default)]
pub(super) struct Entry {
    pub(super) retraction: Option<Retraction>,
    /// The lines of the session; none if the file only retracts a session.
    pub(super) lines: Vec<Line>,
}

impl Entry {
    /// The text of a new journal file whose session is called `name`, and the byte offset at which its `use` lines end.
    /// The other arguments, and `None`, are as for the function [`text`].
    pub(super) fn text(
        &self,
        name: &str,
        prefixed: bool,
        path_to: impl Fn(FileId) -> Option<String>,
    ) -> Option<(String, usize)> {
        let session = Some((name, self.lines.as_slice())).filter(|(_, lines)| !lines.is_empty());
        text(self.retraction.as_ref(), session.as_slice(), prefixed, path_to)
    }
}

/// The text of a file of sessions in the standard layout, and the byte offset at which its `use` lines end. With
/// `prefixed`, names from each used file but the first get a prefix. Without prefixes, two used files that declare the
/// same name would clash. `None` if `path_to` finds no path from the new file to a used file.
pub(super) fn text(
    retraction: Option<&Retraction>,
    sessions: &[(&str, &[Line])],
    prefixed: bool,
    path_to: impl Fn(FileId) -> Option<String>,
) -> Option<(String, usize)> {
    let mut prefixes: Map<FileId, String> = Map::new();
    let mut head = "wetside 2\n\n".to_owned();
    for Name { file, .. } in retraction.map(|it| &it.session).into_iter().chain(names(sessions)) {
        let number = prefixes.len() + 1;
        if prefixes.contains_key(file) {
            continue;
        }
        let is_first = !prefixed || number == 1;
        let alias = if is_first { String::new() } else { format!(" as file-{number}") };
        head += &format!("use \"{}\"{alias}\n", path_to(*file)?);
        prefixes.insert(*file, if is_first { String::new() } else { format!("file-{number}/") });
    }
    if !prefixes.is_empty() {
        head.push('\n');
    }
    let said = |name: &Name| format!("{}{}", prefixes.get(&name.file).map_or("", String::as_str), name.name);
    let mut blocks: Vec<String> = Vec::new();
    blocks.extend(retraction.map(|it| format!("retract {} because \"{}\"\n", said(&it.session), it.reason)));
    for (name, lines) in sessions {
        let lines: String = lines.iter().map(|line| line.text(&said) + "\n").collect();
        blocks.push(format!("session {name} {{\n{lines}}}\n"));
    }
    Some((tidied(head.clone() + &blocks.join("\n")), head.len()))
}

/// The baths and backlogs named in the lines of sessions.
fn names<'a>(sessions: &'a [(&str, &'a [Line])]) -> impl Iterator<Item = &'a Name> {
    sessions.iter().flat_map(|(_, lines)| lines.iter()).filter_map(|line| match line {
        Line::Backlog(name) | Line::Bath { bath: name, .. } => Some(name),
        Line::Plain(_) | Line::Slot { .. } => None,
    })
}

impl Line {
    fn text(&self, said: &dyn Fn(&Name) -> String) -> String {
        let doubted = |doubt: &Option<String>| {
            doubt.as_ref().map(|doubt| format!(" doubt \"{doubt}\"")).unwrap_or_default()
        };
        match self {
            Line::Plain(text) => text.clone(),
            Line::Backlog(name) => format!("backlog {}", said(name)),
            Line::Bath { bath, is_second, doubt } => {
                let second = if *is_second { ", second" } else { "" };
                format!("bath {}{second}{}", said(bath), doubted(doubt))
            }
            Line::Slot { slot, label, format, both_sides, doubt } => {
                let label = label.as_ref().map(|label| format!("\"{label}\" ")).unwrap_or_default();
                let both = if *both_sides { " both sides" } else { "" };
                format!("slot {slot} {label}{format}{both}{}", doubted(doubt))
            }
        }
    }
}

/// Puts a text into the standard layout. A text with errors stays unchanged, and a later check reports the errors.
fn tidied(text: String) -> String {
    let mut sources = Sources::default();
    let file = sources.add("", text.as_str());
    tidy(&sources, file).map_or(text, |tidied| tidied.text)
}

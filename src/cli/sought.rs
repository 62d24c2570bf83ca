//! A name that a call gives, and what is said where nothing or several bear it: in the same words in every command.

use super::failure::Failure;
use crate::check::is_free_name;
use crate::source::first_few;
use crate::vocabulary::{Declared, suggest};

/// What stands for a file in a call that names one.
const FILE: &str = "FILE.wet";

/// A name that is looked for.
#[derive(Debug)]
pub(super) struct Sought<'a> {
    pub(super) kind: Declared,
    pub(super) name: &'a str,
    /// Where, as in `below this folder`.
    place: String,
    /// What else can be done where there is none.
    otherwise: Option<String>,
    /// How a call names a file as well as the name; `FILE.wet` stands for the file.
    call: Option<String>,
}

impl<'a> Sought<'a> {
    /// A name that the files below this folder may declare.
    pub(super) fn below(kind: Declared, name: &'a str) -> Sought<'a> {
        let declare = format!("declare it: {} {name} {{ … }} in a .wet file below this folder", kind.word());
        Sought::within(kind, name, "below this folder").or(declare)
    }

    /// A name in a place, such as `in films.wet`.
    pub(super) fn within(kind: Declared, name: &'a str, place: impl Into<String>) -> Sought<'a> {
        Sought { kind, name, place: place.into(), otherwise: None, call: None }
    }

    /// The same in another place.
    pub(super) fn place(self, place: impl Into<String>) -> Sought<'a> {
        Sought { place: place.into(), ..self }
    }

    /// The same with what else can be done where there is none.
    pub(super) fn or(self, otherwise: impl Into<String>) -> Sought<'a> {
        Sought { otherwise: Some(otherwise.into()), ..self }
    }

    /// The same with the call that names its file too, such as `wetside card FILE.wet plain`.
    pub(super) fn called(self, call: String) -> Sought<'a> {
        let named = format!("go to the folder of your recipes, or name the file: {call}");
        let sought = Sought { call: Some(call), ..self };
        if sought.kind == Declared::Recipe { sought.or(named) } else { sought }
    }

    /// Nothing bears the name; `known` are those that something bears.
    pub(super) fn absent<'k>(&self, known: impl IntoIterator<Item = &'k str>) -> Failure {
        let word = self.kind.word();
        let mut known: Vec<&str> = known.into_iter().collect();
        known.sort_unstable();
        known.dedup();
        let mut help: Vec<String> = Vec::new();
        let near = suggest(self.name, known.iter().copied());
        match near {
            Some(near) => help.push(format!("did you mean {near}?")),
            None if known.is_empty() => {}
            None => help.push(format!("known: {}", first_few(known.iter().copied(), ", "))),
        }
        // Nothing can be declared by what is no name, such as a word of the language.
        if self.kind == Declared::Recipe || is_free_name(self.name) {
            help.extend(self.otherwise.clone());
        }
        if help.is_empty() {
            help.push(format!("write the name of one that is declared: {word} NAME {{ … }}"));
        }
        let help = help.join(if near.is_some() { " Or " } else { "; or " });
        Failure::new(format!("there is no {word} '{}' {}", self.name, self.place), help)
    }

    /// Several files declare it.
    pub(super) fn in_files(&self, files: impl Iterator<Item = String>) -> Failure {
        let files: Vec<String> = files.collect();
        let (word, first) = (self.kind.word(), files.first().map_or(FILE, String::as_str));
        let help = match &self.call {
            Some(call) => format!("name the one you mean: {}", call.replace(FILE, first)),
            None => "give one of them another name, or bring the one you mean in with use".to_owned(),
        };
        Failure::new(
            format!("the {word} '{}' is in {} files: {}", self.name, files.len(), files.join(", ")),
            help,
        )
    }
}

/// A file was named without a name, and it does not declare exactly one.
pub(super) fn not_one(kind: Declared, file: &str, names: &[&str]) -> Failure {
    let word = kind.word();
    if names.is_empty() {
        return Failure::new(
            format!("{file} declares no {word}"),
            format!("name a file that declares {}", kind.words()),
        );
    }
    let (count, names) = (names.len(), first_few(names.iter().copied(), ", "));
    Failure::new(format!("{file} declares {count} {word}s: {names}"), "put the name of one behind the file")
}

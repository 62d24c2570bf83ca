//! Lists the names and values in the files of a check, for editors. Reports no errors.

use std::ops::Range;

use super::build::chart;
use super::derive::Members;
use super::gather::{Units, Use};
use super::scope::{Key, Scopes};
use crate::model::{Chart, Deprecated, Dilution, Substance, Temperature};
use crate::source::{FileId, Map, Sorted as _, Sources, Span};
use crate::syntax::{Statement, parse};
use crate::vocabulary::{Declared, Reading, Statement as _, Value, say};

/// The names, temperatures, dilutions and charts in all files of a check.
#[derive(Debug, Default)]
pub struct Survey {
    /// The declarations, and the places that name them.
    pub names: Names,
    /// The temperatures, sorted by position.
    pub temperatures: Vec<(Span, Temperature)>,
    /// The dilutions, sorted by position.
    pub dilutions: Vec<(Span, Dilution)>,
    /// The charts without errors, each with the span from its word `chart` to the end of its block.
    pub charts: Vec<(Span, Chart)>,
}

/// The declarations in all files of a check, and the places that name them.
#[derive(Debug, Default)]
pub struct Names {
    /// The declarations of all files, sorted by position.
    pub declarations: Vec<Declaration>,
    /// The places that refer to a declaration by name, sorted by position.
    pub mentions: Vec<Mention>,
    /// The `use` lines of all files.
    pub uses: Vec<Use>,
    /// The steps of recipes and the bottles of solutions, which have names only inside their declarations.
    pub members: Members,
    scopes: Map<(FileId, Declared), Vec<(String, usize)>>,
}

/// A declaration, such as a film or a recipe, as editors show it.
#[derive(Debug, Clone)]
pub struct Declaration {
    /// The kind of declaration.
    pub kind: Declared,
    /// The declared name, without a prefix.
    pub name: String,
    /// The title that the declaration states; `None` if it states none.
    pub title: Option<String>,
    /// Why the declared recipe is deprecated, and what to use instead; `None` if it is not deprecated.
    pub deprecated: Option<String>,
    /// The span of the declared name.
    pub span: Span,
    /// The span of the declaration's first line, without its brace.
    pub header: Span,
}

/// A place that refers to a declaration by name.
#[derive(Debug, Clone, Copy)]
pub struct Mention {
    /// The span of the whole name, with its prefix.
    pub span: Span,
    /// The span of the prefix without the slash after it; `None` for a name without a prefix.
    pub prefix: Option<Span>,
    /// The index of the declaration in [`Names::declarations`].
    pub declaration: usize,
}

impl Mention {
    /// The span of the name without its prefix.
    pub fn bare(&self) -> Span {
        let start = self.prefix.map_or(self.span.start, |prefix| prefix.end + 1);
        Span { start, ..self.span }
    }
}

/// The kinds and names of all declarations of a file, even if they have errors. In a half-merged file, those between
/// the conflict markers are included.
pub fn declared_names(sources: &Sources, file: FileId) -> Vec<(Declared, String)> {
    let (tree, _) = parse(sources, file);
    let text = sources.text(file);
    let declared = |pieces: &Range<usize>| {
        let [first, second, ..] = tree.tokens.get(pieces.clone())? else { return None };
        let kind = Declared::parse(sources.slice(first.span))?;
        let name = text.get(second.span.start as usize..)?.split([' ', '\t', '\r', '\n', '{']).next()?;
        (!name.is_empty() && !name.starts_with('"')).then(|| (kind, name.to_owned()))
    };
    match tree.half_merged {
        true => tree.lines.iter().filter_map(|line| declared(&line.tokens)).collect(),
        false => tree.statements.iter().filter_map(|statement| declared(&statement.tokens)).collect(),
    }
}

/// Whether a file declares at least one planned session, and nothing else.
pub fn is_only_planned(sources: &Sources, file: FileId) -> bool {
    let (tree, _) = parse(sources, file);
    let word = |statement: &Statement| {
        let first = tree.tokens_in(&statement.tokens).first();
        first.map(|token| sources.slice(token.span)).unwrap_or_default()
    };
    let is_planned = |statement: &Statement| {
        let mut lines = statement.block.iter().flatten();
        Declared::parse(word(statement)) == Some(Declared::Session)
            && lines.any(|line| word(line) == say::Planned::rows().first().map_or("", |row| row.word))
    };
    let mut sessions = tree.statements.iter().filter(|line| Declared::parse(word(line)).is_some()).peekable();
    sessions.peek().is_some() && sessions.all(is_planned)
}

impl Names {
    /// The names of this kind that a file can refer to, each with the index of its declaration in
    /// [`Names::declarations`].
    pub fn in_scope(&self, file: FileId, kind: Declared) -> &[(String, usize)] {
        self.scopes.get(&(file, kind)).map_or(&[], Vec::as_slice)
    }

    /// The files of the check.
    pub fn files(&self) -> impl Iterator<Item = FileId> {
        self.scopes.keys().filter(|(_, kind)| *kind == Declared::Film).map(|(file, _)| *file)
    }
}

fn deprecated(reading: &Reading) -> Option<String> {
    let row = reading.rows.iter().find_map(|row| row.view::<say::Deprecated>())?;
    let (reason, instead) = (row.reason()?.to_owned(), row.instead().map(str::to_owned));
    Some(Deprecated { reason, instead }.to_string())
}

impl Survey {
    pub(super) fn of(units: &Units, sources: &Sources) -> Survey {
        let scopes = Scopes::of(units, &mut Vec::new());
        let mut survey = Survey::default();
        let names = &mut survey.names;
        names.members = Members::of(units, &scopes);
        let mut keys: Map<Key, usize> = Map::new();
        for unit in units.values() {
            for (at, reading) in unit.readings.iter().enumerate() {
                if let Some((kind, (name, span))) = reading.declares().zip(reading.name()) {
                    keys.insert(Key { file: unit.file, at }, names.declarations.len());
                    let (name, title) = (name.to_owned(), reading.title().map(str::to_owned));
                    let deprecated = deprecated(reading);
                    let header = reading.span;
                    names.declarations.push(Declaration { kind, name, title, deprecated, span, header });
                }
            }
            names.uses.extend(unit.uses.iter().cloned());
        }
        for (file, kind) in units.keys().flat_map(|file| Declared::ALL.map(|kind| (*file, kind))) {
            let all = scopes.all(file, kind);
            let known = all.filter_map(|(name, key)| Some((name.to_owned(), *keys.get(&key)?)));
            names.scopes.insert((file, kind), known.collect());
        }
        let declaration = |kind, name: &str, file| keys.get(&scopes.known(kind, name, file)?).copied();
        for used in survey.names.uses.iter().filter(|used| !used.repeated) {
            for (name, span) in &used.only {
                let prefix = used.prefix.as_ref().map(|(prefix, _)| format!("{prefix}/"));
                let name = prefix.unwrap_or_default() + name;
                let known = Declared::ALL.into_iter().filter_map(|kind| declaration(kind, &name, span.file));
                let said = |declaration| Mention { span: *span, prefix: None, declaration };
                survey.names.mentions.extend(known.map(said));
            }
        }
        for reading in units.values().flat_map(|unit| unit.readings.iter()) {
            survey.values(reading, sources, &declaration);
        }
        survey.names.mentions.order_by_key(|mention| mention.span);
        survey
    }

    fn values(
        &mut self,
        reading: &Reading,
        sources: &Sources,
        declaration: &dyn Fn(Declared, &str, FileId) -> Option<usize>,
    ) {
        let mut mentioned: Vec<(Declared, String, Span)> = Vec::new();
        reading.values(&mut |item| match &item.value {
            Value::Temperature(temperature) => self.temperatures.push((item.span, *temperature)),
            Value::Dilution(dilution) => self.dilutions.push((item.span, dilution.clone())),
            Value::Mention(kind, name) => mentioned.push((*kind, name.clone(), item.span)),
            _ => {}
        });
        mentioned.extend(own_ingredients(reading));
        for (kind, name, span) in mentioned {
            let slash = sources.slice(span).rfind('/').and_then(|at| u32::try_from(at).ok());
            let prefix = slash.map(|at| Span { end: span.start + at, ..span });
            let declaration = declaration(kind, &name, span.file);
            let mention = declaration.map(|declaration| Mention { span, prefix, declaration });
            self.names.mentions.extend(mention);
        }
        if reading.is::<say::Chart>() {
            let chart = chart(reading, &mut Vec::new());
            self.charts.extend(chart.map(|chart| (reading.extent, chart)));
        }
        reading.rows.iter().for_each(|row| self.values(row, sources, declaration));
    }
}

/// The ingredients that a formula line or a `contains` statement names and that the program's table of ingredients
/// lacks: each with its name and span.
fn own_ingredients(reading: &Reading) -> Vec<(Declared, String, Span)> {
    let named = |what: Option<Substance>, span: Span| match what {
        Some(Substance::Other(name)) => Some((Declared::Ingredient, name, span)),
        _ => None,
    };
    let in_formula = reading.view::<say::FormulaLine>();
    let in_formula =
        in_formula.and_then(|row| named(row.ingredient(), row.place(say::FormulaLine::ingredient)));
    let items = reading.view::<say::Contains>().into_iter().flat_map(|row| row.all(say::Contains::item));
    let in_contains = items.filter_map(|(item, _)| item.view::<say::Contained>());
    let in_contains =
        in_contains.filter_map(|row| named(row.ingredient(), row.place(say::Contained::ingredient)));
    in_formula.into_iter().chain(in_contains).collect()
}

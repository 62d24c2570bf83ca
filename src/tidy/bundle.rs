//! Gathers a recipe and everything it uses into one file that uses no other file.

use std::path::Path;
use std::sync::Arc;

use super::raise::{State, Stays, edits};
use super::{Script, tidy};
use crate::check::{Checker, Declaration, Names};
use crate::model::{Collection, Fingerprint, Recipe, Shelf};
use crate::source::{
    Diagnostic, Edit, FileId, Files, Map, MemoryFiles, Set, Sorted as _, Sources, Span, clip, root_in,
};
use crate::syntax::Line;
use crate::vocabulary::{Declared, EDITION, Lines as _, Reading, say};

const NAME: &str = "bundle.wet";

/// The most pairs of declarations that are compared to find out whether two declarations are the same. If this is not
/// enough, they count as different.
const COMPARED_MAX: usize = 64;

/// Why a recipe cannot be bundled.
#[derive(Debug)]
pub enum NoBundle {
    /// The bundle would have these errors.
    Errors(Box<Stays>),
    /// The recipe would not keep its fingerprint in the bundle. The strings are the names of the declarations that
    /// would need another name in the bundle.
    OtherWork(Vec<String>),
    /// The bundle could not be given the standard layout, because of a bug in this program.
    OwnFault,
}

/// A file with a recipe and everything it uses.
#[derive(Debug)]
pub struct Bundle {
    /// The text of the file.
    pub text: String,
    /// The cautions that the bundle adds to the recipe: one for each error that only the author of a collection allows.
    /// The author's `allow` line hides the error in the bundle too, so without the caution the card would not warn.
    pub cautions: Vec<String>,
}

/// One file with the recipe and everything it uses. The recipe has the same fingerprint there. `shelf` is the result of
/// checking the recipe's file.
///
/// # Errors
/// See [`NoBundle`].
pub fn bundle(
    sources: &mut Sources,
    files: &dyn Files,
    shelf: &Shelf,
    recipe: &Recipe,
) -> Result<Bundle, NoBundle> {
    let names = Checker::default().survey(sources, &[recipe.file], files).names;
    let scripts = names.files().map(|file| (file, Script::of(sources, file))).collect();
    let recipes = shelf.recipes.iter().chain(&shelf.unsound.sound_alone).cloned().collect();
    let gatherer = Gatherer { sources, names: &names, scripts, recipes };
    let is_root = |one: &Declaration| one.kind == Declared::Recipe && one.header == recipe.span;
    let root = names.declarations.iter().position(is_root).ok_or(NoBundle::OwnFault)?;
    let parts = gatherer.parts(&gatherer.reached(root));
    let fingerprint = Fingerprint::of(recipe);
    let head = head(recipe, fingerprint) + &gatherer.credits(&parts, &shelf.collections);
    let laid = |added: &Added<'_>| laid(&(head.clone() + &gatherer.text(&parts, added)));
    let cautions = match gatherer.allowed_by_others(&parts) {
        reasons if reasons.is_empty() => Vec::new(),
        reasons => cautions(&laid(&Added { own_only: true, ..Added::default() })?.1, &reasons),
    };
    let mut added = Added { cautions: &cautions, ..Added::default() };
    let (mut text, mut state) = laid(&added)?;
    let found: Set<&str> = state.findings.iter().map(|finding| finding.name).collect();
    added.rules = gatherer.allowed(&parts).filter(|rule| found.contains(rule)).collect();
    if !added.rules.is_empty() {
        (text, state) = laid(&added)?;
        (text, state) = checked(without_idle(&text, &state.findings));
    }
    let errors: Vec<Diagnostic> = state.errors().cloned().collect();
    if !errors.is_empty() {
        return Err(NoBundle::Errors(Box::new(Stays { sources: state.sources, why: errors })));
    }
    let same = state.recipes.iter().find(|one| one.name == recipe.name);
    if same.is_none_or(|same| Fingerprint::of(same) != fingerprint) {
        let renamed = parts.kept.iter().filter_map(|one| gatherer.old_name(&parts, *one));
        return Err(NoBundle::OtherWork(renamed.map(str::to_owned).collect()));
    }
    Ok(Bundle { text, cautions })
}

/// A caution for each error in `state` that a collection's `allow` line allows. `state` is the check of the bundle
/// without such lines; `reasons` maps the rule of each line to its reason.
fn cautions(state: &State, reasons: &Map<&str, &str>) -> Vec<String> {
    let caution = |error: &Diagnostic| {
        let reason = reasons.get(error.name)?;
        let text = format!("{}; the collection's author allows it: {}", error.message, clip(reason));
        Some(text.replace('"', "'"))
    };
    let all: Set<String> = state.errors().filter_map(caution).collect();
    all.into_iter().collect()
}

fn head(recipe: &Recipe, fingerprint: Fingerprint) -> String {
    format!(
        "# The recipe {} with everything it uses. Bundled with the fingerprint {fingerprint}.\n",
        recipe.name
    )
}

fn laid(text: &str) -> Result<(String, State), NoBundle> {
    let mut sources = Sources::default();
    let file = sources.add(NAME, text);
    tidy(&sources, file).map(|tidied| checked(tidied.text)).map_err(|_| NoBundle::OwnFault)
}

fn checked(text: String) -> (String, State) {
    let state = State::of(std::iter::once((NAME, text.as_str())), &MemoryFiles::default());
    (text, state)
}

/// The text without the `allow` lines that have no effect.
fn without_idle(text: &str, findings: &[Diagnostic]) -> String {
    let idle = findings.iter().filter(|finding| finding.name == "allow-without-effect");
    let starts: Vec<usize> = idle.map(|finding| finding.span.start as usize).collect();
    let mut at = 0;
    let lines = text.split_inclusive('\n').filter(|line| {
        let range = at..at + line.len();
        at = range.end;
        !starts.iter().any(|start| range.contains(start))
    });
    lines.collect()
}

/// The declarations of a bundle, as indices in [`Names::declarations`], and their names in the bundle.
struct Parts {
    /// The declarations that the bundle contains, the recipe first.
    kept: Vec<usize>,
    /// The name in the bundle of each declaration that the recipe uses. A declaration that equals one of `kept` has the
    /// same name as that declaration.
    names: Map<usize, String>,
    edition: u32,
}

/// What is added to the declarations of a bundle, or left out.
#[derive(Default)]
struct Added<'a> {
    /// The lint rules of `allow` lines that stand outside of declarations in the files, and move into the declarations
    /// of the bundle.
    rules: Set<&'a str>,
    cautions: &'a [String],
    /// Whether the `allow` lines of collections are left out.
    own_only: bool,
}

struct Gatherer<'a> {
    sources: &'a Sources,
    names: &'a Names,
    scripts: Map<FileId, Script<'a>>,
    recipes: Vec<Arc<Recipe>>,
}

impl Gatherer<'_> {
    fn declaration(&self, one: usize) -> Option<(&Declaration, &Script<'_>, &Reading)> {
        let declaration = self.names.declarations.get(one)?;
        let script = self.scripts.get(&declaration.span.file)?;
        let reading = script.readings.iter().find(|reading| reading.span == declaration.header)?;
        Some((declaration, script, reading))
    }

    /// The spans in a declaration that name other declarations, each with the index of the named declaration.
    fn mentions(&self, one: usize) -> impl Iterator<Item = (Span, usize)> {
        let extent = self.declaration(one).map(|(_, _, reading)| reading.extent);
        let all = self.names.mentions.iter().filter(move |it| extent.is_some_and(|own| own.holds(it.span)));
        all.map(|mention| (mention.span, mention.declaration))
    }

    /// The declaration `first` and all declarations that it uses, directly or indirectly, in breadth-first order.
    fn reached(&self, first: usize) -> Vec<usize> {
        let (mut all, mut known, mut at) = (vec![first], Set::from([first]), 0);
        while let Some(one) = all.get(at).copied() {
            all.extend(self.mentions(one).map(|(_, other)| other).filter(|other| known.insert(*other)));
            at += 1;
        }
        all
    }

    /// Gives each declaration its name in the bundle. Of different declarations with the same name, the first keeps the
    /// name.
    fn parts(&self, reached: &[usize]) -> Parts {
        let mut parts = Parts { kept: Vec::new(), names: Map::new(), edition: 1 };
        let known = reached.iter().filter_map(|one| self.names.declarations.get(*one));
        let old: Set<(Declared, &str)> = known.map(|known| (known.kind, known.name.as_str())).collect();
        let mut taken: Set<(Declared, String)> = Set::new();
        for one in reached {
            let Some((declaration, script, _)) = self.declaration(*one) else { continue };
            let twin = parts.kept.iter().find(|other| self.is_same(**other, *one, &mut Vec::new()));
            if let Some(name) = twin.and_then(|twin| parts.names.get(twin)).cloned() {
                parts.names.insert(*one, name);
                continue;
            }
            let (kind, own) = (declaration.kind, &declaration.name);
            let is_free = |name: &String| !taken.contains(&(kind, name.clone()));
            let others = (2..).map(|number| format!("{own}-{number}"));
            let mut others = others.filter(|name| is_free(name) && !old.contains(&(kind, name)));
            let name = Some(own.clone()).filter(is_free).or_else(|| others.next());
            let Some(name) = name else { continue };
            taken.insert((kind, name.clone()));
            parts.names.insert(*one, name);
            parts.kept.push(*one);
            parts.edition = parts.edition.max(edition(script));
        }
        parts
    }

    /// Whether two declarations have the same words, apart from the names of other declarations, and use declarations
    /// that are the same in this sense. `open` has the pairs whose comparison has begun.
    fn is_same(&self, one: usize, other: usize, open: &mut Vec<(usize, usize)>) -> bool {
        if one == other || open.contains(&(one, other)) {
            return true;
        }
        if open.len() >= COMPARED_MAX || self.words(one) != self.words(other) {
            return false;
        }
        open.push((one, other));
        let pairs: Vec<_> = self.mentions(one).zip(self.mentions(other)).collect();
        pairs.iter().all(|((_, one), (_, other))| self.is_same(*one, *other, open))
    }

    /// The kind, the edition and the words of a declaration. An empty word replaces each name of another declaration.
    /// The edition counts only for a recipe, whose times and lights have another meaning in another edition; for other
    /// kinds it is 0.
    fn words(&self, one: usize) -> Option<(Declared, u32, Vec<&str>)> {
        let (declaration, script, reading) = self.declaration(one)?;
        let names: Set<u32> = self.mentions(one).map(|(span, _)| span.start).collect();
        let inside = |span: Span| reading.extent.start <= span.start && span.end <= reading.extent.end;
        let tokens = script.tree.tokens.iter().map(|token| token.span).filter(|span| inside(*span));
        let words = tokens.map(|span| if names.contains(&span.start) { "" } else { span.slice(script.text) });
        let edition = if declaration.kind == Declared::Recipe { edition(script) } else { 0 };
        Some((declaration.kind, edition, words.collect()))
    }

    fn old_name(&self, parts: &Parts, one: usize) -> Option<&str> {
        let own = self.names.declarations.get(one)?;
        parts.names.get(&one).filter(|name| **name != own.name).map(|_| own.name.as_str())
    }

    fn credits(&self, parts: &Parts, collections: &[Collection]) -> String {
        let mut credits = String::new();
        for one in collections {
            let Some((folder, _)) = self.sources.name(one.span.file).rsplit_once('/') else { continue };
            let is_inside = |declaration: &usize| {
                let declaration = self.names.declarations.get(*declaration);
                let name = declaration.map_or("", |declaration| self.sources.name(declaration.span.file));
                name.strip_prefix(folder).is_some_and(|rest| rest.starts_with('/'))
            };
            if parts.kept.iter().any(is_inside) {
                let author = one.author.iter().map(|author| format!(", by {}", clip(author)));
                let licence = one.licence.iter().map(|licence| format!(", licence {}", clip(licence)));
                let more: String = author.chain(licence).collect();
                credits.push_str(&format!("# Parts are from the collection {}{more}.\n", clip(&one.title)));
            }
        }
        credits
    }

    /// The lint rules of the `allow` lines that stand outside of all declarations in the files from which the bundle is
    /// made.
    fn allowed<'p>(&'p self, parts: &'p Parts) -> impl Iterator<Item = &'p str> {
        let kept = parts.kept.iter().filter_map(|one| self.declaration(*one));
        kept.flat_map(|(_, script, _)| allows(script)).map(|(rule, _)| rule)
    }

    /// Whether a declaration is in the file of a collection.
    fn is_of_others(&self, declaration: &Declaration) -> bool {
        !root_in(Path::new(self.sources.name(declaration.span.file))).as_os_str().is_empty()
    }

    /// The reasons of the `allow` lines of collections. The keys are the lint rules.
    fn allowed_by_others<'p>(&'p self, parts: &'p Parts) -> Map<&'p str, &'p str> {
        let kept = parts.kept.iter().filter_map(|one| self.declaration(*one));
        let others = kept.filter(|(declaration, ..)| self.is_of_others(declaration));
        let rows = others.flat_map(|(_, script, reading)| {
            let outside = script.readings.iter().filter_map(Reading::view::<say::Allow>);
            outside.chain(reading.each::<say::Allow>()).filter(|row| row.sound)
        });
        rows.filter_map(|row| Some((row.rule()?, row.reason()?))).collect()
    }

    /// The text of the bundle after its first comments: the edition and the declarations.
    fn text(&self, parts: &Parts, added: &Added<'_>) -> String {
        let mut text = format!("\nwetside {}\n", parts.edition);
        let kinds = [
            Declared::Ingredient,
            Declared::Film,
            Declared::Solution,
            Declared::Agitation,
            Declared::Tank,
            Declared::Recipe,
        ];
        let of_kind = |kind: Declared| {
            let is_of =
                move |one: &&usize| self.names.declarations.get(**one).is_some_and(|it| it.kind == kind);
            let all: Vec<usize> = parts.kept.iter().filter(is_of).copied().collect();
            // The recipe comes last, after its parents.
            if kind == Declared::Recipe { all.into_iter().rev().collect() } else { all }
        };
        for one in kinds.into_iter().flat_map(of_kind) {
            text.push('\n');
            text.push_str(&self.part(parts, one, added).unwrap_or_default().replace("\r\n", "\n"));
            text.push('\n');
        }
        text
    }

    /// The text of a declaration and of the comments directly above it, with the names of the bundle.
    fn part(&self, parts: &Parts, one: usize, added: &Added<'_>) -> Option<String> {
        let (declaration, script, reading) = self.declaration(one)?;
        let new = |span: Span, one: usize| Some(Edit { span, text: parts.names.get(&one)?.clone() });
        let mut changes: Vec<Edit> = new(declaration.span, one).into_iter().collect();
        changes.extend(self.mentions(one).filter_map(|(span, other)| new(span, other)));
        let is_raised = edition(script) < parts.edition;
        let raised = is_raised.then(|| edits(script, true, &self.recipes)).into_iter().flatten();
        changes.extend(raised.filter(|edit| reading.extent.holds(edit.span)));
        let line = |byte: u32| script.tree.lines.iter().position(|line| line.bytes.contains(&byte));
        let (first, last) = (line(reading.extent.start)?, line(reading.extent.end.saturating_sub(1))?);
        let below = script.tree.lines.get(first)?.bytes.end;
        let at = Span { file: declaration.span.file, start: below, end: below };
        let put = |line: &str| Edit { span: at, text: format!("{line}\n") };
        if added.own_only && self.is_of_others(declaration) {
            let own = reading.each::<say::Allow>();
            changes.extend(own.map(|row| Edit { span: row.span, text: String::new() }));
        } else {
            let wanted = |(rule, _): &(&str, &str)| can_allow(reading, rule) && added.rules.contains(rule);
            changes.extend(allows(script).filter(wanted).map(|(_, allow)| put(allow)));
        }
        if parts.kept.first() == Some(&one) {
            changes.extend(added.cautions.iter().map(|caution| put(&format!("caution \"{caution}\""))));
        }
        changes.order_by_key(|edit| edit.span);
        let is_comment = |line: &&Line| line.comment.is_some() && line.tokens.is_empty();
        let above = script.tree.lines.get(..first)?.iter().rev().take_while(is_comment).count();
        let start = script.tree.lines.get(first.checked_sub(above)?)?.bytes.start as usize;
        let end = script.tree.lines.get(last)?.bytes.end as usize;
        let (mut text, mut at) = (String::new(), start);
        if let Some(old) = self.old_name(parts, one) {
            let (kind, old) = (declaration.kind.words(), clip(old));
            text = format!("# Called {old} by its author; {kind} with other contents has that name here.\n");
        }
        for edit in &changes {
            text.push_str(script.text.get(at..edit.span.range().start).unwrap_or(""));
            text.push_str(&edit.text);
            at = edit.span.range().end;
        }
        text.push_str(script.text.get(at..end).unwrap_or("").trim_end());
        Some(text)
    }
}

fn edition(script: &Script<'_>) -> u32 {
    let line = script.readings.iter().find_map(Reading::view::<say::Wetside>);
    line.and_then(|line| line.edition()).unwrap_or(1).clamp(1, EDITION)
}

/// The `allow` lines of a file outside of all declarations: the lint rule of each line, and the text of the line.
fn allows<'s>(script: &'s Script<'_>) -> impl Iterator<Item = (&'s str, &'s str)> {
    let all = script.readings.iter().filter_map(Reading::view::<say::Allow>).filter(|row| row.sound);
    all.filter_map(|row| Some((row.rule()?, row.span.slice(script.text))))
}

/// Whether a declaration can have an `allow` line, and has no `allow` line for this rule yet.
fn can_allow(declaration: &Reading, rule: &str) -> bool {
    declaration.declares() != Some(Declared::Ingredient)
        && declaration.each::<say::Allow>().all(|row| row.rule() != Some(rule))
}

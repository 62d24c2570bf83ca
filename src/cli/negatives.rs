//! `negatives`: a page for the sleeve of a roll, with its recipe and what happened when it was developed.

use super::choose::files_below;
use super::levels::levels;
use super::output::Output;
use super::personal::paper;
use super::{Ended, Failure, Reader, Terminal, darkroom, fail, root};
use crate::emit::{self, Developed, Look, Paper, Sleeve};
use crate::journal::Negatives;
use crate::model::{Fingerprint, Session, Shelf, Slot};
use crate::source::{Level, Sources, clip, first_few};
use crate::syntax::{Statement, Tree, parse};
use crate::vocabulary::suggest;

/// Print the sleeve page of a roll: the film, its recipe, and what happened in its session
///
/// LABEL is the label of a roll in a backlog or in a session of the journal. A label that several backlogs have gives a
/// page for each.
#[derive(clap::Args)]
#[command(
    after_help = "Examples:\n  wetside negatives A-12\n  wetside negatives A-12 A-16 -o sleeves.pdf\n  wetside negatives A-12 --as json"
)]
pub(super) struct Arguments {
    /// The labels of the rolls
    #[arg(required = true, value_name = "LABEL")]
    labels: Vec<String>,
    /// Ignore wetside.toml
    #[arg(long)]
    no_config: bool,
    #[command(flatten)]
    output: Output<Form>,
    /// The paper of a PDF; your usual one if not given, else a4
    #[arg(long)]
    paper: Option<Paper>,
}

#[derive(Clone, Copy, clap::ValueEnum)]
enum Form {
    /// For people
    Text,
    /// For a browser: one page
    Html,
    /// For a printer, on --paper
    Pdf,
    /// For programs: one object, as grammar/negatives.schema.json says
    Json,
}

/// The first words of the session lines that are not copied to the page, because another part of the page has their
/// content.
const SAID: [&str; 5] = ["date", "recipe", "backlog", "slot", "revision"];

pub(super) fn run(arguments: &Arguments, terminal: Terminal) -> Result<Ended, Failure> {
    let form = arguments.output.form()?;
    arguments.output.check_paper(matches!(form, Form::Pdf), arguments.paper)?;
    let mut reader = Reader::default();
    let root = &*root::ROOT;
    let own = darkroom::files(&darkroom::index(root), None, &mut reader)?;
    let mut files = own.clone();
    files.extend(files_below(None, &mut reader));
    let (shelf, mut findings) = reader.check_darkroom(root, &files, &levels(&[], arguments.no_config)?);
    // An error in a file of the darkroom is fatal, because a session with errors may have developed the roll. A recipe
    // with errors is only skipped.
    findings.retain(|finding| finding.level == Level::Error && own.contains(&finding.span.file));
    reader.refuse_any(findings)?;
    let mut sleeves = Vec::new();
    for label in &arguments.labels {
        let all = Negatives::of_label(&shelf.darkroom, label);
        if all.is_empty() {
            return unknown(label, &shelf);
        }
        sleeves.extend(all.iter().map(|one| sleeve(one, &shelf, &reader.sources)));
    }
    let look = Look { colour: arguments.output.colour(terminal), ..Look::default() };
    let document = emit::negatives(&sleeves);
    let bytes = match form {
        Form::Text => document.text(look).into_bytes(),
        Form::Html => document.html().into_bytes(),
        Form::Pdf => document.pdf(paper(arguments.paper, arguments.no_config)?),
        Form::Json => emit::negatives_json(&sleeves).into_bytes(),
    };
    arguments.output.send(bytes, &[&reader])
}

fn unknown<T>(label: &str, shelf: &Shelf) -> Result<T, Failure> {
    let darkroom = &shelf.darkroom;
    let rolls = darkroom.backlogs_once().flat_map(|backlog| backlog.rolls.iter().map(|roll| &*roll.label));
    let slots = darkroom.sessions.iter().flat_map(|session| &session.slots);
    let known: Vec<&str> = rolls.chain(slots.filter_map(|slot| slot.label.as_deref())).collect();
    let near = suggest(label, known.iter().copied()).map(|near| format!("did you mean {near}?"));
    let labels = first_few(known, ", ");
    let help = match (near, labels.is_empty()) {
        (Some(near), _) => near,
        (None, true) => {
            "labels are those of backlogs and of the sessions that wetside record writes".to_owned()
        }
        (None, false) => format!("the labels are {labels}"),
    };
    fail(format!("no backlog and no session has the label '{}'", clip(label)), help)
}

fn sleeve(negatives: &Negatives<'_>, shelf: &Shelf, sources: &Sources) -> Sleeve {
    let mut sleeve = Sleeve::of(negatives);
    for (session, slot) in &negatives.sessions {
        let developed = developed(session, slot, shelf, sources);
        if sleeve.film.is_none() {
            // No backlog names the film of the roll, so the page has the film of the session's recipe, if the recipe
            // still exists.
            let recipe = shelf.recipes.iter().find(|recipe| recipe.name == session.recipe);
            sleeve.film = recipe.and_then(|recipe| Some(recipe.film.as_ref()?.value.title.clone()));
            sleeve.index = recipe.and_then(|recipe| recipe.index.as_ref().map(|index| index.value));
        }
        sleeve.sessions.push(developed);
    }
    sleeve
}

fn developed(session: &Session, slot: &Slot, shelf: &Shelf, sources: &Sources) -> Developed {
    let named = || shelf.recipes.iter().filter(|recipe| recipe.name == session.recipe);
    let has_fingerprint =
        |full: &str| full == session.fingerprint || full.starts_with(&session.fingerprint.replace('-', ""));
    let same = named().find(|recipe| has_fingerprint(&Fingerprint::of(recipe).full()));
    let title = same.or_else(|| named().next()).map(|recipe| recipe.title.clone());
    let others = session.slots.iter().filter(|other| other.slot != slot.slot);
    Developed {
        name: session.name.clone(),
        on: *session.date,
        retracted: session.retracted.as_ref().map(|because| because.value.clone()),
        recipe: session.recipe.clone(),
        is_unchanged: title.is_some().then_some(same.is_some()),
        title,
        fingerprint: session.fingerprint.clone(),
        slot: (slot.slot, session.slots.len()),
        beside: others.filter_map(|other| other.label.clone()).collect(),
        lines: lines(session, slot, sources),
    }
}

/// The lines of a session for the page: the doubt about the roll, if any, then the session's lines that do not begin
/// with a word of `SAID`. Each pair is the first word of a line and the rest of the line.
fn lines(session: &Session, slot: &Slot, sources: &Sources) -> Vec<(String, String)> {
    let (tree, _) = parse(sources, session.span.file);
    let own = tree.statements.iter().find(|statement| statement.extent.holds(session.span));
    let block = own.and_then(|own| own.block.as_deref()).unwrap_or_default();
    let doubt = slot.doubt.iter().map(|doubt| ("doubt".to_owned(), doubt.clone()));
    doubt
        .chain(
            block.iter().map(|line| words(&tree, line, sources)).filter(|(word, _)| !SAID.contains(&&**word)),
        )
        .collect()
}

fn words(tree: &Tree, statement: &Statement, sources: &Sources) -> (String, String) {
    let first = tree.tokens_in(&statement.tokens).first().map_or(statement.span, |token| token.span);
    let word = sources.slice(first).to_owned();
    let rest = sources.slice(statement.span).strip_prefix(&word).unwrap_or_default();
    (word, rest.split_whitespace().collect::<Vec<_>>().join(" "))
}

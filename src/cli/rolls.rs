//! Compares the labels of the rolls in the tank with the backlogs and the journal, before anything is poured.

use std::sync::Arc;

use super::choose::files_below;
use super::evening::Evening;
use super::refusal::{OtherCard, Refusal};
use super::root::printable;
use super::{Failure, Reader, each_once};
use crate::check::Levels;
use crate::compile::{EveningWork, Objection, Tonight, Warning, compile};
use crate::emit::{AskedRoll, command_line};
use crate::journal::developed;
use crate::model::{Backlog, Exposed, Format, Material, Recipe, Shelf, Time};
use crate::plan::recipe_for;
use crate::source::first_few;

const RULE: &str = "wrong-roll";
const FEW: usize = 8;

/// A roll in the tank that contradicts the card.
pub(super) struct WrongRoll {
    slot: u32,
    label: String,
    because: Because,
    /// The labels of the backlog's undeveloped rolls that this card could develop.
    waiting: Vec<String>,
}

/// How a roll contradicts the card.
enum Because {
    /// The roll has another film or another exposure index than the card, and needs other work. `is` names the film and
    /// index of the roll. `work` is the recipe for the roll, if there is one.
    OtherWork { is: String, work: Option<Other> },
    /// The format of the roll in the backlog, and the other format that `--rolls` states for its slot.
    Format(Format, Format),
    /// A session has already developed the roll, on the day `on`.
    Developed { session: String, on: String },
}

struct Other {
    recipe: String,
    file: String,
    film: String,
    /// The developing times of the card's recipe and of this recipe; `None` if one of the two recipes cannot be
    /// compiled for tonight.
    developing: Option<(Time, Time)>,
}

/// A film with its exposure index, for messages: `Skerry 400 at 400`.
fn film_at(title: &str, index: Option<u32>) -> String {
    printable(title) + &index.map(|index| format!(" at {index}")).unwrap_or_default()
}

/// The film and exposure index of the card, for messages: `Drift 800 at 800`.
fn card_is_for(recipe: &Recipe) -> String {
    let film = recipe.film.as_ref().map(|film| &film.value);
    let index = recipe.index.or(film.and_then(|film| film.speed)).map(|index| *index);
    film.map_or_else(String::new, |film| film_at(&film.title, index))
}

/// The rolls in the tank that contradict the recipe or the journal.
pub(super) fn wrong(
    shelf: &Shelf,
    recipe: &Arc<Recipe>,
    tonight: &Tonight,
    reader: &mut Reader,
) -> Vec<WrongRoll> {
    let formats =
        tonight.rolls.iter().flat_map(|rolls| std::iter::repeat_n(rolls.format, rolls.count as usize));
    let slots = (1..).zip(&tonight.labels).zip(formats);
    let mut all = Vec::new();
    for ((slot, label), format) in slots.filter(|((_, label), _)| !label.is_empty()) {
        let known =
            shelf.darkroom.backlogs_once().filter_map(|backlog| Some((backlog, backlog.roll(label)?)));
        let known: Vec<(&Arc<Backlog>, &Exposed)> = known.collect();
        let judged = known.iter().map(|(backlog, roll)| judge(shelf, recipe, backlog, roll, format));
        let judged: Vec<Option<Because>> = judged.collect();
        if judged.iter().any(Option::is_none) {
            continue;
        }
        let Some((because, (backlog, _))) = judged.into_iter().flatten().zip(&known).next() else { continue };
        let because = match because {
            Because::OtherWork { is, .. } => match other_work(recipe, tonight, backlog, label, reader) {
                Some(Ok(())) => continue,
                work => Because::OtherWork { is, work: work.and_then(Result::err) },
            },
            because => because,
        };
        let waiting = waiting((shelf, tonight), recipe, backlog, format);
        all.push(WrongRoll { slot, label: label.clone(), because, waiting });
    }
    all
}

fn is_for(recipe: &Recipe, roll: &Exposed) -> bool {
    let film = recipe.film.as_ref().is_some_and(|film| Arc::ptr_eq(film, &roll.film));
    let index = recipe.index.or(roll.film.speed).map(|index| *index);
    film && roll.exposed_at().zip(index).is_none_or(|(own, index)| own == index)
}

/// How a roll of a backlog contradicts the recipe, the format of its slot or the journal; `None` if it contradicts
/// nothing.
fn judge(
    shelf: &Shelf,
    recipe: &Recipe,
    backlog: &Arc<Backlog>,
    roll: &Exposed,
    format: Format,
) -> Option<Because> {
    if !is_for(recipe, roll) {
        return Some(Because::OtherWork { is: film_at(&roll.film.title, roll.exposed_at()), work: None });
    }
    if roll.format != format {
        return Some(Because::Format(roll.format, format));
    }
    let session = developed(&shelf.darkroom, backlog).get(roll.label.as_str()).copied()?;
    Some(Because::Developed { session: session.name.clone(), on: session.date.to_string() })
}

/// Finds the recipe for a roll of a backlog. `None` if there is no recipe for the roll. `Ok` if the recipe's work
/// tonight is the same as the card's. `Err` with the recipe if its work differs, or if a recipe cannot be compiled for
/// tonight.
fn other_work(
    recipe: &Arc<Recipe>,
    tonight: &Tonight,
    backlog: &Backlog,
    label: &str,
    reader: &mut Reader,
) -> Option<Result<(), Other>> {
    // The roll's recipe may be in any file below the current folder.
    let mut files = vec![recipe.file, backlog.span.file];
    files.extend(files_below(None, reader));
    let mut levels = Levels::default();
    levels.clears_tonight = tonight.clears.is_some();
    let (shelf, _) = reader.check(&files, &levels);
    let own = shelf.recipe(recipe.file, &recipe.name)?;
    let backlog = shelf.darkroom.backlogs_once().find(|one| one.span == backlog.span)?;
    let other = recipe_for(&shelf, backlog, &Default::default(), backlog.roll(label)?, 1).ok()?;
    let compiled = |recipe: &Arc<Recipe>| compile(&shelf, recipe, tonight, Vec::new()).ok();
    let works = compiled(own).zip(compiled(other));
    let works = works.as_ref().map(|(one, two)| (EveningWork::of(own, one), EveningWork::of(other, two)));
    if works.as_ref().is_some_and(|(one, two)| one.is_same(two, Time::ZERO)) {
        return Some(Ok(()));
    }
    Some(Err(Other {
        recipe: other.name.clone(),
        file: reader.name(other.file).to_owned(),
        film: other.film.as_ref().map(|film| printable(&film.value.title)).unwrap_or_default(),
        developing: works.map(|(one, two)| (one.developing(), two.developing())),
    }))
}

/// The labels of the undeveloped rolls of a backlog that have this format and the recipe's film and index, without the
/// rolls in the tank.
fn waiting(
    (shelf, tonight): (&Shelf, &Tonight),
    recipe: &Recipe,
    backlog: &Arc<Backlog>,
    format: Format,
) -> Vec<String> {
    let gone = developed(&shelf.darkroom, backlog);
    let rolls = backlog.rolls.iter().filter(|roll| is_for(recipe, roll));
    let is_free = |roll: &&Exposed| !gone.contains_key(&*roll.label) && !tonight.labels.contains(&roll.label);
    let rolls = rolls.filter(|roll| roll.format == format).filter(is_free);
    rolls.map(|roll| roll.label.clone()).collect()
}

fn material(recipe: &Recipe) -> Material {
    recipe.film.as_ref().map_or(Material::Film, |film| film.value.material)
}

impl WrongRoll {
    pub(super) fn label(&self) -> &str {
        &self.label
    }

    /// The objection to this roll, which `--anyway` can lift.
    pub(super) fn objection(&self, recipe: &Recipe) -> Objection {
        let text = format!("slot {} is {}", self.slot, self.is(recipe));
        let brief = match &self.because {
            Because::OtherWork { .. } => format!("other {}", material(recipe).word()),
            Because::Format(..) => "other format".to_owned(),
            Because::Developed { .. } => "developed before".to_owned(),
        };
        Objection { name: self.label.clone(), rule: RULE, text, brief }
    }

    /// The warning on the card if `--anyway` names this roll.
    pub(super) fn warning(&self, recipe: &Recipe) -> Warning {
        Warning::lifted(RULE, &self.label, &format!("slot {} is {}", self.slot, self.is(recipe)))
    }

    /// The words that say what the roll is, and what the card or the slot is for.
    fn is(&self, recipe: &Recipe) -> String {
        match &self.because {
            Because::OtherWork { is, .. } => format!("{is}; this card is for {}", card_is_for(recipe)),
            Because::Format(is, slot) => format!("{}; the slot is for {}", is, slot),
            Because::Developed { session, on } => format!("a roll developed on {on}, in '{session}'"),
        }
    }

    /// The question that the HTML page asks about this roll.
    fn asked(&self, recipe: &Recipe) -> AskedRoll {
        let label = printable(&self.label);
        let film = recipe.film.as_ref().map(|film| printable(&film.value.title)).unwrap_or_default();
        let is_for = card_is_for(recipe);
        let (is, card, really) = match &self.because {
            Because::OtherWork { is, .. } => {
                let is_own = is.starts_with(&film);
                (is.clone(), is_for.clone(), format!("is really {}", if is_own { is_for } else { film }))
            }
            Because::Format(is, slot) => (is.to_string(), slot.to_string(), format!("is really {}", slot)),
            Because::Developed { session, on } => (
                format!("developed on {on}, in {}", printable(session)),
                is_for,
                "is not developed".to_owned(),
            ),
        };
        AskedRoll { slot: self.slot, really: format!("{label} {really}"), label, is, card }
    }

    fn said(&self) -> String {
        let (slot, label) = (self.slot, printable(&self.label));
        match &self.because {
            Because::OtherWork { is, .. } => format!("in slot {slot}: {label} is {is}"),
            Because::Format(is, format) => {
                format!("in slot {slot}: {label} is {}, and the slot is for {}", is, format)
            }
            Because::Developed { session, on } => {
                format!("in slot {slot}: {label} was developed on {on}, in {}", printable(session))
            }
        }
    }
}

/// Fails if there are wrong rolls that `--anyway` does not name. The message has six lines, with the cause and three
/// ways out.
pub(super) fn refuse(
    wrong: &[WrongRoll],
    recipe: &Recipe,
    tonight: &Tonight,
    evening: &Evening,
) -> Result<(), Failure> {
    let wrong: Vec<&WrongRoll> = wrong.iter().filter(|one| !tonight.takes_anyway(&one.label)).collect();
    let Some(first) = wrong.first() else { return Ok(()) };
    let is_for = card_is_for(recipe);
    let film = recipe.film.as_ref().map(|film| printable(&film.value.title)).unwrap_or_default();
    let all = wrong.iter().map(|one| one.said()).collect::<Vec<_>>().join("; ");
    let call = Call::of(evening);
    let labels: Vec<&str> = wrong.iter().map(|one| one.label.as_str()).collect();
    // The labels of the rolls in the tank that are right for this card.
    let right = tonight.labels.iter().map(String::as_str);
    let right: Vec<&str> = right.filter(|label| !label.is_empty() && !labels.contains(label)).collect();
    let waiting = match each_once(wrong.iter().flat_map(|one| &one.waiting)).as_slice() {
        [] => format!("no other roll of {film} is waiting"),
        several => {
            let more = several.len().saturating_sub(FEW);
            let named: Vec<_> = several.iter().take(FEW).map(|label| printable(label)).collect();
            let more = if more > 0 { format!("  and {more} more") } else { String::new() };
            format!("{film} still waiting: {}{more}", named.join("  "))
        }
    };
    let (name, way) = match &first.because {
        Because::OtherWork { work: Some(other), .. } => ("the card is wrong", call.of_recipe(other, &right)),
        Because::OtherWork { is, work: None } => {
            ("the card is wrong", format!("no recipe for {is} is below this folder"))
        }
        Because::Format(..) => (
            "the card is wrong",
            "name the formats from the bottom of the tank up, as in 1x135+1x120".to_owned(),
        ),
        Because::Developed { session, .. } => {
            let undo = format!("wetside record --undo {} --because \"another roll\"", printable(session));
            ("the journal is wrong", undo)
        }
    };
    let same = match &first.because {
        Because::OtherWork { work: Some(other), .. } if !right.is_empty() => same_work(other),
        _ => String::new(),
    };
    let anyway = call.with_anyway(&labels);
    let ways = format!(
        "{same}\n  \
         {:<22}  {waiting}\n  {name:<22}  {way}\n  {:<22}  {anyway}      (says so on card and journal)\n",
        "the label was misread", "the list is wrong"
    );
    let other = match &first.because {
        Because::OtherWork { work: Some(other), .. } => Some(OtherCard {
            film: other.film.clone(),
            file: other.file.clone(),
            recipe: other.recipe.clone(),
            anyway: right.iter().map(|label| (*label).to_owned()).collect(),
            command: call.of_recipe(other, &right),
        }),
        _ => None,
    };
    let cause = format!("WRONG ROLL {all}. This card is for {is_for}.");
    let (rolls, material) = (wrong.iter().map(|one| one.asked(recipe)).collect(), material(recipe));
    let refusal = Refusal { cause, ways, material, has_page: false, rolls, other };
    Err(Failure::Refused(Box::new(refusal)))
}

/// The line for a tank with a film for each of two recipes. It says how the work of the other recipe differs from the
/// card's, and what to do.
fn same_work(other: &Other) -> String {
    let choose = "Take one out in the dark, or choose which may suffer:";
    match other.developing {
        Some((own, theirs)) if own != theirs => format!("same work? no: {own} against {theirs}. {choose}"),
        Some(_) => format!("same work? no: other baths, agitation or times than {}. {choose}", other.recipe),
        None => format!("same work? no: {} has no card at these temperatures. {choose}", other.recipe),
    }
}

/// The words of this command line, from which suggested command lines are made.
struct Call {
    words: Vec<String>,
    /// The positions of the words that name the recipe.
    recipe: std::ops::Range<usize>,
    by_file: bool,
}

impl Call {
    fn of(evening: &Evening) -> Call {
        if !evening.is_typed {
            // The words that the user typed do not include what comes from the plan, the backlog or the card made last.
            let recipe = evening.name.clone().unwrap_or_default();
            let command = std::env::args().nth(1).unwrap_or_default();
            let own = evening.words(&[recipe], &evening.bath);
            return Call { words: [vec![command], own].concat(), recipe: 1..2, by_file: false };
        }
        let words = std::env::args_os().skip(1).map(|word| word.to_string_lossy().into_owned());
        let words: Vec<String> = words.collect();
        let given = evening.recipe.to_string_lossy();
        let at = words.iter().position(|word| *word == given).unwrap_or(words.len());
        let is_name = evening.name.is_some() && words.get(at + 1) == evening.name.as_ref();
        let end = (at + 1 + usize::from(is_name)).min(words.len());
        Call { words, recipe: at..end, by_file: evening.name.is_some() || given.ends_with(".wet") }
    }

    fn with_anyway(&self, labels: &[&str]) -> String {
        self.written(self.words.clone(), labels)
    }

    /// This command line with another recipe, and with `--anyway` for each of the labels `anyway`.
    fn of_recipe(&self, other: &Other, anyway: &[&str]) -> String {
        let file = self.by_file.then(|| other.file.clone());
        let mut words = self.words.clone();
        words.splice(self.recipe.clone(), file.into_iter().chain([other.recipe.clone()]));
        self.written(words, anyway)
    }

    fn written(&self, words: Vec<String>, anyway: &[&str]) -> String {
        let anyway = anyway.iter().flat_map(|label| ["--anyway".to_owned(), (*label).to_owned()]);
        let words = std::iter::once("wetside".to_owned()).chain(words).chain(anyway);
        command_line(words.map(|word| printable(&word)))
    }
}

/// The warning about the labels that no backlog has. `None` if backlogs have all labels of the tank, or none of them.
pub(super) fn unknown(shelf: &Shelf, tonight: &Tonight) -> Option<Warning> {
    let backlogs = || shelf.darkroom.backlogs_once();
    let labels = tonight.labels.iter().filter(|label| !label.is_empty());
    let (known, unknown): (Vec<&String>, Vec<&String>) =
        labels.partition(|label| backlogs().any(|backlog| backlog.roll(label).is_some()));
    let names = first_few(unknown.iter().map(|label| label.as_str()), ", ");
    let text = format!("no backlog has {names}");
    (!known.is_empty() && !unknown.is_empty()).then_some(Warning { rule: "R12", text })
}

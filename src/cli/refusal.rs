//! The refusal of a card because of a wrong roll. If two films are in one tank, both cards are shown. A page is still
//! written, and asks about the roll before its Start button.

use super::choose::schedule;
use super::evening::Evening;
use super::{Failure, Reader};
use crate::compile::Schedule;
use crate::emit::{self, AskedRoll, Asking, Card};
use crate::model::Material;

/// The reason why a card was refused: rolls in the tank contradict it.
pub(super) struct Refusal {
    /// The first line of the message: which rolls are wrong.
    pub(super) cause: String,
    /// The message from its third line on: what the user can do.
    pub(super) ways: String,
    /// Whether the rolls are film, paper or plates.
    pub(super) material: Material,
    /// Whether an HTML page that asks about the rolls was written nevertheless.
    pub(super) has_page: bool,
    pub(super) rolls: Vec<AskedRoll>,
    /// The card for the film of the first wrong roll, if there is a recipe for it.
    pub(super) other: Option<OtherCard>,
}

pub(super) struct OtherCard {
    pub(super) film: String,
    pub(super) file: String,
    pub(super) recipe: String,
    /// The labels of the rolls in the tank that are wrong for this other card, and that `--anyway` has to name.
    pub(super) anyway: Vec<String>,
    pub(super) command: String,
}

impl Refusal {
    /// The message that reports the refusal, in six lines.
    pub(super) fn text(&self) -> String {
        let Refusal { cause, ways, .. } = self;
        let made = if self.has_page { "The page asks before Start." } else { "Nothing was made." };
        let keeps = match self.material {
            Material::Film => "Loaded film in a dry, closed tank keeps for days",
            Material::Paper => "Exposed paper in its closed box keeps for days",
            Material::Plate => "Exposed plates in their closed box keep for days",
        };
        format!("{cause}\n{made} {keeps}: there is no hurry.\n{ways}")
    }

    pub(super) fn labels(&self) -> impl Iterator<Item = String> {
        self.rolls.iter().map(|roll| roll.label.clone())
    }
}

pub(super) struct Refused<'a> {
    pub(super) command: &'a str,
    pub(super) evening: &'a Evening,
    /// The time of day at the start, in seconds after midnight.
    pub(super) start: Option<u32>,
}

impl Refused<'_> {
    /// The schedule of the refused card, as if `--anyway` named the refused rolls.
    fn own(&self, refusal: &Refusal, reader: &mut Reader) -> Result<Schedule, Failure> {
        let mut evening = self.evening.clone();
        evening.anyway.extend(refusal.labels());
        self.schedule(&evening, reader)
    }

    /// The schedule for the film of the first refused roll; `None` if this film has no recipe, or its recipe cannot be
    /// made tonight.
    fn other(&self, refusal: &Refusal, reader: &mut Reader) -> Option<Schedule> {
        let other = refusal.other.as_ref()?;
        let evening = Evening {
            recipe: other.file.clone().into(),
            name: Some(other.recipe.clone()),
            index: None,
            anyway: other.anyway.clone(),
            ..self.evening.clone()
        };
        self.schedule(&evening, reader).ok()
    }

    fn schedule(&self, evening: &Evening, reader: &mut Reader) -> Result<Schedule, Failure> {
        let mut schedule = schedule(self.command, evening, reader)?;
        schedule.conditions.start = self.start;
        Ok(schedule)
    }

    /// The refused card, and the card for the film of the first refused roll, each below a line that says which rolls
    /// may suffer; empty unless two films are in one tank and both have a card tonight.
    pub(super) fn both_cards(&self, refusal: &Refusal, look: emit::Look) -> Result<String, Failure> {
        let (mut own, mut others) = (Reader::default(), Reader::default());
        let Some(other) = refusal.other.as_ref().filter(|other| !other.anyway.is_empty()) else {
            return Ok(String::new());
        };
        let Some(theirs) = self.other(refusal, &mut others) else { return Ok(String::new()) };
        let ours = self.own(refusal, &mut own)?;
        let text = |number: u32, suffer: &[String], card: &Card| {
            let suffer = suffer.join(", ");
            format!("CARD {number} of 2: {suffer} may suffer\n\n{}\n", emit::text(card, look))
        };
        let labels: Vec<String> = refusal.labels().collect();
        Ok(text(1, &labels, &emit::card(&ours, &own.sources))
            + &text(2, &other.anyway, &emit::card(&theirs, &others.sources)))
    }

    /// The HTML page of the refused card. It asks about the rolls before its Start button can be used.
    pub(super) fn page(
        &self,
        refusal: &Refusal,
        reasons: bool,
        reader: &mut Reader,
    ) -> Result<String, Failure> {
        let mut others = Reader::default();
        let other = self.other(refusal, &mut others).map(|schedule| emit::card(&schedule, &others.sources));
        let shown = refusal.other.as_ref().zip(other.as_ref());
        let shown = shown.map(|(other, card)| (other.film.as_str(), card, other.command.as_str()));
        let schedule = self.own(refusal, reader)?;
        let asking = Asking { rolls: &refusal.rolls, other: shown, material: refusal.material };
        let parts = emit::PageParts { reasons, record: &self.record(refusal), asking: Some(&asking) };
        Ok(emit::html(&schedule, &reader.sources, parts))
    }

    /// The command that records the refused card, with all its arguments. Without arguments, it would record the card
    /// made last.
    fn record(&self, refusal: &Refusal) -> String {
        let mut evening = self.evening.clone();
        evening.anyway.extend(refusal.labels());
        let recipe: Vec<String> = [Some(evening.recipe.to_string_lossy().into_owned()), evening.name.clone()]
            .into_iter()
            .flatten()
            .collect();
        let words = evening.words(&recipe, &evening.bath);
        emit::command_line(["wetside", "record"].into_iter().chain(words.iter().map(String::as_str)))
    }
}

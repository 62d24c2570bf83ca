//! The screen of a card's page that asks about a wrong roll. The screen covers the page until a person has answered, so
//! that no clock runs before the answer. Where scripts do not run, the screen stays.

use super::{Card, Markup, facts, sections};
use crate::emit::document::Side;
use crate::model::Material;

/// A roll in the tank that does not fit the card or its slot.
#[derive(Debug, Clone)]
pub struct AskedRoll {
    /// The number of the roll's slot, counted from the bottom.
    pub slot: u32,
    /// The label of the roll.
    pub label: String,
    /// The roll's film and exposure index, `Skerry 400 at 400`; or its format; or when it was already developed.
    pub is: String,
    /// What the card or the slot needs: a film and exposure index, `Drift 800 at 800`, or a format.
    pub card: String,
    /// The text of the button to hold if the roll is right after all: `T-14 is really Drift 800`.
    pub really: String,
}

/// What the page of a card asks before the session can start.
#[derive(Debug)]
pub struct Asking<'a> {
    /// The wrong rolls, in the order of the questions.
    pub rolls: &'a [AskedRoll],
    /// Whether the rolls are film, paper or plates.
    pub material: Material,
    /// The film of the first wrong roll, the card for that film, and the command that makes that card; `None` if
    /// there is no such card.
    pub other: Option<(&'a str, &'a Card, &'a str)>,
}

impl Asking<'_> {
    pub(super) fn labels(&self) -> Vec<&str> {
        self.rolls.iter().map(|roll| roll.label.as_str()).collect()
    }
}

/// Adds the screen that asks about wrong rolls. Its buttons are hidden until the script runs.
pub(super) fn screen(page: &mut Markup, asking: &Asking<'_>) {
    page.line("section id=\"wrong\" aria-labelledby=\"wrong-name\"", |page| {
        page.element("h2 id=\"wrong-name\"", "WRONG ROLL");
        for roll in asking.rolls {
            page.within("div class=\"roll\"", |page| {
                page.within("dl", |page| {
                    let slot = format!("slot {}", roll.slot);
                    for (name, value) in
                        [(slot.as_str(), &roll.label), ("is", &roll.is), ("card", &roll.card)]
                    {
                        page.element("dt", name);
                        page.element("dd", value);
                    }
                });
                page.within("p class=\"holds\"", |page| {
                    if let Some((film, ..)) = asking.other {
                        let text = format!("show the card for {film}");
                        page.element("button type=\"button\" class=\"show\" hidden", &text);
                    }
                    page.within("button type=\"button\" class=\"really\" hidden", |page| {
                        page.element("b", &roll.really);
                        page.own(" ");
                        page.element("small", &format!("hold 2 s · record it with --anyway {}", roll.label));
                    });
                });
            });
        }
        let keeps = match asking.material {
            Material::Film => "Film in a dry closed tank keeps",
            Material::Paper => "Paper in its closed box keeps",
            Material::Plate => "Plates in their closed box keep",
        };
        page.element("p", &format!("{keeps}. Stop here if unsure."));
    });
    if let Some((_, card, command)) = asking.other {
        page.line("section id=\"other\" hidden", |page| {
            page.element("button type=\"button\" id=\"return\"", "back");
            page.element("h1", &card.title);
            facts(page, card);
            page.within("p", |page| {
                page.text("to follow it, make its page: ");
                page.element("code", command);
            });
            sections(page, &card.document(false), &[Side::Front]);
        });
    }
}

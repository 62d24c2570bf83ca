//! A card as a document.

use super::card::{Card, card};
use super::document::{Block, Bullet, Column, Document, Place, Section, Side, Table};
use super::link::ON_A_PHONE;
use super::pdf::Paper;
use super::plain::Look;
use super::try_first::HEADING;
use crate::compile::Schedule;
use crate::source::Sources;

/// The line at the foot of each sheet of paper: what to do after a delay.
const LATE: &str = "Late? Finish what is in your hand. Next bath from 0:00. Write the true time.";

impl Card {
    /// The card as a document. With `reasons`, each step ends with the calculations of its numbers.
    pub fn document(&self, reasons: bool) -> Document {
        let warnings = if reasons { &self.warnings_with_rules } else { &self.warnings };
        let list = |title: &str, items: &[String]| Section::list(title, Bullet::Dash, items);
        let at = |side: Side, section: Section| Section { side, ..section };
        let mut sections = vec![Section::safety(&self.safety)];
        sections.extend(Section::list("WARNINGS", Bullet::Warning, warnings));
        sections.extend(list("ADVICE", &self.advice));
        if !self.mix.is_empty() {
            sections.push(Section::titled("MIX", vec![Block::Baths(self.mix.clone())]));
        }
        sections.extend(Section::list(&HEADING.to_uppercase(), Bullet::Box, &self.try_first));
        sections.extend(self.load_section());
        sections.push(self.work_section(reasons));
        sections.extend(Section::list("AFTERWARDS", Bullet::Box, &self.afterwards));
        if !self.stubs.is_empty() {
            sections.push(Section { blocks: vec![Block::Stubs(self.stubs.clone())], ..Section::default() });
        }
        sections.extend(list("CAUTIONS", &self.cautions).map(|one| at(Side::Back, one)));
        sections.extend(list("NOTES", &self.notes).map(|one| at(Side::Back, one)));
        sections.extend(list("FIRST AID", &self.first_aid).map(|one| at(Side::BackTop, one)));
        let pictures = vec![Block::Figures(self.pictures.clone())];
        sections.push(Section { blocks: pictures, side: Side::Back, ..Section::default() });
        let on_a_phone = |link: &String| Section::titled(ON_A_PHONE, vec![Block::Link(link.clone())]);
        sections.extend(self.link.as_ref().map(on_a_phone).map(|one| at(Side::Back, one)));
        Document {
            title: self.title.clone(),
            aside: format!("recipe {}", self.fingerprint),
            facts: self.facts.clone(),
            foot: LATE.to_owned(),
            sections,
            ..Document::default()
        }
    }

    fn load_section(&self) -> Option<Section> {
        let row = |place: &Place| {
            vec![place.end.to_owned(), place.slots.clone(), place.what.clone(), place.label.clone()]
        };
        let table = Table {
            columns: vec![Column::new(""); 4],
            rows: self.load.iter().map(row).collect(),
            ..Table::default()
        };
        let blocks = std::iter::once(Block::Table(table)).chain(self.lid.clone().map(Block::Light));
        (!self.load.is_empty()).then(|| Section::titled("LOAD", blocks.collect()))
    }

    fn work_section(&self, reasons: bool) -> Section {
        let mut blocks = vec![Block::Paragraph(self.clock.to_owned())];
        for step in &self.work {
            let mut step = step.clone();
            if !reasons {
                step.reasons.clear();
            }
            blocks.push(Block::Step(Box::new(step)));
        }
        blocks.push(Block::Total(self.total.clone()));
        Section::titled("WORK", blocks)
    }
}

/// The card as text.
pub fn text(card: &Card, look: Look) -> String {
    card.document(look.reasons).text(look)
}

/// The card of a schedule as PDF.
pub fn pdf(schedule: &Schedule, sources: &Sources, paper: Paper) -> Vec<u8> {
    card(schedule, sources).document(false).pdf(paper)
}

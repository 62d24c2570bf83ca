//! A document as HTML, and as a page of its own, whose boxes can be ticked; the browser stores the ticks.

use std::sync::LazyLock;

use super::evening;
use super::markup::{Markup, Part, page};
use crate::compile::{SAFETY_HEADING, SafetyLine};
use crate::emit::document::{Block, Bullet, Column, Document, Head, Place, Section, Side, Table};
use crate::emit::link::Code;
use crate::emit::picture::rules;
use crate::emit::plain::bound;

const RULES: &str = concat!(include_str!("base.css"), include_str!("document.css"));
static STYLE: LazyLock<Part> = LazyLock::new(|| Part::of(RULES.to_owned()));
static STYLE_OF_FIGURES: LazyLock<Part> = LazyLock::new(|| Part::of(format!("{RULES}{}", rules())));
static SCRIPT: LazyLock<Part> = LazyLock::new(|| Part::of(include_str!("ticks.js").to_owned()));
const TICK: &str = "<input type=\"checkbox\">";

impl Document {
    /// The document as an HTML page.
    pub fn html(&self) -> String {
        let mut blocks = self.sections.iter().flat_map(|section| &section.blocks);
        let has_figures = blocks.any(|block| matches!(block, Block::Figures(_)));
        let style = if has_figures { &STYLE_OF_FIGURES } else { &STYLE };
        page(&self.title, style, &SCRIPT, |page| {
            page.within("header", |page| {
                page.element("h1", &self.title);
                let about = std::iter::once(&self.aside).chain(&self.facts).filter(|text| !text.is_empty());
                about.for_each(|text| page.element("p", text));
            });
            page.line("main", |page| sections(page, self, &SIDES));
        })
    }
}

pub(super) const SIDES: [Side; 3] = [Side::Front, Side::BackTop, Side::Back];

/// Adds the sections that are on these sides of a sheet. The foot line of the document comes after those on the front.
pub(super) fn sections(page: &mut Markup, document: &Document, sides: &[Side]) {
    for side in sides {
        document.sections.iter().filter(|one| one.side == *side).for_each(|one| whole(page, one));
        if *side == Side::Front && !document.foot.is_empty() {
            page.element("p class=\"late\"", &document.foot);
        }
    }
}

pub(super) fn whole(page: &mut Markup, section: &Section) {
    let tag = match section.side {
        Side::Front if section.is_safety() => "section class=\"safety\"",
        Side::Front if section.blocks.iter().any(is_step) => "section class=\"work\"",
        Side::Front => "section",
        Side::BackTop | Side::Back => "section class=\"back\"",
    };
    page.line(tag, |page| {
        match &section.head {
            Head::None => {}
            Head::Title(title) => page.element("h2", &lowered(title)),
            Head::Ruled(title, aside) => {
                page.element("h2", &lowered(title));
                if !aside.is_empty() {
                    page.element("p", aside);
                }
            }
            Head::Name(name, text) => {
                page.element("h2", name);
                page.element("p", text);
            }
        }
        for run in section.blocks.chunk_by(|one, next| is_step(one) && is_step(next)) {
            match run {
                [Block::Step(_), ..] => {
                    page.within("ol", |page| run.iter().for_each(|one| block(page, one)));
                }
                _ => run.iter().for_each(|one| block(page, one)),
            }
        }
    });
}

fn is_step(block: &Block) -> bool {
    matches!(block, Block::Step(_))
}

/// Changes a title in capitals to lower case, except its first letter: `LEFT OUT` becomes `Left out`. A title whose
/// first word is not in capitals, such as the name of a bottle, stays as it is.
fn lowered(title: &str) -> String {
    let is_loud = |word: &str| word.trim_end_matches(',').chars().all(char::is_uppercase);
    let mut words = title.split(' ');
    let first = words.next().filter(|word| is_loud(word)).map(str::chars);
    let Some((letter, rest)) = first.and_then(|mut letters| Some((letters.next()?, letters))) else {
        return title.to_owned();
    };
    let small = |word: &str| if is_loud(word) { word.to_lowercase() } else { word.to_owned() };
    let words = std::iter::once(rest.as_str()).chain(words).map(small);
    letter.to_string() + &words.collect::<Vec<_>>().join(" ")
}

fn block(page: &mut Markup, block: &Block) {
    match block {
        Block::Paragraph(text) => page.within("p", |page| whole_names(page, text)),
        Block::Safety(lines) => safety_lines(page, lines),
        Block::List(Bullet::Dash, items) => page.list("ul", items),
        Block::List(Bullet::Box, items) => page.list("ul class=\"boxed\"", items),
        Block::List(Bullet::Warning, items) => page.list("ul class=\"warnings\"", items),
        Block::Named(pairs) => page.within("dl", |page| {
            for (name, text) in pairs {
                page.element("dt", name);
                page.within("dd", |page| whole_names(page, text));
            }
        }),
        Block::Table(table) => page.within("div class=\"wide\"", |page| rows(page, table)),
        Block::Light(text) => page.element("p class=\"light\"", text),
        Block::Link(link) => page.within("div class=\"code\"", |page| self::link(page, link)),
        Block::Lines(lines) => page.within("pre", |page| {
            for line in lines {
                page.text(line);
                page.own("\n");
            }
        }),
        Block::Figures(figures) => page.within("div class=\"drawn\"", |page| {
            figures.iter().for_each(|figure| page.picture(&figure.0));
        }),
        Block::Baths(baths) => evening::bottles(page, baths),
        Block::Step(step) => evening::step(page, step),
        Block::Total(total) => evening::total(page, total),
        Block::Stubs(stubs) => evening::stubs(page, stubs),
        Block::Rolls(places) => rolls(page, places),
    }
}

/// Adds a link as text, with its QR code. The text is not a link to tap, because a tap would leave the page during a
/// session.
fn link(page: &mut Markup, link: &str) {
    Code::of(link).iter().for_each(|code| page.code(code));
    page.element("p", link);
}

/// Adds a list of rolls. Rolls with a slot in a tank have a box to tick.
fn rolls(page: &mut Markup, places: &[Place]) {
    let labelled = |page: &mut Markup, place: &Place| {
        page.element("b", &place.label);
        page.own(" ");
        page.element("span", &place.what);
        if !place.end.is_empty() {
            page.own(" ");
            page.element("i", place.end);
        }
    };
    if places.iter().all(|place| place.slots.is_empty()) {
        return page.within("ul", |page| {
            places.iter().for_each(|place| page.within("li", |page| labelled(page, place)));
        });
    }
    // A stack of reels is listed from the top. So the first slot of its list has the greatest number.
    let slots = || places.iter().filter_map(|place| place.slots.parse::<u32>().ok());
    let is_stack = slots().next() > slots().next_back();
    page.within(if is_stack { "ol reversed" } else { "ol" }, |page| {
        for place in places {
            page.within("li", |page| ticked(page, |page| page.within("span", |page| labelled(page, place))));
        }
    });
}

fn ticked(page: &mut Markup, fill: impl FnOnce(&mut Markup)) {
    page.within("label", |page| {
        page.own(TICK);
        fill(page);
    });
}

fn rows(page: &mut Markup, table: &Table) {
    let has_head = table.columns.iter().any(|column| !column.title.is_empty());
    let cells = table.cells();
    page.within("table", |page| {
        if has_head {
            page.within("thead", |page| {
                page.within("tr", |page| {
                    cells.iter().for_each(|(column, _)| page.element("th scope=\"col\"", column.title));
                });
            });
        }
        page.within("tbody", |page| {
            for at in 0..table.rows.len() {
                page.line("tr", |page| row(page, table, &cells, (at, has_head)));
            }
        });
    });
}

fn row(page: &mut Markup, table: &Table, cells: &[(&Column, Vec<String>)], (at, has_head): (usize, bool)) {
    let last = cells.len().saturating_sub(1);
    for (column, (kind, texts)) in cells.iter().enumerate() {
        let text = texts.get(at + usize::from(has_head)).map(|text| text.trim()).unwrap_or_default();
        let below = table.below.get(at).filter(|below| column == last && !below.is_empty());
        let fill = |page: &mut Markup| {
            page.text(text);
            below.iter().for_each(|below| page.element("p", below));
        };
        match (column == 0, kind.align) {
            (true, _) => page.within("th scope=\"row\"", |page| {
                if table.has_boxes { ticked(page, |page| page.element("span", text)) } else { fill(page) }
            }),
            (false, _) => page.within("td", fill),
        }
    }
}

/// Adds text in which words with hyphens, such as the names of recipes, are not broken across lines.
fn whole_names(page: &mut Markup, text: &str) {
    for (at, word) in bound(text).split(' ').enumerate() {
        page.own(if at > 0 { " " } else { "" });
        if word.contains('-') {
            page.element("b", word);
        } else {
            page.text(word);
        }
    }
}

fn safety_lines(page: &mut Markup, lines: &[SafetyLine]) {
    page.element("h2", "Safety");
    page.element("p", SAFETY_HEADING);
    page.within("ul", |page| {
        for SafetyLine { word, text } in &SafetyLine::entries(lines) {
            page.line("li", |page| {
                page.element("b", word);
                page.text(&format!(" {text}"));
            });
        }
    });
}

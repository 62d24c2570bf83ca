//! The search of a site of a thousand recipes. How much it changes is counted, because a time depends on the machine.

use serde_json::{Value, json};

use super::pages::{Pages, site_of};
use crate::program::Run;

const RECIPES: usize = 1_000;

/// A shelf of a film, two solutions and a recipe in each of a thousand files.
fn many() -> Run {
    let made = include_str!("../../speed/made.txt");
    let text = |number: usize| {
        let times = [("LONGER", "19:00"), ("LONG", "14:00"), ("MIDDLE", "12:00"), ("SHORT", "11:00")];
        let own = made.replace("NUMBER", &number.to_string());
        times.iter().fold(format!("wetside 1\n\n{own}"), |text, (word, time)| text.replace(word, time))
    };
    (0..RECIPES).fold(Run::new(), |run, at| run.file(&format!("recipes/film-{at}.wet"), text(at)))
}

/// The entries that a search shows, and how many attributes it writes.
fn search(pages: &mut Pages, words: &str) -> (u64, u64) {
    let found = pages.value(&format!(
        "(() => {{
            const changes = new MutationObserver(() => {{ }});
            changes.observe(document.querySelector('main'), {{ attributes: true, subtree: true }});
            const field = document.querySelector('#search [name=words]');
            field.value = {};
            field.dispatchEvent(new Event('input', {{ bubbles: true }}));
            const shown = document.querySelectorAll('[data-words]:not([hidden])').length;
            return [shown, changes.takeRecords().length];
        }})()",
        json!(words)
    ));
    (found[0].as_u64().unwrap(), found[1].as_u64().unwrap())
}

#[test]
fn a_search_changes_only_what_it_shows_or_hides() {
    let Some(run) = site_of(many()) else { return };
    let Some(mut pages) = Pages::of(run) else { return };
    let address = pages.on_disk("index.html");
    pages.open(&address);
    pages.until("document.getElementById('status').textContent");
    assert_eq!(pages.value("document.getElementById('status').textContent"), json!("4000 / 4000"));
    // Recipes, films and both solutions of the numbers 77 and 770 to 779.
    let before =
        pages.value("document.querySelectorAll('[data-words]:not([hidden])').length").as_u64().unwrap();
    let (shown, changed) = search(&mut pages, "film-77");
    assert_eq!(pages.value("document.getElementById('status').textContent"), json!("44 / 4000"));
    assert_eq!(shown, 44);
    // Each entry once, the three sections and the button.
    assert!(before == 200 && changed <= before + shown + 4, "{before}, {shown}, {changed}");
    let (shown, changed) = search(&mut pages, "recipe");
    assert!(shown == 200 && changed <= 44 + 200 + 4, "{shown}, {changed}");
    assert_eq!(pages.value("document.getElementById('rest').hidden"), json!(false));
    pages.value("document.getElementById('rest').click()");
    let all = pages.value("document.querySelectorAll('[data-words]:not([hidden])').length");
    assert!(all.as_u64() >= Some(RECIPES as u64), "{all}");
    assert_eq!(pages.value("document.getElementById('rest').hidden"), json!(true));
    let (shown, _) = search(&mut pages, "no-such-word");
    assert_eq!(
        (shown, pages.value("document.getElementById('status').textContent")),
        (0, json!("Nothing has all of these words."))
    );
}

/// The card of a page of a large shelf changes without another look at the shelf: its request names one file.
#[test]
fn a_change_of_the_form_is_one_request() {
    let Some(run) = site_of(many()) else { return };
    let Some(mut pages) = Pages::of(run) else { return };
    let address = pages.on_disk("recipes/film-7/recipe-7.html#at=20C&rolls=2x120");
    pages.open(&address);
    pages.until("document.querySelector('#card .work')");
    let asked: Value = pages.value(
        "(() => {
            const asked = [];
            const ask = compiler.ask;
            compiler.ask = (request) => { asked.push(request.ask); return ask(request); };
            const card = document.getElementById('card');
            const [kept, work] = [card.querySelector('.cautions'), card.querySelector('.work').textContent];
            const field = document.querySelector('#evening [name=at]');
            field.value = '21C';
            field.dispatchEvent(new Event('input', { bubbles: true }));
            return [asked, card.querySelector('.cautions') === kept, card.querySelector('.work').textContent !== work];
        })()",
    );
    assert_eq!(asked, json!([["card"], true, true]));
}

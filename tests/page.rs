//! The HTML page of a card: untrusted text, its security policy, and completeness against the card on paper.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;
use sha2::{Digest, Sha256};

use crate::evenings::{output, shelf, two_evenings};
use crate::printed;
use crate::program::Run;
use crate::titled::{HOSTILE, titled};

/// A parsed page: its tags, its text, and the content of its styles and scripts.
#[derive(Default)]
struct Page {
    tags: Vec<String>,
    text: String,
    styles: Vec<String>,
    scripts: Vec<String>,
    data: Vec<String>,
}

impl Page {
    fn of(html: &str) -> Page {
        let (mut page, mut rest) = (Page::default(), html);
        while let Some((text, after)) = rest.split_once('<') {
            page.text.push_str(&unescaped(text));
            page.text.push(' ');
            let (tag, text_after) = after.split_once('>').expect("every tag is closed");
            page.tags.push(tag.to_owned());
            rest = text_after;
            // The contents of these are not tags until their closing tag.
            let (end, into) = match tag {
                "style" => ("</style", &mut page.styles),
                "script" => ("</script", &mut page.scripts),
                _ if tag.starts_with("script ") => ("</script", &mut page.data),
                _ => continue,
            };
            let at = rest.to_ascii_lowercase().find(end).expect("it ends");
            into.push(rest[..at].to_owned());
            rest = &rest[at..];
        }
        page.text.push_str(rest);
        page
    }

    fn sorted_tags(&self) -> Vec<&str> {
        let mut tags: Vec<&str> = self.tags.iter().map(String::as_str).collect();
        tags.sort_unstable();
        tags
    }

    fn policy(&self) -> BTreeMap<String, String> {
        let head = "meta http-equiv=\"Content-Security-Policy\" content=\"";
        let policy = self.tags.iter().find_map(|tag| tag.strip_prefix(head)).expect("there is a policy");
        let directives = unescaped(policy.trim_end_matches('"'));
        let pairs = directives.split("; ").map(|one| one.split_once(' ').unwrap());
        pairs.map(|(name, sources)| (name.to_owned(), sources.to_owned())).collect()
    }
}

fn unescaped(text: &str) -> String {
    let signs = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#39;", "'"), ("&amp;", "&")];
    signs.into_iter().fold(text.to_owned(), |text, (escape, sign)| text.replace(escape, sign))
}

fn html(run: Run) -> String {
    run.args(["--as", "html"]).succeeds()
}

#[test]
fn no_title_adds_a_tag_or_an_attribute() {
    let (plain, hostile) = (html(titled("Slack")), html(titled(HOSTILE)));
    let (plain, hostile) = (Page::of(&plain), Page::of(&hostile));
    assert!(plain.tags.len() > 50, "{:?}", plain.tags);
    assert_eq!(plain.sorted_tags(), hostile.sorted_tags());
    assert_eq!((&plain.styles, &plain.scripts), (&hostile.styles, &hostile.scripts));
    assert_eq!(plain.text.matches("Slack").count(), hostile.text.matches(HOSTILE).count());
    let data: Value = serde_json::from_str(&hostile.data[0]).unwrap();
    assert!(data["steps"][0]["bath"].as_str().unwrap().contains(HOSTILE), "{data}");
    assert!(!hostile.data[0].contains('<'));
}

#[test]
fn the_policy_allows_only_one_style_and_one_script() {
    let page = html(titled("Slack"));
    assert!(!page.contains('\r'), "a browser would hash another text");
    let page = Page::of(&page);
    let policy = page.policy();
    let hash = |name: &str| {
        let source = policy[name].strip_prefix("'sha256-").unwrap().strip_suffix('\'').unwrap();
        data_encoding::BASE64.decode(source.as_bytes()).unwrap()
    };
    assert_eq!((page.styles.len(), page.scripts.len(), page.data.len()), (1, 1, 1));
    assert_eq!(hash("style-src"), Sha256::digest(&page.styles[0]).to_vec());
    assert_eq!(hash("script-src"), Sha256::digest(&page.scripts[0]).to_vec());
    for closed in ["default-src", "base-uri", "form-action"] {
        assert_eq!(policy[closed], "'none'");
    }
    assert_eq!(policy.len(), 5, "{policy:?}");
    let head = page.tags.iter().position(|tag| tag.contains("Content-Security-Policy")).unwrap();
    let first = page.tags.iter().position(|tag| tag == "style" || tag == "script").unwrap();
    assert!(head < first, "a policy applies only to what follows it");
}

/// Indents and comments would be 5 % of the page.
#[test]
fn style_and_script_have_no_indents_or_comments() {
    let page = html(titled("Slack"));
    let page = Page::of(&page);
    for line in page.styles[0].lines().chain(page.scripts[0].lines()) {
        let is_bare = !line.is_empty() && !line.starts_with([' ', '/']);
        assert!(is_bare, "{line:?}");
    }
}

#[test]
fn the_page_loads_nothing_and_has_no_inline_style_or_script() {
    let page = html(titled("Slack"));
    let taken = Page::of(&page);
    for tag in &taken.tags {
        let attributes = tag.split(' ').skip(1).filter_map(|part| part.split_once('=')).map(|(name, _)| name);
        for name in attributes {
            assert!(!["src", "href", "style", "srcset", "action"].contains(&name), "{tag}");
            assert!(!name.starts_with("on"), "{tag}");
        }
    }
    for word in ["http:", "https:", "url(", "@import", "fetch(", "innerHTML", "import("] {
        assert!(!page.contains(word), "{word}");
    }
}

/// The page's picture is that of the file, without the caption and the parts that only a file needs.
#[test]
fn the_pictures_of_the_page_equal_the_picture_files() {
    let call = ["card", "estuary-400-mq", "--at", "21.5C", "--rolls", "5x120", "--tank", "tall-five"];
    let mut run = shelf().args(call);
    let page = html(run.again().args(call));
    let mut pictures = page.split("<svg ").skip(1).map(|rest| rest.split_once("</svg>").unwrap().0);
    for form in ["strip", "curve"] {
        run = shelf().args(call).args(["--as", form]);
        let file = run.succeeds();
        let picture = pictures.next().unwrap();
        let (shapes, own) = (body(picture), body(&file));
        assert!(20 < shapes.len(), "{shapes:?}");
        assert!(own[0].contains(">Estuary 400 in MQ borax 1+1</text>"), "{own:?}");
        assert_eq!(shapes, &own[1..], "{form}");
        for text in ["<title", "<desc"] {
            let line = |of: &str| of.lines().find(|line| line.starts_with(text)).unwrap().to_owned();
            assert_eq!(line(picture), line(&file));
        }
    }
    assert_eq!(pictures.next(), None);
}

/// The lines that draw shapes.
fn body(svg: &str) -> Vec<&str> {
    let draws = |line: &&str| ["<rect", "<poly", "<circle", "<text"].iter().any(|tag| line.starts_with(tag));
    svg.lines().filter(draws).collect()
}

#[test]
fn ids_on_a_page_are_unique_and_references_resolve() {
    two_evenings(|run, name| {
        let run = run.args(["--as", "html"]);
        let page = Page::of(&output(&run));
        let valued = |of: &str| {
            let values = page.tags.iter().filter_map(|tag| tag.split_once(&format!(" {of}=\"")));
            let values = values.flat_map(|(_, rest)| rest.split_once('"').unwrap().0.split(' '));
            values.map(str::to_owned).collect::<Vec<_>>()
        };
        let ids = valued("id");
        let unique: BTreeSet<&String> = ids.iter().collect();
        assert_eq!(unique.len(), ids.len(), "{name}: {ids:?}");
        let named = valued("aria-labelledby");
        assert!(3 <= named.len(), "{name}: {named:?}");
        assert!(named.iter().all(|id| unique.contains(id)), "{name}: {named:?}");
        run
    });
}

/// The first bath takes 2:00, which is 120,000 ms; the green lamp may burn from the developer on.
#[test]
fn the_page_has_the_light_of_each_step() {
    let call =
        ["card", "headrace-125-inspected", "--at", "20C", "--rolls", "4x8x10in", "--tank", "sheet-trays"];
    let page = Page::of(&html(shelf().args(call)));
    let data: Vec<Value> = page.data.iter().filter_map(|data| serde_json::from_str(data).ok()).collect();
    let on = data.iter().find_map(|data| data.get("lid")?.get("on")).unwrap();
    let green = serde_json::json!([120_000, "SAFELIGHT ONLY", "dark green, 1.5 m away, 5 s a look"]);
    assert_eq!(*on, serde_json::json!([[0, "DARK", null], green]));
}

fn words(text: &str) -> Vec<String> {
    text.split_whitespace().map(|word| word.trim_end_matches(':').to_lowercase()).collect()
}

/// A line of a step that says what to do, or continues another: the page says it as paper does.
fn instructs(line: &str) -> bool {
    let is_time = |word: &str| word.chars().all(|letter| letter.is_ascii_digit() || ":.".contains(letter));
    let word = line.trim_start().split("  ").next().unwrap_or_default();
    line.starts_with("     ")
        || line.starts_with("  ") && (is_time(word) || ["first", "then"].contains(&word))
}

/// Every word of the text of the card, in any order; the page has no rows of dashes.
#[test]
fn the_page_has_every_word_of_the_text_card() {
    two_evenings(|run, name| {
        let run = run.args(["--width", "200", "--why"]);
        let card = run.succeeds();
        let run = run.args(["--as", "html"]);
        let page = Page::of(&output(&run));
        let there = words(&page.text);
        let (before, work) = card.split_once("\nWORK\n").unwrap();
        let (work, after) = work.split_once("\nTOTAL ").unwrap();
        let work: Vec<&str> = work.lines().filter(|line| !instructs(line)).collect();
        assert!(5 < work.len(), "{name}: {work:?}");
        for word in [words(before), words(&work.join(" ")), words(after)].concat() {
            let is_drawing = word.chars().all(|letter| "-!+·".contains(letter));
            assert!(is_drawing || there.contains(&word), "{name}: {word} is not on the page");
        }
        run
    });
}

/// The words between spaces and hyphens, at which paper may break a line, and how often each occurs.
fn counted(text: &str) -> BTreeMap<String, usize> {
    let mut all = BTreeMap::new();
    for word in text.split(|letter: char| letter.is_whitespace() || letter == '-') {
        let word = word.trim_matches(|letter: char| !letter.is_alphanumeric()).to_lowercase();
        if word.contains(|letter: char| letter.is_alphabetic() || letter == ':') {
            *all.entry(word).or_default() += 1;
        }
    }
    all
}

/// The words and times of the PDF, whose steps other tests compare with the schedule.
#[test]
fn the_page_has_every_word_and_time_of_the_card_on_paper() {
    two_evenings(|run, name| {
        let paper = run.clone().args(["-o", "card.pdf"]);
        assert_eq!(paper.succeeds(), "");
        let Some(paper) = printed::words(&paper.folder().join("card.pdf")) else { return run };
        let run = run.args(["--as", "html"]);
        let page = counted(&Page::of(&output(&run)).text);
        // This line is at the foot of each sheet.
        for (word, count) in counted(&paper.replace("Next bath from 0:00.", "")) {
            let there = page.get(&word).copied().unwrap_or(0);
            let least = if word.contains(':') { count } else { 1 };
            assert!(there >= least, "{name}: {word} is {there} times of {count}");
        }
        run
    });
}

#[test]
fn every_page_of_the_shelf_is_below_a_hundred_and_fifteen_kilobytes_and_reproducible() {
    let mut seen = 0;
    two_evenings(|run, name| {
        let run = run.args(["--as", "html"]);
        let page = output(&run);
        assert!(page.len() < 115_000, "{name}: {} bytes", page.len());
        assert_eq!(page, run.succeeds(), "{name}");
        seen += 1;
        run
    });
    assert!(0 < seen);
}

/// Two sessions share stored progress only if all their moments agree.
#[test]
fn each_evening_stores_its_own_progress() {
    let mut keys = BTreeMap::new();
    two_evenings(|run, name| {
        let run = run.args(["--as", "html"]);
        let data: Value = serde_json::from_str(&Page::of(&output(&run)).data[0]).unwrap();
        let other = keys.insert(data["key"].as_str().unwrap().to_owned(), name.clone());
        assert_eq!(other, None, "{name}");
        run
    });
    assert!(1 < keys.len());
}

//! A site of static pages about a shelf, with the compiler in the pages. It works from any web server, and as files on
//! a disk.

use std::collections::BTreeMap;

use data_encoding::BASE64;
use serde_json::json;
use sha2::{Digest, Sha256};

use super::Texts;
use super::desk::MemoryDesk;
use super::shelf::{self, ShelfList, listed};
use crate::emit::{encoded, escaped, policy, style};
use crate::source::Set;

/// The template of every page. Each `{{name}}` in it is replaced by a value.
const FRAME: &str = include_str!("site/frame.html");
const INDEX: &str = include_str!("site/index.html");
const RECIPE: &str = include_str!("site/recipe.html");
const SOLUTION: &str = include_str!("site/solution.html");
const VOLUME: &str = include_str!("site/volume.html");
const BENCH: &str = include_str!("site/bench.html");
const EVENING: &str = include_str!("site/evening.html");
/// The recipe that the page `bench.html` shows at first. A person can edit it there.
const EXAMPLE: &str = include_str!("site/example.txt");
const STYLE: &str = include_str!("site/site.css");
const WORKER: &str = include_str!("site/worker.js");
const SCRIPT: &str = concat!(
    include_str!("site/base.js"),
    include_str!("site/card.js"),
    include_str!("site/recipe.js"),
    include_str!("site/solution.js"),
    include_str!("site/index.js"),
    include_str!("site/bench.js"),
);

/// The texts that the scripts show, by key. All other texts of the site are from the compiler or the templates.
const WORDS: &[(&str, &str)] = &[
    ("waiting", "Write the temperature of the baths and the rolls: the card appears."),
    ("refused", "There is no card for this:"),
    ("nothing", "Nothing has all of these words."),
    ("show", "Show"),
    ("long", "This recipe is too long for a link. Save it to the disk, and send the file."),
    ("unclear", "The recipe in this link cannot be read. Ask for the file instead."),
    (
        "internal",
        "This is an error in wetside itself. The compiler has started again: change something to go on.",
    ),
];

/// A page of documentation, such as the guide.
pub struct Document {
    /// The name of the page's file, without `.html`: `guide`.
    pub name: &'static str,
    /// The title of the documentation page.
    pub title: &'static str,
    /// The body of the documentation page, as HTML.
    pub body: String,
}

/// What a site is made from.
pub struct Site<'a> {
    /// The title of the page `index.html`.
    pub title: &'a str,
    /// The texts of the recipe files, by file name.
    pub files: BTreeMap<String, String>,
    /// The compiler as a WebAssembly module, compressed with DEFLATE.
    pub module: &'a [u8],
    /// The pages of documentation: the guide and the reference.
    pub documents: &'a [Document],
}

/// The texts of a site's files, by path, and what the recipe files declare.
pub fn site(site: Site<'_>) -> (BTreeMap<String, String>, ShelfList) {
    let script = script(site.module);
    let shelf = format!("const SHELF = {};\n", in_script(&json!(site.files)));
    let texts = Texts::new(site.files.into());
    let desk = MemoryDesk(texts.clone());
    let list = listed(&desk);
    let mut files = BTreeMap::new();
    let tanks: String = list.tanks.iter().map(tank_option).collect();
    let tanks = Markup(tanks);
    let mut add = |path: String, page: Page<'_>| {
        files.insert(path, page.text());
    };
    add("index.html".to_owned(), Page { page: "index", ..Page::of(site.title, index(site.title, &list)) });
    let bench_form = evening(&tanks, "<label>Recipe<select id=\"recipe\"></select></label>\n");
    let bench = filled(BENCH, &[("evening", &bench_form)]);
    add("bench.html".to_owned(), Page { page: "bench", ..Page::of("Bench", bench) });
    for Document { name, title, body } in site.documents {
        add(format!("{name}.html"), Page::of(title, Markup(body.clone())));
    }
    let texts = texts.borrow();
    let text = |file: &str| texts.get(file).map_or("", String::as_str);
    for recipe in &list.recipes {
        let body = recipe_page(recipe, text(&recipe.file), &tanks);
        let (file, name) = (&*recipe.file, &*recipe.name);
        add(
            format!("{}.html", address("recipes", file, name)),
            Page { page: "recipe", file, name, up: up(file), ..Page::of(&recipe.title, body) },
        );
    }
    for solution in &list.solutions {
        let body = solution_page(solution, text(&solution.file));
        let (file, name) = (&*solution.file, &*solution.name);
        add(
            format!("{}.html", address("solutions", file, name)),
            Page { page: "solution", file, name, up: up(file), ..Page::of(&solution.title, body) },
        );
    }
    files.insert("wetside.js".to_owned(), script);
    files.insert("wetside.css".to_owned(), format!("{}{STYLE}", style()));
    files.insert("shelf.js".to_owned(), shelf);
    files.insert("worker.js".to_owned(), worker(&files));
    (files, list)
}

/// A JSON value for use in a script, with the characters escaped that could end the script or a line in it.
fn in_script(value: &serde_json::Value) -> String {
    value.to_string().replace('<', "\\u003c").replace('\u{2028}', "\\u2028").replace('\u{2029}', "\\u2029")
}

/// The script that every page loads, with the compiler in it.
fn script(module: &[u8]) -> String {
    let words: BTreeMap<&str, &str> = WORDS.iter().copied().collect();
    let strict = "\"use strict\";\n";
    format!(
        "{strict}const WORDS = {};\nconst EXAMPLE = {};\nconst MODULE = \"{}\";\n{}",
        in_script(&json!(words)),
        in_script(&json!(EXAMPLE)),
        BASE64.encode(module),
        SCRIPT.strip_prefix(strict).unwrap_or(SCRIPT),
    )
}

/// The service worker, which stores all files of the site so that it works without a network. Its text changes if any
/// file changes, so that the browser stores the files again.
fn worker(files: &BTreeMap<String, String>) -> String {
    let mut hash = Sha256::new();
    files.iter().for_each(|(path, text)| {
        hash.update(path);
        hash.update(text);
    });
    let version: String = data_encoding::HEXLOWER.encode(&hash.finalize()).chars().take(16).collect();
    let names: Vec<String> = files.keys().map(|path| encoded(path)).collect();
    format!("const FILES = {};\n{}", in_script(&json!(names)), WORKER.replace("SITE", &version))
}

/// The path of a page, without `.html`: `recipes/films/estuary/dusk` for the recipe `dusk` in `films/estuary.wet`.
fn address(folder: &str, file: &str, name: &str) -> String {
    format!("{folder}/{}/{name}", file.strip_suffix(".wet").unwrap_or(file))
}

/// The relative path from the page of a recipe or solution up to the folder of `index.html`: `../../` for
/// `estuary.wet`.
fn up(file: &str) -> String {
    "../".repeat(file.matches('/').count() + 2)
}

#[derive(Clone)]
struct Markup(String);

/// The template, in which each `{{name}}` is replaced by its value.
fn filled(template: &str, values: &[(&str, &Markup)]) -> Markup {
    let mut text = String::new();
    let mut pieces = template.trim_end().split("{{");
    text.push_str(pieces.next().unwrap_or_default());
    for piece in pieces {
        let (name, rest) = piece.split_once("}}").unwrap_or((piece, ""));
        let value = values.iter().find(|(own, _)| *own == name);
        text.push_str(value.map_or("", |(_, value)| &value.0));
        text.push_str(rest);
    }
    Markup(text)
}

fn plain(text: &str) -> Markup {
    Markup(escaped(text))
}

struct Page<'a> {
    title: &'a str,
    page: &'a str,
    file: &'a str,
    name: &'a str,
    up: String,
    body: Markup,
}

impl<'a> Page<'a> {
    fn of(title: &'a str, body: Markup) -> Page<'a> {
        Page { title, page: "text", file: "", name: "", up: String::new(), body }
    }

    fn text(&self) -> String {
        let [style, script] = policy();
        let values = [
            ("script", &Markup(script.to_owned())),
            ("style", &Markup(style.to_owned())),
            ("title", &plain(self.title)),
            ("up", &Markup(self.up.clone())),
            ("page", &plain(self.page)),
            ("file", &plain(self.file)),
            ("name", &plain(self.name)),
            ("main", &self.body),
        ];
        filled(FRAME, &values).0 + "\n"
    }
}

fn tank_option(tank: &shelf::Tank) -> String {
    let formats = tank.formats.join(", ");
    format!(
        "<option value=\"{}\">{} ({})</option>",
        escaped(&tank.name),
        escaped(&tank.title),
        escaped(&formats)
    )
}

fn evening(tanks: &Markup, choice: &str) -> Markup {
    let waiting = WORDS.iter().find(|(name, _)| *name == "waiting").map_or("", |(_, text)| text);
    filled(EVENING, &[("tanks", tanks), ("choice", &Markup(choice.to_owned())), ("waiting", &plain(waiting))])
}

fn recipe_page(recipe: &shelf::Recipe, text: &str, tanks: &Markup) -> Markup {
    let index = recipe.index.map(|index| format!(" at {index}")).unwrap_or_default();
    let deprecated = recipe.deprecated.as_ref().map(|why| {
        format!(
            "<p class=\"warnings\">Its author says that it is no longer to be used: {}</p>\n",
            escaped(why)
        )
    });
    let values = [
        ("title", &plain(&recipe.title)),
        ("name", &plain(&recipe.name)),
        ("fingerprint", &plain(&recipe.fingerprint)),
        ("film", &plain(&recipe.film)),
        ("index", &plain(&index)),
        ("file", &plain(&recipe.file)),
        ("deprecated", &Markup(deprecated.unwrap_or_default())),
        ("evening", &evening(tanks, "")),
        ("text", &plain(text)),
    ];
    filled(RECIPE, &values)
}

fn solution_page(solution: &shelf::Solution, text: &str) -> Markup {
    let role = solution.role.map(|role| format!(", {role}")).unwrap_or_default();
    let form = match solution.formula {
        true => filled(VOLUME, &[]),
        false => Markup("<p>It is bought: dilute it as its label says.</p>".to_owned()),
    };
    let values = [
        ("title", &plain(&solution.title)),
        ("name", &plain(&solution.name)),
        ("role", &plain(&role)),
        ("file", &plain(&solution.file)),
        ("form", &form),
        ("text", &plain(text)),
    ];
    filled(SOLUTION, &values)
}

/// An entry in a list on the page `index.html`.
#[derive(Default)]
struct Entry<'a> {
    kind: &'a str,
    /// The path of the entry's page, without `.html`; `None` if the entry has no page.
    path: Option<String>,
    title: &'a str,
    /// Short texts that the entry shows after the title.
    about: Vec<&'a str>,
    /// Further words by which the search finds the entry, besides `title` and `about`.
    words: Vec<&'a str>,
    film: &'a str,
    steps: Vec<&'a str>,
    /// The name and the fingerprint of a recipe, by which the page finds the entry for the link on a card.
    recipe: Option<(&'a str, &'a str)>,
}

fn entry(entry: Entry<'_>) -> String {
    let Entry { kind, path, title, mut about, words, film, steps, recipe } = entry;
    about.retain(|text| !text.is_empty());
    let words = format!("{title} {} {}", about.join(" "), words.join(" ")).to_lowercase();
    let name = match path {
        Some(path) => format!("<a href=\"{}.html\">{}</a>", escaped(&encoded(&path)), escaped(title)),
        None => escaped(title),
    };
    let (words, about) = (escaped(&words), escaped(&about.join(" · ")));
    let (film, steps) = (escaped(film), steps.join(" "));
    let recipe = recipe.map(|(name, fingerprint)| {
        format!(" data-name=\"{}\" data-fingerprint=\"{}\"", escaped(name), escaped(fingerprint))
    });
    let recipe = recipe.unwrap_or_default();
    format!(
        "<li data-kind=\"{kind}\" data-words=\"{words}\" data-film=\"{film}\" data-steps=\"{steps}\"{recipe}>\
         {name}<span>{about}</span></li>\n"
    )
}

fn options<'a>(values: impl Iterator<Item = &'a str>) -> Markup {
    let all: Set<&str> = values.collect();
    Markup(all.into_iter().map(|one| format!("<option>{}</option>", escaped(one))).collect())
}

fn index(title: &str, list: &ShelfList) -> Markup {
    let recipes = list.recipes.iter().map(|one| {
        let path = address("recipes", &one.file, &one.name);
        let index = one.index.map(|index| index.to_string()).unwrap_or_default();
        let developer = one.solutions.first().map_or("", String::as_str);
        let about = vec![&*one.film, &*index, developer, &*one.fingerprint];
        let words = one.solutions.iter().map(String::as_str).chain([&*one.name, &*one.file]).collect();
        let (kind, title, film, steps) = ("recipe", &*one.title, &*one.film, one.steps.clone());
        let recipe = Some((&*one.name, &*one.fingerprint));
        entry(Entry { kind, path: Some(path), title, about, words, film, steps, recipe })
    });
    let films = list.films.iter().map(|one| {
        let speed = one.speed.map(|speed| format!("ISO {speed}")).unwrap_or_default();
        let about = vec![one.material, &*speed, &*one.name, &*one.file];
        entry(Entry { kind: "film", title: &one.title, film: &one.title, about, ..Entry::default() })
    });
    let solutions = list.solutions.iter().map(|one| {
        let path = address("solutions", &one.file, &one.name);
        let about = vec![one.role.unwrap_or_default(), &*one.name, &*one.file];
        entry(Entry { kind: "solution", path: Some(path), title: &one.title, about, ..Entry::default() })
    });
    let unsound = match list.unsound.as_slice() {
        [] => String::new(),
        files => {
            format!("<p class=\"warnings\">Left out because of errors: {}</p>", escaped(&files.join(", ")))
        }
    };
    let values = [
        ("title", &plain(title)),
        ("unsound", &Markup(unsound)),
        ("materials", &options(list.recipes.iter().map(|one| &*one.film))),
        ("steps", &options(list.recipes.iter().flat_map(|one| one.steps.iter().copied()))),
        ("recipes", &Markup(recipes.collect())),
        ("films", &Markup(films.collect())),
        ("solutions", &Markup(solutions.collect())),
    ];
    filled(INDEX, &values)
}

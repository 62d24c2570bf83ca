//! The list of what a root folder declares, with a line for each recipe, film or other thing; and as JSON by
//! `grammar/list.schema.json`.

use super::object::{Json, Object, list};
use super::phrase::count;
use super::plain::{plain, table};
use crate::model::{Date, Fingerprint, Material, Recipe, Role, short};

/// Raise this version when a change breaks programs that read the JSON.
const VERSION: u32 = 1;

/// How many digits of a commit's hash a line shows.
const COMMIT: usize = 10;

/// A line of a listing: a recipe, film, solution, tank, collection, session, or old state of a recipe.
#[derive(Debug, Clone)]
pub struct Listed {
    /// The name of the listed thing. The name of what a collection exports begins with the collection: `club/usual`.
    pub name: String,
    /// The title of the listed thing, or else its name without a prefix such as `club/`; `None` for a session.
    pub title: Option<String>,
    /// The name of the file that declares the listed thing.
    pub file: String,
    /// The kind of the listed thing, with its details.
    pub about: About,
}

/// The kind of a listed thing, with its details.
#[derive(Debug, Clone)]
pub enum About {
    /// A recipe.
    Recipe {
        /// The name of the recipe's film; `None` for a base recipe, which has no film.
        film: Option<String>,
        /// The fingerprint of the recipe.
        fingerprint: Fingerprint,
    },
    /// A film, a paper or a plate.
    Film {
        /// Whether the thing is a film, a paper or a plate.
        material: Material,
        /// The nominal ISO speed, if the file states it.
        speed: Option<u32>,
    },
    /// A solution, with its role.
    Solution(Option<Role>),
    /// A tank, with the formats that it takes.
    Tank(String),
    /// A collection that the command `adopt` took in.
    Collection {
        /// The terms under which others may use the collection.
        licence: Option<String>,
        /// How many names the collection exports.
        exports: usize,
    },
    /// A recipe as it was in a git commit. Its title in the listing is the subject of the commit.
    Past {
        /// The hash of the commit.
        commit: String,
        /// The day of the commit.
        date: String,
        /// The recipe's fingerprint at that commit.
        fingerprint: Fingerprint,
    },
    /// A session.
    Session {
        /// The day of the session.
        date: Date,
        /// The name of the session's recipe on that day.
        recipe: String,
        /// The fingerprint of the session's recipe on that day.
        fingerprint: String,
        /// Whether the session was retracted.
        is_retracted: bool,
    },
}

impl About {
    /// The details of a recipe.
    pub fn of_recipe(recipe: &Recipe) -> About {
        let film = recipe.film.as_ref().map(|film| film.name.clone());
        About::Recipe { film, fingerprint: Fingerprint::of(recipe) }
    }

    fn word(&self) -> &'static str {
        match self {
            About::Recipe { .. } => "recipe",
            About::Film { material, .. } => material.word(),
            About::Solution(_) => "solution",
            About::Tank(_) => "tank",
            About::Collection { .. } => "collection",
            About::Past { .. } => "commit",
            About::Session { .. } => "session",
        }
    }

    /// Three columns of details, which follow the name; unused columns are empty.
    fn columns(&self) -> [String; 3] {
        let or_dash = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
        let none = String::new;
        match self {
            About::Recipe { film, fingerprint } => {
                [fingerprint.to_string(), or_dash(film.as_deref().map(plain)), none()]
            }
            About::Film { material, speed } => {
                [material.word().to_owned(), or_dash(speed.map(|speed| format!("ISO {speed}"))), none()]
            }
            About::Solution(role) => [or_dash(role.map(|role| role.word().to_owned())), none(), none()],
            About::Tank(formats) => [formats.clone(), none(), none()],
            About::Collection { licence, exports } => {
                let licence = licence.as_deref().map_or_else(|| "no licence".to_owned(), plain);
                [count(*exports, "export"), licence, none()]
            }
            About::Past { commit, date, fingerprint } => {
                let commit = commit.get(..COMMIT).unwrap_or(commit).to_owned();
                [fingerprint.to_string(), commit, plain(date)]
            }
            About::Session { date, recipe, fingerprint, is_retracted } => {
                let retracted = if *is_retracted { " (retracted)" } else { "" };
                [short(fingerprint), plain(recipe), format!("{date}{retracted}")]
            }
        }
    }
}

/// The listed things as a table, without column titles.
pub fn listing(things: &[Listed]) -> String {
    let row = |one: &Listed| {
        let [first, second, third] = one.about.columns();
        let title = one.title.as_deref().map(plain).unwrap_or_default();
        [plain(&one.name), first, second, third, plain(&one.file), title]
    };
    lines(&things.iter().map(row).collect::<Vec<_>>())
}

fn lines<const N: usize>(rows: &[[String; N]]) -> String {
    table(rows).iter().map(|line| format!("{}\n", line.trim_end())).collect()
}

/// The listed things as an indented JSON object. `left_out` names the files of which something is not listed.
pub fn listing_json(things: &[Listed], left_out: &[String]) -> String {
    Object::of("list", VERSION)
        .put("things", list(things, thing))
        .put("left_out", list(left_out, Json::from))
        .text()
}

fn thing(one: &Listed) -> Object {
    let object = Object::of("kind", one.about.word())
        .put("name", &one.name)
        .put("title", one.title.as_deref())
        .put("file", &one.file);
    match &one.about {
        About::Recipe { film, fingerprint } => {
            object.put("film", film.as_deref()).put("fingerprint", fingerprint.full())
        }
        About::Film { speed, .. } => object.put("speed", *speed),
        About::Solution(role) => object.put("role", role.map(Role::word)),
        About::Tank(formats) => object.put("formats", formats),
        About::Collection { licence, exports } => {
            object.put("licence", licence.as_deref()).put("exports", *exports)
        }
        About::Past { commit, date, fingerprint } => {
            object.put("commit", commit).put("date", date).put("fingerprint", fingerprint.full())
        }
        About::Session { date, recipe, fingerprint, is_retracted } => object
            .put("date", *date)
            .put("recipe", recipe)
            .put("fingerprint", fingerprint)
            .put("retracted", *is_retracted),
    }
}

/// The things whose fingerprint was searched for, as a table: kind, name, three columns of details, file and title.
pub fn found(things: &[Listed]) -> String {
    let row = |one: &Listed| {
        let [first, second, third] = one.about.columns();
        let title = one.title.as_deref().map(plain).unwrap_or_default();
        [one.about.word().to_owned(), plain(&one.name), first, second, third, plain(&one.file), title]
    };
    lines(&things.iter().map(row).collect::<Vec<_>>())
}

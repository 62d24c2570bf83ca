//! The state of tonight: a hidden folder `.tonight` beside the journal. It keeps the card made last, for `follow` and
//! `record`, and the key presses of a followed session.

use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use std::time::{Duration, SystemTime};

use clap::Parser as _;
use serde::{Deserialize, Serialize};

use super::evening::{Evening, Planned, bottles_of};
use super::given::{Asked, now};
use super::root::{HERE, printable};
use super::{Failure, fail, record, root, write};
use crate::compile::Schedule;
use crate::editor::Desk as _;
use crate::model::Date;

const FOLDER: &str = ".tonight";
const CARD: &str = "card.json";
const IGNORE: &str = ".gitignore";
/// `follow` and `record` use a card for this long after it was made.
const AGE_MAX: Duration = Duration::from_secs(24 * 3600);
/// The maximum size of a file that is read from `.tonight`, in bytes.
const BYTES_MAX: u64 = 1 << 20;
const VERSION: u32 = 1;

pub(super) struct LastCard {
    /// The arguments with which `wetside card` makes the same card again.
    pub(super) asked: Asked,
    pub(super) planned: Option<Planned>,
    pub(super) fingerprint: String,
    /// The day on which the work of the card begins.
    pub(super) date: Date,
}

/// The content of `card.json`, which is about the card made last.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Kept {
    version: u32,
    /// The folder above `.tonight`. If the file was copied to another folder, the copy is not used.
    folder: String,
    /// When the card was made, in seconds since 1970.
    made: u64,
    date: String,
    fingerprint: String,
    planned: Option<Planned>,
    /// The arguments with which `wetside card` makes the same card again.
    words: Vec<String>,
    /// The name of the session in the journal that records this card, if any.
    recorded: Option<String>,
}

/// The words of a call as the command line gives them.
#[derive(clap::Parser)]
#[command(no_binary_name = true)]
struct Words {
    #[command(flatten)]
    asked: Asked,
}

/// The folder above `.tonight`: the folder that contains the journal, else the current folder. It is searched for only
/// once, because the search for the journal reads many files.
static ABOVE: LazyLock<PathBuf> = LazyLock::new(|| {
    let journal = record::journal().ok().map(|journal| HERE.join(journal));
    journal.and_then(|journal| journal.parent().map(Path::to_owned)).unwrap_or_else(|| HERE.clone())
});

fn path(name: &str) -> PathBuf {
    ABOVE.join(FOLDER).join(name)
}

/// Writes a file in `.tonight`, whole or not at all. Makes the folder first, and keeps it out of git.
pub(super) fn keep(name: &str, text: &str) -> Result<(), Failure> {
    let folder = ABOVE.join(FOLDER);
    let made = match std::fs::symlink_metadata(&folder) {
        // If a link were in place of the folder, the file could be written to a folder elsewhere.
        Ok(there) if !there.is_dir() => {
            return fail(format!("{} is not a folder", folder.display()), "remove it");
        }
        Ok(_) => Ok(()),
        Err(_) => std::fs::create_dir(&folder),
    };
    made.map_err(|error| Failure::new(format!("{} cannot be made: {error}", folder.display()), ""))?;
    let file = folder.join(name);
    if file.is_symlink() {
        return fail(format!("{} is a link", file.display()), "remove it");
    }
    let ignore = folder.join(IGNORE);
    if !ignore.exists() {
        write::output(&ignore, b"*\n")?;
    }
    write::output(&file, text.as_bytes())
}

/// The text of a file in `.tonight`; `None` if there is no such file. The error says why the file cannot be used.
pub(super) fn kept(name: &str) -> Result<Option<String>, String> {
    let path = path(name);
    let is_own = |path: &Path| std::fs::symlink_metadata(path).map(|there| !there.is_symlink());
    match (path.parent().map(is_own), is_own(&path)) {
        (Some(Ok(true)), Ok(true)) => {}
        (Some(Ok(_)), Ok(_)) => return Err("it is a link".to_owned()),
        _ => return Ok(None),
    }
    match std::fs::metadata(&path) {
        Ok(file) if file.len() <= BYTES_MAX => {}
        Ok(_) => return Err("it is too large".to_owned()),
        Err(error) => return Err(error.to_string()),
    }
    std::fs::read_to_string(&path).map(Some).map_err(|error| error.to_string())
}

/// Removes a file in `.tonight`, if it is there. A link in place of the folder is not followed.
pub(super) fn forget(name: &str) {
    let path = path(name);
    if path.parent().is_some_and(|folder| !folder.is_symlink()) {
        let _ = std::fs::remove_file(path);
    }
}

/// The evening for `follow` or `record`. Without a recipe on the command line, it is completed from the card made last,
/// which is returned too.
pub(super) fn evening(command: &str, asked: &Asked) -> Result<(Evening, Option<LastCard>), Failure> {
    if asked.recipe.is_some() {
        return Ok((Evening::of(command, asked.clone())?, None));
    }
    let last = last_card(command, asked.common.date.is_some())?;
    Ok((Evening::of_last(asked.clone(), &last)?, Some(last)))
}

/// Stores the card for `follow` and `record`. Returns a line for the user if it cannot be stored. A card whose recipe
/// cannot be named again, such as one from standard input, is not stored.
pub(super) fn keep_card(
    evening: &Evening,
    schedule: &Schedule,
    start: Option<u32>,
    reader: &super::Reader,
) -> Option<String> {
    let kept = kept_of(evening, schedule, start, reader);
    let result = kept.as_ref().map(|kept| json(kept).and_then(|text| keep(CARD, &text)));
    if let Some(Ok(())) = result {
        return None;
    }
    // If the older card stayed, `follow` and `record` would use it in place of this card.
    forget(CARD);
    let why = result?.err()?.message();
    Some(format!("wetside follow and wetside record will not know this card: {}\n", printable(&why)))
}

fn json(kept: &Kept) -> Result<String, Failure> {
    let text = serde_json::to_string_pretty(kept);
    text.map(|text| text + "\n").map_err(|error| Failure::new(error.to_string(), ""))
}

/// The content of `card.json` for a card. `None` if the recipe is not in a file, if its path is not valid UTF-8, or if
/// the clock shows no valid day.
fn kept_of(
    evening: &Evening,
    schedule: &Schedule,
    start: Option<u32>,
    reader: &super::Reader,
) -> Option<Kept> {
    let recipe = &schedule.recipe;
    let path = reader.disk.path(reader.name(recipe.file)).filter(|path| path.is_absolute())?;
    let path = path.to_str()?.to_owned();
    let tank = schedule.conditions.tank.as_ref().map(|tank| tank.name.clone());
    let formats = schedule.conditions.rolls.iter().map(|rolls| (rolls.count, Some(rolls.format)));
    let explicit = Evening { tank, index: None, rolls: formats.collect(), ..evening.clone() };
    let today = start_day(start)?;
    Some(Kept {
        version: VERSION,
        folder: ABOVE.display().to_string(),
        made: since_1970()?,
        date: evening.date.unwrap_or(today).to_string(),
        fingerprint: schedule.fingerprint.full(),
        planned: evening.planned.clone(),
        words: explicit.words(&[path, recipe.name.clone()], &bottles_of(schedule)),
        recorded: None,
    })
}

fn since_1970() -> Option<u64> {
    SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).ok().map(|since| since.as_secs())
}

/// The day on which a card begins: of yesterday, today and tomorrow, the day whose time `start` (in seconds after
/// midnight) is nearest to now; today without `start`. `None` if the clock shows no valid day.
fn start_day(start: Option<u32>) -> Option<Date> {
    let now = now()?;
    let today = Date::new(now.year(), now.month(), now.day())?;
    let Some(start) = start else { return Some(today) };
    let clock = i64::from(now.hour()) * 3600 + i64::from(now.minute()) * 60;
    let ahead = i64::from(start) - clock;
    const HALF_A_DAY: i64 = 12 * 3600;
    Some(today.days_later(i64::from(ahead < -HALF_A_DAY) - i64::from(ahead > HALF_A_DAY)))
}

/// The card made last. Fails if there is none, or if the card is older than `AGE_MAX`, cannot be read, or is recorded
/// already. `with_date` says that `--date` is given; then the card may be old.
fn last_card(command: &str, with_date: bool) -> Result<LastCard, Failure> {
    let help = format!(
        "make the card first: wetside card --at 21.5; or name the recipe: wetside {command} RECIPE --at 21.5 --rolls 5x120"
    );
    let broken = |why: &str| Failure::new(format!("{} cannot be used: {why}", shown()), help.clone());
    let text = kept(CARD).map_err(|why| broken(&why))?;
    let Some(text) = text else { return fail("no card was made here", help) };
    let kept: Kept =
        serde_json::from_str(&text).map_err(|_| broken("it is not a card that this version made"))?;
    if kept.version != VERSION || kept.folder != ABOVE.display().to_string() {
        return Err(broken("it was made by another version, or in another folder"));
    }
    let date = kept.date.parse::<Date>().map_err(|_| broken("its day cannot be read"))?;
    if let Some(session) = &kept.recorded {
        return fail(format!("the card made last is recorded already: {}", printable(session)), help);
    }
    let age = since_1970().map(|now| Duration::from_secs(now.saturating_sub(kept.made)));
    if !with_date && age.is_none_or(|age| age > AGE_MAX) {
        return fail(
            format!("the card made last is old: it is for {date}"),
            format!(
                "make tonight's card: wetside card --at 21.5; or say that this one is meant: --date {date}"
            ),
        );
    }
    let words = Words::try_parse_from(&kept.words).map_err(|_| broken("its call cannot be read"))?;
    Ok(LastCard { asked: words.asked, planned: kept.planned, fingerprint: kept.fingerprint, date })
}

/// Marks the card made last as recorded. `session` is the name of its session. A failure is ignored, since the session
/// is already in the journal.
pub(super) fn mark_recorded(session: &str) {
    let Ok(Some(text)) = kept(CARD) else { return };
    let Ok(mut kept) = serde_json::from_str::<Kept>(&text) else { return };
    kept.recorded = Some(session.to_owned());
    let _ = json(&kept).and_then(|text| keep(CARD, &text));
}

/// The path of `card.json` for messages.
fn shown() -> String {
    let path = path(CARD);
    printable(&root::shown(&path, &path).display().to_string())
}

//! The statements of a darkroom: baths, their tests, sessions and backlogs.

use super::pattern::Part::{Comma, List, Maybe, Newer, Word};
use super::row::Block;
use super::slot::rows;
use super::value::{
    BacklogName, BathName, BothSides, Count, FilmName, Fine, Index, OwnName, RecipeName, Second,
    SolutionName, Text,
};
use crate::model::{Date, Dilution, Format, StepKind, Temperature, Time, Volume};

const BATH: &[Block] = &[Block::Bath];
const TEST: &[Block] = &[Block::Test];
const SESSION: &[Block] = &[Block::Session];
const BACKLOG: &[Block] = &[Block::Backlog];

rows! { DARKROOM;
    BathIn { solution: SolutionName, part: OwnName, dilution: Dilution }
        [solution, Newer(2, &[Word("part"), part]), Maybe(&[dilution])]
        "in" BATH, Must, "its solution and its dilution (default: stock); edition 2: one bottle of several",
        "in rapid-fix 1+4";
    BathVolume { volume: Volume } [volume]
        "volume" BATH, Must, "its volume", "volume 2.5 l";
    Mixed { date: Date } [date]
        "mixed" BATH, Must, "the day it was mixed", "mixed 2026-11-02";
    Discarded { date: Date } [date]
        "discarded" BATH, Once, "the day it was discarded", "discarded 2026-12-20";
    On { date: Date } [date]
        "date" &[Block::Test, Block::Session], Must, "the day", "date 2026-11-12";
    Planned { date: Date } [date]
        "planned" SESSION, Once, "the day for which it is planned, in place of `date`: it is not done yet",
        "planned 2026-11-16", 2;
    PlannedAs { session: OwnName } [session]
        "planned-as" SESSION, Once, "the planned session that was done, by its name that day", "planned-as load-3", 2;
    TestBath { bath: BathName } [bath]
        "bath" TEST, Must, "the bath that was tested", "bath fix-a";
    TestFilm { film: FilmName } [film]
        "film" TEST, Must, "the film it was tested with", "film estuary-400";
    TestClears { time: Time, at: Temperature } [time, Word("at"), at]
        "clears" TEST, Must, "the clearing time at the temperature of the bath",
        "clears 1:15 at 20 C";
    SessionRecipe { recipe: OwnName, fingerprint: Text } [recipe, Comma, Word("fingerprint"), fingerprint]
        "recipe" SESSION, Must, "the recipe by its name that day, and its fingerprint",
        "recipe estuary-400-mq, fingerprint \"W301-W94N\"";
    Revision { revision: Text } [revision]
        "revision" SESSION, Once, "the git revision that has the recipe", "revision \"0f4c1d27aa31\"";
    SessionTank { tank: OwnName } [tank]
        "tank" SESSION, Once, "the tank by its name that day", "tank tall-five";
    SessionAt { temperature: Temperature } [temperature]
        "at" SESSION, Once, "the temperature of the card", "at 21.5 C";
    Ending { temperature: Temperature } [temperature]
        "ending" SESSION, Once, "the expected temperature at the end", "ending 20 C";
    SessionStep { kind: StepKind, name: OwnName, at: Temperature } [kind, Maybe(&[name]), Word("at"), at]
        "step" SESSION, Many, "a step with its own temperature on the card", "step wash at 20 C";
    SessionVolume { volume: Volume } [volume]
        "volume" SESSION, Once, "the volume in the tank, if stated",
        "volume 600 ml";
    SessionBacklog { backlog: BacklogName } [backlog]
        "backlog" SESSION, Once, "the backlog that has these labels", "backlog autumn";
    Loaded { slot: Count, label: Text, format: Format, both: BothSides, doubt: Text }
        [slot, Maybe(&[label]), format, Newer(2, &[both]), Newer(2, &[Word("doubt"), doubt])]
        "slot" SESSION, Some,
        "a place in the tank, from the bottom, and the roll in it; in edition 2 also whether both its sides are coated, and \
         what contradicts it",
        "slot 1 \"E-01\" 120";
    SessionBath { bath: BathName, second: Second, doubt: Text }
        [bath, Newer(2, &[Comma, second]), Newer(2, &[Word("doubt"), doubt])]
        "bath" SESSION, Many,
        "a bath that was used; in edition 2 also that it came second, after one of the same solution, and what contradicts it",
        "bath fix-a";
    SessionAnyway { name: Text } [name]
        "anyway" SESSION, Many, "a roll or a bath that was taken although the card refused it",
        "anyway \"T-14\"", 2;
    SessionCleared { kind: StepKind, name: OwnName, time: Time } [kind, Maybe(&[name]), time]
        "cleared" SESSION, Many, "a step, and the time in which a piece of film cleared in its bath that day",
        "cleared fix 1:20", 2;
    SessionTook { kind: StepKind, name: OwnName, time: Time, of: Time }
        [List(&[kind, Maybe(&[name]), time, Maybe(&[Word("of"), of])])]
        "took" SESSION, Many, "the true time of a step, from its pour to the next bath, and the time on the card",
        "took develop 8:59 of 8:39, fix 4:10 of 4:00", 2;
    SessionRead { kind: StepKind, name: OwnName, time: Time, at: Temperature }
        [List(&[kind, Maybe(&[name]), time, at])]
        "read" SESSION, Many, "a temperature that was read during a step, by the clock of that step",
        "read develop 3:10 22.1 C", 2;
    SessionDunk { fine: Fine } [fine]
        "dunk" SESSION, Once, "a piece of film turned dark in the developer before the rolls were loaded",
        "dunk ok", 2;
    BacklogRecipe { recipe: RecipeName } [recipe]
        "recipe" BACKLOG, Many, "the recipe for its rolls of that film and index, where several fit",
        "recipe estuary-400-mq";
    Roll { label: Text, format: Format, film: FilmName, index: Index, shot: Date }
        [label, format, Word("of"), film, Maybe(&[Word("index"), index]), Maybe(&[Word("shot"), shot])]
        "roll" BACKLOG, Some,
        "a roll: its label, format, film and exposure index, and the day it was shot",
        "roll \"E-01\" 120 of estuary-400 index 400 shot 2026-10-02";
}

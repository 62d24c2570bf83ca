//! The statements of trials of a developer, and of the wedges by which their strips are exposed.

use super::pattern::Part::{Either, List, Maybe, Word};
use super::row::Block;
use super::slot::rows;
use super::value::{
    AgitationClause, AgitationName, BathName, Brightness, Count, Density, FilmName, NewName, OwnName,
    ReaderName, SolutionName, TankName, Text, WedgeName,
};
use crate::model::{BracketStep, Date, Difference, Dilution, Slope, Temperature, Time};

const FILE: &[Block] = &[Block::File];
const TRIAL: &[Block] = &[Block::Trial];
const STRIP: &[Block] = &[Block::Strip];

rows! { TRIALS;
    TrialHeader { name: NewName, title: Text } [name, Maybe(&[title])]
        "trial" FILE => Block::Trial, Many, "declares a trial of a developer: pieces of one film, developed for several times",
        "trial saltmarsh-mq \"Mill wall, October\" {", 2;
        "wedge" FILE => Block::Wedge, Many, "declares a step wedge", "wedge step-21 \"Step wedge\" {", 2;
        "reader" FILE => Block::Reader, Many,
        "declares a densitometer, a scanner or a phone: how far it may be off, and how its readings become densities",
        "reader flatbed \"Scanner, linear\" {", 2;
    TrialDate { date: Date } [date]
        "date" TRIAL, Once, "the day", "date 2026-10-03", 2;
    TrialFilm { film: FilmName } [film]
        "film" TRIAL, Must, "the film", "film saltmarsh-100", 2;
    TrialIn { solution: SolutionName, part: OwnName, dilution: Dilution, at: Temperature }
        [solution, Maybe(&[Word("part"), part]), Maybe(&[dilution]), Maybe(&[Word("at"), at])]
        "in" TRIAL, Must, "the developer, its dilution (default: stock), and the temperature of the pieces that state none",
        "in mq-borax 1+1 at 20 C", 2;
    TrialBath { bath: BathName } [bath]
        "bath" TRIAL, Once, "the bottle of the developer, if it is one that is kept", "bath dev-a", 2;
    TrialAgitate { clause: AgitationClause, scheme: AgitationName } [Either(&[&[scheme], &[List(&[clause])]])]
        "agitate" TRIAL, Once, "the agitation: a scheme's name, or the scheme itself", "agitate steady", 2;
    TrialTank { tank: TankName } [tank]
        "tank" TRIAL, Once, "the tank", "tank tall-five", 2;
    TrialThermometer { text: Text, within: Difference } [Maybe(&[text]), Word("within"), within]
        "thermometer" &[Block::File, Block::Trial], Once, "the thermometer of the darkroom or of a trial, and how far it may be off", "thermometer \"glass, no 2\" within 0.3 C", 2;
    Measured { slope: Slope, stops: Count }
        [Either(&[&[Word("gradient"), Word("over"), stops, Word("stops")], &[slope]])]
        "measure" TRIAL, Once,
        "which contrast is meant: the average gradient over this many stops (default: 7), `gamma`, or the contrast `index`",
        "measure gradient over 7 stops", 2;
    Exposed { wedge: WedgeName, step: BracketStep, under: Count, over: Count }
        [Either(&[&[Word("by"), wedge], &[Word("in"), step, Word("from"), under, Word("under"), Word("to"), over, Word("over")]])]
        "exposed" TRIAL, Once,
        "how the strips were exposed: through a wedge; or without one, in a bracket of one even target from that many stops \
         under the meter's reading to that many over",
        "exposed by step-21", 2;
    ReadBy { reader: ReaderName } [Word("by"), reader]
        "read" TRIAL, Once, "what read the densities", "read by flatbed", 2;
    Known { density: Density, brightness: Brightness } [density, brightness]
        "known" &[Block::Reader], Many, "a known density, such as a step of a wedge, and its reading", "known 0.35 26900", 2;
    Piece { time: Time, at: Temperature, text: Text, contrast: Density }
        [time, Maybe(&[Word("at"), at]), Maybe(&[text]), Maybe(&[Word("contrast"), contrast])]
        "piece" TRIAL, Many,
        "a piece of the film: its development time, what it looks like (`\"right\"` for the chosen one), or its contrast",
        "piece 8:00 \"right\"", 2;
    StripHeader { time: Time, at: Temperature } [time, Maybe(&[Word("at"), at])]
        "strip" TRIAL => Block::Strip, Many, "a piece that was exposed through the wedge, with its densities",
        "strip 8:00 at 20 C {", 2;
    Fog { fog: Density } [List(&[fog])]
        "fog" STRIP, Once, "the density where no light fell, once or several times", "fog 0.28, 0.29", 2;
    Clear { brightness: Brightness } [List(&[brightness])]
        "clear" STRIP, Once, "the reading where no light fell, in place of `fog`", "clear 50000, 49800", 2;
    Densities { density: Density } [List(&[density])]
        "densities" STRIP, Once,
        "the densities of the steps, in the order of the wedge, or from the least exposure of a bracket on",
        "densities 0.28, 0.29, 0.30", 2;
    Readings { brightness: Brightness } [List(&[brightness])]
        "readings" STRIP, Once, "the readings of the steps, in place of `densities`, for a reader with known steps",
        "readings 50000, 42000, 26900", 2;
    WedgeDensities { density: Density } [List(&[density])]
        "densities" &[Block::Wedge], Must, "the densities of its steps, from either end", "densities 2.90, 2.75, 2.60", 2;
    ReadingError { error: Density } [error]
        "within" &[Block::Trial, Block::Wedge, Block::Reader], Once,
        "how far a density may be off (default: as its reader says, or else 0.02)", "within 0.01", 2;
}

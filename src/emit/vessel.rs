//! The vessel of a session: a tank with a lid, trays, or a rack, and the words for what is done in each.

use crate::compile::Schedule;
use crate::model::{Format, Material, Motion, Pulse, Scheme};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Vessel {
    /// A closed tank or a drum. Its baths are poured in and drained.
    Tank,
    /// Trays without a lid.
    Tray,
    /// A rack that is lowered into open tanks.
    Rack,
}

impl Vessel {
    /// The vessel of a session. It depends on how the recipe agitates, and on whether the load moves from bath to bath.
    pub(super) fn of(schedule: &Schedule) -> Vessel {
        let schemes =
            || schedule.recipe.steps.iter().filter_map(|step| Some(&step.agitation.as_ref()?.value));
        let motions: Vec<Motion> = schemes().filter_map(|scheme| scheme.by).collect();
        let moves = schedule.conditions.tank.as_ref().is_some_and(|tank| tank.transfer.is_some());
        // Prints and plates are in a closed drum if the agitation turns it; if not, they lie in trays.
        let turns = |scheme: &Scheme| {
            let is_turned = matches!(scheme.by, Some(Motion::Inversion | Motion::Rotation));
            is_turned || matches!(scheme.pulse, Pulse::Rotary(_))
        };
        if motions.iter().any(|by| matches!(by, Motion::Lifting | Motion::Bursts)) {
            Vessel::Rack
        } else if motions.iter().any(|by| by.is_open()) {
            Vessel::Tray
        } else if moves {
            if has_only_sheets(schedule) { Vessel::Tray } else { Vessel::Rack }
        } else if schedule.film.material != Material::Film && !schemes().any(turns) {
            Vessel::Tray
        } else {
            Vessel::Tank
        }
    }

    pub(super) fn is_open(self) -> bool {
        self != Vessel::Tank
    }

    pub(super) fn word(self) -> &'static str {
        match self {
            Vessel::Tank => "tank",
            Vessel::Tray => "tray",
            Vessel::Rack => "rack",
        }
    }

    /// The words for moving the load into a bath that stays in place.
    pub(super) fn lowered(self) -> &'static str {
        if self == Vessel::Tray { "lay into" } else { "lower into" }
    }

    /// The words for a step without a bath.
    pub(super) fn waits(self) -> &'static str {
        if self == Vessel::Tank { "the tank stands empty" } else { "wait" }
    }

    /// The words for a step that warms the dry film or paper.
    pub(super) fn warms(self) -> &'static str {
        match self {
            Vessel::Tank => "let the tank stand dry in its warm water",
            Vessel::Tray | Vessel::Rack => "let it come to its temperature, dry",
        }
    }
}

fn has_only_sheets(schedule: &Schedule) -> bool {
    schedule.load.iter().all(|slot| slot.format.is_sheet())
}

/// Whether each bath has a tank of its own, in which kept baths stay after the session.
pub(super) fn baths_stay(schedule: &Schedule) -> bool {
    let moves = schedule.conditions.tank.as_ref().is_some_and(|tank| tank.transfer.is_some());
    moves && Vessel::of(schedule) == Vessel::Rack
}

/// Whether the rolls lie one above the other, as reels in a tank or on a rack do.
pub(super) fn is_stacked(schedule: &Schedule) -> bool {
    Vessel::of(schedule) != Vessel::Tray && !schedule.load.iter().any(|slot| Format::is_sheet(slot.format))
}

/// What to do with the wet load: `hang the film`.
pub(super) fn dried(schedule: &Schedule) -> &'static str {
    let is_one = schedule.load.len() == 1;
    match (schedule.film.material, is_one) {
        (Material::Film, true) if has_only_sheets(schedule) => "hang the sheet by a corner",
        (Material::Film, false) if has_only_sheets(schedule) => {
            "hang the sheets by a corner, each clear of the next"
        }
        (Material::Film, _) => "hang the film",
        (Material::Paper, true) => "hang or lay out the print",
        (Material::Paper, false) => "hang or lay out the prints",
        (Material::Plate, true) => "stand the plate in the rack",
        (Material::Plate, false) => "stand the plates in the rack",
    }
}

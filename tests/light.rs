//! `light safe` and `light TEXT`, and what a card says about light.

use serde_json::Value;
use wetside::source::Level;

use crate::kitchen::Kitchen;
use crate::program::Run;

const TEXT: &str = "wetside 1

film estuary-400 {
    speed ISO 400
}

solution soup {
    role developer
    contains metol
    needs 100 ml per roll
}

solution hypo {
    role fixer
    contains sodium-thiosulfate
    treats 10 rolls per 1 l at stock
}

recipe trial {
    film estuary-400
    index 400

    develop {
        in soup
        time 5:00
        between 18 C and 24 C
        agitate continuous, by MOTION
    }
    fix {
        in hypo
        time 5:00
    }
    expose {
        time 1:00 each side
        light safe
        light \"a lamp of 100 W at 1 m\"
    }
}

recipe brighter from trial {
    expose {
        light \"a lamp of 200 W at 1 m\"
    }
}
";

fn card(motion: &str, recipe: &str, form: &str) -> String {
    let run =
        Run::new().file("trial.wet", TEXT.replace("MOTION", motion)).args(["card", "trial.wet", recipe]);
    let run = run.args(["--at", "20C", "--rolls", "1x120", "--volume", "500ml", "--as", form]);
    run.succeeds()
}

#[test]
fn a_step_can_have_safe_light_and_a_lamp() {
    let schedule: Value = serde_json::from_str(&card("inversion", "trial", "json")).unwrap();
    let expose = &schedule["steps"][2];
    assert_eq!(expose["light_safe"], true);
    assert_eq!(expose["light"], "a lamp of 100 W at 1 m");
}

#[test]
fn another_lamp_replaces_the_lamp_and_keeps_the_light_safe() {
    let schedule: Value = serde_json::from_str(&card("inversion", "brighter", "json")).unwrap();
    let expose = &schedule["steps"][2];
    assert_eq!(expose["light_safe"], true);
    assert_eq!(expose["light"], "a lamp of 200 W at 1 m");
}

#[test]
fn each_kind_of_light_is_allowed_once() {
    for twice in ["light safe", "light \"a lamp of 100 W at 1 m\""] {
        let text =
            TEXT.replace("MOTION", "inversion").replacen(twice, &format!("{twice}\n        {twice}"), 1);
        let kitchen = Kitchen::of(&text);
        let errors = kitchen.findings.iter().filter(|finding| finding.level == Level::Error);
        let names: Vec<&str> = errors.map(|finding| finding.name).collect();
        assert_eq!(names, ["repeated-statement"], "{twice}");
    }
}

#[test]
fn a_card_mentions_the_lid_only_for_closed_tanks() {
    for motion in ["inversion", "rotation"] {
        let card = card(motion, "trial", "text");
        assert!(
            card.contains("keep the lid on until EXPOSE") && card.contains("the lid may come off"),
            "{card}"
        );
    }
    for motion in ["shuffling", "rocking", "lifting"] {
        let card = card(motion, "trial", "text");
        assert!(card.contains("work in the dark until EXPOSE (10:00)"), "{card}");
        assert!(card.contains("the light may go on") && !card.contains(" lid "), "{card}");
    }
}

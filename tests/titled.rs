//! A card whose every title, note and caution is a text of the test, for what a stranger may write into one.

use crate::program::Run;

/// A title that tries each way out of where it stands.
pub(crate) const HOSTILE: &str =
    "</title></script><script>harmed=1</script><img src=x onerror='harmed=2'> &lt;<!--";

const RECIPE: &str = r#"wetside 1

film slack-100 "TITLE" {
    speed     ISO 100
}

solution soup "TITLE" {
    role      developer
    needs     100 ml per roll
}

tank small "TITLE" {
    reels     120 x 2, 500 ml each
    holds     1 l
    fill      10 s
    drain     5 s
}

recipe trial "TITLE" {
    film      slack-100
    caution   "TITLE"
    note      "TITLE"

    develop {
        in        soup stock, one-shot
        time      6:30
        between   18 C and 24 C
        agitate   first 10 s, then 5 s every 30 s
        caution   "TITLE"
        note      "TITLE"
    }
    dry {
        time      2 h
    }
}
"#;

/// A call for a card whose every title, note and caution is this.
pub(crate) fn titled(title: &str) -> Run {
    let run = Run::new().file("trial.wet", RECIPE.replace("TITLE", title));
    run.args(["card", "trial.wet", "--at", "20C", "--rolls", "2x120"])
        .arg("--label")
        .arg(format!("A,{title}"))
}

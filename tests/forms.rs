//! The evening as a table, as a calendar and as a track of tones, each read back by a reader that is not
//! ours and held to times that were reckoned by hand.

mod calendar;
mod shelf;
mod table;
mod tones;

use wetside::compile::Schedule;
use wetside::model::Format;

use crate::kitchen::{Kitchen, celsius, evening};

/// Reckoned by hand, in seconds: pour 0 to 10, agitate 10 to 20, 30 to 35 and 60 to 65, drain 85 to 90; fill
/// 90 to 100, dump 160 to 165, fill 165 to 175, dump 235 to 240; dry from 240 on.
const TEXT: &str = "wetside 1

film trial-film {
    speed    ISO 100
}

solution soup {
    role     developer
    needs    100 ml per roll
}

tank small {
    reels    120 x 2, 500 ml each
    holds    1 l
    fill     10 s
    drain    5 s
}

recipe trial {
    film     trial-film
    index    100
    between  18 C and 24 C

    develop {
        in       soup stock, one-shot
        time     1:30
        between  18 C and 24 C
        agitate  first 10 s, then 5 s every 30 s
    }
    wash {
        soak     1:00 x 2
    }
    dry {
        time     2 h
    }
}
";

fn schedule(text: &str) -> Schedule {
    Kitchen::sound(text).compiled(&evening(celsius("20"), &[(2, Format::F120)]))
}

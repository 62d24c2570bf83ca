//! The rule `implausible-tank`.

use super::*;

rule! {
    /// # implausible-tank: a tank of a size or with times that no tank has
    ///
    /// A reel of 135 has less than 150 ml, or one of 120 less than 300 ml or more than 1.5 l; the tank holds more
    /// than three times what its reels need; or it takes more than 3 minutes to fill or drain. Tanks with `rotary`
    /// may have less for a reel.
    ///
    /// **Why.** A card fills the tank by these figures and begins each bath earlier by these times.
    ///
    /// ```fires
    /// wetside 1
    /// tank two-reel {
    ///     reels     120 x 2, 500 ml each
    ///     holds     25 l
    ///     fill      10 s
    ///     drain     10 s
    /// }
    /// ```
    ///
    /// **Instead.** Correct the figure. In a deep tank, give each reel its share of the tank.
    ///
    /// ```quiet
    /// wetside 1
    /// tank two-reel {
    ///     reels     120 x 2, 500 ml each
    ///     holds     1.1 l
    ///     fill      10 s
    ///     drain     10 s
    /// }
    /// ```
    ///
    /// **Source.** Small tanks take 235 to 300 ml for a reel of 135 and 450 to 590 ml for one of 120: from memory, not
    /// looked up. Pours take 10 to 20 s: US Navy, Photography (Basic), NAVEDTRA 14209, 1993, page 10-24.
    Warning, Tank(check)
}

/// The longest plausible time to fill or drain a tank.
pub(super) const POUR: Time = Time::from_seconds(180);

fn check(tank: &Tank) -> Vec<Diagnostic> {
    let reels = tank.reels.iter().filter_map(|reels| {
        let (least, most) = match reels.format.reel() {
            Format::Frames(_) => (150, i64::MAX),
            Format::F120 => (300, 1500),
            _ => return None,
        };
        let (least, most) = (Volume::from_ml(if tank.rotary.is_some() { 0 } else { least }), Volume::from_ml(most));
        let message = format!("{} cover a reel of {} here", reels.each, reels.format);
        let found = RULE.found(reels.span, message);
        (reels.each < least || most < reels.each)
            .then(|| found.help("check the volume; a reel of 135 takes about 300 ml, one of 120 about 500 ml"))
    });
    let reels: Vec<Diagnostic> = reels.collect();
    let need = tank.reels.iter().map(|reels| reels.each.scaled(i64::from(reels.most), 1)).max();
    let holds = tank.holds.zip(need).filter(|(holds, need)| reels.is_empty() && need.scaled(3, 1) < **holds);
    let holds = holds.map(|(holds, need)| {
        let message = format!("the tank holds {}, and its reels need {need}", *holds);
        RULE.found(holds.span, message).help("check the volume and its unit; in a deep tank each reel has its share of it")
    });
    let pours = [("fill", tank.fill), ("drain", tank.drain)].into_iter().filter_map(|(word, time)| {
        let time = time.filter(|time| POUR < **time)?;
        let message = format!("it takes {} to {word} the tank", *time);
        Some(RULE.found(time.span, message).help("check the time and its unit, such as: 10 s"))
    });
    reels.into_iter().chain(holds).chain(pours).collect()
}

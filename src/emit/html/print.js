
// Fits the printed card to one sheet: in the largest type with which it takes no more, with its pictures and
// a line for each caution where they leave the type large enough. Without script it prints in the type that
// its style names, without pictures, the cautions one behind the other.
(() => {
  "use strict";
  const HIGH = 265 * 96 / 25.4; // what is printed on of the lower of the two usual sheets, in pixels of CSS
  const MOST = 12, LEAST = 6.5, STEP = 0.125; // sizes that are tried, in points
  const READABLE = 8; // points: what costs room is left out before the type is made smaller
  const WAYS = [["pictured", "listed"], ["pictured"], ["listed"], []];
  const root = document.documentElement;

  function fits(points) {
    root.style.setProperty("--type", `${points}pt`);
    return document.body.getBoundingClientRect().height <= HIGH;
  }
  function largest() {
    for (let points = MOST; points >= LEAST; points -= STEP) if (fits(points)) return points;
    return 0;
  }
  function fit() {
    let points = 0;
    for (const way of WAYS) {
      root.classList.remove("pictured", "listed");
      root.classList.add(...way);
      points = largest();
      if (points >= READABLE) return;
    }
    // What takes more than a sheet in any type is printed on several, in one that can be read.
    if (points === 0) root.style.removeProperty("--type");
  }
  // While it is measured, the screen is laid out as paper.
  function lent(work) {
    const rules = [...document.styleSheets[0].cssRules].filter((rule) => rule.media);
    const own = rules.map((rule) => rule.media.mediaText);
    rules.forEach((rule) => { rule.media.mediaText = rule.media.mediaText === "print" ? "all" : "not all"; });
    try { work(); } finally { rules.forEach((rule, place) => { rule.media.mediaText = own[place]; }); }
  }
  window.addEventListener("beforeprint", () => lent(fit));
})();

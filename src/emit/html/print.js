
// Fits the printed card to one sheet.
(() => {
  "use strict";
  const HIGH = 265 * 96 / 25.4; // of Letter, in pixels
  const MOST = 12, LEAST = 6.5, STEP = 0.125; // points
  const READABLE = 8; // points; below that, what costs room goes first
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
    // Several sheets, then, in type that can be read.
    if (points === 0) root.style.removeProperty("--type");
  }
  // The screen is laid out as paper meanwhile.
  function lent(work) {
    const rules = [...document.styleSheets[0].cssRules].filter((rule) => rule.media);
    const own = rules.map((rule) => rule.media.mediaText);
    rules.forEach((rule) => { rule.media.mediaText = rule.media.mediaText === "print" ? "all" : "not all"; });
    try { work(); } finally { rules.forEach((rule, place) => { rule.media.mediaText = own[place]; }); }
  }
  window.addEventListener("beforeprint", () => lent(fit));
})();


// Fits the printed card to one side of a sheet; first aid is on its back.
(() => {
  "use strict";
  const HEIGHT = 262 * 96 / 25.4; // of a Letter sheet, in pixels, with 3 mm to spare for where columns break
  const MOST = 12, LEAST = 6.5, STEP = 0.125; // points
  const READABLE = 8; // points; below that, pictures and line breaks go first
  // With cautions on the front, then without: they go to the back before the type gets too small.
  const FRONT = "fronted";
  const WAYS = [["pictured", "listed", FRONT], ["pictured", FRONT], ["listed", FRONT], [FRONT], []];
  const root = document.documentElement;

  function fits(points) {
    root.style.setProperty("--type", `${points}pt`);
    const last = root.classList.contains(FRONT) ? ".cautions" : "main";
    const front = document.querySelector(last).getBoundingClientRect().bottom;
    return front - document.body.getBoundingClientRect().top <= HEIGHT;
  }
  function largest() {
    for (let points = MOST; points >= LEAST; points -= STEP) if (fits(points)) return points;
    return 0;
  }
  function fit() {
    let points = 0;
    for (const way of WAYS) {
      root.classList.remove("pictured", "listed", FRONT);
      root.classList.add(...way);
      points = largest();
      if (points >= READABLE) return;
    }
    // Otherwise it prints on several sheets in readable type.
    if (points === 0) root.style.removeProperty("--type");
  }
  // Runs `work` while the screen is laid out as paper.
  function asPrinted(work) {
    const rules = [...document.styleSheets[0].cssRules].filter((rule) => rule.media);
    const own = rules.map((rule) => rule.media.mediaText);
    rules.forEach((rule) => { rule.media.mediaText = rule.media.mediaText === "print" ? "all" : "not all"; });
    try { work(); } finally { rules.forEach((rule, place) => { rule.media.mediaText = own[place]; }); }
  }
  window.addEventListener("beforeprint", () => asPrinted(fit));
})();


// Fits the printed card to one side of a sheet; first aid is on its back.
(() => {
  "use strict";
  const HEIGHT = 265 * 96 / 25.4; // of a Letter sheet, in pixels
  const MOST = 12, LEAST = 6.5, STEP = 0.125; // points
  const READABLE = 8; // points; below that, pictures and line breaks go first
  const WAYS = [["pictured", "listed"], ["pictured"], ["listed"], []];
  const root = document.documentElement;

  function fits(points) {
    root.style.setProperty("--type", `${points}pt`);
    const front = document.querySelector("main").getBoundingClientRect().bottom;
    return front - document.body.getBoundingClientRect().top <= HEIGHT;
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

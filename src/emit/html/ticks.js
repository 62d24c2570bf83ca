"use strict";
(() => {
  // Another plan has other ticks, so the text of the plan is the key.
  const words = document.querySelector("main").textContent;
  let sum = 0;
  for (const letter of words) sum = (sum * 31 + letter.codePointAt(0)) >>> 0;
  const key = "wetside-plan-" + sum.toString(16);
  const boxes = [...document.querySelectorAll("input")];
  let kept = "";
  try { kept = localStorage.getItem(key) || ""; } catch (_) { /* Without storage the ticks last as long as the page. */ }
  boxes.forEach((box, at) => {
    box.checked = kept[at] === "1";
    box.addEventListener("change", () => {
      const now = boxes.map((one) => (one.checked ? "1" : "0")).join("");
      try { localStorage.setItem(key, now); } catch (_) { /* As above. */ }
    });
  });
})();

// Shows the card for the values of `form`. `evening()` returns the file and the recipe.
function cardFor(form, evening, changed) {
  const shown = part("card");
  const status = part("status");
  const findings = part("findings");

  function ask(forms) {
    return compiler.ask({ ask: "card", evening: { ...evening(), ...values(form) }, forms });
  }

  function show() {
    const given = values(form);
    changed(given);
    if (!given.at || !given.rolls) {
      status.textContent = WORDS.waiting;
      showFindings(findings, []);
      shown.replaceChildren();
      part("uses").hidden = true;
      return;
    }
    const { answer, refused } = ask(["body"]);
    if (refused) {
      status.textContent = WORDS.refused;
      showFindings(findings, refused.findings);
      shown.replaceChildren();
    } else {
      status.textContent = answer.summary;
      showFindings(findings, []);
      const next = shown.cloneNode();
      // Safe as HTML: the compiler escapes every text of a recipe.
      next.innerHTML = answer.body;
      update(shown, next);
    }
    part("uses").hidden = Boolean(refused);
  }

  function use(name, kind, type, act) {
    part(`use-${name}`).addEventListener("click", () => {
      const { answer, refused } = ask([kind]);
      if (refused) showFindings(findings, refused.findings);
      else act(answer[kind], `${evening().recipe}.${kind}`, type);
    });
  }

  const saved = (text, name, type) => save(name, type, text);
  use("follow", "html", "text/html", (text) => {
    window.open(URL.createObjectURL(new Blob([text], { type: "text/html" })), "_blank");
  });
  use("page", "html", "text/html", saved);
  use("text", "text", "text/plain", saved);
  use("json", "json", "application/json", saved);
  use("csv", "csv", "text/csv", saved);
  use("ics", "ics", "text/calendar", saved);
  part("use-print").addEventListener("click", () => window.print());
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", show);
  return show;
}

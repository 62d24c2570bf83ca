// The page of a solution: shows the sheet for weighing the given volume.
if (document.body.dataset.page === "solution" && part("volume")) {
  const form = part("volume");
  const show = () => {
    const { make } = values(form);
    part("findings").hidden = true;
    part("sheet").textContent = "";
    if (!make) return;
    const { file, name } = document.body.dataset;
    const { answer, refused } = compiler.ask({ ask: "sheet", file, solution: name, make });
    if (refused) showFindings(part("findings"), refused.findings);
    else part("sheet").textContent = answer.text;
    history.replaceState(null, "", `#${new URLSearchParams({ make })}`);
  };
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", show);
  compiler.open(SHELF).then(() => {
    fill(form, location.hash);
    show();
  });
}

// The page of a recipe.
if (document.body.dataset.page === "recipe") {
  const form = part("evening");
  const evening = () => ({ file: document.body.dataset.file, recipe: document.body.dataset.name });
  const keep = (given) => {
    const hash = new URLSearchParams(given).toString();
    history.replaceState(null, "", hash ? `#${hash}` : location.pathname + location.search);
  };
  const show = cardFor(form, evening, keep);
  compiler.open(SHELF).then(() => {
    fill(form, location.hash);
    show();
    addEventListener("hashchange", () => {
      fill(form, location.hash);
      show();
    });
  });
}

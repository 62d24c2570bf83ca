"use strict";
// The compiler is a WebAssembly module inside this script (MODULE, compressed with DEFLATE, in base64), so that the
// pages also work from a disk, where a page may fetch nothing.
const compiler = (() => {
  let calls = null;
  let files = null;

  const bytes = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  const inflated = (packed) => new Blob([packed]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const module = new Response(inflated(bytes(MODULE))).arrayBuffer();

  async function start() {
    const { instance } = await WebAssembly.instantiate(await module, {});
    calls = instance.exports;
    if (files) ask({ ask: "files", files });
  }

  // The answer to a request. After an error in the compiler itself, the compiler starts again.
  function ask(request) {
    const text = new TextEncoder().encode(JSON.stringify(request));
    try {
      const place = calls.wetside_room(text.length);
      new Uint8Array(calls.memory.buffer, place, text.length).set(text);
      const length = calls.wetside_answer();
      const answer = new Uint8Array(calls.memory.buffer, calls.wetside_place(), length);
      return JSON.parse(new TextDecoder().decode(answer));
    } catch (error) {
      calls = null;
      start();
      return { refused: { findings: [{ message: WORDS.internal, help: [String(error)] }] } };
    }
  }

  return {
    ask,
    async open(all) {
      files = all;
      await start();
    },
    change(file, text) {
      files[file] = text;
      ask({ ask: "text", file, text });
    },
  };
})();

const part = (id) => document.getElementById(id);

function element(tag, text, options = {}) {
  return Object.assign(document.createElement(tag), { textContent: text }, options);
}

// Gives `node` the children of `like`. Children that are equal already stay, because laying out a whole card again
// takes most of the time of a change.
function update(node, like) {
  const [own, others] = [[...node.childNodes], [...like.childNodes]];
  if (own.length !== others.length) return node.replaceChildren(...others);
  others.forEach((other, at) => {
    if (own[at].isEqualNode(other)) return;
    if (own[at].hasChildNodes() && own[at].cloneNode().isEqualNode(other.cloneNode())) update(own[at], other);
    else own[at].replaceWith(other);
  });
}

// Shows the findings in a list, each with its help lines.
function showFindings(list, findings, act) {
  list.replaceChildren(...findings.map((found) => {
    const item = element("li", "", { className: found.level || "error" });
    const where = found.line ? `${found.file}:${found.line}: ` : "";
    item.append(element("p", where + found.message));
    for (const help of found.help || []) item.append(element("p", help, { className: "help" }));
    if (act) act(item, found);
    return item;
  }));
  list.hidden = findings.length === 0;
}

// Offers a text as a file to save.
function save(name, type, text) {
  const link = element("a", "", { download: name, href: URL.createObjectURL(new Blob([text], { type })) });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

// The values of a form that are not empty, by name.
function values(form) {
  return Object.fromEntries([...new FormData(form)].filter(([, value]) => value.trim() !== ""));
}

// Fills the form with the values after `#` in the address, as in `#rolls=5x120`. Names that the form lacks are ignored.
function fill(form, hash) {
  for (const [name, value] of new URLSearchParams(hash.replace(/^#/, ""))) {
    const field = form.elements.namedItem(name);
    if (field instanceof HTMLElement && "value" in field) field.value = value.slice(0, 200);
    if (field instanceof HTMLElement && value) field.closest("details")?.setAttribute("open", "");
  }
}

// Browsers allow service workers only on pages that came over HTTPS or from this machine.
if (navigator.serviceWorker && location.protocol !== "file:") {
  navigator.serviceWorker.register(new URL("worker.js", document.currentScript.src));
}

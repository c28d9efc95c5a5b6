"use strict";
// The file: back and forward through the steps, written when asked, never over what another program saved; made.
(() => {
  const { on, made, post, last } = window.hand;
  const get = (id) => document.getElementById(id);
  const buttons = { undo: get("undo"), redo: get("redo"), save: get("save"), make: get("make") };
  const disk = get("disk");

  on("state", (told) => {
    buttons.undo.disabled = !told.undo;
    buttons.redo.disabled = !told.redo;
    buttons.save.disabled = !told.unsaved;
    buttons.save.textContent = told.unsaved ? "Write the file" : "Written";
    document.body.classList.toggle("unsaved", told.unsaved);
    if (!told.unsaved) disk.hidden = true;
  });
  const save = async (wrong) => {
    const problems = last("problems");
    if (!wrong && problems && problems.problems.length) {
      ask("What stands here cannot be made. Write it all the same?", ["Write it", () => save(true)], ["Not yet", () => {}]);
      return;
    }
    const said = await post("save");
    if (said && !said.includes("on the disk")) ask(said, ["Well", () => {}]);
  };
  // What is asked already stays as it is, so that a press on its buttons is not lost.
  const ask = (said, ...ways) => {
    if (!disk.hidden && disk.dataset.asked === said) return;
    disk.dataset.asked = said;
    disk.hidden = false;
    disk.replaceChildren(made("p", {}, said), ...ways.map(([word, act]) =>
      made("button", { type: "button", onclick: () => { disk.hidden = true; act(); } }, word)));
  };
  on("disk", (told) => ask(`${told.said}. Which is to stand?`,
    ["What the disk says", () => post("take")], ["What stands here: write over it", () => post("save", { over: true })], ["Ask me later", () => {}]));

  buttons.undo.addEventListener("click", () => post("undo"));
  buttons.redo.addEventListener("click", () => post("redo"));
  buttons.save.addEventListener("click", () => save(false));
  const purposes = get("purposes");
  buttons.make.addEventListener("click", () => {
    purposes.hidden = !purposes.hidden;
    buttons.make.setAttribute("aria-expanded", String(!purposes.hidden));
    if (!purposes.hidden) purposes.querySelector("input").focus();
  });
  purposes.addEventListener("change", (event) => {
    const { packet, ...others } = Object.fromEntries([...purposes.querySelectorAll("input")].map((one) => [one.name, one]));
    if (event.target === packet && packet.checked) for (const one of Object.values(others)) one.checked = true;
    else if (!event.target.checked) packet.checked = false;
  });
  purposes.addEventListener("submit", (event) => {
    event.preventDefault();
    const asked = [...new FormData(purposes).keys()];
    purposes.hidden = true;
    buttons.make.setAttribute("aria-expanded", "false");
    post("make", { for: asked, packet: asked.includes("packet") });
  });
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey)) return;
    const key = event.key.toLowerCase();
    if (key === "s") { event.preventDefault(); if (!buttons.save.disabled) save(false); }
    // Within a field that was typed in and not taken yet, the browser's own undo stays.
    const typing = document.activeElement.matches("input[type=text]") && document.activeElement.value !== document.activeElement.defaultValue;
    if (key === "z" && !typing) { event.preventDefault(); post(event.shiftKey ? "redo" : "undo"); }
    if (key === "y" && !typing) { event.preventDefault(); post("redo"); }
  });
  addEventListener("beforeunload", (event) => { if (document.body.classList.contains("unsaved")) event.preventDefault(); });

  on("made", (told) => {
    get("made").hidden = false;
    const end = { 0: "made", 1: "made; a check falls short", 2: "not made: the file is wrong", 3: "not made" }[told.status] || "not made";
    const lines = get("lines");
    lines.textContent = [...told.lines, ...(told.over ? [end] : [])].join("\n");
    lines.scrollTop = lines.scrollHeight;
    buttons.make.disabled = !told.over;
    buttons.make.textContent = told.over ? "Make it" : "Being made";
    if (!told.over) return;
    get("files").replaceChildren(...(told.files || []).map((one) => made("li", {}, made("a", { href: `made/${encodeURIComponent(one)}`, download: one }, one))));
  });
})();

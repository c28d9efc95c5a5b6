"use strict";
// Point at a name in the key and its row in the list lights up, and the other way round; a touch holds it.
(() => {
  const rows = new Map(), words = new Map();
  const take = (map, name, one) => map.set(name, [...(map.get(name) || []), one]);
  for (const one of document.querySelectorAll("[data-field]")) take(rows, one.dataset.field, one.closest("tr") || one);
  for (const one of document.querySelectorAll("svg.key text")) {
    for (const name of one.textContent.match(/[a-z_]+[a-z_0-9.\[\]]*/g) || []) {
      take(words, name, one);
      if (!rows.has(name)) take(words, name.replace(/\[\d+\]/g, ""), one);
    }
  }
  const light = (name, on) => {
    for (const one of [...(rows.get(name) || []), ...(words.get(name) || [])]) one.classList.toggle("lit", on);
  };
  for (const [map, other] of [[rows, words], [words, rows]]) {
    for (const [name, several] of map) {
      if (!other.has(name)) continue;
      for (const one of several) {
        one.classList.add("known");
        one.addEventListener("pointerenter", () => light(name, true));
        one.addEventListener("pointerleave", () => light(name, false));
        one.addEventListener("click", () => {
          for (const lit of document.querySelectorAll(".lit")) lit.classList.remove("lit");
          light(name, true);
          other.get(name)[0].scrollIntoView({ block: "center" });
        });
      }
    }
  }
})();

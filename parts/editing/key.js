"use strict";
// The key: every name in the picture leads to its size, and lights up while that size is pointed at.
(() => {
  const { on } = window.hand;
  const box = document.getElementById("key"), said = document.getElementById("key-said");
  const NAME = /[a-z_]+[a-z_0-9.\[\]]*/g;
  const names = new Map();

  on("key", (told) => {
    said.textContent = told.svg ? "" : "Nothing of this part is drawn.";
    if (!told.svg) { box.replaceChildren(); return; }
    const svg = document.adoptNode(new DOMParser().parseFromString(told.svg, "image/svg+xml").documentElement);
    svg.setAttribute("class", "key");
    svg.removeAttribute("width");
    svg.removeAttribute("height");
    names.clear();
    for (const text of svg.querySelectorAll("text")) {
      const whole = text.textContent;
      const pieces = [];
      let from = 0;
      for (const found of whole.matchAll(NAME)) {
        const path = window.hand.field(found[0]) ? found[0] : "";
        if (!path) continue;
        pieces.push(whole.slice(from, found.index));
        const one = document.createElementNS("http://www.w3.org/2000/svg", "tspan");
        one.textContent = found[0];
        one.setAttribute("class", "known");
        one.setAttribute("tabindex", "0");
        one.setAttribute("role", "button");
        one.addEventListener("click", () => window.hand.go(path));
        one.addEventListener("keydown", (event) => { if (event.key === "Enter") window.hand.go(path); });
        names.set(path, [...(names.get(path) || []), one]);
        pieces.push(one);
        from = found.index + found[0].length;
      }
      if (pieces.length) text.replaceChildren(...pieces, whole.slice(from));
    }
    box.replaceChildren(svg);
  });
  const light = (event) => {
    const row = event.target.closest ? event.target.closest("[data-field]") : null;
    for (const one of box.querySelectorAll(".lit")) one.classList.remove("lit");
    for (const one of (row && names.get(row.dataset.field)) || []) one.classList.add("lit");
  };
  for (const kind of ["focusin", "pointerover"]) document.getElementById("sizes").addEventListener(kind, light);
})();

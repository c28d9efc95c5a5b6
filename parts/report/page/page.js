"use strict";
// Folds: a link to something unfolds all that it lies in; before printing all folds of the page open, as paper has none.
(() => {
  const unfold = () => {
    const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!target) return;
    for (let one = target.closest("details"); one; one = one.parentElement.closest("details")) one.open = true;
    target.scrollIntoView();
  };
  addEventListener("hashchange", unfold);
  unfold();
  let opened = [];
  addEventListener("beforeprint", () => {
    opened = [...document.querySelectorAll("details.fold:not([open])")];
    for (const one of opened) one.open = true;
  });
  addEventListener("afterprint", () => { for (const one of opened) one.open = false; });
  const button = document.getElementById("unfold");
  if (!button) return;
  button.hidden = false;
  button.addEventListener("click", () => {
    const open = button.getAttribute("aria-pressed") !== "true";
    for (const sheet of document.querySelectorAll("details.check, details.sheet")) sheet.open = open;
    button.setAttribute("aria-pressed", String(open));
  });
})();

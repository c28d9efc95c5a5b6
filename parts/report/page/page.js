"use strict";
// Sheets: a link to one unfolds it, and one button unfolds them all, as for printing.
(() => {
  const unfold = () => {
    const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    const sheet = target && target.closest("details");
    if (sheet) { sheet.open = true; sheet.scrollIntoView(); }
  };
  addEventListener("hashchange", unfold);
  unfold();
  const button = document.getElementById("unfold");
  if (!button) return;
  button.hidden = false;
  button.addEventListener("click", () => {
    const open = button.getAttribute("aria-pressed") !== "true";
    for (const sheet of document.querySelectorAll("details.sheet")) sheet.open = open;
    button.setAttribute("aria-pressed", String(open));
  });
})();

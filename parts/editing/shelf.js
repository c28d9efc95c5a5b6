"use strict";
// Begins a part: the family that is touched, under the number that stands above.
(() => {
  const token = document.getElementById("hand").dataset.token, wrong = document.getElementById("wrong");
  for (const one of document.querySelectorAll("[data-family]")) {
    one.addEventListener("click", async () => {
      const answer = await fetch("new", {
        method: "POST", headers: { "Content-Type": "application/json", "X-Token": token },
        body: JSON.stringify({ family: one.dataset.family, name: document.getElementById("number").value }),
      });
      const said = await answer.text();
      if (answer.ok) location.assign(`file/${encodeURIComponent(said)}/`);
      else { wrong.textContent = said; wrong.scrollIntoView(); }
    });
  }
})();

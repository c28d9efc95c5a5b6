"use strict";
// Begins a part: the family that is touched, under the number that stands above.
(() => {
  const token = document.getElementById("hand").dataset.token, wrong = document.getElementById("wrong");
  // One picture is asked for at a time: six would take all the ways that a browser has to a server.
  const pictures = async () => {
    for (const one of document.querySelectorAll("img[data-src]")) {
      one.src = one.dataset.src;
      await one.decode().catch(() => {});
    }
  };
  for (const one of document.querySelectorAll("[data-family]")) {
    one.addEventListener("click", async () => {
      const what = one.querySelector("span"), summary = what.textContent;
      what.textContent = "being begun";
      const answer = await fetch("new", {
        method: "POST", headers: { "Content-Type": "application/json", "X-Token": token },
        body: JSON.stringify({ family: one.dataset.family, name: document.getElementById("number").value }),
      });
      const said = await answer.text();
      if (answer.ok) location.assign(`file/${encodeURIComponent(said)}/`);
      else { what.textContent = summary; wrong.textContent = said; wrong.scrollIntoView(); }
    });
  }
  // The page is there before the first of them.
  addEventListener("load", pictures);
})();

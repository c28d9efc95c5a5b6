"use strict";
// What the page shares: `hand.on` hears of each stage, `hand.post` asks for a change, `hand.made` builds an element.
window.hand = (() => {
  const token = document.getElementById("hand").dataset.token;
  const heard = new Map(), last = new Map();
  const on = (stage, act) => heard.set(stage, [...(heard.get(stage) || []), act]);
  const told = (record) => {
    last.set(record.stage, record);
    for (const act of heard.get(record.stage) || []) act(record);
  };
  const made = (kind, more = {}, ...inner) => {
    const one = document.createElement(kind);
    for (const [name, value] of Object.entries(more)) {
      if (name === "class") one.className = value;
      else if (name.startsWith("on")) one.addEventListener(name.slice(2), value);
      else if (value === true) one.setAttribute(name, "");
      else if (value !== false && value !== null && value !== undefined) one.setAttribute(name, value);
    }
    one.append(...inner);
    return one;
  };
  const post = async (act, asked = {}) => {
    let said = "";
    try {
      const answer = await fetch(act, {
        method: "POST", headers: { "Content-Type": "application/json", "X-Token": token }, body: JSON.stringify(asked),
      });
      said = answer.ok ? "" : await answer.text();
    } catch {
      said = "the work has ended, or cannot be reached: nothing is changed from here any more";
    }
    told({ stage: "refused", act, asked, said });
    return said;
  };
  // One request at a time goes out for a drag: of those that come meanwhile the newest.
  let running = false, next = null;
  const change = async (edits, gesture = "") => {
    if (gesture && running) { next = [edits, gesture]; return ""; }
    running = true;
    const said = await post("change", { edits, gesture });
    running = false;
    if (next) { const [e, g] = next; next = null; return change(e, g); }
    return said;
  };
  const figure = (value, places = 4) => (value === null || value === undefined ? "no number" : String(Number(value.toPrecision(places))));
  const listen = () => {
    const events = new EventSource("events");
    events.addEventListener("message", (event) => told(JSON.parse(event.data)));
    events.addEventListener("error", () => told({ stage: "silent" }));
    events.addEventListener("open", () => told({ stage: "open" }));
  };
  addEventListener("DOMContentLoaded", listen);
  return { on, told, made, post, change, figure, last: (stage) => last.get(stage) };
})();

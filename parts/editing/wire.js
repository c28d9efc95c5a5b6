"use strict";
// What the page shares: `hand.on` hears of each stage, `hand.post` asks for a change, `hand.made` builds an element.
window.hand = (() => {
  const token = document.getElementById("hand").dataset.token;
  const heard = new Map(), last = new Map();
  const on = (stage, act) => heard.set(stage, [...(heard.get(stage) || []), act]);
  // A state of a later text than was told of is a "new text" too: one of a file that was written is none.
  let newest = 0;
  const told = (record) => {
    last.set(record.stage, record);
    const later = record.version > newest;
    if (later) newest = record.version;
    if (later && record.stage === "state") told({ stage: "new text" });
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
  let reached = 0;
  const send = async (act, asked) => {
    let said = "";
    try {
      const answer = await fetch(act, {
        method: "POST", headers: { "Content-Type": "application/json", "X-Token": token }, body: JSON.stringify(asked),
      });
      said = answer.ok ? "" : await answer.text();
      reached = Number(answer.headers.get("X-Version")) || reached;
    } catch {
      said = "the work has ended, or cannot be reached: nothing is changed from here any more";
    }
    told({ stage: "refused", act, asked, said });
    return said;
  };
  // One request at a time goes out, in the order in which they were asked for.
  const waiting = [];
  let running = false;
  const run = async () => {
    if (running) return;
    running = true;
    for (let one = waiting.shift(); one; one = waiting.shift()) one.done(await send(one.act, one.asked));
    running = false;
  };
  const post = (act, asked = {}) => new Promise((done) => { waiting.push({ act, asked, done }); run(); });
  // Whether a record tells of less than what was asked for here.
  const isBehind = (record) => running || waiting.length > 0 || record.version < reached;
  // Of the moves of one drag that wait the newest goes.
  const change = (edits, gesture = "") => {
    const last = waiting[waiting.length - 1];
    if (gesture && last && last.asked.gesture === gesture) { last.asked.edits = edits; return Promise.resolve(""); }
    return post("change", { edits, gesture });
  };
  const figure = (value, places = 4) => (value === null || value === undefined ? "no number" : String(Number(value.toPrecision(places))));
  const listen = () => {
    const events = new EventSource("events");
    events.addEventListener("message", (event) => told(JSON.parse(event.data)));
    events.addEventListener("error", () => told({ stage: "silent" }));
    events.addEventListener("open", () => told({ stage: "open" }));
  };
  addEventListener("DOMContentLoaded", listen);
  return { on, told, made, post, change, isBehind, figure, last: (stage) => last.get(stage) };
})();

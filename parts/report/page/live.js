"use strict";
// While `oneoff watch` serves this page: reload when the part was made anew, and say what is wrong when it was not.
(() => {
  const banner = document.getElementById("watch");
  const own = Number(document.documentElement.dataset.version);
  const say = (text, kind) => { banner.textContent = text; banner.className = kind; };
  const unfolded = "unfolded " + location.pathname;
  try {
    for (const id of JSON.parse(sessionStorage.getItem(unfolded)) || []) {
      const one = document.getElementById(id);
      if (one) one.open = true;
    }
  } catch { /* nothing is kept */ }
  const events = new EventSource("events");
  events.addEventListener("message", (event) => {
    const state = JSON.parse(event.data);
    if (state.version !== own) {
      const open = [...document.querySelectorAll("details[id][open]")].map((one) => one.id);
      try { sessionStorage.setItem(unfolded, JSON.stringify(open)); } catch { /* nothing is kept */ }
      location.reload();
    } else if (state.wrong) {
      say(`This is the last good part. The file as saved could not be made:\n${state.wrong}`, "wrong");
    } else {
      say(state.note, "well");
    }
  });
  events.addEventListener("error", () => {
    say("The watch has ended, or cannot be reached: this page no longer follows the file.", "wrong");
  });
})();

"use strict";
(() => {
  const sheets = [...document.querySelectorAll(".sheet")];
  const show = (first) => {
    const here = sheets.find((sheet) => "#" + sheet.id === location.hash) || sheets[0];
    sheets.forEach((sheet) => sheet.classList.toggle("here", sheet === here));
    document.querySelectorAll("nav.steps details").forEach((list) => { list.open = false; });
    if (!first) { here.focus(); window.scrollTo(0, 0); }
  };
  document.body.classList.add("scripted");
  addEventListener("hashchange", () => show(false));
  show(true);
  // The browser goes to the place in the address by itself once all is laid out, past the board.
  addEventListener("load", () => { if (location.hash) { requestAnimationFrame(() => window.scrollTo(0, 0)); } });
  const all = JSON.parse(document.getElementById("questions").textContent);
  const at = (id) => document.getElementById(id);
  const tell = (into, tag, text, link) => {
    const made = document.createElement(tag);
    if (link) { const a = document.createElement("a"); a.href = link; a.textContent = text; made.append(a); } else { made.textContent = text; }
    into.append(made);
    return made;
  };
  let asked = [], number = 0, right = 0, learn = new Map();
  const score = () => { at("score").textContent = number === 0 && right === 0 ? "" : right + " of " + number + " right"; };
  const end = () => {
    const into = at("question");
    into.replaceChildren();
    tell(into, "h3", right + " of " + asked.length + " right");
    if (learn.size > 0) {
      tell(into, "p", "To learn:");
      const list = document.createElement("ul");
      learn.forEach((link, what) => tell(list, "li", what, link));
      into.append(list);
    }
    at("begin").hidden = false;
  };
  const next = () => {
    if (number >= asked.length) { end(); return; }
    const one = asked[number];
    const into = at("question");
    into.replaceChildren();
    const title = tell(into, "h3", (number + 1) + ". " + one.question);
    title.tabIndex = -1;
    one.choices.forEach((choice, place) => {
      const button = tell(into, "button", choice);
      button.className = "choice";
      button.type = "button";
      button.addEventListener("click", () => {
        if (into.querySelector("[data-is]")) { return; }
        const buttons = [...into.querySelectorAll(".choice")];
        buttons[one.right].dataset.is = "right";
        buttons[one.right].textContent = "\u25a0 Right: " + one.choices[one.right];
        number += 1;
        if (place === one.right) { right += 1; } else {
          button.dataset.is = "wrong";
          button.textContent = "\u25b2 No: " + choice;
          learn.set(one.learn, one.link);
        }
        score();
        tell(into, "p", one.because);
        const on = tell(into, "button", number < asked.length ? "Next question" : "How it went");
        on.className = "plainb";
        on.type = "button";
        on.addEventListener("click", next);
        on.focus();
      });
    });
    title.focus();
  };
  at("begin").addEventListener("click", () => {
    asked = all[at("who").value];
    number = 0; right = 0; learn = new Map();
    at("begin").hidden = true;
    score();
    next();
  });
})();

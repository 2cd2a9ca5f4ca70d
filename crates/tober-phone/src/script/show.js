// Showing.

let shown = null;
let plan = "";
const drafts = new Map();
const fieldsOf = (wanted) => all("[name]").filter((field) => field.name === wanted);
function show(answer) {
  // Never another plan than that of what stands.
  if (answer.refused) return refuse("What is kept here cannot be shown: " + answer.refused);
  if (answer.html) {
    $("visit").innerHTML = answer.html;
    return;
  }
  plan = answer.plan;
  for (const slot of all("[data-part]")) {
    const html = answer.parts[slot.dataset.part];
    if (html === undefined || (shown && shown.parts[slot.dataset.part] === html)) continue;
    const open = [...slot.querySelectorAll("details[open] > summary")].map((summary) => summary.textContent);
    const focused = slot.contains(document.activeElement);
    slot.innerHTML = html;
    // Whoever works by keyboard stays where they were: on what took the place of what they pressed.
    if (focused) {
      const next = slot.querySelector("a.btn, button, a") || slot.closest("section").querySelector("h2");
      if (next) next.focus({ preventScroll: true });
    }
    for (const summary of slot.querySelectorAll("details > summary")) {
      if (open.includes(summary.textContent)) summary.parentElement.open = true;
    }
  }
  for (const box of all("[data-shown]")) box.hidden = !answer.shown[box.dataset.shown];
  dress();
  foot();
  for (const field of all("#visit [name]:not([name^='local '])")) {
    const value = answer.fields[field.name] || "";
    if (field.type === "radio") {
      field.checked = value === field.value;
    } else if (!drafts.has(field.name)) {
      field.value = value;
    }
    field.classList.toggle("wrong", Boolean(answer.wrong[field.name]));
    if (answer.wrong[field.name]) field.setAttribute("aria-invalid", "true");
    else field.removeAttribute("aria-invalid");
  }
  for (const said of all("[data-said]")) {
    const wrong = answer.wrong[said.dataset.said] || "";
    const draft = drafts.get(said.dataset.said);
    said.textContent = wrong || (draft === undefined ? "" : "Typed and not yet taken. Press Enter, or touch another field.");
    said.classList.toggle("wrong", Boolean(wrong));
  }
  shown = answer;
  document.body.dataset.worked = String(Number(document.body.dataset.worked || 0) + 1);
}
// The working of a figure is worked out when somebody opens it.
document.addEventListener("toggle", (event) => {
  const slot = event.target.open && event.target.querySelector("[data-working]:empty");
  if (!slot || !module) return;
  try {
    const answer = ask({ do: "working", ...files, entries: entries(), number: Number(slot.dataset.working) });
    slot.innerHTML = answer.html || "";
  } catch (fault) {
    slot.textContent = broken;
  }
}, true);
// What every page of paper says at its foot.
function foot() {
  const said = document.querySelector(".ride").textContent + ", plan " + plan;
  const quoted = [...said].map((letter) => "\\" + letter.codePointAt(0).toString(16) + " ").join("");
  $("foot").textContent = '@page { @bottom-left { content: "' + quoted + '"; font: 9pt sans-serif; } }';
}
// How this phone shows the page, by day or night and for which gloves.
function dress() {
  for (const [name, key] of [["local screen", "scheme"], ["local buttons", "buttons"]]) {
    const chosen = get("tober/" + name) || "";
    if (chosen) document.documentElement.dataset[key] = chosen;
    else delete document.documentElement.dataset[key];
    for (const field of fieldsOf(name)) field.checked = field.value === chosen;
  }
}
function say(sentence) {
  $("live").textContent = "";
  $("live").textContent = sentence;
}
const now = () => ({ ms: Date.now(), offset: -new Date().getTimezoneOffset() });
function refresh() {
  show(ask({ do: "pages", ...files, entries: entries(), now: now() }));
}
const broken = "The core stopped: this is a fault of ours, and no number is better than a wrong one. Plan this one by hand.";

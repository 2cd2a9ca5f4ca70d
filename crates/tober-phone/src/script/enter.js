// Entering.

function enter(kind, what, value) {
  let answer;
  try {
    answer = ask({ do: "enter", ...files, entries: entries(), now: now(), device: writer, kind, what, value, plan });
  } catch (fault) {
    refuse(broken);
    return Promise.resolve(false);
  }
  if (answer.refused) {
    say(answer.refused);
    $("kept").textContent = answer.refused;
    return Promise.resolve(false);
  }
  let keeping = Promise.resolve();
  if (answer.entry) keeping = keep(answer.entry);
  show(answer);
  return keeping.then(() => true);
}
const draftKey = (field) => place + "draft/" + writer + "/" + field;
function commit(field) {
  if (!module || !files || !field.name || !field.closest("#visit")) return;
  // A field that nobody typed in says nothing.
  if (field.type !== "radio" && !drafts.has(field.name)) return;
  const stands = (shown && shown.fields[field.name]) || "";
  drafts.delete(field.name);
  if (field.type !== "radio" && field.value.trim() === stands) {
    field.value = stands;
    forget(field.name);
    if (shown) show(shown);
    return;
  }
  const kind = field.name === "note" ? "note" : "reading";
  const value = field.type === "radio" && field.value === "not looked" ? "" : sound(field.value.trim());
  enter(kind, field.name, value).then((done) => {
    if (done) forget(field.name);
  });
}
function forget(name) {
  try {
    localStorage.removeItem(draftKey(name));
  } catch (fault) {
    // A draft that cannot be removed is only shown again.
  }
}
function typed(event) {
  const field = event.target;
  if (!field.name || field.type === "radio" || !field.closest("#visit")) return;
  drafts.set(field.name, field.value);
  if (!set(draftKey(field.name), field.value) && !refused) refuse("The browser's store is full or refused.");
}
document.addEventListener("input", typed);
document.addEventListener("change", (event) => {
  const field = event.target;
  if (field.id === "take-file") return takeFile(field);
  if (field.id === "take-photo") return takePhoto(field);
  if (field.name.startsWith("local ")) {
    set("tober/" + field.name, field.value);
    return dress();
  }
  if (field.name && field.closest("#visit")) commit(field);
});
document.addEventListener("focusout", (event) => {
  const field = event.target;
  if (field.name && drafts.has(field.name)) commit(field);
});
// Enter takes what was typed and goes on to the next field that is seen.
document.addEventListener("keydown", (event) => {
  const field = event.target;
  if (event.key !== "Enter" || field.tagName !== "INPUT" || field.type !== "text") return;
  event.preventDefault();
  commit(field);
  const seen = all("main input[type=text]").filter((other) => other.offsetParent !== null);
  const next = seen[seen.indexOf(field) + 1];
  if (next) next.focus();
  else field.blur();
});
// A wrong figure is typed over, not taken away letter by letter with a glove.
document.addEventListener("focusin", (event) => {
  if (event.target.type === "text" && event.target.closest("#visit")) event.target.select();
});
document.addEventListener("submit", (event) => event.preventDefault());
let touched = 0;
document.addEventListener("click", (event) => {
  const link = event.target.closest("a[data-field]");
  if (link) {
    event.preventDefault();
    const [field] = fieldsOf(link.dataset.field);
    if (field) goTo(field);
    return;
  }
  const hand = event.target.closest("button[data-hand]");
  if (hand) return handOver(hand.dataset.hand);
  const button = event.target.closest("button[data-do]");
  if (!button) return;
  // Rain touches twice: the second touch of a button that makes an entry is no touch.
  const at = Date.now();
  if (at - touched < 700) return;
  touched = at;
  if (!module) return say("The page is not ready yet: touch again in a moment.");
  // What cannot be kept is never called done.
  if (refused && button.dataset.do !== "stop") return say($("stopped").textContent);
  enter(button.dataset.do, button.dataset.what, button.dataset.value).then((done) => {
    if (done) say("Kept");
  });
});
function goTo(field) {
  const section = field.closest("section");
  if (section && location.hash !== "#" + section.id) location.hash = section.id;
  for (let box = field.closest("details"); box; box = box.parentElement.closest("details")) box.open = true;
  field.focus();
}

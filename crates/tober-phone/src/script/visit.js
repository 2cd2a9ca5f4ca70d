// Which visit.

async function use(visit) {
  files = visit;
  place = "tober/" + visit.key + "/";
  document.body.dataset.place = place;
  set(bookPlace + "open", visit.key);
  memory.clear();
  drafts.clear();
  shown = null;
  gather();
  for (const [key, line] of await allDeep()) {
    memory.set(key, line);
    if (!get(key)) set(key, line);
  }
  if (several) {
    const answer = ask({ do: "open", ...files });
    $("visit").innerHTML = answer.html || "";
    if (answer.title) document.querySelector(".ride").textContent = answer.title;
    const back = document.createElement("li");
    back.innerHTML = '<a href="#pitches"><span class="n">+</span>Pitches</a>';
    const list = document.querySelector("#sheets ol");
    if (list) list.append(back);
  }
  // What was typed and not yet taken when the page was closed is put back, and not taken for a reading.
  try {
    for (let i = localStorage.length - 1; i >= 0; i--) {
      const key = localStorage.key(i);
      if (!key.startsWith(place + "draft/")) continue;
      const field = key.slice(key.indexOf("/", (place + "draft/").length) + 1);
      drafts.set(field, localStorage.getItem(key));
      localStorage.removeItem(key);
      set(draftKey(field), drafts.get(field));
    }
  } catch (fault) {
    // Then there are none.
  }
  for (const [name, value] of drafts) for (const field of fieldsOf(name)) field.value = value;
  refresh();
  if (!refused) $("kept").textContent = memory.size ? "Kept " + clock() : "Nothing entered yet";
}
function begun() {
  const found = [];
  try {
    for (let i = 0; i < localStorage.length; i++) {
      const key = localStorage.key(i);
      if (key.startsWith(bookPlace + "begun/")) found.push(JSON.parse(localStorage.getItem(key)));
    }
  } catch (fault) {
    // One that cannot be read is not offered; its entries stay where they are.
  }
  return found.map((visit) => ({ ...beginWith, ...visit }));
}
function offer() {
  const box = $("begun");
  if (!box) return;
  box.textContent = "";
  for (const visit of begun()) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "plainb";
    button.dataset.key = visit.key;
    button.textContent = "Open " + visit.title;
    box.append(button);
  }
}
document.addEventListener("click", async (event) => {
  const button = event.target.closest("button[data-open], button[data-key], button[data-begin]");
  if (!button || !module) return;
  if (button.dataset.begin) {
    const units = document.querySelector("[name='begin units']:checked");
    const name = sound($("begin-name").value);
    const answer = ask({ do: "begin", ...beginWith, name, units: units ? units.value : "" });
    $("begin-said").textContent = answer.refused || (answer.wrong ? "The books do not fit together." : "");
    if (!answer.key) return;
    const visit = { key: answer.key, title: answer.title, pitch: answer.pitch, visit: answer.visit };
    if (!set(bookPlace + "begun/" + answer.key, JSON.stringify(visit))) refuse("The browser's store for this page is full or refused.");
    $("begin-name").value = "";
    offer();
    await use({ ...beginWith, ...visit });
  } else if (button.dataset.key) {
    await use(begun().find((visit) => visit.key === button.dataset.key));
  } else {
    await use(visits[Number(button.dataset.open)]);
  }
  location.hash = "pitch";
});

// The store: one key an entry, written once and never changed, so that two tabs cannot write over each other.

const memory = new Map();
let refused = "";
let database = null;
const letters = (count) =>
  [...crypto.getRandomValues(new Uint8Array(count))].map((byte) => "23456789abcdefghjkmnpqrstvwxyz"[byte % 30]).join("");
function set(key, value) {
  try {
    localStorage.setItem(key, value);
    return true;
  } catch (fault) {
    return false;
  }
}
function get(key) {
  try {
    return localStorage.getItem(key);
  } catch (fault) {
    return null;
  }
}
// Room for one more long entry, before it is made.
async function tryStore() {
  const trial = "x".repeat(4096);
  const quick = set("tober/trial", trial);
  try {
    localStorage.removeItem("tober/trial");
  } catch (fault) {
    // Said by what follows.
  }
  const deep = !database || (await setDeep("tober/trial", trial));
  if (!quick || !deep) refuse("The browser's store for this page is full or refused.");
}
function openDatabase() {
  return new Promise((done) => {
    try {
      const opening = indexedDB.open("tober", 1);
      opening.onupgradeneeded = () => opening.result.createObjectStore("entries");
      opening.onsuccess = () => done(opening.result);
      opening.onerror = () => done(null);
      opening.onblocked = () => done(null);
    } catch (fault) {
      done(null);
    }
  });
}
// What is written here has been asked to reach the flash before it is called kept.
function setDeep(key, value) {
  return new Promise((done) => {
    if (!database) return done(false);
    try {
      const transaction = database.transaction("entries", "readwrite", { durability: "strict" });
      transaction.objectStore("entries").put(value, key);
      transaction.oncomplete = () => done(true);
      transaction.onerror = transaction.onabort = () => done(false);
    } catch (fault) {
      done(false);
    }
  });
}
function allDeep() {
  return new Promise((done) => {
    if (!database) return done([]);
    try {
      const store = database.transaction("entries").objectStore("entries");
      const range = IDBKeyRange.bound(place + "entry/", place + "entry/\uffff");
      const [keys, values] = [store.getAllKeys(range), store.getAll(range)];
      values.onsuccess = () => done(keys.result.map((key, at) => [key, values.result[at]]));
      values.onerror = () => done([]);
    } catch (fault) {
      done([]);
    }
  });
}
function gather() {
  try {
    for (let i = 0; i < localStorage.length; i++) {
      const key = localStorage.key(i);
      if (key.startsWith(place + "entry/")) memory.set(key, localStorage.getItem(key));
    }
  } catch (fault) {
    refuse("This phone's browser keeps nothing for this page.");
  }
}
const entries = () => [...memory.keys()].sort().map((key) => sound(String(memory.get(key))));
function refuse(why) {
  refused = why;
  $("stopped").innerHTML = "";
  const box = document.createElement("div");
  box.className = "coach bad";
  const title = document.createElement("h2");
  title.textContent = "This phone cannot keep what you enter";
  const said = document.createElement("p");
  said.textContent = why + " Carry on by paper: write each reading and each pin down. Free some room on the phone, or open this file in another browser. Before you close this page, hand over what it holds: sheet Entries.";
  box.append(title, said);
  $("stopped").append(box);
  $("kept").textContent = "Not kept: use paper";
}
const clock = () => {
  const now = new Date();
  return String(now.getHours()).padStart(2, "0") + ":" + String(now.getMinutes()).padStart(2, "0");
};
// The writer of this opening of the page. Two tabs are two writers.
let writer = "";
function name() {
  let device = get("tober/device");
  if (!device) {
    device = letters(6);
    set("tober/device", device);
  }
  writer = device + "-" + letters(6);
}
function keep(line) {
  const entry = JSON.parse(line);
  const key = place + "entry/" + entry.device + ":" + String(entry.seq).padStart(8, "0");
  memory.set(key, line);
  const quick = set(key, line);
  $("kept").textContent = "Keeping " + clock();
  return setDeep(key, line).then((deep) => {
    if (deep || quick) {
      if (!refused) $("kept").textContent = "Kept " + clock();
      if (!quick) refuse("The browser's quick store is full or refused; only its slow one holds.");
      else if (!deep && database) refuse("The browser's store did not confirm that it is written.");
      else return tryStore();
    } else {
      refuse("The browser's store is full or refused.");
    }
  });
}

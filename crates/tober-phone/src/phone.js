"use strict";
// Carries what is typed to the core, keeps the entries that come back, and shows the rest. Nothing is computed here.
(() => {
  const $ = (id) => document.getElementById(id);
  const all = (selector) => [...document.querySelectorAll(selector)];
  const { visits, begin: beginWith } = JSON.parse($("files").textContent);
  const several = Boolean($("pitches"));
  const bookPlace = "tober/book/" + document.title + "/";
  // The visit that is open, and where in the store its entries are.
  let files = null;
  let place = "";

  // --- The core: one stream in, one out; that is all of the world it is given. ---

  let module = null;
  async function compiled() {
    const text = atob($("core").textContent);
    const packed = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
    const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
    module = await WebAssembly.compile(await new Response(stream).arrayBuffer());
  }
  function askText(question) {
    const input = new TextEncoder().encode(question);
    const output = [];
    let read = 0;
    let memory;
    const view = () => new DataView(memory.buffer);
    const each = (vectors, count, done, act) => {
      let total = 0;
      for (let i = 0; i < count; i++) {
        total += act(view().getUint32(vectors + 8 * i, true), view().getUint32(vectors + 8 * i + 4, true));
      }
      view().setUint32(done, total, true);
      return 0;
    };
    const given = {
      fd_read: (_, vectors, count, done) => each(vectors, count, done, (at, room) => {
        const part = input.subarray(read, read + room);
        new Uint8Array(memory.buffer, at, part.length).set(part);
        read += part.length;
        return part.length;
      }),
      fd_write: (_, vectors, count, done) => each(vectors, count, done, (at, size) => {
        output.push(new Uint8Array(memory.buffer, at, size).slice());
        return size;
      }),
      environ_sizes_get(count, size) {
        view().setUint32(count, 0, true);
        view().setUint32(size, 0, true);
        return 0;
      },
      environ_get: () => 0,
      // Asked for once, to seed maps whose order nothing here depends on.
      random_get(at, size) {
        new Uint8Array(memory.buffer, at, size).fill(7);
        return 0;
      },
      proc_exit(status) {
        throw new Error("the core ended with " + status);
      },
    };
    const instance = new WebAssembly.Instance(module, { wasi_snapshot_preview1: given });
    memory = instance.exports.memory;
    instance.exports._start();
    const whole = new Uint8Array(output.reduce((sum, part) => sum + part.length, 0));
    let at = 0;
    for (const part of output) {
      whole.set(part, at);
      at += part.length;
    }
    return new TextDecoder().decode(whole);
  }
  // Half of a letter, as a spoiled store or an odd keyboard gives, is no text: it becomes the mark for one that is lost.
  const sound = (text) => text.replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, "\ufffd");
  const ask = (question) => JSON.parse(askText(JSON.stringify(question)));
  globalThis.toberAsk = async (question) => {
    if (!module) await compiled();
    return askText(question);
  };

  // --- The store: one key an entry, written once and never changed, so that two tabs cannot write over each other. ---

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

  // --- Showing. ---

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

  // --- Entering. ---

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

  // --- Handing over and taking in. ---

  function fileText() {
    const answer = ask({ do: "hand over", ...files, entries: entries(), as: "file" });
    return answer.text;
  }
  function fileName() {
    return files.key.replace(/[^A-Za-z0-9]+/g, "-").toLowerCase() + ".jsonl";
  }
  function handOver(how) {
    if (!module) return;
    if (how === "paste") return takeIn($("take-text").value);
    if (how === "codes") {
      const answer = ask({ do: "hand over", ...files, entries: entries(), as: "codes" });
      $("codes").innerHTML = answer.refused ? "" : answer.html;
      if (answer.refused) say(answer.refused);
      return;
    }
    const file = new File([fileText()], fileName(), { type: "text/plain" });
    if (how === "share" && navigator.canShare && navigator.canShare({ files: [file] })) {
      navigator.share({ files: [file], title: document.title }).catch(() => {});
      return;
    }
    if (how === "share") $("taken").textContent = "This browser shares no files: the file is saved instead.";
    const link = document.createElement("a");
    link.href = URL.createObjectURL(file);
    link.download = fileName();
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  }
  function takeIn(text) {
    if (!module) return;
    let answer;
    try {
      answer = ask({ do: "take in", ...files, entries: entries(), text });
    } catch (fault) {
      answer = { refused: "That could not be read. Nothing was changed." };
    }
    $("taken").textContent = answer.refused || answer.said;
    if (!answer.entries || !answer.entries.length) return;
    Promise.all(answer.entries.map(keep)).then(refresh);
  }
  function takeFile(field) {
    const [file] = field.files;
    field.value = "";
    if (!file) return;
    if (file.size > 4000000) {
      $("taken").textContent = "That file has " + file.size + " bytes. A file of entries has at most 4000000.";
      return;
    }
    file.text().then(takeIn, () => {
      $("taken").textContent = "That file could not be read.";
    });
  }
  const HEX = Array.from({ length: 256 }, (_, byte) => byte.toString(16).padStart(2, "0"));
  function takePhoto(field) {
    const [file] = field.files;
    field.value = "";
    if (!file) return;
    const image = new Image();
    image.onload = () => {
      const scale = Math.min(1, 1200 / Math.max(image.width, image.height));
      const canvas = document.createElement("canvas");
      canvas.width = Math.round(image.width * scale);
      canvas.height = Math.round(image.height * scale);
      const pen = canvas.getContext("2d");
      pen.drawImage(image, 0, 0, canvas.width, canvas.height);
      const { data } = pen.getImageData(0, 0, canvas.width, canvas.height);
      let grey = "";
      for (let i = 0; i < data.length; i += 4) {
        grey += HEX[Math.floor((data[i] * 3 + data[i + 1] * 6 + data[i + 2]) / 10)];
      }
      URL.revokeObjectURL(image.src);
      let answer;
      try {
        answer = ask({ do: "read photo", width: canvas.width, height: canvas.height, grey });
      } catch (fault) {
        answer = { refused: "That picture could not be read. Take it again, or paste what a camera read." };
      }
      if (!answer.text) {
        $("taken").textContent = answer.refused;
        return;
      }
      // Codes come one by one: they are gathered where the pasted ones are.
      $("take-text").value = ($("take-text").value + "\n" + answer.text).trim();
      takeIn($("take-text").value);
    };
    image.onerror = () => {
      $("taken").textContent = "That is no picture this browser can open.";
    };
    image.src = URL.createObjectURL(file);
  }

  // --- One sheet at a time. ---

  const sections = () => all("main section.sheet");
  function turn(focus) {
    const wanted = decodeURIComponent(location.hash.slice(1));
    const there = sections();
    const target = wanted && $(wanted);
    let section = target && (target.closest("section.sheet") || (target.matches("nav") ? "list" : null));
    if (section === "list") {
      target.scrollIntoView();
      $("h-sheets").focus({ preventScroll: true });
      return;
    }
    if (!section) section = there[0];
    for (const other of there) other.classList.toggle("here", other === section);
    for (const link of all("nav a")) {
      if (link.getAttribute("href") === "#" + section.id) link.setAttribute("aria-current", "page");
      else link.removeAttribute("aria-current");
    }
    if (focus) {
      window.scrollTo(0, 0);
      const title = section.querySelector("h2");
      if (title) title.focus({ preventScroll: true });
    }
  }
  window.addEventListener("hashchange", () => turn(true));

  // Another tab of this visit has entered something.
  window.addEventListener("storage", (event) => {
    if (!files || (event.key && !event.key.startsWith(place + "entry/"))) return;
    gather();
    if (module) refresh();
  });
  setInterval(() => {
    if (module && files && document.querySelector("[data-waits]")) refresh();
  }, 20000);

  // --- Which visit. ---

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

  // --- Beginning. ---

  async function begin() {
    document.body.classList.add("scripted");
    turn(false);
    name();
    database = await openDatabase();
    await tryStore();
    try {
      await compiled();
      offer();
      const open = get(bookPlace + "open");
      const last = several ? [...visits, ...begun()].find((visit) => visit.key === open) : visits[0];
      if (last) await use(last);
      else $("kept").textContent = refused ? "Not kept: use paper" : "Choose a pitch";
      turn(false);
    } catch (fault) {
      refuse(broken);
      return;
    }
    document.body.dataset.ready = "yes";
  }
  begin();
})();

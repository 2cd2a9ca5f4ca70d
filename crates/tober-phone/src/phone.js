"use strict";
// Carries what is typed to the core and shows what comes back. Nothing is computed here.
(() => {
  const $ = (id) => document.getElementById(id);
  const files = JSON.parse($("files").textContent);
  const store = "tober " + document.title;
  const kept = $("kept");
  let entries = {};

  // Every entry is kept at once; a store that refuses is said before anything else.
  function keep() {
    try {
      localStorage.setItem(store, JSON.stringify(entries));
      kept.textContent = "Kept on this phone";
    } catch (refused) {
      kept.textContent = "This phone keeps nothing: write it on paper too";
    }
  }
  try {
    entries = JSON.parse(localStorage.getItem(store) || "{}");
    kept.textContent = "Kept on this phone";
  } catch (refused) {
    kept.textContent = "This phone keeps nothing: write it on paper too";
  }
  function restore() {
    for (const field of document.querySelectorAll("[data-keep]")) {
      const value = entries[field.dataset.keep];
      if (value === undefined) continue;
      if (field.type === "checkbox") field.checked = value; else field.value = value;
    }
  }
  document.addEventListener("input", (event) => {
    const field = event.target;
    if (!field.dataset || !field.dataset.keep) return;
    entries[field.dataset.keep] = field.type === "checkbox" ? field.checked : field.value;
    keep();
  });

  // The core reads one stream and writes another; that is all of the world it is given.
  let module;
  async function compiled() {
    if (!module) {
      const text = atob($("core").textContent);
      const packed = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
      const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
      module = await WebAssembly.compile(await new Response(stream).arrayBuffer());
    }
    return module;
  }
  async function ask(question) {
    const core = await compiled();
    const input = new TextEncoder().encode(JSON.stringify(question));
    const output = [];
    let read = 0;
    let memory;
    const view = () => new DataView(memory.buffer);
    const given = {
      fd_read(_, vectors, count, done) {
        let total = 0;
        for (let i = 0; i < count; i++) {
          const at = view().getUint32(vectors + 8 * i, true);
          const room = view().getUint32(vectors + 8 * i + 4, true);
          const part = input.subarray(read, read + room);
          new Uint8Array(memory.buffer, at, part.length).set(part);
          read += part.length;
          total += part.length;
        }
        view().setUint32(done, total, true);
        return 0;
      },
      fd_write(_, vectors, count, done) {
        let total = 0;
        for (let i = 0; i < count; i++) {
          const at = view().getUint32(vectors + 8 * i, true);
          const size = view().getUint32(vectors + 8 * i + 4, true);
          output.push(new Uint8Array(memory.buffer, at, size).slice());
          total += size;
        }
        view().setUint32(done, total, true);
        return 0;
      },
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
    const instance = new WebAssembly.Instance(core, { wasi_snapshot_preview1: given });
    memory = instance.exports.memory;
    instance.exports._start();
    const whole = new Uint8Array(output.reduce((sum, part) => sum + part.length, 0));
    let at = 0;
    for (const part of output) {
      whole.set(part, at);
      at += part.length;
    }
    return JSON.parse(new TextDecoder().decode(whole));
  }
  globalThis.toberAsk = ask;

  // What stands on the page is never taken for an answer to readings it was not made from.
  function old(sentence) {
    $("old").hidden = !sentence;
    $("old").textContent = sentence;
  }
  $("readings").addEventListener("input", () =>
    old("You have typed other readings: the plan below is not made from them. Press Work it out."));

  async function workOut(byHand) {
    $("said").textContent = "Working it out.";
    const readings = { legs: {} };
    for (const field of $("readings").querySelectorAll("input")) {
      const typed = field.value.trim();
      if (!typed) continue;
      if (field.name.startsWith("leg ")) readings.legs[field.name.slice(4)] = typed;
      else readings[field.name] = typed;
    }
    const said = $("said");
    let answer;
    try {
      answer = await ask({ do: "plan", ...files, readings });
    } catch (fault) {
      said.textContent = "The core stopped: this is a fault of ours, and no number is better than a wrong one. Plan this one by hand.";
      return;
    }
    if (answer.refused) {
      said.textContent = answer.refused;
      return;
    }
    said.textContent = answer.wrong ? "Something typed does not fit: see the top of the page." : "";
    $("plan").innerHTML = answer.html;
    old("");
    restore();
    if (byHand) {
      const heading = $("whole").querySelector("h2");
      heading.tabIndex = -1;
      heading.focus();
    }
  }
  $("readings").addEventListener("submit", (event) => {
    event.preventDefault();
    workOut(true);
  });
  restore();
  // Readings typed before the page was closed are worked out again before anything is shown as the plan.
  if ([...$("readings").querySelectorAll("input")].some((field) => field.value.trim())) {
    old("Your readings are being worked out: the plan below is not made from them.");
    workOut(false);
  }
})();

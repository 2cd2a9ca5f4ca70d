// Nothing is lost: the tab is killed, the browser is killed, the store is full, refused or damaged, two tabs are open.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { after, before, test } from "node:test";
import { addressOf, launch, launchWith, open, scratch, until, watch } from "./help.mjs";
import { TAPES, Thumb, go } from "./sheets.mjs";
import { LEVEL, SUNK, build, change, hold, inside, kept, lower, read, readFrame, ready, take } from "./stages.mjs";

let browser;
before(async () => (browser = await launch()));
after(() => browser?.close());

/** What a person sees of the entries: the list on their sheet, and what stands in the fields. */
async function seen(page) {
  await go(page, "entries");
  const entries = await page.locator("#entries ol li").allInnerTexts();
  const fields = await page.evaluate(() =>
    Object.fromEntries([...document.querySelectorAll("main input[type=text], main textarea[name]")].filter((f) => f.name && f.value).map((f) => [f.name, f.value])));
  await go(page, "trim");
  const trim = (await page.locator("#trim").innerText()).split("\n").filter(Boolean);
  await go(page, "stacks");
  return { entries, fields, trim, stacks: (await page.locator("#stacks").innerText()).split("\n").filter(Boolean) };
}

const STAGES = [
  ["three readings", async (page) => {
    await go(page, "pitch");
    const thumb = new Thumb(page);
    for (const leg of ["rear left", "rear right", "front left"]) await thumb.fill(`leg ${leg}`, TAPES[leg]);
    await kept(page);
  }],
  ["all readings", read],
  ["the plan taken", take],
  ["half of it built", (page) => build(page, undefined, 1, 3)],
  ["all of it built", (page) => build(page, undefined, 4, 6)],
  ["legs set", hold],
  ["lowered", lower],
  ["the frame read", (page) => readFrame(page, SUNK)],
  ["changed", change],
  ["trimmed", async (page) => (await readFrame(page, LEVEL), await inside(page))],
];

test("law: the browser is killed at every stage, and nothing that was called kept is lost", async () => {
  const { folder, away } = scratch("killed");
  const address = addressOf();
  try {
    for (const [stage, reach] of STAGES) {
      let context = await launchWith(folder);
      let page = await context.newPage();
      await page.goto(address);
      await ready(page);
      await reach(page);
      await kept(page);
      const before = await seen(page);
      // Every process of it at once, with no chance to write anything more: the battery is out.
      kill(folder);
      await context.close().catch(() => {});
      context = await launchWith(folder);
      const faults = await watch(context, address);
      page = await context.newPage();
      await page.goto(address);
      await ready(page);
      assert.deepEqual(await seen(page), before, `after ${stage}`);
      assert.ok(before.entries.length >= 3, "there was something to lose");
      assert.deepEqual(faults, []);
      await context.close();
    }
  } finally {
    away();
  }
});

/** Kills the browser that keeps its profile in a folder of ours, by its number. */
function kill(profile) {
  const listed = spawnSync("ps", ["-eo", "pid=,args="], { encoding: "utf8" }).stdout.split("\n");
  const mine = listed.filter((line) => line.includes(`--user-data-dir=${profile}`)).map((line) => Number(line.trim().split(/\s+/)[0]));
  assert.ok(mine.length > 0, "the browser runs");
  for (const pid of mine) {
    try {
      process.kill(pid, "SIGKILL");
    } catch {
      // One ends with another.
    }
  }
}

test("law: the tab is killed while a field is being typed in, and what was typed stands there again, not taken", async () => {
  const { page, context } = await open(browser);
  await ready(page);
  const thumb = new Thumb(page);
  await thumb.fill("leg front left", "697");
  await kept(page);
  await thumb.tap('[name="leg front right"]');
  await thumb.type("74");
  const other = await context.newPage();
  const session = await context.newCDPSession(page);
  const gone = page.waitForEvent("crash");
  session.send("Page.crash").catch(() => {});
  await gone;
  await page.close();
  await other.goto(addressOf());
  await ready(other);
  assert.equal(await other.locator('[name="leg front left"]').inputValue(), "697");
  assert.equal(await other.locator('[name="leg front right"]').inputValue(), "74");
  await go(other, "entries");
  assert.equal(await other.locator("#entries ol li").count(), 1, "what was not taken is no entry");
  await context.close();
});

const stopped = (page) => page.locator("#stopped").innerText();

/** What the page must say, before the next entry, of a store that does not hold. */
async function saysSo(page) {
  await until(async () => (await stopped(page)).length > 0, "a banner");
  const said = await stopped(page);
  assert.match(said, /cannot keep|not kept|keeps nothing/i);
  assert.match(said, /paper/i, "it says how to go on");
  assert.match(said, /hand over|export|save/i, "it says how to save what there is");
  assert.ok(await page.locator("#stopped").isVisible());
  assert.doesNotMatch(await page.locator("[data-state=kept], #kept").innerText(), /^Kept/, "it is not called kept");
  // On every sheet.
  for (const id of ["stacks", "limits", "entries"]) {
    await go(page, id);
    assert.ok(await page.locator("#stopped").isVisible(), id);
  }
}

test("law: a store that is refused is said before the first entry, and the plan is worked out all the same", async () => {
  for (const refuse of [
    // A browser that lets no page keep anything.
    () => {
      Object.defineProperty(globalThis, "localStorage", { get() { throw new DOMException("refused", "SecurityError"); } });
      Object.defineProperty(globalThis, "indexedDB", { get() { throw new DOMException("refused", "SecurityError"); } });
    },
    // One that lets it ask and refuses each time.
    () => {
      Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };
      IDBFactory.prototype.open = () => { throw new DOMException("refused", "UnknownError"); };
    },
  ]) {
    const { page, context } = await open(browser, { before: refuse });
    await ready(page);
    await saysSo(page);
    await go(page, "pitch");
    await new Thumb(page).fill("leg front left", "697");
    assert.equal(await page.locator('[name="leg front left"]').inputValue(), "697", "typing still works");
    await context.close();
  }
});

test("law: a store that fills up during the work is said at once, and what was kept stays", async () => {
  const { page, context } = await open(browser);
  await ready(page);
  const thumb = new Thumb(page);
  await thumb.fill("leg front left", "697");
  await kept(page);
  await page.evaluate(() => {
    Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };
    IDBObjectStore.prototype.put = () => { throw new DOMException("full", "QuotaExceededError"); };
  });
  await thumb.fill("leg front right", "742");
  await saysSo(page);
  await page.reload();
  await ready(page);
  assert.equal(await page.locator('[name="leg front left"]').inputValue(), "697");
  await context.close();
});

test("law: a quota that the phone really sets is said, and never called kept", async () => {
  const { page, context } = await open(browser);
  await ready(page);
  // All that localStorage takes, from a page beside this one.
  await page.evaluate(() => {
    for (let size = 1 << 22; size >= 1; size >>= 1) {
      try {
        for (let i = 0; ; i += 1) localStorage.setItem(`other/${size}/${i}`, "x".repeat(size));
      } catch {
        continue;
      }
    }
  });
  await page.reload();
  await ready(page);
  await until(async () => (await stopped(page)).length > 0, "a banner");
  assert.match(await stopped(page), /full|refused/i);
  await context.close();
});

test("law: two tabs on one visit lose nothing of each other, and show it", async () => {
  const { page, context, faults } = await open(browser);
  await ready(page);
  const other = await context.newPage();
  await other.goto(addressOf());
  await ready(other);
  await new Thumb(page).fill("leg front left", "697");
  await kept(page);
  await new Thumb(other).fill("leg front right", "742");
  await kept(other);
  await until(async () => (await page.locator('[name="leg front right"]').inputValue()) === "742", "the other tab's entry here");
  await until(async () => (await other.locator('[name="leg front left"]').inputValue()) === "697", "this tab's entry there");
  // Both at once on one field, neither having seen the other: both are kept, and the page says that two stand.
  await Promise.all([page, other].map((tab, i) => tab.evaluate((value) => {
    const field = document.querySelector('[name="leg rear left"]');
    field.value = value;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    field.dispatchEvent(new Event("change", { bubbles: true }));
  }, ["804", "814"][i])));
  await page.reload();
  await ready(page);
  const { entries } = await seen(page);
  assert.ok(entries.some((line) => line.includes("804")) && entries.some((line) => line.includes("814")), entries.join("\n"));
  assert.deepEqual(faults, []);
  await context.close();
});

test("refuse: a damaged store is named, hides no other entry and is left as it was", async () => {
  const { page, context, faults } = await open(browser);
  await ready(page);
  const thumb = new Thumb(page);
  await thumb.fill("leg front left", "697");
  await thumb.fill("leg front right", "742");
  await kept(page);
  const garbage = ["", "{", "null", "[]", "\u0000\ud800", '{"device":"x"}', "x".repeat(100_000)];
  const keys = await page.evaluate((garbage) => {
    const entries = Object.keys(localStorage).filter((key) => key.includes("/entry/"));
    const place = entries[0].slice(0, entries[0].indexOf("/entry/") + 7);
    garbage.forEach((text, i) => localStorage.setItem(`${place}zz${i}:00000001`, text));
    return entries;
  }, garbage);
  assert.equal(keys.length, 2);
  await page.reload();
  await ready(page);
  assert.equal(await page.locator('[name="leg front left"]').inputValue(), "697");
  assert.equal(await page.locator('[name="leg front right"]').inputValue(), "742");
  const main = await page.locator("body").innerText();
  assert.match(main, /cannot be read|not whole|damaged/i, "it says so");
  const left = await page.evaluate(() => Object.entries(localStorage).filter(([key]) => key.includes("/entry/zz")).map(([, text]) => text.length));
  assert.deepEqual(left.sort(), garbage.map((text) => text.length).sort(), "left as it was");
  // And the next entry can still be made.
  await go(page, "pitch");
  await thumb.fill("leg rear left", "804");
  await kept(page);
  assert.deepEqual(faults, []);
  await context.close();
});

test("refuse: an entry changed behind the page's back is found out", async () => {
  const { page, context } = await open(browser);
  await ready(page);
  await new Thumb(page).fill("leg front left", "697");
  await kept(page);
  await page.evaluate(() => new Promise((done) => {
    const [key] = Object.keys(localStorage).filter((key) => key.includes("/entry/"));
    const changed = localStorage.getItem(key).replace("697", "797");
    localStorage.setItem(key, changed);
    const opening = indexedDB.open("tober");
    opening.onsuccess = () => {
      const deed = opening.result.transaction("entries", "readwrite");
      deed.objectStore("entries").put(changed, key);
      deed.oncomplete = () => (opening.result.close(), done());
    };
  }));
  await page.reload();
  await ready(page);
  assert.match(await page.locator("body").innerText(), /697|cannot be read|not whole|damaged|changed/i);
  assert.notEqual(await page.locator('[name="leg front left"]').inputValue(), "797", "a changed entry is no reading");
  await context.close();
});

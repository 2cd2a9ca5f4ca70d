// Whatever is pasted, typed or taken in: clear words, nothing lost, and nothing of it becomes a part of the page.
import assert from "node:assert/strict";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { launch, open, scratch, until } from "./help.mjs";
import { LEGS, TAPES, Thumb, go, unfold } from "./sheets.mjs";
import { kept, read, ready, take } from "./stages.mjs";

let browser;
before(async () => (browser = await launch()));
after(() => browser?.close());

const NONSENSE = {
  "a long text": "697 ".repeat(5000),
  "pictures in letters": "6️⃣9️⃣7️⃣ 🎪🎠",
  "half a letter": "697\ud83c",
  "letters from right to left": "\u202e796 مليمتر",
  markup: '<script>globalThis.broken = 1</script><img src=x onerror="globalThis.broken = 1">',
  "a closing tag": '"></p></section></main><h1>mine</h1>',
  "a nought that ends texts": "69\u00007",
  "marks of the file's own language": '1 mm" }, { leg = "rear left", tape = "2 mm',
  "lines": "697\n742\n761",
  "a very small number": "1e-400",
  "a very large number": "9".repeat(400),
  "no number": "NaN",
  "nothing but spaces": "\u00a0\u2003\t ",
};

test("refuse: nonsense in every field is named and breaks nothing", async () => {
  const { page, context, faults } = await open(browser);
  await ready(page);
  const names = await page.locator("main input[type=text][name], main textarea[name]").evaluateAll((all) => all.map((field) => field.name));
  assert.ok(names.length >= 20, `${names.length} fields`);
  for (const [what, text] of Object.entries(NONSENSE)) {
    // As a paste does it: all at once into the field, and then on to the next. Every third field takes each kind, so
    // that each field meets several and the run is not all day.
    const kind = Object.keys(NONSENSE).indexOf(what);
    const chosen = names.filter((_, i) => i % 6 === kind % 6);
    await page.evaluate(([names, text]) => {
      for (const name of names) {
        const field = document.getElementsByName(name)[0];
        field.value = field.maxLength > 0 ? text.slice(0, field.maxLength) : text;
        field.dispatchEvent(new Event("input", { bubbles: true }));
        field.dispatchEvent(new Event("change", { bubbles: true }));
      }
    }, [chosen, text]);
    await kept(page);
    assert.equal(await page.locator("#stopped").innerText(), "", `after ${what} the core and the store still answer`);
    assert.equal(await page.evaluate(() => globalThis.broken), undefined, what);
    assert.equal(await page.locator("h1").count(), 1, what);
    assert.equal(await page.locator("main script, main img").count(), 0, what);
  }
  // The page still works: the same fields put right give the plan.
  await page.reload();
  await ready(page);
  await go(page, "pitch");
  for (const name of names) await page.evaluate((name) => {
    const field = document.getElementsByName(name)[0];
    field.value = "";
    field.dispatchEvent(new Event("input", { bubbles: true }));
    field.dispatchEvent(new Event("change", { bubbles: true }));
  }, name);
  await read(page);
  await page.locator("#pitch button[data-do=adopt]").waitFor();
  assert.deepEqual(faults, []);
  await context.close();
});

test("refuse: each leg says of nonsense what was typed and what would fit", async () => {
  const { page, context } = await open(browser);
  await ready(page);
  await go(page, "pitch");
  for (const text of ["697 kg", "seven", "697 742", "-697", "6971", "0", "1/0"]) {
    const field = page.locator('[name="leg front left"]');
    await field.fill(text);
    await field.press("Enter");
    assert.equal(await field.inputValue(), text, "it stands as it was typed");
    assert.equal(await field.getAttribute("aria-invalid"), "true", text);
    const said = await page.locator(`#${await field.getAttribute("aria-describedby")}`).innerText();
    assert.ok(said.includes(text), `${text}: ${said}`);
    assert.ok(/\d|\bmm\b/.test(said.replace(text, "")), `${text}: it says what would fit: ${said}`);
    assert.doesNotMatch(said, /toml|line \d|column|key|parse|panic|undefined|null|`/i, said);
  }
  await context.close();
});

/** Saves the entries as a file, as the page hands it over. */
async function save(page, folder, name) {
  await go(page, "entries");
  const [download] = await Promise.all([page.waitForEvent("download"), page.locator("button[data-hand=file]").click()]);
  const path = join(folder, name);
  await download.saveAs(path);
  return path;
}
const takeIn = async (page, path) => {
  await go(page, "entries");
  await page.locator("#taken").evaluate((said) => (said.textContent = ""));
  await page.locator("#take-file").setInputFiles(path);
  await until(async () => (await page.locator("#taken").innerText()).trim().length > 0, "it says what it took");
  return page.locator("#taken").innerText();
};
const fields = (page) => page.evaluate((legs) => Object.fromEntries(legs.map((leg) => [leg, document.getElementsByName(`leg ${leg}`)[0].value])), LEGS);

test("law: a file handed over and taken in on another phone gives the same entries, once or twice", async () => {
  const { folder, away } = scratch("hand-over");
  const one = await open(browser);
  await ready(one.page);
  await read(one.page);
  await take(one.page);
  const path = await save(one.page, folder, "one.jsonl");
  const entries = await one.page.locator("#entries ol li").allInnerTexts();
  assert.ok(entries.length >= 10, `${entries.length}`);

  const other = await open(browser);
  await ready(other.page);
  const said = await takeIn(other.page, path);
  assert.match(said, new RegExp(`\\b${entries.length}\\b`), `it says how many: ${said}`);
  // It is kept before it is shown.
  await until(async () => (await other.page.locator("#entries ol li").count()) === entries.length, "the entries are shown");
  assert.deepEqual(await fields(other.page), TAPES);
  assert.deepEqual(await other.page.locator("#entries ol li").allInnerTexts(), entries);
  // Twice gives the same.
  await takeIn(other.page, path);
  assert.deepEqual(await other.page.locator("#entries ol li").allInnerTexts(), entries);
  // And it is kept there.
  await other.page.reload();
  await ready(other.page);
  assert.deepEqual(await fields(other.page), TAPES);
  // The file that goes back says the same.
  const back = await save(other.page, folder, "back.jsonl");
  assert.equal(readFileSync(back, "utf8"), readFileSync(path, "utf8"));
  assert.deepEqual([...one.faults, ...other.faults], []);
  await one.context.close();
  await other.context.close();
  away();
});

test("refuse: a damaged or strange file is said, and changes nothing", async () => {
  const { folder, away } = scratch("damaged");
  const { page, context, faults } = await open(browser);
  await ready(page);
  await new Thumb(page).fill("leg front left", "697");
  await kept(page);
  const good = readFileSync(await save(page, folder, "good.jsonl"));
  const before = await page.locator("#entries ol li").allInnerTexts();
  const spoiled = {
    empty: Buffer.alloc(0),
    "cut short": good.subarray(0, good.length - 40),
    "a changed figure": Buffer.from(good.toString().replace("697", "797")),
    "a photograph": Buffer.from(Array.from({ length: 5000 }, (_, i) => (i * 7919) % 256)),
    "a page": Buffer.from("<!doctype html><script>alert(1)</script>"),
    "another program's": Buffer.from('{"hello":"world"}\n[1,2,3]\n'),
    "half letters": Buffer.from([0xed, 0xa0, 0x80, 0xff, 0xfe, 0x00]),
    "very long": Buffer.alloc(5_000_000, "x"),
    "a later kind": Buffer.from(good.toString().replace(/"format":\s*\d+/, '"format":99')),
  };
  for (const [what, bytes] of Object.entries(spoiled)) {
    const path = join(folder, "spoiled.jsonl");
    writeFileSync(path, bytes);
    const said = await takeIn(page, path);
    assert.ok(said.length > 15, `${what}: ${said}`);
    assert.doesNotMatch(said, /undefined|null\b|Error:|panic|serde|JSON\.parse/, `${what}: ${said}`);
    assert.deepEqual(await page.locator("#entries ol li").allInnerTexts(), before, `${what} changes nothing`);
    assert.equal(await page.locator('[name="leg front left"]').inputValue(), "697", what);
    assert.equal(await page.locator("#stopped").innerText(), "", what);
  }
  assert.deepEqual(faults, []);
  await context.close();
  away();
});

test("law: what another phone entered beside ours stands beside it, and neither is chosen silently", async () => {
  const { folder, away } = scratch("two");
  const [one, other] = [await open(browser), await open(browser)];
  for (const { page } of [one, other]) await ready(page);
  await new Thumb(one.page).fill("leg front left", "697");
  await new Thumb(other.page).fill("leg front left", "679");
  await kept(one.page);
  await takeIn(other.page, await save(one.page, folder, "one.jsonl"));
  await go(other.page, "pitch");
  const said = () => other.page.locator("#pitch").innerText();
  await until(async () => (await said()).includes("697") && (await said()).includes("679"), "both are said");
  await unfold(other.page);
  // Settled by reading it again.
  await other.page.locator('[name="leg front left"]').fill("697");
  await other.page.locator('[name="leg front left"]').press("Enter");
  assert.equal(await other.page.locator('[name="leg front left"]').getAttribute("aria-invalid"), null);
  await one.context.close();
  await other.context.close();
  away();
});

test("law: an entry is put right by a new one, and the old one can still be read", async () => {
  const { page, context } = await open(browser);
  await ready(page);
  const field = page.locator('[name="leg front left"]');
  for (const typed of ["705", "697", ""]) {
    await go(page, "pitch");
    await field.fill(typed);
    await field.press("Enter");
  }
  await kept(page);
  await go(page, "entries");
  const entries = await page.locator("#entries ol li").allInnerTexts();
  assert.equal(entries.length, 3);
  assert.match(entries[2], /705/);
  assert.match(entries[1], /697.*705|705.*697/s, "it names what it takes the place of");
  assert.match(entries[0], /taken back|blank/i);
  await context.close();
});

test("law: a second touch in the rain is no touch", async () => {
  const { page, context } = await open(browser);
  await ready(page);
  await read(page);
  await page.locator("#pitch button[data-do=adopt]").waitFor();
  await go(page, "entries");
  const before = await page.locator("#entries ol li").count();
  await take(page);
  await go(page, "leg-1");
  const place = await page.locator("#leg-1 button[data-do=tick]").boundingBox();
  const at = [place.x + place.width / 2, place.y + place.height / 2];
  await page.waitForTimeout(750);
  for (let i = 0; i < 4; i += 1) await page.touchscreen.tap(...at);
  await go(page, "entries");
  assert.equal(await page.locator("#entries ol li").count(), before + 2, "the plan taken, and one tick");
  await context.close();
});

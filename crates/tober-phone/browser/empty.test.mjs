// From a ride alone, on a field nobody has planned for, to a trimmed frame: one phone, no file of a visit.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { emptyAddress, launch, open } from "./help.mjs";
import { Thumb, all, go } from "./sheets.mjs";
import { LEVEL, SUNK, build, change, hold, kept, lower, read, readFrame, ready, take } from "./stages.mjs";

let browser;
before(async () => (browser = await launch()));
after(() => browser?.close());

test("law: from an empty ride to a trimmed frame by taps and typing alone, and again after a reload", async (t) => {
  const { page, context, faults } = await open(browser, { address: emptyAddress() });
  await ready(page);
  assert.deepEqual(await all(page), ["pitches"], "there is nothing but a pitch to begin");
  const thumb = new Thumb(page);

  // A pitch without a name is refused in words.
  await thumb.tap("[data-begin]");
  assert.match(await page.locator("#begin-said").innerText(), /name/i);
  await thumb.tap("#begin-name");
  await thumb.type("Long Acre");
  await thumb.choose("begin units", "gb");
  await thumb.tap("[data-begin]");
  await page.waitForFunction(() => document.getElementById("pitch")?.checkVisibility());
  await ready(page);

  const filled = await page.locator("#visit input").evaluateAll((fields) =>
    fields.filter((field) => (field.type === "radio" ? field.checked : field.value) && !field.name.startsWith("local ") && field.name !== "method").map((field) => field.name || field.id));
  assert.deepEqual(filled, [], "every field is blank until somebody has read the thing, but for the way whose fields are seen");

  // What the feet stand on, which board lies there, whether it slides, and how good the instruments are.
  await go(page, "ground");
  await thumb.choose("ground", "turf");
  await thumb.choose("wet", "dry");
  await thumb.choose("bottom", "mat");
  await thumb.tap("#ground summary:has-text('Pull test')");
  await thumb.tap("[name='friction']");
  await thumb.type("0.4");
  await page.keyboard.press("Enter");
  await go(page, "pitch");
  await thumb.choose("method", "tape");
  await thumb.tap("#pitch summary:has-text('instruments')");
  for (const [name, figure] of [["slope deviation", "0.3"], ["tape deviation", "2"]]) {
    await thumb.tap(`[name='${name}']`);
    await thumb.type(figure);
    await page.keyboard.press("Enter");
  }
  await read(page, thumb);
  await take(page, thumb);
  const toPlan = thumb.count;
  await build(page, thumb);
  await hold(page, thumb);
  await lower(page, thumb);
  await readFrame(page, SUNK, thumb);
  await change(page, thumb);
  await readFrame(page, LEVEL, thumb);
  const told = await page.locator('[data-part="trim said"]').innerText();
  assert.match(told, /nothing to change/i);
  assert.equal(await page.locator("[data-what='hold frame read']").count(), 1, told);
  await thumb.tap("[data-what='hold frame read']");
  await page.waitForFunction(() => document.querySelector('[data-part="trim said"]').innerText.includes("Frame read, inside"));
  t.diagnostic(`from an empty ride: ${toPlan} taps and keys until the plan is taken, ${thumb.count} until the frame is held as read`);

  await kept(page);
  await go(page, "entries");
  const entries = await page.locator("#entries ol li").allInnerTexts();
  assert.ok(entries.length >= 40, `${entries.length} entries`);
  // After a reload the same pitch can be opened and nothing is lost.
  await page.reload();
  await ready(page);
  if ((await all(page)).length === 1) {
    await page.getByText("Long Acre").first().click();
    await page.waitForFunction(() => document.getElementById("entries"));
  }
  await go(page, "entries");
  assert.deepEqual(await page.locator("#entries ol li").allInnerTexts(), entries);
  assert.deepEqual(faults, []);
  await context.close();
});

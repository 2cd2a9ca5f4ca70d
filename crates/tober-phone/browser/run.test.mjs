// The whole run: from nothing entered to a trimmed frame, by taps and typing alone, wrong entries included.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { SIZES, launch, open } from "./help.mjs";
import { LEGS, TAPES, Thumb, go } from "./sheets.mjs";
import { LEVEL, SUNK, WRONG, build, change, hold, inside, lower, read, readFrame, ready, take, wrong } from "./stages.mjs";

let browser;
before(async () => (browser = await launch()));
after(() => browser?.close());

/** A phone of the cheap kind: four times slower than the machine that tests. */
const slowed = async (page) => {
  const session = await page.context().newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: 4 });
};

const visible = (page, selector) => page.locator(selector).filter({ visible: true });

for (const [size, options] of Object.entries(SIZES)) {
  test(`law: from nothing entered to a trimmed frame, wrong entries included, ${size}`, async (t) => {
    const { page, context, faults } = await open(browser, options);
    if (size === "390 x 844") await slowed(page);
    await ready(page);

    // What is typed wrong is named where it stands and at the top, is kept as it was typed, and gives no plan.
    await wrong(page);
    const box = await visible(page, "#pitch [role=alert]").innerText();
    for (const [leg, typed] of Object.entries(WRONG)) {
      if (!typed.trim()) continue;
      const field = page.locator(`[name="leg ${leg}"]`);
      assert.equal(await field.inputValue(), typed, `${leg} stands as it was typed`);
      assert.equal(await field.getAttribute("aria-invalid"), "true", leg);
      const said = await page.locator(`#${await field.getAttribute("aria-describedby")}`).innerText();
      assert.ok(said.includes(typed), `at ${leg} it says what was typed: ${said}`);
      assert.ok(/\d|\bmm\b/.test(said.replace(typed, "")), `at ${leg} it says what would fit: ${said}`);
      assert.match(box, new RegExp(leg, "i"));
    }
    const blank = page.locator(`[name="leg middle right"]`);
    assert.equal((await blank.inputValue()).trim(), "", "a blank is no reading");
    assert.equal(await visible(page, "#pitch button[data-do=adopt]").count(), 0, "no plan from wrong entries");

    // A link in the box leads to the field.
    await visible(page, "#pitch [role=alert] a").first().click();
    const at = await page.evaluate(() => document.activeElement.name);
    assert.ok(at?.startsWith("leg "), `the link leads to the field: ${at}`);

    // Put right, the same fields give the plan. Selecting what stands there is one more tap a field.
    for (const leg of LEGS) await page.locator(`[name="leg ${leg}"]`).fill("");
    await read(page);
    assert.equal(await visible(page, "#pitch [role=alert]").count(), 0, "nothing is wrong any more");
    for (const leg of LEGS) assert.match(await visible(page, `[data-part="at ${leg}"]`).innerText(), /\d+\smm/, leg);

    await take(page);
    await build(page);
    await hold(page);
    assert.match(await page.locator("#stacks").innerText(), /6 of 6/);
    assert.match(await visible(page, "#stacks").innerText(), /Looked at \d\d:\d\d/);

    // Lowered and read: one leg sank. What is typed wrong here is named as well.
    await lower(page);
    const thumb = new Thumb(page);
    await thumb.choose("frame way", "heights");
    await thumb.fill("height rear right", "six hundred");
    const field = page.locator('[name="height rear right"]');
    assert.equal(await field.getAttribute("aria-invalid"), "true");
    const said = await page.locator(`#${await field.getAttribute("aria-describedby")}`).innerText();
    assert.ok(said.includes("six hundred") && /\d/.test(said), said);
    assert.equal(await visible(page, "button[data-do=change], [data-what='hold frame read']").count(), 0, "nothing to do from a wrong reading");
    await field.fill("");
    await readFrame(page, SUNK);
    const told = await page.locator('[data-part="trim said"]').innerText();
    assert.match(told, /rear right one hole down, take out the 25/i, "the crew's words");
    assert.ok((await visible(page, '[data-part="trim said"] svg').count()) >= 1, "and a picture");
    await change(page);

    // The reading after the change begins blank, and the frame is then inside.
    for (const leg of LEGS) assert.equal(await page.locator(`[name="height ${leg}"]`).inputValue(), "", leg);
    assert.equal(await page.locator("#trim input[type=radio]:checked").count(), 0, "nothing is chosen beforehand");
    assert.equal(await visible(page, "[data-what='hold frame read']").count(), 0);
    await readFrame(page, LEVEL);
    await inside(page);
    assert.match(await page.locator("#trim").innerText(), /Frame read, inside\s+\d\d:\d\d/);
    assert.equal(await page.locator("#stopped").innerText(), "");
    assert.deepEqual(faults, []);
    await context.close();
  });
}

test("law: six legs by tape take at most sixty taps and keystrokes to the plan", async (t) => {
  const { page, context } = await open(browser);
  await ready(page);
  const thumb = new Thumb(page);
  await read(page, thumb);
  await take(page, thumb);
  const toPlan = thumb.count;
  await build(page, thumb);
  await hold(page, thumb);
  const set = thumb.count;
  await lower(page, thumb);
  await readFrame(page, SUNK, thumb);
  await change(page, thumb);
  await readFrame(page, LEVEL, thumb);
  await inside(page, thumb);
  // Turning from leg to leg is a tap as well, which the test does by the address.
  const turns = LEGS.length;
  t.diagnostic(`six legs by tape: ${thumb.taps} taps and ${thumb.keys} keys, ${turns} taps more to turn the sheets; ${toPlan} until the plan is taken, ${set} until all legs are set, the rest to read the frame twice and trim it`);
  assert.ok(toPlan <= 60, `${toPlan}`);
  await context.close();
});

test("law: on a phone four times slower the plan stands there soon after the last key", async (t) => {
  const { page, context } = await open(browser);
  await ready(page);
  await slowed(page);
  await read(page);
  const times = [];
  for (let round = 0; round < 7; round += 1) {
    const field = page.locator(`[name="leg rear right"]`);
    await field.fill(["830", "860"][round % 2]);
    await page.evaluate(() => {
      globalThis.drawn = new Promise((done) => {
        let pressed = 0;
        addEventListener("keydown", (event) => event.key === "Enter" && (pressed = event.timeStamp), { capture: true, once: true });
        new MutationObserver((_, observer) => {
          observer.disconnect();
          // Drawn: after the frame that shows it.
          requestAnimationFrame(() => setTimeout(() => done(performance.now() - pressed)));
        }).observe(document.querySelector('[data-part="pitch plan"]'), { childList: true, subtree: true, characterData: true });
      });
    });
    await field.press("Enter");
    times.push(await page.evaluate(() => globalThis.drawn));
  }
  times.sort((a, b) => a - b);
  const [middle, worst] = [times[3], times.at(-1)].map(Math.round);
  t.diagnostic(`last key to drawn plan on a phone slowed four times: ${middle} ms in the middle, ${worst} ms at worst, 200 wanted`);
  // Ten times what is wanted: this machine may be busy, and only a thing gone wrong takes so long.
  assert.ok(middle < 2000, `${middle} ms`);
  await context.close();
});

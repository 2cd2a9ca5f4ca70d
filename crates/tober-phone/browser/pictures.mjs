// Makes the pictures of every sheet that the README shows: `node pictures.mjs`, into docs/phone/.
//
// By day, by night and as printed, on a phone and two on a laptop. The clock begins at one and the same dawn, so that the same page gives
// the same picture; they are looked at and not compared, since a browser draws letters a little differently each year.
import { mkdirSync, readdirSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { AS_LAPTOP, launch, open } from "./help.mjs";
import { SHEETS, all, go } from "./sheets.mjs";
import { small } from "./small.mjs";
import { stages } from "./stages.mjs";

const folder = fileURLToPath(new URL("../../../docs/phone/", import.meta.url));
/** The steps of the stacks are alike: one stands for all. */
const shown = [...SHEETS.slice(0, 3), "leg-1", ...SHEETS.slice(3)];
const DAWN = "2031-05-03T05:41:00+01:00";

rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });
const browser = await launch();

async function pictures(kind, options, ids, stage = Object.keys(stages).at(-1)) {
  const { page, context } = await open(browser, options);
  await page.clock.install({ time: DAWN });
  await stages[stage](page);
  const there = await all(page);
  for (const id of ids.filter((id) => there.includes(id))) {
    await go(page, id);
    await page.evaluate(() => (document.activeElement.blur(), scrollTo(0, 0)));
    if (kind.startsWith("change")) await page.locator('[data-part="trim said"]').evaluate((told) => scrollTo(0, told.getBoundingClientRect().top - 60));
    const name = kind.startsWith("change") ? kind : `${id}-${kind}`;
    writeFileSync(join(folder, `${name}.png`), small(await page.screenshot()));
  }
  await context.close();
}

await pictures("day", { colorScheme: "light" }, shown);
await pictures("night", { colorScheme: "dark" }, shown);
await pictures("change-day", { colorScheme: "light" }, ["trim"]);
await pictures("change-night", { colorScheme: "dark" }, ["trim"]);
await pictures("wrong", { colorScheme: "light" }, ["pitch"], "wrong entries");
await pictures("laptop", { colorScheme: "light", ...AS_LAPTOP }, ["pitch", "leg-1"]);

// A step of the rehearsal, an answer to "what if", and a question answered wrong.
async function rehearsed(name, options, place, act = async () => {}) {
  const { page, context } = await open(browser, { ...options, hash: `#${place}` });
  await page.waitForFunction(() => document.body.dataset.ready === "yes");
  await act(page);
  await page.evaluate(() => document.activeElement.blur());
  writeFileSync(join(folder, `${name}.png`), small(await page.screenshot()));
  await context.close();
}
await rehearsed("step-day", { colorScheme: "light" }, "step-27");
await rehearsed("step-laptop", { colorScheme: "light", ...AS_LAPTOP }, "step-24");
await rehearsed("what-if-night", { colorScheme: "dark" }, "step-4", async (page) => {
  await page.locator("#if").selectOption({ label: "24 Raise the mast" });
  // A touch would leave its own glow in the picture.
  await page.locator("[data-if]").evaluate((button) => button.click());
  await page.locator("#if-title").evaluate((title) => scrollTo(0, title.getBoundingClientRect().top + scrollY - 12));
});
await rehearsed("question-day", { colorScheme: "light" }, "quiz-hand.2.1");

// As printed: the width of A4 between its margins, and as much of the sheet as stands on one page.
const { page, context } = await open(browser, { viewport: { width: 703, height: 1000 }, isMobile: false, hasTouch: true });
await page.clock.install({ time: DAWN });
await Object.values(stages).at(-1)(page);
await page.emulateMedia({ media: "print" });
for (const id of shown) {
  const sheet = page.locator(`section#${id}`);
  if ((await sheet.count()) === 0) continue;
  const box = await sheet.evaluate((node) => {
    const { left, top, width, height } = node.getBoundingClientRect();
    return { x: left + scrollX, y: top + scrollY, width, height: Math.min(height, 960) };
  });
  writeFileSync(join(folder, `${id}-print.png`), small(await page.screenshot({ clip: box, fullPage: true })));
}
await context.close();
await browser.close();

const made = readdirSync(folder);
const bytes = made.reduce((sum, name) => sum + statSync(join(folder, name)).size, 0);
console.log(`${made.length} pictures, ${bytes} bytes, in docs/phone`);

// How far a crew can have come with a pitch, each reached by taps and typing.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { besidePages } from "./help.mjs";
import { LEGS, TAPES, Thumb, go } from "./sheets.mjs";

/** Waits until the page can be used: its core is there, and it shows what stands. */
export const ready = (page) => page.waitForSelector("body[data-ready]", { state: "attached" });

/** Waits until the head line says that what was entered is kept. */
export const kept = (page) => page.waitForFunction(() => /^Kept/.test(document.querySelector("[data-state=kept], #kept").textContent));

/** Types all that a tape and a level give, as the crew reads it, with the phone's own "next" from field to field. */
export async function read(page, thumb = new Thumb(page), tapes = TAPES) {
  await go(page, "pitch");
  const fields = page.locator("#pitch input[name^='leg ']").filter({ visible: true });
  const blank = (await fields.evaluateAll((all) => all.filter((field) => !field.value).map((field) => field.name)));
  await thumb.tap(`[name="${blank[0]}"]`);
  for (const name of blank) {
    await thumb.type(tapes[name.slice(4)]);
    await thumb.next();
  }
  for (const [axis, way, by] of [["along", "rear", "4"], ["across", "left", "3"]]) {
    await thumb.choose(`slope ${axis} way`, way);
    await thumb.fill(`slope ${axis}`, by);
  }
  await kept(page);
}

/** What no field may take: far past its limit, letters, a unit of another kind, and blanks that say nothing. */
export const WRONG = { "front left": "6971", "front right": "seven", "middle left": "761 kg", "middle right": "   " };

export async function wrong(page, thumb = new Thumb(page)) {
  await go(page, "pitch");
  for (const [leg, typed] of Object.entries(WRONG)) await thumb.fill(`leg ${leg}`, typed);
  await page.locator("#pitch [role=alert]").filter({ visible: true }).waitFor();
}

export async function take(page, thumb = new Thumb(page)) {
  await go(page, "pitch");
  await thumb.press("adopt", "plan");
  await kept(page);
}

/** Builds and pins the legs from one place in their order to another. */
export async function build(page, thumb = new Thumb(page), from = 1, to = LEGS.length) {
  for (let order = from; order <= to; order += 1) {
    await go(page, `leg-${order}`);
    await thumb.press("tick", /^built /);
    await thumb.press("tick", /^pinned /);
  }
  await kept(page);
}

export async function hold(page, thumb = new Thumb(page)) {
  await go(page, "stacks");
  await thumb.press("hold", "hold legs set");
  await kept(page);
}

export async function lower(page, thumb = new Thumb(page)) {
  await go(page, "trim");
  await thumb.press("hold", "hold lowered");
  await kept(page);
}

/** A frame of which one leg sank, and after the change the same frame level. */
export const SUNK = { ...Object.fromEntries(LEGS.map((leg) => [leg, "645"])), "rear right": "629" };
export const LEVEL = { ...SUNK, "rear right": "645" };

/** Reads the lowered frame by heights, and kicks every foot. */
export async function readFrame(page, heights, thumb = new Thumb(page)) {
  await go(page, "trim");
  await thumb.choose("frame way", "heights");
  for (const [leg, height] of Object.entries(heights)) await thumb.fill(`height ${leg}`, height);
  for (const leg of LEGS) await thumb.choose(`foot ${leg}`, "snug");
  await kept(page);
}

export async function change(page, thumb = new Thumb(page)) {
  await go(page, "trim");
  await thumb.press("change", /^changed /);
  await kept(page);
}

export async function inside(page, thumb = new Thumb(page)) {
  await go(page, "trim");
  await thumb.press("hold", "hold frame read");
  await kept(page);
}

/** Reaches a stage by hand once for all test files, and then begins there with what the store held. */
const once = (name, byHand) => async (page) => {
  await ready(page);
  const file = besidePages(`stage-${name}.json`);
  if (!existsSync(file)) {
    await byHand(page);
    await kept(page);
    const held = await page.evaluate(() => Object.entries(localStorage).filter(([key]) => key.includes("/entry/")));
    writeFileSync(file, JSON.stringify(held));
    return;
  }
  const held = JSON.parse(readFileSync(file, "utf8"));
  await page.evaluate((held) => held.forEach(([key, line]) => localStorage.setItem(key, line)), held);
  await page.reload();
  await ready(page);
};

/** The stages at which every sheet is looked at. */
export const stages = {
  "nothing entered": ready,
  "wrong entries": once("wrong", wrong),
  "half built": once("half", async (page) => (await read(page), await take(page), await build(page, undefined, 1, 3))),
  "lowered and read": once("lowered", async (page) => {
    for (const step of [read, take, build, hold, lower]) await step(page);
    await readFrame(page, SUNK);
  }),
};

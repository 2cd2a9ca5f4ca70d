// The sheets of the page: which there are, how to get to each, and a thumb that taps and types on them.
import assert from "node:assert/strict";

/** In their order; the steps of the stacks come after their sheet. */
export const SHEETS = ["pitch", "ground", "stacks", "trim", "limits", "last", "kit", "entries", "rehearse"];

export const LEGS = ["front left", "front right", "middle left", "middle right", "rear left", "rear right"];

/** The tapes of the meadow, as six reads of it. */
export const TAPES = { "front left": "697", "front right": "742", "middle left": "761", "middle right": "781", "rear left": "804", "rear right": "860" };

/** Every sheet in the page, steps included. */
export const all = (page) => page.locator("section.sheet").evaluateAll((sheets) => sheets.map((sheet) => sheet.id));

/** Goes to a sheet by its address, as a link does, and sees that it alone is shown. */
export async function go(page, id) {
  await page.evaluate((id) => (location.hash = id), id);
  await page.waitForFunction((id) => {
    const shown = [...document.querySelectorAll("section.sheet")].filter((sheet) => sheet.checkVisibility());
    return shown.length === 1 && shown[0].id === id;
  }, id, { timeout: 10_000 }).catch(() => assert.fail(`the sheet ${id} is not shown alone`));
}

/** Opens the first folds of each kind on the sheet that is shown, so that what is in them is looked at too. */
export const unfold = (page) =>
  page.evaluate(() => {
    const opened = {};
    for (const fold of document.querySelectorAll("details")) {
      // Of hundreds that are made alike a few are enough; those whose marks differ are not alike.
      const kind = fold.querySelector("summary svg, summary")?.getAttribute("class") ?? "";
      opened[kind] = (opened[kind] ?? 0) + Number(fold.checkVisibility());
      fold.open = fold.checkVisibility() && opened[kind] <= 3;
    }
  });

/** When a button that makes an entry was last pressed on a page, by whichever thumb. */
const pressed = new WeakMap();

/** A thumb in a glove: it taps what it sees and types on the keypad, and each of both is counted. */
export class Thumb {
  taps = 0;
  keys = 0;
  constructor(page) {
    this.page = page;
  }
  get count() {
    return this.taps + this.keys;
  }
  async tap(target) {
    const found = typeof target === "string" ? this.page.locator(target).filter({ visible: true }) : target;
    this.touch ??= await this.page.evaluate(() => navigator.maxTouchPoints > 0);
    // An emulated touch on a field that had to be scrolled to gives it the focus and no caret, on any page: Chromium
    // then drops what is typed. A click of the same place does not.
    const field = await found.evaluate((node) => node.matches("input[type=text], textarea"));
    await (this.touch && !field ? found.tap() : found.click());
    this.taps += 1;
  }
  /**
   * Presses a button that makes an entry. A second touch within 700 ms is rain and counts for nothing, so a thumb
   * that means it waits.
   */
  async press(kind, what) {
    const wanted = what instanceof RegExp ? `button[data-do="${kind}"]` : `button[data-do="${kind}"][data-what="${what}"]`;
    const button = this.page.locator(wanted).filter({ visible: true });
    const last = pressed.get(this.page) ?? 0;
    await new Promise((soon) => setTimeout(soon, Math.max(0, last + 750 - Date.now())));
    await this.tap(what instanceof RegExp ? button.and(this.page.locator(`[data-what^="${what.source.slice(1)}"]`)) : button);
    pressed.set(this.page, Date.now());
  }
  async type(text) {
    await this.page.keyboard.type(text);
    this.keys += [...text].length;
  }
  /** The key at the corner of the keypad: "next". */
  async next() {
    await this.page.keyboard.press("Enter");
    this.keys += 1;
  }
  /** Taps a field, types into it and goes on. */
  async fill(name, text) {
    await this.tap(`[name="${name}"]`);
    await this.type(text);
    await this.next();
  }
  /** Taps one of several choices, where a glove taps it: on its words. */
  async choose(name, value) {
    await this.tap(this.page.locator("label", { has: this.page.locator(`[name="${name}"][value="${value}"]`) }));
  }
}

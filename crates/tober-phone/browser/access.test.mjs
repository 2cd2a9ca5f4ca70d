// An accessibility engine over every sheet, in both schemes and at every stage, and the settings a person may have made.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { AS_PHONE, launch, open } from "./help.mjs";
import { sideways } from "./measure.mjs";
import { all, go, unfold } from "./sheets.mjs";
import { stages } from "./stages.mjs";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

let browser;
before(async () => (browser = await launch()));
after(() => browser?.close());

async function violations(page) {
  const found = await page.evaluate(async (tags) => {
    // Sheets that are not shown cost time and have nothing to be found.
    const rules = { "color-contrast-enhanced": { enabled: true }, "target-size": { enabled: true } };
    const result = await globalThis.axe.run({ include: [["html"]], exclude: [["section.sheet:not(.here)"]] }, { runOnly: { type: "tag", values: tags }, rules, resultTypes: ["violations"] });
    return { violations: result.violations.map(({ id, help, nodes }) => ({ id, help, at: nodes.slice(0, 4).map((node) => `${node.target.join(" ")}: ${node.html.slice(0, 90)}`) })), passes: result.passes.length };
  }, TAGS);
  assert.ok(found.passes > 10, "the engine looked at something");
  return found.violations;
}

for (const [stage, reach] of Object.entries(stages)) {
  for (const colorScheme of ["light", "dark"]) {
    test(`law: an accessibility engine finds nothing on any sheet, ${stage}, ${colorScheme}`, async () => {
      const { page, context } = await open(browser, { colorScheme });
      await reach(page);
      await page.evaluate(AXE);
      const found = [];
      for (const id of await all(page)) {
        await go(page, id);
        await unfold(page);
        for (const one of await violations(page)) found.push(JSON.stringify({ sheet: id, ...one }));
      }
      assert.equal(found.join("\n"), "");
      await context.close();
    });
  }
}

test("refuse: the engine finds what is wrong where something is", async () => {
  const { page, context } = await open(browser);
  await page.evaluate(AXE);
  await page.evaluate(() => document.querySelector("main").insertAdjacentHTML("beforeend", "<button style='color:#777'></button><img src='data:,'>"));
  const found = (await violations(page)).map((one) => one.id);
  assert.ok(found.includes("button-name") && found.includes("image-alt"), found.join());
  await context.close();
});

test("law: with text twice as large nothing sticks out sideways, and nothing is cut off", async () => {
  for (const width of [390]) {
    const { page, context } = await open(browser, { viewport: { width, height: 844 } });
    await Object.values(stages).at(-1)(page);
    // The browser's own setting: 16 px where nothing is set, and here twice as much.
    const browserItself = await context.newCDPSession(page);
    await browserItself.send("Page.setFontSizes", { fontSizes: { standard: 32, fixed: 26 } });
    const wide = [];
    for (const id of await all(page)) {
      await go(page, id);
      await unfold(page);
      const over = await sideways(page);
      if (over.over > 0) wide.push(JSON.stringify({ id, width, ...over }));
    }
    const size = await page.locator("section.sheet p").filter({ visible: true }).first().evaluate((p) => parseFloat(getComputedStyle(p).fontSize));
    assert.ok(size >= 26, `text follows the setting: ${size} px where the reader asked for twice as much`);
    assert.equal(wide.join("\n"), "");
    await context.close();
  }
});

test("law: with spread-out text nothing sticks out sideways", async () => {
  const { page, context } = await open(browser, AS_PHONE);
  await Object.values(stages).at(-1)(page);
  // The spacing that a reader may ask for (WCAG 2.2, success criterion 1.4.12).
  await page.addStyleTag({ content: "* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important } p { margin-bottom: 2em !important }" });
  const wide = [];
  for (const id of await all(page)) {
    await go(page, id);
    const over = await sideways(page);
    if (over.over > 0) wide.push(JSON.stringify({ id, ...over }));
  }
  assert.equal(wide.join("\n"), "");
  await context.close();
});

test("law: with forced colours every mark and every field is still seen", async () => {
  const { page, context } = await open(browser, { forcedColors: "active" });
  await Object.values(stages).at(-1)(page);
  for (const id of await all(page)) {
    await go(page, id);
    const hidden = await page.evaluate(() => {
      const canvas = getComputedStyle(document.body).backgroundColor;
      const unseen = [];
      for (const field of document.querySelectorAll("input:not([type=radio]):not([type=checkbox]):not([type=file]), textarea, button")) {
        if (!field.checkVisibility()) continue;
        const style = getComputedStyle(field);
        if (style.borderTopWidth === "0px" || style.borderTopColor === canvas) unseen.push(field.name || field.textContent);
      }
      for (const shape of document.querySelectorAll("svg path, svg rect, svg circle")) {
        if (!shape.checkVisibility()) continue;
        const style = getComputedStyle(shape);
        const box = shape.getBoundingClientRect();
        if (box.width > 0 && style.stroke === canvas && style.fill === canvas) unseen.push(shape.outerHTML.slice(0, 60));
      }
      return unseen.slice(0, 8);
    });
    assert.deepEqual(hidden, [], `on ${id}`);
  }
  await context.close();
});

test("law: where less motion is asked for nothing moves", async () => {
  const { page, context } = await open(browser, { reducedMotion: "reduce" });
  const moving = await page.evaluate(() =>
    [...document.querySelectorAll("*")].filter((node) => {
      const style = getComputedStyle(node);
      const long = (times) => times.split(",").some((time) => parseFloat(time) > 0.001);
      return (long(style.transitionDuration) && style.transitionProperty !== "none") || (style.animationName !== "none" && long(style.animationDuration));
    }).map((node) => node.outerHTML.slice(0, 60)));
  assert.deepEqual(moving, []);
  await context.close();
});

// Without script, and on paper.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { launch, open, scratch } from "./help.mjs";
import { sideways } from "./measure.mjs";
import { LEGS, SHEETS } from "./sheets.mjs";

let browser;
before(async () => (browser = await launch()));
after(() => browser?.close());

test("law: without script every sheet stands there and the plan can be read", async () => {
  const { page, context, faults } = await open(browser, { javaScriptEnabled: false });
  for (const id of SHEETS) assert.ok(await page.locator(`section#${id}`).isVisible(), `the sheet ${id} can be seen`);
  for (const leg of LEGS) {
    const step = page.locator("section.sheet", { has: page.locator("h2", { hasText: new RegExp(`build ${leg}`, "i") }) });
    assert.equal(await step.count(), 1, leg);
    assert.ok(await step.isVisible(), leg);
    assert.match(await step.innerText(), /hole \d|screw/i, `${leg} says its hole`);
    assert.ok(await step.locator("svg").filter({ visible: true }).count() >= 1, `${leg} has its drawing`);
  }
  // What only a script can do is not offered.
  const dead = await page.locator("button").filter({ visible: true }).allInnerTexts();
  assert.deepEqual(dead, [], "no button that does nothing");
  const links = await page.locator("a[href^='#']").evaluateAll((all) =>
    all.map((a) => a.getAttribute("href").slice(1)).filter((id) => id && !document.getElementById(id)));
  assert.deepEqual(links, [], "every link leads somewhere");
  assert.deepEqual(faults, []);
  await context.close();
});

test("law: without script nothing sticks out sideways", async () => {
  for (const width of [320, 390, 1280]) {
    const { page, context } = await open(browser, { viewport: { width, height: 844 }, javaScriptEnabled: false });
    assert.deepEqual(await sideways(page), { over: 0, sticking: [] }, `${width} px`);
    await context.close();
  }
});

test("law: on paper every sheet is there, in black and white, and nothing to press", async () => {
  const { page, context } = await open(browser);
  await page.emulateMedia({ media: "print" });
  for (const id of SHEETS) assert.ok(await page.locator(`section#${id}`).isVisible(), `the sheet ${id} is printed`);
  const coloured = await page.evaluate(() => {
    const grey = (paint) => {
      const c = /^rgba?\(([^)]+)\)$/.exec(paint)?.[1].split(/[ ,/]+/).map(Number);
      return !c || c[3] === 0 || (c[0] === c[1] && c[1] === c[2]);
    };
    const found = new Set();
    for (const node of document.body.querySelectorAll("*")) {
      if (!node.checkVisibility()) continue;
      const style = getComputedStyle(node);
      const paints = node instanceof SVGElement ? ["fill", "stroke"] : ["color", "backgroundColor"];
      for (const side of ["Top", "Left"]) if (!(node instanceof SVGElement) && style[`border${side}Width`] !== "0px") paints.push(`border${side}Color`);
      for (const paint of paints) if (!grey(style[paint])) found.add(`${node.localName}.${node.getAttribute("class") ?? ""} ${paint} ${style[paint]}`);
    }
    return [...found].slice(0, 12);
  });
  assert.deepEqual(coloured, [], "paper is black and white");
  const pressed = await page.locator("button").filter({ visible: true }).allInnerTexts();
  assert.deepEqual(pressed, [], "no button on paper");
  await context.close();
});

test("law: the paper comes out as A4 pages that say which ride and plan they belong to", async (t) => {
  const { page, context } = await open(browser);
  const pdf = await page.pdf({ preferCSSPageSize: true });
  await context.close();
  const { folder, away } = scratch("paper");
  const path = join(folder, "paper.pdf");
  writeFileSync(path, pdf);
  const read = spawnSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8" });
  if (read.error) {
    away();
    t.skip("no pdftotext here (Debian: apt-get install poppler-utils)");
    return;
  }
  const info = spawnSync("pdfinfo", [path], { encoding: "utf8" }).stdout;
  away();
  assert.match(info, /Page size:\s+59[45](\.\d+)? x 84[12](\.\d+)? pts/, "A4");
  const pages = read.stdout.split("\f").filter((one) => one.trim());
  assert.ok(pages.length >= 7 && pages.length <= 60, `${pages.length} pages`);
  for (const [place, words] of pages.entries()) assert.match(words, /Lantern Round/i, `page ${place + 1} says whose it is`);
});

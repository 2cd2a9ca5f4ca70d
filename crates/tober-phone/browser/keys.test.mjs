// By the keyboard alone: every step of the work, and the place of the focus always seen.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, open } from "./help.mjs";
import { all, go } from "./sheets.mjs";
import { ready } from "./stages.mjs";

let browser;
before(async () => (browser = await launch()));
after(() => browser?.close());

/** What has the focus. */
const at = (page) =>
  page.evaluate(() => {
    const node = document.activeElement;
    const box = node.getBoundingClientRect();
    const style = getComputedStyle(node);
    const label = node.closest("label");
    // The ring may stand on the control or on what is drawn in its place.
    const rings = [node, label, label?.querySelector("span"), node.nextElementSibling].filter(Boolean).map((one) => getComputedStyle(one));
    const ring = rings.some((one) => (one.outlineStyle !== "none" && parseFloat(one.outlineWidth) >= 3) || one.boxShadow !== "none");
    return {
      tag: node.localName, name: node.getAttribute("name"), id: node.id, words: (node.getAttribute("aria-label") || node.textContent).trim().slice(0, 40),
      value: node.value, action: node.dataset?.do ?? null, href: node.getAttribute("href"), ring, what: node.dataset?.what ?? null,
      seen: node.checkVisibility({ visibilityProperty: true }) && box.bottom > 0 && box.top < innerHeight && box.right > 0, outline: style.outline,
    };
  });

test("law: on every sheet the focus goes to its title, and Tab goes through it in reading order", async () => {
  const { page, context } = await open(browser, { viewport: { width: 1280, height: 800 }, hasTouch: false, isMobile: false });
  await ready(page);
  for (const id of await all(page)) {
    // A link, as a person follows it.
    await page.evaluate((id) => {
      const link = document.createElement("a");
      link.href = `#${id}`;
      document.body.append(link);
      link.click();
      link.remove();
    }, id);
    await page.waitForFunction((id) => document.getElementById(id).contains(document.activeElement), id);
    const title = await at(page);
    assert.equal(title.tag, "h2", id);
    // Downwards from the title, one stop after the other, never back up.
    let last = -Infinity;
    for (let i = 0; i < 15; i += 1) {
      await page.keyboard.press("Tab");
      const [inside, top, ring] = await page.evaluate((id) => {
        const node = document.activeElement;
        const box = node.closest("label")?.getBoundingClientRect() ?? node.getBoundingClientRect();
        return [document.getElementById(id).contains(node), box.bottom + scrollY, node.type === "radio"];
      }, id);
      if (!inside) break;
      assert.ok(top >= last - 40 || ring, `${id}: Tab goes down the sheet, ${top} after ${last}`);
      last = top;
    }
  }
  await context.close();
});

test("law: the way back is the browser's own", async () => {
  const { page, context } = await open(browser);
  await ready(page);
  await go(page, "limits");
  await go(page, "leg-2");
  await page.goBack();
  await page.waitForFunction(() => document.getElementById("limits").checkVisibility());
  assert.equal(await page.locator("#leg-2").isVisible(), false);
  await context.close();
});

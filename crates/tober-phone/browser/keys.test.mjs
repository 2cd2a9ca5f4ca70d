// By the keyboard alone: every step of the work, and the place of the focus always seen.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, open, until } from "./help.mjs";
import { TAPES, all, go } from "./sheets.mjs";
import { kept, ready } from "./stages.mjs";

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

/** Presses Tab until something holds, and sees a ring at every stop. */
async function tabTo(page, holds, what, most = 120) {
  for (let pressed = 0; pressed < most; pressed += 1) {
    await page.keyboard.press("Tab");
    const here = await at(page);
    if (here.tag === "body") continue;
    assert.ok(here.seen, `the focus can be seen at ${JSON.stringify(here)}`);
    assert.ok(here.ring, `a ring at ${JSON.stringify(here)}`);
    if (holds(here)) return here;
  }
  assert.fail(`Tab never reaches ${what}`);
}

for (const colorScheme of ["light", "dark"]) {
  test(`law: by the keyboard alone from the readings to the first leg built, ${colorScheme}`, async () => {
    const { page, context, faults } = await open(browser, { colorScheme, viewport: { width: 1280, height: 800 }, hasTouch: false, isMobile: false });
    await ready(page);
    await go(page, "pitch");
    await page.reload();
    await ready(page);

    // The first stop is the way past the head line.
    await page.keyboard.press("Tab");
    const skip = await at(page);
    assert.equal(skip.tag, "a", JSON.stringify(skip));
    assert.ok(skip.seen && skip.ring, `the skip link is seen once it has the focus: ${JSON.stringify(skip)}`);
    await page.keyboard.press("Enter");
    // The browser moves the focus a moment after the address.
    await page.waitForFunction((id) => document.getElementById(id).contains(document.activeElement), skip.href.slice(1));

    await tabTo(page, (here) => here.name?.startsWith("leg "), "the first reading");
    const order = [];
    for (let i = 0; i < 6; i += 1) {
      const here = await at(page);
      order.push(here.name);
      await page.keyboard.type(TAPES[here.name.slice(4)]);
      await page.keyboard.press("Enter");
    }
    assert.equal(new Set(order).size, 6, order.join());
    // Enter went on past the last reading; back to the choices by the arrows, as radio buttons work.
    await page.locator('[name="slope along way"]').first().focus();
    await page.keyboard.press("ArrowDown");
    assert.equal((await at(page)).value, "rear");
    await tabTo(page, (here) => here.name === "slope along", "the slope along");
    await page.keyboard.type("4");
    await page.keyboard.press("Enter");
    await page.locator('[name="slope across way"]').first().focus();
    await page.keyboard.press("Space");
    assert.equal((await at(page)).value, "left");
    await tabTo(page, (here) => here.name === "slope across", "the slope across");
    await page.keyboard.type("3");
    await page.keyboard.press("Enter");
    await kept(page);
    await tabTo(page, (here) => here.action === "adopt", "the button that takes the plan");
    await page.keyboard.press("Enter");
    await kept(page);
    // The button is gone; the focus is not.
    await until(async () => (await at(page)).tag !== "body", "the focus is where the work is");

    await tabTo(page, (here) => here.href === "#stacks", "the way to the stacks");
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => document.activeElement.closest("#stacks"));
    assert.equal((await at(page)).tag, "h2", "the focus is on the title of the new sheet");
    await tabTo(page, (here) => here.href === "#leg-1", "the first leg");
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => document.activeElement.closest("#leg-1"));
    assert.equal((await at(page)).tag, "h2");
    for (const work of ["built", "pinned"]) {
      await tabTo(page, (here) => here.action === "tick" && here.what.startsWith(work), work);
      await page.waitForTimeout(750);
      await page.keyboard.press("Space");
      await kept(page);
      await until(async () => (await at(page)).tag !== "body", `after ${work} the focus is not lost`);
    }
    assert.deepEqual(faults, []);
    await context.close();
  });
}

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

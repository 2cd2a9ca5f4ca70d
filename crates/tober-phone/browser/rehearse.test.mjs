// The rehearsal with a thumb: from the list through the steps, a wrong step asked about, and questions that keep score.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { AS_LAPTOP, launch, open } from "./help.mjs";
import { sideways, targets } from "./measure.mjs";
import { ready } from "./stages.mjs";

let browser;
before(async () => (browser = await launch()));
after(() => browser?.close());

const lesson = (page) => page.locator("section#lesson");
const title = (page) => lesson(page).locator("h2");
/** The least side of a target on a phone, in px (LOOK 3). */
const LEAST_TARGET = 56;

/** Waits for a title, which is what has the focus then, at the top of the page. */
async function at(page, words) {
  await page.waitForFunction((words) => {
    const title = document.querySelector("#lesson.here h2");
    return title && title.textContent.includes(words) && document.activeElement === title && scrollY === 0;
  }, words, { timeout: 10_000 }).catch(async () => assert.fail(`never at "${words}" but at "${await title(page).innerText()}"`));
}

/** Nothing sticks out, and every target is large enough for a glove. */
async function fits(page, what) {
  const over = await sideways(page);
  assert.deepEqual({ over: over.over, sticking: over.sticking }, { over: 0, sticking: [] }, what);
  const small = (await targets(page)).filter((one) => one.height < LEAST_TARGET - 0.5 || one.width < LEAST_TARGET - 0.5);
  assert.deepEqual(small, [], what);
}

for (const colorScheme of ["light", "dark"]) {
  test(`law: taps lead from the list through steps, and a wrong step is answered with what goes wrong, ${colorScheme}`, async () => {
    const { page, context, faults } = await open(browser, { colorScheme });
    await ready(page);
    await page.locator("#sheets a[href='#rehearse']").tap();
    await page.locator("#rehearse a[href='#step-1']").first().tap();
    await at(page, "Walk the pitch");
    for (const words of ["Place the trailer", "Chock the wheels", "Uncouple"]) {
      await lesson(page).locator(".pair a").last().tap();
      await at(page, words);
      await fits(page, words);
      assert.ok(await lesson(page).locator("figure svg").isVisible(), `${words} is drawn`);
    }
    // What is drawn and what to do stand on the first screen.
    const call = await lesson(page).locator(".call").boundingBox();
    assert.ok(call.y + call.height < 844, `the instruction ends at ${call.y + call.height} px`);

    // A step far too early.
    await lesson(page).locator("select").selectOption({ label: "24 Raise the mast" });
    await lesson(page).locator("[data-if]").tap();
    const said = lesson(page).locator("#if-said");
    await said.locator(".coach.bad").first().waitFor();
    assert.match(await said.innerText(), /Not now:.*Raise the mast.*waits for/s);
    await fits(page, "the answer");
    // One that may be done as well, and the way on from there: the fourth is still to do.
    await lesson(page).locator("select").selectOption({ label: "5 Lock the supply off" });
    await lesson(page).locator("[data-if]").tap();
    await said.locator("a[href='#step-5.1-3']").tap();
    await at(page, "Lock the supply off");
    assert.match(await lesson(page).innerText(), /Not in the printed order: 3 of 84/);
    await lesson(page).locator(".pair a").last().tap();
    await at(page, "Uncouple");
    // The browser's own way back, and a reload.
    await page.goBack();
    await at(page, "Lock the supply off");
    await page.reload();
    await ready(page);
    await page.waitForFunction(() => document.querySelector("#lesson.here h2")?.textContent === "Lock the supply off" && scrollY === 0);
    // Nothing was entered.
    assert.match(await page.locator("#kept").innerText(), /Nothing entered yet/);
    assert.deepEqual(faults, []);
    await context.close();
  });
}

test("law: questions answered wrong and right keep score, and say what to learn", async () => {
  const { page, context, faults } = await open(browser, { hash: "#quiz" });
  await ready(page);
  await lesson(page).locator("a", { hasText: "Hand" }).tap();
  let [right, asked, wrong] = [0, 0, 0];
  for (; asked < 12; ) {
    await at(page, `Question ${asked + 1} of 12`);
    await fits(page, `question ${asked + 1}`);
    // What is right is only known once it is answered: the first choice is taken, whatever it is.
    await lesson(page).locator("a.choice").first().tap();
    await lesson(page).locator(".choices").waitFor();
    const told = await lesson(page).innerText();
    assert.notEqual(/Right:/.test(told), /No:.*It is:|It is:.*No:/s.test(told), told);
    asked += 1;
    if (/Right:/.test(told)) right += 1;
    else {
      wrong += 1;
      assert.match(told, /To learn:/);
    }
    assert.equal((await lesson(page).locator(".headr").innerText()).replace(/\s+/g, " ").trim(), `${right} of ${asked} right`);
    await fits(page, `answer ${asked}`);
    await lesson(page).locator("a", { hasText: asked < 12 ? "Next question" : "How it went" }).tap();
  }
  await at(page, `${right} of 12 right`);
  assert.ok(wrong > 0, "the first choice is not always right");
  assert.ok((await lesson(page).locator("ul.list a").count()) >= 1, "what to learn");
  await fits(page, "the end");
  await lesson(page).locator("ul.list a").first().tap();
  await page.waitForFunction(() => /^#(step-|checks|riders)/.test(location.hash));
  assert.deepEqual(faults, []);
  await context.close();
});

test("law: by the keyboard alone through a step, what if, and a question", async () => {
  const { page, context, faults } = await open(browser, { ...AS_LAPTOP, hash: "#step-23" });
  await ready(page);
  const tabTo = async (holds, what) => {
    for (let pressed = 0; pressed < 60; pressed += 1) {
      await page.keyboard.press("Tab");
      const ring = await page.evaluate(() => {
        const style = getComputedStyle(document.activeElement);
        return document.activeElement === document.body || (style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 3) || style.boxShadow !== "none";
      });
      assert.ok(ring, "a ring where the focus is");
      if (await page.evaluate(holds)) return;
    }
    assert.fail(`Tab never reaches ${what}`);
  };
  await tabTo(() => document.activeElement.id === "if", "the steps to ask about");
  // By its first letters, as a list of choices works.
  await page.keyboard.type("27");
  await tabTo(() => "if" in document.activeElement.dataset, "the question");
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => /Not now:/.test(document.querySelector("#if-said").textContent));
  await page.evaluate(() => (location.hash = "step-23"));
  await page.keyboard.press("Home");
  await page.locator("#lesson h2").focus();
  await tabTo(() => document.activeElement.textContent === "Step 24", "the next step");
  await page.keyboard.press("Enter");
  await at(page, "Raise the mast");
  await page.evaluate(() => (location.hash = "quiz-chief.3."));
  await at(page, "Question 1 of 12");
  await tabTo(() => document.activeElement.classList.contains("choice"), "an answer");
  await page.keyboard.press("Enter");
  await lesson(page).locator(".choices").waitFor();
  assert.deepEqual(faults, []);
  await context.close();
});

test("law: with text twice as large nothing of a step or a question sticks out or is cut off", async () => {
  const { page, context } = await open(browser);
  await ready(page);
  const browserItself = await context.newCDPSession(page);
  await browserItself.send("Page.setFontSizes", { fontSizes: { standard: 32, fixed: 26 } });
  for (const place of ["rehearse", "step-1", "step-24", "step-27", "riders", "checks", "quiz", "quiz-hand.1.", "quiz-hand.1.1"]) {
    await page.evaluate((place) => (location.hash = place), place);
    await page.waitForFunction((place) => {
      const here = document.querySelector("section.here");
      return here.id === place || here.id === "lesson";
    }, place);
    const over = await sideways(page);
    assert.deepEqual(over, { over: 0, sticking: [] }, place);
    const cut = await page.evaluate(() =>
      [...document.querySelectorAll("section.here a, section.here button, section.here p, section.here dd, section.here td, section.here li")]
        .filter((node) => node.checkVisibility() && (node.scrollWidth > node.clientWidth + 1 && node.clientWidth > 0 && getComputedStyle(node).overflowX !== "visible"))
        .map((node) => node.outerHTML.slice(0, 80)));
    assert.deepEqual(cut, [], place);
  }
  await context.close();
});

test("law: without script every step can be read", async () => {
  const { page, context, faults } = await open(browser, { javaScriptEnabled: false });
  const steps = page.locator("#rehearse li[id^='step-']");
  assert.equal(await steps.count(), 84);
  const mast = page.locator("#step-24");
  assert.ok(await mast.isVisible());
  const told = await mast.innerText();
  assert.match(told, /Raise the mast/);
  assert.ok(told.length > 150, `it says what to do: ${told}`);
  for (const id of ["riders", "checks"]) assert.ok(await page.locator(`section#${id}`).isVisible(), id);
  assert.equal(await page.locator("section#lesson").isVisible(), false, "what only script can fill is not offered");
  assert.deepEqual(await sideways(page), { over: 0, sticking: [] });
  assert.deepEqual(faults, []);
  await context.close();
});

// Sizes, colours and widths of every sheet, measured as drawn: LOOK sections 3, 4 and 13.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { SIZES, launch, open } from "./help.mjs";
import { sideways, targets, texts, whole } from "./measure.mjs";
import { all, go, unfold } from "./sheets.mjs";
import { stages } from "./stages.mjs";

let browser;
before(async () => (browser = await launch()));
after(() => browser?.close());

/** The least contrast of any word with its ground. */
const LEAST_CONTRAST = 7;
/** The least size of any word in px, and of words in drawings where a table says the same (LOOK 13). */
const LEAST_TEXT = { 390: [13, 13], 320: [13, 10.8], 1280: [13, 12.8] };
/** The least sides of a target in px: on a phone, and with a mouse. */
const LEAST_TARGET = { 390: 56, 320: 56, 1280: 44 };

const short = (list) => list.slice(0, 12).map((one) => JSON.stringify(one)).join("\n") + (list.length > 12 ? `\nand ${list.length - 12} more` : "");

for (const [stage, reach] of Object.entries(stages)) {
  for (const [size, options] of Object.entries(SIZES)) {
    for (const colorScheme of size.startsWith("390") ? ["light", "dark"] : ["light"]) {
      test(`law: every word and target of every sheet is large and plain enough, ${stage}, ${size}, ${colorScheme}`, async () => {
        const { page, context, faults } = await open(browser, { ...options, colorScheme });
        await reach(page);
        const { width, height } = options.viewport;
        const [faint, small, tight, wide] = [[], [], [], []];
        let words = 0;
        for (const id of await all(page)) {
          await page.setViewportSize({ width, height });
          await go(page, id);
          await unfold(page);
          const over = await sideways(page);
          if (over.over > 0) wide.push({ id, ...over });
          await whole(page);
          const [least, inDrawing] = LEAST_TEXT[width];
          for (const text of await texts(page)) {
            words += 1;
            if (text.contrast < LEAST_CONTRAST) faint.push({ id, ...text });
            if (text.size < (text.inside === "drawing" ? inDrawing : least)) small.push({ id, ...text });
          }
          for (const target of await targets(page)) {
            const phone = width < 700;
            const wanted = phone && target.kind === "main" ? 104 : phone && target.kind === "stop" ? 72 : LEAST_TARGET[width];
            if (target.height < wanted - 0.5 || target.width < LEAST_TARGET[width] - 0.5) tight.push({ id, wanted, ...target });
          }
        }
        assert.ok(words > 200, `the sheets say something: ${words} words`);
        const wrong = { faint, small, tight, wide };
        for (const [what, list] of Object.entries(wrong)) if (list.length > 0) wrong[what] = short(list);
        assert.ok(faint.length + small.length + tight.length + wide.length === 0,
          Object.entries(wrong).filter(([, list]) => list.length > 0).map(([what, list]) => `${what}:\n${list}`).join("\n"));
        assert.deepEqual(faults, []);
        await context.close();
      });
    }
  }
}

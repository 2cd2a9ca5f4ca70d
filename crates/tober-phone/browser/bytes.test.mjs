// The core in a real browser gives the bytes of the native program.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { ask, launch, open, questions } from "./help.mjs";

let browser;
before(async () => (browser = await launch()));
after(() => browser?.close());

test("law: the page in a browser gives the bytes of the laptop", async () => {
  const { page, faults, context } = await open(browser);
  const pairs = questions();
  assert.ok(pairs.length >= 53, `${pairs.length} questions`);
  for (const [asked, onLaptop] of pairs) {
    const onPhone = await ask(page, asked);
    assert.ok(onLaptop.length > 20, `an answer says something: ${onLaptop}`);
    assert.ok(onPhone === onLaptop, `the bytes differ for ${asked.slice(0, 120)}: ${String(onPhone).slice(0, 200)}`);
  }
  assert.deepEqual(faults, []);
  await context.close();
});

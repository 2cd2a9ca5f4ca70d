// The file opens by every way and at every size, and asks for nothing.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { SIZES, ask, launch, open, pathOf, questions, serve, until } from "./help.mjs";

let browser;
before(async () => (browser = await launch()));
after(() => browser?.close());

for (const [size, options] of Object.entries(SIZES)) {
  test(`law: opened from storage at ${size} it asks for nothing, and again after a reload`, async () => {
    const { page, faults, context } = await open(browser, options);
    await page.reload();
    const [asked, onLaptop] = questions()[1];
    assert.equal(await ask(page, asked), onLaptop);
    assert.match(await page.title(), /Quern Meadow/i);
    assert.deepEqual(faults, []);
    await context.close();
  });
}

test("law: from a server it is one request, and works on when the network is gone", async () => {
  const server = await serve(pathOf());
  const { page, faults, context } = await open(browser, { address: server.address, online: true });
  await context.setOffline(true);
  const [asked, onLaptop] = questions()[1];
  assert.equal(await ask(page, asked), onLaptop);
  assert.deepEqual(faults, []);
  await context.close();
  await server.stop();
});

test("refuse: a page that asks for something is found out", async () => {
  const { page, faults, context } = await open(browser);
  await page.evaluate(() => fetch("http://127.0.0.1:9/").catch(() => {}));
  await page.evaluate(() => void setTimeout(() => { throw new Error("on purpose"); }));
  await until(() => faults.some((fault) => fault.startsWith("error: policy: connect-src")), "the policy speaks");
  await until(() => faults.some((fault) => fault.includes("on purpose")), "the fault is heard");
  await context.close();
});

// Runs every test in the browser, or those named: `node all.mjs [NAME.test.mjs ...]`. The last line counts them.
import { readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { run } from "node:test";
import { spec } from "node:test/reporters";
import { fileURLToPath } from "node:url";
import { makePages } from "./help.mjs";

const here = fileURLToPath(new URL(".", import.meta.url));
const named = process.argv.slice(2);
const files = (named.length > 0 ? named : readdirSync(here).filter((name) => name.endsWith(".test.mjs")).sort()).map((name) =>
  join(here, name),
);
process.env.TOBER_PAGES ??= makePages();
const pages = process.env.TOBER_PAGES;

const count = { passed: 0, failed: 0, skipped: 0 };
// One browser at a time: two would share two slow cores and tell us about each other.
const tests = run({ files, concurrency: 1 });
const counted = (result) => result.details?.type !== "suite" && !files.includes(result.name);
tests.on("test:pass", (result) => {
  if (counted(result)) count[result.skip !== undefined || result.todo !== undefined ? "skipped" : "passed"] += 1;
});
tests.on("test:fail", (result) => {
  // A file that fails is one that could not be run at all.
  if (result.details?.type !== "suite") count.failed += 1;
});
tests.on("end", () => {
  if (pages.includes("tober-pages-")) rmSync(pages, { recursive: true, force: true });
  const none = count.passed === 0;
  if (none) console.log("No test was run, which is no pass.");
  // After the report, which is written to the end first.
  setImmediate(() => {
    console.log(`browser: ${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped`);
    process.exitCode = count.failed > 0 || none ? 1 : 0;
  });
});
tests.compose(new spec()).pipe(process.stdout);

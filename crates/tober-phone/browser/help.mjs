// What all tests in the browser share: Chromium itself, the pages, and an ear for everything a page may not do.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));

/** The browser that is installed; none is ever fetched. */
function installed() {
  const folders = (process.env.PATH ?? "").split(delimiter);
  for (const name of ["chromium", "chromium-browser", "google-chrome"]) {
    for (const folder of folders) {
      if (existsSync(join(folder, name))) return join(folder, name);
    }
  }
  throw new Error("no Chromium is installed (Debian: apt-get install chromium)");
}

export const LAUNCH = {
  executablePath: installed(),
  // Chromium refuses its own sandbox to root, and only to root.
  chromiumSandbox: process.getuid?.() !== 0,
  args: [
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
  ],
};

export const launch = () => chromium.launch(LAUNCH);

/** A browser that keeps its profile in a folder, as a phone does. */
export const launchWith = (profile, options = {}) =>
  chromium.launchPersistentContext(profile, { ...LAUNCH, ...AS_PHONE, ...options });

function cargo(...words) {
  const done = spawnSync("cargo", ["run", "--release", "--quiet", ...words], {
    cwd: ROOT,
    encoding: "utf8",
    maxBuffer: 64 << 20,
  });
  if (done.error) throw done.error;
  return done;
}

/** The folder of pages: made once for a run by `all.mjs`, or here where one test file is run by itself. */
export function makePages() {
  const folder = mkdtempSync(join(tmpdir(), "tober-pages-"));
  const demo = cargo("--", "demo", join(folder, "demo"));
  // 1 and 3 say that something is past its limit or not known, which a demo may be.
  if (![0, 1, 3].includes(demo.status)) throw new Error(`tober demo ended with ${demo.status}: ${demo.stderr}`);
  // A ride and a kit alone, of which nobody has said where they go.
  const alone = join(folder, "alone");
  mkdirSync(alone);
  for (const book of ["ride.toml", "kit.toml"]) copyFileSync(join(ROOT, "demo/lantern", book), join(alone, book));
  const empty = cargo("--", "phone", alone, "-o", join(folder, "empty.html"));
  if (empty.status !== 0) throw new Error(`a ride alone: ${empty.stderr}`);
  const cases = cargo("-p", "tober-phone", "--example", "questions");
  if (cases.status !== 0) throw new Error(`the reference questions: ${cases.stderr}`);
  writeFileSync(join(folder, "questions.jsonl"), cases.stdout);
  return folder;
}

let pages = process.env.TOBER_PAGES;
function folder() {
  if (!pages) {
    pages = makePages();
    process.on("exit", () => rmSync(pages, { recursive: true, force: true }));
  }
  return pages;
}
export const pathOf = (visit = "quern-meadow") => join(folder(), "demo", visit, "phone.html");
export const addressOf = (visit) => pathToFileURL(pathOf(visit)).href;

/** A file beside the pages, where one test file leaves what the next can use. */
export const besidePages = (name) => join(folder(), name);

/** The file of a ride alone. */
export const emptyAddress = () => pathToFileURL(besidePages("empty.html")).href;

/** The reference questions and what this machine answers to each. */
export const questions = () =>
  readFileSync(join(folder(), "questions.jsonl"), "utf8").split("\n").filter(Boolean).map((line) => JSON.parse(line));

export const AS_PHONE = {
  viewport: { width: 390, height: 844 },
  deviceScaleFactor: 1,
  hasTouch: true,
  isMobile: true,
  locale: "en-GB",
  timezoneId: "Europe/London",
};
export const AS_LAPTOP = { viewport: { width: 1280, height: 800 }, hasTouch: false, isMobile: false };
export const SIZES = {
  "390 x 844": AS_PHONE,
  "320 x 844": { ...AS_PHONE, viewport: { width: 320, height: 844 } },
  "1280 x 800": { ...AS_PHONE, ...AS_LAPTOP },
};

/**
 * Listens to all that a page of a context does. `faults` fills with whatever it may not do: ask for anything but
 * itself, break its own policy, complain, or stop.
 */
export async function watch(context, allowed) {
  const faults = [];
  const mine = (address) => address.split("#")[0] === allowed || /^(blob|data):/.test(address);
  context.on("request", (request) => {
    if (!mine(request.url())) faults.push(`asked for ${request.url()}`);
  });
  context.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) faults.push(`${message.type()}: ${message.text()}`);
  });
  context.on("weberror", (error) => faults.push(`stopped: ${error.error()}`));
  await context.addInitScript(() => {
    addEventListener("securitypolicyviolation", (event) =>
      console.error(`policy: ${event.violatedDirective} ${event.blockedURI}`),
    );
  });
  return faults;
}

/** One page in a context of its own, cut off from every network, with the faults found on it. */
export async function open(browser, { visit, address = addressOf(visit), hash = "", online = false, before, ...options } = {}) {
  const context = await browser.newContext({ ...AS_PHONE, ...options });
  const faults = await watch(context, address);
  if (before) await context.addInitScript(before);
  if (!online) await context.setOffline(true);
  const page = await context.newPage();
  await page.goto(address + hash);
  return { context, page, faults };
}

/** A server on this machine that gives one file, for the way over a van's network. */
export async function serve(path) {
  const server = createServer((request, answer) => {
    const found = request.url === "/phone.html";
    answer.writeHead(found ? 200 : 404, { "content-type": "text/html; charset=utf-8" });
    answer.end(found ? readFileSync(path) : "");
  });
  await new Promise((ready) => server.listen(0, "127.0.0.1", ready));
  return {
    address: `http://127.0.0.1:${server.address().port}/phone.html`,
    stop: () => new Promise((stopped) => (server.closeAllConnections(), server.close(stopped))),
  };
}

/**
 * Asks the core in the page, and gives its answer as the text it wrote. Where the page's own function turns
 * questions and answers into objects, that is left out here: a parsed number has lost its bytes.
 */
export const ask = async (page, question) => {
  // The page reads what it carries with the same functions, so it is let be ready first.
  await page.waitForFunction(() => document.body.dataset.ready === "yes");
  return page.evaluate(async (text) => {
    const { parse, stringify } = JSON;
    JSON.stringify = () => text;
    JSON.parse = (answer) => answer;
    try {
      return await globalThis.toberAsk(text);
    } finally {
      Object.assign(JSON, { parse, stringify });
    }
  }, question);
};

/** Waits for a state, never for a time; ten seconds without it is a failure on any machine. */
export async function until(holds, what) {
  for (const end = Date.now() + 10_000; Date.now() < end; await new Promise((soon) => setTimeout(soon, 20))) {
    if (await holds()) return;
  }
  assert.fail(`never came about: ${what}`);
}

export function scratch(name) {
  const folder = mkdtempSync(join(tmpdir(), `tober-${name}-`));
  mkdirSync(folder, { recursive: true });
  return { folder, away: () => rmSync(folder, { recursive: true, force: true, maxRetries: 5 }) };
}

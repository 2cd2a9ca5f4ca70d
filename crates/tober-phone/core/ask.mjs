// Asks the module what stands in a file, one question a line, and writes its answers, one a line.
//
//     node --no-turbo-fast-api-calls core/ask.mjs QUESTIONS ANSWERS
//
// With Node's own WASI, so that the bytes are not made by the script of the page; only unpacked by it.
import { closeSync, mkdtempSync, openSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { WASI } from "node:wasi";

const [questions, answers] = process.argv.slice(2);
const unlzma = new Function(`${readFileSync(new URL("../src/script/unpack.js", import.meta.url), "utf8")}; return unlzma;`)();
const packed = Buffer.from(readFileSync(new URL("core.wasm.lzma.b64", import.meta.url), "ascii"), "base64");
const module = await WebAssembly.compile(unlzma(packed));
const folder = mkdtempSync(join(tmpdir(), "tober-core-"));
const lines = [];
for (const question of readFileSync(questions, "utf8").split("\n").filter(Boolean)) {
  const [asked, answered] = [join(folder, "asked"), join(folder, "answered")];
  writeFileSync(asked, question);
  const [stdin, stdout] = [openSync(asked, "r"), openSync(answered, "w")];
  const wasi = new WASI({ version: "preview1", stdin, stdout });
  wasi.start(await WebAssembly.instantiate(module, wasi.getImportObject()));
  closeSync(stdin);
  closeSync(stdout);
  lines.push(readFileSync(answered, "utf8"));
}
rmSync(folder, { recursive: true });
writeFileSync(answers, lines.join("\n"));

// From the save of a file to the browser's new page, in the preview of a library: `node benches/preview.mjs [LIBRARY]`, a copy of which is edited. See README.md here.
import { spawn } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from "node:fs";
import { get } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { launch } from "../tests/browser/site.mjs";

const root = fileURLToPath(new URL("..", import.meta.url));
const program = join(root, process.env.PROGRAM ?? "target/release/stepward");
const rounds = Number(process.env.ROUNDS ?? 50);
const folder = mkdtempSync(join(tmpdir(), "preview-"));
const library = join(folder, "library");
cpSync(process.argv[2] ?? join(root, "content"), library, { recursive: true });
const names = readdirSync(join(library, "procedures")).filter((name) => name.endsWith(".md")).sort();
// The longest is the hardest.
const name = names.reduce((most, one) => (statSync(join(library, "procedures", one)).size > statSync(join(library, "procedures", most)).size ? one : most));
const file = join(library, "procedures", name);
const text = readFileSync(file, "utf8");
const median = (times) => times.toSorted((a, b) => a - b)[Math.floor(times.length / 2)];
const tell = (what, times, floor) => console.log(`${what.padEnd(44)} ${median(times).toFixed(1).padStart(8)} ms${floor ? `  ${(median(times) / median(floor)).toFixed(2)} x the floor` : ""}`);

const server = spawn(program, ["--library", library, "preview", "--port", "0"], { stdio: ["ignore", "pipe", "pipe"] });
const address = await new Promise((found, failed) => {
  let said = "";
  const hear = (bytes) => {
    said += bytes;
    const at = /http:\/\/127\.0\.0\.1:\d+\//.exec(said);
    if (at) found(at[0]);
  };
  server.stdout.on("data", hear);
  server.stderr.on("data", hear);
  server.on("exit", () => failed(new Error(said)));
});
const fetched = (path) => new Promise((done, failed) => get(address + path, (response) => {
  const parts = [];
  response.on("data", (part) => parts.push(part));
  response.on("end", () => done(Buffer.concat(parts).toString()));
}).on("error", failed));

const browser = await launch();
try {
  const path = `procedures/${name.replace(/\.md$/, ".html")}`;
  const page = await browser.newPage();
  await page.goto(address + path);
  const title = await page.title();
  // The floor: the same page, fetched and set by the browser once more, with nothing to be made.
  const again = [];
  for (let round = 0; round < Math.min(rounds, 20); round += 1) {
    const start = performance.now();
    await page.reload();
    again.push(performance.now() - start);
  }
  tell(`${names.length} procedures, floor: the page loaded again`, again);
  const times = [];
  for (let round = 0; round < rounds; round += 1) {
    const words = `${title.split(" · ")[0]} ${round}`;
    const changed = text.replace(/^title:.*$/m, `title: ${words}`);
    const shown = page.waitForFunction((wanted) => document.title.includes(wanted), words, { polling: 2, timeout: 60_000 });
    const start = performance.now();
    writeFileSync(file, changed);
    await shown;
    times.push(performance.now() - start);
    await new Promise((done) => setTimeout(done, 100));
  }
  tell("from save to the new page", times, again);
  await fetched("");
} finally {
  await browser.close();
  server.kill("SIGTERM");
  rmSync(folder, { recursive: true });
}

// The preview in a browser: each save shows at once, at the place where the reader was; what is broken is said and takes nothing away.
import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { launch } from "./site.mjs";

const STEPWARD = process.env.STEPWARD ?? new URL("../../target/debug/stepward", import.meta.url).pathname;
const folder = mkdtempSync(join(tmpdir(), "preview-"));
const library = join(folder, "library");
/** A long page, so that there is a place to be at. */
const LONG = Array.from({ length: 120 }, (_, line) => `Line ${line} of a long introduction.`).join("\n\n");
let browser;
let preview;

/** Starts the program; resolves with its address once it says so. */
async function start(...more) {
  const child = spawn(STEPWARD, ["preview", library, "--today", "2026-11-24", ...more], { stdio: ["ignore", "pipe", "pipe"] });
  child.said = "";
  child.ended = new Promise((done) => child.on("exit", (status, signal) => done({ status, signal })));
  child.stdout.on("data", () => {});
  const address = new Promise((done, failed) => {
    child.stderr.on("data", (bytes) => {
      child.said += bytes;
      const found = /http:\/\/127\.0\.0\.1:\d+\//.exec(child.said);
      if (found) done(found[0]);
    });
    child.on("exit", () => failed(new Error(child.said)));
  });
  return { child, address: await address };
}

const path = (name) => join(library, name);
const file = () => path(`procedures/${readdirSync(path("procedures")).find((name) => name.endsWith(".md") && /kind: task/.test(readFileSync(path(`procedures/${name}`), "utf8")) === false)}`);
const pageOf = (source) => `procedures/${source.split("/").at(-1).replace(".md", ".html")}`;

/** Puts a text before the first section of a procedure. */
function withIntroduction(text, words) {
  const end = text.indexOf("\n---", 4) + 4;
  return `${text.slice(0, end)}\n\n${words}\n\n${LONG}\n${text.slice(end)}`;
}

async function open(name) {
  const context = await browser.newContext({ viewport: { width: 768, height: 900 }, permissions: ["clipboard-read", "clipboard-write"] });
  const page = await context.newPage();
  page.problems = [];
  page.on("pageerror", (error) => page.problems.push(error.message));
  page.on("console", (message) => message.type() === "error" && !/offline\.js|ServiceWorker|script resource|404/.test(message.text()) && page.problems.push(message.text()));
  await page.goto(preview.address + name);
  return page;
}

const shows = (page, words) => page.getByText(words).first().waitFor({ timeout: 15000, state: "attached" });

before(async () => {
  execFileSync(STEPWARD, ["create", library], { stdio: "pipe" });
  browser = await launch();
  preview = await start("--port", "0");
});

after(async () => {
  await browser?.close();
  preview?.child.kill("SIGKILL");
  rmSync(folder, { recursive: true, force: true });
});

test("each way an editor saves shows the page anew, where the reader was", async () => {
  const source = file();
  const first = readFileSync(source, "utf8");
  writeFileSync(source, withIntroduction(first, "As it was."));
  const page = await open(pageOf(source));
  await shows(page, "As it was.");
  await page.evaluate(() => scrollTo(0, 1500));
  const saves = {
    "in place": (text) => writeFileSync(source, text),
    "another file put in its place": (text) => (writeFileSync(`${source}~new`, text), renameSync(`${source}~new`, source)),
    "the old one moved away first": (text) => (renameSync(source, path("procedures/.old")), writeFileSync(source, text), rmSync(path("procedures/.old"))),
    "beside a file of the editor's own": (text) => (writeFileSync(path("procedures/.page.swp"), "x"), writeFileSync(source, text), rmSync(path("procedures/.page.swp"))),
  };
  for (const [name, save] of Object.entries(saves)) {
    save(withIntroduction(first, `Saved ${name}.`));
    await shows(page, `Saved ${name}.`);
    await page.waitForFunction(() => Math.abs(scrollY - 1500) < 60, null, { timeout: 5000 });
  }
  assert.deepEqual(page.problems, []);
  writeFileSync(source, first);
  await page.context().close();
});

test("a broken file keeps its last good page under what is wrong, with the line to copy", async () => {
  const source = file();
  const first = readFileSync(source, "utf8");
  const page = await open(pageOf(source));
  const title = await page.locator("h1").first().textContent();
  await page.getByText("Nothing wrong is known").waitFor();
  writeFileSync(source, first.replace(/^summary:.*$/m, (line) => `${line}\nsumary: twice`));
  await shows(page, "the last one that was sound");
  assert.equal(await page.locator("h1").first().textContent(), title);
  const finding = page.locator(".preview__finding").first();
  assert.match(await finding.textContent(), /sumary/);
  await finding.locator(".preview__place").click();
  await finding.getByText("Copied").waitFor();
  assert.match(await page.evaluate(() => navigator.clipboard.readText()), /^.*library\/procedures\/[a-z-]+\.md:\d+:\d+$/);
  const start = await open("index.html");
  await shows(start, "finding in the library");
  writeFileSync(source, first);
  await page.getByText("Nothing wrong is known").waitFor();
  await start.getByText("Nothing wrong is known").waitFor();
  assert.deepEqual(page.problems.concat(start.problems), []);
  await Promise.all([page.context().close(), start.context().close()]);
});

test("what was never sound has a page that says why, and shows itself once mended", async () => {
  const source = file();
  const text = readFileSync(source, "utf8");
  writeFileSync(path("procedures/new-one.md"), text.replace(/^title:.*$/m, "titel: New one"));
  const page = await open("procedures/new-one.html");
  await shows(page, "cannot be made yet");
  writeFileSync(path("procedures/new-one.md"), text.replace(/^title:.*$/m, "title: New one"));
  await page.getByRole("heading", { level: 1, name: "New one" }).waitFor();
  rmSync(path("procedures/new-one.md"));
  await shows(page, "No page of this name");
  assert.equal((await fetch(`${preview.address}procedures/new-one.html`)).status, 404);
  await page.context().close();
});

test("a catalogue that breaks takes no page away; a library that goes away and comes back is shown again", async () => {
  const page = await open(pageOf(file()));
  const title = await page.locator("h1").first().textContent();
  const safety = existsSync(path("safety.yaml")) ? path("safety.yaml") : path("library.yaml");
  const first = readFileSync(safety, "utf8");
  writeFileSync(safety, `${first}\nunknown-key: x\n`);
  await shows(page, "the last one that was sound");
  assert.equal(await page.locator("h1").first().textContent(), title);
  writeFileSync(safety, first);
  await page.getByText("Nothing wrong is known").waitFor();
  renameSync(library, `${library}-away`);
  await shows(page, "cannot be read now");
  assert.equal(await page.locator("h1").first().textContent(), title);
  cpSync(`${library}-away`, library, { recursive: true });
  await page.getByText("Nothing wrong is known").waitFor();
  // The folder that came back is watched as the first one was.
  const source = file();
  const text = readFileSync(source, "utf8");
  writeFileSync(source, text.replace(/^title:.*$/m, "title: After it came back"));
  await page.getByRole("heading", { level: 1, name: "After it came back" }).waitFor();
  writeFileSync(source, text);
  await page.context().close();
});

test("a thousand files that change at once are shown", async () => {
  mkdirSync(path("leaflets"), { recursive: true });
  for (let number = 0; number < 1000; number++) writeFileSync(path(`leaflets/page-${number}.md`), `# Page ${number}\n\nWords.\n`);
  const page = await open("leaflets/page-999.html");
  await page.getByRole("heading", { level: 1, name: "Page 999" }).waitFor({ timeout: 60000 });
  rmSync(path("leaflets"), { recursive: true });
  await shows(page, "No page of this name");
  await page.context().close();
});

test("only this computer by its own name is answered, and nothing but pages", async () => {
  const { port } = new URL(preview.address);
  const ask = (path, headers) => new Promise((done) => request({ host: "127.0.0.1", port, path, headers }, (answer) => (answer.resume(), done(answer.statusCode))).end());
  assert.equal(await ask("/", { host: `127.0.0.1:${port}` }), 200);
  assert.equal(await ask("/", { host: `localhost:${port}` }), 200);
  for (const host of ["pages.example", `pages.example:${port}`, "127.0.0.1", `127.0.0.1:${Number(port) + 1}`]) assert.equal(await ask("/", { host }), 403, host);
  for (const path of ["/../library.yaml", "/%2e%2e/library.yaml", "/library.yaml", "/procedures/%00.html", "/offline.js"]) assert.equal(await ask(path, { host: `127.0.0.1:${port}` }), 404, path);
});

test("a port that is in use is named and the next one offered; it ends when told, with status 0, and has written nothing", async () => {
  const { port } = new URL(preview.address);
  const before = readdirSync(library, { recursive: true }).sort();
  await assert.rejects(start("--port", port), (error) => error.message.includes(`port ${port} is in use; ${Number(port) + 1} is free: \`--port ${Number(port) + 1}\``));
  for (const signal of ["SIGINT", "SIGTERM"]) {
    const second = await start("--port", "0");
    second.child.kill(signal);
    assert.deepEqual(await second.child.ended, { status: 0, signal: null });
  }
  assert.deepEqual(readdirSync(library, { recursive: true }).sort(), before);
});

// The site without a network: kept whole after one visit; a newer edition is shown as a whole or not at all; a half-changed server changes nothing.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { readdirSync, readFileSync, statSync } from "node:fs";
import { createServer } from "node:http";
import { extname } from "node:path";
import { after, before, test } from "node:test";
import { launch, PAGES, SITE } from "./site.mjs";

const TYPES = { ".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript", ".json": "application/json", ".svg": "image/svg+xml" };
const sha256 = (bytes) => createHash("sha256").update(bytes).digest("hex");

/** The demo's files by path, the bytes that the server hands out. */
function firstEdition() {
  const names = readdirSync(SITE, { recursive: true }).map((name) => name.replaceAll("\\", "/")).filter((name) => statSync(new URL(name, SITE)).isFile());
  return new Map(names.map((name) => [name, readFileSync(new URL(name, SITE))]));
}

/** The same site published once more, with a mark on every page; the worker's list of digests made anew, as the compiler makes it. */
function nextEdition(files, mark) {
  const next = new Map([...files].map(([name, bytes]) => [name, name.endsWith(".html") ? Buffer.from(bytes.toString().replace("<title>", `<title>${mark} `)) : bytes]));
  const worker = files.get("offline.js").toString();
  const list = JSON.parse(/const FILES=(\{[^]*?\});/.exec(worker)[1]);
  for (const name of Object.keys(list)) list[name] = sha256(next.get(name));
  const edition = sha256(JSON.stringify(list)).slice(0, 16);
  next.set("offline.js", Buffer.from(worker.replace(/const FILES=\{[^]*?\};/, () => `const FILES=${JSON.stringify(list)};`).replace(/const EDITION="[^"]*"/, `const EDITION="${edition}"`)));
  return next;
}

let browser;
let server;
let address;
let files;
const asked = [];
before(async () => {
  browser = await launch();
  server = createServer((request, response) => {
    const name = new URL(request.url ?? "/", "http://localhost").pathname.slice(1) || "index.html";
    asked.push(name);
    const bytes = files.get(name);
    if (bytes) response.setHeader("content-type", TYPES[extname(name)] ?? "application/octet-stream").setHeader("cache-control", "max-age=600").end(bytes);
    else response.writeHead(404).end();
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  address = `http://127.0.0.1:${server.address().port}/`;
});
after(async () => {
  await browser.close();
  server.close();
});

/** A device that has visited the start page and says that it keeps the site. */
async function visited() {
  files = firstEdition();
  const context = await browser.newContext({ viewport: { width: 360, height: 640 } });
  const page = await context.newPage();
  await page.goto(address);
  await page.getByText("Kept on this device").waitFor({ timeout: 60_000 });
  return { context, page };
}

const title = (page) => page.title();

test("after one visit to the start page every page is there without a network, and a flow begins", { timeout: 180_000 }, async () => {
  const { context, page } = await visited();
  await context.setOffline(true);
  files = new Map();
  for (const path of PAGES) {
    const answer = await page.goto(address + path);
    assert.equal(answer.status(), 200, path);
    assert.ok(await page.locator("h1").count() > 0, path);
  }
  await page.goto(`${address}?came=from-a-link`);
  assert.ok(await page.locator("h1").count() > 0, "the folder itself, and an address with a query");
  await page.goto(`${address}procedures/repeating-marks.html`);
  await page.locator(".follower__card").waitFor();
  await context.close();
});

test("a newer edition is fetched whole, shown when somebody wants it, and then everywhere", { timeout: 180_000 }, async () => {
  const { context, page } = await visited();
  files = nextEdition(files, "NEXT");
  await page.reload();
  const offer = page.locator(".edition-newer__show");
  await offer.waitFor({ timeout: 60_000 });
  const other = await context.newPage();
  await other.goto(`${address}leaflets/about.html`);
  assert.doesNotMatch(await title(page) + await title(other), /NEXT/, "the edition at hand stays until then, on every page");
  await offer.click();
  await page.waitForFunction(() => document.title.startsWith("NEXT"), undefined, { timeout: 30_000 });
  await context.setOffline(true);
  for (const path of PAGES) {
    await page.goto(address + path);
    assert.match(await title(page), /^NEXT/, path);
  }
  await context.close();
});

test("while a server holds half of two editions nothing of the new one is shown", { timeout: 180_000 }, async () => {
  const { context, page } = await visited();
  const old = files;
  const next = nextEdition(files, "NEXT");
  files = new Map([...next].map(([name, bytes]) => [name, name === "leaflets/about.html" ? old.get(name) : bytes]));
  asked.length = 0;
  await page.reload();
  while (!asked.includes("leaflets/about.html")) await page.waitForTimeout(50);
  await page.waitForTimeout(1500);
  assert.equal(await page.locator(".edition-newer").count(), 0, "it is not offered");
  for (const path of ["index.html", "stop.html", "leaflets/about.html", "procedures/isolate.html"]) {
    await page.goto(address + path);
    assert.doesNotMatch(await title(page), /NEXT/, path);
  }
  assert.deepEqual(await page.evaluate(async () => (await caches.keys()).length), 1, "what was fetched of it does not stay");
  await context.close();
});

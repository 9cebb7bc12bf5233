// The search of every page, by the keyboard alone: from a folder and from a server, from the start page and from a procedure, wide and narrow, with the rules of accessibility.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { launch, openPage, serveSite, SITE } from "./site.mjs";

const AXE = readFileSync(createRequire(new URL("../outside/", import.meta.url)).resolve("axe-core/axe.min.js"), "utf8");

let browser;
let served;
before(async () => {
  browser = await launch();
  served = await serveSite();
});
after(async () => {
  await browser.close();
  served.server.close();
});

/** The field, reached with the tabulator key as nobody who cannot use a mouse would reach it otherwise. */
async function atField(page) {
  const field = page.getByRole("searchbox", { name: "Find by what is seen" });
  for (let presses = 0; presses < 6 && !(await field.evaluate((one) => one === document.activeElement)); presses++) await page.keyboard.press("Tab");
  assert.ok(await field.evaluate((one) => one === document.activeElement), "the field comes early");
  return field;
}

const links = (page) => page.locator(".search__found a");

for (const [from, path] of [["folder", "index.html"], ["folder", "procedures/noise.html"], ["server", "index.html"], ["server", "procedures/noise.html"]]) {
  test(`the keyboard alone finds a procedure from a ${from}, on ${path}`, { timeout: 60_000 }, async () => {
    const root = from === "folder" ? SITE.href : served.address;
    const page = await openPage(browser, root, path);
    const index = /data-index="([^"]+)"/.exec(await page.content())[1];
    assert.equal(await page.locator(`script[src="${index}"]`).count(), 0, "nothing is loaded before somebody comes to the field");
    await atField(page);
    await page.keyboard.type("there is smoke");
    await links(page).first().waitFor();
    assert.match(await page.getByRole("search").getByRole("status").textContent(), /\d+ found/);
    const first = await links(page).first().getAttribute("href");
    await page.keyboard.press("ArrowDown");
    assert.equal(await page.evaluate(() => document.activeElement.getAttribute("href")), first, "the arrow goes to the first");
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Enter");
    await page.waitForURL((address) => address.href !== root + path);
    assert.equal(page.url(), `${root}procedures/smoke.html`);
    assert.deepEqual(page.problems, []);
    await page.context().close();
  });
}

test("what was seen stands beside the title, a slip is told, and nothing found leads on", { timeout: 60_000 }, async () => {
  const page = await openPage(browser, SITE.href, "procedures/isolate.html");
  const field = await atField(page);
  const status = page.getByRole("search").getByRole("status");
  await page.keyboard.type("catridge unknown");
  await status.getByText("cartridge").waitFor();
  await field.fill("J-30");
  await page.getByText("Panel code J-30").waitFor();
  await field.fill("qqxzv");
  assert.equal(await links(page).count(), 0);
  await status.getByRole("link", { name: "All symptoms" }).waitFor();
  assert.equal(await status.getByRole("link").getAttribute("href"), "../index.html#symptoms");
  await page.keyboard.press("Escape");
  assert.deepEqual([await field.inputValue(), await status.textContent(), await links(page).count()], ["", "", 0]);
  assert.deepEqual(page.problems, []);
  await page.context().close();
});

test("found, it keeps the rules of accessibility, light and dark, and fits 320 px", { timeout: 60_000 }, async () => {
  const page = await openPage(browser, SITE.href, "index.html", { viewport: { width: 320, height: 640 } });
  await (await atField(page)).fill("grey sheets from the tray");
  await links(page).first().waitFor();
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), "the page is no wider than the screen");
  const low = await links(page).evaluateAll((all) => all.filter((one) => one.getBoundingClientRect().height < 44).length);
  assert.equal(low, 0, "each is tall enough for a thumb");
  await page.evaluate(AXE);
  for (const colorScheme of ["light", "dark"]) {
    await page.emulateMedia({ colorScheme });
    const { violations, passes } = await page.evaluate(() => axe.run(document.querySelector("header"), { runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] } }));
    assert.ok(passes.length >= 8, "rules were run");
    assert.deepEqual(violations.map((one) => `${one.id}: ${one.nodes[0].target.join(" ")}`), []);
  }
  await page.context().close();
});

test("without script there is no field, and on paper neither", { timeout: 60_000 }, async () => {
  const page = await openPage(browser, SITE.href, "index.html", { javaScriptEnabled: false });
  assert.equal(await page.locator("[data-search]").isVisible(), false);
  await page.context().close();
  const printed = await openPage(browser, SITE.href, "index.html");
  assert.equal(await printed.locator("[data-search]").isVisible(), true);
  await printed.emulateMedia({ media: "print" });
  assert.equal(await printed.locator("[data-search]").isVisible(), false);
  await printed.context().close();
});

test("with nothing found the nearest are told as such, and a new symptom is noted by the keyboard alone", { timeout: 60_000 }, async () => {
  const page = await openPage(browser, served.address, "procedures/noise.html", { viewport: { width: 360, height: 640 } });
  await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
  const field = await atField(page);
  const note = page.locator(".search__note");
  await field.fill("zzsmokyx");
  const status = page.getByRole("search").getByRole("status").first();
  await status.getByText("Nothing found").waitFor();
  assert.match(await status.textContent(), /written most alike/);
  assert.ok((await links(page).count()) >= 1 && (await links(page).count()) <= 3);
  assert.equal(await note.getAttribute("open"), null, "closed until it is wanted");
  await page.getByText("None of these?").focus();
  await page.keyboard.press("Enter");
  const area = page.getByRole("textbox", { name: "New symptom" });
  assert.match(await area.inputValue(), /Caller's words: zzsmokyx\n/);
  await page.keyboard.press("Tab");
  await page.keyboard.press("Control+End");
  await page.keyboard.type("\nGreen light");
  await page.keyboard.press("ArrowDown");
  assert.equal(await page.evaluate(() => document.activeElement.id), "search-note", "arrows stay in the note");
  const written = await area.inputValue();
  assert.match(written, /Green light$/);
  await page.getByRole("button", { name: "Copy the note" }).press("Enter");
  await page.getByText("Copied").waitFor();
  assert.equal((await page.evaluate(() => navigator.clipboard.readText())).replaceAll("\r", ""), written);
  await page.evaluate(AXE);
  for (const colorScheme of ["light", "dark"]) {
    await page.emulateMedia({ colorScheme });
    const { violations } = await page.evaluate(() => axe.run(document.querySelector("header"), { runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] } }));
    assert.deepEqual(violations.map((one) => `${one.id}: ${one.nodes[0].target.join(" ")}`), []);
  }
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), "the page is no wider than the screen");
  // What somebody wrote is not lost when the search goes on; the empty field hides the note and keeps it.
  await field.fill("zzother");
  assert.equal(await area.inputValue(), written);
  await field.fill("");
  assert.equal(await note.isVisible(), false);
  assert.deepEqual(page.problems, []);
  await page.context().close();
});

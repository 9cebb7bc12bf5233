// The bench sums, the stages and the sheets of rulers of the published demo, from the folder: worked anew by typing, whole without script, true to scale on paper.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { close, launch, openPage, SITE } from "./site.mjs";

const AXE = readFileSync(createRequire(new URL("../outside/", import.meta.url)).resolve("axe-core/axe.min.js"), "utf8");

let browser;
before(async () => { browser = await launch(); });
after(() => browser?.close());

const results = (page, id) => page.locator(`#${id} [data-results]`).innerText().then((text) => text.replace(/\s+/g, " "));

test("a sum is worked anew as somebody types, with a comma too, and refuses what cannot be", async () => {
  const page = await openPage(browser, SITE.href, "bench-sums.html#cooling-time");
  assert.equal(await results(page, "cooling-time"), "Wait 29.7 min");
  const room = page.getByLabel("Room", { exact: true }).and(page.locator("#cooling-time-room"));
  await room.fill("25,0");
  assert.equal(await results(page, "cooling-time"), "Wait 23.6 min");
  assert.equal(await page.locator("#cooling-time [data-head]").innerText(), "Result");
  assert.equal(await page.locator("#cooling-time .curve__text--mark").textContent(), "23.6");
  await room.fill("95");
  assert.match(await page.locator("#cooling-time-room-refusal").innerText(), /Refused: accepted is 5 to 40 °C\. Likely slip: Fahrenheit was read\. Did you mean 9\.5 °C\?/);
  assert.equal(await room.getAttribute("aria-invalid"), "true");
  assert.match(await results(page, "cooling-time"), /Fill in every field/);
  assert.equal(await page.locator("#cooling-time .curve").isVisible(), false);
  await room.fill("40");
  assert.match(await page.locator("#cooling-time-room-refusal").innerText(), /At the edge/);
  await page.locator("#cooling-time-safe").fill("42");
  assert.match(await results(page, "cooling-time"), /The room is too warm/);
  await close(page);
});

test("a roller is told by its marks, for the model that is chosen", async () => {
  const page = await openPage(browser, SITE.href, "bench-sums.html#which-roller");
  await page.locator("#which-roller-length").fill("42");
  await page.locator("#which-roller-gaps").fill("1");
  assert.match(await results(page, "which-roller"), /Not clear yet\. Measure again over 2 gaps/);
  await page.locator("#which-roller-length").fill("94,2");
  assert.match(await results(page, "which-roller"), /if only one mark in 2 prints/);
  const second = await page.locator("#which-roller-model option").nth(1).innerText();
  await page.locator("#which-roller-model").selectOption("1");
  assert.match(await results(page, "which-roller"), /Drum \(94\.2 mm\)/);
  const shown = await page.locator("#which-roller [data-ruler]:visible figcaption").allInnerTexts();
  assert.deepEqual(shown, [second]);
  await close(page);
});

test("the figures of a machine go into every field that is one of them", async () => {
  const page = await openPage(browser, SITE.href, "bench-sums.html#cooling-time");
  const name = await page.locator("#figures option").nth(2).innerText();
  await page.getByLabel("Machine in front of you").selectOption(name);
  const { model, expected } = await page.evaluate((title) => {
    const { figures } = JSON.parse(document.getElementById("sums-data").textContent).figures.find((one) => one.name === title);
    const [hot, safe, tau] = ["fuser-hot", "safe-touch", "cooling-constant"].map((figure) => Number(figures[figure]));
    return { model: figures, expected: (tau * Math.log((hot - 35) / (safe - 35))).toFixed(1) };
  }, name);
  assert.notEqual(model["cooling-constant"], "12");
  assert.equal(await results(page, "cooling-time"), `Wait ${expected} min`);
  assert.equal(await page.locator("#page-memory-dpi").inputValue(), model.resolution);
  assert.equal(await page.locator("#heater-watts").inputValue(), model["heater-power"]);
  await close(page);
});

for (const colorScheme of ["light", "dark"]) {
  test(`no open sum breaks a rule of accessibility, ${colorScheme}`, async () => {
    const page = await openPage(browser, SITE.href, "bench-sums.html", { colorScheme, bypassCSP: true });
    await page.evaluate(() => document.querySelectorAll("details").forEach((one) => { one.open = true; }));
    await page.locator("#cooling-time-room").fill("95");
    await page.evaluate(AXE);
    const { violations, passes } = await page.evaluate(() => axe.run(document, { runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] } }));
    assert.ok(passes.length > 10);
    assert.deepEqual(violations.map((one) => `${one.id}: ${one.nodes[0].target.join(" ")}`), []);
    const wide = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth]);
    assert.ok(wide[0] <= wide[1], `${wide}`);
    await page.context().close();
  });
}

test("without script every sum stands worked out in the page", async () => {
  const page = await openPage(browser, SITE.href, "bench-sums.html", { javaScriptEnabled: false });
  assert.equal(await page.locator("input, select").evaluateAll((all) => all.filter((one) => one.closest("[hidden]") === null).length), 0);
  const forms = page.locator(".sum__form");
  const count = await forms.count();
  assert.ok(count >= 30, `${count} sums`);
  assert.equal(await page.locator(".sum__form [data-results] p").first().evaluate((line) => line.textContent.length > 10), true);
  assert.deepEqual(await page.locator(".sum__form [data-results]").evaluateAll((all) => all.filter((one) => one.textContent.trim() === "").map((one) => one.closest(".sum__form").id)), []);
  await page.locator("summary", { hasText: "How long the fuser must cool" }).click();
  assert.equal(await results(page, "cooling-time"), "Wait 29.7 min");
  await close(page);
});

/** Words of a printed sheet with the middle of each, in millimetres: `pdftotext -bbox`. */
function wordsOf(pdf) {
  const boxes = execFileSync("pdftotext", ["-bbox", pdf, "-"], { encoding: "utf8" });
  return boxes.split("<page ").slice(1).map((page) =>
    [...page.matchAll(/<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)</g)].map(([, x, y, right, bottom, text]) =>
      ({ text, x: ((Number(x) + Number(right)) / 2 / 72) * 25.4, right: (Number(right) / 72) * 25.4, y: ((Number(y) + Number(bottom)) / 2 / 72) * 25.4 })));
}

for (const format of ["A4", "Letter"]) {
  test(`rulers are true to scale on ${format}, one model a sheet`, async () => {
    const page = await openPage(browser, SITE.href, "rulers.html");
    const models = await page.locator(".ruler-sheet").count();
    const folder = mkdtempSync(join(tmpdir(), "rulers-"));
    try {
      const pdf = join(folder, "rulers.pdf");
      await page.pdf({ path: pdf, format, preferCSSPageSize: false });
      const sheets = wordsOf(pdf);
      assert.equal(sheets.length, models);
      for (const words of sheets) {
        // The bar: from its nought to its 150, on one line.
        const nought = words.find(({ text }) => text === "0");
        const end = words.find(({ text, y }) => text === "150" && Math.abs(y - nought.y) < 1);
        assert.ok(Math.abs(end.x - nought.x - 150) < 0.2, `bar of ${end.x - nought.x} mm`);
        const row = words.find(({ text }) => text === "Drum");
        const [first] = words.filter(({ text, y }) => Math.abs(y - row.y) < 1 && /^\d+\.\d$/.test(text));
        const ten = words.filter(({ text }) => text === "10" || text === "170").sort((a, b) => a.x - b.x);
        assert.ok(Math.abs(ten.at(-1).x - ten[0].x - 160) < 0.2);
        // Its words end 1 mm before its line, and the ruler's 10 stands 10 mm behind nought.
        assert.ok(Math.abs(first.right + 1 - (ten[0].x - 10) - Number(first.text)) < 0.3, `${first.text} at ${first.right + 1 - ten[0].x + 10}`);
      }
    } finally {
      rmSync(folder, { recursive: true });
    }
    await close(page);
  });
}

test("each stage leads to the procedures that name it, and every stage shows its dead sheet", async () => {
  const page = await openPage(browser, SITE.href, "stages.html");
  const stages = page.locator(".stage");
  assert.equal(await stages.count(), 7);
  for (const stage of await stages.all()) assert.ok((await stage.locator(".dead").count()) > 0, await stage.getAttribute("id"));
  assert.match(await page.locator("#stage-charging .dead").first().innerText(), /Black all over/);
  assert.match(await page.locator("#stage-exposing .dead").first().innerText(), /A white sheet/);
  assert.equal(await page.locator("#signs tbody tr").count(), 16);
  assert.equal(await page.locator("#signs tbody tr strong").count(), 4);
  await page.locator("#stage-exposing .links a").first().click();
  assert.ok(await page.locator("h1").isVisible());
  await close(page);
});

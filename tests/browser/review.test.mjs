// A reviewer's walk by keyboard alone: start page, the cell of a hazard, the exposure, the worst way, the step; and the pages as they look.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, openPage, SITE } from "./site.mjs";

let browser;
before(async () => {
  browser = await launch();
});
after(async () => browser?.close());

/** Tabs on until what has the focus matches; gives how many keys it took. */
async function tabTo(page, matches, argument, most = 800) {
  for (let keys = 1; keys <= most; keys += 1) {
    await page.keyboard.press("Tab");
    if (await page.evaluate(matches, argument)) return keys;
  }
  throw new Error(`not reached by keyboard on ${page.url()}: ${argument}`);
}

const focusIs = (selector) => document.activeElement?.matches(selector) ?? false;

/** What has the focus is in sight and has an outline. */
async function inSight(page) {
  const seen = await page.evaluate(() => {
    const box = document.activeElement.getBoundingClientRect();
    return { box: [box.left, box.top, box.right, box.bottom], width: innerWidth, height: innerHeight, outline: getComputedStyle(document.activeElement).outlineStyle };
  });
  const [left, top, right, bottom] = seen.box;
  assert.ok(right > 0 && left < seen.width && bottom > 0 && top < seen.height, `out of sight: ${JSON.stringify(seen)}`);
  assert.notEqual(seen.outline, "none");
}

for (const width of [1440, 360]) {
  test(`from the start page to the step that stands behind a cell, by keyboard, at ${width} px`, async () => {
    const page = await openPage(browser, SITE.href, "index.html", { viewport: { width, height: 800 } });
    await tabTo(page, focusIs, "main a[href='review/index.html']");
    await inSight(page);
    await page.keyboard.press("Enter");
    await page.waitForURL("**/review/index.html");
    const cell = "a.matrix__link[href='repeating-marks.html#hazard-hot-fuser']";
    await tabTo(page, focusIs, cell);
    await inSight(page);
    assert.match(await page.locator(cell).innerText(), /covered/);
    assert.match(await page.locator(cell).textContent(), /^Hot fuser: .*covered$/);
    await page.keyboard.press("Enter");
    await page.waitForURL("**/review/repeating-marks.html#hazard-hot-fuser");
    const group = page.locator("#hazard-hot-fuser");
    assert.ok(await group.isVisible());
    assert.ok((await group.locator(".exposure").count()) > 0);
    // The fragment moves the place from which the keys go on: the next summary is one of this hazard.
    await tabTo(page, focusIs, "#hazard-hot-fuser details.told > summary, #hazard-hot-fuser .told > a", 40);
    await inSight(page);
    if (await page.evaluate(focusIs, "a")) await page.keyboard.press("Enter");
    else {
      await page.keyboard.press("Enter");
      assert.ok(await page.evaluate(() => document.activeElement.parentElement.open));
    }
    await tabTo(page, focusIs, ".path a", 40);
    await inSight(page);
    const [address, words] = await page.evaluate(() => [document.activeElement.getAttribute("href"), document.activeElement.textContent]);
    assert.match(address, /^\.\.\/procedures\/[a-z-]+\.html#step-[a-z0-9-]+$/);
    await page.keyboard.press("Enter");
    await page.waitForURL(`**/${address.replace("../", "")}`);
    const step = page.locator(`#${address.split("#")[1]}`);
    assert.ok((await step.textContent()).includes(words));
    assert.deepEqual(page.problems, []);
    await page.context().close();
  });
}

test("the matrix is a table where there is room, and a block for each procedure on a phone, with the same cells", async () => {
  const page = await openPage(browser, SITE.href, "review/index.html", { viewport: { width: 1440, height: 800 } });
  const cells = () => page.locator("a.matrix__link").evaluateAll((links) => links.map((link) => link.textContent.replaceAll(/\s+/g, " ")));
  const wide = await cells();
  assert.ok(wide.length > 40, `${wide.length} cells`);
  assert.equal(await page.locator(".matrix__cell--not-met").first().isVisible(), true);
  await page.setViewportSize({ width: 360, height: 800 });
  assert.deepEqual(await cells(), wide);
  assert.equal(await page.locator(".matrix__cell--not-met").first().isVisible(), false);
  for (const box of await page.locator("a.matrix__link").evaluateAll((links) => links.map((link) => link.getBoundingClientRect().toJSON()))) {
    assert.ok(box.height >= 44 && box.right <= 360, JSON.stringify(box));
  }
  await page.context().close();
});

test("states are told by sign and word, without colour", async () => {
  const page = await openPage(browser, SITE.href, "review/index.html", { viewport: { width: 1440, height: 800 } });
  const told = await page.locator(".key .state").evaluateAll((states) => states.map((state) => [state.querySelector("svg").innerHTML, state.textContent]));
  assert.equal(new Set(told.map(([sign]) => sign)).size, 6);
  assert.equal(new Set(told.map(([, word]) => word)).size, 6);
  await page.context().close();
});

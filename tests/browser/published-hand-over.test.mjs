// Handing over on a published page: its scripts share their modules, and the one for handing over is fetched only now.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, openPage, serveSite } from "./site.mjs";

let browser;
let site;
before(async () => {
  browser = await launch();
  site = await serveSite();
});
after(async () => {
  await browser.close();
  site.server.close();
});

test("a run begun on one device is open on another by its link alone", async () => {
  const page = await openPage(browser, site.address, "procedures/toner-rubs-off.html", { serviceWorkers: "block" });
  const asked = [];
  page.on("request", (request) => asked.push(request.url()));
  await page.locator(".follower__card").waitFor();
  await page.locator("input[name=model]").first().check();
  for (const [name, value] of [["person", "skilled"], ["alone", "yes"], ["caller", "no"]]) await page.locator(`input[name=${name}][value=${value}]`).check();
  await page.keyboard.press("Enter");
  const question = await page.locator(".follower__card[data-screen=step] .follower__title").textContent();
  await page.waitForTimeout(400);
  await page.keyboard.press("1");
  await page.waitForFunction((before) => document.querySelector(".follower__title")?.textContent !== before, question);
  const next = await page.locator(".follower__title").textContent();
  assert.deepEqual(asked.filter((url) => url.includes("hand-over")), [], "not before it is wanted");
  await page.getByRole("button", { name: "Hand over" }).or(page.locator("summary", { hasText: "Hand over" })).first().click();
  await page.locator(".follower svg[role=img]").waitFor();
  const link = await page.locator(".follower textarea, .follower input[readonly]").evaluateAll((fields) => fields.map((field) => field.value).find((text) => text.includes("#run=")));
  assert.equal(asked.filter((url) => url.includes("hand-over")).length, 1);
  assert.deepEqual(page.problems, []);

  const other = await openPage(browser, site.address, link.slice(site.address.length), { serviceWorkers: "block" });
  await other.locator(".follower__card[data-screen=resume]").waitFor();
  assert.ok((await other.locator(".follower").textContent()).includes(question), "the way so far is there");
  await other.locator("input[name=person][value=skilled]").check();
  await other.locator("input[name=alone][value=yes]").check();
  if (await other.locator("input[name=caller]").count() > 0) await other.locator("input[name=caller][value=no]").check();
  await other.keyboard.press("Enter");
  await other.waitForFunction((title) => document.querySelector(".follower__title")?.textContent === title, next);
  assert.deepEqual(other.problems, []);
});

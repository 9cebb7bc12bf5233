// A follower on a page of its own in a browser, and what people do with it: for the follower's tests.
import assert from "node:assert/strict";
import { launch } from "./site.mjs";
import { serve } from "./page.mjs";

/** After a change of screen taps are dead for 300 ms. */
export const DEAD = 320;

export async function bench() {
  const browser = await launch();
  const site = await serve();
  const answers = (ticket) => ({ person: "skilled", alone: "yes", caller: "no", model: "unknown", ...ticket });

  const screen = (page) => page.locator(".follower__card").getAttribute("data-screen");
  const press = async (page, name) => {
    await page.locator(".follower__ways, .follower__foot").getByRole("button", { name }).first().click();
    await page.waitForTimeout(DEAD);
  };
  const choose = async (page, name, value) => {
    const box = page.locator(`input[name=${name}][value=${value}]`);
    if (await box.count()) await box.check();
  };

  return {
    browser, address: site.address, screen, press, choose,
    title: (page) => page.locator(".follower__title").textContent(),
    serve: (flow, words) => Object.assign(site.server, { flow, words }),
    /** A page of its own, with nothing stored; any error on it fails the test. */
    async open(flow, { hash = "", width = 360, height = 640, init, words, context: options = {} } = {}) {
      Object.assign(site.server, { flow, words });
      const context = await browser.newContext({ viewport: { width, height }, ...options });
      const page = await context.newPage();
      page.problems = [];
      page.on("pageerror", (error) => page.problems.push(error.message));
      page.on("console", (message) => message.type() === "error" && page.problems.push(message.text()));
      if (init) await page.addInitScript(init);
      await page.goto(site.address + hash);
      return page;
    },
    async done(page) {
      assert.deepEqual(page.problems, []);
      await page.context().close();
    },
    /** Answers what is asked before the first step. */
    async start(page, more) {
      const { ticket, serial, counter, ...chosen } = answers(more);
      for (const [name, value] of Object.entries(chosen)) await choose(page, name, value);
      for (const [name, value] of Object.entries({ ticket, serial, counter })) if (value !== undefined) await page.locator(`input[name=${name}]`).fill(value);
      await page.locator("button[type=submit]").click();
      await page.waitForTimeout(DEAD);
    },
    /** Confirms everything after a break. */
    async resume(page) {
      const questions = await page.locator(".follower input[type=radio]").evaluateAll((all) => [...new Set(all.map((one) => one.name))]);
      for (const question of questions) await choose(page, question, { person: "skilled", caller: "no" }[question] ?? "yes");
      await page.locator("button[type=submit]").click();
      await page.waitForTimeout(DEAD);
    },
    async more(page, name) {
      await page.locator(".follower__sheet--more summary").click();
      await page.getByRole("button", { name }).click();
      await page.waitForTimeout(DEAD);
    },
    async close() {
      await browser.close();
      site.server.close();
    },
  };
}

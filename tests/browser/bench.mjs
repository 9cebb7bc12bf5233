// A follower on a page of its own in a browser, and what people do with it: for the follower's tests.
import assert from "node:assert/strict";
import { launch } from "./site.mjs";
import { serve } from "./page.mjs";

/** After a change of screen taps are dead for 300 ms; the pages' clock is under the tests' control, so nobody waits for that. */
export const DEAD = 320;

export async function bench() {
  const browser = await launch();
  const site = await serve();
  const answers = (ticket) => ({ person: "skilled", alone: "yes", caller: "no", model: "unknown", ...ticket });

  const screen = (page) => page.locator(".follower__card").getAttribute("data-screen");
  const settle = (page) => page.clock.runFor(DEAD);
  const tap = async (page, button) => {
    await button.click();
    await settle(page);
  };
  const press = (page, name) => tap(page, page.locator(".follower__ways, .follower__foot").getByRole("button", { name }).first());
  const choose = async (page, name, value) => {
    const box = page.locator(`input[name=${name}][value=${value}]`);
    if (await box.count()) await box.check();
  };

  return {
    browser, address: site.address, screen, press, tap, settle, choose,
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
      await page.clock.install();
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
      await tap(page, page.locator("button[type=submit]"));
    },
    /** Confirms everything after a break. */
    async resume(page, more = {}) {
      const questions = await page.locator(".follower input[type=radio]").evaluateAll((all) => [...new Set(all.map((one) => one.name))]);
      for (const question of questions) await choose(page, question, { person: "skilled", caller: "no", ...more }[question] ?? "yes");
      await tap(page, page.locator("button[type=submit]"));
    },
    async more(page, name) {
      await page.locator(".follower__sheet--more summary").click();
      await tap(page, page.getByRole("button", { name }));
    },
    async close() {
      await browser.close();
      site.server.close();
    },
  };
}

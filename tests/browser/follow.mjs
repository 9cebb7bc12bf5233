// A demo flow followed on its page by a way that is known before, screen by screen.
import { flowOf, typedFor, wayTo } from "./site.mjs";

const MODEL = "mono-desk";

const screenOf = (page) => page.locator(".follower__card").getAttribute("data-screen");
const ways = (page) => page.locator("[data-choice]");

/** Answers every question of a form: a skilled person who is not alone, and all that was made safe is still so. */
async function fillIn(page, given = {}) {
  const questions = await page.locator(".follower input[type=radio]").evaluateAll((all) => [...new Set(all.map((one) => one.name))]);
  for (const name of questions) await page.locator(`input[name="${name}"][value="${given[name] ?? "yes"}"]`).check();
  await page.locator(".follower button[type=submit]").click();
}

async function answer(page, flow, step, index) {
  if (step.kind === "measure" && step.ways[index].kind !== "unsure") {
    for (const [field, value] of typedFor(flow, step, index, MODEL)) await page.locator(`.follower__input[name="${field ?? "value"}"]`).fill(value);
    return page.locator("button[type=submit]").click();
  }
  const shown = [...step.ways.keys()].filter((place) => step.kind !== "ask" || ["answer", "unsure"].includes(step.ways[place].kind));
  return ways(page).nth(step.kind === "ask" ? shown.indexOf(index) : 0).click();
}

/**
 * Follows a page's flow to an ending. `looks(kind, step)` is called on every screen: its name, or for a step what kind of step it is. After the first caution the page is opened anew once.
 * @param {any} page with its clock in hand (`clock` of `openPage`)
 */
export async function follow(page, { procedure, ending, caller = "no" }, looks) {
  const flow = flowOf(`procedures/${procedure}.html`);
  const shown = wayTo(flow, procedure, (step) => step.id === ending, MODEL).filter(({ step }) => !["carry-out", "by-model"].includes(step.kind));
  const given = { model: MODEL, person: "skilled", alone: "yes", caller };
  const settle = () => page.clock.runFor(400);
  let reopened = false;
  // Time passes only where the way says so.
  await page.clock.pauseAt("2026-11-25T09:01:00Z");
  await looks("start", null);
  await fillIn(page, given);
  await settle();
  for (const [place, { step, way }] of shown.entries()) {
    for (let n = 0; n < 20; n++) {
      const screen = await screenOf(page);
      const kind = screen === "step" ? step.kind : screen;
      await looks(kind, screen === "resume" ? null : step.id);
      if (screen === "caution") {
        await ways(page).first().click();
        await settle();
        if (!reopened) await page.reload();
        reopened = true;
      } else if (screen === "wait") {
        // Minute by minute: a page that hears nothing for a quarter of an hour takes it for a break.
        for (let minute = 0; minute < 100 && (await ways(page).count()) === 0; minute++) await page.clock.fastForward(60_000);
        await ways(page).first().click();
        await settle();
      } else if (screen === "resume") {
        await fillIn(page, given);
        await settle();
      } else break;
    }
    if (place === shown.length - 1) return;
    await answer(page, flow, step, way);
    await settle();
  }
}

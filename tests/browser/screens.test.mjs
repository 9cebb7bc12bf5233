// Every screen of the follower as a hand and an eye find it: at four widths, with large type, wide letters, longer words, in forced colours, and without motion.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { bench } from "./bench.mjs";
import { cutWords, overlaps, smallTargets, SPACING, widerThanAllowed } from "./layout.mjs";
import { WORDS } from "./page.mjs";
import { everyScreen, longer, longerFlow, longerWords, SCREENS } from "./screens.mjs";

let follower;
before(async () => { follower = await bench(); });
after(() => follower.close());

/** Widths in px with the size of the type: a small phone, a phone, a tablet, a desk; and the type at 200 %. */
const SIGHTS = [[320, 100], [360, 100], [768, 100], [1440, 100], [360, 200], [1280, 200]];

/** What is wrong with a screen at every sight, in words. */
async function atEverySight(page, name) {
  const found = [];
  for (const [width, type] of SIGHTS) {
    await page.setViewportSize({ width, height: 640 });
    await page.evaluate((size) => { document.documentElement.style.fontSize = size; }, `${type}%`);
    for (const look of [widerThanAllowed, cutWords, overlaps, smallTargets]) found.push(...(await page.evaluate(look)).map((one) => `${name} at ${width} px, ${type} %, ${look.name}: ${one}`));
  }
  await page.setViewportSize({ width: 360, height: 640 });
  await page.evaluate(() => { document.documentElement.style.fontSize = ""; });
  return found;
}

async function withWideLetters(page, name) {
  const found = [];
  const sheet = await page.addStyleTag({ content: SPACING });
  for (const width of [320, 1440]) {
    await page.setViewportSize({ width, height: 640 });
    for (const look of [widerThanAllowed, cutWords]) found.push(...(await page.evaluate(look)).map((one) => `${name} at ${width} px, wide letters, ${look.name}: ${one}`));
  }
  await sheet.evaluate((style) => style.remove());
  await page.setViewportSize({ width: 360, height: 640 });
  return found;
}

/** What of a screen cannot be told in the colours of somebody's own choice, or moves. */
function lostOrMoving() {
  const framed = (one) => ["top", "left"].every((side) => parseFloat(getComputedStyle(one).getPropertyValue(`border-${side}-width`)) >= 1);
  const seen = (selector) => [...document.querySelectorAll(selector)].filter((one) => one.checkVisibility());
  const bare = seen(".follower__way, .follower__input, .follower__text, .follower .caution, .follower__outcome, .follower__notice, .follower__problem").filter((one) => !framed(one) && parseFloat(getComputedStyle(one).borderBottomWidth) < 1);
  const signs = seen(".follower .caution__word").filter((one) => getComputedStyle(one).color === getComputedStyle(one.closest(".caution__panel")).backgroundColor);
  const moving = [...document.querySelectorAll(".follower *")].filter((one) => parseFloat(getComputedStyle(one).transitionDuration) > 0);
  return { bare: bare.map((one) => one.className), unseen: signs.map((one) => one.textContent), moving: moving.map((one) => one.className), animations: document.getAnimations().map((one) => String(one)) };
}

async function inForcedColours(page, name) {
  const found = [];
  for (const media of [{ forcedColors: "active", colorScheme: "dark" }, { forcedColors: "active", colorScheme: "light" }, { reducedMotion: "reduce" }, { reducedMotion: "no-preference" }]) {
    await page.emulateMedia(media);
    for (const [what, list] of Object.entries(await page.evaluate(lostOrMoving))) if (list.length > 0) found.push(`${name}, ${JSON.stringify(media)}, ${what}: ${list.join(", ")}`);
    await page.emulateMedia({ forcedColors: null, colorScheme: null, reducedMotion: null });
  }
  return found;
}

/** With one hand: what leads on lies in the lower half of the screen, or waits below what must be read first. */
async function tooHigh(page, name) {
  const high = await page.evaluate(() => {
    document.querySelector(".follower").scrollIntoView();
    const ways = [...document.querySelectorAll(".follower__ways > *")];
    return ways.length > 4 ? [] : ways.filter((one) => one.getBoundingClientRect().top < innerHeight / 2).map((one) => one.textContent);
  });
  return high.map((one) => `${name}: too high for a thumb: ${one}`);
}

test("on every screen nothing scrolls sideways, is cut, lies over another or is under 44 px; ways on lie low; forced colours take nothing away; nothing moves", async () => {
  const seen = [];
  const found = [];
  await everyScreen(follower, {}, async (page, name) => {
    seen.push(name);
    for (const look of [atEverySight, withWideLetters, inForcedColours, tooHigh]) found.push(...await look(page, name));
  });
  assert.deepEqual(found, []);
  assert.deepEqual(seen.sort(), [...SCREENS].sort());
});

test("words that are 60 % longer, each in one piece, break no screen, and each of them is in the file of words", async () => {
  const seen = [];
  const found = [];
  await everyScreen(follower, { words: longerWords(WORDS) }, async (page, name) => {
    seen.push(name);
    assert.match(await page.locator(".follower").innerText(), /õ/, `${name}: no longer words`);
    found.push(...await atEverySight(page, name));
    const own = await page.locator(".follower :is(button, legend, label, h2, h3, summary, dt, p)").evaluateAll((all) => all.map((one) => one.textContent.trim()).filter((text) => /\p{L}{3}/u.test(text) && !/õ|^\[words of/.test(text)));
    found.push(...own.map((text) => `${name}: not in the file of words: ${text}`));
  }, longerFlow);
  assert.deepEqual(found, []);
  assert.deepEqual(seen.sort(), [...SCREENS].sort());
  assert.equal(longer("Go on {time}"), "Goõõ onõõ {time}");
});

test("a double tap answers one question, however quick: within 300 ms the second tap is not meant for the new screen", async () => {
  const { act, CATALOGUE, end, flow, procedure } = await import("../script/flows.mjs");
  for (const [gap, title] of [[0, "b"], [50, "b"], [150, "b"], [290, "b"], [310, "c"], [400, "c"]]) {
    for (const by of ["tap", "key"]) {
      const page = await follower.open(flow([procedure("taps", [act("a", "b"), act("b", "c"), act("c", "d"), act("d", "stop"), end("stop", "no-fault")])], CATALOGUE));
      await follower.start(page, {});
      await page.clock.pauseAt(await page.evaluate(() => Date.now() + 1000));
      const answer = () => page.evaluate((by) => {
        if (by === "tap") document.querySelector("[data-choice]").click();
        else document.querySelector(".follower__title").dispatchEvent(new KeyboardEvent("keydown", { key: "1", bubbles: true }));
      }, by);
      await answer();
      await page.clock.runFor(gap);
      await answer();
      assert.equal(await follower.title(page), `Text of ${title}`, `${by} after ${gap} ms`);
      await follower.done(page);
    }
  }
});

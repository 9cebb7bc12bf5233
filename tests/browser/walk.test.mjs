// The fault flows of the published demo, followed to good and bad endings in a real browser: by links alone, by touch on a phone, and by keys alone.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { close, flowOf, hazardsOf, launch, openPage, serveSite, SITE, typedFor, wayTo } from "./site.mjs";

const MODEL = "mono-desk";
/** Endings of each flow: one with the cure checked, one that hands over or takes out of service. */
const WALKS = [
  ["white-sheet", "close-tech", "fixed"],
  ["white-sheet", "out-of-use", "out-of-service"],
  ["repeating-marks", "close-tech", "fixed"],
  ["repeating-marks", "second-line", "handed-over"],
  ["toner-rubs-off", "close-tech", "fixed"],
  ["toner-rubs-off", "out-of-use", "out-of-service"],
];

let browser, served;
before(async () => {
  browser = await launch();
  served = await serveSite();
});
after(async () => {
  await browser?.close();
  served?.server.close();
});

function walkOf(name, ending) {
  const flow = flowOf(`procedures/${name}.html`);
  const way = wayTo(flow, name, (step) => step.id === ending, MODEL);
  return { flow, way };
}

/** In a step's own section every caution or reminder stands before its sentence, in the document and on the screen. */
async function cautionsStandAbove(page, flow, step) {
  for (const hazard of hazardsOf(step)) {
    const name = flow.hazards.find((one) => one.id === hazard).name;
    const above = await page.evaluate(([id, hazard, name]) => {
      const section = document.getElementById(`step-${id}`);
      const sentence = section.querySelector(".step__sentence");
      const line = [...section.querySelectorAll(".reminder li")].find((one) => one.querySelector("strong").textContent === name);
      const caution = section.querySelector(`.caution[data-hazard="${hazard}"]`) ?? line;
      if (!caution?.checkVisibility()) return false;
      const before = caution.compareDocumentPosition(sentence) & Node.DOCUMENT_POSITION_FOLLOWING;
      return before !== 0 && caution.getBoundingClientRect().bottom <= sentence.getBoundingClientRect().top;
    }, [step.id, hazard, name]);
    assert.ok(above, `${step.id}: ${name} does not stand above the words`);
  }
}

for (const [name, ending, outcome] of WALKS) {
  test(`without script ${name} is followed by links alone to ${ending}`, async () => {
    const { flow, way } = walkOf(name, ending);
    const page = await openPage(browser, SITE.href, `procedures/${name}.html`, { javaScriptEnabled: false, hasTouch: true });
    let exposing = 0;
    const inStep = (id) => page.locator(`#step-${id}`);
    for (const [place, { procedure, step, way: index }] of way.entries()) {
      await page.waitForURL((url) => url.pathname.endsWith(`/${procedure}.html`), { timeout: 5000 });
      if (page.url().includes("#step-")) assert.ok(page.url().endsWith(`#step-${step.id}`), `${page.url()} is not ${step.id}`);
      await cautionsStandAbove(page, flow, step);
      exposing += step.exposes.length > 0 ? 1 : 0;
      if (step.kind === "carry-out") {
        await inStep(step.id).locator(".step__sentence a").tap();
        continue;
      }
      if (step.ways.length === 0 && place < way.length - 1) {
        // The end of a procedure carried out: its page names the steps that carry it out, and the caller goes on by the outcome.
        const caller = way.slice(0, place).findLast((one) => one.step.kind === "carry-out" && one.step.callee === procedure);
        await page.locator(`#callers a[href="${caller.procedure}.html#step-${caller.step.id}"]`).tap();
        await page.waitForURL((url) => url.hash === `#step-${caller.step.id}`, { timeout: 5000 });
        await follow(page, caller.step, caller.way);
        continue;
      }
      if (index !== null) await follow(page, step, index);
    }
    assert.ok(await inStep(ending).locator(".ending").isVisible());
    assert.equal(way.at(-1).step.outcome, outcome);
    if (outcome === "fixed") assert.ok(exposing > 0, "the way meets no hazard");
    await close(page);
  });
}

/** Taps the link of a step's way. The pages list a way for somebody who did the step often enough first. */
async function follow(page, step, index) {
  const listed = [...step.ways.keys()].sort((a, b) => (step.ways[a].kind === "otherwise" ? 0 : 1) - (step.ways[b].kind === "otherwise" ? 0 : 1));
  const link = page.locator(`#step-${step.id} .way__go`).nth(listed.indexOf(index));
  assert.ok((await link.boundingBox()).height >= 44, `${step.id}: a way is too low`);
  await link.tap();
  const to = page.locator(`#step-${step.ways[index].then}`);
  await page.waitForURL((url) => url.hash === `#step-${step.ways[index].then}`, { timeout: 5000 });
  const top = (await to.boundingBox()).y;
  assert.ok(top > -40 && top < 740, `${step.ways[index].then} is not in sight`);
}

const titleOf = (page) => page.locator(".follower__title").textContent();
const screenOf = (page) => page.locator(".follower__card").getAttribute("data-screen");

/** By touch on a phone. */
const touch = {
  options: { viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true },
  async pick(page, name, value) {
    await page.locator(`label:has(input[name=${name}][value=${value}])`).tap();
  },
  press: (page, button) => button.tap(),
  back: (page) => page.locator("[data-minor=back]").tap(),
  async check(page, where) {
    const low = await page.locator(".follower button:visible, .follower a:visible, .follower summary:visible, .follower label.follower__option:visible, .follower input:visible:not([type=radio])").evaluateAll((all) => all.filter((one) => one.getBoundingClientRect().height < 44).map((one) => one.textContent));
    assert.deepEqual(low, [], `${where}: targets under 44 px`);
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), `${where}: wider than the screen`);
  },
};

/** By keys alone. */
const keys = {
  options: { viewport: { width: 1440, height: 900 } },
  async pick(page, name, value) {
    await tabTo(page, `input[name=${name}]`);
    await page.keyboard.press("Space");
    for (let n = 0; n < 6 && !(await page.locator(`input[name=${name}][value=${value}]`).isChecked()); n++) await page.keyboard.press("ArrowDown");
  },
  async press(page, button) {
    const label = await button.textContent();
    await tabTo(page, "button", label);
    await page.keyboard.press("Enter");
  },
  back: (page) => page.keyboard.press("Backspace"),
  async check(page, where) {
    const focus = await page.evaluate(() => {
      const style = getComputedStyle(document.activeElement);
      return document.activeElement !== document.body && ((style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2) || style.boxShadow !== "none");
    });
    assert.ok(focus || where === "start", `${where}: the focus is not seen`);
  },
};

/** Presses Tab until something has the focus, and the focus is seen. */
async function tabTo(page, selector, text = null) {
  for (let n = 0; n < 40; n++) {
    await page.keyboard.press("Tab");
    const found = await page.evaluate(([selector, text]) => document.activeElement.matches(selector) && (text === null || document.activeElement.textContent === text), [selector, text]);
    if (found) return keys.check(page, `${selector} ${text ?? ""}`);
  }
  assert.fail(`Tab does not reach ${selector} ${text ?? ""}`);
}

const ways = (page) => page.locator("[data-choice]");

async function settle(page) {
  await page.clock.runFor(400);
}

/** Screens that come before a step's words: each caution acknowledged before its step is in sight, each wait to its end. Returns how many cautions there were. */
async function upToStep(page, hands, flow, step) {
  let cautions = 0;
  for (let n = 0; n < 12; n++) {
    const screen = await screenOf(page);
    await hands.check(page, `${screen} before ${step.id}`);
    if (screen === "caution") {
      assert.notEqual(await titleOf(page), step.text);
      assert.ok(await page.locator(".follower .caution").isVisible());
      assert.equal(await page.locator(".follower__body").getByText(step.text, { exact: true }).count(), 0, `${step.id} is in sight before its caution`);
      cautions += 1;
      await hands.press(page, ways(page).first());
    } else if (screen === "wait") {
      if (await page.locator(".follower__clock").count()) assert.equal(await ways(page).count(), 0, "a wait has a way round it");
      // Minute by minute: a page that hears nothing for a quarter of an hour takes it for a break.
      for (let n = 0; n < 100 && (await ways(page).count()) === 0; n++) await page.clock.fastForward(60_000);
      await hands.press(page, ways(page).first());
    } else if (screen === "resume") {
      // A quarter of an hour without a tap: person and machine are asked for by name.
      const questions = await page.locator(".follower input[type=radio]").evaluateAll((all) => [...new Set(all.map((one) => one.name))]);
      for (const question of questions) await hands.pick(page, question, question === "person" ? "skilled" : question === "caller" ? "no" : "yes");
      await hands.press(page, page.locator(".follower button[type=submit]"));
    } else {
      return cautions;
    }
    await settle(page);
  }
  assert.fail(`${step.id} is not reached`);
}

async function goOn(page, hands, flow, step, index) {
  if (step.kind === "measure" && step.ways[index].kind !== "unsure") {
    for (const [field, value] of typedFor(flow, step, index, MODEL)) {
      const input = field === null ? page.locator(".follower__input[name=value]") : page.locator(`.follower__input[name="${field}"]`);
      if (hands === touch) await input.tap();
      else await tabTo(page, `#${await input.getAttribute("id")}`);
      await page.keyboard.type(value);
    }
    if (hands === touch) await page.locator("button[type=submit]").tap();
    else await page.keyboard.press("Enter");
  } else {
    const shown = step.ways.map((way, place) => [way, place]).filter(([way]) => step.kind !== "ask" || ["answer", "unsure"].includes(way.kind)).map(([, place]) => place);
    const place = step.kind === "measure" ? 0 : step.kind === "ask" ? shown.indexOf(index) : 0;
    if (hands === keys && shown.length > 1) await page.keyboard.press(String(place + 1));
    else await hands.press(page, ways(page).nth(place));
  }
  await settle(page);
}

for (const [hand, hands] of [["touch", touch], ["keys", keys]]) {
  for (const [name, ending, outcome] of WALKS) {
    test(`by ${hand} ${name} is followed to ${ending}, and the record holds the way`, async () => {
      const { flow, way } = walkOf(name, ending);
      const page = await openPage(browser, hand === "touch" ? served.address : SITE.href, `procedures/${name}.html`, { ...hands.options, clock: true });
      assert.equal(await page.locator(".step__words:visible").count(), 0, "the whole text is in sight");
      await hands.check(page, "start");
      for (const [question, value] of [["model", MODEL], ["person", "skilled"], ["alone", "yes"], ["caller", "no"]]) await hands.pick(page, question, value);
      await hands.press(page, page.locator(".follower button[type=submit]"));
      await settle(page);
      const shown = way.filter(({ step }) => !["carry-out", "by-model"].includes(step.kind));
      let cautions = 0;
      let wentBack = false;
      for (const [place, { step, way: index }] of shown.entries()) {
        cautions += await upToStep(page, hands, flow, step);
        assert.equal(await titleOf(page), step.text, `${await screenOf(page)} instead of ${step.id}`);
        if (place === shown.length - 1) break;
        await goOn(page, hands, flow, step, index);
        if (!wentBack && step.kind === "ask" && (await screenOf(page)) === "step") {
          await hands.back(page);
          await settle(page);
          assert.equal(await titleOf(page), step.text, "Back does not lead back");
          await goOn(page, hands, flow, step, index);
          wentBack = true;
        }
      }
      assert.ok(wentBack && (outcome !== "fixed" || cautions > 0), "no way back was tried, or no caution met");
      assert.equal(await screenOf(page), "ending");
      const record = await page.locator("#follower-record").inputValue();
      let from = 0;
      for (const { step, way: index } of shown.filter((one) => one.step.kind === "ask")) {
        const answer = step.ways[index].kind === "answer" ? step.ways[index].text : "";
        const found = record.indexOf(`${step.text}`, from);
        assert.ok(found >= from && record.slice(found).includes(answer), `the record lacks ${step.id}: ${record}`);
        from = found;
      }
      assert.ok(record.includes(shown.at(-1).step.text), record);
      await hands.check(page, "ending");
      await close(page);
    });
  }
}

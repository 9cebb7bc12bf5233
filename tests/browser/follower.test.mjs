// The follower in a real browser: focus, keys, taps, storage, sizes, and what stands in sight.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { act, ask, answer, CATALOGUE, end, exposed, flow, measure, band, nastyFlow, procedure, unsure } from "../script/flows.mjs";
import { bench } from "./bench.mjs";
import { secretOf } from "./page.mjs";

let follower;
before(async () => { follower = await bench(); });
after(() => follower.close());

const open = (flowOfPage, options) => follower.open(flowOfPage, options);
const close = (page) => follower.done(page);
const start = (page, person = "skilled") => follower.start(page, { person });
const screenOf = (page) => page.locator(".follower__card").getAttribute("data-screen");
const titleOf = (page) => page.locator(".follower__title").textContent();
const press = async (page, name) => {
  await follower.tap(page, page.getByRole("button", { name }));
};

test("the words of an exposing step are nowhere in sight before each of its cautions is acknowledged", async () => {
  const steps = [
    ask("tried", [answer("Dead", "lift", { sets: ["isolated"] }), unsure("stop")]),
    act("lift", "stop", { cautions: ["high-voltage", "toner"], exposes: exposed("high-voltage", "toner") }),
    end("stop", "handed-over"),
  ];
  const page = await open(flow([procedure("sight", steps)], CATALOGUE));
  const inSight = async () => (await page.locator("body").innerText()).includes(secretOf("lift"));
  assert.equal(await inSight(), false, "before the start");
  await start(page);
  await press(page, "Dead");
  assert.equal(await titleOf(page), "Hazard high-voltage");
  assert.equal(await inSight(), false);
  await press(page, "I have read this");
  assert.equal(await titleOf(page), "Hazard toner");
  assert.equal(await inSight(), false);
  await press(page, "I have read this");
  assert.equal(await screenOf(page), "step");
  assert.equal(await inSight(), true);
  await close(page);
});

test("two quick taps answer one question", async () => {
  const page = await open(flow([procedure("taps", [act("a", "b"), act("b", "c"), act("c", "stop"), end("stop", "no-fault")])], CATALOGUE));
  await start(page);
  await page.evaluate(() => {
    document.querySelector("[data-choice]").click();
    document.querySelector("[data-choice]").click();
  });
  assert.equal(await titleOf(page), "Text of b");
  await close(page);
});

test("a screen that is drawn anew keeps the focus: a key pressed twice, a wait that is over, a reading refused", async () => {
  const steps = [act("a", "pause"), act("pause", "gap", { wait: 60 }), measure("gap", "mm", "5", "90", [band(null, "stop"), unsure("stop")]), end("stop", "no-fault")];
  const page = await open(flow([procedure("drawn", steps)], CATALOGUE), { width: 1440, height: 900 });
  await start(page);
  const focused = () => page.evaluate(() => document.activeElement?.name || document.activeElement?.className);
  await page.keyboard.press("Enter");
  await page.keyboard.press("Enter");
  assert.equal(await titleOf(page), "Text of pause");
  assert.equal(await focused(), "follower__title");
  await follower.settle(page);
  await page.keyboard.press("Enter");
  assert.equal(await screenOf(page), "wait");
  await page.clock.runFor(61_000);
  assert.equal(await focused(), "follower__title");
  await page.keyboard.press("Enter");
  await follower.settle(page);
  assert.equal(await titleOf(page), "Text of gap");
  await page.locator("input[name=value]").fill("500");
  await page.keyboard.press("Enter");
  assert.ok(await page.locator(".follower__problem").isVisible());
  assert.equal(await focused(), "value");
  await close(page);
});

test("keys alone lead through: numbers answer, Backspace goes back, the heading has the focus", async () => {
  const page = await open(nastyFlow(), { width: 1440, height: 900 });
  await start(page);
  const focused = () => page.evaluate(() => document.activeElement?.className);
  assert.equal(await focused(), "follower__title");
  await page.keyboard.press("1");
  await follower.settle(page);
  assert.equal(await titleOf(page), "Text of look");
  await page.keyboard.press("2");
  await follower.settle(page);
  assert.equal(await titleOf(page), "Text of dust");
  assert.equal(await focused(), "follower__title");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  await follower.settle(page);
  assert.equal(await titleOf(page), "Text of look2");
  await page.keyboard.press("Backspace");
  await follower.settle(page);
  assert.equal(await titleOf(page), "Text of dust");
  await close(page);
});

test("a page that is opened again asks who is there, and then stands where it stood", async () => {
  const page = await open(nastyFlow());
  await start(page);
  await press(page, "I have read this");
  await press(page, "Yes");
  assert.equal(await titleOf(page), "Text of who");
  await page.reload();
  assert.equal(await screenOf(page), "resume");
  await page.getByRole("button", { name: "Go on" }).click();
  assert.match(await page.locator(".follower__problem").innerText(), /answer every question/);
  await page.locator("input[name=person][value=skilled]").check();
  await page.locator("input[name=alone][value=yes]").check();
  await page.locator("input[name=caller][value=no]").check();
  await press(page, "Go on");
  assert.equal(await titleOf(page), "Text of who");
  assert.match(await page.locator(".follower__path").textContent(), /Text of look Yes/);
  await close(page);
});

test("a link to a step opens at the start, and says why", async () => {
  const page = await open(nastyFlow(), { hash: "#step-fuser" });
  assert.equal(await screenOf(page), "start");
  assert.match(await page.locator(".follower").innerText(), /always begins at its start/);
  assert.equal((await page.locator("body").innerText()).includes(secretOf("fuser")), false);
  await close(page);
});

test("a browser that stores nothing says so before the start, and the run goes on", async () => {
  const page = await open(nastyFlow(), { init: () => Object.defineProperty(window, "localStorage", { get: () => { throw new Error("blocked"); } }) });
  assert.match(await page.locator(".follower").innerText(), /stores nothing/);
  await start(page);
  assert.equal(await screenOf(page), "caution");
  await close(page);
});

test("an answer given before the start is not lost when another is still open", async () => {
  const page = await open(nastyFlow());
  await page.locator("input[name=person][value=instructed]").check();
  await page.locator("input[name=alone][value=yes]").check();
  await page.locator("button[type=submit]").click();
  assert.equal(await screenOf(page), "start");
  assert.ok(await page.locator("input[name=person][value=instructed]").isChecked());
  assert.ok(await page.locator("input[name=alone][value=yes]").isChecked());
  assert.equal(await page.locator(".follower__choice--open").count(), 2);
  await close(page);
});

test("a part that fails leaves the readable page", async () => {
  const broken = nastyFlow();
  broken.procedures.nasty.models = null;
  const page = await open(broken);
  assert.equal(await page.locator("#follower").isVisible(), false);
  assert.ok((await page.locator("body").innerText()).includes(secretOf("fuser")));
  assert.equal(page.problems.splice(0).length, 1, "nobody who looks for it is told what failed");
  await close(page);
});

test("a reading out of range is refused with its range and the likely slip", async () => {
  const steps = [measure("gap", "mm", "5", "90", [band({ inside: false, value: "65", figure: null }, "stop"), band(null, "stop"), unsure("stop")]), end("stop", "no-fault")];
  const page = await open(flow([procedure("reading", steps)], CATALOGUE));
  await start(page);
  const field = page.locator(".follower__input[name=value]");
  assert.equal(await field.getAttribute("inputmode"), "decimal");
  await field.fill("377");
  await page.keyboard.press("Enter");
  await follower.settle(page);
  assert.match(await page.locator(".follower__problem").innerText(), /5 to 90 mm/);
  await press(page, "Did you mean 37.7 mm?");
  assert.equal(await field.inputValue(), "37.7");
  await press(page, "Enter the reading");
  assert.equal(await screenOf(page), "ending");
  assert.match(await page.locator("#follower-record").inputValue(), /Text of gap: 37.7 mm/);
  await close(page);
});

test("on a phone every target is 48 px high, ways on are 8 px apart, and nothing is wider than the screen", async () => {
  for (const width of [320, 360]) {
    const page = await open(nastyFlow(), { width });
    const check = async (where) => {
      const boxes = await page.locator(".follower button:visible, .follower a:visible, .follower summary:visible, .follower label.follower__option:visible").evaluateAll((all) => all.map((one) => [one.textContent, one.getBoundingClientRect().height]));
      for (const [text, height] of boxes) assert.ok(height >= 48, `${where}: ${text} is ${height} px high`);
      const ways = await page.locator("[data-choice]").evaluateAll((all) => all.map((one) => [one.getBoundingClientRect().top, one.getBoundingClientRect().bottom]));
      for (let n = 1; n < ways.length; n++) assert.ok(ways[n][0] - ways[n - 1][1] >= 8, `${where}: ways ${n} and ${n + 1} are too close`);
      assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), `${where}: wider than ${width}`);
    };
    await check("start");
    await start(page);
    await check("caution");
    await press(page, "I have read this");
    await check("question");
    await press(page, "I cannot tell");
    await check("ending");
    await close(page);
  }
});

test("the chart shows where one is and the ways taken; the stop card is on every screen", async () => {
  const page = await open(nastyFlow());
  const stop = () => page.locator(".follower a[href='../stop.html']").isVisible();
  assert.ok(await stop());
  await start(page);
  assert.ok(await stop());
  await press(page, "I have read this");
  await press(page, /No$/);
  assert.equal(await page.locator("#chart-dust.is-here").count(), 1);
  assert.equal(await page.locator(".chart .is-here").count(), 1);
  assert.equal(await page.locator(".chart__edge.is-taken[data-from=look][data-way='1']").count(), 1);
  assert.equal(await page.locator(".chart .is-taken").count(), 1);
  assert.ok(await stop());
  await close(page);
});

test("a wait runs on both clocks, has no way round it, and outlives a reload", async () => {
  const steps = [act("rest", "stop", { wait: 120 }), end("stop", "no-fault")];
  const page = await open(flow([procedure("rest", steps)], CATALOGUE));
  for (const [name, value] of [["person", "skilled"], ["alone", "yes"], ["caller", "no"]]) await page.locator(`input[name=${name}][value=${value}]`).check();
  const tap = async (name) => {
    await page.clock.runFor(400);
    await page.getByRole("button", { name }).click();
  };
  await tap("Begin");
  await tap("start the wait of 2 min");
  await page.clock.runFor(60_000);
  assert.equal(await screenOf(page), "wait");
  assert.match(await page.locator(".follower__time").innerText(), /^0[01]:\d\d$/);
  assert.equal(await page.locator("[data-choice]").count(), 0);
  await page.reload();
  assert.equal(await screenOf(page), "resume");
  await page.locator("input[name=person][value=skilled]").check();
  await page.locator("input[name=alone][value=yes]").check();
  await page.locator("input[name=caller][value=no]").check();
  await tap("Go on");
  assert.equal(await screenOf(page), "wait");
  const left = await page.locator(".follower__time").innerText();
  assert.ok(left > "00:50" && left <= "01:01", left);
  await page.clock.runFor(61_000);
  await tap("Go on");
  assert.equal(await screenOf(page), "ending");
  await close(page);
});

test("going back over something done names it, and start again takes two taps", async () => {
  const page = await open(nastyFlow());
  await start(page);
  await press(page, "I have read this");
  await press(page, "Power is off");
  await press(page, "Done, go on");
  await press(page, "Back");
  assert.match(await page.locator(".follower__notice").innerText(), /stays done[^]*Text of power/);
  await page.locator(".follower__sheet--more summary").click();
  await press(page, "Start again");
  assert.equal(await screenOf(page), "step");
  await press(page, "Tap again");
  assert.equal(await screenOf(page), "start");
  await close(page);
});

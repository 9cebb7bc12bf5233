// Who is there and which machine it is, in a real browser: a more qualified person is explained, a told check is marked, a serial number of another model
// is noticed, a call is put on call-back, and each screen can be quoted.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { act, ask, answer, CATALOGUE, end, exposed, flow, model, procedure, unsure } from "../script/flows.mjs";
import { bench } from "./bench.mjs";

let follower;
before(async () => { follower = await bench(); });
after(() => follower.close());

const job = () => ({ ...flow([procedure("job", [
  ask("tried", [answer("Dead", "lift", { sets: ["isolated"] }), unsure("stop")]),
  act("lift", "rest", { exposes: exposed("high-voltage"), cautions: ["high-voltage"], cures: ["scar"] }),
  act("rest", "test", { wait: 600 }),
  ask("test", [answer("Clean", "close", { fixed: true }), answer("Not yet", "stop"), unsure("stop")]),
  end("close", "fixed"), end("stop", "handed-over"),
], { models: ["desk", "floor"] })], { ...CATALOGUE, models: [model("desk"), model("floor")] }), faults: {
  known: [{ id: "scar", name: "Scar on the roller", weight: "3" }, { id: "other", name: "Anything else", weight: "1" }],
  gives: { test: [{ fixed: "1" }, { "not-fixed": "1" }, null] }, bring: [{ name: "Steel rule", cures: [] }, { name: "Roller", cures: ["scar"] }],
} });

test("HD-03: after a break a more qualified person is asked why, once it was said who it is", async () => {
  const page = await follower.open(job());
  await follower.start(page, { person: "instructed" });
  await follower.press(page, "Dead");
  await follower.more(page, "Someone else takes over");
  assert.equal(await page.locator("input[name=raised]").count(), 0);
  for (const [name, value] of [["person", "skilled"], ["alone", "yes"], ["caller", "no"], ["still-isolated", "yes"]]) await follower.choose(page, name, value);
  await follower.press(page, "Go on");
  assert.equal(await follower.screen(page), "resume");
  assert.match(await page.locator(".follower__choice--open legend").innerText(), /more qualified than before. Why/);
  await follower.choose(page, "raised", "another");
  await follower.press(page, "Go on");
  assert.equal(await follower.screen(page), "caution");
  await follower.done(page);
});

test("FT-10: a serial number of another model is warned of; confirmed, it stands in the record", async () => {
  const page = await follower.open(job());
  await follower.start(page, { model: "floor", serial: "AB-1" });
  await follower.press(page, "I cannot tell");
  assert.equal(await follower.screen(page), "ending");
  await follower.press(page, "Begin a new run");
  await follower.start(page, { model: "desk", serial: "ab 1" });
  assert.equal(await follower.screen(page), "start");
  assert.match(await page.locator(".follower__problem").innerText(), /ab 1 was followed as Model floor before/);
  await follower.press(page, "Begin");
  assert.equal(await follower.title(page), "Text of tried");
  await follower.press(page, "I cannot tell");
  assert.match(await page.locator("#follower-record").inputValue(), /followed as Model floor on this device before; the model was confirmed/);
  await follower.done(page);
});

test("FT-10: a warning that is heeded leaves nothing in the record", async () => {
  const page = await follower.open(job());
  await follower.start(page, { model: "floor", serial: "AB-1" });
  await follower.press(page, "I cannot tell");
  await follower.press(page, "Begin a new run");
  await follower.start(page, { model: "desk", serial: "ab1" });
  await follower.choose(page, "model", "floor");
  await follower.press(page, "Begin");
  await follower.press(page, "I cannot tell");
  assert.equal(/before/.test(await page.locator("#follower-record").inputValue()), false);
  await follower.done(page);
});

test("HD-10: a wait on the phone says when to call back; left on this page it goes on, and the list says so", async () => {
  const page = await follower.open(job());
  const tap = (name) => follower.tap(page, page.getByRole("button", { name }).first());
  for (const [name, value] of [["model", "desk"], ["person", "skilled"], ["alone", "yes"], ["caller", "yes"]]) await follower.choose(page, name, value);
  await page.locator("input[name=ticket]").fill("T-1");
  for (const name of ["Begin", "Dead", "repeated it", "Done, go on", "start the wait of 10 min"]) await tap(name);
  assert.match(await page.locator("[data-call-back]").innerText(), /Call back at \d\d?.\d\d/);
  await page.locator(".follower__sheet--more summary").click();
  await tap("Another call");
  assert.match(await page.locator(".follower__run").innerText(), /T-1[^]*Waits: call back at/);
  await page.clock.runFor(360_000);
  await tap("Open");
  assert.equal(await follower.screen(page), "resume");
  for (const [name, value] of [["person", "skilled"], ["alone", "yes"], ["caller", "yes"], ["still-isolated", "yes"]]) await follower.choose(page, name, value);
  await tap("Go on");
  assert.equal(await follower.screen(page), "wait");
  const left = await page.locator(".follower__time").innerText();
  assert.ok(left > "03:40" && left < "04:00", `${left} are left`);
  await page.locator(".follower__sheet--more summary").click();
  await tap("Another call");
  await page.clock.runFor(300_000);
  await page.reload();
  assert.equal(await page.locator(".follower__run").filter({ hasText: "Waits:" }).count(), 0, "on another page its clock does not run");
  await follower.done(page);
});

test("HD-06: the packet tells what may still be wrong with shares, and what to bring", async () => {
  const page = await follower.open(job());
  await follower.start(page, { serial: "AB-1" });
  await follower.press(page, "Dead");
  await follower.press(page, "Hand over");
  await page.locator("[data-shares=packet-faults]").waitFor();
  assert.match(await page.locator("[data-shares=packet-faults]").innerText(), /Scar on the roller\s+75 %\s+Anything else\s+25 %/);
  assert.match(await page.locator("[data-shares=packet-bring]").innerText(), /Steel rule\s+in any case\s+Roller\s+75 %/);
  assert.match(await page.locator("#follower-ticket").inputValue(), /May still be wrong: Scar on the roller 75 %; Anything else 25 %\nTo bring: Steel rule; Roller 75 %\n/);
  await follower.done(page);
});

test("HD-13: a check that was told is marked at the end", async () => {
  const page = await follower.open(flow([procedure("told", [ask("test", [answer("Clean", "close", { fixed: true }), unsure("close")]), end("close", "fixed")])]));
  await follower.start(page, { caller: "yes" });
  await follower.press(page, "Clean");
  assert.match(await page.locator(".follower__body .follower__notice").innerText(), /told on the phone/);
  await follower.done(page);
});

test("AL-14: each screen can be quoted by a short address and its revision; the address shows no exposing step first", async () => {
  const page = await follower.open(job());
  const quoted = () => page.locator("[data-quote]").innerText();
  assert.equal(await quoted(), "This screen: job, revision 1");
  await follower.start(page, {});
  assert.equal(await quoted(), "This screen: job#step-tried, revision 1");
  await follower.press(page, "Dead");
  assert.equal(await quoted(), "This screen: job, revision 1", "a step whose caution is not read is not named");
  await follower.press(page, "I have read this");
  assert.equal(await quoted(), "This screen: job#step-lift, revision 1");
  // Opened directly: with a run under way it asks about the machine and shows the caution; without one it stands at the start.
  const again = await page.context().newPage();
  await page.close();
  await again.goto(`${follower.address}#step-lift`);
  assert.equal(await follower.screen(again), "resume");
  await follower.resume(again);
  assert.equal(await follower.screen(again), "caution");
  const fresh = await follower.open(job(), { hash: "#step-lift" });
  assert.equal(await follower.screen(fresh), "start");
  assert.equal((await fresh.locator("body").innerText()).includes("[words of lift]"), false);
  await follower.done(fresh);
  await again.context().close();
});

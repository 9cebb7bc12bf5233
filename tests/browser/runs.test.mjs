// Several runs on one device, in a real browser: told apart, kept, open in two tabs, of an older edition; changed answers, notes, keys; storage full or blocked.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { act, ask, answer, CATALOGUE, end, exposed, flow, nastyFlow, procedure, unsure } from "../script/flows.mjs";
import { bench } from "./bench.mjs";

let follower;
before(async () => { follower = await bench(); });
after(() => follower.close());

const plain = () => flow([procedure("plain", [
  ask("first", [answer("Yes", "second"), answer("No", "stop"), unsure("stop")]),
  ask("second", [answer("Yes", "third"), answer("No", "stop"), unsure("stop")]),
  act("third", "stop"), end("stop", "no-fault"),
])], CATALOGUE);

test("three runs by their ticket labels go on side by side, and none overwrites another", async () => {
  const page = await follower.open(plain());
  for (const [ticket, presses] of [["T-1", ["Yes"]], ["T-2", ["Yes", "Yes"]], ["T-3", []]]) {
    await follower.start(page, { ticket });
    for (const name of presses) await follower.press(page, name);
    await follower.more(page, "Another call");
    assert.equal(await follower.screen(page), "start");
  }
  const rows = page.locator(".follower__run");
  assert.deepEqual((await rows.locator("strong").allTextContents()).sort(), ["T-1", "T-2", "T-3"]);
  assert.match(await rows.filter({ hasText: "T-2" }).innerText(), /2 answers so far, 0 min ago/);
  await rows.filter({ hasText: "T-1" }).getByRole("button", { name: "Open" }).click();
  assert.equal(await follower.screen(page), "resume");
  await follower.resume(page);
  assert.equal(await follower.title(page), "Text of second");
  await follower.more(page, "Another call");
  await rows.filter({ hasText: "T-2" }).getByRole("button", { name: "Open" }).click();
  await follower.resume(page);
  assert.equal(await follower.title(page), "Text of third");
  await follower.done(page);
});

test("a run is taken off by two taps, and is gone for good", async () => {
  const page = await follower.open(plain());
  await follower.start(page, { ticket: "T-9" });
  await follower.more(page, "Another call");
  await page.getByRole("button", { name: "Take off" }).click();
  assert.equal(await page.locator(".follower__run").count(), 1);
  await page.getByRole("button", { name: "Tap again" }).click();
  assert.equal(await page.locator(".follower__run").count(), 0);
  assert.deepEqual(await page.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith("stepward:run"))), []);
  await follower.done(page);
});

test("a second run for the same machine is only to look at, says where it is followed, and is taken over by an act of its own", async () => {
  const page = await follower.open(plain());
  await follower.start(page, { ticket: "T-1", serial: "AB-12 34" });
  await follower.press(page, "Yes");
  await follower.more(page, "Another call");
  await follower.start(page, { ticket: "T-2", serial: "ab1234" });
  assert.equal(await follower.screen(page), "elsewhere");
  assert.match(await page.locator(".follower__card").innerText(), /AB-12 34 is under way already: T-1[^]*T-1: kept on this device and open nowhere else, last answer 0 min ago/);
  assert.match(await page.locator(".follower__path").innerText(), /Text of first Yes/);
  assert.equal(await page.locator(".follower__path button, [data-minor]").count(), 0, "nothing in it can be changed");
  await follower.press(page, "It is another machine");
  assert.equal(await follower.screen(page), "start");
  assert.equal(await page.locator("input[name=ticket]").inputValue(), "T-2", "what was typed is not lost");
  await page.locator("input[name=serial]").fill("AB1234");
  await page.locator("button[type=submit]").click();
  await follower.press(page, "Take it over here");
  assert.equal(await follower.screen(page), "resume");
  await follower.done(page);
});

test("a second run for the same machine in another tab: read-only until it is taken over, and then the first tab is", async () => {
  const first = await follower.open(plain());
  await follower.start(first, { ticket: "T-1", serial: "AB-1" });
  await follower.press(first, "Yes");
  const second = await first.context().newPage();
  await second.goto(follower.address);
  await follower.start(second, { ticket: "T-2", serial: "ab1" });
  assert.equal(await follower.screen(second), "elsewhere");
  assert.match(await second.locator("[data-where=held]").innerText(), /T-1: followed in another tab/);
  await follower.press(first, "Yes");
  await second.waitForFunction(() => document.querySelector(".follower__path")?.textContent.includes("Text of second"));
  assert.equal(await second.locator("[data-where=held]").count(), 1, "looking takes nothing");
  await follower.press(second, "Take it over here");
  assert.equal(await follower.screen(second), "resume");
  await first.waitForFunction(() => document.querySelector(".follower__card").dataset.screen === "elsewhere", null, { timeout: 5000 });
  await follower.resume(second);
  assert.equal(await follower.title(second), "Text of third");
  assert.equal(await second.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith("stepward:run:")).length), 1, "there is one run");
  await second.context().close();
});

test("the same run in two tabs: the second only looks, sees what is answered, and takes over when the first is gone", async () => {
  const first = await follower.open(plain());
  await follower.start(first, { ticket: "T-1" });
  const second = await first.context().newPage();
  await second.goto(follower.address);
  assert.equal(await follower.screen(second), "start");
  assert.match(await second.locator(".follower__run").innerText(), /Open in another tab/);
  await second.getByRole("button", { name: "Open" }).click();
  assert.equal(await follower.screen(second), "elsewhere");
  assert.equal(await second.locator("[data-where=held]").count(), 1);
  assert.equal(await second.locator("[data-choice]").count(), 2, "take it over, or begin another: no answer can be given");
  await follower.press(first, "Yes");
  await second.waitForFunction(() => document.querySelector("#follower-record")?.value.includes("Text of first"));
  await first.close();
  await second.locator("[data-where=free]").waitFor({ timeout: 9000 });
  await second.getByRole("button", { name: "Take it over here" }).click({ timeout: 9000 });
  assert.equal(await follower.screen(second), "resume");
  await follower.resume(second);
  assert.equal(await follower.title(second), "Text of second");
  await second.context().close();
});

test("a tab that lost its run to another answers nothing any more", async () => {
  const page = await follower.open(plain());
  await follower.start(page, {});
  await page.evaluate(() => {
    const key = Object.keys(localStorage).find((one) => one.startsWith("stepward:lease:"));
    localStorage.setItem(key, `other ${Date.now() + 2000}`);
  });
  await page.waitForFunction(() => document.querySelector(".follower__card").dataset.screen === "elsewhere", null, { timeout: 5000 });
  await follower.done(page);
});

test("a run of an older edition is explained and not continued; its record can be copied", async () => {
  const page = await follower.open(plain());
  await follower.start(page, { ticket: "T-1" });
  await follower.press(page, "Yes");
  const renewed = { ...plain(), edition: "e2" };
  delete renewed.procedures.plain.steps.first;
  renewed.procedures.plain.start = "second";
  follower.serve(renewed);
  await page.reload();
  assert.equal(await follower.screen(page), "closed");
  assert.match(await page.locator(".follower__card").innerText(), /older edition[^]*not continued/);
  assert.match(await page.locator("#follower-record").inputValue(), /"step":"first"/);
  await follower.press(page, "Begin a new run");
  assert.equal(await follower.screen(page), "start");
  assert.match(await page.locator(".follower__run").innerText(), /Of an older edition/);
  await follower.done(page);
});

test("a run kept under the old single key is opened", async () => {
  const page = await follower.open(plain());
  await follower.start(page, {});
  await follower.press(page, "Yes");
  await page.evaluate(() => {
    const key = Object.keys(localStorage).find((one) => one.startsWith("stepward:run:"));
    const state = localStorage.getItem(key);
    localStorage.clear();
    sessionStorage.clear();
    window.addEventListener("beforeunload", () => { localStorage.clear(); localStorage.setItem("stepward:run:plain", state); });
  });
  await page.reload();
  await follower.resume(page);
  assert.equal(await follower.title(page), "Text of second");
  await follower.done(page);
});

test("a run that has ended opens as its record, without a step's words", async () => {
  const page = await follower.open(plain());
  await follower.start(page, { ticket: "T-1" });
  await follower.press(page, "No");
  assert.equal(await follower.screen(page), "ending");
  await follower.press(page, "Begin a new run");
  await page.getByRole("button", { name: "Open" }).click();
  assert.equal(await follower.screen(page), "closed");
  assert.match(await page.locator("#follower-record").inputValue(), /Ticket: T-1[^]*Text of first: No/);
  assert.equal((await page.locator("body").innerText()).includes("[words of stop]"), false);
  await follower.done(page);
});

test("an earlier answer on the path is gone back to by one tap; what was done stays done and is named", async () => {
  const steps = [
    ask("first", [answer("Yes", "power"), unsure("stop")]), act("power", "second", { sets: ["mains-on"] }),
    ask("second", [answer("Yes", "third"), unsure("stop")]), act("third", "stop"), end("stop", "no-fault"),
  ];
  const page = await follower.open(flow([procedure("path", steps)], CATALOGUE));
  await follower.start(page, {});
  await follower.press(page, "Yes");
  await follower.press(page, "Done, go on");
  await follower.press(page, "Yes");
  await page.locator(".follower__sheet--path summary").click();
  await page.locator(".follower__answer").first().click();
  assert.equal(await follower.title(page), "Text of first");
  assert.match(await page.locator(".follower__notice").innerText(), /stays done[^]*Text of power/);
  assert.equal(await page.locator(".follower__path li").count(), 0);
  await follower.done(page);
});

test("going back by the path over an exposing step asks for its caution again", async () => {
  const steps = [
    act("dust", "second", { exposes: exposed("toner"), cautions: ["toner"] }), ask("second", [answer("Yes", "third"), unsure("stop")]), act("third", "stop"), end("stop", "no-fault"),
  ];
  const page = await follower.open(flow([procedure("again", steps)], CATALOGUE));
  await follower.start(page, {});
  await follower.press(page, "I have read this");
  await follower.press(page, "Done, go on");
  await follower.press(page, "Yes");
  await page.locator(".follower__sheet--path summary").click();
  await page.locator(".follower__answer").first().click();
  assert.equal(await follower.screen(page), "caution");
  assert.equal((await page.locator("body").innerText()).includes("[words of dust]"), false);
  await follower.done(page);
});

test("a note at a step goes into the record; Escape closes it, Enter goes on, and the run is where it was", async () => {
  const page = await follower.open(plain(), { width: 1440, height: 900 });
  await follower.start(page, {});
  await page.getByRole("button", { name: "Add a note" }).click();
  assert.equal(await page.evaluate(() => document.activeElement.id), "follower-note");
  await page.keyboard.type("12");
  await page.keyboard.press("Escape");
  assert.equal(await follower.title(page), "Text of first");
  await page.getByRole("button", { name: "Add a note" }).click();
  await page.keyboard.type("Second tray was empty");
  await follower.press(page, "Save the note");
  assert.equal(await follower.title(page), "Text of first");
  for (const key of ["1", "1", "Enter"]) {
    await page.evaluate(() => document.querySelector(".follower__title").focus());
    await page.keyboard.press(key);
    await follower.settle(page);
  }
  assert.equal(await follower.screen(page), "ending");
  assert.match(await page.locator("#follower-record").inputValue(), /Note: Second tray was empty/);
  await follower.done(page);
});

test("with a caller a caution has its text to read aloud, and answers are marked as told", async () => {
  const page = await follower.open(nastyFlow());
  await follower.start(page, { caller: "yes" });
  assert.match(await page.locator(".follower__aloud").innerText(), /Read this aloud[^]*Keep away/);
  assert.equal(await page.getByRole("button", { name: "I have read this" }).count(), 0);
  await follower.press(page, "The person at the machine repeated it");
  await follower.press(page, "No");
  await page.locator(".follower__sheet--path summary").click();
  assert.match(await page.locator(".follower__path").innerText(), /Text of look No \(told\)/);
  await follower.done(page);
});

test("after a break it is asked who is at the machine, and whether one is there oneself", async () => {
  const page = await follower.open(plain());
  await follower.start(page, { caller: "yes" });
  await page.reload();
  assert.deepEqual(await page.locator("input[type=radio]").evaluateAll((all) => [...new Set(all.map((one) => one.name))]), ["person", "alone", "caller"]);
  await page.locator("input[name=person][value=skilled]").check();
  await page.locator("input[name=alone][value=yes]").check();
  await follower.press(page, "Go on");
  assert.equal(await follower.screen(page), "resume");
  assert.equal(await page.locator(".follower__choice--open").count(), 1);
  await follower.done(page);
});

for (const [kind, init, words] of [
  ["full", () => { Storage.prototype.setItem = () => { throw new DOMException("no room", "QuotaExceededError"); }; }, /no room left/],
  ["blocked", () => Object.defineProperty(window, "localStorage", { get: () => { throw new Error("blocked"); } }), /stores nothing/],
]) {
  test(`storage that is ${kind} is said before the start and on every screen of the run`, async () => {
    const page = await follower.open(plain(), { init });
    assert.match(await page.locator(`[data-room=${kind}]`).innerText(), words);
    await follower.start(page, {});
    assert.match(await page.locator(`.follower__notice[data-room=${kind}]`).innerText(), /by hand/);
    await follower.press(page, "No");
    assert.match(await page.locator("#follower-record").inputValue(), /Text of first: No/);
    await follower.done(page);
  });
}

test("storage that fills up in mid-run is said at once", async () => {
  const page = await follower.open(plain());
  await follower.start(page, {});
  assert.equal(await page.locator(".follower__notice[data-room]").count(), 0);
  await page.evaluate(() => {
    const kept = Storage.prototype.setItem;
    Storage.prototype.setItem = function (key, text) {
      if (key.startsWith("stepward:run:")) throw new DOMException("no room", "QuotaExceededError");
      kept.call(this, key, text);
    };
  });
  await follower.press(page, "Yes");
  assert.match(await page.locator(".follower__notice[data-room=failed]").innerText(), /could not be kept/);
  await follower.done(page);
});

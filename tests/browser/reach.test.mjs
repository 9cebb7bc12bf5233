// What a hand and a screen reader find: reach, the order of keys, headings and groups; readings near an edge; what a page weighs. (Every screen by eye: `screens.test.mjs`.)
import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { gzipSync } from "node:zlib";
import { act, ask, answer, band, CATALOGUE, end, exposed, flow, measure, procedure, unsure } from "../script/flows.mjs";
import { bench } from "./bench.mjs";
import { PAGES, SITE } from "./site.mjs";

let follower;
before(async () => { follower = await bench(); });
after(() => follower.close());

const LONG = Array.from({ length: 12 }, () => "A sentence that somebody wrote about this step at the machine.");
const job = (words = []) => flow([procedure("job", [
  ask("look", [answer("Yes", "gap", { sets: ["isolated"] }), answer("No", "stop"), unsure("stop")], { cautions: ["toner"], words }),
  measure("gap", "mm", "5", "90", [band({ inside: false, value: "65", figure: null }, "rest"), band(null, "stop"), unsure("stop")]),
  act("rest", "lift", { wait: 60 }), act("lift", "stop", { exposes: exposed("high-voltage") }), end("stop", "handed-over"),
])], CATALOGUE);

/** Walks to an ending, and calls what looks on every screen. */
async function walk(page, looks) {
  await looks("start");
  await follower.start(page, { caller: "yes", ticket: "T-1" });
  await looks("caution");
  await follower.press(page, "repeated it");
  await looks("question");
  await page.getByRole("button", { name: "Add a note" }).click();
  await looks("note");
  await page.locator(".follower__title").focus();
  await page.keyboard.press("Escape");
  await page.locator(".follower__ways button").first().click();
  await follower.settle(page);
  await page.locator(".follower__several summary").click();
  await looks("reading");
  await page.locator("input[name=value]").fill("37.7");
  await page.locator("button[type=submit]").click();
  await follower.settle(page);
  await page.locator(".follower__ways button").first().click();
  await follower.settle(page);
  await looks("wait");
  await page.locator("[data-minor=hand-over]").click();
  await page.locator("#follower-link").waitFor();
  await looks("packet");
  await page.locator(".follower__title").focus();
  await page.keyboard.press("Escape");
  await page.reload();
  await looks("resume");
}

test("at 360 x 640 the ways on lie in the lower half, 48 px high and 8 px apart, though the words are long", async () => {
  for (const words of [[], LONG]) {
    const page = await follower.open(job(words));
    await follower.start(page, {});
    await follower.press(page, "I have read this");
    const boxes = await page.locator(".follower__way").evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON()));
    assert.equal(boxes.length, 3);
    for (const box of boxes) assert.ok(box.top >= 320 && box.bottom <= 640 && box.height >= 48, JSON.stringify(box));
    for (let n = 1; n < boxes.length; n++) assert.ok(boxes[n].top - boxes[n - 1].bottom >= 8);
    await follower.done(page);
  }
});

test("the hand is chosen, and is remembered", async () => {
  const page = await follower.open(job());
  await follower.start(page, {});
  await follower.press(page, "I have read this");
  const note = () => page.locator("[data-minor=note]").boundingBox();
  const right = await note();
  assert.ok(right.x + right.width > 240, "not at the right hand");
  await follower.more(page, "Buttons to the left hand");
  assert.ok((await note()).x < 60, "not at the left hand");
  await page.reload();
  assert.equal(await page.locator(".follower").getAttribute("data-hand"), "left");
  await follower.done(page);
});

test("each screen's heading has the focus; a caution is announced before its step; answers are a named group", async () => {
  const page = await follower.open(job());
  await follower.start(page, {});
  const focused = () => page.evaluate(() => document.activeElement?.id);
  assert.equal(await focused(), "follower-title");
  const caution = await page.locator(".follower__card").ariaSnapshot();
  assert.match(caution, /heading "Hazard toner" \[level=2\][^]*CAUTION[^]*Keep away[^]*group "Hazard toner":\s+- button "I have read this and keep to it"/);
  assert.equal(caution.includes("Text of look"), false);
  await follower.press(page, "I have read this");
  assert.equal(await focused(), "follower-title");
  const question = await page.locator(".follower__card").ariaSnapshot();
  assert.match(question, /heading "Text of look" \[level=2\][^]*group "Text of look":\s+- button "Yes"\s+- button "No"\s+- button "I cannot tell"/);
  await follower.done(page);
});

test("Tab leads through every screen and out again", async () => {
  const page = await follower.open(job(), { width: 1440, height: 900 });
  await walk(page, async (name) => {
    await page.locator(".follower__title").focus();
    const seen = new Set();
    let out = false;
    for (let n = 0; n < 60 && !out; n++) {
      await page.keyboard.press("Tab");
      out = await page.evaluate(() => !document.activeElement.closest(".follower"));
      seen.add(await page.evaluate(() => document.activeElement.outerHTML.slice(0, 80)));
    }
    assert.ok(out && seen.size > 2, `${name}: Tab does not lead out`);
  });
  await follower.done(page);
});

const ways = [["38", "near"], ["20", "far"]];
for (const [value, kind] of ways) {
  test(`a reading that is ${kind} the edge of a band is ${kind === "near" ? "taken again" : "taken at once"}`, async () => {
    const steps = [measure("gap", "mm", "5", "90", [band({ inside: false, value: "37.7", figure: null }, "lift"), band(null, "stop"), unsure("stop")]), act("lift", "stop"), end("stop", "no-fault")];
    const page = await follower.open(flow([procedure("edge", steps)], CATALOGUE));
    await follower.start(page, {});
    const enter = async (text) => {
      await page.locator("input[name=value]").fill(text);
      await page.locator("button[type=submit]").click();
      await follower.settle(page);
    };
    await enter(value);
    if (kind === "near") {
      assert.match(await page.locator(".follower__problem").innerText(), /38 mm is too close to a limit[^]*Measure again/);
      assert.match(await page.locator(".follower__body").innerText(), /First reading: 38 mm/);
      assert.equal(await page.locator("input[name=value]").inputValue(), "");
      await enter("40");
      assert.equal(await follower.screen(page), "ending");
    } else {
      assert.equal(await follower.title(page), "Text of lift");
    }
    await follower.done(page);
  });
}

test("several gaps and several readings: mean and spread are shown while typing, and readings apart are refused", async () => {
  const steps = [measure("gap", "mm", "5", "90", [band({ inside: false, value: "50", figure: null }, "stop"), band(null, "lift"), unsure("stop")]), act("lift", "stop"), end("stop", "no-fault")];
  const page = await follower.open(flow([procedure("gaps", steps)], CATALOGUE));
  await follower.start(page, {});
  await page.locator(".follower__several summary").click();
  await page.locator("input[name=value]").fill("113.1");
  await page.locator("input[name=gaps]").fill("3");
  assert.equal(await page.locator(".follower__mean").innerText(), "That is 37.7 mm for one gap");
  await page.locator("input[name=value-2]").fill("113,7");
  assert.equal(await page.locator(".follower__mean").innerText(), "Mean 37.8 mm, spread 0.2 mm");
  await page.locator("input[name=value-2]").fill("180");
  await page.locator("button[type=submit]").click();
  await follower.settle(page);
  assert.match(await page.locator(".follower__problem").innerText(), /22.3 mm apart and lead different ways/);
  await page.locator("input[name=value-2]").fill("113.7");
  await page.locator("button[type=submit]").click();
  await follower.settle(page);
  assert.equal(await follower.screen(page), "ending");
  assert.match(await page.locator("#follower-record").inputValue(), /Text of gap: 37.8 mm/);
  await follower.done(page);
});

/** KiB: the bars of the issue. */
const KIB = 1024;
test("the procedure's script is under 25 KiB, and a page with all it needs under 100 KiB, gzipped", (context) => {
  const packed = (path) => gzipSync(readFileSync(new URL(path, SITE)), { level: 9 }).length;
  const assets = readdirSync(new URL("assets/", SITE));
  const asset = (name) => packed(`assets/${assets.find((one) => one.startsWith(`${name}-`))}`);
  const [script, every, style, later, chart] = ["procedure", "plain", "style", "hand-over", "chart"].map(asset);
  context.diagnostic(`procedure ${script}, every page ${every}, style ${style}, on demand ${later} and ${chart} bytes`);
  assert.ok(script <= 25 * KIB, `${script}`);
  assert.ok(Math.max(later, chart) <= 25 * KIB, `${later} ${chart}`);
  const procedures = PAGES.filter((path) => path.startsWith("procedures/"));
  assert.ok(procedures.length > 3);
  for (const path of procedures) {
    const page = packed(path);
    const all = page + script + every + style;
    context.diagnostic(`${path}: ${page} bytes, ${all} with all it needs`);
    assert.ok(all <= 100 * KIB, path);
  }
});

// FT-05 in a real browser: the process of the page is killed on every screen of one way through a flow of the demo, and the page comes back the next day.
// The flow is read from `site-demo`, or from the folder that `SITE` names. `SLOW=1` takes the longer one with a reading.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { deedsOf } from "../../themes/bench/script/packet.js";
import { flowNamed } from "../demo/flows.mjs";
import { everyScreen } from "../demo/screens.mjs";
import { bench } from "./bench.mjs";

let follower;
before(async () => { follower = await bench(); });
after(() => follower.close());

const DAY = 24 * 3_600_000;

const [NAME, MEETS, LEAST] = process.env.SLOW ? ["repeating-marks", ["caution", "wait-over", "typed"], 20] : ["isolate", ["caution", "wait-over"], 8];

/** What people do on the shortest way to an ending that meets cautions and a wait. */
function wayThrough(flow) {
  const ended = everyScreen(flow, "ordinary").map((one) => one.state).filter((state) => state.screen.name === "ending" && state.model !== null);
  const meets = (state) => MEETS.every((what) => state.log.some((entry) => entry.what === what || entry[what] !== undefined));
  const found = ended.filter(meets).sort((one, other) => one.log.length - other.log.length)[0];
  assert.ok(found, "no way meets all that");
  return deedsOf(flow, found).map((deed) => (deed.type === "answer" ? { ...deed, place: placeOf(flow, found, deed) } : deed));
}

/** Which of the buttons on the screen a way is. */
function placeOf(flow, state, deed) {
  const wayOf = (entry) => flow.procedures[entry.procedure].steps[entry.step].ways[entry.way];
  const { procedure, step } = state.log.find((entry) => entry.what === "way" && entry.at === deed.at && entry.way === deed.way && ["answer", "unsure"].includes(wayOf(entry).kind));
  const { kind, ways } = flow.procedures[procedure].steps[step];
  const offered = [...ways.keys()].filter((index) => ways[index].kind === "unsure" || (kind === "ask" && ways[index].kind === "answer"));
  return offered.indexOf(deed.way);
}

const screen = (page) => page.evaluate(() => ({
  name: document.querySelector(".follower__card").dataset.screen, title: document.querySelector(".follower__title").textContent,
  path: document.querySelector(".follower__path")?.textContent ?? "", time: document.querySelector(".follower__time")?.textContent ?? null,
}));

test("killed on every screen of a way through a flow, the page comes back to each the next day, with nothing lost", { timeout: 240_000 }, async () => {
  const flow = flowNamed(NAME);
  const deeds = wayThrough(flow);
  follower.serve(flow, undefined);
  let page = await follower.open(flow);
  const context = page.context();
  let wall = Date.UTC(2026, 10, 26, 9);
  const opened = async () => {
    const next = await context.newPage();
    await next.clock.install({ time: wall });
    await next.goto(follower.address);
    return next;
  };
  await page.close();
  page = await opened();
  const tap = async (locator) => {
    await page.clock.runFor(400);
    await locator.click();
  };
  const answerAll = async (chosen) => {
    for (const [name, value] of Object.entries(chosen)) await follower.choose(page, name, value);
    for (const name of await page.locator("input[type=radio][name^=still-]").evaluateAll((all) => [...new Set(all.map((one) => one.name))])) await follower.choose(page, name, "yes");
    await tap(page.locator("button[type=submit]"));
  };
  const yesNo = (value) => (value ? "yes" : "no");
  const kinds = new Set();
  let person = deeds[0].person;
  let killed = 0;
  for (const deed of deeds) {
    if (deed.type === "start") await answerAll({ model: deed.model, person: deed.person, alone: "yes", caller: yesNo(deed.caller) });
    else if (deed.type === "answer") await tap(page.locator("[data-choice]").nth(deed.place));
    else if (deed.type === "reading") {
      for (const [name, typed] of Object.entries(deed.typed)) await page.locator(`input[name="${name}"]`).fill(typed);
      await tap(page.locator("button[type=submit]"));
    } else {
      // A wait is run through on the page's own clock.
      const wait = page.locator(".follower__card[data-screen=wait]");
      if (await wait.count()) {
        for (let minutes = 0; minutes < 300 && (await page.locator(".follower__way--main").count()) === 0; minutes++) await page.clock.runFor(60_000);
      }
      await tap(page.locator(".follower__way--main"));
      // A long wait is a break: who is there is asked first, and then the wait is over.
      if ((await screen(page)).name === "resume") {
        await answerAll({ person, alone: "yes", caller: "no" });
        while ((await screen(page)).name === "caution") await tap(page.locator(".follower__way--main"));
        await tap(page.locator(".follower__way--main"));
      }
    }
    const before = await screen(page);
    assert.ok(!["resume", "start"].includes(before.name), `${deed.type} led to ${before.name}`);
    kinds.add(before.name);
    if (before.name === "ending") break;
    // The answers of the flow itself may have brought somebody else.
    person = await page.evaluate(() => JSON.parse(Object.entries(localStorage).find(([key]) => key.startsWith("stepward:run:"))[1]).facts.person);
    await kill(page);
    killed += 1;
    wall += DAY;
    page = await opened();
    const name = `${before.name}: ${before.title}`;
    assert.equal((await screen(page)).name, "resume", name);
    await answerAll({ person, alone: "yes", caller: "no" });
    while ((await screen(page)).name === "caution" && (before.name !== "caution" || (await screen(page)).title !== before.title)) await tap(page.locator(".follower__way--main"));
    const again = await screen(page);
    assert.deepEqual([again.name, again.title, again.path], [before.name, before.title, before.path], name);
    if (before.time !== null) assert.ok(again.time <= before.time && again.time > "00:00", `${before.time} and then ${again.time}`);
  }
  assert.ok(killed >= LEAST && ["caution", "step", "wait", "ending"].every((one) => kinds.has(one)), `${killed} screens: ${[...kinds].join(", ")}`);
  await context.close();
});

/** The renderer dies at once: no event of the page runs. */
async function kill(page) {
  const session = await page.context().newCDPSession(page);
  const crashed = new Promise((done) => page.once("crash", done));
  session.send("Page.crash").catch(() => {});
  await crashed;
  await page.close();
}

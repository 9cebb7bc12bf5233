// Every screen of the follower, one after another, for the tests that look at all of them.
import { act, ask, answer, band, byModel, call, CATALOGUE, end, exposed, flow, measure, model, procedure, unsure } from "../script/flows.mjs";

/** What `everyScreen` shows, in this order; a test that has seen them all has missed none. */
export const SCREENS = [
  "start", "start: open questions", "caution", "caution: to read aloud", "question", "question: stays done", "note", "reading", "reading: refused", "reading: near a limit",
  "wait", "wait: over", "step of a task", "packet", "packet: machine asked for", "sheets open", "another person", "resume", "resume: open questions", "elsewhere", "ending", "hand-over", "closed", "start: runs kept",
  "same machine", "refused", "refusedLink",
];

const WORDS = ["Look at the sheet from the left and say what you see.", "Hold it against the light, and turn it over once."];
const answers = ["Yes, all over the sheet", "Only along one edge", "On the back as well", "Nothing that can be seen"];

/** A flow that passes every kind of screen on one way. */
export function everyFlow() {
  const task = procedure("isolate", [
    act("plug-out", "tried", { clears: ["mains-on"], words: WORDS }), ask("tried", [answer("Dead", "done", { sets: ["isolated"] }), answer("Alive", "not-done"), unsure("not-done")]), end("done", "done"), end("not-done", "not-done"),
  ], { kind: "task", models: ["desk", "floor"] });
  const main = procedure("screens", [
    ask("look", [answer(answers[0], "safe"), ...answers.slice(1).map((text) => answer(text, "stop")), unsure("stop")], { cautions: ["toner"], words: WORDS }),
    call("safe", "isolate", { done: "gap", "not-done": "stop" }),
    measure("gap", "mm", "5", "90", [band({ inside: false, value: "37.7", figure: null }, "stop"), band(null, "rest"), unsure("stop")], { step: { words: WORDS } }),
    act("rest", "split", { wait: 90, words: WORDS }), byModel("split", { desk: "lift", others: "lift" }),
    act("lift", "close", { exposes: exposed("hot-fuser"), cautions: ["hot-fuser"], words: WORDS }),
    end("close", "fixed", { words: WORDS }), end("stop", "handed-over", { words: WORDS }),
  ], { models: ["desk", "floor"] });
  const hazards = CATALOGUE.hazards.map((one) => ({ ...one, least: null, requires: one.requires.filter((name) => name !== "cooled"), nature: "Parts behind this cover stay hot for a long while.", consequence: "They burn the skin at once.", avoid: "Pull the plug, and wait until they are cool.", place: "Behind the rear cover" }));
  return flow([main, task], { ...CATALOGUE, hazards, models: [model("desk"), model("floor")] });
}

const stopped = () => flow([procedure("stops", [act("lift", "stop", { exposes: exposed("high-voltage") }), end("stop", "fixed")])], CATALOGUE);

/**
 * Calls `looks(page, name)` on every screen. `mend` may change each flow before it is shown.
 * @param {any} follower @param {any} options of `open` @param {(page: any, name: string) => Promise<void>} looks @param {(flow: any) => any} mend
 */
export async function everyScreen(follower, options, looks, mend = (flow) => flow) {
  const way = (page, place) => follower.tap(page, page.locator("[data-choice]").nth(place));
  const minor = (page, name) => follower.tap(page, page.locator(`[data-minor=${name}]`));
  const page = await follower.open(mend(everyFlow()), options);
  const sees = (name) => looks(page, name);
  const submit = () => follower.tap(page, page.locator("button[type=submit]"));
  await sees("start");
  await submit();
  await sees("start: open questions");
  await follower.start(page, { ticket: "T-1", serial: "AB-1", model: "desk", caller: "no" });
  await sees("caution");
  await way(page, 0);
  await sees("question");
  await minor(page, "note");
  await sees("note");
  await page.locator(".follower__title").focus();
  await page.keyboard.press("Escape");
  await way(page, 0);
  await sees("step of a task");
  await way(page, 0);
  await minor(page, "back");
  await way(page, 0);
  await way(page, 0);
  await way(page, 0);
  await sees("reading");
  await page.locator(".follower__several summary").click();
  await page.locator("input[name=value]").fill("377");
  await submit();
  await sees("reading: refused");
  await page.locator("input[name=value]").fill("38");
  await submit();
  await sees("reading: near a limit");
  await page.locator("input[name=value]").fill("60");
  await submit();
  await minor(page, "back");
  await sees("question: stays done");
  await page.locator("input[name=value]").fill("60");
  await submit();
  await way(page, 0);
  await sees("wait");
  await minor(page, "hand-over");
  await page.locator("#follower-link").waitFor();
  await sees("packet");
  await page.keyboard.press("Escape");
  await page.clock.runFor(95_000);
  await sees("wait: over");
  for (const sheet of await page.locator(".follower__sheet summary").all()) await sheet.click();
  await sees("sheets open");
  await minor(page, "take-over");
  await sees("another person");
  const other = await page.context().newPage();
  await other.goto(follower.address);
  await other.locator("[data-open]").click();
  await looks(other, "elsewhere");
  await other.close();
  await page.reload();
  await sees("resume");
  await submit();
  await sees("resume: open questions");
  await follower.resume(page, { caller: "yes" });
  if ((await follower.screen(page)) === "wait") {
    await page.clock.runFor(95_000);
    await way(page, 0);
  }
  await sees("caution: to read aloud");
  await way(page, 0);
  await way(page, 0);
  await sees("ending");
  await way(page, 1);
  await sees("start: runs kept");
  await page.locator("[data-open]").click();
  await sees("closed");
  await way(page, 0);
  await follower.start(page, { serial: "CD-2", model: "desk" });
  await page.locator(".follower__sheet--more summary").click();
  await minor(page, "other-runs");
  await follower.start(page, { serial: "CD-2", model: "desk" });
  await sees("same machine");
  await follower.done(page);

  const standing = await follower.open(mend(stopped()), options);
  await follower.start(standing, {});
  await looks(standing, "hand-over");
  await way(standing, 0);
  await standing.locator("#follower-serial").waitFor();
  await looks(standing, "packet: machine asked for");
  await follower.done(standing);

  const refused = await follower.open(mend(flow([procedure("refused", [end("stop", "fixed")])], CATALOGUE)), options);
  await follower.start(refused, { alone: "no" });
  await looks(refused, "refused");
  await refused.goto("about:blank");
  await refused.goto(`${follower.address}#run=AA`);
  await refused.waitForFunction(() => document.querySelector(".follower__card")?.dataset.screen === "refusedLink");
  await looks(refused, "refusedLink");
  await follower.done(refused);
}

/** A text whose words are all 60 % longer, each in one piece; `{names}` stay what they are. */
export function longer(text) {
  return text.split(/(\{[\w-]+\})/).map((part) => (part.startsWith("{") ? part : part.replace(/\p{L}+/gu, (word) => word + "õ".repeat(Math.ceil(word.length * 0.6))))).join("");
}

/** The texts of a flow that people read, longer. */
export function longerFlow(flow) {
  const texts = new Set(["text", "title", "name", "nature", "consequence", "avoid", "spoken", "place", "ask"]);
  const mend = (value, key) => {
    if (typeof value === "string") return texts.has(key) ? longer(value) : value;
    if (Array.isArray(value)) return value.map((one) => (key === "words" ? longer(one) : mend(one)));
    if (value === null || typeof value !== "object") return value;
    const keyed = ["outcome", "model"].includes(value.kind);
    return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, keyed && name === "text" ? one : mend(one, name)]));
  };
  return mend(flow);
}

/** The interface's words, longer. */
export const longerWords = (words) => Object.fromEntries(Object.entries(words).map(([group, texts]) => [group, Object.fromEntries(Object.entries(texts).map(([key, text]) => [key, longer(text)]))]));

// Automatic rules of accessibility (axe-core of the npm registry: WCAG 2.0 to 2.2, levels A and AA) over every demo page and every screen of the follower, light and dark.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { act, ask, answer, band, CATALOGUE, end, exposed, flow, measure, procedure, unsure } from "../script/flows.mjs";
import { bench, DEAD } from "./bench.mjs";
import { openPage, PAGES, SITE } from "./site.mjs";

const AXE = readFileSync(createRequire(new URL("../outside/", import.meta.url)).resolve("axe-core/axe.min.js"), "utf8");
const RULES = { runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] } };

let follower;
before(async () => { follower = await bench(); });
after(() => follower.close());

/** What a rule says against the page as it stands: rule, and the first element. */
async function violations(page, rules = RULES) {
  await page.evaluate(AXE);
  const { violations: found, passes } = await page.evaluate((options) => axe.run(document, options), rules);
  assert.ok(passes.length > 10, "no rule was run");
  // The rule reads the lines of a drawn symbol as one word, and its number behind them: `namesHoldWords` looks at those by line.
  for (const one of found) if (one.id === "label-content-name-mismatch") one.nodes = one.nodes.filter((node) => !node.target.join().includes("#chart-"));
  return found.filter((one) => one.nodes.length > 0).map((one) => `${one.id}: ${one.nodes.map((node) => node.target.join(" ")).slice(0, 3).join(", ")} ${one.nodes[0].failureSummary}`);
}

/** Symbols of the flowchart whose name does not hold the words they show. */
function namesHoldWords() {
  const shown = (link) => [...link.querySelectorAll(".chart__text tspan")].map((line) => line.textContent.trim()).join(" ");
  const links = [...document.querySelectorAll(".chart__node a[aria-label]")];
  return { all: links.length, wrong: links.filter((link) => !link.getAttribute("aria-label").includes(shown(link))).map((link) => `${link.getAttribute("aria-label")} | ${shown(link)}`) };
}

for (const colorScheme of ["light", "dark"]) {
  test(`no demo page breaks a rule, ${colorScheme}`, async () => {
    const found = [];
    let symbols = 0;
    for (const path of PAGES) {
      const page = await openPage(follower.browser, SITE.href, path, { colorScheme, bypassCSP: true });
      found.push(...(await violations(page)).map((one) => `${path}: ${one}`));
      const { all, wrong } = await page.evaluate(namesHoldWords);
      found.push(...wrong);
      symbols += all;
      await page.context().close();
    }
    assert.deepEqual(found, []);
    assert.ok(symbols > 50, `${symbols} symbols`);
  });

  test(`no screen of the follower breaks a rule, ${colorScheme}`, async () => {
    const steps = [
      ask("tried", [answer("Dead", "gap", { sets: ["isolated"] }), unsure("stop")], { cautions: ["toner"] }),
      measure("gap", "mm", "5", "90", [band({ inside: false, value: "65", figure: null }, "rest"), band(null, "stop"), unsure("stop")]),
      act("rest", "lift", { wait: 60 }), act("lift", "stop", { exposes: exposed("hot-fuser") }), end("stop", "handed-over"),
    ];
    const page = await follower.open(flow([procedure("screens", steps)], CATALOGUE), { context: { colorScheme, bypassCSP: true } });
    const seen = [];
    const holds = async (name) => {
      seen.push(await follower.screen(page));
      assert.deepEqual(await violations(page), [], name);
    };
    await holds("start");
    await page.locator("button[type=submit]").click();
    await holds("start with open questions");
    await page.waitForTimeout(DEAD);
    await follower.start(page, { ticket: "T-1", caller: "yes" });
    await holds("caution");
    await follower.press(page, "repeated it");
    await holds("question");
    await page.getByRole("button", { name: "Add a note" }).click();
    await holds("note");
    await page.keyboard.press("Escape");
    await follower.press(page, "Dead");
    await page.locator(".follower__several summary").click();
    await page.locator("input[name=value]").fill("377");
    await page.locator("button[type=submit]").click();
    await holds("refused reading");
    await page.locator("input[name=value]").fill("37.7");
    await page.locator("button[type=submit]").click();
    await page.waitForTimeout(DEAD);
    await follower.press(page, "start the wait");
    await holds("wait");
    await follower.press(page, "Hand over");
    await page.locator("#follower-link").waitFor();
    await holds("hand over");
    await follower.press(page, "Back to the run");
    for (const sheet of await page.locator(".follower__sheet summary").all()) await sheet.click();
    await holds("sheets open");
    const other = await page.context().newPage();
    await other.goto(follower.address);
    await other.getByRole("button", { name: "Open" }).click();
    assert.equal(await follower.screen(other), "elsewhere");
    assert.deepEqual(await violations(other), [], "elsewhere");
    await other.close();
    await page.reload();
    await holds("resume");
    await follower.resume(page);
    await page.context().close();

    const ending = await follower.open(flow([procedure("ends", [ask("a", [answer("Yes", "stop"), unsure("stop")]), end("stop", "no-fault")])], CATALOGUE), { context: { colorScheme, bypassCSP: true } });
    await follower.start(ending, {});
    await follower.press(ending, "Yes");
    seen.push(await follower.screen(ending));
    assert.deepEqual(await violations(ending), [], "ending");
    await follower.press(ending, "Begin a new run");
    assert.deepEqual(await violations(ending), [], "start with runs");
    await ending.getByRole("button", { name: "Open" }).click();
    seen.push(await follower.screen(ending));
    assert.deepEqual(await violations(ending), [], "closed");
    await ending.context().close();

    const stopped = await follower.open(flow([procedure("stops", [act("lift", "stop", { exposes: exposed("high-voltage") }), end("stop", "fixed")])], CATALOGUE), { context: { colorScheme, bypassCSP: true } });
    await follower.start(stopped, {});
    seen.push(await follower.screen(stopped));
    assert.deepEqual(await violations(stopped), [], "hand-over");
    await stopped.context().close();

    const refused = await follower.open(flow([procedure("refused", [end("stop", "fixed")])], CATALOGUE), { context: { colorScheme, bypassCSP: true } });
    await follower.start(refused, { alone: "no" });
    seen.push(await follower.screen(refused));
    assert.deepEqual(await violations(refused), [], "refused");
    await refused.goto("about:blank");
    await refused.goto(`${follower.address}#run=AA`);
    await refused.waitForFunction(() => document.querySelector(".follower__card")?.dataset.screen === "refusedLink");
    seen.push(await follower.screen(refused));
    assert.deepEqual(await violations(refused), [], "link refused");
    await refused.context().close();

    assert.deepEqual([...new Set(seen)].sort(), ["caution", "closed", "ending", "hand-over", "note", "packet", "refused", "refusedLink", "resume", "start", "step", "wait"]);
  });
}

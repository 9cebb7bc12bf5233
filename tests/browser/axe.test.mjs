// Automatic rules of accessibility (axe-core of the npm registry: WCAG 2.0 to 2.2, levels A and AA) over every demo page and every screen of the follower, light and dark.
import assert from "node:assert/strict";
import { readFileSync, statSync } from "node:fs";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { bench } from "./bench.mjs";
import { everyScreen, SCREENS } from "./screens.mjs";
import { FEW, isLong, openPage, SITE } from "./site.mjs";

const AXE = readFileSync(createRequire(new URL("../outside/", import.meta.url)).resolve("axe-core/axe.min.js"), "utf8");
const RULES = { runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] } };
/** In the other scheme only the colours are others. */
const COLOURS = { runOnly: { type: "rule", values: ["color-contrast", "link-in-text-block"] } };

let follower;
before(async () => { follower = await bench(); });
after(() => follower.close());

/** What a rule says against the page as it stands: rule, and the first element. */
async function violations(page, rules, least, drawings = true) {
  if (!(await page.evaluate(() => "axe" in window))) await page.evaluate(AXE);
  const { violations: found, passes } = await page.evaluate((options) => axe.run(options.drawings ? document : { exclude: [["svg.chart"]] }, options.rules), { rules, drawings });
  assert.ok(passes.length >= least, "no rule was run");
  // The rule reads the lines of a drawn symbol as one word, and its number behind them: `namesHoldWords` looks at those by line.
  for (const one of found) if (one.id === "label-content-name-mismatch") one.nodes = one.nodes.filter((node) => !/#chart-|chart__node/.test(node.target.join()));
  return found.filter((one) => one.nodes.length > 0).map((one) => `${one.id}: ${one.nodes.map((node) => node.target.join(" ")).slice(0, 3).join(", ")} ${one.nodes[0].failureSummary}`);
}

/** Every rule in light, those about colours in dark; or, without `both`, neither colours nor drawings. */
async function inBothSchemes(page, both = true) {
  await page.emulateMedia({ colorScheme: "light" });
  if (!both) return violations(page, { ...RULES, rules: { "color-contrast": { enabled: false } } }, 10, false);
  const light = await violations(page, RULES, 10);
  await page.emulateMedia({ colorScheme: "dark" });
  const ground = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  assert.ok(Number(/\d+/.exec(ground)) < 60, `the dark scheme is ${ground}`);
  const dark = await violations(page, COLOURS, 1);
  await page.emulateMedia({ colorScheme: "light" });
  return [...light, ...dark.map((one) => `dark: ${one}`)];
}

/** Symbols of the flowchart whose name does not hold the words they show. */
function namesHoldWords() {
  const shown = (link) => [...link.querySelectorAll(".chart__text tspan")].map((line) => line.textContent.trim()).join(" ").replaceAll("- ", "-");
  const links = [...document.querySelectorAll(".chart__node a[aria-label]")];
  return { all: links.length, wrong: links.filter((link) => !link.getAttribute("aria-label").replaceAll("- ", "-").includes(shown(link))).map((link) => `${link.getAttribute("aria-label")} | ${shown(link)}`) };
}

// The steps of a procedure's whole text are set alike, and colours come from one sheet: for all steps in sight, for the drawings and for the contrast in both
// schemes (more than half of the time) the three longest pages of each kind stand for all; the others are looked at as they open.
test("no kind of demo page breaks a rule, long ones with their whole text in sight, light and dark", async () => {
  const found = [];
  let symbols = 0;
  let steps = 0;
  for (const path of FEW) {
    const page = await openPage(follower.browser, SITE.href, path, { bypassCSP: true });
    const whole = page.locator(".follower__away button");
    if (isLong(path) && (await whole.count())) await whole.click();
    steps += await page.locator(".step__words:visible").count();
    found.push(...(await inBothSchemes(page, isLong(path))).map((one) => `${path}: ${one}`));
    const { all, wrong } = await page.evaluate(namesHoldWords);
    found.push(...wrong);
    symbols += all;
    await page.context().close();
  }
  assert.deepEqual(found, []);
  assert.ok(symbols > 50 && steps > 50, `${symbols} symbols, ${steps} steps`);
});

test("no screen of the follower breaks a rule, light and dark", async () => {
  const seen = [];
  await everyScreen(follower, { context: { bypassCSP: true } }, async (page, name) => {
    seen.push(name);
    assert.deepEqual(await inBothSchemes(page), [], name);
  });
  assert.deepEqual(seen.sort(), [...SCREENS].sort());
});

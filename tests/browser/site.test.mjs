// Every page of the published demo in a real browser: from the folder and from a server, at four widths, with wide letters, in forced colours, on paper.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { flowOf, hazardsOf, launch, openPage, PAGES, serveSite, SITE } from "./site.mjs";

const WIDTHS = [320, 360, 768, 1440];
/** The text spacing that WCAG 2.2, success criterion 1.4.12, names. */
const SPACING = "* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important } p { margin-bottom: 2em !important }";

let browser, served;
before(async () => {
  browser = await launch();
  served = await serveSite();
});
after(async () => {
  await browser?.close();
  served?.server.close();
});

async function close(page) {
  assert.deepEqual(page.problems, [], page.url());
  await page.context().close();
}

for (const from of ["folder", "server"]) {
  test(`every page opened from a ${from} has no error, and nothing leaves the site`, async () => {
    const root = from === "folder" ? SITE.href : served.address;
    for (const path of PAGES) {
      const page = await openPage(browser, root, path);
      assert.ok(await page.locator("h1").isVisible(), path);
      if (flowOf(path)?.procedures && (await page.locator("#follower").count())) assert.ok(await page.locator("#follower").isVisible(), `${path}: no follower`);
      await close(page);
    }
  });
}

/** What scrolls or is cut sideways, but for the windows that may. */
function widerThanAllowed() {
  const allowed = ".chart-scroll, .chart-scroll *, .table-scroll, .table-scroll *, pre, textarea, .out-of-sight";
  const wide = document.documentElement.scrollWidth > innerWidth ? [`page ${document.documentElement.scrollWidth}`] : [];
  for (const element of document.querySelectorAll("body *")) {
    const box = element.getBoundingClientRect();
    if (element.matches(allowed) || box.width === 0 || element.closest(".skip, .out-of-sight")) continue;
    if (element.scrollWidth > element.clientWidth + 1 && getComputedStyle(element).overflowX !== "visible") wide.push(`scrolls: ${element.className}`);
    if (box.right > innerWidth + 1) wide.push(`sticks out: ${element.tagName} ${element.className?.baseVal ?? element.className}`);
  }
  return wide;
}

for (const javaScriptEnabled of [true, false]) {
  test(`nothing scrolls sideways but the windows that may, script ${javaScriptEnabled ? "on" : "off"}`, async () => {
    for (const path of PAGES) {
      const page = await openPage(browser, SITE.href, path, { javaScriptEnabled });
      for (const width of WIDTHS) {
        await page.setViewportSize({ width, height: 800 });
        assert.deepEqual(await page.evaluate(widerThanAllowed), [], `${path} at ${width}`);
      }
      await close(page);
    }
  });
}

test("without script the stop card is one tap away from every page", async () => {
  for (const path of PAGES) {
    const page = await openPage(browser, SITE.href, path, { javaScriptEnabled: false, hasTouch: true });
    const link = page.locator("header a[href$='stop.html']");
    assert.ok((await link.boundingBox()).height >= 44, path);
    await link.tap();
    await page.waitForURL(`${SITE.href}stop.html`, { timeout: 5000 });
    await page.locator(".stop").waitFor({ timeout: 5000 });
    await close(page);
  }
});

/** Words that are cut off or run over their frame. */
function cutWords() {
  const own = (element) => [...element.childNodes].some((node) => node.nodeType === 3 && node.data.trim() !== "");
  const cut = [];
  for (const element of document.querySelectorAll(".follower *, .step *, .caution *, .masthead *")) {
    const box = element.getBoundingClientRect();
    if (box.width === 0 || element.closest(".out-of-sight, svg, textarea, .table-scroll") || !own(element)) continue;
    const words = document.createRange();
    words.selectNodeContents(element);
    const text = words.getBoundingClientRect();
    const frame = (element.closest("button, label, a, li, p, dd, .caution__panel") ?? element).getBoundingClientRect();
    if (text.right > innerWidth + 1 || text.right > frame.right + 1 || text.bottom > frame.bottom + 6) cut.push(`${element.className}: ${element.textContent.slice(0, 40)}`);
    const style = getComputedStyle(element);
    if (style.overflow !== "visible" && (element.scrollHeight > element.clientHeight + 1 || element.scrollWidth > element.clientWidth + 1)) cut.push(`hidden: ${element.className}`);
  }
  return cut;
}

test("with the text spacing of WCAG 1.4.12 no word is lost in the follower or in a step", async () => {
  for (const [path, javaScriptEnabled] of [["procedures/repeating-marks.html", true], ["procedures/repeating-marks.html", false], ["procedures/white-sheet.html", false]]) {
    const page = await openPage(browser, SITE.href, path, { javaScriptEnabled, bypassCSP: true });
    for (const width of [320, 1440]) {
      await page.setViewportSize({ width, height: 800 });
      // A sheet by hand: with script off nothing would tell that an added one is there.
      await page.evaluate((sheet) => document.head.appendChild(document.createElement("style")).append(sheet), SPACING);
      assert.deepEqual(await page.evaluate(cutWords), [], `${path} at ${width}`);
    }
    await close(page);
  }
});

/** Cautions and reminders that somebody cannot see. */
function unseenCautions() {
  const all = [...document.querySelectorAll(".caution, .reminder")];
  const unseen = all.filter((one) => {
    const word = one.querySelector(".caution__word, .signal");
    const [style, inner] = [getComputedStyle(one), getComputedStyle(word)];
    const ground = getComputedStyle(word.closest(".caution__panel, .signal")).backgroundColor;
    return !one.checkVisibility({ visibilityProperty: true, opacityProperty: true }) || !word.checkVisibility() || one.getBoundingClientRect().height < 40 || style.borderTopStyle === "none" || inner.color === ground;
  });
  return { all: all.length, unseen: unseen.map((one) => one.textContent.slice(0, 60)) };
}

test("forced colours and paper hide no caution", async () => {
  for (const path of PAGES.filter((one) => flowOf(one) !== null)) {
    for (const media of [{ forcedColors: "active" }, { media: "print" }]) {
      const page = await openPage(browser, SITE.href, path, { javaScriptEnabled: media.media === "print" });
      await page.emulateMedia(media);
      const { all, unseen } = await page.evaluate(unseenCautions);
      const flow = flowOf(path);
      assert.ok(all > 0 || Object.values(flow.procedures[flow.procedure].steps).every((step) => hazardsOf(step).length === 0), path);
      assert.deepEqual(unseen, [], `${path} ${JSON.stringify(media)}`);
      await close(page);
    }
  }
});

/** Puts `@step@` behind each exposing sentence and `@step.hazard@` into each of its cautions, so that they are found in the printed text. */
function markPrinted(wanted) {
  const marks = [];
  for (const [place, { id, hazards }] of wanted.entries()) {
    const section = document.getElementById(`step-${id}`);
    section.querySelector(".step__sentence").append(` @${place}@`);
    for (const [count, { hazard, name }] of hazards.entries()) {
      const line = [...section.querySelectorAll(".step__lead .reminder li")].find((one) => one.querySelector("strong").textContent === name);
      const found = section.querySelector(`.caution[data-hazard="${hazard}"] .caution__name`) ?? line;
      if (found) found.append(` @${place}.${count}@`);
      marks.push([`@${place}@`, `@${place}.${count}@`, `${id}: ${name}`]);
    }
  }
  return marks;
}

/** Marks where each caution of the summary begins and ends. */
function markSummary() {
  const cautions = [...document.querySelectorAll(".cautions > .caution")];
  for (const [place, caution] of cautions.entries()) {
    caution.querySelector(".caution__word").append(` @begin${place}@`);
    const texts = document.createTreeWalker(caution, NodeFilter.SHOW_TEXT);
    let last = null;
    while (texts.nextNode()) if (texts.currentNode.data.trim() !== "") last = texts.currentNode;
    last.data += ` @end${place}@`;
  }
  return cautions.length;
}

const PROCEDURES = PAGES.filter((path) => flowOf(path) !== null);

for (const format of ["A4", "Letter"]) {
  test(`printed on ${format} no exposing step of any procedure stands without its cautions above it on the same sheet, and each sheet says what it is`, async (context) => {
    const folder = mkdtempSync(join(tmpdir(), "stepward-print-"));
    let exposing = 0;
    try {
      assert.ok(PROCEDURES.length > 5);
      for (const path of PROCEDURES) {
        const flow = flowOf(path);
        const { id, revision, steps: all } = flow.procedures[flow.procedure];
        const nameOf = (hazard) => flow.hazards.find((one) => one.id === hazard).name;
        const steps = Object.values(all).filter((step) => hazardsOf(step).length > 0);
        const page = await openPage(browser, SITE.href, path);
        const marks = await page.evaluate(markPrinted, steps.map((step) => ({ id: step.id, hazards: hazardsOf(step).map((hazard) => ({ hazard, name: nameOf(hazard) })) })));
        const cautions = await page.evaluate(markSummary);
        const file = join(folder, "sheet.pdf");
        await page.pdf({ path: file, format, preferCSSPageSize: false });
        const sheets = execFileSync("pdftotext", ["-raw", file, "-"], { encoding: "utf8", maxBuffer: 1 << 26 }).split("\f").slice(0, -1).map((sheet) => sheet.replace(/\s/g, ""));
        for (const [sentence, caution, what] of marks) {
          const sheet = sheets.find((one) => one.includes(sentence));
          assert.ok(sheet, `${path}: ${what}: the sentence is not printed`);
          const above = sheet.indexOf(caution);
          assert.ok(above >= 0 && above < sheet.indexOf(sentence), `${path}: ${what} is not above its step on the same sheet`);
        }
        for (let n = 0; n < cautions; n++) assert.ok(sheets.some((sheet) => sheet.includes(`@begin${n}@`) && sheet.includes(`@end${n}@`)), `${path}: caution ${n} of the summary is torn`);
        for (const [place, sheet] of sheets.entries()) {
          const foot = `${id},revision${revision}.Published2026-11-24.Checkforanewerrevision`;
          assert.ok(sheet.includes(foot) && sheet.includes(`${place + 1}/${sheets.length}`), `${path}: sheet ${place + 1} does not say what it is`);
        }
        exposing += steps.length;
        context.diagnostic(`${path}: ${sheets.length} sheets, ${steps.length} exposing steps`);
        await close(page);
      }
      assert.ok(exposing > 30, `${exposing} exposing steps`);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
}

test("on paper each way on has a box to tick and a step to go to, and each reading a blank with its unit", async () => {
  for (const javaScriptEnabled of [true, false]) {
    const page = await openPage(browser, SITE.href, "procedures/repeating-marks.html", { javaScriptEnabled });
    await page.emulateMedia({ media: "print" });
    const found = await page.evaluate(() => {
      const drawn = (element, pseudo) => {
        const style = getComputedStyle(element, pseudo);
        return style.content !== "none" && parseFloat(style.width) >= 8 && parseFloat(style.borderTopWidth) >= 1;
      };
      const ways = [...document.querySelectorAll(".step .way")].filter((one) => one.checkVisibility());
      const blanks = [...document.querySelectorAll(".reading__blank")].filter((one) => one.checkVisibility());
      return {
        ways: ways.length, untold: ways.filter((one) => !/step \d+/.test(one.textContent)).length,
        bare: ways.filter((one) => ![one, ...one.querySelectorAll("*")].some((part) => drawn(part, "::before"))).map((one) => one.textContent.trim().slice(0, 40)).slice(0, 3),
        blanks: blanks.length, small: blanks.filter((one) => one.getBoundingClientRect().width < 60).length,
      };
    });
    assert.ok(found.ways > 50 && found.blanks > 3, JSON.stringify(found));
    assert.deepEqual({ untold: found.untold, bare: found.bare, small: found.small }, { untold: 0, bare: [], small: 0 });
    await close(page);
  }
});

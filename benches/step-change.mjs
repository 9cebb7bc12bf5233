// What a change of screen costs on a phone, as a ratio against putting as many elements in place and laying them out. See `README.md` here.
import { follow } from "../tests/browser/follow.mjs";
import { flowOf, launch, openPage, PAGES, SITE, serveSite } from "../tests/browser/site.mjs";

/** The processor is slowed down so much: a cheap phone against a desk. */
const SLOWED = 4;
const ROUNDS = Number(process.env.ROUNDS ?? 3);
const MOST_MS = 50;
/** Part of a page's name, to look at that one. */
const ONLY = process.env.ONLY ?? "";

/** In the page: times each tap from its first listener to the finished layout, and then the floor. The real clock is kept before the tests' clock takes its place. */
function watch() {
  const now = performance.now.bind(performance);
  const taken = [];
  window.changes = () => taken.splice(0);
  let began = 0;
  const floor = () => {
    const section = document.querySelector("#follower");
    const twin = section.cloneNode(false);
    const elements = [...section.cloneNode(true).childNodes];
    twin.removeAttribute("id");
    section.after(twin);
    void document.body.offsetHeight;
    const start = now();
    twin.replaceChildren(...elements);
    void document.body.offsetHeight;
    const spent = now() - start;
    twin.remove();
    void document.body.offsetHeight;
    return spent;
  };
  for (const kind of ["click", "submit"]) {
    addEventListener(kind, () => { began = now(); }, true);
    addEventListener(kind, () => {
      const script = now() - began;
      void document.body.offsetHeight;
      const work = now() - began;
      const card = document.querySelector(".follower__card");
      const name = `${card.dataset.screen}: ${card.querySelector(".follower__title").textContent}`;
      taken.push({ name, script, work, elements: document.querySelectorAll("#follower *").length, floor: floor() });
    });
  }
}

async function walk(browser, root, path, ending, into) {
  const page = await browser.newPage({ viewport: { width: 360, height: 740 } });
  page.setDefaultTimeout(10_000);
  await page.addInitScript(watch);
  await page.clock.install({ time: new Date("2026-11-25T09:00:00Z") });
  const protocol = await page.context().newCDPSession(page);
  await protocol.send("Emulation.setCPUThrottlingRate", { rate: SLOWED });
  await page.goto(root + path);
  const procedure = path.split("/")[1].replace(".html", "");
  let last = "";
  await follow(page, { procedure, ending }, async () => {
    for (const change of await page.evaluate(() => changes())) {
      if (change.name === last) continue;
      last = change.name;
      const key = `${procedure}, ${change.name}`;
      into.set(key, [...(into.get(key) ?? []), change]);
    }
  }).finally(() => page.close());
}

const least = (list, of) => Math.min(...list.map(of));
const middle = (list) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)];
const ms = (number) => `${number.toFixed(1)} ms`.padStart(9);

const [browser, served] = [await launch(), await serveSite()];
const steps = new Map();
const halted = new Map();
for (let round = 0; round < ROUNDS; round++) {
  for (const path of PAGES.filter((one) => flowOf(one)?.procedures && one.includes(ONLY))) {
    const flow = flowOf(path);
    const ends = Object.values(flow.procedures[flow.procedure].steps).filter((step) => step.outcome !== null);
    const mended = ends.filter((step) => step.outcome === "fixed" && step.id.includes("tech"));
    halted.set(path, "no ending");
    // The first ending that the demo's model and person come to; what was measured on the way to another one counts as well.
    for (const { id } of [...mended, ...ends]) {
      if (!halted.has(path)) break;
      await walk(browser, served.address, path, id, steps).then(() => halted.delete(path), (fault) => halted.set(path, fault.message.split("\n")[0]));
    }
  }
}
await browser.close();
served.server.close();

// Other work on the machine only adds: the quietest of the rounds is the nearest to the truth.
const told = [...steps].map(([name, rounds]) => ({ name, work: least(rounds, (one) => one.work), script: least(rounds, (one) => one.script), floor: least(rounds, (one) => one.floor), elements: rounds[0].elements }));
told.sort((a, b) => b.work - a.work);
console.log(`${told.length} changes of screen in ${SITE.pathname.split("/").at(-2)}, processor slowed ${SLOWED} times, quietest of ${ROUNDS} rounds`);
for (const [what, list] of [["middle", told.map((one) => one)], ["slowest", [told[0]]]]) {
  const [work, script, floor] = ["work", "script", "floor"].map((part) => middle(list.map((one) => one[part])));
  console.log(`  ${what.padEnd(8)} work ${ms(work)} (script ${ms(script)})  floor ${ms(floor)}  ${(work / floor).toFixed(2)} x floor`);
}
for (const one of told.slice(0, 8)) console.log(`    ${ms(one.work)} (script ${ms(one.script)}) ${(one.work / one.floor).toFixed(2).padStart(6)} x floor  ${one.elements} elements  ${one.name}`);
const over = told.filter((one) => one.work > MOST_MS);
console.log(`${over.length} over ${MOST_MS} ms`);
for (const [path, why] of halted) console.log(`not followed to an ending: ${path}: ${why}`);

// What every page does: keeps the site on the device where it came from a server, says when a newer edition is there, and when this one is too old.
import { say as sayOf } from "../parts/follower/words.js";
import { make } from "../parts/follower/make.js";

/** @param {string} key @param {Record<string, unknown>} values */
const say = (key, values = {}) => sayOf(key, values, "site");

const DAY_MS = 24 * 60 * 60 * 1000;

/**
 * How old an edition is, in whole days, and whether it may still be used without a word.
 * @param {string} published a day @param {number} days how long it is good @param {number} wall milliseconds since 1970
 * @returns {{age: number, until: string, state: "good" | "old" | "clock"}}
 */
export function ageOf(published, days, wall) {
  const from = Date.parse(`${published}T00:00:00Z`);
  const age = Math.floor((wall - from) / DAY_MS);
  const until = new Date(from + days * DAY_MS).toISOString().slice(0, 10);
  // A day of grace: a device may be ahead of the calendar of where it was published.
  return { age: Math.max(0, age), until, state: age < -1 ? "clock" : age > days ? "old" : "good" };
}

/** A day whose parts stay on one line. @param {string} day */
function unbroken(day) {
  return day.replaceAll("-", "\u2060-\u2060");
}

/** The line at the top: how old this edition is, how long it is good. @param {Document} page @param {number} wall */
export function showAge(page, wall) {
  const line = page.querySelector("[data-edition]");
  const { published = "", offlineDays = "30" } = page.documentElement.dataset;
  const { age, until, state } = ageOf(published, Number(offlineDays), wall);
  if (line) line.textContent = say(state === "good" ? "edition-age" : state === "old" ? "edition-old" : "edition-clock", { day: unbroken(published), age, until: unbroken(until) });
  if (state !== "good") askBefore(page, state, published, until);
}

/** A notice over the whole screen, to be acknowledged once an hour. @param {Document} page @param {"old" | "clock"} state @param {string} published @param {string} until */
function askBefore(page, state, published, until) {
  const key = "stepward:old-acknowledged";
  try {
    const [day, at] = (sessionStorage.getItem(key) ?? "").split(" ");
    if (day === published && Date.now() - Number(at) < 60 * 60 * 1000) return;
  } catch {
    // Without storage it is asked on every page.
  }
  const dialog = /** @type {HTMLDialogElement} */ (make("dialog", { class: "edition-notice", "aria-labelledby": "edition-notice-title" }));
  const close = () => {
    try {
      sessionStorage.setItem(key, `${published} ${Date.now()}`);
    } catch {
      // As above.
    }
    dialog.close();
    dialog.remove();
  };
  dialog.append(
    make("h2", { id: "edition-notice-title" }, say(state === "old" ? "notice-old-title" : "notice-clock-title")),
    make("p", {}, say(state === "old" ? "notice-old" : "notice-clock", { day: published, until })),
    make("button", { type: "button", class: "edition-notice__go", click: close }, say("notice-go")),
  );
  // Escape is no acknowledgement.
  dialog.addEventListener("cancel", (event) => event.preventDefault());
  page.body.append(dialog);
  dialog.showModal();
}

/** Lets the browser keep the site, where it can. @param {Document} page */
export async function keepOffline(page) {
  const line = page.querySelector("[data-offline]");
  const tell = (/** @type {any} */ key) => line && (line.textContent = say(key));
  if (!/^https?:$/.test(location.protocol) || !("serviceWorker" in navigator)) return tell(location.protocol === "file:" ? "offline-folder" : "offline-not");
  // From a folder a browser may not read it, and says so aloud.
  page.head.append(make("link", { rel: "manifest", href: `${page.body.dataset.root ?? ""}site.webmanifest` }));
  try {
    const registration = await navigator.serviceWorker.register(`${page.body.dataset.root ?? ""}offline.js`);
    const waiting = () => registration.waiting && navigator.serviceWorker.controller && offerNewer(page, registration.waiting);
    registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", () => {
      if (registration.active) tell("offline-kept");
      waiting();
    }));
    if (registration.active) tell("offline-kept");
    waiting();
  } catch {
    tell("offline-not");
  }
}

/** A newer edition is whole on the device: it is shown when somebody wants it. @param {Document} page @param {ServiceWorker} worker */
function offerNewer(page, worker) {
  if (page.querySelector(".edition-newer")) return;
  const show = () => {
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
    worker.postMessage("show");
  };
  const note = make("div", { class: "edition-newer", role: "status" }, make("p", {}, say("edition-newer")), make("button", { type: "button", class: "edition-newer__show", click: show }, say("edition-show")));
  page.querySelector("main")?.before(note);
}

/** The search field, useless without script; what it needs is fetched when somebody comes to it. @param {Document} page */
function offerSearch(page) {
  const form = /** @type {HTMLElement | null} */ (page.querySelector("[data-search]"));
  if (!form) return;
  form.hidden = false;
  form.addEventListener("submit", (event) => event.preventDefault());
  const failed = () => form.querySelector("[role=status]")?.append(form.dataset.failed ?? "");
  form.addEventListener("focusin", () => page.head.append(make("script", { src: form.dataset.search, error: failed })), { once: true });
}

if (typeof document !== "undefined") {
  offerSearch(document);
  showAge(document, Date.now());
  keepOffline(document);
}

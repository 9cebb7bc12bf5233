// The search field of every page: fetched when somebody comes to it, and fetches in turn what there is to be found.
import { make } from "../follower/make.js";
import { find, nearest, prepare } from "./find.js";
import { newNote } from "./note.js";

/** @typedef {import("./find.js").Hit} Hit */

/** @param {HTMLFormElement} form */
function startSearch(form) {
  const field = /** @type {HTMLInputElement} */ (form.querySelector("input"));
  const status = /** @type {HTMLElement} */ (form.querySelector("[role=status]"));
  const list = make("ul", { class: "search__found", hidden: true });
  form.append(list);
  const root = document.body.dataset.root ?? "";

  document.addEventListener("stepward:index", (event) => {
    const { detail } = /** @type {CustomEvent} */ (event);
    const at = prepare(detail);
    const say = (/** @type {string} */ key, /** @type {Record<string, unknown>} */ values = {}) =>
      String(detail.words[key] ?? key).replace(/\{(\w+)\}/g, (_, name) => String(values[name] ?? ""));
    const { note, follow } = newNote(() => field.value.trim(), say);
    list.after(note);
    const show = () => {
      const typed = field.value.trim();
      const { hits, taken } = typed === "" ? { hits: [], taken: [] } : find(at, typed);
      const shown = hits.length > 0 || typed === "" ? hits : nearest(at, typed);
      list.replaceChildren(...shown.map((hit) => row(hit, root, say)));
      list.hidden = shown.length === 0;
      status.replaceChildren(...told(typed, hits.length, shown.length, taken, root, say));
      note.hidden = typed === "";
      follow();
    };
    field.addEventListener("input", show);
    show();
  }, { once: true });

  form.addEventListener("submit", () => list.querySelector("a")?.focus());
  form.addEventListener("keydown", (event) => {
    if (/** @type {Element} */ (event.target).closest(".search__note")) return;
    if (event.key === "ArrowDown" || event.key === "ArrowUp") walk(event, field, [...list.querySelectorAll("a")]);
    else if (event.key === "Escape" && field.value !== "") {
      event.preventDefault();
      field.value = "";
      field.dispatchEvent(new Event("input"));
      field.focus();
    }
  });
  document.head.append(make("script", { src: form.dataset.index, error: () => status.replaceChildren(form.dataset.failed ?? "") }));
}

/** Arrows go from the field through the links and back. @param {KeyboardEvent} event @param {HTMLElement} field @param {HTMLElement[]} links */
function walk(event, field, links) {
  const stops = [field, ...links];
  const next = stops[stops.indexOf(/** @type {HTMLElement} */ (document.activeElement)) + (event.key === "ArrowDown" ? 1 : -1)];
  if (!next) return;
  event.preventDefault();
  next.focus();
}

/** @param {Hit} hit @param {string} root @param {(key: string, values?: Record<string, unknown>) => string} say */
function row(hit, root, say) {
  const first = hit.symptom === null ? hit.title : hit.symptom[0].toUpperCase() + hit.symptom.slice(1);
  const about = hit.code !== null ? say("code", { code: hit.code }) : hit.kind === "fault" ? hit.about : say(hit.kind);
  return make("li", {}, make("a", { href: root + hit.href }, hit.code === null ? first : hit.title), make("p", {}, hit.symptom === null || hit.code !== null ? about : hit.title));
}

/** @param {string} typed @param {number} count @param {number} near how many are shown though none was found @param {string[]} taken @param {string} root @param {(key: string, values?: Record<string, unknown>) => string} say @returns {(Node | string)[]} */
function told(typed, count, near, taken, root, say) {
  if (typed === "") return [];
  if (count === 0) return [`${say("none")} ${near > 0 ? say("nearest") : ""} `, make("a", { href: `${root}index.html#symptoms` }, say("all"))];
  return [`${count === 1 ? say("found-one") : say("found", { n: count })}. ${taken.length > 0 ? say("taken", { words: taken.join(", ") }) : ""}`];
}

if (typeof document !== "undefined") for (const form of document.querySelectorAll("[data-search]")) startSearch(/** @type {HTMLFormElement} */ (form));

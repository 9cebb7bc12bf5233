// A note of a symptom that no procedure has, for the service team: filled in with what was typed, to be copied. It leaves the device by the clipboard alone.
import { make } from "../follower/make.js";

/**
 * @param {() => string} typed what stands in the field
 * @param {(key: string, values?: Record<string, unknown>) => string} say
 */
export function newNote(typed, say) {
  const area = /** @type {HTMLTextAreaElement} */ (make("textarea", { class: "search__text", id: "search-note", rows: 6, "aria-describedby": "search-note-help", input: () => { own = true; } }));
  const done = make("span", { role: "status", class: "search__copied" });
  const button = make("button", { type: "button", class: "search__copy", click: copy }, say("note-copy"));
  const note = make("details", { class: "search__note" },
    make("summary", { class: "search__open" }, say("note")),
    make("p", { class: "search__help", id: "search-note-help" }, say("note-help")),
    make("label", { class: "search__help", for: "search-note" }, say("note-text")),
    area, button, done);
  let own = false;

  function copy() {
    area.select();
    done.textContent = "";
    // From a folder the clipboard may be missing: then the text is selected and can be copied by hand.
    const told = (/** @type {string} */ key) => () => { done.textContent = say(key); };
    if (navigator.clipboard) navigator.clipboard.writeText(area.value).then(told("note-copied"), told("note-selected"));
    else told("note-selected")();
  }

  return {
    note,
    /** What was typed goes into the note until somebody writes in it. */
    follow() {
      done.textContent = "";
      if (!own) area.value = say("note-filled", { words: typed(), page: document.title });
    },
  };
}

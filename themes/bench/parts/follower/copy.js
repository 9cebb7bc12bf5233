// A text to copy, and a button that copies it.
import { make } from "./make.js";
import { say } from "./words.js";

/** @param {string} id @param {string} label @param {string} text @param {string} press what the button says @param {number} rows */
export function copyText(id, label, text, press, rows = 8) {
  const area = /** @type {HTMLTextAreaElement} */ (make("textarea", { class: "follower__record", rows, readonly: true, id }));
  area.value = text;
  const button = make("button", { type: "button", class: "follower__meant", click: () => copyFrom(area, button) }, press);
  return make("div", { class: "follower__copy" }, make("label", { for: id, class: "follower__recordname" }, label), area, button);
}

/** @param {HTMLTextAreaElement} area @param {HTMLElement} button */
function copyFrom(area, button) {
  area.select();
  // From a folder the clipboard may be missing: then the text is selected and can be copied by hand.
  navigator.clipboard?.writeText(area.value).then(() => { button.textContent = say("copied"); }, () => {});
}

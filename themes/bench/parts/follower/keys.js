// What the keys do while the focus is in the follower.

/**
 * 1 to 9 choose, Enter takes the one way on, Backspace goes back, Escape closes what is open beside the run; not in a field that is typed into.
 * @param {HTMLElement} section @param {() => boolean} close closes what is shown instead of the run, if that may be closed
 */
export function listenToKeys(section, close) {
  section.addEventListener("keydown", (event) => {
    const target = /** @type {HTMLElement} */ (event.target);
    if (event.key === "Escape" && (close() || foldOpen(section))) return event.preventDefault();
    const typing = target.matches("textarea, input:not([type=radio])");
    if (typing || event.ctrlKey || event.altKey || event.metaKey || event.repeat) return;
    const chosen = chosenBy(section, event.key, target);
    if (chosen instanceof HTMLElement) {
      event.preventDefault();
      chosen.click();
    }
  });
}

/** @param {HTMLElement} section @param {string} key @param {HTMLElement} target */
function chosenBy(section, key, target) {
  const find = (/** @type {string} */ selector) => section.querySelectorAll(selector);
  if (/^[1-9]$/.test(key)) return find("[data-choice]")[Number(key) - 1];
  if (key === "Backspace") return find("[data-minor=back]")[0];
  const main = find(".follower__way--main");
  return key === "Enter" && target.matches(".follower__title") && main.length === 1 ? main[0] : null;
}

/** @param {HTMLElement} section */
function foldOpen(section) {
  const open = section.querySelector("details[open]");
  if (!open) return false;
  open.removeAttribute("open");
  /** @type {HTMLElement | null} */ (open.querySelector("summary"))?.focus();
  return true;
}

// A script of its own, fetched when somebody hands a run over: hands the symbol to whoever asks on the page.
import { qrCode } from "./qr.js";

document.addEventListener("stepward:symbol", (event) => {
  const { text, draw } = /** @type {CustomEvent} */ (event).detail;
  draw(qrCode(text));
});
document.dispatchEvent(new CustomEvent("stepward:symbol-ready"));

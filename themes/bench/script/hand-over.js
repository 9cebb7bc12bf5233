// A script of its own, fetched when somebody hands a run over or opens one: links, codes and records are needed seldom, and by far the heaviest.
import { drawPacket } from "../parts/follower/packet-sheet.js";
import { unpacked } from "./packet.js";

document.addEventListener("stepward:hand-over", (event) => drawPacket(/** @type {CustomEvent} */ (event).detail));
document.addEventListener("stepward:unpack", (event) => {
  const { detail } = /** @type {CustomEvent} */ (event);
  detail.result = unpacked(detail.flow, detail.text);
});
document.dispatchEvent(new CustomEvent("stepward:hand-over-ready"));

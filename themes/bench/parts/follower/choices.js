// The pieces that screens are made of: ways on, questions with their choices, notices.
import { PERSONS } from "../../script/facts.js";
import { make } from "./make.js";
import { modelName } from "./record.js";
import { say, sayOf } from "./words.js";

/** A large button, reached by a number key too. @param {string} label @param {() => void} press @param {string} kind */
export function way(label, press, kind = "") {
  return make("button", { type: "button", class: `follower__way ${kind}`.trim(), "data-choice": true, click: press }, make("span", { class: "follower__label" }, label));
}

/** @param {string} label @param {() => void} press */
export function mainWay(label, press) {
  return way(label, press, "follower__way--main");
}

/** @param {string} label */
export function submit(label) {
  return make("button", { type: "submit", class: "follower__way follower__way--main" }, make("span", { class: "follower__label" }, label));
}

/** @param {(answers: FormData) => void} send @returns {(form: HTMLFormElement) => void} */
export function form(send) {
  return (element) => send(new FormData(element));
}

/** A group of radio buttons; what was chosen before stays chosen, and a question left open says so. @param {any} state @param {string} name @param {string} legend @param {[string, string][]} choices @param {string | null} hint */
export function choice(state, name, legend, choices, hint = null) {
  const condition = name.startsWith("still-") ? name.slice("still-".length) : null;
  const given = condition === null ? state.typed[name] : state.typed.conditions?.[condition];
  const chosen = given === true ? "yes" : given === false ? "no" : given;
  const open = state.refusal?.missing?.includes(condition ?? name);
  const options = choices.map(([value, label]) => make("label", { class: "follower__option" }, make("input", { type: "radio", name, value, checked: value === chosen }), make("span", {}, label)));
  const kind = open ? "follower__choice follower__choice--open" : "follower__choice";
  return make("fieldset", { class: kind }, make("legend", {}, legend), hint === null ? null : make("p", { class: "follower__hint" }, hint), open ? make("p", { class: "follower__open" }, say("still-open")) : null, ...options);
}

/** @param {FormData} answers @param {string} name */
export function said(answers, name) {
  const value = answers.get(name);
  return value === null ? undefined : value === "yes" ? true : value === "no" ? false : String(value);
}

/** @param {any} state */
export function person(state) {
  return choice(state, "person", say("ask-person"), PERSONS.map((id) => [id, sayOf("person", id)]));
}

/** @param {any} state */
export function alone(state) {
  return choice(state, "alone", say("ask-alone"), [["yes", say("alone-yes")], ["no", say("alone-no")]]);
}

/** @param {any} flow @returns {[string, string][]} */
export function modelChoices(flow) {
  const { models } = flow.procedures[flow.procedure];
  const other = /** @type {[string, string][]} */ (models.length < flow.models.length ? [["other", say("model-other")]] : []);
  return [...models.map((/** @type {string} */ id) => [id, modelName(flow, id)]), ["unknown", say("model-unknown")], ...other];
}

/** @param {any} state */
export function refusals(state) {
  if (state.refusal?.reason === "not-alone") return [problem(say("not-alone"))];
  return state.refusal?.reason === "unanswered" ? [problem(say("unanswered"))] : [];
}

/** @param {string} text */
export function notice(text) {
  return make("p", { class: "follower__notice" }, text);
}

/** @param {string} text */
export function problem(text) {
  return make("p", { class: "follower__problem", role: "alert" }, text);
}

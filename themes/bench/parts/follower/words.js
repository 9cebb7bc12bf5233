// Every word the follower shows that no author wrote. `{names}` are filled in.

export const WORDS = {
  follow: "Follow this procedure step by step",
  stopCard: "Stop card",

  editionAge: "Published {day}, {age} days ago. Good until {until}.",
  editionOld: "Published {day}, {age} days ago. It was good until {until}.",
  editionClock: "Published {day}. The clock of this device says an earlier day.",
  editionNewer: "A newer edition of this site is on the device, whole.",
  editionShow: "Show the newer edition",
  noticeOldTitle: "This copy is too old to rely on",
  noticeOld: "It was published on {day} and was good until {until}. Procedures may have been changed or withdrawn since. Get a newer copy before you work on a machine.",
  noticeClockTitle: "The clock cannot be right",
  noticeClock: "This site was published on {day}, and the clock of this device says an earlier day. Set the clock: waits and ages are counted by it.",
  noticeGo: "I understand",
  offlineKept: "Kept on this device: it works without a network.",
  offlineFolder: "Opened from a folder: it works without a network.",
  offlineNot: "Not kept on this device: without a network it is gone.",
  stopCardFor: "Stop card: smoke, shock, burn, toner in the eyes",
  begin: "Begin",
  next: "Done, go on",
  calleeDone: "Done, back to {title}",
  back: "Back",
  takeOver: "Someone else takes over",
  startAgain: "Start again",
  confirmStartAgain: "Tap again to start again; the run so far is forgotten",
  enter: "Enter the reading",
  enterAll: "Enter the readings",
  unsure: "I cannot tell",
  unsureMeasure: "I cannot measure it",
  acknowledge: "I have read this and keep to it",
  acknowledgeCaller: "The person at the machine repeated it",
  readAloud: "Read this aloud",
  goOn: "Go on",
  pathSoFar: "Path so far",
  pathEmpty: "Nothing answered yet.",
  knownNow: "What is known now",
  record: "Record to copy",
  copy: "Copy the record",
  copied: "Copied",

  askModel: "Which machine is it?",
  modelUnknown: "Not sure which of these",
  modelOther: "None of these",
  askPerson: "Who is at the machine?",
  askAlone: "Is anybody else working on the machine?",
  aloneYes: "No, nobody else",
  aloneNo: "Yes, somebody is",
  askCaller: "Are you at the machine yourself?",
  callerNo: "Yes, I am at the machine",
  callerYes: "No, I am talking to the person there",
  stillOpen: "Not answered yet",
  unanswered: "Please answer every question first.",

  personOrdinary: "Somebody who uses it, without instruction",
  personInstructed: "Somebody instructed in its care",
  personSkilled: "A trained service technician",
  needOrdinary: "anybody who uses the machine",
  needInstructed: "somebody instructed in its care",
  needSkilled: "a trained service technician",

  kindAsk: "Question",
  kindMeasure: "Measurement",
  kindDo: "Action",
  kindCaution: "Before you go on",
  kindWait: "Wait",
  kindStart: "Before the first step",
  kindResume: "After a break",
  kindEnding: "End of the procedure",
  kindHandOver: "Stopped",

  dangerWord: "DANGER",
  warningWord: "WARNING",
  cautionWord: "CAUTION",
  noticeWord: "NOTICE",
  nature: "What it is",
  consequence: "What can happen",
  avoid: "What to do",

  beginWait: "Done, start the wait of {time}",
  waitReached: "This is already so, by the time that has passed: {name}",
  waitLeft: "still to wait",
  waitOver: "The time is over.",
  waitKeepOpen: "Keep this page open. Only time that surely passed counts, so the wait may be longer than the clock on the wall says.",
  waitDoubt: "The clock was changed, or this device slept. The time in between is not counted.",

  rangeUnit: "{from} to {to} {unit}",
  refusedEmpty: "Type a number.",
  refusedLetters: "Only digits and one comma or point. The unit stands beside the field.",
  refusedSign: "A reading here has no sign: {range}.",
  refusedSeparators: "One comma or point at most, with digits on both sides.",
  refusedWhole: "A whole number, please: {range}.",
  refusedRange: "This cannot be right: readings here lie from {range}.",
  refusedValue: "These readings together give no value that can be right. Check each of them.",
  meantTen: "Did you mean {value} {unit}?",
  meantInch: "Typed in inches? That is {value} {unit}.",

  resumeTitle: "Who is there now, and how is the machine?",
  resumeWhy: "Some time has passed, or somebody else is here. What nobody confirms no longer counts, and cautions are shown again.",
  askStill: "Is this still so, without a break?",
  stillYes: "Yes, I have seen it",
  stillNo: "No, or not sure",
  notAlone: "Go on only when nobody else works on the machine. Speak with them first.",

  staysDone: "Going back changes your answers only. This stays done at the machine:",
  olderEdition: "This page was renewed since your last run. That run cannot be continued: begin again.",
  linkToStep: "The link leads to one step. A procedure always begins at its start, so that no caution is missed. To read it through, show the whole text below.",
  storageBlocked: "This browser stores nothing here. If the page is closed the run is lost: copy the record before you leave.",
  reviewOverdue: "This procedure was due for review on {day}. Ask whether there is a newer one.",
  notReleased: "This procedure is not released. It is not for use at a machine.",
  failed: "The step-by-step view stopped. Follow the whole text below; each caution stands above its step.",
  wholeTextAway: "The whole text is put away while the procedure is followed step by step.",
  wholeTextShow: "Show the whole text",
  wholeTextHide: "Put the whole text away",

  handOverTitle: "Stop here and hand over",
  handOverWhy: "The next step is not shown, because this is not given:",
  handOverDo: "Leave the machine as it is, keep others away from it, and hand the job on together with the record below.",
  missingCondition: "Not known to hold: {name}",
  missingPerson: "It takes {person}.",
  missingModel: "The machine is not known well enough, or this is not for it.",
  missingFormula: "The value cannot be computed here.",
  missingWithdrawn: "The procedure that would begin here is withdrawn.",
  missingOutcome: "No way on is written for this end.",
  missingWay: "No way on is written here.",
  missingStep: "The next step is missing.",
  missingTask: "This job is carried out only as part of another procedure.",
  missingAlone: "Somebody else is working on the machine. Speak with them first, then begin.",
  refusedTitle: "Not to be started like this",

  endFixed: "Fixed",
  endNoFault: "No fault found",
  endReferred: "Goes on in another procedure",
  endOtherMachine: "Belongs on another machine",
  endHandedOver: "Handed over",
  endOutOfService: "Out of service: nobody uses the machine",
  endTask: "Ended: {outcome}",
  goToProcedure: "Go on with: {title}",
  byCode: "Go on with the procedure that lists the code on the panel.",
  notChecked: "Nobody has checked that the fault is gone.",
  leftBehind: "Undo this before anybody uses the machine: {name}",
  machineLeft: "How the machine is left",
  nothingKnown: "Nothing is known to hold.",

  knownPerson: "At the machine",
  knownModel: "Machine",
  knownHolds: "Holds",
  knownCautions: "Cautions in force",
  knownNone: "none",

  pathCarryOut: "Carried out",
  pathOtherwise: "tried often enough",
  recordTitle: "{title}, revision {revision}",
  recordModel: "Machine: {model}",
  recordPerson: "At the machine: {person}",
  recordCaution: "Caution given: {name}",
  recordCautionCaller: "Caution read out and repeated: {name}",
  recordBack: "Went back to: {step}",
  recordWait: "Waited {time}: {step}",
  recordResume: "After a break: {person}; still so: {names}",
  recordHandOver: "Stopped: {missing}",
  recordEnding: "End: {outcome}. {step}",
};

/**
 * @param {keyof typeof WORDS} key
 * @param {Record<string, unknown>} values
 */
export function say(key, values = {}) {
  return WORDS[key].replace(/\{([a-z]+)\}/g, (whole, name) => (Object.hasOwn(values, name) ? String(values[name]) : whole)).trim();
}

/** The word of a family (`person`, `need`, `end` ...) for an id. @param {string} family @param {string} id */
export function sayOf(family, id) {
  const key = family + id.split("-").map((part) => part.charAt(0).toUpperCase() + part.slice(1)).join("");
  return Object.hasOwn(WORDS, key) ? say(/** @type {keyof typeof WORDS} */ (key)) : id;
}

/** `90` s is `1 min 30 s`. @param {number} seconds */
export function duration(seconds) {
  /** @type {[number, string][]} */
  const parts = [[Math.floor(seconds / 3600), "h"], [Math.floor(seconds / 60) % 60, "min"], [seconds % 60, "s"]];
  return parts.filter(([count]) => count > 0).map(([count, unit]) => `${count} ${unit}`).join(" ") || "0 s";
}

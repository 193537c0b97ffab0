// A visit: its looks as the backbone, the one thing to do now, and what follows from what is there.
import type { App } from "../app";
import { h } from "../dom";
import type { Decision, Look, Visit } from "../model";
import { shownNumber } from "../teeth";
import { go } from "../route";
import type { Screen } from "../shell";
import { lookRow, record } from "./look_row";
import { outcomePanels } from "./outcome";

/** The look that is worked on: the last one. */
const current = (visit: Visit): Look | null => visit.looks.at(-1) ?? null;

async function addLook(app: App, visit: Visit, kind: "after" | "recheck", thenRecord: boolean): Promise<void> {
  const done = await app.change("POST", `/api/visits/${visit.id}/looks`, { kind });
  const look = app.visit ? current(app.visit) : null;
  if (done && thenRecord && look) await record(app, visit.id, look.id);
}

const hasContent = (visit: Visit): boolean => visit.looks.some((look) => look.film !== null || look.marks !== null || look.takes.length > 0);

/** When the next recording is due: what belongs before the work comes first. */
function whenAfter(before: Look): string {
  const missing = [before.film === null ? "film" : "", before.marks === null ? "marks" : ""].filter((word) => word !== "");
  return missing.length > 0 ? `When the restoration is in; before it, ${missing.join(" and ")}` : "When the restoration is in";
}

/** One large target that says what is usually done at this moment. */
function mainAction(app: App, visit: Visit): HTMLElement {
  const look = current(visit);
  const button = (word: string, words: string, run: () => void): HTMLElement =>
    h("button", { type: "button", class: "main-target", "data-main": true, "data-key": "main", disabled: app.server?.readOnly !== null && word !== "Compare", onclick: run }, h("span", { class: "main-word" }, word), h("span", {}, words));
  if (visit.signed) {
    return h("p", { class: "signed" }, h("strong", {}, "Signed"), ` by ${visit.signed.name}${visit.signed.role ? `, ${visit.signed.role}` : ""}, ${visit.signed.when}.`, visit.signed.comment ? ` “${visit.signed.comment}”` : "", visit.signed.intact ? "" : " Its content was changed since.");
  }
  if (look === null) return h("p", {}, "Nothing to do.");
  if (!look.takes.some((take) => take.usable)) return button(look.kind === "before" ? "Record the baseline" : `Record ${look.title.toLowerCase()}`, look.kind === "before" ? "Before the work: ask the patient to tap" : "Ask the patient to tap", () => void record(app, visit.id, look.id));
  if (look.kind === "before") return button("Record after", whenAfter(look), () => void addLook(app, visit, "after", true));
  return button("Compare", "See before and after", () => go({ screen: "compare", visit: visit.id, look: look.id }));
}

function addLooks(app: App, visit: Visit): HTMLElement | null {
  if (visit.signed || !hasContent(visit)) return null;
  const disabled = app.server?.readOnly !== null;
  return h(
    "div",
    { class: "add-looks" },
    h("button", { type: "button", "data-key": "add-after", disabled, onclick: () => void addLook(app, visit, "after", false) }, visit.looks.some((look) => look.kind === "after") ? "Look again after a change" : "Add the look after"),
    visit.looks.some((look) => look.kind === "after") &&
      h("button", { type: "button", "data-key": "add-recheck", disabled, onclick: () => void addLook(app, visit, "recheck", false) }, "Recheck on another day"),
  );
}

function patient(app: App, visit: Visit): HTMLElement {
  const set = (body: unknown) => () => void app.change("POST", `/api/visits/${visit.id}/patient`, body);
  const choice = (key: string, words: string, on: boolean, body: unknown): HTMLElement =>
    h("button", { type: "button", class: "toggle", "data-key": key, "aria-pressed": on ? "true" : "false", disabled: visit.signed !== null, onclick: set(body) }, words);
  return h(
    "section",
    { class: "panel", "aria-label": "Patient" },
    h("h2", {}, "Patient"),
    h("div", { class: "toggles", role: "group", "aria-label": "Numb" }, h("span", {}, "Numb"), choice("numb-yes", "Yes", visit.numb === true, { numb: true }), choice("numb-no", "No", visit.numb === false, { numb: false })),
    h(
      "div",
      { class: "toggles", role: "group", "aria-label": "How the bite feels" },
      h("span", {}, "Bite feels"),
      choice("feel-comfortable", "Comfortable", visit.feel === "comfortable", { feel: "comfortable" }),
      choice("feel-high", "High", visit.feel === "high", { feel: "high" }),
      choice("feel-other", "Other", visit.feel === "other", { feel: "other" }),
    ),
  );
}

function decision(app: App, visit: Visit): HTMLElement {
  const words: Record<Exclude<Decision, "other">, string> = { adjust: "Adjust and look again", leave: "Leave as it is", wait: "Wait and recheck", finish: "Finished" };
  return h(
    "section",
    { class: "panel", "aria-label": "Decision" },
    h("h2", {}, "Decided with the supervisor"),
    h(
      "div",
      { class: "toggles", role: "group", "aria-label": "Decision" },
      ...Object.entries(words).map(([action, text]) =>
        h("button", { type: "button", class: "toggle", "data-key": `decide-${action}`, "aria-pressed": visit.decision === action ? "true" : "false", disabled: visit.signed !== null, onclick: () => void app.change("POST", `/api/visits/${visit.id}/decision`, { action }) }, text),
      ),
    ),
  );
}

export function visitScreen(app: App): Screen {
  const visit = app.visit;
  if (!visit) return { title: "Visit", back: { screen: "visits" }, body: [h("p", { class: "quiet" }, app.notice ? "This visit cannot be shown." : "One moment.")] };
  const teeth = visit.teeth.map((tooth) => shownNumber(tooth, visit.numbering)).join(", ");
  const details = h("button", { type: "button", class: "details-button", "data-key": "details", onclick: () => go({ screen: "details", visit: visit.id }) }, teeth ? `Tooth ${teeth}` : "Which tooth?");
  return {
    title: visit.label,
    back: { screen: "visits" },
    extra: [details],
    body: [
      h("div", { class: "visit-main" }, mainAction(app, visit), h("ol", { class: "looks" }, ...visit.looks.map((look) => lookRow(app, visit, look))), addLooks(app, visit)),
      h("div", { class: "visit-side" }, ...outcomePanels(app, visit)),
      h(
        "div",
        { class: "visit-entry" },
        patient(app, visit),
        hasContent(visit) ? decision(app, visit) : "",
        h(
          "div",
          { class: "visit-end" },
          !visit.signed && h("button", { type: "button", "data-key": "sign", disabled: !hasContent(visit) || app.server?.readOnly !== null, onclick: () => go({ screen: "sign", visit: visit.id }) }, "Sign off"),
          h("a", { class: "button", "data-key": "report", href: `/api/visits/${visit.id}/report`, download: "" }, "Report"),
          h("a", { class: "button", "data-key": "export", href: `/api/visits/${visit.id}/export`, download: "" }, "Export"),
        ),
      ),
    ],
  };
}

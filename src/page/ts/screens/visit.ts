// A visit: the one thing to do now, its looks as the backbone, what was said and decided, and what follows from it.
import { send } from "../api";
import type { App } from "../app";
import { h } from "../dom";
import type { Decision, Look, Visit } from "../model";
import { isEmpty } from "../next_step";
import { formatRoute, go } from "../route";
import type { Screen } from "../shell";
import { shownNumber } from "../teeth";
import { beginLook } from "./act";
import { lookLine, lookRow } from "./look_row";
import { mainButton } from "./next_panel";
import { outcomePanels } from "./outcome";

const hasContent = (visit: Visit): boolean => visit.looks.some((look) => !isEmpty(look));

function signature(visit: Visit): HTMLElement | null {
  const signed = visit.signed;
  if (!signed) return null;
  return h("p", { class: "signed" }, h("strong", {}, "Signed"), ` by ${signed.name}${signed.role ? `, ${signed.role}` : ""}, ${signed.when}.`, signed.comment ? ` “${signed.comment}”` : "", signed.intact ? "" : " Its content was changed since.");
}

/** Looks beyond those that the button and the decision begin. */
function addLooks(app: App, visit: Visit): (HTMLElement | false)[] {
  const last = visit.looks.at(-1);
  if (visit.signed || !hasContent(visit) || !last || (last.kind !== "before" && isEmpty(last))) return [];
  const disabled = app.server?.readOnly !== null;
  const add = (kind: "after" | "recheck", words: string): HTMLElement => h("button", { type: "button", "data-key": `add-${kind}`, disabled, onclick: () => void beginLook(app, visit, kind, false) }, words);
  return [last.kind === "before" && add("after", "Add the look after"), last.kind !== "before" && add("recheck", "Recheck on another day")];
}

/** The baseline and the look that is worked on as rows of three checks, those between as lines. */
function looks(app: App, visit: Visit): HTMLElement {
  const last = visit.looks.length - 1;
  const shown = (look: Look, at: number): HTMLElement => (at > 0 && at < last ? lookLine(visit, look) : lookRow(app, visit, look));
  return h("ol", { class: "looks" }, ...visit.looks.map(shown));
}

function patient(app: App, visit: Visit): HTMLElement {
  const set = (body: unknown) => () => void app.change("POST", `/api/visits/${visit.id}/patient`, body);
  const choice = (key: string, words: string, on: boolean, body: unknown): HTMLElement =>
    h("button", { type: "button", class: "toggle", "data-key": key, "aria-pressed": on ? "true" : "false", disabled: visit.signed !== null, onclick: set(body) }, words);
  return h(
    "section",
    { class: "panel compact", "aria-label": "Patient", "data-part": "patient" },
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

export const decisionWords: Record<Exclude<Decision, "other">, string> = { adjust: "Adjust and look again", leave: "Leave as it is", wait: "Wait and recheck", finish: "Finished" };

/** After an adjustment everything is looked at anew: the next look is there at once. */
async function decide(app: App, visit: Visit, action: string): Promise<void> {
  const last = visit.looks.at(-1);
  const done = await app.change("POST", `/api/visits/${visit.id}/decision`, { action });
  if (done && action === "adjust" && last && !isEmpty(last)) await beginLook(app, visit, last.kind === "recheck" ? "recheck" : "after", false);
}

function decision(app: App, visit: Visit): HTMLElement {
  return h(
    "section",
    { class: "panel compact", "aria-label": "Decision", "data-part": "decision" },
    h("h2", {}, "Decided with the supervisor"),
    h(
      "div",
      { class: "toggles", role: "group", "aria-label": "Decision" },
      ...Object.entries(decisionWords).map(([action, text]) =>
        h("button", { type: "button", class: "toggle", "data-key": `decide-${action}`, "aria-pressed": visit.decision === action ? "true" : "false", disabled: visit.signed !== null, onclick: () => void decide(app, visit, action) }, text),
      ),
    ),
  );
}

/** The start page is shown first: what tells of the change would ask for a visit that is no more. */
async function discard(app: App, visit: Visit): Promise<void> {
  app.visit = null;
  app.stay({ screen: "visits" });
  const done = await app.guard(async () => void (await send("POST", `/api/visits/${visit.id}/discard`)));
  if (!done) go({ screen: "visit", visit: visit.id });
  await app.refresh();
}

function days(visit: Visit): HTMLElement | null {
  const links = [...visit.earlier.map((link) => ({ link, words: "goes on with" })), ...visit.later.map((link) => ({ link, words: "is continued by" }))];
  if (links.length === 0) return null;
  return h("p", { class: "days" }, ...links.map(({ link, words }) => h("span", {}, `This visit ${words} `, link.id ? h("a", { href: formatRoute({ screen: "visit", visit: link.id }) }, `${link.label}, ${link.when}`) : link.label, ". ")));
}

/** Moves the focus to the part that a button spoke of, once it is drawn. */
function focusWanted(app: App): void {
  const part = app.wanted;
  if (part === null) return;
  app.wanted = null;
  queueMicrotask(() => {
    const section = document.querySelector<HTMLElement>(`[data-part="${part}"]`);
    section?.scrollIntoView({ block: "nearest" });
    section?.querySelector<HTMLElement>("button")?.focus();
  });
}

export function visitScreen(app: App): Screen {
  const visit = app.visit;
  if (!visit) return { title: "Visit", back: { screen: "visits" }, body: [h("p", { class: "quiet" }, app.notice ? "This visit cannot be shown." : "One moment.")] };
  const teeth = visit.teeth.map((tooth) => shownNumber(tooth, visit.numbering)).join(", ");
  const details = h("button", { type: "button", class: "details-button", "data-key": "details", onclick: () => go({ screen: "details", visit: visit.id }) }, teeth ? `Tooth ${teeth}` : "Which tooth?");
  const locked = app.server?.readOnly !== null;
  focusWanted(app);
  return {
    title: visit.label,
    back: { screen: "visits" },
    extra: [details],
    body: [
      h("div", { class: "visit-main" }, signature(visit), mainButton(app, visit), days(visit), looks(app, visit)),
      h("div", { class: "visit-side" }, ...outcomePanels(app, visit)),
      h(
        "div",
        { class: "visit-entry" },
        patient(app, visit),
        hasContent(visit) ? decision(app, visit) : "",
        h(
          "div",
          { class: "visit-end" },
          ...addLooks(app, visit),
          visit.discardable && !visit.signed && h("button", { type: "button", "data-key": "discard", disabled: locked, onclick: () => void discard(app, visit) }, "Opened by mistake: discard"),
          !visit.signed && h("button", { type: "button", "data-key": "sign", disabled: !hasContent(visit) || locked, onclick: () => go({ screen: "sign", visit: visit.id }) }, "Read and sign"),
          h("a", { class: "button", "data-key": "report", href: `/api/visits/${visit.id}/report`, target: "_blank", rel: "noopener" }, "Report"),
          h("a", { class: "button", "data-key": "export", href: `/api/visits/${visit.id}/export`, download: "" }, "Export"),
        ),
      ),
    ],
  };
}

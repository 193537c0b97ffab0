// The first screen: a new visit by one touch, what waits to be signed and rechecked, and today's visits.
import { getJson, send } from "../api";
import type { App } from "../app";
import { h } from "../dom";
import type { Numbering, Visit, VisitLine } from "../model";
import { formatRoute, go } from "../route";
import { keep, kept, type Screen } from "../shell";
import { lowerRow, shownNumber, stepInRow, upperRow } from "../teeth";
import { verdictSigns } from "./outcome";

let sought = "";
let firstTooth = 16; // where keys and pedal begin
let chosenNumbering: Numbering | null = null;

/** How teeth are numbered here: as chosen on this screen, else as in the newest visit. */
export const numberingOf = (app: App): Numbering => {
  const word = chosenNumbering ?? kept("numbering", app.server?.numbering ?? "iso");
  return word === "universal" ? "universal" : "iso";
};

function numberingChoice(app: App): HTMLElement {
  const names = { iso: "ISO (11 to 48)", universal: "Universal (1 to 32)" } as const;
  return h(
    "fieldset",
    { class: "choices" },
    h("legend", {}, "Tooth numbers"),
    ...(["iso", "universal"] as const).map((value) =>
      h(
        "label",
        { class: "choice" },
        h("input", { type: "radio", name: "numbering", value, checked: numberingOf(app) === value, "data-key": `numbering-${value}`, onchange: () => ((chosenNumbering = value), keep("numbering", value), app.redraw()) }),
        names[value],
      ),
    ),
  );
}

function line(visit: VisitLine, key: string): HTMLElement {
  return h(
    "li",
    {},
    h(
      "a",
      { class: "visit-line", href: formatRoute({ screen: "visit", visit: visit.id }), "data-key": `${key}-${visit.id}` },
      h("strong", {}, visit.label),
      h("span", {}, visit.verdict ? h("span", { class: "sign", "aria-hidden": "true" }, verdictSigns[visit.verdict]) : "", " ", visit.state),
      h("span", { class: "quiet" }, visit.teeth, visit.clinician && `, ${visit.clinician}`),
      h("span", { class: "quiet" }, key === "recheck" && visit.waiting ? `waits since ${visit.waiting.since}` : `${visit.day === "Today" ? "" : `${visit.day}, `}${visit.time}`),
    ),
  );
}

const few = 3; // lines of a list before it is asked for more
const opened = new Set<string>(); // lists that were asked for more

function list(app: App, key: string, title: string, visits: readonly VisitLine[], none: string): HTMLElement {
  const shown = opened.has(key) ? visits : visits.slice(0, few);
  return h(
    "section",
    { class: "panel work", "aria-label": title },
    h("h2", {}, visits.length > 0 ? `${title} (${visits.length})` : title),
    visits.length > 0 ? h("ul", { class: "visit-list" }, ...shown.map((visit) => line(visit, key))) : h("p", { class: "quiet" }, none),
    visits.length > shown.length && h("button", { type: "button", "data-key": `more-${key}`, onclick: () => (opened.add(key), app.redraw()) }, `Show all ${visits.length}`),
  );
}

async function start(app: App, tooth: number): Promise<void> {
  await app.guard(async () => {
    const visit = await send<Visit>("POST", "/api/visits", { numbering: numberingOf(app), teeth: [tooth] });
    go({ screen: "visit", visit: visit.id });
  });
  app.redraw();
}

/** The first touch of a visit says which tooth it is about. More teeth, and a label, can follow later. */
function newVisit(app: App): HTMLElement {
  const numbering = numberingOf(app);
  const row = (teeth: readonly number[], words: string): HTMLElement =>
    h(
      "div",
      { class: "tooth-row", role: "group", "aria-label": words },
      ...teeth.map((iso, at) =>
        h(
          "button",
          {
            type: "button",
            class: `tooth${at === 8 ? " midline" : ""}`,
            "data-key": `new-${iso}`,
            tabindex: iso === firstTooth ? 0 : -1,
            disabled: app.server?.readOnly !== null,
            onclick: () => void start(app, iso),
            onkeydown: (event: KeyboardEvent) => {
              const up = event.key === "ArrowUp" || event.key === "ArrowDown";
              const step = up ? at : stepInRow(event.key, at, teeth.length);
              if (step === null) return;
              event.preventDefault();
              const target = (up ? (teeth === upperRow ? lowerRow : upperRow) : teeth)[step] ?? iso;
              firstTooth = target;
              app.redraw();
              document.querySelector<HTMLElement>(`[data-key="new-${target}"]`)?.focus();
            },
          },
          h("span", { class: "number" }, shownNumber(iso, numbering)),
        ),
      ),
    );
  return h(
    "section",
    { class: "new-visit", "aria-label": "New visit" },
    h("p", { class: "who" }, "Does the bite still sound the way it did before the work? Retap listens to the teeth tapping together, beside film and marks."),
    h("h2", {}, "New visit: touch the tooth to be treated"),
    h("div", { class: "sides", "aria-hidden": "true" }, h("span", {}, "Patient's right"), h("span", {}, "Patient's left")),
    row(upperRow, "Upper teeth"),
    row(lowerRow, "Lower teeth"),
    numberingChoice(app),
  );
}

let asking: ReturnType<typeof setTimeout> | undefined;

/** Asks the server, which searches all visits; a moment after the last letter. */
function seek(app: App, text: string): void {
  sought = text;
  clearTimeout(asking);
  asking = setTimeout(() => {
    if (sought.trim() === "") {
      app.found = null;
      return app.redraw();
    }
    void app.guard(async () => void (app.found = (await getJson<{ visits: VisitLine[] }>(`/api/visits?label=${encodeURIComponent(sought.trim())}`)).visits)).then(() => app.redraw());
  }, 150);
}

export function visitsScreen(app: App): Screen {
  const { toSign, toRecheck, today } = app.worklist;
  return {
    title: "Retap",
    back: null,
    extra: [
      h("p", { class: "seek" }, h("label", { for: "seek", class: "unseen" }, "Find a visit by its label"), h("input", { type: "search", id: "seek", "data-key": "seek", value: sought, placeholder: "Find a label", autocomplete: "off", oninput: (event: Event) => seek(app, (event.target as HTMLInputElement).value) })),
      h("a", { class: "button", href: formatRoute({ screen: "learn" }), "data-key": "learn" }, "Learn to hear it"),
    ],
    body: [
      app.found ? list(app, "found", "Found", app.found, "No visit has such a label.") : "",
      newVisit(app),
      h(
        "div",
        { class: "worklist" },
        list(app, "sign", "To sign", toSign, "Nothing waits for a signature."),
        list(app, "recheck", "To recheck", toRecheck, "Nobody waits for a recheck."),
        list(app, "visit", "Today", today, "No visit yet today."),
      ),
    ],
  };
}

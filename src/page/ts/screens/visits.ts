// The first screen: today's visits, older ones, and a new one.
import { send } from "../api";
import type { App } from "../app";
import { h } from "../dom";
import type { Numbering, Visit, VisitLine } from "../model";
import { formatRoute, go } from "../route";
import { keep, kept, type Screen } from "../shell";
import { lowerRow, shownNumber, stepInRow, upperRow } from "../teeth";

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

const signs = { alike: "=", different: "≠", unclear: "?" } as const;

function line(visit: VisitLine): HTMLElement {
  return h(
    "li",
    {},
    h(
      "a",
      { class: "visit-line", href: formatRoute({ screen: "visit", visit: visit.id }), "data-key": `visit-${visit.id}` },
      h("strong", {}, visit.label),
      h("span", { class: "quiet" }, visit.teeth),
      h("span", {}, visit.verdict ? h("span", { class: "sign", "aria-hidden": "true" }, signs[visit.verdict]) : "", " ", visit.state),
      h("span", { class: "quiet" }, visit.time),
    ),
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
    h("h2", {}, "New visit: touch the tooth to be treated"),
    h("div", { class: "sides", "aria-hidden": "true" }, h("span", {}, "Patient's right"), h("span", {}, "Patient's left")),
    row(upperRow, "Upper teeth"),
    row(lowerRow, "Lower teeth"),
    numberingChoice(app),
  );
}

export function visitsScreen(app: App): Screen {
  const matches = app.visits.filter((visit) => `${visit.label} ${visit.teeth} ${visit.day}`.toLowerCase().includes(sought.toLowerCase()));
  const today = matches.filter((visit) => visit.day === "Today");
  const older = matches.filter((visit) => visit.day !== "Today");
  const days = [...new Set(older.map((visit) => visit.day))];
  const search = h("input", {
    type: "search",
    id: "seek",
    "data-key": "seek",
    value: sought,
    autocomplete: "off",
    oninput: (event: Event) => {
      sought = (event.target as HTMLInputElement).value;
      app.redraw();
      const field = document.querySelector<HTMLInputElement>("#seek");
      field?.setSelectionRange(sought.length, sought.length);
    },
  });
  return {
    title: "Visits",
    back: null,
    extra: [h("a", { class: "button", href: formatRoute({ screen: "learn" }), "data-key": "learn" }, "Learn to hear it")],
    body: [
      newVisit(app),
      h(
        "section",
        { "aria-label": "Today" },
        h("h2", {}, "Today"),
        today.length > 0 ? h("ul", { class: "visit-list" }, ...today.map(line)) : h("p", { class: "quiet" }, sought ? "No visit of today matches." : "No visit yet today. A visit keeps film, marks and sound, before and after."),
      ),
      app.visits.length > 5 || sought ? h("p", { class: "seek" }, h("label", { for: "seek" }, "Find a label, tooth or day"), search) : "",
      ...days.map((day) => h("section", { "aria-label": day }, h("h2", {}, day), h("ul", { class: "visit-list" }, ...older.filter((visit) => visit.day === day).map(line)))),
    ],
  };
}

// The first screen: today's visits, older ones, and a new one.
import { send } from "../api";
import type { App } from "../app";
import { h } from "../dom";
import type { Visit, VisitLine } from "../model";
import { formatRoute, go } from "../route";
import type { Screen } from "../shell";

let sought = "";

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

async function start(app: App): Promise<void> {
  await app.guard(async () => {
    const visit = await send<Visit>("POST", "/api/visits", { numbering: app.server?.numbering ?? "iso" });
    go({ screen: "visit", visit: visit.id });
  });
  app.redraw();
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
    body: [
      h(
        "button",
        { type: "button", class: "main-target", "data-main": true, "data-key": "new", disabled: app.server?.readOnly !== null, onclick: () => void start(app) },
        h("span", { class: "main-word" }, "New visit"),
        h("span", {}, "The patient is seated"),
      ),
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

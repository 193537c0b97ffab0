// Film holds: sixteen pairs, one touch each goes round hold, slide, open, not tested.
import type { App } from "../app";
import { Draft } from "../draft";
import { h } from "../dom";
import type { Film, Look, Visit } from "../model";
import { go } from "../route";
import type { Screen } from "../shell";
import { afterTouch, filmChart, filmNotation, lowerRow, pairKey, shownNumber, stepInRow, unusualPairs, upperRow, withFilm, type FilmChart } from "../teeth";

let draft: { key: string; chart: Draft<FilmChart> } | null = null;
let column = 0;

const toJson = (chart: FilmChart): string => JSON.stringify([...chart]);

function open(visit: Visit, look: Look): Draft<FilmChart> {
  const key = `film-${visit.id}-${look.id}-${filmNotation(filmChart(look.film?.pairs ?? []))}`;
  if (draft?.key !== key) {
    draft = { key, chart: Draft.open(`film-${visit.id}-${look.id}`, filmChart(look.film?.pairs ?? []), filmNotation, (text) => new Map(JSON.parse(text) as [string, Film][])) };
  }
  return draft.chart;
}

function pairButton(app: App, visit: Visit, chart: Draft<FilmChart>, at: number, locked: boolean): HTMLElement {
  const upper = upperRow[at] ?? 0;
  const lower = lowerRow[at] ?? 0;
  const key = pairKey(upper, lower);
  const film = chart.value.get(key) ?? null;
  const set = (next: Film | null): void => {
    if (locked) return;
    column = at;
    const changed = withFilm(chart.value, key, next);
    chart.set(changed, toJson(changed));
    app.redraw();
  };
  const treated = visit.teeth.includes(upper) || visit.teeth.includes(lower);
  return h(
    "button",
    {
      type: "button",
      class: `pair pair-${film ?? "none"}${treated ? " treated" : ""}${at === 8 ? " midline" : ""}`,
      "data-key": `pair-${key}`,
      tabindex: at === column ? 0 : -1,
      onclick: () => set(afterTouch(film)),
      onkeydown: (event: KeyboardEvent) => {
        const letters: Record<string, Film | null> = { h: "hold", s: "slide", o: "open", Delete: null, Backspace: null };
        const step = stepInRow(event.key, at, upperRow.length);
        if (step !== null) {
          event.preventDefault();
          column = step;
          document.querySelectorAll<HTMLElement>(".pair").forEach((pair, i) => (pair.tabIndex = i === step ? 0 : -1));
          document.querySelectorAll<HTMLElement>(".pair")[step]?.focus();
        } else if (event.key in letters && !event.ctrlKey && !event.metaKey && !event.altKey) {
          set(letters[event.key] ?? null);
        }
      },
    },
    h("span", { class: "number" }, shownNumber(upper, visit.numbering)),
    h("span", { class: "bite", "aria-hidden": "true" }, h("i", {}), h("i", {})),
    h("span", { class: "number" }, shownNumber(lower, visit.numbering)),
    h("span", { class: "result" }, film ?? h("span", { class: "unseen" }, "not tested"), treated && h("span", { class: "unseen" }, ", treated")),
  );
}

export function filmScreen(app: App): Screen {
  const visit = app.visit;
  const look = app.route.screen === "film" ? visit?.looks.find((one) => app.route.screen === "film" && one.id === app.route.look) : undefined;
  if (!visit || !look) return { title: "Film", back: { screen: "visits" }, body: [] };
  const home = { screen: "visit", visit: visit.id } as const;
  const locked = visit.signed !== null || app.server?.readOnly !== null;
  const chart = open(visit, look);
  app.leave = locked ? null : () => chart.keep(app, `/api/visits/${visit.id}/looks/${look.id}/holds`, `Film of ${look.title.toLowerCase()} kept.`);
  const others = unusualPairs(chart.value);
  const tally = (film: Film): number => [...chart.value.values()].filter((result) => result === film).length;
  return {
    title: `Film, ${look.title.toLowerCase()}`,
    back: home,
    body: [
      h("p", { class: "quiet" }, locked ? "This visit can be read, not changed." : "Touch a pair: hold, slide, open, not tested. With keys: arrows, then h, s, o or Delete. The treated tooth is underlined."),
      h("div", { class: "sides", "aria-hidden": "true" }, h("span", {}, "Patient's right"), h("span", {}, "Patient's left")),
      h("div", { class: "pairs", role: "group", "aria-label": "Tooth pairs from the patient's right to left" }, ...upperRow.map((_, at) => pairButton(app, visit, chart, at, locked))),
      h("p", { role: "status" }, `${tally("hold")} hold, ${tally("slide")} slide, ${tally("open")} open.`, others.length > 0 ? ` Also charted: ${others.join(", ")}.` : ""),
      h(
        "div",
        { class: "actions" },
        h("button", { type: "button", class: "primary", "data-main": true, "data-key": "done", onclick: () => go(home) }, "Done"),
        h("button", { type: "button", "data-key": "back-step", disabled: locked || !chart.canStepBack, onclick: () => (chart.stepBack(toJson), app.redraw()) }, "Undo last touch"),
      ),
    ],
  };
}

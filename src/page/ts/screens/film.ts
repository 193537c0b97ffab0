// Film holds: sixteen pairs, one touch each goes round hold, slide, open, cannot be tested, nothing said. After the work
// the baseline lies behind each pair, and the rest can be said to be as before in one touch.
import type { App } from "../app";
import { changedElsewhere, Draft } from "../draft";
import { h } from "../dom";
import { howTo } from "../how";
import { filmKey } from "../key";
import type { Film, Look, Visit } from "../model";
import { widthOf } from "../outline";
import { go } from "../route";
import type { Screen } from "../shell";
import { filmBefore, filmSign } from "../signs";
import { s } from "../svg";
import { afterTouch, filmChart, filmDifference, filmNotation, filmResults, films, lowerRow, pairKey, restOfFilmAsBefore, restUntestable, shownNumber, stepInRow, unusualPairs, upperRow, usualPairs, withFilm, type FilmChart, type FilmResults } from "../teeth";
import { toothIcon } from "../tooth_icon";

let draft: { of: string; key: string; chart: Draft<FilmChart> } | null = null;
let column = 0;

const toJson = (chart: FilmChart): string => JSON.stringify({ results: [...chart.results], touched: [...chart.touched] });
const fromJson = (text: string): FilmChart => {
  const left = JSON.parse(text) as { results: [string, Film][]; touched: string[] };
  return { results: new Map(left.results), touched: new Set(left.touched) };
};

function open(app: App, visit: Visit, look: Look): Draft<FilmChart> {
  const start = filmChart(look.film?.pairs ?? []);
  const of = `film-${visit.id}-${look.id}`;
  const key = `${of}-${filmNotation(start)}`;
  if (draft?.key !== key) {
    const displaced = draft?.of === of ? draft.chart.displacedBy(start) : null;
    if (displaced) app.notice = { text: changedElsewhere, kind: "said" };
    draft = { of, key, chart: displaced ?? Draft.open(of, start, filmNotation, fromJson) };
  }
  return draft.chart;
}

/** What film did before the work; null in the baseline itself, and where it was not charted. */
export function filmOfBaseline(visit: Visit, look: Look): FilmResults | null {
  const before = visit.looks.find((one) => one.kind === "before");
  return look.kind === "before" || !before?.film ? null : filmResults(before.film.pairs);
}

export const filmWords: Record<Film, string> = { hold: "hold", slide: "slide", open: "open", untestable: "no test" };
const letters: Record<string, Film | null> = { h: "hold", s: "slide", o: "open", u: "untestable", Delete: null, Backspace: null };

function bite(upper: number, lower: number, film: Film | null, before: Film | null): SVGElement {
  const [from, to] = [[22, 40], [22, 78]] as const;
  const tooth = (iso: number, y: number): SVGElement => toothIcon(iso, { x: 22 - 20 * widthOf(iso), y, width: 40 * widthOf(iso), height: 36 });
  return s("svg", { class: "plot-teeth bite", viewBox: "0 0 44 118", "aria-hidden": "true" }, tooth(upper, 2), before && filmBefore(before, from, to), film && filmSign(film, from, to), tooth(lower, 80));
}

function pairButton(app: App, visit: Visit, chart: Draft<FilmChart>, baseline: FilmResults | null, at: number, locked: boolean): HTMLElement {
  const upper = upperRow[at] ?? 0;
  const lower = lowerRow[at] ?? 0;
  const key = pairKey(upper, lower);
  const film = chart.value.results.get(key) ?? null;
  const before = baseline?.get(key) ?? null;
  const difference = filmDifference(film, before);
  const set = (next: Film | null): void => {
    if (locked) return;
    column = at;
    const changed = withFilm(chart.value, key, next);
    chart.set(changed, toJson(changed));
    app.redraw();
  };
  const treated = visit.teeth.includes(upper) || visit.teeth.includes(lower);
  const touched = chart.value.touched.has(key);
  const said = difference ?? (baseline && film && !touched && film === before ? "as before" : "");
  return h(
    "button",
    {
      type: "button",
      class: `pair pair-${film ?? "none"}${treated ? " treated" : ""}${touched ? " touched" : ""}${difference ? ` is-${difference}` : ""}${at === 8 ? " midline" : ""}`,
      "data-key": `pair-${key}`,
      tabindex: at === column ? 0 : -1,
      onclick: () => set(film === null && before && !touched ? before : afterTouch(film)),
      onkeydown: (event: KeyboardEvent) => {
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
    bite(upper, lower, film, before),
    h("span", { class: "number" }, shownNumber(lower, visit.numbering)),
    h("span", { class: "result" }, film ? filmWords[film] : h("span", { class: "unseen" }, "nothing said"), treated && h("span", { class: "unseen" }, ", treated")),
    h("span", { class: "since" }, difference === "lost" ? "− lost" : difference === "gained" ? "+ gained" : difference === "changed" ? `was ${before ?? ""}` : said, before && !difference && said === "" && h("span", { class: "unseen" }, `, before: ${filmWords[before]}`)),
  );
}

export function filmScreen(app: App): Screen {
  const visit = app.visit;
  const look = app.route.screen === "film" ? visit?.looks.find((one) => app.route.screen === "film" && one.id === app.route.look) : undefined;
  if (!visit || !look) return { title: "Film", back: { screen: "visits" }, body: [] };
  const home = { screen: "visit", visit: visit.id } as const;
  const locked = visit.signed !== null || app.server?.readOnly !== null;
  const chart = open(app, visit, look);
  const baseline = filmOfBaseline(visit, look);
  app.leave = locked ? null : () => chart.keep(app, `/api/visits/${visit.id}/looks/${look.id}/holds`, `Film of ${look.title.toLowerCase()} kept.`);
  const change = (next: FilmChart): void => {
    chart.set(next, toJson(next));
    app.redraw();
  };
  const others = unusualPairs(chart.value);
  const tally = films.map((film) => [film, [...chart.value.results.values()].filter((result) => result === film).length] as const).filter(([film, count]) => count > 0 || film !== "untestable");
  const waiting = baseline ? [...baseline.keys()].filter((key) => !chart.value.touched.has(key) && !chart.value.results.has(key)) : [];
  const unsaid = usualPairs.filter((key) => !chart.value.results.has(key));
  return {
    title: `Film, ${look.title.toLowerCase()}`,
    back: home,
    body: [
      h(
        "div",
        { class: "chart-top" },
        h("p", { role: "status", class: "tally" }, tally.map(([film, count]) => `${count} ${film === "untestable" ? "cannot be tested" : film}`).join(", "), ".", others.length > 0 ? ` Also charted: ${others.join(", ")}.` : ""),
        h(
          "div",
          { class: "actions" },
          baseline && h("button", { type: "button", "data-key": "rest", disabled: locked || waiting.length === 0, onclick: () => change(restOfFilmAsBefore(chart.value, baseline)) }, "The rest as before"),
          !baseline && h("button", { type: "button", "data-key": "rest-untestable", disabled: locked || unsaid.length === 0 || unsaid.length === usualPairs.length, onclick: () => change(restUntestable(chart.value)) }, "The rest cannot be tested"),
          h("button", { type: "button", "data-key": "back-step", disabled: locked || !chart.canStepBack, onclick: () => (chart.stepBack(toJson), app.redraw()) }, "Undo last touch"),
          h("button", { type: "button", class: "primary", "data-main": true, "data-key": "done", onclick: () => go(home) }, "Done"),
        ),
      ),
      h("div", { class: "sides", "aria-hidden": "true" }, h("span", {}, "Patient's right"), h("span", {}, "Patient's left")),
      h("div", { class: "pairs", role: "group", "aria-label": "Tooth pairs from the patient's right to left" }, ...upperRow.map((_, at) => pairButton(app, visit, chart, baseline, at, locked))),
      filmKey(baseline !== null),
      howTo(app, "chart_holds") ?? "",
      h("p", { class: "quiet" }, locked ? "This visit can be read, not changed." : "Touch a pair: hold, slide, open, cannot be tested, nothing said. With keys: arrows, then h, s, o, u or Delete."),
    ],
  };
}

// Paper marks: the whole mouth in view, the chosen tooth open beside it. One touch of a place marks it; what more there
// is to say of that mark is asked under the tooth. The stage is a tab of the whole chart. Stage and tooth are in the
// address; without them the chart opens on the treated tooth, in centric.
import type { App } from "../app";
import { changedElsewhere, Draft } from "../draft";
import { h } from "../dom";
import { howTo } from "../how";
import { markKey } from "../key";
import {
  differenceAt,
  facings,
  markAt,
  markNotation,
  moveMark,
  restAsBefore,
  sayWhere,
  setAgain,
  setStage,
  sheetOf,
  stages,
  touchMark,
  wasTouched,
  withWeight,
  type At,
  type MarkEdit,
  type MarkSheet,
} from "../marks";
import type { Facing, Look, Mark, Spot, Stage, Visit, Weight } from "../model";
import { onScreen, widthOf } from "../outline";
import { go } from "../route";
import type { Screen } from "../shell";
import { markBefore, markSign } from "../signs";
import { s, type Point } from "../svg";
import { lowerRow, shownNumber, stepInRow, upperRow } from "../teeth";
import { toothIcon } from "../tooth_icon";
import { padCell, spotOf } from "../tooth_pad";

type Charted = NonNullable<Look["marks"]>;

let draft: { of: string; key: string; sheet: Draft<MarkSheet> } | null = null;
let chosen: At | null = null; // the mark that more can be said of

const toJson = (sheet: MarkSheet): string => JSON.stringify({ ...sheet, stages: [...sheet.stages], touched: [...sheet.touched] });
const fromJson = (text: string): MarkSheet => {
  const left = JSON.parse(text) as { stages: Stage[]; marks: MarkEdit[]; again: boolean; touched: string[] };
  return { ...left, stages: new Set(left.stages), touched: new Set(left.touched) };
};

function open(app: App, visit: Visit, look: Look): Draft<MarkSheet> {
  const start = sheetOf(look.marks);
  const of = `marks-${visit.id}-${look.id}`;
  const key = `${of}-${markNotation(start)}`;
  if (draft?.key !== key) {
    const displaced = draft?.of === of ? draft.sheet.displacedBy(start) : null;
    if (displaced) app.notice = { text: changedElsewhere, kind: "said" };
    draft = { of, key, sheet: displaced ?? Draft.open(of, start, markNotation, fromJson) };
    chosen = null;
  }
  return draft.sheet;
}

const named = (stage: Stage): string => stage[0]?.toUpperCase() + stage.slice(1);

/** All that the parts of this screen draw from. */
interface Chart {
  readonly app: App;
  readonly visit: Visit;
  readonly look: Look;
  readonly sheet: Draft<MarkSheet>;
  readonly before: Charted | null; // null in the baseline, and where it has no marks
  readonly stage: Stage;
  readonly tooth: number;
  readonly locked: boolean;
}

const spotsOf = (chart: Chart, tooth: number): readonly Spot[] => chart.app.spots[String(tooth)] ?? [];

function change(chart: Chart, next: MarkSheet): void {
  chart.sheet.set(next, toJson(next));
  chart.app.redraw();
}

const show = (chart: Chart, stage: Stage, tooth: number): void => {
  chosen = null;
  chart.app.stay({ screen: "marks", visit: chart.visit.id, look: chart.look.id, stage, tooth });
};

function stageTabs(chart: Chart): HTMLElement {
  return h(
    "div",
    { class: "tabs", role: "tablist", "aria-label": "Paper" },
    ...stages.map((stage, at) => {
      const count = chart.sheet.value.marks.filter((mark) => mark.stage === stage).length;
      const words = count > 0 ? String(count) : chart.sheet.value.stages.has(stage) ? "none" : "";
      return h(
        "button",
        {
          type: "button",
          role: "tab",
          id: `tab-${stage}`,
          class: "tab",
          "data-key": `stage-${stage}`,
          "aria-selected": stage === chart.stage ? "true" : "false",
          "aria-controls": "chart",
          tabindex: stage === chart.stage ? 0 : -1,
          onclick: () => show(chart, stage, chart.tooth),
          onkeydown: (event: KeyboardEvent) => {
            const step = stepInRow(event.key, at, stages.length);
            if (step === null) return;
            event.preventDefault();
            show(chart, stages[step] ?? stage, chart.tooth);
            document.querySelector<HTMLElement>(`[data-key="stage-${stages[step] ?? stage}"]`)?.focus();
          },
        },
        named(stage),
        words !== "" && h("small", {}, words, h("span", { class: "unseen" }, words === "none" ? ", paper used" : count === 1 ? " mark" : " marks")),
      );
    }),
  );
}

/** Where a place lies in a box. */
function pointOf(chart: Chart, tooth: number, place: string, width: number, height: number): Point {
  const spot = spotsOf(chart, tooth).find((one) => one.code === spotOf(place));
  const facing = place.slice(spotOf(place).length) as Facing;
  const [distal, inward] = spot?.at[facing] ?? spot?.at[""] ?? [0.5, 0.5];
  const [x, y] = onScreen(tooth, { distal, inward });
  return [x * width, y * height];
}

const here = (marks: readonly Mark[] | readonly MarkEdit[], tooth: number, stage: Stage): readonly (Mark | MarkEdit)[] => [...marks].filter((mark) => mark.tooth === tooth && mark.stage === stage);

function drawnTooth(chart: Chart, tooth: number): SVGElement {
  const width = 60 * widthOf(tooth);
  const box = { x: 32 - width / 2, y: 2, width, height: 56 };
  const sign = (mark: Mark | MarkEdit, draw: typeof markSign): SVGElement => {
    const [x, y] = pointOf(chart, tooth, mark.place, width, box.height);
    return draw(mark, [x + box.x, y + box.y], 1.25);
  };
  return s(
    "svg",
    { class: "plot-teeth", viewBox: "0 0 64 60", "aria-hidden": "true" },
    toothIcon(tooth, box),
    ...here(chart.before?.marks ?? [], tooth, chart.stage).map((mark) => sign(mark, markBefore)),
    ...here(chart.sheet.value.marks, tooth, chart.stage).map((mark) => sign(mark, markSign)),
  );
}

function toothRow(chart: Chart, row: readonly number[], words: string): HTMLElement {
  const upper = row === upperRow;
  return h(
    "div",
    { class: "tooth-row mouth-row", role: "group", "aria-label": words },
    ...row.map((iso, at) => {
      const marks = here(chart.sheet.value.marks, iso, chart.stage);
      const number = h("span", { class: "number" }, shownNumber(iso, chart.visit.numbering));
      const drawn = drawnTooth(chart, iso);
      return h(
        "button",
        {
          type: "button",
          class: `tooth outline${chart.visit.teeth.includes(iso) ? " treated" : ""}${at === 8 ? " midline" : ""}`,
          "data-key": `tooth-${iso}`,
          "aria-pressed": iso === chart.tooth ? "true" : "false",
          tabindex: iso === chart.tooth || (at === 0 && !row.includes(chart.tooth)) ? 0 : -1,
          onclick: () => show(chart, chart.stage, iso),
          onkeydown: (event: KeyboardEvent) => {
            const turn = event.key === "ArrowUp" || event.key === "ArrowDown";
            const step = turn ? at : stepInRow(event.key, at, row.length);
            if (step === null) return;
            event.preventDefault();
            document.querySelector<HTMLElement>(`[data-key="tooth-${(turn ? (upper ? lowerRow : upperRow) : row)[step] ?? iso}"]`)?.focus();
          },
        },
        upper && number,
        drawn,
        !upper && number,
        h("span", { class: "unseen" }, marks.length === 0 ? " no mark" : ` ${marks.length} ${marks.length === 1 ? "mark" : "marks"}`, chart.visit.teeth.includes(iso) && ", treated"),
      );
    }),
  );
}

const said: Record<"new" | "gone" | "heavier" | "lighter", string> = { new: "+ new", gone: "− gone", heavier: "heavier", lighter: "lighter" };

function placeButton(chart: Chart, spot: Spot): HTMLElement {
  const { tooth, stage, before, sheet } = chart;
  const on = (mark: { tooth: number; stage: Stage; place: string }): boolean => mark.tooth === tooth && mark.stage === stage && spotOf(mark.place) === spot.code;
  const marks = sheet.value.marks.filter(on);
  const was = (before?.marks ?? []).filter(on);
  // The mark that a touch changes: the chosen one, else the first on this spot, else where the baseline has one.
  const place = chosen && on(chosen) ? chosen.place : (marks[0]?.place ?? was[0]?.place ?? spot.code);
  const at: At = { tooth, stage, place };
  const mark = markAt(sheet.value, at);
  const differences = [...new Set([...marks, ...was].map((one) => differenceAt(sheet.value, before, { tooth, stage, place: one.place })))].filter((one) => one !== null);
  const cell = padCell(spot.code, tooth);
  const inner: Point = [22, 22];
  return h(
    "button",
    {
      type: "button",
      class: `place column-${cell.column} row-${cell.row}${mark ? " marked" : ""}${chosen && on(chosen) ? " chosen" : ""}`,
      "data-key": `place-${spot.code}`,
      disabled: chart.locked,
      onclick: () => {
        chosen = at;
        change(chart, touchMark(sheet.value, at, before));
      },
    },
    h("strong", {}, mark?.place ?? spot.code),
    s("svg", { class: "plot-teeth", viewBox: "0 0 44 44", "aria-hidden": "true" }, ...was.map((one) => markBefore(one, inner, 2)), ...marks.map((one) => markSign(one, inner, 2))),
    h("span", { class: "weight" }, mark ? mark.weight : "", h("span", { class: "unseen" }, mark ? "" : "no mark", ` ${spot.name}`, was[0] ? `, before: ${was[0].weight}` : "")),
    h("span", { class: "since" }, differences[0] ? said[differences[0]] : ""),
  );
}

/** What more can be said of the mark that was touched last: its incline, its weight, and where it lies. */
function more(chart: Chart): HTMLElement {
  const { sheet, visit, tooth, stage, locked } = chart;
  const at = chosen?.tooth === tooth && chosen.stage === stage ? chosen : null;
  const mark = at ? markAt(sheet.value, at) : null;
  if (!at || !mark) {
    const open = here(sheet.value.marks, tooth, stage).length;
    return h("div", { class: "more" }, h("p", { class: "quiet" }, open === 0 ? "Touch a place that the paper marked." : "Touch a mark to say more of it."));
  }
  const spot = spotsOf(chart, tooth).find((one) => one.code === spotOf(at.place));
  const facing = at.place.slice(spotOf(at.place).length);
  const toggle = (key: string, words: string, on: boolean, run: () => void): HTMLElement => h("button", { type: "button", class: "toggle", "data-key": key, "aria-pressed": on ? "true" : "false", disabled: locked, onclick: run }, words);
  const set = (next: MarkSheet, place = at.place): void => {
    chosen = { ...at, place };
    change(chart, next);
  };
  const weights: readonly Weight[] = ["light", "even", "heavy"];
  const treated = visit.teeth.includes(tooth);
  const restored = chart.look.kind !== "before";
  return h(
    "div",
    { class: "more", "aria-label": "The mark that was touched", role: "group" },
    h("h3", {}, `${at.place}, ${spot?.name ?? ""}`),
    h("div", { class: "toggles", role: "group", "aria-label": "Weight" }, ...weights.map((weight) => toggle(`weight-${weight}`, weight[0]?.toUpperCase() + weight.slice(1), mark.weight === weight, () => set(withWeight(sheet.value, at, weight)))), toggle("weight-none", "No mark", false, () => set(withWeight(sheet.value, at, null)))),
    treated &&
      h(
        "div",
        { class: "toggles", role: "group", "aria-label": restored ? "Where it lies" : "Where it lies, if there is a filling" },
        toggle("restoration", restored ? "On the restoration" : "On an old filling", mark.where === "restoration", () => set(sayWhere(sheet.value, at, "restoration"))),
        toggle("beside", "Beside it", mark.where === "beside", () => set(sayWhere(sheet.value, at, "beside"))),
      ),
    spot?.inclines &&
      h("div", { class: "toggles inclines", role: "group", "aria-label": "On the cusp or edge" }, ...facings.map(([code, words]) => toggle(`facing-${code.slice(1) || "on"}`, words, facing === code, () => set(moveMark(sheet.value, at, spot.code + code), spot.code + code)))),
  );
}

function openTooth(chart: Chart): HTMLElement {
  const holder = h("div", { class: "pad", role: "group", "aria-label": `Places on tooth ${shownNumber(chart.tooth, chart.visit.numbering)}` });
  holder.append(s("svg", { class: "plot-teeth pad-outline", viewBox: "0 0 400 300", preserveAspectRatio: "none", "aria-hidden": "true" }, toothIcon(chart.tooth, { x: 4, y: 4, width: 392, height: 292 })), ...spotsOf(chart, chart.tooth).map((spot) => placeButton(chart, spot)));
  return h("section", { class: "open-tooth", "aria-label": "The chosen tooth" }, h("h2", {}, `Tooth ${shownNumber(chart.tooth, chart.visit.numbering)}, ${chart.stage}`), holder, more(chart));
}

/** Paper that left no mark, centric again over a movement, and the rest as before: said of the stage as a whole. */
function ofTheStage(chart: Chart): HTMLElement {
  const { sheet, stage, before, visit, locked } = chart;
  const used = sheet.value.stages.has(stage);
  const none = used && !sheet.value.marks.some((mark) => mark.stage === stage);
  const waiting = (before?.marks ?? []).filter((mark) => mark.stage === stage && !markAt(sheet.value, mark) && !wasTouched(sheet.value, mark));
  const moved = [...sheet.value.stages].some((one) => one !== "centric");
  return h(
    "div",
    { class: "actions" },
    before?.stages.includes(stage) && h("button", { type: "button", "data-key": "rest", disabled: locked || (waiting.length === 0 && used), onclick: () => change(chart, restAsBefore(sheet.value, before, stage, visit.teeth)) }, "The rest as before"),
    h("button", { type: "button", class: "toggle", "data-key": "none", "aria-pressed": none ? "true" : "false", disabled: locked || (used && !none), onclick: () => change(chart, setStage(sheet.value, stage, !none)) }, "Paper left no mark"),
    stage === "centric" && moved && h("button", { type: "button", class: "toggle", "data-key": "again", "aria-pressed": sheet.value.again ? "true" : "false", disabled: locked, onclick: () => change(chart, setAgain(sheet.value, !sheet.value.again)) }, "Marked again over the movements"),
  );
}

export function marksScreen(app: App): Screen {
  const visit = app.visit;
  const route = app.route.screen === "marks" ? app.route : null;
  const look = visit?.looks.find((one) => one.id === route?.look);
  if (!visit || !look || !route) return { title: "Marks", back: { screen: "visits" }, body: [] };
  const home = { screen: "visit", visit: visit.id } as const;
  const locked = visit.signed !== null || app.server?.readOnly !== null;
  const sheet = open(app, visit, look);
  const before = look.kind === "before" ? null : (visit.looks.find((one) => one.kind === "before")?.marks ?? null);
  const chart: Chart = { app, visit, look, sheet, before, stage: route.stage ?? "centric", tooth: route.tooth ?? visit.teeth[0] ?? 16, locked };
  app.leave = locked ? null : () => sheet.keep(app, `/api/visits/${visit.id}/looks/${look.id}/marks`, `Marks of ${look.title.toLowerCase()} kept.`);
  return {
    title: `Marks, ${look.title.toLowerCase()}`,
    back: home,
    body: [
      h(
        "div",
        { class: "chart-top" },
        stageTabs(chart),
        h(
          "div",
          { class: "actions" },
          h("button", { type: "button", "data-key": "back-step", disabled: locked || !sheet.canStepBack, onclick: () => (sheet.stepBack(toJson), (chosen = null), app.redraw()) }, "Undo last touch"),
          h("button", { type: "button", class: "primary", "data-main": true, "data-key": "done", onclick: () => go(home) }, "Done"),
        ),
      ),
      h(
        "div",
        { class: "marks-chart", id: "chart", role: "tabpanel", "aria-labelledby": `tab-${chart.stage}` },
        h(
          "div",
          { class: "mouth" },
          h("div", { class: "sides", "aria-hidden": "true" }, h("span", {}, "Patient's right"), h("span", {}, "Patient's left")),
          toothRow(chart, upperRow, "Upper teeth"),
          toothRow(chart, lowerRow, "Lower teeth"),
          ofTheStage(chart),
          markKey(chart.stage, before !== null),
          howTo(app, chart.stage === "centric" ? "chart_centric" : "mark_eccentric") ?? "",
        ),
        openTooth(chart),
      ),
    ],
  };
}

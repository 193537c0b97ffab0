// Paper marks: choose a tooth, touch where the paper marked it.
import type { App } from "../app";
import { Draft } from "../draft";
import { h } from "../dom";
import type { Look, Stage, Visit } from "../model";
import { markAt, markNotation, sayWhere, setStage, sheetOf, stages, touchMark, whereSigns, type MarkEdit, type MarkSheet } from "../marks";
import { go } from "../route";
import type { Screen } from "../shell";
import { lowerRow, shownNumber, stepInRow, upperRow } from "../teeth";
import { padCell, spotOf } from "../tooth_pad";

let draft: { key: string; sheet: Draft<MarkSheet> } | null = null;
let chart = ""; // the visit and look that what follows belongs to
let tooth = 0;
let stage: Stage = "centric";
let facing = "";

const facings: Record<string, string> = { "": "On it", "/in": "Inner incline", "/out": "Outer incline", "/mes": "Mesial incline", "/dis": "Distal incline" };
const toJson = (sheet: MarkSheet): string => JSON.stringify({ ...sheet, stages: [...sheet.stages] });
const fromJson = (text: string): MarkSheet => {
  const left = JSON.parse(text) as { stages: Stage[]; marks: MarkEdit[]; again: boolean };
  return { ...left, stages: new Set(left.stages) };
};

function open(visit: Visit, look: Look): Draft<MarkSheet> {
  const start = sheetOf(look.marks);
  const key = `marks-${visit.id}-${look.id}-${markNotation(start)}`;
  if (draft?.key !== key) {
    draft = { key, sheet: Draft.open(`marks-${visit.id}-${look.id}`, start, markNotation, fromJson) };
  }
  if (chart !== `${visit.id}-${look.id}`) {
    // Another patient or look begins at the treated tooth, in centric, on the place itself: nothing is carried over.
    chart = `${visit.id}-${look.id}`;
    tooth = visit.teeth[0] ?? 16;
    stage = "centric";
    facing = "";
  }
  return draft.sheet;
}

function choices<T extends string>(app: App, legend: string, name: string, options: readonly (readonly [T, string])[], value: T, set: (value: T) => void): HTMLElement {
  return h(
    "fieldset",
    { class: "choices" },
    h("legend", {}, legend),
    ...options.map(([option, words]) =>
      h("label", { class: "choice" }, h("input", { type: "radio", name, value: option, "data-key": `${name}-${option}`, checked: option === value, onchange: () => (set(option), app.redraw()) }), words),
    ),
  );
}

function toothRow(app: App, visit: Visit, sheet: MarkSheet, row: readonly number[], words: string): HTMLElement {
  return h(
    "div",
    { class: "tooth-row", role: "group", "aria-label": words },
    ...row.map((iso, at) => {
      const marks = sheet.marks.filter((mark) => mark.tooth === iso && mark.stage === stage);
      const heavy = marks.some((mark) => mark.weight === "heavy");
      return h(
        "button",
        {
          type: "button",
          class: `tooth${visit.teeth.includes(iso) ? " treated" : ""}${at === 8 ? " midline" : ""}`,
          "data-key": `tooth-${iso}`,
          "aria-pressed": iso === tooth ? "true" : "false",
          onclick: () => ((tooth = iso), app.redraw()),
          onkeydown: (event: KeyboardEvent) => {
            const step = stepInRow(event.key, at, row.length);
            if (step === null) return;
            event.preventDefault();
            document.querySelector<HTMLElement>(`[data-key="tooth-${row[step] ?? iso}"]`)?.focus();
          },
        },
        h("span", { class: "number" }, shownNumber(iso, visit.numbering)),
        h("span", { class: "count" }, marks.length === 0 ? "" : `${marks.length}${heavy ? "+" : ""}`, h("span", { class: "unseen" }, marks.length === 0 ? " no mark" : marks.length === 1 ? " mark" : " marks", heavy && ", heavy")),
      );
    }),
  );
}

function pad(app: App, visit: Visit, sheet: Draft<MarkSheet>, locked: boolean): HTMLElement {
  const change = (next: MarkSheet): void => {
    sheet.set(next, toJson(next));
    app.redraw();
  };
  const spots = app.spots[String(tooth)] ?? [];
  return h(
    "div",
    { class: "pad", role: "group", "aria-label": `Places on tooth ${shownNumber(tooth, visit.numbering)}` },
    ...spots.map((spot) => {
      const place = spot.code + (spot.inclines ? facing : "");
      const at = { tooth, place, stage };
      const mark = markAt(sheet.value, at);
      const cell = padCell(spot.code, tooth);
      const elsewhere = sheet.value.marks.filter((one) => one.tooth === tooth && one.stage === stage && spotOf(one.place) === spot.code && one.place !== place).length;
      const button = h(
        "button",
        {
          type: "button",
          class: `place place-${mark?.weight ?? "none"} column-${cell.column} row-${cell.row}`,
          "data-key": `place-${spot.code}`,
          disabled: locked,
          onclick: () => change(touchMark(sheet.value, at)),
        },
        h("strong", {}, place),
        h("small", {}, spot.name),
        h("span", {}, mark ? `${mark.weight} ${whereSigns[mark.where]}`.trim() : elsewhere ? `(${elsewhere})` : ""),
        h("span", { class: "unseen" }, `${mark ? "mark" : "no mark"}${spot.inclines && facing ? `, ${facings[facing] ?? ""}` : ""}${elsewhere ? `, ${elsewhere} elsewhere on it` : ""}`),
      );
      return button;
    }),
  );
}

const places = [
  ["restoration", "On the restoration"],
  ["beside", "Beside it"],
] as const;

function listed(app: App, visit: Visit, sheet: Draft<MarkSheet>, locked: boolean): HTMLElement {
  const marks = sheet.value.marks.filter((mark) => mark.tooth === tooth && mark.stage === stage);
  return h(
    "ul",
    { class: "mark-list" },
    ...marks.map((mark) =>
      h(
        "li",
        {},
        h("span", {}, `${shownNumber(mark.tooth, visit.numbering)} ${mark.place}, ${mark.weight}`),
        ...places.filter(([where]) => where === "restoration" || visit.teeth.includes(mark.tooth)).map(([where, name]) =>
          h("button", {
            type: "button",
            class: "toggle",
            "data-key": `${where}-${mark.place}`,
            "aria-pressed": mark.where === where ? "true" : "false",
            disabled: locked,
            onclick: () => {
              const next = sayWhere(sheet.value, mark, where);
              sheet.set(next, toJson(next));
              app.redraw();
            },
          }, name),
        ),
      ),
    ),
  );
}

export function marksScreen(app: App): Screen {
  const visit = app.visit;
  const id = app.route.screen === "marks" ? app.route.look : "";
  const look = visit?.looks.find((one) => one.id === id);
  if (!visit || !look) return { title: "Marks", back: { screen: "visits" }, body: [] };
  const home = { screen: "visit", visit: visit.id } as const;
  const locked = visit.signed !== null || app.server?.readOnly !== null;
  const sheet = open(visit, look);
  app.leave = locked ? null : () => sheet.keep(app, `/api/visits/${visit.id}/looks/${look.id}/marks`, `Marks of ${look.title.toLowerCase()} kept.`);
  const used = sheet.value.stages.has(stage);
  return {
    title: `Marks, ${look.title.toLowerCase()}`,
    back: home,
    body: [
      choices(app, "Paper", "stage", stages.map((one) => [one, one[0]?.toUpperCase() + one.slice(1)] as const), stage, (value) => (stage = value)),
      h(
        "label",
        { class: "choice used" },
        h("input", {
          type: "checkbox",
          "data-key": "used",
          checked: used,
          disabled: locked,
          onchange: () => {
            const next = setStage(sheet.value, stage, !used);
            sheet.set(next, toJson(next));
            app.redraw();
          },
        }),
        `Paper was used in ${stage}, whether it marked or not`,
      ),
      h("div", { class: "sides", "aria-hidden": "true" }, h("span", {}, "Patient's right"), h("span", {}, "Patient's left")),
      toothRow(app, visit, sheet.value, upperRow, "Upper teeth"),
      toothRow(app, visit, sheet.value, lowerRow, "Lower teeth"),
      h("h2", {}, `Tooth ${shownNumber(tooth, visit.numbering)}, ${stage}`),
      choices(app, "A touch marks", "facing", Object.entries(facings), facing, (value) => (facing = value)),
      h("p", { class: "quiet" }, "Touch a place: even, heavy, light, no mark. Below, say whether a mark on a treated tooth is on the restoration (*) or beside it (~)."),
      pad(app, visit, sheet, locked),
      listed(app, visit, sheet, locked),
      h(
        "div",
        { class: "actions" },
        h("button", { type: "button", class: "primary", "data-main": true, "data-key": "done", onclick: () => go(home) }, "Done"),
        h("button", { type: "button", "data-key": "back-step", disabled: locked || !sheet.canStepBack, onclick: () => (sheet.stepBack(toJson), app.redraw()) }, "Undo last touch"),
      ),
    ],
  };
}

// A chart lesson: a drawn patient is charted by touch, the marks are named, and what is next is said. The server checks
// it by the rules; a second person can chart the same patient, and both see how far they agree.
import { getJson, send } from "../api";
import type { App } from "../app";
import { answersOf, leftToSay, nothingSaid, withChoice, withSheet, type ChartAnswers, type ChartSaid } from "../chart_answers";
import { h, inject } from "../dom";
import { facings, markAt, moveMark, sayWhere, touchMark, withWeight, type At } from "../marks";
import { go } from "../route";
import { keep, kept, type Screen } from "../shell";
import { filmSign, markSign } from "../signs";
import { s } from "../svg";
import { afterTouch, lowerRow, pairKey, restUntestable, shownNumber, upperRow, withFilm } from "../teeth";
import { padCell, spotOf } from "../tooth_pad";
import { filmWords } from "./film";
import { numberingOf } from "./visits";

interface Lesson {
  readonly title: string;
  readonly words: string;
  readonly pictures: readonly { readonly name: string; readonly title: string }[];
  readonly questions: readonly { readonly part: string; readonly asked: string; readonly choices: readonly string[] }[];
  readonly drawings: string; // markup made by the server
}

interface Result {
  readonly right: number;
  readonly of: number;
  readonly passed: boolean;
  readonly items: readonly { readonly asked: string; readonly said: string; readonly is: string; readonly right: boolean; readonly because: string | null }[];
  readonly agreement_with_drawing: readonly { readonly sentence: string }[];
  readonly agreement_with_second: readonly { readonly sentence: string }[] | null;
}

interface Open {
  readonly patient: string;
  readonly seed: number;
  lesson: Lesson | null;
  said: ChartSaid;
  result: Result | null;
  first: ChartAnswers | null; // of the person who charted before
}

export const patients = 8;
let open: Open | null = null;
let drawing = 0; // which drawing is charted
let tooth = 16;
let chosen: At | null = null;

const fresh = (patient: string, seed = 1 + Math.floor(Math.random() * 1000), first: ChartAnswers | null = null): Open => ({ patient, seed, lesson: null, said: nothingSaid(0, 0), result: null, first });
const address = (app: App, now: Open, part = ""): string => `/api/learn/charts/${now.patient}${part}?seed=${now.seed}&numbering=${numberingOf(app)}`;

function load(app: App, now: Open): void {
  void app
    .guard(async () => {
      now.lesson = await getJson<Lesson>(address(app, now));
      now.said = nothingSaid(now.lesson.pictures.length, now.lesson.questions.length);
      drawing = 0;
      chosen = null;
    })
    .then(() => app.redraw());
}

function change(app: App, now: Open, said: ChartSaid): void {
  now.said = said;
  app.redraw();
}

function filmRow(app: App, now: Open): HTMLElement {
  const locked = now.result !== null;
  return h(
    "div",
    { class: "lesson-pairs", role: "group", "aria-label": "Tooth pairs from the patient's right to left" },
    ...upperRow.map((upper, at) => {
      const key = pairKey(upper, lowerRow[at] ?? 0);
      const film = now.said.film.results.get(key) ?? null;
      return h(
        "button",
        { type: "button", class: `pair touched${at === 8 ? " midline" : ""}`, "data-key": `pair-${key}`, disabled: locked, onclick: () => change(app, now, { ...now.said, film: withFilm(now.said.film, key, afterTouch(film)) }) },
        h("span", { class: "number" }, shownNumber(upper, numberingOf(app))),
        s("svg", { class: "plot-teeth lesson-bite", viewBox: "0 0 44 40", "aria-hidden": "true" }, film && filmSign(film, [22, 2], [22, 38])),
        h("span", { class: "number" }, shownNumber(lowerRow[at] ?? 0, numberingOf(app))),
        h("span", { class: "result" }, film ? filmWords[film] : h("span", { class: "unseen" }, "nothing said")),
      );
    }),
  );
}

function teethRow(app: App, now: Open, row: readonly number[], words: string): HTMLElement {
  const marks = now.said.sheets[drawing]?.marks ?? [];
  return h(
    "div",
    { class: "tooth-row", role: "group", "aria-label": words },
    ...row.map((iso, at) => {
      const count = marks.filter((mark) => mark.tooth === iso).length;
      return h("button", { type: "button", class: `tooth${at === 8 ? " midline" : ""}`, "data-key": `tooth-${iso}`, "aria-pressed": iso === tooth ? "true" : "false", onclick: () => ((tooth = iso), (chosen = null), app.redraw()) }, h("span", { class: "number" }, shownNumber(iso, numberingOf(app))), h("small", {}, count > 0 ? String(count) : "", count > 0 && h("span", { class: "unseen" }, count === 1 ? " mark" : " marks")));
    }),
  );
}

function pad(app: App, now: Open): HTMLElement {
  const locked = now.result !== null;
  const sheet = now.said.sheets[drawing];
  const spots = app.spots[String(tooth)] ?? [];
  if (!sheet) return h("div", {});
  const buttons = spots.map((spot) => {
    const mark = sheet.marks.find((one) => one.tooth === tooth && spotOf(one.place) === spot.code);
    const at: At = { tooth, stage: "centric", place: mark?.place ?? spot.code };
    const cell = padCell(spot.code, tooth);
    return h(
      "button",
      { type: "button", class: `place column-${cell.column} row-${cell.row}${mark ? " marked" : ""}`, "data-key": `place-${spot.code}`, disabled: locked, onclick: () => ((chosen = at), change(app, now, withSheet(now.said, drawing, touchMark(sheet, at)))) },
      h("strong", {}, mark?.place ?? spot.code),
      s("svg", { class: "plot-teeth", viewBox: "0 0 44 44", "aria-hidden": "true" }, mark && markSign(mark, [22, 22], 2)),
      h("span", { class: "weight" }, mark ? mark.weight : "", h("span", { class: "unseen" }, mark ? "" : "no mark", ` ${spot.name}`)),
    );
  });
  const mark = chosen && chosen.tooth === tooth ? markAt(sheet, chosen) : null;
  const at = chosen;
  const toggle = (key: string, words: string, on: boolean, run: () => void): HTMLElement => h("button", { type: "button", class: "toggle", "data-key": key, "aria-pressed": on ? "true" : "false", disabled: locked, onclick: run }, words);
  const spot = at ? spots.find((one) => one.code === spotOf(at.place)) : undefined;
  const more =
    mark && at
      ? h(
          "div",
          { class: "more" },
          h("div", { class: "toggles", role: "group", "aria-label": "Weight" }, ...(["light", "even", "heavy"] as const).map((weight) => toggle(`weight-${weight}`, weight, mark.weight === weight, () => change(app, now, withSheet(now.said, drawing, withWeight(sheet, at, weight))))), toggle("weight-none", "no mark", false, () => change(app, now, withSheet(now.said, drawing, withWeight(sheet, at, null))))),
          h("div", { class: "toggles", role: "group", "aria-label": "Where it lies" }, toggle("restoration", "On the restoration", mark.where === "restoration", () => change(app, now, withSheet(now.said, drawing, sayWhere(sheet, at, "restoration")))), toggle("beside", "Beside it", mark.where === "beside", () => change(app, now, withSheet(now.said, drawing, sayWhere(sheet, at, "beside"))))),
          spot?.inclines &&
            h(
              "div",
              { class: "toggles inclines", role: "group", "aria-label": "On the cusp or edge" },
              ...facings.map(([code, words]) =>
                toggle(`facing-${code.slice(1) || "on"}`, words, at.place === spot.code + code, () => {
                  chosen = { ...at, place: spot.code + code };
                  change(app, now, withSheet(now.said, drawing, moveMark(sheet, at, spot.code + code)));
                }),
              ),
            ),
        )
      : h("p", { class: "quiet" }, "Touch a place that is marked in the drawing; then say how heavy, where, and on which incline.");
  return h("section", { class: "open-tooth", "aria-label": "The chosen tooth" }, h("h3", {}, `Tooth ${shownNumber(tooth, numberingOf(app))}`), h("div", { class: "pad", role: "group", "aria-label": `Places on tooth ${shownNumber(tooth, numberingOf(app))}` }, ...buttons), more);
}

function questions(app: App, now: Open, lesson: Lesson): HTMLElement {
  return h(
    "ol",
    { class: "chart-questions" },
    ...lesson.questions.map((question, at) =>
      h(
        "li",
        {},
        h(
          "fieldset",
          { class: "choices" },
          h("legend", {}, question.asked),
          ...question.choices.map((choice, i) => h("label", { class: "choice" }, h("input", { type: "radio", name: `question-${at}`, value: i, checked: now.said.choices[at] === i, disabled: now.result !== null, "data-key": `choice-${at}-${i}`, onchange: () => change(app, now, withChoice(now.said, at, i)) }), choice)),
        ),
      ),
    ),
  );
}

async function check(app: App, now: Open): Promise<void> {
  const left = leftToSay(now.said);
  if (left.length > 0) {
    app.notice = { text: `Still to be said: ${left.join(", ")}.`, kind: "said" };
    return app.redraw();
  }
  app.notice = null;
  await app.guard(async () => {
    now.result = await send<Result>("POST", address(app, now, "/answer"), { answers: answersOf(now.said), second: now.first });
    if (now.result.passed || kept(`chart-${now.patient}`, "") !== "right") keep(`chart-${now.patient}`, now.result.passed ? "right" : "wrong");
  });
  app.redraw();
  document.querySelector<HTMLElement>("[data-key=next]")?.focus();
}

function ended(app: App, now: Open, result: Result): HTMLElement {
  const wrong = result.items.filter((item) => !item.right);
  const next = Number(now.patient) < patients ? String(Number(now.patient) + 1) : null;
  return h(
    "section",
    { class: "panel lesson-turn", "aria-label": "What came of it" },
    h("p", { class: result.passed ? "outcome good" : "outcome bad", role: "status" }, h("span", { class: "sign", "aria-hidden": "true" }, result.passed ? "✓" : "✗"), ` ${result.right} of ${result.of} right. `, result.passed ? "Passed." : "Not passed: look at these again."),
    wrong.length > 0 && h("ul", { class: "chart-wrong" }, ...wrong.map((item) => h("li", {}, h("strong", {}, item.asked), ` You: ${item.said}. It is: ${item.is}. `, item.because ?? ""))),
    h("h3", {}, "You and the drawing"),
    h("ul", {}, ...result.agreement_with_drawing.map((part) => h("li", {}, part.sentence))),
    result.agreement_with_second && h("h3", {}, "You and the first one"),
    result.agreement_with_second && h("ul", {}, ...result.agreement_with_second.map((part) => h("li", {}, part.sentence))),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "button", class: "primary", "data-main": true, "data-key": "next", onclick: () => go(next ? { screen: "chart-lesson", patient: next } : { screen: "learn" }) }, next ? "Next patient" : "Done"),
      h("button", { type: "button", "data-key": "another", onclick: () => ((open = fresh(now.patient)), app.redraw()) }, "Once more, the other way round perhaps"),
      h("button", { type: "button", "data-key": "second", onclick: () => ((open = fresh(now.patient, now.seed, answersOf(now.said))), app.redraw()) }, "Let somebody else chart it"),
    ),
  );
}

export function chartLessonScreen(app: App): Screen {
  const patient = app.route.screen === "chart-lesson" ? app.route.patient : "1";
  if (open?.patient !== patient) open = fresh(patient);
  const now = open;
  const lesson = now.lesson;
  if (!lesson) {
    if (app.notice?.kind !== "failed") load(app, now);
    return { title: `Patient ${patient}`, back: { screen: "learn" }, body: [h("p", { class: "quiet" }, "One moment.")] };
  }
  const drawings = h("div", { class: "fragment chart-drawings" });
  inject(drawings, lesson.drawings);
  return {
    title: `Patient ${patient}: ${lesson.title.toLowerCase()}`,
    back: { screen: "learn" },
    body: [
      now.first ? h("p", {}, "The other person has charted this patient. Now you: neither sees the other's chart.") : "",
      h("p", {}, lesson.words),
      h("h2", {}, "The drawings"),
      drawings,
      h("h2", {}, "1. Chart the film"),
      filmRow(app, now),
      h("div", { class: "actions" }, h("button", { type: "button", "data-key": "rest-untestable", disabled: now.result !== null || now.said.film.results.size === 0, onclick: () => change(app, now, { ...now.said, film: restUntestable(now.said.film) }) }, "The rest cannot be tested")),
      h("h2", {}, "2. Chart the marks of each drawing"),
      h("div", { class: "toggles", role: "group", "aria-label": "Drawing" }, ...lesson.pictures.map((picture, at) => h("button", { type: "button", class: "toggle", "data-key": `drawing-${at}`, "aria-pressed": at === drawing ? "true" : "false", onclick: () => ((drawing = at), (chosen = null), app.redraw()) }, picture.title))),
      h("div", { class: "lesson-chart" }, h("div", { class: "mouth" }, teethRow(app, now, upperRow, "Upper teeth"), teethRow(app, now, lowerRow, "Lower teeth")), pad(app, now)),
      h("h2", {}, "3. Name what you charted, and say what is next"),
      questions(app, now, lesson),
      now.result ? ended(app, now, now.result) : h("div", { class: "actions" }, h("button", { type: "button", class: "primary", "data-key": "check", onclick: () => void check(app, now) }, "Check my answers")),
    ],
  };
}

// Learning to hear a bite: the bench, the guided lessons, the listening test, and what all of it is worth in the clinic.
import { getJson, getText } from "../api";
import type { App } from "../app";
import { h, inject } from "../dom";
import { formatRoute, type Route } from "../route";
import { kept, type Screen } from "../shell";
import { patients } from "./chart_lesson";

let titles: readonly string[] | null = null;
let clinic: string | null = null;

function entry(key: string, route: Route, name: string, words: string): HTMLElement {
  return h("li", {}, h("a", { class: "learn-entry", href: formatRoute(route), "data-key": key }, h("strong", {}, name), h("span", { class: "quiet" }, words)));
}

const states = { right: "✓ Task solved", wrong: "○ Task not solved yet" } as const;

export function learnScreen(app: App): Screen {
  if (titles === null || clinic === null) {
    void app
      .guard(async () => {
        [titles, clinic] = await Promise.all([getJson<{ titles: string[] }>("/api/learn/lessons").then((answer) => answer.titles), getText("/api/learn/clinic")]);
      })
      .then((done) => done && app.redraw());
  }
  const words = h("div", { class: "fragment" });
  if (clinic !== null) inject(words, clinic);
  return {
    title: "Learn to hear it",
    back: { screen: "visits" },
    body: [
      h("p", {}, "What does a balanced bite sound like, and what would a high spot change? The sounds here come from a model of a closing bite, so that what really happened is known. No patient was recorded. Headphones help."),
      h(
        "ul",
        { class: "learn-list" },
        entry("bench", { screen: "bench" }, "The bench", "Set a bite with sliders, hear it, and see what Retap makes of it."),
        entry("hearing", { screen: "hearing" }, "Test your ear", "How small a difference do you hear, and how small a one does Retap?"),
        entry("own", { screen: "visits" }, "Your own taps", "Open a visit for yourself and record before several times, the pick-up taken off and put back each time. Touch Sound, and see how well your takes repeat."),
      ),
      h("h2", {}, "Lessons"),
      h(
        "ol",
        { class: "learn-list" },
        ...(titles ?? []).map((title, at) => {
          const state = kept(`lesson-${at + 1}`, "");
          return entry(`lesson-${at + 1}`, { screen: "lesson", lesson: String(at + 1) }, `${at + 1}. ${title}`, state === "right" || state === "wrong" ? states[state] : "○ Not taken yet");
        }),
      ),
      h("h2", {}, "Charting"),
      h("p", {}, "Invented patients, drawn: chart the film and the marks, name what they are, and say what is usually next. The rules that advise in a visit check it; all has to be right."),
      h(
        "ol",
        { class: "learn-list" },
        ...Array.from({ length: patients }, (_, at) => {
          const state = kept(`chart-${at + 1}`, "");
          return entry(`chart-${at + 1}`, { screen: "chart-lesson", patient: String(at + 1) }, `Patient ${at + 1}`, state === "right" ? "✓ Passed" : state === "wrong" ? "○ Not passed yet" : "○ Not charted yet");
        }),
      ),
      words,
    ],
  };
}

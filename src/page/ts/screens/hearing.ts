// The listening test: blind, adaptive, without feedback until it is over.
import { getJson, send } from "../api";
import type { App } from "../app";
import { h, inject } from "../dom";
import { go } from "../route";
import type { Screen } from "../shell";

interface Result {
  readonly question: string;
  readonly ear: string;
  readonly retap: string;
  readonly notes: readonly string[];
  readonly plot: string; // markup made by the report layer
  readonly retapPlot: string;
  readonly missed: readonly { readonly number: number; readonly was: string }[];
  readonly keptAs: string | null;
}

interface Test {
  readonly id: string;
  readonly way: "odd" | "same";
  readonly finished: boolean;
  readonly number: number; // answers so far
  readonly pairs: number | null;
  readonly starts: readonly number[]; // s, of each sound in the row
  readonly result: Result | null;
}

const storage = "hearing"; // a reload goes on with the same test
const wish = { way: "odd" as Test["way"], heightUm: 100, learner: "" };
let test: Test | null = null;
let asked = false;
let heard = -1; // the trial whose sounds were played

const player = new Audio();
let lights: ReturnType<typeof setInterval> | undefined;

function take(next: Test | null): void {
  test = next;
  if (next && !next.finished) sessionStorage.setItem(storage, next.id);
  else sessionStorage.removeItem(storage);
}

function light(): void {
  const at = player.paused ? -1 : (test?.starts.filter((start) => start <= player.currentTime).length ?? 0) - 1;
  document.querySelectorAll(".row-light").forEach((element, i) => element.classList.toggle("on", i === at));
  if (player.paused) clearInterval(lights);
}

function play(app: App): void {
  const now = test;
  if (!now || now.finished) return;
  player.src = `/api/learn/tests/${now.id}/sounds/${now.number}`;
  player.play().then(
    () => {
      clearInterval(lights);
      lights = setInterval(light, 80);
      if (heard === now.number) return;
      heard = now.number;
      app.redraw();
    },
    (fault: Error) => {
      if (fault.name === "AbortError") return; // stopped before it began
      app.notice = { text: "The sound could not be played. Try again, or begin a new test.", kind: "failed" };
      app.redraw();
    },
  );
}

function stop(): void {
  player.pause();
  clearInterval(lights);
}

async function begin(app: App): Promise<void> {
  app.notice = null;
  heard = -1;
  const seed = Math.floor(Math.random() * 2 ** 31);
  await app.guard(async () => take(await send<Test>("POST", "/api/learn/tests", { ...wish, seed })));
  app.redraw();
  play(app);
}

async function answer(app: App, choice: number): Promise<void> {
  const now = test;
  if (!now || now.finished || heard !== now.number) return;
  stop();
  await app.guard(async () => take(await send<Test>("POST", `/api/learn/tests/${now.id}/answer`, { number: now.number, choice })));
  app.redraw();
  if (test?.finished) document.querySelector<HTMLElement>("h1")?.focus();
  else play(app);
}

function form(app: App): HTMLElement[] {
  const ways = { odd: "Which of three is odd?", same: "Same or different?" } as const;
  const begins = (event: Event): void => {
    event.preventDefault();
    void begin(app);
  };
  return [
    h("p", {}, "Each sound is a few taps. In one of them a tooth may stand high. Nothing says whether you were right until the test is over; meanwhile Retap answers the very same sounds. All sounds are equally loud."),
    h(
      "form",
      { class: "hearing-form", onsubmit: begins },
      h(
        "fieldset",
        { class: "choices" },
        h("legend", {}, "Way"),
        ...(["odd", "same"] as const).map((way) => h("label", { class: "choice" }, h("input", { type: "radio", name: "way", value: way, checked: wish.way === way, "data-key": `way-${way}`, onchange: () => ((wish.way = way), app.redraw()) }), ways[way])),
      ),
      h("p", { class: "quiet" }, wish.way === "odd" ? "Some 30 trials, five to ten minutes. It gets harder as long as you are right, and finds the height that you just hear." : "20 pairs at one height, about five minutes. It finds how surely you tell them apart."),
      wish.way === "same" &&
        h("p", { class: "slider" }, h("label", { for: "test-height" }, "Height of the tooth in different pairs"), h("output", { for: "test-height" }, `${wish.heightUm} µm`), h("input", { type: "range", id: "test-height", min: 10, max: 200, step: 10, value: wish.heightUm, "data-key": "test-height", oninput: (event: Event) => ((wish.heightUm = Number((event.target as HTMLInputElement).value)), app.redraw()) })),
      h("p", { class: "field" }, h("label", { for: "learner" }, "Learner label, to keep the result"), h("small", { id: "learner-hint" }, "Letters and digits, no name. Leave it empty to keep nothing."), h("input", { id: "learner", type: "text", maxlength: 40, pattern: "[A-Za-z0-9._\\-]*", autocomplete: "off", value: wish.learner, "aria-describedby": "learner-hint", "data-key": "learner", oninput: (event: Event) => (wish.learner = (event.target as HTMLInputElement).value) })),
      h("div", { class: "actions" }, h("button", { type: "submit", class: "primary", "data-main": true, "data-key": "begin" }, "Begin")),
    ),
  ];
}

function trial(app: App, now: Test): HTMLElement[] {
  const odd = now.way === "odd";
  const answers = odd ? (["1", "2", "3"] as const) : (["Same", "Different"] as const);
  const keys = odd ? ["1", "2", "3"] : ["s", "d"];
  app.onKey = (key) => {
    if (key === " ") {
      play(app);
      return true;
    }
    const choice = keys.indexOf(key.toLowerCase());
    if (choice >= 0) void answer(app, choice);
    return choice >= 0;
  };
  const ready = heard === now.number;
  return [
    h("p", { class: "trial-number", role: "status" }, now.pairs === null ? `Trial ${now.number + 1}` : `Pair ${now.number + 1} of ${now.pairs}`),
    h("div", { class: "row-lights", "aria-hidden": "true" }, ...now.starts.map((_, i) => h("span", { class: "row-light" }, String(i + 1)))),
    h("button", { type: "button", class: "main-target", "data-main": true, "data-key": "play", onclick: () => play(app) }, h("span", { class: "main-word" }, ready ? "Play again" : "Play"), h("span", {}, odd ? "Three sounds, one after the other" : "Two sounds, one after the other")),
    h("p", {}, odd ? "Which one is the odd one out?" : "Are they the same bite?"),
    h("div", { class: "actions answers" }, ...answers.map((word, choice) => h("button", { type: "button", class: "answer-target", disabled: !ready, "data-key": `answer-${choice}`, onclick: () => void answer(app, choice) }, word))),
    h("p", { class: "quiet" }, odd ? "Keys: Space plays, 1, 2 and 3 answer. Guess when you cannot tell." : "Keys: Space plays, s and d answer. Guess when you cannot tell."),
    h("div", { class: "actions" }, h("button", { type: "button", "data-key": "leave", onclick: () => (stop(), take(null), app.redraw()) }, "Stop the test, keep nothing")),
  ];
}

/** You above, Retap below on the same sounds, each at the heights that were played. */
function answersPlot(result: Result): HTMLElement | null {
  if (result.plot === "") return null;
  const drawn = (name: string, markup: string): HTMLElement => {
    const holder = h("div", {});
    inject(holder, markup);
    return h("div", {}, h("h3", {}, name), holder);
  };
  return h("figure", {}, drawn("You", result.plot), result.retapPlot !== "" && drawn("Retap", result.retapPlot), h("figcaption", {}, "A disc is a right answer, a square a wrong one, at the height that was played. The line is the height that is just heard, the band what the answers leave open; neither goes beyond what was played."));
}

/** The latest trials that were answered wrongly, to be heard again with what they were. */
function missedOnes(now: Test, result: Result): HTMLElement | null {
  if (result.missed.length === 0) return null;
  return h(
    "section",
    { "aria-label": "Missed, to hear again" },
    h("h3", {}, "Missed, to hear again"),
    h(
      "ul",
      { class: "missed" },
      ...result.missed.map(({ number, was }) =>
        h(
          "li",
          {},
          h("button", { type: "button", "data-key": `missed-${number}`, onclick: () => ((player.src = `/api/learn/tests/${now.id}/missed/${number}`), void player.play().catch(() => undefined)) }, `Play trial ${number + 1}`),
          ` It was: ${was}.`,
        ),
      ),
    ),
  );
}

function ended(app: App, now: Test, result: Result): (HTMLElement | string)[] {
  return [
    h("h2", {}, result.question),
    h("dl", { class: "hearing-result" }, h("dt", {}, "Your ear"), h("dd", {}, result.ear), h("dt", {}, "Retap, on the same sounds"), h("dd", {}, result.retap)),
    answersPlot(result) ?? "",
    missedOnes(now, result) ?? "",
    ...result.notes.map((note) => h("p", {}, note)),
    h("p", { class: "quiet" }, result.keptAs === null ? "Nothing was kept." : `Kept as ${result.keptAs}.`),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "button", class: "primary", "data-main": true, "data-key": "new-test", onclick: () => (take(null), app.redraw()) }, "Another test"),
      result.keptAs !== null && h("a", { class: "button", href: "/api/learn/results", download: "", "data-key": "results" }, "All results as a table"),
      h("button", { type: "button", "data-key": "to-learn", onclick: () => go({ screen: "learn" }) }, "Done"),
    ),
  ];
}

export function hearingScreen(app: App): Screen {
  const left = sessionStorage.getItem(storage);
  if (test === null && left !== null && !asked) {
    asked = true;
    void getJson<Test>(`/api/learn/tests/${encodeURIComponent(left)}`).then(take, () => take(null)).then(() => app.redraw());
  }
  app.leave = async () => stop();
  const now = test;
  return {
    title: "Test your ear",
    back: { screen: "learn" },
    body: now === null ? form(app) : now.result !== null ? ended(app, now, now.result) : trial(app, now),
  };
}

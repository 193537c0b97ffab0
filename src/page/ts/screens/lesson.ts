// A guided lesson: the report's own view of it, and a task that the server checks.
import { getJson, getText, send } from "../api";
import type { App } from "../app";
import { h, inject } from "../dom";
import { go } from "../route";
import { keep, kept, type Screen } from "../shell";

interface Task {
  readonly title: string;
  readonly question: string;
  readonly choices: readonly string[];
  readonly sounds: readonly { readonly name: string; readonly caption: string }[];
}

interface Checked {
  readonly right: boolean;
  readonly answer: string;
  readonly because: string;
}

interface Open {
  readonly number: string;
  readonly seed: number;
  view: string | null;
  task: Task | null;
  chosen: number | null;
  checked: Checked | null;
}

const lessons = 7;
let open: Open | null = null;

const fresh = (number: string): Open => ({ number, seed: 1 + Math.floor(Math.random() * 1000), view: null, task: null, chosen: null, checked: null });

function load(app: App, lesson: Open): void {
  const path = `/api/learn/lessons/${lesson.number}`;
  void app
    .guard(async () => {
      [lesson.view, lesson.task] = await Promise.all([getText(`${path}?seed=${lesson.seed}`), getJson<Task>(`${path}/task?seed=${lesson.seed}`)]);
    })
    .then(() => app.redraw());
}

async function check(app: App, lesson: Open): Promise<void> {
  if (lesson.chosen === null) {
    app.notice = { text: "Choose an answer first.", kind: "said" };
    return app.redraw();
  }
  app.notice = null;
  await app.guard(async () => {
    lesson.checked = await send<Checked>("POST", `/api/learn/lessons/${lesson.number}/answer`, { seed: lesson.seed, choice: lesson.chosen });
    // A task once solved stays solved, however often it is tried again.
    if (lesson.checked.right || kept(`lesson-${lesson.number}`, "") !== "right") keep(`lesson-${lesson.number}`, lesson.checked.right ? "right" : "wrong");
  });
  app.redraw();
  document.querySelector<HTMLElement>("[data-key=next]")?.focus();
}

function answered(app: App, lesson: Open, checked: Checked): HTMLElement[] {
  const next = Number(lesson.number) < lessons ? String(Number(lesson.number) + 1) : null;
  return [
    h("p", { class: "outcome", role: "status" }, h("span", { class: "sign", "aria-hidden": "true" }, checked.right ? "✓" : "✗"), checked.right ? " Right. " : ` Not so. It is: ${checked.answer}. `),
    h("p", {}, checked.because),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "button", class: "primary", "data-main": true, "data-key": "next", onclick: () => go(next ? { screen: "lesson", lesson: next } : { screen: "hearing" }) }, next ? "Next lesson" : "Test your ear"),
      h("button", { type: "button", "data-key": "another", onclick: () => ((open = fresh(lesson.number)), app.redraw()) }, "Another task like this"),
    ),
  ];
}

function task(app: App, lesson: Open, asked: Task): HTMLElement {
  const sounds = asked.sounds.map((sound, at) =>
    h("div", { class: "lesson-sound" }, h("p", {}, h("strong", {}, sound.name), `: ${sound.caption}`), h("audio", { controls: true, preload: "none", src: `/api/learn/lessons/${lesson.number}/task/sounds/${at}?seed=${lesson.seed}`, "aria-label": `Task ${sound.name}` })),
  );
  return h(
    "section",
    { class: "panel lesson-turn", "aria-label": "Your turn" },
    h("h2", {}, "Your turn"),
    h("div", { class: "lesson-sounds" }, ...sounds),
    h(
      "fieldset",
      { class: "choices" },
      h("legend", {}, asked.question),
      ...asked.choices.map((choice, at) =>
        h("label", { class: "choice" }, h("input", { type: "radio", name: "choice", value: at, checked: lesson.chosen === at, disabled: lesson.checked !== null, "data-key": `choice-${at}`, onchange: () => (lesson.chosen = at) }), choice),
      ),
    ),
    ...(lesson.checked ? answered(app, lesson, lesson.checked) : [h("div", { class: "actions" }, h("button", { type: "button", class: "primary", "data-key": "check", onclick: () => void check(app, lesson) }, "Check my answer"))]),
  );
}

export function lessonScreen(app: App): Screen {
  const number = app.route.screen === "lesson" ? app.route.lesson : "1";
  if (open?.number !== number) open = fresh(number);
  const lesson = open;
  if (lesson.view === null && app.notice?.kind !== "failed") load(app, lesson);
  const view = h("div", { class: "fragment lesson" });
  if (lesson.view !== null) inject(view, lesson.view);
  else view.append(h("p", { class: "quiet" }, "One moment: the sounds are being made."));
  return {
    title: lesson.task ? `${number}. ${lesson.task.title}` : `Lesson ${number}`,
    back: { screen: "learn" },
    body: [view, ...(lesson.task ? [task(app, lesson, lesson.task)] : [])],
  };
}

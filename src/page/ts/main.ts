import { App } from "./app";
import { pedalTarget, render } from "./dom";
import { listen } from "./events";
import { betweenPresses, watchPresses } from "./press";
import { go, parseRoute } from "./route";
import { benchScreen } from "./screens/bench";
import { chartLessonScreen } from "./screens/chart_lesson";
import { compareScreen } from "./screens/compare";
import { crossbiteScreen } from "./screens/crossbite";
import { detailsScreen } from "./screens/details";
import { filmScreen } from "./screens/film";
import { hearingScreen } from "./screens/hearing";
import { learnScreen } from "./screens/learn";
import { lessonScreen } from "./screens/lesson";
import { marksScreen } from "./screens/marks";
import { recordScreen } from "./screens/record";
import { signScreen } from "./screens/sign";
import { takeScreen } from "./screens/take";
import { visitScreen } from "./screens/visit";
import { visitsScreen } from "./screens/visits";
import { warningScreen } from "./screens/warning";
import { applyDisplay, banners, displayDialog, header } from "./shell";

const root = document.querySelector<HTMLElement>("#app");
if (!root) throw new Error("the page has no place for the app");

const screens = {
  visits: visitsScreen,
  visit: visitScreen,
  film: filmScreen,
  marks: marksScreen,
  record: recordScreen,
  compare: compareScreen,
  take: takeScreen,
  details: detailsScreen,
  sign: signScreen,
  warning: warningScreen,
  crossbite: crossbiteScreen,
  learn: learnScreen,
  bench: benchScreen,
  lesson: lessonScreen,
  hearing: hearingScreen,
  "chart-lesson": chartLessonScreen,
};

const presses = betweenPresses(() => {
  app.onLive = null;
  app.onKey = null;
  const screen = screens[app.route.screen](app);
  document.title = `${screen.title} · Retap`;
  const main = document.createElement("main");
  main.className = `screen screen-${app.route.screen}`;
  main.append(...screen.body);
  render(root, header(app, screen), banners(app), main);
});
const app = new App(presses.draw);
watchPresses(document, presses);

async function show(): Promise<void> {
  const before = app.route;
  const leave = app.leave;
  app.leave = null;
  app.notice = null;
  await leave?.();
  app.route = parseRoute(location.hash);
  if (!("visit" in app.route) || ("visit" in before && before.visit !== app.route.visit)) app.visit = null;
  app.outcome = app.route.screen === "record" ? app.outcome : null;
  await app.refresh();
  // Whoever reloads while a take is being recorded comes back to it.
  if (app.live && app.route.screen === "visit" && app.live.visit === app.route.visit) {
    return go({ screen: "record", visit: app.live.visit, look: app.live.look });
  }
  window.scrollTo(0, 0);
  // Only the record screen puts a target under the pedal: elsewhere a press that comes late must do nothing.
  const focus = pedalTarget() ?? document.querySelector<HTMLElement>("h1");
  focus?.focus({ preventScroll: true });
}

// The foot pedal sends Space or Enter. It means the named button of the record screen, and nothing elsewhere: what a
// finger touched last keeps the focus, and must not be pressed again by a foot. Who came there with keys goes on with keys.
let finger: { key: string | undefined; target: Element } | null = null;
document.addEventListener(
  "pointerdown",
  (event) => {
    const target = event.target instanceof Element ? event.target.closest<HTMLElement>("button, a, summary, input, label") : null;
    finger = target && { key: target.dataset["key"], target };
  },
  true,
);
const touchedLast = (element: Element | null): boolean => finger !== null && element instanceof HTMLElement && (element === finger.target || (finger.key !== undefined && element.dataset["key"] === finger.key));
document.addEventListener(
  "keydown",
  (event) => {
    const pedal = event.key === " " || event.key === "Enter";
    if (!pedal && !["Shift", "Control", "Alt", "Meta"].includes(event.key)) finger = null;
    const focused = document.activeElement;
    const typing = focused?.matches("input:not([type=radio]):not([type=checkbox]), textarea, select") ?? false;
    if (!typing && !event.ctrlKey && !event.metaKey && !event.altKey && !event.repeat && app.onKey?.(event.key)) return event.preventDefault();
    if (event.key === "Escape" && app.route.screen !== "visits" && !document.querySelector("dialog[open]")) {
      return document.querySelector<HTMLElement>("[data-back]")?.click();
    }
    if (!pedal || typing) return;
    const target = focused?.matches("button, a, summary, input, label") ?? false;
    if (target && (!touchedLast(focused) || focused?.closest("dialog"))) return;
    event.preventDefault();
    if (!event.repeat) pedalTarget()?.click();
  },
  true,
);
// A file that misses its target must not replace the page.
for (const name of ["dragover", "drop"]) document.addEventListener(name, (event) => event.preventDefault());

window.addEventListener("hashchange", () => void show());
document.body.append(displayDialog());
applyDisplay();
listen(app);
void show();

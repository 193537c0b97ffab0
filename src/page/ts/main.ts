import { App } from "./app";
import { mainTarget, render } from "./dom";
import { listen } from "./events";
import { betweenPresses, watchPresses } from "./press";
import { go, parseRoute } from "./route";
import { benchScreen } from "./screens/bench";
import { compareScreen } from "./screens/compare";
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
  learn: learnScreen,
  bench: benchScreen,
  lesson: lessonScreen,
  hearing: hearingScreen,
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
  const focus = mainTarget() ?? document.querySelector<HTMLElement>("h1");
  focus?.focus({ preventScroll: true });
}

// The foot pedal sends Space or Enter: with nothing focused it means the main target of the screen.
document.addEventListener("keydown", (event) => {
  const typing = document.activeElement?.matches("input:not([type=radio]):not([type=checkbox]), textarea, select") ?? false;
  if (!typing && !event.ctrlKey && !event.metaKey && !event.altKey && !event.repeat && app.onKey?.(event.key)) return event.preventDefault();
  const nowhere = document.activeElement === document.body || document.activeElement === null;
  if (event.key === "Escape" && app.route.screen !== "visits" && !document.querySelector("dialog[open]")) {
    document.querySelector<HTMLElement>("[data-back]")?.click();
  } else if (nowhere && (event.key === " " || event.key === "Enter") && !event.repeat) {
    event.preventDefault();
    mainTarget()?.click();
  }
});
// A file that misses its target must not replace the page.
for (const name of ["dragover", "drop"]) document.addEventListener(name, (event) => event.preventDefault());

window.addEventListener("hashchange", () => void show());
document.body.append(displayDialog());
applyDisplay();
listen(app);
void show();

// Listening: what is heard as it is heard, and afterwards what came of it.
import { send } from "../api";
import type { App } from "../app";
import { h } from "../dom";
import { levelWords, meterShare, tapsToGo } from "../levels";
import type { Devices, Live, Look, Visit } from "../model";
import { go } from "../route";
import type { Screen } from "../shell";
import { addFile, record } from "./look_row";

const stop = (app: App, keep: boolean) => (): void => void app.guard(async () => void (await send("POST", "/api/record/stop", { keep }))).then(() => app.redraw());

function slots(live: Live): HTMLElement[] {
  const wanted = Math.max(live.wanted, live.usable);
  return Array.from({ length: wanted }, (_, at) => h("span", { class: at < live.usable ? "slot heard" : "slot" }));
}

function listening(app: App, live: Live, title: string): HTMLElement[] {
  const number = h("p", { class: "tap-count", role: "status" });
  const row = h("div", { class: "slots", "aria-hidden": "true" });
  const words = h("p", { class: "level-words", role: "status" });
  const fill = h("div", { class: "level-fill" });
  const meter = h("div", { class: "level", role: "meter", "aria-label": "Sound level", "aria-valuemin": 0, "aria-valuemax": 100, "aria-valuenow": 0 }, fill);
  const show = (now: Live): void => {
    const text = `${now.usable} of ${now.wanted} good taps`;
    if (number.dataset["text"] !== text) {
      number.dataset["text"] = text;
      number.replaceChildren(h("strong", {}, String(now.usable)), h("span", {}, `of ${now.wanted} good taps`), h("span", { class: "quiet" }, now.taps > now.usable ? `${now.taps - now.usable} not used` : tapsToGo(now)));
      row.replaceChildren(...slots(now));
    }
    const level = levelWords(now);
    if (words.textContent !== level.words) words.textContent = level.words;
    words.className = level.good ? "level-words good" : "level-words bad";
    const percent = Math.round(100 * meterShare(now.peak));
    fill.style.width = `${percent}%`;
    meter.setAttribute("aria-valuenow", String(percent));
  };
  show(live);
  app.onLive = show;
  return [
    h("p", { class: "listening-line" }, h("span", { class: "listening-dot", "aria-hidden": "true" }), h("strong", {}, "Listening"), ` with ${live.device}. ${title}.`),
    number,
    row,
    meter,
    words,
    h("p", {}, "Ask the patient to tap the back teeth together, about twice a second. It stops by itself."),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "button", class: "primary", "data-main": true, "data-pedal": true, "data-key": "stop", onclick: stop(app, true) }, "Stop and keep"),
      h("button", { type: "button", "data-key": "drop", onclick: stop(app, false) }, "Stop, do not keep"),
    ),
  ];
}

function filePicker(app: App, visit: Visit, look: Look): HTMLElement {
  const input = h("input", {
    type: "file",
    accept: ".wav,.flac,.aif,.aiff,.ogg,audio/*",
    id: "file",
    onchange: () => {
      const file = input.files?.[0];
      if (file) void addFile(app, visit.id, look.id, file).then((done) => done && go({ screen: "visit", visit: visit.id }));
    },
  });
  return h("p", { class: "file-pick" }, h("label", { for: "file" }, "Or use a sound file"), input);
}

/** Which pick-up listens; a choice when there are several. */
function pickUp(app: App): HTMLElement {
  const devices = app.devices;
  if (!devices) return h("p", { class: "quiet" }, "");
  if (devices.trouble !== null) return h("p", { class: "quiet" }, devices.trouble);
  const only = devices.devices.length === 1 && devices.chosen === devices.devices[0];
  if (only) return h("p", { class: "quiet" }, `Pick-up: ${devices.chosen}`);
  const set = (event: Event): void => {
    const device = (event.target as HTMLSelectElement).value;
    void app.guard(async () => void (app.devices = await send<Devices>("PUT", "/api/devices", { device }))).then(() => app.redraw());
  };
  return h(
    "p",
    { class: "file-pick" },
    h("label", { for: "device" }, "Pick-up"),
    h("select", { id: "device", "data-key": "device", onchange: set }, devices.chosen === "" && h("option", { value: "", disabled: true, selected: true }, "Choose one"), ...devices.devices.map((name) => h("option", { value: name, selected: name === devices.chosen }, name))),
  );
}

function ended(app: App, visit: Visit, look: Look): (HTMLElement | null)[] {
  const outcome = app.outcome && app.outcome.look === look.id ? app.outcome : null;
  const take = look.takes.at(-1);
  const sentence = outcome ? `${outcome.sentence}${outcome.kept && take ? ` ${take.sentence}` : ""}` : (take?.sentence ?? "Nothing recorded yet.");
  const reasons = [...(outcome?.reasons ?? []), ...(outcome && !outcome.kept ? [] : (take?.reasons ?? []))];
  const good = outcome ? outcome.kept && (take?.usable ?? false) : (take?.usable ?? false);
  const answer = visit.answer?.look === look.id ? visit.answer : null;
  const home = { screen: "visit", visit: visit.id } as const;
  const again = h("button", { type: "button", class: good ? "" : "primary", "data-main": !good, "data-pedal": !good, "data-key": "again", onclick: () => void record(app, visit.id, look.id) }, take === undefined ? "Record" : good ? "Record another take" : "Record again");
  const on = h("button", { type: "button", class: good ? "primary" : "", "data-main": good, "data-pedal": good, "data-key": "on", onclick: () => go(answer ? { screen: "compare", visit: visit.id, look: look.id } : home) }, answer ? "Compare" : "Done");
  return [
    h("p", { class: good ? "outcome good" : "outcome bad", role: "status" }, h("span", { class: "sign", "aria-hidden": "true" }, good && reasons.length === 0 ? "✓" : "!"), " ", sentence),
    reasons.length > 0 ? h("ul", {}, ...reasons.map((reason) => h("li", {}, reason))) : null,
    answer ? h("p", { class: "answer" }, h("strong", {}, `${answer.verdict[0]?.toUpperCase()}${answer.verdict.slice(1)}. `), answer.sentence) : null,
    h("div", { class: "actions" }, on, again),
    pickUp(app),
    filePicker(app, visit, look),
  ];
}

export function recordScreen(app: App): Screen {
  const visit = app.visit;
  const id = app.route.screen === "record" ? app.route.look : "";
  const look = visit?.looks.find((one) => one.id === id);
  if (!visit || !look) return { title: "Sound", back: { screen: "visits" }, body: [] };
  const live = app.live && app.live.visit === visit.id && app.live.look === look.id ? app.live : null;
  return {
    title: `Sound, ${look.title.toLowerCase()}`,
    back: { screen: "visit", visit: visit.id },
    body: live ? listening(app, live, look.title) : ended(app, visit, look).filter((part) => part !== null),
  };
}

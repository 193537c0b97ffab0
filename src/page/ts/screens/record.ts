// Listening: what is heard as it is heard, and afterwards what came of it.
import { getJson, send } from "../api";
import type { App } from "../app";
import { h } from "../dom";
import { howTo } from "../how";
import { drawFalling } from "../falling";
import { Landing, levelWords, tapsToGo } from "../levels";
import type { Cautions, Devices, Live, Look, Visit } from "../model";
import { go } from "../route";
import type { Screen } from "../shell";
import { addFile, record } from "./look_row";

const stop = (app: App, keep: boolean) => (): void => void app.guard(async () => void (await send("POST", "/api/record/stop", { keep }))).then(() => app.redraw());

let cautions: readonly string[] | null = null;
let landing: { take: string; seen: Landing } | null = null;

/** When not to have the patient tap: said where the tapping begins. */
function cautionList(app: App): HTMLElement {
  if (cautions === null) void app.guard(async () => void (cautions = (await getJson<Cautions>("/api/cautions")).tapping)).then((done) => done && app.redraw());
  return h("section", { class: "panel cautions-panel", "aria-label": "Before the patient taps" }, h("h2", {}, "Before the patient taps"), h("ul", {}, ...(cautions ?? []).map((caution) => h("li", {}, caution))));
}

/** The levels of the baseline's usable taps; empty in the baseline itself. */
function outline(visit: Visit, look: Look): readonly number[] {
  if (look.kind === "before") return [];
  return visit.looks.find((one) => one.kind === "before")?.takes.find((take) => take.usable)?.peaks ?? [];
}

function listening(app: App, live: Live, visit: Visit, look: Look): HTMLElement[] {
  const take = `${live.visit} ${live.look} ${look.takes.length}`;
  if (landing?.take !== take || landing.seen.taps.length > live.usable) landing = { take, seen: new Landing() };
  const { seen } = landing;
  const number = h("p", { class: "tap-count", role: "status" });
  const words = h("p", { class: "level-words", role: "status" });
  const drawing = h("div", { class: "falling-holder" });
  const show = (now: Live): void => {
    seen.see(now);
    const text = `${now.usable} of ${now.wanted} good taps`;
    if (number.dataset["text"] !== text) {
      number.dataset["text"] = text;
      number.replaceChildren(h("strong", {}, String(now.usable)), h("span", {}, `of ${now.wanted} good taps`), h("span", { class: "quiet" }, now.taps > now.usable ? `${now.taps - now.usable} not used` : tapsToGo(now)));
    }
    drawing.replaceChildren(drawFalling({ wanted: now.wanted, taps: seen.taps, baseline: outline(visit, look), now: now.peak, noise: now.noise }));
    const level = levelWords(now, seen.taps.at(-1));
    if (words.textContent !== level.words) words.textContent = level.words;
    words.className = level.good ? "level-words good" : "level-words bad";
  };
  show(live);
  app.onLive = show;
  // A server that is gone hears nothing: the screen must not say that it listens.
  const gone = app.gone !== null;
  return [
    gone ? h("p", { class: "listening-line", role: "status" }, h("strong", {}, "Not listening."), " Retap does not answer. What was heard is safe.") : h("p", { class: "listening-line" }, h("span", { class: "listening-dot", "aria-hidden": "true" }), h("strong", {}, "Listening"), ` with ${live.device}. ${look.title}.`),
    h("div", { class: "listening-body" }, number, drawing),
    words,
    h("p", {}, "Ask the patient to tap the back teeth together, about twice a second. It stops by itself."),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "button", class: "primary", "data-main": true, "data-pedal": true, "data-key": "stop", disabled: gone, onclick: stop(app, true) }, "Stop and keep"),
      h("button", { type: "button", "data-key": "drop", disabled: gone, onclick: stop(app, false) }, "Stop, do not keep"),
    ),
    cautionList(app),
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

/** Where more taps are proposed, the way to take them. */
function twelve(app: App, visit: Visit, look: Look, said: readonly string[]): HTMLElement | false {
  return said.some((sentence) => /record 12/i.test(sentence)) && h("button", { type: "button", "data-key": "twelve", onclick: () => void record(app, visit.id, look.id, 12) }, "Record 12 taps");
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
    h("div", { class: "actions" }, on, again, twelve(app, visit, look, [...reasons, ...(answer?.verdict === "unclear" ? ["record 12"] : [])])),
    cautionList(app),
    howTo(app, "record"),
    pickUp(app),
    filePicker(app, visit, look),
  ];
}

export function recordScreen(app: App): Screen {
  const visit = app.visit;
  const id = app.route.screen === "record" ? app.route.look : "";
  const look = visit?.looks.find((one) => one.id === id);
  if (!visit) return { title: "Sound", back: { screen: "visits" }, body: [] };
  if (!look) {
    // Stopped and not kept: a look that holds nothing else is there no longer.
    const home = { screen: "visit", visit: visit.id } as const;
    return { title: "Sound", back: home, body: [h("p", { class: "outcome", role: "status" }, app.outcome?.sentence ?? "There is no such look."), h("div", { class: "actions" }, h("button", { type: "button", class: "primary", "data-main": true, "data-pedal": true, "data-key": "on", onclick: () => go(home) }, "Done"))] };
  }
  const live = app.live && app.live.visit === visit.id && app.live.look === look.id ? app.live : null;
  return {
    title: `Sound, ${look.title.toLowerCase()}`,
    back: { screen: "visit", visit: visit.id },
    body: live ? listening(app, live, visit, look) : ended(app, visit, look).filter((part) => part !== null),
  };
}

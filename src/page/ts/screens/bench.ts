// The bench: any bite, heard, with what really happened in it beside what was measured from its sound alone.
import { getText } from "../api";
import type { App } from "../app";
import { balancedBite, benchQuery, benchSound, type BenchBite, type Listening } from "../bench";
import { h, inject } from "../dom";
import type { Screen } from "../shell";
import { lowerRow, shownNumber, stepInRow, upperRow } from "../teeth";
import { numberingOf } from "./visits";

let bite: BenchBite = { ...balancedBite, height: 100 };
let listening: Listening = { slow: 1, keepPitch: false };
let shown: { query: string; markup: string } | null = null;
let timer: ReturnType<typeof setTimeout> | undefined;

const settle = 250; // ms without a movement before a bite is made

/** Makes what is on screen follow the bite; nothing else is drawn anew, so that a slider can be dragged. */
function follow(app: App): void {
  const query = benchQuery(bite, numberingOf(app));
  for (const audio of document.querySelectorAll<HTMLAudioElement>(".bench-listen audio")) {
    const address = benchSound(query, listening, audio.dataset["side"] === "before");
    if (audio.getAttribute("src") !== address) audio.src = address;
  }
  const holder = document.querySelector<HTMLElement>(".bench-result");
  if (!holder) return;
  if (shown?.query === query) {
    inject(holder, shown.markup);
    holder.removeAttribute("aria-busy");
    return;
  }
  holder.setAttribute("aria-busy", "true");
  clearTimeout(timer);
  timer = setTimeout(() => {
    void app.guard(async () => void (shown = { query, markup: await getText(`/api/learn/bench?${query}`) })).then((done) => {
      if (!done) app.redraw();
      else if (benchQuery(bite, numberingOf(app)) === query) follow(app);
    });
  }, settle);
}

interface Slider {
  readonly key: "height" | "slide" | "sideHeight" | "speed";
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly step: number;
  readonly unit: string;
  readonly none?: string;
}

function slider(app: App, what: Slider): HTMLElement {
  const words = (value: number): string => (value === 0 && what.none ? what.none : `${value} ${what.unit}`);
  const output = h("output", { for: what.key }, words(bite[what.key]));
  const input = h("input", {
    type: "range",
    id: what.key,
    min: what.from,
    max: what.to,
    step: what.step,
    value: bite[what.key],
    disabled: what.key === "height" && bite.out,
    "data-key": what.key,
    "aria-valuetext": words(bite[what.key]),
    oninput: (event: Event) => {
      const value = Number((event.target as HTMLInputElement).value);
      bite = { ...bite, [what.key]: value };
      output.textContent = words(value);
      input.setAttribute("aria-valuetext", words(value));
      follow(app);
    },
  });
  return h("p", { class: "slider" }, h("label", { for: what.key }, what.name), output, input);
}

function choices<T extends string>(app: App, name: string, words: string, options: readonly (readonly [T, string])[], value: T, set: (value: T) => void): HTMLElement {
  return h(
    "fieldset",
    { class: "choices" },
    h("legend", {}, words),
    ...options.map(([one, text]) => h("label", { class: "choice" }, h("input", { type: "radio", name, value: one, checked: one === value, "data-key": `${name}-${one}`, onchange: () => (set(one), app.redraw()) }), text)),
  );
}

function toothRow(app: App, row: readonly number[], words: string): HTMLElement {
  return h(
    "div",
    { class: "tooth-row", role: "group", "aria-label": words },
    ...row.map((iso, at) =>
      h(
        "button",
        {
          type: "button",
          class: `tooth${at === 8 ? " midline" : ""}`,
          "data-key": `bench-${iso}`,
          "aria-pressed": bite.tooth === iso ? "true" : "false",
          tabindex: bite.tooth === iso || (!row.includes(bite.tooth) && at === 2) ? 0 : -1,
          disabled: iso % 10 === 8, // the model ends at the second molars
          onclick: () => ((bite = { ...bite, tooth: iso }), app.redraw()),
          onkeydown: (event: KeyboardEvent) => {
            const step = stepInRow(event.key, at, row.length);
            if (step === null) return;
            event.preventDefault();
            document.querySelector<HTMLElement>(`[data-key="bench-${row[step] ?? iso}"]`)?.focus();
          },
        },
        h("span", { class: "number" }, shownNumber(iso, numberingOf(app))),
      ),
    ),
  );
}

function player(side: "before" | "after", name: string): HTMLElement {
  return h("div", { class: `player ${side}` }, h("p", { class: "player-name" }, name), h("audio", { controls: true, preload: "none", "data-side": side, "aria-label": name }));
}

function listen(app: App): HTMLElement {
  const section = h(
    "section",
    { class: "listen bench-listen", "aria-label": "Listen" },
    h("button", { type: "button", class: "alternate primary", "data-alternate": "true", "data-main": true, "data-key": "alternate" }, "Play balanced, then this bite"),
    player("before", "Balanced bite"),
    player("after", "This bite"),
    choices(app, "slow", "Slow motion", [["1", "As it is"], ["4", "4 times slower"], ["16", "16 times slower"]], String(listening.slow), (value) => (listening = { ...listening, slow: Number(value) })),
    h(
      "label",
      { class: "choice bench-pitch" },
      h("input", { type: "checkbox", "data-key": "keep-pitch", checked: listening.keepPitch, disabled: listening.slow === 1, onchange: () => ((listening = { ...listening, keepPitch: !listening.keepPitch }), app.redraw()) }),
      "Keep the pitch in slow motion",
    ),
  );
  window.wirePlayback?.(section);
  return section;
}

export function benchScreen(app: App): Screen {
  const tooth = shownNumber(bite.tooth, numberingOf(app));
  const result = h("div", { class: "fragment bench-result", "data-key": "result" });
  if (shown === null) result.append(h("p", { class: "quiet" }, "One moment."));
  else inject(result, shown.markup);
  queueMicrotask(() => follow(app)); // once it is on the page
  return {
    title: "The bench",
    back: { screen: "learn" },
    body: [
      h("div", { class: "bench-teeth" }, h("div", { class: "sides", "aria-hidden": "true" }, h("span", {}, "Patient's right"), h("span", {}, "Patient's left")), toothRow(app, upperRow, "Upper teeth"), toothRow(app, lowerRow, "Lower teeth")),
      h(
        "div",
        { class: "bench-controls" },
        h(
          "div",
          { class: "bench-sliders" },
          slider(app, { key: "height", name: `Tooth ${tooth} is high by`, from: 0, to: 200, step: 5, unit: "µm", none: "0, level" }),
          h("label", { class: "choice" }, h("input", { type: "checkbox", "data-key": "out", checked: bite.out, onchange: () => ((bite = { ...bite, out: !bite.out }), app.redraw()) }), `Tooth ${tooth} is out of contact`),
        ),
        listen(app),
        h(
          "div",
          { class: "bench-sliders" },
          slider(app, { key: "speed", name: "Closing speed", from: 20, to: 200, step: 5, unit: "mm/s" }),
          slider(app, { key: "slide", name: `Slide on tooth ${tooth}`, from: 0, to: 1500, step: 50, unit: "µm", none: "none" }),
          slider(app, { key: "sideHeight", name: "Back teeth of one side high by", from: 0, to: 200, step: 5, unit: "µm", none: "0, level" }),
          choices(app, "side", "That side", [["right", "Right"], ["left", "Left"]], bite.side, (side) => (bite = { ...bite, side })),
        ),
        choices(app, "pickup", "Pick-up", [["forehead", "Forehead"], ["right", "Right"], ["left", "Left"], ["both", "Both sides"]], bite.pickup, (pickup) => (bite = { ...bite, pickup })),
        choices(app, "room", "Room", [["silent", "Silent"], ["quiet", "Quiet"], ["busy", "Busy"]], bite.room, (room) => (bite = { ...bite, room })),
      ),
      result,
    ],
  };
}

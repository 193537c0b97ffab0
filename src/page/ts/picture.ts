// The one picture of a comparison on the page: zoom in the same picture, and slow motion with a line that moves through it.
import { getJson } from "./api";
import { h, inject } from "./dom";
import { s } from "./svg";

export interface Picture {
  readonly svg: string; // markup made by the report layer
  readonly from: number; // ms from the main impact
  readonly to: number;
  readonly beforeAt: number; // s in the recording: the main impact of a usual tap
  readonly afterAt: number;
}

export type Range = readonly [number, number];
export const usualRange: Range = [-5, 7];
const whole: Range = [-10, 12]; // as the server draws at most
const least = 0.5;

/** Range after zooming by a factor around its middle, kept inside the whole. */
export function zoomed(range: Range, factor: number): Range {
  const width = Math.min(whole[1] - whole[0], Math.max(least, (range[1] - range[0]) * factor));
  const middle = (range[0] + range[1]) / 2;
  return moved([middle - width / 2, middle + width / 2], 0);
}

/** Range moved by a share of its width, kept inside the whole. */
export function moved(range: Range, share: number): Range {
  const width = range[1] - range[0];
  const from = Math.min(whole[1] - width, Math.max(whole[0], range[0] + share * width));
  return [from, from + width];
}

export const times = 16; // so many times slower
const played: Range = [-8, 25]; // ms of a tap that slow motion plays

/** Where in a drawing a moment lies; null outside of what it shows. */
export function placeOf(ms: number, range: Range, edges: Range): number | null {
  if (ms < range[0] || ms > range[1]) return null;
  return edges[0] + ((ms - range[0]) / (range[1] - range[0])) * (edges[1] - edges[0]);
}

/** The moment of a tap that is heard so many seconds after its slow motion began. */
export const momentAt = (seconds: number): number => played[0] + (seconds * 1000) / times;

const decoded = new Map<string, Promise<AudioBuffer>>();
let context: AudioContext | null = null;

function sound(address: string): Promise<AudioBuffer> {
  context ??= new AudioContext();
  const now = context;
  const found = decoded.get(address) ?? fetch(address, { credentials: "same-origin" }).then((reply) => reply.arrayBuffer()).then((bytes) => now.decodeAudioData(bytes));
  decoded.set(address, found);
  return found;
}

interface Side {
  readonly name: string;
  readonly address: string;
  readonly at: number; // s
}

/** Plays both taps, one after the other, and moves the line; resolves when it is over or stopped. */
async function playSlowly(sides: readonly Side[], line: (side: number, ms: number | null) => void, said: (words: string) => void, signal: AbortSignal): Promise<void> {
  for (const [index, side] of sides.entries()) {
    const buffer = await sound(side.address);
    if (!context || signal.aborted) return;
    await context.resume();
    const source = new AudioBufferSourceNode(context, { buffer, playbackRate: 1 / times });
    source.connect(context.destination);
    const began = context.currentTime;
    const length = ((played[1] - played[0]) / 1000) * times;
    source.start(began, Math.max(0, side.at + played[0] / 1000), (played[1] - played[0]) / 1000);
    said(`${side.name}, ${times} times slower`);
    await new Promise<void>((over) => {
      const step = (): void => {
        const gone = context ? context.currentTime - began : length;
        if (gone >= length || signal.aborted) return over();
        line(index, momentAt(gone));
        requestAnimationFrame(step);
      };
      step();
    });
    source.stop();
    line(index, null);
    if (signal.aborted) return;
  }
}

/** The figure that the report drew, made alive: zoom, and slow motion. `address` answers with a Picture for a range. */
export function alive(figure: Element, address: string, sounds: { readonly before: string | null; readonly after: string | null }): void {
  let range: Range = usualRange;
  let latest: Picture | null = null;
  let running: AbortController | null = null;
  const holder = h("div", { class: "picture-holder" });
  figure.querySelector("svg")?.replaceWith(holder);
  const status = h("p", { role: "status", class: "quiet" });
  const show = (picture: Picture): void => {
    latest = picture;
    range = [picture.from, picture.to];
    inject(holder, picture.svg);
  };
  const fetchRange = async (next: Range): Promise<void> => {
    try {
      show(await getJson<Picture>(`${address}?from=${next[0].toFixed(3)}&to=${next[1].toFixed(3)}`));
      status.textContent = `Showing ${range[0].toFixed(1)} to ${range[1].toFixed(1)} ms.`;
    } catch {
      status.textContent = "The picture cannot be drawn now.";
    }
  };
  const line = (side: number, ms: number | null): void => {
    const svg = holder.querySelector("svg");
    svg?.querySelector(".now")?.remove();
    if (!svg || ms === null) return;
    const number = (name: string): number => Number(svg.getAttribute(`data-${name}`));
    const x = placeOf(ms, range, [number("left"), number("right")]);
    const middle = (number("top") + number("bottom")) / 2;
    if (x !== null) svg.append(s("line", { class: "now", x1: x, x2: x, y1: side === 0 ? number("top") : middle, y2: side === 0 ? middle : number("bottom") }));
  };
  const slow = h("button", { type: "button", "data-key": "slow-motion" }, `Slow motion, ${times} times`);
  slow.addEventListener("click", () => {
    if (running) return running.abort();
    const now = new AbortController();
    running = now;
    slow.textContent = "Stop";
    void (async () => {
      try {
        latest ??= await getJson<Picture>(address);
        const sides: Side[] = [];
        if (sounds.before) sides.push({ name: "Before", address: sounds.before, at: latest.beforeAt });
        if (sounds.after) sides.push({ name: "After", address: sounds.after, at: latest.afterAt });
        await playSlowly(sides, line, (words) => (status.textContent = words), now.signal);
        status.textContent = "";
      } catch {
        status.textContent = "The sound could not be played.";
      } finally {
        running = null;
        slow.textContent = `Slow motion, ${times} times`;
      }
    })();
  });
  const zoom = (key: string, words: string, next: () => Range): HTMLElement => h("button", { type: "button", "data-key": key, onclick: () => void fetchRange(next()) }, words);
  figure.querySelector("figcaption")?.before(
    h(
      "div",
      { class: "actions picture-actions" },
      sounds.before !== null && sounds.after !== null && slow,
      zoom("closer", "Closer", () => zoomed(range, 0.5)),
      zoom("wider", "Wider", () => zoomed(range, 2)),
      zoom("earlier", "Earlier", () => moved(range, -0.5)),
      zoom("later", "Later", () => moved(range, 0.5)),
      status,
    ),
  );
  void getJson<Picture>(address).then(show, () => undefined);
}

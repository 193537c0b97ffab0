// What the signs of a chart mean, beside the chart.
import { h } from "./dom";
import type { Film, Stage, Weight, Where } from "./model";
import { filmBefore, filmSign, markBefore, markSign } from "./signs";
import { s } from "./svg";

const entry = (words: string, ...drawn: SVGElement[]): HTMLElement => {
  const drawing = s("svg", { class: "plot plot-teeth", viewBox: "0 0 22 22", "aria-hidden": "true" }, ...drawn);
  const holder = h("span", { class: "key" });
  holder.append(drawing, words);
  return holder;
};

export function filmKey(withBefore: boolean): HTMLElement {
  const sign = (film: Film, words: string): HTMLElement => entry(words, filmSign(film, [11, 1], [11, 21]));
  return h("p", { class: "keys tooth-keys" }, sign("hold", "hold"), sign("slide", "slide"), sign("open", "open"), sign("untestable", "cannot be tested"), withBefore && entry("outline: before the work", filmBefore("hold", [11, 1], [11, 21])), h("span", { class: "key" }, "underlined: treated tooth"));
}

export function markKey(stage: Stage, withBefore: boolean): HTMLElement {
  const sign = (words: string, weight: Weight, where: Where = "not said"): HTMLElement => entry(words, markSign({ stage, weight, where }, [11, 11]));
  return h("p", { class: "keys tooth-keys" }, sign("light", "light"), sign("even", "even"), sign("heavy", "heavy"), sign("on the restoration", "even", "restoration"), withBefore && entry("before the work", markBefore({ stage, weight: "even", where: "not said" }, [11, 11])));
}

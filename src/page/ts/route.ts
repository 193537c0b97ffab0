// Screens have addresses behind the #, so that the browser's own back, forward and reload work.

import { stages } from "./marks";
import type { Stage } from "./model";

export type Route =
  | { readonly screen: "visits" }
  | { readonly screen: "visit"; readonly visit: string }
  | { readonly screen: "film" | "record" | "compare" | "take"; readonly visit: string; readonly look: string }
  | { readonly screen: "marks"; readonly visit: string; readonly look: string; readonly stage?: Stage; readonly tooth?: number }
  | { readonly screen: "details" | "sign" | "warning" | "crossbite"; readonly visit: string }
  | { readonly screen: "learn" | "bench" | "hearing" }
  | { readonly screen: "lesson"; readonly lesson: string }
  | { readonly screen: "chart-lesson"; readonly patient: string };

const isTooth = (iso: number): boolean => iso >= 11 && iso <= 48 && iso % 10 >= 1 && iso % 10 <= 8;

/** A part of an address that somebody typed or cut off need not be an escape that means something. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return "";
  }
}

export function parseRoute(hash: string): Route {
  const [first, visit, screen, look, fourth, fifth] = hash.replace(/^#\/?/, "").split("/").map(decoded);
  if (first === "learn") {
    if (visit === "bench" || visit === "hearing") return { screen: visit };
    if (visit === "chart" && screen) return { screen: "chart-lesson", patient: screen };
    return visit === "lesson" && screen ? { screen: "lesson", lesson: screen } : { screen: "learn" };
  }
  if (first !== "visit" || !visit) return { screen: "visits" };
  if (screen === "details" || screen === "sign" || screen === "warning" || screen === "crossbite") return { screen, visit };
  if (screen === "marks" && look) {
    const stage = stages.find((one) => one === fourth);
    const tooth = Number(fifth);
    return { screen, visit, look, ...(stage && { stage }), ...(isTooth(tooth) && { tooth }) };
  }
  if ((screen === "film" || screen === "record" || screen === "compare" || screen === "take") && look) {
    return { screen, visit, look };
  }
  return { screen: "visit", visit };
}

export function formatRoute(route: Route): string {
  if (route.screen === "visits") return "#/";
  if (route.screen === "learn") return "#/learn";
  if (route.screen === "lesson") return `#/learn/lesson/${encodeURIComponent(route.lesson)}`;
  if (route.screen === "chart-lesson") return `#/learn/chart/${encodeURIComponent(route.patient)}`;
  if (!("visit" in route)) return `#/learn/${route.screen}`;
  const parts = ["visit", route.visit];
  if (route.screen !== "visit") parts.push(route.screen);
  if ("look" in route) parts.push(route.look);
  if (route.screen === "marks" && route.stage) parts.push(route.stage, ...(route.tooth ? [String(route.tooth)] : []));
  return `#/${parts.map(encodeURIComponent).join("/")}`;
}

export const go = (route: Route): void => {
  location.hash = formatRoute(route);
};

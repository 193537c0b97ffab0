// Screens have addresses behind the #, so that the browser's own back, forward and reload work.

export type Route =
  | { readonly screen: "visits" }
  | { readonly screen: "visit"; readonly visit: string }
  | { readonly screen: "film" | "marks" | "record" | "compare" | "take"; readonly visit: string; readonly look: string }
  | { readonly screen: "details" | "sign"; readonly visit: string }
  | { readonly screen: "learn" | "bench" | "hearing" }
  | { readonly screen: "lesson"; readonly lesson: string };

export function parseRoute(hash: string): Route {
  const [first, visit, screen, look] = hash.replace(/^#\/?/, "").split("/").map(decodeURIComponent);
  if (first === "learn") {
    if (visit === "bench" || visit === "hearing") return { screen: visit };
    return visit === "lesson" && screen ? { screen: "lesson", lesson: screen } : { screen: "learn" };
  }
  if (first !== "visit" || !visit) return { screen: "visits" };
  if (screen === "details" || screen === "sign") return { screen, visit };
  if ((screen === "film" || screen === "marks" || screen === "record" || screen === "compare" || screen === "take") && look) {
    return { screen, visit, look };
  }
  return { screen: "visit", visit };
}

export function formatRoute(route: Route): string {
  if (route.screen === "visits") return "#/";
  if (route.screen === "learn") return "#/learn";
  if (route.screen === "lesson") return `#/learn/lesson/${encodeURIComponent(route.lesson)}`;
  if (!("visit" in route)) return `#/learn/${route.screen}`;
  const parts = ["visit", route.visit];
  if (route.screen !== "visit") parts.push(route.screen);
  if ("look" in route) parts.push(route.look);
  return `#/${parts.map(encodeURIComponent).join("/")}`;
}

export const go = (route: Route): void => {
  location.hash = formatRoute(route);
};
